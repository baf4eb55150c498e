package change

import (
	"fmt"
	"slices"
	"strings"

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
	g := m.groups[gi]
	var names []string
	for k := range g.slots {
		q := k
		if len(p.order[gi]) > 0 {
			q = p.order[gi][k]
		}
		names = append(names, m.boxes[m.slots[g.slots[q]].box].ID)
	}
	n := len(names)
	lamps := join(g.Lamps, " and ")
	switch {
	case n == 1:
		return lamps + " from " + names[0] + " alone"
	case g.rule() == switching.RuleAny:
		return lamps + ": the switches side by side, each between line and switched line: " + join(names, " and ")
	case g.rule() == switching.RuleAll:
		return lamps + ": the switches one after the other, line first: " + join(names, ", ")
	}
	text := lamps + ": two-way at " + names[0] + " and " + names[n-1]
	if n > 2 {
		text += ", intermediate at " + join(names[1:n-1], " and ")
	}
	if p.tap[gi] == 0 {
		return text + "; line on the common of " + names[0] + ", switched line on the common of " + names[n-1]
	}
	k := p.tap[gi]
	return text + "; line and switched line on the pair between " + names[k-1] + " and " + names[k] + ", the two commons joined"
}
