package fault

// sim works out what one hypothesis does. It holds its workspace: one
// goroutine at a time.
type sim struct {
	*skeleton
	patches  []*patch
	parent   []int32
	cut      []bool    // by fixed edge
	open     []bool    // by contact
	contacts []contact // between nets, in the hypothesis
	loose    [][2]int32
	leak     [][2]int32
	front    []uint64     // of the spreading under way
	last     [8]spreading // by what it passes
	version  uint64       // counts hypotheses
	use      operation
	worked   bool // use is worked out
}

func newSim(k *skeleton) *sim {
	s := &sim{
		skeleton: k, parent: make([]int32, k.nodes), cut: make([]bool, len(k.fixed)), open: make([]bool, len(k.contacts)),
		use: newOperation(k),
	}
	for i := range s.last {
		s.last[i].front = make([]uint64, k.nodes)
	}
	return s
}

// set takes up a hypothesis: the faults whose patches are given.
func (s *sim) set(patches ...*patch) {
	s.mark(false)
	s.patches = append(s.patches[:0], patches...)
	s.mark(true)
	s.contract()
	s.worked = false
	s.version++
}

func (s *sim) mark(on bool) {
	for _, p := range s.patches {
		for _, i := range p.cut {
			s.cut[i] = on
		}
		for _, i := range p.open {
			s.open[i] = on
		}
	}
}

// contract takes together what metal joins for good.
func (s *sim) contract() {
	for i := range s.parent {
		s.parent[i] = int32(i)
	}
	for i, e := range s.fixed {
		if !s.cut[i] {
			s.union(e[0], e[1])
		}
	}
	s.contacts, s.loose, s.leak = s.contacts[:0], s.loose[:0], s.leak[:0]
	for _, p := range s.patches {
		for _, e := range p.join {
			s.union(e[0], e[1])
		}
	}
	for i, c := range s.skeleton.contacts {
		if !s.open[i] {
			s.contact(c)
		}
	}
	for _, p := range s.patches {
		for _, c := range p.extra {
			s.contact(c)
		}
		for _, e := range p.loose {
			s.loose = append(s.loose, [2]int32{s.root(e[0]), s.root(e[1])})
		}
		for _, e := range p.leak {
			s.leak = append(s.leak, [2]int32{s.root(e[0]), s.root(e[1])})
		}
	}
}

func (s *sim) contact(c contact) {
	c.a, c.b = s.root(c.a), s.root(c.b)
	if c.a != c.b && c.in != 0 {
		s.contacts = append(s.contacts, c)
	}
}

func (s *sim) root(n int32) int32 {
	for s.parent[n] != n {
		s.parent[n] = s.parent[s.parent[n]]
		n = s.parent[n]
	}
	return n
}

func (s *sim) union(a, b int32) {
	if a, b = s.root(a), s.root(b); a != b {
		s.parent[a] = b
	}
}

// through says what a connection may pass besides metal.
type through uint8

const (
	electronics through = 1 << iota // semiconductor contacts, as with the supply on
	poor                            // poor contacts
	damage                          // damaged insulation
	bar                             // the neutral bar, which joins all circuits' neutrals
)

// reach spreads from a node: by net, the states in which it is joined. The
// result is good until the next call. The last one of each way is kept.
func (s *sim) reach(from int32, how through) []uint64 {
	how = s.matters(how)
	from = s.root(from)
	last := &s.last[how>>1&7]
	if last.version == s.version && last.from == from && last.how == how {
		return last.front
	}
	last.version, last.from, last.how = s.version, from, how
	s.front = last.front
	clear(s.front)
	s.front[from] = s.all
	for changed := true; changed; {
		changed = false
		for i := range s.contacts {
			if c := &s.contacts[i]; !c.electronic || how&electronics != 0 {
				changed = s.spread(c.a, c.b, c.in) || changed
			}
		}
		if how&^electronics != 0 {
			changed = s.spreadWeak(how) || changed
		}
	}
	return s.front
}

// matters leaves out of a way what this hypothesis has nothing of.
func (s *sim) matters(how through) through {
	if len(s.loose) == 0 {
		how &^= poor
	}
	if len(s.leak) == 0 {
		how &^= damage
	}
	if len(s.neutrals) < 2 {
		how &^= bar
	}
	if !s.electronic {
		how &^= electronics
	}
	return how
}

// spreadings are what was last worked out from one node.
type spreading struct {
	version uint64
	from    int32
	how     through
	front   []uint64
}

func (s *sim) spread(a, b int32, in uint64) bool {
	x := (s.front[a] | s.front[b]) & in
	if x&^(s.front[a]&s.front[b]) == 0 {
		return false
	}
	s.front[a] |= x
	s.front[b] |= x
	return true
}

func (s *sim) spreadWeak(how through) (changed bool) {
	if how&poor != 0 {
		for _, e := range s.loose {
			changed = s.spread(e[0], e[1], s.all) || changed
		}
	}
	if how&damage != 0 {
		for _, e := range s.leak {
			changed = s.spread(e[0], e[1], s.all) || changed
		}
	}
	if how&bar != 0 && len(s.neutrals) > 1 {
		for _, n := range s.neutrals[1:] {
			changed = s.spread(s.root(s.neutrals[0]), s.root(n), s.all) || changed
		}
	}
	return changed
}

func (s *sim) dead(load int) bool {
	for _, p := range s.patches {
		if p.dead == int32(load+1) {
			return true
		}
	}
	return false
}

// between is the states in which two nodes are joined.
func (s *sim) between(a, b int32, how through) uint64 {
	if s.root(a) == s.root(b) {
		return s.all
	}
	return s.reach(a, how)[s.root(b)]
}
