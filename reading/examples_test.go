package reading_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapper/job"
	"strapper/kit"
	"strapper/reading"
	"strapper/rules/books"
	"strapper/switching"
	"strapper/wiring"
)

// Every example job, as found and as left, is predicted: each row has a name of
// its own, a value, an open reading or a limit, and live rows a caution.
func TestExamples(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d example jobs found (%v), want at least four", len(files), err)
	}
	others := 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		j, problems := job.Read(filepath.Base(file), text, cat)
		if j == nil {
			t.Fatal(problems)
		}
		for stage, in := range map[string]*wiring.Installation{job.AsFound: j.Found, job.AsLeft: j.Left} {
			if in != nil {
				t.Run(filepath.Base(file)+"/"+stage, func(t *testing.T) { others += example(t, in, cat) })
			}
		}
	}
	if others == 0 {
		t.Error("no table has a row for the other positions")
	}
}

func example(t *testing.T, in *wiring.Installation, cat *kit.Catalogue) (others int) {
	g, findings := wiring.Build(in)
	if g == nil {
		t.Fatal(findings)
	}
	british, err := books.Find("bs7671", "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := reading.Predict(g, switching.Prove(g, nil), cat, reading.Options{Book: british})
	if err != nil {
		t.Fatal(err)
	}
	seen, tests := map[string]bool{}, map[reading.Test]int{}
	for _, x := range r.Rows {
		tests[x.Test]++
		if seen[x.ID] {
			t.Errorf("two rows are called %s", x.ID)
		}
		seen[x.ID] = true
		if _, nominal, _ := x.Columns(); nominal == "" {
			t.Errorf("%s has nothing to read", x.ID)
		}
		if strings.Count(x.Position, "pressed") > 1 {
			t.Errorf("%s asks for several pushes at once", x.ID)
		}
		if x.Test.Live() != (x.Caution != "") {
			t.Errorf("%s: caution %q", x.ID, x.Caution)
		}
	}
	for _, test := range []reading.Test{reading.R1R2, reading.Insulation, reading.Polarity, reading.Voltage, reading.Zs} {
		if tests[test] == 0 {
			t.Errorf("no row of %s among %v", test, tests)
		}
	}
	t.Logf("%d rows: %v; %d findings", len(r.Rows), tests, len(r.Findings))
	return table(t, g, r)
}

// A table loses no reading and repeats none, and a row for the other positions
// stands for exactly those that the other rows of its leads do not name: every
// position of the switches fits one reading of the leads, but for those with two
// pushes held down, which nobody who tests can hold.
func table(t *testing.T, g *wiring.Graph, r *reading.Readings) (others int) {
	shown := map[*reading.Reading]int{}
	for _, test := range reading.Tests() {
		for _, row := range r.Table(g, test) {
			for _, x := range row.Readings {
				shown[x]++
			}
			if !row.Others {
				continue
			}
			others++
			for k := range g.States() {
				if n := matches(g, r, row.Readings[0], k); n != 1 && held(g, k) < 2 {
					t.Errorf("%s: position %d is in %d readings", row.Readings[0].ID, k, n)
				}
			}
		}
	}
	for i := range r.Rows {
		if n := shown[&r.Rows[i]]; n != 1 {
			t.Errorf("%s stands in %d rows", r.Rows[i].ID, n)
		}
	}
	return others
}

// matches counts the readings of one test and pair of leads that are for a
// position.
func matches(g *wiring.Graph, r *reading.Readings, like *reading.Reading, position uint64) (n int) {
	for _, x := range r.Rows {
		fits := x.Test == like.Test && x.Point == like.Point && x.Between == like.Between
		for i := range g.Switches {
			want, fixed := x.Switches[g.Switches[i].ID()]
			fits = fits && (!fixed || want == g.Position(g.StateAt(position), i))
		}
		if fits {
			n++
		}
	}
	return n
}

// held counts the pushes held down.
func held(g *wiring.Graph, position uint64) (n int) {
	for i := range g.Switches {
		if g.Position(g.StateAt(position), i) == "pressed" {
			n++
		}
	}
	return n
}
