package route

import (
	"fmt"
	"slices"

	"strapper/house"
	"strapper/unit"
)

// column is a line up a wall on which a hidden cable may run.
type column struct {
	wall *house.Wall
	side house.Side // whose plaster is chased; of a hollow wall SideA
	at   MM
	node map[MM]int32 // by height
	box  []MM         // heights of boxes into which it leads
}

// wallColumns makes the columns of every wall, joins them along the wall and to
// what is above and below.
func (f *fabric) wallColumns() {
	tops := map[*house.Wall][]*column{}
	for _, w := range f.h.Walls {
		switch {
		case w.Build == nil || w.Build.Fabric == house.FabricOpenSpace:
		case w.Build.Hollow():
			tops[w] = f.oneSide(w, house.SideA)
		default:
			for _, s := range []house.Side{house.SideA, house.SideB} {
				if w.Rooms[s] != nil || f.hasBox(w, s) {
					tops[w] = append(tops[w], f.oneSide(w, s)...)
				}
			}
		}
	}
	f.stacked(tops)
	for _, r := range f.h.Rooms {
		for i, face := range r.Faces {
			f.roundCorner(tops, face, r.Faces[(i+1)%len(r.Faces)])
		}
	}
}

func (f *fabric) hasBox(w *house.Wall, s house.Side) bool {
	return slices.ContainsFunc(f.h.Boxes, func(b *house.Box) bool { return b.Wall == w && b.Side == s })
}

// oneSide makes the columns of a hollow wall, or of one side of a solid one.
func (f *fabric) oneSide(w *house.Wall, side house.Side) []*column {
	boxes := f.boxesOn(w, side)
	levels := []MM{0, w.Storey.Height - f.l.TopBand/2, w.Storey.Height}
	for _, b := range boxes {
		levels = append(levels, b.Height)
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	var list []*column
	for _, at := range f.places(w, side, boxes) {
		c := &column{wall: w, side: side, at: at, node: map[MM]int32{}}
		for _, b := range boxes {
			if abs(at-b.Along) <= halfWidth(b) {
				c.box = append(c.box, b.Height)
			}
		}
		for _, z := range levels {
			c.node[z] = f.node(node{space: InWall, at: f.inWall(w, side, at, z), wall: w, side: side, along: at, high: z})
		}
		list = append(list, c)
		f.upright(c, levels)
		f.headAndFoot(c)
	}
	for i := 1; i < len(list); i++ {
		f.alongWall(list[i-1], list[i], levels)
	}
	for _, b := range boxes {
		f.intoWall(b, list)
	}
	return list
}

// boxesOn are the boxes on a wall that a cable in it can serve.
func (f *fabric) boxesOn(w *house.Wall, side house.Side) []*house.Box {
	var list []*house.Box
	for _, b := range f.h.Boxes {
		if b.Wall == w && (w.Build.Hollow() || b.Side == side) {
			list = append(list, b)
		}
	}
	return list
}

// inWall is where a cable is at a place and height of a wall: in the middle of
// a hollow one, in the lining of a solid one.
func (f *fabric) inWall(w *house.Wall, side house.Side, along, high MM) Spot {
	p := w.At(along, f.deepIn(w, side))
	return Spot{p.X, p.Y, w.Level(high)}
}

// deepIn is how deep a cable lies in a wall, from the face of side A.
func (f *fabric) deepIn(w *house.Wall, side house.Side) MM {
	switch {
	case w.Build.Hollow():
		return w.Build.Thickness() / 2
	case side == house.SideB:
		return w.Build.Thickness() - f.chaseDepth(w, side)/2
	}
	return f.chaseDepth(w, side) / 2
}

// places are where columns may stand: at the boxes, and in the bands beside the
// corners, clear of studs and ends.
func (f *fabric) places(w *house.Wall, side house.Side, boxes []*house.Box) []MM {
	var list []MM
	for _, b := range boxes {
		if at, ok := f.clearOfStuds(w, b.Along, halfWidth(b)-f.width/2); ok {
			list = append(list, at)
		} else {
			f.barred = append(f.barred, b.ID+": a stud stands behind the whole of it")
		}
	}
	z := f.walls[w]
	for _, s := range []house.Side{house.SideA, house.SideB} {
		if !w.Build.Hollow() && s != side {
			continue
		}
		for _, b := range z.bands[s] {
			if at, ok := f.clearOfStuds(w, (b.low+b.high)/2, (b.high-b.low)/2-f.width/2); ok && b.corner && at > 0 && at < w.Length() {
				list = append(list, at)
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// clearOfStuds finds the place nearest to one wanted, at most reach away, at
// which a cable passes the studs.
func (f *fabric) clearOfStuds(w *house.Wall, want, reach MM) (MM, bool) {
	for d := MM(0); d <= max(reach, 0); d += 5 {
		for _, at := range []MM{want - d, want + d} {
			if !f.onStud(w, at) {
				return at, true
			}
		}
	}
	return 0, false
}

func (f *fabric) onStud(w *house.Wall, at MM) bool {
	return slices.ContainsFunc(w.Studs, func(s house.Stud) bool { return abs(at-s.At) < s.Width/2+f.hole/2 })
}

// upright joins the levels of a column where a hidden cable may run up.
func (f *fabric) upright(c *column, levels []MM) {
	w := c.wall
	for i := 1; i < len(levels); i++ {
		low, high := levels[i-1], levels[i]
		zone, near, held, ok := f.hidden(w, c.side, c.at, low, c.at, high)
		risks, barred := f.inTheWay(w, c.at, low, c.at, high)
		if !ok || barred || inOpening(w, c.at, low, c.at, high, f.width) || !f.chaseFits(w, c.side, true) {
			continue
		}
		e := edge{a: c.node[low], b: c.node[high], length: high - low, zone: zone, side: near, held: held, risks: risks}
		e.tasks = []task{f.wallRun(w, c.side, high-low, true)}
		for _, n := range w.Noggings {
			if n.From <= c.at && c.at <= n.To && low < n.Height && n.Height <= high && !slices.Contains(c.box, n.Height) {
				e.risks = append(e.risks, f.noggingRisk(w, c.at, n.Height, n.Likely))
			}
		}
		e.settle(f)
		f.edge(e)
	}
}

// chaseFits reports whether a chase leaves enough of the masonry behind the
// plaster; walls without a chase always fit.
func (f *fabric) chaseFits(w *house.Wall, side house.Side, up bool) bool {
	b := w.Build
	if b.Hollow() || b.Gap[side] > 0 {
		return true
	}
	return f.l.Chase(leafBehind(b, side), f.chaseDepth(w, side)-b.Face[side], up)
}

// leafBehind is the thickness of the masonry behind one face of a wall.
func leafBehind(b *house.Build, side house.Side) MM {
	if b.Leaf[side] > 0 {
		return b.Leaf[side]
	}
	return b.Core
}

// settle turns risks that are certain into tasks, and drops those that are not.
func (e *edge) settle(f *fabric) {
	var open []Risk
	for _, r := range e.risks {
		switch {
		case r.Likely >= 100:
			n := f.nodes[e.a]
			n.high, n.at = r.high, f.inWall(n.wall, n.side, n.along, r.high)
			e.tasks = append(e.tasks, task{work: Nogging, finish: f.leastFinish(n.wall), hole: f.woodHole("nogging", n)})
		case r.Likely > 0:
			open = append(open, r)
		}
	}
	e.risks = open
}

// wallRun is the operation of passing along in a wall, without its beginning,
// which belongs to the box.
func (f *fabric) wallRun(w *house.Wall, side house.Side, length MM, up bool) task {
	work := ChaseAlong
	switch {
	case w.Build.Hollow() && up:
		work = Drop
	case w.Build.Hollow():
		work = Across
	case w.Build.Gap[side] > 0:
		work = Lining
	case up:
		work = ChaseUp
	}
	return task{work: work, length: length, finish: finishFactor(w.Rooms[side]), on: true}
}

// noggingRisk is the chance of a nogging, with what opening the wall there
// takes on the side that is less to make good.
func (f *fabric) noggingRisk(w *house.Wall, along, height MM, likely unit.Percent) Risk {
	return Risk{
		What: fmt.Sprintf("a nogging %v above the floor in %s", height, wallName(w)), Likely: likely,
		key:   fmt.Sprintf("nogging %s %d", w.ID, height),
		Do:    f.openAt(w, along, height),
		high:  height,
		extra: f.o.takes(task{work: Nogging, finish: f.leastFinish(w)}),
	}
}

// leastFinish is the finish of the side of a wall that is less to make good.
func (f *fabric) leastFinish(w *house.Wall) float64 {
	return min(finishFactor(w.Rooms[0]), finishFactor(w.Rooms[1]))
}

// alongWall joins two neighbouring columns at the heights at which a hidden
// cable may run along the wall.
func (f *fabric) alongWall(a, b *column, levels []MM) {
	w := a.wall
	for _, z := range levels {
		if z == 0 || z == w.Storey.Height {
			continue
		}
		zone, near, held, ok := f.hidden(w, a.side, a.at, z, b.at, z)
		risks, barred := f.inTheWay(w, a.at, z, b.at, z)
		if !ok || barred || inOpening(w, a.at, z, b.at, z, f.width) || !f.chaseFits(w, a.side, false) {
			continue
		}
		e := edge{a: a.node[z], b: b.node[z], length: b.at - a.at, zone: zone, side: near, held: held, risks: risks}
		e.tasks = []task{f.wallRun(w, a.side, b.at-a.at, false)}
		if f.throughStuds(&e, w, a.at, b.at, z) {
			e.settle(f)
			f.edge(e)
		}
	}
}

// throughStuds adds the holes in the studs between two places; false if one
// must not be drilled.
func (f *fabric) throughStuds(e *edge, w *house.Wall, from, to, height MM) bool {
	for _, s := range w.Studs {
		if s.At <= from || s.At >= to {
			continue
		}
		t := f.l.StudHole(w.Build.Core, w.Storey.Height, height, f.hole, w.Bearing)
		if !t.OK && w.Build.Fabric != house.FabricMetal { // steel studs come with openings for services
			return false
		}
		n := f.nodes[e.a]
		n.along, n.at = s.At, f.inWall(w, house.SideA, s.At, height)
		hole := f.woodHole("stud", n)
		hole.Plate = t.Protect
		e.tasks = append(e.tasks, task{work: StudHole, finish: f.leastFinish(w), hole: hole})
	}
	return true
}

// intoWall joins a box to the nearest column of its wall.
func (f *fabric) intoWall(b *house.Box, list []*column) {
	var best *column
	for _, c := range list {
		if abs(c.at-b.Along) <= halfWidth(b) && (best == nil || abs(c.at-b.Along) < abs(best.at-b.Along)) {
			best = c
		}
	}
	if best == nil {
		return
	}
	start := f.wallRun(b.Wall, b.Side, 0, true)
	start.on = false
	f.edge(edge{
		a: f.boxes[b.ID], b: best.node[b.Height], length: abs(best.at - b.Along), side: b.Side,
		tasks: []task{{work: Enter}, start}, zone: "at the box " + b.ID,
	})
}

// headAndFoot joins a column to the void or loft above and to what is below.
func (f *fabric) headAndFoot(c *column) {
	w := c.wall
	if above := w.Storey.Above; above != nil && !f.topBarred(c) {
		f.leave(c, above, w.Storey.Height, f.headWork(w, Head, Rise))
	}
	if below := w.Storey.Floor; below != nil && !inOpening(w, c.at, 0, c.at, 1, f.width) {
		f.leave(c, below, 0, f.headWork(w, Sole, Base))
	}
}

func (f *fabric) topBarred(c *column) bool {
	h := c.wall.Storey.Height
	return inOpening(c.wall, c.at, h-1, c.at, h, 0)
}

func (f *fabric) headWork(w *house.Wall, hollow, solid Work) Work {
	if w.Build.Hollow() {
		return hollow
	}
	return solid
}

// leave joins the end of a column to a floor's void, or to the open space over
// or under it.
func (f *fabric) leave(c *column, floor *house.Floor, height MM, work Work) {
	n := c.node[height]
	p := house.Point{X: f.nodes[n].at.X, Y: f.nodes[n].at.Y}
	t := task{work: work, finish: finishFactor(c.wall.Rooms[c.side]), hole: f.plateHole(work, f.nodes[n], floor)}
	tasks := []task{t}
	if floor.Fire || c.wall.Fire {
		tasks = append(tasks, task{work: Seal})
	}
	if height > 0 && c.wall.Build.Hollow() && wallOver(floor, p) {
		tasks = append(tasks, task{work: Beside})
	}
	switch {
	case height > 0 && f.aboveIsLoft(floor):
		part := partNear(floor, p)
		if part == nil || part.Solid {
			return
		}
		g := newLanes(floor, part)
		risks, barred := f.joistOver(g, part.Run.Across().Of(p), c.wall)
		if barred {
			return
		}
		at := Spot{p.X, p.Y, floor.JoistTop()}
		to := f.inOpen(f.loft, node{space: InLoft, at: at, floor: floor, part: part})
		f.edge(edge{a: n, b: to, length: at.Z - f.nodes[n].at.Z, tasks: append(tasks, task{work: LoftIn, half: true}), risks: risks, zone: "above the ceiling"})
	case height == 0 && f.belowIsOpen(floor):
		if part := floor.PartAt(p); part != nil && part.Solid {
			return
		}
		at := Spot{p.X, p.Y, floor.JoistBottom()}
		to := f.inOpen(f.under, node{space: InUnder, at: at, floor: floor})
		f.edge(edge{a: n, b: to, length: f.nodes[n].at.Z - at.Z, tasks: append(tasks, task{work: UnderIn, half: true}), zone: "beneath the floor"})
	default:
		f.intoLane(n, floor, p, tasks, c.wall)
	}
}

// wallOver reports whether a wall stands on a floor over a place.
func wallOver(floor *house.Floor, p house.Point) bool {
	return floor.Over != nil && slices.ContainsFunc(floor.Over.Walls, func(w *house.Wall) bool {
		if w.Build == nil || w.Build.Fabric == house.FabricOpenSpace {
			return false
		}
		a, b := w.At(0, 0), w.At(w.Length(), w.Build.Thickness())
		return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
	})
}

// stacked joins a wall to the one that stands on it, where their columns meet:
// the plates are reached from behind the skirting.
func (f *fabric) stacked(tops map[*house.Wall][]*column) {
	for _, w := range f.h.Walls {
		above := w.Storey.Above
		if above == nil || above.Over == nil {
			continue
		}
		for _, over := range above.Over.Walls {
			for _, a := range tops[w] {
				for _, b := range tops[over] {
					f.onTop(a, b, above)
				}
			}
		}
	}
}

func (f *fabric) onTop(lower, upper *column, floor *house.Floor) {
	a, b := lower.node[lower.wall.Storey.Height], upper.node[0]
	p, q := f.nodes[a].at, f.nodes[b].at
	aside := abs(p.X-q.X) + abs(p.Y-q.Y)
	if aside > 60 || !lower.wall.Build.Hollow() || !upper.wall.Build.Hollow() {
		return
	}
	at := house.Point{X: p.X, Y: p.Y}
	g := f.lanes[partNear(floor, at)]
	if g == nil {
		return // concrete
	}
	risks, barred := f.joistOver(g, g.part.Run.Across().Of(at), lower.wall)
	if barred {
		return
	}
	tasks := []task{{work: Skirting, finish: finishFactor(upper.wall.Rooms[0]), hole: f.plateHole(Skirting, f.nodes[a], floor)}}
	if floor.Fire || lower.wall.Fire || upper.wall.Fire {
		tasks = append(tasks, task{work: Seal})
	}
	f.edge(edge{a: a, b: b, length: q.Z - p.Z + aside, tasks: tasks, risks: risks, zone: "between the two walls"})
}
