package switching

import (
	"strapper/finding"
	"strapper/wiring"
)

// A hazard is a fault that shows in the states in which its condition holds.
// The path to be shown runs from a source to a node. It is put in words only if
// it is seen.
type hazard struct {
	condition
	kind    hazardKind
	circuit int         // whose line or neutral it is about
	other   int         // the second circuit, if there are two
	load    int         // the consumer it is about
	from    int         // source whose path is the witness
	to      wiring.Node // where the path ends
	cable   *wiring.Cable
	seen    bool
	finding finding.Finding // once told
}

type hazardKind uint8

const (
	shortCircuit hazardKind = iota
	earthFault
	circuitsJoined
	neutralsJoined
	neutralToEarth
	seriesLamps // found by [Proof.inSeries]; it has no condition and no path
	liveWhenOff
	earthReturn
	reversedPolarity
	borrowedNeutral
	looseEnd
	liveCPC
)

// hazards lists everything that is looked for in every state.
func (p *Proof) hazards() []hazard {
	k := len(p.g.Origins)
	list := make([]hazard, 0, k*(2*k+4)+len(p.consumers)*(1+k*(5+3*k))+8)
	list = p.betweenSources(list)
	for i := range p.consumers {
		list = p.atConsumer(list, i)
	}
	list = p.looseEnds(list)
	return p.protective(list)
}

// meets is the hazard of a source that reaches a node.
func (p *Proof) meets(kind hazardKind, source int, target wiring.Node) hazard {
	h := hazard{kind: kind, circuit: source / 2, load: -1, from: source, to: target}
	h.require(source, p.n.of[target])
	return h
}

// betweenSources: a line that reaches a neutral or the earth bar over metal
// alone, conductors of two circuits joined, or a neutral joined to earth beyond
// the consumer unit.
func (p *Proof) betweenSources(list []hazard) []hazard {
	add := func(kind hazardKind, circuit, other, source int, target wiring.Node) {
		h := p.meets(kind, source, target)
		h.circuit, h.other = circuit, other
		list = append(list, h)
	}
	for i := range p.g.Origins {
		for j, o := range p.g.Origins {
			add(shortCircuit, i, j, p.lineOf(i), o.N)
		}
		add(earthFault, i, i, p.lineOf(i), p.g.Origins[0].E)
		for j := range i {
			add(circuitsJoined, i, j, p.lineOf(j), p.g.Origins[i].L)
			add(neutralsJoined, i, j, p.neutralOf(j), p.g.Origins[i].N)
		}
		add(neutralToEarth, i, i, p.neutralOf(i), p.g.Origins[0].E)
	}
	return list
}

// atConsumer looks at one consumer, from either side and for every circuit.
// Being in series comes first: it explains the rest.
func (p *Proof) atConsumer(list []hazard, i int) []hazard {
	c := p.consumers[i]
	list = append(list, hazard{kind: seriesLamps, load: i})
	for k := range p.g.Origins {
		for turned, side := range [2]consumer{c, c.turned()} {
			list = append(list, p.liveWhenDark(i, k, &side), p.earthReturn(i, k, &side))
			for j := range p.g.Origins {
				if j != k {
					list = append(list, p.supplied(borrowedNeutral, i, k, j, &side))
				}
				if turned == 1 && !c.coil {
					list = append(list, p.supplied(reversedPolarity, i, k, j, &side))
				}
			}
		}
	}
	return list
}

// liveAt is a hazard of consumer i that has a circuit's line at c's first side.
func (p *Proof) liveAt(kind hazardKind, i, circuit int, c *consumer) hazard {
	h := p.meets(kind, p.lineOf(circuit), c.nodeA)
	h.load = i
	return h
}

// liveWhenDark: the line stands at one side while the other side is no
// neutral, so the lamp is dark and yet live. Whether the neutral is switched
// or missing is told apart when it is reported.
func (p *Proof) liveWhenDark(i, circuit int, c *consumer) hazard {
	h := p.liveAt(liveWhenOff, i, circuit, c)
	h.exclude(c.b, true)
	return h
}

// earthReturn: line at one side, the protective conductor at the other, and no
// neutral that would carry the current (where both are joined, that is the
// fault to be told).
func (p *Proof) earthReturn(i, circuit int, c *consumer) hazard {
	h := p.liveAt(earthReturn, i, circuit, c)
	h.require(p.earth(), c.b)
	h.exclude(c.b, false)
	return h
}

// supplied: the line of one circuit at one side, the neutral of one at the
// other.
func (p *Proof) supplied(kind hazardKind, i, line, neutral int, c *consumer) hazard {
	h := p.liveAt(kind, i, line, c)
	h.other = neutral
	h.require(p.neutralOf(neutral), c.b)
	return h
}

// looseEnds: an end that no joint mentions, or a parked core, that a line
// reaches.
func (p *Proof) looseEnds(list []hazard) []hazard {
	for n := range wiring.Node(p.g.Nodes()) {
		if !p.g.Loose(n) && !p.g.Parked(n) {
			continue
		}
		if _, core := p.g.IsCore(p.g.Members(n)[0]); core == nil {
			continue
		}
		for k := range p.g.Origins {
			list = append(list, p.meets(looseEnd, p.lineOf(k), n))
		}
	}
	return list
}

// protective: a protective conductor that a line reaches, or that carries a
// lamp's neutral.
func (p *Proof) protective(list []hazard) []hazard {
	for i := range p.g.Edges {
		e := &p.g.Edges[i]
		if e.Core == nil || !e.Core.Earth || p.earthed(e.A) {
			continue
		}
		for source := range p.earth() {
			h := p.meets(liveCPC, source, e.A)
			h.cable = e.Cable
			list = append(list, h)
		}
	}
	return list
}

// earthed reports whether a node is joined to the earth bar for good. A
// protective conductor that a switch interrupts is none (IEC 60364-5-54,
// 543.3.3).
func (p *Proof) earthed(n wiring.Node) bool {
	return p.n.of[n] == p.n.of[p.g.Origins[0].E]
}

// report turns the hazards that were seen into findings, one for each code and
// subject, each with its shortest witness.
func (p *Proof) report(m method, list []hazard) {
	var shown []*hazard
	inSeries := map[int]bool{}
	type key struct {
		code string
		at   finding.Subject
	}
	done := map[key]bool{}
	for i := range list {
		h := &list[i]
		if !h.seen || h.kind == liveWhenOff && inSeries[h.load] {
			continue
		}
		h.finding = p.tell(h)
		if k := (key{h.finding.Code, h.finding.Subject}); !done[k] {
			done[k] = true
			shown = append(shown, h)
		}
		if h.kind == seriesLamps {
			inSeries[h.load] = true
		}
	}
	p.witness(m, shown)
	for _, h := range shown {
		p.explain(h)
	}
}

// explain adds the finding, and for a lamp that is live when dark the cause: a
// neutral that is switched, or none at all. Of an accessory's own electronics
// the cause alone is told.
func (p *Proof) explain(h *hazard) {
	f := h.finding
	if h.kind != liveWhenOff {
		p.Findings = append(p.Findings, f)
		return
	}
	c, use := &p.consumers[h.load], p.net[h.dead]
	cause := f
	switch {
	case use.everN:
		cause.Code, cause.Text = "switched-neutral", "a switch stands in the neutral of "+c.name()
	case !use.everL:
		cause.Code, cause.Text, cause.Fix = "no-neutral", "no neutral reaches "+c.name(), "bring the neutral to "+c.what
	}
	if cause.Code == f.Code || !c.own {
		p.Findings = append(p.Findings, f)
	}
	if cause.Code != f.Code {
		p.Findings = append(p.Findings, cause)
	}
}
