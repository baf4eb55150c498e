package sat

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Soft is a cost: Weight is paid when Lit is true.
type Soft struct {
	Lit    Lit
	Weight int64 // the sum of all weights must be less than 2^62
}

// Search is what Minimise is asked for.
type Search struct {
	// Soft are the costs. Those of one literal add up; a weight of zero costs
	// nothing, a negative one is a gain.
	Soft []Soft

	// Assume holds for this search only. After Unsat, Core is those that clash,
	// or all of them if Upper had a part in it.
	Assume []Lit

	// Upper, unless zero, asks only for models that cost less.
	Upper int64

	// Refine, if any, is shown every model before it counts, through Value. It
	// may add clauses that the model violates, and variables, and reports
	// whether it did; the search then goes on without that model. It must not
	// call Solve, Shrink or Minimise.
	Refine func(*Solver) bool

	// Better, if any, is told each time a better model is found, or a higher
	// bound proved, from the first model on: the least cost so far and the
	// bound. Value is of the best model. It must change nothing.
	Better func(cost, bound int64)
}

// Outcome is what Minimise found.
type Outcome struct {
	// Status is Sat with the best model there is, Unsat if there is none (that
	// costs less than Upper), or Stopped.
	Status

	// Found tells that there is a model, which Value shows; it is also true of
	// a search stopped after the first.
	Found bool

	// Cost is the model's cost, if one was found.
	Cost int64

	// Bound is proved: no model under the assumptions costs less. If Upper was
	// given it is at most that, unless it was found that there
	// is no model at any cost: then it is math.MaxInt64.
	Bound int64

	// Optimal tells that the model costs the Bound.
	Optimal bool
}

// String is the outcome in words.
func (o Outcome) String() string {
	if !o.Found {
		return fmt.Sprintf("%v, bound %d", o.Status, o.Bound)
	}
	return fmt.Sprintf("%v, cost %d, bound %d", o.Status, o.Cost, o.Bound)
}

// Effort is counted in conflicts. A search counts as perSearch of them besides
// its own. Better models are looked for directly once directAfter is spent, and
// then with half the effort, in turns of at least leastDirect. The figures were
// chosen by trying others on the formulas of the benchmarks.
const (
	coreBudget  = 1000 // at most, on making one clash smaller
	raiseBudget = 1000 // at most, on raising one count
	perSearch   = 10
	directAfter = 300
	leastDirect = 100
)

// Minimise finds a model that costs least.
//
// The clauses stay for later calls, and so does what was learnt about them;
// everything else that a search needs is taken out again.
//
// It works from both sides. From below, costs are assumed not to arise; a clash
// among them proves that at least the least of its costs is paid, and is
// replaced by costs on the number of its literals that are true (A. Morgado, C. Dodaro, J. Marques-Silva,
// "Core-Guided MaxSAT with Soft Cardinality Constraints", CP 2014, LNCS 8656,
// 564). Heavy costs come first, clashes are first paid for and only then
// counted, and costs that a better model cannot bear are ruled out (C. Ansótegui
// et al., "Improving SAT-Based Weighted MaxSAT Solvers", CP 2012, LNCS 7514, 86;
// J. Berg, M. Järvisalo, "Weight-Aware Core Extraction in SAT-Based MaxSAT
// Solving", CP 2017, LNCS 10416, 652; A. Ignatiev, A. Morgado, J. Marques-Silva,
// "RC2: an Efficient MaxSAT Solver", JSAT 11 (2019) 53). From above, if that does
// not soon settle it, half the effort goes into looking for a model that is
// cheaper than the best, under the sum of all costs and under that of those left
// over below. (References from memory, to be confirmed.)
func (s *Solver) Minimise(q Search) Outcome {
	m := newMinimiser(s, q)
	status := m.run()
	s.core = s.core[:0]
	if status == Unsat {
		if !m.hopeless {
			s.clash = append(s.clash[:0], m.assume...)
		}
		s.name(q.Assume)
	}
	s.release(m.temporary)
	out := Outcome{Status: status, Found: m.found, Bound: min(m.lower, m.upper)}
	if m.found {
		copy(s.model, m.best)
		out.Cost = m.upper
		out.Optimal = status == Sat
	}
	return out
}

// minimiser is one call of Minimise.
type minimiser struct {
	s         *Solver
	q         Search
	assume    []lit
	guard     lit     // assumed; what holds for better models only depends on it
	temporary []int32 // variables to be given back

	weight  []int64 // by literal: still to be paid if it is true
	listed  []bool  // by literal: is in costs
	changed bool    // a weight, since the sums were ranked
	costs   []lit   // all that have a weight, and some that have no longer
	counted []count // by variable: if it is an output of a tally
	unpaid  []clash // paid for, not yet counted

	given        int64 // what is paid whatever the costs at the start
	lower, upper int64 // a better model costs at least lower, less than upper
	told         int64 // the bound that Better was told last
	work, direct int64 // conflicts and searches, in all and of those for better models
	hopeless     bool  // no model at any cost
	found        bool
	best         []int8
}

// clash is literals at least one of which is true, and what was paid for it.
type clash struct {
	of     []lit
	weight int64
}

// count tells that a variable says that n or more of a tally are true.
type count struct {
	tally *tally
	n     int
}

func newMinimiser(s *Solver, q Search) *minimiser {
	m := &minimiser{s: s, q: q, upper: math.MaxInt64, told: math.MinInt64}
	if q.Upper != 0 {
		m.upper = q.Upper
	}
	m.assume = s.lits(q.Assume)
	for _, c := range q.Soft {
		l := s.lit(c.Lit)
		if c.Weight < 0 {
			m.lower += c.Weight
			l, c.Weight = l.not(), -c.Weight
		}
		m.charge(l, c.Weight)
		s.prefer(l.not())
	}
	m.settle()
	m.guard = m.fresh()
	s.prefer(m.guard)
	m.given = m.lower
	s.bounds.guard = m.fresh()
	s.prefer(s.bounds.guard)
	s.linear[1].rank(slices.Clone(m.weight), m.assumed(1))
	return m
}

// settle pays what is certain before any search: the lesser of the costs of a
// literal and of its opposite, and the costs of what is assumed.
func (m *minimiser) settle() {
	for _, l := range m.costs {
		certain := min(m.weight[l], m.weight[l.not()])
		m.lower += certain
		m.weight[l] -= certain
		m.weight[l.not()] -= certain
	}
	for _, l := range m.assume {
		m.charge(l, 0)
		m.lower += m.weight[l]
		m.weight[l], m.weight[l.not()] = 0, 0
	}
}

// grow makes room for the literals there are.
func (m *minimiser) grow() {
	for len(m.weight) < len(m.s.vals) {
		m.weight = append(m.weight, 0)
		m.listed = append(m.listed, false)
	}
}

// charge adds to the weight of a literal.
func (m *minimiser) charge(l lit, weight int64) {
	m.grow()
	if weight > 0 && !m.listed[l] {
		m.listed[l] = true
		m.costs = append(m.costs, l)
	}
	m.weight[l] += weight
	m.changed = true
}

// fresh is a variable for the time of the call, first tried false.
func (m *minimiser) fresh() lit {
	v := m.s.newVariable()
	m.temporary = append(m.temporary, v)
	return lit(2 * v)
}

// run searches until the bounds meet or the search is stopped.
func (m *minimiser) run() Status {
	threshold := int64(math.MaxInt64)
	for m.lower < m.upper {
		var status Status
		if m.found && m.work > m.s.patience && 2*m.direct < m.work {
			status = m.improve()
		} else {
			status, threshold = m.raise(threshold)
		}
		if status == Stopped {
			return Stopped
		}
		m.tell()
	}
	if !m.found {
		return Unsat
	}
	return Sat
}

// raise searches once with the costs above a threshold assumed away, and pays
// for the clash, or takes the model and lowers the threshold.
func (m *minimiser) raise(threshold int64) (Status, int64) {
	m.harden()
	status := m.solve(-1, m.assumed(threshold))
	switch {
	case status == Unsat:
		m.pay(m.clashing())
	case status == Stopped || m.refined():
	default:
		m.offer()
		if len(m.unpaid) > 0 {
			m.count()
		} else {
			threshold = m.lighter(threshold)
		}
	}
	return status, threshold
}

// improve looks for better models straight away, keeping every sum of costs
// below the best so far, with an effort that keeps step with that spent on
// bounds. Stopped means that Stop said so.
func (m *minimiser) improve() Status {
	start := m.work
	defer func() { m.direct += m.work - start }()
	for v, value := range m.best {
		if value != unset {
			m.s.phase[v] = value
		}
	}
	end := start + max(leastDirect, start-2*m.direct)
	for m.lower < m.upper && m.work < end {
		switch m.cheaper(end - m.work) {
		case Stopped:
			if m.s.halted {
				return Stopped
			}
		case Unsat:
			m.exhaust()
		case Sat:
			if !m.refined() {
				m.offer()
			}
		}
	}
	return Sat
}

// solve searches with costs that are assumed not to arise.
func (m *minimiser) solve(budget int64, absent []lit) Status {
	a := m.premises()
	for _, l := range absent {
		a = append(a, l.not())
	}
	return m.search(budget, a)
}

// premises are the caller's assumptions and the guard.
func (m *minimiser) premises() []lit {
	return append(append(m.s.assume[:0], m.assume...), m.guard)
}

func (m *minimiser) search(budget int64, assume []lit) Status {
	s := m.s
	s.assume = assume
	before := s.conflicts
	status := s.search(budget)
	m.work += s.conflicts - before + perSearch
	return status
}

// cheaper searches for a better model, whatever its costs are.
func (m *minimiser) cheaper(budget int64) Status {
	s := m.s
	m.grow()
	s.linear[0].weight = m.weight
	if m.changed {
		s.linear[0].rank(m.weight, m.assumed(1))
		m.changed = false
	}
	s.linear[0].limit = m.upper - m.lower
	s.linear[1].limit = m.upper - m.given
	s.arm()
	defer s.disarm()
	return m.search(budget, append(m.premises(), s.bounds.guard))
}

// assumed lists the costs of at least so much, the heaviest first, and tidies
// the list of all.
func (m *minimiser) assumed(threshold int64) []lit {
	m.costs = slices.DeleteFunc(m.costs, func(l lit) bool {
		m.listed[l] = m.weight[l] > 0
		return !m.listed[l]
	})
	var list []lit
	for _, l := range m.costs {
		if m.weight[l] >= threshold {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b lit) int { return cmp.Compare(m.weight[b], m.weight[a]) })
	return list
}

// lighter is the next threshold: low enough that the costs above it are a
// quarter more than the different weights among them, or the least weight.
func (m *minimiser) lighter(threshold int64) int64 {
	list := m.assumed(1)
	number, different := 0, 0
	for i, l := range list {
		number++
		if i == 0 || m.weight[l] != m.weight[list[i-1]] {
			different++
		}
		last := i+1 == len(list) || m.weight[list[i+1]] != m.weight[l]
		if last && m.weight[l] < threshold && 4*number > 5*different {
			return m.weight[l]
		}
	}
	return 1
}

// clashing is the costs in the clash found last.
func (m *minimiser) clashing() []lit {
	var list []lit
	for _, l := range m.s.clash {
		if l != m.guard && !slices.Contains(m.assume, l) {
			list = append(list, l.not())
		}
	}
	return list
}

// pay raises the bound for a clash: one of its literals must be true. Without
// any there is no better model.
func (m *minimiser) pay(of []lit) {
	if len(of) > 1 {
		of = m.smaller(of)
	}
	if len(of) == 0 {
		m.exhaust()
		return
	}
	least := m.weight[of[0]]
	for _, l := range of {
		least = min(least, m.weight[l])
	}
	m.lower += least
	m.changed = true
	for _, l := range of {
		m.weight[l] -= least
		if v := l.variable(); int(v) < len(m.counted) && m.counted[v].tally != nil {
			m.next(m.counted[v].tally, m.counted[v].n+1, least)
		}
	}
	if len(of) > 1 {
		m.unpaid = append(m.unpaid, clash{of, least})
	}
}

// exhaust notes that a clash of no costs leaves no better model. Without the
// guards in it there is none at any cost. Otherwise every assumption may have a
// part in it, by way of the bound.
func (m *minimiser) exhaust() {
	s := m.s
	if slices.Contains(s.clash, m.guard) || slices.Contains(s.clash, s.bounds.guard) {
		m.lower = m.upper
		return
	}
	m.lower, m.upper, m.hopeless = math.MaxInt64, math.MaxInt64, true
}

// smaller leaves out of a clash what can be left out with little effort, the
// lightest first.
func (m *minimiser) smaller(of []lit) []lit {
	slices.SortStableFunc(of, func(a, b lit) int { return cmp.Compare(m.weight[a], m.weight[b]) })
	end := m.s.conflicts + coreBudget
	for i := 0; i < len(of) && len(of) > 1; {
		rest := slices.Concat(of[:i], of[i+1:])
		switch m.solve(max(0, end-m.s.conflicts), rest) {
		case Unsat:
			kept := m.clashing()
			of = slices.DeleteFunc(rest, func(l lit) bool { return !slices.Contains(kept, l) })
		case Sat:
			m.glance()
			i++
		case Stopped:
			if m.s.halted || m.s.conflicts >= end {
				return of
			}
			i++
		}
	}
	return of
}

// count makes tallies of the clashes that were paid for, and raises their
// counts as far as that is proved with little effort.
func (m *minimiser) count() {
	for _, c := range m.unpaid {
		t := newTally(c.of)
		n := 2
		for ; n <= t.size && m.lower < m.upper; n++ {
			m.output(t, n)
			if m.solve(raiseBudget, t.out[n-1:n]) != Unsat {
				break
			}
			m.lower += c.weight
		}
		m.next(t, n, c.weight)
	}
	m.unpaid = m.unpaid[:0]
}

// next makes the n-th output of a tally a cost.
func (m *minimiser) next(t *tally, n int, weight int64) {
	if n <= t.size {
		m.output(t, n)
		m.charge(t.out[n-1], weight)
	}
}

// output sees to it that a tally has its n-th output.
func (m *minimiser) output(t *tally, n int) {
	if len(t.out) >= n {
		return
	}
	t.extend(n, m.fresh, func(c ...lit) { m.s.add(c) })
	for len(m.counted) < len(m.s.at) {
		m.counted = append(m.counted, count{})
	}
	m.counted[t.out[n-1].variable()] = count{t, n}
}

// harden rules out, for better models, the costs that would make them no better.
func (m *minimiser) harden() {
	for _, l := range m.costs {
		if m.upper != math.MaxInt64 && m.weight[l] > 0 && m.weight[l] >= m.upper-m.lower {
			m.weight[l] = 0
			m.changed = true
			m.s.add([]lit{m.guard.not(), l.not()})
		}
	}
}

// refined reports whether the model just found is refused.
func (m *minimiser) refined() bool { return m.q.Refine != nil && m.q.Refine(m.s) }

// glance takes the model just found, if it is a better one and not refused.
func (m *minimiser) glance() {
	if m.price() < m.upper && !m.refined() {
		m.offer()
	}
}

// offer takes the model just found if it is better.
func (m *minimiser) offer() {
	if cost := m.price(); cost < m.upper {
		m.upper, m.found = cost, true
		m.best = append(m.best[:0], m.s.model...)
		m.told = math.MinInt64
		m.tell()
	}
}

// price is the cost of the model just found.
func (m *minimiser) price() int64 {
	sum := int64(0)
	for _, c := range m.q.Soft {
		if m.s.inModel(m.s.lit(c.Lit)) {
			sum += c.Weight
		}
	}
	return sum
}

// tell calls Better if there is something new.
func (m *minimiser) tell() {
	bound := min(m.lower, m.upper)
	if m.q.Better == nil || !m.found || bound <= m.told {
		return
	}
	m.told = bound
	copy(m.s.model, m.best)
	m.q.Better(m.upper, bound)
}

// release gives variables back, with every clause that has one.
func (s *Solver) release(list []int32) {
	for _, v := range list {
		s.idle[v] = true
	}
	s.dropIf(func(c []lit) bool {
		return slices.ContainsFunc(c, func(l lit) bool { return s.idle[l.variable()] })
	})
	kept, done := 0, 0
	for i, l := range s.trail {
		if s.idle[l.variable()] {
			s.vals[l], s.vals[l.not()] = unset, unset
			continue
		}
		if i < s.head {
			done++
		}
		s.trail[kept] = l
		kept++
	}
	s.trail, s.head, s.fixed = s.trail[:kept], done, -1
	for _, v := range list {
		s.phase[v] = no
		s.idlers = append(s.idlers, v)
	}
}
