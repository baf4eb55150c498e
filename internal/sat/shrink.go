package sat

import "slices"

// Shrink makes a clash irreducible: literals that cannot all hold, of which any
// others, should one be left out, can. They are tried from the first to the
// last, so that what had better not be named comes first in core; the order is
// kept. A literal listed twice is listed once.
//
// Should core hold no clash it comes back whole. Should Stop end the search,
// what comes back clashes but may not be irreducible. Values are afterwards of
// some model found on the way.
func (s *Solver) Shrink(core []Lit) []Lit {
	if s.Solve(core...) != Unsat {
		return slices.Clone(core)
	}
	left := s.Core()
	for i := 0; i < len(left); {
		switch s.Solve(slices.Concat(left[:i], left[i+1:])...) {
		case Unsat:
			left = s.Core() // keeps left[:i], each of which is known to be needed
		case Sat:
			i++
		case Stopped:
			return left
		}
	}
	return left
}
