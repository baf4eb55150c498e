package switching

import "strapper/wiring"

// ProveByDiagram proves by decision diagram however few the switches.
func ProveByDiagram(g *wiring.Graph, wants []Want) *Proof { return prove(g, wants, -1, maxNodes) }

// DiagramNodes is the size of the diagram that says when a load is lit.
func (p *Proof) DiagramNodes(load int) int {
	d := p.lit[load].(diagram)
	return d.y.m.Size(d.f)
}

// ProveByTable proves by truth table however many the switches, up to MaxBits.
func ProveByTable(g *wiring.Graph, wants []Want) *Proof { return prove(g, wants, MaxBits, maxNodes) }

// ProveCramped proves with room for few nodes of diagrams, never by table
// first.
func ProveCramped(g *wiring.Graph, wants []Want, nodes int) *Proof {
	return prove(g, wants, -1, nodes)
}

// IsolateByDiagram works out isolation by decision diagram however few the
// switches.
func IsolateByDiagram(boxes []string, g *wiring.Graph) *Isolation {
	return isolate(-1, maxNodes, boxes, g)
}

// IsolateCramped works out isolation with room for few nodes of diagrams, never
// by table first.
func IsolateCramped(boxes []string, g *wiring.Graph, nodes int) *Isolation {
	return isolate(-1, nodes, boxes, g)
}
