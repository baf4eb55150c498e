package change_test

import (
	"math/bits"
	"slices"

	"strapper/kit"
)

const noWay = int64(1) << 40

// A way is the best that was found.
type way struct {
	cost   int64 // in tenths of a minute; noWay if there is none
	choice choice
	cores  []core
	nets   []int // by core
}

// tooLong is how many steps are taken at most for one house: the few that take
// more, up to millions, are left out of comparisons.
const tooLong = 200_000

// exhaust finds the least effort of all ways. The number of steps, in each of
// which a core is given a net, is more than tooLong where it gave up.
func (m *model) exhaust() (best way, steps int) {
	known := known{floors: map[string]int64{}, memos: map[string]map[memoKey]int64{}}
	var hunts []*hunt
	for _, c := range m.choices() {
		if m.barred(&c) {
			continue
		}
		h := m.newHunt(c)
		if h.possible() && h.lay(known) < noWay {
			hunts = append(hunts, h)
		}
		steps += h.steps
		h.steps = 0
	}
	slices.SortStableFunc(hunts, func(a, b *hunt) int { return int(a.least - b.least) })
	if len(hunts) == 0 {
		return way{cost: noWay}, steps
	}
	for more := int64(60); ; more *= 2 { // little at first: a tight limit is soon tried out
		limit := min(hunts[0].least+more, noWay)
		best = under(limit, hunts, &steps)
		if best.cost < limit || limit == noWay || steps > tooLong {
			return best, steps
		}
	}
}

// under finds the least effort below a limit; the cost is the limit if there
// is no such way.
func under(limit int64, hunts []*hunt, steps *int) way {
	best := way{cost: limit}
	for _, h := range hunts {
		if h.least >= best.cost {
			break
		}
		h.best, h.steps = best.cost, *steps
		h.decide(0, h.least)
		*steps = h.steps
		if h.best < best.cost {
			best = way{h.best, h.c, h.cores, h.bestNets}
		}
	}
	return best
}

// A hunt gives every core a net, or none, for one choice. What is spent is
// reckoned box by box, half of what a core costs at either end of it.
type hunt struct {
	m        *model
	c        choice
	cores    []core
	order    []int               // of cores
	ends     [][]coreEnd         // by box
	net      []int               // by core; unset while not yet decided
	open     []int               // by box: cores not yet decided
	floor    []int64             // by box: the least that is spent there, taken by itself
	worth    []int64             // by box: the least that is spent there, as far as it is seen
	sure     []int64             // by box: what is spent for certain in view of the cores decided
	joints   [][]meeting         // by box, with what the choice says of them
	dealt    []int               // by net: how many cores have it
	free     []int               // by cut: cores across it that are not decided
	across   []uint              // by cut: nets that must cross it and have not yet
	memo     []map[memoKey]int64 // by box: what boxCost found, shared where the box is the same
	seen     []map[memoKey]int64 // by box: what ahead found
	least    int64               // before any core is decided
	best     int64
	bestNets []int
	steps    int
}

const unset = -2

// A memoKey is the net of every core in a box.
type memoKey [24]int8

func (m *model) newHunt(c choice) *hunt {
	h := &hunt{m: m, c: c, cores: slices.Concat(m.cores, c.new)}
	h.net = slices.Repeat([]int{unset}, len(h.cores))
	h.dealt = make([]int, c.nets)
	h.sure = make([]int64, len(m.boxes))
	for i := range m.boxes {
		h.ends = append(h.ends, endsAt(h.cores, i))
		h.open = append(h.open, len(h.ends[i]))
		h.joints = append(h.joints, slices.Clone(m.boxes[i].joints))
	}
	for _, f := range c.fits {
		h.exchange(f)
	}
	h.cuts()
	h.arrange()
	return h
}

// exchange marks the joints of a switch that goes: what is in them is moved.
func (h *hunt) exchange(f fitting) {
	p := h.m.places[f.place]
	if p.found == nil || f.stays {
		return
	}
	id := h.m.boxes[p.box].id
	for i, j := range h.m.livesIn(id) {
		staying := false
		for _, e := range j.Ends {
			staying = staying || h.m.in.Cable(e.Item) == nil && e.Item != p.found.ID && !h.m.out[[2]string{id, e.Item}]
		}
		h.joints[p.box][i].dead = h.joints[p.box][i].terminal && !staying
	}
}

// cuts prepares the count of cores across each division of the boxes: nets
// that must cross it need one each. A cut is the set of boxes on the side that
// the first box is not on.
func (h *hunt) cuts() {
	n := 1 << (len(h.m.boxes) - 1)
	h.free, h.across = make([]int, n), make([]uint, n)
	for cut := range n {
		side := uint(cut) << 1
		for _, c := range h.cores {
			if side>>c.from&1 != side>>c.to&1 {
				h.free[cut]++
			}
		}
		for net, needs := range h.c.needs {
			if needs&side != 0 && needs&^side != 0 {
				h.across[cut] |= 1 << net
			}
		}
	}
}

// arrange orders the cores so that boxes are complete as early as possible.
func (h *hunt) arrange() {
	done := make([]bool, len(h.cores))
	left := slices.Clone(h.open)
	for range h.m.boxes {
		box := -1
		for b, n := range left {
			if n > 0 && (box < 0 || n < left[box]) {
				box = b
			}
		}
		if box < 0 {
			return
		}
		for _, e := range h.ends[box] {
			if !done[e.core] {
				done[e.core] = true
				h.order = append(h.order, e.core)
				left[h.cores[e.core].from]--
				left[h.cores[e.core].to]--
			}
		}
	}
}

// possible reports whether enough cores are left across every cut.
func (h *hunt) possible() bool {
	for cut, free := range h.free {
		if bits.OnesCount(h.across[cut]) > free {
			return false
		}
	}
	return true
}

// decide is about the n-th core and those after it; cost is what is spent at
// least so far.
func (h *hunt) decide(n int, cost int64) {
	if n == len(h.order) {
		h.best, h.bestNets = cost, slices.Clone(h.net)
		return
	}
	i := h.order[n]
	for _, o := range h.options(i) {
		if cost+o.cost >= h.best {
			break
		}
		h.steps++
		h.try(n, o.net, cost)
	}
}

// An option is a net that a core may have, and what it adds for certain.
type option struct {
	net  int
	cost int64
}

// options lists what a core may carry, the cheapest first.
func (h *hunt) options(i int) []option {
	c := &h.cores[i]
	list := make([]option, 0, h.c.nets+1)
	for net := none; net < h.c.nets; net++ {
		if h.renamed(net) {
			continue
		}
		o := option{net: net}
		for side, box := range [2]int{c.from, c.to} {
			o.cost += max(h.worth[box], h.value(box, h.sure[box]+h.adds(c, side, net))) - h.worth[box]
		}
		list = append(list, o)
	}
	slices.SortStableFunc(list, func(a, b option) int { return int(a.cost - b.cost) })
	return list
}

// renamed reports a net that might as well be called by its twin's name, which
// no core has yet.
func (h *hunt) renamed(net int) bool {
	u, ok := h.c.twin[net]
	return ok && h.dealt[net] == 0 && h.dealt[u] == 0
}

// adds is what a core with a net adds for certain at one end: half its own
// cost, and what its end costs.
func (h *hunt) adds(c *core, side, net int) int64 {
	own := h.coreCost(c, net)
	half := own / 2
	box := c.from
	if side == 1 {
		half, box = own-half, c.to
	}
	if end := h.surely(box, c, c.joint[side], net); end > 0 {
		return half + end + changes
	}
	return half
}

// changes marks, in what is sure of a box, that something changes in it; the
// sum is in the bits below.
const changes = int64(1) << 48

// value is what is spent at least in a box that is not complete.
func (h *hunt) value(box int, sure int64) int64 {
	r := &h.m.boxes[box]
	cost := sure % changes
	if sure >= changes {
		if r.closed {
			return noWay
		}
		cost += h.opening(box)
	} else if h.c.forced[box] {
		cost += h.opening(box)
	}
	return max(cost, h.floor[box])
}

func (h *hunt) opening(box int) int64 {
	if h.m.boxes[box].added {
		return 0
	}
	return h.m.cost.open
}

// halves is what the cores that end in a box cost by themselves, its share.
func (h *hunt) halves(box int) int64 {
	var sum int64
	for _, e := range h.ends[box] {
		c := &h.cores[e.core]
		own := h.coreCost(c, h.net[e.core])
		if c.from == box {
			sum += own / 2
		} else {
			sum += own - own/2
		}
	}
	return sum
}

// coreCost is what it costs that a core carries a net, its ends apart.
func (h *hunt) coreCost(c *core, net int) int64 {
	p := &h.m.cost
	if net == none {
		return 0
	}
	var cost int64
	if !c.fresh && c.idle {
		cost += p.spare
		if old(c) {
			cost += p.old
		}
	}
	if c.net == net {
		return cost
	}
	if c.doubtful {
		cost += p.doubt
	}
	if !says(c, net < 2*len(h.m.in.Circuits) && net%2 == 1) {
		cost += p.sleeve
	}
	return cost
}

func old(c *core) bool { return c.cable.Kind.Palette == kit.OldColours }

// says reports whether a colour is that of a neutral, or of a line or what is
// switched: blue and brown (BS 7671 Table 51), before them black and red.
func says(c *core, neutral bool) bool {
	line, blue := kit.Brown, kit.Blue
	if old(c) {
		line, blue = kit.Red, kit.Black
	}
	if neutral {
		return c.colour == blue
	}
	return c.colour == line
}

// surely is what an end costs in a box whatever else is there.
func (h *hunt) surely(box int, c *core, joint, net int) int64 {
	switch {
	case c.fresh:
		return 0
	case joint == none && net == none:
		return 0
	case joint == none:
		return h.m.cost.moved
	}
	j := &h.joints[box][joint]
	if j.dead || j.net != none && j.net != net || j.terminal && net == none {
		return h.m.cost.moved
	}
	return 0
}

// try gives a core a net and goes on.
func (h *hunt) try(n, net int, cost int64) {
	i := h.order[n]
	c := &h.cores[i]
	undo := h.cross(c, net)
	sure, before := [2]int64{h.sure[c.from], h.sure[c.to]}, [2]int64{h.worth[c.from], h.worth[c.to]}
	h.net[i] = net
	if net >= 0 {
		h.dealt[net]++
	}
	for side, box := range [2]int{c.from, c.to} {
		h.sure[box] += h.adds(c, side, net)
		h.open[box]--
		h.worth[box] = h.ahead(box)
		cost += h.worth[box] - before[side]
	}
	if cost < h.best && undo.possible && h.mayBeWhole() {
		h.decide(n+1, cost)
	}
	for side, box := range [2]int{c.from, c.to} {
		h.sure[box], h.worth[box] = sure[side], before[side]
		h.open[box]++
	}
	if net >= 0 {
		h.dealt[net]--
	}
	h.net[i] = unset
	h.uncross(c, net, undo)
}

// ahead is the least that is spent in a box in view of the cores decided: a
// last one that is not is tried with every net.
func (h *hunt) ahead(box int) int64 {
	least := h.value(box, h.sure[box])
	switch h.open[box] {
	case 0:
		return h.boxCost(box) + h.halves(box)
	case 1:
		key := h.key(box)
		if _, ok := h.seen[box][key]; !ok {
			h.seen[box][key] = h.last(box)
		}
		return max(least, h.seen[box][key])
	}
	return least
}

// last is the least in a box with one core to be decided.
func (h *hunt) last(box int) int64 {
	at := slices.IndexFunc(h.ends[box], func(e coreEnd) bool { return h.net[e.core] == unset })
	i := h.ends[box][at].core
	best := noWay
	for net := none; net < h.c.nets; net++ {
		if h.value(box, h.sure[box]+h.adds(&h.cores[i], h.side(i, box), net)) < best {
			h.net[i] = net
			best = min(best, h.boxCost(box)+h.halves(box))
		}
	}
	h.net[i] = unset
	return best
}

// A crossing remembers what cross changed.
type crossing struct {
	possible bool
	cuts     []int // in which the net had not crossed before
}

func (h *hunt) cross(c *core, net int) crossing {
	u := crossing{possible: true}
	for cut := range h.free {
		side := cut << 1
		if side>>c.from&1 == side>>c.to&1 {
			continue
		}
		h.free[cut]--
		if net >= 0 && h.across[cut]>>net&1 == 1 {
			h.across[cut] &^= 1 << net
			u.cuts = append(u.cuts, cut)
		}
		u.possible = u.possible && bits.OnesCount(h.across[cut]) <= h.free[cut]
	}
	return u
}

func (h *hunt) uncross(c *core, net int, u crossing) {
	for cut := range h.free {
		if side := cut << 1; side>>c.from&1 != side>>c.to&1 {
			h.free[cut]++
		}
	}
	for _, cut := range u.cuts {
		h.across[cut] |= 1 << net
	}
}

// mayBeWhole reports whether every net can still be in one piece: what it must
// reach, and the cores that have it, lie in one piece of its own cores and
// those not yet decided.
func (h *hunt) mayBeWhole() bool {
	for net, needs := range h.c.needs {
		want := needs
		for i, has := range h.net {
			if has == net {
				want |= 1<<h.cores[i].from | 1<<h.cores[i].to
			}
		}
		if want&(want-1) != 0 && !h.spans(want, net) {
			return false
		}
	}
	return true
}

func (h *hunt) spans(want uint, net int) bool {
	got := want & -want
	for {
		before := got
		for i, has := range h.net {
			c := &h.cores[i]
			if ends := uint(1)<<c.from | 1<<c.to; (has == net || has == unset) && got&ends != 0 {
				got |= ends
			}
		}
		if want&^got == 0 {
			return true
		}
		if got == before {
			return false
		}
	}
}
