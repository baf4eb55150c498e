package sat

// learner is what the analysis of conflicts needs.
type learner struct {
	lesson []lit   // the clause being learnt
	marked []int32 // variables whose mark is to be taken off
	mark   []uint8 // by variable
	stamp  []int64 // by level: the last count that met it
	stamps int64
	clash  []lit // assumptions that clash
}

// Marks of a variable during analysis.
const (
	unmarked uint8 = iota
	met            // in the conflict, or in the clause learnt
	implied        // by literals of the clause learnt
	needed         // not implied by them
)

// deepest is how far the test for implied literals follows reasons.
const deepest = 1000

// levelsUpTo makes room for so many levels.
func (a *learner) levelsUpTo(n int) {
	for len(a.stamp) <= n {
		a.stamp = append(a.stamp, 0)
	}
}

func (a *learner) note(v int32, m uint8) {
	if a.mark[v] == unmarked {
		a.marked = append(a.marked, v)
	}
	a.mark[v] = m
}

func (a *learner) wipe() {
	for _, v := range a.marked {
		a.mark[v] = unmarked
	}
	a.marked = a.marked[:0]
}

// learn draws from a conflict the clause of its first unique implication
// point, goes back to where that clause forces a literal, and forces it.
func (s *Solver) learn(conflict cref) {
	s.conflicts++
	if s.budget > 0 {
		s.budget--
	}
	s.resolve(conflict)
	s.shorten()
	s.wipe()
	c := s.lesson
	glue := s.count(c)
	s.pace.saw(glue)
	s.order.age()
	if len(c) == 1 {
		s.undo(0)
		s.enqueue(c[0], none)
		return
	}
	s.undo(int(s.secondLevel(c)))
	ref := s.store.put(c, flagLearnt)
	s.rate(ref, glue, 1)
	s.attach(ref)
	s.enqueue(c[0], ref)
}

// resolve fills lesson: first the opposite of the unique implication point,
// then the literals of lower levels that it depends on.
func (s *Solver) resolve(c cref) {
	s.lesson = append(s.lesson[:0], 0)
	open, i := 0, len(s.trail)
	for p := lit(-1); ; {
		s.touch(c)
		for _, l := range s.because(c, p) {
			if l != p {
				open += s.meet(l)
			}
		}
		for i--; s.mark[s.trail[i].variable()] != met; i-- {
		}
		p = s.trail[i]
		if open--; open == 0 {
			s.lesson[0] = p.not()
			return
		}
		c = s.at[p.variable()].reason
	}
}

// meet takes a false literal into the conflict. It returns 1 if its level is
// the present one, to be resolved.
func (s *Solver) meet(l lit) int {
	v := l.variable()
	level := s.at[v].level
	if level == 0 || s.mark[v] != unmarked {
		return 0
	}
	s.note(v, met)
	s.order.bump(v)
	if int(level) == len(s.levels) {
		return 1
	}
	s.lesson = append(s.lesson, l)
	return 0
}

// touch notes that a learnt clause was of use, and counts its levels anew.
func (s *Solver) touch(c cref) {
	if c&summed != 0 || !s.isLearnt(c) {
		return
	}
	glue := s.glue(c)
	if glue > coreGlue {
		glue = min(glue, s.count(s.store.clause(c)))
	}
	used := int32(1)
	if glue <= goodGlue {
		used = 2
	}
	s.rate(c, glue, used)
}

// count is the number of levels among literals. All levels of assumptions
// together are one.
func (s *Solver) count(c []lit) int32 {
	s.stamps++
	n := int32(0)
	for _, l := range c {
		level := s.at[l.variable()].level
		if int(level) < len(s.assume) {
			level = int32(len(s.assume))
		}
		if s.stamp[level] != s.stamps {
			s.stamp[level] = s.stamps
			n++
		}
	}
	return n
}

// shorten takes out of lesson the literals that its others imply (N.
// Sörensson, A. Biere, "Minimizing Learned Clauses", SAT 2009, LNCS 5584, 237).
func (s *Solver) shorten() {
	s.stamps++
	for _, l := range s.lesson {
		s.stamp[s.at[l.variable()].level] = s.stamps
	}
	kept := s.lesson[:1]
	for _, l := range s.lesson[1:] {
		if s.at[l.variable()].reason == none || !s.reasonImplied(l, 0) {
			kept = append(kept, l)
		}
	}
	s.lesson = kept
}

// isImplied reports whether a false literal follows from those of lesson.
func (s *Solver) isImplied(l lit, depth int) bool {
	v := l.variable()
	a := s.at[v]
	switch {
	case a.level == 0 || s.mark[v] == met || s.mark[v] == implied:
		return true
	case a.reason == none || s.mark[v] == needed || s.stamp[a.level] != s.stamps || depth > deepest:
		return false
	}
	if s.reasonImplied(l, depth) {
		s.note(v, implied)
		return true
	}
	s.note(v, needed)
	return false
}

func (s *Solver) reasonImplied(l lit, depth int) bool {
	reason := s.at[l.variable()].reason
	if reason&summed != 0 {
		return false // not worth working out
	}
	for _, o := range s.store.clause(reason) {
		if o.variable() != l.variable() && !s.isImplied(o, depth+1) {
			return false
		}
	}
	return true
}

// secondLevel puts a literal of the highest level but the first literal's at
// place 1, and returns that level.
func (s *Solver) secondLevel(c []lit) int32 {
	best := 1
	for i := 2; i < len(c); i++ {
		if s.at[c[i].variable()].level > s.at[c[best].variable()].level {
			best = i
		}
	}
	c[1], c[best] = c[best], c[1]
	return s.at[c[1].variable()].level
}

// explain fills s.clash with the assumptions that together make the assumption
// l false, and l.
func (s *Solver) explain(l lit) {
	s.clash = append(s.clash[:0], l)
	if s.at[l.variable()].level == 0 {
		return
	}
	s.note(l.variable(), met)
	for i := len(s.trail) - 1; i >= int(s.levels[0]); i-- {
		p := s.trail[i]
		if s.mark[p.variable()] != met {
			continue
		}
		reason := s.at[p.variable()].reason
		if reason == none {
			s.clash = append(s.clash, p)
			continue
		}
		for _, o := range s.because(reason, p) {
			if v := o.variable(); s.at[v].level > 0 {
				s.note(v, met)
			}
		}
	}
	s.wipe()
}
