package change_test

import (
	"fmt"
	"testing"
	"time"

	"strapper/change"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// terrace is an invented house for benchmarks: a lighting circuit looped
// through a number of ceiling points, each with its one-way switch; the first
// lamp is wanted from several of the switch boxes and some new ones. Runs
// could be added between all neighbours.
type terrace struct {
	cat *kit.Catalogue
	in  *wiring.Installation
	ask change.Ask
}

func newTerrace(tb testing.TB, places, rooms int) *terrace {
	tb.Helper()
	cat, err := kit.Open()
	if err != nil {
		tb.Fatal(err)
	}
	h := &terrace{cat: cat, in: &wiring.Installation{Supply: wiring.Supply{Voltage: 230, Frequency: 50, Earthing: wiring.TNCS, Ze: 0.3, Ambient: 20}}}
	h.box("board", "consumer-unit")
	h.in.Circuits = []*wiring.Circuit{{ID: "lights", Board: "board", Device: cat.Devices["mcb-b6"], RCD: cat.Devices["rcd-30"], Way: cat.Accessories["cu-way"]}}
	for i := range rooms {
		h.room(i)
	}
	h.wish(places, rooms)
	return h
}

func (h *terrace) box(id, kind string, fit ...*wiring.Fitted) {
	h.in.Boxes = append(h.in.Boxes, &wiring.Box{ID: id, Kind: h.cat.Boxes[kind], Fit: fit})
}

func (h *terrace) cable(id, kind, from, to string) {
	h.in.Cables = append(h.in.Cables, &wiring.Cable{ID: id, Kind: h.cat.Cables[kind], From: from, To: to, Length: 6 * unit.Metre})
}

func (h *terrace) join(box string, ends ...string) {
	j := wiring.Joint{Box: box}
	for i := 0; i < len(ends); i += 2 {
		j.Ends = append(j.Ends, wiring.End{Box: box, Item: ends[i], Name: ends[i+1]})
	}
	h.in.Joints = append(h.in.Joints, j)
}

func (h *terrace) room(i int) {
	p, s := fmt.Sprintf("point%d", i), fmt.Sprintf("switch%d", i)
	feed, drop, on := fmt.Sprintf("feed%d", i), fmt.Sprintf("drop%d", i), fmt.Sprintf("feed%d", i+1)
	h.box(p, "ceiling-point", &wiring.Fitted{ID: "lamp", Kind: h.cat.Accessories["ceiling-rose"]})
	h.box(s, "plaster-1g-25", &wiring.Fitted{ID: "s1", Kind: h.cat.Accessories["one-way"]})
	from := "board"
	if i > 0 {
		from = fmt.Sprintf("point%d", i-1)
		h.extend(from, feed)
	} else {
		h.join("board", "lights", "L", feed, "brown")
		h.join("board", "lights", "N", feed, "blue")
		h.join("board", "lights", "E", feed, "cpc")
	}
	_ = on
	h.cable(feed, "te-1.0", from, p)
	h.cable(drop, "te-1.0", p, s)
	h.join(p, "lamp", "LOOP", feed, "brown", drop, "brown")
	h.join(p, "lamp", "N", feed, "blue")
	h.join(p, "lamp", "SL", drop, "blue")
	h.join(p, "lamp", "E", feed, "cpc", drop, "cpc")
	h.join(s, "s1", "COM", drop, "brown")
	h.join(s, "s1", "L1", drop, "blue")
	h.join(s, drop, "cpc")
}

// extend loops a feed on from a point.
func (h *terrace) extend(point, feed string) {
	for i, j := range h.in.Joints {
		if j.Box != point || j.Ends[0].Item != "lamp" {
			continue
		}
		name := map[string]string{"LOOP": "brown", "N": "blue", "E": "cpc"}[j.Ends[0].Name]
		if name != "" {
			h.in.Joints[i].Ends = append(h.in.Joints[i].Ends, wiring.End{Box: point, Item: feed, Name: name})
		}
	}
}

// wish wants the first lamp from its own switch and from new places beside the
// other rooms' switches.
func (h *terrace) wish(places, rooms int) {
	g := change.Group{Lamps: []string{"point0.lamp"}, At: []change.Place{{Box: "switch0"}}}
	kinds := []*kit.Cable{h.cat.Cables["te-1.0"], h.cat.Cables["3ce-1.0"]}
	run := func(from, to string, n int) {
		h.ask.Could.Cables = append(h.ask.Could.Cables, change.Cable{
			ID: fmt.Sprintf("run%d", len(h.ask.Could.Cables)), From: from, To: to, Kinds: kinds,
			Length: unit.Millimetre(3000 + 700*n), Minutes: float64(20 + 7*n%40),
		})
	}
	before := "switch0"
	for i := 1; i < places; i++ {
		id := fmt.Sprintf("new%d", i)
		h.ask.Could.Boxes = append(h.ask.Could.Boxes, &wiring.Box{ID: id, Kind: h.cat.Boxes["plaster-1g-35"]})
		g.At = append(g.At, change.Place{Box: id})
		run(before, id, i)
		run("point0", id, i+3)
		if i > 1 {
			run("switch0", id, i+5)
		}
		before = id
	}
	h.ask.Groups = []change.Group{g}
}

func (h *terrace) graph(tb testing.TB) *wiring.Graph {
	tb.Helper()
	g, problems := wiring.Build(h.in)
	if g == nil {
		tb.Fatal(problems)
	}
	return g
}

// BenchmarkSearch shows the growth with places and boxes: the best way with
// the proof that it is the smallest, and how soon there is a first answer.
func BenchmarkSearch(b *testing.B) {
	for _, size := range []struct{ places, rooms int }{{2, 2}, {2, 4}, {3, 2}, {3, 4}, {4, 2}, {4, 4}, {5, 3}, {6, 2}} {
		h := newTerrace(b, size.places, size.rooms)
		g := h.graph(b)
		b.Run(fmt.Sprintf("places=%d/boxes=%d/cables=%d", size.places, len(h.in.Boxes)+len(h.ask.Could.Boxes), len(h.in.Cables)+len(h.ask.Could.Cables)), func(b *testing.B) {
			first := time.Duration(0)
			for b.Loop() {
				start, heard := time.Now(), time.Duration(0)
				a, err := change.Search(g, h.ask, h.cat, change.Options{Progress: func(change.Progress) {
					if heard == 0 {
						heard = time.Since(start)
					}
				}})
				if err != nil || !a.Smallest {
					b.Fatal(err, a)
				}
				first += heard
			}
			b.ReportMetric(float64(first.Microseconds())/1000/float64(b.N), "ms-to-first-answer")
		})
	}
}
