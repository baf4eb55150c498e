package books_test

import (
	"strings"
	"testing"

	"strapper/rules/books"
)

// The edition in force on 25 November 2026 is Amendment 4, the only current
// text since 15 October 2026 (Electrical Safety First, Amendment 4 pages).
func TestFind(t *testing.T) {
	for _, c := range []struct{ id, edition, want, fault string }{
		{"", "", "BS 7671:2018+A4:2026", ""},
		{"bs7671", "", "BS 7671:2018+A4:2026", ""},
		{"bs7671", "2018+A2:2022+A3:2024", "BS 7671:2018+A2:2022+A3:2024", ""},
		{"iec", "", "IEC 60364", ""},
		{"bs7671", "1924", "", `edition "1924"`},
		{"nowhere", "", "", `"nowhere"`},
	} {
		b, err := books.Find(c.id, c.edition)
		switch {
		case c.fault != "":
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s %s: %v", c.id, c.edition, err)
			}
		case err != nil:
			t.Errorf("%s %s: %v", c.id, c.edition, err)
		case b.Name() != c.want:
			t.Errorf("%s %s: %s, want %s", c.id, c.edition, b.Name(), c.want)
		}
	}
}
