package sizing

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"strapper/job"
	"strapper/kit"
	"strapper/rules/books"
	"strapper/switching"
	"strapper/wiring"
)

// Every example, as found and as left, by every book: each figure is a number
// with working, or says why it is not; all of it can be written as JSON.
func TestExamplesByEveryBook(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	all, err := books.All()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 6 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		j, problems := job.Read(file, text, cat)
		if len(problems) > 0 {
			t.Fatal(problems.String())
		}
		for _, in := range []*wiring.Installation{j.Found, j.Left} {
			if in == nil {
				continue
			}
			g, _ := wiring.Build(in)
			p := switching.Prove(g, nil)
			for _, b := range all {
				s, err := Size(g, p, cat, Options{Book: b})
				if err != nil {
					t.Fatalf("%s: %v", file, err)
				}
				s.Judge(b, "")
				if _, err := json.Marshal(s); err != nil {
					t.Fatalf("%s: %v", file, err)
				}
				checkFigures(t, file, s)
			}
		}
	}
}

func checkFigures(t *testing.T, file string, s *Sizes) {
	t.Helper()
	for _, c := range s.Circuits {
		for _, f := range c.Figures {
			switch {
			case f.Known && (math.IsNaN(f.Value.Number) || math.IsInf(f.Value.Number, 0) || f.Value.Number < 0):
				t.Errorf("%s, %s: %s is %v", file, c.ID, f.Symbol, f.Value)
			case f.Known && len(f.Working) == 0:
				t.Errorf("%s, %s: %s has no working", file, c.ID, f.Symbol)
			case !f.Known && f.Why == "":
				t.Errorf("%s, %s: %s is not known, and it is not said why", file, c.ID, f.Symbol)
			}
		}
	}
}

// Without a device or a book there is an error that says what to do.
func TestErrors(t *testing.T) {
	w := sized(t, stairs("TN-S", "mcb-b6", "", "", rose))
	if _, err := Size(w.g, w.p, w.cat, Options{}); err == nil {
		t.Error("no book, no error")
	}
	w.g.Origins[0].Circuit.Device = nil
	if _, err := Size(w.g, w.p, w.cat, Options{Book: w.b}); err == nil {
		t.Error("no device, no error")
	}
}
