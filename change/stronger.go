package change

import (
	"slices"

	"strapper/internal/sat"
	"strapper/switching"
)

// What is in this file follows from the other clauses, or takes one of several
// ways that are the same but for names. It makes the search fast, not right.

// sameCores breaks the symmetry of the cores of a new cable: nets that are
// identified alike go to its cores in order.
func (m *model) sameCores() {
	for w := range m.wires {
		if m.cables[m.wires[w].cable].found != nil {
			continue
		}
		for v := w + 1; v < len(m.wires) && m.wires[v].cable == m.wires[w].cable; v++ {
			m.inOrder(w, v)
		}
	}
}

func (m *model) inOrder(w, v int) {
	for a := range m.nets {
		if m.nets[a].neutral {
			continue
		}
		for b := a + 1; b < len(m.nets); b++ {
			if !m.nets[b].neutral && m.says(w, a) == m.says(w, b) && m.says(v, a) == m.says(v, b) {
				m.s.Add(m.carry[w][b].Not(), m.carry[v][a].Not())
			}
		}
	}
	if alike := m.wires[w].core.Colour != m.wires[v].core.Colour; alike && !m.says(v, 0) { // the first is not left empty
		for a := range m.nets {
			if !m.nets[a].neutral {
				m.some(append(slices.Clone(m.carry[w]), m.carry[v][a].Not())...)
			}
		}
	}
}

// mostCountedPlaces bounds the counting of cores by sets of places.
const mostCountedPlaces = 6

// enoughCores says for sets of switch boxes that the cables that leave them
// have as many cores as there are nets that must: a count that clauses about
// single nets would only arrive at by trying.
func (m *model) enoughCores() {
	for _, g := range m.groups {
		n := len(g.slots)
		if n < 2 || n > mostCountedPlaces || g.rule() != switching.RuleToggle {
			continue
		}
		boxes := m.boxesOf(g)
		for set := 1; set < 1<<len(boxes); set++ {
			in := func(b int) bool {
				i := slices.Index(boxes, b)
				return i >= 0 && set>>i&1 == 1
			}
			m.coresOut(g, boxes, set, in)
		}
	}
}

func (m *model) boxesOf(g *group) []int {
	var list []int
	for _, i := range g.slots {
		if b := m.slots[i].box; !slices.Contains(list, b) {
			list = append(list, b)
		}
	}
	return list
}

// coresOut asks for the cores of one set of boxes; for a single box a fourth, if
// its switch is not at an end of the chain.
func (m *model) coresOut(g *group, boxes []int, set int, in func(int) bool) {
	always := m.sidesOf(in, func(d need) bool { return d.lit == 0 })
	least := m.leastAcross(g, in, always, len(m.groups) == 1)
	have, runs := m.acrossNow(in)
	k := newCounter(m, runs)
	if least > have {
		m.s.Add(k.atLeast(0, least-have))
	}
	if set&(set-1) != 0 || len(m.groups) > 1 {
		return
	}
	place := -1
	for p, i := range g.slots {
		if in(m.slots[i].box) {
			if place >= 0 {
				return
			}
			place = p
		}
	}
	if more := 4 - have; more > 0 && len(g.slots) > 2 && !m.somethingHome(g, in) {
		at := m.place[g.index][place]
		m.s.Add(at[0], at[len(at)-1], k.atLeast(0, more))
	}
}

// somethingHome reports whether a net of the group has a terminal of something
// else in the set, so that it need not leave it.
func (m *model) somethingHome(g *group, in func(int) bool) bool {
	for _, n := range []int{g.feed, g.switched} {
		for _, d := range m.needs[n] {
			if d.lit == 0 && in(d.box) {
				return true
			}
		}
	}
	return false
}

// acrossNow counts the cores found between a set and the rest, and lists the
// runs that could be added there.
func (m *model) acrossNow(in func(int) bool) (have int, runs []*Cable) {
	for w := range m.wires {
		c := &m.cables[m.wires[w].cable]
		if in(c.sides[0]) == in(c.sides[1]) {
			continue
		}
		if c.found != nil {
			have++
		} else if !slices.Contains(runs, c.run) {
			runs = append(runs, c.run)
		}
	}
	return have, runs
}

// A counter makes literals that say that some runs together have enough cores.
type counter struct {
	m    *model
	runs [][]choice // by run: kinds, most cores first
	done map[[2]int]sat.Lit
}

type choice struct {
	taken sat.Lit
	cores int
}

func newCounter(m *model, runs []*Cable) *counter {
	k := &counter{m: m, done: map[[2]int]sat.Lit{}}
	for _, r := range runs {
		var list []choice
		for i := range m.cables {
			if m.cables[i].run == r {
				list = append(list, choice{m.taken[i], m.coresOf(i)})
			}
		}
		slices.SortFunc(list, func(a, b choice) int { return b.cores - a.cores })
		k.runs = append(k.runs, list)
	}
	return k
}

func (m *ground) coresOf(cable int) (n int) {
	for w := range m.wires {
		if m.wires[w].cable == cable {
			n++
		}
	}
	return n
}

// atLeast is a literal that is false unless the runs from i on have n cores.
func (k *counter) atLeast(i, n int) sat.Lit {
	if n <= 0 {
		return k.m.yes
	}
	if i == len(k.runs) {
		return k.m.yes.Not()
	}
	if l, ok := k.done[[2]int{i, n}]; ok {
		return l
	}
	l := k.m.s.Var()
	k.done[[2]int{i, n}] = l
	clause := []sat.Lit{l.Not()}
	for _, c := range k.runs[i] {
		k.m.s.Add(append(slices.Clone(clause), k.atLeast(i+1, n-c.cores))...)
		clause = append(clause, c.taken)
	}
	k.m.s.Add(append(clause, k.atLeast(i+1, n))...)
	return l
}
