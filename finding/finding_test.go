package finding

import (
	"encoding/json"
	"slices"
	"testing"
)

func TestSortAndForbidden(t *testing.T) {
	list := []Finding{
		{Code: "b", Severity: Note, Subject: "x"},
		{Code: "a", Severity: Caution, Subject: "x", Stage: "as left"},
		{Code: "c", Severity: Forbids, Subject: "y"},
		{Code: "a", Severity: Caution, Subject: "x", Stage: "as found"},
		{Code: "a", Severity: Forbids, Subject: "x"},
	}
	if !Forbidden(list) || Forbidden(list[:2]) || Forbidden(nil) {
		t.Error("what forbids")
	}
	Sort(list)
	var got []string
	for _, f := range list {
		got = append(got, f.Severity.String()+" "+f.Stage+" "+string(f.Subject)+" "+f.Code)
	}
	want := []string{"forbids  x a", "forbids  y c", "caution as found x a", "caution as left x a", "note  x b"}
	if !slices.Equal(got, want) {
		t.Errorf("sorted %q", got)
	}
}

func TestString(t *testing.T) {
	f := Finding{Code: "short-circuit", Severity: Forbids, Subject: "circuits.up", Text: "the line reaches the neutral", Witness: "porch up: through loop red", Fix: "separate them", Position: Position{"a.yaml", 3, 7}}
	want := "a.yaml:3:7: forbids: circuits.up: the line reaches the neutral [short-circuit]\n    seen when: porch up: through loop red\n    to do: separate them"
	if got := f.String(); got != want {
		t.Errorf("printed\n%s\nwant\n%s", got, want)
	}
	text, err := json.Marshal(Finding{Code: "x", Severity: Caution, Subject: "job", Text: "y"})
	if want := `{"code":"x","severity":"caution","subject":"job","text":"y"}`; err != nil || string(text) != want {
		t.Errorf("%s, %v", text, err)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"two-way", "one-way", "intermediate", "pull-two-way"}
	for name, want := range map[string]string{
		"two-wya": "two-way", "twoway": "two-way", "Two-Way": "two-way", "intermedate": "intermediate", "dimmer": "", "": "", "one-whey": "one-way",
	} {
		if got := Nearest(name, names); got != want {
			t.Errorf("nearest to %q is %q, want %q", name, got, want)
		}
	}
}
