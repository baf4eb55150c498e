package source

import "testing"

func TestSource(t *testing.T) {
	s := Source{Authority: Published, Cite: "IEC 60228:2004 Table 1", Note: "maximum"}
	if got, want := s.String(), "published: IEC 60228:2004 Table 1 (maximum)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for a, want := range map[Authority]bool{Published: true, Independent: true, Derived: true, Practice: true, Memory: true, Regression: true, Invented: true, "": false, "rumour": false} {
		if a.Valid() != want {
			t.Errorf("%q valid: %v", a, !want)
		}
	}
}
