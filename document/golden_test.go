package document

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"strapper/internal/draw"
)

var update = flag.Bool("update", false, "rewrite the files in testdata")

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
		t.Errorf("%s differs from what is written now at line %d; go test -update renews it", path, firstDifference(got, string(want)))
	}
}

func firstDifference(a, b string) int {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return i + 1
		}
	}
	return min(len(as), len(bs)) + 1
}

// plainText is the words of a document, a line for each line, row and figure.
func plainText(blocks []draw.Block) string {
	var b strings.Builder
	for _, block := range blocks {
		writePlain(&b, block)
	}
	return b.String()
}

func writePlain(b *strings.Builder, block draw.Block) {
	switch x := block.(type) {
	case draw.Heading:
		fmt.Fprintf(b, "\n%s %s\n", strings.Repeat("#", x.Level), x.Text)
	case draw.Para:
		fmt.Fprintln(b, x.Text)
	case draw.Caution:
		fmt.Fprintf(b, "! %s: %s\n", x.Title, x.Text)
	case draw.List:
		for _, item := range x.Items {
			fmt.Fprintf(b, "- %s\n", item)
		}
	case draw.Keep:
		b.WriteString(plainText(x.Blocks))
	case draw.Figure:
		fmt.Fprintf(b, "figure: %s; %s; %s\n", x.Scene.Title, x.Caption, x.Scene.Desc)
	case draw.Figures:
		for _, f := range x.Figures {
			writePlain(b, f)
		}
	case draw.Table:
		fmt.Fprintln(b, x.Caption)
		fmt.Fprintln(b, strings.Join(x.Head, " | "))
		for _, row := range x.Rows {
			for i, c := range row {
				if i > 0 {
					b.WriteString(" | ")
				}
				b.WriteString(strings.ReplaceAll(c.State+c.Text, "\n", " / "))
				if c.Empty {
					b.WriteString("[ ]")
				}
			}
			b.WriteString("\n")
		}
	}
}

// scenes lists the figures of a document.
func scenes(blocks []draw.Block) []*draw.Scene {
	var list []*draw.Scene
	for _, block := range blocks {
		switch x := block.(type) {
		case draw.Keep:
			list = append(list, scenes(x.Blocks)...)
		case draw.Figure:
			list = append(list, x.Scene)
		case draw.Figures:
			for _, f := range x.Figures {
				list = append(list, f.Scene)
			}
		}
	}
	return list
}

// Regression: the words of every sheet and the display list of every drawing.
func TestGoldens(t *testing.T) {
	for _, name := range examples(t) {
		d := Pack(work(t, name))
		golden(t, name+".txt", plainText(d.Blocks))
		dump := ""
		for _, sc := range scenes(d.Blocks) {
			dump += sc.Dump()
		}
		golden(t, name+".dump", dump)
	}
}
