package network

import (
	"math/cmplx"

	"strapper/unit"
)

// Meter measures the impedance between two nodes. It keeps its workspace, so it
// must not be used from several goroutines at once.
//
// One of the two nodes is the reference and the other is eliminated last, so
// the reading is the reciprocal of the one branch that is left between them:
// for resistances it is found without a single subtraction.
type Meter struct {
	f    *Factor // nil if both leads are on one node
	last int32
	s    *Solution
}

// Ohmmeter prepares what a low-resistance or insulation tester reads between a
// and b on the dead network, with direct current: capacitances are open, and
// sources are absent, not short-circuited, because a dead test is made with the
// supply isolated.
func (n *Network) Ohmmeter(a, b Node) (*Meter, error) {
	dead := *n
	dead.branches = nil
	for _, e := range n.branches {
		if e.source {
			e.closed, e.open, e.emf = Open(), Open(), 0
		}
		dead.branches = append(dead.branches, e)
	}
	return dead.meter(0, a, b)
}

// LoopMeter prepares the impedance seen between a and b at frequency f with
// every source replaced by its series resistance: what a loop impedance tester
// reads.
func (n *Network) LoopMeter(f unit.Hertz, a, b Node) (*Meter, error) {
	return n.meter(f, a, b)
}

func (n *Network) meter(f unit.Hertz, a, b Node) (*Meter, error) {
	if err := n.check(f); err != nil {
		return nil, err
	}
	for _, lead := range [2]Node{a, b} {
		if lead < 0 || int(lead) >= n.nodes {
			return nil, &BuildError{Branch: -1, Kind: "meter", Text: "a lead is on a node that this network does not have: use Ground or what Node returned"}
		}
	}
	if a == b {
		return &Meter{}, nil
	}
	m := &Meter{f: n.compile(f, false, int(b), int(a))}
	m.last = m.f.pos[a]
	return m, nil
}

// Read is the magnitude of the impedance in ohms with the switches as given
// (see [Factor.Solve]). It is not connected, and the reading is off scale, if
// nothing that conducts joins the two nodes.
func (m *Meter) Read(states []bool) (r unit.Ohm, connected bool) {
	if m.f == nil {
		return 0, true
	}
	m.s = m.f.position(states, m.s)
	z := m.s.z[m.last]
	return unit.Ohm(cmplx.Abs(z)), z != 0
}

// Resistance is the reading of an ohmmeter between a and b on the dead network,
// once; see [Network.Ohmmeter], which is the quicker way to many readings.
func (n *Network) Resistance(a, b Node, states []bool) (r unit.Ohm, connected bool, err error) {
	m, err := n.Ohmmeter(a, b)
	if err != nil {
		return 0, false, err
	}
	r, connected = m.Read(states)
	return r, connected, nil
}
