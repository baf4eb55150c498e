package sat

import (
	"math"
	"slices"
	"testing"
)

// FuzzSolver reads bytes as calls on one solver of six variables, and compares
// every answer with all assignments tried.
func FuzzSolver(f *testing.F) {
	f.Add([]byte{0, 3, 1, 2, 3, 0, 2, 129, 130, 1, 2, 1, 3})
	f.Add([]byte{3, 2, 1, 9, 2, 7, 0, 2, 1, 2, 3, 2, 1, 9, 2, 7, 2, 4, 1, 2, 3, 4, 3, 1, 131, 5})
	f.Add([]byte{2, 7, 1, 2, 3, 4, 5, 6, 6, 1, 3, 1, 2, 3, 0, 1, 129, 3, 1, 4, 3})
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 300 {
			return
		}
		known := formula{n: 6}
		s := known.solver()
		asked := 0
		s.Stop = func() bool { asked++; return asked > 20_000 } // then answers are wrong
		next := func() int {
			if len(text) == 0 {
				return 0
			}
			b := text[0]
			text = text[1:]
			return int(b)
		}
		lits := func(n int) []Lit {
			list := make([]Lit, n)
			for i := range list {
				b := next()
				list[i] = Lit(1 + b&127%6)
				if b >= 128 {
					list[i] = -list[i]
				}
			}
			return list
		}
		for len(text) > 0 {
			switch next() % 4 {
			case 0:
				c := lits(next() % 5)
				known.clauses = append(known.clauses, c)
				s.Add(c...)
			case 1:
				assume := lits(next() % 5)
				if got, want := s.Solve(assume...), known.best(assume...) == 0; want != (got == Sat) {
					t.Fatalf("%v, with a model: %v", got, want)
				} else if !want && known.best(s.Shrink(s.Core())...) == 0 {
					t.Fatal("what comes back from Shrink does not clash")
				}
			case 2:
				l := lits(next() % 9)
				s.AtMostOne(l...)
				for i, a := range l {
					for _, b := range l[:i] {
						known.clauses = append(known.clauses, []Lit{-a, -b})
					}
				}
			default:
				priced := known
				for _, l := range lits(next() % 8) {
					priced.soft = append(priced.soft, Soft{l, int64(next()%16) - 2})
				}
				s.patience = int64(next() % 2 * directAfter)
				out := s.Minimise(Search{Soft: slices.Clone(priced.soft)})
				if want := priced.best(); want == math.MaxInt64 != (out.Status == Unsat) || out.Found && out.Cost != want {
					t.Fatalf("%v, the best is %d", out, want)
				}
			}
		}
	})
}
