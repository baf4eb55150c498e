package document

import (
	"fmt"
	"slices"

	"strapper/house"
	"strapper/internal/draw"
	"strapper/route"
)

// joists draws a floor, or the loft, from above: joists, where they rest, the
// walls beneath, boxes in the ceiling, new cables and holes.
func (s *survey) joists(f *house.Floor) Drawing {
	least, greatest := f.Parts[len(f.Parts)-1].Bounds()
	title := "Loft, seen from above"
	if f.Over != nil {
		title = f.Over.Title + ", its joists seen from above"
	}
	fr := newFrame(title, least.X, greatest.Y, greatest.X-least.X, greatest.Y-least.Y, 150, 105, 14, 8)
	fr.area(least.X, least.Y, greatest.X, greatest.Y, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35})
	for _, p := range slices.Backward(f.Parts) {
		fr.part(p, f)
	}
	beneath(fr, f)
	shown := func(x *route.Stretch) bool { return s.inFloor(x, f) }
	s.runs(fr, shown)
	xs, ys := s.crossings(fr, f)
	for _, b := range s.h.Boxes {
		if b.Over == f {
			fr.symbol(b)
			xs, ys = append(xs, b.At.X), append(ys, b.At.Y)
		}
	}
	for i := range s.ways {
		for k := range s.ways[i].route.Stretches {
			if x := &s.ways[i].route.Stretches[k]; shown(x) {
				xs, ys = append(xs, x.From.X, x.To.X), append(ys, x.From.Y, x.To.Y)
			}
		}
	}
	fr.ticksBelow(least.X, greatest.X, fr.at(0, least.Y).Y+3, xs)
	fr.ticksLeft(least.Y, greatest.Y, fr.x0-2.5, ys)
	fr.sc.Desc = title + ": " + joistWords(f)
	caption := joistWords(f) + " Dashed: walls beneath. Figures are millimetres from the left and front inner faces."
	if l := s.legend(shown); l != "" {
		caption += " Heavy lines are new cables: " + l + "; a ring with a letter and number is a hole of the list."
	}
	name := "floor-" + f.ID
	if f.Over == nil {
		name = "loft"
	}
	return Drawing{Name: name, Caption: caption, Scene: fr.done()}
}

// part draws the joists of a part of a floor: as they were found, or dashed as
// they are assumed.
func (fr *frame) part(p *house.Part, f *house.Floor) {
	least, greatest := p.Bounds()
	if p != f.Parts[len(f.Parts)-1] {
		ground := draw.White
		if p.Boarded {
			ground = timber
		}
		fr.area(least.X, least.Y, greatest.X, greatest.Y, draw.Style{Fill: ground, Stroke: draw.Slate, Width: 0.18})
	}
	st := draw.Style{Fill: draw.Tint, Stroke: draw.Black, Width: 0.18}
	if !p.Measured {
		st.Stroke, st.Dash = draw.Slate, []float64{1.6, 1}
	}
	for _, j := range p.Joists() {
		low, high := j-p.Breadth/2, j+p.Breadth-p.Breadth/2
		if p.Run == house.AlongX {
			fr.area(least.X, low, greatest.X, high, st)
		} else {
			fr.area(low, least.Y, high, greatest.Y, st)
		}
	}
	for _, b := range p.Bearings {
		if p.Run == house.AlongX {
			fr.line(b, least.Y, b, greatest.Y, draw.Style{Stroke: draw.Black, Width: 0.7})
		} else {
			fr.line(least.X, b, greatest.X, b, draw.Style{Stroke: draw.Black, Width: 0.7})
		}
	}
}

// beneath shows the walls under a floor by their outlines.
func beneath(fr *frame, f *house.Floor) {
	if f.Below == nil {
		return
	}
	for _, r := range f.Below.Rooms {
		fr.sc.Add(draw.Polygon(draw.Style{Stroke: draw.Slate, Width: 0.3, Dash: []float64{2.4, 1.2}}, fr.outline(r.Outline)...))
	}
}

// crossings marks the holes of the cables in a floor, those through joists on
// each joist that a cable crosses, and returns their places.
func (s *survey) crossings(fr *frame, f *house.Floor) (xs, ys []mm) {
	for i := range s.ways {
		w := &s.ways[i]
		for k, h := range w.route.Holes {
			for _, x := range w.route.Stretches {
				if !s.inFloor(&x, f) || !ends(&x, h.Spot) || h.Spot.Z < f.Underside()-nearFloor || h.Spot.Z > f.Top+nearFloor {
					continue
				}
				p := fr.at(h.Spot.X, h.Spot.Y)
				fr.holeMark(p, w.hole(k))
				xs, ys = append(xs, h.Spot.X), append(ys, h.Spot.Y)
				break
			}
		}
		for _, x := range w.route.Stretches {
			if x.Space == route.InBoard && x.Floor == f {
				fr.acrossJoists(f, &x)
			}
		}
	}
	return xs, ys
}

// ends reports whether a stretch begins or ends over a place on plan.
func ends(x *route.Stretch, p route.Spot) bool {
	return x.From.X == p.X && x.From.Y == p.Y || x.To.X == p.X && x.To.Y == p.Y
}

// acrossJoists marks the joists that a cable passes through.
func (fr *frame) acrossJoists(f *house.Floor, x *route.Stretch) {
	p := f.PartAt(house.Point{X: (x.From.X + x.To.X) / 2, Y: (x.From.Y + x.To.Y) / 2})
	if p == nil {
		return
	}
	for _, j := range p.Joists() {
		a, b := x.From.X, x.To.X
		at := fr.at(j, x.From.Y)
		if p.Run == house.AlongX {
			a, b = x.From.Y, x.To.Y
			at = fr.at(x.From.X, j)
		}
		if min(a, b) < j && j < max(a, b) {
			fr.sc.Add(draw.Circle(at.X, at.Y, 0.8, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.5}))
		}
	}
}

// joistWords says how the joists of a floor lie.
func joistWords(f *house.Floor) string {
	p := f.Parts[len(f.Parts)-1]
	if p.Solid {
		return "A solid floor."
	}
	way := "left to right"
	if p.Run == house.AlongY {
		way = "front to back"
	}
	found := "as assumed (dashed)"
	if p.Measured {
		found = "set out from one that was found"
	}
	text := fmt.Sprintf("Joists %d × %d mm at %d mm, %s, %s; heavy lines where they rest.", p.Breadth, f.Depth, p.Spacing, way, found)
	if p.Insulate > 0 {
		text += fmt.Sprintf(" Insulation %d mm deep.", p.Insulate)
	}
	return text
}

// nearFloor is how far from a floor a hole may be that is drawn with it.
const nearFloor = 100
