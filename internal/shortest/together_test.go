package shortest_test

import (
	"math/rand/v2"
	"testing"

	"strapper/internal/shortest"
)

// jointCase is a small seeded problem: undirected edges, some with charges.
type jointCase struct {
	nodes  int
	arcs   []shortest.Arc
	ends   [][2]int32
	shared shortest.Shared
}

func randomJoint(r *rand.Rand, capacity bool) jointCase {
	c := jointCase{nodes: 4 + r.IntN(4)}
	charges := 1 + r.IntN(5)
	for range charges {
		charge := shortest.Charge{Cost: 1 + r.Uint32N(12)}
		if capacity {
			charge.Most = r.IntN(3)
		}
		c.shared.Charges = append(c.shared.Charges, charge)
	}
	for range c.nodes * 2 {
		a, b, cost := int32(r.IntN(c.nodes)), int32(r.IntN(c.nodes)), r.Uint32N(10)
		of := int32(r.IntN(2*charges) - charges)
		for _, arc := range []shortest.Arc{{From: a, To: b}, {From: b, To: a}} {
			arc.Cost[0] = cost
			c.arcs = append(c.arcs, arc)
			c.shared.Of = append(c.shared.Of, max(-1, of))
		}
	}
	for range 1 + r.IntN(3) {
		c.ends = append(c.ends, [2]int32{int32(r.IntN(c.nodes)), int32(r.IntN(c.nodes))})
	}
	return c
}

// ways lists, for one traveller, the costs of every way with the set of charges
// it meets.
func (c jointCase) ways(traveller int) map[uint32]uint64 {
	best := map[uint32]uint64{}
	seen := make([]bool, c.nodes)
	var walk func(at int32, met uint32, cost uint64)
	walk = func(at int32, met uint32, cost uint64) {
		if at == c.ends[traveller][1] {
			if old, known := best[met]; !known || cost < old {
				best[met] = cost
			}
			return
		}
		seen[at] = true
		for i, a := range c.arcs {
			if a.From == at && !seen[a.To] {
				next := met
				if of := c.shared.Of[i]; of >= 0 {
					next |= 1 << of
				}
				walk(a.To, next, cost+uint64(a.Cost[0]))
			}
		}
		seen[at] = false
	}
	walk(c.ends[traveller][0], 0, 0)
	return best
}

// exhaustive is the least cost over every choice of a way for each traveller;
// false if there is none.
func (c jointCase) exhaustive() (best uint64, ok bool) {
	users := make([]int, len(c.shared.Charges))
	var choose func(traveller int, cost uint64)
	choose = func(traveller int, cost uint64) {
		if traveller == len(c.ends) {
			for i, n := range users {
				charge := c.shared.Charges[i]
				if charge.Most > 0 && n > charge.Most {
					return
				}
				if n > 0 {
					cost += uint64(charge.Cost)
				}
			}
			if !ok || cost < best {
				best, ok = cost, true
			}
			return
		}
		for met, own := range c.ways(traveller) {
			for i := range users {
				users[i] += int(met >> i & 1)
			}
			choose(traveller+1, cost+own)
			for i := range users {
				users[i] -= int(met >> i & 1)
			}
		}
	}
	choose(0, 0)
	return best, ok
}

// The joint ways cost what the best of every combination costs, enumerated;
// with and without a limit on how many share a charge.
func TestTogetherEqualsExhaustive(t *testing.T) {
	shared := 0
	for seed := range uint64(300) {
		r := seededRand(seed)
		c := randomJoint(r, seed%2 == 1)
		want, ok := c.exhaustive()
		g := mustGraph(t, c.nodes, 1, c.arcs)
		got := g.Together(0, c.ends, c.shared, 0)
		if (got.Ways != nil) != ok || ok && (got.Cost != want || got.AtLeast != want) || !got.Exact {
			t.Fatalf("seed %d: cost %d, at least %d, exact %v; want %d, %v", seed, got.Cost, got.AtLeast, got.Exact, want, ok)
		}
		if !ok {
			continue
		}
		apart := uint64(0)
		for i := range c.ends {
			checkEnds(t, c, i, got.Ways[i])
			one := jointCase{c.nodes, c.arcs, c.ends[i : i+1], c.shared}
			alone, _ := one.exhaustive()
			apart += alone
		}
		if got.Cost < apart {
			shared++
		}
	}
	if shared < 20 {
		t.Errorf("sharing saved something in %d cases only: too easy to tell anything", shared)
	}
}

func checkEnds(t *testing.T, c jointCase, traveller int, way []int32) {
	t.Helper()
	at := c.ends[traveller][0]
	for _, i := range way {
		if c.arcs[i].From != at {
			t.Fatalf("arc %d does not start where the way is", i)
		}
		at = c.arcs[i].To
	}
	if at != c.ends[traveller][1] {
		t.Fatalf("the way ends at %d, want %d", at, c.ends[traveller][1])
	}
}

// A search cut short says so and gives a bound that is not above the answer.
func TestTogetherCutShort(t *testing.T) {
	for seed := range uint64(100) {
		c := randomJoint(seededRand(seed), false)
		want, ok := c.exhaustive()
		got := mustGraph(t, c.nodes, 1, c.arcs).Together(0, c.ends, c.shared, 1)
		if ok && (got.AtLeast > want || got.Cost < want || got.Exact && got.Cost != want) {
			t.Fatalf("seed %d: cost %d, at least %d, exact %v, true %d", seed, got.Cost, got.AtLeast, got.Exact, want)
		}
	}
}
