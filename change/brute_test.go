package change_test

import (
	"fmt"
	"slices"

	"strapper/change"
	"strapper/kit"
	"strapper/wiring"
)

// The exhaustive search for the least effort, to compare the real one with. It
// tries everything there is: which cables are run and of which kind, which
// switch is fitted at each place, how their contacts are arranged (from the
// enumeration of arrangements_test.go, which knows no chains), and which net
// every core carries. Nothing is left out but what cannot be better: it goes
// on only while what is settled costs less than the best found so far, and
// while every net can still be in one piece.
//
// It shares with the package only the question and the weights.

// none is the net of a core that carries nothing, and of a terminal on which
// nothing is landed.
const none = -1

// A model is a question with everything numbered.
//
// Nets: line and neutral of each circuit, then what kept accessories have of
// their own, then the switched line of each group; the nets between switches
// follow from the arrangement that is tried.
type model struct {
	in     *wiring.Installation
	ask    change.Ask
	cat    *kit.Catalogue
	cost   prices
	box    map[string]int
	boxes  []room
	cores  []core
	places []place
	root   map[wiring.End]wiring.End // of each end, one end of its net as found
	netOf  map[wiring.End]int        // by that end: the net as left that is the same
	nets   int
	out    map[[2]string]bool // switches that are taken out
	needs  []uint             // by net: the boxes it must reach, as bits
}

// prices are the weights in tenths of a minute.
type prices struct {
	wall, open, moved, fresh, fitting, joint, hidden, spare, old, doubt, sleeve int64
}

func pricesOf(w change.Weights) prices {
	t := func(minutes float64) int64 { return int64(minutes*10 + 0.5) }
	return prices{
		t(w.WallOpened), t(w.BoxOpened), t(w.EndMoved), t(w.EndNew), t(w.Fitting), t(w.JointNew), t(w.JointHidden),
		t(w.SpareUsed), t(w.OldUsed), t(w.DoubtfulUsed), t(w.Sleeve),
	}
}

// A room is one box.
type room struct {
	id                     string
	added, closed, changed bool // changed: whatever is chosen, something is different there
	joint                  int64
	joints                 []meeting
	fixed                  []landing // terminals whose net is known
	free                   int       // terminals that serve for nothing, and may serve as joints
}

// A meeting is a joint as found.
type meeting struct {
	cores    uint // of the box's cores, in the order of their numbers in the model
	size     int  // ends of all sorts
	terminal bool // it has, or had, a terminal
	spot     bool // a free terminal is among them
	dead     bool // all its terminals are gone
	net      int  // of its fixed terminal
}

// A landing is a terminal that stays, in its joint as found (none: alone).
type landing struct{ joint, net int }

// A core is a live core, as found or of a new cable.
type core struct {
	cable    *wiring.Cable
	colour   kit.Colour
	from, to int
	joint    [2]int // as found: at from, at to; none if loose
	net      int    // as left, if it carries the same as found; none if that is no net as left
	idle     bool   // joined as found to no terminal
	doubtful bool
	fresh    bool // of a new cable
}

// A place is where a switch is worked.
type place struct {
	group, box int
	found      *wiring.Fitted // nil: a new one
	kinds      []*kit.Accessory
}

func newModel(in *wiring.Installation, ask change.Ask, cat *kit.Catalogue) *model {
	m := &model{in: in, ask: ask, cat: cat, cost: pricesOf(change.Usual()), box: map[string]int{}, netOf: map[wiring.End]int{}, out: map[[2]string]bool{}}
	m.findNets()
	m.findBoxes()
	m.findPlaces()
	m.numberNets()
	m.landTerminals()
	m.findCores()
	return m
}

// findNets joins ends through joints and cores.
func (m *model) findNets() {
	m.root = map[wiring.End]wiring.End{}
	for _, j := range m.in.Joints {
		for _, e := range j.Ends {
			m.unite(j.Ends[0], e)
		}
	}
	for _, c := range m.in.Cables {
		for _, k := range c.Kind.Cores {
			m.unite(wiring.End{Box: c.From, Item: c.ID, Name: k.Name}, wiring.End{Box: c.To, Item: c.ID, Name: k.Name})
		}
	}
}

func (m *model) find(e wiring.End) wiring.End {
	for {
		up, ok := m.root[e]
		if !ok || up == e {
			return e
		}
		e = up
	}
}

func (m *model) unite(a, b wiring.End) { m.root[m.find(a)] = m.find(b) }

func (m *model) findBoxes() {
	add := func(b *wiring.Box, added bool) {
		r := room{id: b.ID, added: added, joint: m.cost.joint}
		if b.Kind.Mount == kit.MountSurface && b.Kind.Gangs == 0 {
			r.joint += m.cost.hidden
		}
		r.closed = slices.ContainsFunc(m.ask.Limits.Closed, func(l change.Limit) bool { return l.Name == b.ID })
		m.box[b.ID] = len(m.boxes)
		m.boxes = append(m.boxes, r)
	}
	for _, b := range m.in.Boxes {
		add(b, false)
	}
	for _, b := range m.ask.Could.Boxes {
		add(b, true)
	}
}

// findPlaces decides which switch each place is about: the one named, the one
// there that controls a lamp of the group, one that would be taken out, or a
// new one.
func (m *model) findPlaces() {
	minds := m.control()
	taken := map[*wiring.Fitted]bool{}
	take := func(p *place, where string, fits func(id string, f *wiring.Fitted) bool) {
		b := m.in.Box(where)
		if p.found != nil || b == nil {
			return
		}
		for _, f := range b.Fit {
			if id := where + "." + f.ID; !taken[f] && len(f.Kind.Positions) > 1 && fits(id, f) {
				p.found, taken[f] = f, true
				return
			}
		}
	}
	m.eachPlace(func(p *place, g *change.Group, at *change.Place) {
		take(p, at.Box, func(id string, f *wiring.Fitted) bool {
			return at.Item == f.ID || at.Item == "" && slices.ContainsFunc(g.Lamps, func(l string) bool { return minds[l][id] })
		})
	})
	m.eachPlace(func(p *place, _ *change.Group, at *change.Place) {
		take(p, at.Box, func(id string, _ *wiring.Fitted) bool { return at.Item == "" && m.needless(id, minds) })
	})
	for _, b := range m.in.Boxes {
		for _, f := range b.Fit {
			if !taken[f] && len(f.Kind.Positions) > 1 && m.needless(b.ID+"."+f.ID, minds) {
				m.out[[2]string{b.ID, f.ID}] = true
				m.boxes[m.box[b.ID]].changed = true
			}
		}
	}
	m.eachPlace(func(p *place, _ *change.Group, at *change.Place) { p.kinds = m.kindsFor(p, at) })
}

// eachPlace goes through the places of all groups; they are made the first
// time.
func (m *model) eachPlace(do func(*place, *change.Group, *change.Place)) {
	n := 0
	for g := range m.ask.Groups {
		for a := range m.ask.Groups[g].At {
			at := &m.ask.Groups[g].At[a]
			if n == len(m.places) {
				m.places = append(m.places, place{group: g, box: m.box[at.Box]})
			}
			do(&m.places[n], &m.ask.Groups[g], at)
			n++
		}
	}
}

// needless reports a switch that controls lamps of the groups only.
func (m *model) needless(id string, minds map[string]map[string]bool) bool {
	some := false
	for lamp, switches := range minds {
		if switches[id] {
			some = true
			if m.groupOf(lamp) < 0 {
				return false
			}
		}
	}
	return some
}

func (m *model) groupOf(lamp string) int {
	return slices.IndexFunc(m.ask.Groups, func(g change.Group) bool { return slices.Contains(g.Lamps, lamp) })
}

func (m *model) kindsFor(p *place, at *change.Place) []*kit.Accessory {
	switch {
	case at.Keep:
		return []*kit.Accessory{p.found.Kind}
	case at.Kind != nil:
		return []*kit.Accessory{at.Kind}
	}
	kinds := m.ask.Limits.Switches
	if len(kinds) == 0 {
		for _, k := range []switchKind{oneWay, twoWay, intermediate} {
			kinds = append(kinds, m.cat.Accessories[k.name])
		}
	}
	if p.found != nil && !slices.Contains(kinds, p.found.Kind) {
		kinds = append([]*kit.Accessory{p.found.Kind}, kinds...)
	}
	return kinds
}

// control is which switches each lamp as found depends on, by trying all their
// positions: a lamp is lit where the line reaches one side of it and the
// neutral the other.
func (m *model) control() map[string]map[string]bool {
	var ids []string
	var contacts []func(state int) (a, b wiring.End, closed bool)
	lamps := map[string][2]wiring.End{}
	for _, b := range m.in.Boxes {
		for _, f := range b.Fit {
			end := func(name string) wiring.End { return m.find(wiring.End{Box: b.ID, Item: f.ID, Name: name}) }
			for _, l := range f.Kind.Loads {
				lamps[b.ID+"."+f.ID] = [2]wiring.End{end(l.Between[0]), end(l.Between[1])}
			}
			if len(f.Kind.Positions) < 2 {
				continue
			}
			n := len(ids)
			ids = append(ids, b.ID+"."+f.ID)
			for _, c := range f.Kind.Contacts {
				contacts = append(contacts, func(state int) (wiring.End, wiring.End, bool) {
					return end(c.Join[0]), end(c.Join[1]), slices.Contains(c.In, f.Kind.Positions[state>>n&1])
				})
			}
		}
	}
	return m.depends(ids, lamps, func(state int) map[wiring.End]bool {
		live := map[wiring.End]bool{}
		for _, c := range m.in.Circuits {
			live[m.find(wiring.End{Box: c.Board, Item: c.ID, Name: "L"})] = true
		}
		for again := true; again; {
			again = false
			for _, contact := range contacts {
				if a, b, closed := contact(state); closed && live[a] != live[b] {
					live[a], live[b], again = true, true, true
				}
			}
		}
		return live
	})
}

func (m *model) depends(ids []string, lamps map[string][2]wiring.End, live func(state int) map[wiring.End]bool) map[string]map[string]bool {
	minds := map[string]map[string]bool{}
	states := make([]map[wiring.End]bool, 1<<len(ids))
	for s := range states {
		states[s] = live(s)
	}
	for lamp, ends := range lamps {
		minds[lamp] = map[string]bool{}
		for s := range states {
			for i, id := range ids {
				if states[s][ends[0]] != states[s^1<<i][ends[0]] {
					minds[lamp][id] = true
				}
			}
		}
	}
	return minds
}

// circuit is the circuit of a group: the one named, or whose neutral its first
// lamp has.
func (m *model) circuit(g int) int {
	group := m.ask.Groups[g]
	for i, c := range m.in.Circuits {
		if group.Circuit == c.ID || group.Circuit == "" && m.root != nil && m.find(m.lampEnd(group.Lamps[0], 1)) == m.find(wiring.End{Box: c.Board, Item: c.ID, Name: "N"}) {
			return i
		}
	}
	panic(fmt.Sprintf("group %d has no circuit", g))
}

// lampEnd is a terminal of a lamp: side 0 the line side, 1 the neutral.
func (m *model) lampEnd(lamp string, side int) wiring.End {
	for _, b := range m.in.Boxes {
		for _, f := range b.Fit {
			if b.ID+"."+f.ID == lamp {
				return wiring.End{Box: b.ID, Item: f.ID, Name: f.Kind.Loads[0].Between[side]}
			}
		}
	}
	panic("no lamp " + lamp)
}

// Line, neutral and switched line by number.
func (m *model) line(circuit int) int      { return 2 * circuit }
func (m *model) neutral(circuit int) int   { return 2*circuit + 1 }
func (m *model) switched(group int) int    { return m.nets - len(m.ask.Groups) + group }
func (m *model) reach(net int, box string) { m.needs[net] |= 1 << m.box[box] }
