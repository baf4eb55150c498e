package switching

import (
	"slices"
	"strings"

	"strapper/wiring"
)

// witness finds for each hazard the state in which it shows over the fewest
// contacts, and says it in words: the positions, then the path.
func (p *Proof) witness(m method, list []*hazard) {
	best := make([]sight, len(list))
	for i := range best {
		best[i].contacts = p.n.count + 1
	}
	m.views(func(v view) {
		var all poles
		for i, h := range list {
			if h.kind == seriesLamps {
				if all.line == nil {
					all = p.poles(v)
				}
				best[i].look(p.inSeries(v, all, h.load), 0)
				continue
			}
			p.nearest(v, h, &best[i])
		}
	})
	for i, h := range list {
		if h.kind == seriesLamps {
			h.finding.Witness = p.inWords(best[i].state, p.partners(h.load, list))
			continue
		}
		h.finding.Witness = p.inWords(best[i].state, p.pathFrom(h.from, h.to, best[i].state))
	}
}

// A sight is the nearest state in which a hazard was seen.
type sight struct {
	contacts int
	state    wiring.State
}

// look takes the state of a function with the fewest switches moved, if it is
// nearer than what was seen before.
func (s *sight) look(f function, contacts int) bool {
	state, ok := f.fewest()
	if ok && contacts < s.contacts {
		s.contacts, s.state = contacts, state
	}
	return ok
}

// nearest computes the states in which each net is joined to the hazard's
// source over at most d contacts, for growing d, and stops when some state in
// which the hazard shows reaches its node.
func (p *Proof) nearest(v view, h *hazard, best *sight) {
	want := p.in(&h.condition, v)
	if !want.any() {
		return
	}
	from := p.sources[h.from]
	now := make([]function, p.n.count)
	for net := range now {
		now[net] = none(v)
	}
	now[from.net] = v.every()
	for d := 0; d < best.contacts; d++ {
		if best.look(now[p.n.of[h.to]].and(want), d) {
			return
		}
		next := append([]function(nil), now...)
		for _, c := range from.order {
			closed := v.closed(c.literal)
			next[c.b] = next[c.b].or(now[c.a].and(closed))
			next[c.a] = next[c.a].or(now[c.b].and(closed))
		}
		now = next
	}
}

// partners names the other consumers found in series.
func (p *Proof) partners(load int, list []*hazard) string {
	var names []string
	for _, h := range list {
		if h.kind == seriesLamps && h.load != load {
			names = append(names, p.consumers[h.load].name())
		}
	}
	if len(names) == 1 {
		return "one after the other between line and neutral with " + names[0]
	}
	return "one after the other between line and neutral with one or more of " + strings.Join(names, ", ")
}

func (p *Proof) inWords(s wiring.State, path string) string {
	if positions := p.g.Describe(s); positions != "" {
		return positions + ": " + path
	}
	return path
}

// pathFrom says how a source reaches a node in a state.
func (p *Proof) pathFrom(source int, to wiring.Node, s wiring.State) string {
	if source == p.earth() {
		return "the earth bar reaches " + p.place(to)
	}
	o := p.g.Origins[source/2]
	start, name := o.L, "the line of "
	if source%2 == 1 {
		start, name = o.N, "the neutral of "
	}
	steps := p.path(start, to, s)
	if len(steps) == 0 {
		return name + o.Circuit.ID + " is joined to " + p.place(to)
	}
	return name + o.Circuit.ID + " reaches " + p.place(to) + " through " + strings.Join(steps, ", ")
}

// place names a node by its first terminal, or by its first core end.
func (p *Proof) place(n wiring.Node) string {
	for _, o := range p.g.Origins {
		switch n {
		case o.L:
			return "the line of " + o.Circuit.ID
		case o.N:
			return "the neutral of " + o.Circuit.ID
		case o.E:
			return "the earth bar"
		}
	}
	members := p.g.Members(n)
	for _, e := range members {
		if _, core := p.g.IsCore(e); core == nil {
			return e.Path()
		}
	}
	return members[0].String() + " in " + members[0].Box
}

// path is the way between two nodes in a state that has the fewest contacts,
// and among those the fewest cores, as words for each edge; nil if there is
// none or the nodes are one.
func (p *Proof) path(from, to wiring.Node, s wiring.State) []string {
	came := p.reachInOrder(from, to, s)
	var steps []string
	for at := to; at != from && came[at] >= 0; {
		e := &p.g.Edges[came[at]]
		steps = append(steps, step(e, at))
		at, _ = across(e, at)
	}
	slices.Reverse(steps)
	return steps
}

// reachInOrder gives the edge by which each node is reached, -1 if it is not:
// all cores are followed before the next contact is passed.
func (p *Proof) reachInOrder(from, to wiring.Node, s wiring.State) []int {
	came := make([]int, p.g.Nodes())
	for i := range came {
		came[i] = -1
	}
	layer := []wiring.Node{from}
	for len(layer) > 0 && came[to] < 0 {
		layer = p.follow(wiring.Conductor, from, layer, layer, came, s)
		layer = p.follow(wiring.Contact, from, layer, nil, came, s)
	}
	return came
}

// follow passes the edges of one kind that lead on from a list of nodes, and
// adds the nodes found to reached; where the list is reached itself, these are
// gone on from in turn.
func (p *Proof) follow(kind wiring.EdgeKind, from wiring.Node, list, reached []wiring.Node, came []int, s wiring.State) []wiring.Node {
	for i := 0; i < len(list); i++ {
		for k := range p.g.Edges {
			e := &p.g.Edges[k]
			next, ok := across(e, list[i])
			if ok && e.Kind == kind && next != from && came[next] < 0 && e.Closed(s) {
				came[next] = k
				reached = append(reached, next)
			}
		}
		if kind == wiring.Conductor {
			list = reached
		}
	}
	return reached
}

func across(e *wiring.Edge, at wiring.Node) (wiring.Node, bool) {
	switch at {
	case e.A:
		return e.B, e.A != e.B
	case e.B:
		return e.A, e.A != e.B
	}
	return 0, false
}

// step says how an edge is passed on the way to a node.
func step(e *wiring.Edge, to wiring.Node) string {
	if e.Cable != nil {
		return e.Cable.ID + " " + e.Core.Name
	}
	from, until := e.Ends[0], e.Ends[1]
	if e.A == to {
		from, until = until, from
	}
	return from.Box + "." + from.Item + " " + from.Name + "–" + until.Name
}
