package sizing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// loop works out the earth fault loop at the farthest point, out by the
// strappers and back by the protective conductor, at working temperature.
func (c *sizer) loop() error {
	f := Figure{Symbol: "Zs", Name: "earth fault loop impedance"}
	defer func() { c.out.Figures = append(c.out.Figures, f) }()
	c.far = c.farthest(c.states())
	if !c.far.found {
		f.Why = "no point of the circuit has both a line and a protective conductor"
		return nil
	}
	t := c.far
	c.out.Path, c.out.PathTo, c.out.PathState = c.legs(t), c.point(t.node), c.g.Describe(t.state)
	f.At = c.out.PathTo
	if c.warm == 1 {
		f.Why = "the book has no factor to working temperature for this insulation"
		return nil
	}
	if !(c.g.Inst.Supply.Ze > 0) {
		f.Why = "Ze is not known"
		return nil
	}
	high, err := c.around(t, wiring.High)
	if err != nil {
		return err
	}
	low, err := c.around(t, wiring.Low)
	if err != nil {
		return err
	}
	c.explainLoop(&f, t, high)
	x := &c.out.Case
	x.Zs, x.ZsLow, x.ZsAt = rules.Know(high), rules.Know(low), f.At
	f.set(rules.Of(high))
	c.loopLimit(&f, t)
	return nil
}

// around solves the loop as a network at working temperature.
func (c *sizer) around(t trace, b wiring.Bound) (unit.Ohm, error) {
	view, err := c.g.View(c.cat, wiring.Condition{Temperature: c.temp, Length: b, Loop: true, LoadsOut: true})
	if err != nil {
		return 0, err
	}
	r, _ := view.Resistance(wiring.Setting{State: t.state}, t.node, t.earth)
	return r, nil
}

// point names a node by its terminal.
func (c *sizer) point(n wiring.Node) string {
	m := c.g.Members(n)
	for _, e := range m {
		if _, core := c.g.IsCore(e); core == nil {
			return e.Path()
		}
	}
	return m[0].Item + " " + m[0].Name + " in " + m[0].Box
}

// explainLoop writes out R1 and R2 leg by leg.
func (c *sizer) explainLoop(f *Figure, t trace, zs unit.Ohm) {
	r1, r2 := c.sum(f, "R1", c.out.Path, false), c.sum(f, "R2", c.out.Path, true)
	for _, strap := range c.repeated() {
		f.work("the line runs over %s", strap)
	}
	contacts := c.contacts(t)
	warm := (r1 + r2) * c.warm
	f.work("R1+R2 at 20 °C: %.3f Ω; at working temperature × %.3g = %.3f Ω", r1+r2, c.warm, warm)
	ze := float64(c.g.Inst.Supply.Ze)
	f.work("Zs = %.2f + %.3f = %.3f Ω; solved as a network, with %d contacts and clamped joints on the way: %.3f Ω", ze, warm, ze+warm, contacts, float64(zs))
	warmth := rules.Ask(c.Book, rules.WarmFactor, rules.Insulation(c.out.Case.Insulation), rules.Cpc(c.out.Case.EarthRuns))
	f.Cells = append(f.Cells, warmth.Cells...)
}

// sum adds up one way of the loop at 20 °C.
func (c *sizer) sum(f *Figure, name string, legs []Leg, back bool) (r float64) {
	var parts []string
	for _, l := range legs {
		if l.Back == back {
			parts = append(parts, fmt.Sprintf("%s %s %.4g m × %.4g", l.Cable, l.Core, l.Length.Metres(), l.PerM.Number*1000))
			r += l.Length.Metres() * l.PerM.Number
		}
	}
	if len(parts) > 0 {
		f.work("%s: (%s) mΩ = %.3f Ω", name, strings.Join(parts, " + "), r)
	}
	return r
}

// repeated names the cables that the line runs over more than once, and how
// often.
func (c *sizer) repeated() []string {
	count := map[string]int{}
	var order, list []string
	for _, l := range c.out.Path {
		if !l.Back {
			if count[l.Cable]++; count[l.Cable] == 2 {
				order = append(order, l.Cable)
			}
		}
	}
	for _, id := range order {
		list = append(list, fmt.Sprintf("%s %d times", id, count[id]))
	}
	return list
}

func (c *sizer) contacts(t trace) (n int) {
	for _, k := range slices.Concat(t.out, t.back) {
		if c.g.Edges[k].Core == nil {
			n++
		}
	}
	return n
}

// loopLimit sets the limit for the device, or for the residual current device
// on a TT supply, and how far it reaches.
func (c *sizer) loopLimit(f *Figure, t trace) {
	x := &c.out.Case
	var limit rules.Answer[unit.Ohm]
	if x.System == string(wiring.TT) {
		limit = rules.Ask(c.Book, rules.ResidualZs, rules.Residual(x.RCD.Value))
	} else {
		within := rules.Ask(c.Book, rules.DisconnectIn, rules.System(x.System))
		if !f.take(within.Trail) {
			return
		}
		limit = rules.Ask(c.Book, rules.MaxZs, rules.Device(x.DeviceKind), rules.Curve(x.Curve), rules.Rated(x.Rated), rules.Within(within.Value))
	}
	f.Cells = append(f.Cells, limit.Cells...)
	if !limit.Found {
		f.work("its limit is not known: %s", limit.Why)
		return
	}
	f.limit("at most", rules.Of(limit.Value))
	if k := c.first(t.out); k != nil {
		per := (c.perMetre(k, false) + c.perMetre(k, true)) * c.warm
		f.Passes = passes(k, (float64(limit.Value)-f.Value.Number)/per)
	}
}

// first is the first cable of a way: the feed.
func (c *sizer) first(edges []int) *wiring.Cable {
	for _, k := range edges {
		if e := &c.g.Edges[k]; e.Cable != nil {
			return e.Cable
		}
	}
	return nil
}

// perMetre is the resistance of a cable's live or protective conductor.
func (c *sizer) perMetre(k *wiring.Cable, earth bool) float64 {
	for i := range k.Kind.Cores {
		if k.Kind.Cores[i].Earth == earth {
			r, _ := c.cat.Physics.PerMetre(&k.Kind.Cores[i])
			return float64(r)
		}
	}
	return 0
}

// passes says to which length of a cable a limit is kept, when so many metres
// more are to be had.
func passes(k *wiring.Cable, more float64) string {
	now := longest(k)
	to := now.Metres() + more
	switch {
	case math.IsInf(more, 0) || math.IsNaN(more):
		return ""
	case to > 1000:
		return "passes at any length that a house has"
	case to < 0:
		return fmt.Sprintf("fails whatever the length of %s", k.ID)
	case more < 0:
		return fmt.Sprintf("would pass with %s of %.0f m (now up to %v)", k.ID, math.Floor(to), now)
	}
	return fmt.Sprintf("passes to %.0f m of %s (now up to %v)", math.Floor(to), k.ID, now)
}
