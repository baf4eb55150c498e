package network_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"strapper/network"
	"strapper/unit"
)

// ideal is the series resistance of a source that the published network has
// without one: 1e-9 Ω shifts the results below by less than 1e-11.
const ideal = unit.Ohm(1e-9)

func solve(t testing.TB, n *network.Network, f unit.Hertz, states ...bool) *network.Solution {
	t.Helper()
	ready, err := n.Factor(f)
	if err != nil {
		t.Fatal(err)
	}
	return ready.Solve(states, nil)
}

// volts is the voltage to Ground, which must exist.
func volts(t testing.TB, s *network.Solution, n network.Node) complex128 {
	t.Helper()
	v, ok := s.Voltage(n, network.Ground)
	if !ok {
		t.Fatalf("node %d is floating", n)
	}
	return complex128(v)
}

func amps(t testing.TB, s *network.Solution, b network.Branch) float64 {
	t.Helper()
	i, ok := s.Current(b)
	if !ok {
		t.Fatalf("no branch %d", b)
	}
	return float64(i.Abs())
}

// within compares to an absolute tolerance: half a unit of the last digit
// published.
func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.12g, published %.12g ± %g", what, got, want, tolerance)
	}
}

// 1 nF in series with 1 MΩ at 230 V 50 Hz: 230 ωRC/√(1+(ωRC)²) (textbook).
func TestCapacitorAndResistor(t *testing.T) {
	n := network.New()
	line, out := n.Node(), n.Node()
	n.Source(line, network.Ground, 230, ideal)
	c := n.Capacitor(line, out, 1e-9)
	r := n.Resistor(out, network.Ground, 1e6)
	s := solve(t, n, 50)
	v := volts(t, s, out)
	relative(t, "magnitude", cmplx.Abs(v), 68.934864825515, 1e-12)
	relative(t, "phase", cmplx.Phase(v), math.Atan(1/(2*math.Pi*50*1e-3)), 1e-12)
	within(t, "phase", cmplx.Phase(v), 1.266400529, 5e-10)
	relative(t, "current in C", amps(t, s, c), 68.934864825515e-6, 1e-12)
	relative(t, "current in R", amps(t, s, r), 68.934864825515e-6, 1e-12)
}

// Wien network: exactly one third, in phase; twin-T: exactly nothing, at
// ω = 1/RC (textbook; Scott, Proc. IRE 26 (1938) 226 for the twin-T).
func TestWienAndTwinT(t *testing.T) {
	const r = 1e6
	c := unit.Farad(1 / (2 * math.Pi * 50 * r))
	n := network.New()
	line, mid, out := n.Node(), n.Node(), n.Node()
	n.Source(line, network.Ground, 230, ideal)
	n.Resistor(line, mid, r)
	n.Capacitor(mid, out, c)
	n.Resistor(out, network.Ground, r)
	n.Capacitor(out, network.Ground, c)
	a, b, null := n.Node(), n.Node(), n.Node()
	n.Resistor(line, a, r)
	n.Resistor(a, null, r)
	n.Capacitor(a, network.Ground, 2*c)
	n.Capacitor(line, b, c)
	n.Capacitor(b, null, c)
	n.Resistor(b, network.Ground, r/2)
	n.Resistor(null, network.Ground, 10e6)
	s := solve(t, n, 50)
	if v := volts(t, s, out); cmplx.Abs(v-230./3) > 1e-11 {
		t.Errorf("Wien: %g, want 230/3", v)
	}
	if v := volts(t, s, null); cmplx.Abs(v) > 1e-12 {
		t.Errorf("twin-T: %g, want 0", v)
	}
	// The same Wien branches as one impedance each.
	w := network.New()
	line, out = w.Node(), w.Node()
	w.Source(line, network.Ground, 230, ideal)
	w.Impedance(line, out, network.Series(r, c))
	w.Impedance(out, network.Ground, network.Parallel(r, c))
	if v := volts(t, solve(t, w, 50), out); cmplx.Abs(v-230./3) > 1e-11 {
		t.Errorf("Wien, two impedances: %g, want 230/3", v)
	}
}

// Capacitive divider, in phase: 230 C1/(C1+C2) (textbook); a pair of live
// conductors with 1000 pF and earth with 500 pF gives 153.333 V.
func TestCapacitiveDivider(t *testing.T) {
	for _, c := range [][2]unit.Farad{{1000e-12, 500e-12}, {1e-12, 1e-6}, {608e-12, 914e-12}} {
		n := network.New()
		line, core := n.Node(), n.Node()
		n.Source(line, network.Ground, 230, ideal)
		n.Capacitor(line, core, c[0])
		n.Capacitor(core, network.Ground, c[1])
		v := volts(t, solve(t, n, 50), core)
		relative(t, "divider", real(v), 230*float64(c[0]/(c[0]+c[1])), 1e-12)
		within(t, "phase", cmplx.Phase(v), 0, 1e-12)
	}
}

// Line core of 10 m (1.5 mm², 12.1 mΩ/m) feeding a 60 W lamp, 1 nF to a floating
// core with a 1 MΩ meter: ngspice 39.3, 10 digits.
func TestGhostBesideALamp(t *testing.T) {
	n := network.New()
	l1, n1, core := n.Node(), n.Node(), n.Node()
	supply := n.Source(l1, network.Ground, 230, 0.121)
	n.Resistor(l1, n1, lamp)
	n.Resistor(n1, network.Ground, 0.121)
	n.Capacitor(l1, core, 1e-9)
	n.Resistor(core, network.Ground, 1e6)
	s := solve(t, n, 50)
	relative(t, "l1", cmplx.Abs(volts(t, s, l1)), 229.9684409569, 1e-9)
	relative(t, "n1", cmplx.Abs(volts(t, s, n1)), 0.03155654347, 1e-9)
	relative(t, "core", cmplx.Abs(volts(t, s, core)), 68.92540604999, 1e-9)
	relative(t, "core phase", cmplx.Phase(volts(t, s, core)), 1.266400494836, 1e-9)
	relative(t, "supply", amps(t, s, supply), 0.2608185463328, 1e-9)
}

// ghost is a core coupled to the line over a length at 100 pF/m with a meter.
func ghost(t *testing.T, supply network.Voltage, f unit.Hertz, metres float64, meter unit.Ohm) (volt, ampere float64) {
	n := network.New()
	line, core := n.Node(), n.Node()
	n.Source(line, network.Ground, supply, ideal)
	n.Capacitor(line, core, unit.Farad(metres*100e-12))
	r := n.Resistor(core, network.Ground, meter)
	s := solve(t, n, f)
	return cmplx.Abs(volts(t, s, core)), amps(t, s, r)
}

// Reading against length and meter, 100 pF/m, 230 V 50 Hz:
// V = 230 ωRC/√(1+(ωRC)²), evaluated independently and spot-checked in ngspice.
func TestGhostTable(t *testing.T) {
	meters := []unit.Ohm{10e6, 1e6, 400e3, 300e3, 200e3, 100e3, 7e3, 3e3}
	for _, row := range [][]float64{
		// m, µA into a short-circuit, then V for each meter
		{1, 7.226, 68.935, 7.222, 2.890, 2.168, 1.445, 0.723, 0.051, 0.022},
		{2, 14.451, 122.364, 14.423, 5.779, 4.335, 2.890, 1.445, 0.101, 0.043},
		{5, 36.128, 194.020, 35.691, 14.423, 10.826, 7.222, 3.612, 0.253, 0.108},
		{10, 72.257, 219.165, 68.935, 28.677, 21.581, 14.423, 7.222, 0.506, 0.217},
		{15, 108.385, 224.990, 98.044, 42.604, 32.195, 21.581, 10.826, 0.759, 0.325},
		{20, 144.513, 227.141, 122.364, 56.062, 42.604, 28.677, 14.423, 1.012, 0.434},
		{30, 216.770, 228.716, 157.749, 81.134, 62.578, 42.604, 21.581, 1.517, 0.650},
		{50, 361.283, 229.535, 194.020, 122.364, 98.044, 68.935, 35.691, 2.529, 1.084},
	} {
		_, short := ghost(t, 230, 50, row[0], 1)
		within(t, fmt.Sprintf("%g m, µA", row[0]), short*1e6, row[1], 0.5001e-3)
		for i, r := range meters {
			v, _ := ghost(t, 230, 50, row[0], r)
			within(t, fmt.Sprintf("%g m, %g Ω", row[0], float64(r)), v, row[2+i], 0.5001e-3)
		}
	}
	for r, want := range map[unit.Ohm]float64{10e6: 118.223, 1e6: 59.780, 200e3: 13.699, 3e3: 0.207} {
		v, _ := ghost(t, 120, 60, 15.24, r)
		within(t, fmt.Sprintf("120 V 60 Hz, %g Ω", float64(r)), v, want, 0.5001e-3)
	}
}

// A three-core strapper run of 10 m, one core floating, partial capacitances
// from a field solution of the cable (permittivity 4): ngspice 39.3.
func TestGhostOnStrapper(t *testing.T) {
	for _, row := range []struct {
		meter     unit.Ohm
		want, tol float64
	}{
		{1e12, 91.8791, 5e-5},
		{10e6, 89.9333, 5e-5},
		{1e6, 39.6342, 5e-5},
		{400e3, 17.2599, 5e-5},
		{300e3, 13.0461, 5e-5},
		{200e3, 8.7465, 5e-5},
		{100e3, 4.3882, 5e-5},
		{7e3, 0.30752, 5e-6},
		{3e3, 0.13180, 5e-6},
	} {
		n := network.New()
		brown, black, grey := n.Node(), n.Node(), n.Node()
		n.Source(brown, network.Ground, 230, ideal)
		n.Capacitor(brown, black, 608e-12)
		n.Capacitor(black, network.Ground, 785e-12)
		n.Capacitor(black, grey, 129e-12)
		n.Resistor(grey, network.Ground, lamp)
		n.Resistor(black, network.Ground, row.meter)
		v := cmplx.Abs(volts(t, solve(t, n, 50), black))
		within(t, fmt.Sprintf("%g Ω", float64(row.meter)), v, row.want, 1.01*row.tol)
	}
}

// A meter of R = 1/(√3 ωC) halves the open reading (from the divider formula).
func TestHalfReading(t *testing.T) {
	r := unit.Ohm(1 / (math.Sqrt(3) * 2 * math.Pi * 50 * 1e-9))
	v, _ := ghost(t, 230, 50, 10, r)
	relative(t, "half", v, 115, 1e-12)
}

// Three-place control with contacts 10 mΩ and 1 GΩ, all eight positions:
// ngspice 39.3.
func TestThreePlace(t *testing.T) {
	p := newPlaces(3)
	f, err := p.net.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	states := f.States()
	var s *network.Solution
	for position := range uint(8) {
		p.set(states, position)
		s = f.Solve(states, s)
		sl, com := cmplx.Abs(volts(t, s, p.sl)), cmplx.Abs(volts(t, s, p.com))
		supply := amps(t, s, p.supply)
		idle := cmplx.Abs(volts(t, s, p.strap[1-position&1]))
		what := fmt.Sprintf("position %03b: ", position)
		if !lit(position) {
			within(t, what+"sl", sl, 0.063664, 5e-7)
			within(t, what+"com3", com, 0.063671, 5e-7)
			within(t, what+"supply", supply*1e6, 108.3885, 5e-5)
			continue
		}
		within(t, what+"sl", sl, 229.903760, 5e-7)
		within(t, what+"com3", com, 229.929020, 5.1e-7)
		within(t, what+"supply", supply, 0.2609546, 5e-8)
		within(t, what+"idle strapper", idle, 153.3061, 5e-5)
	}
}

// Carter ("lazy neutral") wiring: line and neutral on the strappers at both
// switches, lamp between the commons. Published as four states (shown by
// several trade texts); figures by ngspice 39.3, contacts 10 mΩ and 1 GΩ.
func TestCarter(t *testing.T) {
	n := network.New()
	line, neut, a, b := n.Node(), n.Node(), n.Node(), n.Node()
	n.Source(line, network.Ground, 230, ideal)
	n.Resistor(neut, network.Ground, 0.1)
	for _, com := range []network.Node{a, b} {
		contact(n, com, line)
		contact(n, com, neut)
	}
	n.Resistor(a, b, lamp)
	for _, row := range []struct {
		aOnNeutral, bOnNeutral bool
		a, b, lamp             float64
	}{
		{false, false, 230, 230, 0},
		{false, true, 229.9974, 0.0287, 229.9687},
		{true, false, 0.0287, 229.9974, 229.9687},
		{true, true, 0, 0, 0},
	} {
		s := solve(t, n, 50, !row.aOnNeutral, row.aOnNeutral, !row.bOnNeutral, row.bOnNeutral)
		what := fmt.Sprintf("A on neutral %v, B on neutral %v: ", row.aOnNeutral, row.bOnNeutral)
		within(t, what+"A", cmplx.Abs(volts(t, s, a)), row.a, 5e-5)
		within(t, what+"B", cmplx.Abs(volts(t, s, b)), row.b, 5e-5)
		v, _ := s.Voltage(a, b)
		within(t, what+"lamp", cmplx.Abs(complex128(v)), row.lamp, 5e-5)
	}
}

// Borrowed neutral: line of circuit 1, neutral of circuit 2, then that neutral
// opened at the board with a 1 MΩ meter on it: ngspice 39.3.
func TestBorrowedNeutral(t *testing.T) {
	n := network.New()
	l1, sl, free, bar, own := n.Node(), n.Node(), n.Node(), n.Node(), n.Node()
	n.Source(l1, network.Ground, 230, ideal)
	line := n.Resistor(l1, sl, 0.3)
	lampBranch := n.Resistor(sl, free, lamp)
	neutral2 := n.Resistor(free, bar, 0.2)
	n.Switchable(bar, network.Ground, network.Ohms(0.05), network.Ohms(1e9))
	neutral1 := n.Resistor(network.Ground, own, 0.2)
	n.Resistor(own, network.Ground, 1e9)
	n.Resistor(free, network.Ground, 1e6)
	s := solve(t, n, 50, true)
	within(t, "line of circuit 1", amps(t, s, line), 0.2607068, 5e-8)
	within(t, "neutral of circuit 1", amps(t, s, neutral1), 0, 1e-12)
	within(t, "neutral of circuit 2", amps(t, s, neutral2), 0.2607068, 3e-7) // the meter takes 65 nA
	s = solve(t, n, 50, false)
	within(t, "free neutral", cmplx.Abs(volts(t, s, free)), 229.797, 5e-4*2)
	within(t, "lamp, mA", amps(t, s, lampBranch)*1e3, 0.23, 5e-4)
}
