package network_test

import (
	"strapper/network"
	"strapper/unit"
)

// places is the usual control of one lamp from several places: two-way switches
// at the ends, intermediates between, strappers with their capacitances.
type places struct {
	net    *network.Network
	sl     network.Node // lamp terminal
	com    network.Node // common of the last switch
	strap  [2]network.Node
	supply network.Branch
	n      int
}

// Lengths and values of the network "three-place control", the same for any
// number of places: feed 10 m, each strapper run 5 m, switched line 8 m,
// neutral 10 m, 12.1 mΩ/m (IEC 60228:2004 Table 1, 1.5 mm² at 20 °C), 100 pF/m
// core to core split between the ends of a run, lamp 60 W at 230 V, a meter of
// 1 MΩ on the lamp. Contacts 10 mΩ closed, 1 GΩ open.
const (
	feed, strapper, switched, neutral = unit.Ohm(0.121), unit.Ohm(0.0605), unit.Ohm(0.0968), unit.Ohm(0.121)
	lamp                              = unit.Ohm(881.667)
	spanC, slC                        = unit.Farad(250e-12), unit.Farad(800e-12)
)

func contact(n *network.Network, a, b network.Node) {
	n.Switchable(a, b, network.Ohms(0.01), network.Ohms(1e9))
}

// newPlaces builds the control from n ≥ 2 places.
func newPlaces(n int) *places {
	g := network.New()
	p := &places{net: g, n: n}
	com := g.Node()
	p.supply = g.Source(com, network.Ground, 230, feed)
	a, b := g.Node(), g.Node()
	p.strap = [2]network.Node{a, b}
	contact(g, com, a)
	contact(g, com, b)
	for i := 1; i < n; i++ {
		a, b = span(g, a, b, i == n-1)
		if i == n-1 {
			break
		}
		c, d := g.Node(), g.Node()
		contact(g, a, c)
		contact(g, b, d)
		contact(g, a, d)
		contact(g, b, c)
		a, b = c, d
	}
	p.com = g.Node()
	contact(g, p.com, a)
	contact(g, p.com, b)
	p.finish()
	return p
}

func (p *places) finish() {
	g := p.net
	p.sl = g.Node()
	n1 := g.Node()
	g.Resistor(p.com, p.sl, switched)
	g.Capacitor(p.com, network.Ground, slC)
	g.Resistor(p.sl, n1, lamp)
	g.Resistor(n1, network.Ground, neutral)
	g.Resistor(p.sl, network.Ground, 1e6)
}

// span is one run of two strappers: 250 pF between them at each end, and 250 pF
// from each to earth at the near end (in the last run at the far end).
func span(g *network.Network, a, b network.Node, last bool) (network.Node, network.Node) {
	c, d := g.Node(), g.Node()
	g.Resistor(a, c, strapper)
	g.Resistor(b, d, strapper)
	g.Capacitor(a, b, spanC)
	g.Capacitor(c, d, spanC)
	earthed := [2]network.Node{a, b}
	if last {
		earthed = [2]network.Node{c, d}
	}
	for _, core := range earthed {
		g.Capacitor(core, network.Ground, spanC)
	}
	return c, d
}

// set puts bit i of position into place i: 0 joins the first strapper (or goes
// straight through), 1 the second (or crosses).
func (p *places) set(states []bool, position uint) {
	for i := range p.n {
		up := position>>i&1 == 1
		switch {
		case i == 0:
			states[0], states[1] = !up, up
		case i == p.n-1:
			k := len(states) - 2
			states[k], states[k+1] = !up, up
		default:
			k := 2 + 4*(i-1)
			states[k], states[k+1], states[k+2], states[k+3] = !up, !up, up, up
		}
	}
}

// lit says whether the lamp should be on: the sum modulo two of the places is 0.
func lit(position uint) bool {
	on := true
	for ; position != 0; position &= position - 1 {
		on = !on
	}
	return on
}
