package wiring_test

import (
	"testing"

	"strapper/kit"
	"strapper/wiring"
)

// Two things of one name in one place cannot be told apart, and a joint cannot
// reach into another box: both are refused, not merged.
func TestNamesAreTaken(t *testing.T) {
	way := &kit.Accessory{ID: "way", Terminals: []kit.Terminal{{Name: "L"}, {Name: "N"}, {Name: "E"}}}
	lamp := &kit.Accessory{ID: "lamp", Terminals: []kit.Terminal{{Name: "L"}, {Name: "N"}}}
	twin := &kit.Cable{ID: "twin", Cores: []kit.Core{{Name: "brown", Area: 1}}}
	box := func(id string, fit ...string) *wiring.Box {
		b := &wiring.Box{ID: id}
		for _, f := range fit {
			b.Fit = append(b.Fit, &wiring.Fitted{ID: f, Kind: lamp})
		}
		return b
	}
	run := func(id, from, to string) *wiring.Cable {
		return &wiring.Cable{ID: id, Kind: twin, From: from, To: to, Length: 1000}
	}
	for name, c := range map[string]struct {
		in   wiring.Installation
		code string
	}{
		"two boxes":             {wiring.Installation{Boxes: []*wiring.Box{box("a"), box("a")}}, "name-twice"},
		"two accessories":       {wiring.Installation{Boxes: []*wiring.Box{box("a", "x", "x")}}, "name-twice"},
		"two cables":            {wiring.Installation{Boxes: []*wiring.Box{box("a"), box("b")}, Cables: []*wiring.Cable{run("c", "a", "b"), run("c", "b", "a")}}, "name-twice"},
		"accessory like cable":  {wiring.Installation{Boxes: []*wiring.Box{box("a", "c"), box("b")}, Cables: []*wiring.Cable{run("c", "a", "b")}}, "name-twice"},
		"circuit like fitting":  {wiring.Installation{Boxes: []*wiring.Box{box("a", "c")}, Circuits: []*wiring.Circuit{{ID: "c", Board: "a", Way: way}}}, "name-twice"},
		"joint across boxes":    {wiring.Installation{Boxes: []*wiring.Box{box("a", "x"), box("b")}, Joints: []wiring.Joint{{Box: "b", Ends: []wiring.End{{Box: "a", Item: "x", Name: "L"}}}}}, "joint-across-boxes"},
		"same name, apart":      {wiring.Installation{Boxes: []*wiring.Box{box("a", "x"), box("b", "x")}}, ""},
		"cable like a box's id": {wiring.Installation{Boxes: []*wiring.Box{box("a"), box("b")}, Cables: []*wiring.Cable{run("a", "a", "b")}}, ""},
	} {
		g, findings := wiring.Build(&c.in)
		if got := len(findings) > 0; got != (c.code != "") || got && findings[0].Code != c.code || (g == nil) != got {
			t.Errorf("%s: %v, want %q", name, findings, c.code)
		}
	}
}
