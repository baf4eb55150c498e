package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/house"
	"strapper/internal/draw"
	"strapper/route"
)

// elevation is the making of the drawing of one wall as somebody in the room
// sees it, with the floor beneath and the construction over the ceiling.
type elevation struct {
	*survey
	*frame
	face *house.Face
	room *house.Room
	n    mm // length of the face
	top  mm // of the room: its ceiling
	over mm // upper edge of what is over it
	xs   []mm
	ys   []mm
}

func (s *survey) elevation(face *house.Face) Drawing {
	r := face.Room
	st := r.Storey
	e := &elevation{survey: s, face: face, room: r, n: face.Length(), top: st.Height}
	e.over = e.top + st.Above.Ceiling + st.Above.Depth + st.Above.Deck
	title := fmt.Sprintf("%s: wall %s, seen from the room", r.Title, sideWords(face))
	e.frame = newFrame(title, 0, e.over, e.n, e.over, 148, 105, 15, 8)
	e.ground()
	e.bands()
	for _, z := range face.Walls {
		e.timber(z)
	}
	e.above(st.Above)
	e.area(0, 0, e.n, e.top, draw.Style{Stroke: draw.Black, Width: 0.5})
	for _, z := range face.Walls {
		for _, o := range z.Wall.Openings {
			e.hole(z, o)
		}
	}
	e.obstructions()
	e.sightings()
	e.cables()
	e.fittings()
	e.ys = append(e.ys, e.top)
	e.ticksBelow(0, e.n, e.at(0, 0).Y+3, e.xs)
	e.ticksLeft(0, e.over, e.x0-2.5, e.ys)
	e.sc.Desc = e.inWords()
	return Drawing{Name: "wall-" + r.ID + "-" + face.Name, Caption: e.caption(), Scene: e.done()}
}

// sideWords names the side of the room with what is behind it.
func sideWords(f *house.Face) string {
	var behind []string
	for _, z := range f.Walls {
		if o := z.Wall.Rooms[z.Side.Other()]; o != nil && !slices.Contains(behind, o.Title) {
			behind = append(behind, o.Title)
		}
	}
	if len(behind) == 0 {
		return f.Name
	}
	return f.Name + " (behind it: " + strings.Join(behind, ", ") + ")"
}

// ground shades masonry.
func (e *elevation) ground() {
	for _, z := range e.face.Walls {
		if !z.Wall.Build.Hollow() && z.Wall.Build.Fabric != house.FabricOpenSpace {
			e.hatch(z.From, 0, z.To, e.top)
		}
	}
}

// hatch draws the slanting lines of masonry.
func (e *elevation) hatch(x0, y0, x1, y1 mm) {
	p, q := e.frame.at(x0, y1), e.frame.at(x1, y0)
	const step = 5.0
	for c := p.X - (q.Y - p.Y); c < q.X; c += step {
		// the line x - c = q.Y - y, from the lower edge upwards
		ax, bx := max(c, p.X), min(c+q.Y-p.Y, q.X)
		if ax < bx {
			e.sc.Add(draw.Line(ax, q.Y-(ax-c), bx, q.Y-(bx-c), draw.Style{Stroke: draw.Hairline, Width: 0.1}))
		}
	}
}

// bands shades the zones in which somebody who drills must expect a hidden
// cable: under the ceiling, beside corners, and in line with accessories; of a
// thin wall, those of the other face as well.
func (e *elevation) bands() {
	l := &e.limits
	shade := draw.Style{Fill: draw.Tint}
	if l.TopBand == 0 {
		return
	}
	var areas [][4]mm
	for _, z := range e.face.Walls {
		if z.Wall.Build.Fabric == house.FabricOpenSpace {
			continue
		}
		areas = append(areas, [4]mm{z.From, e.top - l.TopBand, z.To, e.top})
		for _, b := range e.h.Boxes {
			if b.Wall != z.Wall || b.Side != z.Side && z.Wall.Build.Thickness() > l.ThinWall {
				continue
			}
			from, to, low, high := b.Body()
			x0, x1 := rising(z.Across(from), z.Across(to))
			areas = append(areas, [4]mm{max(x0, z.From), 0, min(x1, z.To), e.top}, [4]mm{z.From, low, z.To, high})
		}
	}
	areas = append(areas, [4]mm{0, 0, l.CornerBand, e.top}, [4]mm{e.n - l.CornerBand, 0, e.n, e.top})
	for _, a := range areas {
		e.area(a[0], a[1], a[2], a[3], shade)
	}
	for _, a := range areas {
		e.area(a[0], a[1], a[2], a[3], dotted)
	}
}

func rising(a, b mm) (mm, mm) { return min(a, b), max(a, b) }

// timber draws plates, studs and noggings: as lines where they were found,
// dashed where they are assumed.
func (e *elevation) timber(z house.Stretch) {
	w := z.Wall
	if !w.Build.Hollow() {
		return
	}
	low, high := w.HeadPlate()
	e.area(z.From, low, z.To, high, faint)
	e.area(z.From, 0, z.To, w.Build.Plate, faint)
	for _, s := range w.Studs {
		x := z.Across(s.At)
		st := faint
		if s.Seen {
			st = draw.Style{Fill: timber, Stroke: draw.Black, Width: 0.25}
			e.xs = append(e.xs, x)
		}
		x0, x1 := max(x-s.Width/2, z.From), min(x+s.Width-s.Width/2, z.To)
		if x0 < x1 {
			e.area(x0, w.Build.Plate, x1, low, st)
		}
	}
	for _, n := range w.Noggings {
		if n.Likely <= 0 {
			continue
		}
		x0, x1 := rising(z.Across(n.From), z.Across(n.To))
		st := faint
		if n.Likely >= 100 {
			st = draw.Style{Fill: timber, Stroke: draw.Black, Width: 0.25}
		}
		e.area(max(x0, z.From), n.Height-n.Depth/2, min(x1, z.To), n.Height+n.Depth/2, st)
		if n.Likely < 100 {
			e.tag(e.frame.at(min(x1, z.To), n.Height), 1, fmt.Sprintf("nogging? %v", n.Likely), false)
		}
		e.ys = append(e.ys, n.Height)
	}
}

// above draws the construction over the ceiling: joists cut across, or one
// along the wall.
func (e *elevation) above(f *house.Floor) {
	base := e.room.Storey.Level
	bottom, top := f.JoistBottom()-base, f.JoistTop()-base
	e.area(0, e.top, e.n, bottom, draw.Style{Stroke: draw.Black, Width: 0.18})
	if f.Deck > 0 {
		e.area(0, top, e.n, top+f.Deck, draw.Style{Stroke: draw.Black, Width: 0.18})
	}
	part := f.PartAt(e.face.At(e.n / 2))
	run, square := axisOf(e.face)
	switch {
	case part == nil || !square:
	case part.Solid:
		e.hatch(0, bottom, e.n, top)
	case part.Run != run:
		st := draw.Style{Stroke: draw.Slate, Width: 0.18, Dash: []float64{1.2, 0.8}}
		if part.Measured {
			st = draw.Style{Fill: timber, Stroke: draw.Black, Width: 0.18}
		}
		for _, j := range part.Joists() {
			x := j - run.Of(e.face.From)
			if run.Of(e.face.To) < run.Of(e.face.From) {
				x = -x
			}
			if x-part.Breadth/2 >= 0 && x+part.Breadth/2 <= e.n {
				e.area(x-part.Breadth/2, bottom, x+part.Breadth-part.Breadth/2, top, st)
			}
		}
	}
}

func axisOf(f *house.Face) (house.Axis, bool) {
	switch {
	case f.From.Y == f.To.Y:
		return house.AlongX, true
	case f.From.X == f.To.X:
		return house.AlongY, true
	}
	return 0, false
}

// hole draws an opening with its lining.
func (e *elevation) hole(z house.Stretch, o *house.Opening) {
	x0, x1 := rising(z.Across(o.From), z.Across(o.To))
	if x0 < z.From || x1 > z.To {
		return
	}
	low := max(0, o.Sill-o.Lining)
	if o.Sill == 0 {
		low = 0
	}
	e.area(x0-o.Lining, low, x1+o.Lining, o.Head+o.Lining, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.25})
	e.area(x0, o.Sill, x1, o.Head, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35})
	e.xs = append(e.xs, x0-o.Lining, x1+o.Lining)
	mid := e.frame.at((x0+x1)/2, (o.Sill+o.Head)/2)
	e.frame.words(draw.Text{X: mid.X, Y: mid.Y, Size: tagSize, S: o.ID, Anchor: draw.Middle})
}

// obstructions draws what stands in the way in this wall.
func (e *elevation) obstructions() {
	for _, b := range e.h.Blocks {
		for _, z := range e.face.Walls {
			if b.Wall != z.Wall {
				continue
			}
			x0, x1 := rising(z.Across(b.From), z.Across(b.To))
			st := draw.Style{Stroke: draw.Black, Width: 0.3}
			name := b.ID
			if !b.Known() {
				st.Dash = []float64{1.6, 1}
				name += fmt.Sprintf("? %v", b.Likely)
			}
			e.area(x0, b.Low, x1, b.High, st)
			p, q := e.frame.at(x0, b.High), e.frame.at(x1, b.Low)
			e.sc.Add(draw.Line(p.X, p.Y, q.X, q.Y, st), draw.Line(p.X, q.Y, q.X, p.Y, st))
			e.tag(e.frame.at(x1, (b.Low+b.High)/2), 1, name, false)
			e.xs = append(e.xs, x0, x1)
		}
	}
}

// sightings marks what a finder showed on this face: a bracket over its extent
// with the sign, at the height at which it was looked for.
func (e *elevation) sightings() {
	for _, x := range e.h.Found {
		for _, z := range e.face.Walls {
			if x.Wall != z.Wall || x.Side != z.Side {
				continue
			}
			height := x.Height
			if height == 0 {
				height = e.top / 2
			}
			x0, x1 := rising(z.Across(x.From), z.Across(x.To))
			a, b := e.frame.at(x0, height), e.frame.at(x1, height)
			st := draw.Style{Stroke: draw.Black, Width: 0.3}
			e.sc.Add(draw.Polyline(st, draw.Point{X: a.X, Y: a.Y + 1.2}, a, b, draw.Point{X: b.X, Y: b.Y + 1.2}))
			e.tag(draw.Point{X: (a.X + b.X) / 2, Y: a.Y}, 1, "found: "+string(x.Sign), x.Sign == house.SignLive)
		}
	}
}

// cables draws the new cables in the walls behind the face.
func (e *elevation) cables() {
	for i := range e.ways {
		w := &e.ways[i]
		var pts []draw.Point
		var label draw.Point
		longest := mm(0)
		flush := func() {
			e.heavy(pts, w.line())
			pts = nil
		}
		for k := range w.route.Stretches {
			x := &w.route.Stretches[k]
			a, b, ok := e.onFace(x)
			if !ok {
				flush()
				continue
			}
			if len(pts) == 0 {
				pts = append(pts, a)
			}
			pts = append(pts, b)
			if x.Length > longest {
				longest, label = x.Length, draw.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
			}
		}
		flush()
		if longest > 0 {
			e.tag(label, 1.4, w.letter, true)
		}
		e.holes(w)
	}
}

// onFace is where a stretch in a wall is seen on the face.
func (e *elevation) onFace(x *route.Stretch) (a, b draw.Point, ok bool) {
	for _, z := range e.face.Walls {
		if x.Wall == z.Wall {
			return e.frame.at(z.Across(x.Along[0]), x.High[0]), e.frame.at(z.Across(x.Along[1]), x.High[1]), true
		}
	}
	return a, b, false
}

// holes marks the holes of a cable in this wall.
func (e *elevation) holes(w *way) {
	for k, h := range w.route.Holes {
		for i := range w.route.Stretches {
			x := &w.route.Stretches[i]
			along, ok := alongAt(x, h.Spot)
			if !ok {
				continue
			}
			for _, z := range e.face.Walls {
				if z.Wall == x.Wall {
					high := h.Spot.Z - e.room.Storey.Level
					e.holeMark(e.frame.at(z.Across(along), high), w.hole(k))
					e.xs = append(e.xs, z.Across(along))
				}
			}
			break
		}
	}
}

// alongAt is the place along a stretch's wall of a spot that the stretch
// passes.
func alongAt(x *route.Stretch, p route.Spot) (mm, bool) {
	if x.Wall == nil {
		return 0, false
	}
	for i, s := range []route.Spot{x.From, x.To} {
		if s.X == p.X && s.Y == p.Y && min(x.From.Z, x.To.Z) <= p.Z && p.Z <= max(x.From.Z, x.To.Z) {
			return x.Along[i], true
		}
	}
	return 0, false
}

// fittings draws the boxes: those on this face, and dashed those on the back of
// the same wall.
func (e *elevation) fittings() {
	for _, b := range e.h.Boxes {
		for _, z := range e.face.Walls {
			if b.Wall != z.Wall {
				continue
			}
			from, to, low, high := b.Body()
			x0, x1 := rising(z.Across(from), z.Across(to))
			if b.Size.Width == 0 { // of unknown size
				x0, x1, low, high = x0-40, x1+40, low-40, high+40
			}
			if b.Face != e.face {
				e.area(x0, low, x1, high, faint)
				continue
			}
			st := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35}
			name := b.ID
			if b.New {
				st.Width = 0.9
				name += ", new"
			}
			e.area(x0, low, x1, high, st)
			mid := e.frame.at(z.Across(b.Along), b.Height)
			e.occupy(mid, e.length(x1-x0)/2)
			e.sc.Add(cross(mid, 0.8)...)
			e.tag(mid, e.length(x1-x0)/2+1, name, b.New)
			e.xs, e.ys = append(e.xs, z.Across(b.Along)), append(e.ys, b.Height)
		}
	}
}

// caption says how to read the drawing.
func (e *elevation) caption() string {
	text := "Figures below are millimetres from the left corner, those at the left from the finished floor, all to the middle."
	hollow := slices.ContainsFunc(e.face.Walls, func(z house.Stretch) bool { return z.Wall.Build.Hollow() })
	if hollow {
		text += " Timber is dashed where it is assumed."
	}
	text += " Shaded: zones in which hidden cables may run."
	if l := e.legend(func(x *route.Stretch) bool { _, _, ok := e.onFace(x); return ok }); l != "" {
		text += " Heavy lines are new cables: " + l + "; rings are holes of the list."
	}
	return text
}

// inWords says in words what the drawing shows.
func (e *elevation) inWords() string {
	text := fmt.Sprintf("The %s wall of %s, %v long and %v high.", e.face.Name, e.room.Title, e.n, e.top)
	for _, b := range e.h.Boxes {
		if b.Face == e.face {
			z := e.across(b)
			text += fmt.Sprintf(" Box %s, its middle %d mm from the left corner and %d mm above the floor.", b.ID, z, b.Height)
		}
	}
	for i := range e.ways {
		for k := range e.ways[i].route.Stretches {
			x := &e.ways[i].route.Stretches[k]
			if _, _, ok := e.onFace(x); ok {
				text += fmt.Sprintf(" Cable %s from %d to %d mm above the floor, %s.", e.ways[i].id, x.High[0], x.High[1], x.Zone)
			}
		}
	}
	return text
}

// across is how far a box's middle is from the left corner of its face.
func (e *elevation) across(b *house.Box) mm {
	for _, z := range e.face.Walls {
		if z.Wall == b.Wall {
			return z.Across(b.Along)
		}
	}
	return 0
}
