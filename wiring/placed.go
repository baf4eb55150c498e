package wiring

import (
	"strings"

	"strapper/kit"
)

// Landing says in which way a core end is held.
type Landing string

// The ways a core end is held.
const (
	AtTerminal  Landing = "terminal"  // clamped in one terminal, or in terminals linked to each other
	AtConnector Landing = "connector" // joined with other core ends, free in the box
	AtParked    Landing = "parked"    // made safe in a connector of its own
	AtNothing   Landing = "loose"     // no joint mentions it
)

// Placed is what is in one box and where it lands: all that a connection card
// draws. Everything stands in the order of the installation.
type Placed struct {
	Box        *Box
	Items      []PlacedItem      // accessories, then the ways of circuits that start here
	Cables     []PlacedCable     // that end here
	Connectors []PlacedConnector // numbered from 1
}

// PlacedItem is an accessory, or a circuit's way at the consumer unit, with
// all its terminals.
type PlacedItem struct {
	ID        string
	Title     string         // of the accessory's kind; of the circuit, if a way
	Kind      *kit.Accessory //
	Lamp      *Lamp          // where the job names one
	Circuit   *Circuit       // of a way; nil for an accessory
	Switch    int            // index in Graph.Switches; -1 if it has no positions
	Terminals []PlacedTerminal
}

// PlacedTerminal is one terminal and what is clamped in it. Where several
// terminals of the box are one joint, all of its cores are listed at each.
type PlacedTerminal struct {
	Terminal kit.Terminal
	End      End
	Node     Node
	Clamped  []End // core ends
	Linked   []End // other terminals of the same joint: a link runs between them
}

// PlacedCable is a cable that ends in the box.
type PlacedCable struct {
	Cable *Cable
	Far   *Box // where its other end is
	Cores []PlacedCore
}

// PlacedCore is the end of one core and what holds it.
type PlacedCore struct {
	Core      *kit.Core
	End       End
	Node      Node
	At        Landing
	Terminals []End // AtTerminal: the terminals, never empty
	Connector int   // AtConnector: its number
	With      []End // the other core ends there
}

// PlacedConnector is a free joint of two core ends or more.
type PlacedConnector struct {
	Number int
	Node   Node
	Ends   []End
}

// Placed lists what is in a box and where it lands; nil if there is no such
// box.
func (g *Graph) Placed(box string) *Placed {
	b := g.Inst.Box(box)
	if b == nil {
		return nil
	}
	p := &Placed{Box: b, Connectors: g.connectors(box)}
	for _, it := range itemsOf(g.Inst, box) {
		p.Items = append(p.Items, g.placeItem(box, it))
	}
	for _, c := range g.Inst.Cables {
		if c.From == box || c.To == box {
			p.Cables = append(p.Cables, g.placeCable(p, c))
		}
	}
	return p
}

// An item has terminals in a box: an accessory, or the way of a circuit.
type item struct {
	id      string
	kind    *kit.Accessory
	lamp    *Lamp
	circuit *Circuit // of a way
}

func (it item) title() string {
	if it.circuit != nil && it.circuit.Title != "" {
		return it.circuit.Title
	}
	return it.kind.Title
}

func itemsOf(in *Installation, box string) []item {
	var list []item
	if b := in.Box(box); b != nil {
		for _, f := range b.Fit {
			list = append(list, item{id: f.ID, kind: f.Kind, lamp: f.Lamp})
		}
	}
	for _, c := range in.Circuits {
		if c.Board == box {
			list = append(list, item{id: c.ID, kind: c.Way, circuit: c})
		}
	}
	return list
}

func (g *Graph) connectors(box string) []PlacedConnector {
	var list []PlacedConnector
	for n := range g.members {
		ends := g.members[n]
		if len(ends) < 2 || ends[0].Box != box {
			continue
		}
		if terminals, _ := g.sorted(ends); len(terminals) == 0 {
			list = append(list, PlacedConnector{Number: len(list) + 1, Node: Node(n), Ends: ends})
		}
	}
	return list
}

// sorted parts terminals from core ends, each in the given order.
func (g *Graph) sorted(ends []End) (terminals, cores []End) {
	for _, e := range ends {
		if _, core := g.IsCore(e); core != nil {
			cores = append(cores, e)
		} else {
			terminals = append(terminals, e)
		}
	}
	return terminals, cores
}

func (g *Graph) placeItem(box string, it item) PlacedItem {
	p := PlacedItem{ID: it.id, Title: it.title(), Kind: it.kind, Lamp: it.lamp, Circuit: it.circuit, Switch: -1}
	if it.circuit == nil {
		p.Switch = g.SwitchIndex(box + "." + it.id)
	}
	for _, t := range it.kind.Terminals {
		e := End{box, it.id, t.Name}
		n := g.node[e]
		linked, clamped := g.sorted(g.members[n])
		p.Terminals = append(p.Terminals, PlacedTerminal{Terminal: t, End: e, Node: n, Clamped: clamped, Linked: without(linked, e)})
	}
	return p
}

func (g *Graph) placeCable(p *Placed, c *Cable) PlacedCable {
	far := c.To
	if far == p.Box.ID {
		far = c.From
	}
	placed := PlacedCable{Cable: c, Far: g.Inst.Box(far)}
	for i := range c.Kind.Cores {
		core := &c.Kind.Cores[i]
		placed.Cores = append(placed.Cores, g.placeCore(p, core, End{p.Box.ID, c.ID, core.Name}))
	}
	return placed
}

func (g *Graph) placeCore(p *Placed, core *kit.Core, e End) PlacedCore {
	n := g.node[e]
	terminals, cores := g.sorted(g.members[n])
	placed := PlacedCore{Core: core, End: e, Node: n, At: AtConnector, Terminals: terminals, With: without(cores, e)}
	switch {
	case g.loose[n]:
		placed.At = AtNothing
	case len(terminals) > 0:
		placed.At = AtTerminal
	case len(cores) == 1:
		placed.At = AtParked
	}
	for _, c := range p.Connectors {
		if c.Node == n {
			placed.Connector = c.Number
		}
	}
	return placed
}

func without(ends []End, e End) []End {
	var list []End
	for _, x := range ends {
		if x != e {
			list = append(list, x)
		}
	}
	return list
}

// EndName calls an end by its name in a sentence: "the red core of feed",
// "the cpc of feed", "COM of s1".
func (g *Graph) EndName(e End) string {
	switch _, core := g.IsCore(e); {
	case core == nil:
		return e.Name + " of " + e.Item
	case core.Earth:
		return "the " + e.Name + " of " + e.Item
	}
	return "the " + e.Name + " core of " + e.Item
}

// nowhere is where a loose end is, in words.
const nowhere = "joined to nothing"

// Where says in words what holds a core end, or what is joined to a terminal:
// "COM of s1", "the connector with the red core of feed".
func (g *Graph) Where(e End) string {
	n, ok := g.node[e]
	if !ok || g.loose[n] {
		return nowhere
	}
	terminals, cores := g.sorted(g.members[n])
	terminals, cores = without(terminals, e), without(cores, e)
	switch {
	case len(terminals) > 0:
		return g.listEnds(terminals, " linked to ")
	case len(cores) > 0:
		return "the connector with " + g.listEnds(cores, " and ")
	}
	return "a connector of its own"
}

// listEnds joins the names of ends with commas, and the given word before the
// last.
func (g *Graph) listEnds(ends []End, last string) string {
	names := make([]string, len(ends))
	for i, e := range ends {
		names[i] = g.EndName(e)
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + last + names[len(names)-1]
}
