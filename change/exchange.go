package change

import (
	"slices"

	"strapper/finding"
	"strapper/switching"
	"strapper/wiring"
)

// An Exchange is a pair of cores of one cable that may change places.
type Exchange struct {
	Cable  string    `json:"cable"`
	Cores  [2]string `json:"cores"`
	OneEnd bool      `json:"one_end"` // also at one end alone
	Same   bool      `json:"same"`    // and then the light is on in the same positions as before
	Text   string    `json:"text"`
}

// exchanges lists, for every cable in which anything changes, the pairs of
// cores between which the arrangement is indifferent. Exchanged at both ends
// any two cores of a cable are; that only matters for two that need the same
// identification. Whether one end alone will do is put to the proof.
func (m *ground) exchanges(p *plan, way *Way) []Exchange {
	var list []Exchange
	for c := range m.cables {
		var carrying []int
		changed := m.cables[c].found == nil
		for w := range m.wires {
			if m.wires[w].cable != c || p.label[w] < 0 || m.nets[p.label[w]].neutral {
				continue
			}
			carrying = append(carrying, w)
			changed = changed || p.label[w] != m.wires[w].was
		}
		if !changed {
			continue
		}
		for a := range carrying {
			for b := a + 1; b < len(carrying); b++ {
				if p.label[carrying[a]] != p.label[carrying[b]] {
					list = append(list, m.exchange(way, carrying[a], carrying[b]))
				}
			}
		}
	}
	return list
}

func (m *ground) exchange(way *Way, a, b int) Exchange {
	c := &m.cables[m.wires[a].cable]
	x := Exchange{Cable: c.id, Cores: [2]string{m.wires[a].core.Name, m.wires[b].core.Name}}
	x.OneEnd, x.Same = m.indifferent(way, c, x.Cores)
	names := x.Cores[0] + " and " + x.Cores[1] + " of " + x.Cable
	switch {
	case x.Same:
		x.Text = names + " may be exchanged, at both ends or at one end alone: the lights work the same"
	case x.OneEnd:
		x.Text = names + " may be exchanged, at both ends or at one end alone; at one end alone, the switches work the other way up"
	default:
		x.Text = names + " may be exchanged, but only at both ends"
	}
	return x
}

// indifferent reports whether the control is still right with two cores
// exchanged at either end of a cable alone, and whether the light is then on in
// the same positions.
func (m *ground) indifferent(way *Way, c *cable, cores [2]string) (right, same bool) {
	same = true
	for _, side := range c.sides {
		g, _ := wiring.Build(m.turned(way, side, c.id, cores))
		if g == nil {
			return false, false
		}
		p := switching.Prove(g, way.Wants)
		if !sound(p, way.Proof) {
			return false, false
		}
		same = same && m.litAlike(way, g, p)
	}
	return true, same
}

// turned is a way's wiring with two cores of a cable exchanged in one box.
func (m *ground) turned(way *Way, box int, cable string, cores [2]string) *wiring.Installation {
	in := *way.Left
	in.Joints = slices.Clone(in.Joints)
	for i, j := range in.Joints {
		if j.Box != m.boxes[box].ID {
			continue
		}
		in.Joints[i].Ends = slices.Clone(j.Ends)
		for k, e := range in.Joints[i].Ends {
			in.Joints[i].Ends[k] = exchanged(e, cable, cores)
		}
	}
	return &in
}

// litAlike compares the lamps of the wants over all positions of the switches
// that work them.
func (m *ground) litAlike(way *Way, g *wiring.Graph, p *switching.Proof) bool {
	for _, w := range way.Wants {
		var sw []int
		for _, id := range slices.Concat(w.From, w.Off) {
			sw = append(sw, g.SwitchIndex(id))
		}
		for _, id := range w.Lamps {
			for _, l := range g.LoadsOf(id) {
				if p.Truth(l, sw...) != way.Proof.Truth(l, sw...) {
					return false
				}
			}
		}
	}
	return true
}

func exchanged(e wiring.End, cable string, cores [2]string) wiring.End {
	if e.Item == cable {
		for k, name := range cores {
			if e.Name == name {
				e.Name = cores[1-k]
				break
			}
		}
	}
	return e
}

// sound reports whether a proof forbids nothing that another did not.
func sound(p, before *switching.Proof) bool {
	return !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Severity == finding.Forbids && !slices.ContainsFunc(before.Findings, func(b finding.Finding) bool {
			return b.Code == f.Code && b.Subject == f.Subject
		})
	})
}
