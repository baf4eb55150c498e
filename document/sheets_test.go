package document

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strapper/engine"
	"strapper/internal/draw"
	"strapper/job"
)

func pdfOf(t testing.TB, d *draw.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.PDF(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func htmlOf(t testing.TB, d *draw.Document) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Each run reads the file and works it out anew, so that the order of maps has
// its chance to differ.
func TestSameJobSameBytes(t *testing.T) {
	for _, name := range examples(t) {
		a, b := Pack(work(t, name)), Pack(work(t, name))
		if !bytes.Equal(pdfOf(t, a), pdfOf(t, b)) {
			t.Errorf("%s: two PDFs of one job differ", name)
		}
		if !bytes.Equal(htmlOf(t, a), htmlOf(t, b)) {
			t.Errorf("%s: two HTML pages of one job differ", name)
		}
	}
}

// An ordinary job takes some sixteen pages: the examples with two places of
// control. More places have more readings.
func TestSizes(t *testing.T) {
	for _, name := range examples(t) {
		r := work(t, name)
		d := Pack(r)
		mostPages := 18
		if len(r.Final().Graph.Switches) > 2 {
			mostPages = 22
		}
		if r.Job.House != nil { // its drawings, the holes and what was assumed
			mostPages += 6
		}
		if n := len(d.Pages()); n > mostPages {
			t.Errorf("%s: %d pages, at most %d", name, n, mostPages)
		}
		if n := len(pdfOf(t, d)); n > 1<<20 {
			t.Errorf("%s: the PDF has %d bytes", name, n)
		}
	}
}

// A page that stands alone refers to nothing outside itself and runs nothing.
func TestHTMLStandsAlone(t *testing.T) {
	foreign := regexp.MustCompile(`(?i)<script|<link|<iframe|<img|<object|\ssrc\s*=|url\(|@import|\son[a-z]+\s*=|href\s*=\s*"[^#]`)
	for _, name := range examples(t) {
		page := htmlOf(t, Pack(work(t, name)))
		if at := foreign.FindIndex(page); at != nil {
			t.Errorf("%s: %q", name, page[at[0]:min(at[1]+60, len(page))])
		}
		for _, at := range regexp.MustCompile(`https?://[^"' ]+`).FindAll(page, -1) {
			if string(at) != "http://www.w3.org/2000/svg" { // the name of SVG itself
				t.Errorf("%s: names %s", name, at)
			}
		}
	}
}

// program runs another program. It must be installed: a check that is not made
// must be seen.
func program(t *testing.T, name string, args ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("runs " + name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func writePDF(t *testing.T, d *draw.Document) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(path, pdfOf(t, d), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// Independent: qpdf finds no fault in the files.
func TestPDFIsSound(t *testing.T) {
	for _, name := range examples(t) {
		out := program(t, "qpdf", "--check", writePDF(t, Pack(work(t, name))))
		if !strings.Contains(out, "No syntax or stream encoding errors") {
			t.Errorf("%s: %s", name, out)
		}
	}
}

// words brings text as pdftotext finds it and text as it was given to one form.
func words(s string) string { return strings.Join(strings.Fields(s), " ") }

// Independent: pdftotext finds low, nominal and high of every reading on one
// line, and every quantity of the take-off.
func TestPDFHoldsEveryFigure(t *testing.T) {
	for _, name := range examples(t) {
		r := work(t, name)
		text := program(t, "pdftotext", "-layout", writePDF(t, Pack(r)), "-")
		if r.Forbidden() {
			continue // TestRefusedJob
		}
		text = words(text)
		for i := range r.Final().Readings.Rows {
			low, nominal, high := r.Final().Readings.Rows[i].Columns()
			if figures := words(low + " " + nominal + " " + high); figures == "" || !strings.Contains(text, figures) {
				t.Errorf("%s: %s: %q is not on the sheets", name, r.Final().Readings.Rows[i].ID, figures)
			}
		}
		for i := range r.Parts.Lines {
			if q := r.Parts.Lines[i].Quantity() + " " + r.Parts.Lines[i].Unit(); !strings.Contains(text, q) {
				t.Errorf("%s: %s of %s is not on the sheets", name, q, r.Parts.Lines[i].Description)
			}
		}
	}
}

// Every figure that stands in a table of readings is one of the Result's.
func TestReadingsComeFromTheResult(t *testing.T) {
	for _, name := range examples(t) {
		r := work(t, name)
		known := map[string]bool{"": true}
		for i := range r.Final().Readings.Rows {
			low, nominal, high := r.Final().Readings.Rows[i].Columns()
			known[low], known[nominal], known[high] = true, true, true
		}
		for i := range r.Job.Readings { // those that were taken
			known[r.Job.Readings[i].Shown()] = true
		}
		p := &pack{Result: r}
		rows := 0
		for _, b := range p.readings() {
			table, ok := b.(draw.Table)
			if !ok {
				continue
			}
			for _, row := range table.Rows {
				for _, c := range row[3:] {
					rows++
					if !known[c.Text] {
						t.Errorf("%s: %q is no figure of the result", name, c.Text)
					}
				}
			}
		}
		if rows == 0 {
			t.Errorf("%s: no readings", name)
		}
	}
}

func TestPositionsTable(t *testing.T) {
	for _, name := range examples(t) {
		r := work(t, name)
		p := &pack{Result: r}
		stage := r.Final()
		table := p.positions()[2].(draw.Table)
		if uint64(len(table.Rows)) != stage.Graph.States() {
			t.Errorf("%s: %d rows for %d positions", name, len(table.Rows), stage.Graph.States())
		}
		for k, row := range table.Rows {
			s := stage.Graph.StateAt(uint64(k))
			for i, lamp := range p.Final().Graph.Lamps() {
				if got := strings.Contains("LIT ON", row[1+len(s)+i].Text); got != stage.Proof.Lit(lamp, s) {
					t.Errorf("%s: row %d: lamp %d lit is %v", name, k+1, lamp, got)
				}
			}
		}
	}
}

func refusedJobs(t *testing.T) (list []*engine.Result) {
	for _, name := range examples(t) {
		if r := work(t, name); r.Forbidden() {
			list = append(list, r)
		}
	}
	if len(list) == 0 {
		t.Fatal("no example is refused")
	}
	return list
}

// Nobody should connect, buy for or test a plan that is refused.
func TestRefusedJob(t *testing.T) {
	for _, r := range refusedJobs(t) {
		d := Pack(r)
		text := plainText(d.Blocks)
		for _, f := range r.Findings {
			if !strings.Contains(text, sentence(f.Text)) {
				t.Errorf("%s: the finding %q is not on the sheets", r.Job.Title, f.Text)
			}
		}
		if !strings.Contains(text, "REFUSED") || !strings.Contains(d.Footer, "REFUSED") || strings.Contains(text, "Proved:") {
			t.Errorf("%s: the refusal is not plain", r.Job.Title)
		}
		for _, part := range []string{"step by step", "Readings to expect", "Cable and parts"} {
			if strings.Contains(text, part) {
				t.Errorf("%s: %q is printed", r.Job.Title, part)
			}
		}
	}
}

// Every step of every box is in the list of its card, in order.
func TestStepsAreComplete(t *testing.T) {
	for _, name := range examples(t) {
		r := work(t, name)
		if r.Forbidden() {
			continue
		}
		text := plainText(Pack(r).Blocks)
		for _, m := range r.Moves {
			want := ""
			for i, move := range m.Moves {
				want += "- **" + strconv.Itoa(i+1) + "** " + move.Text + "\n"
			}
			if !strings.Contains(text, want) {
				t.Errorf("%s: the steps of %s are not all there", name, m.Box.ID)
			}
		}
	}
}

func BenchmarkPack(b *testing.B) {
	r := work(b, "stairs")
	b.ReportAllocs()
	for b.Loop() {
		Pack(r)
	}
}

func BenchmarkPackToPDF(b *testing.B) {
	r := work(b, "stairs")
	b.ReportAllocs()
	for b.Loop() {
		if err := Pack(r).PDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPackToHTML(b *testing.B) {
	r := work(b, "stairs")
	for b.Loop() {
		if err := Pack(r).HTML(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

// A job without a change shows each box as it is; with more than 64 positions
// the table gives way to its count.
func TestNothingChangesAndManyPositions(t *testing.T) {
	switches, straps, from := "", "", ""
	for i := range 8 {
		switches += "      - Switch " + strconv.Itoa(i+1) + "\n"
		from += ", many-switch" + strconv.Itoa(i+1) + ".s1"
		if i < 7 {
			straps += ", 3 m"
		}
	}
	text := `
job: { title: A long gallery, note: Invented for demonstration. }
supply: { earthing: TN-S, Ze: 0.4 ohm }
circuits: { lights: { device: mcb-b6, board: board } }
boxes: { board: { kind: consumer-unit } }
patterns:
  - use: intermediate
    name: many
    circuit: lights
    point: Gallery ceiling
    feed: 10 m
    drop: 4 m
    straps: [` + straps[2:] + `]
    switches:
` + switches + `
want:
  - { lamps: [many-point.lamp], from: [` + from[2:] + `] }
`
	j, problems := job.Read("gallery.yaml", []byte(text), catalogue(t))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, err := engine.Run(j, catalogue(t))
	if err != nil {
		t.Fatal(err)
	}
	d := Pack(r)
	words := plainText(d.Blocks)
	for _, want := range []string{"There are 256 positions of the 8 switches", "every switch changes the lamp from all 256 positions", "Switch 8, as found"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not on the sheets", want)
		}
	}
	if strings.Contains(words, "step by step") || strings.Contains(words, "To bring") {
		t.Error("there are steps although nothing changes")
	}
	for _, sc := range scenes(d.Blocks) {
		legible(t, sc.Title, sc)
	}
	if len(pdfOf(t, d)) == 0 {
		t.Error("no PDF")
	}
}
