package sat

import (
	"cmp"
	"math"
	"slices"
)

// Clauses of so few levels are kept for good, or longer than others.
const (
	coreGlue = 2
	goodGlue = 6
)

// pace says when to start over and when to forget. Averages are whole numbers
// in units of 2^-32, so that every machine gets the same.
type pace struct {
	fast, slow   int64 // level counts of learnt clauses, lately and on the whole
	seen         int64 // conflicts
	restartAfter int64
	reduceAfter  int64
	reductions   int64
	ask          int64 // work at which to ask Stop again
}

// Starting over: after at least restartStep conflicts, if the level counts of
// late are worse than on the whole by one part in restartMargin. Forgetting:
// after reduceStep times the root of 1, 2, 3 … conflicts. The figures were
// chosen by trying others on the formulas of the benchmarks.
const (
	restartStep   = 8
	restartMargin = 5
	reduceStep    = 200
)

func (p *pace) init() {
	p.restartAfter = restartStep
	p.reduceAfter = reduceStep
}

// saw takes the level count of a learnt clause into the averages.
func (p *pace) saw(glue int32) {
	p.seen++
	value := int64(glue) << 32
	p.fast += (value - p.fast) / min(p.seen, 32)
	p.slow += (value - p.slow) / min(p.seen, 4096)
}

// settle starts over and forgets clauses when it is time.
func (s *Solver) settle() {
	if s.conflicts >= s.reduceAfter {
		s.reductions++
		s.reduceAfter = s.conflicts + root(reduceStep*reduceStep*(s.reductions+1))
		s.reduce()
	}
	if s.conflicts >= s.restartAfter && s.fast > s.slow+s.slow/restartMargin {
		s.restartAfter = s.conflicts + restartStep
		s.undo(min(len(s.levels), len(s.assume)))
	}
}

// root is the square root, rounded down.
func root(n int64) int64 {
	r := int64(math.Sqrt(float64(n)))
	for r*r > n {
		r--
	}
	return r
}

// reduce forgets three quarters of the learnt clauses that are neither of few
// levels, nor used lately, nor the reason of something.
func (s *Solver) reduce() {
	var bad []cref
	for _, c := range s.learnt {
		glue, used := s.glue(c), s.used(c)
		if used > 0 {
			s.rate(c, glue, used-1)
		} else if glue > coreGlue && s.size(c) > 2 && !s.locked(c) {
			bad = append(bad, c)
		}
	}
	slices.SortFunc(bad, func(a, b cref) int {
		return cmp.Or(cmp.Compare(s.glue(b), s.glue(a)), cmp.Compare(s.size(b), s.size(a)), cmp.Compare(a, b))
	})
	for _, c := range bad[:len(bad)*3/4] {
		s.drop(c)
	}
	s.sweep()
}

// locked reports whether a clause is the reason of its first literals.
func (s *Solver) locked(c cref) bool {
	for _, l := range s.store.clause(c)[:2] {
		if s.vals[l] == yes && s.at[l.variable()].reason == c {
			return true
		}
	}
	return false
}
