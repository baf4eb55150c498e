package change_test

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// The exhaustive check of what arrangements of contacts there are. It knows
// nothing of chains while it looks: terminals of the given switches, the line
// and the switched line are put into joints in every possible way, and what
// gives toggle control is kept.
//
// Source of the function: lit in one of the two classes of states in which an
// even or an odd number of switches is moved, C. E. Shannon, "A Symbolic
// Analysis of Relay and Switching Circuits", Trans. AIEE 57 (1938) 713, sum
// modulo two. Contacts needed: 4(n-1), the same paper; that fewer do not do:
// C. Cardot, Ann. Telecommun. 7 (1952) 75.

// A part is one contact of a switch at some place: it joins two terminals (or,
// in a network, two joints) in one of the switch's two positions.
type part struct {
	place, position int
	a, b            int
	closed          uint32 // the states in which it is, by number: bit p of a state is the position at place p
}

// A part list per kind: terminals are numbered within the switch.
var (
	oneWay = switchKind{name: "one-way", terminals: []string{"COM", "L1"}, parts: []part{{a: 0, b: 1, position: 1}}, turns: [][]int{{0, 1}, {1, 0}}}
	twoWay = switchKind{
		name: "two-way", terminals: []string{"COM", "L1", "L2"},
		parts: []part{{a: 0, b: 1, position: 0}, {a: 0, b: 2, position: 1}},
		turns: [][]int{{0, 1, 2}, {0, 2, 1}},
	}
	// The terminals in the order A1 B1 B2 A2: around the switch A1 B1 A2 B2 its
	// contacts alternate in position, so it may be turned and turned over.
	intermediate = switchKind{
		name: "intermediate", terminals: []string{"A1", "B1", "B2", "A2"},
		parts: []part{{a: 0, b: 1, position: 0}, {a: 3, b: 2, position: 0}, {a: 0, b: 2, position: 1}, {a: 3, b: 1, position: 1}},
		turns: [][]int{
			{0, 1, 2, 3},
			{0, 2, 1, 3},
			{3, 1, 2, 0},
			{3, 2, 1, 0},
			{1, 0, 3, 2},
			{1, 3, 0, 2},
			{2, 0, 3, 1},
			{2, 3, 0, 1},
		},
	}
)

// switchKind is a kind of switch, and how its terminals may be renamed without
// a difference (positions may change places with them).
type switchKind struct {
	name      string
	terminals []string
	parts     []part
	turns     [][]int
}

// Line and switched line are the first two ends of every arrangement.
const (
	theLine = iota
	theLamp
	firstTerminal
)

// An arrangement says for every end, the line and the lamp first, then the
// terminals place by place, in which joint it is. Joints are numbered as they
// first appear.
type arrangement []int

// A plan is the question: which switches there are.
type plan struct {
	kinds []switchKind
	first []int  // by place: the index of its first terminal
	parts []part // of all places, between ends
	ends  int
	even  uint32 // the states in which an even number of switches is moved
	all   uint32
}

func newPlan(kinds ...switchKind) *plan {
	p := &plan{kinds: kinds, ends: firstTerminal}
	for place, k := range kinds {
		p.first = append(p.first, p.ends)
		for _, c := range k.parts {
			p.parts = append(p.parts, part{place, c.position, p.ends + c.a, p.ends + c.b, closedAt(place, c.position, len(kinds))})
		}
		p.ends += len(k.terminals)
	}
	for s := range 1 << len(kinds) {
		p.all |= 1 << s
		if bits.OnesCount(uint(s))%2 == 0 {
			p.even |= 1 << s
		}
	}
	return p
}

func (p *plan) name() string {
	names := make([]string, len(p.kinds))
	for i, k := range p.kinds {
		names[i] = k.name
	}
	return strings.Join(names, " + ")
}

// closedAt is the set of states in which a contact at a place is closed.
func closedAt(place, position, places int) uint32 {
	var set uint32
	for s := range 1 << places {
		if s>>place&1 == position {
			set |= 1 << s
		}
	}
	return set
}

// A network is contacts between joints.
type network []part

// lit is the set of states in which a network joins line and lamp.
func (p *plan) lit(n network, joints int) uint32 {
	var store [32]uint32
	reach := store[:joints]
	reach[theLine] = p.all
	for again := true; again; {
		again = false
		for _, c := range n {
			both := (reach[c.a] | reach[c.b]) & c.closed
			if reach[c.a]|both != reach[c.a] || reach[c.b]|both != reach[c.b] {
				reach[c.a] |= both
				reach[c.b] |= both
				again = true
			}
		}
	}
	return reach[theLamp]
}

// toggles reports whether every switch changes the lamp from every state.
func (p *plan) toggles(lit uint32) bool { return lit == p.even || lit == p.all&^p.even }

// spoilt reports that the lamp is lit in two states that are one switch apart.
// More joints never make it dark again.
func (p *plan) spoilt(lit uint32) bool { return lit&p.even != 0 && lit&^p.even != 0 }

// hopeless looks at the places dealt with, when there are more to come: if
// what is joined in one of their states is joined too in a state of the other
// class, then whatever the other places do, the lamp is lit in the second
// where it is lit in the first, and it must be lit in the first for some.
func (p *plan) hopeless(a arrangement, joints int) bool {
	places := slices.Index(p.first, len(a))
	if places < 1 {
		return false
	}
	n := p.network(a)
	groups := make([][]int, 1<<places)
	for s := range groups {
		groups[s] = joined(n, joints, s)
	}
	for s, g := range groups {
		for t, h := range groups {
			if bits.OnesCount(uint(s^t))%2 == 1 && within(g, h) {
				return true
			}
		}
	}
	return false
}

// joined gives each joint the number of the group it is in, in one state.
func joined(n network, joints, state int) []int {
	group := make([]int, joints)
	for i := range group {
		group[i] = i
	}
	for _, c := range n {
		from, to := group[c.a], group[c.b]
		if state>>c.place&1 != c.position || from == to {
			continue
		}
		for i, g := range group {
			if g == from {
				group[i] = to
			}
		}
	}
	return group
}

// within reports whether all that is together in g is together in h.
func within(g, h []int) bool {
	for i := range g {
		if h[i] != h[g[i]] {
			return false
		}
	}
	return true
}

// network is the contacts of an arrangement that reach only ends dealt with.
func (p *plan) network(a arrangement) network {
	n := make(network, 0, len(p.parts))
	for _, c := range p.parts {
		if c.a < len(a) && c.b < len(a) {
			n = append(n, part{c.place, c.position, a[c.a], a[c.b], c.closed})
		}
	}
	return n
}

// arrangements finds every arrangement that toggles; of those that differ only
// by turning a switch, at least one. Each end in turn goes into each joint
// there is, or a new one.
func (p *plan) arrangements(found func(arrangement)) {
	a := arrangement{theLine, theLamp}
	var put func(joints int)
	put = func(joints int) {
		if !p.upright(a) || p.spoilt(p.lit(p.network(a), joints)) || p.hopeless(a, joints) {
			return
		}
		if len(a) == p.ends {
			if p.toggles(p.lit(p.network(a), joints)) {
				found(slices.Clone(a))
			}
			return
		}
		for j := range joints + 1 {
			a = append(a, j)
			put(max(joints, j+1))
			a = a[:len(a)-1]
		}
	}
	put(firstTerminal)
}

// upright leaves out what is the same with a switch turned: of a two-way
// switch L1 is in the earlier joint, of an intermediate A1 in the earliest,
// and B1 before B2. Turning a switch brings any arrangement into this form,
// without changing the numbers of joints that appear at places before.
func (p *plan) upright(a arrangement) bool {
	for place, k := range p.kinds {
		at := p.first[place]
		if len(k.terminals) < 3 || len(a) < at+3 {
			continue
		}
		if a[at+1] > a[at+2] {
			return false
		}
		if len(k.terminals) == 4 && (a[at] > a[at+1] || len(a) > at+3 && a[at] > a[at+3]) {
			return false
		}
	}
	return true
}

// same is an arrangement's name, equal for those that differ by turning
// switches or by exchanging places with the same kind of switch.
func (p *plan) same(a arrangement) string {
	var best arrangement
	for _, order := range orders(len(p.kinds)) {
		if p.fits(order) {
			p.turned(a, order, 0, slices.Clone(a[:firstTerminal]), func(b arrangement) {
				if best == nil || slices.Compare(b, best) < 0 {
					best = b
				}
			})
		}
	}
	return fmt.Sprint(best)
}

func (p *plan) fits(order []int) bool {
	for i, from := range order {
		if p.kinds[i].name != p.kinds[from].name {
			return false
		}
	}
	return true
}

// turned tries every way to turn the switches, the places taken in an order.
func (p *plan) turned(a arrangement, order []int, place int, sofar arrangement, found func(arrangement)) {
	if place == len(order) {
		found(renumbered(sofar))
		return
	}
	from := p.first[order[place]]
	for _, turn := range p.kinds[place].turns {
		next := slices.Clone(sofar)
		for _, t := range turn {
			next = append(next, a[from+t])
		}
		p.turned(a, order, place+1, next, found)
	}
}

func renumbered(a arrangement) arrangement {
	number := map[int]int{}
	out := make(arrangement, len(a))
	for i, j := range a {
		if _, ok := number[j]; !ok && j != none {
			number[j] = len(number)
		}
		out[i] = none
		if j != none {
			out[i] = number[j]
		}
	}
	return out
}

// orders lists the permutations of n things.
func orders(n int) [][]int {
	if n == 0 {
		return [][]int{{}}
	}
	var list [][]int
	for _, o := range orders(n - 1) {
		for at := range n {
			list = append(list, slices.Insert(slices.Clone(o), at, n-1))
		}
	}
	return list
}

// least finds every part of a network that still toggles and of which no
// group of contacts can be left out; groups are sets of the network's contacts
// that go together.
func (p *plan) least(n network, joints int, groups []uint) []network {
	seen := map[uint]bool{}
	var list []network
	var strip func(set uint)
	strip = func(set uint) {
		if seen[set] {
			return
		}
		seen[set] = true
		needed := true
		for _, g := range groups {
			if fewer := set &^ g; fewer != set && p.toggles(p.lit(n.only(fewer), joints)) {
				needed = false
				strip(fewer)
			}
		}
		if needed {
			list = append(list, n.only(set))
		}
	}
	strip(1<<len(n) - 1)
	return list
}

// singly takes each contact for itself, as a relay circuit could.
func (p *plan) singly() []uint {
	groups := make([]uint, len(p.parts))
	for i := range groups {
		groups[i] = 1 << i
	}
	return groups
}

// byTerminal takes the contacts of each terminal together: what is left out
// when nothing is landed on it.
func (p *plan) byTerminal() []uint {
	groups := make([]uint, p.ends)
	for i, c := range p.parts {
		groups[c.a] |= 1 << i
		groups[c.b] |= 1 << i
	}
	return groups
}

func (n network) only(set uint) network {
	var some network
	for i, c := range n {
		if set>>i&1 == 1 {
			some = append(some, c)
		}
	}
	return some
}

// joints is one more than the highest number of a joint.
func (a arrangement) joints() int { return slices.Max(a) + 1 }
