package fault

import (
	"slices"

	"strapper/kit"
	"strapper/wiring"
)

// mostStates is the number of positions of all switches that are worked out:
// one bit each. Of more, a walk is taken in which every switch is moved.
const mostStates = 64

// skeleton is an installation made ready to have faults put into it: every core
// end is a node of its own, held to its joint by an edge that a fault can cut.
type skeleton struct {
	g          *wiring.Graph
	states     []wiring.State
	all        uint64 // a bit for each state
	settable   []int  // switches that a person sets and sees
	node       map[wiring.End]int32
	nodes      int32
	fixed      [][2]int32           // joined for good
	hold       map[wiring.End]int32 // the fixed edge that holds a core end
	core       map[[2]string]int32  // the fixed edge that is a core
	contacts   []contact
	loads      []skeletonLoad
	coils      []skeletonCoil
	lines      []int32 // by circuit: the nodes of its terminals
	neutrals   []int32
	earth      int32
	protective []int32      // what should be earthed: protective cores and earth terminals
	leakAmps   float64      // through damaged insulation
	electronic bool         // some contact is a semiconductor
	moves      [][][2]uint8 // by switch: pairs of states between which it alone moves
}

// contact is joined in some states.
type contact struct {
	a, b       int32
	in         uint64
	electronic bool
}

type skeletonLoad struct {
	a, b   int32
	amps   float64
	always bool
	index  int // in the graph's Loads
}

type skeletonCoil struct {
	a, b int32
	sw   int
}

func newSkeleton(g *wiring.Graph, j *judgement) *skeleton {
	k := &skeleton{g: g, node: map[wiring.End]int32{}, hold: map[wiring.End]int32{}, core: map[[2]string]int32{}}
	if j.LeakOhm > 0 {
		k.leakAmps = float64(g.Inst.Supply.Voltage) / float64(j.LeakOhm)
	}
	k.listStates()
	k.joints()
	for i := range g.Edges {
		k.edge(&g.Edges[i])
	}
	for i := range g.Loads {
		l := &g.Loads[i]
		amps := 0.0
		if l.Lamp != nil && l.Lamp.PowerFactor > 0 && g.Inst.Supply.Voltage > 0 {
			amps = float64(l.Current(g.Inst.Supply.Voltage))
		}
		k.loads = append(k.loads, skeletonLoad{k.node[l.Ends[0]], k.node[l.Ends[1]], amps, l.Always, i})
	}
	for _, c := range g.Coils {
		k.coils = append(k.coils, skeletonCoil{k.hub(c.A), k.hub(c.B), c.Switch})
	}
	for i, o := range g.Origins {
		k.lines = append(k.lines, k.hub(o.L))
		k.neutrals = append(k.neutrals, k.hub(o.N))
		if i == 0 {
			k.earth = k.hub(o.E)
		} else {
			k.fix(k.hub(o.E), k.earth)
		}
	}
	k.listProtective()
	return k
}

// listProtective lists what should be earthed, but for what the wiring as drawn
// makes live: a protective core that serves as a line.
func (k *skeleton) listProtective() {
	for n := range wiring.Node(k.g.Nodes()) {
		for _, e := range k.g.Members(n) {
			if k.isProtective(e) {
				k.protective = append(k.protective, k.node[e])
			}
		}
	}
	s := newSim(k)
	s.set()
	s.operate()
	if s.use.metal == 0 {
		return
	}
	for _, line := range k.lines {
		front := s.reach(line, electronics)
		k.protective = slices.DeleteFunc(k.protective, func(n int32) bool { return front[s.root(n)] != 0 })
	}
}

func (k *skeleton) isProtective(e wiring.End) bool {
	if _, core := k.g.IsCore(e); core != nil {
		return core.Earth
	}
	box := k.g.Inst.Box(e.Box)
	if box == nil {
		return false
	}
	for _, x := range box.Fit {
		if t := x.Kind.Terminal(e.Name); x.ID == e.Item && t != nil {
			return t.Role == kit.RoleEarth
		}
	}
	return false
}

// listStates takes all states if a bit is enough for each, else a walk.
func (k *skeleton) listStates() {
	g := k.g
	if n := g.States(); n <= mostStates {
		for i := range n {
			k.states = append(k.states, g.StateAt(i))
		}
	} else {
		k.walk()
	}
	k.all = ^uint64(0) >> (64 - len(k.states))
	at := map[string]int{}
	for i, s := range k.states {
		at[string(s)] = i
	}
	for sw := range g.Switches {
		if seenPosition(g.Switches[sw].Kind.Actuator) {
			k.settable = append(k.settable, sw)
		}
		var pairs [][2]uint8
		for i, s := range k.states {
			other := append(wiring.State(nil), s...)
			for p := int(s[sw]) + 1; p < len(g.Switches[sw].Kind.Positions); p++ {
				other[sw] = uint8(p)
				if j, ok := at[string(other)]; ok {
					pairs = append(pairs, [2]uint8{uint8(i), uint8(j)})
				}
			}
		}
		k.moves = append(k.moves, pairs)
	}
}

// seenPosition reports whether a person sets a position and sees which.
func seenPosition(a kit.Actuator) bool { return a == kit.ByHand || a == kit.ByPush }

// walk moves each switch in turn to its last position, then each back.
func (k *skeleton) walk() {
	s := k.g.Rest()
	visit := func() {
		if len(k.states) < mostStates {
			k.states = append(k.states, append(wiring.State(nil), s...))
		}
	}
	visit()
	for i := range s {
		s[i] = uint8(len(k.g.Switches[i].Kind.Positions) - 1)
		visit()
	}
	for i := range s {
		s[i] = 0
		if i < len(s)-1 {
			visit()
		}
	}
}

func (k *skeleton) fix(a, b int32) int32 {
	k.fixed = append(k.fixed, [2]int32{a, b})
	return int32(len(k.fixed) - 1)
}

// joints gives every end a node and holds it to its joint.
func (k *skeleton) joints() {
	for n := range wiring.Node(k.g.Nodes()) {
		members := k.g.Members(n)
		for _, e := range members {
			k.node[e] = k.nodes
			k.nodes++
		}
		hub := int32(-1)
		for _, e := range members {
			if _, core := k.g.IsCore(e); core != nil {
				continue
			}
			if hub < 0 {
				hub = k.node[e]
			} else {
				k.fix(hub, k.node[e])
			}
		}
		if hub < 0 { // a connector
			hub = k.nodes
			k.nodes++
		}
		for _, e := range members {
			if _, core := k.g.IsCore(e); core != nil && !k.g.Loose(n) {
				k.hold[e] = k.fix(hub, k.node[e])
			}
		}
	}
}

// holder is the node that an end is held to, or the end's own.
func (k *skeleton) holder(e wiring.End) int32 {
	if i, held := k.hold[e]; held {
		return k.fixed[i][0]
	}
	return k.node[e]
}

// hub is the node of a joint's holder.
func (k *skeleton) hub(n wiring.Node) int32 {
	for _, e := range k.g.Members(n) {
		return k.holder(e)
	}
	return 0
}

func (k *skeleton) edge(e *wiring.Edge) {
	a, b := k.node[e.Ends[0]], k.node[e.Ends[1]]
	switch {
	case e.Cable != nil:
		k.core[[2]string{e.Cable.ID, e.Core.Name}] = k.fix(a, b)
	case e.Kind == wiring.Conductor:
		k.fix(a, b)
	default:
		k.contacts = append(k.contacts, contact{a, b, k.mask(e.Switch, e.In), e.Via == kit.ViaElectronic})
		k.electronic = k.electronic || e.Via == kit.ViaElectronic
	}
}

// mask is the states in which a switch stands in one of some positions.
func (k *skeleton) mask(sw int, in uint8) (m uint64) {
	for i, s := range k.states {
		if in>>s[sw]&1 == 1 {
			m |= 1 << i
		}
	}
	return m
}

// patch is what a fault changes in the skeleton.
type patch struct {
	id      string
	cut     []int32    // fixed edges that are not there
	join    [][2]int32 // joined by metal
	loose   [][2]int32 // joined by tens of ohms
	leak    [][2]int32 // joined by thousands of ohms
	open    []int32    // contacts that never close
	extra   []contact  // contacts in their place
	dead    int32      // a load that does not light, plus one
	visible string     // the box in which a look shows it
	own     string     // the cable or lamp that, tested alone, shows it
	shows   int8       // what it shows then
}

// patch translates a fault. It says the same as [Apply], and a test holds the
// two together.
func (k *skeleton) patch(f *Fault) patch {
	p := patch{id: f.ID()}
	switch f.Kind {
	case Exchanged:
		a, b := f.Ends[0], f.Ends[1]
		p.cut = []int32{k.hold[a], k.hold[b]}
		p.join = [][2]int32{{k.node[a], k.holder(b)}, {k.node[b], k.holder(a)}}
		if !k.alike(a, b) {
			p.visible = a.Box
		}
	case Misplaced:
		p.cut = []int32{k.hold[f.Ends[0]]}
		p.join = [][2]int32{{k.node[f.Ends[0]], k.holder(f.To)}}
		p.visible = f.Ends[0].Box
	case Off, NoEarth:
		p.cut = []int32{k.hold[f.Ends[0]]}
		p.visible = f.Ends[0].Box
	case Slack:
		p.cut = []int32{k.hold[f.Ends[0]]}
		p.loose = [][2]int32{{k.node[f.Ends[0]], k.holder(f.Ends[0])}}
		p.visible = f.Ends[0].Box
	case Bridged:
		p.join = [][2]int32{{k.holder(f.Ends[0]), k.holder(f.Ends[1])}}
		p.visible = f.Ends[0].Box
	case Broken:
		p.own, p.shows = f.Cable, broken
		p.cut = []int32{k.core[[2]string{f.Cable, f.Cores[0]}]}
	case Shorted, Leaking:
		a, b := k.fixed[k.core[[2]string{f.Cable, f.Cores[0]}]], k.fixed[k.core[[2]string{f.Cable, f.Cores[1]}]]
		pair := [][2]int32{{a[0], b[0]}}
		p.own = f.Cable
		if f.Kind == Shorted {
			p.join, p.shows = pair, short
		} else {
			p.leak, p.shows = pair, low
		}
	case LeakyLamp:
		p.own, p.shows = f.Box+"."+f.Item, low
		p.leak = [][2]int32{{k.node[f.Ends[0]], k.holder(f.Ends[1])}}
	case DeadLamp:
		for i := range k.loads {
			if l := &k.g.Loads[k.loads[i].index]; l.Box.ID == f.Box && l.Item.ID == f.Item && !l.Always {
				p.dead = int32(i + 1)
			}
		}
	case WrongKind, NoContact, Welded, Stuck, DeadSwitch:
		k.patchSwitch(f, &p)
	}
	return p
}

// alike reports whether the eye cannot tell two core ends apart: cores of one
// colour in the same cable.
func (k *skeleton) alike(a, b wiring.End) bool {
	_, x := k.g.IsCore(a)
	_, y := k.g.IsCore(b)
	return a.Item == b.Item && x != nil && y != nil && x.Colour == y.Colour
}

// patchSwitch puts the contacts of a faulty accessory in place of its own.
func (k *skeleton) patchSwitch(f *Fault, p *patch) {
	sw := k.g.SwitchIndex(f.Box + "." + f.Item)
	i := int32(0)
	for e := range k.g.Edges {
		edge := &k.g.Edges[e]
		if edge.Kind != wiring.Contact {
			continue
		}
		if edge.Switch == sw {
			p.open = append(p.open, i)
		}
		i++
	}
	kind := f.As
	if f.Kind != WrongKind {
		kind = worn(k.g.Switches[sw].Kind, f)
	} else {
		p.visible = f.Box
	}
	for _, c := range kind.Contacts {
		var in uint8
		for n, name := range kind.Positions {
			for _, at := range c.In {
				if at == name {
					in |= 1 << n
				}
			}
		}
		end := func(name string) int32 { return k.node[wiring.End{Box: f.Box, Item: f.Item, Name: name}] }
		p.extra = append(p.extra, contact{end(c.Join[0]), end(c.Join[1]), k.mask(sw, in), c.Via == kit.ViaElectronic})
	}
}
