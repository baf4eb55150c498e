package shortest_test

import (
	"fmt"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/iterator"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"

	"strapper/internal/shortest"
)

// bare is the least that a search with buckets does: one array of distances,
// no way kept, no border, nothing checked. It is what the package is held to.
type bare struct {
	nx, ny, nz int
	cell       []uint32
}

func newBare(nx, ny, nz int) *bare {
	b := &bare{nx, ny, nz, make([]uint32, nx*ny*nz)}
	for i := range b.cell {
		b.cell[i] = seededCost(i)
	}
	return b
}

func (b *bare) search() uint32 {
	last := len(b.cell) - 1
	cost := make([]uint32, len(b.cell))
	for i := range cost {
		cost[i] = shortest.Far
	}
	cost[0] = 0
	var list [32][]int32
	list[0] = append(list[0], 0)
	for at := uint32(0); ; at++ {
		bucket := &list[at%32]
		for len(*bucket) > 0 {
			n := int((*bucket)[len(*bucket)-1])
			*bucket = (*bucket)[:len(*bucket)-1]
			if cost[n] != at {
				continue
			}
			if n == last {
				return at
			}
			own := at + b.cell[n]
			relax := func(to int) {
				if c := own + b.cell[to]; c < cost[to] {
					cost[to] = c
					list[c%32] = append(list[c%32], int32(to))
				}
			}
			x, y := n%b.nx, n/b.nx%b.ny
			if x > 0 {
				relax(n - 1)
			}
			if x < b.nx-1 {
				relax(n + 1)
			}
			if y > 0 {
				relax(n - b.nx)
			}
			if y < b.ny-1 {
				relax(n + b.nx)
			}
			if b.nz == 1 {
				continue
			}
			if n >= b.nx*b.ny {
				relax(n - b.nx*b.ny)
			}
			if n < b.nx*b.ny*(b.nz-1) {
				relax(n + b.nx*b.ny)
			}
		}
	}
}

// stored is the bare search over stored arcs: distances only, arcs by the node
// they leave.
type stored struct {
	first    []int32
	to, cost []uint32
}

func newStored(nodes int, arcs []shortest.Arc) *stored {
	s := &stored{make([]int32, nodes+1), make([]uint32, len(arcs)), make([]uint32, len(arcs))}
	for _, a := range arcs {
		s.first[a.From+1]++
	}
	for n := range nodes {
		s.first[n+1] += s.first[n]
	}
	next := slices.Clone(s.first)
	for _, a := range arcs {
		at := next[a.From]
		next[a.From]++
		s.to[at], s.cost[at] = uint32(a.To), a.Cost[0]
	}
	return s
}

func (s *stored) search() uint32 {
	last := uint32(len(s.first) - 2)
	cost := make([]uint32, len(s.first)-1)
	for i := range cost {
		cost[i] = shortest.Far
	}
	cost[0] = 0
	var list [32][]uint32
	list[0] = append(list[0], 0)
	for at := uint32(0); ; at++ {
		bucket := &list[at%32]
		for len(*bucket) > 0 {
			n := (*bucket)[len(*bucket)-1]
			*bucket = (*bucket)[:len(*bucket)-1]
			if cost[n] != at {
				continue
			}
			if n == last {
				return at
			}
			for i := s.first[n]; i < s.first[n+1]; i++ {
				if c := at + s.cost[i]; c < cost[s.to[i]] {
					cost[s.to[i]] = c
					list[c%32] = append(list[c%32], s.to[i])
				}
			}
		}
	}
}

func BenchmarkBareStored(b *testing.B) {
	for _, s := range big {
		b.Run(fmt.Sprintf("%dx%dx%d", s[0], s[1], s[2]), func(b *testing.B) {
			g := newStored(s[0]*s[1]*s[2], gridArcs(s[0], s[1], s[2]))
			for b.Loop() {
				g.search()
			}
		})
	}
}

// theirs is the seeded grid as gonum sees it: neighbours are worked out when
// asked for, which is several times quicker than its own graph types.
type theirs struct{ bare }

func (g theirs) Node(id int64) graph.Node { return simple.Node(id) }

func (g theirs) From(id int64) graph.Nodes {
	var list []graph.Node
	x, y, z := int(id)%g.nx, int(id)/g.nx%g.ny, int(id)/(g.nx*g.ny)
	add := func(inside bool, n int) {
		if inside {
			list = append(list, simple.Node(n))
		}
	}
	add(x > 0, int(id)-1)
	add(x < g.nx-1, int(id)+1)
	add(y > 0, int(id)-g.nx)
	add(y < g.ny-1, int(id)+g.nx)
	add(z > 0, int(id)-g.nx*g.ny)
	add(z < g.nz-1, int(id)+g.nx*g.ny)
	return iterator.NewOrderedNodes(list)
}

func (g theirs) Edge(a, b int64) graph.Edge {
	return simple.WeightedEdge{F: simple.Node(a), T: simple.Node(b)}
}

func (g theirs) Weight(a, b int64) (float64, bool) {
	if a == b {
		return 0, true
	}
	return float64(g.cell[a]+g.cell[b]) / 2, true
}

// big are the grids of a million cells, and smaller ones that show the growth.
var big = [][3]int{{100, 100, 1}, {1000, 1000, 1}, {46, 46, 46}, {100, 100, 100}}

func BenchmarkBare(b *testing.B) {
	for _, s := range big {
		b.Run(fmt.Sprintf("%dx%dx%d", s[0], s[1], s[2]), func(b *testing.B) {
			g := newBare(s[0], s[1], s[2])
			b.ReportAllocs()
			for b.Loop() {
				g.search()
			}
		})
	}
}

func BenchmarkGrid(b *testing.B) {
	for _, s := range big {
		b.Run(fmt.Sprintf("%dx%dx%d", s[0], s[1], s[2]), func(b *testing.B) {
			g := mustGrid(b, s[0], s[1], s[2], openCost)
			last := s[0]*s[1]*s[2] - 1
			b.ReportAllocs()
			for b.Loop() {
				g.From(0, last)
			}
		})
	}
}

func BenchmarkGraph(b *testing.B) {
	for _, s := range big {
		b.Run(fmt.Sprintf("%dx%dx%d", s[0], s[1], s[2]), func(b *testing.B) {
			nodes := s[0] * s[1] * s[2]
			g := mustGraph(b, nodes, 1, gridArcs(s[0], s[1], s[2]))
			b.ReportAllocs()
			for b.Loop() {
				g.From(0, 0, int32(nodes-1))
			}
		})
	}
}

func BenchmarkGonum(b *testing.B) {
	for _, s := range big {
		b.Run(fmt.Sprintf("%dx%dx%d", s[0], s[1], s[2]), func(b *testing.B) {
			g := theirs{*newBare(s[0], s[1], s[2])}
			for b.Loop() {
				path.DijkstraFrom(simple.Node(0), g)
			}
		})
	}
}

// A front over two opposed costs on a grid: the hardest kind for its size.
func BenchmarkFront(b *testing.B) {
	for _, n := range []int{20, 40} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			arcs := gridArcs(n, n, 1)
			for i := range arcs {
				arcs[i].Cost[1] = 17 - arcs[i].Cost[0]
			}
			g := mustGraph(b, n*n, 2, arcs)
			for b.Loop() {
				g.Front(0, int32(n*n-1), 0)
			}
		})
	}
}

// The bare search and gonum's must agree with the package before their speeds
// are compared.
func TestComparedSearchesAgree(t *testing.T) {
	for _, c := range seededGrids[:5] {
		if got := newBare(c.nx, c.ny, c.nz).search(); got != uint32(2*c.shortest) {
			t.Errorf("bare search on %d × %d × %d: %d, want %v", c.nx, c.ny, c.nz, got, 2*c.shortest)
		}
		if got := newStored(c.nx*c.ny*c.nz, gridArcs(c.nx, c.ny, c.nz)).search(); got != uint32(2*c.shortest) {
			t.Errorf("bare search over stored arcs on %d × %d × %d: %d, want %v", c.nx, c.ny, c.nz, got, 2*c.shortest)
		}
		g := theirs{*newBare(c.nx, c.ny, c.nz)}
		if got := path.DijkstraFrom(simple.Node(0), g).WeightTo(int64(c.nx*c.ny*c.nz - 1)); got != c.shortest {
			t.Errorf("gonum on %d × %d × %d: %v, want %v", c.nx, c.ny, c.nz, got, c.shortest)
		}
	}
}

// flats are the arcs of a block: each flat a void of 50 lanes by 50 stations and
// the same with its boards up, 5,000 nodes, joined in every lane; a riser joins
// it to the next one. Lengths are millimetres, mess and time what a job knows.
func flats(n int) (nodes int, arcs []shortest.Arc) {
	const lanes, stations, flat = 50, 50, 5000
	r := seededRand(11)
	join := func(a, b int, length, mess, seconds uint32) {
		cost := shortest.Costs{length, mess, seconds}
		arcs = append(arcs, shortest.Arc{From: int32(a), To: int32(b), Cost: cost}, shortest.Arc{From: int32(b), To: int32(a), Cost: cost})
	}
	for f := range n {
		for lane := range lanes {
			for s := range stations {
				void := f*flat + lane*stations + s
				board := void + lanes*stations
				join(void, board, 0, 8, 600)
				if s+1 < stations {
					length := 50 + r.Uint32N(300)
					join(void, void+1, length, 0, length/10)
				}
				if lane+1 < lanes {
					join(board, board+stations, 400, 1, 300)
				}
			}
		}
		if f > 0 {
			join((f-1)*flat+r.IntN(flat/2), f*flat+r.IntN(flat/2), 2700, 20, 1800)
		}
	}
	return n * flat, arcs
}

// A block of flats, from its first to its last node: the graph made and the
// cheapest way found. A million nodes are 200 flats.
func BenchmarkBlockOfFlats(b *testing.B) {
	for _, n := range []int{2, 20, 200} {
		nodes, arcs := flats(n)
		b.Run(fmt.Sprint(nodes), func(b *testing.B) {
			for b.Loop() {
				g := mustGraph(b, nodes, 3, arcs)
				if g.From(0, 0, int32(nodes-1)).Cost(int32(nodes-1)) == shortest.Far {
					b.Fatal("no way")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*nodes), "ns/node")
		})
	}
}
