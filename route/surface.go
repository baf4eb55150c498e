package route

import (
	"slices"

	"strapper/house"
)

// skirtingLine is the height at which trunking runs along a floor: on top of
// the skirting, common practice, no source.
const skirtingLine MM = 120

// trunkColumn is a place of a room's face at which trunking may stand upright.
type trunkColumn struct {
	face *house.Face
	x    MM
	node map[MM]int32 // by height
}

// surfaces adds trunking on the faces and ceilings of all rooms: upright at
// boxes, corners and beside holes, along the skirting and the ceiling, through
// walls and through floors in corners.
func (f *fabric) surfaces() {
	var all []*trunkColumn
	for _, r := range f.h.Rooms {
		all = append(all, f.trunkRoom(r)...)
	}
	f.trunkThrough(all)
}

func (f *fabric) trunkRoom(r *house.Room) []*trunkColumn {
	var all []*trunkColumn
	var first, last *trunkColumn
	for _, face := range r.Faces {
		list := f.trunkFace(face)
		if last != nil {
			f.trunkCorner(last, list[0])
		} else {
			first = list[0]
		}
		last = list[len(list)-1]
		all = append(all, list...)
	}
	if first != nil {
		f.trunkCorner(last, first)
	}
	if len(r.Outline) == 4 { // elsewhere a straight run may leave the room
		f.trunkCeiling(r, all)
	}
	return all
}

// trunkFace makes the columns of a face, in order, and joins them.
func (f *fabric) trunkFace(face *house.Face) []*trunkColumn {
	height := face.Room.Storey.Height
	at := map[MM][]MM{0: nil, face.Length(): nil}
	for _, s := range face.Walls {
		for _, x := range []MM{s.From + 75, s.To - 75} {
			if s.Wall.Rooms[s.Side.Other()] != nil && x > 0 && x < face.Length() {
				at[x] = nil
			}
		}
	}
	for _, b := range f.h.Boxes {
		if x, ok := onFace(face, b); ok {
			at[x] = append(at[x], b.Height)
		}
	}
	var list []*trunkColumn
	for _, x := range sortedKeys(at) {
		c := &trunkColumn{face: face, x: x, node: map[MM]int32{}}
		levels := append(at[x], skirtingLine, height)
		slices.Sort(levels)
		levels = slices.Compact(levels)
		for _, z := range levels {
			p := face.At(x)
			c.node[z] = f.node(node{space: OnSurface, at: Spot{p.X, p.Y, face.Room.Storey.Level + z}, room: face.Room, high: z})
		}
		for i := 1; i < len(levels); i++ {
			f.trunk(c.node[levels[i-1]], c.node[levels[i]], faceOpen(face, x, levels[i-1], x, levels[i]))
		}
		list = append(list, c)
	}
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		for _, z := range []MM{skirtingLine, height} {
			f.trunk(a.node[z], b.node[z], faceOpen(face, a.x, z, b.x, z))
		}
	}
	f.trunkBoxes(face, list)
	return list
}

func sortedKeys(m map[MM][]MM) []MM {
	list := make([]MM, 0, len(m))
	for x := range m {
		list = append(list, x)
	}
	slices.Sort(list)
	return list
}

// onFace is where a box stands on a face, from its left corner.
func onFace(face *house.Face, b *house.Box) (MM, bool) {
	if b.Wall == nil || b.Room != face.Room {
		return 0, false
	}
	for _, s := range face.Walls {
		if x := s.Across(b.Along); s.Wall == b.Wall && s.Side == b.Side && s.From <= x && x <= s.To {
			return x, true
		}
	}
	return 0, false
}

// faceOpen reports whether trunking between two places of a face would cross an
// opening.
func faceOpen(face *house.Face, x1, z1, x2, z2 MM) bool {
	return slices.ContainsFunc(face.Walls, func(s house.Stretch) bool {
		if max(x1, x2) < s.From || min(x1, x2) > s.To {
			return false
		}
		a, b := s.Along(max(s.From, min(x1, x2))), s.Along(min(s.To, max(x1, x2)))
		return inOpening(s.Wall, a, z1, b, z2, 0)
	})
}

func (f *fabric) trunk(a, b int32, barred bool) {
	p, q := f.nodes[a].at, f.nodes[b].at
	length := abs(p.X-q.X) + abs(p.Y-q.Y) + abs(p.Z-q.Z)
	if !barred {
		f.edge(edge{a: a, b: b, length: length, tasks: []task{f.trunking(length)}, zone: "in trunking"})
	}
}

// trunking is a run without its beginning, which belongs to the box.
func (f *fabric) trunking(length MM) task { return task{work: Trunk, length: length, on: length > 0} }

func (f *fabric) trunkCorner(a, b *trunkColumn) {
	for _, z := range []MM{skirtingLine, a.face.Room.Storey.Height} {
		f.trunk(a.node[z], b.node[z], false)
	}
}

// trunkBoxes joins the boxes of a face to its columns.
func (f *fabric) trunkBoxes(face *house.Face, list []*trunkColumn) {
	for _, b := range f.h.Boxes {
		x, ok := onFace(face, b)
		i := slices.IndexFunc(list, func(c *trunkColumn) bool { return c.x == x })
		if ok && i >= 0 {
			f.edge(edge{a: f.boxes[b.ID], b: list[i].node[b.Height], tasks: []task{{work: Enter}, f.trunking(0)}, zone: "in trunking"})
		}
	}
}

// trunkCeiling lets trunking run square across the ceiling of a rectangular
// room, between its faces and the boxes on it.
func (f *fabric) trunkCeiling(r *house.Room, list []*trunkColumn) {
	var tops []int32
	for _, c := range list {
		tops = append(tops, c.node[r.Storey.Height])
	}
	for _, b := range f.h.Boxes {
		if b.Over != nil && b.Room == r {
			n := f.node(node{space: OnSurface, at: boxSpot(f.h, b), room: r, high: r.Storey.Height})
			f.edge(edge{a: f.boxes[b.ID], b: n, tasks: []task{{work: Enter}, f.trunking(0)}, zone: "in trunking"})
			tops = append(tops, n)
		}
	}
	for i := range tops {
		for j := range i {
			f.trunk(tops[j], tops[i], false)
		}
	}
}

// trunkThrough joins the columns of neighbouring rooms: through the wall
// between them, and through a floor where corners stand over one another.
func (f *fabric) trunkThrough(list []*trunkColumn) {
	for i, a := range list {
		for _, b := range list[:i] {
			switch {
			case a.face.Room.Storey == b.face.Room.Storey:
				f.trunkWall(a, b)
			case a.face.Room.Storey.Floor != nil && a.face.Room.Storey.Floor.Below == b.face.Room.Storey:
				f.trunkFloor(a, b)
			case b.face.Room.Storey.Floor != nil && b.face.Room.Storey.Floor.Below == a.face.Room.Storey:
				f.trunkFloor(b, a)
			}
		}
	}
}

func (f *fabric) trunkWall(a, b *trunkColumn) {
	s, along, ok := a.face.Behind(a.x)
	t, other, okB := b.face.Behind(b.x)
	if !ok || !okB || s.Wall != t.Wall || s.Side == t.Side || abs(along-other) > 5 {
		return
	}
	deep := s.Wall.Build.Thickness()
	tasks := []task{{work: Through, hole: f.woodHole("wall", node{wall: s.Wall, at: f.nodes[a.node[skirtingLine]].at, high: skirtingLine})}}
	if s.Wall.Fire {
		tasks = append(tasks, task{work: Seal})
	}
	for _, z := range []MM{skirtingLine, a.face.Room.Storey.Height} {
		if !inOpening(s.Wall, along, z, along, z+1, 0) {
			f.edge(edge{a: a.node[z], b: b.node[z], length: deep + abs(along-other), tasks: tasks, zone: "straight through the wall"})
		}
	}
}

// trunkFloor joins a corner of an upper room to one of the room beneath.
func (f *fabric) trunkFloor(upper, lower *trunkColumn) {
	const near = 400
	a, b := upper.node[skirtingLine], lower.node[lower.face.Room.Storey.Height]
	p, q := f.nodes[a].at, f.nodes[b].at
	aside := abs(p.X-q.X) + abs(p.Y-q.Y)
	corner := func(c *trunkColumn) bool { return c.x == 0 || c.x == c.face.Length() }
	if !corner(upper) || !corner(lower) || aside > near || liftWork(upper.face.Room.Storey.Floor) == "" {
		return
	}
	hole := f.woodHole("ceiling and floor in the corner", f.nodes[b])
	hole.Place = "in the corner of " + roomName(lower.face.Room) + ", clear of the skirting above"
	tasks := []task{{work: ThroughUp, hole: hole}}
	if upper.face.Room.Storey.Floor.Fire {
		tasks = append(tasks, task{work: Seal})
	}
	f.edge(edge{a: b, b: a, length: p.Z - q.Z + aside, tasks: tasks, zone: "through the floor in a corner"})
}
