package fault

import (
	"slices"

	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// The names of what an edit adds. No id of a job contains the sign.
const (
	faultItem = "~fault"
	damageBox = "~damage"
	farPart   = "~"
)

// edited is an installation with faults in it. Ends of a cable that was cut in
// two have another name in the box where its second part ends.
type edited struct {
	in      *wiring.Installation
	renamed map[wiring.End]wiring.End
	items   int // added so far
}

// Apply is the installation with the faults in it, as package wiring describes
// any other; in is not changed. A poor contact or damaged insulation becomes
// an accessory that is a resistance, and damage within a cable a box half way
// in which its cores are joined as the damage joins them. rename gives the name
// that an end of in has in the result.
func Apply(in *wiring.Installation, faults ...*Fault) (out *wiring.Installation, rename func(wiring.End) wiring.End, err error) {
	j, err := loadJudgement()
	if err != nil {
		return nil, nil, err
	}
	e := &edited{in: copyOf(in), renamed: map[wiring.End]wiring.End{}}
	for _, f := range faults {
		e.apply(f, j)
	}
	return e.in, e.name, nil
}

func copyOf(in *wiring.Installation) *wiring.Installation {
	out := *in
	out.Boxes = make([]*wiring.Box, len(in.Boxes))
	for i, b := range in.Boxes {
		box := *b
		box.Fit = make([]*wiring.Fitted, len(b.Fit))
		for k, f := range b.Fit {
			fitted := *f
			box.Fit[k] = &fitted
		}
		out.Boxes[i] = &box
	}
	out.Cables = slices.Clone(in.Cables)
	out.Joints = make([]wiring.Joint, len(in.Joints))
	for i, j := range in.Joints {
		out.Joints[i] = wiring.Joint{Box: j.Box, Ends: slices.Clone(j.Ends)}
	}
	return &out
}

func (e *edited) name(end wiring.End) wiring.End {
	if to, ok := e.renamed[end]; ok {
		return to
	}
	return end
}

func (e *edited) apply(f *Fault, j *judgement) {
	switch f.Kind {
	case Exchanged:
		e.exchange(e.name(f.Ends[0]), e.name(f.Ends[1]))
	case Misplaced:
		end := e.name(f.Ends[0])
		e.remove(end)
		e.join(end, e.name(f.To))
	case Off, NoEarth:
		e.remove(e.name(f.Ends[0]))
	case Slack:
		e.loosen(e.name(f.Ends[0]), j.LooseOhm)
	case Bridged:
		e.merge(e.name(f.Ends[0]), e.name(f.Ends[1]))
	case Shorted, Leaking, Broken:
		e.damage(f, j.LeakOhm)
	case WrongKind:
		e.in.Box(f.Box).Fitted(f.Item).Kind = f.As
	case NoContact, Welded, Stuck, DeadSwitch:
		item := e.in.Box(f.Box).Fitted(f.Item)
		item.Kind = worn(item.Kind, f)
	case DeadLamp:
		item := e.in.Box(f.Box).Fitted(f.Item)
		lamp := wiring.Lamp{Kind: burns(item)}
		item.Lamp = &lamp
	case LeakyLamp:
		e.resist(f.Ends[0].Box, f.Ends[0], f.Ends[1], j.LeakOhm)
	}
}

// burns is the kind of lamp in an accessory.
func burns(item *wiring.Fitted) *kit.LampKind {
	if item.Lamp != nil {
		return item.Lamp.Kind
	}
	i := slices.IndexFunc(item.Kind.Loads, func(l kit.Load) bool { return !l.Always })
	if i < 0 {
		return nil
	}
	return item.Kind.Loads[i].Kind
}

// jointOf is the index of the joint that holds an end, or -1.
func (e *edited) jointOf(end wiring.End) int {
	return slices.IndexFunc(e.in.Joints, func(j wiring.Joint) bool { return slices.Contains(j.Ends, end) })
}

func (e *edited) exchange(a, b wiring.End) {
	i, j := e.jointOf(a), e.jointOf(b)
	if i < 0 || j < 0 || i == j {
		return
	}
	e.in.Joints[i].Ends[slices.Index(e.in.Joints[i].Ends, a)] = b
	e.in.Joints[j].Ends[slices.Index(e.in.Joints[j].Ends, b)] = a
}

func (e *edited) remove(end wiring.End) {
	i := e.jointOf(end)
	if i < 0 {
		return
	}
	ends := e.in.Joints[i].Ends
	at := slices.Index(ends, end)
	if ends = slices.Delete(ends, at, at+1); len(ends) == 0 {
		e.in.Joints = slices.Delete(e.in.Joints, i, i+1)
		return
	}
	e.in.Joints[i].Ends = ends
}

// join puts an end into the joint of another, which may be a free terminal.
func (e *edited) join(end, with wiring.End) {
	if i := e.jointOf(with); i >= 0 {
		e.in.Joints[i].Ends = append(e.in.Joints[i].Ends, end)
		return
	}
	e.in.Joints = append(e.in.Joints, wiring.Joint{Box: with.Box, Ends: []wiring.End{with, end}})
}

// merge makes one joint of two.
func (e *edited) merge(a, b wiring.End) {
	i := e.jointOf(b)
	if i < 0 {
		e.join(b, a)
		return
	}
	if j := e.jointOf(a); j == i {
		return
	}
	moved := e.in.Joints[i].Ends
	e.in.Joints = slices.Delete(e.in.Joints, i, i+1)
	for _, end := range moved {
		e.join(end, a)
	}
}

// loosen parts an end from its joint and joins the two through a resistance.
func (e *edited) loosen(end wiring.End, r unit.Ohm) {
	i := e.jointOf(end)
	if i < 0 || len(e.in.Joints[i].Ends) < 2 {
		return
	}
	k := slices.IndexFunc(e.in.Joints[i].Ends, func(o wiring.End) bool { return o != end })
	rest := e.in.Joints[i].Ends[k]
	e.remove(end)
	e.resist(end.Box, rest, end, r)
}

// resist joins two ends of a box through a resistance.
func (e *edited) resist(box string, a, b wiring.End, r unit.Ohm) {
	u := float64(e.in.Supply.Voltage)
	if u <= 0 {
		u = 230
	}
	e.items++
	id := faultItem + string(rune('a'+e.items-1))
	e.in.Box(box).Fit = append(e.in.Box(box).Fit, &wiring.Fitted{ID: id, Kind: &kit.Accessory{
		ID: id, Title: "a fault", Class: kit.ClassConnector,
		Terminals: []kit.Terminal{{Name: "a"}, {Name: "b"}},
		Loads: []kit.Load{{
			Between: [2]string{"a", "b"}, Power: unit.Watt(u * u / float64(r)), Always: true,
			Kind: &kit.LampKind{ID: "resistance", PowerFactor: 1},
		}},
	}})
	e.join(wiring.End{Box: box, Item: id, Name: "a"}, a)
	e.join(wiring.End{Box: box, Item: id, Name: "b"}, b)
}

// damage cuts a cable in two at a box half way. How far along it lies is not
// known: the tolerances of the two parts cover all of the cable.
func (e *edited) damage(f *Fault, leak unit.Ohm) {
	i := slices.IndexFunc(e.in.Cables, func(c *wiring.Cable) bool { return c.ID == f.Cable })
	if i < 0 {
		return
	}
	near, far := *e.in.Cables[i], *e.in.Cables[i]
	box := damageBox + f.Cable
	near.To, far.From, far.ID = box, box, f.Cable+farPart
	near.Length, far.Length = max(near.Length/2, 1), max(far.Length-far.Length/2, 1)
	near.Tolerance, far.Tolerance = near.Length*9/10, far.Length*9/10
	e.in.Cables[i] = &near
	e.in.Cables = append(e.in.Cables, &far)
	e.in.Boxes = append(e.in.Boxes, &wiring.Box{ID: box, Title: "the damage in " + f.Cable, Kind: &kit.Box{ID: box}})
	for _, core := range near.Kind.Cores {
		was, is := wiring.End{Box: far.To, Item: f.Cable, Name: core.Name}, wiring.End{Box: far.To, Item: far.ID, Name: core.Name}
		e.renamed[was] = is
		if k := e.jointOf(was); k >= 0 {
			e.in.Joints[k].Ends[slices.Index(e.in.Joints[k].Ends, was)] = is
		}
		if f.Kind != Broken || f.Cores[0] != core.Name {
			e.join(wiring.End{Box: box, Item: near.ID, Name: core.Name}, wiring.End{Box: box, Item: far.ID, Name: core.Name})
		}
	}
	if f.Kind == Broken {
		return
	}
	a, b := wiring.End{Box: box, Item: near.ID, Name: f.Cores[0]}, wiring.End{Box: box, Item: near.ID, Name: f.Cores[1]}
	if f.Kind == Shorted {
		e.merge(a, b)
	} else {
		e.resist(box, a, b, leak)
	}
}

// worn is an accessory with a fault in its contacts. It has the same terminals
// and positions.
func worn(a *kit.Accessory, f *Fault) *kit.Accessory {
	w := *a
	w.ID = a.ID + farPart + string(f.Kind)
	w.Contacts = slices.Clone(a.Contacts)
	switch f.Kind {
	case NoContact:
		w.Contacts = slices.Delete(w.Contacts, f.Contact, f.Contact+1)
	case Welded:
		w.Contacts[f.Contact].In = a.Positions
	case DeadSwitch:
		w.Contacts = nil
	case Stuck:
		var kept []kit.Contact
		for _, c := range a.Contacts {
			if slices.Contains(c.In, a.Positions[f.Contact]) {
				c.In = a.Positions
				kept = append(kept, c)
			}
		}
		w.Contacts = kept
	}
	return &w
}
