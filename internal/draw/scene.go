package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Pt is one point of type in millimetres: 10 point type has Size 10*Pt.
const Pt = 25.4 / 72

// Node is a part of a scene: [Shape], [Text], [Group] or [Placed].
type Node interface{ node() }

// Style says how a path is painted: filled first, stroked over it. Width is
// the line width and Dash the lengths of dashes and gaps, in millimetres.
// Corners are round. Ends are cut square unless Round.
type Style struct {
	Fill, Stroke Ink
	Width        float64
	Dash         []float64
	Round        bool
}

// Shape is a painted path.
type Shape struct {
	Path  Path
	Style Style
}

// Anchor says which part of a text, or of a column, lies at its place.
type Anchor uint8

// The anchors. Start is the left, End the right.
const (
	Start Anchor = iota
	Middle
	End
)

// String names the anchor as SVG does.
func (a Anchor) String() string { return [...]string{"start", "middle", "end"}[min(a, End)] }

// share is the part of the width that lies left of the place.
func (a Anchor) share() float64 { return float64(min(a, End)) / 2 }

// Text is one line of words. X, Y is the baseline at the anchor; Size is the
// em in millimetres; Turn is in degrees clockwise about X, Y. A Fill of None
// prints black.
type Text struct {
	X, Y, Size float64
	S          string
	Anchor     Anchor
	Bold       bool
	Fill       Ink
	Turn       float64
}

// Group gathers nodes under a name. ID should be unique in the scene, and
// letters, digits, '-' and '_' only: other characters are replaced by '-'.
// Class may hold several words. Title is spoken and shown as a tip in SVG.
type Group struct {
	ID, Class, Title string
	Nodes            []Node
}

// Placed shows another scene with its top left corner at X, Y, scaled.
// A Scale of zero counts as one.
type Placed struct {
	X, Y, Scale float64
	Scene       *Scene
}

func (Shape) node()  {}
func (Text) node()   {}
func (Group) node()  {}
func (Placed) node() {}

// Scene is a drawing of W by H millimetres. Title names it in a few words;
// Desc says in words what it shows to a reader who cannot see it.
type Scene struct {
	W, H        float64
	Title, Desc string
	Nodes       []Node
}

// Add puts nodes on top of what is there.
func (sc *Scene) Add(nodes ...Node) { sc.Nodes = append(sc.Nodes, nodes...) }

// plain takes the node itself where a pointer to one was put in a scene.
func plain(n Node) Node {
	switch p := n.(type) {
	case *Shape:
		return *p
	case *Text:
		return *p
	case *Group:
		return *p
	case *Placed:
		return *p
	}
	return n
}

// view maps the millimetres of a nested scene to those of the outermost.
type view struct{ x, y, k float64 }

func (v view) at(x, y float64) Point { return Point{v.x + v.k*x, v.y + v.k*y} }

func (v view) into(p Placed) view {
	o, k := v.at(p.X, p.Y), p.Scale
	if k == 0 {
		k = 1
	}
	return view{o.X, o.Y, v.k * k}
}

// walk visits shapes and texts in painting order with their views. It follows
// a scene placed in itself 16 deep and no further.
func (sc *Scene) walk(visit func(Node, view)) {
	walk(sc.Nodes, view{k: 1}, 0, visit)
}

const maxNesting = 16

func walk(nodes []Node, v view, depth int, visit func(Node, view)) {
	for _, n := range nodes {
		switch n := plain(n).(type) {
		case Group:
			walk(n.Nodes, v, depth, visit)
		case Placed:
			if n.Scene != nil && depth < maxNesting {
				walk(n.Scene.Nodes, v.into(n), depth+1, visit)
			}
		case Shape, Text:
			visit(n, v)
		}
	}
}

// Dump is the display list as text, one node a line, for comparison with a
// file kept by a test. Lengths are rounded to 3 decimals.
func (sc *Scene) Dump() string {
	var b strings.Builder
	dumpScene(&b, sc, 0)
	return b.String()
}

func dumpScene(b *strings.Builder, sc *Scene, depth int) {
	indent(b, depth)
	fmt.Fprintf(b, "scene %s x %s %q\n", num(sc.W), num(sc.H), sc.Title)
	if sc.Desc != "" {
		indent(b, depth+1)
		fmt.Fprintf(b, "desc %q\n", sc.Desc)
	}
	for _, n := range sc.Nodes {
		dumpNode(b, n, depth+1)
	}
}

func dumpNode(b *strings.Builder, n Node, depth int) {
	if depth > 4*maxNesting {
		return
	}
	indent(b, depth)
	switch n := plain(n).(type) {
	case Shape:
		b.WriteString("path " + pathData(n.Path) + n.Style.dump() + "\n")
	case Text:
		fmt.Fprintf(b, "text %s %s size %s %s", num(n.X), num(n.Y), num(n.Size), n.Anchor)
		if n.Bold {
			b.WriteString(" bold")
		}
		if n.Turn != 0 {
			b.WriteString(" turn " + num(n.Turn))
		}
		fmt.Fprintf(b, " %s %q\n", n.ink(), n.S)
	case Group:
		fmt.Fprintf(b, "group id=%q class=%q title=%q\n", n.ID, n.Class, n.Title)
		for _, c := range n.Nodes {
			dumpNode(b, c, depth+1)
		}
	case Placed:
		fmt.Fprintf(b, "place %s %s scale %s\n", num(n.X), num(n.Y), num(n.Scale))
		if n.Scene != nil {
			dumpScene(b, n.Scene, depth+1)
		}
	default:
		b.WriteString("nothing\n")
	}
}

func (s Style) dump() string {
	out := " fill " + s.Fill.String()
	if s.Stroke == None {
		return out
	}
	out += " stroke " + s.Stroke.String() + " " + num(s.Width)
	if len(s.Dash) > 0 {
		out += " dash " + numbers(s.Dash)
	}
	if s.Round {
		out += " round"
	}
	return out
}

func (t Text) ink() Ink {
	if t.Fill == None {
		return Black
	}
	return t.Fill
}

func indent(b *strings.Builder, depth int) {
	for range depth {
		b.WriteString("  ")
	}
}

// num prints a length rounded to 3 decimals, without trailing zeros. What is
// not a number prints as 0, so that a fault in a caller never breaks a file.
func num(v float64) string { return string(appendNum(nil, v)) }

func appendNum(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	v = math.Round(v*1000) / 1000
	if v == 0 {
		v = 0 // no "-0"
	}
	return strconv.AppendFloat(b, v, 'f', -1, 64)
}

func numbers(vs []float64) string {
	var b []byte
	for i, v := range vs {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendNum(b, v)
	}
	return string(b)
}

func pathData(p Path) string {
	b := make([]byte, 0, 24*len(p))
	for i, s := range p.begun() {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(b, "MLCZ"[min(s.Op, Close)])
		for _, q := range s.points() {
			b = appendNum(append(b, ' '), q.X)
			b = appendNum(append(b, ' '), q.Y)
		}
	}
	return string(b)
}
