package house

import (
	"cmp"
	"slices"

	"strapper/unit"
)

// loftRef is how a description refers to the floor over the highest storey.
const loftRef = "loft"

// floors makes the floor beneath every storey and over the highest, and from
// their thicknesses the levels.
func (a *assembly) floors() {
	h := a.h
	for _, f := range a.d.Floors {
		if f.Ref != loftRef && h.Storey(f.Ref) == nil {
			names := append(ids(h.Storeys, func(s *Storey) string { return s.ID }), loftRef)
			a.forbid(at("floors", f.Ref), "house-unknown-storey", meant(f.Ref, names), "there is no floor %q: floors have the name of the storey that stands on them, or %q", f.Ref, loftRef)
		}
	}
	var below *Storey
	for _, s := range h.Storeys {
		s.Floor = a.floor(s.ID, s, below)
		if below != nil {
			below.Above = s.Floor
		}
		below = s
	}
	below.Above = a.floor(loftRef, nil, below)
	a.levels()
	a.loft(below)
	for _, f := range h.Floors() {
		a.parts(f)
	}
	if u := a.d.Under; u != nil {
		h.Under = &Void{Height: underHeight.or(u.Height, a.assume("house.under")), Access: u.Access}
	}
}

func (a *assembly) draftFloor(ref string) DraftFloor {
	for _, f := range a.d.Floors {
		if f.Ref == ref {
			return f
		}
	}
	return DraftFloor{Ref: ref}
}

// floor takes what is given of one floor and assumes the rest.
func (a *assembly) floor(ref string, over, below *Storey) *Floor {
	d, s := a.draftFloor(ref), at("floors", ref)
	f := &Floor{ID: ref, Over: over, Below: below, Fire: d.Fire, DeckKind: d.DeckKind, Lining: d.Lining}
	solid := below == nil && a.d.Under == nil
	if d.Solid != nil {
		solid = *d.Solid
	}
	part := &Part{ID: ref, Solid: solid}
	f.Parts = []*Part{part}
	depth, deck := joistDepth, deckDepth
	switch {
	case solid:
		depth, deck.value = slabDepth, 0
		f.DeckKind = cmp.Or(f.DeckKind, DeckSolid)
	case over == nil:
		depth, deck.value = tieDepth, 0
		f.DeckKind = cmp.Or(f.DeckKind, DeckNone)
	}
	f.DeckKind = cmp.Or(f.DeckKind, DeckBoards)
	f.Depth = depth.or(d.Depth, a.assume(s))
	f.Deck = deck.or(d.Deck, a.assumeOver(s, deck))
	if below != nil {
		f.Ceiling = ceilingDepth.or(d.Ceiling, a.assume(s))
		f.Lining = cmp.Or(f.Lining, LiningBoard)
	}
	f.Lining = cmp.Or(f.Lining, LiningNone)
	a.inRange(s, "the depth of the joists or slab", f.Depth, 50, 1000)
	a.inRange(s, "the thickness of the deck", f.Deck, 0, 200)
	a.inRange(s, "the thickness of the ceiling", f.Ceiling, 0, 100)
	return f
}

// assumeOver is assume, but says nothing of a thickness of nought.
func (a *assembly) assumeOver(s subject, x assumption) func(assumption) {
	if x.value == 0 {
		return func(assumption) {}
	}
	return a.assume(s)
}

// levels stacks the storeys. The lowest that is no cellar lies at 0 unless its
// level is given.
func (a *assembly) levels() {
	list := a.h.Storeys
	base := a.base().Index
	if l := a.draftStorey(base).Level; l != nil {
		list[base].Level = *l
	}
	for i := base + 1; i < len(list); i++ {
		want := list[i-1].Ceiling() + list[i].Floor.thickness()
		list[i].Level = a.level(list[i], want, 1, list[i].Floor)
	}
	for i := base - 1; i >= 0; i-- {
		want := list[i+1].Level - list[i+1].Floor.thickness() - list[i].Height
		list[i].Level = a.level(list[i], want, -1, list[i+1].Floor)
	}
	for _, s := range list {
		s.Floor.Top = s.Level
		a.inRange(at("storeys", s.ID), "the level of the storey", s.Level, -Reach/10, Reach)
	}
	top := list[len(list)-1]
	top.Above.Top = top.Ceiling() + top.Above.thickness()
}

func (a *assembly) draftStorey(i int) DraftStorey {
	if i < len(a.d.Storeys) {
		return a.d.Storeys[i]
	}
	return DraftStorey{}
}

func (f *Floor) thickness() MM { return f.Deck + f.Depth + f.Ceiling }

// level holds the level given for a storey against the one that follows from
// the floor between; an assumed depth of joists gives way. The sign tells on
// which side of the floor the storey lies.
func (a *assembly) level(s *Storey, want, sign MM, f *Floor) MM {
	given := a.draftStorey(s.Index).Level
	if given == nil || *given == want {
		return want
	}
	subject := at("storeys", s.ID)
	depth := f.Depth + sign*(*given-want)
	if a.draftFloor(f.ID).Depth != nil || depth < 60 || depth > 600 {
		a.forbid(subject, "house-levels", "check the levels, the heights and the floor's depth; or leave the level out",
			"storey %s is given at %v, but heights and floors below add up to %v", s.ID, *given, want)
		return want
	}
	a.untake(at("floors", f.ID), joistDepth)
	f.Depth = depth
	a.took(at("floors", f.ID), "joists %v deep, so that the levels add up", depth)
	return *given
}

// untake withdraws an assumption that was overruled.
func (a *assembly) untake(s subject, x assumption) {
	what := x.name + ": " + x.value.String()
	for i := range a.assumed {
		t := &a.assumed[i]
		if t.what == what {
			t.where = slices.DeleteFunc(t.where, func(o subject) bool { return o == s })
		}
	}
	a.assumed = slices.DeleteFunc(a.assumed, func(t taken) bool { return len(t.where) == 0 })
}

func (a *assembly) loft(top *Storey) {
	if a.d.NoLoft {
		return
	}
	d := a.d.Loft
	if d == nil {
		a.took("house", "a loft over storey %s", top.ID)
		d = &DraftLoft{}
	}
	s := subject("house.loft")
	l := &Loft{Floor: top.Above, Height: loftHeight.or(d.Height, a.assume(s)), Crawl: loftCrawl.or(d.Crawl, a.assume(s))}
	a.inRange(s, "the height of the loft", l.Height, 100, 10_000)
	if d.Hatch != "" {
		if l.Hatch = a.h.Room(d.Hatch); l.Hatch == nil || l.Hatch.Storey != top {
			names := ids(top.Rooms, func(r *Room) string { return r.ID })
			a.forbid("house.loft.hatch", "house-unknown-room", meant(d.Hatch, names), "there is no room %q on the highest storey for the hatch to the loft", d.Hatch)
		}
	}
	a.h.Loft = l
}

// parts fills the parts of a floor: first those described room by room, then
// the one that covers all.
func (a *assembly) parts(f *Floor) {
	d := a.draftFloor(f.ID)
	whole := f.Parts[0]
	whole.Outline = a.footprint(f)
	a.fillPart(f, whole, d.DraftPart, nil, at("floors", f.ID))
	var list []*Part
	for i, dp := range d.Parts {
		s := at("floors", f.ID, "parts", itoa(i))
		r := a.h.Room(dp.Room)
		if r == nil || r.Storey != f.Over && r.Storey != f.Below {
			names := append(roomNames(f.Over), roomNames(f.Below)...)
			a.forbid(s, "house-unknown-room", meant(dp.Room, names), "part %d of floor %s lies over or under room %q, which is not there", i+1, f.ID, dp.Room)
			continue
		}
		p := &Part{ID: f.ID + "-" + r.ID, Solid: whole.Solid, Outline: r.Outline}
		a.fillPart(f, p, dp, whole, s)
		list = append(list, p)
	}
	f.Parts = append(list, whole)
}

func roomNames(s *Storey) []string {
	if s == nil {
		return nil
	}
	return ids(s.Rooms, func(r *Room) string { return r.ID })
}

// footprint is the rectangle about the rooms over and under a floor.
func (a *assembly) footprint(f *Floor) []Point {
	var corners []Point
	for _, r := range a.h.Rooms {
		if (r.Storey == f.Over || r.Storey == f.Below) && r.Use != UseOutdoor {
			corners = append(corners, r.Outline...)
		}
	}
	if len(corners) == 0 {
		corners = a.h.Rooms[0].Outline
	}
	p, q := bounds(corners)
	return []Point{p, {p.X, q.Y}, q, {q.X, p.Y}}
}

// fillPart sets out the joists of a part. What is not given of a part over or
// under one room is as in the whole floor.
func (a *assembly) fillPart(f *Floor, p *Part, d DraftPart, whole *Part, s subject) {
	p.Boarded = d.Boarded
	if whole != nil && whole.Boarded {
		p.Boarded = true
	}
	p.Insulate = a.insulation(f, d, whole, s)
	if p.Solid {
		return
	}
	if whole != nil && d.Run == nil && d.First == nil && d.Spacing == nil && len(d.Bearings) == 0 {
		p.Run, p.Spacing, p.Breadth, p.First = whole.Run, whole.Spacing, whole.Breadth, whole.First
		p.Measured, p.Bearings = whole.Measured, whole.Bearings
		return
	}
	least, greatest := p.Bounds()
	p.Run = a.run(d, whole, least, greatest, s)
	p.Spacing, p.Breadth = joistSpacing.value, joistBreadth.value
	if whole != nil {
		p.Spacing, p.Breadth = whole.Spacing, whole.Breadth
	} else {
		p.Spacing = joistSpacing.or(d.Spacing, a.assume(s))
		p.Breadth = joistBreadth.or(d.Breadth, a.assume(s))
	}
	if d.Spacing != nil {
		p.Spacing = *d.Spacing
	}
	if d.Breadth != nil {
		p.Breadth = *d.Breadth
	}
	a.inRange(s, "the distance of the joists", p.Spacing, 200, 2000)
	a.inRange(s, "the breadth of the joists", p.Breadth, 20, 300)
	a.firstJoist(p, d, least, s)
	a.bearings(f, p, d, least, greatest, s)
}

func (a *assembly) insulation(f *Floor, d DraftPart, whole *Part, s subject) MM {
	switch {
	case d.Insulate != nil:
		a.inRange(s, "the insulation", *d.Insulate, 0, 1000)
		return *d.Insulate
	case whole != nil:
		return whole.Insulate
	case f.Over == nil && a.h.Loft != nil:
		return loftInsulation.or(nil, a.assume(s))
	}
	return 0
}

// run is the direction of the joists; if it is not given, across the shorter
// way of the floor.
func (a *assembly) run(d DraftPart, whole *Part, least, greatest Point, s subject) Axis {
	switch {
	case d.Run != nil:
		return *d.Run
	case whole != nil:
		return whole.Run
	}
	run, words := AlongY, "front to back"
	if greatest.X-least.X <= greatest.Y-least.Y {
		run, words = AlongX, "left to right"
	}
	a.took(s, "joists run %s, the shorter way", words)
	return run
}

func (a *assembly) firstJoist(p *Part, d DraftPart, least Point, s subject) {
	edge := p.Run.Across().Of(least)
	if d.First != nil {
		p.First, p.Measured = edge+*d.First, true
		a.inRange(s, "the place of the first joist", *d.First, 0, 50_000)
		return
	}
	p.First = edge + joistFirst.or(nil, a.assume(s)) + p.Breadth/2
}

// bearings are where the joists rest: as given, else both ends and the bearing
// walls beneath that run across them.
func (a *assembly) bearings(f *Floor, p *Part, d DraftPart, least, greatest Point, s subject) {
	low, high := p.Run.Of(least), p.Run.Of(greatest)
	if len(d.Bearings) > 0 {
		for _, b := range d.Bearings {
			p.Bearings = append(p.Bearings, low+b)
		}
		if len(p.Bearings) < 2 || !slices.IsSorted(p.Bearings) || p.Bearings[0] < low || p.Bearings[len(p.Bearings)-1] > high {
			a.forbid(s, "house-bearings", "give at least two, rising, from the floor's left or front edge", "the bearings of the joists do not lie in order across the floor, which is %v wide", high-low)
		}
		return
	}
	p.Bearings = []MM{low, high}
	if f.Below != nil {
		for _, w := range f.Below.Walls {
			if run, ok := w.Run(); w.Bearing && ok && run != p.Run {
				if c := p.Run.Of(w.At(0, w.Build.Thickness()/2)); c > low && c < high {
					p.Bearings = append(p.Bearings, c)
				}
			}
		}
	}
	slices.Sort(p.Bearings)
	p.Bearings = slices.Compact(p.Bearings)
	a.took(s, "joists rest at %s", places(p.Bearings, low))
}

// places lists coordinates as distances from an edge.
func places(list []MM, edge MM) string {
	words := make([]string, len(list))
	for i, x := range list {
		words[i] = unit.Millimetre(x - edge).String()
	}
	return listed(words)
}
