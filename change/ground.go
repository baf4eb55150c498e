package change

import (
	"fmt"
	"slices"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// A ground is the house as the search sees it: boxes, cores that could carry
// nets, joints as found, and the nets that must be there as left. Protective
// conductors are left out: they are joined throughout.
type ground struct {
	g   *wiring.Graph
	ask *Ask
	cat *kit.Catalogue
	w   Weights

	boxes  []box
	boxOf  map[string]int
	cables []cable
	wires  []wire
	joints []joint
	at     map[wiring.End]int // the joint as found of a terminal or core end; absent if loose or new
	nets   []net
	groups []*group
	slots  []*slot
	fixed  []labelled // terminals that carry one net whatever is chosen
	free   []wiring.End
	extra  []Cable // runs that nobody offered

	piece    []int        // by node: the metallic piece it belongs to, contacts open
	earth    map[int]bool // pieces joined to an earth terminal of a board
	netOf    map[int]int  // by piece: the net that it is as left, if decided
	works    [][]int      // by switch as found: the loads it works
	proof    *switching.Proof
	findings []finding.Finding
}

type box struct {
	*wiring.Box
	fresh  bool  // not there as found
	ends   []end // of cores that could end here
	joints []int // as found
	slots  []int
	fixed  []int // indexes into ground.fixed
	free   []int
	hidden bool
}

// An end is one end of a wire.
type end struct{ wire, side int }

type cable struct {
	id    string
	kind  *kit.Cable
	sides [2]int
	found *wiring.Cable // nil if it could be added
	run   *Cable        // nil if found
	extra bool          // not offered by the ask: only for finding out what would help
}

// A wire is a core that can carry a net.
type wire struct {
	cable int
	core  *kit.Core
	joint [2]int // as found, by side; -1 if loose, or new
	was   int    // the net that it carries as found and that is there as left too; -1 if none
	spare bool   // found, and nothing was on it
}

// A joint is a joint as found with at least one core, or several terminals.
type joint struct {
	box       int
	terminals []wiring.End
	ends      []end
	single    bool // a terminal with nothing in it
}

// A net is what a core can carry.
type net struct {
	name    string
	neutral bool // identified blue; else as a line
	circuit int  // of a line or neutral; -1
	home    int  // a box where it must be, always; -1
}

type labelled struct {
	end wiring.End
	net int
	box int
}

// hidden reports whether a box of the kind is out of sight once the floor or
// the hatch is closed.
func hidden(k *kit.Box) bool { return k != nil && k.Mount == kit.MountSurface && k.Gangs == 0 }

// survey makes a ground of the wiring as found and what is asked.
func survey(found *wiring.Graph, ask *Ask, cat *kit.Catalogue, w Weights) *ground {
	s := &ground{g: found, ask: ask, cat: cat, w: w, boxOf: map[string]int{}, at: map[wiring.End]int{}, earth: map[int]bool{}, netOf: map[int]int{}}
	s.proof = switching.Prove(found, nil)
	s.takePieces()
	s.takeBoxes()
	s.takeCables()
	s.checkEarth()
	s.takeSources()
	s.takeWorks()
	s.takeGroups()
	if s.refused() {
		return s
	}
	s.takeJoints()
	s.takeFittings()
	s.nameWires()
	return s
}

func (s *ground) refused() bool { return finding.Forbidden(s.findings) }

func (s *ground) forbid(code string, at finding.Subject, fix, format string, args ...any) {
	s.findings = append(s.findings, finding.Finding{
		Code: code, Severity: finding.Forbids, Subject: at, Fix: fix, Text: fmt.Sprintf(format, args...),
	})
}

// takePieces finds what is metallically one with every contact open.
func (s *ground) takePieces() {
	s.piece = make([]int, s.g.Nodes())
	for n := range s.piece {
		s.piece[n] = n
	}
	for i := range s.g.Edges {
		if e := &s.g.Edges[i]; e.Kind == wiring.Conductor {
			a, b := s.root(int(e.A)), s.root(int(e.B))
			s.piece[max(a, b)] = min(a, b)
		}
	}
	for n := range s.piece {
		s.piece[n] = s.root(n)
	}
	for _, o := range s.g.Origins {
		s.earth[s.piece[o.E]] = true
	}
}

func (s *ground) root(n int) int {
	for s.piece[n] != n {
		n = s.piece[n]
	}
	return n
}

func (s *ground) pieceOf(e wiring.End) int {
	n, _ := s.g.Node(e)
	return s.piece[n]
}

func (s *ground) takeBoxes() {
	add := func(b *wiring.Box, fresh bool) {
		s.boxOf[b.ID] = len(s.boxes)
		s.boxes = append(s.boxes, box{Box: b, fresh: fresh, hidden: hidden(b.Kind)})
	}
	for _, b := range s.g.Inst.Boxes {
		add(b, false)
	}
	for _, b := range s.ask.Could.Boxes {
		add(b, true)
	}
}

// takeCables lists the cables there are and those that could be run, one for
// each kind that a run may be of.
func (s *ground) takeCables() {
	for _, c := range s.g.Inst.Cables {
		s.addCable(cable{id: c.ID, kind: c.Kind, sides: [2]int{s.boxOf[c.From], s.boxOf[c.To]}, found: c})
	}
	for i := range s.ask.Could.Cables {
		s.addRun(&s.ask.Could.Cables[i], false)
	}
}

func (s *ground) addRun(r *Cable, extra bool) {
	for _, k := range r.Kinds {
		s.addCable(cable{id: r.ID, kind: k, sides: [2]int{s.boxOf[r.From], s.boxOf[r.To]}, run: r, extra: extra})
	}
}

func (s *ground) addCable(c cable) {
	for i := range c.kind.Cores {
		core := &c.kind.Cores[i]
		if core.Earth || c.found != nil && s.earth[s.pieceOf(wiring.End{Box: c.found.From, Item: c.id, Name: core.Name})] {
			continue
		}
		w := wire{cable: len(s.cables), core: core, joint: [2]int{-1, -1}, was: -1}
		for side, b := range c.sides {
			s.boxes[b].ends = append(s.boxes[b].ends, end{len(s.wires), side})
		}
		s.wires = append(s.wires, w)
	}
	s.cables = append(s.cables, c)
}

// ending is the end of a wire as wiring knows it.
func (s *ground) ending(e end) wiring.End {
	c := &s.cables[s.wires[e.wire].cable]
	return wiring.End{Box: s.boxes[c.sides[e.side]].ID, Item: c.id, Name: s.wires[e.wire].core.Name}
}

// checkEarth refuses wiring in which a protective conductor is joined to
// something else: there is nothing safe to start from.
func (s *ground) checkEarth() {
	for n := range s.piece {
		members := s.g.Members(wiring.Node(n))
		for _, e := range members {
			if _, core := s.g.IsCore(e); core == nil || !core.Earth || s.earth[s.piece[n]] {
				continue
			}
			if slices.ContainsFunc(members, func(m wiring.End) bool { return !s.earthen(m) }) {
				s.forbid("start-earth", e.Subject(), "put this right, and describe the wiring as it is then",
					"as found, the protective conductor %s is joined to a conductor that is not earth in box %s; no change is looked for from there", e, e.Box)
				return
			}
		}
	}
}

// earthen reports whether an end is a protective conductor or a terminal for
// one.
func (s *ground) earthen(e wiring.End) bool {
	if _, core := s.g.IsCore(e); core != nil {
		return core.Earth || s.earth[s.pieceOf(e)]
	}
	return s.role(e) == kit.RoleEarth
}

// role is what a terminal is meant for.
func (s *ground) role(e wiring.End) kit.Role {
	var kind *kit.Accessory
	if b := s.g.Inst.Box(e.Box); b != nil && b.Fitted(e.Item) != nil {
		kind = b.Fitted(e.Item).Kind
	} else if c := s.g.Inst.Circuit(e.Item); c != nil {
		kind = c.Way
	}
	if kind != nil {
		for _, t := range kind.Terminals {
			if t.Name == e.Name {
				return t.Role
			}
		}
	}
	return kit.AnyRole
}

// takeSources makes the nets of every circuit's line and neutral.
func (s *ground) takeSources() {
	for i, o := range s.g.Origins {
		home := s.boxOf[o.Circuit.Board]
		for _, pole := range []struct {
			node    wiring.Node
			name    string
			neutral bool
		}{{o.L, "line of " + o.Circuit.ID, false}, {o.N, "neutral of " + o.Circuit.ID, true}} {
			p := s.piece[pole.node]
			if other, taken := s.netOf[p]; taken || s.earth[p] {
				s.forbid("start-mixed", finding.Subject("circuits."+o.Circuit.ID), "part them first, and describe the wiring as it is then",
					"as found, the %s is joined to the %s; no change is looked for from there", pole.name, s.mixedWith(other, taken))
				continue
			}
			s.netOf[p] = len(s.nets)
			s.nets = append(s.nets, net{name: pole.name, neutral: pole.neutral, circuit: i, home: home})
		}
	}
}

func (s *ground) mixedWith(other int, taken bool) string {
	if taken {
		return s.nets[other].name
	}
	return "earth"
}

// line and neutral are the nets of a circuit, by its index.
func (s *ground) line(circuit int) int    { return 2 * circuit }
func (s *ground) neutral(circuit int) int { return 2*circuit + 1 }

// takeWorks finds which loads each switch works as found.
func (s *ground) takeWorks() {
	s.works = make([][]int, len(s.g.Switches))
	for _, load := range s.g.Lamps() {
		for _, sw := range s.proof.Switched(load) {
			s.works[sw] = append(s.works[sw], load)
		}
	}
}

func (s *ground) addNet(name string, home int) int {
	s.nets = append(s.nets, net{name: name, circuit: -1, home: home})
	return len(s.nets) - 1
}

// takeJoints lists the joints as found, protective ones left out.
func (s *ground) takeJoints() {
	ends := map[wiring.End]end{}
	for w := range s.wires {
		if s.cables[s.wires[w].cable].found == nil {
			continue
		}
		for side := range 2 {
			ends[s.ending(end{w, side})] = end{w, side}
		}
	}
	for n := range s.piece {
		node := wiring.Node(n)
		j := joint{box: -1}
		loose := s.g.Loose(node)
		for _, e := range s.g.Members(node) {
			if s.earthen(e) {
				continue
			}
			j.box = s.boxOf[e.Box]
			if w, core := ends[e]; !core {
				j.terminals = append(j.terminals, e)
			} else if !loose {
				j.ends = append(j.ends, w)
			}
		}
		if j.box < 0 || len(j.terminals)+len(j.ends) == 0 {
			continue
		}
		j.single = len(j.terminals) == 1 && len(j.ends) == 0
		s.addJoint(j)
	}
}

func (s *ground) addJoint(j joint) {
	i := len(s.joints)
	for _, t := range j.terminals {
		s.at[t] = i
	}
	for _, e := range j.ends {
		s.wires[e.wire].joint[e.side] = i
	}
	s.boxes[j.box].joints = append(s.boxes[j.box].joints, i)
	s.joints = append(s.joints, j)
}

// takeFittings decides for every terminal of what stays whether it carries a
// net of its own or may take any.
func (s *ground) takeFittings() {
	for i, o := range s.g.Origins {
		used := slices.ContainsFunc(s.groups, func(g *group) bool { return g.circuit == i })
		for _, n := range []struct {
			name string
			node wiring.Node
			net  int
		}{{"L", o.L, s.line(i)}, {"N", o.N, s.neutral(i)}} {
			if used || !s.g.Loose(n.node) {
				s.fix(wiring.End{Box: o.Circuit.Board, Item: o.Circuit.ID, Name: n.name}, n.net)
			}
		}
	}
	for _, b := range s.g.Inst.Boxes {
		for _, f := range b.Fit {
			if !s.isSlot(b.ID, f.ID) {
				s.takeFitting(b, f)
			}
		}
	}
}

func (s *ground) fix(e wiring.End, n int) {
	b := s.boxOf[e.Box]
	s.boxes[b].fixed = append(s.boxes[b].fixed, len(s.fixed))
	s.fixed = append(s.fixed, labelled{e, n, b})
}

func (s *ground) takeFitting(b *wiring.Box, f *wiring.Fitted) {
	lamp := s.groupOf(b.ID + "." + f.ID)
	for _, t := range f.Kind.Terminals {
		e := wiring.End{Box: b.ID, Item: f.ID, Name: t.Name}
		switch {
		case t.Role == kit.RoleEarth:
		case idle(f.Kind, t.Name):
			i := s.boxOf[b.ID]
			s.boxes[i].free = append(s.boxes[i].free, len(s.free))
			s.free = append(s.free, e)
		case lamp != nil && lampSide(f.Kind, t.Name, 0):
			s.fix(e, lamp.switched)
		case lamp != nil && lampSide(f.Kind, t.Name, 1):
			s.fix(e, s.neutral(lamp.circuit))
		default:
			s.keep(e)
		}
	}
}

// lampSide reports whether a terminal is the line side (0) or neutral side (1)
// of what is switched in an accessory.
func lampSide(k *kit.Accessory, terminal string, side int) bool {
	return slices.ContainsFunc(k.Loads, func(l kit.Load) bool { return !l.Always && l.Between[side] == terminal })
}

// idle reports whether a terminal is only a place to join conductors.
func idle(k *kit.Accessory, terminal string) bool {
	for _, c := range k.Contacts {
		if slices.Contains(c.Join[:], terminal) {
			return false
		}
	}
	for _, l := range k.Loads {
		if slices.Contains(l.Between[:], terminal) {
			return false
		}
	}
	return k.Coil == nil || !slices.Contains(k.Coil.Between[:], terminal)
}

// keep holds a terminal to the net it has as found. One that nothing is joined
// to stays so.
func (s *ground) keep(e wiring.End) {
	node, _ := s.g.Node(e)
	if len(s.g.Members(node)) == 1 {
		return
	}
	p := s.piece[node]
	if s.earth[p] {
		return
	}
	n, known := s.netOf[p]
	if !known {
		n = s.addNet("what is joined to "+e.Path()+" now", s.boxOf[e.Box])
		s.netOf[p] = n
	}
	s.fix(e, n)
}

// nameWires notes what every core carries as found.
func (s *ground) nameWires() {
	used := map[int]bool{}
	for n := range s.piece {
		for _, e := range s.g.Members(wiring.Node(n)) {
			if _, core := s.g.IsCore(e); core == nil {
				used[s.piece[n]] = true
			}
		}
	}
	for i := range s.wires {
		w := &s.wires[i]
		if s.cables[w.cable].found == nil {
			continue
		}
		p := s.pieceOf(s.ending(end{i, 0}))
		w.spare = !used[p]
		if n, ok := s.netOf[p]; ok {
			w.was = n
		}
	}
}

// called is how a box is called in sentences.
func (s *ground) called(b int) string { return s.boxes[b].Name() }
