package switching_test

import (
	"testing"

	"strapper/switching"
	"strapper/wiring"
)

// Which core ends need a sleeve. Colours: BS 7671 Table 51 and the old fixed
// wiring colours (red, black, green) that it replaced in 2004–2006; that
// strappers and switched lines are line conductors is reg. 514.3. From memory,
// to be confirmed against print.
func TestSleeve(t *testing.T) {
	for _, c := range []struct {
		cable, core, runs string // the core runs between these terminals
		want              string
	}{
		{"te-1.0", "brown", "line", ""},
		{"te-1.0", "blue", "line", "brown sleeve"},
		{"te-1.0", "blue", "neutral", ""},
		{"te-1.0", "brown", "neutral", "blue sleeve"},
		{"te-1.0", "cpc", "earth", "green-and-yellow sleeve"},
		{"te-1.0", "blue", "switched", "brown sleeve"},
		{"3ce-1.0", "black", "switched", "brown sleeve"},
		{"3ce-1.0", "grey", "neutral", "blue sleeve"},
		{"3ce-1.0", "black", "neutral", "blue sleeve"},
		{"te-1.0-brown", "brown2", "switched", ""},
		{"te-1.0-old", "red", "line", ""},
		{"te-1.0-old", "black", "neutral", ""},
		{"te-1.0-old", "black", "switched", "brown sleeve"},
		{"te-1.0-old", "red", "neutral", "blue sleeve"},
		{"3ce-1.0-old", "blue", "neutral", ""},
		{"3ce-1.0-old", "yellow", "line", "brown sleeve"},
		{"single-earth-1.0", "cpc", "earth", ""},
		{"te-1.0", "brown", "nothing", ""},
	} {
		if got := sleeveFor(t, c.cable, c.core, c.runs); got != c.want {
			t.Errorf("%s of %s as %s: %q, want %q", c.core, c.cable, c.runs, got, c.want)
		}
	}
}

// sleeveFor runs one core of a cable from a plain house to an empty box and
// asks what it needs there.
func sleeveFor(t *testing.T, cable, core, runs string) string {
	h := newHouse(t, "c")
	h.fit("s", "one-way", "COM=L:c", "L1=SL")
	h.fit("lamp", "luminaire", "L=SL", "N=N:c")
	h.graph() // lands the wiring of the house
	kind := h.cat.Cables[cable]
	if kind == nil || kind.Core(core) == nil {
		t.Fatalf("no core %s in cable %s", core, cable)
	}
	from := map[string]wiring.End{
		"line": {Box: "board", Item: "c", Name: "L"}, "neutral": {Box: "board", Item: "c", Name: "N"}, "earth": {Box: "board", Item: "c", Name: "E"},
		"switched": {Box: "lamp", Item: "x", Name: "L"}, "nothing": {Box: "board"},
	}[runs]
	h.in.Boxes = append(h.in.Boxes, &wiring.Box{ID: "far"})
	h.in.Cables = append(h.in.Cables, &wiring.Cable{ID: "test", Kind: kind, From: from.Box, To: "far", Length: 1000})
	h.join(from, wiring.End{Box: from.Box, Item: "test", Name: core})
	g, problems := wiring.Build(h.in)
	if g == nil {
		t.Fatal(problems)
	}
	return switching.Prove(g, nil).Sleeve(wiring.End{Box: "far", Item: "test", Name: core})
}

// join adds a core end to the joint of another end, or makes one.
func (h *house) join(at, core wiring.End) {
	if at.Item == "" {
		return
	}
	for i := range h.in.Joints {
		for _, e := range h.in.Joints[i].Ends {
			if e == at {
				h.in.Joints[i].Ends = append(h.in.Joints[i].Ends, core)
				return
			}
		}
	}
	h.in.Joints = append(h.in.Joints, wiring.Joint{Box: at.Box, Ends: []wiring.End{at, core}})
}
