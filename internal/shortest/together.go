package shortest

import (
	"math"
	"slices"
)

// Charge is a cost that is paid once, however many travellers use the arcs it
// stands on: a hole drilled for one cable serves the next.
type Charge struct {
	Cost uint32
	Most int // travellers that can share it; 0 means any number
}

// Shared says on which arcs charges stand. Of, by arc of the list that New was
// given, is the number of a charge, or below 0 for none.
type Shared struct {
	Of      []int32
	Charges []Charge
}

// Joint is a set of ways, one for each traveller. Cost counts each charge once.
// AtLeast is what any set costs; where it equals Cost, or Exact is set, none is
// cheaper. Ways is nil if some traveller has no way at all.
type Joint struct {
	Ways    [][]int32
	Cost    uint64
	AtLeast uint64
	Exact   bool
}

// Together finds the cheapest ways for several travellers in one objective,
// charges being shared. ends are their starts and goals. most bounds the cases
// looked at; 0 means 20,000.
//
// Method: branch and bound. A case says which charges are paid by all, which
// are not paid, and who must not use which. Within it each traveller goes his
// own cheapest way with a part of every open charge on its arcs; the parts add
// up to no more than the charge, so the sum of the ways is a bound from below,
// which a few rounds of handing the parts to those who use them improve
// (Lagrange's multipliers). The same ways, each charge counted once, are a
// bound from above. The charge farthest from being paid is decided next. It is
// meant for a handful of travellers and some tens of charges that matter, whose
// costs along any way stay below 2²⁶.
func (g *Graph) Together(objective int, ends [][2]int32, shared Shared, most int) Joint {
	if most <= 0 {
		most = 20_000
	}
	s := joint{g: g, objective: objective, ends: ends, shared: shared, left: most, best: Joint{Cost: math.MaxUint64, AtLeast: math.MaxUint64, Exact: true}}
	s.crossings()
	for _, e := range ends {
		s.ahead = append(s.ahead, g.turn().From(e[1], objective, -1))
	}
	s.solve(decisions{paid: make([]bool, len(shared.Charges)), barred: make([][]bool, len(ends))}, s.equalParts(), 0, firstRounds)
	if s.best.Ways == nil {
		return Joint{Exact: s.best.Exact}
	}
	s.best.AtLeast = min(s.best.AtLeast, s.best.Cost)
	return s.best
}

// joint is one such search.
type joint struct {
	g         *Graph
	objective int
	ends      [][2]int32
	shared    Shared
	crossing  []uint32 // by charge: how often one way could meet it
	price     []uint32 // by arc of the list
	ahead     []*Tree  // by traveller: the way to his goal, charges left out
	left      int
	best      Joint
}

// decisions are what a case has settled.
type decisions struct {
	paid   []bool   // charge is paid: free for all
	barred [][]bool // by traveller, nil for none: charge must not be used
}

func (d decisions) clone() decisions {
	n := decisions{slices.Clone(d.paid), slices.Clone(d.barred)}
	for i := range n.barred {
		n.barred[i] = slices.Clone(n.barred[i])
	}
	return n
}

func (d *decisions) bar(traveller int, charge int32) {
	if d.barred[traveller] == nil {
		d.barred[traveller] = make([]bool, len(d.paid))
	}
	d.barred[traveller][charge] = true
}

// crossings counts, for each charge, the pairs of nodes it stands between: a
// way that visits no node twice meets it no more often.
func (s *joint) crossings() {
	type pair struct {
		charge, a, b int32
	}
	seen := map[pair]bool{}
	s.crossing = make([]uint32, len(s.shared.Charges))
	s.price = make([]uint32, len(s.g.arc))
	for at, i := range s.g.arc {
		s.price[i] = s.g.ends[s.objective][at].cost
		c := s.shared.Of[i]
		if c < 0 {
			continue
		}
		a, b := s.g.tail[at], s.g.ends[s.objective][at].to
		p := pair{c, min(a, b), max(a, b)}
		if !seen[p] {
			seen[p] = true
			s.crossing[c]++
		}
	}
}

// fine is how much finer than costs the parts of charges are reckoned, so that
// dividing loses nothing that matters.
const fine = 64

// How often the parts of the charges are handed round: in the first case, and
// in those it is divided into, which begin with the best parts of the case
// before.
const (
	firstRounds = 80
	laterRounds = 6
)

// solve looks at one case, which is known to cost at least so much: bound it,
// keep what it finds, divide it.
func (s *joint) solve(d decisions, part parts, atLeast uint64, rounds int) {
	if s.left--; s.left < 0 {
		s.best.Exact, s.best.AtLeast = false, min(s.best.AtLeast, atLeast)
		return
	}
	var best parts
	var most uint64
	var used [][]bool
	stride := 1.0
	for range rounds {
		bound, ways, ok := s.bound(d, part)
		if !ok {
			return
		}
		u := s.users(ways)
		s.keep(ways, u)
		if bound > most || best == nil {
			most, best, used = bound, part.clone(), u
		} else {
			stride *= 0.9
		}
		if atLeast = max(atLeast, bound); atLeast >= s.best.Cost {
			return
		}
		gap := min(s.best.Cost-min(bound, s.best.Cost), bound/4+1) // no ways may have been found yet
		if !s.handOver(part, u, stride*float64(gap)) {
			break
		}
	}
	s.divide(d, best, used, atLeast)
}

// parts are what each traveller is reckoned to pay of each charge, in fine
// units: by traveller, then charge. They are not negative, and those of a
// charge add up to it.
type parts [][]float64

func (p parts) clone() parts {
	list := make(parts, len(p))
	for i := range p {
		list[i] = slices.Clone(p[i])
	}
	return list
}

// equalParts divides each charge among the travellers.
func (s *joint) equalParts() parts {
	p := make(parts, len(s.ends))
	for i := range p {
		p[i] = make([]float64, len(s.shared.Charges))
		for c, charge := range s.shared.Charges {
			p[i][c] = fine * float64(charge.Cost) / float64(len(s.ends))
		}
	}
	return p
}

// handOver moves parts of charges from those who do not use them to those who
// do, by a step along the subgradient whose length goes by the gap between the
// bounds (B. T. Polyak's rule); false if all charges are used by all or by none.
func (s *joint) handOver(p parts, used [][]bool, gap float64) bool {
	norm := 0.0
	share := make([]float64, len(s.shared.Charges)) // of the travellers that use a charge
	for c := range share {
		for i := range used {
			if used[i][c] {
				share[c] += 1 / float64(len(used))
			}
		}
		norm += float64(len(used)) * share[c] * (1 - share[c])
	}
	if norm < 1e-9 {
		return false
	}
	step := max(fine*gap/norm, 1)
	for c := range share {
		if share[c] == 0 || share[c] == 1 {
			continue
		}
		for i := range used {
			if used[i][c] {
				p[i][c] += step * (1 - share[c])
			} else {
				p[i][c] -= step * share[c]
			}
		}
		p.settle(c)
	}
	return true
}

// settle makes the parts of a charge, whose sum is right, not negative: what
// is missing below zero is taken from the others alike.
func (p parts) settle(c int) {
	for {
		missing, above := 0.0, 0
		for i := range p {
			if p[i][c] < 0 {
				missing, p[i][c] = missing-p[i][c], 0
			} else if p[i][c] > 0 {
				above++
			}
		}
		if missing < 1e-9 || above == 0 {
			return
		}
		for i := range p {
			if p[i][c] > 0 {
				p[i][c] -= missing / float64(above)
			}
		}
	}
}

// bound finds each traveller's way with his parts of the charges; the sum is
// less than or equal to what the case costs.
func (s *joint) bound(d decisions, part parts) (sum uint64, ways [][]int32, ok bool) {
	for c, paid := range d.paid {
		if paid {
			sum += fine * uint64(s.shared.Charges[c].Cost)
		}
	}
	for i, e := range s.ends {
		t := s.g.toward(e[0], e[1], s.objective, fine, s.ahead[i], func(arc int32) (uint32, bool) {
			c := s.shared.Of[arc]
			switch {
			case c < 0:
				return 0, true
			case d.barred[i] != nil && d.barred[i][c]:
				return 0, false
			case d.paid[c]:
				return 0, true
			}
			return uint32(part[i][c]) / max(1, s.crossing[c]), true
		})
		if t.Cost(e[1]) == Far {
			return 0, nil, false
		}
		sum += uint64(t.Cost(e[1]))
		ways = append(ways, t.Way(e[1]))
	}
	return (sum + fine - 1) / fine, ways, true // costs are whole
}

// users says which traveller's way meets which charge.
func (s *joint) users(ways [][]int32) [][]bool {
	used := make([][]bool, len(ways))
	for i, way := range ways {
		used[i] = make([]bool, len(s.shared.Charges))
		for _, arc := range way {
			if c := s.shared.Of[arc]; c >= 0 {
				used[i][c] = true
			}
		}
	}
	return used
}

// crowded is a charge that more travellers use than may, or -1.
func (s *joint) crowded(used [][]bool) int32 {
	for c, charge := range s.shared.Charges {
		users := 0
		for i := range used {
			if used[i][c] {
				users++
			}
		}
		if charge.Most > 0 && users > charge.Most {
			return int32(c)
		}
	}
	return -1
}

// keep remembers the ways if nobody is crowded and they are the cheapest yet.
func (s *joint) keep(ways [][]int32, used [][]bool) {
	if s.crowded(used) >= 0 {
		return
	}
	sum := uint64(0)
	for _, way := range ways {
		for _, arc := range way {
			sum += uint64(s.price[arc])
		}
	}
	for c, charge := range s.shared.Charges {
		if slices.ContainsFunc(used, func(by []bool) bool { return by[c] }) {
			sum += uint64(charge.Cost)
		}
	}
	if sum < s.best.Cost {
		s.best.Cost, s.best.Ways = sum, ways
	}
}

// divide splits the case: by who of too many must go another way, or by paying
// or not paying a charge whose parts do not cover it.
func (s *joint) divide(d decisions, part parts, used [][]bool, atLeast uint64) {
	if c := s.crowded(used); c >= 0 {
		for i := range used {
			if used[i][c] {
				n := d.clone()
				n.bar(i, c)
				s.solve(n, part.clone(), atLeast, laterRounds)
			}
		}
		return
	}
	c := s.leastCovered(d, part, used)
	if c < 0 {
		return // the ways cost just what the bound says
	}
	n := d.clone()
	n.paid[c] = true
	s.solve(n, part.clone(), atLeast, laterRounds)
	n = d.clone()
	for i := range s.ends {
		n.bar(i, c)
	}
	s.solve(n, part.clone(), atLeast, laterRounds)
}

// leastCovered is the used and undecided charge that the parts of its users
// leave most open, or -1.
func (s *joint) leastCovered(d decisions, part parts, used [][]bool) int32 {
	best, open := int32(-1), int64(0)
	for c, charge := range s.shared.Charges {
		if d.paid[c] {
			continue
		}
		gap, users := int64(fine*charge.Cost), 0
		for i := range used {
			if used[i][c] {
				gap -= int64(uint32(part[i][c]) / max(1, s.crossing[c]))
				users++
			}
		}
		if users > 0 && gap > open {
			best, open = int32(c), gap
		}
	}
	return best
}
