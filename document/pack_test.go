package document

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapper/engine"
	"strapper/job"
	"strapper/kit"
)

// examples names the jobs in the project's own examples folder.
func examples(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = strings.TrimSuffix(filepath.Base(f), ".yaml")
	}
	return names
}

// work runs an example.
func work(t testing.TB, name string) *engine.Result {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read(name+".yaml", text, cat)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, err := engine.Run(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
