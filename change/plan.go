package change

import (
	"cmp"
	"maps"
	"slices"

	"strapper/wiring"
)

// A plan is one model of the clauses, read off.
type plan struct {
	label  []int // by wire: its net, or -1
	taken  []int // cables that are added
	option []int // by slot; -1 if taken out
	order  [][]int
	tap    []int
	open   []bool
	on     map[int]map[int][]wiring.End // by box, net: the terminals on it
}

func sorted[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }

// read takes the plan from the last model.
func (m *model) read() *plan {
	p := &plan{on: map[int]map[int][]wiring.End{}}
	for w := range m.wires {
		p.label = append(p.label, slices.IndexFunc(m.carry[w], m.s.Value))
	}
	for i := range m.cables {
		if m.taken[i] != 0 && m.s.Value(m.taken[i]) {
			p.taken = append(p.taken, i)
		}
	}
	for b := range m.boxes {
		p.open = append(p.open, m.s.Value(m.open[b]))
	}
	for i := range m.slots {
		p.option = append(p.option, slices.IndexFunc(m.pick[i], m.s.Value))
	}
	for g := range m.groups {
		var order []int
		for k := range m.place[g] {
			for q := range m.place[g] {
				if m.s.Value(m.place[g][q][k]) {
					order = append(order, q)
				}
			}
		}
		p.order = append(p.order, order)
		p.tap = append(p.tap, slices.IndexFunc(m.tap[g], m.s.Value))
	}
	m.readTerminals(p)
	return p
}

func (p *plan) put(b, n int, e wiring.End) {
	if p.on[b] == nil {
		p.on[b] = map[int][]wiring.End{}
	}
	p.on[b][n] = append(p.on[b][n], e)
}

// readTerminals notes which terminals each net has in each box. A free
// terminal is used if it was in the joint already, or if there is nothing else
// to join the cores at.
func (m *model) readTerminals(p *plan) {
	for _, f := range m.fixed {
		p.put(f.box, f.net, f.end)
	}
	for g := range m.groups {
		m.readGroup(p, g)
	}
	for i, sl := range m.slots {
		if sl.place != nil && sl.group < 0 {
			m.landed(p, i, sl.nets[:])
		}
	}
	for f, e := range m.free {
		b := m.boxOf[e.Box]
		n := slices.IndexFunc(m.freeOn[f], m.s.Value)
		if n < 0 {
			continue
		}
		j := m.at[e]
		if m.stay[j] != nil && m.s.Value(m.stay[j][n]) || len(p.on[b][n]) == 0 && m.cores(p, b, n) > 1 {
			p.put(b, n, e)
		}
	}
}

// cores counts the cores of a net in a box.
func (m *model) cores(p *plan, b, n int) (count int) {
	for _, e := range m.boxes[b].ends {
		if p.label[e.wire] == n {
			count++
		}
	}
	return count
}

// landed puts the terminals of a slot on the nets of its part.
func (m *model) landed(p *plan, i int, nets []int) {
	sl := m.slots[i]
	o := &sl.options[p.option[i]]
	for k, n := range nets {
		p.put(sl.box, n, wiring.End{Box: m.boxes[sl.box].ID, Item: sl.item, Name: o.terminal[k]})
	}
	if o.neutral != "" {
		p.put(sl.box, m.neutral(sl.circuit), wiring.End{Box: m.boxes[sl.box].ID, Item: sl.item, Name: o.neutral})
	}
}

// readGroup puts the switches of a group on their nets.
func (m *model) readGroup(p *plan, gi int) {
	g := m.groups[gi]
	for k := range g.slots {
		q := k
		if len(p.order[gi]) > 0 {
			q = p.order[gi][k]
		}
		m.landed(p, g.slots[q], g.stand(k, max(p.tap[gi], 0)).nets)
	}
}

// left makes the wiring as left of a plan.
func (m *ground) left(p *plan) *wiring.Installation {
	in := &wiring.Installation{Supply: m.g.Inst.Supply, Circuits: m.g.Inst.Circuits}
	in.Cables = m.cablesLeft(p)
	for b := range m.boxes {
		if bx := m.boxLeft(p, b); bx != nil {
			in.Boxes = append(in.Boxes, bx)
			in.Joints = append(in.Joints, m.jointsLeft(p, b, bx, in)...)
		}
	}
	return in
}

// cablesLeft are those found, without those drawn out, and those added.
func (m *ground) cablesLeft(p *plan) []*wiring.Cable {
	gone := map[string]bool{}
	for _, i := range p.taken {
		gone[m.cables[i].run.Replaces] = true
	}
	var list []*wiring.Cable
	for i := range m.cables {
		if c := &m.cables[i]; c.found != nil && !gone[c.id] {
			list = append(list, c.found)
		}
	}
	for _, i := range p.taken {
		c := &m.cables[i]
		list = append(list, &wiring.Cable{
			ID: c.id, Kind: c.kind, From: c.run.From, To: c.run.To,
			Length: c.run.Length, Routed: c.run.Routed, Tolerance: c.run.Tolerance, Via: c.run.Via,
		})
	}
	return list
}

// boxLeft is a box with what is fitted in it as left; nil if it is not used.
func (m *ground) boxLeft(p *plan, b int) *wiring.Box {
	bx := &m.boxes[b]
	used := !bx.fresh || len(bx.slots) > 0
	for _, i := range p.taken {
		used = used || slices.Contains(m.cables[i].sides[:], b)
	}
	if !used {
		return nil
	}
	copied := *bx.Box
	copied.Fit = slices.Clone(bx.Fit)
	for _, i := range bx.slots {
		m.fit(&copied, m.slots[i], p.option[i])
	}
	return &copied
}

// fit exchanges, adds or takes out the switch of a slot.
func (m *ground) fit(b *wiring.Box, sl *slot, option int) {
	at := slices.IndexFunc(b.Fit, func(f *wiring.Fitted) bool { return f.ID == sl.item })
	switch {
	case sl.place == nil:
		b.Fit = slices.Delete(b.Fit, at, at+1)
	case at < 0:
		b.Fit = append(b.Fit, &wiring.Fitted{ID: sl.item, Kind: sl.options[option].kind})
	case !sl.options[option].same:
		b.Fit[at] = &wiring.Fitted{ID: sl.item, Kind: sl.options[option].kind}
	}
}

// jointsLeft are the joints of a box as left: as found where nothing changes.
func (m *ground) jointsLeft(p *plan, b int, left *wiring.Box, in *wiring.Installation) []wiring.Joint {
	bx := &m.boxes[b]
	list := m.earthJoints(p, b, left)
	if !p.open[b] && !bx.fresh {
		for _, j := range m.g.Inst.Joints {
			if j.Box == bx.ID && !slices.ContainsFunc(j.Ends, m.earthen) {
				list = append(list, j)
			}
		}
		return list
	}
	for n := range m.nets {
		ends := slices.Clone(p.on[b][n])
		for _, e := range bx.ends {
			if p.label[e.wire] == n {
				ends = append(ends, m.ending(e))
			}
		}
		if _, core := m.coreOf(in, ends); len(ends) > 1 || core {
			list = append(list, wiring.Joint{Box: bx.ID, Ends: ends})
		}
	}
	return append(list, m.spareJoints(p, b)...)
}

// coreOf reports whether the only one of some ends is a core.
func (m *ground) coreOf(in *wiring.Installation, ends []wiring.End) (wiring.End, bool) {
	if len(ends) != 1 {
		return wiring.End{}, false
	}
	return ends[0], in.Cable(ends[0].Item) != nil
}

// spareJoints parks the cores that carry nothing. A dead connector stays, and
// so does a loose end.
func (m *ground) spareJoints(p *plan, b int) []wiring.Joint {
	var list []wiring.Joint
	bx := &m.boxes[b]
	there := m.present(p)
	done := map[int]bool{}
	for _, e := range bx.ends {
		w := &m.wires[e.wire]
		if p.label[e.wire] >= 0 || !there[w.cable] {
			continue
		}
		j := w.joint[e.side]
		switch {
		case j < 0 && m.cables[w.cable].found != nil: // loose as it was
		case j >= 0 && m.allDead(p, there, j):
			if !done[j] {
				done[j] = true
				list = append(list, wiring.Joint{Box: bx.ID, Ends: m.endings(m.joints[j].ends)})
			}
		default:
			list = append(list, wiring.Joint{Box: bx.ID, Ends: []wiring.End{m.ending(e)}})
		}
	}
	return list
}

// present says which cables are there as left.
func (m *ground) present(p *plan) []bool {
	there := make([]bool, len(m.cables))
	gone := map[string]bool{}
	for _, i := range p.taken {
		there[i] = true
		gone[m.cables[i].run.Replaces] = true
	}
	for i := range m.cables {
		if c := &m.cables[i]; c.found != nil {
			there[i] = !gone[c.id]
		}
	}
	return there
}

func (m *ground) allDead(p *plan, there []bool, j int) bool {
	jt := &m.joints[j]
	return len(jt.terminals) == 0 && len(jt.ends) > 1 &&
		!slices.ContainsFunc(jt.ends, func(e end) bool { return p.label[e.wire] >= 0 || !there[m.wires[e.wire].cable] })
}

func (m *ground) endings(list []end) []wiring.End {
	ends := make([]wiring.End, len(list))
	for i, e := range list {
		ends[i] = m.ending(e)
	}
	return ends
}
