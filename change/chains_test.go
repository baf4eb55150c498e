package change_test

import (
	"flag"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

var long = flag.Bool("long", false, "also try four places with three and four intermediate switches, a minute or so")

// Every arrangement that toggles is a chain once terminals that do nothing are
// freed: changeovers at both ends, crossovers between, with line and lamp
// either at the two commons, or on the pair between two neighbours and the
// commons joined. The enumeration is tried against that, and against the
// contacts that Shannon says suffice and Cardot says are needed.
func TestEveryArrangementIsAChain(t *testing.T) {
	for _, kinds := range questions() {
		p := newPlan(kinds...)
		t.Run(p.name(), func(t *testing.T) {
			if costly := len(kinds) == 4; costly && testing.Short() {
				t.Skip("four places take seconds")
			}
			got := p.tally()
			for _, o := range got.others {
				t.Errorf("no chain: %s", o)
			}
			p.checkCounts(t, got)
			t.Logf("%d arrangements up to symmetry, %d of them without a needless contact; with needless terminals freed, chains by feed: %v; least contacts: %v; closed loops among those: %d",
				got.toggling, got.tight, got.chains, got.contacts, len(got.loops))
		})
	}
}

// questions are all multisets of kinds at one to four places, as far as they
// can be afforded; with one-way switches up to three.
func questions() [][]switchKind {
	var list [][]switchKind
	all := []switchKind{oneWay, twoWay, intermediate}
	var add func(chosen []switchKind, from int)
	add = func(chosen []switchKind, from int) {
		if n := len(chosen); n > 0 && affordable(chosen) {
			list = append(list, slices.Clone(chosen))
		}
		for i := from; i < len(all) && len(chosen) < 4; i++ {
			add(append(chosen, all[i]), i)
		}
	}
	add(nil, 0)
	return list
}

func affordable(kinds []switchKind) bool {
	return len(kinds) < 4 || count(kinds, oneWay) == 0 && (*long || count(kinds, intermediate) < 3)
}

func count(kinds []switchKind, k switchKind) int {
	n := 0
	for _, other := range kinds {
		if other.name == k.name {
			n++
		}
	}
	return n
}

// checkCounts: contacts are 1 for one place and 4(n-1) for n (see the sources
// above); two changeovers and n-2 crossovers are needed, a crossover does for a
// changeover, a single contact does for neither. With exactly these the chains
// are, up to reversal, one with the feed at the commons and one for each of the
// n-1 pairs, and nothing in them is needless.
func (p *plan) checkCounts(t *testing.T, got tally) {
	n := len(p.kinds)
	crossovers, singles := count(p.kinds, intermediate), count(p.kinds, oneWay)
	possible := n == 1 || singles == 0 && crossovers >= n-2
	if possible != (got.toggling > 0) {
		t.Errorf("%d arrangements, want some: %v", got.toggling, possible)
	}
	if !possible {
		return
	}
	if least := slices.Min(slices.Collect(maps.Keys(got.contacts))); least != max(1, 4*(n-1)) {
		t.Errorf("least contacts %d, want %d", least, max(1, 4*(n-1)))
	}
	if n > 1 && crossovers == n-2 {
		want := fmt.Sprint(map[string]int{"commons": 1, "pair": n / 2})
		if fmt.Sprint(got.chains) != want || got.tight != got.toggling || got.toggling != 1+n/2 {
			t.Errorf("%d arrangements, %d without a needless contact, by feed %v; want all of them and %s", got.toggling, got.tight, got.chains, want)
		}
	}
}

// Three intermediate switches in a ring, line and lamp on the pair between two
// of them, are the one loop met: three contacts of each switch can be chosen so
// that none of the nine can be left out, and they are no chain. Freeing
// terminals makes a chain of it all the same.
func TestRingOfThreeIntermediates(t *testing.T) {
	p := newPlan(intermediate, intermediate, intermediate)
	got := p.tally()
	if len(got.loops) == 0 || got.contacts[9] != len(got.loops) {
		t.Errorf("%d loops, contacts %v: want loops, all of nine contacts", len(got.loops), got.contacts)
	}
	for _, l := range got.loops {
		if !strings.Contains(l, "0=line a.A1 b.A1 | 1=lamp a.A2 b.A2 | 2=a.B1 c.A1 | 3=a.B2 c.A2 | 4=b.B1 c.B1 | 5=b.B2 c.B2") {
			t.Errorf("another loop: %s", l)
		}
	}
}

// A pair is the two conductors on one side of a switch, the lower first.
type pair [2]int

func pairOf(a, b int) pair { return pair{min(a, b), max(a, b)} }

// A stage is what a place is in a chain: a changeover from one conductor to a
// pair, or a crossover from pair to pair.
type stage struct {
	common int // of a changeover; -1 of a crossover
	sides  []pair
}

// stageOf recognises what the contacts of one place make; ok is false if it
// is neither.
func stageOf(n network, place int) (s stage, ok bool) {
	var ends [2][]pair // by position
	for _, c := range n {
		if c.place == place {
			ends[c.position] = append(ends[c.position], pairOf(c.a, c.b))
		}
	}
	switch {
	case len(ends[0]) == 1 && len(ends[1]) == 1:
		return changeover(ends[0][0], ends[1][0])
	case len(ends[0]) == 2 && len(ends[1]) == 2:
		return crossover(ends)
	}
	return s, false
}

func changeover(a, b pair) (stage, bool) {
	for _, u := range a {
		for _, v := range b {
			x, y := a[0]+a[1]-u, b[0]+b[1]-v
			if u == v && x != y && x != u && y != u {
				return stage{u, []pair{pairOf(x, y)}}, true
			}
		}
	}
	return stage{}, false
}

// crossover: four different joints, joined two and two, then two and two
// otherwise; the pair that is joined in neither position is a side.
func crossover(ends [2][]pair) (stage, bool) {
	four := []int{ends[0][0][0], ends[0][0][1], ends[0][1][0], ends[0][1][1]}
	slices.Sort(four)
	if len(slices.Compact(slices.Clone(four))) != 4 || pairOf(ends[0][0][0], ends[0][0][1]) == pairOf(ends[1][0][0], ends[1][0][1]) {
		return stage{}, false
	}
	joined := slices.Concat(ends[0], ends[1])
	for _, other := range four[1:] {
		side := pairOf(four[0], other)
		if !slices.Contains(joined, side) {
			var rest []int
			for _, j := range four {
				if j != side[0] && j != side[1] {
					rest = append(rest, j)
				}
			}
			far := pairOf(rest[0], rest[1])
			return stage{-1, []pair{side, far}}, !slices.Contains(joined, far)
		}
	}
	return stage{}, false
}

// chainOf says which chain a network is: the order of its places from the end
// with the lower number, and its feed: -1 for line at one common and lamp at
// the other, k for line and lamp on the pair after the k-th place of the
// order. ok is false if it is no chain.
func chainOf(n network, places int) (order []int, feed int, ok bool) {
	stages := make([]stage, places)
	var tips []int
	for i := range stages {
		if stages[i], ok = stageOf(n, i); !ok {
			return nil, 0, false
		}
		if stages[i].common >= 0 {
			tips = append(tips, i)
		}
	}
	if len(tips) != 2 {
		return nil, 0, false
	}
	order, rails := follow(stages, tips[0])
	if len(order) != places || order[places-1] != tips[1] {
		return nil, 0, false
	}
	feed, ok = feedOf(stages[tips[0]].common, stages[tips[1]].common, rails)
	return order, feed, ok
}

// follow goes from one changeover along the pairs to the other.
func follow(stages []stage, tip int) (order []int, rails []pair) {
	order, next := []int{tip}, stages[tip].sides[0]
	for {
		rails = append(rails, next)
		at := slices.IndexFunc(stages, func(s stage) bool { return slices.Contains(s.sides, next) && !taken(order, stages, s) })
		if at < 0 {
			return order, rails
		}
		order = append(order, at)
		if stages[at].common >= 0 {
			return order, rails
		}
		next = stages[at].sides[1-slices.Index(stages[at].sides, next)]
	}
}

func taken(order []int, stages []stage, s stage) bool {
	return slices.ContainsFunc(order, func(i int) bool { return &stages[i].sides[0] == &s.sides[0] })
}

func feedOf(first, last int, rails []pair) (feed int, ok bool) {
	across := pairOf(theLine, theLamp)
	for k, r := range rails {
		for _, other := range rails[:k] { // sections share no conductor
			if r[0] == other[0] || r[0] == other[1] || r[1] == other[0] || r[1] == other[1] {
				return 0, false
			}
		}
		if r[0] == first || r[1] == first || r[0] == last || r[1] == last {
			return 0, false
		}
	}
	if pairOf(first, last) == across {
		return -1, true
	}
	at := slices.Index(rails, across)
	return at, at >= 0 && first == last
}

// A tally is what the enumeration of one plan gave.
type tally struct {
	toggling int            // arrangements that toggle, up to symmetry
	tight    int            // of them, without a contact that could be left out
	chains   map[string]int // what is left with needless terminals freed, by feed
	others   []string       // the same, where it is no chain
	contacts map[int]int    // with needless contacts left out singly: how many have so many contacts
	loops    []string       // of those, the ones that are no chain
}

func (p *plan) tally() tally {
	t := tally{chains: map[string]int{}, contacts: map[int]int{}}
	seen := map[string]bool{}
	p.arrangements(func(a arrangement) {
		if key := p.same(a); !seen[key] {
			seen[key] = true
			t.note(p, a)
		}
	})
	return t
}

func (t *tally) note(p *plan, a arrangement) {
	t.toggling++
	n := p.network(a)
	for _, l := range p.least(n, a.joints(), p.byTerminal()) {
		if feed, ok := p.chain(l); ok {
			t.chains[feed]++
		} else {
			t.others = append(t.others, p.tell(a, l))
		}
	}
	for _, l := range p.least(n, a.joints(), p.singly()) {
		t.contacts[len(l)]++
		if len(l) == len(n) {
			t.tight++
		}
		if _, ok := p.chain(l); !ok {
			t.loops = append(t.loops, p.tell(a, l))
		}
	}
}

// chain says how a least network is fed, if it is a chain: one contact between
// line and lamp is the chain of one place.
func (p *plan) chain(n network) (feed string, ok bool) {
	if len(p.kinds) == 1 {
		return "commons", len(n) == 1 && pairOf(n[0].a, n[0].b) == pairOf(theLine, theLamp)
	}
	_, k, ok := chainOf(n, len(p.kinds))
	if k < 0 {
		return "commons", ok
	}
	return "pair", ok
}

// tell writes an arrangement joint by joint, then the contacts that are needed.
func (p *plan) tell(a arrangement, least network) string {
	joints := make([][]string, a.joints())
	joints[theLine], joints[theLamp] = []string{"line"}, []string{"lamp"}
	for place, k := range p.kinds {
		for i, name := range k.terminals {
			j := a[p.first[place]+i]
			joints[j] = append(joints[j], fmt.Sprintf("%c.%s", 'a'+place, name))
		}
	}
	var text []string
	for i, j := range joints {
		text = append(text, fmt.Sprintf("%d=%s", i, strings.Join(j, " ")))
	}
	var needs []string
	for _, c := range least {
		needs = append(needs, fmt.Sprintf("%c%d:%d-%d", 'a'+c.place, c.position, c.a, c.b))
	}
	return fmt.Sprintf("%s: %s; contacts that are needed, by position: %s", p.name(), strings.Join(text, " | "), strings.Join(needs, " "))
}

// What is left out while looking (spoilt, hopeless and turned arrangements) is
// compared with leaving out nothing.
func TestNothingIsLostByLeavingOut(t *testing.T) {
	for _, kinds := range [][]switchKind{{twoWay}, {twoWay, twoWay}, {twoWay, intermediate}, {intermediate, intermediate}, {twoWay, twoWay, twoWay}} {
		p := newPlan(kinds...)
		want, got := map[string]bool{}, map[string]bool{}
		p.arrangements(func(a arrangement) { got[p.same(a)] = true })
		p.everything(arrangement{theLine, theLamp}, firstTerminal, func(a arrangement) { want[p.same(a)] = true })
		if !maps.Equal(want, got) {
			t.Errorf("%s: %d arrangements, want %d", p.name(), len(got), len(want))
		}
	}
}

func (p *plan) everything(a arrangement, joints int, found func(arrangement)) {
	if len(a) == p.ends {
		if p.toggles(p.lit(p.network(a), joints)) {
			found(a)
		}
		return
	}
	for j := range joints + 1 {
		p.everything(append(slices.Clone(a), j), max(joints, j+1), found)
	}
}
