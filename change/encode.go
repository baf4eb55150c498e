package change

import (
	"slices"
	"strconv"

	"strapper/internal/sat"
	"strapper/switching"
)

// A limit is something that must be left alone, and the literal that holds it.
type limit struct {
	on      sat.Lit // assumed while the limit holds
	text    string  // "the box Landing is not to be opened"
	relaxed string  // what would help: "if the box Landing may be opened"
	weight  int64   // how much it is to ask for that
	extra   *Cable  // a run that is not offered, which this keeps out; nil
	fixed   bool    // it cannot be given up
}

// A need says that a net must be at a box, if the literal holds (always, if it
// is zero).
type need struct {
	box int
	lit sat.Lit
}

// A model is a ground in clauses. Literals that are zero do not exist.
type model struct {
	*ground
	s *sat.Solver

	carry  [][]sat.Lit // by wire, net
	taken  []sat.Lit   // by cable: it is added
	open   []sat.Lit   // by box: something changes in it
	stay   [][]sat.Lit // by joint as found, net: it becomes the joint of that net
	dead   []sat.Lit   // by joint as found: it stays, and everything in it is dead
	last   [][]sat.Lit // by joint as found, end in it: it stays alone in it, dead
	moved  [][2]sat.Lit
	pick   [][]sat.Lit // by slot, option
	holds  [][]sat.Lit // by slot, net: one of its terminals is on that net
	on     []map[string][]sat.Lit
	freeOn [][]sat.Lit // by free terminal, net
	place  [][][]sat.Lit
	tap    [][]sat.Lit // by group: 0 at the commons, k from the k-th pair of strappers
	exch   []sat.Lit   // by slot: its switch found is exchanged or taken out
	needs  [][]need    // by net

	soft   []sat.Soft // in tenths of a minute times the grain
	grain  int64      // more than all that only decides between equals comes to
	fixedC int64      // what every way costs, in tenths of a minute
	limits []limit
	earths *earthing // nil if protective conductors are everywhere
	yes    sat.Lit
}

// encode puts a ground into clauses.
func encode(g *ground) *model {
	m := &model{ground: g, s: sat.New()}
	m.yes = m.s.Var()
	m.s.Add(m.yes)
	m.needs = make([][]need, len(m.nets))
	m.grain = m.choices()
	m.wiresCarry()
	m.boxesOpen()
	m.slotsPick()
	for _, g := range m.groups {
		m.arrange(g)
	}
	m.masters()
	m.freeTerminals()
	m.jointsStay()
	m.endsMove()
	m.newJoints()
	m.cablesCost()
	m.wiresCost()
	m.takeEarthing()
	m.limit()
	m.connectFirst()
	m.sameCores()
	m.enoughCores()
	return m
}

// choices is one more than the places where a kind that is not the plainest may
// be newly fitted.
func (m *model) choices() int64 {
	n := int64(1)
	for _, sl := range m.slots {
		if slices.ContainsFunc(sl.options, func(o option) bool { return !o.plain() }) {
			n++
		}
	}
	return n
}

func (m *model) pay(l sat.Lit, minutes float64) {
	if w := tenths(minutes); w > 0 && l != 0 {
		m.soft = append(m.soft, sat.Soft{Lit: l, Weight: w * m.grain})
	}
}

func (m *model) exactlyOne(l []sat.Lit) {
	m.s.Add(l...)
	m.s.AtMostOne(l...)
}

func (m *model) vars(n int) []sat.Lit {
	l := make([]sat.Lit, n)
	for i := range l {
		l[i] = m.s.Var()
	}
	return l
}

// some is a clause; literals that do not exist are left out.
func (m *model) some(l ...sat.Lit) {
	m.s.Add(slices.DeleteFunc(l, func(x sat.Lit) bool { return x == 0 })...)
}

// wiresCarry: each core carries at most one net; a cable that is not added
// carries none.
func (m *model) wiresCarry() {
	m.taken = make([]sat.Lit, len(m.cables))
	for i := range m.cables {
		if m.cables[i].found == nil {
			m.taken[i] = m.s.Var()
		}
	}
	for i := range m.wires {
		l := m.vars(len(m.nets))
		m.s.AtMostOne(l...)
		m.carry = append(m.carry, l)
		if t := m.taken[m.wires[i].cable]; t != 0 {
			for n := range l {
				m.s.Add(l[n].Not(), t)
			}
			m.s.Phase(t.Not())
		}
		if was := m.wires[i].was; was >= 0 {
			m.s.Phase(l[was])
		}
	}
	m.oneKindARun()
}

// oneKindARun: a run takes one cable; one that is drawn out for it carries
// nothing.
func (m *model) oneKindARun() {
	byRun := map[*Cable][]sat.Lit{}
	for i := range m.cables {
		r := m.cables[i].run
		if r == nil {
			continue
		}
		byRun[r] = append(byRun[r], m.taken[i])
		for w := range m.wires {
			if r.Replaces == "" || m.cables[m.wires[w].cable].id != r.Replaces {
				continue
			}
			for n := range m.nets {
				m.s.Add(m.taken[i].Not(), m.carry[w][n].Not())
			}
		}
	}
	for i := range m.cables {
		if r := m.cables[i].run; r != nil && byRun[r] != nil {
			m.s.AtMostOne(byRun[r]...)
			byRun[r] = nil
		}
	}
}

// boxesOpen: a box is opened if a cable is brought in.
func (m *model) boxesOpen() {
	for b := range m.boxes {
		l := m.yes
		if !m.boxes[b].fresh {
			l = m.s.Var()
			m.s.Phase(l.Not())
			m.pay(l, m.w.BoxOpened)
		}
		m.open = append(m.open, l)
	}
	for i := range m.cables {
		if m.taken[i] == 0 {
			continue
		}
		for _, b := range m.cables[i].sides {
			m.s.Add(m.taken[i].Not(), m.open[b])
		}
		m.replaced(i)
	}
}

// replaced: drawing a cable out opens the boxes at its ends.
func (m *model) replaced(i int) {
	for k := range m.cables {
		if m.cables[k].found != nil && m.cables[i].run.Replaces == m.cables[k].id {
			for _, b := range m.cables[k].sides {
				m.s.Add(m.taken[i].Not(), m.open[b])
			}
		}
	}
}

// slotsPick: every slot is fitted with one option; an exchange opens its box.
func (m *model) slotsPick() {
	m.exch = make([]sat.Lit, len(m.slots))
	for i, sl := range m.slots {
		m.on = append(m.on, map[string][]sat.Lit{})
		m.holds = append(m.holds, m.vars(len(m.nets)))
		m.pick = append(m.pick, m.vars(len(sl.options)))
		switch {
		case sl.place == nil: // taken out
			m.exch[i] = m.yes
			m.fixedC += tenths(m.w.Fitting)
			m.s.Add(m.open[sl.box])
			m.holdsOnly(i, nil)
			continue
		case sl.found == nil: // new
			m.fixedC += tenths(m.w.Fitting)
			m.s.Add(m.open[sl.box])
		}
		m.exactlyOne(m.pick[i])
		m.terminals(i)
		for o := range sl.options {
			if !sl.options[o].plain() {
				m.soft = append(m.soft, sat.Soft{Lit: m.pick[i][o], Weight: 1}) // of equals, the plainer
			}
		}
	}
}

// holdsOnly: without conditions, a slot is on the nets listed and on no other.
func (m *model) holdsOnly(i int, nets []int, unless ...sat.Lit) {
	for n, l := range m.holds[i] {
		if !slices.Contains(nets, n) {
			l = l.Not()
		}
		m.some(append(slices.Clone(unless), l)...)
	}
}

// terminals makes the literals that say what the terminals of a switch found
// carry while it stays, and those of the exchange.
func (m *model) terminals(i int) {
	sl := m.slots[i]
	if sl.found == nil {
		return
	}
	for _, t := range sl.found.Kind.Terminals {
		m.on[i][t.Name] = m.vars(len(m.nets))
		m.s.AtMostOne(m.on[i][t.Name]...)
	}
	m.exch[i] = m.s.Var()
	m.pay(m.exch[i], m.w.Fitting)
	m.s.Add(m.exch[i].Not(), m.open[sl.box])
	for o, opt := range sl.options {
		z := m.pick[i][o]
		if opt.same {
			m.s.Add(z.Not(), m.exch[i].Not())
		} else {
			m.s.Add(z.Not(), m.exch[i])
		}
		for _, t := range sl.found.Kind.Terminals {
			if opt.same && (slices.Contains(opt.terminal[:], t.Name) || opt.neutral == t.Name) {
				continue
			}
			for _, l := range m.on[i][t.Name] {
				m.s.Add(z.Not(), l.Not())
			}
		}
	}
}

// land: while the conditions hold, slot i plays a part with its terminals on
// the nets given.
func (m *model) land(i int, p part, nets []int, when ...sat.Lit) {
	unless := make([]sat.Lit, len(when))
	for k, l := range when {
		unless[k] = l.Not()
	}
	sl := m.slots[i]
	all := slices.Clone(nets)
	for o, opt := range sl.options {
		z := m.pick[i][o].Not()
		clause := append(slices.Clone(unless), z)
		if opt.part != p || opt.line >= 0 && nets[opt.line] != m.line(sl.circuit) {
			m.s.Add(clause...)
			continue
		}
		if !opt.same {
			continue
		}
		for k, n := range nets {
			m.s.Add(append(slices.Clone(clause), m.on[i][opt.terminal[k]][n])...)
		}
	}
	if m.takesNeutral(i) {
		n := m.neutral(sl.circuit)
		all = append(all, n)
		m.neutralTerminal(i, n)
	}
	m.holdsOnly(i, all, unless...)
}

func (m *model) takesNeutral(i int) bool {
	return slices.ContainsFunc(m.slots[i].options, func(o option) bool { return o.neutral != "" })
}

// neutralTerminal: a switch with a supply of its own has a neutral. Options of
// a slot either all have one, or those without are weaker by the need alone.
func (m *model) neutralTerminal(i, n int) {
	sl := m.slots[i]
	for o, opt := range sl.options {
		z := m.pick[i][o]
		if opt.neutral == "" {
			continue
		}
		if opt.same {
			m.s.Add(z.Not(), m.on[i][opt.neutral][n])
		}
		m.needs[n] = append(m.needs[n], need{sl.box, z})
	}
}

// arrange: the switches of a group act as its rule says.
func (m *model) arrange(g *group) {
	m.needs[g.switched] = append(m.needs[g.switched], need{m.nets[g.switched].home, 0})
	for _, i := range g.slots {
		for n := range m.nets {
			m.needs[n] = append(m.needs[n], need{m.slots[i].box, m.holds[i][n]})
		}
	}
	var tap []sat.Lit
	var place [][]sat.Lit
	n := len(g.slots)
	switch {
	case n == 1 || g.rule() == switching.RuleAny:
		for _, i := range g.slots {
			m.land2(i, g.feed, g.switched)
		}
	case g.rule() == switching.RuleAll:
		place = m.order(n)
		m.series(g, place)
	default:
		place = m.order(n)
		tap = m.vars(n)
		m.exactlyOne(tap)
		m.chain(g, place, tap)
	}
	m.place, m.tap = append(m.place, place), append(m.tap, tap)
	m.oneDimmer(g)
}

// land2 lands a make either way round.
func (m *model) land2(i, a, b int, when ...sat.Lit) { m.land(i, partMake, []int{a, b}, when...) }

// order makes the literals of which place stands where along a chain.
func (m *model) order(n int) [][]sat.Lit {
	place := make([][]sat.Lit, n)
	for p := range place {
		place[p] = m.vars(n)
		m.exactlyOne(place[p])
	}
	for k := range n {
		var column []sat.Lit
		for p := range n {
			column = append(column, place[p][k])
		}
		m.exactlyOne(column)
	}
	return place
}

// series: makes one after the other.
func (m *model) series(g *group, place [][]sat.Lit) {
	for p, i := range g.slots {
		for k := range g.slots {
			at := g.stand(k, 0)
			m.land(i, at.part, at.nets, place[p][k])
		}
	}
}

// chain: changeover at both ends, crossover between, in any order and with any
// tap. The strappers of a pair can change names, so the switch before them is
// taken one way round.
func (m *model) chain(g *group, place [][]sat.Lit, tap []sat.Lit) {
	for t := range g.slots {
		for p, i := range g.slots {
			for k := range g.slots {
				at := g.stand(k, t)
				m.land(i, at.part, at.nets, place[p][k], tap[t])
			}
		}
		if t > 0 { // the same chain from its other end
			m.firstBeforeSecond(place, tap[t])
		}
	}
	m.namesOfStrappers(g, place, tap)
}

// firstBeforeSecond breaks the symmetry of a chain whose commons are joined.
func (m *model) firstBeforeSecond(place [][]sat.Lit, when sat.Lit) {
	for a := range place {
		for b := 0; b < a; b++ {
			m.s.Add(when.Not(), place[0][a].Not(), place[1][b].Not())
		}
	}
}

// namesOfStrappers breaks the symmetry of the names of a pair of strappers: of
// two options that differ in the order of the pair after the switch, only the
// first is taken.
func (m *model) namesOfStrappers(g *group, place [][]sat.Lit, tap []sat.Lit) {
	n := len(g.slots)
	for p, i := range g.slots {
		opts := m.slots[i].options
		for o := range opts {
			a, b := 1, 2
			if opts[o].part == partCross {
				a, b = 2, 3
			}
			if opts[o].part == partMake || !opts[o].same || opts[o].terminal[a] < opts[o].terminal[b] {
				continue
			}
			for k := range n - 1 {
				if (k == 0) == (opts[o].part == partChange) {
					m.s.Add(m.pick[i][o].Not(), place[p][k].Not(), tap[k+1])
				}
			}
		}
	}
}

// oneDimmer: of the switches of a group at most one conducts through a
// semiconductor.
func (m *model) oneDimmer(g *group) {
	var list []sat.Lit
	for _, i := range g.slots {
		for o, opt := range m.slots[i].options {
			if electronic(opt.kind) {
				list = append(list, m.pick[i][o])
			}
		}
	}
	for a := range list {
		for b := range a {
			m.s.Add(list[a].Not(), list[b].Not())
		}
	}
}

// masters: a master is a make between what feeds it and what it passes on.
func (m *model) masters() {
	for i, sl := range m.slots {
		if sl.place != nil && sl.group < 0 {
			m.land2(i, sl.nets[0], sl.nets[1])
			for n := range m.nets {
				m.needs[n] = append(m.needs[n], need{sl.box, m.holds[i][n]})
			}
		}
	}
}

// freeTerminals: each may be on one net.
func (m *model) freeTerminals() {
	for range m.free {
		l := m.vars(len(m.nets))
		m.s.AtMostOne(l...)
		m.freeOn = append(m.freeOn, l)
	}
	for _, f := range m.fixed {
		m.needs[f.net] = append(m.needs[f.net], need{f.box, 0})
	}
	for _, sl := range m.slots {
		if sl.place != nil && sl.place.Neutral {
			on := m.addLimit("a neutral is wanted in "+m.called(sl.box), "if there need be no neutral in "+m.called(sl.box), 60)
			m.needs[m.neutral(sl.circuit)] = append(m.needs[m.neutral(sl.circuit)], need{sl.box, on})
		}
	}
}

func (m *model) addLimit(text, relaxed string, minutes float64) sat.Lit {
	on := m.s.Var()
	m.limits = append(m.limits, limit{on: on, text: text, relaxed: relaxed, weight: tenths(minutes)})
	return on
}

// limit makes literals of what must be left alone.
func (m *model) limit() {
	for _, l := range m.ask.Limits.Closed {
		b := m.boxOf[l.Name]
		on := m.addLimit(m.called(b)+" is not to be opened", "if "+m.called(b)+" may be opened", 60)
		m.s.Add(on.Not(), m.open[b].Not())
	}
	m.limitKinds()
	for i := range m.extra {
		m.limitExtra(&m.extra[i])
	}
	m.limitStock()
}

// limitExtra: a run that is not offered is not taken, whatever its kind.
func (m *model) limitExtra(r *Cable) {
	name := m.called(m.boxOf[r.From]) + " and " + m.called(m.boxOf[r.To])
	on := m.addLimit(nothingNew+name, "between "+name, 0)
	m.limits[len(m.limits)-1].extra = r
	for i := range m.cables {
		if m.cables[i].run == r {
			m.s.Add(on.Not(), m.taken[i].Not())
		}
	}
}

// limitKinds: kinds that the limits do not allow.
func (m *model) limitKinds() {
	barred := map[string]sat.Lit{}
	for i, sl := range m.slots {
		for o, opt := range sl.options {
			if opt.allowed {
				continue
			}
			on, known := barred[opt.kind.ID]
			if !known {
				on = m.addLimit("no "+opt.kind.ID+" switch may be fitted", "if a switch of kind "+opt.kind.ID+" may be fitted", 20)
				barred[opt.kind.ID] = on
			}
			m.s.Add(on.Not(), m.pick[i][o].Not())
		}
		if sl.place != nil && sl.place.Keep && sl.found != nil {
			m.keepSwitch(i)
		}
	}
}

// keepSwitch: a switch that is to be kept has only options that keep it; that
// is a limit too, but one that is not offered for relaxing: there is nothing
// else it could be.
func (m *model) keepSwitch(i int) {
	for o, opt := range m.slots[i].options {
		if !opt.same {
			m.s.Add(m.pick[i][o].Not())
		}
	}
}

func number(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}
