package draw

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"testing"
)

// source turns fuzz bytes into choices.
type source struct {
	b []byte
}

func (s *source) n(max int) int {
	if len(s.b) == 0 || max <= 0 {
		return 0
	}
	v := int(s.b[0])
	s.b = s.b[1:]
	return v % max
}

func (s *source) words() string {
	n := s.n(60)
	var b bytes.Buffer
	for range n {
		b.WriteString([]string{"hall ", "landing ", "Ω", "**", "\n", "strapper", "/", "intermediate-switch", "1.5 mm² ", "\u00a0", "\t", "✓ "}[s.n(12)])
	}
	if s.n(40) == 39 {
		return string(bytes.Repeat(b.Bytes(), 60))
	}
	return b.String()
}

func (s *source) size() float64 {
	return []float64{0, -5, 1e-9, 10, 80, 300, 1e5, 1e300, math.NaN(), math.Inf(1)}[s.n(10)]
}

func (s *source) scene() *Scene {
	if s.n(6) == 5 {
		return nil
	}
	sc := &Scene{W: s.size(), H: s.size(), Title: "fuzz"}
	sc.Add(Text{X: s.size(), Y: s.size(), Size: s.size(), S: "label", Anchor: Anchor(s.n(5)), Turn: s.size()})
	st := Style{Stroke: Black, Width: s.size(), Dash: []float64{s.size(), s.size()}}
	sc.Add(Circle(s.size(), s.size(), s.size(), st), Shape{Path{}.L(s.size(), 2).Z().L(1, 1), st}, Shape{Path{}.Z(), st})
	sc.Add(Arrow(s.size(), 0, s.size(), 1, s.size(), st), RoundRect(0, 0, s.size(), s.size(), s.size(), st))
	sc.Add(Band{Width: 1, Base: White, Stripe: Black, Pitch: s.size()}.Along(Bent(s.size(), Point{0, 0}, Point{s.size(), 0}, Point{1, s.size()})))
	return sc
}

func (s *source) table() Table {
	t := Table{RowHead: s.n(2) == 1}
	for range s.n(9) {
		t.Head = append(t.Head, s.words())
		t.Weights = append(t.Weights, s.size())
		t.Align = append(t.Align, Anchor(s.n(5)))
	}
	for range s.n(6) {
		var row []Cell
		for range s.n(50) {
			row = append(row, Cell{Text: s.words(), Empty: s.n(3) == 0, State: []string{"", "new", "a rather long state"}[s.n(3)], Tone: Tone(s.n(6))})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (s *source) blocks(depth int) []Block {
	var out []Block
	for range s.n(8) + 1 {
		switch s.n(10) {
		case 0:
			out = append(out, Heading{s.n(7) - 2, s.words()})
		case 1:
			out = append(out, Para{s.words(), ParaStyle(s.n(6))})
		case 2:
			out = append(out, s.table())
		case 3:
			out = append(out, Figure{s.scene(), s.words(), s.words()})
		case 4:
			out = append(out, Figures{[]Figure{{s.scene(), s.words(), ""}, {s.scene(), "", ""}}})
		case 5:
			out = append(out, List{[]string{s.words(), s.words()}, ListKind(s.n(5)), s.n(4) - 1})
		case 6:
			out = append(out, Caution{s.words(), s.words()})
		case 7:
			if depth < 3 {
				out = append(out, Keep{s.blocks(depth + 1)})
			}
		case 8:
			out = append(out, PageBreak{}, Rule{})
		default:
			out = append(out, nil)
		}
	}
	return out
}

// FuzzDocument: whatever the blocks, layout ends, nothing panics, the PDF and
// the page are written, and no words but those of figures leave the paper
// below.
func FuzzDocument(f *testing.F) {
	f.Add([]byte("stair lights"))
	f.Add([]byte{7, 2, 1, 8, 59, 39, 39, 39, 2, 5, 49, 59, 1, 39, 39})
	for i := range 40 {
		b := make([]byte, 400)
		for j := range b {
			b[j] = byte((j*j*31 + j*i*17 + i*97) >> 3)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := &source{data}
		d := &Document{Title: s.words(), Subject: s.words(), Footer: s.words(), Blocks: s.blocks(0)}
		if err := d.PDF(io.Discard); err != nil {
			t.Error(err)
		}
		if err := d.HTML(io.Discard); err != nil {
			t.Error(err)
		}
		for i, p := range d.Pages() {
			for _, n := range p.Nodes {
				if txt, ok := n.(Text); ok && txt.Box().Y1 > 290 {
					t.Errorf("page %d: %q reaches down to %g", i+1, txt.S, txt.Box().Y1)
				}
			}
			_ = p.Dump()
		}
	})
}

func big() *Document {
	d := &Document{Title: "Benchmark", Subject: "20 drawings, 12 tables", Date: "2031-02-03"}
	for i := range 20 {
		if i < 12 {
			d.Blocks = append(d.Blocks, Heading{1, fmt.Sprintf("Part %d", i+1)}, demoTable(8))
		}
		sc := demoScene()
		for j := range 60 {
			x, y := float64(j%12)*9+6, float64(j/12)*9+8
			sc.Add(Circle(x, y, 3, Style{Stroke: Black, Width: 0.2}), Text{X: x, Y: y + 1, Size: 2.5, S: fmt.Sprintf("%d Ω", j), Anchor: Middle})
		}
		d.Blocks = append(d.Blocks, Figure{sc, "A drawing of about 150 marks", ""})
	}
	return d
}

func BenchmarkPDF(b *testing.B) {
	d := big()
	defer func() { b.ReportMetric(float64(len(d.Pages())), "pages") }()
	b.ReportAllocs()
	for b.Loop() {
		if err := d.PDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLayout(b *testing.B) {
	d := big()
	for b.Loop() {
		d.Pages()
	}
}

func BenchmarkHTML(b *testing.B) {
	d := big()
	for b.Loop() {
		if err := d.HTML(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSVG(b *testing.B) {
	sc := demoScene()
	for b.Loop() {
		if err := sc.SVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSmallestPDF(b *testing.B) {
	for b.Loop() {
		if err := (&Document{Title: "x"}).PDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
