package fault

import "strapper/wiring"

// operation is what a hypothesis does with the supply on: by state, one bit
// each.
type operation struct {
	lit   []uint64 // by load: fed
	dim   []uint64 // by load: fed, but through a poor contact or another load
	coil  []uint64 // by coil: energised
	trips []uint64 // by circuit: its devices open
	may   []uint64 // by circuit: its residual current device may open, or not
	metal uint64   // a line stands at what should be earthed and is not, so that no device opens

	line, ret []uint64 // by port: joined to some line; to some neutral or earth
	from      []uint64 // by source and port
	ports     []int32
	residual  []float64 // by circuit: rated residual current, ampere; 0 if none
}

// Ports are the loads' sides, the coils' sides, the lines, the neutrals and
// earth, in that order; sources the lines, the neutrals and earth.
func newOperation(k *skeleton) operation {
	var o operation
	for _, l := range k.loads {
		o.ports = append(o.ports, l.a, l.b)
	}
	for _, c := range k.coils {
		o.ports = append(o.ports, c.a, c.b)
	}
	o.ports = append(append(append(o.ports, k.lines...), k.neutrals...), k.earth)
	o.line, o.ret = make([]uint64, len(o.ports)), make([]uint64, len(o.ports))
	o.from = make([]uint64, len(o.ports)*(2*len(k.lines)+1))
	o.lit, o.dim, o.coil = make([]uint64, len(k.loads)), make([]uint64, len(k.loads)), make([]uint64, len(k.coils))
	o.trips, o.may = make([]uint64, len(k.lines)), make([]uint64, len(k.lines))
	for i := range k.g.Origins {
		o.residual = append(o.residual, residual(k.g.Origins[i].Circuit))
	}
	return o
}

func residual(c *wiring.Circuit) (least float64) {
	if c.RCD != nil {
		least = float64(c.RCD.Residual)
	}
	if c.Device != nil && c.Device.Residual > 0 && (least == 0 || float64(c.Device.Residual) < least) {
		least = float64(c.Device.Residual)
	}
	return least
}

// operate works out what is lit, what trips and what is energised.
func (s *sim) operate() *operation {
	o := &s.use
	if s.worked {
		return o
	}
	s.worked, o.metal = true, 0
	s.feed(electronics)
	for i := range s.loads {
		o.lit[i], o.dim[i] = o.fed(2*i), 0
	}
	for i := range s.coils {
		o.coil[i] = o.fed(2 * (len(s.loads) + i))
	}
	s.shorts()
	s.series()
	if len(s.loose) > 0 {
		s.feed(electronics | poor)
		for i := range s.loads {
			o.dim[i] |= o.fed(2*i) &^ o.lit[i]
		}
	}
	for i := range s.loads {
		if s.dead(i) {
			o.lit[i], o.dim[i] = 0, 0
		}
	}
	return o
}

// feed spreads every source.
func (s *sim) feed(how through) {
	o, n := &s.use, len(s.lines)
	clear(o.line)
	clear(o.ret)
	for source := range 2*n + 1 {
		front := s.reach(s.source(source), how)
		row := o.from[source*len(o.ports):][:len(o.ports)]
		if source < n {
			for _, node := range s.protective {
				o.metal |= front[s.root(node)] &^ front[s.root(s.earth)]
			}
		}
		for p, node := range o.ports {
			row[p] = front[s.root(node)]
			if source < n {
				o.line[p] |= row[p]
			} else {
				o.ret[p] |= row[p]
			}
		}
	}
}

func (s *sim) source(i int) int32 { return s.use.ports[len(s.use.ports)-2*len(s.lines)-1+i] }

// fed is the states in which what lies between port p and the next has a line
// at one side and a return at the other.
func (o *operation) fed(p int) uint64 { return o.line[p]&o.ret[p+1] | o.line[p+1]&o.ret[p] }

// shorts finds what opens the devices: a line at a neutral or at earth, and
// current that does not come back by its own neutral.
func (s *sim) shorts() {
	o, n := &s.use, len(s.lines)
	first := len(o.ports) - 2*n - 1
	earth := len(o.ports) - 1
	at := func(source, port int) uint64 { return o.from[source*len(o.ports)+port] }
	for c := range n {
		o.trips[c], o.may[c] = at(c, earth), 0
		for k := range n {
			o.trips[c] |= at(c, first+n+k)
		}
		if o.residual[c] > 0 {
			s.residuals(c, at)
			o.may[c] &^= o.trips[c]
		}
	}
}

// residuals adds what a residual current device sees. Neutral joined to earth
// carries part of the current away, or not enough of it; damaged insulation
// lets through some milliamperes; a lamp whose current comes back by earth or by
// another circuit's neutral is seen with all of its current.
func (s *sim) residuals(c int, at func(source, port int) uint64) {
	o, n := &s.use, len(s.lines)
	earth := len(o.ports) - 1
	if s.between(s.neutrals[c], s.earth, poor) != 0 {
		o.may[c] = s.all
	}
	if len(s.leak) > 0 {
		s.residual(c, s.leakAmps, s.between(s.lines[c], s.earth, electronics|poor|damage))
	}
	for i := range s.loads {
		a, b := 2*i, 2*i+1
		own := at(c, a)&at(n+c, b) | at(c, b)&at(n+c, a)
		away := at(c, a)&at(2*n, b) | at(c, b)&at(2*n, a)
		for k := range n {
			if k != c && !s.shared(c, k) {
				away |= at(c, a)&at(n+k, b) | at(c, b)&at(n+k, a)
				away |= at(k, a)&at(n+c, b) | at(k, b)&at(n+c, a)
			}
		}
		s.residual(c, s.loads[i].amps, away&^own&^at(c, earth))
		if s.loads[i].amps >= o.residual[c]/2 {
			o.may[c] |= away & own
		}
	}
}

// residual notes the states in which a current does not come back: a device
// opens at its rated residual current, may open from half of it on, and stays
// closed below (IEC 61008-1, from memory, to be confirmed).
func (s *sim) residual(circuit int, amps float64, states uint64) {
	o := &s.use
	switch {
	case amps >= o.residual[circuit]:
		o.trips[circuit] |= states
	case amps >= o.residual[circuit]/2:
		o.may[circuit] |= states
	}
}

// shared reports whether one residual current device may stand before both
// circuits: then what one's line sends out may come back by the other's
// neutral.
func (s *sim) shared(a, b int) bool {
	x, y := s.g.Origins[a].Circuit, s.g.Origins[b].Circuit
	return x.RCD != nil && x.RCD == y.RCD && (x.Device == nil || x.Device.Residual == 0) && (y.Device == nil || y.Device.Residual == 0)
}

// series finds loads that burn through one another: one side at a line or a
// return, the other at nothing but another load whose far side is at the
// opposite.
func (s *sim) series() {
	o := &s.use
	if len(s.loads) < 2 {
		return
	}
	for i := range s.loads {
		for side := range 2 {
			p, q := 2*i+side, 2*i+1-side
			floating := (o.line[p] | o.ret[p]) &^ (o.line[q] | o.ret[q])
			if floating == 0 {
				continue
			}
			front := s.reach(o.ports[q], electronics)
			for k := range s.loads {
				if k == i || s.dead(k) {
					continue
				}
				for far := range 2 {
					near := front[s.root(o.ports[2*k+1-far])]
					o.dim[i] |= floating & near & (o.line[p]&o.ret[2*k+far] | o.ret[p]&o.line[2*k+far])
				}
			}
		}
	}
}
