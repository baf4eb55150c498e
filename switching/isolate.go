package switching

import (
	"slices"

	"strapper/kit"
	"strapper/wiring"
)

// Isolation is what must be off before some boxes are opened, so that no
// terminal and no core end in them can be live in any position of any switch,
// whatever in those boxes is taken apart.
//
// Needed is the smallest such set of circuits, and there is only one: each
// circuit in it feeds something in the boxes on its own. A tester alone cannot
// find it. A borrowed neutral reads nothing to earth until its joint is taken
// apart; then it is live through the lamp that borrows it.
type Isolation struct {
	Boxes  []string        // opened at the same time
	Board  bool            // one of them is a consumer unit: its main switch must be off, and its incoming terminals stay live
	Needed []Need          // circuits to switch off, in the order of the installation
	Beside []Beside        // others to switch off too, in the same order
	Dark   []string        // loads that no position feeds while all of these are off ("hall.lamp"), fed in some otherwise
	Partly []string        // loads fed in fewer positions than otherwise
	Also   []wiring.Served // what else the job says hangs on these circuits
	Exact  bool            // false: too large to work out, and Needed is every circuit
}

// Need is one circuit that must be off and what shows it.
type Need struct {
	Circuit *wiring.Circuit
	Live    []wiring.End // what it can make live in the boxes, in some position
	At      wiring.End   // one of them, for which the witness speaks
	Through bool         // only through a lamp, once the conductors are taken apart: a neutral that is borrowed or not held
	State   wiring.State // the positions of the witness
	Witness string       // what would be live, in which positions, by which path
}

// Beside is a circuit that is not needed and yet to be switched off: its
// neutral comes to the boxes and nothing done in them makes it live, but a bad
// joint elsewhere would. Or Witness says what it makes live once the others
// are off, because the device of one of them may break its neutral too.
type Beside struct {
	Circuit *wiring.Circuit
	Witness string
}

// Why is the reason in words.
func (b *Beside) Why() string {
	if b.Witness == "" {
		return "its neutral comes here; nothing done here makes it live, but a bad joint elsewhere would"
	}
	return "once the others are off, " + b.Witness
}

// Circuits lists the ids of the circuits that must be off.
func (is *Isolation) Circuits() []string {
	list := make([]string, len(is.Needed))
	for i := range is.Needed {
		list[i] = is.Needed[i].Circuit.ID
	}
	return list
}

// Has reports whether a circuit must be off.
func (is *Isolation) Has(circuit string) bool { return slices.Contains(is.Circuits(), circuit) }

// All lists the circuits to switch off: those needed and those beside them.
func (is *Isolation) All() []*wiring.Circuit {
	var list []*wiring.Circuit
	for i := range is.Needed {
		list = append(list, is.Needed[i].Circuit)
	}
	for i := range is.Beside {
		list = append(list, is.Beside[i].Circuit)
	}
	return list
}

// Isolate works out what must be off before the boxes are opened. Boxes that
// the graph does not have count for nothing.
//
// Method. All joints of the boxes are taken apart, which is the worst that can
// be done in them: where taking apart only some leaves an end live, the first
// end of the box on the way there is live with all of them apart. On what is
// left, for each circuit, the states in which its line reaches a net are the
// least fixpoint over contacts and, so far as neither neutral nor earth holds
// the net, over lamps and coils (see Prove). Switching off a circuit whose
// device may break the neutral lets go of that neutral, so circuits are added
// until none more is live. Both steps only ever ask for more, so the result is
// the least set (Tarski, Pacific J. Math. 5 (1955) 285; from memory, to be
// confirmed).
//
// Switches, sensors, relays and local isolators count as free to stand in any
// position: only a circuit's own device is locked off. Capacitive coupling is
// left out; package reading tells what a tester shows of it.
//
// The first graph is the wiring as it is now; what goes dark is worked out from
// it. Later graphs are conditions the work leads to, with the same circuits. The
// set is then safe at every stage between them, whatever the order in which
// the boxes are done, so long as all boxes that the work opens are given
// at once: taken apart, they leave nothing that differs.
func Isolate(boxes []string, now *wiring.Graph, later ...*wiring.Graph) *Isolation {
	return isolate(blockBits, maxNodes, boxes, now, later...)
}

func isolate(tableBits, nodes int, boxes []string, now *wiring.Graph, later ...*wiring.Graph) *Isolation {
	is := &Isolation{Boxes: boxes, Exact: true}
	for _, c := range now.Inst.Circuits {
		is.Board = is.Board || slices.Contains(boxes, c.Board)
	}
	var all conditions
	for _, g := range append([]*wiring.Graph{now}, later...) {
		a := survey(apart(g, boxes), tableBits, nodes)
		is.Exact = is.Exact && a != nil
		all = append(all, a)
	}
	if is.Exact {
		is.Needed = all.needed(boxes)
		is.besides(all, boxes)
	} else {
		is.all(now)
	}
	is.darken(survey(now, tableBits, nodes))
	return is
}

// conditions are the graphs that the boxes are opened in, taken apart.
type conditions []*reached

// exposed is as of one graph, over all of them.
func (c conditions) exposed(boxes []string, off []*exposure) []*exposure {
	all := make([]*exposure, len(off))
	for _, a := range c {
		for i, e := range a.exposed(boxes, off) {
			if all[i] == nil {
				all[i] = e
			}
		}
	}
	return all
}

// besides adds what comes to the boxes otherwise, and what that in its turn
// asks for, in the order of the installation.
func (is *Isolation) besides(all conditions, boxes []string) {
	for _, a := range all {
		for _, c := range a.arriving(boxes) {
			is.beside(Beside{Circuit: c})
		}
	}
	circuits := all[0].p.g.Inst.Circuits
	for more := true; more; {
		more = false
		off := make([]*exposure, len(circuits))
		for _, c := range is.All() {
			off[place(circuits, c.ID)] = &exposure{}
		}
		for i, e := range all.exposed(boxes, off) {
			if e != nil {
				is.beside(Beside{circuits[i], e.in.p.exposure(i, e)})
				more = true
			}
		}
	}
	slices.SortStableFunc(is.Beside, func(a, b Beside) int { return place(circuits, a.Circuit.ID) - place(circuits, b.Circuit.ID) })
}

func (is *Isolation) beside(b Beside) {
	if place(is.All(), b.Circuit.ID) < 0 {
		is.Beside = append(is.Beside, b)
	}
}

// arriving lists the circuits of which line or neutral comes to the boxes.
func (a *reached) arriving(boxes []string) []*wiring.Circuit {
	p := a.p
	comes := make([]bool, len(p.g.Origins))
	a.m.views(func(v view) {
		for n := range wiring.Node(p.g.Nodes()) {
			if m := p.g.Members(n); len(m) == 0 || !slices.Contains(boxes, m[0].Box) {
				continue
			}
			for i := range comes {
				net := p.n.of[n]
				comes[i] = comes[i] || v.reached(p.neutralOf(i), net).any() || v.reached(p.lineOf(i), net).any()
			}
		}
	})
	var list []*wiring.Circuit
	for i, yes := range comes {
		if yes {
			list = append(list, p.g.Origins[i].Circuit)
		}
	}
	return list
}

func place(order []*wiring.Circuit, id string) int {
	return slices.IndexFunc(order, func(c *wiring.Circuit) bool { return c.ID == id })
}

// all asks for every circuit, where nothing smaller can be shown to do.
func (is *Isolation) all(g *wiring.Graph) {
	for _, c := range g.Inst.Circuits {
		is.Needed = append(is.Needed, Need{Circuit: c, Witness: "the switches act together in more ways than can be worked out, so every circuit must be off"})
	}
}

// apart is the graph with every joint of the boxes taken apart; nil where
// there is nothing to build it from.
func apart(g *wiring.Graph, boxes []string) *wiring.Graph {
	in := *g.Inst
	in.Joints = slices.DeleteFunc(slices.Clone(in.Joints), func(j wiring.Joint) bool { return slices.Contains(boxes, j.Box) })
	built, _ := wiring.Build(&in)
	return built
}

// A reached is a graph with what every source reaches over metal, as a proof
// works it out, and nothing else of a proof.
type reached struct {
	p *Proof
	m method
}

// survey is nil where the graph is too large, or has no circuit.
func survey(g *wiring.Graph, tableBits, nodes int) *reached {
	if g == nil || len(g.Origins) == 0 || len(g.Origins) > 64 {
		return nil
	}
	p := &Proof{g: g, n: contract(g)}
	p.findSources()
	p.findConsumers()
	l := newLayout(g)
	if l.bits > tableBits {
		y := newSymbolic(g, p.n, p.sources, nodes)
		if y.fill(); !y.gaveUp() {
			return &reached{p, y}
		}
		if l.bits > MaxBits {
			return nil
		}
	}
	return &reached{p, newTabular(l, p.n, p.sources)}
}

// needed is the least set of circuits, with their witnesses.
func (c conditions) needed(boxes []string) []Need {
	found := make([]*exposure, len(c[0].p.g.Origins))
	for more := true; more; {
		more = false
		for i, e := range c.exposed(boxes, found) {
			if e != nil {
				found[i], more = e, true
			}
		}
	}
	var list []Need
	for i, e := range found {
		if e != nil {
			list = append(list, e.in.need(i, e))
		}
	}
	return list
}

// An exposure is where and when one circuit makes something in the boxes live.
type exposure struct {
	in      *reached
	live    map[wiring.Node]bool
	at      wiring.Node
	through bool
	state   wiring.State
	moved   int
	broken  []bool // by circuit: neutrals taken as let go
}

// exposed looks for what each circuit that is still on makes live; nil for a
// circuit that makes nothing live, or is off already.
func (a *reached) exposed(boxes []string, off []*exposure) []*exposure {
	p := a.p
	broken := make([]bool, len(off))
	for i, e := range off {
		broken[i] = e != nil && breaksNeutral(p.g.Origins[i].Circuit)
	}
	seen := make([]*exposure, len(off))
	a.m.views(func(v view) {
		held := p.heldBy(v, broken)
		for i := range off {
			if off[i] != nil {
				continue
			}
			metal := make([]function, p.n.count)
			for net := range metal {
				metal[net] = v.reached(p.lineOf(i), int32(net))
			}
			any := p.through(v, -1, metal, without(held, metal))
			for n := range wiring.Node(p.g.Nodes()) {
				if m := p.g.Members(n); len(m) > 0 && slices.Contains(boxes, m[0].Box) && any[p.n.of[n]].any() {
					if seen[i] == nil {
						seen[i] = &exposure{in: a, live: map[wiring.Node]bool{}, broken: broken}
					}
					seen[i].add(n, metal[p.n.of[n]], any[p.n.of[n]])
				}
			}
		}
	})
	return seen
}

// without is where nets are held and yet not live over metal: one that is both
// is a short circuit, which passes on what it has of voltage until a device
// opens.
func without(held, metal []function) []function {
	list := make([]function, len(held))
	for net := range held {
		list[net] = held[net].andNot(metal[net])
	}
	return list
}

// breaksNeutral: some devices with residual current protection open the
// neutral as well as the line; makers differ, so it is taken as open where
// that is worse (common practice, no source). One before the circuit does so
// too: it stays on, and trips when the neutral of a circuit that is off touches
// earth.
func breaksNeutral(c *wiring.Circuit) bool {
	return c.RCD != nil || c.Device != nil && (c.Device.Type == kit.RCBO || c.Device.Type == kit.RCD)
}

// heldBy is, for each net, the states in which earth or a neutral holds it.
func (p *Proof) heldBy(v view, broken []bool) []function {
	held := make([]function, p.n.count)
	for net := range held {
		held[net] = v.reached(p.earth(), int32(net))
		for i := range p.g.Origins {
			if !broken[i] {
				held[net] = held[net].or(v.reached(p.neutralOf(i), int32(net)))
			}
		}
	}
	return held
}

// add notes a node that is live; the witness is kept for metal rather than a
// lamp, then for the fewest switches moved.
func (e *exposure) add(n wiring.Node, metal, any function) {
	first := len(e.live) == 0
	e.live[n] = true
	through := !metal.any()
	where := metal
	if through {
		where = any
	}
	s, _ := where.fewest()
	moved := 0
	for _, position := range s {
		moved += b2i(position > 0)
	}
	if first || e.through && !through || e.through == through && moved < e.moved {
		e.at, e.through, e.state, e.moved = n, through, s, moved
	}
}

func (a *reached) need(i int, e *exposure) Need {
	g := a.p.g
	need := Need{Circuit: g.Origins[i].Circuit, Through: e.through, State: e.state, At: g.Members(e.at)[0]}
	for n := range wiring.Node(g.Nodes()) {
		if e.live[n] {
			need.Live = append(need.Live, g.Members(n)[0])
		}
	}
	need.Witness = a.p.exposure(i, e)
	return need
}

// darken lists what goes out, and what else the job says hangs on the circuits. What a neutral that may be let go feeds is taken
// as going out with it.
func (is *Isolation) darken(a *reached) {
	is.Dark, is.Partly, is.Also = nil, nil, nil
	var all []string
	for _, c := range is.All() {
		is.Also = append(is.Also, c.Also...)
		all = append(all, c.ID)
	}
	if a == nil {
		return
	}
	p := a.p
	off, broken := make([]bool, len(p.g.Origins)), make([]bool, len(p.g.Origins))
	for i, o := range p.g.Origins {
		off[i] = slices.Contains(all, o.Circuit.ID)
		broken[i] = off[i] && breaksNeutral(o.Circuit)
	}
	none := make([]bool, len(off))
	was, stays, fewer := make([]bool, len(p.g.Loads)), make([]bool, len(p.g.Loads)), make([]bool, len(p.g.Loads))
	a.m.views(func(v view) {
		for i := range p.g.Loads {
			before, after := p.fed(v, i, none, none), p.fed(v, i, off, broken)
			was[i] = was[i] || before.any()
			stays[i] = stays[i] || after.any()
			fewer[i] = fewer[i] || before.andNot(after).any()
		}
	})
	for _, i := range p.g.Lamps() {
		switch id := p.g.Loads[i].ID(); {
		case was[i] && !stays[i]:
			is.Dark = append(is.Dark, id)
		case fewer[i]:
			is.Partly = append(is.Partly, id)
		}
	}
	is.Dark, is.Partly = slices.Compact(is.Dark), slices.Compact(is.Partly)
}

// fed is the states in which a load stands between a line that is on and a
// neutral that is not let go.
func (p *Proof) fed(v view, load int, off, broken []bool) function {
	c := &p.consumers[load]
	at := func(net int32, source func(int) int, without []bool) function {
		f := none(v)
		for i := range p.g.Origins {
			if !without[i] {
				f = f.or(v.reached(source(i), net))
			}
		}
		return f
	}
	one := at(c.a, p.lineOf, off).and(at(c.b, p.neutralOf, broken))
	return one.or(at(c.b, p.lineOf, off).and(at(c.a, p.neutralOf, broken)))
}
