package sat

import "math/rand/v2"

// pigeons asks to put n+1 pigeons into n holes, one in each at most: impossible
// (A. Haken, "The Intractability of Resolution", Theoret. Comput. Sci. 39 (1985)
// 297). Pigeon p in hole h is variable p*n+h+1.
func pigeons(n int) formula {
	f := formula{n: n * (n + 1)}
	in := func(p, h int) Lit { return Lit(p*n + h + 1) }
	for p := range n + 1 {
		var somewhere []Lit
		for h := range n {
			somewhere = append(somewhere, in(p, h))
			for other := range p {
				f.clauses = append(f.clauses, []Lit{-in(p, h), -in(other, h)})
			}
		}
		f.clauses = append(f.clauses, somewhere)
	}
	return f
}

// threes is a random formula of clauses with three different variables each.
// At 4.26 clauses a variable about half of the large ones have a model.
func threes(r *rand.Rand, n, clauses int) formula {
	f := formula{n: n}
	for range clauses {
		v := r.Perm(n)[:3]
		c := make([]Lit, 3)
		for i := range c {
			c[i] = Lit(v[i] + 1)
			if r.IntN(2) == 0 {
				c[i] = -c[i]
			}
		}
		f.clauses = append(f.clauses, c)
	}
	return f
}

// cover asks for the cheapest vertices that touch all edges of a random graph.
func cover(r *rand.Rand, n, edges int, weight func() int64) formula {
	f := formula{n: n}
	for range edges {
		a := 1 + r.IntN(n)
		b := 1 + (a+r.IntN(n-1))%n
		f.clauses = append(f.clauses, []Lit{Lit(a), Lit(b)})
	}
	for v := 1; v <= n; v++ {
		f.soft = append(f.soft, Soft{Lit(v), weight()})
	}
	return f
}

// relaxed gives every clause a literal that lets it be broken at a cost.
func relaxed(f formula, weight func() int64) formula {
	g := formula{n: f.n + len(f.clauses)}
	for i, c := range f.clauses {
		out := Lit(f.n + i + 1)
		g.clauses = append(g.clauses, append([]Lit{out}, c...))
		g.soft = append(g.soft, Soft{out, weight()})
	}
	return g
}

// assignment asks for the cheapest way to give n jobs to n hands, one each, of
// random costs, with so many pairs of jobs that cannot be together at
// neighbouring hands.
func assignment(r *rand.Rand, n, barred int) formula {
	f := formula{n: n * n}
	at := func(job, hand int) Lit { return Lit(job*n + hand + 1) }
	for i := range n {
		var job, hand []Lit
		for j := range n {
			job, hand = append(job, at(i, j)), append(hand, at(j, i))
			f.soft = append(f.soft, Soft{at(i, j), 10 + r.Int64N(90)})
			for k := range j {
				f.clauses = append(f.clauses, []Lit{-at(i, j), -at(i, k)}, []Lit{-at(j, i), -at(k, i)})
			}
		}
		f.clauses = append(f.clauses, job, hand)
	}
	for range barred {
		a, b, h := r.IntN(n), r.IntN(n), r.IntN(n-1)
		f.clauses = append(f.clauses, []Lit{-at(a, h), -at(b, h+1)})
	}
	return f
}
