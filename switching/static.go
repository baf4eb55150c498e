package switching

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// checkStatic reports what does not depend on positions: protective
// conductors that do not arrive, two circuits in one box, lamps that never
// light.
func (p *Proof) checkStatic() {
	for _, box := range p.g.Inst.Boxes {
		p.checkEarth(box)
		p.checkCircuits(box)
	}
	for _, c := range p.g.Inst.Cables {
		p.checkCpcEnds(c)
	}
	for i := range p.g.Loads {
		p.checkNeverLit(i)
	}
}

// checkEarth wants a protective conductor at every terminal meant for one and
// in every box where a live conductor ends.
func (p *Proof) checkEarth(box *wiring.Box) {
	missing := false
	for _, f := range box.Fit {
		for _, t := range f.Kind.Terminals {
			n, ok := p.g.Node(wiring.End{Box: box.ID, Item: f.ID, Name: t.Name})
			if !ok || t.Role != kit.RoleEarth || p.earthed(n) {
				continue
			}
			missing = true
			p.Findings = append(p.Findings, forbid("missing-cpc", finding.Subject("boxes."+box.ID+"."+f.ID),
				"join the cpc that arrives there, or run a cable with one", "no protective conductor reaches %s at %s.%s", t.Name, box.ID, f.ID))
		}
	}
	if !missing && p.hasLive(box) && !p.hasEarth(box) {
		p.Findings = append(p.Findings, forbid("missing-cpc", finding.Subject("boxes."+box.ID),
			"join the cpc that arrives there, or run a cable with one; an old circuit without cpc needs the decision of a competent person", "no protective conductor reaches box %s", box.ID))
	}
}

func (p *Proof) hasLive(box *wiring.Box) bool {
	return p.anyCore(box, func(_ *kit.Core, n wiring.Node) bool {
		return p.net[p.n.of[n]].everL || p.net[p.n.of[n]].everN
	})
}

func (p *Proof) hasEarth(box *wiring.Box) bool {
	return p.anyCore(box, func(c *kit.Core, n wiring.Node) bool { return c.Earth && p.earthed(n) })
}

// anyCore reports whether some core end in the box satisfies the condition.
func (p *Proof) anyCore(box *wiring.Box, is func(*kit.Core, wiring.Node) bool) bool {
	for _, c := range p.g.Inst.Cables {
		if c.From != box.ID && c.To != box.ID {
			continue
		}
		for i := range c.Kind.Cores {
			core := &c.Kind.Cores[i]
			n, ok := p.g.Node(wiring.End{Box: box.ID, Item: c.ID, Name: core.Name})
			if ok && is(core, n) {
				return true
			}
		}
	}
	return false
}

// checkCpcEnds wants every protective conductor joined at both ends.
func (p *Proof) checkCpcEnds(c *wiring.Cable) {
	for i := range c.Kind.Cores {
		core := &c.Kind.Cores[i]
		for _, box := range [2]string{c.From, c.To} {
			end := wiring.End{Box: box, Item: c.ID, Name: core.Name}
			n, ok := p.g.Node(end)
			if !core.Earth || !ok || !p.g.Loose(n) {
				continue
			}
			p.Findings = append(p.Findings, forbid("cpc-not-joined", end.Subject(), "join it to the other protective conductors in the box", "the cpc of cable %s is joined to nothing in box %s", c.ID, box))
		}
	}
}

// checkCircuits warns where conductors of two circuits share a box.
func (p *Proof) checkCircuits(box *wiring.Box) {
	if box.Kind != nil && box.Kind.Mount == kit.MountBoard {
		return
	}
	var arriving uint64
	for n := range wiring.Node(p.g.Nodes()) {
		if m := p.g.Members(n); len(m) > 0 && m[0].Box == box.ID {
			arriving |= p.net[p.n.of[n]].circuits
		}
	}
	if arriving&(arriving-1) == 0 {
		return
	}
	var names []string
	for i := range p.g.Origins {
		if arriving>>i&1 == 1 {
			names = append(names, p.circuit(i))
		}
	}
	p.Findings = append(p.Findings, finding.Finding{
		Code: "two-circuits", Severity: finding.Caution, Subject: finding.Subject("boxes." + box.ID),
		Text: fmt.Sprintf("conductors of %s meet in box %s", strings.Join(names, " and "), box.ID),
		Fix:  "isolate, lock off and prove dead every one of them before the box is opened",
	})
}

// checkNeverLit reports a lamp that no state lights, unless it is known to be
// in series, and an accessory whose own electronics no state supplies.
func (p *Proof) checkNeverLit(i int) {
	c := &p.consumers[i]
	explained := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Subject == boxSubject(c.id) && (f.Code == "series-lamps" || c.own && f.Code == "no-neutral")
	})
	switch {
	case p.lit[i].any() || explained:
	case c.own:
		p.Findings = append(p.Findings, forbid("not-supplied", boxSubject(c.id), "bring it a line and a neutral", "%s is never supplied, so it cannot work", c.id))
	default:
		p.Findings = append(p.Findings, forbid("never-lit", boxSubject(c.id), "follow line and neutral to it and find where either stops", "%s is lit in no position of the switches", c.id))
	}
}
