package route

import (
	"fmt"

	"strapper/house"
)

// Hole is one hole to drill, or notch to cut.
type Hole struct {
	Through  string `json:"through"`          // "head plate", "joist 3 from the left"
	Diameter MM     `json:"diameter_mm"`      // of a notch, its depth and width
	Spot     Spot   `json:"at"`               //
	Place    string `json:"place"`            // in words
	Datum    string `json:"datum,omitempty"`  // what it is measured from, found on both sides
	Distance MM     `json:"distance_mm"`      // from the datum; 0 if there is none
	OffBy    MM     `json:"off_by_mm"`        // how far the measuring may be out
	Play     MM     `json:"play_mm"`          // how far the hole may be out and still serve
	Plate    bool   `json:"plate,omitempty"`  // cover with a steel plate
	Cables   int    `json:"cables,omitempty"` // that pass it, if several do
	wall     *house.Wall
	joist    string // which joist, where it is one
	along    MM     // along the joist
	deep     MM     // depth of the joist
	notch    bool
}

// Sure reports whether measuring alone finds the place well enough.
func (h *Hole) Sure() bool { return h.Datum == "" || h.OffBy <= h.Play }

// woodHole is a hole that is seen when it is drilled.
func (f *fabric) woodHole(through string, n node) *Hole {
	h := &Hole{Through: through, Diameter: f.hole, Spot: n.at, wall: n.wall}
	if n.wall != nil {
		h.Place = fmt.Sprintf("%v above the floor", n.high)
	}
	return h
}

// plateHole is a hole through the head or the foot of a wall, which must be
// found from the other side.
func (f *fabric) plateHole(work Work, n node, floor *house.Floor) *Hole {
	names := map[Work]string{
		Head: "head plate", Sole: "sole plate", Skirting: "head and sole plate",
		Rise: "edge of the ceiling behind the plaster", Base: "edge of the floor behind the plaster",
	}
	h := &Hole{Through: names[work], Diameter: f.hole, Spot: n.at, wall: n.wall, Play: f.play(n)}
	h.Place = "in the middle of the plate"
	if !n.wall.Build.Hollow() {
		h.Place = "close to the face of the masonry"
	}
	if floor.Fire {
		h.Place += "; the floor stops fire: seal round the cable"
	}
	h.Datum, h.Distance = f.datum(n)
	h.OffBy = f.l.DatumFixed + shareUp(f.l.DatumShare, h.Distance)
	return h
}

// play is how far along the wall a hole may be out: the cable must stay between
// its studs, and in the zone of the box below or above it.
func (f *fabric) play(n node) MM {
	play := MM(500)
	for _, s := range n.wall.Studs {
		play = min(play, abs(s.At-n.along)-s.Width/2-f.hole/2)
	}
	zone := MM(0)
	z := f.walls[n.wall]
	for _, side := range []house.Side{house.SideA, house.SideB} {
		for _, b := range z.bands[side] {
			if b.holds(n.along) {
				zone = max(zone, min(n.along-b.low, b.high-n.along)-f.width/2)
			}
		}
	}
	return max(0, min(play, zone))
}

// datum is an outside wall across the line of the wall, whose inner face is
// found in the room as well as in the void above or below, the nearest one.
func (f *fabric) datum(n node) (name string, distance MM) {
	run, square := n.wall.Run()
	if !square {
		return "", 0
	}
	at := run.Of(house.Point{X: n.at.X, Y: n.at.Y})
	for _, w := range n.wall.Storey.Walls {
		other, ok := w.Run()
		if !ok || other == run || w.Rooms[0] != nil && w.Rooms[1] != nil || w.Build == nil || w.Build.Fabric == house.FabricOpenSpace {
			continue
		}
		side := house.SideA
		if w.Rooms[side] == nil {
			side = house.SideB
		}
		if w.Rooms[side] == nil {
			continue
		}
		deep := MM(0)
		if side == house.SideB {
			deep = w.Build.Thickness()
		}
		face := run.Of(w.At(0, deep))
		if d := abs(at - face); name == "" || d < distance {
			name, distance = fmt.Sprintf("the inner face of the outside wall at the %s", end(run, face < at)), d
		}
	}
	return name, distance
}

// end names the end of the house in a direction.
func end(run house.Axis, low bool) string {
	names := map[house.Axis][2]string{house.AlongX: {"left", "right"}, house.AlongY: {"front", "back"}}[run]
	if low {
		return names[0]
	}
	return names[1]
}

// joistHole is a hole on the centre line of a joist, or a notch in its upper
// edge, measured along the joist from the nearer bearing.
func (f *fabric) joistHole(work Work, g *lanes, lane int, from MM, low, plate bool) *Hole {
	h := &Hole{Diameter: f.hole, Plate: plate, Distance: from, deep: g.floor.Depth, notch: work == Notch}
	run := g.part.Run
	h.joist = fmt.Sprintf("%s %s %d", g.floor.ID, g.part.ID, lane)
	h.Through = fmt.Sprintf("joist %d from the %s", lane+1, end(run.Across(), true))
	h.Datum = "the bearing of the joist at the " + end(run, low)
	h.Place = fmt.Sprintf("on the centre line, %v below the upper edge", g.floor.Depth/2)
	if work == Notch {
		h.Place = fmt.Sprintf("a notch %v wide and deep in the upper edge", f.hole)
	}
	h.OffBy = f.l.DatumFixed
	h.Play = f.l.DatumFixed
	return h
}

// Wall names the wall a hole is in; "" for a hole in a floor.
func (h *Hole) Wall() string {
	if h.wall == nil {
		return ""
	}
	return wallName(h.wall)
}
