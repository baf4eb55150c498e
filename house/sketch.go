package house

import (
	"strapper/finding"
)

// rooms makes the rooms with their storeys and gives the sketched ones their
// outlines, each as soon as the room it is placed by has its own.
func (a *assembly) rooms() {
	for _, f := range a.d.Rooms {
		r := &Room{ID: f.ID, Title: f.Title, Use: f.Use, Finish: f.Finish}
		if r.Title == "" {
			r.Title = titled(r.ID)
		}
		if r.Finish == "" {
			r.Finish = FinishPaint
		}
		a.h.Rooms = append(a.h.Rooms, r)
		a.shape(f)
	}
	if finding.Forbidden(a.list) {
		return
	}
	for placed := true; placed; {
		placed = false
		for i, f := range a.d.Rooms {
			if r := a.h.Rooms[i]; r.Outline == nil && a.place(r, f) {
				placed = true
			}
		}
	}
	a.unplaced()
}

// shape checks that a room has one form only and names a room that exists.
func (a *assembly) shape(f DraftRoom) {
	subject := at("rooms", f.ID)
	sketched := f.Width != 0 || f.Depth != 0
	switch {
	case len(f.Outline) > 0 && (sketched || f.Way != "" || f.Of != ""):
		a.forbid(subject, "house-room-form", "give an outline, or a size and a place", "room %s has both an outline and a size or place", f.ID)
	case len(f.Outline) == 0 && !sketched:
		a.forbid(subject, "house-room-form", "add \"size: 3 m x 4 m\" (left to right, then front to back) or an outline", "room %s has no size", f.ID)
	case sketched:
		a.inRange(subject, "the width of room "+f.ID, f.Width, 300, 50_000)
		a.inRange(subject, "the depth of room "+f.ID, f.Depth, 300, 50_000)
	}
	if f.Of != "" && a.draftRoom(f.Of) == nil {
		a.forbid(at("rooms", f.ID, string(f.Way)), "house-unknown-room", meant(f.Of, a.roomIDs()), "room %s is placed %s %q, which is no room", f.ID, f.Way, f.Of)
	}
	if f.Storey != "" && a.h.Storey(f.Storey) == nil {
		names := ids(a.h.Storeys, func(s *Storey) string { return s.ID })
		a.forbid(at("rooms", f.ID, "storey"), "house-unknown-storey", meant(f.Storey, names), "there is no storey %q", f.Storey)
	}
}

func (a *assembly) draftRoom(id string) *DraftRoom {
	for i := range a.d.Rooms {
		if a.d.Rooms[i].ID == id {
			return &a.d.Rooms[i]
		}
	}
	return nil
}

// place gives a room its storey and outline, if what it needs is known.
func (a *assembly) place(r *Room, f DraftRoom) bool {
	var of *Room
	if f.Way != "" {
		if of = a.h.Room(f.Of); of == nil || of.Outline == nil {
			return false
		}
	}
	if r.Storey = a.storeyOf(f, of); r.Storey == nil {
		return false
	}
	if len(f.Outline) > 0 {
		r.Outline = clockwise(f.Outline)
		return true
	}
	corner := a.corner(r, f, of)
	x, y := corner.X+f.ShiftRight, corner.Y+f.ShiftBack
	r.Outline = []Point{{x, y}, {x, y + f.Depth}, {x + f.Width, y + f.Depth}, {x + f.Width, y}}
	return true
}

// storeyOf decides on which storey a room lies; nil after a contradiction.
func (a *assembly) storeyOf(f DraftRoom, of *Room) *Storey {
	given := a.h.Storey(f.Storey)
	if of == nil {
		if given == nil {
			given = a.base()
		}
		return given
	}
	index := of.Storey.Index
	switch f.Way {
	case Above:
		index++
	case Below:
		index--
	}
	if index < 0 || index >= len(a.h.Storeys) {
		a.forbid(at("rooms", f.ID, string(f.Way)), "house-unknown-storey", "add the storey under storeys:", "room %s lies %s %s, but there is no such storey", f.ID, f.Way, of.ID)
		return nil
	}
	s := a.h.Storeys[index]
	if given != nil && given != s {
		a.forbid(at("rooms", f.ID, "storey"), "house-unknown-storey", "leave the storey out, or place the room by another", "room %s is said to be on storey %s, and %s %s on storey %s", f.ID, given.ID, f.Way, of.ID, s.ID)
		return nil
	}
	return s
}

// corner is the front left corner of a sketched room, before it is shifted.
func (a *assembly) corner(r *Room, f DraftRoom, of *Room) Point {
	if of == nil {
		return a.firstCorner(r)
	}
	least, greatest := bounds(of.Outline)
	gap := a.gap(f)
	p := least
	if f.Align == "back" {
		p.Y = greatest.Y - f.Depth
	}
	if f.Align == "right" {
		p.X = greatest.X - f.Width
	}
	switch f.Way {
	case RightOf:
		p.X = greatest.X + gap
	case LeftOf:
		p.X = least.X - gap - f.Width
	case Behind:
		p.Y = greatest.Y + gap
	case InFrontOf:
		p.Y = least.Y - gap - f.Depth
	}
	return p
}

// firstCorner is where the first room of a storey goes that nothing places:
// the origin, or the front left corner of the rooms of the storey next to it.
func (a *assembly) firstCorner(r *Room) Point {
	var corner Point
	known := false
	for _, o := range a.h.Rooms {
		if o.Outline == nil {
			continue
		}
		if o.Storey == r.Storey && o != r {
			a.forbid(at("rooms", r.ID), "house-room-form", "say where it is, such as \"right-of: "+o.ID+"\"", "it is not said where room %s lies", r.ID)
			return corner
		}
		least, _ := bounds(o.Outline)
		if !known {
			corner, known = least, true
		}
		corner.X, corner.Y = min(corner.X, least.X), min(corner.Y, least.Y)
	}
	if known {
		a.took(at("rooms", r.ID), "its front left corner lies over that of the storey beneath")
	}
	return corner
}

// gap is the thickness of the wall between a sketched room and the one that
// places it.
func (a *assembly) gap(f DraftRoom) MM {
	if f.Open {
		return 0
	}
	id := a.d.Partition
	for _, w := range a.d.Walls {
		if w.Build != "" && (w.Ref == f.ID+"-"+f.Of || w.Ref == f.Of+"-"+f.ID) {
			id = w.Build
		}
	}
	if id == "" {
		id = assumedPartition
	}
	if b := a.builds[id]; b != nil {
		return b.Thickness()
	}
	return 100 // the build is refused later, with its place
}

// unplaced reports rooms that wait for one another.
func (a *assembly) unplaced() {
	for i, f := range a.d.Rooms {
		if a.h.Rooms[i].Outline == nil && !finding.Forbidden(a.list) {
			a.forbid(at("rooms", f.ID), "house-room-form", "place one of them by a room that has its place", "room %s is placed by %s, and in the end by itself", f.ID, f.Of)
		}
	}
}

// clockwise copies an outline without corners that say nothing (repeated, or
// on a straight line), in clockwise order.
func clockwise(outline []Point) []Point {
	var list []Point
	for i, p := range outline {
		if i == 0 || p != outline[i-1] {
			list = append(list, p)
		}
	}
	if len(list) > 1 && list[0] == list[len(list)-1] {
		list = list[:len(list)-1]
	}
	list = straightened(list)
	if len(list) > 2 && area2(list) > 0 {
		reversed := []Point{list[0]}
		for i := len(list) - 1; i > 0; i-- {
			reversed = append(reversed, list[i])
		}
		list = reversed
	}
	return list
}

// straightened leaves out corners at which the outline goes straight on.
func straightened(list []Point) []Point {
	var out []Point
	for i, p := range list {
		before, after := list[(i+len(list)-1)%len(list)], list[(i+1)%len(list)]
		if len(list) > 3 && turn(before, p, after) == 0 && dot(before, p, p, after) > 0 {
			continue
		}
		out = append(out, p)
	}
	return out
}

// outlines checks the rooms against themselves and each other.
func (a *assembly) outlines() {
	for _, r := range a.h.Rooms {
		a.outline(r)
	}
	if finding.Forbidden(a.list) {
		return
	}
	for i, r := range a.h.Rooms {
		for _, o := range a.h.Rooms[:i] {
			if r.Storey == o.Storey && overlap(r.Outline, o.Outline) {
				a.forbid(at("rooms", r.ID), "house-rooms-overlap", "check the sizes and how one is placed by the other", "rooms %s and %s of storey %s overlap %s", o.ID, r.ID, r.Storey.ID, about(r, o))
			}
		}
		r.Storey.Rooms = append(r.Storey.Rooms, r)
	}
	for _, s := range a.h.Storeys {
		if len(s.Rooms) == 0 {
			a.forbid(at("storeys", s.ID), "house-empty", "give it a room, or delete it", "storey %s has no rooms", s.ID)
		}
	}
}

// about says where two rooms overlap: the rectangle that their extents share.
func about(r, o *Room) string {
	a0, a1 := bounds(r.Outline)
	b0, b1 := bounds(o.Outline)
	from := Point{max(a0.X, b0.X), max(a0.Y, b0.Y)}
	to := Point{min(a1.X, b1.X), min(a1.Y, b1.Y)}
	return "between " + from.String() + " and " + to.String()
}

// String prints a point as a job file has it, right and back: "[2.4 m, 1.2 m]".
func (p Point) String() string { return "[" + p.X.String() + ", " + p.Y.String() + "]" }

func (a *assembly) outline(r *Room) {
	subject := at("rooms", r.ID)
	for _, p := range r.Outline {
		if !between(-Reach, Reach, p.X) || !between(-Reach, Reach, p.Y) {
			a.forbid(subject, "house-impossible", "check the numbers and their unit", "room %s has a corner more than %v away", r.ID, Reach)
			return
		}
	}
	if len(r.Outline) >= 3 {
		if i, j, bad := selfTouch(r.Outline); bad {
			p, q := edge(r.Outline, i)
			u, v := edge(r.Outline, j)
			a.forbid(subject, "house-outline", "go round the room once, corner after corner", "the outline of room %s meets itself: the side from %v to %v and the one from %v to %v", r.ID, p, q, u, v)
			return
		}
	}
	if len(r.Outline) < 3 || area2(r.Outline) == 0 {
		a.forbid(subject, "house-outline", "give at least three corners that do not lie in line", "the outline of room %s encloses nothing", r.ID)
		return
	}
	r.Faces = faces(r)
}

// faces makes the faces of a room and names each by the side of the room it is
// on; further ones on the same side are numbered in reading order.
func faces(r *Room) []*Face {
	list := make([]*Face, len(r.Outline))
	count := map[string]int{}
	for i := range r.Outline {
		p, q := edge(r.Outline, i)
		name := facing(p, q)
		if count[name]++; count[name] > 1 {
			name += "-" + itoa(count[name])
		}
		list[i] = &Face{Room: r, Name: name, From: p, To: q}
	}
	return list
}

// facing names the side of a room that an edge of its clockwise outline is on.
func facing(p, q Point) string {
	dx, dy := q.X-p.X, q.Y-p.Y
	switch {
	case dy > 0 && dy >= max(dx, -dx):
		return "left"
	case dx > 0 && dx >= max(dy, -dy):
		return "back"
	case dy < 0 && -dy >= max(dx, -dx):
		return "right"
	default:
		return "front"
	}
}
