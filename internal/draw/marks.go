package draw

import "math"

// Line is a straight stroke.
func Line(x1, y1, x2, y2 float64, st Style) Shape {
	return Shape{Path{}.M(x1, y1).L(x2, y2), st}
}

// Polyline is a stroke through points.
func Polyline(st Style, pts ...Point) Shape { return Shape{Through(pts...), st} }

// Polygon is a closed outline through points.
func Polygon(st Style, pts ...Point) Shape { return Shape{Through(pts...).Z(), st} }

// Rect is a rectangle with its top left corner at x, y.
func Rect(x, y, w, h float64, st Style) Shape {
	return Shape{Path{}.M(x, y).L(x+w, y).L(x+w, y+h).L(x, y+h).Z(), st}
}

// RoundRect is a rectangle with corners of radius r, at most half of the
// shorter side.
func RoundRect(x, y, w, h, r float64, st Style) Shape {
	r = math.Min(r, math.Min(w, h)/2)
	if r <= 0 {
		return Rect(x, y, w, h, st)
	}
	p := Path{}.A(x+w-r, y+r, r, -90, 0).A(x+w-r, y+h-r, r, 0, 90)
	return Shape{p.A(x+r, y+h-r, r, 90, 180).A(x+r, y+r, r, 180, 270).Z(), st}
}

// Circle is a circle about cx, cy.
func Circle(cx, cy, r float64, st Style) Shape {
	return Shape{Path{}.A(cx, cy, r, 0, 360).Z(), st}
}

// Arc is a part of a circle, from and to in degrees clockwise from the
// direction of x.
func Arc(cx, cy, r, from, to float64, st Style) Shape {
	return Shape{Path{}.A(cx, cy, r, from, to), st}
}

// Arrow is a straight stroke with a filled head, head millimetres long, whose
// tip is at x2, y2.
func Arrow(x1, y1, x2, y2, head float64, st Style) Group {
	d := math.Hypot(x2-x1, y2-y1)
	if d == 0 {
		return Group{}
	}
	head = math.Min(head, d)
	ux, uy := (x2-x1)/d, (y2-y1)/d
	bx, by := x2-ux*head, y2-uy*head
	w := head * 0.4
	return Group{Nodes: []Node{
		Line(x1, y1, bx, by, st),
		Polygon(Style{Fill: st.Stroke}, Point{x2, y2}, Point{bx - uy*w, by + ux*w}, Point{bx + uy*w, by - ux*w}),
	}}
}

// Plate is a label that can be read across lines: words upon a filled
// rectangle with a margin of a fifth of their size.
func Plate(t Text, fill Ink) Group {
	b, m := t.Box(), t.Size/5
	return Group{Nodes: []Node{
		Rect(b.X0-m, b.Y0-m, b.X1-b.X0+2*m, b.Y1-b.Y0+2*m, Style{Fill: fill}), t,
	}}
}

// Band says how a thick two-ink line is drawn: Base all along, blocks of
// Stripe as long as the gaps between them every Pitch millimetres (none if
// Stripe is None), and an Edge line of EdgeWidth either side so that a pale
// line shows on paper.
type Band struct {
	Width, EdgeWidth, Pitch float64
	Base, Stripe, Edge      Ink
}

// Along draws the band along a path. Its ends are cut square.
func (b Band) Along(p Path) Group {
	var g Group
	add := func(ink Ink, width float64, dash []float64) {
		if ink != None && width > 0 {
			g.Nodes = append(g.Nodes, Shape{p, Style{Stroke: ink, Width: width, Dash: dash}})
		}
	}
	if b.EdgeWidth > 0 {
		add(b.Edge, b.Width+2*b.EdgeWidth, nil)
	}
	add(b.Base, b.Width, nil)
	if b.Pitch > 0 {
		add(b.Stripe, b.Width, []float64{b.Pitch / 2, b.Pitch / 2})
	}
	return g
}

// TickBox is an empty square to tick, its top left corner at x, y.
func TickBox(x, y, size float64) Shape {
	w := math.Max(0.25, size/12)
	return Rect(x+w/2, y+w/2, size-w, size-w, Style{Fill: White, Stroke: Black, Width: w})
}

// WarningMark is a black triangle on a white ground with an exclamation mark,
// size wide with the top left corner of its rectangle at x, y. It is 0.9 of
// size tall. Black on white only: it reads the same without colour.
func WarningMark(x, y, size float64) Group {
	w := size * 0.09
	top, foot := y+w*0.8, y+size*0.9-w/2
	cx := x + size/2
	return Group{Class: "warning-mark", Nodes: []Node{
		Polygon(Style{Fill: White, Stroke: Black, Width: w},
			Point{cx, top}, Point{x + size - w/2, foot}, Point{x + w/2, foot}),
		Polygon(Style{Fill: Black},
			Point{cx - w*0.65, y + size*0.33}, Point{cx + w*0.65, y + size*0.33},
			Point{cx + w*0.4, y + size*0.61}, Point{cx - w*0.4, y + size*0.61}),
		Circle(cx, y+size*0.71, w*0.62, Style{Fill: Black}),
	}}
}

// EarthMark is the stem and three shortening bars, size wide, the top of its
// stem at x, y; it hangs 0.9 of size below. The fonts have no such character.
func EarthMark(x, y, size, width float64, ink Ink) Group {
	st := Style{Stroke: ink, Width: width}
	g := Group{Class: "earth-mark", Nodes: []Node{Line(x, y, x, y+size/2, st)}}
	for i := range 3 {
		h, by := size/2*(1-float64(i)*0.33), y+size*(0.5+0.2*float64(i))
		g.Nodes = append(g.Nodes, Line(x-h, by, x+h, by, st))
	}
	return g
}
