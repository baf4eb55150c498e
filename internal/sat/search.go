package sat

import "slices"

// enqueue makes a literal true that has no value.
func (s *Solver) enqueue(l lit, reason cref) {
	s.vals[l], s.vals[l.not()] = yes, no
	s.at[l.variable()] = assigned{reason, int32(len(s.levels)), int32(len(s.trail))}
	s.trail = append(s.trail, l)
}

// decide opens a level and makes a literal true on it.
func (s *Solver) decide(l lit) {
	s.levels = append(s.levels, int32(len(s.trail)))
	s.enqueue(l, none)
}

// undo takes back everything above a level.
func (s *Solver) undo(level int) {
	if len(s.levels) <= level {
		return
	}
	keep := int(s.levels[level])
	if s.armed {
		s.unweigh(s.trail[keep:s.head])
	}
	for _, l := range s.trail[keep:] {
		v := l.variable()
		s.vals[l], s.vals[l.not()] = unset, unset
		s.phase[v] = 1 - 2*int8(l&1)
		s.order.insert(v)
	}
	s.trail = s.trail[:keep]
	s.levels = s.levels[:level]
	s.head = keep
}

// propagate follows what the literals on the trail force, and returns a clause
// that is false, or none.
func (s *Solver) propagate() cref {
	start := s.head
	conflict := none
	for conflict == none && s.head < len(s.trail) {
		p := s.trail[s.head]
		s.head++
		if s.armed {
			conflict = s.weigh(p)
		}
		if conflict == none {
			conflict = s.visit(p)
		}
	}
	s.propagations += int64(s.head - start)
	return conflict
}

// visit looks at the clauses that watch the opposite of p, which is now true.
func (s *Solver) visit(p lit) cref {
	list, vals, mem := s.watches[p], s.vals, s.mem
	wrong := p.not()
	kept := 0
next:
	for i, w := range list {
		value := vals[w.other]
		if value == yes {
			list[kept] = w
			kept++
			continue
		}
		if w.clause&binary != 0 {
			list[kept] = w
			kept++
			if value == no {
				return s.falsified(p, kept, i+1, w.clause&^binary)
			}
			s.enqueue(w.other, w.clause&^binary)
			continue
		}
		start := w.clause + headerSize
		c := mem[start : start+cref(mem[w.clause]>>flagBits)]
		first := c[0] ^ c[1] ^ wrong // the other watched literal
		value = vals[first]
		if first != w.other && value == yes {
			list[kept] = watch{w.clause, first}
			kept++
			continue
		}
		for k := 2; k < len(c); k++ {
			l := c[k]
			if vals[l] != no {
				c[0], c[1], c[k] = first, l, wrong
				s.watches[l.not()] = append(s.watches[l.not()], watch{w.clause, first})
				continue next
			}
		}
		list[kept] = watch{w.clause, first}
		kept++
		if value == no {
			return s.falsified(p, kept, i+1, w.clause)
		}
		s.enqueue(first, w.clause)
	}
	s.watches[p] = list[:kept]
	return none
}

// falsified closes the gap in a watch list that visit leaves at a conflict.
func (s *Solver) falsified(p lit, kept, from int, c cref) cref {
	list := s.watches[p]
	kept += copy(list[kept:], list[from:])
	s.watches[p] = list[:kept]
	return c
}

// Solve looks for a model in which all assumptions hold. After Sat it is read
// with Value, after Unsat the clash with Core. Clauses may be added and the
// solver asked again afterwards, whatever the answer was.
func (s *Solver) Solve(assume ...Lit) Status {
	s.assume = s.assume[:0]
	for _, l := range assume {
		s.assume = append(s.assume, s.lit(l))
	}
	status := s.search(-1)
	s.core = s.core[:0]
	if status == Unsat {
		s.name(assume)
	}
	return status
}

// name puts into s.core those of the caller's assumptions that clash.
func (s *Solver) name(assume []Lit) {
	for _, l := range assume {
		if slices.Contains(s.clash, s.lit(l)) && !slices.Contains(s.core, l) {
			s.core = append(s.core, l)
		}
	}
}

// search decides s.assume within so many conflicts (negative: no limit). It
// leaves a model in s.model or the assumptions that clash in s.clash.
func (s *Solver) search(budget int64) Status {
	s.budget, s.halted = budget, false
	s.levelsUpTo(len(s.at) + len(s.assume))
	s.clash = s.clash[:0]
	status := s.run()
	if status == Sat {
		for v := range s.model {
			s.model[v] = s.vals[2*v]
		}
	}
	s.undo(0)
	return status
}

// run is the loop of propagating, learning and deciding.
func (s *Solver) run() Status {
	if s.broken {
		return Unsat
	}
	if s.stopped() {
		return Stopped
	}
	if s.propagate() != none {
		s.broken = true
		return Unsat
	}
	s.clean()
	for {
		if c := s.propagate(); c != none {
			if len(s.levels) == 0 {
				s.broken = true
				return Unsat
			}
			s.learn(c)
			continue
		}
		if s.over() {
			return Stopped
		}
		s.settle()
		if status, done := s.extend(); done {
			return status
		}
	}
}

// over reports whether the search is to be given up.
func (s *Solver) over() bool {
	if s.budget == 0 {
		return true
	}
	if work := s.conflicts + s.decisions/8; work >= s.ask {
		s.ask = work + 100
		return s.stopped()
	}
	return false
}

func (s *Solver) stopped() bool {
	s.halted = s.Stop != nil && s.Stop()
	return s.halted
}

// extend takes the next assumption or makes a decision. It is done when all
// variables have a value, or an assumption is false.
func (s *Solver) extend() (status Status, done bool) {
	for len(s.levels) < len(s.assume) {
		l := s.assume[len(s.levels)]
		switch s.vals[l] {
		case yes:
			s.levels = append(s.levels, int32(len(s.trail)))
		case no:
			s.explain(l)
			return Unsat, true
		default:
			s.decide(l)
			return Stopped, false
		}
	}
	for {
		v := s.order.pop()
		if v < 0 {
			return Sat, true
		}
		if s.vals[2*v] == unset && !s.idle[v] {
			s.decisions++
			l := lit(2 * v)
			if s.phase[v] == no {
				l = l.not()
			}
			s.decide(l)
			return Stopped, false
		}
	}
}
