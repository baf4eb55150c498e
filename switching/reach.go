package switching

// A source is a net from which reach is computed: the line or the neutral of a
// circuit, or the earth bar.
type source struct {
	net   int32
	order []contact
}

// A block is the piece of all truth tables being worked on: literals first,
// then for every source the states in which each net is joined to it.
type block struct {
	l       *layout
	n       *nets
	number  int
	valid   []uint64
	literal []uint64 // by literal, words each
	reach   []uint64 // by source, then net, words each
	scratch []uint64
}

func newBlock(l *layout, n *nets, sources int) *block {
	w := l.words
	return &block{
		l: l, n: n,
		valid:   make([]uint64, w),
		literal: make([]uint64, len(n.literals)*w),
		reach:   make([]uint64, sources*n.count*w),
		scratch: make([]uint64, w),
	}
}

// of is the table of states in which net is joined to source number s.
func (b *block) of(s int, net int32) []uint64 {
	i := (s*b.n.count + int(net)) * b.l.words
	return b.reach[i : i+b.l.words]
}

func (b *block) closes(literal int32) []uint64 {
	return b.literal[int(literal)*b.l.words : (int(literal)+1)*b.l.words]
}

// fill computes block number of every table: least fixpoint of
// reach(v) = OR over contacts u-v of reach(u) AND closed(u-v), with the source
// itself always reached.
func (b *block) fill(number int, sources []source) {
	b.number = number
	for w := range b.valid {
		b.valid[w] = b.l.valid(number, w)
	}
	for i, lit := range b.n.literals {
		for w, t := 0, b.closes(int32(i)); w < len(t); w++ {
			t[w] = b.l.literal(lit.sw, lit.in, number, w) & b.valid[w]
		}
	}
	clear(b.reach)
	for s := range sources {
		copy(b.of(s, sources[s].net), b.valid)
		for b.sweep(s, sources[s].order) {
		}
	}
}

// sweep carries reach once along every contact, both ways, and reports whether
// anything changed.
func (b *block) sweep(s int, order []contact) bool {
	var changed uint64
	for _, c := range order {
		x, y, closed := b.of(s, c.a), b.of(s, c.b), b.closes(c.literal)
		for w, k := range closed {
			both := (x[w] | y[w]) & k
			changed |= both&^x[w] | both&^y[w]
			x[w] |= both
			y[w] |= both
		}
	}
	return changed != 0
}

// look marks a hazard that shows in the block.
func (p *Proof) look(b *block, h *hazard) {
	if h.seen || h.count == 0 {
		return
	}
	t := b.scratch
	copy(t, b.of(h.all[0].source, h.all[0].net))
	for _, a := range h.all[1:h.count] {
		for w, v := range b.of(a.source, a.net) {
			t[w] &= v
		}
	}
	if !anySet(t) {
		return
	}
	p.excluded(&h.condition, func(source int) {
		for w, v := range b.of(source, h.dead) {
			t[w] &^= v
		}
	})
	h.seen = anySet(t)
}

// A block is a view of its own states.
func (b *block) every() function { return table{b.l, b.number, b.valid} }

func (b *block) closed(literal int32) function { return table{b.l, b.number, b.closes(literal)} }

func (b *block) reached(source int, net int32) function {
	return table{b.l, b.number, b.of(source, net)}
}
