package document

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var show = flag.String("show", "", "write every example's pack as PDF and HTML into this folder")

func TestShow(t *testing.T) {
	if *show == "" {
		t.Skip("only with -show")
	}
	for _, name := range examples(t) {
		d := Pack(work(t, name))
		var pdf, page bytes.Buffer
		if err := d.PDF(&pdf); err != nil {
			t.Error(err)
		}
		if err := d.HTML(&page); err != nil {
			t.Error(err)
		}
		for suffix, b := range map[string]*bytes.Buffer{".pdf": &pdf, ".html": &page} {
			if err := os.WriteFile(filepath.Join(*show, name+suffix), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
