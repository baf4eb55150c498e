package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/wiring"
)

// Any text gives a job or problems, never both, never neither, never a panic;
// a job builds, and every problem says something and can be printed.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../examples/*.yaml", "testdata/bad/*.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	for _, use := range Patterns() {
		text, err := Starter(use, true)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	cat := catalogue(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		j, ps := Read("fuzz.yaml", text, cat)
		if (j == nil) == (len(ps) == 0) {
			t.Fatalf("job %v with %d problems", j, len(ps))
		}
		for _, p := range ps {
			if p.Text == "" || p.Position.File != "fuzz.yaml" || !strings.HasPrefix(p.String(), "fuzz.yaml") {
				t.Fatalf("a problem that says nothing: %+v", p)
			}
		}
		if j == nil {
			return
		}
		for _, in := range []*wiring.Installation{j.Found, j.Left} {
			if in == nil {
				continue
			}
			if _, findings := wiring.Build(in); finding.Forbidden(findings) {
				t.Fatalf("a job that does not build: %v", findings)
			}
		}
	})
}
