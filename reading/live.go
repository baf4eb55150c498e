package reading

import (
	"strapper/finding"
	"strapper/kit"
	"strapper/source"
	"strapper/unit"
	"strapper/wiring"
)

// ghostVolts is how much more the high-impedance meter must show than the
// tester before its rows are printed, and driven the impedance below which a
// conductor counts as connected.
const (
	ghostVolts          = 2.0
	voltStep            = 1.0 // a smaller difference makes no row of its own
	driven     unit.Ohm = 1000
)

// live predicts what needs the supply on. If the supply's figures cannot be
// used there is a finding instead.
func (f *forecast) live() {
	v, err := f.g.View(f.cat, wiring.Condition{Temperature: f.ambient(), Supplied: true})
	if err != nil {
		f.out.Findings = append(f.out.Findings, finding.Finding{
			Code: "live-not-predicted", Severity: finding.Caution, Subject: "supply", Text: "live readings are not predicted: " + err.Error(),
		})
		return
	}
	for i := range f.points {
		if f.points[i].origin >= 0 {
			f.voltages(v, &f.points[i])
		}
	}
	f.glow(v)
	f.loopImpedance()
}

// running is a setting of the house in use.
func (f *forecast) running(i int) wiring.Setting {
	s := f.t.states[i]
	return wiring.Setting{State: s, Lit: func(load int) bool {
		return f.g.Loads[load].Always || f.proof.Lit(load, s)
	}}
}

// voltages is every pair of leads at a point that can be reached. A switch's
// terminal has one row for neutral and earth where they give the same reading.
func (f *forecast) voltages(v *wiring.View, p *point) {
	for _, l := range p.line {
		var rows []volts
		for _, to := range [2]lead{p.neutral, p.earth} {
			if to.node != none {
				rows = append(rows, f.measure(v, l, to))
			}
		}
		if p.load < 0 && len(rows) == 2 && rows[0].like(rows[1]) {
			rows[1].b.name = p.neutral.name + " or " + p.earth.name
			rows = rows[1:]
		}
		for _, r := range rows {
			f.voltage(p, r)
		}
	}
	if p.load >= 0 && p.earth.node != none {
		f.voltage(p, f.measure(v, p.neutral, p.earth))
	}
}

// volts is one pair of leads, by state examined.
type volts struct {
	a, b          lead
	tester, meter []sample
	coupled       []bool // nothing drives it
}

func (f *forecast) measure(v *wiring.View, a, b lead) volts {
	x := volts{a: a, b: b}
	for i := range f.t.states {
		port := v.Port(f.running(i), a.node, b.node)
		low, high := port.Reads(f.in.TwoPole.Input), port.Reads(f.in.HighImpedance.Input)
		x.tester, x.meter = append(x.tester, f.supplyBand(low)), append(x.meter, f.supplyBand(high))
		x.coupled = append(x.coupled, high > 1 && port.Reads(driven) < high/2)
	}
	return x
}

// ghost reports whether the meter shows what the tester does not, in one of
// the states.
func (x *volts) ghost(states []int) bool {
	for _, i := range states {
		if x.meter[i].nom-x.tester[i].nom > ghostVolts {
			return true
		}
	}
	return false
}

func (x *volts) like(y volts) bool {
	for i := range x.tester {
		if x.tester[i].differs(y.tester[i], 1) || x.meter[i].differs(y.meter[i], 1) {
			return false
		}
	}
	return true
}

// voltage adds the rows of one pair: the tester's, and the meter's in the
// positions where it shows more.
func (f *forecast) voltage(p *point, x volts) {
	for _, g := range f.t.groups(x.tester, voltStep) {
		f.voltRow(Voltage, f.in.TwoPole, p, x, g)
	}
	for _, g := range f.t.groups(x.meter, voltStep) {
		if x.ghost(g.members) {
			f.voltRow(Ghost, f.in.HighImpedance, p, x, g)
		}
	}
}

// supplyBand gives a voltage the band of the supply.
func (f *forecast) supplyBand(u unit.Volt) sample {
	x := &f.in.SupplyBand
	return sample{low: float64(u) * (1 - x.Minus.Fraction()), nom: float64(u), high: float64(u) * (1 + x.Plus.Fraction())}
}

func (f *forecast) voltRow(t Test, meter *instrument, p *point, x volts, g group) {
	g.value = meter.widen(g.value)
	r := f.row(t, p.id, [2]string{x.a.name, x.b.name}, &g)
	r.Volt, r.Caution = band[unit.Volt](g.value), liveCaution
	if f.lit(p, &g) {
		r.Note = "lamp lit"
		if !f.lamp(p) {
			r.Note = "fan on"
		}
	}
	if x.coupled[g.first] {
		r.Note = notes(r.Note, coupledNote)
	}
	f.add(r)
}

// glow is the greatest current through each lamp that is off, against that at
// which its kind shows.
func (f *forecast) glow(v *wiring.View) {
	for i := range f.points {
		p := &f.points[i]
		if p.load < 0 || p.origin < 0 {
			continue
		}
		kind := f.g.Loads[p.load].Lamp
		if kind == nil || kind.Glow <= 0 {
			continue
		}
		worst, most := -1, unit.Ampere(0)
		for s, state := range f.t.states {
			if f.proof.Lit(p.load, state) {
				continue
			}
			if i := v.Solve(f.running(s)).LoadCurrent(p.load).Abs(); worst < 0 || i > most {
				worst, most = s, i
			}
		}
		if worst >= 0 {
			f.glowRow(p, worst, most)
		}
	}
}

// glowSource is of the current from which a lamp shows, which is not the source
// of the lamp's other figures.
var glowSource = source.Source{Authority: source.Memory, Cite: "visible glow is reported of a 0.5 W lamp; no measured study was found"}

func (f *forecast) glowRow(p *point, state int, most unit.Ampere) {
	kind := f.g.Loads[p.load].Lamp
	spread := unit.Ampere(f.in.CouplingSpread)
	g := group{first: state, members: []int{state}, relevant: f.t.all()}
	r := f.row(Glow, p.id, [2]string{p.line[0].name, p.neutral.name}, &g)
	r.Ampere = &Band[unit.Ampere]{most / spread, most, most * spread}
	r.Limit = &Limit{Text: "may show from about " + kind.Glow.String(), Ampere: kind.Glow, Source: glowSource}
	switch {
	case most/spread >= kind.Glow:
		r.Note = "likely to glow or flash when off"
	case most*spread >= kind.Glow:
		r.Note = "may glow or flash when off"
	default:
		r.Note = "stays dark"
	}
	r.Note = notes(r.Note, "the worst of the positions", glowNote)
	f.add(r)
}

// loopImpedance is Zs where a device has to disconnect a fault: at each lamp in
// the positions in which line arrives, and at the permanent line of a switch.
func (f *forecast) loopImpedance() {
	cold, err := f.views(wiring.Condition{Temperature: f.ambient(), Loop: true, LoadsOut: true})
	if err != nil {
		return // reported where the voltages were to be predicted
	}
	hot, err := f.views(wiring.Condition{Temperature: f.in.Working, Loop: true, LoadsOut: true})
	if err != nil {
		return
	}
	for i := range f.points {
		p := &f.points[i]
		if p.origin < 0 || p.earth.node == none {
			continue
		}
		for _, l := range p.line {
			if p.load >= 0 || f.alwaysLive(l.node) {
				f.zsRows(Zs, cold, p, l)
				f.zsRows(ZsWorking, hot, p, l)
			}
		}
	}
}

func (f *forecast) alwaysLive(n wiring.Node) bool {
	for i := range f.t.states {
		if f.survey.circuit([]lead{{n, ""}}, i) < 0 {
			return false
		}
	}
	return true
}

func (f *forecast) zsRows(t Test, b bounded, p *point, l lead) {
	samples := f.ohms(b, f.in.LoopTester, f.state, always(l.node), always(p.earth.node))
	for i := range samples {
		samples[i].open = samples[i].open || f.survey.circuit([]lead{l}, i) < 0
	}
	for _, g := range f.t.groups(samples, f.in.LoopTester.Resolution) {
		if g.value.open {
			continue
		}
		if t == Zs {
			g.value = f.in.LoopTester.widen(g.value)
		}
		r := f.row(t, p.id, [2]string{l.name, p.earth.name}, &g)
		r.Ohm = band[unit.Ohm](g.value)
		if t.Live() {
			r.Caution = loopCaution
		}
		r.Limit, r.Note = f.zsLimit(t, p.circuitIn(g.first))
		r.Circuit = f.g.Origins[p.circuitIn(g.first)].Circuit.ID
		f.add(r)
	}
}

// Guard is the most sensitive residual current device of a circuit, nil if it
// has none.
func Guard(c *wiring.Circuit) (most *kit.Device) {
	for _, d := range []*kit.Device{c.Device, c.RCD} {
		if d != nil && d.Residual > 0 && (most == nil || d.Residual < most.Residual) {
			most = d
		}
	}
	return most
}
