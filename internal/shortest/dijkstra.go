package shortest

import "slices"

// Tree holds the cheapest ways from one node to all others, or to those nearer
// than the goal of the search.
type Tree struct {
	g    *Graph
	from int32
	node []reached
}

// reached is how a node is reached: via is the place of the last arc in the
// order of the graph, -1 at the start and where nothing leads.
type reached struct {
	cost uint32
	via  int32
}

// mostBuckets is the greatest cost of one arc for which the array of buckets
// is used: beyond it, walking over empty ones costs more than a heap.
const mostBuckets = 1 << 15

// From finds the cheapest ways from a node in one objective. It goes no further
// than to the goal; a goal below 0 means everywhere. It panics on an objective
// or a start that the graph does not have.
func (g *Graph) From(from int32, objective int, goal int32) *Tree {
	if g.most[objective] <= mostBuckets {
		return g.byBuckets(from, objective, goal)
	}
	return g.byHeap(from, objective, goal)
}

func (g *Graph) tree(from int32) *Tree {
	t := &Tree{g: g, from: from, node: make([]reached, g.Nodes())}
	for i := range t.node {
		t.node[i] = reached{Far, -1}
	}
	t.node[from].cost = 0
	return t
}

// byBuckets keeps nodes in a circular array of buckets, one for each cost that
// can be waiting at the same time.
func (g *Graph) byBuckets(from int32, objective int, goal int32) *Tree {
	t := g.tree(from)
	node, first, ends := t.node, g.first, g.ends[objective]
	q := newBuckets(g.most[objective])
	q.add(0, from)
	for at := uint32(0); q.waiting > 0; at++ {
		list := &q.list[at&q.mask]
		for len(*list) > 0 {
			n := (*list)[len(*list)-1]
			*list = (*list)[:len(*list)-1]
			q.waiting--
			if node[n].cost != at {
				continue // reached more cheaply since it was put here
			}
			if n == goal {
				return t
			}
			begin := first[n]
			for i, e := range ends[begin:first[n+1]] {
				if c := at + e.cost; c < node[e.to].cost && c >= at {
					node[e.to] = reached{c, begin + int32(i)}
					q.add(c, e.to)
				}
			}
		}
	}
	return t
}

// buckets is a circular array of lists of nodes, by cost.
type buckets struct {
	list    [][]int32
	mask    uint32
	waiting int
}

func newBuckets(most uint32) *buckets {
	size := uint32(2)
	for size <= most {
		size *= 2
	}
	return &buckets{list: make([][]int32, size), mask: size - 1}
}

func (q *buckets) add(cost uint32, n int32) {
	b := &q.list[cost&q.mask]
	*b = append(*b, n)
	q.waiting++
}

// byHeap keeps nodes in a heap, for arcs of any cost.
func (g *Graph) byHeap(from int32, objective int, goal int32) *Tree {
	t := g.tree(from)
	node, first, ends := t.node, g.first, g.ends[objective]
	q := heap{pack(0, from)}
	for len(q) > 0 {
		at, n := unpack(q.pop())
		if node[n].cost != at {
			continue
		}
		if n == goal {
			return t
		}
		begin := first[n]
		for i, e := range ends[begin:first[n+1]] {
			if c := at + e.cost; c < node[e.to].cost && c >= at {
				node[e.to] = reached{c, begin + int32(i)}
				q.push(pack(c, e.to))
			}
		}
	}
	return t
}

// Priced is [Graph.From] in a search in which every arc has an extra cost, or
// must not be used. It goes no further than to the goal.
func (g *Graph) Priced(from, goal int32, objective int, extra func(arc int32) (cost uint32, open bool)) *Tree {
	return g.toward(from, goal, objective, 1, nil, extra)
}

// toward is Priced with a bound on what is still ahead of each node, from a
// search back from the goal without the extra costs: nodes are taken in order
// of cost and bound together (A*), so that few beside the way are looked at.
// The arcs' own costs count times as much as the extra ones.
func (g *Graph) toward(from, goal int32, objective int, times uint64, ahead *Tree, extra func(arc int32) (cost uint32, open bool)) *Tree {
	t := g.tree(from)
	least := func(n int32) uint64 {
		if ahead == nil {
			return 0
		}
		return min(uint64(ahead.node[n].cost)*times, Far)
	}
	q := heap{pack(uint32(least(from)), from)}
	for len(q) > 0 {
		at, n := unpack(q.pop())
		if uint64(t.node[n].cost)+least(n) != uint64(at) {
			continue
		}
		if n == goal {
			return t
		}
		for i := g.first[n]; i < g.first[n+1]; i++ {
			more, open := extra(g.arc[i])
			e := g.ends[objective][i]
			c := uint64(t.node[n].cost) + uint64(e.cost)*times + uint64(more)
			if open && c < uint64(t.node[e.to].cost) && c+least(e.to) < Far {
				t.node[e.to] = reached{uint32(c), i}
				q.push(pack(uint32(c+least(e.to)), e.to))
			}
		}
	}
	return t
}

// heap is a four-way heap of packed pairs, least first.
type heap []uint64

func pack(cost uint32, n int32) uint64 { return uint64(cost)<<32 | uint64(uint32(n)) }

func unpack(p uint64) (cost uint32, n int32) { return uint32(p >> 32), int32(uint32(p)) }

func (h *heap) push(p uint64) {
	*h = append(*h, p)
	q, i := *h, len(*h)-1
	for i > 0 {
		up := (i - 1) / 4
		if q[up] <= p {
			break
		}
		q[i], i = q[up], up
	}
	q[i] = p
}

func (h *heap) pop() uint64 {
	q := *h
	top, p := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	*h = q
	if len(q) == 0 {
		return top
	}
	i := 0
	for {
		least := 4*i + 1
		if least >= len(q) {
			break
		}
		for c, end := least+1, min(least+4, len(q)); c < end; c++ {
			if q[c] < q[least] {
				least = c
			}
		}
		if q[least] >= p {
			break
		}
		q[i], i = q[least], least
	}
	q[i] = p
	return top
}

// Cost is the cost of the cheapest way to a node; Far if there is none, or if
// the search stopped before it.
func (t *Tree) Cost(to int32) uint32 { return t.node[to].cost }

// Way lists the arcs of the cheapest way to a node, by their places in the list
// that New was given. It is nil for the start and for what is out of reach.
func (t *Tree) Way(to int32) []int32 {
	if t.node[to].cost == Far {
		return nil
	}
	var way []int32
	for n := to; n != t.from; {
		at := t.node[n].via
		way = append(way, t.g.arc[at])
		n = t.g.tail[at]
	}
	slices.Reverse(way)
	return way
}
