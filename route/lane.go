package route

import (
	"fmt"
	"slices"

	"strapper/house"
	"strapper/unit"
)

// lanes is the grid of one part of a floor whose joists run one way: lanes
// between joists, and stations along them where something happens.
type lanes struct {
	floor  *house.Floor
	part   *house.Part
	joists []MM
	middle []MM // of each lane, across the run
	enters []entry
	from   MM // the lanes' ends along the run
	to     MM

	stations []MM
	node     map[[2]int]int32 // by lane and station
	board    map[[2]int]int32 // the same with the board up
}

// entry is a way into a lane from above or below, kept until the stations are
// known.
type entry struct {
	from    int32
	lane    int
	station MM
	aside   MM // across the lane
	tasks   []task
	risks   []Risk
	lifted  bool // a board over it has to come up
	zone    string
}

// layLanes prepares the grid of every floor part that has joists and a deck to
// lift, or at least a void to pass along.
func (f *fabric) layLanes() {
	for _, floor := range f.h.Floors() {
		if floor == nil || f.aboveIsLoft(floor) || f.belowIsOpen(floor) {
			continue
		}
		for _, p := range floor.Parts {
			if p.Solid || floor.DeckKind == house.DeckSolid || floor.Depth == 0 || floor.Below == nil && f.h.Under == nil {
				continue
			}
			f.lanes[p] = newLanes(floor, p)
		}
	}
}

func newLanes(floor *house.Floor, p *house.Part) *lanes {
	g := &lanes{floor: floor, part: p, joists: p.Joists(), node: map[[2]int]int32{}, board: map[[2]int]int32{}}
	least, greatest := p.Bounds()
	g.from, g.to = p.Run.Of(least), p.Run.Of(greatest)
	edges := slices.Concat([]MM{p.Run.Across().Of(least)}, g.joists, []MM{p.Run.Across().Of(greatest)})
	for i := 1; i < len(edges); i++ {
		g.middle = append(g.middle, (edges[i-1]+edges[i])/2)
	}
	return g
}

// laneAt is the lane that holds a place across the run.
func (g *lanes) laneAt(across MM) int {
	i, _ := slices.BinarySearch(g.joists, across)
	return i
}

// nearestJoist is how far the nearest joist's centre is from a place across the
// run; ok is false without joists.
func (g *lanes) nearestJoist(across MM) (distance MM, ok bool) {
	for _, j := range g.joists {
		if d := abs(j - across); !ok || d < distance {
			distance, ok = d, true
		}
	}
	return distance, ok
}

// intoLane notes a way into a floor's void from a wall above or below it.
func (f *fabric) intoLane(n int32, floor *house.Floor, p house.Point, tasks []task, w *house.Wall) {
	part := partNear(floor, p)
	g := f.lanes[part]
	if g == nil {
		return
	}
	across := part.Run.Across().Of(p)
	risks, barred := f.joistOver(g, across, w)
	if barred {
		return
	}
	lane := g.laneAt(across)
	g.enters = append(g.enters, entry{
		from: n, lane: lane, station: g.clamp(part.Run.Of(p)), aside: abs(across - g.middle[lane]),
		tasks: tasks, risks: risks, lifted: true, zone: "through the plate",
	})
}

func (g *lanes) clamp(along MM) MM { return min(max(along, g.from), g.to) }

// partNear finds the part of a floor at a place, or beside it: walls stand on
// the edges of floors.
func partNear(floor *house.Floor, p house.Point) *house.Part {
	for _, d := range []house.Point{{}, {X: 150}, {X: -150}, {Y: 150}, {Y: -150}, {X: 300}, {X: -300}, {Y: 300}, {Y: -300}} {
		if part := floor.PartAt(house.Point{X: p.X + d.X, Y: p.Y + d.Y}); part != nil {
			return part
		}
	}
	return nil
}

// joistOver judges a hole from a wall into a floor against the joists. Where
// they were measured it is certain; else it is the share of the width that
// joists take.
func (f *fabric) joistOver(g *lanes, across MM, w *house.Wall) (risks []Risk, barred bool) {
	run, square := w.Run()
	d, any := g.nearestJoist(across)
	if !any || g.part.Spacing <= 0 {
		return nil, false
	}
	needs := g.part.Breadth/2 + f.hole/2
	along := square && run == g.part.Run
	if g.part.Measured {
		return nil, d < needs && along
	}
	r := Risk{
		What: "a joist over the hole", Likely: unit.Percent(min(99, 100*2*needs/g.part.Spacing)),
		Do: "drill again beside it, still above the bay", extra: f.o.takes(task{work: Shift}),
		key: fmt.Sprintf("joist %s %d", g.floor.ID, across),
	}
	if along {
		r.What, r.Do, r.leave = "a joist that lies along the wall, over the hole", "do not cut into it", true
		r.extra = effort{45 * 60, 20}
	}
	return []Risk{r}, false
}

// ceilingBoxes joins the boxes on ceilings, and those in voids, to what a cable
// comes from there.
func (f *fabric) ceilingBoxes() {
	for _, b := range f.h.Boxes {
		if b.Over == nil {
			continue
		}
		work := PointWork
		if b.Hidden {
			work = Enter
		}
		switch {
		case f.aboveIsLoft(b.Over):
			f.intoOpen(b, f.loft, InLoft, b.Over.JoistTop(), []task{{work: work}, {work: LoftIn, half: true}}, "above the ceiling")
		case b.Hidden && f.belowIsOpen(b.Over):
			f.intoOpen(b, f.under, InUnder, b.Over.JoistBottom(), []task{{work: work}, {work: UnderIn, half: true}}, "beneath the floor")
		default:
			f.boxInLane(b, work)
		}
	}
}

// intoOpen joins a box to the open space it is in or under.
func (f *fabric) intoOpen(b *house.Box, places map[Spot]int32, space Space, level MM, tasks []task, zone string) {
	at := Spot{b.At.X, b.At.Y, level}
	to := f.inOpen(places, node{space: space, at: at, floor: b.Over, part: b.Over.PartAt(b.At)})
	n := f.boxes[b.ID]
	f.edge(edge{a: n, b: to, length: abs(at.Z - f.nodes[n].at.Z), zone: zone, tasks: tasks})
}

// boxInLane notes the way from a box on a ceiling up between the joists, or
// from one under the boards, which have to come up.
func (f *fabric) boxInLane(b *house.Box, work Work) {
	part := partNear(b.Over, b.At)
	g := f.lanes[part]
	if g == nil {
		return
	}
	across := part.Run.Across().Of(b.At)
	lane := g.laneAt(across)
	g.enters = append(g.enters, entry{
		from: f.boxes[b.ID], lane: lane, station: g.clamp(part.Run.Of(b.At)), aside: abs(across - g.middle[lane]),
		tasks: []task{{work: work}}, lifted: b.Hidden, zone: "above the ceiling",
	})
}

// joinLanes makes the nodes of all floor grids, and joins them.
func (f *fabric) joinLanes() {
	var grids []*lanes
	for _, floor := range f.h.Floors() {
		if floor == nil {
			continue
		}
		for _, p := range floor.Parts {
			if g := f.lanes[p]; g != nil {
				grids = append(grids, g)
			}
		}
	}
	gates := f.gates(grids)
	for _, g := range grids {
		f.grid(g)
	}
	for _, gate := range gates {
		f.pass(gate)
	}
}

// grid makes the nodes and edges of one part.
func (f *fabric) grid(g *lanes) {
	g.stations = append(g.stations, f.crossings(g.part, g.floor)...)
	for _, e := range g.enters {
		g.stations = append(g.stations, e.station)
	}
	slices.Sort(g.stations)
	g.stations = slices.Compact(g.stations)
	for lane := range g.middle {
		for s := range g.stations {
			f.station(g, lane, s)
		}
	}
	for lane := range g.middle {
		for s := range g.stations {
			f.alongLane(g, lane, s)
			f.crossJoist(g, lane, s)
		}
	}
	for _, e := range g.enters {
		f.enterLane(g, e)
	}
}

// crossings are places along the run at which joists may be drilled or
// notched: the ends and the middle of each allowed stretch.
func (f *fabric) crossings(p *house.Part, floor *house.Floor) []MM {
	var list []MM
	for i := 1; i < len(p.Bearings); i++ {
		from, span := p.Bearings[i-1], p.Bearings[i]-p.Bearings[i-1]
		low, high := shareUp(f.l.HoleFrom, span), share(f.l.HoleTo, span)
		if !f.l.JoistHole(floor.Depth, span, low, f.hole).OK {
			low, high = shareUp(f.l.NotchFrom, span), share(f.l.NotchTo, span)
		}
		low, high = low+f.l.DatumFixed, high-f.l.DatumFixed // what measuring may be out
		for _, at := range []MM{low, (low + high) / 2, high} {
			list = append(list, from+at, from+span-at)
		}
	}
	return list
}

// station makes the nodes of a place in a lane: in the void, and with the board
// over it up.
func (f *fabric) station(g *lanes, lane, s int) {
	at := g.stations[s]
	p := house.Point{X: at, Y: g.middle[lane]}
	if g.part.Run == house.AlongY {
		p = house.Point{X: g.middle[lane], Y: at}
	}
	n := node{space: InFloor, at: Spot{p.X, p.Y, (g.floor.JoistTop() + g.floor.JoistBottom()) / 2}, part: g.part, floor: g.floor}
	key := [2]int{lane, s}
	g.node[key] = f.node(n)
	n.space = InBoard
	g.board[key] = f.node(n)
	if lift := liftWork(g.floor); lift != "" {
		f.edge(edge{a: g.node[key], b: g.board[key], tasks: []task{{work: lift, half: true}}, zone: "between the joists"})
	}
}

// liftWork is how a floor is opened; "" if it cannot be.
func liftWork(floor *house.Floor) Work {
	switch floor.DeckKind {
	case house.DeckBoards:
		return LiftBoards
	case house.DeckSheets:
		return LiftSheets
	}
	return ""
}

// alongLane joins a station to the next one of its lane.
func (f *fabric) alongLane(g *lanes, lane, s int) {
	if s+1 >= len(g.stations) {
		return
	}
	low, high := g.stations[s], g.stations[s+1]
	a, b := g.node[[2]int{lane, s}], g.node[[2]int{lane, s + 1}]
	risks, barred := f.inFloorWay(g.floor, f.nodes[a].at, f.nodes[b].at)
	if barred {
		return
	}
	e := edge{a: a, b: b, length: high - low, tasks: []task{{work: Lane, length: high - low, on: true}}, risks: risks, zone: "between the joists"}
	for i, at := range g.part.Bearings {
		if low < at && at <= high && i > 0 && i < len(g.part.Bearings)-1 {
			n := f.nodes[a]
			e.tasks = append(e.tasks, task{work: Bearing, hole: f.woodHole("timber at the bearing", n)})
		}
	}
	f.edge(e)
}

// crossJoist joins a lane to the next one through the joist between them, at a
// station where that is allowed, under a lifted board.
func (f *fabric) crossJoist(g *lanes, lane, s int) {
	if lane >= len(g.joists) || liftWork(g.floor) == "" {
		return
	}
	from, to, ok := g.part.Span(g.stations[s])
	if !ok {
		return
	}
	span, at := to-from, g.stations[s]-from
	a, b := g.board[[2]int{lane, s}], g.board[[2]int{lane + 1, s}]
	_, barred := f.inFloorWay(g.floor, f.nodes[a].at, f.nodes[b].at)
	work, verdict := Joist, f.l.JoistHole(g.floor.Depth, span, at, f.hole)
	if !verdict.OK {
		work, verdict = Notch, f.l.JoistNotch(g.floor.Depth, span, at, f.hole)
	}
	if barred || !verdict.OK {
		return
	}
	length := g.middle[lane+1] - g.middle[lane]
	hole := f.joistHole(work, g, lane, min(at, span-at), at <= span-at, verdict.Protect)
	hole.along = g.stations[s]
	n := f.nodes[a]
	if hole.Spot = n.at; g.part.Run == house.AlongX {
		hole.Spot.Y = g.joists[lane]
	} else {
		hole.Spot.X = g.joists[lane]
	}
	f.edge(edge{
		a: a, b: b, length: length, zone: "through the joists",
		tasks: []task{{work: work, hole: hole}, {work: AlongBoard, length: length}},
	})
}

// enterLane joins a way in to its station: directly, with a board lifted for it
// alone, or under a board that is up along its length.
func (f *fabric) enterLane(g *lanes, e entry) {
	s, ok := slices.BinarySearch(g.stations, e.station)
	if !ok {
		return
	}
	key := [2]int{e.lane, s}
	to := g.node[key]
	length := abs(f.nodes[to].at.Z-f.nodes[e.from].at.Z) + e.aside
	e.tasks = append(slices.Clone(e.tasks), task{work: Lane})
	if !e.lifted {
		f.edge(edge{a: e.from, b: to, length: length, tasks: e.tasks, risks: e.risks, zone: e.zone})
		return
	}
	lift := liftWork(g.floor)
	if lift == "" {
		return
	}
	f.edge(edge{a: e.from, b: to, length: length, tasks: slices.Concat(e.tasks, []task{{work: lift}}), risks: e.risks, zone: e.zone})
	f.edge(edge{a: e.from, b: g.board[key], length: length, tasks: slices.Concat(e.tasks, []task{{work: lift, half: true}}), risks: e.risks, zone: e.zone})
}

// inFloorWay looks for obstructions in a floor between two places.
func (f *fabric) inFloorWay(floor *house.Floor, a, b Spot) (risks []Risk, barred bool) {
	for _, o := range f.h.Blocks {
		if o.Floor != floor {
			continue
		}
		c := f.clearance(o)
		if max(a.X, b.X) < o.Area[0].X-c || min(a.X, b.X) > o.Area[1].X+c || max(a.Y, b.Y) < o.Area[0].Y-c || min(a.Y, b.Y) > o.Area[1].Y+c {
			continue
		}
		if o.Known() {
			return nil, true
		}
		risks = append(risks, Risk{
			What: fmt.Sprintf("%s (%s) in the floor", o.Kind, o.ID), Likely: o.Likely, key: "block " + o.ID,
			Do: "go round it under another board", extra: f.o.takes(task{work: LiftBoards}).times(1.5),
		})
	}
	return risks, false
}

// gate is a place where the cable can pass from one part of a floor to its
// neighbour.
type gate struct {
	a, b         *lanes
	laneA, laneB int
	atA, atB     MM
}

// gates finds where neighbouring parts touch: at the middle and the quarters
// of the edge they share.
func (f *fabric) gates(grids []*lanes) []gate {
	var list []gate
	for i, a := range grids {
		for _, b := range grids[:i] {
			if a.floor != b.floor {
				continue
			}
			for _, p := range sharedEdge(a.part, b.part) {
				g := gate{a: a, b: b}
				g.laneA, g.atA = a.place(p)
				g.laneB, g.atB = b.place(p)
				a.stations, b.stations = append(a.stations, g.atA), append(b.stations, g.atB)
				list = append(list, g)
			}
		}
	}
	return list
}

func (g *lanes) place(p house.Point) (lane int, station MM) {
	return g.laneAt(g.part.Run.Across().Of(p)), g.clamp(g.part.Run.Of(p))
}

// sharedEdge are places on the edge that the bounds of two parts share, within
// the thickness of a wall.
func sharedEdge(a, b *house.Part) []house.Point {
	const wall = 400
	a0, a1 := a.Bounds()
	b0, b1 := b.Bounds()
	x0, x1, y0, y1 := max(a0.X, b0.X), min(a1.X, b1.X), max(a0.Y, b0.Y), min(a1.Y, b1.Y)
	var list []house.Point
	for _, quarter := range []MM{1, 2, 3} {
		switch {
		case x1 > x0 && y1 <= y0 && y0-y1 <= wall:
			list = append(list, house.Point{X: x0 + (x1-x0)*quarter/4, Y: (y0 + y1) / 2})
		case y1 > y0 && x1 <= x0 && x0-x1 <= wall:
			list = append(list, house.Point{X: (x0 + x1) / 2, Y: y0 + (y1-y0)*quarter/4})
		}
	}
	return list
}

// pass joins the two sides of a gate.
func (f *fabric) pass(g gate) {
	s, okA := slices.BinarySearch(g.a.stations, g.atA)
	t, okB := slices.BinarySearch(g.b.stations, g.atB)
	if !okA || !okB {
		return
	}
	a, b := g.a.node[[2]int{g.laneA, s}], g.b.node[[2]int{g.laneB, t}]
	p, q := f.nodes[a].at, f.nodes[b].at
	length := abs(p.X-q.X) + abs(p.Y-q.Y) + abs(p.Z-q.Z)
	f.edge(edge{
		a: a, b: b, length: length, zone: "between two parts of the floor",
		tasks: []task{{work: Bearing, hole: f.woodHole("timber or wall between the floor's parts", f.nodes[a])}},
	})
}
