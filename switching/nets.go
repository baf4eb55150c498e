package switching

import (
	"slices"

	"strapper/wiring"
)

// Nets are the nodes that are joined for good, taken as one; only contacts are
// left between them. A literal is one distinct condition "switch s stands in
// one of these positions".
type nets struct {
	g        *wiring.Graph
	of       []int32 // net of each node
	count    int
	contacts []contact
	literals []literal
	at       [][]int32 // contacts at each net
}

type contact struct {
	a, b    int32
	literal int32
}

type literal struct {
	sw int
	in uint8
}

func contract(g *wiring.Graph) *nets {
	n := &nets{g: g, of: make([]int32, g.Nodes())}
	for i := range n.of {
		n.of[i] = int32(i)
	}
	for i := range g.Edges {
		if e := &g.Edges[i]; e.Kind == wiring.Conductor {
			n.of[n.root(int32(e.A))] = n.root(int32(e.B))
		}
	}
	for _, o := range g.Origins { // the earth bar joins them
		n.of[n.root(int32(o.E))] = n.root(int32(g.Origins[0].E))
	}
	n.number()
	n.addContacts()
	return n
}

func (n *nets) root(i int32) int32 {
	for n.of[i] != i {
		n.of[i] = n.of[n.of[i]]
		i = n.of[i]
	}
	return i
}

// number replaces roots by consecutive net numbers.
func (n *nets) number() {
	id := make([]int32, len(n.of))
	for i := range n.of {
		if n.root(int32(i)) == int32(i) {
			id[i] = int32(n.count)
			n.count++
		}
	}
	roots := make([]int32, len(n.of))
	for i := range n.of {
		roots[i] = id[n.root(int32(i))]
	}
	n.of = roots
}

func (n *nets) addContacts() {
	n.at = make([][]int32, n.count)
	for i := range n.g.Edges {
		e := &n.g.Edges[i]
		a, b := n.of[e.A], n.of[e.B]
		if e.Kind != wiring.Contact || a == b {
			continue
		}
		k := int32(len(n.contacts))
		n.contacts = append(n.contacts, contact{a, b, n.literalFor(e.Switch, e.In)})
		n.at[a] = append(n.at[a], k)
		n.at[b] = append(n.at[b], k)
	}
}

func (n *nets) literalFor(sw int, in uint8) int32 {
	want := literal{sw, in}
	if i := slices.Index(n.literals, want); i >= 0 {
		return int32(i)
	}
	n.literals = append(n.literals, want)
	return int32(len(n.literals) - 1)
}

// outward lists the contacts that a source can ever feed through, nearest
// first and each from the nearer net, so that one sweep carries a truth table
// from the source to the end of a plain chain.
func (n *nets) outward(source int32) []contact {
	seen := make([]bool, n.count)
	used := make([]bool, len(n.contacts))
	queue := []int32{source}
	seen[source] = true
	var order []contact
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, k := range n.at[at] {
			if used[k] {
				continue
			}
			used[k] = true
			c := n.contacts[k]
			if c.a != at {
				c.a, c.b = c.b, c.a
			}
			order = append(order, c)
			if !seen[c.b] {
				seen[c.b] = true
				queue = append(queue, c.b)
			}
		}
	}
	return order
}
