package switching

import (
	"math/bits"
	"slices"

	"strapper/kit"
)

// A control is one want with its names looked up.
type control struct {
	want  Want
	loads []int
	from  []int
	off   []int
	free  table // states in which every master is on and no switch of from is in an off position
}

// checkWants compares what is lit with what is asked for, state by state.
func (p *Proof) checkWants(wants []Want) {
	for _, w := range wants {
		c := control{want: w, from: p.switches(w.From), off: p.switches(w.Off)}
		for _, id := range w.Lamps {
			c.loads = append(c.loads, p.g.LoadsOf(id)...)
		}
		if len(c.loads) == 0 || len(c.from) != len(w.From) || len(c.off) != len(w.Off) {
			p.Findings = append(p.Findings, p.forbid("want-unknown", w.Subject, "name lamps and switches as box.item", "this control names a lamp or a switch that is not there"))
			continue
		}
		p.check(&c)
	}
}

func (p *Proof) switches(ids []string) []int {
	var list []int
	for _, id := range ids {
		if i := p.g.SwitchIndex(id); i >= 0 {
			list = append(list, i)
		}
	}
	return list
}

func (p *Proof) check(c *control) {
	c.free = p.freeStates(c)
	p.checkMasters(c)
	for _, load := range c.loads {
		switch c.want.Rule {
		case RuleAny, RuleAll:
			p.checkLevel(c, load)
		default:
			p.checkToggles(c, load)
		}
		p.checkOthers(c, load)
	}
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

// forEach calls f for every word of every table over all states.
func (p *Proof) forEach(f func(block, w, at int)) {
	for number := range p.l.blocks() {
		for w := range p.l.words {
			f(number, w, number*p.l.words+w)
		}
	}
}

// freeStates are the states in which nothing holds the lamps off, and every
// push of the installation is released.
func (p *Proof) freeStates(c *control) table {
	t := p.l.newTable()
	p.forEach(func(block, w, at int) {
		t[at] = p.l.valid(block, w) &^ p.heldOff(c, block, w)
		for i := range p.g.Switches {
			if p.g.Switches[i].Kind.Actuator == kit.ByPush {
				t[at] &= p.l.literal(i, 1, block, w)
			}
		}
	})
	return t
}

func (p *Proof) heldOff(c *control, block, w int) (held uint64) {
	for _, i := range c.off {
		held |= p.l.literal(i, 1, block, w)
	}
	for _, i := range c.from {
		if off := offPosition(p.g.Switches[i].Kind); off >= 0 {
			held |= p.l.literal(i, 1<<off, block, w)
		}
	}
	return held & p.l.valid(block, w)
}

func (p *Proof) checkMasters(c *control) {
	for _, load := range c.loads {
		bad := p.l.newTable()
		p.forEach(func(block, w, at int) { bad[at] = p.heldOff(c, block, w) & p.lit[load][at] })
		if s, ok := bad.fewest(); ok {
			p.control(c, "not-held-off", s, "%s is lit although a switch that should hold it off is off", p.g.Loads[load].ID())
		}
	}
}

func (p *Proof) control(c *control, code string, state uint64, format string, args ...any) {
	f := p.forbid(code, c.want.Subject, "correct the connections, or the control asked for", format, args...)
	f.Witness = p.g.Describe(p.l.state(state))
	p.Findings = append(p.Findings, f)
}

// checkLevel wants the lamp lit exactly while any, or all, of the switches are
// out of their first position.
func (p *Proof) checkLevel(c *control, load int) {
	bad := p.l.newTable()
	p.forEach(func(block, w, at int) {
		wanted := uint64(0)
		if c.want.Rule == RuleAll {
			wanted = ^uint64(0)
		}
		for _, i := range c.from {
			on := ^p.l.literal(i, 1, block, w)
			if c.want.Rule == RuleAll {
				wanted &= on
			} else {
				wanted |= on
			}
		}
		bad[at] = (p.lit[load][at] ^ wanted) & c.free[at]
	})
	if s, ok := bad.fewest(); ok {
		is, should := "dark", "lit"
		if p.lit[load].get(s) {
			is, should = should, is
		}
		p.control(c, "wrong-level", s, "%s is %s where it should be %s", p.g.Loads[load].ID(), is, should)
	}
}

// checkToggles wants every switch to change the lamp from every state.
func (p *Proof) checkToggles(c *control, load int) {
	for _, sw := range c.from {
		bad := p.l.newTable()
		for _, to := range p.moves(sw) {
			p.unchanged(c, load, sw, to, bad)
		}
		if s, ok := bad.fewest(); ok {
			is := "dark"
			if p.lit[load].get(s) {
				is = "lit"
			}
			p.control(c, "does-not-switch", s, "%s stays %s when %s is moved", p.g.Loads[load].ID(), is, p.g.Switches[sw].Name())
		}
	}
}

// moves lists the position changes of a switch, as pairs, leaving out its off
// position.
func (p *Proof) moves(sw int) [][2]int {
	k := p.g.Switches[sw].Kind
	off := offPosition(k)
	var list [][2]int
	for a := range k.Positions {
		for b := range a {
			if a != off && b != off {
				list = append(list, [2]int{b, a})
			}
		}
	}
	return list
}

// unchanged adds to bad the states from which a move leaves the lamp as it was.
func (p *Proof) unchanged(c *control, load, sw int, move [2]int, bad table) {
	if len(p.g.Coils) > 0 {
		p.unchangedByRelay(c, load, sw, move, bad)
		return
	}
	p.forEach(func(block, w, at int) {
		here := p.l.literal(sw, 1<<move[0], block, w) & c.free[at]
		bad[at] |= here &^ (p.lit[load][at] ^ p.moved(p.lit[load], sw, move, block, w))
	})
}

// moved is word w of a table as it would be with the switch in position
// move[1] wherever it now stands in move[0].
func (p *Proof) moved(t table, sw int, move [2]int, block, w int) uint64 {
	ahead := uint(move[1]-move[0]) << p.l.shift[sw]
	at := block*p.l.words + w + int(ahead>>6)
	if at >= len(t) {
		return 0
	}
	v := t[at] >> (ahead & 63)
	if at+1 < len(t) && ahead&63 != 0 {
		v |= t[at+1] << (64 - ahead&63)
	}
	return v
}

// unchangedByRelay follows one operation through the relays: those whose coils
// become energised change over, and a push springs back.
func (p *Proof) unchangedByRelay(c *control, load, sw int, move [2]int, bad table) {
	for s := range p.l.states() {
		for _, m := range [2][2]int{move, {move[1], move[0]}} {
			if !c.free.get(s) || int(p.l.position(s, sw)) != m[0] {
				continue
			}
			if p.lit[load].get(s) == p.lit[load].get(p.operate(s, sw, m[1])) {
				bad[s>>6] |= 1 << (s & 63)
			}
		}
	}
}

// operate is the state that follows when a switch is moved to a position, or
// a push is pressed and let go.
func (p *Proof) operate(s uint64, sw, to int) uint64 {
	mask := uint64(1<<p.l.width[sw]-1) << p.l.shift[sw]
	pressed := s&^mask | uint64(to)<<p.l.shift[sw]
	after := pressed
	if p.g.Switches[sw].Kind.Actuator == kit.ByPush {
		after = s
	}
	for i := range p.g.Coils {
		if p.coil[i].get(pressed) && !p.coil[i].get(s) {
			after ^= 1 << p.l.shift[p.g.Coils[i].Switch]
		}
	}
	return after
}

// checkOthers wants the lamp to mind no switch but its own. Relays and pushes
// act through coils and are left to checkToggles.
func (p *Proof) checkOthers(c *control, load int) {
	for sw := range p.g.Switches {
		actuator := p.g.Switches[sw].Kind.Actuator
		if slices.Contains(c.from, sw) || slices.Contains(c.off, sw) || actuator == kit.ByCoil {
			continue
		}
		bad := p.l.newTable()
		for _, to := range p.moves(sw) {
			p.forEach(func(block, w, at int) {
				here := p.l.literal(sw, 1<<to[0], block, w) & c.free[at]
				bad[at] |= here & (p.lit[load][at] ^ p.moved(p.lit[load], sw, to, block, w))
			})
		}
		if s, ok := bad.fewest(); ok {
			p.control(c, "unwanted-control", s, "%s also changes when %s is moved, which is not asked for", p.g.Loads[load].ID(), p.g.Switches[sw].Name())
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

// CountLit is the number of states in which a load is lit.
func (p *Proof) CountLit(load int) (n uint64) {
	for _, w := range p.lit[load] {
		n += uint64(bits.OnesCount64(w))
	}
	return n
}

// Switched lists the switches whose position ever changes the load, in order.
func (p *Proof) Switched(load int) []int {
	var list []int
	for sw := range p.g.Switches {
		if p.minds(load, sw) {
			list = append(list, sw)
		}
	}
	return list
}

func (p *Proof) minds(load, sw int) bool {
	var differs uint64
	for _, m := range p.moves(sw) {
		p.forEach(func(block, w, at int) {
			here := p.l.literal(sw, 1<<m[0], block, w) & p.l.valid(block, w)
			differs |= here & (p.lit[load][at] ^ p.moved(p.lit[load], sw, m, block, w))
		})
	}
	return differs != 0
}
