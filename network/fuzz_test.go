package network_test

import (
	"encoding/binary"
	"math"
	"math/cmplx"
	"testing"

	"strapper/network"
	"strapper/unit"
)

// reader takes values from fuzz input; past the end it gives zeros.
type reader struct{ data []byte }

func (r *reader) byte() byte {
	if len(r.data) == 0 {
		return 0
	}
	b := r.data[0]
	r.data = r.data[1:]
	return b
}

// float is any float64 at all, or, more often, a power of ten.
func (r *reader) float() float64 {
	b := int8(r.byte())
	if b != 127 {
		return math.Pow(10, float64(b)/8)
	}
	var raw [8]byte
	for i := range raw {
		raw[i] = r.byte()
	}
	return math.Float64frombits(binary.LittleEndian.Uint64(raw[:]))
}

func (r *reader) impedance() network.Impedance {
	switch r.byte() % 5 {
	case 0:
		return network.Open()
	case 1:
		return network.Ohms(unit.Ohm(r.float()))
	case 2:
		return network.Farads(unit.Farad(r.float()))
	case 3:
		return network.Series(unit.Ohm(r.float()), unit.Farad(r.float()))
	default:
		return network.Parallel(unit.Ohm(r.float()), unit.Farad(r.float()))
	}
}

func (r *reader) network() *network.Network {
	n := network.New()
	nodes := int(r.byte()%20) + 1
	for range nodes - 1 {
		n.Node()
	}
	for len(r.data) > 0 && len(r.data) < 1<<12 {
		kind := r.byte()
		a, b := network.Node(int(r.byte())%nodes), network.Node(int(r.byte())%nodes)
		if kind > 250 {
			a -= 3 // sometimes a node that is not there
		}
		switch kind % 4 {
		case 0:
			n.Impedance(a, b, r.impedance())
		case 1:
			n.Switchable(a, b, r.impedance(), r.impedance())
		case 2:
			n.Source(a, b, network.Voltage(complex(r.float(), 0)), unit.Ohm(r.float()))
		default:
			n.Resistor(a, b, unit.Ohm(r.float()))
		}
	}
	return n
}

// FuzzNetwork builds a network from any bytes: it is refused with an error, or
// every answer is a finite number or "not defined", the same afresh as after
// other positions; every resistive reading is positive.
func FuzzNetwork(f *testing.F) {
	f.Add([]byte{3, 50, 3, 0, 1, 8, 3, 1, 2, 16, 2, 1, 0, 18, 0}, uint64(5))
	f.Add([]byte{2, 0, 1, 0, 1, 1, 1, 7}, uint64(1))
	f.Add([]byte{5, 1, 0, 1, 1, 240, 0, 1, 1, 2, 2, 180, 0, 2, 1, 0, 18, 0, 0, 2, 3, 2, 180}, uint64(3))
	f.Fuzz(func(t *testing.T, data []byte, closed uint64) {
		r := &reader{data}
		hz := []unit.Hertz{0, 50}[r.byte()%2]
		n := r.network()
		factor, err := n.Factor(hz)
		if err != nil {
			return
		}
		states := factor.States()
		s := factor.Solve(states, nil)
		for i := range states {
			states[i] = closed>>(i%64)&1 == 1
		}
		s = factor.Solve(states, s)
		checkFinite(t, n, s, factor.Solve(states, nil))
		m, err := n.Ohmmeter(network.Ground, network.Node(n.Nodes()-1))
		if err != nil {
			t.Fatal(err)
		}
		if ohm, ok := m.Read(states); math.IsNaN(float64(ohm)) || math.IsInf(float64(ohm), 0) || ok && n.Nodes() > 1 && ohm <= 0 {
			t.Errorf("ohmmeter reads %v, %v", ohm, ok)
		}
	})
}

func checkFinite(t *testing.T, n *network.Network, s, fresh *network.Solution) {
	t.Helper()
	for node := network.Node(0); int(node) < n.Nodes(); node++ {
		v, ok := s.Voltage(node, s.Part(node))
		if !ok || bad(complex128(v)) {
			t.Errorf("node %d: %v, %v", node, v, ok)
		}
		if w, _ := fresh.Voltage(node, fresh.Part(node)); w != v {
			t.Errorf("node %d: %v, afresh %v", node, v, w)
		}
	}
	for b := network.Branch(0); ; b++ {
		i, ok := s.Current(b)
		if !ok {
			break
		}
		if bad(complex128(i)) {
			t.Errorf("branch %d: %v", b, i)
		}
	}
}

func bad(x complex128) bool { return cmplx.IsNaN(x) || cmplx.IsInf(x) }
