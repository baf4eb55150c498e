package sat

import (
	"cmp"
	"slices"
)

// linear says, where the guard of its bounds is true, that the weights of the
// true literals add up to less than the limit. It is propagated as such, not as
// clauses: a reason is worked out only when a conflict asks for it.
type linear struct {
	weight []int64 // by literal, not negative
	order  []lit   // those with a weight, heaviest first
	limit  int64
	sum    int64 // of the true literals that have been propagated
}

// bounds are two sums kept at a time. While they are armed, the sums are of
// trail[:head].
type bounds struct {
	armed  bool
	guard  lit
	linear [2]linear
	why    []lit // room for a reason
}

// A reason from a sum is not a clause: the mark, which of the sums, and the
// length of the trail that it looks at.
const (
	summed     cref = 1 << 31
	secondSum  cref = 1 << 30
	trailOfSum      = secondSum - 1
)

// arm starts the sums, at level 0.
func (s *Solver) arm() {
	s.armed = true
	for i := range s.linear {
		b := &s.linear[i]
		for len(b.weight) < len(s.vals) {
			b.weight = append(b.weight, 0)
		}
		b.sum = 0
		for _, l := range s.trail[:s.head] {
			b.sum += b.weight[l]
		}
	}
}

func (s *Solver) disarm() { s.armed = false }

// rank takes over the weights of a sum, which stay the caller's.
func (b *linear) rank(weight []int64, order []lit) {
	b.weight = weight
	b.order = append(b.order[:0], order...)
	slices.SortStableFunc(b.order, func(x, y lit) int { return cmp.Compare(weight[y], weight[x]) })
}

// weigh takes a literal into the sums. It returns a conflict, if there is one.
func (s *Solver) weigh(p lit) cref {
	conflict := none
	for i := range s.linear {
		b := &s.linear[i]
		w := b.weight[p]
		if w == 0 && p != s.guard {
			continue
		}
		b.sum += w
		if conflict == none && s.vals[s.guard] == yes {
			conflict = s.hold(b, summed|cref(i)*secondSum|cref(s.head))
		}
	}
	return conflict
}

// hold makes false what a sum has no room for.
func (s *Solver) hold(b *linear, reason cref) cref {
	room := b.limit - b.sum
	if room <= 0 {
		return reason
	}
	for _, l := range b.order {
		if b.weight[l] < room {
			break
		}
		if s.vals[l] == unset {
			s.enqueue(l.not(), reason)
		}
	}
	return none
}

// unweigh takes literals out of the sums again.
func (s *Solver) unweigh(list []lit) {
	for i := range s.linear {
		b := &s.linear[i]
		for _, l := range list {
			b.sum -= b.weight[l]
		}
	}
}

// summedUp is the clause behind a reason from a sum, for the literal it forced,
// or for a conflict if that is negative: as few of the weights as suffice, the
// last one, which brought it about, among them.
func (s *Solver) summedUp(reason cref, forced lit) []lit {
	b := &s.linear[0]
	if reason&secondSum != 0 {
		b = &s.linear[1]
	}
	end := int(reason & trailOfSum)
	last := s.trail[end-1]
	s.why = append(s.why[:0], s.guard.not())
	spare := -b.limit
	if forced >= 0 {
		s.why = append(s.why, forced)
		spare += b.weight[forced.not()]
	}
	counts := func(l lit) bool { return s.vals[l] == yes && int(s.at[l.variable()].place) < end }
	for _, l := range b.order {
		if counts(l) {
			spare += b.weight[l]
		}
	}
	for _, l := range slices.Backward(b.order) {
		switch {
		case !counts(l) || s.at[l.variable()].level == 0:
		case l != last && b.weight[l] <= spare:
			spare -= b.weight[l]
		default:
			s.why = append(s.why, l.not())
		}
	}
	return s.why
}

// because is the literals of a reason or conflict.
func (s *Solver) because(c cref, forced lit) []lit {
	if c&summed != 0 {
		return s.summedUp(c, forced)
	}
	return s.store.clause(c)
}
