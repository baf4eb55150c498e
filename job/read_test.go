package job

import (
	"os"
	"path/filepath"
	"testing"

	"strapper/kit"
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
		if j.Left == nil || len(j.Want) == 0 {
			t.Errorf("%s: an example has a left: section and a want", name)
		}
	}
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
