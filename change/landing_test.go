package change_test

import (
	"slices"

	"strapper/kit"
	"strapper/wiring"
)

// A use says what becomes of a terminal.
type use int

const (
	gone    use = iota // its accessory goes, or is exchanged
	kept               // its net as found stays
	lampIs             // switched line or neutral of a group
	chosen             // of a switch at a place: as the arrangement says
	spot               // serves for nothing: may be used as a joint, or not
	earthed            // protective conductors are not looked at
)

// useOf says it for a terminal as found. A switch that is exchanged for another
// kind is dealt with when the kind is chosen.
func (m *model) useOf(b *wiring.Box, f *wiring.Fitted, t kit.Terminal) use {
	switch {
	case t.Role == kit.RoleEarth:
		return earthed
	case m.out[[2]string{b.ID, f.ID}]:
		return gone
	case slices.ContainsFunc(m.places, func(p place) bool { return p.found == f }):
		return chosen
	case !serves(f.Kind, t.Name):
		return spot
	case m.groupOf(b.ID+"."+f.ID) >= 0:
		return lampIs
	}
	return kept
}

// serves reports whether a contact, load or coil is at the terminal.
func serves(k *kit.Accessory, name string) bool {
	for _, c := range k.Contacts {
		if c.Join[0] == name || c.Join[1] == name {
			return true
		}
	}
	for _, l := range k.Loads {
		if l.Between[0] == name || l.Between[1] == name {
			return true
		}
	}
	return k.Coil != nil && (k.Coil.Between[0] == name || k.Coil.Between[1] == name)
}

// eachTerminal goes through all terminals as found but those for earth.
func (m *model) eachTerminal(do func(e wiring.End, f *wiring.Fitted, u use)) {
	for _, b := range m.in.Boxes {
		for _, f := range b.Fit {
			for _, t := range f.Kind.Terminals {
				if u := m.useOf(b, f, t); u != earthed {
					do(wiring.End{Box: b.ID, Item: f.ID, Name: t.Name}, f, u)
				}
			}
		}
	}
}

// numberNets gives a number to every net that is there as left whatever is
// chosen.
func (m *model) numberNets() {
	number := func(e wiring.End) {
		if _, ok := m.netOf[m.find(e)]; !ok {
			m.netOf[m.find(e)] = m.nets
		}
		m.nets++
	}
	for _, c := range m.in.Circuits {
		number(wiring.End{Box: c.Board, Item: c.ID, Name: "L"})
		number(wiring.End{Box: c.Board, Item: c.ID, Name: "N"})
	}
	m.eachTerminal(func(e wiring.End, _ *wiring.Fitted, u use) {
		if _, ok := m.netOf[m.find(e)]; u == kept && !ok && !m.alone(e) {
			number(e)
		}
	})
	m.nets += len(m.ask.Groups)
	m.needs = make([]uint, m.nets)
}

// alone reports an end to which nothing is joined.
func (m *model) alone(e wiring.End) bool {
	j := m.jointOf(e)
	return j == nil || len(j.Ends) == 1
}

func (m *model) jointOf(e wiring.End) *wiring.Joint {
	for i := range m.in.Joints {
		if slices.Contains(m.in.Joints[i].Ends, e) {
			return &m.in.Joints[i]
		}
	}
	return nil
}

// landTerminals lists the terminals that stay, with the joint each is in and
// the net it gets, and what every net must reach.
func (m *model) landTerminals() {
	for i := range m.boxes {
		m.findMeetings(&m.boxes[i])
	}
	for i, c := range m.in.Circuits {
		m.land(wiring.End{Box: c.Board, Item: c.ID, Name: "L"}, m.line(i))
		m.land(wiring.End{Box: c.Board, Item: c.ID, Name: "N"}, m.neutral(i))
	}
	m.eachTerminal(func(e wiring.End, f *wiring.Fitted, u use) {
		switch u {
		case kept:
			if !m.alone(e) {
				m.land(e, m.netOf[m.find(e)])
			}
		case lampIs:
			g := m.groupOf(e.Box + "." + f.ID)
			m.land(e, map[bool]int{true: m.switched(g), false: m.neutral(m.circuit(g))}[e == m.lampEnd(e.Box+"."+f.ID, 0)])
		case spot:
			m.boxes[m.box[e.Box]].free++
		}
	})
	for g, group := range m.ask.Groups {
		for _, at := range group.At {
			if at.Neutral {
				m.reach(m.neutral(m.circuit(g)), at.Box)
			}
		}
	}
}

func (m *model) land(e wiring.End, net int) {
	r := &m.boxes[m.box[e.Box]]
	j := m.meetingOf(e)
	r.fixed = append(r.fixed, landing{j, net})
	if j >= 0 {
		r.joints[j].net = net
	}
	m.reach(net, e.Box)
}

// live reports whether an end is no protective conductor's.
func (m *model) live(e wiring.End) bool {
	if c := m.in.Cable(e.Item); c != nil {
		return !c.Kind.Core(e.Name).Earth
	}
	if f := m.in.Box(e.Box).Fitted(e.Item); f != nil {
		return f.Kind.Terminal(e.Name).Role != kit.RoleEarth
	}
	return e.Name != "E"
}

// livesIn lists the live joints of a box.
func (m *model) livesIn(box string) []wiring.Joint {
	var list []wiring.Joint
	for _, j := range m.in.Joints {
		if j.Box == box && m.live(j.Ends[0]) {
			list = append(list, j)
		}
	}
	return list
}

func (m *model) meetingOf(e wiring.End) int {
	return slices.IndexFunc(m.livesIn(e.Box), func(j wiring.Joint) bool { return slices.Contains(j.Ends, e) })
}

func (m *model) findMeetings(r *room) {
	for _, j := range m.livesIn(r.id) {
		mt := meeting{size: len(j.Ends), net: none}
		staying := false
		for _, e := range j.Ends {
			if m.in.Cable(e.Item) != nil {
				continue
			}
			mt.terminal = true
			f := m.in.Box(r.id).Fitted(e.Item)
			u := kept
			if f != nil {
				u = m.useOf(m.in.Box(r.id), f, *f.Kind.Terminal(e.Name))
			}
			mt.spot = mt.spot || u == spot
			staying = staying || u != gone
		}
		mt.dead = mt.terminal && !staying
		r.joints = append(r.joints, mt)
	}
}

// findCores numbers the live cores as found.
func (m *model) findCores() {
	for _, c := range m.in.Cables {
		for i := range c.Kind.Cores {
			k := &c.Kind.Cores[i]
			if k.Earth {
				continue
			}
			ends := [2]wiring.End{{Box: c.From, Item: c.ID, Name: k.Name}, {Box: c.To, Item: c.ID, Name: k.Name}}
			n := core{
				cable: c, colour: k.Colour, from: m.box[c.From], to: m.box[c.To], net: none,
				joint:    [2]int{m.meetingOf(ends[0]), m.meetingOf(ends[1])},
				idle:     m.idle(m.find(ends[0])),
				doubtful: slices.Contains(m.ask.Limits.Doubtful, c.ID),
			}
			if net, ok := m.netOf[m.find(ends[0])]; ok {
				n.net = net
			}
			m.cores = append(m.cores, n)
		}
	}
	for i := range m.boxes {
		for bit, at := range endsAt(m.cores, i) {
			if at.joint >= 0 {
				m.boxes[i].joints[at.joint].cores |= 1 << bit
			}
		}
	}
}

// A coreEnd is an end of a core in some box.
type coreEnd struct {
	core, joint int
}

func endsAt(cores []core, box int) []coreEnd {
	var list []coreEnd
	for i, c := range cores {
		if c.from == box {
			list = append(list, coreEnd{i, c.joint[0]})
		}
		if c.to == box {
			list = append(list, coreEnd{i, c.joint[1]})
		}
	}
	return list
}

// idle reports a net as found on which there is no terminal.
func (m *model) idle(net wiring.End) bool {
	for _, j := range m.in.Joints {
		for _, e := range j.Ends {
			if m.in.Cable(e.Item) == nil && m.find(e) == net {
				return false
			}
		}
	}
	return true
}
