package reading

import (
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/rules"
	"strapper/rules/books"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// house builds an installation for tests: accessories are "id=kind", joints
// lists of "item.terminal".
type house struct {
	tb  testing.TB
	cat *kit.Catalogue
	in  *wiring.Installation
}

func newHouse(tb testing.TB) *house {
	tb.Helper()
	cat, err := kit.Open()
	if err != nil {
		tb.Fatal(err)
	}
	h := &house{tb, cat, &wiring.Installation{
		Supply: wiring.Supply{Voltage: 230, Frequency: 50, Earthing: wiring.TNCS, Ze: 0.35, Ambient: 20},
	}}
	h.box("board")
	h.in.Circuits = append(h.in.Circuits, &wiring.Circuit{ID: "lights", Board: "board", Device: cat.Devices["mcb-b6"], Way: cat.Accessories["cu-way"]})
	return h
}

func (h *house) box(id string, fit ...string) {
	b := &wiring.Box{ID: id, Kind: &kit.Box{ID: "test"}}
	for _, f := range fit {
		name, kind, _ := strings.Cut(f, "=")
		a := h.cat.Accessories[kind]
		if a == nil {
			h.tb.Fatalf("no accessory %q in the catalogue", kind)
		}
		b.Fit = append(b.Fit, &wiring.Fitted{ID: name, Kind: a})
	}
	h.in.Boxes = append(h.in.Boxes, b)
}

func (h *house) cable(id, kind, from, to string, metres float64) *wiring.Cable {
	k := h.cat.Cables[kind]
	if k == nil {
		h.tb.Fatalf("no cable %q in the catalogue", kind)
	}
	c := &wiring.Cable{ID: id, Kind: k, From: from, To: to, Length: unit.FromMetres(metres)}
	h.in.Cables = append(h.in.Cables, c)
	return c
}

func (h *house) join(box string, joints ...string) {
	for _, j := range joints {
		joint := wiring.Joint{Box: box}
		for _, e := range strings.Fields(j) {
			item, name, _ := strings.Cut(e, ".")
			joint.Ends = append(joint.Ends, wiring.End{Box: box, Item: item, Name: name})
		}
		h.in.Joints = append(h.in.Joints, joint)
	}
}

func (h *house) graph() *wiring.Graph {
	h.tb.Helper()
	g, findings := wiring.Build(h.in)
	if finding.Forbidden(findings) {
		h.tb.Fatalf("the test's house is not sound: %v", findings)
	}
	return g
}

func (h *house) predict(cat *kit.Catalogue, o Options) *Readings {
	h.tb.Helper()
	g := h.graph()
	if o.Book == nil {
		o.Book = british(h.tb)
	}
	r, err := Predict(g, switching.Prove(g, nil), cat, o)
	if err != nil {
		h.tb.Fatal(err)
	}
	return r
}

// british is the current British book.
func british(tb testing.TB) *rules.Book {
	tb.Helper()
	b, err := books.Find("bs7671", "")
	if err != nil {
		tb.Fatal(err)
	}
	return b
}

// exact makes contacts negligible, for comparison with tables of conductors.
func (h *house) exact() *kit.Catalogue {
	c, physics := *h.cat, *h.cat.Physics
	physics.Contact = 1e-9
	c.Physics = &physics
	return &c
}

// stair is a lamp controlled from two places or more over three-core cable,
// two-wire, fed at the first switch.
func stair(tb testing.TB, intermediates int) *house {
	h := newHouse(tb)
	h.box("hall", "s1=two-way")
	h.cable("feed", "te-1.5", "board", "hall", 10)
	h.join("board", "lights.L feed.brown", "lights.N feed.blue", "lights.E feed.cpc")
	last := "hall"
	h.join("hall", "feed.brown s1.COM", "s1.L1 w0.brown", "s1.L2 w0.black", "feed.blue w0.grey", "feed.cpc w0.cpc")
	for i := range intermediates {
		box := "mid" + string(rune('a'+i))
		in, out := "w"+string(rune('0'+i)), "w"+string(rune('1'+i))
		h.box(box, "s=intermediate")
		h.cable(in, "3ce-1.5", last, box, 8)
		h.join(box, "s.A1 "+in+".brown", "s.A2 "+in+".black", "s.B1 "+out+".brown", "s.B2 "+out+".black", in+".grey "+out+".grey", in+".cpc "+out+".cpc")
		last = box
	}
	end := "w" + string(rune('0'+intermediates))
	h.box("landing", "s2=two-way")
	h.box("point", "lamp=batten-holder")
	h.cable(end, "3ce-1.5", last, "landing", 8)
	h.cable("drop", "te-1.5", "landing", "point", 4)
	h.join("landing", "s2.L1 "+end+".brown", "s2.L2 "+end+".black", "s2.COM drop.brown", end+".grey drop.blue", end+".cpc drop.cpc")
	h.join("point", "lamp.L drop.brown", "lamp.N drop.blue", "lamp.E drop.cpc")
	return h
}

// single is a lamp behind a one-way switch at the lamp's own box.
func single(tb testing.TB, metres float64) *house {
	h := newHouse(tb)
	h.box("point", "s=one-way", "lamp=batten-holder")
	h.cable("run", "te-1.5", "board", "point", metres)
	h.join("board", "lights.L run.brown", "lights.N run.blue", "lights.E run.cpc")
	h.join("point", "s.COM run.brown", "s.L1 lamp.L", "lamp.N run.blue", "lamp.E run.cpc")
	return h
}
