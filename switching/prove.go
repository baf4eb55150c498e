// Package switching proves what an arrangement of switches does: in every
// position of all of them, which lamps are lit, whether each switch does what
// is wanted, and whether any position is dangerous.
//
// Method. Conductors that are joined for good are taken as one net, leaving
// only contacts. For each circuit's line and neutral, and for the earth bar,
// the states in which a net is joined to it are the least fixpoint of
//
//	reach(v) = OR over contacts u-v of reach(u) AND closed(u-v)
//
// computed on truth tables, 64 states to a machine word, a block of 4,096
// states at a time; with more than one block, on binary decision diagrams, and
// on truth tables again should these grow too large. Everything else (lit, short, live when off, borrowed
// neutral …) is a Boolean formula over those tables, so every claim covers
// every state, and a failure has a state to show. Witnesses are shortest: the
// fewest contacts over all states in which the fault shows.
//
// Formulae for contact networks follow C. E. Shannon, "A Symbolic Analysis of
// Relay and Switching Circuits", Trans. AIEE 57 (1938) 713.
//
// The package does not judge currents, lengths or sizes, and takes a contact
// for a perfect joint.
package switching

import (
	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// Duty is what a node does, taken over all states.
type Duty uint8

// The duties of a node.
const (
	DutyUnused   Duty = iota // joined to no source in any state
	DutyEarth                // joined to the earth bar
	DutyNeutral              // joined to a neutral, never to a line
	DutyLine                 // joined to a line in every state
	DutySwitched             // joined to a line in some states, and to a lamp
	DutyStrapper             // joined to a line in some states, between switches
	DutyMixed                // line in some states and neutral or earth in others
)

// String names the duty as the trade does.
func (d Duty) String() string {
	return [...]string{"unused", "cpc", "neutral", "line", "switched line", "strapper", "mixed"}[d]
}

// Proof is the outcome: what is lit in every state, what each node does, and
// what is wrong.
type Proof struct {
	States   uint64            // states examined
	Duty     []Duty            // by wiring.Node
	Findings []finding.Finding // positions not yet filled in
	Exact    bool              // false when there were too many switches to prove

	g         *wiring.Graph
	n         *nets
	sources   []source
	consumers []consumer
	lit       []function // by load
	coil      []function // by coil
	net       []netUse
	minds     [][]int // by load: the switches it depends on
	m         method
}

// netUse gathers what a net is joined to over all states.
type netUse struct {
	everL, everN, everE, notL bool
	circuits                  uint64 // bit per circuit whose line or neutral arrives
}

// Sources are ordered: for circuit i its line is 2i and its neutral 2i+1; the
// earth bar is last.
func (p *Proof) lineOf(i int) int    { return 2 * i }
func (p *Proof) neutralOf(i int) int { return 2*i + 1 }
func (p *Proof) earth() int          { return 2 * len(p.g.Origins) }

// Prove examines every state of the graph's switches against what is wanted.
// It never fails: an installation too large to prove has Exact false and a
// finding that says so. The proof may be read by several goroutines.
func Prove(g *wiring.Graph, wants []Want) *Proof { return prove(g, wants, blockBits, maxNodes) }

// prove uses truth tables up to some number of bits, then diagrams up to some
// number of nodes, then truth tables again as far as they go.
func prove(g *wiring.Graph, wants []Want, tableBits, nodes int) *Proof {
	p := &Proof{g: g, States: g.States(), Duty: make([]Duty, g.Nodes())}
	if len(g.Origins) == 0 || len(g.Origins) > 64 {
		p.refuse()
		return p
	}
	p.n = contract(g)
	p.findSources()
	p.findConsumers()
	l := newLayout(g)
	if l.bits <= tableBits {
		p.examine(newTabular(l, p.n, p.sources), wants)
	} else {
		p.examine(newSymbolic(g, p.n, p.sources, nodes), wants)
		if p.m.gaveUp() && l.bits <= MaxBits {
			p.forget()
			p.examine(newTabular(l, p.n, p.sources), wants)
		}
	}
	if p.m.gaveUp() {
		p.forget()
		p.refuse()
		return p
	}
	p.Exact = true
	finding.Sort(p.Findings)
	return p
}

// forget drops what an attempt that was given up has left.
func (p *Proof) forget() {
	p.lit, p.coil, p.minds, p.Findings = nil, nil, nil, nil
	clear(p.Duty)
}

func (p *Proof) examine(m method, wants []Want) {
	p.m = m
	p.net = make([]netUse, p.n.count)
	hazards := p.hazards()
	m.run(p, hazards)
	if m.gaveUp() {
		return
	}
	p.findSeries(m, hazards)
	if m.gaveUp() {
		return
	}
	p.report(m, hazards)
	p.assignDuties()
	p.checkStatic()
	p.checkDevices(m)
	p.checkWants(m, wants)
	if _, diagrams := m.(*symbolic); diagrams {
		p.findMinded()
	}
}

func (p *Proof) refuse() {
	f := finding.Finding{Code: "not-proved", Severity: finding.Forbids, Subject: "job"}
	switch {
	case len(p.g.Origins) == 0:
		f.Text, f.Fix = "no circuit feeds the wiring, so nothing can be proved", "add a circuit under circuits:"
	case len(p.g.Origins) > 64:
		f.Text, f.Fix = "more than 64 circuits are too many for one job", "split the job"
	default:
		f.Text, f.Fix = "the switches act together in more ways than can be proved", "split the job by circuit"
	}
	p.Findings = append(p.Findings, f)
}

func (p *Proof) findSources() {
	add := func(node wiring.Node) {
		net := p.n.of[node]
		p.sources = append(p.sources, source{net, p.n.outward(net)})
	}
	for _, o := range p.g.Origins {
		add(o.L)
		add(o.N)
	}
	add(p.g.Origins[0].E)
}

func (p *Proof) assignDuties() {
	lampSide := make([]bool, p.n.count)
	for i := range p.consumers {
		if c := &p.consumers[i]; !c.own {
			lampSide[c.a], lampSide[c.b] = true, true
		}
	}
	for i := range p.g.Loads {
		l := &p.g.Loads[i]
		if l.Always && l.Item.Kind.Class != kit.ClassDimmer { // a dimmer's supply stands on its strapper terminals
			lampSide[p.n.of[l.A]] = true
		}
	}
	for node := range p.Duty {
		net := p.n.of[node]
		p.Duty[node] = p.net[net].duty(lampSide[net])
	}
}

func (u netUse) duty(lampSide bool) Duty {
	switch {
	case u.everL && (u.everN || u.everE), u.everN && u.everE:
		return DutyMixed
	case u.everE:
		return DutyEarth
	case u.everN:
		return DutyNeutral
	case u.everL && !u.notL:
		return DutyLine
	case u.everL && lampSide:
		return DutySwitched
	case u.everL:
		return DutyStrapper
	}
	return DutyUnused
}

// Lit reports whether a load stands between a line and a neutral in a state.
// Of a job too large to prove nothing is known to be lit.
func (p *Proof) Lit(load int, s wiring.State) bool {
	return p.Exact && p.lit[load].at(s)
}

// Fed reports whether the line or the neutral of a circuit, by its index in the
// graph's Origins, reaches a node in any state.
func (p *Proof) Fed(n wiring.Node, circuit int) bool {
	return p.Exact && p.net[p.n.of[n]].circuits>>circuit&1 == 1
}

// Live reports whether a node has a metallic path to some circuit's line in a
// state.
func (p *Proof) Live(n wiring.Node, s wiring.State) bool {
	for i := range p.g.Origins {
		if p.path(p.g.Origins[i].L, n, s) != nil || p.n.of[n] == p.n.of[p.g.Origins[i].L] {
			return true
		}
	}
	return false
}
