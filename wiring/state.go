package wiring

import "strings"

// State is the position of every switch of a graph, by index: 0 is the first
// position its kind names.
type State []uint8

// Rest is the state in which every switch is in its first position.
func (g *Graph) Rest() State { return make(State, len(g.Switches)) }

// States is the number of states the switches can be in; it saturates rather
// than overflow.
func (g *Graph) States() uint64 {
	n := uint64(1)
	for i := range g.Switches {
		p := uint64(len(g.Switches[i].Kind.Positions))
		if n > 1<<62/p {
			return 1 << 62
		}
		n *= p
	}
	return n
}

// StateAt numbers the states, the first switch changing fastest.
func (g *Graph) StateAt(index uint64) State {
	s := g.Rest()
	for i := range s {
		p := uint64(len(g.Switches[i].Kind.Positions))
		s[i] = uint8(index % p)
		index /= p
	}
	return s
}

// Closed reports whether an edge is joined in a state.
func (e *Edge) Closed(s State) bool {
	return e.Kind == Conductor || e.In>>s[e.Switch]&1 == 1
}

// Position is the name of one switch's position in a state.
func (g *Graph) Position(s State, sw int) string {
	return g.Switches[sw].Kind.Positions[s[sw]]
}

// Describe says a state in words: "hall up, landing down". A house without
// switches has the empty description.
func (g *Graph) Describe(s State) string {
	parts := make([]string, len(s))
	for i := range s {
		parts[i] = g.Switches[i].Name() + " " + g.Position(s, i)
	}
	return strings.Join(parts, ", ")
}
