package switching

import (
	"strapper/kit"
	"strapper/wiring"
)

// An atom is "this net is joined to that source".
type atom struct {
	source int
	net    int32
}

// A condition holds in the states in which one or two atoms are true and, if
// without is set, no neutral stands at the net dead, nor earth if bare is set.
// Everything dangerous is written as one, so that it can be looked for in truth
// tables and in diagrams alike.
type condition struct {
	all     [2]atom
	count   int
	without bool
	bare    bool
	dead    int32
}

func (c *condition) require(source int, net int32) {
	c.all[c.count] = atom{source, net}
	c.count++
}

func (c *condition) exclude(net int32, earthToo bool) {
	c.without, c.dead, c.bare = true, net, earthToo
}

// excluded goes through the sources that must not stand at the net dead.
func (p *Proof) excluded(c *condition, use func(source int)) {
	if !c.without {
		return
	}
	for i := range p.g.Origins {
		use(p.neutralOf(i))
	}
	if c.bare {
		use(p.earth())
	}
}

// in is the function of the states of a view in which a condition holds.
func (p *Proof) in(c *condition, v view) function {
	f := v.every()
	for _, a := range c.all[:c.count] {
		f = f.and(v.reached(a.source, a.net))
	}
	p.excluded(c, func(source int) { f = f.andNot(v.reached(source, c.dead)) })
	return f
}

// A consumer is what current may flow through: a lamp, an accessory's own
// electronics, or a relay's coil. Loads come first, in the graph's order.
type consumer struct {
	nodeA, nodeB wiring.Node
	a, b         int32
	id           string
	what         string // "the lamp", in what is to be done
	own          bool   // an accessory's own consumption
	coil         bool
}

func (p *Proof) findConsumers() {
	add := func(a, b wiring.Node, c consumer) {
		c.nodeA, c.nodeB, c.a, c.b = a, b, p.n.of[a], p.n.of[b]
		p.consumers = append(p.consumers, c)
	}
	for i := range p.g.Loads {
		l := &p.g.Loads[i]
		c := consumer{id: l.ID(), what: "the lamp", own: l.Always}
		switch {
		case l.Always:
			c.what = "it"
		case l.Item.Kind.Class == kit.ClassFan:
			c.what = "the fan"
		}
		add(l.A, l.B, c)
	}
	for i := range p.g.Coils {
		k := &p.g.Coils[i]
		c := consumer{what: "the coil", coil: true}
		if k.Switch >= 0 {
			c.id = p.g.Switches[k.Switch].ID()
		}
		add(k.A, k.B, c)
	}
}

// name is the consumer in a sentence.
func (c *consumer) name() string {
	switch {
	case c.coil:
		return "the coil of " + c.id
	case c.own:
		return "the electronics of " + c.id
	}
	return c.id
}

// turned is the consumer seen from its other side.
func (c *consumer) turned() consumer {
	t := *c
	t.nodeA, t.nodeB, t.a, t.b = c.nodeB, c.nodeA, c.b, c.a
	return t
}
