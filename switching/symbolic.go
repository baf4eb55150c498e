package switching

import (
	"math"

	"strapper/internal/bdd"
	"strapper/wiring"
)

// symbolic proves by decision diagram: the same fixpoint and the same
// conditions as tabular, over all states at once, each function kept as a
// diagram. Switches are ordered as a current meets them, so that the diagram
// of a chain stays as narrow as the chain.
type symbolic struct {
	g       *wiring.Graph
	n       *nets
	sources []source
	m       *bdd.Manager
	first   []int // the variable of each switch, or the lower of its two
	wide    []bool
	valid   bdd.Ref
	closing []bdd.Ref
	reach   [][]bdd.Ref // by source, then net
}

// maxNodes bounds the memory of a proof by diagram to some 50 MB.
const maxNodes = 1_000_000

func newSymbolic(g *wiring.Graph, n *nets, sources []source, nodes int) *symbolic {
	y := &symbolic{g: g, n: n, sources: sources, first: make([]int, len(g.Switches)), wide: make([]bool, len(g.Switches))}
	variables := 0
	for _, sw := range n.meetingOrder(sources, len(g.Switches)) {
		y.first[sw] = variables
		variables++
		if y.wide[sw] = len(g.Switches[sw].Kind.Positions) > 2; y.wide[sw] {
			variables++
		}
	}
	y.m = bdd.New(variables, nodes)
	y.valid = bdd.True
	for sw := range g.Switches {
		y.valid = y.m.And(y.valid, y.stands(sw, 1<<len(g.Switches[sw].Kind.Positions)-1))
	}
	return y
}

// meetingOrder lists the switches in the order in which a walk in depth from
// each source meets them, then those that no source meets.
func (n *nets) meetingOrder(sources []source, switches int) []int {
	seen, met := make([]bool, n.count), make([]bool, switches)
	var order []int
	meet := func(sw int) {
		if !met[sw] {
			met[sw] = true
			order = append(order, sw)
		}
	}
	var walk func(net int32)
	walk = func(net int32) {
		seen[net] = true
		for _, k := range n.at[net] {
			c := n.contacts[k]
			meet(n.literals[c.literal].sw)
			if next := c.a + c.b - net; !seen[next] {
				walk(next)
			}
		}
	}
	for _, s := range sources {
		if !seen[s.net] {
			walk(s.net)
		}
	}
	for sw := range switches {
		meet(sw)
	}
	return order
}

// stands is the diagram of "switch sw stands in a position of the mask".
func (y *symbolic) stands(sw int, in uint8) bdd.Ref {
	f := bdd.False
	for position := range 4 {
		if in>>position&1 == 1 && (position < 2 || y.wide[sw]) {
			f = y.m.Or(f, y.position(sw, position))
		}
	}
	return f
}

func (y *symbolic) position(sw, position int) bdd.Ref {
	f := y.bit(y.first[sw], position&1 == 1)
	if y.wide[sw] {
		f = y.m.And(f, y.bit(y.first[sw]+1, position&2 == 2))
	}
	return f
}

func (y *symbolic) bit(variable int, value bool) bdd.Ref {
	f := y.m.Var(variable)
	if !value {
		f = y.m.Not(f)
	}
	return f
}

func (y *symbolic) gaveUp() bool { return y.m.Full() }

func (y *symbolic) of(f bdd.Ref) function { return diagram{y, f} }

func (y *symbolic) none() function { return y.of(bdd.False) }

func (y *symbolic) every() function { return y.of(y.valid) }

func (y *symbolic) literal(sw int, in uint8) function {
	return y.of(y.m.And(y.stands(sw, in), y.valid))
}

func (y *symbolic) closed(literal int32) function { return y.of(y.closing[literal]) }

func (y *symbolic) reached(source int, net int32) function { return y.of(y.reach[source][net]) }

func (y *symbolic) views(use func(view)) { use(y) }

// fill computes the least fixpoint that block.fill computes.
func (y *symbolic) fill() {
	for _, l := range y.n.literals {
		y.closing = append(y.closing, y.m.And(y.stands(l.sw, l.in), y.valid))
	}
	for _, s := range y.sources {
		reach := make([]bdd.Ref, y.n.count)
		reach[s.net] = y.valid
		for y.sweep(reach, s.order) && !y.m.Full() {
		}
		y.reach = append(y.reach, reach)
	}
}

func (y *symbolic) sweep(reach []bdd.Ref, order []contact) (changed bool) {
	for _, c := range order {
		both := y.m.And(y.m.Or(reach[c.a], reach[c.b]), y.closing[c.literal])
		for _, net := range [2]int32{c.a, c.b} {
			if f := y.m.Or(reach[net], both); f != reach[net] {
				reach[net], changed = f, true
			}
		}
	}
	return changed
}

func (y *symbolic) run(p *Proof, hazards []hazard) {
	y.fill()
	for i := range p.g.Loads {
		p.lit = append(p.lit, y.of(y.across(p, &p.consumers[i])))
	}
	for i := range p.g.Coils {
		p.coil = append(p.coil, y.of(y.across(p, &p.consumers[len(p.g.Loads)+i])))
	}
	for net := range p.net {
		p.net[net] = y.use(p, int32(net))
	}
	for i := range hazards {
		hazards[i].seen = hazards[i].kind != seriesLamps && p.in(&hazards[i].condition, y).any()
	}
}

func (y *symbolic) across(p *Proof, c *consumer) bdd.Ref {
	line, neutral := y.either(p, c.a, p.lineOf), y.either(p, c.b, p.neutralOf)
	other := y.m.And(y.either(p, c.b, p.lineOf), y.either(p, c.a, p.neutralOf))
	return y.m.Or(y.m.And(line, neutral), other)
}

func (y *symbolic) either(p *Proof, net int32, source func(int) int) bdd.Ref {
	f := bdd.False
	for i := range p.g.Origins {
		f = y.m.Or(f, y.reach[source(i)][net])
	}
	return f
}

func (y *symbolic) use(p *Proof, net int32) netUse {
	line := y.either(p, net, p.lineOf)
	use := netUse{
		everL: line != bdd.False, notL: line != y.valid,
		everN: y.either(p, net, p.neutralOf) != bdd.False,
		everE: y.reach[p.earth()][net] != bdd.False,
	}
	for i := range p.g.Origins {
		if y.reach[p.lineOf(i)][net] != bdd.False || y.reach[p.neutralOf(i)][net] != bdd.False {
			use.circuits |= 1 << i
		}
	}
	return use
}

// A diagram is a function as a decision diagram.
type diagram struct {
	y *symbolic
	f bdd.Ref
}

func (d diagram) and(o function) function { return d.y.of(d.y.m.And(d.f, o.(diagram).f)) }

func (d diagram) or(o function) function { return d.y.of(d.y.m.Or(d.f, o.(diagram).f)) }

func (d diagram) xor(o function) function { return d.y.of(d.y.m.Xor(d.f, o.(diagram).f)) }

func (d diagram) andNot(o function) function { return d.y.of(d.y.m.AndNot(d.f, o.(diagram).f)) }

func (d diagram) any() bool { return d.f != bdd.False }

// moved fixes the switch in the position it is moved to.
func (d diagram) moved(sw, _, to int) function {
	f := d.y.m.Restrict(d.f, d.y.first[sw], to&1 == 1)
	if d.y.wide[sw] {
		f = d.y.m.Restrict(f, d.y.first[sw]+1, to&2 == 2)
	}
	return d.y.of(f)
}

func (d diagram) at(s wiring.State) bool {
	value := make([]bool, d.y.m.Variables())
	for sw, position := range s {
		value[d.y.first[sw]] = position&1 == 1
		if d.y.wide[sw] {
			value[d.y.first[sw]+1] = position&2 == 2
		}
	}
	return d.y.m.Eval(d.f, func(variable int) bool { return value[variable] })
}

func (d diagram) count() uint64 {
	if n := d.y.m.SatCount(d.f); n.IsUint64() {
		return n.Uint64()
	}
	return math.MaxUint64
}

func (d diagram) fewest() (wiring.State, bool) {
	value, ok := d.y.m.AnySat(d.f)
	s := d.y.g.Rest()
	for sw := range s {
		if ok && value[d.y.first[sw]] {
			s[sw] |= 1
		}
		if ok && d.y.wide[sw] && value[d.y.first[sw]+1] {
			s[sw] |= 2
		}
	}
	return s, ok
}
