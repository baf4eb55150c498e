package sizing

import (
	"fmt"
	"math"
	"slices"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// maxRatedStates is the greatest number of states in which currents are worked
// out one by one; beyond it the load of the whole circuit is held against
// every rating on its way, which is never less.
const maxRatedStates = 1 << 10

// peak is the greatest current of one edge and the state in which it flows.
type peak struct {
	current unit.Ampere
	state   wiring.State
}

// Overloads holds the current of every conductor and contact, in the worst
// position, against its rating, the load of each circuit against its device,
// and the load of each dimmer against its limits. Cables are held to the
// lowest tabulated rating; how a cable really lies, and what may be put into
// its lampholders later, is for [Size].
func Overloads(g *wiring.Graph, p *switching.Proof, cat *kit.Catalogue) ([]finding.Finding, error) {
	if !p.Exact {
		return nil, nil
	}
	list := circuitLoads(g, p)
	if len(list) == 0 && totalLoad(g) <= lowestRating(g) {
		return dimmerLoads(g, p), nil
	}
	if g.States() > maxRatedStates {
		return append(list, totalsAgainstRatings(g)...), nil
	}
	peaks, err := peaks(g, p, cat)
	if err != nil {
		return nil, err
	}
	for i, k := range peaks {
		if e := &g.Edges[i]; e.Rating > 0 && k.current > e.Rating {
			list = append(list, overRated(e, k.current, g.Describe(k.state)))
		}
	}
	return append(list, dimmerLoads(g, p)...), nil
}

func totalLoad(g *wiring.Graph) (sum unit.Ampere) {
	for i := range g.Loads {
		sum += g.Loads[i].Current(g.Inst.Supply.Voltage)
	}
	return sum
}

func lowestRating(g *wiring.Graph) unit.Ampere {
	lowest := unit.Ampere(math.Inf(1))
	for i := range g.Edges {
		if r := g.Edges[i].Rating; r > 0 {
			lowest = min(lowest, r)
		}
	}
	return lowest
}

// circuitLoads holds the lamps that each circuit can feed, all lit at once,
// against its device.
func circuitLoads(g *wiring.Graph, p *switching.Proof) []finding.Finding {
	var list []finding.Finding
	for k := range g.Origins {
		c := g.Origins[k].Circuit
		var sum unit.Ampere
		for i := range g.Loads {
			if l := &g.Loads[i]; p.Fed(l.A, k) || p.Fed(l.B, k) {
				sum += l.Current(g.Inst.Supply.Voltage)
			}
		}
		if sum <= c.Device.Rating {
			continue
		}
		list = append(list, finding.Finding{
			Code: "circuit-overloaded", Severity: finding.Forbids, Subject: finding.Subject("circuits." + c.ID),
			Text: fmt.Sprintf("the lamps of %s draw %v together; %s carries %v", c.ID, sum, c.Device.Title, c.Device.Rating), Fix: "use lamps of less power, or divide the circuit",
		})
	}
	return list
}

func totalsAgainstRatings(g *wiring.Graph) []finding.Finding {
	var list []finding.Finding
	sum := totalLoad(g)
	for i := range g.Edges {
		if e := &g.Edges[i]; e.Rating > 0 && sum > e.Rating {
			list = append(list, overRated(e, sum, "with every lamp lit at once through it"))
		}
	}
	return list
}

func overRated(e *wiring.Edge, i unit.Ampere, witness string) finding.Finding {
	f := finding.Finding{Severity: finding.Forbids, Witness: witness, Fix: "use lamps of less power, or a greater rating"}
	if e.Cable != nil {
		f.Code, f.Subject = "cable-overloaded", finding.Subject("cables."+e.Cable.ID)
		f.Text = fmt.Sprintf("core %s of %s carries %v; the cable's lowest tabulated rating is %v", e.Core.Name, e.Cable.ID, i, e.Rating)
		return f
	}
	f.Code, f.Subject = "contact-overloaded", finding.Subject("boxes."+e.Ends[0].Box+"."+e.Ends[0].Item)
	f.Text = fmt.Sprintf("contact %s–%s carries %v; it is rated at %v", e.Ends[0].Name, e.Ends[1].Name, i, e.Rating)
	return f
}

// peaks solves the network in every state.
func peaks(g *wiring.Graph, p *switching.Proof, cat *kit.Catalogue) ([]peak, error) {
	view, err := g.View(cat, wiring.Condition{Temperature: 20, Supplied: true})
	if err != nil {
		return nil, err
	}
	list := make([]peak, len(g.Edges))
	for n := range g.States() {
		s := g.StateAt(n)
		solved := view.Solve(wiring.Setting{State: s, Lit: func(load int) bool { return p.Lit(load, s) }})
		for i := range list {
			if a := solved.EdgeCurrent(i).Abs(); a > list[i].current {
				list[i] = peak{a, s}
			}
		}
	}
	return list, nil
}

// dimmerLoads holds the lamps that a dimmer can feed against its limits: those
// that mind its position, and those that hang behind it in every position.
func dimmerLoads(g *wiring.Graph, p *switching.Proof) []finding.Finding {
	var list []finding.Finding
	for i := range g.Switches {
		s := &g.Switches[i]
		if s.Kind.Class != kit.ClassDimmer {
			continue
		}
		sum := dimmed(g, p, i)
		f := finding.Finding{Severity: finding.Caution, Subject: finding.Subject("boxes." + s.ID())}
		switch k := s.Kind; {
		case k.MinLoad > 0 && sum < k.MinLoad:
			f.Code, f.Text = "dimmer-underloaded", fmt.Sprintf("the lamps it dims take %v together; the dimmer needs %v or they may flicker or glow", sum, k.MinLoad)
			f.Fix = "choose a dimmer for a smaller load"
		case k.MaxLoad > 0 && sum > k.MaxLoad:
			f.Code, f.Text = "dimmer-overloaded", fmt.Sprintf("the lamps it dims take up to %v; the dimmer carries %v of LED load", sum, k.MaxLoad)
			f.Fix = "choose a greater dimmer, or divide its lamps"
		default:
			continue
		}
		list = append(list, f)
	}
	return list
}

// dimmed is the power of the lamps that a dimmer switches.
func dimmed(g *wiring.Graph, p *switching.Proof, sw int) (sum unit.Watt) {
	for _, i := range g.Lamps() {
		if slices.Contains(p.Switched(i), sw) {
			sum += g.Loads[i].Power
		}
	}
	return sum
}
