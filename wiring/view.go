package wiring

import (
	"fmt"
	"io"
	"math/cmplx"

	"strapper/kit"
	"strapper/network"
	"strapper/unit"
)

// The parts of the measuring gear inside a view. The leads are there for every
// node, open until a reading closes two of them.
const (
	lead      unit.Ohm = 1e-6 // each, taken off again
	probe     unit.Ohm = 1e5  // a second voltage is taken with this across the port
	ohmSeries unit.Ohm = 1    // inside the ohmmeter, behind 1 V
	offScale  unit.Ohm = 1e10 // beyond this nothing joins the two leads
	shortest  unit.Ohm = 1e-6 // a core of no length still is a branch
)

// View is the numeric network of a graph in one [Condition], made ready once
// for any number of readings. It holds its workspace: one goroutine at a time,
// and what [View.Solve] returns is good until the next call.
//
// Cores are resistances by size, length and temperature, with half of the
// coupling to their neighbours at each end; closed contacts, devices and bar
// terminals are contact resistances; open contacts conduct nothing. A
// semiconductor contact is its equivalent resistance in a supplied view and
// open in a dead one, since an ohmmeter does not read through it. A running
// load is U²/(P/pf), an idle one its kind's idle resistance, both linear. In a
// dead view the main switch and every device are open, so the neutral bar is
// not tied to the earth bar; the bars still join the circuits' neutrals and cpcs.
type View struct {
	Graph *Graph
	Condition

	cat     *kit.Catalogue
	net     *network.Network
	factor  *network.Factor
	work    *network.Solution
	states  []bool
	node    []network.Node // by Node
	bars    bars
	edges   []branch // by edge
	loads   []branch
	coils   []branch
	devices []network.Switch // by origin
	links   []network.Switch // by origin: line to cpc
	lead    [2][]network.Switch
	tip     [2]network.Node
	meter   branch // between the tips
}

// branch is a place in the network; sw is -1 where nothing switches it and id
// is -1 where there is no branch.
type branch struct {
	sw network.Switch
	id network.Branch
}

var noBranch = branch{-1, -1}

// View builds the network of the graph. Errors name the cable, circuit or
// supply figure that cannot be used.
func (g *Graph) View(cat *kit.Catalogue, c Condition) (*View, error) {
	if c.energised() {
		if err := g.Inst.Supply.usable(); err != nil {
			return nil, err
		}
	}
	v := &View{Graph: g, Condition: c, cat: cat, net: network.New()}
	for range g.Nodes() {
		v.node = append(v.node, v.net.Node())
	}
	v.bars = g.Inst.Supply.connect(v.net, c)
	if err := v.build(); err != nil {
		return nil, err
	}
	var err error
	if v.factor, err = v.net.Factor(c.frequency(g.Inst.Supply)); err != nil {
		return nil, fmt.Errorf("the wiring cannot be made a network: %w", err)
	}
	v.states = v.factor.States()
	return v, nil
}

func (v *View) build() error {
	for i := range v.Graph.Edges {
		b, err := v.edge(&v.Graph.Edges[i])
		if err != nil {
			return err
		}
		v.edges = append(v.edges, b)
	}
	for _, c := range v.Graph.Inst.Cables {
		v.coupling(c)
	}
	for i := range v.Graph.Loads {
		v.loads = append(v.loads, v.load(&v.Graph.Loads[i]))
	}
	for i := range v.Graph.Coils {
		v.coils = append(v.coils, v.coil(&v.Graph.Coils[i]))
	}
	if err := v.origins(); err != nil {
		return err
	}
	v.gear()
	return nil
}

// length is the cable's at the view's bound.
func (v *View) length(c *Cable) unit.Millimetre {
	switch v.Length {
	case Low:
		return c.Length - c.Tolerance
	case High:
		return c.Length + c.Tolerance
	}
	return c.Length
}

func (v *View) contact() unit.Ohm {
	switch r := v.cat.Physics.Contact; v.Length {
	case Low:
		return max(r*contactLow, network.MinResistance)
	case High:
		return max(r*contactHigh, network.MinResistance)
	default:
		return max(r, network.MinResistance)
	}
}

// core is the resistance of one core at the view's bound and temperature.
func (v *View) core(c *Cable, core *kit.Core) (unit.Ohm, error) {
	per, ok := v.cat.Physics.PerMetre(core)
	if !ok {
		return 0, fmt.Errorf("cable %s, core %s: no resistance is tabulated for %v", c.ID, core.Name, core.Area)
	}
	r := v.cat.Physics.At(per.Over(v.length(c)), v.Temperature)
	if v.Length == Low {
		r *= unit.Ohm(1 - v.cat.Physics.BelowMax.Fraction())
	}
	return max(r, shortest), nil
}

func (v *View) edge(e *Edge) (branch, error) {
	a, b := v.node[e.A], v.node[e.B]
	if e.Cable != nil {
		r, err := v.core(e.Cable, e.Core)
		return branch{-1, v.net.Resistor(a, b, r)}, err
	}
	closed := network.Ohms(v.contact())
	if e.Via == kit.ViaElectronic {
		closed = network.Ohms(v.cat.Physics.Electronic)
		if !v.energised() {
			closed = network.Open()
		}
	}
	if e.Kind == Conductor {
		return branch{-1, v.net.Impedance(a, b, closed)}, nil
	}
	sw, id := v.net.Switchable(a, b, closed, network.Open())
	return branch{sw, id}, nil
}

// coupling puts half of each capacitance between two cores at each end.
func (v *View) coupling(c *Cable) {
	for _, k := range c.Kind.Coupling {
		half := k.C.Over(v.length(c)) / 2
		if half < network.MinCapacitance {
			continue
		}
		for _, box := range [2]string{c.From, c.To} {
			a, okA := v.Graph.node[End{box, c.ID, k.Between[0]}]
			b, okB := v.Graph.node[End{box, c.ID, k.Between[1]}]
			if okA && okB {
				v.net.Capacitor(v.node[a], v.node[b], half)
			}
		}
	}
}

// load is switchable between running and idle.
func (v *View) load(l *Load) branch {
	if v.LoadsOut && !l.Always || l.Power <= 0 || l.Lamp == nil {
		return noBranch
	}
	u := float64(v.nominal())
	on := network.Ohms(unit.Ohm(u * u / (float64(l.Power) / l.Lamp.PowerFactor)))
	idle := on
	if l.Lamp.Idle > 0 {
		idle = network.Ohms(l.Lamp.Idle)
	}
	sw, id := v.net.Switchable(v.node[l.A], v.node[l.B], on, idle)
	return branch{sw, id}
}

func (v *View) coil(c *Coil) branch {
	if c.Power <= 0 {
		return noBranch
	}
	u := float64(v.nominal())
	return branch{-1, v.net.Resistor(v.node[c.A], v.node[c.B], unit.Ohm(u*u/float64(c.Power)))}
}

// nominal is the voltage loads are rated at.
func (v *View) nominal() unit.Volt {
	if u := v.Graph.Inst.Supply.Voltage; u > 0 {
		return u
	}
	return 230
}

// origins joins each circuit to the bars, its line through its device.
func (v *View) origins() error {
	contact := network.Ohms(v.contact())
	for _, o := range v.Graph.Origins {
		for _, name := range [3]string{"L", "N", "E"} {
			if _, ok := v.Graph.node[End{o.Circuit.Board, o.Circuit.ID, name}]; !ok {
				return fmt.Errorf("circuit %s: its way at box %q has no terminal %s", o.Circuit.ID, o.Circuit.Board, name)
			}
		}
		device, _ := v.net.Switchable(v.bars.line, v.node[o.L], contact, network.Open())
		link, _ := v.net.Switchable(v.node[o.L], v.node[o.E], network.Ohms(lead), network.Open())
		v.net.Impedance(v.bars.neutral, v.node[o.N], contact)
		v.net.Impedance(v.bars.earth, v.node[o.E], contact)
		v.devices, v.links = append(v.devices, device), append(v.links, link)
	}
	return nil
}

// gear adds the two leads and what is between them: an ohmmeter where there is
// no voltage, else a resistance to load the port with.
func (v *View) gear() {
	for side := range v.tip {
		v.tip[side] = v.net.Node()
		for _, n := range v.node {
			sw, _ := v.net.Switchable(v.tip[side], n, network.Ohms(lead), network.Open())
			v.lead[side] = append(v.lead[side], sw)
		}
	}
	if v.live() {
		sw, id := v.net.Switchable(v.tip[0], v.tip[1], network.Ohms(probe), network.Open())
		v.meter = branch{sw, id}
		return
	}
	v.meter = branch{-1, v.net.Source(v.tip[0], v.tip[1], 1, ohmSeries)}
}

func (v *View) live() bool { return v.Supplied && !v.Loop }

// set writes the states of the network's switches for a reading, leads open. A
// state of another graph is taken as the rest position.
func (v *View) set(s Setting) []bool {
	clear(v.states)
	if len(s.State) != len(v.Graph.Switches) {
		s.State = v.Graph.Rest()
	}
	put := func(b branch, closed bool) {
		if b.sw >= 0 {
			v.states[b.sw] = closed
		}
	}
	for i := range v.edges {
		if v.edges[i].sw >= 0 {
			put(v.edges[i], v.Graph.Edges[i].Closed(s.State))
		}
	}
	for i := range v.loads {
		put(v.loads[i], s.Lit != nil && s.Lit(i))
	}
	for i, sw := range v.devices {
		v.states[sw] = v.energised() && !(i < len(s.Off) && s.Off[i])
	}
	for _, i := range s.Link {
		if i >= 0 && i < len(v.links) {
			v.states[v.links[i]] = true
		}
	}
	return v.states
}

// Solved is the voltages and currents of a view in one setting.
type Solved struct {
	v *View
	s *network.Solution
}

// Solve finds all voltages and currents, with no meter connected.
func (v *View) Solve(s Setting) Solved {
	v.work = v.factor.Solve(v.set(s), v.work)
	return Solved{v, v.work}
}

// Voltage is that of a above b; not ok where the two hang on nothing common.
func (s Solved) Voltage(a, b Node) (network.Voltage, bool) {
	return s.s.Voltage(s.v.node[a], s.v.node[b])
}

// EdgeCurrent is the current in an edge of the graph, A to B as drawn.
func (s Solved) EdgeCurrent(edge int) network.Current { return s.current(s.v.edges[edge]) }

// LoadCurrent is the current in a load, line side first; 0 where it is out.
func (s Solved) LoadCurrent(load int) network.Current { return s.current(s.v.loads[load]) }

// CoilCurrent is the current in a relay's coil.
func (s Solved) CoilCurrent(coil int) network.Current { return s.current(s.v.coils[coil]) }

func (s Solved) current(b branch) network.Current {
	if b.id < 0 {
		return 0
	}
	i, _ := s.s.Current(b.id)
	return i
}

// Port is what a meter finds between two nodes: Thévenin's equivalent.
type Port struct {
	Open      network.Voltage // with a meter of no consumption
	Impedance complex128      // ohms, behind that voltage
	Floating  bool            // no path common to both: any meter reads nothing
}

// Reads is the voltage that a meter of the given resistance shows. A port with
// hardly any impedance is driven, whatever the meter.
func (p Port) Reads(meter unit.Ohm) unit.Volt {
	if p.Floating || meter <= 0 {
		return 0
	}
	r := complex(float64(meter), 0)
	return unit.Volt(cmplx.Abs(complex128(p.Open) * r / (r + p.Impedance)))
}

// Port measures the voltage between a and b. It needs a supplied view and
// returns a floating port from any other.
func (v *View) Port(s Setting, a, b Node) Port {
	if !v.live() || a == b {
		return Port{Floating: a != b}
	}
	open, ok := v.Solve(s).Voltage(a, b)
	if !ok {
		return Port{Floating: true}
	}
	v.connect(a, b)
	v.states[v.meter.sw] = true
	v.work = v.factor.Solve(v.states, v.work)
	loaded, _ := v.work.Voltage(v.tip[0], v.tip[1])
	p := Port{Open: open}
	if loaded.Abs() > 1e-12 {
		p.Impedance = complex(float64(probe), 0) * (complex128(open)/complex128(loaded) - 1)
	}
	return p
}

// connect closes one lead on each node in the states last set.
func (v *View) connect(a, b Node) {
	v.states[v.lead[0][a]], v.states[v.lead[1][b]] = true, true
}

// Resistance is what an ohmmeter, its leads nulled, reads between a and b of a
// dead view, or a loop tester of a loop view. It is not connected where nothing
// that conducts joins the two, nor in a view that has voltage.
func (v *View) Resistance(s Setting, a, b Node) (r unit.Ohm, connected bool) {
	if v.live() {
		return 0, false
	}
	if a == b {
		return 0, true
	}
	v.set(s)
	v.connect(a, b)
	v.work = v.factor.Solve(v.states, v.work)
	volts, _ := v.work.Voltage(v.tip[0], v.tip[1])
	amps, _ := v.work.Current(v.meter.id)
	if real(amps) < float64(1/offScale) {
		return 0, false
	}
	return max(unit.Ohm(real(volts)/real(amps))-2*lead, 0), true
}

// Spice writes the view in one setting as a deck for ngspice, to check it
// against an independent program; see [network.WriteSpice].
func (v *View) Spice(w io.Writer, title string, s Setting) error {
	return v.net.Spice(w, title, v.frequency(v.Graph.Inst.Supply), v.set(s))
}

// SpiceNode is a node's name in that deck.
func (v *View) SpiceNode(n Node) string { return network.SpiceNode("", v.node[n]) }
