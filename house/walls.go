package house

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

func itoa(n int) string { return strconv.Itoa(n) }

// thickest is the greatest distance between two faces that are taken for the
// two sides of one wall.
const thickest MM = 700

// pair is a stretch in which two faces look away from each other with a wall
// between them, from..to along the first, apart by the wall's thickness.
type pair struct {
	first, second *Face
	from, to      MM
	apart         MM
}

// span is an interval along a face with what stands behind it: a pair, or
// nothing known, which is the outside.
type span struct {
	from, to MM
	behind   *pair
}

// walls lets a wall arise wherever two faces stand back to back, and outside
// every face that has none at its back.
func (a *assembly) walls() {
	for _, s := range a.h.Storeys {
		a.storeyWalls(s)
	}
	a.nameWalls()
	for _, w := range a.h.Walls {
		w.Storey.Walls = append(w.Storey.Walls, w)
	}
	a.fitBuilds()
}

func (a *assembly) storeyWalls(s *Storey) {
	var all []*Face
	for _, r := range s.Rooms {
		all = append(all, r.Faces...)
	}
	covered := map[*Face][]span{}
	for _, p := range backToBack(all) {
		for _, part := range p.without(covered) {
			covered[part.first] = append(covered[part.first], span{part.from, part.to, &part})
			from, to := part.onSecond()
			covered[part.second] = append(covered[part.second], span{from, to, &part})
		}
	}
	made := map[*pair]*Wall{}
	for _, f := range all {
		for _, x := range filled(f, covered[f]) {
			a.stretch(f, x, made)
		}
	}
	settle(all, made)
}

// backToBack finds all pairs of faces, the nearest first.
func backToBack(all []*Face) []pair {
	var list []pair
	for i, e := range all {
		for _, f := range all[i+1:] {
			if p, ok := opposed(e, f); ok {
				list = append(list, p)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b pair) int { return cmp.Compare(a.apart, b.apart) })
	return list
}

// opposed makes a pair of two parallel faces that look away from each other,
// no further apart than a wall is thick, with a common stretch.
func opposed(e, f *Face) (pair, bool) {
	if cross(e.From, e.To, f.From, f.To) != 0 || dot(e.From, e.To, f.From, f.To) >= 0 {
		return pair{}, false
	}
	n := math.Hypot(float64(e.To.X-e.From.X), float64(e.To.Y-e.From.Y))
	apart := MM(math.Round(float64(turn(e.From, e.To, f.From)) / n))
	if apart < 0 || apart > thickest || turn(e.From, e.To, f.From) < 0 {
		return pair{}, false
	}
	from, to := max(0, e.along(f.To)), min(e.Length(), e.along(f.From))
	return pair{e, f, from, to, apart}, from < to
}

// along is how far a point lies along the direction of the face, rounded to
// whole millimetres; exact for faces that run along an axis.
func (f *Face) along(p Point) MM {
	n := math.Hypot(float64(f.To.X-f.From.X), float64(f.To.Y-f.From.Y))
	return MM(math.Round(float64(dot(f.From, f.To, f.From, p)) / n))
}

// onSecond is the pair's stretch along its second face.
func (p pair) onSecond() (from, to MM) {
	start := p.first.along(p.second.From)
	return start - p.to, start - p.from
}

// without cuts from a pair what nearer faces cover already on either side.
func (p pair) without(covered map[*Face][]span) []pair {
	parts := []pair{p}
	start := p.first.along(p.second.From)
	var taken []span
	taken = append(taken, covered[p.first]...)
	for _, x := range covered[p.second] {
		taken = append(taken, span{start - x.to, start - x.from, nil})
	}
	for _, x := range taken {
		var rest []pair
		for _, q := range parts {
			left, right := q, q
			left.to, right.from = min(q.to, x.from), max(q.from, x.to)
			for _, piece := range []pair{left, right} {
				if piece.from < piece.to {
					rest = append(rest, piece)
				}
			}
		}
		parts = rest
	}
	return parts
}

// filled covers a face from corner to corner: gaps no longer than a wall is
// thick belong to the wall beside them, since a cross wall ends there; longer
// ones are outside.
func filled(f *Face, covered []span) []span {
	n := f.Length()
	slices.SortFunc(covered, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var list []span
	var done MM
	for _, x := range append(covered, span{from: n, to: n}) {
		gap := x.from - done
		last := x.from == n && x.to == n
		switch {
		case gap <= 0:
		case gap <= thickest && len(list) > 0 && list[len(list)-1].behind != nil:
			list[len(list)-1].to = x.from
		case gap <= thickest && !last:
			x.from = done
		default:
			list = append(list, span{from: done, to: x.from})
		}
		if !last {
			list = append(list, x)
			done = x.to
		}
	}
	return list
}

// stretch puts the wall of one span behind a face, making it if the other face
// has not.
func (a *assembly) stretch(f *Face, x span, made map[*pair]*Wall) {
	if x.behind == nil {
		if f.Room.Use == UseOutdoor {
			return
		}
		w := &Wall{Storey: f.Room.Storey, From: f.At(x.from), To: f.At(x.to), Rooms: [2]*Room{f.Room}}
		a.h.Walls = append(a.h.Walls, w)
		f.Walls = append(f.Walls, Stretch{From: x.from, To: x.to, Wall: w})
		return
	}
	p := x.behind
	w := made[p]
	if w == nil {
		w = &Wall{Storey: f.Room.Storey, Rooms: [2]*Room{p.first.Room, p.second.Room}, Build: &Build{Core: p.apart}}
		made[p] = w
		a.h.Walls = append(a.h.Walls, w)
	}
	s := Stretch{From: x.from, To: x.to, Wall: w, At: x.from}
	if f == p.second {
		s.Side, s.Reverse = SideB, true
		s.At = p.first.along(p.second.From) - x.from
	}
	f.Walls = append(f.Walls, s)
}

// settle gives each wall between two rooms the length that both its faces
// reach together, and counts along it from its own end. Until here the places
// along it were those of its first face.
func settle(all []*Face, made map[*pair]*Wall) {
	low, high := map[*Wall]MM{}, map[*Wall]MM{}
	seen := map[*Wall]bool{}
	each := func(visit func(*Stretch)) {
		for _, f := range all {
			for i := range f.Walls {
				if f.Walls[i].Wall.Rooms[1] != nil {
					visit(&f.Walls[i])
				}
			}
		}
	}
	each(func(s *Stretch) {
		a, b := s.Along(s.From), s.Along(s.To)
		w := s.Wall
		if !seen[w] {
			low[w], high[w], seen[w] = min(a, b), max(a, b), true
		}
		low[w], high[w] = min(low[w], a, b), max(high[w], a, b)
	})
	for p, w := range made {
		w.From, w.To = p.first.At(low[w]), p.first.At(high[w])
	}
	each(func(s *Stretch) { s.At -= low[s.Wall] })
}

// nameWalls gives ids: the two rooms, or the room and the side it is on.
func (a *assembly) nameWalls() {
	count := map[string]int{}
	for _, w := range a.h.Walls {
		var name string
		if w.Rooms[1] != nil {
			name = w.Rooms[0].ID + "-" + w.Rooms[1].ID
		} else {
			name = w.Rooms[0].ID + "-" + facing(w.From, w.To)
		}
		if count[name]++; count[name] > 1 {
			name += "-" + itoa(count[name])
		}
		w.ID = name
	}
	a.indexWalls()
}

// wallRef finds a wall by its id or with its two rooms in the other order.
func (a *assembly) wallRef(ref string) *Wall { return a.byRef[ref] }

// indexWalls notes the names by which walls are found. A wall's own id goes
// before another's with its rooms turned round.
func (a *assembly) indexWalls() {
	a.byRef = map[string]*Wall{}
	for _, w := range a.h.Walls {
		if w.Rooms[1] != nil {
			a.byRef[w.Rooms[1].ID+"-"+w.Rooms[0].ID+suffix(w)] = w
		}
	}
	for _, w := range a.h.Walls {
		a.byRef[w.ID] = w
	}
}

// suffix is the number at the end of a wall's id, with its dash.
func suffix(w *Wall) string { return w.ID[len(w.Rooms[0].ID+"-"+w.Rooms[1].ID):] }

// fitBuilds decides what each wall is made of and makes it as thick as its
// faces are apart.
func (a *assembly) fitBuilds() {
	said := map[*Wall]*DraftWall{}
	a.said = said
	for i := range a.d.Walls {
		f := &a.d.Walls[i]
		w := a.wallRef(f.Ref)
		switch {
		case w == nil:
			a.forbid(at("walls", f.Ref), "house-unknown-wall", meant(f.Ref, a.wallIDs()), "no wall %q arises from the rooms", f.Ref)
		case said[w] != nil:
			a.forbid(at("walls", f.Ref), "house-name-twice", "keep one of the two", "wall %s is described twice", w.ID)
		default:
			said[w] = f
		}
	}
	for _, name := range []string{a.d.Partition, a.d.Outside} {
		a.findBuild("house.defaults", name)
	}
	for _, b := range a.d.Builds {
		a.checkBuild(b)
	}
	for _, w := range a.h.Walls {
		a.fitBuild(w, said[w])
	}
}

// checkBuild refuses a build of the person's own that cannot be.
func (a *assembly) checkBuild(b *Build) {
	s := at("builds", b.ID)
	a.inRange(s, "the depth of studs or masonry", b.Core, 20, 1000)
	for i := range b.Face {
		a.inRange(s, "the lining of a face", b.Face[i], 0, 100)
	}
	if b.Hollow() {
		a.inRange(s, "the breadth of a stud", b.Stud, 20, 150)
		a.inRange(s, "the distance of the studs", b.Centres, leastCentres, 1500)
		a.inRange(s, "the height of the plates", b.Plate, 0, 300)
	}
	for _, h := range b.Rows {
		a.inRange(s, "the height of the noggings", h, 0, 6000)
	}
}

func (a *assembly) findBuild(s subject, id string) *Build {
	b := a.builds[id]
	if b == nil && id != "" {
		a.forbid(s, "house-unknown-build", meant(id, sortedKeys(a.builds)), "there is no build of wall called %q", id)
	}
	return b
}

func (a *assembly) fitBuild(w *Wall, said *DraftWall) {
	subject := at("walls", w.ID)
	inside := w.Rooms[1] != nil
	var id string
	if said != nil {
		id, w.Fire, w.Bearing = said.Build, said.Fire, said.Bearing
		subject = at("walls", said.Ref)
	}
	given := a.findBuild(subject, id)
	switch {
	case inside && w.Build.Core == 0:
		if given != nil {
			a.forbid(subject, "house-wall-thickness", "leave a gap between the rooms, or leave the wall out", "rooms %s and %s touch, so that there is no wall between them", w.Rooms[0].ID, w.Rooms[1].ID)
		}
		w.Build = &Build{ID: "open", Title: "No wall", Fabric: FabricOpenSpace}
	case !inside:
		w.Build = a.outsideBuild(w, given)
	default:
		w.Build = a.insideBuild(w, given, subject)
	}
	if said != nil {
		a.detail(w, said)
	}
}

// outsideBuild is the build of a wall with nothing described behind it.
func (a *assembly) outsideBuild(w *Wall, given *Build) *Build {
	if given == nil && a.inner(w) {
		if given = a.builds[a.d.Partition]; given == nil {
			given = a.builds[assumedPartition]
		}
		a.took(at("walls", w.ID), "inside walls, though no room is described behind them: %s", lower(given.Title))
	}
	if given == nil {
		given = a.builds[a.d.Outside]
	}
	if given == nil {
		given = a.builds[assumedOutside]
		a.took(at("walls", w.ID), "outside walls: %s", lower(given.Title))
	}
	b := *given
	return &b
}

// inner reports whether a wall with nothing described behind it stands well
// within the extent of the house, so that some room must be there.
func (a *assembly) inner(w *Wall) bool {
	if a.extent == nil {
		a.extent = a.corners()
	}
	p := w.At(w.Length()/2, thickest)
	return a.extent[0].X < p.X && p.X < a.extent[1].X && a.extent[0].Y < p.Y && p.Y < a.extent[1].Y
}

// corners are the least and greatest coordinates of all rooms but those
// outdoors.
func (a *assembly) corners() *[2]Point {
	var corners []Point
	for _, r := range a.h.Rooms {
		if r.Use != UseOutdoor {
			corners = append(corners, r.Outline...)
		}
	}
	if len(corners) == 0 {
		return &[2]Point{}
	}
	least, greatest := bounds(corners)
	return &[2]Point{least, greatest}
}

// insideBuild is the build of a wall between two rooms, its studs or masonry
// made as deep as the distance between the faces leaves room for.
func (a *assembly) insideBuild(w *Wall, given *Build, s subject) *Build {
	apart := w.Build.Core
	standard := a.d.Partition
	if w.Rooms[0].Use == UseOutdoor || w.Rooms[1].Use == UseOutdoor {
		standard = a.d.Outside
		if standard == "" {
			standard = assumedOutside
		}
	}
	if given == nil {
		given = a.builds[standard]
	}
	assumed := given == nil
	if assumed {
		given = a.nearest(apart)
		a.took(at("walls", w.ID), "inside walls %d mm thick: %s", apart, lower(given.Title))
	}
	b := *given
	off := apart - b.Thickness()
	b.Core += off
	if b.Core < 20 {
		a.forbid(s, "house-wall-thickness", "check the rooms' sizes and outlines", "rooms %s and %s are only %d mm apart: too little for a wall", w.Rooms[0].ID, w.Rooms[1].ID, apart)
	} else if off != 0 && !assumed {
		a.caution(s, "house-wall-thickness", "measure the wall at a door, and correct the rooms or the build",
			"wall %s is %d mm thick by the outlines of its rooms, and %d mm by its build %s; reckoned with %d mm", w.ID, apart, given.Thickness(), given.ID, apart)
	}
	return &b
}

// nearest is the usual build of an inside wall whose thickness is nearest.
func (a *assembly) nearest(apart MM) *Build {
	best := a.builds[assumedPartition]
	usual, _ := Builds() // its error was met in Assemble
	for _, b := range usual {
		if b.Face[1] == 0 || b.Fabric == FabricMetal || b.Fabric == FabricDryLined {
			continue
		}
		if off(b, apart) < off(best, apart) {
			best = b
		}
	}
	return best
}

func off(b *Build, apart MM) MM {
	d := b.Thickness() - apart
	return max(d, -d)
}

// detail takes over what is said of one wall besides its build.
func (a *assembly) detail(w *Wall, f *DraftWall) {
	subject := at("walls", f.Ref)
	if f.Filled != nil {
		w.Build.Filled = *f.Filled
	}
	if f.Centres != nil && a.inRange(subject, "the distance of the studs", *f.Centres, leastCentres, 1500) {
		w.Build.Centres = *f.Centres
	}
	w.Build.UnderBoard = w.Build.UnderBoard || f.Under
	if !w.Build.Hollow() && (len(f.Studs) > 0 || f.FirstStud != nil || f.Centres != nil || len(f.Rows) > 0) {
		a.forbid(subject, "house-no-studs", "give a build with studs, or leave studs and noggings out", "wall %s has no studs: %s", w.ID, lower(w.Build.Title))
	}
}
