package change

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/switching"
)

// name gives a way its name and its title: the arrangement of every group, the
// order of its switches, and the cables that are new.
func (m *ground) name(way *Way, p *plan, a *Answer) {
	var parts []string
	for gi := range m.groups {
		parts = append(parts, m.shortly(gi, p))
		way.Title = append(way.Title, m.atLength(gi, p))
	}
	for _, i := range p.taken {
		parts = append(parts, m.cables[i].id+"-"+m.cables[i].kind.ID)
	}
	way.Name = strings.Join(parts, "+")
	for n := 2; slices.ContainsFunc(a.Ways, func(w Way) bool { return w.Name == way.Name }); n++ {
		way.Name = fmt.Sprintf("%s+%d", strings.Join(parts, "+"), n)
	}
}

func (m *ground) placesInOrder(gi int, p *plan) []string {
	g := m.groups[gi]
	var list []string
	for q := range g.slots {
		if len(p.order[gi]) > 0 {
			q = p.order[gi][q]
		}
		list = append(list, m.boxes[m.slots[g.slots[q]].box].ID)
	}
	return list
}

// shortly names an arrangement: "ends-hall-top" takes the line at one end of
// the chain and the switched line at the other, "pair1-hall-top" takes both at
// the first pair of strappers.
func (m *ground) shortly(gi int, p *plan) string {
	word := "ends"
	g := m.groups[gi]
	switch {
	case len(g.slots) == 1:
		word = "one"
	case g.rule() != switching.RuleToggle:
		word = string(g.rule())
	case p.tap[gi] > 0:
		word = fmt.Sprintf("pair%d", p.tap[gi])
	}
	return word + "-" + strings.Join(m.placesInOrder(gi, p), "-")
}

// atLength says the same in a sentence.
func (m *ground) atLength(gi int, p *plan) string {
	g, n := m.groups[gi], m.placesInOrder(gi, p)
	return finding.List(g.Lamps, " and ") + m.arranged(g, n, p.tap[gi]) + m.heldOff(g)
}

// arranged says how a group's switches, at the boxes named, are arranged.
func (m *ground) arranged(g *group, at []string, tap int) string {
	n := len(at)
	switch {
	case n == 1:
		return " from " + at[0] + " alone"
	case g.rule() == switching.RuleAny:
		return ": the switches side by side, each between line and switched line: " + finding.List(at, " and ")
	case g.rule() == switching.RuleAll:
		return ": the switches one after the other, line first: " + strings.Join(at, ", ")
	}
	text := ": two-way at " + at[0] + " and " + at[n-1]
	if n > 2 {
		text += ", intermediate at " + finding.List(at[1:n-1], " and ")
	}
	if tap == 0 {
		return text + "; line on the common of " + at[0] + ", switched line on the common of " + at[n-1]
	}
	return text + "; line and switched line on the pair of strappers between " + at[tap-1] + " and " + at[tap] + ", the two commons joined"
}

// heldOff names the master switches of a group.
func (m *ground) heldOff(g *group) string {
	var list []string
	for _, i := range g.masters {
		list = append(list, m.boxes[m.slots[i].box].ID)
	}
	if len(list) == 0 {
		return ""
	}
	return "; held off by the master at " + finding.List(list, " and ")
}
