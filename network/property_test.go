package network_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawGraph draws a connected graph of 2–9 nodes with resistances from 1 mΩ to
// 1 GΩ.
func drawGraph(t *rapid.T) *graph {
	g := &graph{n: rapid.IntRange(2, 9).Draw(t, "nodes")}
	for v := 1; v < g.n; v++ {
		g.join(rapid.IntRange(0, v-1).Draw(t, "tree"), v)
	}
	for range rapid.IntRange(0, 12).Draw(t, "extra") {
		a, b := rapid.IntRange(0, g.n-1).Draw(t, "a"), rapid.IntRange(0, g.n-1).Draw(t, "b")
		if a != b {
			g.join(a, b)
		}
	}
	for range g.edges {
		g.r = append(g.r, math.Pow(10, rapid.Float64Range(-3, 9).Draw(t, "log r")))
	}
	return g
}

// matrix is the resistance between all pairs.
func (g *graph) matrix(t *testing.T) [][]float64 {
	r := make([][]float64, g.n)
	for a := range r {
		r[a] = make([]float64, g.n)
		for b := range r {
			r[a][b] = g.between(t, a, b)
		}
	}
	return r
}

// shortest is the length of the shortest way between all pairs.
func (g *graph) shortest() [][]float64 {
	d := make([][]float64, g.n)
	for a := range d {
		d[a] = make([]float64, g.n)
		for b := range d {
			d[a][b] = math.Inf(1)
		}
		d[a][a] = 0
	}
	for range g.n {
		for i, e := range g.edges {
			for a := range d {
				d[a][e[0]] = min(d[a][e[0]], d[a][e[1]]+g.r[i])
				d[a][e[1]] = min(d[a][e[1]], d[a][e[0]]+g.r[i])
			}
		}
	}
	return d
}

// Foster's theorem: Σ R_ij/r_ij over the branches is the number of nodes less
// one (Foster 1949; Klein and Randić, J. Math. Chem. 12 (1993) 81).
func TestFoster(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		g := drawGraph(rt)
		sum := 0.0
		for i, e := range g.edges {
			sum += g.between(t, e[0], e[1]) / g.r[i]
		}
		if math.Abs(sum-float64(g.n-1)) > exact*float64(g.n) {
			rt.Fatalf("sum is %.17g for %d nodes", sum, g.n)
		}
	})
}

// Resistance is a metric and never more than the shortest way (Klein and Randić
// 1993, theorem A and lemma E).
func TestResistanceIsAMetric(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		g := drawGraph(rt)
		r, way := g.matrix(t), g.shortest()
		for a := range r {
			for b := range r {
				switch {
				case math.Abs(r[a][b]-r[b][a]) > exact*r[a][b]:
					rt.Fatalf("not symmetric: %g, %g", r[a][b], r[b][a])
				case (r[a][b] == 0) != (a == b):
					rt.Fatalf("R(%d,%d) = %g", a, b, r[a][b])
				case r[a][b] > way[a][b]*(1+exact):
					rt.Fatalf("R(%d,%d) = %g over the shortest way %g", a, b, r[a][b], way[a][b])
				}
				for c := range r {
					if r[a][c] > (r[a][b]+r[b][c])*(1+exact) {
						rt.Fatalf("triangle %d %d %d", a, b, c)
					}
				}
			}
		}
	})
}

// Rayleigh's monotonicity law: raising any resistance lowers no resistance
// between two nodes (Rayleigh 1899; Doyle and Snell, Random Walks
// and Electric Networks, 1984, section 1.4).
func TestRayleighMonotonicity(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		g := drawGraph(rt)
		before := g.matrix(t)
		i := rapid.IntRange(0, len(g.edges)-1).Draw(rt, "branch")
		g.r[i] = min(1e15, g.r[i]*math.Pow(10, rapid.Float64Range(0, 6).Draw(rt, "log factor")))
		for a, row := range g.matrix(t) {
			for b, r := range row {
				if r < before[a][b]*(1-exact) {
					rt.Fatalf("R(%d,%d) fell from %.17g to %.17g", a, b, before[a][b], r)
				}
			}
		}
	})
}
