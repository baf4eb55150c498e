package network

import (
	"math/bits"
	"slices"
)

// edge is a branch as the elimination sees it: two different nodes that may
// conduct, and perhaps a switch that changes how much.
type edge struct {
	a, b    int
	dynamic bool
}

// nodeSet is a set of node numbers.
type nodeSet []uint64

func newSet(n int) nodeSet   { return make(nodeSet, (n+63)/64) }
func (s nodeSet) add(i int)  { s[i>>6] |= 1 << (i & 63) }
func (s nodeSet) drop(i int) { s[i>>6] &^= 1 << (i & 63) }
func (s nodeSet) join(t nodeSet) {
	for i, w := range t {
		s[i] |= w
	}
}

func (s nodeSet) size() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s nodeSet) list() []int {
	var out []int
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			out = append(out, i<<6+bits.TrailingZeros64(w))
		}
	}
	return out
}

// ordering is the order in which nodes go, found by playing the elimination on
// the graph alone.
type ordering struct {
	ref, last int       // never eliminated; eliminated last (-1: no such wish)
	near      []nodeSet // neighbours still there, ref left out
	toRef     []bool
	dynamic   []bool // a switch can change this node's row
	height    []int  // of the elimination tree under the node
	gone      []bool

	order []int   // nodes in order of elimination
	rows  [][]int // for each, the neighbours it had (ref last, if it had it)
}

// arrange orders nodes 0…n-1 except ref. Least degree first keeps the fill
// small; a node that no switch can affect goes before one of one degree less
// that a switch affects, which keeps the fixed part out of the repeated work; one
// neighbour counts as much as two levels of the tree below the node, which keeps
// the paths to the root short (with 20 places of control a third less work for
// one moved switch than least degree alone; fill on square grids not measurably
// more).
func arrange(n, ref, last int, edges []edge) *ordering {
	o := &ordering{
		ref: ref, last: last, near: make([]nodeSet, n), toRef: make([]bool, n),
		dynamic: make([]bool, n), height: make([]int, n), gone: make([]bool, n),
	}
	for i := range o.near {
		o.near[i] = newSet(n)
	}
	for _, e := range edges {
		o.connect(e)
	}
	o.gone[ref] = true
	for range n - 1 {
		o.eliminate(o.next())
	}
	return o
}

func (o *ordering) connect(e edge) {
	if e.dynamic {
		o.dynamic[e.a], o.dynamic[e.b] = true, true
	}
	switch {
	case e.a == o.ref:
		o.toRef[e.b] = true
	case e.b == o.ref:
		o.toRef[e.a] = true
	default:
		o.near[e.a].add(e.b)
		o.near[e.b].add(e.a)
	}
}

// next is the node that costs least to eliminate now.
func (o *ordering) next() int {
	best, bestCost := -1, 0
	for v := range o.near {
		if o.gone[v] || v == o.last {
			continue
		}
		if c := o.cost(v); best < 0 || c < bestCost {
			best, bestCost = v, c
		}
	}
	if best < 0 {
		return o.last
	}
	return best
}

func (o *ordering) cost(v int) int {
	degree := o.near[v].size()
	if o.dynamic[v] {
		degree++
	}
	return degree*2 + o.height[v]
}

func (o *ordering) eliminate(v int) {
	near := o.near[v].list()
	for _, b := range near {
		o.near[b].join(o.near[v])
		o.near[b].drop(b)
		o.near[b].drop(v)
		o.toRef[b] = o.toRef[b] || o.toRef[v]
		o.dynamic[b] = o.dynamic[b] || o.dynamic[v]
		o.height[b] = max(o.height[b], o.height[v]+1)
	}
	o.gone[v] = true
	o.order = append(o.order, v)
	if o.toRef[v] {
		near = append(near, o.ref)
	}
	o.rows = append(o.rows, near)
}

// positions gives the place of each node in the order; ref comes last.
func (o *ordering) positions() []int32 {
	pos := make([]int32, len(o.near))
	pos[o.ref] = int32(len(o.order))
	for p, v := range o.order {
		pos[v] = int32(p)
	}
	return pos
}

// columns gives each row's neighbours as ascending positions.
func (o *ordering) columns(pos []int32) [][]int32 {
	rows := make([][]int32, len(o.rows))
	for p, row := range o.rows {
		for _, b := range row {
			rows[p] = append(rows[p], pos[b])
		}
		slices.Sort(rows[p])
	}
	return rows
}
