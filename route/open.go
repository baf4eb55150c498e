package route

import (
	"fmt"

	"strapper/house"
)

// wallName is a wall as a person would call it.
func wallName(w *house.Wall) string {
	a, b := w.Rooms[0], w.Rooms[1]
	switch {
	case a != nil && b != nil:
		return fmt.Sprintf("the wall between %s and %s", roomName(a), roomName(b))
	case a != nil:
		return "the outside wall of " + roomName(a)
	case b != nil:
		return "the outside wall of " + roomName(b)
	}
	return "the wall " + w.ID
}

func roomName(r *house.Room) string {
	if r.Title != "" {
		return r.Title
	}
	return r.ID
}

// openAt says where to open a wall at a height with the least to make good: on
// the side whose finish is easier, with one edge of the piece on the middle of
// the nearest stud, so that it can be screwed back there.
func (f *fabric) openAt(w *house.Wall, along, height MM) string {
	side := house.SideA
	if finishFactor(w.Rooms[1]) < finishFactor(w.Rooms[0]) || w.Rooms[0] == nil {
		side = house.SideB
	}
	room := "the side that is easier to make good"
	if w.Rooms[side] != nil {
		room = roomName(w.Rooms[side])
	}
	stud, ok := nearestStud(w, along)
	if !ok {
		return fmt.Sprintf("open the wall from %s, %v above the floor", room, height)
	}
	from, to := stud, along+80
	switch {
	case stud == along: // room for the drill beside the stud
		to = stud + 150
	case stud > along:
		from, to = along-80, stud
	}
	return fmt.Sprintf("open the wall from %s, from %v to %v above the floor, between %s; one edge is the middle of a stud, where the piece is screwed back",
		room, height-75, height+75, f.fromCorner(w, side, from, to))
}

func nearestStud(w *house.Wall, along MM) (at MM, ok bool) {
	for _, s := range w.Studs {
		if !ok || abs(s.At-along) < abs(at-along) {
			at, ok = s.At, true
		}
	}
	return at, ok
}

// fromCorner gives two places along a wall as somebody in the room measures
// them, from the left corner of the face.
func (f *fabric) fromCorner(w *house.Wall, side house.Side, from, to MM) string {
	if face, s := faceOf(w, side, (from+to)/2); face != nil {
		a, b := s.Across(from), s.Across(to)
		return fmt.Sprintf("%v and %v from the left corner", min(a, b), max(a, b))
	}
	return fmt.Sprintf("%v and %v from the wall's end", from, to)
}

// faceOf finds the face of the room on one side of a wall that shows a place of
// it; nil if no room is described there.
func faceOf(w *house.Wall, side house.Side, along MM) (*house.Face, house.Stretch) {
	if w.Rooms[side] == nil {
		return nil, house.Stretch{}
	}
	for _, face := range w.Rooms[side].Faces {
		for _, s := range face.Walls {
			x := s.Across(along)
			if s.Wall == w && s.Side == side && s.From <= x && x <= s.To {
				return face, s
			}
		}
	}
	return nil, house.Stretch{}
}

// upstairs names the room from which a floor is opened at a place, or is "".
func (g *graph) upstairs(n node) string {
	if n.floor == nil || n.floor.Over == nil {
		return ""
	}
	for _, d := range []house.Point{{}, {X: 200}, {X: -200}, {Y: 200}, {Y: -200}} { // beside it, where a wall stands
		p := house.Point{X: n.at.X + d.X, Y: n.at.Y + d.Y}
		for _, r := range n.floor.Over.Rooms {
			if inside(r.Outline, p) {
				return ", in " + roomName(r)
			}
		}
	}
	return ""
}

// inside reports whether a point is in an outline, by the edges to its right.
func inside(outline []house.Point, p house.Point) bool {
	odd := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if left := (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 0; left == (b.Y > a.Y) {
			odd = !odd
		}
	}
	return odd
}
