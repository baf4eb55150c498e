package switching

import (
	"strings"

	"strapper/wiring"
)

// witness finds the state in which the hazard shows over the fewest contacts,
// and says it in words: the positions, then the path.
func (p *Proof) witness(b *block, h *hazard) string {
	limit := p.n.count + 1
	var state uint64
	want := make([]uint64, p.l.words)
	for number := range p.l.blocks() {
		b.fill(number, p.sources)
		for w := range want {
			want[w] = h.when(b, w)
		}
		if d, s, ok := b.nearest(p.sources[h.from], p.n.of[h.to], want, limit); ok {
			limit, state = d, s
		} else if state == 0 && limit > p.n.count {
			state = firstOf(b, want) // the hazard shows, but not along this path
		}
	}
	s := p.l.state(state)
	return p.inWords(s, p.pathFrom(h.from, h.to, s))
}

func firstOf(b *block, want []uint64) uint64 {
	for w, word := range want {
		if word != 0 {
			return b.stateOf(w, word)
		}
	}
	return 0
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
			return e.Box + "." + e.String()
		}
	}
	return members[0].String() + " in " + members[0].Box
}

// path is the shortest way between two nodes over closed edges in a state, as
// words for each edge; nil if there is none or the nodes are one.
func (p *Proof) path(from, to wiring.Node, s wiring.State) []string {
	came := make([]int, p.g.Nodes())
	for i := range came {
		came[i] = -1
	}
	queue := []wiring.Node{from}
	for len(queue) > 0 && came[to] < 0 {
		at := queue[0]
		queue = queue[1:]
		for i := range p.g.Edges {
			e := &p.g.Edges[i]
			next, ok := across(e, at)
			if ok && next != from && came[next] < 0 && e.Closed(s) {
				came[next] = i
				queue = append(queue, next)
			}
		}
	}
	var steps []string
	for at := to; at != from && came[at] >= 0; {
		e := &p.g.Edges[came[at]]
		steps = append(steps, "")
		copy(steps[1:], steps)
		steps[0] = step(e)
		at, _ = across(e, at)
	}
	return steps
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

func step(e *wiring.Edge) string {
	if e.Cable != nil {
		return e.Cable.ID + " " + e.Core.Name
	}
	return e.Ends[0].Box + "." + e.Ends[0].Item + " " + e.Ends[0].Name + "–" + e.Ends[1].Name
}
