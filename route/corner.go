package route

import "strapper/house"

// roundCorner lets a cable go from one wall of a room to the next one, round
// the corner between two faces, in the zone under the ceiling.
func (f *fabric) roundCorner(tops map[*house.Wall][]*column, face, next *house.Face) {
	a, fromA := nearCorner(f, tops, face, face.Length())
	b, fromB := nearCorner(f, tops, next, 0)
	if a == nil || b == nil || a.wall == b.wall {
		return
	}
	z := a.wall.Storey.Height - f.l.TopBand/2
	zoneA, _, heldA, okA := f.hidden(a.wall, a.side, a.at, z, a.at, z)
	_, _, heldB, okB := f.hidden(b.wall, b.side, b.at, z, b.at, z)
	if !okA || !okB || !f.chaseFits(a.wall, a.side, false) || !f.chaseFits(b.wall, b.side, false) {
		return
	}
	e := edge{a: a.node[z], b: b.node[z], length: fromA + fromB, zone: zoneA, side: a.side, held: heldA || heldB}
	if !f.turn(&e, a, fromA, z) || !f.turn(&e, b, fromB, z) {
		return
	}
	f.edge(e)
}

// turn adds what one wall takes on the way round its corner: a run, and in a
// hollow wall the stud at its end; false if that must not be drilled.
func (f *fabric) turn(e *edge, c *column, length, z MM) bool {
	e.tasks = append(e.tasks, f.wallRun(c.wall, c.side, length, false))
	if !c.wall.Build.Hollow() {
		return true
	}
	stud, ok := f.endStud(c, z)
	e.tasks = append(e.tasks, stud)
	return ok
}

// endStud is the hole through the stud at the end of a wall.
func (f *fabric) endStud(c *column, z MM) (t task, ok bool) {
	v := f.l.StudHole(c.wall.Build.Core, c.wall.Storey.Height, z, f.hole, c.wall.Bearing)
	hole := f.woodHole("stud at the corner", f.nodes[c.node[z]])
	hole.Plate = v.Protect
	return task{work: StudHole, finish: f.leastFinish(c.wall), hole: hole}, v.OK || c.wall.Build.Fabric == house.FabricMetal
}

// nearCorner is the column nearest to one end of a face, if it stands in the
// zone beside the corner, and how far from the corner.
func nearCorner(f *fabric, tops map[*house.Wall][]*column, face *house.Face, x MM) (best *column, distance MM) {
	s, _, ok := face.Behind(x)
	if !ok {
		return nil, 0
	}
	for _, c := range tops[s.Wall] {
		d := abs(s.Across(c.at) - x)
		if (c.wall.Build.Hollow() || c.side == s.Side) && d <= f.l.CornerBand && (best == nil || d < distance) {
			best, distance = c, d
		}
	}
	return best, distance
}
