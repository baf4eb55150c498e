// Package sat answers two questions about clauses, that is, about lists of
// things of which at least one must hold: can all clauses hold together, and
// if so, at what least cost? If they cannot, it names assumptions that clash.
//
// Both answers are exact. What a variable stands for is the caller's affair;
// there is no pre-processing and no proof file.
//
// Method: conflict-driven clause learning. J. P. Marques-Silva, K. A. Sakallah,
// "GRASP: A Search Algorithm for Propositional Satisfiability", IEEE Trans.
// Computers 48 (1999) 506; two watched literals and decaying activities, M. W.
// Moskewicz et al., "Chaff", 38th Design Automation Conference (2001) 530;
// assumptions and the clash among them, N. Eén, N. Sörensson, "An Extensible
// SAT-solver", SAT 2003, LNCS 2919, 502; learnt clauses judged by the number
// of decision levels in them, G. Audemard, L. Simon, "Predicting Learnt Clauses
// Quality", IJCAI 2009, 399. The least cost is found from below: see Minimise.
// (References from memory, to be confirmed.)
//
// Nothing depends on chance, the clock or the order of a map: the same calls
// give the same answers, models and clashes included.
package sat

// Lit is a literal: +v says that variable v is true, -v that it is false.
// Variables are numbered from 1. Zero is no literal: a method given it panics.
type Lit int32

// Not is the opposite literal.
func (l Lit) Not() Lit { return -l }

// Status is what a search ended with.
type Status int

// The ends of a search.
const (
	Stopped Status = iota // it was stopped before it had the answer
	Sat                   // there is a model
	Unsat                 // there is none
)

// String is the status in words.
func (s Status) String() string {
	switch s {
	case Sat:
		return "satisfiable"
	case Unsat:
		return "unsatisfiable"
	}
	return "stopped"
}

// lit is a literal inside the solver: twice the number of an inner variable,
// plus one if negated. Inner variables are numbered from 0. Every variable of
// the caller has one; the others belong to encodings and are never shown.
type lit int32

func (l lit) not() lit        { return l ^ 1 }
func (l lit) variable() int32 { return int32(l >> 1) }

// unset, yes and no are the values of a literal; the others are its opposite's.
const (
	unset int8 = 0
	yes   int8 = 1
	no    int8 = -1
)

// assigned is why and where on the trail a variable has its value.
type assigned struct {
	reason cref  // the clause that forced it; none for decisions and for facts
	level  int32 // the number of decisions before it, itself included
	place  int32 // where it is on the trail
}

// Solver holds clauses and looks for models of them. The zero value is not
// usable: see New. A solver is not for use by several goroutines at once;
// separate solvers share nothing.
type Solver struct {
	// Stop is asked now and then during a search, at least once in some
	// hundreds of conflicts or decisions; true ends it. Nil never does.
	Stop func() bool

	inner []lit // by the caller's variable, from 1: its positive inner literal

	store
	watches [][]watch  // by literal: clauses to look at when it becomes true
	vals    []int8     // by literal
	at      []assigned // by variable; valid while it has a value
	phase   []int8     // by variable: value of the positive literal to try first
	model   []int8     // by variable: the last model
	idle    []bool     // by variable: belongs to nothing at present
	idlers  []int32    // the idle variables, to be used again

	trail  []lit   // literals that are true, in the order they became so
	levels []int32 // by level-1: the length of the trail before its decision
	head   int     // trail[head:] is still to be propagated
	broken bool    // there is no model, whatever is assumed
	fixed  int     // length of the trail at level 0 when clauses were last cleaned

	order  heap
	assume []lit // of the search under way
	core   []Lit
	budget int64 // conflicts left to the search under way; negative: no limit
	halted bool  // Stop said so

	patience int64 // effort on bounds before Minimise looks for models directly

	learner
	bounds
	pace
	counts
}

// counts are totals over the solver's life.
type counts struct {
	conflicts, decisions, propagations int64
}

// New is a solver without variables and clauses.
func New() *Solver {
	s := &Solver{inner: make([]lit, 1), budget: -1, patience: directAfter}
	s.mem = make([]lit, headerSize)
	s.order.init()
	s.pace.init()
	return s
}

// Var makes a variable and returns its positive literal: 1, 2, 3 and so on.
func (s *Solver) Var() Lit {
	s.inner = append(s.inner, lit(2*s.newVariable()))
	return Lit(len(s.inner) - 1)
}

// newVariable is the number of a new inner variable, or of an idle one.
func (s *Solver) newVariable() int32 {
	if n := len(s.idlers); n > 0 {
		v := s.idlers[n-1]
		s.idlers = s.idlers[:n-1]
		s.idle[v], s.model[v] = false, no
		s.order.insert(v)
		return v
	}
	v := int32(len(s.at))
	s.watches = append(s.watches, nil, nil)
	s.vals = append(s.vals, unset, unset)
	s.at = append(s.at, assigned{})
	s.phase = append(s.phase, no)
	s.model = append(s.model, no)
	s.idle = append(s.idle, false)
	s.mark = append(s.mark, unmarked)
	s.order.grow(v)
	return v
}

// lit is the inner literal of l. Variables up to l's that do not exist are made.
func (s *Solver) lit(l Lit) lit {
	v := l
	if v < 0 {
		v = -v
	}
	if v <= 0 {
		panic("sat: 0 is not a literal")
	}
	for int(v) >= len(s.inner) {
		s.Var()
	}
	if l < 0 {
		return s.inner[v].not()
	}
	return s.inner[v]
}

// lits are the inner literals, in a new slice.
func (s *Solver) lits(from []Lit) []lit {
	to := make([]lit, len(from))
	for i, l := range from {
		to[i] = s.lit(l)
	}
	return to
}

// Phase says which value of a variable to try first: the one that makes l
// true. Search remembers the values it had last and tries those thereafter.
func (s *Solver) Phase(l Lit) { s.prefer(s.lit(l)) }

func (s *Solver) prefer(l lit) {
	s.phase[l.variable()] = yes
	if l&1 != 0 {
		s.phase[l.variable()] = no
	}
}

// Value reports whether l is true in the last model found. A variable made
// since is false.
func (s *Solver) Value(l Lit) bool { return s.inModel(s.lit(l)) }

func (s *Solver) inModel(l lit) bool { return (s.model[l.variable()] == yes) == (l&1 == 0) }

// Core is, after Solve or Minimise was Unsat, a subset of the assumptions that cannot all
// hold, in the order they were given. It is empty if there is no model even
// without them. It is a copy, and need not be the smallest: see Shrink.
func (s *Solver) Core() []Lit { return append([]Lit(nil), s.core...) }
