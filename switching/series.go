package switching

import "strapper/wiring"

// series finds the states in which a load carries current through another
// load: it is not across line and neutral, yet a line reaches one side and a
// neutral the other when all other loads are taken as joints. Reach through
// loads is not carried past a net where the other pole stands, or every lamp
// in parallel would seem to be in series.
func (p *Proof) series(load int) hazard {
	l := &p.g.Loads[load]
	f := p.forbid("series-lamps", loadSubject(l), "give each lamp its own line and neutral", "%s is in series with another lamp", l.ID())
	return hazard{
		finding: f, from: p.lineOf(0), to: l.A,
		when: func(b *block, w int) uint64 {
			a, c := p.n.of[l.A], p.n.of[l.B]
			if !p.mayBeSeries(b, load, w) {
				return 0
			}
			live := p.through(b, load, w, p.line, p.neutral)
			back := p.through(b, load, w, p.neutral, p.line)
			lit := p.line(b, a, w)&p.neutral(b, c, w) | p.line(b, c, w)&p.neutral(b, a, w)
			return (live[a]&back[c] | live[c]&back[a]) &^ lit & b.valid[w]
		},
	}
}

// mayBeSeries is a cheap test: some side of the load is neither a line nor a
// neutral, and so is a side of another load at the same net.
func (p *Proof) mayBeSeries(b *block, load, w int) bool {
	l := &p.g.Loads[load]
	for _, side := range [2]wiring.Node{l.A, l.B} {
		net := p.n.of[side]
		floating := b.valid[w] &^ (p.line(b, net, w) | p.neutral(b, net, w))
		if floating != 0 && len(p.g.Loads) > 1 {
			return true
		}
	}
	return false
}

// through is reach of one pole over contacts and all loads but one, for one
// word of states, stopping at nets where the other pole stands.
func (p *Proof) through(b *block, except, w int, pole, other func(*block, int32, int) uint64) []uint64 {
	reach := make([]uint64, p.n.count)
	stop := make([]uint64, p.n.count)
	for net := range reach {
		reach[net] = pole(b, int32(net), w)
		stop[net] = other(b, int32(net), w)
	}
	carry := func(x, y int32, closed uint64) bool {
		add := reach[x] &^ stop[x] &^ reach[y] & closed
		reach[y] |= add
		return add != 0
	}
	for changed := true; changed; {
		changed = false
		for _, c := range p.n.contacts {
			closed := b.closed(c.literal)[w]
			changed = carry(c.a, c.b, closed) || changed
			changed = carry(c.b, c.a, closed) || changed
		}
		for i := range p.g.Loads {
			if i == except {
				continue
			}
			x, y := p.n.of[p.g.Loads[i].A], p.n.of[p.g.Loads[i].B]
			changed = carry(x, y, b.valid[w]) || changed
			changed = carry(y, x, b.valid[w]) || changed
		}
	}
	return reach
}
