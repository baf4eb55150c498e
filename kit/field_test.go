package kit

import "math"

// Finite-volume solution of Laplace's equation over the cross-section of a
// flat cable, the working behind docs/checks/02-cable-capacitance.md: round
// conductors, one relative permittivity inside the sheath, air outside, no
// flux through the border of the box. Where a grid line meets a conductor
// between two nodes the conductance is that of the shorter distance.

// margin is what is solved beyond the sheath, mm.
const margin = 8.0

// epsilon0 is the permittivity of free space in F/m (CODATA 2018).
const epsilon0 = 8.8541878128e-12

// wire is a round conductor; lengths here are in millimetres.
type wire struct{ x, y, r float64 }

// section is a cross-section to solve.
type section struct {
	wires      []wire
	inside     func(x, y float64) bool // within the plastic
	eps        float64                 // its relative permittivity
	halfWidth  float64                 // of the box that is solved
	halfHeight float64
}

// flatCable lays the conductors in a row, each touching the next, and sheaths
// them: radius and insulation of each, and the sheath's thickness.
func flatCable(eps, sheath float64, radius, insulation []float64) section {
	var wires []wire
	x, tallest := 0.0, 0.0
	for i, r := range radius {
		outer := r + insulation[i]
		wires = append(wires, wire{x: x + outer, r: r})
		x += 2 * outer
		tallest = max(tallest, outer)
	}
	for i := range wires {
		wires[i].x -= x / 2
	}
	half, flat := tallest+sheath, x/2-tallest
	return section{
		wires: wires, eps: eps, halfWidth: x/2 + margin, halfHeight: half + margin,
		inside: func(x, y float64) bool {
			return math.Hypot(max(0, math.Abs(x)-flat), y) <= half
		},
	}
}

// field is a section cut into squares of side h.
type field struct {
	section
	h          float64
	nx, ny     int
	metal      []int        // wire at a node, −1 in the dielectric
	conduct    [][4]float64 // to east, north, west, south, in units of ε0
	sum        []float64
	v          []float64
	atBoundary []int // nodes beside metal
}

func newField(s section, h float64) *field {
	f := &field{section: s, h: h, nx: 2*int(s.halfWidth/h) + 1, ny: 2*int(s.halfHeight/h) + 1}
	n := f.nx * f.ny
	f.metal, f.conduct, f.sum, f.v = make([]int, n), make([][4]float64, n), make([]float64, n), make([]float64, n)
	for i := range f.metal {
		f.metal[i] = f.wireAt(f.place(i))
	}
	for i := range f.metal {
		if f.metal[i] < 0 {
			f.join(i)
		}
	}
	return f
}

func (f *field) place(i int) (x, y float64) {
	return float64(i%f.nx-f.nx/2) * f.h, float64(i/f.nx-f.ny/2) * f.h
}

func (f *field) wireAt(x, y float64) int {
	for k, w := range f.wires {
		if math.Hypot(x-w.x, y-w.y) <= w.r {
			return k
		}
	}
	return -1
}

var steps = [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}

func (f *field) neighbour(i, side int) int {
	x, y := i%f.nx+steps[side][0], i/f.nx+steps[side][1]
	if x < 0 || x >= f.nx || y < 0 || y >= f.ny {
		return -1
	}
	return y*f.nx + x
}

func (f *field) join(i int) {
	x, y := f.place(i)
	beside := false
	for side := range steps {
		j := f.neighbour(i, side)
		if j < 0 {
			continue
		}
		dx, dy := float64(steps[side][0])*f.h, float64(steps[side][1])*f.h
		c := f.permittivity(x+dx/2, y+dy/2, dy, dx)
		if k := f.metal[j]; k >= 0 {
			c /= f.reach(f.wires[k], x, y, dx, dy)
			beside = true
		}
		f.conduct[i][side] = c
		f.sum[i] += c
	}
	if beside {
		f.atBoundary = append(f.atBoundary, i)
	}
}

// permittivity averages over the face through (x, y) along (dx, dy).
func (f *field) permittivity(x, y, dx, dy float64) float64 {
	total := 0.0
	for _, t := range []float64{-0.4, -0.2, 0, 0.2, 0.4} {
		if f.inside(x+t*dx, y+t*dy) {
			total += f.eps
		} else {
			total++
		}
	}
	return total / 5
}

// reach is the fraction of a step at which the wire's surface is met.
func (f *field) reach(w wire, x, y, dx, dy float64) float64 {
	low, high := 0.0, 1.0
	for range 30 {
		mid := (low + high) / 2
		if math.Hypot(x+mid*dx-w.x, y+mid*dy-w.y) <= w.r {
			high = mid
		} else {
			low = mid
		}
	}
	return max(high, 1e-3)
}

// charges solves with one wire at 1 V and the rest at 0, and returns the
// charge on each wire per metre, in farads per metre.
func (f *field) charges(live int) []float64 {
	for i, k := range f.metal {
		f.v[i] = 0
		if k == live {
			f.v[i] = 1
		}
	}
	omega := 2 / (1 + math.Pi/float64(max(f.nx, f.ny)))
	for range 5000 {
		if f.sweep(omega) < 1e-6 {
			break
		}
	}
	q := make([]float64, len(f.wires))
	for _, i := range f.atBoundary {
		for side := range steps {
			if j := f.neighbour(i, side); j >= 0 && f.metal[j] >= 0 {
				q[f.metal[j]] += epsilon0 * f.conduct[i][side] * (f.v[j] - f.v[i])
			}
		}
	}
	return q
}

func (f *field) sweep(omega float64) (largest float64) {
	for i, k := range f.metal {
		if k >= 0 {
			continue
		}
		flow := 0.0
		for side := range steps {
			if j := f.neighbour(i, side); j >= 0 {
				flow += f.conduct[i][side] * f.v[j]
			}
		}
		change := flow/f.sum[i] - f.v[i]
		f.v[i] += omega * change
		largest = max(largest, math.Abs(change))
	}
	return largest
}

// partial returns the partial capacitances per metre between the wires.
func (s section) partial(h float64) [][]float64 {
	f := newField(s, h)
	c := make([][]float64, len(s.wires))
	for i := range c {
		c[i] = f.charges(i)
		for j := range c[i] {
			c[i][j] = math.Abs(c[i][j])
		}
	}
	return c
}
