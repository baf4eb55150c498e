package reading

import (
	"strapper/finding"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// dead predicts the tests made with the supply isolated: for each point the
// cpc, then line and cpc together, then line, neutral and polarity, and last
// insulation. Lamps are out and devices off; the bars stay as they are.
func (f *forecast) dead() error {
	b, err := f.views(wiring.Condition{Temperature: f.ambient(), LoadsOut: true})
	if err != nil {
		return err
	}
	f.points = f.survey.points()
	for i := range f.points {
		p := &f.points[i]
		if p.origin < 0 {
			f.report("never-fed", finding.Caution, p.id, "", "no circuit's line comes to %s in any position examined, so its readings are not predicted", p.id)
			continue
		}
		f.protective(b, p)
		f.loops(b, p)
		if p.load >= 0 {
			f.longLead(b, p)
		} else {
			f.inLine(b, p)
		}
	}
	f.insulation()
	return nil
}

// state is a setting with nothing linked.
func (f *forecast) state(i int) wiring.Setting { return wiring.Setting{State: f.t.states[i]} }

// linked is a setting with the point's circuit linked at the board.
func (f *forecast) linked(p *point) func(int) wiring.Setting {
	return func(i int) wiring.Setting {
		return wiring.Setting{State: f.t.states[i], Link: []int{p.circuitIn(i)}}
	}
}

// board is a terminal of the point's circuit at the board.
func (f *forecast) board(p *point, of func(*wiring.Origin) wiring.Node) func(int) wiring.Node {
	return func(i int) wiring.Node { return of(&f.g.Origins[p.circuitIn(i)]) }
}

func originL(o *wiring.Origin) wiring.Node { return o.L }
func originN(o *wiring.Origin) wiring.Node { return o.N }
func originE(o *wiring.Origin) wiring.Node { return o.E }

// continuity adds the rows of one pair of leads. Of R1 the open ones are left
// out where another position reads: those of R1+R2 say the same.
func (f *forecast) continuity(t Test, p *point, between [2]string, samples []sample, note func(*group) string) {
	groups := f.t.groups(samples, f.in.Ohmmeter.Resolution)
	for _, g := range groups {
		if t == R1 && g.value.open && len(groups) > 1 && p.earth.node != none {
			continue
		}
		g.value = f.in.Ohmmeter.widen(g.value)
		r := f.row(t, p.id, between, &g)
		r.Ohm = band[unit.Ohm](g.value)
		r.Note = note(&g)
		f.add(r)
	}
}

// protective is the cpc by the long-lead method.
func (f *forecast) protective(b bounded, p *point) {
	if p.earth.node == none {
		f.report("no-cpc-to-test", finding.Caution, p.id, "measure at the nearest cpc and say so on the test sheet", "there is no cpc at %s to put a lead on", p.id)
		return
	}
	samples := f.ohms(b, f.in.Ohmmeter, f.state, f.board(p, originE), always(p.earth.node))
	f.continuity(R2, p, [2]string{"earth bar", p.earth.name}, samples, func(g *group) string {
		if g.value.open {
			return "the cpc does not reach this point"
		}
		return ""
	})
}

// loops is line and cpc together, by the link at the board, in every position.
func (f *forecast) loops(b bounded, p *point) {
	if p.earth.node == none {
		return
	}
	for _, l := range p.line {
		samples := f.ohms(b, f.in.Ohmmeter, f.linked(p), always(l.node), always(p.earth.node))
		f.continuity(R1R2, p, [2]string{l.name, p.earth.name}, samples, func(g *group) string { return f.pathNote(p, g) })
	}
}

// onNote says that a dead test stands in a position in which the load is on
// once there is power.
func (f *forecast) onNote(p *point) string {
	if !f.lamp(p) {
		return "the fan is on here once there is power"
	}
	return "the lamp is lit here once there is power"
}

// lamp reports whether what the point feeds gives light.
func (f *forecast) lamp(p *point) bool {
	return p.load < 0 || f.g.Loads[p.load].Item.Kind.Class == kit.ClassLamp
}

// pathNote says what a reading of the line path means.
func (f *forecast) pathNote(p *point, g *group) string {
	fed := true
	for _, i := range g.members {
		fed = fed && p.feeds[i] >= 0
	}
	switch {
	case f.lit(p, g) && g.value.open:
		return f.onNote(p) + "; open because an ohmmeter does not read through an electronic switch, or the cpc is not whole: link its terminals for this test"
	case f.lit(p, g):
		return f.onNote(p)
	case p.load >= 0 && fed && !g.value.open:
		return "line arrives though the lamp would not be lit"
	}
	return ""
}

// longLead is line and neutral each by the long lead, and polarity, at a lamp.
func (f *forecast) longLead(b bounded, p *point) {
	line := f.ohms(b, f.in.Ohmmeter, f.state, f.board(p, originL), always(p.line[0].node))
	f.continuity(R1, p, [2]string{"line at the board", p.line[0].name}, line, func(g *group) string { return f.pathNote(p, g) })
	neutral := f.ohms(b, f.in.Ohmmeter, f.state, f.board(p, originN), always(p.neutral.node))
	f.continuity(Rn, p, [2]string{"neutral at the board", p.neutral.name}, neutral, func(g *group) string {
		if g.value.open {
			return "no neutral arrives in this position"
		}
		return ""
	})
	crossed := f.ohms(b, f.in.Ohmmeter, f.state, f.board(p, originL), always(p.neutral.node))
	f.continuity(Polarity, p, [2]string{"line at the board", p.neutral.name}, crossed, func(g *group) string {
		if g.value.open {
			return f.rightNote(p)
		}
		return "wrong way round: line comes to the neutral side"
	})
}

// rightNote is the polarity to be seen at a load.
func (f *forecast) rightNote(p *point) string {
	note := "right: " + p.line[0].name + " is the line side"
	if f.lamp(p) && !f.g.Loads[p.load].Item.Kind.ClassI {
		note += " (of a screw cap, the centre contact)"
	}
	return note
}

// inLine is the polarity of a switch: with lamps out, no terminal of it may
// read to the neutral at the board.
func (f *forecast) inLine(b bounded, p *point) {
	bad := false
	for _, l := range p.line {
		samples := f.ohms(b, f.in.Ohmmeter, f.state, f.board(p, originN), always(l.node))
		for _, s := range samples {
			if s.open {
				continue
			}
			bad = true
			f.continuity(Polarity, p, [2]string{"neutral at the board", l.name}, samples, func(g *group) string {
				if g.value.open {
					return ""
				}
				return "the switch is in the neutral"
			})
			break
		}
	}
	if bad {
		return
	}
	all := f.t.groups(make([]sample, len(f.t.states)), 1)[0]
	all.value.open = true
	r := f.row(Polarity, p.id, [2]string{"neutral at the board", "each terminal"}, &all)
	r.Note = "right: the switch is in the line"
	f.add(r)
}
