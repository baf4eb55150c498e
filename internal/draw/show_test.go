package draw

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var (
	update = flag.Bool("update", false, "rewrite the files in testdata")
	show   = flag.String("show", "", "write the demonstration as PDF, HTML and SVG into this folder")
)

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; go test -update writes it", err)
	}
	if got != string(want) {
		t.Errorf("%s differs from what is written now:\n%s", path, got)
	}
}

func TestShow(t *testing.T) {
	if *show == "" {
		t.Skip("only with -show")
	}
	var pdf, page, svg bytes.Buffer
	for _, err := range []error{demo().PDF(&pdf), demo().HTML(&page), demoScene().SVG(&svg)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for name, b := range map[string]*bytes.Buffer{"demo.pdf": &pdf, "demo.html": &page, "demo.svg": &svg} {
		if err := os.WriteFile(filepath.Join(*show, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
