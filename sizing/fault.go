package sizing

import (
	"fmt"
	"math"

	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// fault works out the least earth fault current, how soon the device clears
// it, and the greatest fault current at the device against what it can break.
func (c *sizer) fault() {
	c.clearing()
	c.breaking()
}

// clearing brackets the time: a circuit-breaker whose greatest loop impedance
// is kept trips at once; a fuse is known to clear within the times for which the
// book gives a greatest loop impedance; a residual current device within its
// own time. On a TT supply the book judges the loop impedance with the RCD, and
// a time known only for a lesser current is not held against the limit.
func (c *sizer) clearing() {
	x := &c.out.Case
	f := Figure{Symbol: "t", Name: "time in which an earth fault at the farthest point is cleared", At: x.ZsAt}
	defer func() { c.out.Figures = append(c.out.Figures, f) }()
	if !x.Zs.Known {
		f.Why = "the loop impedance is not known"
		return
	}
	least := unit.Ampere(float64(x.Voltage) / float64(x.Zs.Value))
	x.LeastIF = rules.Know(least)
	f.work("least earth fault current: %v / %v = %v", x.Voltage, rules.Of(x.Zs.Value), rules.Of(least))
	best := unit.Second(math.Inf(1))
	best = min(best, c.byBreaker(&f), c.byFuse(&f), c.byResidual(&f, least))
	if math.IsInf(float64(best), 1) {
		f.Why = "the fault draws too little for any time that the book gives"
		return
	}
	x.Clears = rules.Know(best)
	f.set(rules.Of(best))
	within := rules.Ask(c.Book, rules.DisconnectIn, rules.System(x.System))
	if f.Cells = append(f.Cells, within.Cells...); within.Found && (best <= within.Value || x.System != string(wiring.TT)) {
		f.limit("at most", rules.Of(within.Value))
	}
}

var never = unit.Second(math.Inf(1))

// instantly is the time that a tripping circuit-breaker is taken to need at
// most (IEC 60898-1 Table 7: instantaneous tripping is below 0.1 s; from memory,
// to be confirmed).
const instantly unit.Second = 0.1

func (c *sizer) byBreaker(f *Figure) unit.Second {
	x := &c.out.Case
	if x.Curve == "" {
		return never
	}
	z := rules.Ask(c.Book, rules.MaxZs, rules.Device(x.DeviceKind), rules.Curve(x.Curve), rules.Rated(x.Rated))
	if !z.Found {
		f.work("%s", z.Why)
		return never
	}
	f.Cells = append(f.Cells, z.Cells...)
	f.work("a type %s breaker of %v trips at once up to %v", x.Curve, rules.Of(x.Rated), rules.Of(z.Value))
	if x.Zs.Value > z.Value {
		return never
	}
	return instantly
}

// fuseTimes are the times for which tables give a greatest loop impedance of a
// fuse.
var fuseTimes = []unit.Second{0.4, 5}

func (c *sizer) byFuse(f *Figure) unit.Second {
	x := &c.out.Case
	if x.Curve != "" {
		return never
	}
	for _, t := range fuseTimes {
		z := rules.Ask(c.Book, rules.MaxZs, rules.Device(x.DeviceKind), rules.Curve(x.Curve), rules.Rated(x.Rated), rules.Within(t))
		if !z.Found {
			continue
		}
		f.Cells = append(f.Cells, z.Cells...)
		f.work("a %s of %v clears in %v up to %v", x.DeviceKind, rules.Of(x.Rated), rules.Of(t), rules.Of(z.Value))
		if x.Zs.Value <= z.Value {
			return t
		}
	}
	return never
}

func (c *sizer) byResidual(f *Figure, least unit.Ampere) unit.Second {
	x := &c.out.Case
	if x.RCD.Value <= 0 {
		return never
	}
	times := float64(least / x.RCD.Value)
	for _, multiple := range []float64{5, 1} {
		t := rules.Ask(c.Book, rules.ResidualWithin, rules.RCDKind("general"), rules.Multiple(multiple))
		if !t.Found || times < multiple {
			continue
		}
		f.Cells = append(f.Cells, t.Cells...)
		f.work("the RCD of %v trips within %v at %g times that", rules.Of(x.RCD.Value), rules.Of(t.Value), multiple)
		if multiple < 5 && times >= 5 {
			f.work("the fault is %.0f times its residual current, for which this book gives no time of its own; it is less", times)
		}
		return t.Value
	}
	return never
}

// breaking holds the greatest fault current against what the device can break.
func (c *sizer) breaking() {
	x, s := &c.out.Case, c.g.Inst.Supply
	f := Figure{Symbol: "Ipf", Name: "greatest prospective fault current at the device", At: c.circuit().Board}
	defer func() { c.out.Figures = append(c.out.Figures, f) }()
	switch {
	case s.Fault > 0:
		f.work("measured at the consumer unit: %v", rules.Of(s.Fault))
		x.Fault = rules.Know(s.Fault)
	case s.Earthing == wiring.TT || !(s.Ze > 0):
		f.Why = "on a TT supply it is that of line to neutral, which only a measurement gives"
		return
	case s.Earthing == wiring.TNS:
		f.Why = fmt.Sprintf("not measured: %v to earth by Ze, and on a TN-S supply the neutral has a conductor of its own, which may pass more", rules.Of(unit.Ampere(float64(x.Voltage)/float64(s.Ze))))
		return
	default:
		i := unit.Ampere(float64(x.Voltage) / float64(s.Ze))
		f.work("not measured; from Ze: %v / %v = %v, line to neutral the same, as they are one conductor", x.Voltage, s.Ze, rules.Of(i))
		x.Fault = rules.Know(i)
	}
	f.set(rules.Of(x.Fault.Value))
	can := x.Capacity
	if can <= 0 {
		a := rules.Ask(c.Book, rules.Breaking, rules.Device(x.DeviceKind))
		if !f.take(a.Trail) {
			f.Why = ""
			f.work("what the device can break is not known: read it from the device")
			return
		}
		f.work("not read from the device: the least usual for its kind")
		can = a.Value
	}
	f.limit("at most", rules.Of(can))
	if s.Fault <= 0 {
		f.Passes = fmt.Sprintf("passes with Ze down to %.2g Ω", float64(x.Voltage)/float64(can))
	}
}

// heat works out the least line and protective conductor by the adiabatic
// equation, S >= √(I²t)/k.
func (c *sizer) heat() {
	x := &c.out.Case
	for _, s := range []struct {
		name string
		area unit.SquareMillimetre
		runs string
	}{{"line conductor", x.Line, rules.InCable}, {"protective conductor", x.Earth.Value, x.EarthRuns}} {
		if s.area <= 0 {
			continue
		}
		f := Figure{Symbol: "S", Name: s.name + ", for the heat of a fault", At: "the thinnest"}
		c.adiabatic(&f, s.area, s.runs)
		c.out.Figures = append(c.out.Figures, f)
	}
}

func (c *sizer) adiabatic(f *Figure, area unit.SquareMillimetre, runs string) {
	x := &c.out.Case
	if !x.Clears.Known || !x.LeastIF.Known {
		f.Why = "the clearing time is not known"
		return
	}
	k := rules.Ask(c.Book, rules.Adiabatic, rules.Insulation(x.Insulation), rules.Cpc(runs))
	if !f.take(k.Trail) {
		return
	}
	t := x.Clears.Value
	if x.Curve != "" {
		t = max(t, instantly)
	}
	i := float64(x.LeastIF.Value)
	least := math.Sqrt(i*i*float64(t)) / float64(k.Value)
	f.work("√(%.4g² × %.3g) / %.4g = %.3g mm²", i, float64(t), float64(k.Value), least)
	if x.Curve != "" {
		f.work("nearer the board the current is greater and the device lets through less than I²t: k²S² = %.0f A²s is to be held against its maker's figure", square(float64(k.Value)*float64(area)))
	}
	f.set(rules.Of(area))
	f.limit("at least", rules.Of(unit.SquareMillimetre(least)))
}

func square(v float64) float64 { return v * v }
