package fault

import (
	"slices"
	"strings"

	"strapper/kit"
	"strapper/wiring"
)

// suspects lists every single fault of an installation, each kind with its
// share of the prior spread over its cases by plausibility.
type suspects struct {
	g    *wiring.Graph
	cat  *kit.Catalogue
	j    *judgement
	list []*Fault
}

func listSuspects(g *wiring.Graph, cat *kit.Catalogue, j *judgement) []*Fault {
	s := &suspects{g: g, cat: cat, j: j}
	for _, box := range g.Inst.Boxes {
		s.box(box.ID)
	}
	for _, c := range g.Inst.Cables {
		s.cable(c)
	}
	for i := range g.Switches {
		s.switchFaults(&g.Switches[i])
	}
	for _, i := range g.Lamps() {
		s.lamp(&g.Loads[i])
	}
	s.share()
	return s.list
}

// share gives each fault its part of its kind's share; what is left when a
// kind has no case goes to the others.
func (s *suspects) share() {
	sum := map[Kind]float64{}
	for _, f := range s.list {
		sum[f.Kind] += f.weight
	}
	total := 0.0
	for k := range sum {
		total += s.j.Shares[k]
	}
	total += s.j.Shares[NoKind]
	for _, f := range s.list {
		f.weight *= s.j.Shares[f.Kind] / sum[f.Kind] / total
	}
}

func (s *suspects) add(f Fault, plausible float64) {
	f.weight = plausible
	s.list = append(s.list, &f)
}

// place is one joint of a box as a conductor may stand in it: its terminals
// and cores, and the accessory it belongs to ("" for a connector).
type place struct {
	node  wiring.Node
	first wiring.End // a terminal if it has one
	item  string
	cores []wiring.End
}

// places lists the joints of a box and its free terminals.
func places(g *wiring.Graph, box string) []place {
	var list []place
	for n := range wiring.Node(g.Nodes()) {
		ends := g.Members(n)
		if len(ends) == 0 || ends[0].Box != box {
			continue
		}
		p := place{node: n, first: ends[0]}
		for _, e := range slices.Backward(ends) {
			if _, core := g.IsCore(e); core == nil {
				p.first, p.item = e, e.Item
			} else if !g.Loose(n) {
				p.cores = append(p.cores, e)
			}
		}
		slices.Reverse(p.cores)
		list = append(list, p)
	}
	return list
}

// box lists what may be landed wrongly in one box.
func (s *suspects) box(box string) {
	list := places(s.g, box)
	for i := range list {
		for _, e := range list[i].cores {
			s.end(e, &list[i])
			for k := range list {
				if k != i && list[k].item != "" {
					s.add(Fault{Kind: Misplaced, Ends: []wiring.End{e}, To: list[k].first}, s.plausible(&list[i], &list[k], e))
				}
			}
			for k := i + 1; k < len(list); k++ {
				for _, other := range list[k].cores {
					s.add(Fault{Kind: Exchanged, Ends: []wiring.End{e, other}}, s.plausible(&list[i], &list[k], e, other))
				}
			}
		}
		for k := i + 1; k < len(list); k++ {
			if s.bridgeable(&list[i]) && s.bridgeable(&list[k]) {
				s.add(Fault{Kind: Bridged, Ends: []wiring.End{list[i].first, list[k].first}}, s.plausible(&list[i], &list[k]))
			}
		}
	}
}

func (s *suspects) bridgeable(p *place) bool { return len(p.cores) > 0 || p.item != "" }

// plausible is how easily a mistake between two joints is made, against one at
// the same accessory between live cores.
func (s *suspects) plausible(a, b *place, cores ...wiring.End) float64 {
	x := 1.0
	if a.item == "" || a.item != b.item {
		x = s.j.Other
	}
	if slices.ContainsFunc(cores, s.isEarth) {
		x *= s.j.Earth
	}
	return x
}

// end lists what may be wrong with one core end alone. A parked one has
// nothing to come off.
func (s *suspects) end(e wiring.End, p *place) {
	switch {
	case len(p.cores) == 1 && p.item == "":
	case s.isEarth(e):
		s.add(Fault{Kind: NoEarth, Ends: []wiring.End{e}}, 1)
	default:
		s.add(Fault{Kind: Off, Ends: []wiring.End{e}}, 1)
		s.add(Fault{Kind: Slack, Ends: []wiring.End{e}}, 1)
	}
}

// cable lists what may be wrong within a cable.
func (s *suspects) cable(c *wiring.Cable) {
	for i := range c.Kind.Cores {
		a := c.Kind.Cores[i].Name
		s.add(Fault{Kind: Broken, Cable: c.ID, Cores: []string{a}}, 1)
		for _, b := range c.Kind.Cores[i+1:] {
			s.add(Fault{Kind: Shorted, Cable: c.ID, Cores: []string{a, b.Name}}, 1)
			s.add(Fault{Kind: Leaking, Cable: c.ID, Cores: []string{a, b.Name}}, 1)
		}
	}
}

// switchFaults lists what may be wrong with a switch itself. What a person
// does not work by hand is taken for sound but for its contacts.
func (s *suspects) switchFaults(sw *wiring.Switch) {
	at := Fault{Box: sw.Box.ID, Item: sw.Item.ID}
	add := func(k Kind, i int) {
		f := at
		f.Kind, f.Contact = k, i
		s.add(f, 1)
	}
	for i, c := range sw.Kind.Contacts {
		if len(sw.Kind.Contacts) > 1 {
			add(NoContact, i)
		}
		if len(c.In) < len(sw.Kind.Positions) {
			add(Welded, i)
		}
	}
	add(DeadSwitch, 0)
	if len(sw.Kind.Contacts) > 1 {
		for i := range sw.Kind.Positions {
			add(Stuck, i)
		}
	}
	for _, as := range s.mistakenFor(sw.Kind) {
		f := at
		f.Kind, f.As = WrongKind, as
		s.add(f, 1)
	}
}

// mistakenFor lists how a switch behaves if another of the catalogue was fitted
// in its place: one of fewer terminals, or one of another convention, whose
// terminals are counted in their order. Two that behave alike are one.
func (s *suspects) mistakenFor(a *kit.Accessory) []*kit.Accessory {
	if a.Class != kit.ClassSwitch {
		return nil
	}
	seen := map[string]bool{behaviour(a): true}
	var list []*kit.Accessory
	for _, id := range kit.Names(s.cat.Accessories) {
		b := s.cat.Accessories[id]
		if b.Class != a.Class || b.Actuator != a.Actuator || len(b.Positions) != len(a.Positions) || len(b.Terminals) > len(a.Terminals) || len(b.Terminals) < 2 {
			continue
		}
		as, ok := standIn(a, b)
		if key := behaviour(as); ok && !seen[key] {
			seen[key] = true
			list = append(list, as)
		}
	}
	return list
}

// standIn is accessory b with the terminal and position names of a.
func standIn(a, b *kit.Accessory) (*kit.Accessory, bool) {
	to := map[string]string{}
	for i, t := range b.Terminals {
		switch {
		case len(b.Terminals) == len(a.Terminals):
			to[t.Name] = a.Terminals[i].Name
		case a.Terminal(t.Name) != nil:
			to[t.Name] = t.Name
		default:
			return a, false
		}
	}
	as := *a
	as.ID, as.Title, as.Contacts = b.ID, b.Title, nil
	for _, c := range b.Contacts {
		moved := kit.Contact{Join: [2]string{to[c.Join[0]], to[c.Join[1]]}, Via: c.Via}
		for _, p := range c.In {
			moved.In = append(moved.In, a.Positions[slices.Index(b.Positions, p)])
		}
		as.Contacts = append(as.Contacts, moved)
	}
	return &as, true
}

// behaviour is what a kind joins, as a text that is equal for two that behave
// alike.
func behaviour(a *kit.Accessory) string {
	var list []string
	for _, c := range a.Contacts {
		for _, p := range c.In {
			list = append(list, min(c.Join[0], c.Join[1])+" "+max(c.Join[0], c.Join[1])+" "+p)
		}
	}
	slices.Sort(list)
	return strings.Join(list, ",")
}

// lamp lists what may be wrong with a lamp.
func (s *suspects) lamp(l *wiring.Load) {
	at := Fault{Kind: DeadLamp, Box: l.Box.ID, Item: l.Item.ID}
	s.add(at, 1)
	if e, ok := s.earthIn(l.Box.ID); ok {
		at.Kind, at.Ends = LeakyLamp, []wiring.End{l.Ends[0], e}
		s.add(at, 1)
	}
}

// earthIn is a protective conductor that is joined in a box.
func (s *suspects) earthIn(box string) (end wiring.End, ok bool) {
	for _, p := range places(s.g, box) {
		if i := slices.IndexFunc(p.cores, s.isEarth); i >= 0 {
			return p.cores[i], true
		}
	}
	return end, false
}

func (s *suspects) isEarth(e wiring.End) bool {
	_, core := s.g.IsCore(e)
	return core != nil && core.Earth
}
