package sat

import "slices"

// cref is the place of a clause in the store. none is no clause.
type cref uint32

const none cref = 0

// A clause lies in the store as two words of header and its literals.
// First word: the length, times eight, plus flags. Second word: for a learnt
// clause its level count (see learner) and how lately it was of use.
const (
	headerSize = 2

	flagLearnt = 1
	flagGone   = 2
	flagBits   = 3

	usedBits = 2
	usedMask = 1<<usedBits - 1
)

// binary marks a clause of two literals in a watch, so that it need not be
// looked up.
const binary cref = 1 << 31

// watch is an entry in a literal's list: a clause and another literal of it.
// If that one is true the clause need not be looked at.
type watch struct {
	clause cref
	other  lit
}

// store keeps clauses one after the other in one slice.
type store struct {
	mem    []lit
	waste  int // words taken by clauses that are gone
	given  []cref
	learnt []cref
}

func (s *store) size(c cref) int      { return int(s.mem[c] >> flagBits) }
func (s *store) gone(c cref) bool     { return s.mem[c]&flagGone != 0 }
func (s *store) isLearnt(c cref) bool { return s.mem[c]&flagLearnt != 0 }

// clause is the literals of c, in place.
func (s *store) clause(c cref) []lit {
	return s.mem[c+headerSize : int(c)+headerSize+s.size(c)]
}

func (s *store) glue(c cref) int32 { return int32(s.mem[c+1] >> usedBits) }
func (s *store) used(c cref) int32 { return int32(s.mem[c+1] & usedMask) }

func (s *store) rate(c cref, glue, used int32) { s.mem[c+1] = lit(glue<<usedBits | used) }

// put stores a clause of at least two literals.
func (s *store) put(c []lit, flags lit) cref {
	ref := cref(len(s.mem))
	s.mem = append(s.mem, lit(len(c))<<flagBits|flags, 0)
	s.mem = append(s.mem, c...)
	if flags&flagLearnt != 0 {
		s.learnt = append(s.learnt, ref)
	} else {
		s.given = append(s.given, ref)
	}
	return ref
}

// drop marks a clause as gone. Its watches stay until the next sweep.
func (s *store) drop(c cref) {
	s.mem[c] |= flagGone
	s.waste += s.size(c) + headerSize
}

// attach watches the first two literals of a clause.
func (s *Solver) attach(c cref) {
	l := s.clause(c)
	mark := c
	if len(l) == 2 {
		mark |= binary
	}
	s.watches[l[0].not()] = append(s.watches[l[0].not()], watch{mark, l[1]})
	s.watches[l[1].not()] = append(s.watches[l[1].not()], watch{mark, l[0]})
}

// Add adds a clause: at least one of the literals must be true. Without
// literals it makes the solver unsatisfiable. Variables that Var has not made
// are made.
func (s *Solver) Add(c ...Lit) { s.add(s.lits(c)) }

// add adds a clause at level 0; it may reorder c.
func (s *Solver) add(c []lit) {
	if s.broken {
		return
	}
	slices.Sort(c)
	kept := c[:0]
	last := lit(-1)
	for _, l := range c {
		switch {
		case s.vals[l] == yes, last >= 0 && l == last.not():
			return
		case s.vals[l] == no, l == last:
			continue
		}
		last = l
		kept = append(kept, l)
	}
	switch len(kept) {
	case 0:
		s.broken = true
	case 1:
		s.enqueue(kept[0], none)
	default:
		s.attach(s.put(kept, 0))
	}
}

// clean drops the clauses that the facts of level 0 satisfy.
func (s *Solver) clean() {
	if s.fixed == len(s.trail) {
		return
	}
	s.fixed = len(s.trail)
	s.dropIf(func(c []lit) bool {
		return slices.ContainsFunc(c, func(l lit) bool { return s.vals[l] == yes })
	})
}

// dropIf drops every clause of which the test is true, at level 0.
func (s *Solver) dropIf(test func([]lit) bool) {
	before := s.waste
	for _, list := range [][]cref{s.given, s.learnt} {
		for _, c := range list {
			if test(s.clause(c)) {
				s.drop(c)
			}
		}
	}
	if s.waste != before {
		s.sweep()
	}
}

// sweep forgets the clauses that are gone, and closes the gaps they left once
// these are a quarter of the store. Facts of level 0 lose their reasons.
func (s *Solver) sweep() {
	facts := len(s.trail)
	if len(s.levels) > 0 {
		facts = int(s.levels[0])
	}
	for _, l := range s.trail[:facts] {
		s.at[l.variable()].reason = none
	}
	for i, list := range s.watches {
		s.watches[i] = slices.DeleteFunc(list, func(w watch) bool { return s.gone(w.clause &^ binary) })
	}
	s.given = slices.DeleteFunc(s.given, s.gone)
	s.learnt = slices.DeleteFunc(s.learnt, s.gone)
	if 4*s.waste > len(s.mem) {
		s.compact()
	}
}

// compact moves all clauses together. The second word of an old place tells
// the new one meanwhile.
func (s *Solver) compact() {
	old := s.mem
	s.mem = make([]lit, headerSize, len(old)-s.waste)
	s.waste = 0
	for _, list := range [][]cref{s.given, s.learnt} {
		for i, c := range list {
			end := int(c) + headerSize + int(old[c]>>flagBits)
			list[i] = cref(len(s.mem))
			s.mem = append(s.mem, old[c:end]...)
			old[c+1] = lit(list[i])
		}
	}
	for _, list := range s.watches {
		for i, w := range list {
			list[i].clause = cref(old[w.clause&^binary+1]) | w.clause&binary
		}
	}
	for _, l := range s.trail {
		if a := &s.at[l.variable()]; a.reason != none && a.reason&summed == 0 {
			a.reason = cref(old[a.reason+1])
		}
	}
}
