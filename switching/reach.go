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
}

func newBlock(l *layout, n *nets, sources int) *block {
	w := l.words
	return &block{
		l: l, n: n,
		valid:   make([]uint64, w),
		literal: make([]uint64, len(n.literals)*w),
		reach:   make([]uint64, sources*n.count*w),
	}
}

// of is the table of states in which net is joined to source number s.
func (b *block) of(s int, net int32) []uint64 {
	i := (s*b.n.count + int(net)) * b.l.words
	return b.reach[i : i+b.l.words]
}

func (b *block) closed(literal int32) []uint64 {
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
		for w, t := 0, b.closed(int32(i)); w < len(t); w++ {
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
		x, y, closed := b.of(s, c.a), b.of(s, c.b), b.closed(c.literal)
		for w, k := range closed {
			both := (x[w] | y[w]) & k
			changed |= both&^x[w] | both&^y[w]
			x[w] |= both
			y[w] |= both
		}
	}
	return changed != 0
}

// distances computes the states in which target is reached from the source
// over at most d contacts, for growing d, and stops at the first d for which
// some state also satisfies want. It returns that d and state; ok is false if
// there is none in this block.
func (b *block) nearest(from source, target int32, want []uint64, limit int) (d int, state uint64, ok bool) {
	words := b.l.words
	now := make([]uint64, b.n.count*words)
	at := func(t []uint64, net int32) []uint64 { return t[int(net)*words : (int(net)+1)*words] }
	copy(at(now, from.net), b.valid)
	for d = 0; d < limit; d++ {
		for w, t := range at(now, target) {
			if hit := t & want[w]; hit != 0 {
				return d, b.stateOf(w, hit), true
			}
		}
		next := append([]uint64(nil), now...)
		for _, c := range from.order {
			closed := b.closed(c.literal)
			for w := range closed {
				at(next, c.b)[w] |= at(now, c.a)[w] & closed[w]
				at(next, c.a)[w] |= at(now, c.b)[w] & closed[w]
			}
		}
		now = next
	}
	return 0, 0, false
}
