package network

import "math/bits"

// Solution holds the voltages of a network in one position of its switches. It
// is also the workspace: give it back to [Factor.Solve] and nothing is
// allocated, and only what the moved switches change is computed. A Solution
// must not be used from several goroutines at once.
type Solution struct {
	f      *Factor
	closed []bool       // per switch, the position solved
	base   []complex128 // per entry, admittance of its branches in this position
	y      []complex128 // per entry, admittance when its row is eliminated
	m      []complex128 // per entry, y/S
	j      []complex128 // per carried source current
	z      []complex128 // per row, 1/S; 0 for the last node of a floating part
	c      []complex128 // per row, ΣJ/S
	v      []complex128 // per row, voltage; then the reference, 0
	dirty  []uint64     // rows to be computed again
	loose  int          // number of floating parts
	part   []int32      // per position, the part it belongs to, if loose > 0
}

// Switches is the number of switchable branches.
func (f *Factor) Switches() int { return len(f.switches) }

// States makes the states for Solve, all open. Element sw belongs to Switch sw.
func (f *Factor) States() []bool { return make([]bool, len(f.switches)) }

// Solve finds all voltages with the switches as given: states[sw] is true where
// Switch sw is closed. Missing states are open, surplus ones are ignored.
//
// With reuse nil a new Solution is made. Otherwise reuse is overwritten and
// returned; if it came from this Factor nothing is allocated. It cannot fail:
// floating parts are found in the Solution.
func (f *Factor) Solve(states []bool, reuse *Solution) *Solution {
	s := f.position(states, reuse)
	s.substitute()
	return s
}

// position brings the elimination to the given states without finding voltages.
func (f *Factor) position(states []bool, reuse *Solution) *Solution {
	s := reuse
	if s == nil {
		s = new(Solution)
	}
	if s.f != f {
		s.copyFrom(f.start)
	}
	for i := range s.closed {
		want := i < len(states) && states[i]
		if want != s.closed[i] {
			s.closed[i] = want
			s.move(&f.switches[i])
		}
	}
	s.eliminate()
	return s
}

// fresh makes the solution with all switches open from nothing.
func (f *Factor) fresh() *Solution {
	rows, entries := len(f.rows), len(f.col)
	s := &Solution{
		f: f, closed: make([]bool, len(f.switches)),
		base: append([]complex128(nil), f.static...),
		y:    make([]complex128, entries), m: make([]complex128, entries), j: make([]complex128, len(f.sources)),
		z: make([]complex128, rows), c: make([]complex128, rows), v: make([]complex128, rows+1),
		dirty: make([]uint64, (rows+63)/64), part: make([]int32, rows+1), loose: rows,
	}
	for i := range f.switches {
		s.move(&f.switches[i])
	}
	for p := range f.rows {
		s.dirty[p>>6] |= 1 << (p & 63)
	}
	s.eliminate()
	s.substitute()
	return s
}

// copyFrom makes s a copy of t, in the memory of s as far as it goes.
func (s *Solution) copyFrom(t *Solution) {
	s.f, s.loose = t.f, t.loose
	s.closed = append(s.closed[:0], t.closed...)
	s.base, s.y, s.m = append(s.base[:0], t.base...), append(s.y[:0], t.y...), append(s.m[:0], t.m...)
	s.j, s.z, s.c = append(s.j[:0], t.j...), append(s.z[:0], t.z...), append(s.c[:0], t.c...)
	s.v, s.dirty, s.part = append(s.v[:0], t.v...), append(s.dirty[:0], t.dirty...), append(s.part[:0], t.part...)
}

// move gives the entry of a moved switch its new admittance, summed afresh, and
// marks the rows that depend on it: those on the way to the root.
func (s *Solution) move(c *contact) {
	if c.entry < 0 {
		return
	}
	f := s.f
	y := f.static[c.entry]
	for _, i := range f.peers[c.lo:c.hi] {
		if s.closed[i] {
			y += f.switches[i].y[1]
		} else {
			y += f.switches[i].y[0]
		}
	}
	s.base[c.entry] = y
	for p := c.row; p >= 0 && s.dirty[p>>6]>>(p&63)&1 == 0; p = f.parent[p] {
		s.dirty[p>>6] |= 1 << (p & 63)
	}
}

// eliminate computes the marked rows in order.
func (s *Solution) eliminate() {
	for i, w := range s.dirty {
		s.dirty[i] = 0
		for ; w != 0; w &= w - 1 {
			s.row(i<<6 + bits.TrailingZeros64(w))
		}
	}
}

// row eliminates one node: each entry is its own branches plus what earlier
// nodes left between the same two nodes; S is their sum.
func (s *Solution) row(p int) {
	f := s.f
	r := &f.rows[p]
	y := s.y
	m := s.m[:len(y)]
	base, ends := s.base[:len(y)], f.termEnd[:len(y)]
	var sum complex128
	t := r.term
	for e := r.lo; e < r.hi; e++ {
		v := base[e]
		for _, k := range f.terms[t:ends[e]] {
			v += y[k.y] * m[k.m]
		}
		t = ends[e]
		y[e] = v
		sum += v
	}
	z := reciprocal(sum)
	for e := r.lo; e < r.hi; e++ {
		m[e] = y[e] * z
	}
	if (z == 0) != (s.z[p] == 0) {
		s.count(z == 0)
	}
	s.z[p] = z
	if r.jlo < r.jhi {
		s.c[p] = s.carry(r) * z
	}
}

func (s *Solution) count(loose bool) {
	if loose {
		s.loose++
	} else {
		s.loose--
	}
}

// carry finds the source currents of a row and returns their sum.
func (s *Solution) carry(r *row) (sum complex128) {
	f := s.f
	t := int32(0)
	if r.jlo > 0 {
		t = f.sources[r.jlo-1].end
	}
	for q := r.jlo; q < r.jhi; q++ {
		c := &f.sources[q]
		v := c.base
		for _, k := range f.jterms[t:c.minus] {
			v += s.m[k.m] * s.j[k.j]
		}
		for _, k := range f.jterms[c.minus:c.end] {
			v -= s.m[k.m] * s.j[k.j]
		}
		t = c.end
		s.j[q] = v
		sum += v
	}
	return sum
}

// reciprocal is 1/x, and 0 for 0. The limits on what a network may hold keep
// |x|² inside the floating-point range.
func reciprocal(x complex128) complex128 {
	d := real(x)*real(x) + imag(x)*imag(x)
	if d == 0 {
		return 0
	}
	d = 1 / d
	return complex(real(x)*d, -imag(x)*d)
}

// substitute finds the voltages from the last eliminated node to the first.
func (s *Solution) substitute() {
	m, v := s.m, s.v
	col := s.f.col[:len(m)]
	for p := len(s.c) - 1; p >= 0; p-- {
		r := &s.f.rows[p]
		x := s.c[p]
		for e := r.lo; e < r.mid; e++ {
			x += m[e] * v[col[e]]
		}
		v[p] = x
	}
	if s.loose > 0 {
		s.group()
	}
}

// group finds the part of each node: its own if nothing held it, otherwise that
// of any node it was joined to.
func (s *Solution) group() {
	last := int32(len(s.c))
	s.part[last] = last
	for p := last - 1; p >= 0; p-- {
		s.part[p] = p
		if s.z[p] == 0 {
			continue
		}
		for e := s.f.rows[p].lo; e < s.f.rows[p].hi; e++ {
			if s.y[e] != 0 {
				s.part[p] = s.part[s.f.col[e]]
				break
			}
		}
	}
}
