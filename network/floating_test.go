package network_test

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"strapper/network"
	"strapper/unit"
)

// Two strappers with no capacitance hang on nothing while both contacts are
// open: a typed answer (common practice: such a core has no voltage to state).
func TestFloatingStrapper(t *testing.T) {
	n := network.New()
	com, a, b, c, d := n.Node(), n.Node(), n.Node(), n.Node(), n.Node()
	lonely := n.Node()
	n.Source(com, network.Ground, 230, 0.1)
	sw, _ := n.Switchable(com, a, network.Ohms(0.01), network.Open())
	sw2, contact2 := n.Switchable(com, b, network.Ohms(0.01), network.Open())
	core := n.Resistor(a, c, 0.06)
	n.Resistor(b, d, 0.06)
	f, err := n.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	states := f.States()
	s := f.Solve(states, nil)
	if s.Floats() != 3 || !s.Floating(a) || !s.Floating(d) || s.Floating(com) || s.Floating(network.Ground) {
		t.Errorf("both open: %d floating parts, want 3 (two strappers and the lonely node)", s.Floats())
	}
	if v, ok := s.Voltage(a, c); !ok || v != 0 {
		t.Errorf("within a floating part: %v %v, want 0 true", v, ok)
	}
	for _, pair := range [][2]network.Node{{a, b}, {a, com}, {c, network.Ground}, {lonely, com}, {lonely, a}} {
		if v, ok := s.Voltage(pair[0], pair[1]); ok {
			t.Errorf("between parts %v: %v, want not defined", pair, v)
		}
	}
	if got := []network.Node{s.Part(a), s.Part(c), s.Part(d), s.Part(com), s.Part(lonely)}; !slices.Equal(got, []network.Node{a, a, b, network.Ground, lonely}) {
		t.Errorf("parts: %v", got)
	}
	if i, ok := s.Current(contact2); i != 0 || !ok {
		t.Errorf("open contact carries %v (%v)", i, ok)
	}
	states[sw] = true
	s = f.Solve(states, s)
	if v := volts(t, s, c); cmplx.Abs(v-230) > 1e-12 || s.Floats() != 2 || !s.Floating(b) {
		t.Errorf("one closed: %v, %d parts", v, s.Floats())
	}
	if i, _ := s.Current(core); i.Abs() > 1e-11 {
		t.Errorf("strapper to nowhere carries %v", i)
	}
	states[sw2] = true
	if s = f.Solve(states, s); s.Floats() != 1 {
		t.Errorf("both closed: %d parts", s.Floats())
	}
	states[sw], states[sw2] = false, false
	if s = f.Solve(states, s); s.Floats() != 3 {
		t.Errorf("open again: %d parts", s.Floats())
	}
}

// A battery that touches earth nowhere: its own voltage is defined, its voltage
// to earth is not.
func TestFloatingBattery(t *testing.T) {
	n := network.New()
	plus, minus := n.Node(), n.Node()
	src := n.Source(plus, minus, 9, 1)
	n.Resistor(plus, minus, 8)
	s := solve(t, n, 0)
	v, ok := s.Voltage(plus, minus)
	if !ok || math.Abs(real(v)-8) > 1e-14 {
		t.Errorf("terminals: %v %v, want 8 V", v, ok)
	}
	if _, ok := s.Voltage(plus, network.Ground); ok {
		t.Error("to earth: defined")
	}
	i, _ := s.Current(src)
	relative(t, "current", real(i), 1, 1e-14)
}

// A stiff source far from earth, held by leakages only: the voltages to earth
// are those of the divider of the leakages (closed form), to the last digits,
// though the source could drive 2.3e11 A.
func TestStiffFloatingSource(t *testing.T) {
	for _, leak := range []unit.Ohm{1, 1e3, 1e6, 1e9, 1e12} {
		n := network.New()
		plus, minus := n.Node(), n.Node()
		n.Source(plus, minus, 230, 1e-9)
		n.Resistor(plus, network.Ground, leak)
		n.Resistor(minus, network.Ground, 3*leak)
		s := solve(t, n, 50)
		total := float64(4*leak) + 1e-9
		relative(t, "plus", real(volts(t, s, plus)), 230*float64(leak)/total, 1e-14)
		relative(t, "minus", real(volts(t, s, minus)), -230*3*float64(leak)/total, 1e-14)
	}
}

// Nodes and branches that the network does not have, and states of the wrong
// length, are answered, not crashed on.
func TestForeignIdentifiers(t *testing.T) {
	p := newPlaces(2)
	f, err := p.net.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	late := p.net.Node()
	for _, states := range [][]bool{nil, {}, {true}, make([]bool, 100)} {
		s := f.Solve(states, nil)
		for _, node := range []network.Node{-1, late, 1 << 40} {
			if _, ok := s.Voltage(node, network.Ground); ok || !s.Floating(node) || s.Part(node) != -1 {
				t.Errorf("node %d is known", node)
			}
		}
		for _, br := range []network.Branch{-1, 1 << 40} {
			if _, ok := s.Current(br); ok {
				t.Errorf("branch %d is known", br)
			}
		}
	}
	if _, err := p.net.Ohmmeter(0, 99); err == nil {
		t.Error("a lead on node 99 is accepted")
	}
}

// Ohmmeter: series and parallel by hand, open is off scale, capacitors and the
// isolated supply do not conduct, the loop tester sees the supply's resistance.
func TestMeters(t *testing.T) {
	n := network.New()
	line, lampN, end := n.Node(), n.Node(), n.Node()
	n.Source(line, network.Ground, 230, 0.35)
	n.Resistor(line, lampN, 0.2)
	n.Switchable(lampN, end, network.Ohms(0.01), network.Open())
	n.Resistor(end, network.Ground, 0.3)
	n.Capacitor(lampN, end, 1e-6)
	if r, connected, err := n.Resistance(line, network.Ground, []bool{true}); err != nil || !connected {
		t.Errorf("closed: %v %v %v", r, connected, err)
	} else {
		relative(t, "closed", float64(r), 0.51, 1e-15)
	}
	if r, connected, _ := n.Resistance(line, end, nil); connected || r != 0 {
		t.Errorf("open: %v %v, want not connected", r, connected)
	}
	if r, connected, _ := n.Resistance(end, end, nil); r != 0 || !connected {
		t.Errorf("both leads together: %v %v", r, connected)
	}
	m, err := n.LoopMeter(50, line, network.Ground)
	if err != nil {
		t.Fatal(err)
	}
	z, _ := m.Read([]bool{true})
	relative(t, "loop", float64(z), 0.35*0.51/(0.35+0.51), 1e-9) // 1 µF beside 10 mΩ: 1e-11 off
	z, _ = m.Read([]bool{false})
	x := cmplx.Abs(complex(0.5, -1/(2*math.Pi*50*1e-6)))
	relative(t, "loop, switch open", float64(z), 0.35, 2*0.35/x)
}

// The parts are the connected components of what conducts (checked by a plain
// search over the branches), in any order of positions.
func TestPartsAreComponents(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		rc := &recipe{nodes: 2 + rnd.IntN(12)}
		for range rnd.IntN(3 * rc.nodes) {
			rc.parts = append(rc.parts, part{kind: 'S', a: rnd.IntN(rc.nodes), b: rnd.IntN(rc.nodes), r: 1})
		}
		n, states := rc.build()
		f, err := n.Factor(50)
		if err != nil {
			t.Fatal(err)
		}
		var s *network.Solution
		for range 5 {
			g := &graph{n: rc.nodes}
			for i, p := range rc.parts {
				if states[i] = rnd.IntN(3) == 0; states[i] {
					g.join(p.a, p.b)
				}
			}
			s = f.Solve(states, s)
			for a := range rc.nodes {
				for b, d := range g.distances(a) {
					_, ok := s.Voltage(network.Node(a), network.Node(b))
					same := s.Part(network.Node(a)) == s.Part(network.Node(b))
					if connected := d < rc.nodes; ok != connected || same != connected {
						t.Fatalf("nodes %d and %d: voltage %v, same part %v, connected %v", a, b, ok, same, connected)
					}
				}
			}
		}
	}
}
