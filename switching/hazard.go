package switching

import (
	"fmt"

	"strapper/finding"
	"strapper/wiring"
)

// A hazard is a fault that shows in some states. When gives the states, one
// word of a block at a time; the path to be shown runs from a source to a
// node. The finding lacks only its witness.
type hazard struct {
	finding finding.Finding
	from    int         // source whose path is the witness
	to      wiring.Node // where the path ends
	when    func(b *block, w int) uint64
	seen    bool
}

func (h *hazard) examine(b *block) {
	for w := 0; w < len(b.valid) && !h.seen; w++ {
		h.seen = h.when(b, w) != 0
	}
}

// hazards lists everything that is looked for in every state.
func (p *Proof) hazards() []hazard {
	var list []hazard
	list = append(list, p.shorts()...)
	list = append(list, p.crossings()...)
	for i := range p.g.Loads {
		list = append(list, p.lampHazards(i)...)
	}
	list = append(list, p.looseEnds()...)
	return append(list, p.protective()...)
}

func (p *Proof) circuit(i int) string { return p.g.Origins[i].Circuit.ID }

func (p *Proof) forbid(code string, at finding.Subject, fix, format string, args ...any) finding.Finding {
	return finding.Finding{Code: code, Severity: finding.Forbids, Subject: at, Text: fmt.Sprintf(format, args...), Fix: fix}
}

func circuitSubject(id string) finding.Subject { return finding.Subject("circuits." + id) }

// shorts: a line that reaches a neutral or the earth bar over metal alone.
func (p *Proof) shorts() []hazard {
	var list []hazard
	for i := range p.g.Origins {
		for j := range p.g.Origins {
			list = append(list, p.meets(p.lineOf(i), p.g.Origins[j].N, p.forbid("short-circuit", circuitSubject(p.circuit(i)),
				"separate the two where the path shows them joined", "the line of %s reaches the neutral of %s with no lamp between", p.circuit(i), p.circuit(j))))
		}
		list = append(list, p.meets(p.lineOf(i), p.g.Origins[0].E, p.forbid("earth-fault", circuitSubject(p.circuit(i)),
			"separate the two where the path shows them joined", "the line of %s reaches the protective conductor", p.circuit(i))))
	}
	return list
}

// crossings: conductors of two circuits joined, or a neutral joined to earth
// beyond the consumer unit.
func (p *Proof) crossings() []hazard {
	var list []hazard
	for i := range p.g.Origins {
		for j := range i {
			list = append(list,
				p.meets(p.lineOf(j), p.g.Origins[i].L, p.forbid("circuits-joined", circuitSubject(p.circuit(i)),
					"keep each final circuit electrically separate", "the lines of %s and %s are joined", p.circuit(j), p.circuit(i))),
				p.meets(p.neutralOf(j), p.g.Origins[i].N, p.forbid("neutrals-joined", circuitSubject(p.circuit(i)),
					"keep each final circuit electrically separate, its neutral included", "the neutrals of %s and %s are joined beyond the consumer unit", p.circuit(j), p.circuit(i))))
		}
		list = append(list, p.meets(p.neutralOf(i), p.g.Origins[0].E, p.forbid("neutral-to-earth", circuitSubject(p.circuit(i)),
			"separate neutral and protective conductor", "the neutral of %s is joined to the protective conductor beyond the origin", p.circuit(i))))
	}
	return list
}

func (p *Proof) meets(source int, target wiring.Node, f finding.Finding) hazard {
	net := p.n.of[target]
	return hazard{finding: f, from: source, to: target, when: func(b *block, w int) uint64 { return b.of(source, net)[w] }}
}

func loadSubject(l *wiring.Load) finding.Subject { return finding.Subject("boxes." + l.ID()) }

// lampHazards looks at one load: live while dark, neutral of another circuit,
// returning by the protective conductor, line and neutral exchanged, in series.
func (p *Proof) lampHazards(i int) []hazard {
	load := &p.g.Loads[i]
	a, c := p.n.of[load.A], p.n.of[load.B]
	var list []hazard
	for k := range p.g.Origins {
		list = append(list, p.liveWhenDark(load, k, load.A, load.B), p.liveWhenDark(load, k, load.B, load.A))
		line := p.lineOf(k)
		list = append(list, hazard{
			finding: p.forbid("reversed-polarity", loadSubject(load), "exchange the two conductors at "+load.Item.ID, "line and neutral are exchanged at %s", load.ID()),
			from:    line, to: load.B,
			when: func(b *block, w int) uint64 { return b.of(line, c)[w] & p.neutral(b, a, w) },
		}, hazard{
			finding: p.forbid("earth-return", loadSubject(load), "give the lamp its own circuit's neutral", "the current of %s returns by the protective conductor", load.ID()),
			from:    line, to: load.A,
			when: func(b *block, w int) uint64 {
				e := p.earth()
				return b.of(line, a)[w]&b.of(e, c)[w] | b.of(line, c)[w]&b.of(e, a)[w]
			},
		})
		list = append(list, p.borrowed(load, k)...)
	}
	return append(list, p.series(i))
}

// liveWhenDark: the line stands at one side while the other side is no
// neutral, so the lamp is dark and yet live. Whether the neutral is switched
// or missing is told apart when it is reported.
func (p *Proof) liveWhenDark(load *wiring.Load, circuit int, side, other wiring.Node) hazard {
	line, a, c := p.lineOf(circuit), p.n.of[side], p.n.of[other]
	return hazard{
		finding: p.forbid("live-when-off", loadSubject(load), "switch the line, and bring the neutral to the lamp unbroken", "%s is dark and still live", load.ID()),
		from:    line, to: side,
		when: func(b *block, w int) uint64 {
			return b.of(line, a)[w] &^ (p.neutral(b, c, w) | b.of(p.earth(), c)[w])
		},
	}
}

func (p *Proof) borrowed(load *wiring.Load, circuit int) []hazard {
	var list []hazard
	line, a, c := p.lineOf(circuit), p.n.of[load.A], p.n.of[load.B]
	for j := range p.g.Origins {
		if j == circuit {
			continue
		}
		neutral := p.neutralOf(j)
		list = append(list, hazard{
			finding: p.forbid("borrowed-neutral", loadSubject(load), "bring the neutral of the circuit that feeds the lamp, or its line from the circuit of the neutral",
				"%s takes its line from %s and its neutral from %s", load.ID(), p.circuit(circuit), p.circuit(j)),
			from: line, to: load.A,
			when: func(b *block, w int) uint64 {
				return b.of(line, a)[w]&b.of(neutral, c)[w] | b.of(line, c)[w]&b.of(neutral, a)[w]
			},
		})
	}
	return list
}

// looseEnds: an end that no joint mentions, or a parked core, that a line
// reaches.
func (p *Proof) looseEnds() []hazard {
	var list []hazard
	for n := range wiring.Node(p.g.Nodes()) {
		end := p.g.Members(n)[0]
		_, core := p.g.IsCore(end)
		if core == nil || !p.g.Loose(n) && !p.g.Parked(n) {
			continue
		}
		f := p.forbid("live-end", end.Subject(), "join it, park it in a connector, or disconnect its other end", "core %s ends loose in box %s and can be live", end, end.Box)
		if p.g.Parked(n) {
			f = finding.Finding{Code: "live-spare", Severity: finding.Caution, Subject: end.Subject(), Text: fmt.Sprintf("spare core %s, parked in box %s, can be live", end, end.Box), Fix: "disconnect its other end if nothing needs it"}
		}
		list = append(list, p.anyLine(n, f)...)
	}
	return list
}

func (p *Proof) anyLine(n wiring.Node, f finding.Finding) []hazard {
	list := make([]hazard, len(p.g.Origins))
	for i := range list {
		list[i] = p.meets(p.lineOf(i), n, f)
	}
	return list
}

// protective: a protective conductor that a line reaches, or that carries a
// lamp's neutral.
func (p *Proof) protective() []hazard {
	var list []hazard
	for i := range p.g.Edges {
		e := &p.g.Edges[i]
		if e.Core == nil || !e.Core.Earth || p.n.of[e.A] == p.n.of[p.g.Origins[0].E] {
			continue
		}
		f := p.forbid("cpc-live", finding.Subject("cables."+e.Cable.ID), "use the cpc as protective conductor only; run a cable with one core more", "the cpc of cable %s is used as a live conductor", e.Cable.ID)
		list = append(list, p.anyLine(e.A, f)...)
		for k := range p.g.Origins {
			list = append(list, p.meets(p.neutralOf(k), e.A, f))
		}
	}
	return list
}

// reportHazards turns the hazards that were seen into findings, one for each
// code and subject, each with its shortest witness.
func (p *Proof) reportHazards(b *block, list []hazard) {
	type key struct {
		code string
		at   finding.Subject
	}
	done := map[key]bool{}
	for i := range list {
		h := &list[i]
		k := key{h.finding.Code, h.finding.Subject}
		if !h.seen || done[k] {
			continue
		}
		done[k] = true
		h.finding.Witness = p.witness(b, h)
		p.Findings = append(p.Findings, h.finding)
		p.explainNeutral(h)
	}
}

// explainNeutral adds the cause of a lamp that is live when dark: a neutral
// that is switched, or none at all.
func (p *Proof) explainNeutral(h *hazard) {
	if h.finding.Code != "live-when-off" {
		return
	}
	f := h.finding
	use := p.net[p.n.of[p.farSide(h)]]
	switch {
	case use.everN:
		f.Code, f.Text = "switched-neutral", "a switch stands in the neutral of "+string(h.finding.Subject[len("boxes."):])
	case !use.everL:
		f.Code, f.Text, f.Fix = "no-neutral", "no neutral reaches "+string(h.finding.Subject[len("boxes."):]), "bring the neutral to the lamp"
	default:
		return
	}
	p.Findings = append(p.Findings, f)
}

// farSide is the node across the load from the one the hazard names.
func (p *Proof) farSide(h *hazard) wiring.Node {
	for i := range p.g.Loads {
		l := &p.g.Loads[i]
		if loadSubject(l) == h.finding.Subject && l.A == h.to {
			return l.B
		}
		if loadSubject(l) == h.finding.Subject && l.B == h.to {
			return l.A
		}
	}
	return h.to
}
