package draw

import "math"

// Op is what one step of a path does.
type Op uint8

// The steps of a path. Move and Straight use one point, Curve (a cubic Bézier)
// three: two controls and the end. Close uses none.
const (
	Move Op = iota
	Straight
	Curve
	Close
)

// Point is a place in millimetres, y down.
type Point struct{ X, Y float64 }

// Seg is one step of a path.
type Seg struct {
	Op Op
	P  [3]Point
}

// end is the point a step arrives at.
func (s Seg) end() Point {
	if s.Op == Curve {
		return s.P[2]
	}
	return s.P[0]
}

// points are the points a step uses.
func (s Seg) points() []Point {
	switch s.Op {
	case Move, Straight:
		return s.P[:1]
	case Curve:
		return s.P[:]
	}
	return nil
}

// Path is an outline in millimetres. It should begin with a Move; a path
// that does not is begun at the first point it uses.
type Path []Seg

// M begins a new piece at x, y.
func (p Path) M(x, y float64) Path { return append(p, Seg{Move, [3]Point{{x, y}}}) }

// L draws straight to x, y.
func (p Path) L(x, y float64) Path { return append(p, Seg{Straight, [3]Point{{x, y}}}) }

// C draws a cubic Bézier to x, y with the controls (ax, ay) and (bx, by).
func (p Path) C(ax, ay, bx, by, x, y float64) Path {
	return append(p, Seg{Curve, [3]Point{{ax, ay}, {bx, by}, {x, y}}})
}

// Z closes the piece.
func (p Path) Z() Path { return append(p, Seg{Op: Close}) }

// A continues along a circle about cx, cy from one angle to another, in
// degrees clockwise from the direction of x. It begins a new piece if the path
// is empty or closed, else it draws straight to the start of the arc. Error of
// the Bézier arcs: below 0.03 % of the radius (quarter circles).
func (p Path) A(cx, cy, r, from, to float64) Path {
	at := func(deg float64) (float64, float64) {
		s, c := math.Sincos(deg * math.Pi / 180)
		return cx + r*c, cy + r*s
	}
	x, y := at(from)
	if len(p) == 0 || p[len(p)-1].Op == Close {
		p = p.M(x, y)
	} else if e := p[len(p)-1].end(); math.Hypot(e.X-x, e.Y-y) > 1e-9 {
		p = p.L(x, y)
	}
	to = from + math.Max(-360, math.Min(360, to-from))
	n := math.Max(1, math.Ceil(math.Abs(to-from)/90-1e-9))
	step := (to - from) / n
	k := 4.0 / 3 * math.Tan(step*math.Pi/720)
	for i := range int(n) {
		a, b := from+float64(i)*step, from+float64(i+1)*step
		x0, y0 := at(a)
		x1, y1 := at(b)
		p = p.C(x0-k*(y0-cy), y0+k*(x0-cx), x1+k*(y1-cy), y1-k*(x1-cx), x1, y1)
	}
	return p
}

// Through is a path of straight lines through the points.
func Through(pts ...Point) Path {
	var p Path
	for i, q := range pts {
		if i == 0 {
			p = p.M(q.X, q.Y)
		} else {
			p = p.L(q.X, q.Y)
		}
	}
	return p
}

// Bent is a path of straight lines through the points whose corners are
// rounded to radius r, or to half of the shorter leg where that is less.
func Bent(r float64, pts ...Point) Path {
	if len(pts) < 3 || r <= 0 {
		return Through(pts...)
	}
	p := Path{}.M(pts[0].X, pts[0].Y)
	for i := 1; i < len(pts)-1; i++ {
		a, b, c := pts[i-1], pts[i], pts[i+1]
		la, lc := math.Hypot(a.X-b.X, a.Y-b.Y), math.Hypot(c.X-b.X, c.Y-b.Y)
		d := math.Min(r, math.Min(la, lc)/2)
		if d < 1e-6 {
			p = p.L(b.X, b.Y)
			continue
		}
		s, e := toward(b, a, d/la), toward(b, c, d/lc)
		const k = 0.5523 // quarter circle when the legs are square
		u, v := toward(s, b, k), toward(e, b, k)
		p = p.L(s.X, s.Y).C(u.X, u.Y, v.X, v.Y, e.X, e.Y)
	}
	last := pts[len(pts)-1]
	return p.L(last.X, last.Y)
}

func toward(from, to Point, part float64) Point {
	return Point{from.X + (to.X-from.X)*part, from.Y + (to.Y-from.Y)*part}
}

// begun is the path with a Move in front if it lacks one.
func (p Path) begun() Path {
	for len(p) > 0 && p[0].Op >= Close {
		p = p[1:]
	}
	if len(p) == 0 || p[0].Op == Move {
		return p
	}
	return append(Path{{Move, [3]Point{p[0].P[0]}}}, p...)
}
