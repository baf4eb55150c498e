package route

import (
	"slices"

	"strapper/house"
	"strapper/unit"
)

// Spot is a place in space: X and Y on plan, Z a level.
type Spot struct {
	X MM `json:"x_mm"`
	Y MM `json:"y_mm"`
	Z MM `json:"z_mm"`
}

// Space is the kind of place a cable is in.
type Space string

// The spaces.
const (
	AtBox     Space = "box"
	InWall    Space = "wall"    // in a stud bay, behind a lining, or in a chase
	InFloor   Space = "floor"   // between joists
	InBoard   Space = "board"   // across joists under a lifted board
	InLoft    Space = "loft"    // on or beside the joists of the loft
	InUnder   Space = "under"   // in the void beneath the lowest floor
	OnSurface Space = "surface" // in trunking
)

// node is a place where a cable can be.
type node struct {
	space Space
	at    Spot
	wall  *house.Wall
	side  house.Side // of a chase, or of trunking
	along MM         // on a wall
	high  MM         // over the finished floor, on a wall
	part  *house.Part
	floor *house.Floor
	room  *house.Room

	hidden bool // a box in a void
}

// task is one operation that an edge asks for.
type task struct {
	work   Work
	length MM
	hole   *Hole
	finish float64
	half   bool // one of the two ends of something that is done once
	on     bool // goes on with what was begun: only its length counts
}

// edge joins two nodes, both ways.
type edge struct {
	a, b   int32
	length MM
	tasks  []task
	zone   string // why a hidden cable may run here
	side   house.Side
	held   bool // must be held away from the far face
	risks  []Risk
	own    effort // for every cable
	shared effort // once for all cables
}

// Risk is something that may stand in the way, and what it would take then.
type Risk struct {
	What   string       `json:"what"`   // "a nogging 1.2 m above the floor"
	Likely unit.Percent `json:"likely"` // below 100
	Do     string       `json:"do"`     // what is done there if it is so
	extra  effort
	key    string // equal for risks that are one thing
	high   MM     // of a nogging: over the finished floor
	leave  bool   // it cannot be cleared: another way has to be taken
}

// fabric is the graph while it is made.
type fabric struct {
	h     *house.House
	l     *Limits
	o     *Operations
	hole  MM // diameter for one cable
	width MM // of the cable
	nodes []node
	edges []edge
	boxes map[string]int32

	walls  map[*house.Wall]*wallZones
	lanes  map[*house.Part]*lanes
	loft   map[Spot]int32
	under  map[Spot]int32
	barred []string // boxes that no hidden cable reaches, and why
}

func newFabric(h *house.House, l *Limits, o *Operations, hole, width MM) *fabric {
	f := &fabric{
		h: h, l: l, o: o, hole: hole, width: width,
		boxes: map[string]int32{}, walls: map[*house.Wall]*wallZones{}, lanes: map[*house.Part]*lanes{},
		loft: map[Spot]int32{}, under: map[Spot]int32{},
	}
	for _, b := range h.Boxes {
		f.boxes[b.ID] = f.node(node{space: AtBox, at: boxSpot(h, b), wall: b.Wall, side: b.Side, along: b.Along, high: b.Height, floor: b.Over, room: b.Room, hidden: b.Hidden})
	}
	f.zones()
	f.layLanes()
	f.wallColumns()
	f.ceilingBoxes()
	f.joinLanes()
	f.openSpace(f.loft, LoftRun, "in the loft")
	f.openSpace(f.under, UnderRun, "beneath the floor")
	return f
}

// boxSpot is the centre of a box in space: on the finished face of its wall or
// ceiling, or in the void where a cable runs.
func boxSpot(h *house.House, b *house.Box) Spot {
	switch {
	case b.Wall != nil:
		deep := MM(0)
		if b.Side == house.SideB {
			deep = b.Wall.Build.Thickness()
		}
		p := b.Wall.At(b.Along, deep)
		return Spot{p.X, p.Y, b.Wall.Level(b.Height)}
	case b.Hidden && (h.Loft != nil && b.Over == h.Loft.Floor):
		return Spot{b.At.X, b.At.Y, b.Over.JoistTop()}
	case b.Hidden && b.Over.Below == nil:
		return Spot{b.At.X, b.At.Y, b.Over.JoistBottom()}
	case b.Hidden:
		return Spot{b.At.X, b.At.Y, (b.Over.JoistTop() + b.Over.JoistBottom()) / 2}
	case b.Over != nil:
		return Spot{b.At.X, b.At.Y, b.Over.Underside()}
	}
	return Spot{b.At.X, b.At.Y, b.Height}
}

func (f *fabric) node(n node) int32 {
	f.nodes = append(f.nodes, n)
	return int32(len(f.nodes) - 1)
}

// edge adds an edge; its effort is that of its tasks, with what its risks are
// expected to add.
func (f *fabric) edge(e edge) {
	for _, t := range e.tasks {
		op := f.o.Of(t.work)
		takes := f.o.takes(t)
		if op != nil && op.Shared {
			e.shared = e.shared.plus(takes)
		} else {
			e.own = e.own.plus(takes)
		}
	}
	for _, r := range e.risks {
		e.own = e.own.plus(r.extra.times(r.Likely.Fraction()))
	}
	f.edges = append(f.edges, e)
}

// openSpace joins all places of a space in which a person can move: cables run
// square to the house.
func (f *fabric) openSpace(places map[Spot]int32, work Work, zone string) {
	list := sortedSpots(places)
	for i, a := range list {
		for _, b := range list[:i] {
			length := abs(a.X-b.X) + abs(a.Y-b.Y) + abs(a.Z-b.Z)
			f.edge(edge{a: places[b], b: places[a], length: length, tasks: []task{{work: work, length: length}}, zone: zone})
		}
	}
}

func sortedSpots(places map[Spot]int32) []Spot {
	list := make([]Spot, 0, len(places))
	for s := range places {
		list = append(list, s)
	}
	slices.SortFunc(list, compareSpots)
	return list
}

func compareSpots(a, b Spot) int {
	for _, d := range []MM{a.Z - b.Z, a.Y - b.Y, a.X - b.X} {
		if d != 0 {
			return int(d)
		}
	}
	return 0
}

func abs(x MM) MM { return max(x, -x) }

// inOpen is the node at a place of an open space.
func (f *fabric) inOpen(places map[Spot]int32, n node) int32 {
	if i, ok := places[n.at]; ok {
		return i
	}
	i := f.node(n)
	places[n.at] = i
	return i
}

// aboveIsLoft reports whether a floor is that of a loft which a person can get
// into.
func (f *fabric) aboveIsLoft(floor *house.Floor) bool {
	return f.h.Loft != nil && floor == f.h.Loft.Floor && f.h.Loft.Height >= f.l.LoftLeast
}

// belowIsOpen reports whether a person can get beneath a floor.
func (f *fabric) belowIsOpen(floor *house.Floor) bool {
	return floor.Below == nil && f.h.Under != nil && f.h.Under.Access
}
