package sat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// network is a graph with costs on its edges and places to be connected. Edge
// e, chosen or not, is variable e+1.
type network struct {
	nodes  int
	edges  [][2]int
	length []int64
	ends   []int
}

// grid is a network of so many places a side, with costs of 1 to most.
func grid(r *rand.Rand, side, ends int, most int64) network {
	g := network{nodes: side * side, ends: r.Perm(side * side)[:ends]}
	for a := range g.nodes {
		for _, b := range []int{a + 1, a + side} {
			if b < g.nodes && (b != a+1 || b%side != 0) {
				g.edges = append(g.edges, [2]int{a, b})
				g.length = append(g.length, 1+r.Int64N(most))
			}
		}
	}
	return g
}

func (g network) search() Search {
	q := Search{Refine: g.cut}
	for e, w := range g.length {
		q.Soft = append(q.Soft, Soft{Lit(e + 1), w})
	}
	return q
}

// cut adds, for each end that the chosen edges do not join to the first, that
// one of the edges out of its part must be chosen.
func (g network) cut(s *Solver) bool {
	part := g.parts(func(e int) bool { return s.Value(Lit(e + 1)) })
	var done []int
	for _, t := range g.ends {
		p := part[t]
		if p == part[g.ends[0]] || slices.Contains(done, p) {
			continue
		}
		done = append(done, p)
		var out []Lit
		for e, ab := range g.edges {
			if (part[ab[0]] == p) != (part[ab[1]] == p) {
				out = append(out, Lit(e+1))
			}
		}
		s.Add(out...)
	}
	return len(done) > 0
}

// parts names for every node the least node it is joined to.
func (g network) parts(chosen func(int) bool) []int {
	part := make([]int, g.nodes)
	for a := range part {
		part[a] = a
	}
	for again := true; again; {
		again = false
		for e, ab := range g.edges {
			if a, b := part[ab[0]], part[ab[1]]; a != b && chosen(e) {
				part[ab[0]], part[ab[1]] = min(a, b), min(a, b)
				again = true
			}
		}
	}
	return part
}

// cheapest is the cost of the cheapest tree through all ends, by the method of
// S. E. Dreyfus and R. A. Wagner, "The Steiner Problem in Graphs", Networks 1
// (1971) 195: cheapest tree through each set of ends and each node.
func (g network) cheapest() int64 {
	sets := 1 << len(g.ends)
	cost := make([][]int64, sets)
	for set := 1; set < sets; set++ {
		c := make([]int64, g.nodes)
		for v := range c {
			c[v] = math.MaxInt64 / 4
			for i, t := range g.ends {
				if set == 1<<i && v == t {
					c[v] = 0
				}
			}
			for sub := (set - 1) & set; sub > 0; sub = (sub - 1) & set {
				c[v] = min(c[v], cost[sub][v]+cost[set^sub][v])
			}
		}
		for again := true; again; { // Bellman and Ford
			again = false
			for e, ab := range g.edges {
				for _, d := range [][2]int{ab, {ab[1], ab[0]}} {
					if way := c[d[0]] + g.length[e]; way < c[d[1]] {
						c[d[1]] = way
						again = true
					}
				}
			}
		}
		cost[set] = c
	}
	return cost[sets-1][g.ends[0]]
}

func TestCheapestTreeByCutsShownLate(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 5))
		g := grid(r, 3+r.IntN(3), 2+r.IntN(4), 1<<r.IntN(8))
		s := New()
		way(s, seed)
		out := s.Minimise(g.search())
		if want := g.cheapest(); !out.Optimal || out.Cost != want || out.Bound != want {
			t.Fatalf("seed %d: got %+v, want %d", seed, out, want)
		}
		part := g.parts(func(e int) bool { return s.Value(Lit(e + 1)) })
		for _, end := range g.ends {
			if part[end] != part[g.ends[0]] {
				t.Fatalf("seed %d: the tree does not reach %d", seed, end)
			}
		}
	}
}
