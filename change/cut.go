package change

import (
	"slices"
	"strings"

	"strapper/switching"
)

// A Cut says that too few cores run between two parts of the house.
type Cut struct {
	Here   []string `json:"here"`   // the boxes on one side, by name
	Cores  int      `json:"cores"`  // that run across, runs that are offered and within the limits among them
	Needed int      `json:"needed"` // at the least, whatever the arrangement
}

// mostCutBoxes and mostCutPlaces bound the counting.
const (
	mostCutBoxes  = 12
	mostCutPlaces = 5
)

// shortOfCores looks for a part of the house with too few cores to the rest,
// and returns the one that lacks most; nil if counting alone shows nothing.
func (m *model) shortOfCores() *Cut {
	if len(m.boxes) > mostCutBoxes || slices.ContainsFunc(m.groups, func(g *group) bool { return len(g.slots) > mostCutPlaces }) {
		return nil
	}
	var best *Cut
	for part := 1; part < 1<<(len(m.boxes)-1); part++ {
		in := func(b int) bool { return part>>b&1 == 1 }
		cores, needed := m.coresAcross(in), m.netsAcross(in)
		if lack := needed - cores; lack > 0 && (best == nil || lack > best.Needed-best.Cores) {
			best = &Cut{Here: m.namesIn(in), Cores: cores, Needed: needed}
		}
	}
	return best
}

// namesIn lists the smaller side of a cut.
func (m *model) namesIn(in func(int) bool) []string {
	var here, there []string
	for b := range m.boxes {
		if in(b) {
			here = append(here, m.called(b))
		} else {
			there = append(there, m.called(b))
		}
	}
	if len(there) < len(here) {
		return there
	}
	return here
}

// coresAcross counts the cores between the two sides; a run that could be
// taken counts with its largest kind.
func (m *model) coresAcross(in func(int) bool) (n int) {
	most := map[*Cable]int{}
	byCable := make([]int, len(m.cables))
	for w := range m.wires {
		byCable[m.wires[w].cable]++
	}
	for i := range m.cables {
		c := &m.cables[i]
		switch {
		case in(c.sides[0]) == in(c.sides[1]) || m.barred(c):
		case c.found != nil:
			n += byCable[i]
		case byCable[i] > most[c.run]:
			n += byCable[i] - most[c.run]
			most[c.run] = byCable[i]
		}
	}
	return n
}

// barred reports whether a limit keeps a run from being taken.
func (m *model) barred(c *cable) bool {
	if c.run == nil {
		return false
	}
	named := func(list []Limit, name string) bool {
		return slices.ContainsFunc(list, func(l Limit) bool { return l.Name == name })
	}
	return named(m.ask.Limits.Closed, c.run.From) || named(m.ask.Limits.Closed, c.run.To) ||
		slices.ContainsFunc(c.run.Walls, func(w string) bool { return named(m.ask.Limits.Walls, w) })
}

// netsAcross is the least number of nets that must be on both sides.
func (m *model) netsAcross(in func(int) bool) int {
	always := m.sidesOf(in, func(d need) bool { return d.lit == 0 })
	if len(m.groups) == 1 {
		return m.leastAcross(m.groups[0], in, always, true)
	}
	n := 0
	for _, s := range always {
		if s == 3 {
			n++
		}
	}
	for _, g := range m.groups {
		n += m.leastAcross(g, in, always, false)
	}
	return n
}

// sidesOf notes for every net on which sides it is: 1, 2, or 3 for both.
func (m *model) sidesOf(in func(int) bool, take func(need) bool) []int {
	sides := make([]int, len(m.nets))
	for n := range m.nets {
		for _, d := range m.needs[n] {
			if take(d) {
				sides[n] |= side(in(d.box))
			}
		}
	}
	return sides
}

func side(in bool) int {
	if in {
		return 1
	}
	return 2
}

// leastAcross goes through the arrangements of a group. All nets are counted
// if the group is alone; else only its own.
func (m *model) leastAcross(g *group, in func(int) bool, always []int, alone bool) int {
	least := len(m.nets) + 1
	each := func(land func(mark func(place int, nets ...int))) {
		sides := slices.Clone(always)
		land(func(place int, nets ...int) {
			for _, n := range nets {
				sides[n] |= side(in(m.slots[g.slots[place]].box))
			}
		})
		count := 0
		for n, s := range sides {
			if s == 3 && (alone || always[n] != 3 && m.owns(g, n)) {
				count++
			}
		}
		least = min(least, count)
	}
	n := len(g.slots)
	if n == 1 || g.rule() != switching.RuleToggle {
		each(func(mark func(int, ...int)) {
			if n == 1 || g.rule() == switching.RuleAny {
				for p := range n {
					mark(p, g.feed, g.switched)
				}
			}
		})
		return least
	}
	chains := g.chains()
	for order := range orders(n) {
		if !m.standsIn(g, order, chains[0]) {
			continue
		}
		for _, stands := range chains {
			each(func(mark func(int, ...int)) {
				for k, at := range stands {
					mark(order[k], at.nets...)
				}
			})
		}
	}
	if least > len(m.nets) { // no order at all: it is not the cores that lack
		return 0
	}
	return least
}

// chains lists what the switches do along a chain, by tap.
func (g *group) chains() [][]stand {
	list := make([][]stand, len(g.slots))
	for tap := range list {
		for k := range g.slots {
			list[tap] = append(list[tap], g.stand(k, tap))
		}
	}
	return list
}

// standsIn reports whether each place has a switch for where it stands in a
// chain.
func (m *model) standsIn(g *group, order []int, stands []stand) bool {
	for k, p := range order {
		if !slices.ContainsFunc(m.slots[g.slots[p]].options, func(o option) bool { return o.part == stands[k].part }) {
			return false
		}
	}
	return true
}

func (m *model) owns(g *group, n int) bool {
	if n == g.switched || n == g.common {
		return true
	}
	return slices.ContainsFunc(g.rails, func(r [2]int) bool { return r[0] == n || r[1] == n })
}

// orders yields the permutations of n things.
func orders(n int) func(yield func([]int) bool) {
	return func(yield func([]int) bool) {
		list := make([]int, n)
		for i := range list {
			list[i] = i
		}
		permute(list, 0, yield)
	}
}

func permute(list []int, from int, yield func([]int) bool) bool {
	if from == len(list) {
		return yield(list)
	}
	for i := from; i < len(list); i++ {
		list[from], list[i] = list[i], list[from]
		if !permute(list, from+1, yield) {
			return false
		}
		list[from], list[i] = list[i], list[from]
	}
	return true
}

// String says the count in a sentence.
func (c *Cut) String() string {
	return "between " + strings.Join(c.Here, ", ") + " and the rest of the wiring " + plural(c.Cores, "runs", "run") + " " + number(c.Cores) + " " + plural(c.Cores, "core", "cores") + " that could be used, and at least " + number(c.Needed) + " " + plural(c.Needed, "conductor has", "conductors have") + " to pass"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
