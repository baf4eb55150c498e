package sizing

import (
	"fmt"

	"strapper/kit"
	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// Run is a plain radial run whose longest permitted length is asked for.
type Run struct {
	Line, Cpc unit.SquareMillimetre
	Method    string // reference method; needed for Spread of a rating's warmth
	Device    kit.DeviceType
	Curve     string
	Rated     unit.Ampere
	System    string // "TN-S", "TN-C-S"
	Voltage   unit.Volt
	Ze        unit.Ohm
	Current   unit.Ampere // design current
	Residual  unit.Ampere // rated residual current of an RCD, for a TT supply
	Spread    bool        // drawn evenly along the run, not all at its end
	Cooler    bool        // count the conductor as cooler below its full rating; see [Run.ByDrop]
}

// Longest is the longest permitted run by one rule. A metre of a strapper cable
// that the line runs over twice counts as more than one of it.
type Longest struct {
	By      string          `json:"by"` // "loop", "volt drop, all at the end", "volt drop, spread evenly"
	Cable   string          `json:"cable"`
	Known   bool            `json:"known"`
	Length  unit.Millimetre `json:"length_mm"`
	Why     string          `json:"why,omitempty"`
	Working []string        `json:"working"`
	Cells   []rules.Cell    `json:"cells,omitempty"`
}

func (l *Longest) take(t rules.Trail) bool {
	l.Cells = append(l.Cells, t.Cells...)
	if !t.Found {
		l.Why = t.Why
	}
	return t.Found
}

func (l *Longest) set(metres float64, format string, args ...any) {
	l.Working = append(l.Working, fmt.Sprintf(format, args...))
	switch {
	case metres < 0:
		l.Why = "no length will do"
	case metres > 1000:
		l.Why = "longer than any house needs"
	default:
		l.Known, l.Length = true, unit.FromMetres(metres)
	}
}

// ByLoop inverts Ze + (R1+R2) × warm <= greatest Zs, of the device, or on a TT
// supply of the RCD.
func (r Run) ByLoop(b *rules.Book) Longest {
	l := Longest{By: "earth fault loop"}
	within := rules.Ask(b, rules.DisconnectIn, rules.System(r.System))
	if !l.take(within.Trail) {
		return l
	}
	most := rules.Ask(b, rules.MaxZs, rules.Device(string(r.Device)), rules.Curve(r.Curve), rules.Rated(r.Rated), rules.Within(within.Value))
	if r.System == string(wiring.TT) {
		if r.Residual <= 0 {
			l.Why = "no length will do: on a TT supply nothing but an RCD clears an earth fault, and there is none"
			return l
		}
		most = rules.Ask(b, rules.ResidualZs, rules.Residual(r.Residual))
	}
	line, cpc := rules.Ask(b, rules.Resistance, rules.Area(r.Line)), rules.Ask(b, rules.Resistance, rules.Area(r.Cpc))
	warm := rules.Ask(b, rules.WarmFactor, rules.Insulation(rules.Thermoplastic70), rules.Cpc(rules.InCable))
	for _, t := range []rules.Trail{most.Trail, line.Trail, cpc.Trail, warm.Trail} {
		if !l.take(t) {
			return l
		}
	}
	per := float64(line.Value+cpc.Value) * float64(warm.Value)
	l.set(float64(most.Value-r.Ze)/per, "(%.4g − %.4g) Ω / ((%.4g + %.4g) mΩ/m × %.3g) = %.1f m",
		float64(most.Value), float64(r.Ze), float64(line.Value)*1000, float64(cpc.Value)*1000, float64(warm.Value), float64(most.Value-r.Ze)/per)
	return l
}

// ByDrop inverts drop × current × length <= limit; half the current's drop
// where it is spread evenly. With Cooler the drop is multiplied by
//
//	Ct = (230 + tp − (1 − Ib²/It²)(tp − 30)) / (230 + tp)
//
// (BS 7671 Appendix 4, 6.1, with the rating factors 1; from memory, to be
// confirmed: it gives the lengths that the On-Site Guide prints,
// docs/checks/07-sizing.md). It is not for rewirable fuses.
func (r Run) ByDrop(b *rules.Book) Longest {
	l := Longest{By: "volt drop, all at the end"}
	share := 1.0
	if r.Spread {
		l.By, share = "volt drop, spread evenly", 0.5
	}
	drop := rules.Ask(b, rules.Drop, rules.Area(r.Line))
	limit := rules.Ask(b, rules.DropLimit, rules.Use("lighting"), rules.Supply("public"))
	if !l.take(drop.Trail) || !l.take(limit.Trail) || r.Current <= 0 {
		return l
	}
	ct := 1.0
	if r.Cooler {
		it := rules.Ask(b, rules.Rating, rules.Area(r.Line), rules.Method(r.Method))
		warm := rules.Ask(b, rules.WarmFactor, rules.Insulation(rules.Thermoplastic70), rules.Cpc(rules.InCable))
		alpha := rules.Ask(b, rules.TemperatureCoefficient)
		if !l.take(it.Trail) || !l.take(warm.Trail) || !l.take(alpha.Trail) {
			return l
		}
		ct = cooler(20+(float64(warm.Value)-1)/float64(alpha.Value), float64(r.Current), float64(it.Value))
	}
	most := limit.Value.Fraction() * float64(r.Voltage)
	metres := most / (share * float64(r.Current) * float64(drop.Value) * ct)
	l.set(metres, "%.3g V / (%.3g × %.3g A × %.4g mV/A/m × %.4g) = %.1f m", most, share, float64(r.Current), float64(drop.Value)*1000, ct, metres)
	return l
}

// cooler is Ct; see [Run.ByDrop]. 230 is the inverse coefficient of copper less
// 20, rounded, as the formula is printed.
func cooler(tp, ib, it float64) float64 {
	return (230 + tp - (1-ib*ib/(it*it))*(tp-30)) / (230 + tp)
}

// longest is the longest permitted run of each size on the circuit, as if it
// were one plain run from the board that draws all that the circuit's device
// allows.
func (c *sizer) longest() (list []Longest) {
	seen := map[unit.SquareMillimetre]bool{}
	for _, k := range c.use {
		line := liveArea(k)
		cpc := unit.SquareMillimetre(0)
		for i := range k.Kind.Cores {
			if k.Kind.Cores[i].Earth {
				cpc = k.Kind.Cores[i].Area
			}
		}
		if seen[line] || cpc == 0 {
			continue
		}
		seen[line] = true
		d := c.circuit().Device
		r := Run{
			Line: line, Cpc: cpc, Device: d.Type, Curve: d.Curve, Rated: d.Rating, System: c.out.Case.System,
			Voltage: c.voltage(), Ze: c.g.Inst.Supply.Ze, Current: d.Rating, Residual: residual(c.circuit()),
		}
		spread := r
		spread.Spread = true
		loop := r.ByLoop(c.Book)
		if x := &c.out.Case; x.Earth.Known && x.Earth.Value <= 0 {
			loop = Longest{By: loop.By, Why: "cable of the circuit has no protective conductor: no fault loop"}
		}
		for _, l := range []Longest{loop, r.ByDrop(c.Book), spread.ByDrop(c.Book)} {
			l.Cable = fmt.Sprintf("%v with %v cpc", line, cpc)
			list = append(list, l)
		}
	}
	return list
}

// LoopAt is the earth fault loop impedance at the end of a plain run, with its
// limit.
func (r Run) LoopAt(b *rules.Book, length unit.Millimetre) Figure {
	f := Figure{Symbol: "Zs", Name: "earth fault loop impedance"}
	line, cpc := rules.Ask(b, rules.Resistance, rules.Area(r.Line)), rules.Ask(b, rules.Resistance, rules.Area(r.Cpc))
	warm := rules.Ask(b, rules.WarmFactor, rules.Insulation(rules.Thermoplastic70), rules.Cpc(rules.InCable))
	for _, t := range []rules.Trail{line.Trail, cpc.Trail, warm.Trail} {
		if !f.take(t) {
			return f
		}
	}
	r1, r2 := line.Value.Over(length), cpc.Value.Over(length)
	f.work("R1 %.3f Ω + R2 %.3f Ω = %.3f Ω at 20 °C", float64(r1), float64(r2), float64(r1+r2))
	hot := (r1 + r2) * unit.Ohm(warm.Value)
	f.work("× %.3g = %.4f Ω at working temperature", float64(warm.Value), float64(hot))
	f.work("Zs = %.4g + %.4f = %.4f Ω", float64(r.Ze), float64(hot), float64(r.Ze+hot))
	f.set(rules.Of(r.Ze + hot))
	within := rules.Ask(b, rules.DisconnectIn, rules.System(r.System))
	most := rules.Ask(b, rules.MaxZs, rules.Device(string(r.Device)), rules.Curve(r.Curve), rules.Rated(r.Rated), rules.Within(within.Value))
	if most.Found {
		f.limit("at most", rules.Of(most.Value))
	}
	return f
}

// DropAt is the voltage lost over a plain run, with its limit.
func (r Run) DropAt(b *rules.Book, length unit.Millimetre) Figure {
	f := Figure{Symbol: "Vd", Name: "voltage drop"}
	drop := rules.Ask(b, rules.Drop, rules.Area(r.Line))
	if !f.take(drop.Trail) {
		return f
	}
	share := 1.0
	if r.Spread {
		share = 0.5
	}
	v := share * float64(drop.Value) * float64(r.Current) * length.Metres()
	f.work("%.3g × %.4g mV/A/m × %.4g A × %.4g m = %.4g V", share, float64(drop.Value)*1000, float64(r.Current), length.Metres(), v)
	f.set(rules.Of(unit.Volt(v)))
	if limit := rules.Ask(b, rules.DropLimit, rules.Use("lighting"), rules.Supply("public")); limit.Found {
		f.limit("at most", rules.Of(unit.Volt(limit.Value.Fraction()*float64(r.Voltage))))
	}
	return f
}
