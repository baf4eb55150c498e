package switching

// findSeries marks the consumers that carry their current through another
// one. There must then be one that is live and not across line and neutral, so
// nothing is looked for unless one was seen.
func (p *Proof) findSeries(m method, list []hazard) {
	if len(p.consumers) < 2 || !someLiveWhenDark(list) {
		return
	}
	m.views(func(v view) {
		if !p.darkIn(v, list) {
			return
		}
		poles := p.poles(v)
		for i := range list {
			if h := &list[i]; h.kind == seriesLamps && !h.seen {
				h.seen = p.inSeries(v, poles, h.load).any()
			}
		}
	})
}

func someLiveWhenDark(list []hazard) bool {
	for i := range list {
		if list[i].seen && list[i].kind == liveWhenOff {
			return true
		}
	}
	return false
}

func (p *Proof) darkIn(v view, list []hazard) bool {
	for i := range list {
		if h := &list[i]; h.seen && h.kind == liveWhenOff && p.in(&h.condition, v).any() {
			return true
		}
	}
	return false
}

// poles are the states in which each net is joined to any line, and to any
// neutral or earth.
type poles struct{ line, back []function }

func (p *Proof) poles(v view) poles {
	all := poles{make([]function, p.n.count), make([]function, p.n.count)}
	for net := range int32(p.n.count) {
		line, back := none(v), v.reached(p.earth(), net)
		for i := range p.g.Origins {
			line = line.or(v.reached(p.lineOf(i), net))
			back = back.or(v.reached(p.neutralOf(i), net))
		}
		all.line[net], all.back[net] = line, back
	}
	return all
}

// inSeries is the states in which a consumer is not across line and neutral (or
// earth), yet a line reaches one side and a neutral or earth the other when all other consumers
// are taken as joints. A lamp that hangs off such a path in a loop, or is
// bypassed by a contact on it, is counted too: its neighbours are in series.
func (p *Proof) inSeries(v view, all poles, load int) function {
	c := &p.consumers[load]
	line, back := p.through(v, load, all.line, all.back), p.through(v, load, all.back, all.line)
	carries := none(v)
	for _, side := range [2]consumer{*c, c.turned()} {
		a, b := side.a, side.b
		in, out := line[a].andNot(all.back[a]), back[b].andNot(all.line[b]) // no short circuit at either end
		carries = carries.or(in.and(out).andNot(all.line[a].and(all.back[b])))
	}
	return carries
}

// through is the reach of one pole over contacts and all consumers but one. It
// is not carried on to a net where the other pole stands, or every lamp in
// parallel would seem to be in series.
func (p *Proof) through(v view, except int, pole, other []function) []function {
	reach := append([]function(nil), pole...)
	carry := func(x, y int32, closed function) bool {
		if !reach[x].any() {
			return false
		}
		more := reach[x].and(closed).andNot(other[x]).andNot(other[y]).andNot(reach[y])
		if !more.any() {
			return false
		}
		reach[y] = reach[y].or(more)
		return true
	}
	for changed := true; changed; {
		changed = false
		for _, c := range p.n.contacts {
			closed := v.closed(c.literal)
			changed = carry(c.a, c.b, closed) || changed
			changed = carry(c.b, c.a, closed) || changed
		}
		for i := range p.consumers {
			if c := &p.consumers[i]; i != except {
				changed = carry(c.a, c.b, v.every()) || changed
				changed = carry(c.b, c.a, v.every()) || changed
			}
		}
	}
	return reach
}
