package reading_test

import (
	"os"
	"path/filepath"
	"testing"

	"strapper/job"
	"strapper/kit"
	"strapper/reading"
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
				t.Run(filepath.Base(file)+"/"+stage, func(t *testing.T) { example(t, in, cat) })
			}
		}
	}
}

func example(t *testing.T, in *wiring.Installation, cat *kit.Catalogue) {
	g, findings := wiring.Build(in)
	if g == nil {
		t.Fatal(findings)
	}
	r, err := reading.Predict(g, switching.Prove(g, nil), cat, reading.Options{})
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
}
