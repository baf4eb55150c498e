package switching

import (
	"fmt"

	"strapper/finding"
)

func forbid(code string, at finding.Subject, fix, format string, args ...any) finding.Finding {
	return finding.Finding{Code: code, Severity: finding.Forbids, Subject: at, Text: fmt.Sprintf(format, args...), Fix: fix}
}

func (p *Proof) circuit(i int) string { return p.g.Origins[i].Circuit.ID }

func boxSubject(id string) finding.Subject { return finding.Subject("boxes." + id) }

// tell puts a hazard in words, without its witness.
func (p *Proof) tell(h *hazard) finding.Finding {
	switch {
	case h.kind == looseEnd:
		return p.tellEnd(h)
	case h.kind == liveCPC:
		return forbid("cpc-live", finding.Subject("cables."+h.cable.ID), "use the cpc as protective conductor only; run a cable with one core more",
			"the cpc of cable %s is used as a live conductor", h.cable.ID)
	case h.load >= 0:
		return p.tellConsumer(h)
	}
	return p.tellCircuit(h)
}

func (p *Proof) tellCircuit(h *hazard) finding.Finding {
	const apart, separate = "separate the two where the path shows them joined", "keep each final circuit electrically separate"
	at, own, other := finding.Subject("circuits."+p.circuit(h.circuit)), p.circuit(h.circuit), p.circuit(h.other)
	switch h.kind {
	case shortCircuit:
		return forbid("short-circuit", at, apart, "the line of %s reaches the neutral of %s with no lamp between", own, other)
	case earthFault:
		return forbid("earth-fault", at, apart, "the line of %s reaches the protective conductor", own)
	case circuitsJoined:
		return forbid("circuits-joined", at, separate, "the lines of %s and %s are joined", other, own)
	case neutralsJoined:
		return forbid("neutrals-joined", at, separate+", its neutral included", "the neutrals of %s and %s are joined beyond the consumer unit", other, own)
	}
	return forbid("neutral-to-earth", at, "separate neutral and protective conductor",
		"the neutral of %s is joined to the protective conductor beyond the origin", own)
}

func (p *Proof) tellConsumer(h *hazard) finding.Finding {
	c := &p.consumers[h.load]
	at, name := boxSubject(c.id), c.name()
	switch h.kind {
	case seriesLamps:
		return forbid("series-lamps", at, "give each lamp its own line and neutral", "%s is in series with another lamp", name)
	case earthReturn:
		return forbid("earth-return", at, "give "+c.what+" its own circuit's neutral", "the current of %s returns by the protective conductor", name)
	case reversedPolarity:
		return forbid("reversed-polarity", at, "exchange the two conductors at "+c.id, "line and neutral are exchanged at %s", name)
	case borrowedNeutral:
		return forbid("borrowed-neutral", at, "bring the neutral of the circuit that feeds "+c.what+", or its line from the circuit of the neutral",
			"%s takes its line from %s and its neutral from %s", name, p.circuit(h.circuit), p.circuit(h.other))
	}
	is := "dark"
	if c.coil || c.own {
		is = "off"
	}
	return forbid("live-when-off", at, "switch the line, and bring the neutral to "+c.what+" unbroken", "%s is %s and still live", name, is)
}

func (p *Proof) tellEnd(h *hazard) finding.Finding {
	end := p.g.Members(h.to)[0]
	if !p.g.Parked(h.to) {
		return forbid("live-end", end.Subject(), "join it, park it in a connector, or disconnect its other end", "core %s ends loose in box %s and can be live", end, end.Box)
	}
	f := forbid("live-spare", end.Subject(), "disconnect its other end if nothing needs it", "spare core %s, parked in box %s, can be live", end, end.Box)
	f.Severity = finding.Caution
	return f
}
