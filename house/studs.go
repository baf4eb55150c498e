package house

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/unit"
)

type subject = finding.Subject

func sortedKeys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }

// lower writes a title as part of a sentence.
func lower(title string) string {
	if title == "" {
		return title
	}
	return strings.ToLower(title[:1]) + title[1:]
}

// timber sets out studs and noggings, then lets what was seen overrule them.
func (a *assembly) timber() {
	a.sightings()
	for _, w := range a.h.Walls {
		if w.Build.Hollow() {
			said := a.saidOf(w)
			a.setOut(w, said)
			a.nogs(w, said)
		}
	}
}

// saidOf is what is described of a wall; if nothing is, an empty description.
func (a *assembly) saidOf(w *Wall) *DraftWall {
	if f := a.said[w]; f != nil {
		return f
	}
	return &DraftWall{}
}

// sightings takes over what was found on faces.
func (a *assembly) sightings() {
	for i, f := range a.d.Found {
		s := at("found", itoa(i))
		face, w, side, x := a.onFace(s, f.Room, f.Wall, f.Left)
		if w == nil {
			continue
		}
		y := x
		if f.Width != nil {
			y += *f.Width
		}
		z, _, ok := face.Behind(y)
		if !ok || z.Wall != w {
			a.forbid(s, "house-off-wall", "measure again from the left corner", "what was found at %v lies off the wall", y)
			continue
		}
		from, to := ordered(z.Along(x), z.Along(y))
		found := &Sighting{Sign: f.Sign, Wall: w, Side: side, From: from, To: to, Note: f.Note}
		if f.Height != nil {
			found.Height = *f.Height
			a.inRange(s, "the height", found.Height, 0, w.Storey.Height)
		}
		a.h.Found = append(a.h.Found, found)
	}
}

func ordered(a, b MM) (least, greatest MM) { return min(a, b), max(a, b) }

// setOut places studs: one at each end, one at each side of an opening, and
// between them at the centres counted from the first. A stud that was seen
// moves the set-out to it, replaces the assumed one nearest to it, and a clear
// place removes assumed studs.
func (a *assembly) setOut(w *Wall, said *DraftWall) {
	n, half := w.Length(), w.Build.Stud/2
	seen := a.seenStuds(w, said)
	var list []Stud
	addAssumed := func(at MM, jamb bool) {
		if at < half || at > n-half {
			return
		}
		for _, s := range list {
			if distance(s.At, at) < w.Build.Stud {
				return
			}
		}
		list = append(list, Stud{At: at, Width: w.Build.Stud, Jamb: jamb})
	}
	for _, at := range seen {
		list = append(list, Stud{At: at, Width: w.Build.Stud, Seen: true})
	}
	addAssumed(half, true)
	addAssumed(n-half, true)
	for _, o := range w.Openings {
		addAssumed(o.From-half, true)
		addAssumed(o.To+half, true)
	}
	for _, at := range a.centres(w, seen) {
		if !near(seen, at, w.Build.Centres/2) && !w.inOpening(at) {
			addAssumed(at, false)
		}
	}
	list = slices.DeleteFunc(list, func(s Stud) bool { return !s.Seen && !s.Jamb && a.cleared(w, s) })
	slices.SortFunc(list, func(a, b Stud) int { return cmp.Compare(a.At, b.At) })
	w.Studs = list
}

func distance(a, b MM) MM { return max(a-b, b-a) }

func near(list []MM, at, by MM) bool {
	return slices.ContainsFunc(list, func(x MM) bool { return distance(x, at) < by })
}

// inOpening reports whether a place along the wall lies in a door, where no
// stud can stand; over doors and about windows there are short ones, which do
// not matter for a cable that passes from floor to ceiling.
func (w *Wall) inOpening(at MM) bool {
	return slices.ContainsFunc(w.Openings, func(o *Opening) bool { return o.From <= at && at <= o.To })
}

// seenStuds are the studs that were given or found, as places along the wall.
func (a *assembly) seenStuds(w *Wall, said *DraftWall) []MM {
	var list []MM
	for _, x := range said.Studs {
		if along, ok := a.fromLeft(w, said, x); ok {
			list = append(list, along)
		}
	}
	if said.FirstStud != nil {
		if along, ok := a.fromLeft(w, said, *said.FirstStud); ok {
			list = append(list, along)
		}
	}
	for _, s := range a.h.Found {
		if s.Wall == w && s.Sign == SignStud {
			list = append(list, (s.From+s.To)/2)
		}
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b MM) bool { return distance(a, b) < w.Build.Stud })
}

// fromLeft turns a distance from the left corner of the wall's face, as seen
// from the room named in the description, into one along the wall.
func (a *assembly) fromLeft(w *Wall, said *DraftWall, x MM) (MM, bool) {
	s := at("walls", said.Ref)
	room := w.Rooms[0]
	if said.SeenFrom != "" {
		room = a.h.Room(said.SeenFrom)
	}
	for _, f := range facesOn(w, room) {
		for _, z := range f.Walls {
			if z.Wall == w && z.From <= x && x <= z.To {
				return z.Along(x), true
			}
		}
	}
	a.forbid(s, "house-off-wall", "measure from the left corner as seen from the room, and say which with seen-from:", "%v from the left corner lies off wall %s", x, w.ID)
	return 0, false
}

// facesOn lists the faces of a room behind which a wall stands.
func facesOn(w *Wall, r *Room) []*Face {
	if r == nil {
		return nil
	}
	var list []*Face
	for _, f := range r.Faces {
		if slices.ContainsFunc(f.Walls, func(s Stretch) bool { return s.Wall == w }) {
			list = append(list, f)
		}
	}
	return list
}

// centres are the places at the studs' spacing, through the first stud seen,
// else from the wall's beginning.
func (a *assembly) centres(w *Wall, seen []MM) []MM {
	step := w.Build.Centres
	if step < leastCentres { // refused already
		return nil
	}
	from := w.Build.Stud / 2
	if len(seen) > 0 {
		from = seen[0] % step
	} else {
		a.took(at("walls", w.ID), "studs at %v centres from the left end, none of them found yet", step)
	}
	var list []MM
	for x := from; x < w.Length(); x += step {
		list = append(list, x)
	}
	return list
}

// leastCentres is the least distance of studs that can be meant.
const leastCentres MM = 150

// cleared reports whether a finder found nothing where a stud is assumed.
func (a *assembly) cleared(w *Wall, s Stud) bool {
	return slices.ContainsFunc(a.h.Found, func(f *Sighting) bool {
		return f.Wall == w && f.Sign == SignClear && f.From <= s.At && s.At <= f.To
	})
}

// nogs places the rows of noggings: those that were found for certain, else
// the build's with their likelihood.
func (a *assembly) nogs(w *Wall, said *DraftWall) {
	subject := at("walls", w.ID)
	add := func(from, to, height MM, likely unit.Percent) {
		w.Noggings = append(w.Noggings, Nogging{From: from, To: to, Height: height, Depth: max(w.Build.Nogging, 38), Likely: likely})
	}
	n := w.Length()
	switch {
	case said.NoRows:
	case len(said.Rows) > 0:
		for _, h := range said.Rows {
			if a.inRange(at("walls", said.Ref), "the height of the noggings", h, 0, w.Storey.Height) {
				add(0, n, h, 100)
			}
		}
	default:
		for _, h := range w.Build.Rows {
			if h < w.Storey.Height {
				add(0, n, h, w.Build.Likely)
				a.took(subject, "a row of noggings at %v with a likelihood of %v", h, w.Build.Likely)
			}
		}
	}
	for _, f := range a.h.Found {
		if f.Wall == w && f.Sign == SignNogging && f.Height > 0 {
			from, to := w.bay((f.From + f.To) / 2)
			add(from, to, f.Height, 100)
		}
	}
	slices.SortStableFunc(w.Noggings, func(a, b Nogging) int { return cmp.Compare(a.Height, b.Height) })
}

// bay is the space between the studs to the left and right of a place.
func (w *Wall) bay(at MM) (from, to MM) {
	from, to = 0, w.Length()
	for _, s := range w.Studs {
		if s.At <= at {
			from = s.At + s.Width/2
		} else {
			return from, s.At - s.Width/2
		}
	}
	return from, to
}

// onFace resolves a place on a face: from room and wall, at a distance from
// the left corner. A nil wall means that it was refused.
func (a *assembly) onFace(s subject, room, wall string, left *MM) (*Face, *Wall, Side, MM) {
	f := a.findFace(s, room, wall)
	if f == nil {
		return nil, nil, 0, 0
	}
	if left == nil {
		a.forbid(s, "house-no-measure", "add from-left:, the distance from the left corner as seen from the room", "it is not said where along the wall it is")
		return nil, nil, 0, 0
	}
	z, _, ok := f.Behind(*left)
	if !ok {
		a.forbid(s, "house-off-wall", "measure again from the left corner as seen from the room", "%v from the left corner of %s lies off the wall, which is %v long", *left, f, f.Length())
		return nil, nil, 0, 0
	}
	return f, z.Wall, z.Side, *left
}

// String names a face in words: "the left wall of hall".
func (f *Face) String() string {
	side, number, _ := strings.Cut(f.Name, "-")
	if number != "" {
		number = " (" + number + ")"
	}
	return "the " + side + " wall of " + f.Room.ID + number
}
