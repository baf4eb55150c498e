package change_test

import (
	"math"
	"testing"

	"strapper/change"
	"strapper/kit"
	"strapper/wiring"
)

// The search and trying everything agree on every one of many random houses:
// whether there is a way, and the least effort of one.
func TestSearchAgainstTryingEverything(t *testing.T) {
	houses := uint64(2000)
	if testing.Short() {
		houses = 200
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	var possible, impossible int
	for seed := range houses {
		in, ask := RandomCase(seed)
		w, _ := newModel(in, ask, cat).exhaust()
		if w.cost < noWay {
			possible++
		} else {
			impossible++
		}
		compare(t, seed, in, ask, cat, w.cost)
	}
	t.Logf("%d houses with a way, %d without", possible, impossible)
	if few := int(houses) / 5; possible < few || impossible < few {
		t.Errorf("%d houses with a way and %d without do not try both well", possible, impossible)
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
	}
}

// How long trying everything takes a house, on the first three hundred.
func BenchmarkTryingEverything(b *testing.B) {
	cat, err := kit.Open()
	if err != nil {
		b.Fatal(err)
	}
	seed := uint64(0)
	for b.Loop() {
		in, ask := RandomCase(seed % 300)
		newModel(in, ask, cat).exhaust()
		seed++
	}
}
