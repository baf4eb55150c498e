package reading

import (
	"slices"

	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

const none wiring.Node = -1

// lead is a place for one lead of an instrument.
type lead struct {
	node wiring.Node
	name string
}

// point is a lamp or a switch with the places at it where a lead can go.
type point struct {
	id      string
	load    int    // index of the load, -1 at a switch
	sw      int    // index of the switch, -1 at a lamp
	line    []lead // a lamp's line terminal; a switch's live terminals
	neutral lead   // node none if there is none
	earth   lead
	origin  int   // the circuit that feeds it, -1 if none ever does
	feeds   []int // by state examined: the circuit then, -1 if none
}

// circuitIn is the circuit to link or to start from in a state.
func (p *point) circuitIn(state int) int {
	if c := p.feeds[state]; c >= 0 {
		return c
	}
	return p.origin
}

// survey finds every point of the graph.
type survey struct {
	g     *wiring.Graph
	proof *switching.Proof
	t     *tour
	reach [][][]bool // by circuit, state examined and node: its line stands there
}

func newSurvey(g *wiring.Graph, p *switching.Proof, t *tour) *survey {
	s := &survey{g: g, proof: p, t: t}
	r := newReacher(g)
	for _, o := range g.Origins {
		var states [][]bool
		for _, st := range t.states {
			states = append(states, r.from(o.L, st, true))
		}
		s.reach = append(s.reach, states)
	}
	return s
}

func (s *survey) points() []point {
	var list []point
	for _, i := range s.g.Lamps() {
		list = append(list, s.lamp(i))
	}
	for i := range s.g.Switches {
		if p := s.gang(i); len(p.line) > 0 {
			list = append(list, p)
		}
	}
	return list
}

func (s *survey) lamp(i int) point {
	l := &s.g.Loads[i]
	p := point{
		id: l.ID(), load: i, sw: -1,
		line:    []lead{{l.A, l.Ends[0].Name}},
		neutral: lead{l.B, l.Ends[1].Name},
		earth:   s.earth(l.Box, l.Item),
	}
	s.feed(&p)
	return p
}

// gang is the point of one switch. Its lines are the terminals in use that are
// not meant for neutral or earth, one for each node.
func (s *survey) gang(i int) point {
	sw := &s.g.Switches[i]
	p := point{id: sw.ID(), load: -1, sw: i, neutral: s.neutral(sw.Box), earth: s.earth(sw.Box, sw.Item)}
	var seen []wiring.Node
	for _, t := range sw.Kind.Terminals {
		n, ok := s.g.Node(wiring.End{Box: sw.Box.ID, Item: sw.Item.ID, Name: t.Name})
		if !ok || t.Role == kit.RoleNeutral || t.Role == kit.RoleEarth || slices.Contains(seen, n) || s.proof.Duty[n] == switching.DutyUnused {
			continue
		}
		seen = append(seen, n)
		p.line = append(p.line, lead{n, t.Name})
	}
	s.feed(&p)
	return p
}

// feed notes which circuit feeds the point in each state; a lamp may be fed on
// the wrong side.
func (s *survey) feed(p *point) {
	places := p.line
	if p.load >= 0 {
		places = []lead{p.line[0], p.neutral}
	}
	p.origin = -1
	p.feeds = make([]int, len(s.t.states))
	for i := range p.feeds {
		p.feeds[i] = s.circuit(places, i)
		if p.origin < 0 {
			p.origin = p.feeds[i]
		}
	}
}

func (s *survey) circuit(line []lead, state int) int {
	for c := range s.reach {
		for _, l := range line {
			if s.reach[c][state][l.node] {
				return c
			}
		}
	}
	return -1
}

// earth is the accessory's earth terminal if something is joined to it, else
// the first protective conductor in the box.
func (s *survey) earth(box *wiring.Box, item *wiring.Fitted) lead {
	for _, t := range item.Kind.Terminals {
		n, ok := s.g.Node(wiring.End{Box: box.ID, Item: item.ID, Name: t.Name})
		if ok && t.Role == kit.RoleEarth && !s.g.Loose(n) {
			return lead{n, t.Name}
		}
	}
	for _, c := range s.g.Inst.Cables {
		if c.From != box.ID && c.To != box.ID {
			continue
		}
		for _, core := range c.Kind.Cores {
			n, ok := s.g.Node(wiring.End{Box: box.ID, Item: c.ID, Name: core.Name})
			if ok && core.Earth {
				return lead{n, "cpc in the box"}
			}
		}
	}
	return lead{none, ""}
}

// neutral is the first neutral in a box, where there is one to reach.
func (s *survey) neutral(box *wiring.Box) lead {
	for n := range wiring.Node(s.g.Nodes()) {
		if s.proof.Duty[n] != switching.DutyNeutral {
			continue
		}
		for _, e := range s.g.Members(n) {
			if e.Box == box.ID {
				return lead{n, "N in the box"}
			}
		}
	}
	return lead{none, ""}
}

// reacher finds what is joined to a node in a state.
type reacher struct {
	g    *wiring.Graph
	near [][]int // edges by node
}

func newReacher(g *wiring.Graph) *reacher {
	r := &reacher{g: g, near: make([][]int, g.Nodes())}
	for i := range g.Edges {
		e := &g.Edges[i]
		r.near[e.A] = append(r.near[e.A], i)
		r.near[e.B] = append(r.near[e.B], i)
	}
	return r
}

// from marks every node joined to start, through semiconductors too if asked.
func (r *reacher) from(start wiring.Node, s wiring.State, electronic bool) []bool {
	seen := make([]bool, r.g.Nodes())
	seen[start] = true
	for queue := []wiring.Node{start}; len(queue) > 0; {
		n := queue[0]
		queue = queue[1:]
		for _, i := range r.near[n] {
			e := &r.g.Edges[i]
			if !e.Closed(s) || e.Via == kit.ViaElectronic && !electronic {
				continue
			}
			for _, next := range [2]wiring.Node{e.A, e.B} {
				if !seen[next] {
					seen[next] = true
					queue = append(queue, next)
				}
			}
		}
	}
	return seen
}
