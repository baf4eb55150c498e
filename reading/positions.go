package reading

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapper/kit"
	"strapper/wiring"
)

// The number of states that are examined one and all.
const (
	defaultStates = 16
	mostStates    = 4096
)

// sample is one value in its base unit; open has no value.
type sample struct {
	open           bool
	low, nom, high float64
}

func (s sample) cover(t sample) sample {
	if s.open || t.open {
		return s
	}
	s.low, s.high = min(s.low, t.low), max(s.high, t.high)
	return s
}

// differs reports whether a person at the instrument would see the difference.
func (s sample) differs(t sample, resolution float64) bool {
	return s.open != t.open || !s.open && math.Abs(s.nom-t.nom) > resolution
}

// tour is the states that are examined.
type tour struct {
	g      *wiring.Graph
	states []wiring.State
	every  bool
}

// newTour takes every state that one person can set if there are few. Otherwise
// it walks: each switch
// in turn is moved through its positions and left in the last, then each is
// moved back to the first. Neighbours differ in one switch, and every switch is
// moved both ways.
func newTour(g *wiring.Graph, limit int) *tour {
	if limit <= 0 {
		limit = defaultStates
	}
	t := &tour{g: g}
	if n := g.States(); n <= uint64(min(limit, mostStates)) {
		t.every = true
		t.states = settable(g)
		return t
	}
	t.walk()
	return t
}

// settable lists the states of few switches in which no two pushes are held
// down at once: they spring back, and a person who tests holds one.
func settable(g *wiring.Graph) (list []wiring.State) {
	for i := range g.States() {
		s, held := g.StateAt(i), 0
		for sw := range s {
			if s[sw] != 0 && g.Switches[sw].Kind.Actuator == kit.ByPush {
				held++
			}
		}
		if held < 2 {
			list = append(list, s)
		}
	}
	return list
}

func (t *tour) walk() {
	s := t.g.Rest()
	visit := func() { t.states = append(t.states, append(wiring.State(nil), s...)) }
	visit()
	for i := range s {
		for int(s[i]) < len(t.g.Switches[i].Kind.Positions)-1 {
			s[i]++
			visit()
		}
	}
	for i := range s {
		if i < len(s)-1 { // moving the last one back ends where the walk began
			s[i] = 0
			visit()
		}
	}
}

// group is some of the states, in which a reading is the same.
type group struct {
	first    int   // index of its first state
	members  []int // indexes of all
	relevant []int // the switches that tell it from others; nil: all
	value    sample
}

// groups gathers states in which a reading is the same to the resolution. If
// every state was examined, only the switches that can change the reading are
// kept in its description; of a walk, which does not show what never matters,
// the first state of each reading stands for the others.
func (t *tour) groups(samples []sample, resolution float64) []group {
	if !t.every {
		return t.alike(samples, resolution)
	}
	relevant := t.relevant(samples, resolution)
	var list []group
	at := map[string]int{}
	for i, s := range t.states {
		key := project(s, relevant)
		k, known := at[key]
		if !known {
			k = len(list)
			at[key] = k
			list = append(list, group{first: i, relevant: relevant, value: samples[i]})
		}
		list[k].members = append(list[k].members, i)
		list[k].value = list[k].value.cover(samples[i])
	}
	return list
}

func (t *tour) alike(samples []sample, resolution float64) (list []group) {
	for i := range samples {
		k := slices.IndexFunc(list, func(g group) bool { return !samples[g.first].differs(samples[i], resolution) })
		if k < 0 {
			k = len(list)
			list = append(list, group{first: i, value: samples[i]})
		}
		list[k].members = append(list[k].members, i)
		list[k].value = list[k].value.cover(samples[i])
	}
	if len(list) > 1 {
		for k := range list {
			list[k].relevant = t.all()
		}
	}
	return list
}

// all lists every switch.
func (t *tour) all() []int {
	list := make([]int, len(t.g.Switches))
	for sw := range list {
		list[sw] = sw
	}
	return list
}

func project(s wiring.State, relevant []int) string {
	key := make([]byte, len(relevant))
	for i, sw := range relevant {
		key[i] = s[sw]
	}
	return string(key)
}

// relevant lists the switches whose movement can change the reading.
func (t *tour) relevant(samples []sample, resolution float64) (list []int) {
	at := make(map[string]int, len(t.states))
	for i, s := range t.states {
		at[string(s)] = i
	}
	for sw := range t.g.Switches {
		if t.matters(samples, resolution, sw, at) {
			list = append(list, sw)
		}
	}
	return list
}

// matters compares each state with that in which the switch is in its first
// position, which is always among the states.
func (t *tour) matters(samples []sample, resolution float64, sw int, at map[string]int) bool {
	for i, s := range t.states {
		base := append(wiring.State(nil), s...)
		base[sw] = 0
		if samples[i].differs(samples[at[string(base)]], resolution) {
			return true
		}
	}
	return false
}

// words says which positions the group is.
func (t *tour) words(g *group) string {
	if len(g.relevant) == 0 {
		if t.every {
			return "any position"
		}
		return "any position tried"
	}
	parts := make([]string, len(g.relevant))
	for i, sw := range g.relevant {
		parts[i] = t.g.Switches[sw].Name() + " " + t.g.Position(t.states[g.first], sw)
	}
	text := strings.Join(parts, ", ")
	if n := len(g.members) - 1; !t.every && n > 0 {
		text += fmt.Sprintf(" (and %d more of the positions tried)", n)
	}
	return text
}

// switches is the same by switch id.
func (t *tour) switches(g *group) map[string]string {
	if len(g.relevant) == 0 {
		return nil
	}
	m := make(map[string]string, len(g.relevant))
	for _, sw := range g.relevant {
		m[t.g.Switches[sw].ID()] = t.g.Position(t.states[g.first], sw)
	}
	return m
}

// key is the same for an identifier, in the order of the switches.
func (t *tour) key(g *group) string {
	var parts []string
	for _, sw := range g.relevant {
		parts = append(parts, t.g.Switches[sw].ID()+"="+t.g.Position(t.states[g.first], sw))
	}
	return strings.Join(parts, ",")
}
