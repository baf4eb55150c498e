package network_test

import (
	"math"
	"math/big"
	"math/rand/v2"

	"strapper/network"
	"strapper/unit"
)

// recipe is a network as a list of parts, from which the network of this
// package and the exact solution are made independently.
type recipe struct {
	nodes int // Ground included
	parts []part
}

// part is one branch: 'R', 'C', 'V' (source behind r), or 'S' (a switch, r
// closed, c open if not 0).
type part struct {
	kind   byte
	a, b   int
	r, c   float64
	e      complex128
	closed bool
}

func (rc *recipe) build() (*network.Network, []bool) {
	n := network.New()
	for range rc.nodes - 1 {
		n.Node()
	}
	var states []bool
	for _, p := range rc.parts {
		a, b := network.Node(p.a), network.Node(p.b)
		switch p.kind {
		case 'R':
			n.Resistor(a, b, unit.Ohm(p.r))
		case 'C':
			n.Capacitor(a, b, unit.Farad(p.c))
		case 'V':
			n.Source(a, b, network.Voltage(p.e), unit.Ohm(p.r))
		case 'S':
			open := network.Open()
			if p.c != 0 {
				open = network.Farads(unit.Farad(p.c))
			}
			n.Switchable(a, b, network.Ohms(unit.Ohm(p.r)), open)
			states = append(states, p.closed)
		}
	}
	return n, states
}

// decades is the range of values of random networks, as powers of ten.
type decades struct{ rLow, rHigh, cLow, cHigh, sLow, sHigh float64 }

func logUniform(rnd *rand.Rand, low, high float64) float64 {
	return math.Pow(10, low+rnd.Float64()*(high-low))
}

// randomRecipe makes a network in which every node has a way to Ground over
// fixed resistances and capacitances, so that neither leakage nor floating parts
// come into the comparison.
func randomRecipe(rnd *rand.Rand, d decades, onlyR bool) *recipe {
	rc := &recipe{nodes: 2 + rnd.IntN(14)}
	passive := func(a, b int) {
		if onlyR || rnd.IntN(3) > 0 {
			rc.parts = append(rc.parts, part{kind: 'R', a: a, b: b, r: logUniform(rnd, d.rLow, d.rHigh)})
		} else {
			rc.parts = append(rc.parts, part{kind: 'C', a: a, b: b, c: logUniform(rnd, d.cLow, d.cHigh)})
		}
	}
	pair := func() (int, int) {
		a := rnd.IntN(rc.nodes)
		return a, (a + 1 + rnd.IntN(rc.nodes-1)) % rc.nodes
	}
	for v := 1; v < rc.nodes; v++ {
		passive(v, rnd.IntN(v))
	}
	for range rnd.IntN(2 * rc.nodes) {
		passive(pair())
	}
	for range 1 + rnd.IntN(4) {
		a, b := pair()
		rc.parts = append(rc.parts, part{kind: 'V', a: a, b: b, r: logUniform(rnd, d.sLow, d.sHigh), e: randomVoltage(rnd, onlyR)})
	}
	for range rnd.IntN(5) {
		a, b := pair()
		p := part{kind: 'S', a: a, b: b, r: 0.01, closed: rnd.IntN(2) == 0}
		if rnd.IntN(2) == 0 && !onlyR {
			p.c = 5e-12
		}
		rc.parts = append(rc.parts, p)
	}
	return rc
}

func randomVoltage(rnd *rand.Rand, direct bool) complex128 {
	e := logUniform(rnd, 0, 3)
	if direct {
		return complex(e, 0)
	}
	sin, cos := math.Sincos(rnd.Float64() * 2 * math.Pi)
	return complex(e*cos, e*sin)
}

// digits is the precision of the exact solution in bits: the widest networks
// here span 24 decades (80 bits), which elimination may lose more than once.
const digits = 640

// bigComplex is a complex number of that precision.
type bigComplex struct{ re, im *big.Float }

func newBig(re, im float64) bigComplex {
	return bigComplex{big.NewFloat(re).SetPrec(digits), big.NewFloat(im).SetPrec(digits)}
}

func zero() *big.Float { return new(big.Float).SetPrec(digits) }

func (x bigComplex) add(y bigComplex) bigComplex {
	return bigComplex{zero().Add(x.re, y.re), zero().Add(x.im, y.im)}
}

func (x bigComplex) sub(y bigComplex) bigComplex {
	return bigComplex{zero().Sub(x.re, y.re), zero().Sub(x.im, y.im)}
}

func (x bigComplex) mul(y bigComplex) bigComplex {
	return bigComplex{
		zero().Sub(zero().Mul(x.re, y.re), zero().Mul(x.im, y.im)),
		zero().Add(zero().Mul(x.re, y.im), zero().Mul(x.im, y.re)),
	}
}

func (x bigComplex) isZero() bool { return x.re.Sign() == 0 && x.im.Sign() == 0 }

func (x bigComplex) inverse() bigComplex {
	d := zero().Add(zero().Mul(x.re, x.re), zero().Mul(x.im, x.im))
	return bigComplex{zero().Quo(x.re, d), zero().Quo(zero().Neg(x.im), d)}
}

func (x bigComplex) float() complex128 {
	re, _ := x.re.Float64()
	im, _ := x.im.Float64()
	return complex(re, im)
}

// admittance of a part at angular frequency w.
func (p *part) admittance(w float64) bigComplex {
	capacitive := p.kind == 'C' || p.kind == 'S' && !p.closed
	if capacitive {
		b := newBig(0, w)
		b.im.Mul(b.im, big.NewFloat(p.c).SetPrec(digits))
		return b
	}
	return newBig(p.r, 0).inverse()
}

// exact solves the ordinary nodal equations (diagonal minus off-diagonal, the
// textbook way) by Gaussian elimination with so many digits that what cancels
// does not matter.
func (rc *recipe) exact(w float64) []complex128 {
	n := rc.nodes - 1
	m := make([][]bigComplex, n)
	for i := range m {
		m[i] = make([]bigComplex, n+1)
		for j := range m[i] {
			m[i][j] = newBig(0, 0)
		}
	}
	for i := range rc.parts {
		rc.parts[i].stamp(m, w)
	}
	eliminateBig(m)
	v := make([]complex128, rc.nodes)
	for i := range m {
		v[i+1] = m[i][n].float()
	}
	return v
}

// stamp adds a part to the nodal equations; row and column i are node i+1.
func (p *part) stamp(m [][]bigComplex, w float64) {
	n, y := len(m), p.admittance(w)
	j := y.mul(newBig(real(p.e), imag(p.e)))
	for _, end := range [2]struct {
		at, other int
		j         bigComplex
	}{{p.a - 1, p.b - 1, j}, {p.b - 1, p.a - 1, newBig(0, 0).sub(j)}} {
		if end.at < 0 {
			continue
		}
		row := m[end.at]
		row[end.at] = row[end.at].add(y)
		if end.other >= 0 {
			row[end.other] = row[end.other].sub(y)
		}
		row[n] = row[n].add(end.j)
	}
}

// eliminateBig is Gauss–Jordan elimination in place; the solution is the last
// column.
func eliminateBig(m [][]bigComplex) {
	n := len(m)
	for k := range n {
		inv := m[k][k].inverse()
		for j := k; j <= n; j++ {
			m[k][j] = m[k][j].mul(inv)
		}
		for i := range n {
			if i == k || m[i][k].isZero() {
				continue
			}
			factor := m[i][k]
			for j := k; j <= n; j++ {
				m[i][j] = m[i][j].sub(factor.mul(m[k][j]))
			}
		}
	}
}
