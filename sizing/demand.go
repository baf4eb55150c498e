package sizing

import (
	"fmt"
	"math"
	"slices"

	"strapper/kit"
	"strapper/rules"
	"strapper/unit"
)

// Demand is what one lamp, or the rest of the circuit, counts for.
type Demand struct {
	Load    string      `json:"load"`
	Power   unit.Watt   `json:"power_w"`   // of the lamp fitted
	Fitted  unit.Ampere `json:"fitted_a"`  // what the lamp fitted draws
	Current unit.Ampere `json:"current_a"` // what it counts for in the design
	Working string      `json:"working"`
	Holder  bool        `json:"holder"`
}

// demand adds up the design current: for a lampholder the connected load, and
// at least what the book has a lampholder count for; for anything else its
// power over its power factor, or times the factor for its gear.
//
// The share of the lighting that is taken at once is a rule for the supply of
// several circuits. It is shown, and not taken off the current of one circuit,
// whose lamps may all be lit.
func (c *sizer) demand() {
	f := Figure{Symbol: "Ib", Name: "design current"}
	least := rules.Ask(c.Book, rules.LampholderDemand)
	c.load = slices.Clone(c.g.Loads)
	var fitted unit.Ampere
	holders := 0
	for _, i := range c.loads {
		d := c.demandOf(i, least)
		c.out.Demands = append(c.out.Demands, d)
		c.total += d.Current
		fitted += d.Fitted
		if d.Holder {
			holders++
		}
		c.load[i].Power = unit.Watt(float64(d.Current) * float64(c.voltage()))
		c.load[i].Lamp = &kit.LampKind{PowerFactor: 1, Idle: offIdle(c.g.Loads[i].Lamp)}
	}
	if w := c.circuit().Other; w > 0 {
		i := unit.Ampere(float64(w) / float64(c.voltage()))
		c.total += i
		fitted += i
		c.out.Demands = append(c.out.Demands, Demand{Load: "elsewhere on the circuit", Power: w, Fitted: i, Current: i, Working: fmt.Sprintf("%v / %v", w, c.voltage())})
	}
	if holders > 0 && least.Found {
		f.take(least.Trail)
		f.work("lampholders count for %v or more each, %d of them: any lamp may be put in later", least.Value, holders)
	}
	for _, d := range c.out.Demands {
		f.work("%s: %s = %v", d.Load, d.Working, rules.Of(d.Current))
	}
	f.work("all lit: %v; with the lamps fitted now %v", rules.Of(c.total), rules.Of(fitted))
	c.diversity(&f)
	f.set(rules.Of(c.total))
	in := c.circuit().Device.Rating
	f.limit("at most", rules.Of(in))
	if each := float64(least.Value) / float64(c.voltage()); least.Found && c.total < in {
		f.Passes = fmt.Sprintf("passes with %.0f lampholders more", math.Floor(float64(in-c.total)/each+1e-9))
	}
	c.out.Case.Design = rules.Know(c.total)
	c.out.Figures = append(c.out.Figures, f)
}

// offIdle keeps what a lamp lets through when it is off.
func offIdle(l *kit.LampKind) unit.Ohm {
	if l == nil {
		return 0
	}
	return l.Idle
}

func (c *sizer) demandOf(i int, least rules.Answer[unit.Watt]) Demand {
	l := &c.g.Loads[i]
	u := float64(c.voltage())
	d := Demand{Load: l.ID(), Power: l.Power, Holder: l.Item.Kind.Holder && !l.Always}
	if l.Always {
		d.Load += " (its own supply)"
	}
	d.Fitted = l.Current(c.voltage())
	d.Current = d.Fitted
	d.Working = fmt.Sprintf("%v / (%v × %g)", l.Power, c.voltage(), l.Lamp.PowerFactor)
	if gear := rules.Ask(c.Book, rules.GearFactor, rules.Lamp(l.Lamp.ID)); gear.Found {
		d.Current = unit.Ampere(float64(l.Power) * float64(gear.Value) / u)
		d.Working = fmt.Sprintf("%v × %g / %v", l.Power, float64(gear.Value), c.voltage())
	}
	if demand := unit.Ampere(float64(least.Value) / u); d.Holder && least.Found && d.Current < demand {
		d.Current, d.Working = demand, fmt.Sprintf("%v / %v", least.Value, c.voltage())
	}
	return d
}

// diversity says what the circuit adds to the supply of the house.
func (c *sizer) diversity(f *Figure) {
	share := rules.Ask(c.Book, rules.Diversity, rules.Premises("dwelling"))
	if share.Found {
		f.take(share.Trail)
		f.work("of this the supply of the house is taken to see %g × %v = %v; that share is not taken off the circuit itself", float64(share.Value), rules.Of(c.total), rules.Of(unit.Ampere(float64(share.Value)*float64(c.total))))
	}
}

// inrush holds the electronic lamps that start together against what the
// device stands.
func (c *sizer) inrush() {
	n, most := 0, unit.Watt(0)
	for _, i := range c.loads {
		if l := &c.g.Loads[i]; !l.Always && electronic(l.Lamp) {
			n++
			most = max(most, l.Power)
		}
	}
	if n == 0 {
		return
	}
	f := Figure{Symbol: "n", Name: "electronic lamps that start together"}
	f.work("%d on the circuit, the largest of %v", n, most)
	k := c.circuit().Device
	a := rules.Ask(c.Book, rules.InrushLamps, rules.Curve(k.Curve), rules.Rated(k.Rating), rules.Power(most))
	if f.take(a.Trail) {
		f.limit("at most", rules.Of(a.Value))
	} else {
		f.work("how many %s stands: %s; ask the lamps' maker", k.Title, a.Why)
		f.Why = ""
	}
	f.set(rules.Of(rules.Factor(n)))
	c.out.Figures = append(c.out.Figures, f)
}

// dimmers holds the lamps behind each dimmer of the circuit, as fitted, against
// the least and the greatest load it takes.
func (c *sizer) dimmers() {
	for sw := range c.g.Switches {
		s := &c.g.Switches[sw]
		if s.Kind.Class != kit.ClassDimmer || !c.behind(sw) {
			continue
		}
		sum := dimmed(c.g, c.p, sw)
		for _, l := range []struct {
			sense string
			limit unit.Watt
		}{{"at least", s.Kind.MinLoad}, {"at most", s.Kind.MaxLoad}} {
			if l.limit > 0 {
				f := Figure{Symbol: "P", Name: "load on the dimmer", At: s.ID()}
				f.work("lamps it dims, as fitted: %v; %s %v by %s", sum, l.sense, l.limit, s.Kind.LSource.Cite)
				f.set(rules.Of(sum))
				f.limit(l.sense, rules.Of(l.limit))
				c.out.Figures = append(c.out.Figures, f)
			}
		}
	}
}

// behind reports whether a switch stands before lamps of the circuit.
func (c *sizer) behind(sw int) bool {
	return slices.ContainsFunc(c.loads, func(i int) bool { return !c.g.Loads[i].Always && slices.Contains(c.p.Switched(i), sw) })
}
