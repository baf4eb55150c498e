package switching

import (
	"slices"

	"strapper/kit"
)

// maxRelays is the greatest number of relays that one movement of a switch may
// change over: every combination of them is followed.
const maxRelays = 6

// An operation is one movement of a switch, from every state of dom at once:
// a push is pressed and let go, and relays whose coils become energised change
// over, which may energise others.
type operation struct {
	p        *Proof
	sw       int
	from, to int
	dom      function
	active   []int      // coils of relays that change over in some state
	turned   []function // by coil: the states in which its relay has changed over
	was      []function // by coil: where it was energised a moment ago
	held     *operation // of a push, what it is like while pressed
	settled  bool       // false where relays keep changing, or too many do
}

// operate follows a movement. Without relays only a push needs following.
func (p *Proof) operate(m method, sw int, move [2]int, free function) *operation {
	o := &operation{p: p, sw: sw, from: move[0], to: move[1]}
	o.dom = m.literal(sw, 1<<move[0]).and(free)
	o.was = slices.Clone(p.coil)
	for range p.coil {
		o.turned = append(o.turned, m.none())
	}
	o.settled = o.settle(m, true)
	if o.settled && p.g.Switches[sw].Kind.Actuator == kit.ByPush {
		held := *o
		held.turned, held.active = slices.Clone(o.turned), slices.Clone(o.active)
		o.held = &held
		o.settled = o.settle(m, false)
		o.to = o.from
	}
	return o
}

// settle lets relays change over until none does; it reports false if they
// never stop. A relay that changes once in a movement changes one other.
func (o *operation) settle(m method, moved bool) bool {
	for range 2*len(o.was) + 2 {
		rise := make([]function, len(o.was))
		for i, coil := range o.p.coil {
			now := o.now(m, coil, moved).and(o.dom)
			rise[i], o.was[i] = now.andNot(o.was[i]), now
		}
		changed := false
		for i, r := range rise {
			if r.any() && o.p.g.Coils[i].Switch >= 0 {
				o.turn(i, r)
				changed = true
			}
		}
		if !changed {
			return true
		}
		if len(o.active) > maxRelays {
			return false
		}
	}
	return false
}

func (o *operation) turn(i int, where function) {
	if !o.turned[i].any() {
		o.active = append(o.active, i)
	}
	o.turned[i] = o.turned[i].xor(where)
	for k, a := range o.active {
		if a == i && k < len(o.active)-1 { // turned back before: it stands twice
			o.active = o.active[:len(o.active)-1]
			return
		}
	}
}

// unchanged is the states of dom from which the movement leaves a function as
// it was.
func (o *operation) unchanged(m method, f function) function {
	return o.dom.andNot(f.xor(o.now(m, f, o.to != o.from)))
}

// changed is the states of dom from which the movement changes a function, for
// good or while a push is held.
func (o *operation) changed(m method, f function) function {
	c := o.dom.andNot(o.unchanged(m, f))
	if o.held != nil {
		c = c.or(o.held.changed(m, f))
	}
	return c
}

func (o *operation) now(m method, f function, moved bool) function {
	if moved {
		f = f.moved(o.sw, o.from, o.to)
	}
	return o.followed(m, f, o.active)
}

// followed is a function as it is with the given relays changed over where
// they have been.
func (o *operation) followed(m method, f function, relays []int) function {
	if len(relays) == 0 {
		return f
	}
	i := relays[0]
	sw := o.p.g.Coils[i].Switch
	other := m.literal(sw, 1).and(f.moved(sw, 0, 1)).or(m.literal(sw, 2).and(f.moved(sw, 1, 0)))
	stays, turns := o.followed(m, f, relays[1:]), o.followed(m, other, relays[1:])
	return stays.andNot(o.turned[i]).or(turns.and(o.turned[i]))
}
