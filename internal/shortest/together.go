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
// meant for a handful of travellers and some tens of charges that matter.
func (g *Graph) Together(objective int, ends [][2]int32, shared Shared, most int) Joint {
	if most <= 0 {
		most = 20_000
	}
	s := joint{g: g, objective: objective, ends: ends, shared: shared, left: most, best: Joint{Cost: math.MaxUint64, AtLeast: math.MaxUint64, Exact: true}}
	s.crossings()
	s.solve(decisions{paid: make([]bool, len(shared.Charges)), barred: make([][]bool, len(ends))}, 0)
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

// rounds is how often the parts of the charges are handed round in one case.
const rounds = 4

// solve looks at one case, which is known to cost at least so much: bound it,
// keep what it finds, divide it.
func (s *joint) solve(d decisions, atLeast uint64) {
	if s.left--; s.left < 0 {
		s.best.Exact, s.best.AtLeast = false, min(s.best.AtLeast, atLeast)
		return
	}
	part := s.equalParts()
	for round := 1; ; round++ {
		bound, ways, ok := s.bound(d, part)
		if !ok {
			return
		}
		used := s.users(ways)
		s.keep(ways, used)
		if atLeast = max(atLeast, bound); atLeast >= s.best.Cost {
			return
		}
		if round == rounds || !s.handOver(part, used) {
			s.divide(d, part, used, atLeast)
			return
		}
	}
}

// equalParts divides each charge among the travellers.
func (s *joint) equalParts() [][]uint32 {
	part := make([][]uint32, len(s.ends))
	for i := range part {
		part[i] = make([]uint32, len(s.shared.Charges))
		for c, charge := range s.shared.Charges {
			part[i][c] = charge.Cost / uint32(len(s.ends)) / max(1, s.crossing[c])
		}
	}
	return part
}

// handOver gives the whole of each charge to those who use it; false if no part
// changed.
func (s *joint) handOver(part [][]uint32, used [][]bool) (changed bool) {
	for c, charge := range s.shared.Charges {
		users := uint32(0)
		for i := range used {
			if used[i][c] {
				users++
			}
		}
		if users == 0 {
			continue
		}
		for i := range used {
			p := uint32(0)
			if used[i][c] {
				p = charge.Cost / users / max(1, s.crossing[c])
			}
			changed = changed || p != part[i][c]
			part[i][c] = p
		}
	}
	return changed
}

// bound finds each traveller's way with his parts of the charges; the sum is
// less than or equal to what the case costs.
func (s *joint) bound(d decisions, part [][]uint32) (sum uint64, ways [][]int32, ok bool) {
	for c, paid := range d.paid {
		if paid {
			sum += uint64(s.shared.Charges[c].Cost)
		}
	}
	for i, e := range s.ends {
		t := s.g.Priced(e[0], e[1], s.objective, func(arc int32) (uint32, bool) {
			c := s.shared.Of[arc]
			switch {
			case c < 0:
				return 0, true
			case d.barred[i] != nil && d.barred[i][c]:
				return 0, false
			case d.paid[c]:
				return 0, true
			}
			return part[i][c], true
		})
		if t.Cost(e[1]) == Far {
			return 0, nil, false
		}
		sum += uint64(t.Cost(e[1]))
		ways = append(ways, t.Way(e[1]))
	}
	return sum, ways, true
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
func (s *joint) divide(d decisions, part [][]uint32, used [][]bool, atLeast uint64) {
	if c := s.crowded(used); c >= 0 {
		for i := range used {
			if used[i][c] {
				n := d.clone()
				n.bar(i, c)
				s.solve(n, atLeast)
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
	s.solve(n, atLeast)
	n = d.clone()
	for i := range s.ends {
		n.bar(i, c)
	}
	s.solve(n, atLeast)
}

// leastCovered is the used and undecided charge that the parts of its users
// leave most open, or -1.
func (s *joint) leastCovered(d decisions, part [][]uint32, used [][]bool) int32 {
	best, open := int32(-1), int64(0)
	for c, charge := range s.shared.Charges {
		if d.paid[c] {
			continue
		}
		gap, users := int64(charge.Cost), 0
		for i := range used {
			if used[i][c] {
				gap -= int64(part[i][c])
				users++
			}
		}
		if users > 0 && gap > open {
			best, open = int32(c), gap
		}
	}
	return best
}
