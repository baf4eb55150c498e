package wiring

import "slices"

// A meeting is one joint of a box: its terminals, and its core ends.
type meeting struct {
	terminals, cores []End
}

func (m *meeting) has(e End) bool {
	return slices.Contains(m.terminals, e) || slices.Contains(m.cores, e)
}

// meetings lists the joints of a box in the order of the installation. A
// terminal alone is no joint: nothing is in it.
func (g *Graph) meetings(box string) []meeting {
	var list []meeting
	for n, ends := range g.members {
		if g.loose[n] || len(ends) == 0 || ends[0].Box != box {
			continue
		}
		terminals, cores := g.sorted(ends)
		if len(terminals) != 1 || len(cores) > 0 {
			list = append(list, meeting{terminals, cores})
		}
	}
	return list
}

// overlap is what two joints, as found and as left, have in common that need
// not be touched if the second is made out of the first: terminals count far
// more than cores, since a terminal cannot follow a core. It is zero where the
// one cannot be made out of the other: a free connector never becomes a
// terminal. Of pairings that keep as much, those are better that keep a
// connector a connector, rather than leave one core in it.
func overlap(found, left *meeting, stays func(End) bool) int {
	count := func(a, b []End) (n int) {
		for _, e := range a {
			if stays(e) && slices.Contains(b, e) {
				n++
			}
		}
		return n
	}
	shared := count(found.terminals, left.terminals)
	if shared == 0 && len(found.terminals)+len(left.terminals) > 0 {
		return 0
	}
	cores, connector := count(found.cores, left.cores), 0
	if shared == 0 && cores > 0 && len(found.cores) > 1 && len(left.cores) > 1 {
		connector = 1
	}
	return shared<<32 + cores<<8 + connector
}

// assign pairs rows with columns so that the sum of their weights is greatest;
// pairs of weight zero are never made. It returns the row of each column, or
// -1. Method: successive augmenting paths of greatest gain, found by
// relaxation as in Bellman (1958) and Ford (1956); the joints of a box are few.
func assign(rows, columns int, weight func(row, column int) int) []int {
	rowOf, columnOf := slices.Repeat([]int{-1}, columns), slices.Repeat([]int{-1}, rows)
	for {
		column, via := bestPath(rowOf, columnOf, weight)
		if column < 0 {
			return rowOf
		}
		for column >= 0 { // turn the path over, from its end to its free row
			row := via[column]
			rowOf[column], columnOf[row], column = row, column, columnOf[row]
		}
	}
}

// bestPath finds the alternating path from a free row to a free column that
// adds most; column is -1 if none adds anything. via names the row through
// which each column was reached.
func bestPath(rowOf, columnOf []int, weight func(row, column int) int) (column int, via []int) {
	const unreached = -1 << 60
	gain := slices.Repeat([]int{unreached}, len(rowOf)) // by column
	via = make([]int, len(rowOf))
	for changed := true; changed; {
		changed = false
		for row, own := range columnOf {
			start := 0
			if own >= 0 {
				start = gain[own] - weight(row, own)
			}
			for c := range rowOf {
				w := weight(row, c)
				if w > 0 && c != own && start > unreached/2 && start+w > gain[c] {
					gain[c], via[c], changed = start+w, row, true
				}
			}
		}
	}
	column = -1
	for c, g := range gain {
		if rowOf[c] < 0 && g > 0 && (column < 0 || g > gain[column]) {
			column = c
		}
	}
	return column, via
}
