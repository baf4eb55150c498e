package network_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strapper/network"
	"strapper/unit"
)

// Every mistake of construction is an error that names branch and remedy.
func TestBuildErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		name  string
		build func(n *network.Network, a network.Node)
		want  string
	}{
		{"zero resistance", func(n *network.Network, a network.Node) { n.Resistor(a, 0, 0) }, "resistor (branch 1): resistance is 0 Ω: give"},
		{"negative", func(n *network.Network, a network.Node) { n.Resistor(a, 0, -1) }, "a joint is one node"},
		{"NaN", func(n *network.Network, a network.Node) { n.Resistor(a, 0, unit.Ohm(nan)) }, "resistance is NaN"},
		{"infinite", func(n *network.Network, a network.Node) { n.Resistor(a, 0, unit.Ohm(inf)) }, "no connection is Open()"},
		{"too small", func(n *network.Network, a network.Node) { n.Resistor(a, 0, 1e-10) }, "give 1e-09 to 1e+15"},
		{"unknown node", func(n *network.Network, a network.Node) { n.Resistor(a, 7, 1) }, "there is no node 7"},
		{"negative node", func(n *network.Network, a network.Node) { n.Capacitor(-1, a, 1e-9) }, "capacitor (branch 1): there is no node -1"},
		{"zero capacitance", func(n *network.Network, a network.Node) { n.Capacitor(a, 0, 0) }, "capacitance is 0 F: give"},
		{"capacitance in pF", func(n *network.Network, a network.Node) { n.Capacitor(a, 0, 100) }, "capacitance is 100 F"},
		{"ideal source", func(n *network.Network, a network.Node) { n.Source(a, 0, 230, 0) }, "source (branch 1): resistance is 0 Ω"},
		{"source NaN", func(n *network.Network, a network.Node) { n.Source(a, 0, network.Voltage(complex(nan, 0)), 1) }, "give a finite voltage"},
		{"source too high", func(n *network.Network, a network.Node) { n.Source(a, 0, 1e10, 1) }, "up to 1e+09 V"},
		{"switch open side", func(n *network.Network, a network.Node) { n.Switchable(a, 0, network.Ohms(1), network.Ohms(0)) }, "switchable branch (branch 1): when open, resistance is 0 Ω"},
		{"switch closed side", func(n *network.Network, a network.Node) { n.Switchable(a, 0, network.Farads(-1), network.Open()) }, "capacitance is -1 F"},
		{"series", func(n *network.Network, a network.Node) { n.Impedance(a, 0, network.Series(1, 2)) }, "impedance (branch 1): capacitance is 2 F"},
	} {
		n := network.New()
		a := n.Node()
		n.Resistor(a, 0, 1)
		row.build(n, a)
		_, err := n.Factor(50)
		var built *network.BuildError
		if err == nil || !strings.Contains(err.Error(), row.want) || !errors.As(err, &built) || built.Branch != 1 {
			t.Errorf("%s: error %v, want %q", row.name, err, row.want)
		}
		if _, err := n.Ohmmeter(a, 0); err == nil {
			t.Errorf("%s: the ohmmeter accepts it", row.name)
		}
		if err := n.Spice(new(strings.Builder), row.name, 50, nil); err == nil {
			t.Errorf("%s: the deck writer accepts it", row.name)
		}
	}
}

// All mistakes come at once, and the frequency is looked at too.
func TestAllErrorsAtOnce(t *testing.T) {
	n := network.New()
	a := n.Node()
	n.Resistor(a, 0, 0)
	n.Source(a, 9, 230i, 0.1)
	_, err := n.Factor(0)
	for _, want := range []string{"branch 0", "no node 9", "a direct voltage has no phase"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v does not say %q", err, want)
		}
	}
	for _, f := range []unit.Hertz{-50, 0.01, 1e7, unit.Hertz(math.NaN()), unit.Hertz(math.Inf(1))} {
		if _, err := network.New().Factor(f); err == nil || !strings.Contains(err.Error(), "frequency") {
			t.Errorf("%v Hz: %v", float64(f), err)
		}
	}
}

// Degenerate networks are networks: nothing but Ground, a branch from a node to
// itself, a source across itself.
func TestDegenerateNetworks(t *testing.T) {
	s := solve(t, network.New(), 50)
	if v, ok := s.Voltage(0, 0); v != 0 || !ok {
		t.Errorf("empty: %v %v", v, ok)
	}
	n := network.New()
	a := n.Node()
	n.Resistor(a, a, 1)
	n.Switchable(a, a, network.Ohms(1), network.Open())
	shorted := n.Source(a, a, 10, 2)
	s = solve(t, n, 0, true)
	if i, _ := s.Current(shorted); i != 5 || !s.Floating(a) {
		t.Errorf("a source across itself delivers %v, want 5 A", i)
	}
}
