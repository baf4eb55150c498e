package draw

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func TestPagesGolden(t *testing.T) {
	var b strings.Builder
	for _, p := range demo().Pages()[:2] {
		b.WriteString(p.Dump())
	}
	golden(t, "pages.dump", b.String())
	b.Reset()
	if err := demo().HTML(&b); err != nil {
		t.Fatal(err)
	}
	golden(t, "page.html", b.String())
}

func render(t testing.TB, d *Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.PDF(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSameBytes(t *testing.T) {
	first := render(t, demo())
	for range 3 {
		if !bytes.Equal(first, render(t, demo())) {
			t.Fatal("the same document gave other bytes")
		}
	}
	undatedDoc := demo()
	undatedDoc.Date = ""
	if !bytes.Equal(render(t, undatedDoc), render(t, undatedDoc)) {
		t.Fatal("the same document without a date gave other bytes")
	}
}

// tool runs a Debian program (packages poppler-utils, qpdf) on a file.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("needs " + name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, out)
	}
	return string(out)
}

func demoFile(t *testing.T) string {
	path := filepath.Join(t.TempDir(), "demo.pdf")
	if err := os.WriteFile(path, render(t, demo()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestPDFIsSound(t *testing.T) {
	out := tool(t, "qpdf", "--check", demoFile(t))
	if !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Error(out)
	}
}

func TestPDFHasWords(t *testing.T) {
	out := tool(t, "pdftotext", "-layout", demoFile(t), "-")
	n := len(demo().Pages())
	for _, want := range []string{
		"Stair lights at 9 Quince Row", "Prove dead before touching", "so that they are found",
		"Ω ² ³ µ ≤ ≥ × · – — ° ± √ Δ → ← ✓ ✗ £ ½ ☐ …", "1.5 mm² · 0.42 Ω", "moves here", "as predicted",
		fmt.Sprintf("page %d of %d", n, n), "R60",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not among the words of the PDF", want)
		}
	}
	if got := strings.Count(out, "Between"); got < 4 {
		t.Errorf("the head of the long table stands %d times", got)
	}
}

func TestPDFInfo(t *testing.T) {
	path := demoFile(t)
	out := tool(t, "pdfinfo", path)
	for _, want := range []string{"Stair lights at 9 Quince Row", "A. N. Example", "a third switch on the upper landing", "2031", "A4"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in the metadata:\n%s", want, out)
		}
	}
	m := regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(out)
	if n := len(demo().Pages()); m == nil || m[1] != fmt.Sprint(n) {
		t.Errorf("pages %v, laid out %d", m, n)
	}
	if fonts := tool(t, "pdffonts", path); strings.Count(fonts, "yes no  yes") != 2 {
		t.Errorf("not two embedded fonts with Unicode maps:\n%s", fonts)
	}
	if raw := tool(t, "qpdf", "--qdf", "--object-streams=disable", path, "-"); strings.Count(raw, "/Dest [") != 7 {
		t.Errorf("%d bookmarks for 7 headings", strings.Count(raw, "/Dest ["))
	}
}

// The width of a word as poppler reads it from the file, in points.
func TestWidthIsWhatIsPrinted(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.pdf")
	words := map[string]bool{"strappers": false, "1.5×0.42Ω": false, "Landing,": true}
	d := &Document{}
	for w, bold := range words {
		if bold {
			w = "**" + w + "**"
		}
		d.Blocks = append(d.Blocks, Para{Text: w})
	}
	if err := os.WriteFile(path, render(t, d), 0o644); err != nil {
		t.Fatal(err)
	}
	out := tool(t, "pdftotext", "-bbox", path, "-")
	for w, bold := range words {
		m := regexp.MustCompile(`xMin="([\d.]+)".*xMax="([\d.]+)".*>` + w + `<`).FindStringSubmatch(out)
		if m == nil {
			t.Errorf("no %q in\n%s", w, out)
			continue
		}
		x0, _ := strconv.ParseFloat(m[1], 64)
		x1, _ := strconv.ParseFloat(m[2], 64)
		if got, want := Width(w, 10, bold), x1-x0; math.Abs(got-want) > 0.02 {
			t.Errorf("%q: measured %.3f pt, printed %.3f pt", w, got, want)
		}
	}
}

// Adobe's PDF 1.7 (ISO 32000-1) 12.3.3: an outline is a tree, so a level can
// only go down by one step at a time.
func TestBookmarkLevels(t *testing.T) {
	got := bookmarkLevels([]mark{{Heading: Heading{3, ""}}, {Heading: Heading{3, ""}}, {Heading: Heading{1, ""}}, {Heading: Heading{3, ""}}, {Heading: Heading{2, ""}}})
	if fmt.Sprint(got) != "[0 1 0 1 1]" {
		t.Error(got)
	}
}

func TestHTMLStandsAlone(t *testing.T) {
	var b strings.Builder
	if err := demo().HTML(&b); err != nil {
		t.Fatal(err)
	}
	s := strings.ReplaceAll(b.String(), "http://www.w3.org/2000/svg", "")
	for _, bad := range []string{"<script", "http:", "https:", "src=", "<link", "@import", "url("} {
		if strings.Contains(s, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, want := range []string{`lang="en-GB"`, `scope="col"`, `scope="row"`, `role="img"`, "<title id=", "<desc id=", "@media print", "prefers-color-scheme"} {
		if !strings.Contains(s, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(s, -1) {
		if ids[m[1]] {
			t.Errorf("id %q stands twice", m[1])
		}
		ids[m[1]] = true
	}
}

func TestHTMLEscapes(t *testing.T) {
	const bad = `<b onclick="x">&'`
	d := &Document{Title: bad, Subject: bad, Author: bad, Date: bad, Footer: bad, Blocks: []Block{
		Heading{1, bad},
		Para{Text: "**" + bad + "**"},
		Caution{bad, bad},
		List{Items: []string{bad}},
		Table{Caption: bad, Head: []string{bad}, Rows: [][]Cell{{{Text: bad, State: bad}}}},
		Figure{&Scene{W: 1, H: 1, Title: bad, Nodes: []Node{Group{Class: bad, Title: bad}}}, bad, bad},
	}}
	var b strings.Builder
	if err := d.HTML(&b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<b ") || strings.Contains(b.String(), `"x"`) {
		t.Error("markup came through")
	}
}

// pageOfText finds the page whose dump holds the words.
func pageOfText(pages []*Scene, words string) int {
	for i, p := range pages {
		for _, b := range p.TextBoxes() {
			if strings.Contains(b.S, words) {
				return i
			}
		}
	}
	return -1
}

func filler40() []Block {
	var out []Block
	for range 40 {
		out = append(out, Para{Text: "filler"})
	}
	return out
}

func TestHeadingIsNotLeftBehind(t *testing.T) {
	for n := range 45 {
		var blocks []Block
		for range n {
			blocks = append(blocks, Para{Text: "filler"})
		}
		blocks = append(blocks, Heading{1, "Stranded"}, demoTable(3))
		pages := (&Document{Blocks: blocks}).Pages()
		if a, b := pageOfText(pages, "Stranded"), pageOfText(pages, "R1"); a != b {
			t.Errorf("after %d lines the heading is on page %d, its table on %d", n, a, b)
		}
	}
}

func TestKeep(t *testing.T) {
	inside := []Block{Heading{2, "first"}, Para{Text: "middle"}, demoTable(8), Para{Text: "last"}}
	pages := (&Document{Blocks: append(filler40(), Keep{inside})}).Pages()
	if a, b := pageOfText(pages, "first"), pageOfText(pages, "last"); a != b || a != 1 {
		t.Errorf("kept from page %d to %d", a, b)
	}
	pages = (&Document{Blocks: []Block{Para{Text: "before"}, Keep{[]Block{Heading{2, "first"}, demoTable(50)}}}}).Pages()
	if a := pageOfText(pages, "first"); a != 0 {
		t.Errorf("what no page can hold begins on page %d", a)
	}
}

func TestPageBreak(t *testing.T) {
	pages := (&Document{Title: "t", Blocks: []Block{PageBreak{}, PageBreak{}, Para{Text: "second"}, PageBreak{}}}).Pages()
	if n := pageOfText(pages, "second"); n != 1 || len(pages) != 3 {
		t.Errorf("on page %d of %d", n, len(pages))
	}
}

// A row taller than the page is the one row that is cut; no word may be lost.
func TestTallRow(t *testing.T) {
	var words []string
	for i := range 3000 {
		words = append(words, fmt.Sprintf("w%d", i))
	}
	d := &Document{Blocks: []Block{Table{Head: []string{"a", "b"}, Rows: [][]Cell{{{Text: strings.Join(words, " ")}, {Text: "short", State: "new"}}}}}}
	var got []string
	for _, p := range d.Pages() {
		for _, b := range p.TextBoxes() {
			for _, w := range strings.Fields(b.S) {
				if strings.HasPrefix(w, "w") {
					got = append(got, w)
				}
			}
			if b.Box.Y1 > bodyEnd+0.5 && !strings.HasPrefix(b.S, "page ") {
				t.Errorf("%q hangs out of the page", b.S)
			}
		}
	}
	if strings.Join(got, " ") != strings.Join(words, " ") {
		t.Errorf("%d words of %d came out", len(got), len(words))
	}
}

// Every row of a long table is whole on one page: its words share the page
// with its own rule below them.
func TestRowsAreWhole(t *testing.T) {
	pages := (&Document{Blocks: []Block{demoTable(60)}}).Pages()
	for i := range 60 {
		name := fmt.Sprintf("R%d", i+1)
		n := 0
		for _, p := range pages {
			for _, b := range p.TextBoxes() {
				if b.S == name {
					n++
				}
			}
		}
		if n != 1 {
			t.Errorf("row %s stands %d times", name, n)
		}
	}
	for i, p := range pages {
		if pageOfText([]*Scene{p}, "Between") != 0 {
			t.Errorf("page %d has no head", i+1)
		}
		if o := p.Overlaps(0.05); o != nil {
			t.Errorf("page %d: %v", i+1, o[0])
		}
	}
}

func TestFigureIsScaled(t *testing.T) {
	for _, size := range [][2]float64{{900, 100}, {100, 900}, {20, 20}} {
		sc := &Scene{W: size[0], H: size[1], Nodes: []Node{Rect(0, 0, size[0], size[1], Style{Fill: RGB(1, 2, 3)})}}
		pages := (&Document{Title: "t", Blocks: []Block{Heading{1, "heading"}, Figure{sc, "caption", ""}}}).Pages()
		at := pageOfText(pages, "heading")
		if at < 0 || at != pageOfText(pages, "caption") {
			t.Errorf("%v: heading and caption are apart", size)
			continue
		}
		if b := pages[at].Bounds(); !b.Within(Box{0, 0, pageW, pageH}, 0) {
			t.Errorf("%v: %d pages, bounds %v", size, len(pages), b)
		}
	}
}

func TestWriterErrors(t *testing.T) {
	for _, f := range []func(io.Writer) error{demo().PDF, demo().HTML, demoScene().SVG} {
		if err := f(broken{}); err == nil {
			t.Error("a broken writer was not noticed")
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, fmt.Errorf("disk full") }

func TestPointersToBlocks(t *testing.T) {
	byValue := &Document{Blocks: []Block{Heading{1, "h"}, Para{Text: "p"}, demoTable(1), Figure{half(), "c", ""}, Figures{}, List{Items: []string{"i"}}, Caution{"t", "c"}, Keep{[]Block{Rule{}}}, PageBreak{}}}
	table, fig := demoTable(1), Figure{half(), "c", ""}
	byPointer := &Document{Blocks: []Block{&Heading{1, "h"}, &Para{Text: "p"}, &table, &fig, &Figures{}, &List{Items: []string{"i"}}, &Caution{"t", "c"}, &Keep{[]Block{&Rule{}}}, &PageBreak{}}}
	if !bytes.Equal(render(t, byValue), render(t, byPointer)) {
		t.Error("a pointer to a block prints otherwise than the block")
	}
	var a, b strings.Builder
	if byValue.HTML(&a) != nil || byPointer.HTML(&b) != nil || a.String() != b.String() {
		t.Error("a pointer to a block shows otherwise than the block")
	}
}
