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
// states at a time. Everything else (lit, short, live when off, borrowed
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
	"math/bits"

	"strapper/finding"
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

	g       *wiring.Graph
	l       layout
	n       *nets
	sources []source
	lit     []table // by load
	coil    []table // by coil
	net     []netUse
}

// netUse gathers what a net is joined to over all states.
type netUse struct {
	everL, everN, everE, notL, notN bool
	circuits                        uint64 // bit per circuit whose line or neutral arrives
}

// Sources are ordered: for circuit i its line is 2i and its neutral 2i+1; the
// earth bar is last.
func (p *Proof) lineOf(i int) int    { return 2 * i }
func (p *Proof) neutralOf(i int) int { return 2*i + 1 }
func (p *Proof) earth() int          { return 2 * len(p.g.Origins) }

// Prove examines every state of the graph's switches against what is wanted.
// It never fails: an installation too large to prove has Exact false and a
// finding that says so.
func Prove(g *wiring.Graph, wants []Want) *Proof {
	p := &Proof{g: g, l: newLayout(g), States: g.States()}
	p.n = contract(g)
	p.Duty = make([]Duty, g.Nodes())
	if p.l.bits > MaxBits || len(g.Origins) == 0 || len(g.Origins) > 64 {
		p.refuse()
		return p
	}
	p.Exact = true
	p.findSources()
	p.walk()
	p.assignDuties()
	p.checkStatic()
	p.checkWants(wants)
	finding.Sort(p.Findings)
	return p
}

func (p *Proof) refuse() {
	f := finding.Finding{Code: "not-proved", Severity: finding.Forbids, Subject: "job"}
	switch {
	case len(p.g.Origins) == 0:
		f.Text, f.Fix = "no circuit feeds the wiring, so nothing can be proved", "add a circuit under circuits:"
	case len(p.g.Origins) > 64:
		f.Text, f.Fix = "more than 64 circuits are too many for one job", "split the job"
	default:
		f.Text, f.Fix = "there are more switches than can be proved position by position", "split the job by circuit"
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

// walk goes through all blocks, keeping the tables of lamps and coils and the
// uses of every net, and evaluating the hazards.
func (p *Proof) walk() {
	p.lit = p.newTables(len(p.g.Loads))
	p.coil = p.newTables(len(p.g.Coils))
	p.net = make([]netUse, p.n.count)
	b := newBlock(&p.l, p.n, len(p.sources))
	hazards := p.hazards()
	for number := range p.l.blocks() {
		b.fill(number, p.sources)
		p.record(b)
		for i := range hazards {
			hazards[i].examine(b)
		}
	}
	p.reportHazards(b, hazards)
}

func (p *Proof) newTables(n int) []table {
	list := make([]table, n)
	for i := range list {
		list[i] = p.l.newTable()
	}
	return list
}

func (p *Proof) record(b *block) {
	at := b.number * p.l.words
	for i := range p.g.Loads {
		load := &p.g.Loads[i]
		b.across(p, load.A, load.B, p.lit[i][at:at+p.l.words])
	}
	for i := range p.g.Coils {
		coil := &p.g.Coils[i]
		b.across(p, coil.A, coil.B, p.coil[i][at:at+p.l.words])
	}
	for net := range p.net {
		p.recordNet(b, int32(net), &p.net[net])
	}
}

// across is the table of states in which a line stands at one of two nodes
// and a neutral at the other.
func (b *block) across(p *Proof, x, y wiring.Node, into []uint64) {
	a, c := p.n.of[x], p.n.of[y]
	for w := range into {
		into[w] = p.line(b, a, w)&p.neutral(b, c, w) | p.line(b, c, w)&p.neutral(b, a, w)
	}
}

// line is word w of the states in which any circuit's line stands at net.
func (p *Proof) line(b *block, net int32, w int) (t uint64) {
	for i := range p.g.Origins {
		t |= b.of(p.lineOf(i), net)[w]
	}
	return t
}

// neutral is word w of the states in which any circuit's neutral stands at net.
func (p *Proof) neutral(b *block, net int32, w int) (t uint64) {
	for i := range p.g.Origins {
		t |= b.of(p.neutralOf(i), net)[w]
	}
	return t
}

func (p *Proof) recordNet(b *block, net int32, use *netUse) {
	for w, valid := range b.valid {
		l, n := p.line(b, net, w), p.neutral(b, net, w)
		use.everL = use.everL || l != 0
		use.everN = use.everN || n != 0
		use.notL = use.notL || l != valid
		use.notN = use.notN || n != valid
		use.everE = use.everE || b.of(p.earth(), net)[w] != 0
	}
	for i := range p.g.Origins {
		if use.circuits>>i&1 == 0 && (anySet(b.of(p.lineOf(i), net)) || anySet(b.of(p.neutralOf(i), net))) {
			use.circuits |= 1 << i
		}
	}
}

func anySet(t []uint64) bool {
	for _, w := range t {
		if w != 0 {
			return true
		}
	}
	return false
}

// stateOf is the number of the first state set in word w of the block.
func (b *block) stateOf(w int, word uint64) uint64 {
	return uint64(b.number*b.l.words+w)<<6 | uint64(bits.TrailingZeros64(word))
}

func (p *Proof) assignDuties() {
	lampSide := make([]bool, p.n.count)
	for i := range p.g.Loads {
		lampSide[p.n.of[p.g.Loads[i].A]] = true
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
	return p.Exact && p.lit[load].get(p.l.index(s))
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
