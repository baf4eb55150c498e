package document

import (
	"fmt"

	"strapper/house"
	"strapper/internal/draw"
	"strapper/route"
)

// plan draws a storey: rooms, walls, openings, boxes and new cables.
func (s *survey) plan(st *house.Storey) Drawing {
	least, greatest := extent(st)
	f := newFrame(st.Title+", plan", least.X, greatest.Y, greatest.X-least.X, greatest.Y-least.Y, 150, 100, 13, 5)
	walls(f, st)
	for _, r := range st.Rooms {
		f.sc.Add(draw.Polygon(draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.18}, f.outline(r.Outline)...))
	}
	for _, w := range st.Walls {
		for _, o := range w.Openings {
			f.opening(w, o)
		}
	}
	cables := func(x *route.Stretch) bool { return onStorey(x, st) }
	s.runs(f, cables)
	for _, b := range s.h.Boxes {
		if b.Room.Storey == st && !b.Hidden {
			f.symbol(b)
		}
	}
	for _, r := range st.Rooms {
		f.roomName(r)
	}
	caption := "Walls of masonry are grey, those of studs pale. Filled boxes are new. The front of the house is at the bottom."
	if l := s.legend(cables); l != "" {
		caption += " Heavy lines are new cables, wherever they run above the floor: " + l + "."
	}
	f.sc.Desc = describePlan(st, s.h)
	return Drawing{Name: "plan-" + st.ID, Caption: caption, Scene: f.done()}
}

// onStorey reports whether a stretch lies in a storey's walls or ceiling.
func onStorey(x *route.Stretch, st *house.Storey) bool {
	if x.Wall != nil {
		return x.Wall.Storey == st
	}
	return x.Floor != nil && x.Floor == st.Above
}

// extent is the rectangle about a storey with its outside walls.
func extent(st *house.Storey) (least, greatest house.Point) {
	first := true
	grow := func(p house.Point) {
		if first {
			least, greatest, first = p, p, false
		}
		least.X, least.Y = min(least.X, p.X), min(least.Y, p.Y)
		greatest.X, greatest.Y = max(greatest.X, p.X), max(greatest.Y, p.Y)
	}
	for _, r := range st.Rooms {
		for _, p := range r.Outline {
			grow(p)
		}
	}
	for _, w := range st.Walls {
		t := w.Build.Thickness()
		for _, along := range []mm{-t, w.Length() + t} {
			if w.Rooms[1] == nil {
				grow(w.At(along, t))
			}
		}
	}
	return least, greatest
}

// walls draws the bodies of the walls as one: outlines first, then grounds, so
// that no line remains where two meet. Outside walls reach round the corner.
func walls(f *frame, st *house.Storey) {
	body := func(w *house.Wall) []draw.Point {
		t := w.Build.Thickness()
		more := mm(0)
		if w.Rooms[1] == nil && !w.Build.Hollow() {
			more = t
		}
		var list []draw.Point
		for _, c := range [][2]mm{{-more, 0}, {w.Length() + more, 0}, {w.Length() + more, t}, {-more, t}} {
			p := w.At(c[0], c[1])
			list = append(list, f.at(p.X, p.Y))
		}
		return list
	}
	for _, w := range st.Walls {
		f.sc.Add(draw.Polygon(draw.Style{Stroke: draw.Black, Width: 0.6}, body(w)...))
	}
	for _, w := range st.Walls {
		ground := masonry
		if w.Build.Hollow() {
			ground = draw.Tint
		}
		f.sc.Add(draw.Polygon(draw.Style{Fill: ground}, body(w)...))
	}
	for _, w := range st.Walls {
		for _, s := range w.Studs {
			p, q := w.At(s.At, w.Build.Face[0]), w.At(s.At, w.Build.Face[0]+w.Build.Core)
			a, b := f.at(p.X, p.Y), f.at(q.X, q.Y)
			f.sc.Add(draw.Line(a.X, a.Y, b.X, b.Y, thin))
		}
	}
}

func (f *frame) outline(corners []house.Point) []draw.Point {
	list := make([]draw.Point, len(corners))
	for i, c := range corners {
		list[i] = f.at(c.X, c.Y)
	}
	return list
}

// opening draws a gap in a wall: a window with two panes, a door with its leaf
// closed.
func (f *frame) opening(w *house.Wall, o *house.Opening) {
	t := w.Build.Thickness()
	corner := func(along, deep mm) draw.Point { p := w.At(along, deep); return f.at(p.X, p.Y) }
	f.sc.Add(draw.Polygon(draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.25},
		corner(o.From, 0), corner(o.To, 0), corner(o.To, t), corner(o.From, t)))
	lines := []mm{t / 2}
	if o.Kind == house.Window {
		lines = []mm{t / 3, 2 * t / 3}
	}
	if o.Kind == house.Arch {
		lines = nil
	}
	for _, deep := range lines {
		a, b := corner(o.From, deep), corner(o.To, deep)
		f.sc.Add(draw.Line(a.X, a.Y, b.X, b.Y, draw.Style{Stroke: draw.Black, Width: 0.3}))
	}
}

// runs draws the new cables where they can be seen on a plan, with their
// letters; a vertical stretch is a ring.
func (s *survey) runs(f *frame, shown func(*route.Stretch) bool) {
	for i := range s.ways {
		w := &s.ways[i]
		var pts []draw.Point
		var longest [2]draw.Point
		flush := func() {
			f.heavy(pts, w.line())
			pts = nil
		}
		for k := range w.route.Stretches {
			x := &w.route.Stretches[k]
			if !shown(x) {
				flush()
				continue
			}
			a, b := f.at(x.From.X, x.From.Y), f.at(x.To.X, x.To.Y)
			if a == b {
				f.sc.Add(draw.Circle(a.X, a.Y, 0.9, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.5}))
				continue
			}
			if len(pts) == 0 {
				pts = append(pts, a)
			}
			pts = append(pts, b)
			if far(a, b) > far(longest[0], longest[1]) {
				longest = [2]draw.Point{a, b}
			}
		}
		flush()
		if longest[0] != longest[1] {
			f.tag(draw.Point{X: (longest[0].X + longest[1].X) / 2, Y: (longest[0].Y + longest[1].Y) / 2}, 1.2, w.letter, true)
		}
	}
}

func far(a, b draw.Point) float64 { return (a.X-b.X)*(a.X-b.X) + (a.Y-b.Y)*(a.Y-b.Y) }

// symbol draws a box on plan: a square on its wall, a ring on the ceiling;
// filled if it is new.
func (f *frame) symbol(b *house.Box) {
	st := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35}
	if b.New {
		st.Fill = draw.Black
	}
	p := f.at(b.At.X, b.At.Y)
	if b.Wall == nil {
		f.sc.Add(draw.Circle(p.X, p.Y, 1.6, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35}))
		f.sc.Add(draw.Line(p.X-1.1, p.Y-1.1, p.X+1.1, p.Y+1.1, outline), draw.Line(p.X-1.1, p.Y+1.1, p.X+1.1, p.Y-1.1, outline))
		if b.New {
			f.sc.Add(draw.Circle(p.X, p.Y, 0.8, draw.Style{Fill: draw.Black}))
		}
		f.occupy(p, 1.6)
		f.tag(p, 2.2, b.ID, b.New)
		return
	}
	in := b.Wall.At(b.Along, 0)
	out := b.Wall.At(b.Along, 10)
	if b.Side == house.SideB {
		in, out = b.Wall.At(b.Along, b.Wall.Build.Thickness()), b.Wall.At(b.Along, b.Wall.Build.Thickness()-10)
	}
	dx, dy := float64(in.X-out.X)/10, float64(out.Y-in.Y)/10 // towards the room, on paper
	p = draw.Point{X: p.X + 0.9*dx, Y: p.Y + 0.9*dy}
	f.sc.Add(draw.Rect(p.X-0.9, p.Y-0.9, 1.8, 1.8, st))
	f.occupy(p, 0.9)
	f.tag(p, 1.8, b.ID, b.New)
}

// roomName writes a room's name and size where there is room for them: inside
// the room if that can be.
func (f *frame) roomName(r *house.Room) {
	p := f.middle(r)
	for _, inside := range []bool{true, false} {
		for _, dx := range []float64{0, 8, -8, 16, -16, 24, -24} {
			for _, dy := range []float64{0, 4, -4, 8, -8, 12, -12, 16, -16, 20, -20, 24} {
				if f.nameAt(r, draw.Point{X: p.X + dx, Y: p.Y + dy}, inside) {
					return
				}
			}
		}
	}
}

// nameAt writes the name at a place if nothing is there.
func (f *frame) nameAt(r *house.Room, p draw.Point, inside bool) bool {
	head := draw.Text{X: p.X, Y: p.Y, Size: roomSize, S: r.Title, Anchor: draw.Middle, Bold: true}
	line := draw.Text{X: p.X, Y: p.Y + 3.2, Size: tagSize, S: roomExtent(r), Anchor: draw.Middle}
	if !f.free(head) || !f.free(line) || inside && !(f.inside(r, head.Box()) && f.inside(r, line.Box())) {
		return false
	}
	f.taken = append(f.taken, head.Box(), line.Box())
	f.sc.Add(draw.Plate(head, draw.White), draw.Plate(line, draw.White))
	return true
}

// inside reports whether the corners of a rectangle on paper lie in a room.
func (f *frame) inside(r *house.Room, b draw.Box) bool {
	for _, c := range []draw.Point{{X: b.X0, Y: b.Y0}, {X: b.X1, Y: b.Y0}, {X: b.X0, Y: b.Y1}, {X: b.X1, Y: b.Y1}} {
		k := float64(f.scale)
		if !r.Holds(house.Point{X: f.left + mm((c.X-f.x0)*k), Y: f.top - mm((c.Y-f.y0)*k)}) {
			return false
		}
	}
	return true
}

// middle is a place inside a room far from its walls, on paper.
func (f *frame) middle(r *house.Room) draw.Point {
	box := r.Outline[0]
	far := box
	for _, c := range r.Outline {
		box.X, box.Y = min(box.X, c.X), min(box.Y, c.Y)
		far.X, far.Y = max(far.X, c.X), max(far.Y, c.Y)
	}
	p := house.Point{X: (box.X + far.X) / 2, Y: (box.Y + far.Y) / 2}
	if r.Holds(p) {
		return f.at(p.X, p.Y)
	}
	for _, q := range []house.Point{
		{X: (box.X + 3*far.X) / 4, Y: p.Y},
		{X: (3*box.X + far.X) / 4, Y: p.Y},
		{X: p.X, Y: (box.Y + 3*far.Y) / 4},
		{X: p.X, Y: (3*box.Y + far.Y) / 4},
	} {
		if r.Holds(q) {
			return f.at(q.X, q.Y)
		}
	}
	return f.at(p.X, p.Y)
}

// roomExtent is a room's width and depth in words.
func roomExtent(r *house.Room) string {
	least, greatest := r.Bounds()
	return fmt.Sprintf("%.2f × %.2f m", (greatest.X - least.X).Metres(), (greatest.Y - least.Y).Metres())
}

// describePlan says in words what a plan shows.
func describePlan(st *house.Storey, h *house.House) string {
	text := fmt.Sprintf("%s, plan of %d rooms:", st.Title, len(st.Rooms))
	for i, r := range st.Rooms {
		if i > 0 {
			text += ","
		}
		text += " " + r.Title + " " + roomExtent(r)
	}
	text += "."
	for _, b := range h.Boxes {
		if b.Room.Storey == st {
			text += " Box " + b.ID + " in " + b.Room.Title
			if b.Face != nil {
				text += ", " + faceSide(b.Face) + " wall"
			}
			if b.New {
				text += ", new"
			}
			text += "."
		}
	}
	return text
}
