package shortest_test

import (
	"fmt"
	"slices"
	"testing"

	"strapper/internal/shortest"
)

// everyWay lists the costs of all ways that visit no node twice.
func everyWay(arcs []shortest.Arc, from, to int32) []shortest.Costs {
	var list []shortest.Costs
	seen := map[int32]bool{}
	var walk func(at int32, sum shortest.Costs)
	walk = func(at int32, sum shortest.Costs) {
		if at == to {
			list = append(list, sum)
			return
		}
		seen[at] = true
		for _, a := range arcs {
			if a.From == at && !seen[a.To] {
				next := sum
				for o := range next {
					next[o] += a.Cost[o]
				}
				walk(a.To, next)
			}
		}
		seen[at] = false
	}
	walk(from, shortest.Costs{})
	return list
}

// undominated keeps the vectors that no other beats, each once, in order.
func undominated(list []shortest.Costs) []shortest.Costs {
	beaten := func(a shortest.Costs) bool {
		return slices.ContainsFunc(list, func(b shortest.Costs) bool {
			return b != a && b[0] <= a[0] && b[1] <= a[1] && b[2] <= a[2]
		})
	}
	var keep []shortest.Costs
	for _, a := range list {
		if !beaten(a) && !slices.Contains(keep, a) {
			keep = append(keep, a)
		}
	}
	slices.SortFunc(keep, func(a, b shortest.Costs) int { return slices.Compare(a[:], b[:]) })
	return keep
}

// The Pareto set equals that of every way there is, enumerated, with one, two
// and three costs.
func TestFrontEqualsExhaustive(t *testing.T) {
	sizes := map[int]int{}
	for seed := range uint64(300) {
		r := seededRand(seed)
		objectives, nodes := 1+int(seed%3), 2+r.IntN(7)
		arcs := randomArcs(r, nodes, r.IntN(4*nodes), []uint32{2, 9, 1 << 17}[seed/3%3])
		for i := range arcs {
			clear(arcs[i].Cost[objectives:])
		}
		to := int32(nodes - 1)
		front := mustGraph(t, nodes, objectives, arcs).Front(0, to, 0)
		want := undominated(everyWay(arcs, 0, to))
		var got []shortest.Costs
		for _, w := range front.Ways {
			got = append(got, w.Cost)
			for o := range w.Cost {
				checkWay(t, fmt.Sprint("seed ", seed), arcs, 0, to, o, w.Arcs, w.Cost[o])
			}
		}
		if !slices.Equal(got, want) || !front.Exact {
			t.Fatalf("seed %d: %v, want %v", seed, got, want)
		}
		sizes[len(got)]++
	}
	if sizes[3] == 0 || sizes[5] == 0 {
		t.Errorf("the seeds give only sets of the sizes %v: too easy to tell anything", sizes)
	}
}

// A search cut short says so.
func TestFrontCutShort(t *testing.T) {
	arcs := gridArcs(20, 20, 1)
	for i := range arcs {
		arcs[i].Cost[1] = 17 - arcs[i].Cost[0]
	}
	g := mustGraph(t, 400, 2, arcs)
	if g.Front(0, 399, 50).Exact {
		t.Error("50 labels were called enough for 400 nodes")
	}
	if f := g.Front(0, 399, 0); !f.Exact || len(f.Ways) < 2 || f.Ways[0].Cost[0] != 199 {
		t.Errorf("whole search: %d ways, want several, the first at 2 × 99.5", len(f.Ways))
	}
	if f := g.Front(7, 7, 0); len(f.Ways) != 1 || f.Ways[0].Cost != (shortest.Costs{}) {
		t.Errorf("from a node to itself: %v", f.Ways)
	}
}
