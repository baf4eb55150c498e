package change

import (
	"slices"
	"strings"

	"strapper/kit"
	"strapper/switching"
)

// A part is what a switch does in an arrangement.
type part int

// The parts, with what their terminals are: a make joins its first to its
// second in one position; a changeover its first to its second in one position
// and to its third in the other; a crossover its first pair to its second pair,
// straight in one position and crossed in the other.
const (
	partMake part = iota
	partChange
	partCross
)

var terminalsOf = [...]int{partMake: 2, partChange: 3, partCross: 4}

// An option is one way for a switch of a slot to play a part.
type option struct {
	kind     *kit.Accessory
	same     bool // the switch found, left in place
	allowed  bool // its kind may be newly fitted, or is there
	part     part
	terminal [4]string // by number in the part
	line     int       // the number of the terminal that must be on the feed; -1 if any way round will do
	neutral  string    // the terminal that takes a neutral; "" if none
}

// optionsOf lists what a slot may be fitted with. Of a switch that is newly
// fitted one way round stands for all: nothing is on its terminals yet.
func (s *ground) optionsOf(sl *slot) []option {
	var list []option
	if sl.found != nil && (sl.place.Kind == nil || sl.place.Kind.ID == sl.found.Kind.ID) {
		list = append(list, parts(sl.found.Kind, true, true, s.levels(sl))...)
	}
	if sl.place.Keep && sl.found != nil {
		return list
	}
	var fresh []option
	for _, k := range s.kindsFor(sl) {
		fresh = append(fresh, parts(k, false, s.mayFit(sl, k), s.levels(sl))...)
	}
	return append(list, s.plainest(fresh)...)
}

// levels reports whether it matters at a slot in which position it is on.
func (s *ground) levels(sl *slot) bool {
	return sl.group < 0 || s.groups[sl.group].rule() != switching.RuleToggle
}

// plainest leaves out kinds with more terminals than another that is allowed
// and plays the same part, unless the van may be short of that one.
func (s *ground) plainest(list []option) []option {
	if s.ask.Limits.Stock != nil {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), func(o option) bool {
		return slices.ContainsFunc(list, func(p option) bool {
			return p.part == o.part && p.allowed && len(p.kind.Terminals) < len(o.kind.Terminals)
		})
	})
}

// surplus is the number of live terminals of a kind that a part leaves empty.
func (o *option) surplus() int {
	n := -terminalsOf[o.part]
	for _, t := range o.kind.Terminals {
		if t.Role != kit.RoleEarth {
			n++
		}
	}
	return n
}

// plain reports whether an option leaves no terminal empty, or is there already.
func (o *option) plain() bool { return o.same || o.surplus() == 0 }

// mayFit reports whether the limits allow a kind to be newly fitted.
func (s *ground) mayFit(sl *slot, k *kit.Accessory) bool {
	allowed := s.ask.Limits.Switches
	return len(allowed) == 0 || sl.place.Kind != nil || slices.ContainsFunc(allowed, func(a *kit.Accessory) bool { return a.ID == k.ID })
}

// kindsFor lists the kinds that a slot may be newly fitted with: the one asked
// for, else those allowed and the usual ones, of the sort of the one found.
func (s *ground) kindsFor(sl *slot) []*kit.Accessory {
	if k := sl.place.Kind; k != nil {
		return []*kit.Accessory{k}
	}
	list := slices.Clone(s.ask.Limits.Switches)
	for _, id := range usual(sl) {
		k := s.cat.Accessories[id]
		if k != nil && !slices.ContainsFunc(list, func(a *kit.Accessory) bool { return a.ID == id }) {
			list = append(list, k)
		}
	}
	return slices.DeleteFunc(list, func(k *kit.Accessory) bool { return sl.found != nil && sl.found.Kind.ID == k.ID })
}

// usual names the kinds a switch is exchanged for if nothing else is said: a
// pull cord stays a pull cord, a metal plate stays one where there is one.
func usual(sl *slot) []string {
	if sl.found != nil && sl.found.Kind.Actuator == kit.ByPull {
		return []string{"pull-one-way", "pull-two-way"}
	}
	if sl.found != nil && strings.HasSuffix(sl.found.Kind.ID, "-metal") {
		return []string{"one-way-metal", "two-way-metal", "intermediate"}
	}
	return []string{"one-way", "two-way", "intermediate"}
}

// parts works out from the contacts of a kind which parts it can play, and
// with which of its terminals. Only kinds of two positions that stay where they
// are put can play any.
// level asks of a make to be open in the first position.
func parts(k *kit.Accessory, same, allowed, level bool) []option {
	if len(k.Positions) != 2 || k.Coil != nil || k.Actuator == kit.ByPush {
		return nil
	}
	base := option{kind: k, same: same, allowed: allowed, line: -1}
	supply := ""
	for _, l := range k.Loads {
		if !l.Always {
			return nil
		}
		supply, base.neutral = l.Between[0], l.Between[1]
	}
	var list []option
	for p, n := range terminalsOf {
		for _, pick := range picks(k, n) {
			o := base
			o.part = part(p)
			copy(o.terminal[:], pick)
			if !o.plays(level) || slices.Contains(pick, base.neutral) && base.neutral != "" {
				continue
			}
			if supply != "" {
				if o.line = slices.Index(pick, supply); o.line < 0 {
					continue
				}
			}
			if list = append(list, o); !same && supply == "" {
				break
			}
		}
	}
	return list
}

// picks lists all ordered choices of n terminals.
func picks(k *kit.Accessory, n int) [][]string {
	if n == 0 {
		return [][]string{nil}
	}
	var list [][]string
	for _, fewer := range picks(k, n-1) {
		for _, t := range k.Terminals {
			if t.Role != kit.RoleEarth && !slices.Contains(fewer, t.Name) {
				list = append(list, append(slices.Clone(fewer), t.Name))
			}
		}
	}
	return list
}

// plays reports whether the terminals chosen do what the part asks, and
// nothing else.
func (o *option) plays(level bool) bool {
	n := terminalsOf[o.part]
	var first, second []bool // by pair: joined in the first and in the second position
	for a := range n {
		for b := a + 1; b < n; b++ {
			first = append(first, o.joined(a, b, 0))
			second = append(second, o.joined(a, b, 1))
		}
	}
	matches := func(on, off []bool, wantOn, wantOff []int) bool {
		for i := range on {
			if on[i] != slices.Contains(wantOn, i) || off[i] != slices.Contains(wantOff, i) {
				return false
			}
		}
		return true
	}
	switch o.part {
	case partMake: // pair 0: 0-1
		return matches(first, second, nil, []int{0}) || !level && matches(first, second, []int{0}, nil)
	case partChange: // pairs 0: 0-1, 1: 0-2, 2: 1-2
		return matches(first, second, []int{0}, []int{1}) || matches(first, second, []int{1}, []int{0})
	default: // pairs 0: 0-1, 1: 0-2, 2: 0-3, 3: 1-2, 4: 1-3, 5: 2-3
		return matches(first, second, []int{1, 4}, []int{2, 3}) || matches(first, second, []int{2, 3}, []int{1, 4})
	}
}

// joined reports whether two terminals are joined in a position, directly or
// through a third.
func (o *option) joined(a, b, position int) bool {
	reached := []string{o.terminal[a]}
	for i := 0; i < len(reached); i++ {
		for _, c := range o.kind.Contacts {
			if !slices.Contains(c.In, o.kind.Positions[position]) {
				continue
			}
			for side := range 2 {
				if c.Join[side] == reached[i] && !slices.Contains(reached, c.Join[1-side]) {
					reached = append(reached, c.Join[1-side])
				}
			}
		}
	}
	return slices.Contains(reached, o.terminal[b])
}

// electronic reports whether a kind conducts through a semiconductor.
func electronic(k *kit.Accessory) bool {
	return slices.ContainsFunc(k.Contacts, func(c kit.Contact) bool { return c.Via == kit.ViaElectronic })
}
