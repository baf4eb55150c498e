package route

import (
	"cmp"
	"math"

	"strapper/house"
	"strapper/kit"
)

// leg is an edge as a way passes it.
type leg struct {
	*edge
	from, to node
}

// legs are the edges of a route in order, each from its near end.
func (g *graph) legs(r *Route) []leg {
	at := r.start
	var list []leg
	for _, i := range r.edges {
		e, from := &g.edges[i], at
		at = e.a + e.b - from
		list = append(list, leg{e, g.nodes[from], g.nodes[at]})
	}
	return list
}

// stretch divides a way into stretches of one kind of place in one direction.
func (g *graph) stretch(r *Route) {
	for _, l := range g.legs(r) {
		if l.length == 0 {
			continue
		}
		s := g.oneStretch(l)
		if corner := (Spot{s.To.X, s.From.Y, s.To.Z}); s.From.Z == s.To.Z && corner != s.From && corner != s.To {
			first, second := s, s // square on paper: along the house first, then across
			first.To, second.From = corner, corner
			first.Length = abs(corner.X - s.From.X)
			second.Length = s.Length - first.Length
			r.extend(first)
			r.extend(second)
			continue
		}
		r.extend(s)
	}
}

// extend adds a stretch to a way, or makes the last one longer by it.
func (r *Route) extend(s Stretch) {
	if n := len(r.Stretches); n > 0 && r.Stretches[n-1].continues(&s) {
		r.Stretches[n-1].goOn(&s)
		return
	}
	r.Stretches = append(r.Stretches, s)
}

// goOn makes a stretch longer by the one that follows it.
func (s *Stretch) goOn(next *Stretch) {
	s.To, s.Along[1], s.High[1] = next.To, next.Along[1], next.High[1]
	s.Length += next.Length
	s.Surrounded += next.Surrounded
	s.Held = s.Held || next.Held
}

func (g *graph) oneStretch(l leg) Stretch {
	s := Stretch{Space: l.space(), From: l.from.at, To: l.to.at, Length: l.length, Zone: l.zone, Held: l.held, Side: l.side}
	if s.Space == InWall {
		s.Wall = l.from.wall
		if s.Wall == nil {
			s.Wall = l.to.wall
		}
		s.WallID = s.Wall.ID
		s.Along, s.High = [2]MM{l.from.along, l.to.along}, [2]MM{l.from.high, l.to.high}
	}
	for _, n := range []node{l.from, l.to} {
		if n.floor != nil {
			s.Floor = n.floor
		}
	}
	s.Method, s.Surrounded = g.method(l, s.Space)
	return s
}

// space is where an edge runs: between two places of a kind in it, else in the
// one that is not a box.
func (l leg) space() Space {
	a, b := l.from.space, l.to.space
	switch {
	case a == InWall && b == InWall && l.from.wall != l.to.wall: // through the plates
		return InFloor
	case a == AtBox:
		return b
	case b == AtBox || a == b:
		return a
	case a == InWall:
		return b
	}
	return a
}

// continues reports whether a stretch goes on in the same place and direction.
func (s *Stretch) continues(next *Stretch) bool {
	return s.Space == next.Space && s.Wall == next.Wall && s.Method == next.Method && s.Zone == next.Zone &&
		direction(s.From, s.To) == direction(next.From, next.To)
}

// direction is the sign of a move along each axis.
func direction(a, b Spot) [3]int {
	return [3]int{cmp.Compare(b.X, a.X), cmp.Compare(b.Y, a.Y), cmp.Compare(b.Z, a.Z)}
}

// method is the reference method of BS 7671 Table 4A2 by which a flat cable is
// rated where an edge runs, and how much of it insulation surrounds. Where the
// table has no row for the place, the less favourable neighbour is taken.
func (g *graph) method(l leg, space Space) (method string, surrounded MM) {
	switch space {
	case InWall:
		w := l.from.wall
		if w == nil {
			w = l.to.wall
		}
		return wallMethod(w, l.held), 0
	case OnSurface:
		return "B", 0
	case InUnder:
		return "C", 0
	}
	deep := MM(0)
	for _, n := range []node{l.from, l.to} {
		if n.part != nil {
			deep = max(deep, n.part.Insulate)
		}
	}
	if space == InLoft {
		return g.loftMethod(l, deep)
	}
	return g.underInsulation(deep), 0
}

// underInsulation is the method of a cable above a ceiling, under insulation of
// a depth; without any, that of the thinnest.
func (g *graph) underInsulation(deep MM) string {
	if deep > g.l.InsulationThin {
		return "101"
	}
	return "100"
}

// loftMethod is that of a cable on the joists of a loft: what lies over them
// covers it. On its way up through the insulation it is surrounded.
func (g *graph) loftMethod(l leg, deep MM) (string, MM) {
	depth := MM(0)
	for _, n := range []node{l.from, l.to} {
		if n.floor != nil {
			depth = n.floor.Depth
		}
	}
	surrounded := MM(0)
	if l.from.space != l.to.space { // up through it
		surrounded = min(deep, l.length)
	}
	if deep <= depth {
		return "C", surrounded
	}
	return g.underInsulation(deep - depth), surrounded
}

// wallMethod is that of a cable in a wall.
func wallMethod(w *house.Wall, held bool) string {
	switch {
	case w.Build.Hollow() && w.Build.Filled && !held:
		return "103"
	case w.Build.Hollow() || w.Build.Gap[0]+w.Build.Gap[1] > 0:
		return "102"
	}
	return "C"
}

// supports counts clips and looks at drops and bends.
func (g *graph) supports(k *kit.Cable, r *Route) {
	horizontal, vertical, ok := g.l.Clip(k)
	if !ok {
		r.Notes = append(r.Notes, "spacing of clips not assessed: the table does not reach a cable of this width")
	}
	r.Bend, ok = g.l.Bend(k)
	if !ok {
		r.Notes = append(r.Notes, "bend radius not assessed: the table does not reach a cable of this width")
	}
	drop := MM(0)
	for i := range r.Stretches {
		s := &r.Stretches[i]
		switch s.Space {
		case InLoft, InUnder, InBoard:
			r.Clips += clips(s.Length, horizontal)
		case InWall:
			if !s.Wall.Build.Hollow() {
				r.Clips += clips(s.Length, vertical)
			}
		}
		if s.Space == InWall && s.Wall.Build.Hollow() && s.From.Z != s.To.Z {
			drop = max(drop, s.Length)
		}
	}
	if drop > g.l.Drop {
		r.Notes = append(r.Notes, "a drop of "+drop.String()+" hangs without a support: hold the cable at its top and every "+g.l.Drop.String())
	}
}

// clips is the number for a run at a spacing; none where it is not known.
func clips(length, spacing MM) int {
	if spacing <= 0 || length <= 0 {
		return 0
	}
	return int(math.Ceil(float64(length) / float64(spacing)))
}
