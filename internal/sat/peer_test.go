package sat

import (
	"math/rand/v2"
	"testing"

	peer "github.com/crillab/gophersat/solver"
)

// The peer is github.com/crillab/gophersat v1.4.0. It keeps a buffer for the
// whole program, so that only one of its solvers may run at a time: tests and
// benchmarks with it are never parallel.

func peerProblem(f formula) *peer.Problem {
	var list [][]int
	for _, c := range f.clauses {
		var numbers []int
		for _, l := range c {
			numbers = append(numbers, int(l))
		}
		list = append(list, numbers)
	}
	return peer.ParseSliceNb(list, f.n)
}

func peerSolve(f formula) Status {
	if peer.New(peerProblem(f)).Solve() == peer.Sat {
		return Sat
	}
	return Unsat
}

func peerMinimise(f formula) int64 {
	p := peerProblem(f)
	var lits []peer.Lit
	var weights []int
	for _, c := range f.soft {
		lits = append(lits, peer.IntToLit(int32(c.Lit)))
		weights = append(weights, int(c.Weight))
	}
	p.SetCostFunc(lits, weights)
	return int64(peer.New(p).Minimize())
}

// Near the threshold of random formulas with three literals a clause, too large
// to try all assignments.
func TestSolveAgainstPeer(t *testing.T) {
	with := 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 14))
		n := 50 + r.IntN(70)
		f := threes(r, n, n*43/10)
		s := f.solver()
		got, want := s.Solve(), peerSolve(f)
		if got != want {
			t.Errorf("seed %d, %d variables: %v, the peer says %v", seed, n, got, want)
		}
		if got == Sat {
			with++
			if f.price(s) != 0 {
				t.Errorf("seed %d: the model is none", seed)
			}
		}
	}
	if with < 30 || with > 120 {
		t.Errorf("%d of 150 have a model: not near the threshold", with)
	}
}

func TestMinimiseAgainstPeer(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 15))
		weight := func() int64 { return 1 + r.Int64N(1<<(seed%8)) }
		for name, f := range map[string]formula{
			"cover":      cover(r, 25, 50, weight),
			"threes":     relaxed(threes(r, 20, 100), weight),
			"assignment": assignment(r, 5, 15),
		} {
			s := f.solver()
			way(s, seed)
			out := s.Minimise(Search{Soft: f.soft})
			if want := peerMinimise(f); out.Cost != want || !out.Optimal || f.price(s) != want {
				t.Errorf("seed %d, %s: got %v, the peer says %d", seed, name, out, want)
			}
		}
	}
}
