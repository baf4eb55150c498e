package change_test

import (
	"math/bits"
	"slices"
)

// boxCost is the least that is spent in a box, all cores in it decided: with
// the switches that stay turned in every way, free terminals put to every use,
// and joints as found made into joints as left in every way.
func (h *hunt) boxCost(box int) int64 {
	key := h.key(box)
	if cost, ok := h.memo[box][key]; ok {
		return cost
	}
	var mine []fitting
	for _, f := range h.c.fits {
		if h.m.places[f.place].box == box {
			mine = append(mine, f)
		}
	}
	s := &scene{h: h, box: box, room: &h.m.boxes[box], ends: h.ends[box], joints: h.joints[box], forced: h.c.forced[box]}
	s.lands = append(make([]landing, 0, 16), s.room.fixed...)
	best := s.turnAll(mine)
	h.memo[box][key] = best
	return best
}

func (h *hunt) key(box int) memoKey {
	var key memoKey
	for i, e := range h.ends[box] {
		key[i] = int8(h.net[e.core])
	}
	return key
}

// A scene is one box with all that ends in it.
type scene struct {
	h      *hunt
	box    int
	room   *room
	ends   []coreEnd
	joints []meeting
	lands  []landing // terminals that stay: joint as found and net as left
	empty  []int     // joints of terminals that stay with nothing landed
	fresh  uint      // nets that are landed on a terminal of a new switch
	forced bool
}

func (s *scene) turnAll(fits []fitting) int64 {
	if len(fits) == 0 {
		return s.price()
	}
	f, rest := fits[0], fits[1:]
	if !f.stays {
		before := s.fresh
		for _, n := range f.nets {
			if n >= 0 {
				s.fresh |= 1 << n
			}
		}
		best := s.turnAll(rest)
		s.fresh = before
		return best
	}
	best := noWay
	for _, turn := range f.turns {
		lands, empty := s.lands, s.empty
		for i, t := range turn {
			if n := f.nets[t]; n >= 0 {
				s.lands = append(s.lands, landing{f.joint[i], n})
			} else {
				s.empty = append(s.empty, f.joint[i])
			}
		}
		best = min(best, s.turnAll(rest))
		s.lands, s.empty = lands, empty
	}
	return best
}

// price is the cost with every terminal's net known.
func (s *scene) price() int64 {
	if !s.forced && s.unchanged() {
		return 0
	}
	if s.room.closed {
		return noWay
	}
	var cost int64
	if !s.room.added {
		cost = s.h.m.cost.open
	}
	l := s.lefts()
	moved := 0
	for _, e := range s.ends {
		c := &s.h.cores[e.core]
		if !c.fresh && (e.joint != none || s.h.net[e.core] != none) {
			moved++
		}
	}
	return cost + int64(moved)*s.h.m.cost.moved - l.gain(0)
}

// unchanged reports whether the box is as left what it was as found.
func (s *scene) unchanged() bool {
	const unknown = -3
	netOf := make([]int, len(s.joints)) // what is in each joint as left
	for i := range netOf {
		netOf[i] = unknown
	}
	agree := func(joint, net int) bool {
		if joint == none {
			return false
		}
		ok := netOf[joint] == unknown || netOf[joint] == net
		netOf[joint] = net
		return ok
	}
	for _, e := range s.ends {
		if n := s.h.net[e.core]; (e.joint != none || n != none) && !agree(e.joint, n) {
			return false
		}
	}
	for _, l := range s.lands {
		if l.joint == none && s.present(l.net) > 1 || l.joint != none && !agree(l.joint, l.net) {
			return false
		}
	}
	for _, j := range s.empty {
		if j != none && s.joints[j].size > 1 {
			return false
		}
	}
	return s.apart(netOf)
}

// apart: two joints as found are not one as left, and what carries nothing is
// in a connector of its own, or alone.
func (s *scene) apart(netOf []int) bool {
	for j, n := range netOf {
		if n == none && s.joints[j].terminal {
			return false
		}
		for k := range j {
			if n >= 0 && netOf[k] == n {
				return false
			}
		}
	}
	return true
}

// present counts the ends of a net in the box: cores and terminals.
func (s *scene) present(net int) int {
	n := 0
	for _, e := range s.ends {
		if s.h.net[e.core] == net {
			n++
		}
	}
	for _, l := range s.lands {
		if l.net == net {
			n++
		}
	}
	return n + int(s.fresh>>net&1)
}

// A left is a joint as left.
type left struct {
	net      int
	cores    uint
	terminal bool // one whose net is known is in it
	from     int  // the joint as found it is made of; none
}

// lefts is a box with its joints as left, while those as found are given to
// them.
type lefts struct {
	s     *scene
	list  []left
	pool  int // free terminals not in use
	joint int64
}

func (s *scene) lefts() *lefts {
	l := &lefts{s: s, pool: s.room.free, joint: s.room.joint}
	l.list = make([]left, 0, len(s.ends))
	for bit, e := range s.ends {
		n := s.h.net[e.core]
		i := slices.IndexFunc(l.list, func(x left) bool { return x.net == n && n != none })
		if i < 0 {
			i = len(l.list)
			l.list = append(l.list, left{net: n, from: none})
		}
		l.list[i].cores |= 1 << bit
	}
	for i := range l.list {
		x := &l.list[i]
		if x.net >= 0 {
			x.terminal = s.fresh>>x.net&1 == 1
			for _, t := range s.lands {
				x.terminal = x.terminal || t.net == x.net
			}
		}
	}
	return l
}

// gain is the most that is saved, against moving every end, by making joints
// as found from the n-th on into joints as left; new connectors are taken off.
func (l *lefts) gain(n int) int64 {
	if n == len(l.s.joints) {
		return -l.connectors()
	}
	j := &l.s.joints[n]
	if l.spares(j) {
		return int64(bits.OnesCount(j.cores))*l.s.h.m.cost.moved + l.gain(n+1)
	}
	best := l.gain(n + 1)
	for i := range l.list {
		x := &l.list[i]
		stay := bits.OnesCount(x.cores & j.cores)
		if stay == 0 || x.from != none || !l.fits(n, x) {
			continue
		}
		borrowed := j.terminal && !l.lands(n, x.net)
		l.use(x, n, borrowed, -1)
		best = max(best, int64(stay)*l.s.h.m.cost.moved+l.gain(n+1))
		l.use(x, none, borrowed, +1)
	}
	return best
}

// use takes a free terminal for a joint, or gives it back.
func (l *lefts) use(x *left, from int, borrowed bool, pool int) {
	x.from = from
	if borrowed {
		l.pool += pool
	}
}

// spares reports a connector in which nothing carries anything as left.
func (l *lefts) spares(j *meeting) bool {
	if j.terminal {
		return false
	}
	for bit, e := range l.s.ends {
		if j.cores>>bit&1 == 1 && l.s.h.net[e.core] != none {
			return false
		}
	}
	return true
}

// fits reports whether a joint as found can become a joint as left: one with
// terminals through one that stays, a connector only a connector.
func (l *lefts) fits(joint int, x *left) bool {
	j := &l.s.joints[joint]
	if !j.terminal {
		return !x.terminal
	}
	return l.lands(joint, x.net) || j.spot && x.net >= 0 && !j.dead
}

// lands reports whether a terminal that stays in a joint has the net as left.
func (l *lefts) lands(joint, net int) bool {
	for _, t := range l.s.lands {
		if t.joint == joint && t.net == net && net >= 0 {
			return true
		}
	}
	return false
}

// connectors is what new free connectors cost: joints of two cores or more
// without a terminal, that no such joint as found became, as far as there is
// no free terminal to use instead.
func (l *lefts) connectors() int64 {
	must, might := 0, 0
	for _, x := range l.list {
		if x.terminal || x.net < 0 || bits.OnesCount(x.cores) < 2 {
			continue
		}
		switch {
		case x.from == none:
			might++
		case l.s.joints[x.from].terminal: // a free terminal is in it
		case bits.OnesCount(l.s.joints[x.from].cores) < 2:
			must++
		}
	}
	return int64(must+max(0, might-l.pool)) * l.joint
}
