package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"

	"strapper/finding"
	"strapper/house"
	"strapper/internal/shortest"
	"strapper/unit"
)

// randomHouse makes one of many invented houses, the same for the same seed;
// nil if what came out contradicts itself.
func randomHouse(t testing.TB, seed uint64) *house.House {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	between := func(a, b int) MM { return MM(a + r.IntN(b-a+1)) }
	builds := []string{"stud-63", "stud-75", "stud-89", "stud-100", "lath-100", "brick-102", "dry-lined-100", "metal-70"}
	d := &house.Draft{Partition: builds[r.IntN(len(builds))], NoLoft: r.IntN(4) == 0}
	d.Outside = []string{"", "brick-215", "cavity-dry-lined"}[r.IntN(3)]
	d.Storeys = []house.DraftStorey{{ID: "ground", Height: at(between(2300, 2700))}, {ID: "first", Height: at(between(2300, 2500))}}
	left, right, deep := between(1800, 3500), between(2500, 4500), between(2500, 5500)
	finishes := []house.Finish{"", house.FinishPaper, house.FinishTiles}
	for i, room := range []house.DraftRoom{
		{ID: "hall", Width: left, Depth: deep},
		{ID: "lounge", Width: right, Depth: deep, Way: house.RightOf, Of: "hall"},
		{ID: "landing", Width: left, Depth: deep, Way: house.Above, Of: "hall"},
		{ID: "bedroom", Width: right, Depth: deep, Way: house.RightOf, Of: "landing"},
	} {
		room.Finish = finishes[r.IntN(3)]
		d.Rooms = append(d.Rooms, room)
		d.Boxes = append(d.Boxes, house.DraftBox{ID: room.ID + "-point", Room: room.ID, On: house.OnCeiling, Left: at(room.Width / 2), Front: at(room.Depth / 2), Size: house.Size{Width: 100, Height: 100}})
		other := []string{"lounge", "hall", "bedroom", "landing"}[i]
		sides := []string{other, "front", "back"}
		for n, side := range sides[:1+r.IntN(3)] {
			d.Boxes = append(d.Boxes, house.DraftBox{ID: fmt.Sprint(room.ID, n), Room: room.ID, On: side, Left: at(between(300, 1500)), Height: at(between(400, 1600)), Size: flush})
		}
	}
	if r.IntN(2) == 0 {
		d.Floors = []house.DraftFloor{{Ref: "first", DeckKind: []house.Deck{house.DeckBoards, house.DeckSheets}[r.IntN(2)], Depth: at(between(147, 220)), Fire: r.IntN(3) == 0}}
	}
	likely := unit.Percent(r.IntN(101))
	d.Blocks = []house.DraftBlock{{ID: "pipe", Kind: house.BlockPipe, Likely: &likely, Wall: "hall-lounge", Room: "hall", Left: at(between(200, 1500)), Width: at(30), Low: at(0), High: at(between(300, 2200))}}
	h, list, err := d.Assemble()
	if err != nil {
		t.Fatal(err)
	}
	if finding.Forbidden(list) {
		return nil
	}
	return h
}

// randomHouses calls f for many houses, and fails if most seeds give none.
func randomHouses(t *testing.T, seeds uint64, f func(seed uint64, h *house.House)) {
	t.Helper()
	made := 0
	for seed := range seeds {
		if h := randomHouse(t, seed); h != nil {
			made++
			f(seed, h)
		}
	}
	if made < int(seeds)/2 {
		t.Errorf("only %d of %d seeds gave a house", made, seeds)
	}
}

func graphOf(t testing.TB, h *house.House, surface bool) *graph {
	t.Helper()
	g, err := finder(t, h).graph(cable(t, "3ce-1.0"), surface)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// The best ways of random houses weigh what gonum v0.17.0's Dijkstra says on
// the same graph, hidden and in trunking.
func TestBestWaysEqualGonum(t *testing.T) {
	reached := 0
	randomHouses(t, 24, func(seed uint64, h *house.House) {
		g := graphOf(t, h, seed%2 == 1)
		ref := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
		for n := range g.nodes {
			ref.AddNode(simple.Node(n))
		}
		for i := range g.edges {
			e := &g.edges[i]
			w := math.Round(e.own.score(g.l) + e.length.Metres() + e.shared.score(g.l))
			if old, known := ref.Weight(int64(e.a), int64(e.b)); e.a != e.b && (!known || w < old) {
				ref.SetWeightedEdge(simple.WeightedEdge{F: simple.Node(e.a), T: simple.Node(e.b), W: w})
			}
		}
		from := g.boxes[h.Boxes[0].ID]
		ours, theirs := g.score.From(from, scoreAll, -1), path.DijkstraFrom(simple.Node(from), ref)
		for n := range int32(len(g.nodes)) {
			got := float64(ours.Cost(n))
			if ours.Cost(n) == shortest.Far {
				got = math.Inf(1)
			} else {
				reached++
			}
			if want := theirs.WeightTo(int64(n)); got != want {
				t.Fatalf("seed %d, node %d: %v, gonum %v", seed, n, got, want)
			}
		}
	})
	if reached < 1000 {
		t.Errorf("only %d nodes were within reach", reached)
	}
}

// smallHouse has one room with two boxes, so that its hidden ways can be
// enumerated.
func smallHouse() *house.Draft {
	return &house.Draft{
		Storeys: []house.DraftStorey{{ID: "ground", Height: at(2400)}}, NoLoft: true,
		Rooms: []house.DraftRoom{
			{ID: "study", Width: 2400, Depth: 2000},
			{ID: "store", Width: 1500, Depth: 2000, Way: house.RightOf, Of: "study", Finish: house.FinishTiles},
		},
		Partition: "stud-100",
		Boxes: []house.DraftBox{
			{ID: "a", Room: "study", On: "store", Left: at(700), Height: at(1100), Size: flush},
			{ID: "b", Room: "study", On: "store", Left: at(1500), Height: at(1500), Size: flush},
		},
	}
}

// The Pareto set of a small house equals that of every way through its wall,
// enumerated.
func TestFrontOfASmallHouseEqualsExhaustive(t *testing.T) {
	g := graphOf(t, build(t, smallHouse()), false)
	from, to := g.boxes["a"], g.boxes["b"]
	var all []shortest.Costs
	seen := make([]bool, len(g.nodes))
	var walk func(at int32, sum shortest.Costs)
	walk = func(at int32, sum shortest.Costs) {
		if at == to {
			all = append(all, sum)
			return
		}
		seen[at] = true
		for i := range g.edges {
			e := &g.edges[i]
			if next := e.a + e.b - at; (e.a == at || e.b == at) && !seen[next] {
				seconds, mess := e.own.plus(e.shared).cost()
				walk(next, shortest.Costs{sum[0] + uint32(e.length), sum[1] + mess, sum[2] + seconds})
			}
		}
		seen[at] = false
	}
	walk(from, shortest.Costs{})
	var want []shortest.Costs
	for _, a := range all {
		beaten := slices.ContainsFunc(all, func(b shortest.Costs) bool {
			return b != a && b[0] <= a[0] && b[1] <= a[1] && b[2] <= a[2]
		})
		if !beaten && !slices.Contains(want, a) {
			want = append(want, a)
		}
	}
	slices.SortFunc(want, func(a, b shortest.Costs) int { return slices.Compare(a[:], b[:]) })
	var got []shortest.Costs
	for _, w := range g.front.Front(from, to, 0).Ways {
		got = append(got, w.Cost)
	}
	if len(all) < 5 || !slices.Equal(got, want) {
		t.Errorf("%d ways in all; not beaten %v, want %v", len(all), got, want)
	}
}
