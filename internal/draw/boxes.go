package draw

import "math"

// Box is a rectangle in millimetres, y down.
type Box struct{ X0, Y0, X1, Y1 float64 }

// nothing is the box that holds no point; it grows by with.
var nothing = Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}

// Empty says whether the box holds no area and no point.
func (b Box) Empty() bool { return b.X1 < b.X0 || b.Y1 < b.Y0 }

// Meets says whether the boxes share more than a strip slack wide.
func (b Box) Meets(c Box, slack float64) bool {
	return math.Min(b.X1, c.X1)-math.Max(b.X0, c.X0) > slack &&
		math.Min(b.Y1, c.Y1)-math.Max(b.Y0, c.Y0) > slack
}

// Within says whether the box lies in c, or leaves it by slack at most.
func (b Box) Within(c Box, slack float64) bool {
	return b.X0 >= c.X0-slack && b.Y0 >= c.Y0-slack && b.X1 <= c.X1+slack && b.Y1 <= c.Y1+slack
}

func (b Box) with(p Point) Box {
	return Box{math.Min(b.X0, p.X), math.Min(b.Y0, p.Y), math.Max(b.X1, p.X), math.Max(b.Y1, p.Y)}
}

func (b Box) union(c Box) Box {
	return b.with(Point{c.X0, c.Y0}).with(Point{c.X1, c.Y1})
}

// Box is the rectangle that holds the text, from the top of the tall letters
// to the foot of the deep ones, turned with it.
func (t Text) Box() Box {
	w := Width(t.S, t.Size, t.Bold)
	x0, y0, y1 := -w*t.Anchor.share(), -Ascent*t.Size, Descent*t.Size
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	b := nothing
	for _, q := range []Point{{x0, y0}, {x0 + w, y0}, {x0, y1}, {x0 + w, y1}} {
		b = b.with(Point{t.X + q.X*cos - q.Y*sin, t.Y + q.X*sin + q.Y*cos})
	}
	return b
}

// Box is the rectangle that holds the shape: its points, the controls of its
// curves (so it may be larger than the curve), and half the stroke around.
func (s Shape) Box() Box {
	b := nothing
	for _, seg := range s.Path {
		for _, q := range seg.points() {
			b = b.with(q)
		}
	}
	if s.Style.Stroke != None && !b.Empty() {
		h := s.Style.Width / 2
		b = Box{b.X0 - h, b.Y0 - h, b.X1 + h, b.Y1 + h}
	}
	return b
}

func (v view) box(b Box) Box {
	if b.Empty() {
		return b
	}
	p, q := v.at(b.X0, b.Y0), v.at(b.X1, b.Y1)
	return Box{p.X, p.Y, q.X, q.Y}
}

// TextBox is a text of a scene with its size and place as seen on the
// outermost scene.
type TextBox struct {
	S    string
	Size float64
	Box  Box
}

// TextBoxes lists the texts with their boxes in painting order.
func (sc *Scene) TextBoxes() []TextBox {
	var out []TextBox
	sc.walk(func(n Node, v view) {
		if t, ok := n.(Text); ok && t.S != "" {
			out = append(out, TextBox{t.S, t.Size * v.k, v.box(t.Box())})
		}
	})
	return out
}

// Overlaps lists the pairs of texts whose boxes share more than a strip slack
// millimetres wide. A drawing whose labels can all be read has none.
func (sc *Scene) Overlaps(slack float64) [][2]TextBox {
	var out [][2]TextBox
	boxes := sc.TextBoxes()
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if a.Box.Meets(b.Box, slack) {
				out = append(out, [2]TextBox{a, b})
			}
		}
	}
	return out
}

// Outside lists the texts that leave the W by H of the scene.
func (sc *Scene) Outside(slack float64) []TextBox {
	var out []TextBox
	for _, t := range sc.TextBoxes() {
		if !t.Box.Within(Box{0, 0, sc.W, sc.H}, slack) {
			out = append(out, t)
		}
	}
	return out
}

// Bounds is the rectangle that holds everything drawn; it is Empty for a
// scene without marks.
func (sc *Scene) Bounds() Box {
	all := nothing
	sc.walk(func(n Node, v view) {
		var b Box
		switch n := n.(type) {
		case Text:
			b = n.Box()
		case Shape:
			b = n.Box()
		}
		if !b.Empty() {
			all = all.union(v.box(b))
		}
	})
	return all
}

// smallest is the size of the smallest text, or 0 without texts.
func (sc *Scene) smallest() float64 {
	least := 0.0
	sc.walk(func(n Node, v view) {
		if t, ok := n.(Text); ok && t.S != "" && (least == 0 || t.Size*v.k < least) {
			least = t.Size * v.k
		}
	})
	return least
}

// missing is the error for the first text with runes the font lacks, naming
// those of all texts; nil if there are none.
func (sc *Scene) missing() *MissingError {
	var e *MissingError
	seen := map[rune]bool{}
	sc.walk(func(n Node, _ view) {
		t, ok := n.(Text)
		if !ok || printable(t.S) {
			return
		}
		for _, r := range append(MissingRunes(t.S), controls(t.S)...) {
			if e == nil {
				e = &MissingError{In: t.S}
			}
			if !seen[r] {
				seen[r] = true
				e.Runes = append(e.Runes, r)
			}
		}
	})
	return e
}

// printable is a quick yes for the usual text.
func printable(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// controls lists the line ends and tabs of what should be one line.
func controls(s string) []rune {
	var out []rune
	for _, r := range s {
		if r == '\n' || r == '\r' || r == '\t' {
			out = append(out, r)
		}
	}
	return out
}
