package change

import "strapper/switching"

// A stand is what a switch does at one place of an arrangement: its part, and
// the nets of its terminals, by their numbers in the part.
type stand struct {
	part part
	nets []int
}

// stand says what the switch at place k of the order does. Of a chain, tap 0
// takes line and switched line at the two commons; tap t takes them from the
// t-th pair of strappers, the commons then being joined.
func (g *group) stand(k, tap int) stand {
	n := len(g.slots)
	switch {
	case n == 1 || g.rule() == switching.RuleAny:
		return stand{partMake, []int{g.feed, g.switched}}
	case g.rule() == switching.RuleAll:
		return stand{partMake, []int{g.before(k), g.before(k + 1)}}
	}
	first, last := g.common, g.common
	if tap == 0 {
		first, last = g.feed, g.switched
	}
	switch k {
	case 0:
		r := g.pair(0, tap)
		return stand{partChange, []int{first, r[0], r[1]}}
	case n - 1:
		r := g.pair(n-2, tap)
		return stand{partChange, []int{last, r[0], r[1]}}
	}
	a, b := g.pair(k-1, tap), g.pair(k, tap)
	return stand{partCross, []int{a[0], a[1], b[0], b[1]}}
}

// pair is the nets between the switches k and k+1 of a chain.
func (g *group) pair(k, tap int) [2]int {
	if k == tap-1 {
		return [2]int{g.feed, g.switched}
	}
	return g.rails[k]
}

// before is the net before the switch k of a series; after the last it is the
// switched line.
func (g *group) before(k int) int {
	switch k {
	case 0:
		return g.feed
	case len(g.slots):
		return g.switched
	}
	return g.rails[k-1][0]
}
