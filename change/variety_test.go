package change_test

import (
	"slices"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// The houses are as found what they say: nothing contradicts itself, nothing
// is dangerous, and every lamp can be lit.
func TestRandomHousesAreSound(t *testing.T) {
	for seed := range uint64(500) {
		in, _ := RandomCase(seed)
		g, problems := wiring.Build(in)
		if g == nil {
			t.Fatalf("seed %d: %v", seed, problems)
		}
		for _, f := range switching.Prove(g, nil).Findings {
			if f.Severity == finding.Forbids && f.Code != "live-end" {
				t.Errorf("seed %d: %s %s: %s", seed, f.Code, f.Subject, f.Text)
			}
		}
	}
}

// The houses try what there is to try: each of these in one house of fifty at
// least.
func TestRandomHousesDiffer(t *testing.T) {
	const houses = 1000
	seen := map[string]int{}
	for seed := range uint64(houses) {
		in, ask := RandomCase(seed)
		for _, f := range features(in, &ask) {
			seen[f]++
		}
	}
	for _, f := range []string{
		"1 place", "2 places", "3 places", "two groups", "two circuits", "another circuit", "a lamp left out", "old colours",
		"closed", "wall", "doubtful", "kinds limited", "keep", "kind", "neutral", "two cables", "spare cores", "joint box", "intermediate",
	} {
		if seen[f] < houses/50 {
			t.Errorf("%s: %d houses of %d", f, seen[f], houses)
		}
	}
	t.Log(seen)
}

func features(in *wiring.Installation, ask *change.Ask) []string {
	var list []string
	add := func(is bool, name string) {
		if is {
			list = append(list, name)
		}
	}
	g, l := ask.Groups[0], ask.Limits
	at := func(is func(change.Place) bool) bool { return slices.ContainsFunc(g.At, is) }
	fitted := func(kind string) bool {
		return slices.ContainsFunc(in.Boxes, func(b *wiring.Box) bool {
			return slices.ContainsFunc(b.Fit, func(f *wiring.Fitted) bool { return f.Kind.ID == kind })
		})
	}
	add(len(g.At) == 1, "1 place")
	add(len(g.At) == 2, "2 places")
	add(len(g.At) == 3, "3 places")
	add(len(ask.Groups) > 1, "two groups")
	add(len(in.Circuits) > 1, "two circuits")
	add(g.Circuit != "", "another circuit")
	add(len(ask.Groups) == 1 && len(in.Circuits) == 1 && lampsIn(in) > len(g.Lamps), "a lamp left out")
	add(in.Cables[0].Kind.Palette == kit.OldColours, "old colours")
	add(len(l.Closed) > 0, "closed")
	add(len(l.Walls) > 0, "wall")
	add(len(l.Doubtful) > 0, "doubtful")
	add(len(l.Switches) > 0, "kinds limited")
	add(at(func(p change.Place) bool { return p.Keep }), "keep")
	add(at(func(p change.Place) bool { return p.Kind != nil }), "kind")
	add(at(func(p change.Place) bool { return p.Neutral }), "neutral")
	add(len(ask.Could.Cables) > 1, "two cables")
	add(slices.ContainsFunc(in.Joints, func(j wiring.Joint) bool { return len(j.Ends) == 1 }), "spare cores")
	add(fitted("joint-box"), "joint box")
	add(fitted("intermediate"), "intermediate")
	return list
}

func lampsIn(in *wiring.Installation) int {
	n := 0
	for _, b := range in.Boxes {
		for _, f := range b.Fit {
			n += len(f.Kind.Loads)
		}
	}
	return n
}
