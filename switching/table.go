package switching

import (
	"math/bits"

	"strapper/wiring"
)

// MaxBits is the greatest number of position bits proved by truth table: one
// bit for a switch of two positions, two bits for three or four. Beyond it an
// installation whose decision diagrams grow too large is not proved.
const MaxBits = 20

// blockBits is the size of the piece of truth table worked on at once: 2^12
// states, 64 words, so that a whole installation's tables stay in the cache.
const blockBits = 12

// A layout gives every switch its bits in a state's number. Switches with two
// positions come first, so that their tables are plain bit patterns.
type layout struct {
	g     *wiring.Graph
	shift []uint8 // lowest bit of each switch
	width []uint8
	wide  []int // switches of more than two positions
	bits  int
	words int // words in a block
}

func newLayout(g *wiring.Graph) layout {
	l := layout{g: g, shift: make([]uint8, len(g.Switches)), width: make([]uint8, len(g.Switches))}
	for _, wide := range [2]bool{false, true} {
		for i := range g.Switches {
			if (len(g.Switches[i].Kind.Positions) > 2) != wide {
				continue
			}
			l.shift[i], l.width[i] = uint8(l.bits), 1
			if wide {
				l.width[i] = 2
				l.wide = append(l.wide, i)
			}
			l.bits += int(l.width[i])
		}
	}
	l.words = 1 << max(0, min(l.bits, blockBits)-6)
	return l
}

func (l *layout) blocks() int { return 1 << max(0, l.bits-blockBits) }

func (l *layout) index(s wiring.State) uint64 {
	var n uint64
	for i, p := range s {
		n |= uint64(p) << l.shift[i]
	}
	return n
}

func (l *layout) position(index uint64, sw int) uint8 {
	return uint8(index >> l.shift[sw] & (1<<l.width[sw] - 1))
}

func (l *layout) state(index uint64) wiring.State {
	s := make(wiring.State, len(l.shift))
	for i := range s {
		s[i] = l.position(index, i)
	}
	return s
}

// lowBits are the truth tables of the six variables that vary inside a word.
var lowBits = [6]uint64{
	0xAAAAAAAAAAAAAAAA, 0xCCCCCCCCCCCCCCCC, 0xF0F0F0F0F0F0F0F0,
	0xFF00FF00FF00FF00, 0xFFFF0000FFFF0000, 0xFFFFFFFF00000000,
}

// variable is word w of block b of the truth table of one bit.
func variable(bit uint8, block, w int) uint64 {
	if bit < 6 {
		return lowBits[bit]
	}
	if uint64(block<<(blockBits-6)|w)>>(bit-6)&1 == 1 {
		return ^uint64(0)
	}
	return 0
}

// literal is word w of the table that is true while switch sw stands in one of
// the positions of the mask.
func (l *layout) literal(sw int, in uint8, block, w int) uint64 {
	x := variable(l.shift[sw], block, w)
	if l.width[sw] == 1 {
		return l.choose(in&1 != 0, ^x) | l.choose(in&2 != 0, x)
	}
	y := variable(l.shift[sw]+1, block, w)
	return l.choose(in&1 != 0, ^x&^y) | l.choose(in&2 != 0, x&^y) |
		l.choose(in&4 != 0, ^x&y) | l.choose(in&8 != 0, x&y)
}

func (l *layout) choose(yes bool, v uint64) uint64 {
	if yes {
		return v
	}
	return 0
}

// valid is word w of the table of states that exist: no third bit pattern for
// a switch of three positions, and no states past the end of a short table.
func (l *layout) valid(block, w int) uint64 {
	v := ^uint64(0)
	if l.bits < 6 {
		v = 1<<(1<<l.bits) - 1
	}
	for _, i := range l.wide {
		v &= l.literal(i, 1<<len(l.g.Switches[i].Kind.Positions)-1, block, w)
	}
	return v
}

// A table is a function as a truth table, over all states or over one block.
type table struct {
	l     *layout
	block int // first block
	words []uint64
}

func (l *layout) newTable() table {
	return table{l, 0, make([]uint64, l.words*l.blocks())}
}

// like is an empty table over the same states.
func (t table) like() table { return table{t.l, t.block, make([]uint64, len(t.words))} }

func (t table) and(o function) function {
	r, u := t.like(), o.(table).words
	for w, v := range t.words {
		r.words[w] = v & u[w]
	}
	return r
}

func (t table) or(o function) function {
	r, u := t.like(), o.(table).words
	for w, v := range t.words {
		r.words[w] = v | u[w]
	}
	return r
}

func (t table) xor(o function) function {
	r, u := t.like(), o.(table).words
	for w, v := range t.words {
		r.words[w] = v ^ u[w]
	}
	return r
}

func (t table) andNot(o function) function {
	r, u := t.like(), o.(table).words
	for w, v := range t.words {
		r.words[w] = v &^ u[w]
	}
	return r
}

// moved shifts the table of all states by the difference of two positions:
// nothing else changes in a state's number.
func (t table) moved(sw, from, to int) function {
	r := t.like()
	ahead := (to - from) << t.l.shift[sw]
	whole, part := ahead>>6, uint(ahead&63)
	word := func(w int) uint64 {
		if w < 0 || w >= len(t.words) {
			return 0
		}
		return t.words[w]
	}
	for w := range r.words {
		r.words[w] = word(w+whole) >> part
		if part != 0 {
			r.words[w] |= word(w+whole+1) << (64 - part)
		}
	}
	return r
}

func (t table) at(s wiring.State) bool {
	index := t.l.index(s)
	return t.words[index>>6]>>(index&63)&1 == 1
}

func (t table) any() bool { return anySet(t.words) }

func (t table) count() (n uint64) {
	for _, w := range t.words {
		n += uint64(bits.OnesCount64(w))
	}
	return n
}

func (t table) fewest() (wiring.State, bool) {
	best, index := 65, uint64(0)
	for w, word := range t.words {
		for ; word != 0; word &= word - 1 {
			i := uint64(t.block*t.l.words+w)<<6 | uint64(bits.TrailingZeros64(word))
			if n := bits.OnesCount64(i); n < best {
				best, index = n, i
			}
		}
	}
	return t.l.state(index), best < 65
}

func anySet(t []uint64) bool {
	for _, w := range t {
		if w != 0 {
			return true
		}
	}
	return false
}
