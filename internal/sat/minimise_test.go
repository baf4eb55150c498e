package sat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Models are listed in rising cost by ruling each out once it is found: the
// costs must be those of all models, sorted.
func TestModelsInRisingCost(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 6))
		f := randomFormula(r)
		f.n = min(f.n, 7)
		f.clauses = slices.DeleteFunc(f.clauses, func(c []Lit) bool { return len(c) < 3 || beyond(f.n, c) })
		f.soft = slices.DeleteFunc(f.soft, func(c Soft) bool { return beyond(f.n, []Lit{c.Lit}) })
		var want []int64
		for at := range uint(1) << f.n {
			if f.admits(at) {
				want = append(want, f.cost(at))
			}
		}
		slices.Sort(want)
		s := f.solver()
		way(s, seed)
		var got []int64
		hidden := 0
		for {
			out := s.Minimise(Search{Soft: f.soft})
			if out.Status != Sat {
				break
			}
			got = append(got, out.Cost)
			var other []Lit
			for v := Lit(1); int(v) <= f.n; v++ {
				if s.Value(v) {
					other = append(other, -v)
				} else {
					other = append(other, v)
				}
			}
			s.Add(other...)
			hidden = max(hidden, len(s.at)-len(s.idlers))
		}
		if !slices.Equal(got, want) {
			t.Fatalf("seed %d: got costs %v, want %v", seed, got, want)
		}
		if hidden > f.n {
			t.Fatalf("seed %d: %d variables in use after a call, not %d", seed, hidden, f.n)
		}
	}
}

func beyond(n int, c []Lit) bool {
	return slices.ContainsFunc(c, func(l Lit) bool { return int(max(l, -l)) > n })
}

// Every second clause is kept back and shown only when a model breaks it.
func TestClausesShownLate(t *testing.T) {
	for seed := range uint64(3000) {
		r := rand.New(rand.NewPCG(seed, 7))
		f := randomFormula(r)
		s := New()
		for i, c := range f.clauses {
			if i%2 == 0 {
				s.Add(c...)
			}
		}
		way(s, seed/2)
		one := seed%2 == 0
		out := s.Minimise(Search{Soft: f.soft, Refine: func(s *Solver) bool {
			at, added := f.model(s), false
			for _, c := range f.clauses {
				if !slices.ContainsFunc(c, func(l Lit) bool { return holds(at, l) }) && !(one && added) {
					s.Add(c...)
					added = true
				}
			}
			return added
		}})
		checkBest(t, seed, f, s, out, f.best())
	}
}

// checkBest compares a finished outcome with the least cost, math.MaxInt64 if
// there is no model.
func checkBest(t *testing.T, seed uint64, f formula, s *Solver, out Outcome, want int64) {
	t.Helper()
	if want == math.MaxInt64 {
		if out.Status != Unsat || out.Found || out.Optimal {
			t.Fatalf("seed %d: got %v, want unsatisfiable", seed, out)
		}
		return
	}
	if out.Status != Sat || !out.Found || !out.Optimal || out.Cost != want || out.Bound != want {
		t.Fatalf("seed %d: got %v, want %d", seed, out, want)
	}
	if at := f.model(s); !f.admits(at) || f.cost(at) != want {
		t.Fatalf("seed %d: the model is none, or does not cost %d", seed, want)
	}
}

// With negative weights, gains, and with both a literal and its opposite.
func TestGains(t *testing.T) {
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 8))
		f := randomFormula(r)
		for range f.n {
			f.soft = append(f.soft, Soft{randomLit(r, f.n), r.Int64N(21) - 10})
		}
		s := f.solver()
		checkBest(t, seed, f, s, s.Minimise(Search{Soft: f.soft}), f.best())
	}
}

func TestUpper(t *testing.T) {
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 9))
		f := randomFormula(r)
		best := f.best()
		if best == math.MaxInt64 {
			continue
		}
		s := f.solver()
		way(s, seed)
		for _, upper := range []int64{best - 2, best, best + 1, best + 20, 1 << 40} {
			if upper == 0 {
				continue
			}
			out := s.Minimise(Search{Soft: f.soft, Upper: upper, Better: func(cost, _ int64) {
				if cost >= upper {
					t.Fatalf("seed %d: told of cost %d, not below %d", seed, cost, upper)
				}
			}})
			if upper > best {
				checkBest(t, seed, f, s, out, best)
			} else if out.Status != Unsat || out.Bound != upper {
				t.Fatalf("seed %d: got %v, want nothing below %d", seed, out, upper)
			}
		}
	}
}

// Costs told only fall and bounds only rise, and the model is there to be read.
func TestBetterTells(t *testing.T) {
	told := 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 10))
		f := randomFormula(r)
		s := f.solver()
		way(s, seed)
		lastCost, lastBound := int64(math.MaxInt64), int64(math.MinInt64)
		best := f.best()
		out := s.Minimise(Search{Soft: f.soft, Better: func(cost, bound int64) {
			told++
			at := f.model(s)
			if !f.admits(at) || f.cost(at) != cost || cost < best || bound > best {
				t.Fatalf("seed %d: told of %d and %d; the best is %d", seed, cost, bound, best)
			}
			if cost > lastCost || bound < lastBound || cost == lastCost && bound == lastBound {
				t.Fatalf("seed %d: told of %d and %d after %d and %d", seed, cost, bound, lastCost, lastBound)
			}
			lastCost, lastBound = cost, bound
		}})
		if out.Found && (lastCost != best || lastBound != best) {
			t.Fatalf("seed %d: last told of %d and %d, not %d", seed, lastCost, lastBound, best)
		}
	}
	if told < 1000 {
		t.Errorf("told %d times only", told)
	}
}

// Stopped at any moment, the best so far and its bound are right, and the
// solver can be used again.
func TestMinimiseStopped(t *testing.T) {
	stopped, found := 0, 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 11))
		f := relaxed(threes(r, 6, 40), func() int64 { return 1 + r.Int64N(5) })
		f.n = 6
		want := math.MaxInt64
		for at := range uint(1) << f.n {
			want = min(want, f.broken(at))
		}
		for mode := range uint64(3) {
			for after := range 30 {
				s := f.solver()
				way(s, mode)
				s.Stop = func() bool { after--; return after < 0 }
				out := s.Minimise(Search{Soft: f.soft})
				if out.Status == Stopped {
					stopped++
				}
				if out.Bound > int64(want) || out.Optimal != (out.Status == Sat) {
					t.Fatalf("seed %d: got %v, the best is %d", seed, out, want)
				}
				if out.Found {
					found++
					if cost := f.price(s); cost != out.Cost || cost < int64(want) {
						t.Fatalf("seed %d: got %v, the model costs %d, the best %d", seed, out, cost, want)
					}
				}
				s.Stop = nil
				if out = s.Minimise(Search{Soft: f.soft}); out.Cost != int64(want) || !out.Optimal {
					t.Fatalf("seed %d: got %v afterwards, the best is %d", seed, out, want)
				}
			}
		}
	}
	if stopped < 1000 || found < 1000 {
		t.Errorf("%d stopped, %d with a model: too few to show anything", stopped, found)
	}
}

// broken is, of a formula from relaxed, the cost of the clauses that an
// assignment of its first variables breaks.
func (f formula) broken(at uint) int {
	sum := int64(0)
	for i, c := range f.clauses {
		if !slices.ContainsFunc(c[1:], func(l Lit) bool { return holds(at, l) }) {
			sum += f.soft[i].Weight
		}
	}
	return int(sum)
}

// price is the cost of the solver's model, which must be one.
func (f formula) price(s *Solver) int64 {
	for _, c := range f.clauses {
		if !slices.ContainsFunc(c, s.Value) {
			return -1
		}
	}
	sum := int64(0)
	for _, c := range f.soft {
		if s.Value(c.Lit) {
			sum += c.Weight
		}
	}
	return sum
}

// Two sums are kept below two limits while a guard is assumed: the models left
// are those of all assignments that are within both.
func TestSumsAgainstAllAssignments(t *testing.T) {
	left, barred := 0, 0
	for seed := range uint64(600) {
		r := rand.New(rand.NewPCG(seed, 16))
		f := randomFormula(r)
		f.clauses = slices.DeleteFunc(f.clauses, func(c []Lit) bool { return len(c) < 3 })
		s := f.solver()
		guard := s.hidden(1)[0]
		s.bounds.guard = guard
		var sums [2]formula
		for i := range sums {
			weight, order := make([]int64, len(s.vals)), []lit(nil)
			for range r.IntN(f.n + 1) {
				c := Soft{randomLit(r, f.n), 1 + r.Int64N(1<<r.IntN(6))}
				if l := s.lit(c.Lit); weight[l] == 0 {
					sums[i].soft = append(sums[i].soft, c)
					weight[l], order = c.Weight, append(order, l)
				}
			}
			s.linear[i].rank(weight, order)
			s.linear[i].limit = 1 + r.Int64N(60)
		}
		want := map[uint]bool{}
		for at := range uint(1) << f.n {
			if f.admits(at) {
				if sums[0].cost(at) < s.linear[0].limit && sums[1].cost(at) < s.linear[1].limit {
					want[at] = true
				} else {
					barred++
				}
			}
		}
		for {
			s.arm()
			s.assume = append(s.assume[:0], guard)
			status := s.search(-1)
			for i := range s.linear {
				facts := int64(0)
				for _, l := range s.trail[:s.head] {
					facts += s.linear[i].weight[l]
				}
				if s.linear[i].sum != facts {
					t.Fatalf("seed %d: the sum of what is certain is %d, not %d", seed, s.linear[i].sum, facts)
				}
			}
			s.disarm()
			if status != Sat {
				break
			}
			at := f.model(s)
			if !want[at] {
				t.Fatalf("seed %d: a model beyond the limits, or twice", seed)
			}
			left++
			delete(want, at)
			var other []Lit
			for v := Lit(1); int(v) <= f.n; v++ {
				if holds(at, v) {
					other = append(other, -v)
				} else {
					other = append(other, v)
				}
			}
			s.Add(other...)
		}
		if len(want) > 0 {
			t.Fatalf("seed %d: %d models within the limits were not found", seed, len(want))
		}
	}
	if left < 1000 || barred < 1000 {
		t.Errorf("%d models left and %d barred: too few to show anything", left, barred)
	}
}

// The cheapest cover of a path by its vertices is every second one, of an odd
// cycle one more than half; of all pairs of n, all but one.
func TestCoversOfKnownCost(t *testing.T) {
	path := func(n int, closed bool) formula {
		f := formula{n: n}
		for v := 1; v < n; v++ {
			f.clauses = append(f.clauses, []Lit{Lit(v), Lit(v + 1)})
		}
		if closed {
			f.clauses = append(f.clauses, []Lit{1, Lit(n)})
		}
		return f
	}
	pairs := formula{n: 12}
	for v := 1; v <= 12; v++ {
		for w := 1; w < v; w++ {
			pairs.clauses = append(pairs.clauses, []Lit{Lit(v), Lit(w)})
		}
	}
	for _, c := range []struct {
		name string
		f    formula
		want int64
	}{
		{"path", path(100, false), 50}, {"odd cycle", path(51, true), 26}, {"all pairs", pairs, 11},
	} {
		for v := 1; v <= c.f.n; v++ {
			c.f.soft = append(c.f.soft, Soft{Lit(v), 1000})
		}
		out := c.f.solver().Minimise(Search{Soft: c.f.soft})
		if !out.Optimal || out.Cost != 1000*c.want {
			t.Errorf("%s: got %v, want %d", c.name, out, 1000*c.want)
		}
	}
}

func TestCoreAfterMinimise(t *testing.T) {
	s := New()
	a, b, c := s.Var(), s.Var(), s.Var()
	s.Add(a.Not(), b.Not())
	out := s.Minimise(Search{Soft: []Soft{{c, 5}}, Assume: []Lit{c, a, b}})
	if got := s.Core(); out.Status != Unsat || out.Bound != math.MaxInt64 || !slices.Equal(got, []Lit{a, b}) {
		t.Errorf("got %v and %v, want a clash of %v and %v", out, got, a, b)
	}
}

// What Core names after Minimise leaves no model below the limit on the cost.
func TestCoreWithUpper(t *testing.T) {
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 13))
		f := randomFormula(r)
		assume := randomLits(r, f.n, 3)
		upper := 1 + r.Int64N(100)
		s := f.solver()
		way(s, seed)
		if s.Minimise(Search{Soft: f.soft, Assume: assume, Upper: upper}).Status == Sat {
			continue
		}
		if c := s.Core(); f.best(c...) < upper {
			t.Fatalf("seed %d: %v leave a model of cost %d, below %d", seed, c, f.best(c...), upper)
		}
	}
}

func TestOutcomeInWords(t *testing.T) {
	for _, c := range []struct {
		out  Outcome
		want string
	}{
		{Outcome{Status: Sat, Found: true, Cost: 7, Bound: 7, Optimal: true}, "satisfiable, cost 7, bound 7"},
		{Outcome{Status: Stopped, Bound: 3}, "stopped, bound 3"},
		{Outcome{Status: Unsat, Bound: 4}, "unsatisfiable, bound 4"},
	} {
		if got := c.out.String(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
