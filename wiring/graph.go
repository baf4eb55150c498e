package wiring

import (
	"strapper/kit"
	"strapper/unit"
)

// Node is a joint, or a terminal or core end that is joined to nothing.
type Node int

// EdgeKind tells a conductor from a contact.
type EdgeKind uint8

// The kinds of edge.
const (
	Conductor EdgeKind = iota // a core of a cable: always joined
	Contact                   // closed in some positions of a switch
)

// Edge joins two nodes.
type Edge struct {
	Kind  EdgeKind
	A, B  Node
	Ends  [2]End    // at A and at B
	Cable *Cable    // of a conductor
	Core  *kit.Core // of a conductor
	// Of a contact: the switch's index in Graph.Switches, the positions in
	// which it is closed as a bit mask, and what it conducts through.
	Switch int
	In     uint8
	Via    kit.Via
	Rating unit.Ampere
}

// Switch is an accessory with positions.
type Switch struct {
	Box  *Box
	Item *Fitted
	Kind *kit.Accessory
	name string
}

// Name is how the switch is called in sentences: its box's id, with its own id
// where the box holds several.
func (s *Switch) Name() string { return s.name }

// ID is the switch's id in the job: "hall.s1".
func (s *Switch) ID() string { return s.Box.ID + "." + s.Item.ID }

// Load is current-using equipment between two nodes.
type Load struct {
	Box    *Box
	Item   *Fitted
	A, B   Node // line side first, by the catalogue
	Ends   [2]End
	Lamp   *kit.LampKind
	Power  unit.Watt
	Always bool // own consumption of an accessory; nobody switches it
}

// ID is the load's id in the job: "stairs.lamp".
func (l *Load) ID() string { return l.Box.ID + "." + l.Item.ID }

// Word says what the load does while it is fed or not: a lamp is lit or dark,
// anything else is on or off.
func (l *Load) Word(fed bool) string {
	words := [2]string{"off", "on"}
	if l.Item.Kind.Class == kit.ClassLamp {
		words = [2]string{"dark", "lit"}
	}
	if fed {
		return words[1]
	}
	return words[0]
}

// Current is the load's running current at the given voltage.
func (l *Load) Current(u unit.Volt) unit.Ampere {
	return unit.Ampere(float64(l.Power) / float64(u) / l.Lamp.PowerFactor)
}

// Coil toggles a relay's contacts each time it is energised.
type Coil struct {
	A, B   Node
	Switch int // the relay's index in Graph.Switches
	Power  unit.Watt
}

// Origin is where a circuit leaves the consumer unit.
type Origin struct {
	Circuit *Circuit
	L, N, E Node
}

// Graph is the conditional graph of an installation: what is joined to what,
// and in which positions. It is read-only once built.
type Graph struct {
	Inst     *Installation
	Edges    []Edge
	Switches []Switch
	Loads    []Load
	Coils    []Coil
	Origins  []Origin

	members [][]End // by node
	parked  []bool  // by node: a single core end made safe on its own
	loose   []bool  // by node: an end that no joint mentions
	node    map[End]Node
}

// Nodes is the number of nodes; they are numbered from zero.
func (g *Graph) Nodes() int { return len(g.members) }

// Node finds the node of an end; ok is false if the end does not exist.
func (g *Graph) Node(e End) (n Node, ok bool) {
	n, ok = g.node[e]
	return n, ok
}

// Members lists the ends that are one at a node. Do not change it.
func (g *Graph) Members(n Node) []End { return g.members[n] }

// Parked reports whether the node is a core end made safe on its own.
func (g *Graph) Parked(n Node) bool { return g.parked[n] }

// Loose reports whether the node is an end that no joint mentions.
func (g *Graph) Loose(n Node) bool { return g.loose[n] }

// SwitchIndex finds a switch by its id ("hall.s1"); -1 if there is none.
func (g *Graph) SwitchIndex(id string) int {
	for i := range g.Switches {
		if g.Switches[i].ID() == id {
			return i
		}
	}
	return -1
}

// LoadsOf lists the indexes of an accessory's switched loads ("stairs.lamp").
func (g *Graph) LoadsOf(id string) []int {
	var list []int
	for i := range g.Loads {
		if g.Loads[i].ID() == id && !g.Loads[i].Always {
			list = append(list, i)
		}
	}
	return list
}

// Lamps lists the indexes of the loads that somebody switches: all but the own
// consumption of accessories.
func (g *Graph) Lamps() []int {
	var list []int
	for i := range g.Loads {
		if !g.Loads[i].Always {
			list = append(list, i)
		}
	}
	return list
}

// IsCore reports whether an end is a core end, and of which cable and core.
func (g *Graph) IsCore(e End) (*Cable, *kit.Core) {
	c := g.Inst.Cable(e.Item)
	if c == nil || (c.From != e.Box && c.To != e.Box) {
		return nil, nil
	}
	return c, c.Kind.Core(e.Name)
}
