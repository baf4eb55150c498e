package change_test

import (
	"fmt"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// left builds the wiring as left of a way, free terminals left empty and no
// switch turned, which costs effort but does the same; and what is wanted of
// it, by the names that new switches got.
func (m *model) left(w *way) (*wiring.Installation, []switching.Want) {
	in := &wiring.Installation{Supply: m.in.Supply, Circuits: m.in.Circuits}
	for _, b := range m.in.Boxes {
		in.Boxes = append(in.Boxes, m.refitted(b))
	}
	for _, b := range m.ask.Could.Boxes {
		in.Boxes = append(in.Boxes, &wiring.Box{ID: b.ID, Kind: b.Kind})
	}
	in.Cables = append(in.Cables, m.in.Cables...)
	for i, c := range w.choice.new {
		if i == 0 || w.choice.new[i-1].cable != c.cable {
			in.Cables = append(in.Cables, c.cable)
		}
	}
	at := map[[2]int][]wiring.End{} // by box and net
	land := func(net int, e wiring.End) {
		if net != none {
			key := [2]int{m.box[e.Box], net}
			at[key] = append(at[key], e)
		}
	}
	m.landAll(land)
	wants := m.landFits(w, in, land)
	for i, c := range w.cores {
		for _, e := range m.endsOf(c) {
			if w.nets[i] == none {
				in.Joints = append(in.Joints, wiring.Joint{Box: e.Box, Ends: []wiring.End{e}})
			}
			land(w.nets[i], e)
		}
	}
	for b := range m.boxes {
		for net := range w.choice.nets {
			if ends := at[[2]int{b, net}]; ends != nil {
				in.Joints = append(in.Joints, wiring.Joint{Box: m.boxes[b].id, Ends: ends})
			}
		}
		if j := earthOf(in, m.boxes[b].id); len(j.Ends) > 0 {
			in.Joints = append(in.Joints, j)
		}
	}
	return in, wants
}

// refitted is a box without the switches that go or are at places.
func (m *model) refitted(b *wiring.Box) *wiring.Box {
	c := &wiring.Box{ID: b.ID, Title: b.Title, Kind: b.Kind}
	for _, f := range b.Fit {
		if u := m.useOf(b, f, kit.Terminal{Name: f.Kind.Terminals[0].Name}); u != gone && u != chosen {
			c.Fit = append(c.Fit, f)
		}
	}
	return c
}

// landAll lands the terminals whose net is known beforehand.
func (m *model) landAll(land func(int, wiring.End)) {
	for i, c := range m.in.Circuits {
		land(m.line(i), wiring.End{Box: c.Board, Item: c.ID, Name: "L"})
		land(m.neutral(i), wiring.End{Box: c.Board, Item: c.ID, Name: "N"})
	}
	m.eachTerminal(func(e wiring.End, f *wiring.Fitted, u use) {
		lamp := e.Box + "." + e.Item
		switch {
		case u == kept && !m.alone(e):
			land(m.netOf[m.find(e)], e)
		case u == lampIs && e == m.lampEnd(lamp, 0):
			land(m.switched(m.groupOf(lamp)), e)
		case u == lampIs:
			land(m.neutral(m.circuit(m.groupOf(lamp))), e)
		}
	})
}

func (m *model) landFits(w *way, in *wiring.Installation, land func(int, wiring.End)) []switching.Want {
	var wants []switching.Want
	for _, g := range m.ask.Groups {
		wants = append(wants, switching.Want{Lamps: g.Lamps, Rule: g.Rule, Subject: g.Subject})
	}
	for _, f := range w.choice.fits {
		p := m.places[f.place]
		box := in.Box(m.boxes[p.box].id)
		id := fmt.Sprintf("new%d", f.place)
		if p.found != nil {
			id = p.found.ID
		}
		box.Fit = append(box.Fit, &wiring.Fitted{ID: id, Kind: f.kind})
		for i, net := range f.nets {
			land(net, wiring.End{Box: box.ID, Item: id, Name: kindOf(f.kind).terminals[i]})
		}
		wants[p.group].From = append(wants[p.group].From, box.ID+"."+id)
	}
	return wants
}

func (m *model) endsOf(c core) [2]wiring.End {
	for _, k := range c.cable.Kind.Cores {
		if k.Colour == c.colour {
			return [2]wiring.End{{Box: c.cable.From, Item: c.cable.ID, Name: k.Name}, {Box: c.cable.To, Item: c.cable.ID, Name: k.Name}}
		}
	}
	panic("no such core")
}

// What trying everything finds is wiring that passes the proof of package
// switching: each switch changes its lamps from every state, nothing is
// dangerous. (That there is nothing cheaper cannot be seen from it.)
func TestWhatExhaustionFindsIsProved(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	ways := 0
	for seed := range uint64(150) {
		in, ask := RandomCase(seed)
		m := newModel(in, ask, cat)
		w, steps := m.exhaust()
		if w.cost >= noWay || steps > tooLong {
			continue
		}
		ways++
		left, wants := m.left(&w)
		g, problems := wiring.Build(left)
		if g == nil {
			t.Fatalf("seed %d: %v", seed, problems)
		}
		for _, f := range switching.Prove(g, wants).Findings {
			if f.Severity == finding.Forbids {
				t.Errorf("seed %d: %s %s: %s", seed, f.Code, f.Subject, f.Text)
			}
		}
	}
	if ways < 50 {
		t.Errorf("only %d of the houses have a way", ways)
	}
}

// A house worked by hand: loop-in at the ceiling with a one-way switch; a
// second switch is wanted in a new box, and one three-core cable may be run
// there from the first, in 30 min and 4 m. The least is the usual conversion,
// three cores from switch to switch, which disturbs (weights in weights.json):
//
//	the run                             30 + 4 × 0.5   32.0
//	one box found is opened             12             12.0
//	a two-way switch for the one-way, and a new one    12.0
//	two ends out of the old switch      2 × 2           4.0
//	six ends of the new cable           6 × 1.5         9.0
//	blue of the drop, black and grey    3 × 0.4         1.2
//	                                                   70.2 min
func TestExhaustionOnAHouseWorkedByHand(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	b := &builder{cat: cat, in: &wiring.Installation{}}
	b.box("board", "consumer-unit")
	b.box("point", "ceiling-point")
	b.box("study", "plaster-1g-25")
	b.fit("point", "lamp", "batten-holder")
	b.fit("study", "s", "one-way")
	b.feedFrom("c1")
	feed, live := b.cut(2, "board", "point", 5000)
	drop, d := b.cut(2, "point", "study", 4000)
	b.join("board", "c1", "L", feed, live[0])
	b.join("board", "c1", "N", feed, live[1])
	b.join("point", feed, live[0], drop, d[0])
	b.join("point", feed, live[1], "lamp", "N")
	b.join("point", drop, d[1], "lamp", "L")
	b.join("study", "s", "COM", drop, d[0])
	b.join("study", "s", "L1", drop, d[1])
	b.earth()
	b.ask = change.Ask{
		Groups: []change.Group{{Lamps: []string{"point.lamp"}, At: []change.Place{{Box: "study"}, {Box: "attic"}}, Rule: switching.RuleToggle}},
		Could: change.Could{
			Boxes:  []*wiring.Box{{ID: "attic", Kind: cat.Boxes["plaster-1g-25"]}},
			Cables: []change.Cable{{ID: "n1", From: "study", To: "attic", Kinds: []*kit.Cable{cat.Cables["3ce-1.0"]}, Length: 4000, Minutes: 30}},
		},
	}
	if w, _ := newModel(b.in, b.ask, cat).exhaust(); w.cost != 702 {
		t.Errorf("least effort %d tenths of a minute, want 702", w.cost)
	}
	b.ask.Could.Cables[0].Kinds[0] = cat.Cables["te-1.0"]
	if w, _ := newModel(b.in, b.ask, cat).exhaust(); w.cost != noWay {
		t.Errorf("two cores to the second switch: %d tenths of a minute, want no way", w.cost)
	}
}
