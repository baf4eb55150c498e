package draw

import (
	"fmt"
	"io"
	"math"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// undated is the date of the PDF of a document without one. A file needs
// some date, and the clock would make equal documents differ.
var undated = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// PDF writes the document as a PDF file: A4 portrait, the fonts embedded as
// subsets, words that can be selected, a bookmark for each heading. Equal
// documents give equal bytes. It fails with a *[MissingError] if the fonts lack
// a rune, rather than leave a blank, and with the error of w.
func (d *Document) PDF(w io.Writer) error {
	pages, marks := d.lay()
	if err := missingOn(pages); err != nil {
		return err
	}
	pdf := d.open()
	pen := newPen(pdf)
	next := 0
	levels := bookmarkLevels(marks)
	for i, page := range pages {
		pdf.AddPage()
		for ; next < len(marks) && marks[next].page == i; next++ {
			pdf.Bookmark(oneLine(marks[next].Text), levels[next], marks[next].y)
		}
		page.walk(pen.draw)
	}
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("draw: writing the PDF: %w", err)
	}
	return nil
}

func missingOn(pages []*Scene) error {
	var all *MissingError
	seen := map[rune]bool{}
	for _, p := range pages {
		e := p.missing()
		if e == nil {
			continue
		}
		if all == nil {
			all = &MissingError{In: e.In}
		}
		for _, r := range e.Runes {
			if !seen[r] {
				seen[r] = true
				all.Runes = append(all.Runes, r)
			}
		}
	}
	if all == nil {
		return nil
	}
	return all
}

// open begins the file with the document's metadata and the fonts.
func (d *Document) open() *fpdf.Fpdf {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetCatalogSort(true)
	at := undated
	if t, err := time.Parse(time.DateOnly, d.Date); err == nil {
		at = t
	}
	pdf.SetCreationDate(at)
	pdf.SetModificationDate(at)
	pdf.SetProducer("", false)
	pdf.SetTitle(oneLine(d.Title), true)
	pdf.SetSubject(oneLine(d.Subject), true)
	pdf.SetAuthor(oneLine(d.Author), true)
	pdf.SetLang("en-GB")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetLineJoinStyle("round")
	pdf.AddUTF8FontFromBytes(family, "", regularTTF)
	pdf.AddUTF8FontFromBytes(family, "B", semiboldTTF)
	pdf.SetFont(family, "", 10) // before the first bookmark, whose words depend on it
	return pdf
}

// bookmarkLevels counts from 0 and never goes down by more than one step,
// which the outline of a PDF needs.
func bookmarkLevels(marks []mark) []int {
	out := make([]int, len(marks))
	prev := -1
	for i, m := range marks {
		prev = min(m.level()-1, prev+1)
		out[i] = prev
	}
	return out
}

// pen draws shapes and texts on the current page and remembers what it set,
// so as not to set it again.
type pen struct {
	pdf          *fpdf.Fpdf
	stroke, fill Ink
	words        Ink
	width, size  float64
	dash         string
	round, bold  bool
}

func newPen(pdf *fpdf.Fpdf) *pen {
	return &pen{pdf: pdf, dash: "", width: -1, size: -1}
}

// draw puts one shape or text on the page.
func (p *pen) draw(n Node, v view) {
	switch n := n.(type) {
	case Shape:
		p.shape(n, v)
	case Text:
		p.text(n, v)
	}
}

func (p *pen) shape(s Shape, v view) {
	how := p.style(s.Style, v.k)
	path := s.Path.begun()
	if how == "" || len(path) == 0 {
		return
	}
	for _, seg := range path {
		var q [3]Point
		for i, pt := range seg.points() {
			q[i] = v.at(pt.X, pt.Y).sane()
		}
		switch seg.Op {
		case Move:
			p.pdf.MoveTo(q[0].X, q[0].Y)
		case Straight:
			p.pdf.LineTo(q[0].X, q[0].Y)
		case Curve:
			p.pdf.CurveBezierCubicTo(q[0].X, q[0].Y, q[1].X, q[1].Y, q[2].X, q[2].Y)
		default:
			p.pdf.ClosePath()
		}
	}
	p.pdf.DrawPath(how)
}

// sane keeps a number that is none, or beyond all paper, out of the file.
func (q Point) sane() Point { return Point{sane(q.X), sane(q.Y)} }

func sane(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return math.Max(-1e4, math.Min(1e4, v))
}

// style sets inks and line and returns the painting operator, "" for none.
func (p *pen) style(st Style, k float64) string {
	how := ""
	if st.Fill != None {
		how = "F"
		if st.Fill != p.fill {
			p.fill = st.Fill
			p.pdf.SetFillColor(st.Fill.rgb())
		}
	}
	if st.Stroke == None || !(st.Width > 0) {
		return how
	}
	if st.Stroke != p.stroke {
		p.stroke = st.Stroke
		p.pdf.SetDrawColor(st.Stroke.rgb())
	}
	p.line(st, k)
	return how + "D"
}

func (p *pen) line(st Style, k float64) {
	if w := sane(st.Width * k); w != p.width {
		p.width = w
		p.pdf.SetLineWidth(w)
	}
	dash := make([]float64, len(st.Dash))
	sum := 0.0
	for i, d := range st.Dash {
		dash[i] = math.Max(0, sane(d*k))
		sum += dash[i]
	}
	if sum < 0.05 { // too fine to be seen, and all gaps none is not allowed
		dash = nil
	}
	if name := numbers(dash); name != p.dash {
		p.dash = name
		p.pdf.SetDashPattern(dash, 0)
	}
	if st.Round != p.round {
		p.round = st.Round
		p.pdf.SetLineCapStyle(map[bool]string{true: "round", false: "butt"}[st.Round])
	}
}

func (p *pen) text(t Text, v view) {
	size := sane(t.Size * v.k)
	if t.S == "" || size <= 0 {
		return
	}
	p.font(size, t.Bold)
	if t.ink() != p.words {
		p.words = t.ink()
		p.pdf.SetTextColor(p.words.rgb())
	}
	at := v.at(t.X, t.Y).sane()
	x := sane(at.X - Width(t.S, size, t.Bold)*t.Anchor.share())
	if t.Turn == 0 {
		p.pdf.Text(x, at.Y, t.S)
		return
	}
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(-sane(math.Mod(t.Turn, 360)), at.X, at.Y)
	p.pdf.Text(x, at.Y, t.S)
	p.pdf.TransformEnd()
}

func (p *pen) font(size float64, bold bool) {
	if size == p.size && bold == p.bold {
		return
	}
	style := ""
	if bold {
		style = "B"
	}
	p.pdf.SetFont(family, style, size/Pt)
	p.size, p.bold = size, bold
}
