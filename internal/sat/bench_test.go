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

func BenchmarkPigeons(b *testing.B) {
	for _, n := range []int{6, 7, 8, 9} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchmarkSolve(b, []formula{pigeons(n)}) })
	}
}

func BenchmarkThrees(b *testing.B) {
	for _, n := range []int{100, 150, 200, 250} {
		r := rand.New(rand.NewPCG(1, uint64(n)))
		var list []formula
		for range 10 {
			list = append(list, threes(r, n, n*426/100))
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchmarkSolve(b, list) })
	}
}

// families are kinds of formulas with costs, ten of each.
func families() map[string][]formula {
	list := map[string][]formula{}
	r := rand.New(rand.NewPCG(2, 2))
	one := func() int64 { return 1 }
	near := func() int64 { return 1 + r.Int64N(10) }
	wide := func() int64 { return 1 << r.Int64N(20) }
	for range 10 {
		list["cover-60-one"] = append(list["cover-60-one"], cover(r, 60, 150, one))
		list["cover-60-near"] = append(list["cover-60-near"], cover(r, 60, 150, near))
		list["cover-100-wide"] = append(list["cover-100-wide"], cover(r, 100, 250, wide))
		list["threes-50-one"] = append(list["threes-50-one"], relaxed(threes(r, 50, 300), one))
		list["threes-50-near"] = append(list["threes-50-near"], relaxed(threes(r, 50, 300), near))
		list["assignment-8"] = append(list["assignment-8"], assignment(r, 8, 40))
		list["assignment-12"] = append(list["assignment-12"], assignment(r, 12, 100))
	}
	return list
}

func BenchmarkMinimise(b *testing.B) {
	all := families()
	for _, name := range []string{"cover-60-one", "cover-60-near", "cover-100-wide", "threes-50-one", "threes-50-near", "assignment-8", "assignment-12"} {
		b.Run(name, func(b *testing.B) { benchmarkMinimise(b, all[name]) })
	}
}
