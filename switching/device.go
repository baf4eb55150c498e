package switching

import (
	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// checkDevices looks at what the kind of an accessory asks of its place:
// poles the right way round, a sensor that is supplied while idle, one dimmer
// to a lamp, an isolator that breaks all it should. Common practice and makers'
// instructions, no source, where none is named.
func (p *Proof) checkDevices(m method) {
	for sw := range p.g.Switches {
		p.checkPoles(&p.g.Switches[sw])
		if p.g.Switches[sw].Kind.Class == kit.ClassSensor {
			p.checkSensor(m, sw)
		}
	}
	if p.fitted(kit.ClassDimmer) > 1 {
		p.checkDimmers()
	}
	if p.fitted(kit.ClassIsolator) > 0 {
		p.checkIsolators()
	}
}

func (p *Proof) fitted(c kit.Class) (n int) {
	for i := range p.g.Switches {
		if p.g.Switches[i].Kind.Class == c {
			n++
		}
	}
	return n
}

// terminals gives the use of every terminal of a switch.
func (p *Proof) terminals(s *wiring.Switch, use func(t *kit.Terminal, net int32)) {
	for i := range s.Kind.Terminals {
		t := &s.Kind.Terminals[i]
		if n, ok := p.g.Node(wiring.End{Box: s.Box.ID, Item: s.Item.ID, Name: t.Name}); ok {
			use(t, p.n.of[n])
		}
	}
}

// checkPoles: a line at a terminal for the neutral and a neutral at one for
// the line. The fuse or the electronics then stand in the neutral.
func (p *Proof) checkPoles(s *wiring.Switch) {
	line, neutral := "", ""
	p.terminals(s, func(t *kit.Terminal, net int32) {
		switch u := p.net[net]; {
		case u.everL == u.everN || t.Role == kit.RoleEarth:
		case t.Role == kit.RoleNeutral && u.everL:
			line = t.Name
		case t.Role != kit.RoleNeutral && u.everN:
			neutral = t.Name
		}
	})
	if line != "" && neutral != "" {
		p.Findings = append(p.Findings, forbid("poles-exchanged", boxSubject(s.ID()), "exchange the two conductors, on both sides of the switch",
			"the line is on %s of %s, which is for the neutral, and a neutral on %s", line, s.ID(), neutral))
	}
}

// checkSensor: a sensor whose own contact feeds its electronics is dead while
// idle and can never sense.
func (p *Proof) checkSensor(m method, sw int) {
	id := p.g.Switches[sw].ID()
	for i := range p.lit {
		c := &p.consumers[i]
		if !c.own || c.id != id || !p.lit[i].any() || p.lit[i].and(m.literal(sw, 1)).any() {
			continue
		}
		p.Findings = append(p.Findings, forbid("not-supplied", boxSubject(id), "bring the line to its supply terminal, and the lamp to its switched one",
			"%s is supplied only through its own contact, so it cannot work", c.name()))
	}
}

// checkDimmers: of two dimmers before one lamp each cuts the other's supply;
// makers ask for one, and ordinary switches in the other places.
func (p *Proof) checkDimmers() {
	for load := range p.lit {
		var first string
		for _, sw := range p.mindedBy(load) {
			s := &p.g.Switches[sw]
			if s.Kind.Class != kit.ClassDimmer || p.consumers[load].own {
				continue
			}
			if first != "" {
				p.Findings = append(p.Findings, forbid("two-dimmers", boxSubject(s.ID()), "fit one dimmer, and an ordinary switch in the other place",
					"%s and %s both dim %s", first, s.ID(), p.consumers[load].name()))
				break
			}
			first = s.ID()
		}
	}
}

// checkIsolators looks at what depends on an isolator: all of one appliance
// must, and the neutral be broken with it where the isolator has a pole for it.
func (p *Proof) checkIsolators() {
	depends := make([]map[int]bool, len(p.lit))
	isolates := map[int]bool{}
	for load := range p.lit {
		depends[load] = map[int]bool{}
		for _, sw := range p.mindedBy(load) {
			if p.g.Switches[sw].Kind.Class == kit.ClassIsolator {
				depends[load][sw], isolates[sw] = true, true
			}
		}
	}
	for sw := range p.g.Switches {
		if !isolates[sw] {
			continue
		}
		p.checkNeutralPole(&p.g.Switches[sw])
		for load := range p.lit {
			if !depends[load][sw] && p.lit[load].any() && p.halfIsolated(depends, load, sw) {
				id := p.g.Switches[sw].ID()
				p.Findings = append(p.Findings, forbid("not-isolated", boxSubject(id), "take every line of it through the isolator",
					"%s stays supplied with %s off", p.consumers[load].name(), id))
			}
		}
	}
}

// halfIsolated reports whether another load of the same appliance depends on
// the isolator.
func (p *Proof) halfIsolated(depends []map[int]bool, load, sw int) bool {
	for _, other := range p.g.LoadsOf(p.consumers[load].id) {
		if depends[other][sw] {
			return true
		}
	}
	return false
}

// checkNeutralPole: on TT the neutral must be isolated too; on TN it need not
// (BS 7671:2018 461.2, from memory, to be confirmed), yet the pole is there
// for it.
func (p *Proof) checkNeutralPole(s *wiring.Switch) {
	nets, broken := map[int32]bool{}, true
	poles, exchanged := 0, false
	p.terminals(s, func(t *kit.Terminal, net int32) {
		if t.Role == kit.RoleNeutral {
			poles++
			nets[net], broken = true, broken && p.net[net].everN
			exchanged = exchanged || p.net[net].everL // which is told as such
		}
	})
	if poles < 2 || exchanged || broken && len(nets) == poles {
		return
	}
	f := forbid("neutral-not-isolated", boxSubject(s.ID()), "take the neutral through the isolator's pole for it",
		"%s leaves the neutral joined when it is off", s.ID())
	if p.g.Inst.Supply.Earthing != wiring.TT {
		f.Severity = finding.Caution
	}
	p.Findings = append(p.Findings, f)
}
