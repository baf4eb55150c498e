package shortest

import (
	"cmp"
	"slices"
)

// Way is one way from start to goal: its costs, and its arcs by their places in
// the list that New was given.
type Way struct {
	Cost Costs
	Arcs []int32
}

// Front is the Pareto set: every vector of costs that no other way beats or
// equals in all of them, with one way each, in rising order of the first cost.
// Exact is false if the search was cut short; the ways are then ways, but
// better ones may be missing.
type Front struct {
	Ways  []Way
	Exact bool
}

// Front finds all ways from one node to another that are not dominated: no
// other costs at most as much in every objective. most bounds the labels made;
// 0 means ten million.
func (g *Graph) Front(from, to int32, most int) Front {
	if most <= 0 {
		most = 10_000_000
	}
	s := frontSearch{g: g, to: to, most: most, closed: make([]stairs, g.Nodes())}
	for o := range g.objectives() {
		s.ahead[o] = g.turn().From(to, o, -1)
	}
	if s.ahead[0].Cost(from) == Far {
		return Front{Exact: true}
	}
	exact := s.run(from)
	front := Front{Exact: exact}
	for _, l := range s.found {
		front.Ways = append(front.Ways, Way{s.label[l].cost, s.arcs(l)})
	}
	return front
}

// frontSearch is one search: labels in lexicographic order of their cost plus
// the least that is still ahead. In that order the first cost of what is taken
// out never falls, so that labels are compared in the other two only.
type frontSearch struct {
	g      *Graph
	to     int32
	most   int
	ahead  [Objectives]*Tree
	closed []stairs
	label  []label
	queue  []waiting
	found  []int32
}

// label is a way to a node, by its last arc and the label before it.
type label struct {
	cost   Costs
	node   int32
	before int32 // -1 at the start
	via    int32
}

// waiting is a label with its costs to the goal at the least.
type waiting struct {
	least Costs
	label int32
}

func (s *frontSearch) run(from int32) (exact bool) {
	s.add(label{node: from, before: -1})
	for len(s.queue) > 0 {
		w := s.pop()
		l := s.label[w.label]
		if s.closed[s.to].covers(w.least[1], w.least[2]) || !s.closed[l.node].add(l.cost[1], l.cost[2]) {
			continue
		}
		if l.node == s.to {
			s.found = append(s.found, w.label)
			continue
		}
		if len(s.label) > s.most {
			return false
		}
		s.expand(w.label, l)
	}
	return true
}

func (s *frontSearch) expand(at int32, l label) {
	g := s.g
	for i := g.first[l.node]; i < g.first[l.node+1]; i++ {
		next := label{cost: l.cost, node: g.ends[0][i].to, before: at, via: i}
		fits := true
		for o := 0; o < Objectives && g.ends[o] != nil; o++ {
			c := next.cost[o] + g.ends[o][i].cost
			fits = fits && c >= next.cost[o]
			next.cost[o] = c
		}
		if fits && !s.closed[next.node].covers(next.cost[1], next.cost[2]) {
			s.add(next)
		}
	}
}

// add puts a label into the queue unless the goal is out of its reach or has
// been reached at least as well.
func (s *frontSearch) add(l label) {
	w := waiting{l.cost, int32(len(s.label))}
	for o := 0; o < Objectives && s.ahead[o] != nil; o++ {
		ahead := s.ahead[o].node[l.node].cost
		if w.least[o] += ahead; ahead == Far || w.least[o] < ahead {
			return
		}
	}
	if s.closed[s.to].covers(w.least[1], w.least[2]) {
		return
	}
	s.label = append(s.label, l)
	s.push(w)
}

func (s *frontSearch) arcs(l int32) []int32 {
	var way []int32
	for ; s.label[l].before >= 0; l = s.label[l].before {
		way = append(way, s.g.arc[s.label[l].via])
	}
	slices.Reverse(way)
	return way
}

// less orders by costs, then by age, so that equal graphs give equal answers.
func (w waiting) less(v waiting) bool {
	for o := range w.least {
		if w.least[o] != v.least[o] {
			return w.least[o] < v.least[o]
		}
	}
	return w.label < v.label
}

func (s *frontSearch) push(w waiting) {
	q := append(s.queue, w)
	i := len(q) - 1
	for i > 0 {
		up := (i - 1) / 2
		if q[up].less(w) {
			break
		}
		q[i], i = q[up], up
	}
	q[i] = w
	s.queue = q
}

func (s *frontSearch) pop() waiting {
	q := s.queue
	top, w := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	for i := 0; len(q) > 0; {
		least := 2*i + 1
		if least+1 < len(q) && q[least+1].less(q[least]) {
			least++
		}
		if least >= len(q) || w.less(q[least]) {
			q[i] = w
			break
		}
		q[i], i = q[least], least
	}
	s.queue = q
	return top
}

// stairs is a set of pairs of which none is at most another in both: the first
// rises, the second falls.
type stairs [][2]uint32

// find is the place of the first pair whose first is at least a.
func (s stairs) find(a uint32) (at int, exact bool) {
	return slices.BinarySearchFunc(s, a, func(p [2]uint32, a uint32) int { return cmp.Compare(p[0], a) })
}

// covers reports whether some pair is at most (a, b) in both.
func (s stairs) covers(a, b uint32) bool {
	i, exact := s.find(a)
	if exact {
		i++
	}
	return i > 0 && s[i-1][1] <= b
}

// add puts a pair in, taking out those it is at most; false if it is covered.
func (s *stairs) add(a, b uint32) bool {
	if s.covers(a, b) {
		return false
	}
	i, _ := s.find(a)
	end := i
	for end < len(*s) && (*s)[end][1] >= b {
		end++
	}
	*s = slices.Replace(*s, i, end, [2]uint32{a, b})
	return true
}
