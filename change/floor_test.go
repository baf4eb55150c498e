package change_test

import (
	"fmt"
	"slices"
	"strings"
)

// known is what was found out about boxes that several choices share: their
// floors, and what they cost with each net on each core.
type known struct {
	floors map[string]int64
	memos  map[string]map[memoKey]int64
}

// lay works out for every box the least that is spent in it, whatever the
// others do: its own cores with any nets, each net that must come in from
// elsewhere on one of them. The sum, with what the choice costs, is less than
// or equal to what any way costs.
func (h *hunt) lay(k known) int64 {
	h.floor = make([]int64, len(h.m.boxes))
	h.least = h.c.cost
	for b := range h.m.boxes {
		there := h.describe(b)
		if k.memos[there] == nil {
			k.memos[there] = map[memoKey]int64{}
		}
		h.memo = append(h.memo, k.memos[there])
		h.seen = append(h.seen, map[memoKey]int64{})
		key := there + h.demand(b)
		if _, ok := k.floors[key]; !ok {
			k.floors[key] = h.lowest(b)
		}
		h.floor[b] = k.floors[key]
		h.least += h.floor[b]
	}
	h.worth = slices.Clone(h.floor)
	return min(h.least, noWay)
}

// describe tells two boxes apart by what is in them.
func (h *hunt) describe(box int) string {
	var key strings.Builder
	fmt.Fprint(&key, box, h.c.forced[box])
	for _, f := range h.c.fits {
		if h.m.places[f.place].box == box {
			fmt.Fprint(&key, " ", f.place, f.kind.ID, f.stays, f.nets)
		}
	}
	for _, e := range h.ends[box] {
		if c := &h.cores[e.core]; c.fresh {
			fmt.Fprint(&key, " ", c.cable.ID, c.colour)
		}
	}
	return key.String()
}

// demand tells them apart by what must come in, and what may.
func (h *hunt) demand(box int) string {
	key := fmt.Sprint(" of ", h.c.nets)
	for net := range h.c.nets {
		if h.comesIn(net, box) {
			key += fmt.Sprint(" ", net)
		}
	}
	return key
}

// comesIn reports a net that is needed in a box and elsewhere.
func (h *hunt) comesIn(net, box int) bool {
	needs := h.c.needs[net]
	return needs>>box&1 == 1 && needs&^(1<<box) != 0
}

// patience is how many steps are spent on one box; after them its floor is
// only that it must be opened.
const patience = 5000

func (h *hunt) lowest(box int) int64 {
	best, steps := noWay, 0
	var missing []int
	for net := range h.c.nets {
		if h.comesIn(net, box) {
			missing = append(missing, net)
		}
	}
	var put func(n int, sure int64)
	put = func(n int, sure int64) {
		if n == len(h.ends[box]) {
			best = min(best, h.boxCost(box)+h.halves(box))
			return
		}
		i := h.ends[box][n].core
		for _, o := range h.optionsAt(box, i, sure) {
			steps++
			if o.cost >= best || steps > patience {
				break
			}
			h.net[i] = o.net
			if o.net >= 0 {
				h.dealt[o.net]++
			}
			if h.enough(missing, len(h.ends[box])-n-1) {
				put(n+1, sure+h.adds(&h.cores[i], h.side(i, box), o.net))
			}
			if o.net >= 0 {
				h.dealt[o.net]--
			}
			h.net[i] = unset
		}
	}
	put(0, 0)
	h.steps += steps
	switch {
	case steps <= patience:
		return best
	case h.c.forced[box]:
		return h.opening(box)
	}
	return 0
}

func (h *hunt) side(core, box int) int {
	if h.cores[core].from == box {
		return 0
	}
	return 1
}

func (h *hunt) optionsAt(box, i int, sure int64) []option {
	c := &h.cores[i]
	var list []option
	for net := none; net < h.c.nets; net++ {
		if !h.renamed(net) {
			list = append(list, option{net, h.value(box, sure+h.adds(c, h.side(i, box), net))})
		}
	}
	slices.SortStableFunc(list, func(a, b option) int { return int(a.cost - b.cost) })
	return list
}

// enough reports whether the nets that must come in and do not yet are no more
// than the cores that are left.
func (h *hunt) enough(missing []int, left int) bool {
	for _, net := range missing {
		if h.dealt[net] == 0 {
			left--
		}
	}
	return left >= 0
}
