package change

import (
	"slices"

	"strapper/internal/sat"
	"strapper/wiring"
)

// jointsStay: a joint as found becomes the joint of at most one net, and a net
// has in each box at most one joint that was there. One with terminals can only
// become the joint of a net that one of them is on; one without only of a net
// that is on no terminal there: the rule by which wiring.Moves pairs joints.
func (m *model) jointsStay() {
	m.stay = make([][]sat.Lit, len(m.joints))
	m.dead, m.last = make([]sat.Lit, len(m.joints)), make([][]sat.Lit, len(m.joints))
	for j := range m.joints {
		if m.joints[j].single {
			continue
		}
		m.stay[j] = m.vars(len(m.nets))
		m.s.AtMostOne(m.stay[j]...)
		m.matchTerminals(j)
		m.deadJoint(j)
	}
	for b := range m.boxes {
		for n := range m.nets {
			var list []sat.Lit
			for _, j := range m.boxes[b].joints {
				if m.stay[j] != nil {
					list = append(list, m.stay[j][n])
				}
			}
			m.s.AtMostOne(list...)
		}
		m.terminalsJoin(b)
	}
}

// at lists the literals that say a terminal is on a net; yes if it always is.
func (m *model) onNet(e wiring.End, n int) sat.Lit {
	b := &m.boxes[m.boxOf[e.Box]]
	for _, f := range b.fixed {
		if m.fixed[f].end == e {
			if m.fixed[f].net == n {
				return m.yes
			}
			return 0
		}
	}
	for _, f := range b.free {
		if m.free[f] == e {
			return m.freeOn[f][n]
		}
	}
	for _, i := range b.slots {
		if m.slots[i].item == e.Item && m.on[i][e.Name] != nil {
			return m.on[i][e.Name][n]
		}
	}
	return 0
}

// matchTerminals: what a joint as found may become, by its terminals.
func (m *model) matchTerminals(j int) {
	jt := &m.joints[j]
	for n, stays := range m.stay[j] {
		if len(jt.terminals) == 0 {
			for _, l := range m.terminalsOn(jt.box, n) {
				m.s.Add(stays.Not(), l.Not())
			}
			m.someEndStays(jt, n, stays)
			continue
		}
		clause := []sat.Lit{stays.Not()}
		for _, t := range jt.terminals {
			clause = append(clause, m.onNet(t, n))
			m.leavesJoint(t, n, stays, m.open[jt.box])
		}
		m.some(clause...)
	}
}

// someEndStays: a connector of which nothing stays is another one.
func (m *model) someEndStays(jt *joint, n int, stays sat.Lit) {
	clause := []sat.Lit{stays.Not()}
	for _, e := range jt.ends {
		clause = append(clause, m.carry[e.wire][n])
	}
	m.s.Add(clause...)
}

// leavesJoint: a terminal that parts from a joint that stays is touched.
func (m *model) leavesJoint(t wiring.End, n int, stays, open sat.Lit) {
	m.some(stays.Not(), m.onNet(t, n), open)
}

// terminalsOn lists the literals that say some terminal in a box is on a net.
func (m *model) terminalsOn(b, n int) []sat.Lit {
	var list []sat.Lit
	for _, f := range m.boxes[b].fixed {
		if m.fixed[f].net == n {
			list = append(list, m.yes)
		}
	}
	for _, f := range m.boxes[b].free {
		list = append(list, m.freeOn[f][n])
	}
	for _, i := range m.boxes[b].slots {
		list = append(list, m.holds[i][n])
	}
	return list
}

// terminalsJoin: a terminal that comes to a net in another joint than the one
// it was in is touched.
func (m *model) terminalsJoin(b int) {
	join := func(e wiring.End, n int, l sat.Lit) {
		if l == 0 {
			return
		}
		clause := []sat.Lit{l.Not(), m.open[b]}
		if j, ok := m.at[e]; ok && m.stay[j] != nil {
			clause = append(clause, m.stay[j][n])
		}
		m.some(clause...)
	}
	for _, f := range m.boxes[b].fixed {
		join(m.fixed[f].end, m.fixed[f].net, m.yes)
	}
	for _, f := range m.boxes[b].free {
		for n := range m.nets {
			join(m.free[f], n, m.freeOn[f][n])
		}
	}
	for _, i := range m.boxes[b].slots {
		for name, l := range m.sortedOn(i) {
			for n := range m.nets {
				join(wiring.End{Box: m.boxes[b].ID, Item: m.slots[i].item, Name: name}, n, l[n])
			}
		}
	}
}

// sortedOn walks the terminals of a slot in their order in the catalogue.
func (m *model) sortedOn(i int) func(yield func(string, []sat.Lit) bool) {
	return func(yield func(string, []sat.Lit) bool) {
		if m.slots[i].found == nil {
			return
		}
		for _, t := range m.slots[i].found.Kind.Terminals {
			if l := m.on[i][t.Name]; l != nil && !yield(t.Name, l) {
				return
			}
		}
	}
}

// deadJoint: a connector may stay as it is if all that is in it is dead, or
// with the last core in it if that is dead.
func (m *model) deadJoint(j int) {
	jt := &m.joints[j]
	if len(jt.terminals) > 0 || len(jt.ends) < 2 {
		return
	}
	m.dead[j] = m.s.Var()
	m.last[j] = m.vars(len(jt.ends))
	for k, e := range jt.ends {
		for n := range m.nets {
			m.s.Add(m.dead[j].Not(), m.carry[e.wire][n].Not())
			m.s.Add(m.last[j][k].Not(), m.carry[e.wire][n].Not())
			m.s.Add(m.last[j][k].Not(), m.stay[j][n].Not())
		}
	}
	m.s.AtMostOne(append(slices.Clone(m.last[j]), m.dead[j])...)
}

// staysLast is the literal that says an end is left alone in its connector.
func (m *model) staysLast(j, w, side int) sat.Lit {
	for k, e := range m.joints[j].ends {
		if m.last[j] != nil && e == (end{w, side}) {
			return m.last[j][k]
		}
	}
	return 0
}

// endsMove: a core end that is not in a joint that stays is moved; a box in
// which one is moved is opened.
func (m *model) endsMove() {
	m.moved = make([][2]sat.Lit, len(m.wires))
	for w := range m.wires {
		c := &m.cables[m.wires[w].cable]
		if c.found == nil {
			continue
		}
		for side := range 2 {
			l := m.s.Var()
			m.moved[w][side] = l
			m.pay(l, m.w.EndMoved)
			m.s.Phase(l.Not())
			m.s.Add(l.Not(), m.open[c.sides[side]])
			m.endMoves(w, side, l)
		}
	}
}

func (m *model) endMoves(w, side int, moves sat.Lit) {
	j := m.wires[w].joint[side]
	for n, carries := range m.carry[w] {
		if j < 0 {
			m.s.Add(carries.Not(), moves)
		} else {
			m.s.Add(carries.Not(), m.stay[j][n], moves)
		}
	}
	if j < 0 {
		return
	}
	jt := &m.joints[j]
	if len(jt.terminals)+len(jt.ends) == 1 { // parked as it is
		m.withdrawn(w, moves)
		return
	}
	clause := append(slices.Clone(m.carry[w]), moves, m.dead[j], m.staysLast(j, w, side))
	m.some(clause...)
	m.withdrawn(w, moves)
}

// withdrawn: the ends of a cable that is drawn out are taken off.
func (m *model) withdrawn(w int, moves sat.Lit) {
	for i := range m.cables {
		if r := m.cables[i].run; r != nil && r.Replaces != "" && r.Replaces == m.cables[m.wires[w].cable].id {
			m.s.Add(m.taken[i].Not(), moves)
		}
	}
}

// newJoints: two cores of a net in a box without a terminal on it need a
// connector, which costs if it is not one that was there.
func (m *model) newJoints() {
	for b := range m.boxes {
		for n := range m.nets {
			m.newJoint(b, n)
		}
	}
}

func (m *model) newJoint(b, n int) {
	bx := &m.boxes[b]
	terms := m.terminalsOn(b, n)
	if slices.Contains(terms, m.yes) || len(bx.ends) < 2 {
		return
	}
	made := m.s.Var()
	minutes := m.w.JointNew
	if bx.hidden {
		minutes += m.w.JointHidden
	}
	m.pay(made, minutes)
	m.s.Phase(made.Not())
	or := append(slices.Clone(terms), made)
	for _, j := range bx.joints {
		if jt := &m.joints[j]; len(jt.terminals) == 0 && len(jt.ends) > 1 {
			or = append(or, m.stay[j][n])
		}
	}
	for a := range bx.ends {
		for c := range a {
			x, y := bx.ends[a].wire, bx.ends[c].wire
			m.some(append([]sat.Lit{m.carry[x][n].Not(), m.carry[y][n].Not()}, or...)...)
		}
	}
}

// cablesCost: what new cables cost, their walls counted once.
func (m *model) cablesCost() {
	walls := map[string]sat.Lit{}
	for i := range m.cables {
		c := &m.cables[i]
		if c.found != nil {
			continue
		}
		m.pay(m.taken[i], m.cableMinutes(c))
		for _, name := range c.run.Walls {
			if walls[name] == 0 {
				walls[name] = m.s.Var()
				m.pay(walls[name], m.w.WallOpened)
				m.limitWall(name, walls[name])
			}
			m.s.Add(m.taken[i].Not(), walls[name])
		}
	}
}

func (m *model) limitWall(name string, opened sat.Lit) {
	for _, l := range m.ask.Limits.Walls {
		if l.Name == name {
			on := m.addLimit("the wall "+name+" is not to be cut", "if the wall "+name+" may be cut", 0)
			m.s.Add(on.Not(), opened.Not())
		}
	}
}

// cableMinutes is what a new cable costs: its run, its metres and its ends, in
// minutes, as whole tenths.
func (m *ground) cableMinutes(c *cable) float64 {
	live := 0
	for i := range c.kind.Cores {
		if !c.kind.Cores[i].Earth {
			live++
		}
	}
	return float64(m.runTenths(c)+int64(2*live)*tenths(m.w.EndNew)) / 10
}

// runTenths is what running the cable costs, without its ends.
func (m *ground) runTenths(c *cable) int64 {
	return tenths(c.run.Minutes + m.w.CableMetre*float64(c.run.Length)/1000)
}

// wiresCost: bringing spare or doubtful cores into use, and sleeves.
func (m *model) wiresCost() {
	for w := range m.wires {
		m.useCost(w)
		m.sleeveCost(w)
	}
}

func (m *model) useCost(w int) {
	x := &m.wires[w]
	c := &m.cables[x.cable]
	if c.found == nil {
		return
	}
	if x.spare {
		used := m.s.Var()
		m.s.Phase(used.Not())
		m.pay(used, m.spareMinutes(c))
		for _, l := range m.carry[w] {
			m.s.Add(l.Not(), used)
		}
	}
	if slices.Contains(m.ask.Limits.Doubtful, c.id) {
		used := m.s.Var()
		m.pay(used, m.w.DoubtfulUsed)
		for n, l := range m.carry[w] {
			if n != x.was {
				m.s.Add(l.Not(), used)
			}
		}
	}
}

func (m *ground) spareMinutes(c *cable) float64 {
	if old(c.kind) {
		return m.w.SpareUsed + m.w.OldUsed
	}
	return m.w.SpareUsed
}

func (m *model) sleeveCost(w int) {
	var put sat.Lit
	for n, l := range m.carry[w] {
		if n == m.wires[w].was || m.says(w, n) {
			continue
		}
		if put == 0 {
			put = m.s.Var()
			m.s.Phase(put.Not())
			m.pay(put, m.w.Sleeve)
		}
		m.s.Add(l.Not(), put)
	}
}
