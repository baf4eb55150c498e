package change

import (
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/sat"
	"strapper/kit"
	"strapper/wiring"
)

// Protective conductors carry no net and are joined throughout. What the
// search has to know of them is where they do not arrive: in a house without
// them a new box, or a metal switch, is only allowed where one is brought.

// earthJoints are the protective joints of a box: those found without what is
// gone, and with what is new added to the first of them, an earthed one before
// others.
func (m *ground) earthJoints(p *plan, b int, left *wiring.Box) []wiring.Joint {
	there := m.present(p)
	var list []wiring.Joint
	for _, j := range m.earthFound(b) {
		ends := slices.DeleteFunc(slices.Clone(j.Ends), func(e wiring.End) bool { return !m.remains(there, left, e) })
		if len(ends) > 1 || len(ends) == 1 && left.Fitted(ends[0].Item) == nil {
			list = append(list, wiring.Joint{Box: j.Box, Ends: ends})
		}
	}
	fresh := m.earthTerminals(b, left, len(list) == 0)
	cores := m.earthCores(p, b)
	switch {
	case len(fresh)+len(cores) == 0 || len(list)+len(cores) == 0:
		return list
	case len(list) == 0:
		return []wiring.Joint{{Box: left.ID, Ends: slices.Concat(fresh, cores)}}
	}
	i := max(0, slices.IndexFunc(list, func(j wiring.Joint) bool { return m.earth[m.pieceOf(j.Ends[0])] }))
	list[i].Ends = slices.Concat(list[i].Ends, fresh, cores)
	return list
}

// earthFound lists the protective joints of a box as found.
func (m *ground) earthFound(b int) []wiring.Joint {
	var list []wiring.Joint
	for _, j := range m.g.Inst.Joints {
		if j.Box == m.boxes[b].ID && slices.ContainsFunc(j.Ends, m.earthen) {
			list = append(list, j)
		}
	}
	return list
}

// remains reports whether an end found is there as left.
func (m *ground) remains(there []bool, left *wiring.Box, e wiring.End) bool {
	for i := range m.cables {
		if c := &m.cables[i]; c.found != nil && c.id == e.Item {
			return there[i]
		}
	}
	f := left.Fitted(e.Item)
	return f == nil && m.g.Inst.Circuit(e.Item) != nil || f != nil && hasTerminal(f.Kind, e.Name)
}

func hasTerminal(k *kit.Accessory, name string) bool {
	return slices.ContainsFunc(k.Terminals, func(t kit.Terminal) bool { return t.Name == name })
}

// earthTerminals are the terminals for protective conductors of what is newly
// fitted in a box, or of all that is there.
func (m *ground) earthTerminals(b int, left *wiring.Box, all bool) []wiring.End {
	var list []wiring.End
	for _, f := range left.Fit {
		was := m.boxes[b].Fitted(f.ID)
		if !all && was != nil && was.Kind.ID == f.Kind.ID {
			continue
		}
		for _, t := range f.Kind.Terminals {
			e := wiring.End{Box: left.ID, Item: f.ID, Name: t.Name}
			held := was != nil && hasTerminal(was.Kind, t.Name) && slices.ContainsFunc(m.earthFound(b), func(j wiring.Joint) bool { return slices.Contains(j.Ends, e) })
			if t.Role == kit.RoleEarth && (all || !held) {
				list = append(list, e)
			}
		}
	}
	if c := m.circuitAt(left.ID); all && c != nil {
		list = append(list, wiring.End{Box: left.ID, Item: c.ID, Name: "E"})
	}
	return list
}

// circuitAt is the first circuit that leaves a board; nil if the box is none.
func (m *ground) circuitAt(box string) *wiring.Circuit {
	for _, o := range m.g.Origins {
		if o.Circuit.Board == box {
			return o.Circuit
		}
	}
	return nil
}

// earthCores are the ends in a box of the protective conductors of new cables.
func (m *ground) earthCores(p *plan, b int) []wiring.End {
	var list []wiring.End
	for _, i := range p.taken {
		c := &m.cables[i]
		if !slices.Contains(c.sides[:], b) {
			continue
		}
		for k := range c.kind.Cores {
			if c.kind.Cores[k].Earth {
				list = append(list, wiring.End{Box: m.boxes[b].ID, Item: c.id, Name: c.kind.Cores[k].Name})
			}
		}
	}
	return list
}

// An earthing is what does not change of the way protective conductors run.
// Its points are the nodes as found and, from first on, one for every box in
// which new ones would meet if there is none as found.
type earthing struct {
	first  int
	meet   []int      // by box: the point that new protective conductors are joined to
	found  [][][2]int // by cable: the points that its protective conductors join
	bare   []bool     // by box: nothing reached it, or something in it, as found
	live   []bool     // by box: live conductors were there as found
	demand []sat.Lit  // by box: assumed while a protective conductor must reach it
}

// takeEarthing makes it; nil if whatever is chosen every box has a protective
// conductor.
func (m *model) takeEarthing() {
	e := &earthing{first: m.g.Nodes()}
	always := true
	for b := range m.boxes {
		e.meet = append(e.meet, m.meetIn(e, b))
		e.bare = append(e.bare, m.lacked(m.boxes[b].ID))
		e.live = append(e.live, slices.ContainsFunc(m.boxes[b].joints, func(j int) bool { return len(m.joints[j].ends) > 0 }))
		always = always && (m.boxes[b].fresh || e.meet[b] < e.first && m.earth[m.piece[e.meet[b]]])
	}
	for i := range m.cables {
		c := &m.cables[i]
		e.found = append(e.found, m.earthRuns(c))
		always = always && (c.found != nil || c.run.Replaces == "" && slices.ContainsFunc(c.kind.Cores, func(k kit.Core) bool { return k.Earth }))
	}
	if always {
		return
	}
	m.earths = e
	for b := range m.boxes {
		on := m.s.Var()
		m.limits = append(m.limits, limit{on: on, text: "a protective conductor must reach " + m.called(b), fixed: true})
		e.demand = append(e.demand, on)
	}
}

// meetIn is the point in a box to which new protective conductors are joined.
func (m *model) meetIn(e *earthing, b int) int {
	at, first := e.first+b, true
	if c := m.circuitAt(m.boxes[b].ID); c != nil {
		n, _ := m.g.Node(wiring.End{Box: c.Board, Item: c.ID, Name: "E"})
		at = int(n)
	}
	for _, j := range m.earthFound(b) {
		n, _ := m.g.Node(j.Ends[0])
		if m.earth[m.piece[n]] {
			return int(n)
		}
		if first {
			at, first = int(n), false
		}
	}
	return at
}

func (m *ground) lacked(box string) bool {
	return slices.ContainsFunc(m.proof.Findings, func(f finding.Finding) bool {
		at := "boxes." + box
		return f.Code == "missing-cpc" && (string(f.Subject) == at || strings.HasPrefix(string(f.Subject), at+"."))
	})
}

// earthRuns are the points that a cable found joins by its protective
// conductors; of a new one nil.
func (m *ground) earthRuns(c *cable) (list [][2]int) {
	if c.found == nil {
		return nil
	}
	for k := range c.kind.Cores {
		a, _ := m.g.Node(wiring.End{Box: c.found.From, Item: c.id, Name: c.kind.Cores[k].Name})
		b, _ := m.g.Node(wiring.End{Box: c.found.To, Item: c.id, Name: c.kind.Cores[k].Name})
		if c.kind.Cores[k].Earth || m.earth[m.piece[a]] {
			list = append(list, [2]int{int(a), int(b)})
		}
	}
	return list
}

// runs are the points that a cable joins, if it is there.
func (m *model) runs(i int) [][2]int {
	c := &m.cables[i]
	if c.found != nil {
		return m.earths.found[i]
	}
	if !slices.ContainsFunc(c.kind.Cores, func(k kit.Core) bool { return k.Earth }) {
		return nil
	}
	return [][2]int{{m.earths.meet[c.sides[0]], m.earths.meet[c.sides[1]]}}
}

// stays reports whether a cable is there in the last model.
func (m *model) stays(i int) bool {
	if c := &m.cables[i]; c.found == nil {
		return m.s.Value(m.taken[i])
	}
	return !slices.ContainsFunc(m.replacers(i), m.s.Value)
}

// replacers are the runs for which a cable found is drawn out.
func (m *model) replacers(i int) []sat.Lit {
	var list []sat.Lit
	for k := range m.cables {
		if r := m.cables[k].run; r != nil && r.Replaces != "" && m.cables[i].found != nil && r.Replaces == m.cables[i].id {
			list = append(list, m.taken[k])
		}
	}
	return list
}

// earthed adds what keeps the last model from having a protective conductor
// wherever one must be; it reports whether anything is missing.
func (m *model) earthed() bool {
	if m.earths == nil {
		return false
	}
	piece := make([]int, m.earths.first+len(m.boxes))
	for n := range piece {
		piece[n] = n
	}
	for i := range m.cables {
		if !m.stays(i) {
			continue
		}
		for _, r := range m.runs(i) {
			mergePieces(piece, r[0], r[1])
		}
	}
	good := map[int]bool{}
	for _, o := range m.g.Origins {
		good[piece[o.E]] = true
	}
	added := false
	for b := range m.boxes {
		because, at := m.mustEarth(b)
		if len(at) > 0 && !slices.ContainsFunc(at, func(n int) bool { return good[piece[n]] }) && m.s.Value(m.earths.demand[b]) {
			m.bringEarth(at, piece, append(because, m.earths.demand[b].Not()))
			added = true
		}
	}
	return added
}

func mergePieces(piece []int, a, b int) {
	from, to := piece[a], piece[b]
	for n := range piece {
		if piece[n] == from {
			piece[n] = to
		}
	}
}

// pointsIn are the points of a box at which a protective conductor may arrive.
func (m *model) pointsIn(b int) []int {
	list := []int{m.earths.meet[b]}
	for i := range m.cables {
		for side, at := range m.cables[i].sides {
			if at != b {
				continue
			}
			for _, r := range m.earths.found[i] {
				list = append(list, r[side])
			}
		}
	}
	return list
}

// mustEarth lists the points of a box one of which the last model wants a
// protective conductor at, and the literals that are false while it does.
func (m *model) mustEarth(b int) (because []sat.Lit, at []int) {
	bx := &m.boxes[b]
	for _, i := range bx.slots {
		for o := range m.slots[i].options {
			if opt := &m.slots[i].options[o]; !opt.same && m.s.Value(m.pick[i][o]) && metal(opt.kind) && !m.lacked(bx.ID+"."+m.slots[i].item) {
				return []sat.Lit{m.pick[i][o].Not()}, m.earths.meet[b : b+1]
			}
		}
	}
	switch {
	case bx.fresh && len(bx.slots) > 0:
		return nil, m.pointsIn(b)
	case m.earths.bare[b]:
		return nil, nil
	case m.earths.live[b]:
		return nil, m.pointsIn(b)
	}
	for _, e := range bx.ends {
		for _, l := range m.carry[e.wire] {
			if m.s.Value(l) {
				return []sat.Lit{l.Not()}, m.pointsIn(b)
			}
		}
	}
	return nil, nil
}

func metal(k *kit.Accessory) bool {
	return slices.ContainsFunc(k.Terminals, func(t kit.Terminal) bool { return t.Role == kit.RoleEarth })
}

// bringEarth: some cable more brings a protective conductor to one of some
// points, or one that did is not drawn out.
func (m *model) bringEarth(at, piece []int, clause []sat.Lit) {
	here := map[int]bool{}
	for _, n := range at {
		here[piece[n]] = true
	}
	for i := range m.cables {
		crosses := slices.ContainsFunc(m.runs(i), func(r [2]int) bool { return here[piece[r[0]]] != here[piece[r[1]]] })
		switch {
		case !crosses || m.stays(i):
		case m.cables[i].found == nil:
			clause = append(clause, m.taken[i])
		default:
			for _, l := range m.replacers(i) {
				if m.s.Value(l) {
					clause = append(clause, l.Not())
					break
				}
			}
		}
	}
	m.s.Add(clause...)
}
