package change

import (
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// A group is a Group with its names looked up.
type group struct {
	*Group
	index    int
	circuit  int
	feed     int // the net that feeds its switches: the circuit's line, or what a master passes on
	switched int // the net of its lamps
	common   int // the net of joined commons; -1 with one place
	rails    [][2]int
	slots    []int // by place
	masters  []int
}

// A slot is a switch of a place, of a master, or one that is taken out.
type slot struct {
	box     int
	item    string
	found   *wiring.Fitted // nil if it is new
	place   *Place         // nil if it is taken out
	group   int            // whose place it is; -1 for a master or one taken out
	nets    [2]int         // of a master: what it joins
	circuit int
	options []option
}

// id is the switch's id as left.
func (s *ground) slotID(i int) string { return s.boxes[s.slots[i].box].ID + "." + s.slots[i].item }

// takeGroups looks up the groups, their nets and their switches.
func (s *ground) takeGroups() {
	lamps := map[int]bool{}
	for i := range s.ask.Groups {
		for _, id := range s.ask.Groups[i].Lamps {
			for _, l := range s.g.LoadsOf(id) {
				lamps[l] = true
			}
		}
	}
	s.checkReach(lamps)
	masters := map[string]int{}
	for i := range s.ask.Groups {
		s.takeGroup(i, lamps, masters)
	}
	if !s.refused() {
		s.takeOthers(lamps)
		s.takeRetired(lamps)
		s.takeOptions()
	}
}

// checkReach refuses lamps that hang on what the search does not change.
func (s *ground) checkReach(lamps map[int]bool) {
	for sw, loads := range s.works {
		k := s.g.Switches[sw].Kind
		if k.Class != kit.ClassIsolator && k.Class != kit.ClassRelay {
			continue
		}
		for _, l := range loads {
			if lamps[l] {
				s.forbid("start-relay", finding.Subject("boxes."+s.g.Switches[sw].ID()), "write the wiring as left by hand under left:",
					"%s is worked through %s (%s); the search does not rearrange relays and isolators", s.g.Loads[l].ID(), s.g.Switches[sw].ID(), k.Title)
			}
		}
	}
}

func (s *ground) takeGroup(i int, lamps map[int]bool, masters map[string]int) {
	g := &group{Group: &s.ask.Groups[i], index: i, common: -1}
	s.groups = append(s.groups, g)
	if !s.takeCircuit(g) {
		return
	}
	name := "switched line of " + strings.Join(g.Lamps, ", ")
	box, _, _ := strings.Cut(g.Lamps[0], ".")
	g.switched, g.feed = s.addNet(name, s.boxOf[box]), s.line(g.circuit)
	for p := range g.Off {
		g.feed = s.takeMaster(g, &g.Off[p], lamps, masters)
	}
	for p := range g.At {
		g.slots = append(g.slots, s.takePlace(i, g.circuit, &g.At[p], lamps))
	}
	if n := len(g.At); n > 1 && g.rule() != switching.RuleAny {
		for k := 1; k < n; k++ {
			at := " between switches " + strconv.Itoa(k) + " and " + strconv.Itoa(k+1) + " of " + g.Lamps[0]
			rail := [2]int{s.addNet("strapper 1"+at, -1), -1}
			if g.rule() == switching.RuleToggle {
				rail[1] = s.addNet("strapper 2"+at, -1)
			}
			g.rails = append(g.rails, rail)
		}
		if g.rule() == switching.RuleToggle {
			g.common = s.addNet("joined commons of "+g.Lamps[0], -1)
		}
	}
}

// groupOf is the group that a lamp belongs to, by its id; nil if none.
func (s *ground) groupOf(lamp string) *group {
	for _, g := range s.groups {
		if slices.Contains(g.Lamps, lamp) {
			return g
		}
	}
	return nil
}

func (g *group) rule() switching.Rule {
	if g.Rule == "" {
		return switching.RuleToggle
	}
	return g.Rule
}

// takeCircuit finds the circuit that feeds a group: the one named, or the one
// whose neutral its lamps have as found.
func (s *ground) takeCircuit(g *group) bool {
	g.circuit = -1
	for i, o := range s.g.Origins {
		if g.Circuit == o.Circuit.ID || len(s.g.Origins) == 1 {
			g.circuit = i
			return true
		}
	}
	for _, id := range g.Lamps {
		for _, l := range s.g.LoadsOf(id) {
			n, known := s.netOf[s.piece[s.g.Loads[l].B]]
			if !known || !s.nets[n].neutral {
				continue
			}
			if c := s.nets[n].circuit; g.circuit >= 0 && g.circuit != c {
				s.forbid("group-circuits", g.Subject, "name the circuit that is to feed them all with circuit:, or make two wants of it",
					"the lamps of this want are on two circuits, %s and %s", s.g.Origins[g.circuit].Circuit.ID, s.g.Origins[c].Circuit.ID)
				return false
			}
			g.circuit = s.nets[n].circuit
		}
	}
	if g.circuit < 0 {
		s.forbid("group-circuits", g.Subject, "name it with circuit:", "no circuit feeds the lamps of this want as found, so it must be said which one is to")
	}
	return g.circuit >= 0
}

// takeMaster makes the slot of a master switch; groups may share one.
func (s *ground) takeMaster(g *group, p *Place, lamps map[int]bool, masters map[string]int) int {
	key := p.Box + "." + p.Item + " " + s.nets[g.feed].name
	if i, known := masters[key]; known {
		g.masters = append(g.masters, i)
		return s.slots[i].nets[1]
	}
	i := s.takePlace(-1, g.circuit, p, lamps)
	masters[key] = i
	g.masters = append(g.masters, i)
	s.slots[i].nets = [2]int{g.feed, s.addNet("line behind the master switch in "+s.called(s.slots[i].box), -1)}
	return s.slots[i].nets[1]
}

// takePlace finds the switch of a place, as far as one works a lamp of its
// group already.
func (s *ground) takePlace(group, circuit int, p *Place, lamps map[int]bool) int {
	b := s.boxOf[p.Box]
	sl := &slot{box: b, item: p.Item, place: p, group: group, circuit: circuit}
	if sw := s.switchAt(sl); sw >= 0 {
		sl.found = s.g.Switches[sw].Item
		sl.item = sl.found.ID
		s.checkOthers(sw, sl, lamps)
	} else if p.Item != "" {
		s.forbid("place-unknown", p.Subject, "name a switch that is there as found, or the box alone", "%s has no free switch %q as found", s.called(b), p.Item)
	}
	s.slots = append(s.slots, sl)
	s.boxes[b].slots = append(s.boxes[b].slots, len(s.slots)-1)
	return len(s.slots) - 1
}

// switchAt is the switch found that a place means: the one named, or the first
// that works a lamp of the group; -1 if there is none.
func (s *ground) switchAt(sl *slot) int {
	for i := range s.g.Switches {
		sw := &s.g.Switches[i]
		if sw.Box.ID != sl.place.Box || s.isSlot(sw.Box.ID, sw.Item.ID) {
			continue
		}
		mine := sl.group >= 0 && sl.place.Item == "" && slices.ContainsFunc(s.works[i], func(l int) bool {
			return slices.Contains(s.groups[sl.group].Lamps, s.g.Loads[l].ID())
		})
		if mine || sw.Item.ID == sl.place.Item {
			return i
		}
	}
	return -1
}

// takeOthers gives the places that are left without a switch one in their box
// that would be taken out, or a new one.
func (s *ground) takeOthers(lamps map[int]bool) {
	for _, sl := range s.slots {
		if sl.found != nil {
			continue
		}
		for i := range s.g.Switches {
			sw := &s.g.Switches[i]
			if sw.Box.ID == sl.place.Box && s.retires(i, lamps) {
				sl.found, sl.item = sw.Item, sw.Item.ID
				break
			}
		}
		if sl.found == nil {
			sl.item = s.newItem(sl.box)
		}
	}
}

// retires reports whether a switch found works nothing but lamps of the wants
// and is no place of any.
func (s *ground) retires(sw int, lamps map[int]bool) bool {
	return len(s.works[sw]) > 0 && !s.worksOther(sw, lamps) && !s.isSlot(s.g.Switches[sw].Box.ID, s.g.Switches[sw].Item.ID)
}

func (s *ground) worksOther(sw int, lamps map[int]bool) bool {
	return slices.ContainsFunc(s.works[sw], func(l int) bool { return !lamps[l] })
}

// checkOthers refuses to take a switch away from lamps that no want mentions.
func (s *ground) checkOthers(sw int, sl *slot, lamps map[int]bool) {
	for _, l := range s.works[sw] {
		if !lamps[l] {
			s.forbid("lamp-left-out", sl.place.Subject, "add a want that says from where it is to be worked",
				"%s works %s too, and no want says what becomes of that", s.g.Switches[sw].ID(), s.g.Loads[l].ID())
			return
		}
	}
}

func (s *ground) newItem(b int) string {
	taken := func(id string) bool {
		bx := s.boxes[b]
		if bx.Fitted(id) != nil || slices.ContainsFunc(bx.slots, func(i int) bool { return s.slots[i].item == id }) {
			return true
		}
		return slices.ContainsFunc(s.cables, func(c cable) bool { return c.id == id })
	}
	for n := 1; ; n++ {
		if id := "s" + strconv.Itoa(n); !taken(id) {
			return id
		}
	}
}

func (s *ground) isSlot(box, item string) bool {
	return slices.ContainsFunc(s.slots, func(sl *slot) bool {
		return sl.found != nil && sl.found.ID == item && s.boxes[sl.box].ID == box
	})
}

// takeRetired adds the switches that are taken out.
func (s *ground) takeRetired(lamps map[int]bool) {
	for i := range s.g.Switches {
		if !s.retires(i, lamps) {
			continue
		}
		sw := &s.g.Switches[i]
		b := s.boxOf[sw.Box.ID]
		s.slots = append(s.slots, &slot{box: b, item: sw.Item.ID, found: sw.Item, group: -1})
		s.boxes[b].slots = append(s.boxes[b].slots, len(s.slots)-1)
	}
}

// takeOptions works out what every slot may be fitted with.
func (s *ground) takeOptions() {
	for _, sl := range s.slots {
		if sl.place == nil {
			continue
		}
		sl.options = slices.DeleteFunc(s.optionsOf(sl), func(o option) bool { return !s.serves(sl, o.part) })
		behind := len(sl.options) > 0 && sl.group >= 0 && len(s.groups[sl.group].masters) > 0
		if behind {
			sl.options = slices.DeleteFunc(sl.options, func(o option) bool { return o.line >= 0 })
		}
		switch {
		case len(sl.options) > 0:
		case behind:
			s.forbid("no-switch-kind", sl.place.Subject, "leave off: out, or choose another kind",
				"the switch in %s needs the line at all times, and a master would take it away", s.called(sl.box))
		case sl.place.Keep:
			s.forbid("no-switch-kind", sl.place.Subject, "leave keep: out, or choose another place",
				"the switch that is to be kept in %s (%s) cannot do what is wanted there", s.called(sl.box), sl.found.Kind.ID)
		default:
			s.forbid("no-switch-kind", sl.place.Subject, "allow another kind, or choose another place",
				"no kind of switch that may be fitted in %s can do what is wanted there", s.called(sl.box))
		}
	}
	s.refuseDimmers()
}

// refuseDimmers refuses a group in which two places can only have dimmers.
func (s *ground) refuseDimmers() {
	for _, g := range s.groups {
		n := 0
		for _, i := range g.slots {
			list := s.slots[i].options
			if len(list) > 0 && !slices.ContainsFunc(list, func(o option) bool { return !electronic(o.kind) }) {
				n++
			}
		}
		if n > 1 {
			s.forbid("no-switch-kind", g.Subject, "have one dimmer, and switches elsewhere",
				"%s would be worked by %s dimmers, and two dimmers must not act on one lamp", finding.List(g.Lamps, " and "), number(n))
		}
	}
}

// serves reports whether a part is of use at a slot, in whatever order.
func (s *ground) serves(sl *slot, p part) bool {
	if sl.group < 0 {
		return p == partMake
	}
	g := s.groups[sl.group]
	switch n := len(g.slots); {
	case n == 1 || g.rule() != switching.RuleToggle:
		return p == partMake
	case n == 2:
		return p == partChange
	}
	return p != partMake
}
