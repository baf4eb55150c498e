package document

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"strapper/internal/draw"
	"strapper/unit"
)

// Type and lines of the drawings of the house, in millimetres of paper.
const (
	tagSize   = 2.5 // names of boxes, figures of dimensions
	roomSize  = 3.0
	dimRow    = 3.3 // between rows of figures
	cableLine = 0.9
)

var (
	thin     = draw.Style{Stroke: draw.Black, Width: 0.18}
	outline  = draw.Style{Stroke: draw.Black, Width: 0.35}
	dotted   = draw.Style{Stroke: draw.Slate, Width: 0.18, Dash: []float64{0.6, 0.9}}
	faint    = draw.Style{Stroke: draw.Slate, Width: 0.25, Dash: []float64{1.6, 1}}
	masonry  = draw.RGB(176, 180, 186)
	scales   = []int{5, 10, 20, 25, 40, 50, 75, 100, 150, 200, 300, 500}
	timber   = draw.RGB(214, 206, 190)
	boldLine = draw.Style{Stroke: draw.Black, Width: cableLine, Round: true}
)

// A frame is a drawing to scale while it is made: places of the house in
// millimetres, right and up, on paper in millimetres, right and down.
type frame struct {
	sc    *draw.Scene
	scale int
	left  unit.Millimetre // what lies at x0
	top   unit.Millimetre // what lies at y0
	x0    float64
	y0    float64
	taken []draw.Box // labels placed so far
	tags  []tag      // to be placed once all else is
}

// tag is the name of a place, or of something as large as off about it.
type tag struct {
	at   draw.Point
	off  float64
	s    string
	bold bool
}

// newFrame makes a drawing of a stretch of house w wide and h high that is at
// most as large as given on paper, with margins about it.
func newFrame(title string, left, top, w, h unit.Millimetre, mostW, mostH, marginX, marginY float64) *frame {
	f := &frame{left: left, top: top, x0: marginX, y0: 7, scale: scales[len(scales)-1]}
	for _, s := range scales {
		if float64(w)/float64(s) <= mostW && float64(h)/float64(s) <= mostH {
			f.scale = s
			break
		}
	}
	f.sc = &draw.Scene{W: float64(w)/float64(f.scale) + 2*marginX, H: float64(h)/float64(f.scale) + f.y0 + marginY, Title: title}
	head := fmt.Sprintf("%s, 1:%d", title, f.scale)
	f.sc.W = math.Max(f.sc.W, draw.Width(head, roomSize, true)+2)
	f.words(draw.Text{X: 0.5, Y: 3.4, Size: roomSize, S: head, Bold: true})
	return f
}

// length is a length of the house on paper.
func (f *frame) length(v unit.Millimetre) float64 { return float64(v) / float64(f.scale) }

// at is a place of the house on paper.
func (f *frame) at(x, y unit.Millimetre) draw.Point {
	return draw.Point{X: f.x0 + f.length(x-f.left), Y: f.y0 + f.length(f.top-y)}
}

// area draws a rectangle of the house.
func (f *frame) area(x0, y0, x1, y1 unit.Millimetre, st draw.Style) {
	p, q := f.at(x0, y1), f.at(x1, y0)
	f.sc.Add(draw.Rect(p.X, p.Y, q.X-p.X, q.Y-p.Y, st))
}

// line draws a straight line of the house.
func (f *frame) line(x0, y0, x1, y1 unit.Millimetre, st draw.Style) {
	p, q := f.at(x0, y0), f.at(x1, y1)
	f.sc.Add(draw.Line(p.X, p.Y, q.X, q.Y, st))
}

// words puts a text down and remembers its place.
func (f *frame) words(t draw.Text) {
	f.taken = append(f.taken, t.Box())
	f.sc.Add(t)
}

// free reports whether a text would lie on the paper and on no other.
func (f *frame) free(t draw.Text) bool {
	b := t.Box()
	b.X0, b.Y0, b.X1, b.Y1 = b.X0-0.5, b.Y0-0.5, b.X1+0.5, b.Y1+0.5 // the white about it
	if b.X0 < 0.2 || b.Y0 < 4.6 || b.X1 > f.sc.W-0.2 || b.Y1 > f.sc.H-0.2 {
		return false
	}
	return !slices.ContainsFunc(f.taken, func(o draw.Box) bool { return b.Meets(o, 0) })
}

// tag names a place once everything else is drawn.
func (f *frame) tag(p draw.Point, off float64, s string, bold bool) {
	f.tags = append(f.tags, tag{p, off, s, bold})
}

// done places the tags, those with least room first, and gives the drawing.
func (f *frame) done() *draw.Scene {
	slices.SortStableFunc(f.tags, func(a, b tag) int { return cmp.Compare(a.off, b.off) })
	for _, t := range f.tags {
		f.place(t)
	}
	return f.sc
}

// sides are the directions in which a tag is tried about its place.
var sides = [][2]float64{{1, 0.3}, {-1, 0.3}, {1, -0.8}, {-1, -0.8}, {1, 1.4}, {-1, 1.4}, {0, -1}, {0, 1.6}}

// place puts a tag beside its place where there is room, else farther away with
// a line to it. The words stand on white.
func (f *frame) place(g tag) {
	const rings, step = 40, 2.0
	for ring := range rings {
		r := g.off + float64(ring)*step
		for _, d := range sides {
			t := draw.Text{X: g.at.X + d[0]*r, Y: g.at.Y + d[1]*math.Max(r, 2), Size: tagSize, S: g.s, Bold: g.bold}
			switch {
			case d[0] < 0:
				t.Anchor = draw.End
			case d[0] == 0:
				t.Anchor = draw.Middle
			}
			if !f.free(t) {
				continue
			}
			if ring > 0 {
				f.sc.Add(draw.Line(g.at.X, g.at.Y, t.X, t.Y-tagSize*draw.CapHeight/2, thin))
			}
			f.taken = append(f.taken, t.Box())
			f.sc.Add(draw.Plate(t, draw.White))
			return
		}
	}
}

// ticksBelow draws a row of running dimensions under the drawing: every figure
// is the distance from the left end. It begins at y on paper.
func (f *frame) ticksBelow(from, to unit.Millimetre, y float64, at []unit.Millimetre) {
	at = distinct(at, from, to)
	a, b := f.at(from, 0).X, f.at(to, 0).X
	f.sc.Add(draw.Line(a, y, b, y, thin), draw.Circle(a, y, 0.5, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.18}))
	var ends []float64 // of the rows' last figures
	for _, v := range at {
		x := f.at(v, 0).X
		s := fmt.Sprint(int64(v - from))
		half := draw.Width(s, tagSize, false) / 2
		row := slices.IndexFunc(ends, func(e float64) bool { return x-half > e+0.8 })
		if row < 0 {
			row = len(ends)
			ends = append(ends, 0)
		}
		ends[row] = x + half
		base := y + 3.2 + float64(row)*dimRow
		f.sc.H = math.Max(f.sc.H, base+1.2)
		f.sc.Add(draw.Line(x, y-0.9, x, base-2, thin))
		f.words(draw.Text{X: x, Y: base, Size: tagSize, S: s, Anchor: draw.Middle})
	}
}

// ticksLeft draws a column of running dimensions left of the drawing, at x on
// paper: every figure is the height over from.
func (f *frame) ticksLeft(from, to unit.Millimetre, x float64, at []unit.Millimetre) {
	at = distinct(at, from, to)
	a, b := f.at(0, from).Y, f.at(0, to).Y
	f.sc.Add(draw.Line(x, a, x, b, thin), draw.Circle(x, a, 0.5, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.18}))
	places := make([]float64, len(at))
	last := math.Inf(1)
	for i, v := range at {
		places[i] = math.Min(f.at(0, v).Y, last-dimRow)
		last = places[i]
	}
	last = b - dimRow + 1 // none above the drawing's upper edge
	for i := len(at) - 1; i >= 0; i-- {
		places[i] = math.Max(places[i], last+dimRow-1)
		last = places[i] + 1
	}
	for i, v := range at {
		y := f.at(0, v).Y
		f.sc.Add(draw.Polyline(thin, draw.Point{X: x + 0.9, Y: y}, draw.Point{X: x - 0.9, Y: y}, draw.Point{X: x - 2, Y: places[i]}))
		f.sc.H = math.Max(f.sc.H, places[i]+2)
		f.words(draw.Text{X: x - 2.4, Y: places[i] + tagSize*draw.CapHeight/2, Size: tagSize, S: fmt.Sprint(int64(v - from)), Anchor: draw.End})
	}
}

// distinct sorts places, keeps each once and only those past from and up to to.
func distinct(at []unit.Millimetre, from, to unit.Millimetre) []unit.Millimetre {
	list := slices.Clone(at)
	slices.Sort(list)
	list = slices.Compact(list)
	return slices.DeleteFunc(list, func(v unit.Millimetre) bool { return v <= from || v > to })
}

// cross marks the middle of something.
func cross(p draw.Point, r float64) []draw.Node {
	return []draw.Node{draw.Line(p.X-r, p.Y, p.X+r, p.Y, thin), draw.Line(p.X, p.Y-r, p.X, p.Y+r, thin)}
}

// heavy draws a heavy line with white beside it, so that it can be followed
// over others.
func (f *frame) heavy(pts []draw.Point, st draw.Style) {
	if len(pts) < 2 {
		return
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		n := math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y)/1.5) + 1
		for k := range int(n) {
			f.occupy(draw.Point{X: a.X + (b.X-a.X)*float64(k)/n, Y: a.Y + (b.Y-a.Y)*float64(k)/n}, st.Width/2)
		}
	}
	f.sc.Add(draw.Polyline(draw.Style{Stroke: draw.White, Width: st.Width + 0.9, Round: true}, pts...), draw.Polyline(st, pts...))
}

// occupy keeps labels off a mark about a place.
func (f *frame) occupy(p draw.Point, r float64) {
	f.taken = append(f.taken, draw.Box{X0: p.X - r, Y0: p.Y - r, X1: p.X + r, Y1: p.Y + r})
}

// holeMark is a hole with its number.
func (f *frame) holeMark(p draw.Point, name string) {
	f.occupy(p, 1.2)
	f.sc.Add(draw.Circle(p.X, p.Y, 1.1, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.5}))
	f.tag(p, 1.8, name, true)
}
