package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every file under testdata/bad is refused with the messages beside it.
func TestBadFiles(t *testing.T) {
	names, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(names) < 60 {
		t.Fatalf("%d bad files (%v), want 60 or more", len(names), err)
	}
	cat := catalogue(t)
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		j, ps := Read(filepath.Base(name), text, cat)
		if j != nil || len(ps) == 0 {
			t.Errorf("%s: read without problems", name)
			continue
		}
		golden(t, strings.TrimSuffix(name, ".yaml")+".txt", ps.String())
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(name)
	if err != nil || string(want) != got {
		t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
	}
}
