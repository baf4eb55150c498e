package shortest_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"

	"strapper/internal/shortest"
)

func TestSeededCosts(t *testing.T) {
	for i, want := range []uint32{7, 3, 3, 6, 3, 7, 8, 3, 5, 3, 8, 6} {
		if got := seededCost(i); got != want {
			t.Errorf("cell %d costs %d, want %d", i, got, want)
		}
	}
}

// gridArcs are the steps of a seeded grid as arcs of twice the mean.
func gridArcs(nx, ny, nz int) []shortest.Arc {
	var arcs []shortest.Arc
	eachStep(nx, ny, nz, func(a, b int) {
		arcs = append(arcs, shortest.Arc{From: int32(a), To: int32(b), Cost: shortest.Costs{seededCost(a) + seededCost(b)}})
	})
	return arcs
}

func mustGraph(t testing.TB, nodes, objectives int, arcs []shortest.Arc) *shortest.Graph {
	t.Helper()
	g, err := shortest.New(nodes, objectives, arcs)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func mustGrid(t testing.TB, nx, ny, nz int, cost func(int) (uint32, bool)) *shortest.Grid {
	t.Helper()
	g, err := shortest.NewGrid(nx, ny, nz, cost)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func openCost(i int) (uint32, bool) { return seededCost(i), true }

// The published-by-arithmetic table of seeded grids, by the grid and by the
// graph, with buckets and with the heap.
func TestSeededGrids(t *testing.T) {
	for _, c := range seededGrids {
		name := fmt.Sprintf("%d×%d×%d", c.nx, c.ny, c.nz)
		last := c.nx*c.ny*c.nz - 1
		want := uint32(2 * c.shortest)
		field := mustGrid(t, c.nx, c.ny, c.nz, openCost).From(0, last)
		if got := field.Cost(last); got != want {
			t.Errorf("%s as a grid: %d, want %d", name, got, want)
		}
		if got := alongCells(field.Way(last)); got != want {
			t.Errorf("%s as a grid: the way costs %d, want %d", name, got, want)
		}
		arcs := gridArcs(c.nx, c.ny, c.nz)
		g := mustGraph(t, last+1, 1, arcs)
		tree := g.From(0, 0, int32(last))
		if got := tree.Cost(int32(last)); got != want {
			t.Errorf("%s as a graph: %d, want %d", name, got, want)
		}
		checkWay(t, name, arcs, 0, int32(last), 0, tree.Way(int32(last)), want)
	}
}

func alongCells(way []int) uint32 {
	sum := uint32(0)
	for i := 1; i < len(way); i++ {
		sum += seededCost(way[i-1]) + seededCost(way[i])
	}
	return sum
}

// checkWay fails unless the arcs lead from start to goal at the cost.
func checkWay(t testing.TB, name string, arcs []shortest.Arc, from, to int32, objective int, way []int32, want uint32) {
	t.Helper()
	at, sum := from, uint32(0)
	for _, i := range way {
		if arcs[i].From != at {
			t.Errorf("%s: arc %d starts at %d, the way is at %d", name, i, arcs[i].From, at)
		}
		at = arcs[i].To
		sum += arcs[i].Cost[objective]
	}
	if at != to || sum != want {
		t.Errorf("%s: the way ends at %d with %d, want %d with %d", name, at, sum, to, want)
	}
}

// randomArcs makes a graph whose costs go up to most.
func randomArcs(r *rand.Rand, nodes, arcs int, most uint32) []shortest.Arc {
	list := make([]shortest.Arc, arcs)
	for i := range list {
		list[i] = shortest.Arc{From: int32(r.IntN(nodes)), To: int32(r.IntN(nodes))}
		for o := range list[i].Cost {
			list[i].Cost[o] = r.Uint32N(most + 1)
		}
	}
	return list
}

// Every distance equals that of gonum v0.17.0's Dijkstra, with few and with
// many possible costs, so that both queues are used.
func TestDistancesEqualGonum(t *testing.T) {
	for seed := range uint64(40) {
		r := seededRand(seed)
		nodes := 2 + r.IntN(200)
		most := []uint32{1, 7, 500, 1 << 20}[seed%4]
		arcs := randomArcs(r, nodes, r.IntN(4*nodes+1), most)
		g, ref := mustGraph(t, nodes, 1, arcs), gonumGraph(nodes, arcs)
		tree, theirs := g.From(0, 0, -1), path.DijkstraFrom(simple.Node(0), ref)
		for n := range int32(nodes) {
			want := theirs.WeightTo(int64(n))
			got := float64(tree.Cost(n))
			if tree.Cost(n) == shortest.Far {
				got = math.Inf(1)
			}
			if got != want {
				t.Fatalf("seed %d, node %d: %v, gonum %v", seed, n, got, want)
			}
			if n != 0 && tree.Cost(n) != shortest.Far {
				checkWay(t, fmt.Sprint("seed ", seed), arcs, 0, n, 0, tree.Way(n), tree.Cost(n))
			}
		}
	}
}

// gonumGraph is the same graph in gonum; of parallel arcs the cheapest counts.
func gonumGraph(nodes int, arcs []shortest.Arc) *simple.WeightedDirectedGraph {
	ref := simple.NewWeightedDirectedGraph(0, math.Inf(1))
	for n := range nodes {
		ref.AddNode(simple.Node(n))
	}
	for _, a := range arcs {
		w, known := ref.Weight(int64(a.From), int64(a.To))
		if a.From != a.To && (!known || float64(a.Cost[0]) < w) {
			ref.SetWeightedEdge(simple.WeightedEdge{F: simple.Node(a.From), T: simple.Node(a.To), W: float64(a.Cost[0])})
		}
	}
	return ref
}

// A goal stops the search, and its distance is the same as without.
func TestGoalStopsTheSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes := rapid.IntRange(1, 60).Draw(t, "nodes")
		seed := rapid.Uint64().Draw(t, "seed")
		most := rapid.SampledFrom([]uint32{0, 5, 1 << 18}).Draw(t, "most")
		arcs := randomArcs(seededRand(seed), nodes, 3*nodes, most)
		g, err := shortest.New(nodes, 1, arcs)
		if err != nil {
			t.Fatal(err)
		}
		goal := int32(rapid.IntRange(0, nodes-1).Draw(t, "goal"))
		if got, want := g.From(0, 0, goal).Cost(goal), g.From(0, 0, -1).Cost(goal); got != want {
			t.Fatalf("with the goal %d, without %d", got, want)
		}
	})
}

// Blocked cells are gone round: a wall with one gap, by counting on paper. Cells
// cost 1, a step 2. From (0,0) to (2,0) past a wall at x = 1 open at y = 2 only:
// two down, two across, two up.
func TestGridGoesRoundWhatIsBlocked(t *testing.T) {
	g := mustGrid(t, 3, 3, 1, func(i int) (uint32, bool) { return 1, i != 1 && i != 4 })
	f := g.From(0, -1)
	if got, want := f.Way(2), []int{0, 3, 6, 7, 8, 5, 2}; f.Cost(2) != 12 || !slices.Equal(got, want) {
		t.Errorf("%v at %d, want %v at 12", got, f.Cost(2), want)
	}
	if f.Cost(1) != shortest.Far || f.Way(1) != nil {
		t.Error("there is a way into a blocked cell")
	}
	if f := g.From(1, -1); f.Cost(0) != shortest.Far {
		t.Error("there is a way out of a blocked cell")
	}
	if f := g.From(0, 3); f.Cost(3) != 2 {
		t.Errorf("to the neighbour: %d, want 2", f.Cost(3))
	}
}

// H. E. Dudeney, "The Spider and the Fly" (1903): a room 30 by 12 by 12, from
// 1 below the ceiling on the middle of one end wall to 1 above the floor on the
// middle of the other. His answer, 40, runs aslant over five faces. Square runs,
// as cables take, cost 1 + 30 + 11 = 42. The room's skin is every unit cell of a
// block one larger each way that has a face outside.
func TestSquareRunsInDudeneysRoom(t *testing.T) {
	const nx, ny, nz = 31, 13, 13 // lattice points of the room's faces
	skin := func(i int) (uint32, bool) {
		x, y, z := i%nx, i/nx%ny, i/(nx*ny)
		return 1, x%(nx-1) == 0 || y%(ny-1) == 0 || z%(nz-1) == 0
	}
	at := func(x, y, z int) int { return x + nx*y + nx*ny*z }
	f := mustGrid(t, nx, ny, nz, skin).From(at(0, 6, 11), -1)
	if got := f.Cost(at(30, 6, 1)); got != 2*42 {
		t.Errorf("%d steps, want 42", got/2)
	}
}

func TestImpossibleGraphsAreErrors(t *testing.T) {
	for name, make := range map[string]func() error{
		"no objective":     func() error { _, err := shortest.New(1, 0, nil); return err },
		"four objectives":  func() error { _, err := shortest.New(1, 4, nil); return err },
		"negative nodes":   func() error { _, err := shortest.New(-1, 1, nil); return err },
		"arc from nowhere": func() error { _, err := shortest.New(2, 1, []shortest.Arc{{From: -1}}); return err },
		"arc to nowhere":   func() error { _, err := shortest.New(2, 1, []shortest.Arc{{To: 2}}); return err },
		"flat grid":        func() error { _, err := shortest.NewGrid(3, 0, 1, openCost); return err },
		"huge grid":        func() error { _, err := shortest.NewGrid(1<<20, 1<<20, 1, openCost); return err },
		"dear cell": func() error {
			_, err := shortest.NewGrid(1, 1, 1, func(int) (uint32, bool) { return 16385, true })
			return err
		},
		"free cell": func() error {
			_, err := shortest.NewGrid(1, 1, 1, func(int) (uint32, bool) { return 0, true })
			return err
		},
	} {
		if make() == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if g := mustGraph(t, 2, 1, []shortest.Arc{{From: 0, To: 1}}); g.Nodes() != 2 || g.Arcs() != 1 {
		t.Error("sizes")
	}
}

// Sums that do not fit count as out of reach, never as something small.
func TestSumsDoNotWrap(t *testing.T) {
	arcs := []shortest.Arc{{From: 0, To: 1, Cost: shortest.Costs{1 << 31}}, {From: 1, To: 2, Cost: shortest.Costs{1 << 31}}}
	g := mustGraph(t, 3, 1, arcs)
	if got := g.From(0, 0, -1).Cost(2); got != shortest.Far {
		t.Errorf("distance %d, want out of reach", got)
	}
	if f := g.Front(0, 2, 0); len(f.Ways) != 0 {
		t.Errorf("%d ways, want none", len(f.Ways))
	}
}
