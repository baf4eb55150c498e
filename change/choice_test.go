package change_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"strapper/change"
	"strapper/kit"
	"strapper/wiring"
)

// A choice is what is decided before nets are put on cores: a switch for every
// place, an arrangement for every group, and the cables that are run.
type choice struct {
	fits   []fitting
	nets   int            // all of them
	needs  []uint         // by net: the boxes it must reach
	twin   map[int]int    // of two nets that may change names: the second to the first
	new    []core         // the cores of the cables that are run
	runs   []change.Cable // those cables, each with the one kind chosen
	forced []bool         // by box: something changes there in any case
	cost   int64          // of what is decided
}

// A fitting is the switch at a place with the net of each terminal.
type fitting struct {
	place int
	kind  *kit.Accessory
	turns [][]int // ways to turn it
	nets  []int   // by terminal, in the order of the kind of switch; none: nothing is landed
	joint []int   // by terminal: its joint as found if the switch stays; none if alone
	stays bool
}

func kindOf(a *kit.Accessory) switchKind {
	for _, k := range []switchKind{oneWay, twoWay, intermediate} {
		if k.name == a.ID {
			return k
		}
	}
	panic("a kind of switch that the exhaustive search does not know: " + a.ID)
}

var networkCache sync.Map // of lists of arrangements, by the names of the kinds

// networks are the arrangements for some kinds of switch in which no terminal
// is needless, one of each that differ only by turning switches.
func networks(kinds []switchKind) []arrangement {
	p := newPlan(kinds...)
	if list, ok := networkCache.Load(p.name()); ok {
		return list.([]arrangement)
	}
	found := map[string]arrangement{}
	p.arrangements(func(a arrangement) {
		for _, l := range p.freed(a) {
			l = p.turnedBest(l)
			found[fmt.Sprint(l)] = l
		}
	})
	var list []arrangement
	for _, key := range slices.Sorted(maps.Keys(found)) {
		list = append(list, found[key])
	}
	networkCache.Store(p.name(), list)
	return list
}

// freed takes terminals out of their joints until each that is left is needed,
// in every way.
func (p *plan) freed(a arrangement) []arrangement {
	seen := map[string]bool{}
	var list []arrangement
	var free func(a arrangement)
	free = func(a arrangement) {
		if key := fmt.Sprint(a); seen[key] {
			return
		} else {
			seen[key] = true
		}
		needed := true
		for e := firstTerminal; e < len(a); e++ {
			b := slices.Clone(a)
			b[e] = none
			if a[e] != none && p.toggles(p.lit(p.landed(b), a.joints())) {
				needed = false
				free(b)
			}
		}
		if needed {
			list = append(list, a)
		}
	}
	free(a)
	return list
}

// landed is the network of the terminals that are in a joint.
func (p *plan) landed(a arrangement) network {
	return slices.DeleteFunc(p.network(a), func(c part) bool { return c.a == none || c.b == none })
}

// turnedBest is the first in order of all that differ by turning switches.
func (p *plan) turnedBest(a arrangement) arrangement {
	var best arrangement
	inOrder := make([]int, len(p.kinds))
	for i := range inOrder {
		inOrder[i] = i
	}
	p.turned(a, inOrder, 0, slices.Clone(a[:firstTerminal]), func(b arrangement) {
		if best == nil || slices.Compare(b, best) < 0 {
			best = b
		}
	})
	return best
}

// at is the part of an arrangement that a place has.
func (p *plan) at(a arrangement, place int) []int {
	return a[p.first[place] : p.first[place]+len(p.kinds[place].terminals)]
}

// twins finds joints that can change names with no more than turning switches.
func (p *plan) twins(a arrangement) map[int]int {
	twin := map[int]int{}
	for v := firstTerminal; v < a.joints(); v++ {
		for u := firstTerminal; u < v; u++ {
			b := slices.Clone(a)
			for i, j := range a {
				switch j {
				case u:
					b[i] = v
				case v:
					b[i] = u
				}
			}
			if _, done := twin[v]; !done && p.byPlace(a) == p.byPlace(b) {
				twin[v] = u
			}
		}
	}
	return twin
}

// byPlace names an arrangement by the joints at each place, however turned.
func (p *plan) byPlace(a arrangement) string {
	var key strings.Builder
	for place, k := range p.kinds {
		var best []int
		for _, turn := range k.turns {
			if t := turnedBy(p.at(a, place), turn); best == nil || slices.Compare(t, best) < 0 {
				best = t
			}
		}
		fmt.Fprint(&key, best)
	}
	return key.String()
}

func turnedBy(list, turn []int) []int {
	out := make([]int, len(turn))
	for i, t := range turn {
		out[i] = list[t]
	}
	return out
}

// choices lists everything that can be decided beforehand, the cheapest first.
func (m *model) choices() []choice {
	base := choice{nets: m.nets, needs: slices.Clone(m.needs), twin: map[int]int{}, forced: make([]bool, len(m.boxes))}
	for i, r := range m.boxes {
		base.forced[i] = r.changed
	}
	base.cost = int64(len(m.out)) * m.cost.fitting
	list := []choice{base}
	for g := range m.ask.Groups {
		var more []choice
		for _, c := range list {
			more = append(more, m.arranged(c, g)...)
		}
		list = more
	}
	for _, could := range m.ask.Could.Cables {
		var more []choice
		for _, c := range list {
			more = append(more, c)
			if !m.walledOff(could) {
				more = append(more, m.ran(c, could)...)
			}
		}
		list = more
	}
	for i := range list {
		m.settle(&list[i])
	}
	slices.SortStableFunc(list, func(a, b choice) int { return int(a.cost - b.cost) })
	return list
}

// arranged adds the switches and the arrangement of one group.
func (m *model) arranged(c choice, group int) []choice {
	var mine []int
	for i, p := range m.places {
		if p.group == group {
			mine = append(mine, i)
		}
	}
	var list []choice
	kinds := make([]*kit.Accessory, len(mine))
	var choose func(n int)
	choose = func(n int) {
		if n == len(mine) {
			list = append(list, m.wired(c, group, mine, kinds)...)
			return
		}
		for _, k := range m.places[mine[n]].kinds {
			kinds[n] = k
			choose(n + 1)
		}
	}
	choose(0)
	return list
}

func (m *model) wired(c choice, group int, mine []int, kinds []*kit.Accessory) []choice {
	known := make([]switchKind, len(kinds))
	for i, k := range kinds {
		known[i] = kindOf(k)
	}
	p := newPlan(known...)
	var list []choice
	for _, a := range networks(known) {
		n := c.copy()
		net := func(joint int) int {
			switch joint {
			case none:
				return none
			case theLine:
				return m.line(m.circuit(group))
			case theLamp:
				return m.switched(group)
			}
			return c.nets + joint - firstTerminal
		}
		n.nets += a.joints() - firstTerminal
		n.needs = append(n.needs, make([]uint, n.nets-len(n.needs))...)
		for v, u := range p.twins(a) {
			n.twin[net(v)] = net(u)
		}
		wasteful := false
		for i, place := range mine {
			f := m.fitted(place, kinds[i], p.at(a, i), net)
			wasteful = wasteful || m.wasteful(f)
			m.apply(&n, f)
		}
		if !wasteful {
			list = append(list, n)
		}
	}
	return list
}

func (c choice) copy() choice {
	c.fits, c.needs, c.twin, c.forced = slices.Clone(c.fits), slices.Clone(c.needs), maps.Clone(c.twin), slices.Clone(c.forced)
	c.new, c.runs = slices.Clone(c.new), slices.Clone(c.runs)
	return c
}

func (m *model) fitted(at int, kind *kit.Accessory, joints []int, net func(int) int) fitting {
	p := m.places[at]
	k := kindOf(kind)
	f := fitting{place: at, kind: kind, turns: k.turns, stays: p.found != nil && p.found.Kind == kind}
	for i, j := range joints {
		f.nets = append(f.nets, net(j))
		f.joint = append(f.joint, none)
		if f.stays {
			f.joint[i] = m.meetingOf(wiring.End{Box: m.boxes[p.box].id, Item: p.found.ID, Name: k.terminals[i]})
		}
	}
	return f
}

// wasteful reports a new switch with an empty terminal where one with fewer
// terminals may be fitted at the same effort.
func (m *model) wasteful(f fitting) bool {
	used := 0
	for _, n := range f.nets {
		if n != none {
			used++
		}
	}
	return !f.stays && slices.ContainsFunc(m.places[f.place].kinds, func(k *kit.Accessory) bool {
		p := m.places[f.place]
		return len(kindOf(k).terminals) == used && used < len(f.nets) && (p.found == nil || p.found.Kind != k)
	})
}

func (m *model) apply(c *choice, f fitting) {
	c.fits = append(c.fits, f)
	box := m.places[f.place].box
	for _, n := range f.nets {
		if n != none {
			c.needs[n] |= 1 << box
		}
	}
	if !f.stays {
		c.cost += m.cost.fitting
		c.forced[box] = true
	}
}

func (m *model) walledOff(c change.Cable) bool {
	return slices.ContainsFunc(m.ask.Limits.Walls, func(l change.Limit) bool { return slices.Contains(c.Walls, l.Name) })
}

// ran adds a cable, of each kind it may be.
func (m *model) ran(c choice, could change.Cable) []choice {
	var list []choice
	for _, k := range could.Kinds {
		n := c.copy()
		w := &wiring.Cable{ID: could.ID, Kind: k, From: could.From, To: could.To, Length: could.Length, Tolerance: could.Tolerance}
		for i := range k.Cores {
			if !k.Cores[i].Earth {
				n.new = append(n.new, core{cable: w, colour: k.Cores[i].Colour, from: m.box[w.From], to: m.box[w.To], joint: [2]int{none, none}, net: none, fresh: true})
				n.cost += 2 * m.cost.fresh
			}
		}
		n.forced[m.box[w.From]], n.forced[m.box[w.To]] = true, true
		n.runs = append(n.runs, could)
		list = append(list, n)
	}
	return list
}

// settle adds the cost of walls and runs.
func (m *model) settle(c *choice) {
	walls := map[string]bool{}
	for _, r := range c.runs {
		for _, w := range r.Walls {
			walls[w] = true
		}
		metres := float64(r.Length) / 1000
		c.cost += int64((r.Minutes+change.Usual().CableMetre*metres)*10 + 0.5)
	}
	c.cost += int64(len(walls)) * m.cost.wall
}

// barred reports that something must change in a box where nothing may.
func (m *model) barred(c *choice) bool {
	for i, r := range m.boxes {
		if c.forced[i] && r.closed {
			return true
		}
	}
	return false
}
