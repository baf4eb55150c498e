package switching

import (
	"slices"
	"strings"

	"strapper/wiring"
)

// exposure says what a circuit makes live, in which positions and by which
// path.
func (p *Proof) exposure(circuit int, e *exposure) string {
	o := p.g.Origins[circuit]
	end := p.g.Members(e.at)[0]
	is := " is live"
	if e.through {
		is = " becomes live when its joint is taken apart"
	}
	ways := p.liveWay(o.L, e.at, e)
	text := end.Item + " " + end.Name + " in " + end.Box + is + p.with(e, ways)
	var steps []string
	at := o.L
	for _, w := range ways {
		at = w.a + w.b - at
		steps = append(steps, w.word(at))
	}
	if len(steps) > 0 {
		text += ", through " + strings.Join(steps, ", ")
	}
	return text
}

// with names the positions that a path needs: of the switches it passes, or of
// all of them where it must also be that none holds it at neutral or earth.
func (p *Proof) with(e *exposure, ways []way) string {
	var list []string
	for sw := range p.g.Switches {
		passed := slices.ContainsFunc(ways, func(w way) bool { return w.contact && w.sw == sw })
		if passed || e.through {
			list = append(list, p.g.Switches[sw].Name()+" "+p.g.Position(e.state, sw))
		}
	}
	if len(list) == 0 {
		return " in every position"
	}
	return " with " + strings.Join(list, ", ")
}

// A way is a conductor, a contact or a lamp that may be on a path, and its
// cost: a contact counts for more than any number of cores, a lamp for more
// than any number of contacts.
type way struct {
	a, b wiring.Node
	cost int
	word func(to wiring.Node) string
	// Of a contact, its switch.
	contact bool
	sw      int
}

const (
	coreCost    = 1
	contactCost = 1 << 12
	lampCost    = 1 << 24
)

// liveWay is the shortest path in a state from a circuit's line to a node: over
// metal, or also over lamps where they lead, and then never through a net that
// earth or a neutral holds.
func (p *Proof) liveWay(from, to wiring.Node, e *exposure) []way {
	ways := p.waysIn(e.state, e.through)
	shut := make([]bool, p.g.Nodes())
	if e.through {
		shut = p.heldIn(e.state, e.broken)
		for n, metal := range p.spread(e.state, from) {
			shut[n] = shut[n] && !metal // a short circuit
		}
	}
	cost, came := make([]int, p.g.Nodes()), make([]int, p.g.Nodes())
	for n := range cost {
		cost[n], came[n] = 1<<60, -1
	}
	cost[from] = 0
	for changed := true; changed; { // Bellman 1958, Ford 1956: the graphs are small
		changed = false
		for k, w := range ways {
			for _, d := range [2][2]wiring.Node{{w.a, w.b}, {w.b, w.a}} {
				if c := cost[d[0]] + w.cost; c < cost[d[1]] && !shut[d[1]] {
					cost[d[1]], came[d[1]], changed = c, k, true
				}
			}
		}
	}
	var path []way
	for at := to; at != from && came[at] >= 0; {
		w := ways[came[at]]
		path = append(path, w)
		at = w.a + w.b - at
	}
	slices.Reverse(path)
	return path
}

// waysIn lists what conducts in a state.
func (p *Proof) waysIn(s wiring.State, lamps bool) []way {
	var list []way
	for i := range p.g.Edges {
		e := &p.g.Edges[i]
		if !e.Closed(s) || e.A == e.B {
			continue
		}
		cost := coreCost
		if e.Kind == wiring.Contact {
			cost = contactCost
		}
		list = append(list, way{e.A, e.B, cost, func(to wiring.Node) string { return step(e, to) }, e.Kind == wiring.Contact, e.Switch})
	}
	for i := range p.consumers {
		c := &p.consumers[i]
		if lamps && c.nodeA != c.nodeB {
			list = append(list, way{a: c.nodeA, b: c.nodeB, cost: lampCost, word: func(wiring.Node) string { return c.name() }})
		}
	}
	return list
}

// heldIn marks the nodes that earth, or a neutral not let go, holds in a state.
func (p *Proof) heldIn(s wiring.State, broken []bool) []bool {
	var from []wiring.Node
	for i, o := range p.g.Origins {
		from = append(from, o.E)
		if !broken[i] {
			from = append(from, o.N)
		}
	}
	return p.spread(s, from...)
}

// spread marks the nodes that some reach over metal in a state.
func (p *Proof) spread(s wiring.State, from ...wiring.Node) []bool {
	marked := make([]bool, p.g.Nodes())
	var queue []wiring.Node
	mark := func(n wiring.Node) {
		if !marked[n] {
			marked[n] = true
			queue = append(queue, n)
		}
	}
	for _, n := range from {
		mark(n)
	}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for i := range p.g.Edges {
			if next, ok := across(&p.g.Edges[i], at); ok && p.g.Edges[i].Closed(s) {
				mark(next)
			}
		}
	}
	return marked
}
