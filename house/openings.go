package house

import (
	"cmp"
	"slices"
)

// findFace resolves a face: a room with the name of one of its faces, of the
// room behind it, or of a wall; or a wall alone, seen from its first room. Nil
// means that it was refused.
func (a *assembly) findFace(s subject, room, wall string) *Face {
	var r *Room
	if room != "" {
		if r = a.h.Room(room); r == nil {
			a.forbid(s, "house-unknown-room", meant(room, a.roomIDs()), "there is no room %q", room)
			return nil
		}
	}
	if wall == "" {
		a.forbid(s, "house-unknown-wall", "add wall:, such as \"left\", \"back\" or the room behind it", "it is not said on which wall it is")
		return nil
	}
	if r == nil {
		w := a.wallRef(wall)
		if w == nil {
			a.forbid(s, "house-unknown-wall", meant(wall, a.wallIDs()), "there is no wall %q; or say from which room it is seen", wall)
			return nil
		}
		r = w.Rooms[0]
	}
	return a.oneFace(s, r, wall)
}

// oneFace finds the only face of a room that is meant by a name.
func (a *assembly) oneFace(s subject, r *Room, wall string) *Face {
	for _, f := range r.Faces {
		if f.Name == wall {
			return f
		}
	}
	var list []*Face
	if w := a.wallRef(wall); w != nil {
		list = facesOn(w, r)
	} else if o := a.h.Room(wall); o != nil {
		list = facesToward(r, o)
	}
	names := ids(r.Faces, func(f *Face) string { return f.Name })
	switch len(list) {
	case 1:
		return list[0]
	case 0:
		a.forbid(s, "house-unknown-wall", meant(wall, names), "room %s has no wall %q", r.ID, wall)
	default:
		names = ids(list, func(f *Face) string { return f.Name })
		a.forbid(s, "house-unknown-wall", "say which: "+listed(names), "room %s has more than one wall to %s", r.ID, wall)
	}
	return nil
}

// facesToward lists the faces of a room behind which another room lies.
func facesToward(r, other *Room) []*Face {
	var list []*Face
	for _, f := range r.Faces {
		if slices.ContainsFunc(f.Walls, func(s Stretch) bool {
			return s.Wall.Rooms[s.Side.Other()] == other
		}) {
			list = append(list, f)
		}
	}
	return list
}

// openings puts doors and windows into their walls.
func (a *assembly) openings() {
	for _, f := range a.d.Openings {
		s := at("openings", f.ID)
		face := a.findFace(s, f.Room, f.Wall)
		if face == nil {
			continue
		}
		o := a.opening(s, f)
		low, high := a.openingSpan(s, f, face, o)
		z, ok := face.whole(low, high)
		if n := face.Length(); low < 0 || high > n {
			a.forbid(s, "house-opening-off-wall", "check its width and where it is measured from, as seen from room "+face.Room.ID,
				"%s %s does not fit: with its lining it needs %v from the corner, and %s is %v long", o.Kind, o.ID, max(high, n-low)+o.Lining, face, n)
			continue
		}
		if !ok {
			a.forbid(s, "house-opening-off-wall", "measure again from the corner to the outer edge of the lining, as seen from room "+face.Room.ID,
				"%s %s reaches from %v to %v along %s, and there is no one wall behind all of that", o.Kind, o.ID, low, high, face)
			continue
		}
		o.Wall = z.Wall
		o.From, o.To = ordered(z.Along(low), z.Along(high))
		a.fitOpening(s, o)
	}
	for _, w := range a.h.Walls {
		slices.SortFunc(w.Openings, func(x, y *Opening) int { return cmp.Compare(x.From, y.From) })
	}
}

// opening takes the sizes given and assumes the rest.
func (a *assembly) opening(s subject, f DraftOpening) *Opening {
	o := &Opening{ID: f.ID, Kind: f.Kind}
	width, sill, head, lining := doorWidth, assumption{}, doorHead, doorLining
	switch o.Kind {
	case Window, Hatch:
		width, sill, head, lining = windowWidth, windowSill, windowHead, assumption{}
	case Arch:
		lining = assumption{}
	}
	o.To = width.or(f.Width, a.assume(s))
	o.Sill = sill.or(f.Sill, a.assumeOver(s, sill))
	o.Head = head.or(f.Head, a.assume(s))
	o.Lining = lining.or(f.Lining, a.assumeOver(s, lining))
	a.inRange(s, "the width of the opening", o.To, 100, 10_000)
	a.inRange(s, "the lining", o.Lining, 0, 500)
	return o
}

// openingSpan is the clear opening along its face.
func (a *assembly) openingSpan(s subject, f DraftOpening, face *Face, o *Opening) (low, high MM) {
	width := o.To - o.From
	switch {
	case f.Left != nil && f.Right != nil:
		a.forbid(s, "house-measure-twice", "give one of the two", "%s %s is measured from both corners", o.Kind, o.ID)
	case f.Left != nil:
		low = *f.Left + o.Lining
	case f.Right != nil:
		low = face.Length() - *f.Right - o.Lining - width
	default:
		low = (face.Length() - width) / 2
		a.took(s, "the opening is in the middle of %s", face)
	}
	return low, low + width
}

// whole finds the one wall behind all of a stretch of the face.
func (f *Face) whole(low, high MM) (Stretch, bool) {
	for _, z := range f.Walls {
		if z.From <= low && high <= z.To {
			return z, true
		}
	}
	return Stretch{}, false
}

func (a *assembly) fitOpening(s subject, o *Opening) {
	w := o.Wall
	if w.Build.Fabric == FabricOpenSpace {
		a.forbid(s, "house-opening-off-wall", "leave it out", "there is no wall between the rooms for %s %s", o.Kind, o.ID)
		return
	}
	if o.Sill < 0 || o.Head <= o.Sill || o.Head > w.Storey.Height {
		a.forbid(s, "house-opening-off-wall", "check sill, head and the height of the storey", "%s %s reaches from %v to %v over the floor, in a storey %v high", o.Kind, o.ID, o.Sill, o.Head, w.Storey.Height)
		return
	}
	for _, p := range w.Openings {
		if o.From < p.To && p.From < o.To && o.Sill < p.Head && p.Sill < o.Head {
			a.forbid(s, "house-openings-overlap", "measure both again from the same corner", "%s %s and %s %s of wall %s overlap", p.Kind, p.ID, o.Kind, o.ID, w.ID)
		}
	}
	w.Openings = append(w.Openings, o)
}
