package switching

import (
	"math/bits"

	"strapper/wiring"
)

// MaxBits is the greatest number of position bits proved by truth table: one
// bit for a switch of two positions, two bits for three or four.
const MaxBits = 24

// blockBits is the size of the piece of truth table worked on at once: 2^12
// states, 64 words, so that a whole installation's tables stay in the cache.
const blockBits = 12

// A layout gives every switch its bits in a state's number. Switches with two
// positions come first, so that their tables are plain bit patterns.
type layout struct {
	g     *wiring.Graph
	shift []uint8 // lowest bit of each switch
	width []uint8
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
			}
			l.bits += int(l.width[i])
		}
	}
	l.words = 1 << max(0, min(l.bits, blockBits)-6)
	return l
}

// states is the length of a truth table, valid or not.
func (l *layout) states() uint64 { return 1 << l.bits }

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
	for i := range l.shift {
		if l.width[i] == 2 {
			v &= l.literal(i, 1<<len(l.g.Switches[i].Kind.Positions)-1, block, w)
		}
	}
	return v
}

// A table is a truth table over all states.
type table []uint64

func (l *layout) newTable() table { return make(table, l.words*l.blocks()) }

func (t table) get(index uint64) bool { return t[index>>6]>>(index&63)&1 == 1 }

// fewest is the true state with the fewest switches out of their first
// position; ok is false for the table of no states.
func (t table) fewest() (index uint64, ok bool) {
	best := 65
	for w, word := range t {
		for ; word != 0; word &= word - 1 {
			i := uint64(w)<<6 | uint64(bits.TrailingZeros64(word))
			if n := bits.OnesCount64(i); n < best {
				best, index = n, i
			}
		}
	}
	return index, best < 65
}
