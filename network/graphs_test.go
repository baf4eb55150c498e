package network_test

import (
	"math"
	"testing"

	"strapper/network"
	"strapper/unit"
)

// graph is a network of 1 Ω resistances (or of r, where given).
type graph struct {
	n     int
	edges [][2]int
	r     []float64 // nil: all 1
}

func (g *graph) join(a, b int) { g.edges = append(g.edges, [2]int{a, b}) }

func (g *graph) ohm(i int) unit.Ohm {
	if g.r == nil {
		return 1
	}
	return unit.Ohm(g.r[i])
}

// network makes node i of the graph node i of the network: node 0 is Ground.
func (g *graph) network() *network.Network {
	n := network.New()
	for range g.n - 1 {
		n.Node()
	}
	for i, e := range g.edges {
		n.Resistor(network.Node(e[0]), network.Node(e[1]), g.ohm(i))
	}
	return n
}

// between is the resistance between two nodes by ohmmeter.
func (g *graph) between(t testing.TB, a, b int) float64 {
	t.Helper()
	r, connected, err := g.network().Resistance(network.Node(a), network.Node(b), nil)
	if err != nil || !connected {
		t.Fatalf("between %d and %d: connected %v, %v", a, b, connected, err)
	}
	return float64(r)
}

// viaSource finds the same resistance another way, through Solve: a source of
// 1 V behind 1 Ω between the nodes sees R/(1+R) of its voltage.
func (g *graph) viaSource(t testing.TB, a, b int) float64 {
	t.Helper()
	n := g.network()
	n.Source(network.Node(a), network.Node(b), 1, 1)
	f, err := n.Factor(0)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := f.Solve(nil, nil).Voltage(network.Node(a), network.Node(b))
	if !ok {
		t.Fatalf("between %d and %d: floating", a, b)
	}
	return real(v) / (1 - real(v))
}

// distances is the number of edges of the shortest way from a to every node.
func (g *graph) distances(a int) []int {
	d := make([]int, g.n)
	for i := range d {
		d[i] = g.n
	}
	d[a] = 0
	for range g.n {
		for _, e := range g.edges {
			d[e[0]] = min(d[e[0]], d[e[1]]+1)
			d[e[1]] = min(d[e[1]], d[e[0]]+1)
		}
	}
	return d
}

func complete(n int) *graph {
	g := &graph{n: n}
	for a := range n {
		for b := range a {
			g.join(a, b)
		}
	}
	return g
}

func path(n int) *graph {
	g := &graph{n: n}
	for i := 1; i < n; i++ {
		g.join(i-1, i)
	}
	return g
}

func cycle(n int) *graph {
	g := path(n)
	g.join(n-1, 0)
	return g
}

// multipartite is the complete graph between parts of the given sizes.
func multipartite(sizes ...int) *graph {
	g := &graph{}
	for _, size := range sizes {
		for b := range size {
			for a := range g.n {
				g.join(a, g.n+b)
			}
		}
		g.n += size
	}
	return g
}

func hypercube(d int) *graph {
	g := &graph{n: 1 << d}
	for v := range g.n {
		for k := range d {
			if w := v ^ 1<<k; v < w {
				g.join(v, w)
			}
		}
	}
	return g
}

// petersen is the generalised Petersen graph GP(n,k): GP(5,2) is Petersen's,
// GP(10,2) the dodecahedron, GP(10,3) Desargues'.
func petersen(n, k int) *graph {
	g := &graph{n: 2 * n}
	for i := range n {
		g.join(i, (i+1)%n)
		g.join(i, n+i)
		g.join(n+i, n+(i+k)%n)
	}
	return g
}

// lcf is the cubic Hamiltonian graph with the given jumps, repeated.
func lcf(repeat int, jumps ...int) *graph {
	n := repeat * len(jumps)
	g := cycle(n)
	for v := range n {
		if w := (v + jumps[v%len(jumps)] + n) % n; v < w {
			g.join(v, w)
		}
	}
	return g
}

func icosahedron() *graph {
	g := &graph{n: 12}
	for i := range 5 {
		up, down := 1+i, 6+i
		g.join(0, up)
		g.join(11, down)
		g.join(up, 1+(i+1)%5)
		g.join(down, 6+(i+1)%5)
		g.join(up, down)
		g.join(up, 6+(i+1)%5)
	}
	return g
}

// hub adds a node n joined to all others: fan from a path, wheel from a cycle.
func hub(g *graph) *graph {
	for v := range g.n {
		g.join(v, g.n)
	}
	g.n++
	return g
}

// grid has w × h nodes; node (x,y) is y·w+x.
func grid(w, h int) *graph {
	g := &graph{n: w * h}
	for y := range h {
		for x := range w {
			if x+1 < w {
				g.join(y*w+x, y*w+x+1)
			}
			if y+1 < h {
				g.join(y*w+x, y*w+x+w)
			}
		}
	}
	return g
}

func torus(n int) *graph {
	g := &graph{n: n * n}
	for y := range n {
		for x := range n {
			g.join(y*n+x, y*n+(x+1)%n)
			g.join(y*n+x, (y+1)%n*n+x)
		}
	}
	return g
}

// ladder has sections of a series and a shunt resistance to node 0; the input is
// node 1.
func ladder(sections int) *graph {
	g := &graph{n: sections + 2}
	for i := range sections {
		g.join(i+1, i+2)
		g.join(i+2, 0)
	}
	return g
}

// relative compares to a relative tolerance.
func relative(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.17g, want %.17g (off by %.2g relative)", what, got, want, math.Abs(got/want-1))
	}
}
