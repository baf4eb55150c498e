package change

import (
	"slices"

	"strapper/internal/sat"
)

// connectFirst adds the nearest cuts: a net that must be in two boxes leaves
// each of them.
func (m *model) connectFirst() {
	for n := range m.nets {
		list := m.needs[n]
		for a := range list {
			for b := range a {
				if list[a].box == list[b].box || m.rooted(n) && list[a].lit != 0 && list[b].lit != 0 {
					continue
				}
				m.leaves(n, list[a], list[b])
				m.leaves(n, list[b], list[a])
			}
		}
	}
}

// rooted reports whether a net must be somewhere whatever is chosen.
func (m *model) rooted(n int) bool {
	return slices.ContainsFunc(m.needs[n], func(d need) bool { return d.lit == 0 })
}

func (m *model) leaves(n int, at, other need) {
	clause := m.unless(at, other)
	for _, e := range m.boxes[at.box].ends {
		clause = append(clause, m.carry[e.wire][n])
	}
	m.s.Add(clause...)
}

func (m *model) unless(list ...need) []sat.Lit {
	var clause []sat.Lit
	for _, d := range list {
		if d.lit != 0 {
			clause = append(clause, d.lit.Not())
		}
	}
	return clause
}

// holds reports whether a need is there in the last model.
func (m *model) needed(d need) bool { return d.lit == 0 || m.s.Value(d.lit) }

// connect looks for nets that are not in one piece in the last model and adds
// the cuts that they cross too few times; it reports whether there were any.
func (m *model) connect() bool {
	added := false
	for n := range m.nets {
		if m.connectNet(n) {
			added = true
		}
	}
	return added
}

func (m *model) connectNet(n int) bool {
	piece := make([]int, len(m.boxes))
	for b := range piece {
		piece[b] = b
	}
	var carrying []int
	for w := range m.wires {
		if !m.s.Value(m.carry[w][n]) {
			continue
		}
		carrying = append(carrying, w)
		sides := m.cables[m.wires[w].cable].sides
		from, to := piece[sides[0]], piece[sides[1]]
		for b := range piece {
			if piece[b] == from {
				piece[b] = to
			}
		}
	}
	first := slices.IndexFunc(m.needs[n], func(d need) bool { return d.lit == 0 })
	if first < 0 {
		first = slices.IndexFunc(m.needs[n], m.needed)
	}
	if first < 0 {
		return m.unused(n, carrying)
	}
	return m.separate(n, piece, carrying, m.needs[n][first])
}

// unused: a core carries only a net that is needed somewhere.
func (m *model) unused(n int, carrying []int) bool {
	for _, w := range carrying {
		clause := []sat.Lit{m.carry[w][n].Not()}
		for _, d := range m.needs[n] {
			clause = append(clause, d.lit)
		}
		m.s.Add(clause...)
	}
	return len(carrying) > 0
}

// separate: what is apart from the first need must be joined to it, or not be.
func (m *model) separate(n int, piece, carrying []int, first need) bool {
	done := map[int]bool{piece[first.box]: true}
	added := false
	cut := func(b int, because ...sat.Lit) {
		if done[piece[b]] {
			return
		}
		done[piece[b]], added = true, true
		m.cross(n, piece, piece[b], append(m.unless(first), because...))
		m.cross(n, piece, piece[first.box], append(m.unless(first), because...))
	}
	for _, d := range m.needs[n] {
		if m.needed(d) {
			cut(d.box, m.unless(d)...)
		}
	}
	for _, w := range carrying {
		cut(m.cables[m.wires[w].cable].sides[0], m.carry[w][n].Not())
	}
	return added
}

// cross: some core that leaves the piece carries the net.
func (m *model) cross(n int, piece []int, side int, clause []sat.Lit) {
	clause = slices.Clone(clause)
	for w := range m.wires {
		sides := m.cables[m.wires[w].cable].sides
		if (piece[sides[0]] == side) != (piece[sides[1]] == side) {
			clause = append(clause, m.carry[w][n])
		}
	}
	m.s.Add(clause...)
}
