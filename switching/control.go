package switching

import (
	"slices"
	"strings"

	"strapper/kit"
)

// A control is one want with its names looked up.
type control struct {
	want  Want
	loads []int
	from  []int
	off   []int
	held  function // states in which a master, or an off position of from, holds the lamps off
	free  function // the others, with every push of the installation released
}

// checkWants compares what is lit with what is asked for.
func (p *Proof) checkWants(m method, wants []Want) {
	for _, w := range wants {
		if unknown := p.unknown(w); len(unknown) > 0 || len(w.Lamps) == 0 {
			p.Findings = append(p.Findings, forbid("want-unknown", w.Subject, "name lamps and switches as box.item",
				"this control names no lamp, or something that is not there: %s", strings.Join(unknown, ", ")))
			continue
		}
		c := control{want: w, from: p.switches(w.From), off: p.switches(w.Off)}
		for _, id := range w.Lamps {
			c.loads = append(c.loads, p.g.LoadsOf(id)...)
		}
		p.check(m, &c)
	}
}

// unknown lists the names of a want that are no lamp, or no switch, of the job.
func (p *Proof) unknown(w Want) []string {
	var list []string
	for _, id := range w.Lamps {
		if len(p.g.LoadsOf(id)) == 0 {
			list = append(list, "lamp "+id)
		}
	}
	for _, id := range slices.Concat(w.From, w.Off) {
		if p.g.SwitchIndex(id) < 0 {
			list = append(list, "switch "+id)
		}
	}
	return list
}

func (p *Proof) switches(ids []string) []int {
	var list []int
	for _, id := range ids {
		list = append(list, p.g.SwitchIndex(id))
	}
	return list
}

func (p *Proof) check(m method, c *control) {
	c.held = p.heldOff(m, c)
	c.free = m.every().andNot(c.held)
	for i := range p.g.Switches {
		if p.g.Switches[i].Kind.Actuator == kit.ByPush {
			c.free = c.free.and(m.literal(i, 1))
		}
	}
	p.checkMasters(c)
	if c.want.Rule == RuleAny || c.want.Rule == RuleAll {
		p.checkLevel(m, c)
	} else {
		p.checkTogether(c)
		p.checkToggles(m, c)
	}
	p.checkOthers(m, c)
}

// offPosition is the position in which a switch of three or more positions
// closes no contact; -1 if it has none.
func offPosition(k *kit.Accessory) int {
	if len(k.Positions) < 3 {
		return -1
	}
	return slices.IndexFunc(k.Positions, func(name string) bool {
		return !slices.ContainsFunc(k.Contacts, func(c kit.Contact) bool { return slices.Contains(c.In, name) })
	})
}

func (p *Proof) heldOff(m method, c *control) function {
	held := m.none()
	for _, i := range c.off {
		held = held.or(m.literal(i, 1))
	}
	for _, i := range c.from {
		if off := offPosition(p.g.Switches[i].Kind); off >= 0 {
			held = held.or(m.literal(i, 1<<off))
		}
	}
	return held
}

// report adds a finding if some state is bad.
func (p *Proof) reportControl(c *control, bad function, code string, format func(word string) string, load int) {
	s, ok := bad.fewest()
	if !ok {
		return
	}
	word := "dark"
	if p.lit[load].at(s) {
		word = "lit"
	}
	f := forbid(code, c.want.Subject, "correct the connections, or the control asked for", "%s", format(word))
	f.Witness = p.g.Describe(s)
	p.Findings = append(p.Findings, f)
}

func (p *Proof) checkMasters(c *control) {
	for _, load := range c.loads {
		p.reportControl(c, c.held.and(p.lit[load]), "not-held-off", func(string) string {
			return p.g.Loads[load].ID() + " is lit although a switch that should hold it off is off"
		}, load)
	}
}

// checkTogether wants all lamps of one control lit at the same times.
func (p *Proof) checkTogether(c *control) {
	first := c.loads[0]
	for _, load := range c.loads[1:] {
		p.reportControl(c, p.lit[first].xor(p.lit[load]).and(c.free), "not-together", func(word string) string {
			return p.g.Loads[first].ID() + " and " + p.g.Loads[load].ID() + " are not lit together: here the second is " + word
		}, load)
	}
}

// checkLevel wants each lamp lit exactly while any, or all, of the switches are
// out of their first position.
func (p *Proof) checkLevel(m method, c *control) {
	wanted := m.none()
	if c.want.Rule == RuleAll {
		wanted = m.every()
	}
	for _, i := range c.from {
		if on := m.every().andNot(m.literal(i, 1)); c.want.Rule == RuleAll {
			wanted = wanted.and(on)
		} else {
			wanted = wanted.or(on)
		}
	}
	for _, load := range c.loads {
		p.reportControl(c, p.lit[load].xor(wanted).and(c.free), "wrong-level", func(word string) string {
			return p.g.Loads[load].ID() + " is " + word + " where it should be " + map[string]string{"lit": "dark", "dark": "lit"}[word]
		}, load)
	}
}

// checkToggles wants every switch to change each lamp from every state.
func (p *Proof) checkToggles(m method, c *control) {
	for _, sw := range c.from {
		moves := p.followed(m, c, sw)
		for _, load := range c.loads {
			bad := m.none()
			for _, o := range moves {
				bad = bad.or(o.unchanged(m, p.lit[load]))
			}
			p.reportControl(c, bad, "does-not-switch", func(word string) string {
				return p.g.Loads[load].ID() + " stays " + word + " when " + p.g.Switches[sw].Name() + " is " + p.verb(sw)
			}, load)
		}
	}
}

func (p *Proof) verb(sw int) string {
	switch p.g.Switches[sw].Kind.Actuator {
	case kit.ByPush:
		return "pressed"
	case kit.ByPull:
		return "pulled"
	case kit.BySensor, kit.ByTimer:
		return "triggered"
	}
	return "moved"
}

// followed are the movements of a switch, each followed through the relays. It
// reports those that lead to no end, and leaves them out.
func (p *Proof) followed(m method, c *control, sw int) []*operation {
	var list []*operation
	for _, move := range p.moves(sw) {
		o := p.operate(m, sw, move, c.free)
		if o.settled {
			list = append(list, o)
			continue
		}
		p.reportControl(c, o.dom, "relays-unsettled", func(string) string {
			return "the relays come to no rest, or too many change over, when " + p.g.Switches[sw].Name() + " is " + p.verb(sw)
		}, c.loads[0])
	}
	return list
}

// moves lists the position changes of a switch, leaving out its off position:
// each pair once, or both ways where relays make a difference between them.
func (p *Proof) moves(sw int) [][2]int {
	k := p.g.Switches[sw].Kind
	off := offPosition(k)
	var list [][2]int
	for a := range k.Positions {
		for b := range a {
			if a == off || b == off {
				continue
			}
			list = append(list, [2]int{b, a})
			if len(p.coil) > 0 {
				list = append(list, [2]int{a, b})
			}
		}
	}
	return list
}

// checkOthers wants each lamp to mind no switch but its own. A relay is no
// switch: it is followed from the switch that works it.
func (p *Proof) checkOthers(m method, c *control) {
	for sw := range p.g.Switches {
		if slices.Contains(c.from, sw) || slices.Contains(c.off, sw) || p.g.Switches[sw].Kind.Actuator == kit.ByCoil {
			continue
		}
		moves := p.followed(m, c, sw)
		for _, load := range c.loads {
			bad := m.none()
			for _, o := range moves {
				bad = bad.or(o.changed(m, p.lit[load]))
			}
			p.reportControl(c, bad, "unwanted-control", func(string) string {
				return p.g.Loads[load].ID() + " also changes when " + p.g.Switches[sw].Name() + " is " + p.verb(sw) + ", which is not asked for"
			}, load)
		}
	}
}

// Truth is the truth string of a load over the states of the given switches,
// the first of them slowest, all others at rest: "0110" for two places. At
// most 16 switches.
func (p *Proof) Truth(load int, switches ...int) string {
	out := make([]byte, 0, 1<<len(switches))
	for i := range 1 << len(switches) {
		s := p.g.Rest()
		for k, sw := range switches {
			s[sw] = uint8(i >> (len(switches) - 1 - k) & 1)
		}
		out = append(out, '0'+byte(b2i(p.Lit(load, s))))
	}
	return string(out)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// CountLit is the number of states in which a load is lit, or the greatest
// uint64 if there are more. It is 0 if the proof is not Exact.
func (p *Proof) CountLit(load int) uint64 {
	if !p.Exact {
		return 0
	}
	return p.lit[load].count()
}

// Switched lists the switches whose position ever changes the load, in order.
// It lists none if the proof is not Exact.
func (p *Proof) Switched(load int) []int {
	if !p.Exact {
		return nil
	}
	if p.minds == nil {
		return p.mindedBy(load)
	}
	return p.minds[load]
}

// findMinded is done for diagrams at once, so that a finished proof is only
// read and may be shared.
func (p *Proof) findMinded() {
	p.minds = make([][]int, len(p.lit))
	for load := range p.lit {
		p.minds[load] = p.mindedBy(load)
	}
}

func (p *Proof) mindedBy(load int) (list []int) {
	for sw := range p.g.Switches {
		if p.depends(p.lit[load], sw) {
			list = append(list, sw)
		}
	}
	return list
}

func (p *Proof) depends(f function, sw int) bool {
	for to := 1; to < len(p.g.Switches[sw].Kind.Positions); to++ {
		for from := range to {
			if f.xor(f.moved(sw, from, to)).and(p.m.literal(sw, 1<<from)).any() {
				return true
			}
		}
	}
	return false
}
