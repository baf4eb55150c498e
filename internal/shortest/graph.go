// Package shortest finds cheapest ways through a graph with whole-number
// costs: the cheapest one, all that no other beats in up to three costs at
// once (the Pareto set), and the cheapest set of ways for several travellers
// who share what is paid once.
//
// It knows nothing of houses or cables: nodes are numbers, arcs have costs.
// Every answer is exact, or says that it is not.
//
// Methods: Dijkstra's search with a circular array of buckets where the
// greatest cost is small (R. B. Dial, Communications of the ACM 12 (1969) 632)
// and with a four-way heap where it is not; over several costs, label setting
// in lexicographic order with lower bounds from searches backwards from the
// goal, in which a label need only be compared in all costs but the first
// (F.-J. Pulido, L. Mandow, J.-L. Pérez-de-la-Cruz, Computers & Operations
// Research 64 (2015) 60); for shared charges, branch and bound, see [Graph.Together].
//
// There is no A* for a single cost: on grids like those of the tests a lower
// bound by distance saves no node, see docs/decisions. Where an exact bound is
// at hand, over several costs and for shared charges, it is used.
package shortest

import (
	"fmt"
	"math"
	"slices"
	"sync"
)

// Objectives is the greatest number of costs an arc can have.
const Objectives = 3

// Far is the distance of what cannot be reached. Sums that would reach it count
// as unreachable too: distances are below 2³²-1.
const Far = math.MaxUint32

// Costs are what an arc, or a way, costs in each objective; unused ones are 0.
type Costs [Objectives]uint32

// Arc leads from one node to another, one way.
type Arc struct {
	From, To int32
	Cost     Costs
}

// Graph is a directed graph whose arcs out of a node lie side by side. It does
// not change once made, and may be searched from several goroutines.
type Graph struct {
	first []int32 // arcs of node n are first[n] to first[n+1]
	ends  [Objectives][]leg
	tail  []int32
	arc   []int32 // place in the list that New was given
	most  Costs
	turn  func() *Graph // the same with every arc turned round, made when first asked for
}

// leg is what a search reads of an arc.
type leg struct {
	to   int32
	cost uint32
}

// New makes a graph of nodes 0 to nodes-1. objectives, 1 to 3, says how many
// of the arcs' costs are used. An arc to a node outside the graph, or a graph
// of 2³¹ nodes or arcs or more, is an error. The list is kept: it must not be
// changed afterwards.
func New(nodes, objectives int, arcs []Arc) (*Graph, error) {
	if objectives < 1 || objectives > Objectives {
		return nil, fmt.Errorf("a graph with %d costs: it can have 1 to %d", objectives, Objectives)
	}
	if nodes < 0 || nodes >= math.MaxInt32 || len(arcs) >= math.MaxInt32 {
		return nil, fmt.Errorf("a graph of %d nodes and %d arcs: at most %d of each", nodes, len(arcs), math.MaxInt32-1)
	}
	for i, a := range arcs {
		if a.From < 0 || a.To < 0 || int(a.From) >= nodes || int(a.To) >= nodes {
			return nil, fmt.Errorf("arc %d leads from node %d to node %d of a graph with %d", i, a.From, a.To, nodes)
		}
	}
	g := lay(nodes, objectives, arcs, false)
	g.turn = sync.OnceValue(func() *Graph { return lay(nodes, objectives, arcs, true) })
	return g, nil
}

// lay sorts the arcs by the node they leave, or enter if turned, by counting.
func lay(nodes, objectives int, arcs []Arc, turned bool) *Graph {
	g := &Graph{first: make([]int32, nodes+1), tail: make([]int32, len(arcs)), arc: make([]int32, len(arcs))}
	for o := range objectives {
		g.ends[o] = make([]leg, len(arcs))
	}
	for _, a := range arcs {
		g.first[leaving(a, turned)+1]++
	}
	for n := range nodes {
		g.first[n+1] += g.first[n]
	}
	next := slices.Clone(g.first)
	for i, a := range arcs {
		n := leaving(a, turned)
		at := next[n]
		next[n]++
		g.tail[at], g.arc[at] = n, int32(i)
		for o := range objectives {
			g.ends[o][at] = leg{a.From + a.To - n, a.Cost[o]}
			g.most[o] = max(g.most[o], a.Cost[o])
		}
	}
	return g
}

func leaving(a Arc, turned bool) int32 {
	if turned {
		return a.To
	}
	return a.From
}

// Nodes is the number of nodes.
func (g *Graph) Nodes() int { return len(g.first) - 1 }

// Arcs is the number of arcs.
func (g *Graph) Arcs() int { return len(g.arc) }

// objectives is the number of costs the arcs have.
func (g *Graph) objectives() int {
	for o := range g.ends {
		if g.ends[o] == nil {
			return o
		}
	}
	return Objectives
}
