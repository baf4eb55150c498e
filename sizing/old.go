package sizing

import (
	"fmt"
	"strings"

	"strapper/kit"
	"strapper/rules"
	"strapper/source"
	"strapper/switching"
	"strapper/wiring"
)

// Old is something of an earlier time on a circuit: what may be done with it as
// it is, and what must be put right first.
type Old struct {
	What   string        `json:"what"`
	May    string        `json:"may"`   // be altered as it is
	First  string        `json:"first"` // must be put right before anything is added; empty if nothing
	Source source.Source `json:"source"`
}

func practice(cite string) source.Source {
	return source.Source{Authority: source.Practice, Cite: cite + ", common practice, no source"}
}

func memory(cite string) source.Source {
	return source.Source{Authority: source.Memory, Cite: cite, Note: "recalled, to be confirmed against print"}
}

// old lists what is met on old circuits. The book judges them; this says in
// plain words what may be done.
func (c *sizer) old() {
	x, k := &c.out.Case, c.circuit()
	add := func(what, may, first string, s source.Source) {
		c.out.Old = append(c.out.Old, Old{what, may, first, s})
	}
	if x.Earth.Known && x.Earth.Value == 0 {
		add("no protective conductor in "+c.without(), "a plastic switch or lampholder may be exchanged for the like",
			"nothing is added that needs earthing: every new point needs a protective conductor run to it from the board; no metal switch, box lug or class I fitting on the old part; the client is told in writing", memory("BS 7671 411.3.1.1"))
	}
	if k.Device.Type == kit.Rewirable {
		add(k.Device.Title, "it may stay if the loop impedance allows it and its wire is the right one",
			"its cable is taken to carry 0.725 of its rating; look for thick wire, scorching and an open base", rulesSource(c.Book, rules.FuseFactor, rules.Device(string(kit.Rewirable))))
	}
	switch x.Sheath {
	case kit.SheathRubber:
		add("rubber-sheathed cable", "nothing", "test its insulation before it is moved; where it is brittle or reads low it is renewed, not altered", practice("rubber insulation hardens and falls off when bent"))
	case kit.SheathLead:
		add("lead-sheathed cable", "nothing", "test its insulation and the continuity of the sheath; the sheath was the earth, and is not one where its clamps have gone", practice("lead sheath as earth"))
	}
	c.imperial(add)
	if x.RCD.Value <= 0 {
		add("no residual current device", "like may be exchanged for like", "the new part at least is protected by an RCD of 30 mA, whatever the old part has", memory("BS 7671 411.3.4 and 522.6.202"))
	}
	if strings.EqualFold(k.RCDType, "AC") && x.Direct == rules.Yes {
		add("an RCD of type AC before electronic lamps", "it may stay on what is not altered", "have it exchanged for type A when anything is added", memory("BS 7671 531.3.3"))
	}
}

// without names the cables that have no protective conductor.
func (c *sizer) without() string {
	var list []string
	for _, k := range c.use {
		has := false
		for i := range k.Kind.Cores {
			has = has || k.Kind.Cores[i].Earth
		}
		if !has && len(k.Kind.Cores) > 1 {
			list = append(list, k.ID)
		}
	}
	return "cable " + strings.Join(list, ", ")
}

func (c *sizer) imperial(add func(what, may, first string, s source.Source)) {
	seen := map[string]bool{}
	for _, k := range c.use {
		strands := k.Kind.Cores[0].Strands
		if strands == "" || seen[strands] {
			continue
		}
		seen[strands] = true
		text := "imperial conductors " + strands
		if a := rules.Ask(c.Book, rules.Imperial, rules.Strands(strands)); a.Found {
			text += fmt.Sprintf(", %.3g mm²", float64(a.Value))
		}
		add(text, "they may be joined to metric ones in a connector that takes both", "no table of today rates them: its current-carrying capacity is not assessed; count the strands, and go by the insulation's condition", practice("imperial cable of before about 1970"))
	}
}

// rulesSource is the source of a cell that a question is answered by.
func rulesSource[T rules.Quantity](b *rules.Book, q rules.Question[T], keys ...rules.Key) source.Source {
	a := rules.Ask(b, q, keys...)
	if len(a.Cells) == 0 {
		return practice("rewirable fuse")
	}
	return source.Source{Authority: a.Cells[0].State.Authority(), Cite: a.Cells[0].Table.String(), Note: a.Cells[0].Source}
}

// Neutral tells of one box of switches whether a neutral comes to it, as an
// electronic switch often needs.
type Neutral struct {
	Box  string `json:"box"`
	Has  bool   `json:"has"`
	Core string `json:"core,omitempty"` // one that carries it
	Same bool   `json:"same_circuit"`   // it is that of the circuit that feeds the switches
}

// neutrals looks at every box in which something is switched by hand.
func neutrals(g *wiring.Graph, p *switching.Proof) []Neutral {
	var list []Neutral
	for _, b := range g.Inst.Boxes {
		if !switches(b) {
			continue
		}
		n := Neutral{Box: b.ID}
		for _, k := range g.Inst.Cables {
			for i := range k.Kind.Cores {
				e := wiring.End{Box: b.ID, Item: k.ID, Name: k.Kind.Cores[i].Name}
				node, ok := g.Node(e)
				if ok && p.Exact && p.Duty[node] == switching.DutyNeutral && !n.Has {
					n.Has, n.Core, n.Same = true, e.String(), shared(g, p, b, node)
				}
			}
		}
		list = append(list, n)
	}
	return list
}

func switches(b *wiring.Box) bool {
	for _, f := range b.Fit {
		switch f.Kind.Class {
		case kit.ClassSwitch, kit.ClassDimmer, kit.ClassSensor:
			return true
		}
	}
	return false
}

// shared reports whether a neutral in a box is that of a circuit whose line
// comes to it.
func shared(g *wiring.Graph, p *switching.Proof, b *wiring.Box, neutral wiring.Node) bool {
	for i := range g.Origins {
		if !p.Fed(neutral, i) {
			continue
		}
		for n := range wiring.Node(g.Nodes()) {
			m := g.Members(n)
			if len(m) > 0 && m[0].Box == b.ID && p.Duty[n] != switching.DutyNeutral && p.Fed(n, i) {
				return true
			}
		}
	}
	return false
}
