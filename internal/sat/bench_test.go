package sat

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func benchmarkSolve(b *testing.B, list []formula) {
	var total counts
	for b.Loop() {
		for _, f := range list {
			s := f.solver()
			s.Solve()
			total.conflicts += s.conflicts
			total.propagations += s.propagations
		}
	}
	report(b, total)
}

func report(b *testing.B, total counts) {
	b.ReportMetric(float64(total.conflicts)/float64(b.N), "conflicts/op")
	b.ReportMetric(float64(total.propagations)/float64(b.N), "props/op")
	b.ReportMetric(float64(total.propagations)/b.Elapsed().Seconds(), "props/s")
}

func benchmarkMinimise(b *testing.B, list []formula) {
	var total counts
	for b.Loop() {
		for _, f := range list {
			s := f.solver()
			s.Minimise(Search{Soft: f.soft})
			total.conflicts += s.conflicts
			total.propagations += s.propagations
		}
	}
	report(b, total)
}

// Each benchmark is run by this package and by its peer, so that a ratio can
// be had from one run.
func BenchmarkPigeons(b *testing.B) {
	for _, n := range []int{6, 7, 8, 9} {
		compareSolve(b, fmt.Sprint(n), []formula{pigeons(n)}, n < 9)
	}
}

// Ten formulas each, 4.26 clauses a variable.
func BenchmarkThrees(b *testing.B) {
	for _, n := range []int{100, 150, 200} {
		r := rand.New(rand.NewPCG(1, uint64(n)))
		var list []formula
		for range 10 {
			list = append(list, threes(r, n, n*426/100))
		}
		compareSolve(b, fmt.Sprint(n), list, n < 200)
	}
}

func compareSolve(b *testing.B, name string, list []formula, peer bool) {
	b.Run(name+"/own", func(b *testing.B) { benchmarkSolve(b, list) })
	if !peer {
		return // minutes
	}
	b.Run(name+"/peer", func(b *testing.B) {
		for b.Loop() {
			for _, f := range list {
				peerSolve(f)
			}
		}
	})
}

// Ten formulas each. The names tell the size and whether weights are all the
// same, 1 to 10, or powers of two up to the 19th.
func BenchmarkMinimise(b *testing.B) {
	r := rand.New(rand.NewPCG(2, 2))
	one := func() int64 { return 1 }
	near := func() int64 { return 1 + r.Int64N(10) }
	wide := func() int64 { return 1 << r.Int64N(20) }
	for _, c := range []struct {
		name string
		peer bool
		make func() formula
	}{
		{"cover-30-one", true, func() formula { return cover(r, 30, 60, one) }},
		{"cover-60-one", false, func() formula { return cover(r, 60, 150, one) }},
		{"cover-60-near", false, func() formula { return cover(r, 60, 150, near) }},
		{"cover-100-wide", false, func() formula { return cover(r, 100, 250, wide) }},
		{"threes-25-one", true, func() formula { return relaxed(threes(r, 25, 130), one) }},
		{"threes-40-one", false, func() formula { return relaxed(threes(r, 40, 220), one) }},
		{"threes-40-near", false, func() formula { return relaxed(threes(r, 40, 220), near) }},
		{"assignment-6", true, func() formula { return assignment(r, 6, 20) }},
		{"assignment-10", false, func() formula { return assignment(r, 10, 70) }},
	} {
		var list []formula
		for range 10 {
			list = append(list, c.make())
		}
		b.Run(c.name+"/own", func(b *testing.B) { benchmarkMinimise(b, list) })
		if !c.peer {
			continue // minutes
		}
		b.Run(c.name+"/peer", func(b *testing.B) {
			for b.Loop() {
				for _, f := range list {
					peerMinimise(f)
				}
			}
		})
	}
}

// Ten cheapest trees each through five places of a square grid, by cuts shown
// late.
func BenchmarkTree(b *testing.B) {
	for _, side := range []int{3, 4, 5} {
		r := rand.New(rand.NewPCG(3, uint64(side)))
		var list []network
		for range 10 {
			list = append(list, grid(r, side, 5, 100))
		}
		b.Run(fmt.Sprint(side), func(b *testing.B) {
			var total counts
			for b.Loop() {
				for _, g := range list {
					s := New()
					s.Minimise(g.search())
					total.conflicts += s.conflicts
					total.propagations += s.propagations
				}
			}
			report(b, total)
		})
	}
}

// A search that is running takes no memory but for what it learns.
func BenchmarkPropagate(b *testing.B) {
	n := 20_000
	s := New()
	for v := 1; v < n; v++ {
		s.Add(Lit(-v), Lit(v+1))
		s.Add(Lit(-v), Lit(-v-1), Lit(min(n, v+2)))
	}
	s.Solve(1)
	start := s.propagations
	b.ReportAllocs()
	for b.Loop() {
		s.Solve(1)
	}
	b.ReportMetric(float64(s.propagations-start)/b.Elapsed().Seconds(), "props/s")
}
