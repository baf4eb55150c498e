package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

func catalogue(t testing.TB) *kit.Catalogue {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func examples(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(names) < 5 {
		t.Fatalf("examples: %q, %v", names, err)
	}
	return names
}

func TestExamplesRead(t *testing.T) {
	for _, name := range examples(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		j, ps := Read(filepath.Base(name), text, catalogue(t))
		if len(ps) > 0 {
			t.Errorf("%v", ps.String())
			continue
		}
		if j.Ask == nil && (j.Left == nil || len(j.Want) == 0) {
			t.Errorf("%s: an example has a left: section and a want, or asks for a change to be looked for", name)
		}
	}
}

// The examples are what they say they are: all prove in every position, except
// the landing, whose neutral is borrowed as found and as left. That a neutral
// must not serve two final circuits: BS 7671 regulation 314.4, from memory, to
// be confirmed.
func TestExamplesAreAsTheySay(t *testing.T) {
	for _, name := range examples(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		j := mustRead(t, string(text))
		want := ""
		if filepath.Base(name) == "landing.yaml" {
			want = "borrowed-neutral"
		}
		stages := map[string][]string{AsFound: forbidden(j.Found, nil)}
		if j.Left != nil {
			stages[AsLeft] = forbidden(j.Left, j.Want)
		}
		for stage, codes := range stages {
			if got := strings.Join(codes, " "); got != want {
				t.Errorf("%s %s: forbidden for %q, want %q", name, stage, got, want)
			}
		}
	}
}

func forbidden(in *wiring.Installation, wants []switching.Want) []string {
	g, _ := wiring.Build(in)
	var codes []string
	for _, f := range switching.Prove(g, wants).Findings {
		if f.Severity == finding.Forbids {
			codes = append(codes, f.Code)
		}
	}
	return codes
}

func BenchmarkReadStairs(b *testing.B) {
	text, err := os.ReadFile("../examples/stairs.yaml")
	if err != nil {
		b.Fatal(err)
	}
	cat := catalogue(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, ps := Read("stairs.yaml", text, cat); len(ps) > 0 {
			b.Fatal(ps)
		}
	}
}
