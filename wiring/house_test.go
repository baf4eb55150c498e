package wiring

import (
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/unit"
)

// house builds an installation for tests: accessories are "id=kind", joints
// lists of "item.terminal".
type house struct {
	tb  testing.TB
	cat *kit.Catalogue
	in  *Installation
}

func newHouse(tb testing.TB) *house {
	tb.Helper()
	cat, err := kit.Open()
	if err != nil {
		tb.Fatal(err)
	}
	h := &house{tb, cat, &Installation{Supply: Supply{Voltage: 230, Frequency: 50, Earthing: TNCS, Ze: 0.35, Ambient: 20}}}
	h.box("board")
	return h
}

func (h *house) box(id string, fit ...string) {
	b := &Box{ID: id, Kind: &kit.Box{ID: "test"}}
	for _, f := range fit {
		name, kind, _ := strings.Cut(f, "=")
		a := h.cat.Accessories[kind]
		if a == nil {
			h.tb.Fatalf("no accessory %q in the catalogue", kind)
		}
		b.Fit = append(b.Fit, &Fitted{ID: name, Kind: a})
	}
	h.in.Boxes = append(h.in.Boxes, b)
}

func (h *house) circuit(id string) {
	h.in.Circuits = append(h.in.Circuits, &Circuit{ID: id, Board: "board", Device: h.cat.Devices["mcb-b6"], Way: h.cat.Accessories["cu-way"]})
}

func (h *house) cable(id, kind, from, to string, metres float64) *Cable {
	k := h.cat.Cables[kind]
	if k == nil {
		h.tb.Fatalf("no cable %q in the catalogue", kind)
	}
	c := &Cable{ID: id, Kind: k, From: from, To: to, Length: unit.FromMetres(metres)}
	h.in.Cables = append(h.in.Cables, c)
	return c
}

func (h *house) join(box string, joints ...string) {
	for _, j := range joints {
		joint := Joint{Box: box}
		for _, e := range strings.Fields(j) {
			item, name, _ := strings.Cut(e, ".")
			joint.Ends = append(joint.Ends, End{box, item, name})
		}
		h.in.Joints = append(h.in.Joints, joint)
	}
}

func (h *house) graph() *Graph {
	h.tb.Helper()
	g, findings := Build(h.in)
	if finding.Forbidden(findings) {
		h.tb.Fatalf("the test's house is not sound: %v", findings)
	}
	return g
}

func (h *house) node(g *Graph, box, end string) Node {
	h.tb.Helper()
	item, name, _ := strings.Cut(end, ".")
	n, ok := g.Node(End{box, item, name})
	if !ok {
		h.tb.Fatalf("no %s in %s", end, box)
	}
	return n
}

// exact makes contacts negligible, for comparison with tables of conductors.
func exact(cat *kit.Catalogue) *kit.Catalogue {
	c, physics := *cat, *cat.Physics
	physics.Contact = 1e-9
	c.Physics = &physics
	return &c
}

// flat is a twin and earth of any size.
func flat(line, cpc unit.SquareMillimetre) *kit.Cable {
	return &kit.Cable{ID: "flat", Cores: []kit.Core{{Name: "L", Area: line}, {Name: "N", Area: line}, {Name: "cpc", Area: cpc, Earth: true}}}
}

// stair is a lamp controlled from two places over three-core cable, two-wire
// (strappers only) or three-wire, fed at the first switch.
func stair(tb testing.TB, threeWire bool, between float64) (*house, *Graph) {
	h := newHouse(tb)
	h.circuit("lights")
	h.box("hall", "s1=two-way")
	h.box("landing", "s2=two-way")
	h.box("point", "lamp=batten-holder")
	h.cable("feed", "te-1.5", "board", "hall", 10)
	h.cable("strap", "3ce-1.5", "hall", "landing", between)
	h.join("board", "lights.L feed.brown", "lights.N feed.blue", "lights.E feed.cpc")
	h.join("point", "lamp.L drop.brown", "lamp.N drop.blue", "lamp.E drop.cpc")
	if threeWire { // the feed on L1, the lamp on L2 of the first switch
		h.cable("drop", "te-1.5", "hall", "point", 4)
		h.join("hall", "feed.brown s1.L1 strap.black", "s1.COM strap.brown", "s1.L2 strap.grey drop.brown", "feed.blue drop.blue", "feed.cpc strap.cpc drop.cpc")
		h.join("landing", "s2.COM strap.brown", "s2.L1 strap.black", "s2.L2 strap.grey")
		return h, h.graph()
	}
	h.cable("drop", "te-1.5", "landing", "point", 4)
	h.join("hall", "feed.brown s1.COM", "s1.L1 strap.brown", "s1.L2 strap.black", "feed.blue strap.grey", "feed.cpc strap.cpc")
	h.join("landing", "s2.L1 strap.brown", "s2.L2 strap.black", "s2.COM drop.brown", "strap.grey drop.blue", "strap.cpc drop.cpc")
	return h, h.graph()
}
