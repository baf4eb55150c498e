package engine

import (
	"slices"

	"strapper/switching"
	"strapper/wiring"
)

// Opening is one box, what must be off before it is opened, and the pairs to
// test in it. Graph is the condition in which it is met first; it names what
// Tests speaks of.
type Opening struct {
	Box   *wiring.Box
	Works bool // the work opens it: something moves in it, or nothing changes anywhere
	Graph *wiring.Graph
	*switching.Isolation
	Tests []switching.DeadTest
}

// isolate works out the isolation of every box, for its wiring as found and as
// left. Whole takes all that the work opens apart at once, which covers every
// order in which it may be done: what lies outside them never changes.
func (r *Result) isolate() {
	var works []string
	for _, b := range r.boxes() {
		o := Opening{Box: b, Works: r.opens(b.ID), Isolation: r.isolation(b.ID), Graph: r.Found.Graph}
		if r.Found.Inst.Box(b.ID) == nil {
			o.Graph = r.Left.Graph
		}
		if o.Works {
			works = append(works, b.ID)
		}
		o.Tests = switching.DeadTests(o.Graph, b.ID)
		r.Openings = append(r.Openings, o)
	}
	r.Whole = r.isolation(works...)
}

// boxes are those of both stages, as left first.
func (r *Result) boxes() []*wiring.Box {
	list := slices.Clone(r.Final().Inst.Boxes)
	for _, b := range r.Found.Inst.Boxes {
		if r.Final().Inst.Box(b.ID) == nil {
			list = append(list, b)
		}
	}
	return list
}

func (r *Result) opens(box string) bool {
	return r.Left == nil || slices.ContainsFunc(r.Moves, func(m wiring.BoxMoves) bool { return m.Box.ID == box })
}

func (r *Result) isolation(boxes ...string) *switching.Isolation {
	if r.Left == nil {
		return switching.Isolate(boxes, r.Found.Graph)
	}
	return switching.Isolate(boxes, r.Found.Graph, r.Left.Graph)
}

// Opening finds the opening of a box; nil if there is no such box.
func (r *Result) Opening(box string) *Opening {
	for i := range r.Openings {
		if r.Openings[i].Box.ID == box {
			return &r.Openings[i]
		}
	}
	return nil
}
