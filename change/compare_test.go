package change_test

import (
	"math"
	"os"
	"strconv"
	"sync/atomic"
	"testing"

	"strapper/change"
	"strapper/kit"
	"strapper/wiring"
)

// The search and trying everything agree on every one of many random houses:
// whether there is a way, and the least effort of one.
//
// There are 300 of them, or as many as STRAPPER_HOUSES says: make test, and with
// it the build machine, tries 2,000.
func TestSearchAgainstTryingEverything(t *testing.T) {
	houses := 300
	if text := os.Getenv("STRAPPER_HOUSES"); text != "" {
		var err error
		if houses, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	var possible, impossible, long atomic.Int64
	t.Run("houses", func(t *testing.T) {
		const batch = 50
		for first := 0; first < houses; first += batch {
			t.Run(strconv.Itoa(first), func(t *testing.T) {
				t.Parallel()
				for seed, n := uint64(2*first), min(batch, houses-first); n > 0; seed++ {
					in, ask := RandomCase(seed)
					w, steps := newModel(in, ask, cat).exhaust()
					switch {
					case steps > tooLong:
						long.Add(1)
						continue
					case w.cost < noWay:
						possible.Add(1)
					default:
						impossible.Add(1)
					}
					compare(t, seed, in, ask, cat, w.cost)
					n--
				}
			})
		}
	})
	t.Logf("%d houses with a way, %d without; %d left out because they take too long", possible.Load(), impossible.Load(), long.Load())
	if few := int64(houses) / 6; possible.Load() < few || impossible.Load() < few || long.Load() > int64(houses)/20 {
		t.Errorf("%d houses with a way, %d without and %d left out do not try both well", possible.Load(), impossible.Load(), long.Load())
	}
}

func compare(t *testing.T, seed uint64, in *wiring.Installation, ask change.Ask, cat *kit.Catalogue, want int64) {
	t.Helper()
	g, problems := wiring.Build(in)
	if g == nil {
		t.Fatalf("seed %d: %v", seed, problems)
	}
	a, err := change.Search(g, ask, cat, change.Options{})
	switch {
	case err != nil:
		t.Errorf("seed %d: %v", seed, err)
	case len(a.Ways) == 0 && want < noWay:
		t.Errorf("seed %d: no way found, and there is one of %.1f min; %v", seed, float64(want)/10, a.Findings)
	case len(a.Ways) > 0 && want == noWay:
		t.Errorf("seed %d: a way of %.1f min found where there is none", seed, a.Ways[0].Effort.Minutes)
	case len(a.Ways) > 0 && (!a.Smallest || int64(math.Round(a.Ways[0].Effort.Minutes*10)) != want):
		t.Errorf("seed %d: %.1f min found, smallest %v; least effort %.1f min", seed, a.Ways[0].Effort.Minutes, a.Smallest, float64(want)/10)
	case len(a.Ways) > 0 && math.Abs(a.Bound-a.Ways[0].Effort.Minutes) > 0.01:
		t.Errorf("seed %d: %.1f min is counted from the moves, and %.1f min was minimised", seed, a.Ways[0].Effort.Minutes, a.Bound)
	}
}

// How long trying everything takes a house, and how long the search, on the
// same three hundred; the houses are small, or there would be no first figure.
func BenchmarkHouses(b *testing.B) {
	cat, err := kit.Open()
	if err != nil {
		b.Fatal(err)
	}
	each := func(try func(*wiring.Installation, change.Ask)) func(*testing.B) {
		return func(b *testing.B) {
			seed := uint64(0)
			for b.Loop() {
				b.StopTimer()
				in, ask := RandomCase(seed % 300)
				b.StartTimer()
				try(in, ask)
				seed++
			}
		}
	}
	b.Run("everything", each(func(in *wiring.Installation, ask change.Ask) { newModel(in, ask, cat).exhaust() }))
	b.Run("search", each(func(in *wiring.Installation, ask change.Ask) {
		g, _ := wiring.Build(in)
		if _, err := change.Search(g, ask, cat, change.Options{}); err != nil {
			b.Fatal(err)
		}
	}))
}
