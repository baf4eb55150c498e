package house

import (
	"fmt"
	"slices"
)

// check holds the boxes against walls, openings, timber and each other. What
// cannot be true forbids; what is only doubtful, or avoidable, is a caution.
func (a *assembly) check() {
	for _, b := range a.h.Boxes {
		if b.Wall != nil {
			a.checkHeight(b)
			a.checkOpenings(b)
			a.checkTimber(b)
			a.checkFound(b)
		} else if !b.Hidden {
			a.checkJoists(b)
		}
	}
	for i, b := range a.h.Boxes {
		for _, o := range a.h.Boxes[:i] {
			a.checkBoxes(o, b)
		}
	}
	a.checkDepths()
}

// Body is the extent of a box on its wall: along the wall, and over the
// finished floor.
func (b *Box) Body() (from, to, low, high MM) {
	w, h := b.Size.Width, b.Size.Height
	return b.Along - w/2, b.Along - w/2 + w, b.Height - h/2, b.Height - h/2 + h
}

// plate is the extent of what stands over the box on the wall.
func (b *Box) plate() (from, to, low, high MM) {
	from, to, low, high = b.Body()
	p := b.Size.Plate
	return from - p, to + p, low - p, high + p
}

func (a *assembly) checkHeight(b *Box) {
	_, _, low, high := b.Body()
	if ceiling := b.Wall.Storey.Height; low < 0 || high > ceiling {
		a.forbid(at("boxes", b.ID), "house-box-off-wall", "measure again from the finished floor to the middle of the box",
			"box %s reaches from %v to %v over the floor, in a storey %v high", b.ID, low, high, ceiling)
	}
}

func (a *assembly) checkOpenings(b *Box) {
	from, to, low, high := b.Body()
	pf, pt, pl, ph := b.plate()
	for _, o := range b.Wall.Openings {
		s := at("boxes", b.ID)
		switch {
		case from < o.To && o.From < to && low < o.Head && o.Sill < high:
			a.forbid(s, "house-box-in-opening", "measure again, from the edge of the lining", "box %s lies in %s %s", b.ID, o.Kind, o.ID)
		case pf < o.To+o.Lining && o.From-o.Lining < pt && pl < o.Head+o.Lining && o.Sill-o.Lining < ph:
			a.caution(s, "box-on-lining", "move it clear of the lining", "box %s, or its plate, comes on the lining of %s %s", b.ID, o.Kind, o.ID)
		}
	}
}

// checkTimber looks for studs and noggings where a box is let into a hollow
// wall. A box that is there shows that an assumed stud is not.
func (a *assembly) checkTimber(b *Box) {
	if !b.Size.Flush || !b.Wall.Build.Hollow() {
		return
	}
	from, to, low, high := b.Body()
	w := b.Wall
	clash := func(s Stud) bool { return from < s.At+s.Width/2 && s.At-s.Width/2 < to }
	if !b.New {
		w.Studs = slices.DeleteFunc(w.Studs, func(s Stud) bool { return !s.Seen && !s.Jamb && clash(s) })
		return
	}
	for _, s := range w.Studs {
		if clash(s) {
			a.studClash(b, s)
		}
	}
	for _, n := range w.Noggings {
		if from < n.To && n.From < to && low < n.Height+n.Depth/2 && n.Height-n.Depth/2 < high {
			a.nogClash(b, n)
		}
	}
}

func (a *assembly) studClash(b *Box, s Stud) {
	subject := at("boxes", b.ID)
	fix := "there is no room between the studs there; take another place"
	if x, ok := b.clearOf(); ok {
		fix = "its middle is clear of the studs at " + b.Face.words(b.Wall, x)
	}
	if s.Seen || s.Jamb {
		a.caution(subject, "stud-clash", fix, "the cut-out for box %s meets a stud whose middle is at %s", b.ID, b.Face.words(b.Wall, s.At))
		return
	}
	a.note(subject, "stud-clash", "find the studs before cutting; if they are as assumed, "+fix,
		"the cut-out for box %s would meet a stud, if the studs stand as assumed: one is at %s", b.ID, b.Face.words(b.Wall, s.At))
}

func (a *assembly) nogClash(b *Box, n Nogging) {
	if n.Likely <= 0 {
		return
	}
	subject := at("boxes", b.ID)
	_, _, low, high := b.Body()
	under, over := n.Height-n.Depth/2-(high-b.Height), n.Height+n.Depth/2+(b.Height-low)
	fix := fmt.Sprintf("move it to %v or lower, or to %v or higher, unless the nogging is found not to be there", under, over)
	if n.Likely >= 100 {
		a.caution(subject, "nogging-clash", fix, "the cut-out for box %s meets a nogging at %v", b.ID, n.Height)
		return
	}
	a.note(subject, "nogging-clash", fix, "the cut-out for box %s would meet a nogging at %v, which is there with a likelihood of %v", b.ID, n.Height, n.Likely)
}

// checkFound holds the hole of a new box against obstructions in its wall and
// what a finder showed there.
func (a *assembly) checkFound(b *Box) {
	if !b.New || !b.Size.Flush {
		return
	}
	from, to, low, high := b.Body()
	s := at("boxes", b.ID)
	for _, o := range a.h.Blocks {
		if o.Wall != b.Wall || o.From >= to || from >= o.To || o.Low >= high || low >= o.High || o.Likely <= 0 {
			continue
		}
		if o.Known() {
			a.caution(s, "box-on-obstruction", "move it clear of that", "the cut-out for box %s meets %s %s in the wall", b.ID, article(o.Kind), o.ID)
		} else {
			a.note(s, "box-on-obstruction", "look for it before cutting", "the cut-out for box %s would meet %s %s, which is there with a likelihood of %v", b.ID, article(o.Kind), o.ID, o.Likely)
		}
	}
	for _, f := range a.h.Found {
		dangerous := f.Sign == SignMetal || f.Sign == SignLive || f.Sign == SignPipe
		if dangerous && f.Wall == b.Wall && f.From <= to && from <= f.To && (f.Height == 0 || low <= f.Height && f.Height <= high) {
			a.caution(s, "box-on-obstruction", "do not cut there until it is known what it is; every circuit in the wall must be dead", "a finder showed %s where the cut-out for box %s is to be", f.Sign, b.ID)
		}
	}
}

// article is a kind of obstruction with its article.
func article(k BlockKind) string {
	switch k {
	case BlockSteel:
		return "steel"
	case BlockOther:
		return "the obstruction"
	}
	return "the " + string(k)
}

// words is a place along a wall as somebody measures it on the face.
func (f *Face) words(w *Wall, along MM) string {
	for _, z := range f.Walls {
		if z.Wall == w {
			return z.Across(along).String() + " from the left corner"
		}
	}
	return along.String()
}

// clearOf is the place nearest to the box's own at which it is clear of all
// studs and openings of its wall.
func (b *Box) clearOf() (MM, bool) {
	half := b.Size.Width - b.Size.Width/2
	best, found := MM(0), false
	try := func(x MM) {
		if x-half < 0 || x+half > b.Wall.Length() || b.blocked(x) {
			return
		}
		if !found || distance(x, b.Along) < distance(best, b.Along) {
			best, found = x, true
		}
	}
	for _, s := range b.Wall.Studs {
		try(s.At - s.Width/2 - half)
		try(s.At + s.Width - s.Width/2 + half)
	}
	return best, found
}

// blocked reports whether the box would meet a stud or an opening's lining if
// its middle were at x.
func (b *Box) blocked(x MM) bool {
	from, to := x-b.Size.Width/2, x-b.Size.Width/2+b.Size.Width
	for _, s := range b.Wall.Studs {
		if from < s.At+s.Width/2 && s.At-s.Width/2 < to {
			return true
		}
	}
	return slices.ContainsFunc(b.Wall.Openings, func(o *Opening) bool {
		return from < o.To+o.Lining && o.From-o.Lining < to
	})
}

// checkJoists looks for joists over a new box that is let into a ceiling.
func (a *assembly) checkJoists(b *Box) {
	p := b.Over.PartAt(b.At)
	if !b.New || !b.Size.Flush || p == nil {
		return
	}
	x := p.Run.Across().Of(b.At)
	half := b.Size.Width / 2
	for _, j := range p.Joists() {
		if distance(j, x) >= half+p.Breadth/2 {
			continue
		}
		if p.Measured {
			a.caution(at("boxes", b.ID), "joist-clash", "move it sideways, or fix it to the joist with a box that is not let in", "the cut-out for box %s meets a joist", b.ID)
		} else {
			a.note(at("boxes", b.ID), "joist-clash", "find the joists before cutting", "the cut-out for box %s would meet a joist, if the joists lie as assumed", b.ID)
		}
	}
}

// checkBoxes holds two boxes against each other: on one face they may not
// overlap, back to back they need depth.
func (a *assembly) checkBoxes(o, b *Box) {
	if o.Wall == nil || o.Wall != b.Wall {
		return
	}
	if !cover(o.Body, b.Body) {
		if o.Side == b.Side && cover(o.plate, b.plate) {
			a.caution(at("boxes", b.ID), "plates-overlap", "move one of them", "the plates of boxes %s and %s overlap", o.ID, b.ID)
		}
		return
	}
	if o.Side == b.Side {
		a.forbid(at("boxes", b.ID), "house-boxes-overlap", "measure both again from the same corner", "boxes %s and %s overlap", o.ID, b.ID)
		return
	}
	if o.Size.Flush && b.Size.Flush && o.Size.Depth+b.Size.Depth > b.Wall.Build.Thickness() {
		a.caution(at("boxes", b.ID), "back-to-back", "move one of them sideways, or take shallower boxes",
			"boxes %s and %s stand back to back and need %d mm of a wall %d mm thick", o.ID, b.ID, o.Size.Depth+b.Size.Depth, b.Wall.Build.Thickness())
	}
}

func cover(one, other func() (from, to, low, high MM)) bool {
	f, t, l, h := one()
	g, u, m, i := other()
	return f < u && g < t && l < i && m < h
}

// checkDepths looks whether new boxes that are let in find the depth they need.
func (a *assembly) checkDepths() {
	for _, b := range a.h.Boxes {
		if !b.New || !b.Size.Flush || b.Size.Depth == 0 {
			continue
		}
		c := b.CutOut()
		s := at("boxes", b.ID)
		switch {
		case c.Chase > c.Most && c.Most > 0:
			a.caution(s, "box-too-deep", "take a shallower box, or one on the surface", "box %s needs a hole %d mm deep in masonry of which at most %d mm may be cut", b.ID, c.Chase, c.Most)
		case c.Short > 0:
			a.caution(s, "box-too-deep", "take a shallower box, or one on the surface", "box %s is %d mm deep, and the wall or ceiling has %d mm behind its face, less %d mm for the cable", b.ID, b.Size.Depth, c.Room, cableRoom.value)
		case c.Unheld:
			a.caution(s, "box-not-held", "take a box for plaster, fixed to the wall", "box %s clamps to a board, and the face of wall %s is none", b.ID, b.Wall.ID)
		}
	}
}
