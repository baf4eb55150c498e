package house

import (
	"slices"
	"strings"
)

// boxes places the boxes of the wiring.
func (a *assembly) boxes() {
	for _, f := range a.d.Boxes {
		b := &Box{ID: f.ID, Size: f.Size, New: f.New}
		s := at("boxes", f.ID)
		if b.Room = a.h.Room(f.Room); b.Room == nil {
			a.forbid(s, "house-unknown-room", meant(f.Room, a.roomIDs()), "box %s is in room %q, which is not there", f.ID, f.Room)
			continue
		}
		a.h.Boxes = append(a.h.Boxes, b)
		switch f.On {
		case OnCeiling, AboveCeiling, UnderFloor:
			a.onPlan(s, b, f)
		default:
			a.onWall(s, b, f)
		}
	}
	a.heights()
}

// onPlan places a box on or over a ceiling, or under a floor, by distances from
// the sides of its room.
func (a *assembly) onPlan(s subject, b *Box, f DraftBox) {
	b.Over = b.Room.Storey.Above
	if f.On == UnderFloor {
		b.Over = b.Room.Storey.Floor
	}
	b.Hidden = f.On != OnCeiling
	if f.Height != nil || f.Below != nil || f.LevelWith != "" || f.RightOf != "" || f.LeftOf != "" {
		a.forbid(s, "house-measure-twice", "give from-left: or from-right:, and from-front: or from-back:", "box %s is on no wall, so that heights and doors do not place it", b.ID)
		return
	}
	if f.Left == nil && f.Right == nil && f.Front == nil && f.Back == nil {
		a.took(s, "it is in the middle of the room")
	}
	least, greatest := bounds(b.Room.Outline)
	b.At.X = a.planMeasure(s, b, f.Left, f.Right, least.X, greatest.X, FromLeft, FromRight)
	b.At.Y = a.planMeasure(s, b, f.Front, f.Back, least.Y, greatest.Y, FromFront, FromBack)
	switch across, deep := f.Left != nil || f.Right != nil, f.Front != nil || f.Back != nil; {
	case across && !deep:
		a.took(s, "it is half way from the front to the back of the room")
	case deep && !across:
		a.took(s, "it is half way from the left to the right of the room")
	}
	if within(b.Room.Outline, b.At) < 0 {
		a.forbid(s, "house-box-off-wall", "measure again from the sides of the room", "box %s lies outside room %s", b.ID, b.Room.ID)
	}
}

// side is the word for a side of the plan: "left" of "left corner".
func (x Anchor) side() string {
	word, _, _ := strings.Cut(string(x), " ")
	return word
}

// planMeasure is one coordinate of a box on plan; the middle if not given.
func (a *assembly) planMeasure(s subject, b *Box, low, high *MM, least, greatest MM, lowName, highName Anchor) MM {
	switch {
	case low != nil && high != nil:
		a.forbid(s, "house-measure-twice", "give one of the two", "box %s is measured from the %s and from the %s", b.ID, lowName.side(), highName.side())
		return least
	case low != nil:
		b.Measures = append(b.Measures, Measure{From: lowName, Distance: *low})
		return least + *low
	case high != nil:
		b.Measures = append(b.Measures, Measure{From: highName, Distance: *high})
		return greatest - *high
	}
	middle := (least + greatest) / 2
	b.Measures = append(b.Measures, Measure{From: lowName, Distance: middle - least, Assumed: true})
	return middle
}

// onWall places a box on a wall.
func (a *assembly) onWall(s subject, b *Box, f DraftBox) {
	face, o := a.boxFace(s, f)
	if face == nil {
		return
	}
	if f.Front != nil || f.Back != nil {
		a.forbid(s, "house-measure-twice", "give from-left: or from-right:, as seen by somebody who looks at the wall", "box %s is on a wall, which has no front or back", b.ID)
		return
	}
	x, ok := a.along(s, b, f, face, o)
	if !ok {
		return
	}
	half := b.Size.Width / 2
	if n := face.Length(); x-half < 0 || x+half > n {
		a.forbid(s, "house-box-off-wall", "measure again to the middle of the box, as seen from room "+b.Room.ID,
			"box %s would reach from %v to %v along %s, which is %v long", b.ID, x-half, x+half, face, n)
		return
	}
	z, ok := face.whole(x-half, x+half)
	if !ok {
		a.forbid(s, "house-box-off-wall", "measure again to the middle of the box, as seen from room "+b.Room.ID,
			"box %s reaches from %v to %v along %s, and there is no one wall behind all of that", b.ID, x-half, x+half, face)
		return
	}
	if z.Wall.Build.Fabric == FabricOpenSpace {
		a.forbid(s, "house-box-off-wall", "put it on a wall", "box %s is where two rooms run into one another", b.ID)
		return
	}
	b.Face, b.Wall, b.Side, b.Along, b.At = face, z.Wall, z.Side, z.Along(x), face.At(x)
}

// boxFace is the face a box is on, and the opening it is measured from.
func (a *assembly) boxFace(s subject, f DraftBox) (*Face, *Opening) {
	ref := f.RightOf
	if ref == "" {
		ref = f.LeftOf
	}
	if ref == "" {
		return a.findFace(s, f.Room, f.On), nil
	}
	o := a.openingNamed(ref)
	if o == nil {
		var names []string
		for _, w := range a.h.Walls {
			names = append(names, ids(w.Openings, func(o *Opening) string { return o.ID })...)
		}
		a.forbid(s, "house-unknown-opening", meant(ref, names), "there is no opening %q to measure box %s from", ref, f.ID)
		return nil, nil
	}
	for _, face := range facesOn(o.Wall, a.h.Room(f.Room)) {
		if f.On == "" || a.oneFace(s, face.Room, f.On) == face {
			return face, o
		}
	}
	a.forbid(s, "house-unknown-opening", "name a door of that wall, or measure from a corner", "%s %s is not in the wall of room %s that box %s is on", o.Kind, o.ID, f.Room, f.ID)
	return nil, nil
}

func (a *assembly) openingNamed(id string) *Opening {
	for _, w := range a.h.Walls {
		if o := byID(w.Openings, id, func(o *Opening) string { return o.ID }); o != nil {
			return o
		}
	}
	return nil
}

// along is how far the middle of a box is from the left corner of its face.
func (a *assembly) along(s subject, b *Box, f DraftBox, face *Face, o *Opening) (x MM, ok bool) {
	given := 0
	for _, set := range []bool{f.Left != nil, f.Right != nil, f.RightOf != "", f.LeftOf != ""} {
		if set {
			given++
		}
	}
	if given > 1 {
		a.forbid(s, "house-measure-twice", "keep the one that can be measured best", "box %s is placed along its wall by %d measures", b.ID, given)
		return 0, false
	}
	switch {
	case f.Left != nil:
		b.Measures = append(b.Measures, Measure{From: FromLeft, Distance: *f.Left})
		return *f.Left, true
	case f.Right != nil:
		b.Measures = append(b.Measures, Measure{From: FromRight, Distance: *f.Right})
		return face.Length() - *f.Right, true
	case o != nil:
		return a.beside(s, b, f, face, o)
	}
	x = face.Length() / 2
	b.Measures = append(b.Measures, Measure{From: FromLeft, Distance: x, Assumed: true})
	a.took(s, "it is in the middle of %s", face)
	return x, true
}

// beside measures from the outer edge of an opening's lining.
func (a *assembly) beside(s subject, b *Box, f DraftBox, face *Face, o *Opening) (MM, bool) {
	if f.By == nil {
		a.forbid(s, "house-no-measure", "add by:, the distance from the edge of the lining to the middle of the box", "it is not said how far box %s is from %s %s", b.ID, o.Kind, o.ID)
		return 0, false
	}
	low, high := face.edges(o)
	b.Measures = append(b.Measures, Measure{From: FromOpening, Of: o.ID, Distance: *f.By})
	if f.RightOf != "" {
		return high + *f.By, true
	}
	return low - *f.By, true
}

// edges are the outer edges of an opening's lining along a face.
func (f *Face) edges(o *Opening) (low, high MM) {
	for _, z := range f.Walls {
		if z.Wall == o.Wall {
			low, high = ordered(z.Across(o.From), z.Across(o.To))
			return low - o.Lining, high + o.Lining
		}
	}
	return 0, 0
}

// heights places the boxes on walls in height. Those that are level with
// another follow once that one has its height.
func (a *assembly) heights() {
	waiting := slices.Clone(a.d.Boxes)
	for done := -1; done != len(waiting); {
		done = len(waiting)
		waiting = slices.DeleteFunc(waiting, a.height)
	}
	for _, f := range waiting {
		names := ids(a.d.Boxes, func(b DraftBox) string { return b.ID })
		a.forbid(at("boxes", f.ID), "house-unknown-box", meant(f.LevelWith, names), "box %s is level with %q, which has no height of its own", f.ID, f.LevelWith)
	}
}

// height gives a box its height and reports whether nothing remains to be done.
func (a *assembly) height(f DraftBox) bool {
	b, s := a.h.Box(f.ID), at("boxes", f.ID)
	if b == nil || b.Wall == nil {
		return true
	}
	given := 0
	for _, set := range []bool{f.Height != nil, f.Below != nil, f.LevelWith != ""} {
		if set {
			given++
		}
	}
	if given > 1 {
		a.forbid(s, "house-measure-twice", "keep the one that can be measured best", "box %s is placed in height by %d measures", b.ID, given)
		return true
	}
	switch {
	case f.LevelWith != "":
		o := a.h.Box(f.LevelWith)
		if o == nil || o.Wall == nil || o.Height == 0 || o.Room.Storey != b.Room.Storey {
			return false
		}
		b.Height = o.Height
		b.Measures = append(b.Measures, Measure{From: FromBox, Of: o.ID})
	case f.Below != nil:
		b.Height = b.Room.Storey.Height - *f.Below
		b.Measures = append(b.Measures, Measure{From: FromCeiling, Distance: *f.Below})
	default:
		b.Height = switchHeight.or(f.Height, a.assume(s))
		b.Measures = append(b.Measures, Measure{From: FromFloor, Distance: b.Height, Assumed: f.Height == nil})
	}
	return true
}
