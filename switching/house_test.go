package switching_test

import (
	"slices"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// A house is a small installation written in the test: boxes hold one
// accessory each, and wires are singles named by what they join.
type house struct {
	t     testing.TB
	cat   *kit.Catalogue
	in    *wiring.Installation
	nodes map[string][]wiring.End
	order []string
}

func newHouse(t testing.TB, circuits ...string) *house {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	h := &house{t: t, cat: cat, in: &wiring.Installation{}, nodes: map[string][]wiring.End{}}
	h.in.Boxes = append(h.in.Boxes, &wiring.Box{ID: "board", Kind: cat.Boxes["consumer-unit"]})
	for _, c := range circuits {
		h.in.Circuits = append(h.in.Circuits, &wiring.Circuit{ID: c, Board: "board", Device: cat.Devices["mcb-b6"], Way: cat.Accessories["cu-way"]})
		h.wire("L:"+c, "board", c, "L")
		h.wire("N:"+c, "board", c, "N")
		h.wire("E", "board", c, "E")
	}
	return h
}

// fit puts an accessory into a box of its own and lands its terminals: each
// word is terminal=net; nets of the same name are joined by a core in a star.
func (h *house) fit(box, kind string, landings ...string) {
	h.t.Helper()
	k := h.cat.Accessories[kind]
	if k == nil {
		h.t.Fatalf("no kind %q", kind)
	}
	h.fitKind(box, k, landings...)
}

func (h *house) fitKind(box string, k *kit.Accessory, landings ...string) {
	h.in.Boxes = append(h.in.Boxes, &wiring.Box{ID: box, Kind: h.cat.Boxes["plaster-1g-25"], Fit: []*wiring.Fitted{{ID: "x", Kind: k}}})
	for _, l := range landings {
		terminal, net, _ := strings.Cut(l, "=")
		h.wire(net, box, "x", terminal)
	}
}

func (h *house) wire(net, box, item, terminal string) {
	if h.nodes[net] == nil {
		h.order = append(h.order, net)
	}
	h.nodes[net] = append(h.nodes[net], wiring.End{Box: box, Item: item, Name: terminal})
}

// single is the cable of a net: green-yellow where its name begins with E.
func single(net string) string {
	if strings.HasPrefix(net, "E") {
		return "single-earth-1.0"
	}
	return "single-brown-1.0"
}

// graph runs a single from the first end of each net to every other one.
func (h *house) graph() *wiring.Graph {
	joints := map[wiring.End][]wiring.End{}
	var ends []wiring.End
	note := func(e wiring.End, core wiring.End) {
		if joints[e] == nil {
			ends = append(ends, e)
		}
		joints[e] = append(joints[e], core)
	}
	for _, net := range h.order {
		list := h.nodes[net]
		for i, e := range list[1:] {
			if list[0].Box == e.Box {
				note(list[0], e)
				continue
			}
			c := &wiring.Cable{ID: strings.NewReplacer(":", "", ".", "").Replace(net) + "-" + string(rune('a'+i)), Kind: h.cat.Cables[single(net)], From: list[0].Box, To: e.Box, Length: 1000}
			h.in.Cables = append(h.in.Cables, c)
			core := c.Kind.Cores[0].Name
			note(list[0], wiring.End{Box: list[0].Box, Item: c.ID, Name: core})
			note(e, wiring.End{Box: e.Box, Item: c.ID, Name: core})
		}
	}
	for _, e := range ends {
		if slices.ContainsFunc(ends, func(o wiring.End) bool { return slices.Contains(joints[o], e) }) {
			continue // joined to another terminal in its own box
		}
		h.in.Joints = append(h.in.Joints, wiring.Joint{Box: e.Box, Ends: append([]wiring.End{e}, joints[e]...)})
	}
	g, problems := wiring.Build(h.in)
	if g == nil {
		h.t.Fatal(problems)
	}
	return g
}

// without leaves out the findings about protective conductors: these houses
// are drawn without any.
func without(list []finding.Finding, codes ...string) []finding.Finding {
	var out []finding.Finding
next:
	for _, f := range list {
		for _, c := range codes {
			if f.Code == c {
				continue next
			}
		}
		out = append(out, f)
	}
	return out
}

func codes(p *switching.Proof) string {
	var list []string
	for _, f := range without(p.Findings, "missing-cpc") {
		if len(list) == 0 || list[len(list)-1] != f.Code {
			list = append(list, f.Code)
		}
	}
	return strings.Join(list, " ")
}

func wantToggle(lamp string, from ...string) []switching.Want {
	return []switching.Want{{Lamps: []string{lamp}, From: from, Rule: switching.RuleToggle, Subject: "want.0"}}
}

// chain is the n-place circuit: two two-way switches with n-2 intermediates
// between them in the strappers.
func chain(t testing.TB, n int) (*house, []switching.Want) {
	h := newHouse(t, "c")
	var from []string
	name := func(i int) string { return "s" + string(rune('a'+i)) }
	span := func(i int, s string) string { return s + name(i) }
	for i := range n {
		from = append(from, name(i)+".x")
		switch i {
		case 0:
			h.fit(name(i), "two-way", "COM=L:c", "L1="+span(0, "p"), "L2="+span(0, "q"))
		case n - 1:
			h.fit(name(i), "two-way", "COM=SL", "L1="+span(i-1, "p"), "L2="+span(i-1, "q"))
		default:
			h.fit(name(i), "intermediate", "A1="+span(i-1, "p"), "A2="+span(i-1, "q"), "B1="+span(i, "p"), "B2="+span(i, "q"))
		}
	}
	h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
	return h, wantToggle("lamp.x", from...)
}
