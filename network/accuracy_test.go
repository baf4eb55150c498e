package network_test

import (
	"math"
	"math/big"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"strapper/network"
	"strapper/unit"
)

const omega = 2 * math.Pi * 50

// house is the range of values found in a house: contacts and cores of mΩ to
// insulation of GΩ, capacitances of pF to µF.
var house = decades{-3, 9, -12, -5.5, -3, 3}

// wide is the whole range this package takes, as far as powers of ten go.
var wide = decades{-9, 15, -18, 0, -9, 6}

// worst is the largest relative error over the nodes, and the largest error
// relative to the sum of the source voltages.
func worst(got func(node int) complex128, want []complex128, sources float64) (own, ofSources float64) {
	for node := 1; node < len(want); node++ {
		e := cmplx.Abs(got(node) - want[node])
		ofSources = max(ofSources, e/sources)
		if want[node] != 0 {
			own = max(own, e/cmplx.Abs(want[node]))
		}
	}
	return own, ofSources
}

func (rc *recipe) sources() (sum float64) {
	for _, p := range rc.parts {
		sum += cmplx.Abs(p.e)
	}
	return sum
}

func (rc *recipe) solve(t testing.TB, f unit.Hertz) func(int) complex128 {
	n, states := rc.build()
	s := solve(t, n, f, states...)
	return func(node int) complex128 { return volts(t, s, network.Node(node)) }
}

// The error of every voltage is a few units of rounding of the source voltages,
// over all values this package takes, with resistances only: compared with
// elimination in 640-bit arithmetic.
func TestErrorOfVoltagesResistive(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1985, 33))
	most := 0.0
	for range 500 {
		rc := randomRecipe(rnd, wide, true)
		_, e := worst(rc.solve(t, 0), rc.exact(0), rc.sources())
		most = max(most, e)
	}
	t.Logf("largest error: %.2g of the source voltages", most)
	if most > 1e-14 {
		t.Errorf("largest error is %.2g of the source voltages, want at most 1e-14", most)
	}
}

// The same with resistances and capacitances together at 50 Hz.
func TestErrorOfVoltagesMixed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1985, 34))
	for _, d := range []decades{house, wide} {
		most := 0.0
		for range 500 {
			rc := randomRecipe(rnd, d, false)
			_, e := worst(rc.solve(t, 50), rc.exact(omega), rc.sources())
			most = max(most, e)
		}
		t.Logf("%v: largest error %.2g of the source voltages", d, most)
		if most > 1e-14 {
			t.Errorf("%v: largest error is %.2g of the source voltages, want at most 1e-14", d, most)
		}
	}
}

// With one source that has an end at Ground, and resistances only, every voltage
// keeps its relative accuracy however small it is (O'Cinneide, Numer. Math. 65
// (1993) 109), where dense LU with partial pivoting keeps none.
func TestNoDigitsLost(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1993, 65))
	ours, lost, smallest := 0.0, 0, math.Inf(1)
	for range 500 {
		rc := randomRecipe(rnd, wide, true)
		rc.oneGroundedSource()
		want := rc.exact(0)
		own, _ := worst(rc.solve(t, 0), want, rc.sources())
		lu := rc.dense(0)
		other, _ := worst(func(n int) complex128 { return lu[n] }, want, rc.sources())
		ours = max(ours, own)
		if !(other < 1e-6) { // also when a pivot was lost altogether: NaN
			lost++
		}
		for _, v := range want[1:] {
			if v != 0 {
				smallest = min(smallest, cmplx.Abs(v))
			}
		}
	}
	t.Logf("largest relative error %.2g; dense LU misses 1e-6 in %d networks of 500; smallest voltage %.2g V", ours, lost, smallest)
	if ours > 1e-13 {
		t.Errorf("largest relative error is %.2g, want at most 1e-13", ours)
	}
	if lost < 25 {
		t.Errorf("dense LU misses in %d networks only: they are too easy to show anything", lost)
	}
}

// oneGroundedSource leaves the first source only and puts its minus end at
// Ground.
func (rc *recipe) oneGroundedSource() {
	var keep []part
	found := false
	for _, p := range rc.parts {
		if p.kind != 'V' {
			keep = append(keep, p)
		} else if !found {
			found = true
			p.a, p.b = max(p.a, p.b), 0
			keep = append(keep, p)
		}
	}
	rc.parts = keep
}

// Ohmmeter over 24 decades against exact fractions: the resistance between two
// nodes of a resistive network is a quotient of two determinants, found here in
// rational arithmetic.
func TestOhmmeterAgainstFractions(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1847, 72))
	most := 0.0
	for range 200 {
		rc := randomRecipe(rnd, wide, true)
		var passive []part
		for _, p := range rc.parts {
			if p.kind == 'R' {
				passive = append(passive, p)
			}
		}
		rc.parts = passive
		n, _ := rc.build()
		a := 1 + rnd.IntN(rc.nodes-1)
		r, connected, err := n.Resistance(network.Node(a), network.Ground, nil)
		if err != nil || !connected {
			t.Fatalf("connected %v, %v", connected, err)
		}
		want := rc.fraction(a)
		most = max(most, math.Abs(float64(r)/want-1))
	}
	t.Logf("largest relative error %.2g", most)
	if most > 1e-13 {
		t.Errorf("largest relative error is %.2g, want at most 1e-13", most)
	}
}

// fraction is the resistance between node a and Ground: 1 A is sent in at a and
// the nodal equations are solved over the rationals.
func (rc *recipe) fraction(a int) float64 {
	n := rc.nodes - 1
	m := make([][]*big.Rat, n)
	for i := range m {
		m[i] = make([]*big.Rat, n+1)
		for j := range m[i] {
			m[i][j] = new(big.Rat)
		}
	}
	for _, p := range rc.parts {
		y := new(big.Rat).Inv(new(big.Rat).SetFloat64(p.r))
		for _, e := range [2][2]int{{p.a - 1, p.b - 1}, {p.b - 1, p.a - 1}} {
			if e[0] >= 0 {
				m[e[0]][e[0]].Add(m[e[0]][e[0]], y)
				if e[1] >= 0 {
					m[e[0]][e[1]].Sub(m[e[0]][e[1]], y)
				}
			}
		}
	}
	m[a-1][n].SetInt64(1)
	eliminateRat(m)
	f, _ := m[a-1][n].Float64()
	return f
}

func eliminateRat(m [][]*big.Rat) {
	n := len(m)
	for k := range n {
		inv := new(big.Rat).Inv(m[k][k])
		for j := k; j <= n; j++ {
			m[k][j].Mul(m[k][j], inv)
		}
		for i := range n {
			if i == k || m[i][k].Sign() == 0 {
				continue
			}
			factor := new(big.Rat).Set(m[i][k])
			for j := k; j <= n; j++ {
				m[i][j].Sub(m[i][j], new(big.Rat).Mul(factor, m[k][j]))
			}
		}
	}
}

// dense solves the textbook nodal equations by dense LU.
func (rc *recipe) dense(w float64) []complex128 {
	n := rc.nodes - 1
	big := make([][]bigComplex, n)
	for i := range big {
		big[i] = make([]bigComplex, n+1)
		for j := range big[i] {
			big[i][j] = newBig(0, 0)
		}
	}
	for i := range rc.parts {
		rc.parts[i].stamp(big, w)
	}
	a, b := make([]complex128, n*n), make([]complex128, n)
	for i := range n {
		for j := range n {
			a[i*n+j] = big[i][j].float()
		}
		b[i] = big[i][n].float()
	}
	denseLU(a, b)
	return append([]complex128{0}, b...)
}

// The answer does not depend on the positions visited before, to the last bit,
// nor on whose memory is reused, and nothing is allocated on the way.
func TestReuseChangesNothing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	p, other := newPlaces(6), newPlaces(2)
	f, err := p.net.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	g, err := other.net.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	states := f.States()
	s := g.Solve([]bool{true}, nil)
	for range 300 {
		for i := range states {
			if rnd.IntN(6) == 0 {
				states[i] = !states[i]
			}
		}
		s = f.Solve(states, s)
		fresh := f.Solve(states, nil)
		for node := range p.net.Nodes() {
			if a, b := volts(t, s, network.Node(node)), volts(t, fresh, network.Node(node)); a != b {
				t.Fatalf("node %d: %v, afresh %v", node, a, b)
			}
		}
	}
	count := testing.AllocsPerRun(100, func() {
		states[rnd.IntN(len(states))] = rnd.IntN(2) == 0
		s = f.Solve(states, s)
	})
	if count != 0 {
		t.Errorf("%v allocations a solve", count)
	}
}
