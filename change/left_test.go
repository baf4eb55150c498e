package change_test

import (
	"fmt"
	"testing"

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
		w, _ := m.exhaust()
		if w.cost >= noWay {
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
