package sat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// formula is clauses over variables 1 … n, with costs. Every question about
// it is answered by trying all assignments: bit v-1 is the value of variable v.
type formula struct {
	n       int
	clauses [][]Lit
	soft    []Soft
}

func holds(at uint, l Lit) bool {
	if l < 0 {
		return at>>(-l-1)&1 == 0
	}
	return at>>(l-1)&1 == 1
}

func (f formula) admits(at uint, assume ...Lit) bool {
	for _, c := range f.clauses {
		if !slices.ContainsFunc(c, func(l Lit) bool { return holds(at, l) }) {
			return false
		}
	}
	return !slices.ContainsFunc(assume, func(l Lit) bool { return !holds(at, l) })
}

func (f formula) cost(at uint) int64 {
	sum := int64(0)
	for _, c := range f.soft {
		if holds(at, c.Lit) {
			sum += c.Weight
		}
	}
	return sum
}

// best is the least cost of a model, math.MaxInt64 if there is none.
func (f formula) best(assume ...Lit) int64 {
	least := int64(math.MaxInt64)
	for at := range uint(1) << f.n {
		if f.admits(at, assume...) {
			least = min(least, f.cost(at))
		}
	}
	return least
}

func (f formula) solver() *Solver {
	s := New()
	for range f.n {
		s.Var()
	}
	for _, c := range f.clauses {
		s.Add(c...)
	}
	return s
}

// way sets how a solver minimises: 0, by models looked for directly as much as
// by bounds; 1, as usual; 2, by bounds alone. A search that does not end is
// stopped, and so comes out wrong.
func way(s *Solver, n uint64) {
	s.patience = []int64{0, directAfter, math.MaxInt64}[n%3]
	asked := 0
	s.Stop = func() bool { asked++; return asked > 100_000 }
}

func (f formula) model(s *Solver) uint {
	at := uint(0)
	for v := 1; v <= f.n; v++ {
		if s.Value(Lit(v)) {
			at |= 1 << (v - 1)
		}
	}
	return at
}

func randomLit(r *rand.Rand, n int) Lit {
	l := Lit(1 + r.IntN(n))
	if r.IntN(2) == 0 {
		return -l
	}
	return l
}

func randomLits(r *rand.Rand, n, length int) []Lit {
	c := make([]Lit, length)
	for i := range c {
		c[i] = randomLit(r, n)
	}
	return c
}

// randomFormula has clauses of mixed length, some with a literal twice or with
// its opposite.
func randomFormula(r *rand.Rand) formula {
	f := formula{n: 2 + r.IntN(9)}
	for range f.n * (1 + r.IntN(5)) {
		f.clauses = append(f.clauses, randomLits(r, f.n, 1+min(r.IntN(4)+r.IntN(2), 3)))
	}
	for range r.IntN(2 * f.n) {
		f.soft = append(f.soft, Soft{randomLit(r, f.n), 1 + r.Int64N(1<<r.IntN(12))})
	}
	return f
}

func TestMinimiseAgainstAllAssignments(t *testing.T) {
	for seed := range uint64(5000) {
		r := rand.New(rand.NewPCG(seed, 3))
		f := randomFormula(r)
		s := f.solver()
		way(s, seed)
		for range 3 {
			assume := randomLits(r, f.n, r.IntN(3))
			out := s.Minimise(Search{Soft: f.soft, Assume: assume})
			want := f.best(assume...)
			if want == math.MaxInt64 {
				if out.Status != Unsat || out.Bound != want {
					t.Fatalf("seed %d: got %+v, want unsatisfiable", seed, out)
				}
				continue
			}
			if out.Status != Sat || !out.Optimal || out.Cost != want || out.Bound != want {
				t.Fatalf("seed %d: got %+v, want %d", seed, out, want)
			}
			if at := f.model(s); !f.admits(at, assume...) || f.cost(at) != want {
				t.Fatalf("seed %d: the model is none, or costs %d, not %d", seed, f.cost(at), want)
			}
		}
	}
}

func TestSolveAgainstAllAssignments(t *testing.T) {
	for seed := range uint64(5000) {
		r := rand.New(rand.NewPCG(seed, 4))
		f := randomFormula(r)
		f.soft = nil
		s := f.solver()
		for range 4 {
			assume := randomLits(r, f.n, r.IntN(5))
			got := s.Solve(assume...)
			if want := f.best(assume...) == 0; want != (got == Sat) || got == Stopped {
				t.Fatalf("seed %d: got %v, want a model: %v", seed, got, want)
			}
			if got == Sat {
				if !f.admits(f.model(s), assume...) {
					t.Fatalf("seed %d: the model is none", seed)
				}
				continue
			}
			c := s.Core()
			if f.best(c...) != math.MaxInt64 {
				t.Fatalf("seed %d: %v do not clash", seed, c)
			}
			c = s.Shrink(c)
			if f.best(c...) != math.MaxInt64 {
				t.Fatalf("seed %d: %v do not clash after Shrink", seed, c)
			}
			for i := range c {
				if f.best(slices.Concat(c[:i], c[i+1:])...) == math.MaxInt64 {
					t.Fatalf("seed %d: %v is not irreducible", seed, c)
				}
			}
			c = randomLits(r, f.n, 1+r.IntN(3))
			f.clauses = append(f.clauses, c)
			s.Add(c...)
		}
	}
}
