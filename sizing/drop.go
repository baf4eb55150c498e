package sizing

import (
	"math"

	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// A fall is the voltage lost on the way to one lamp in one state.
type fall struct {
	load  int
	state wiring.State
	volts float64
}

// drop finds the lamp and the state with the greatest voltage drop, at design
// current and working temperature, by solving the network in every state.
func (c *sizer) drop() error {
	f := Figure{Symbol: "Vd", Name: "voltage lost on the way to the farthest lamp"}
	defer func() { c.out.Figures = append(c.out.Figures, f) }()
	if !(c.g.Inst.Supply.Ze > 0) {
		f.Why = "Ze is not known"
		return nil
	}
	g := *c.g
	g.Loads = c.load
	view, err := g.View(c.cat, wiring.Condition{Temperature: c.temp, Length: wiring.High, Supplied: true})
	if err != nil {
		return err
	}
	worst := c.worst(view)
	if worst.load < 0 {
		f.Why = "no lamp of the circuit is lit in any position"
		return nil
	}
	c.explainDrop(&f, view, worst)
	return nil
}

// worst solves every state.
func (c *sizer) worst(view *wiring.View) fall {
	best := fall{load: -1}
	for _, s := range c.states() {
		solved := view.Solve(c.setting(s))
		for _, i := range c.loads {
			if !c.p.Lit(i, s) {
				continue
			}
			if v := c.lost(solved, i); best.load < 0 || v > best.volts*(1+1e-9) {
				best = fall{i, s, v}
			}
		}
	}
	return best
}

func (c *sizer) setting(s wiring.State) wiring.Setting {
	return wiring.Setting{State: s, Lit: func(i int) bool { return c.p.Lit(i, s) }}
}

// lost is the voltage at the origin less that at a lamp.
func (c *sizer) lost(s wiring.Solved, load int) float64 {
	o, l := &c.g.Origins[c.origin], &c.g.Loads[load]
	at, ok := s.Voltage(o.L, o.N)
	lamp, lit := s.Voltage(l.A, l.B)
	if !ok || !lit {
		return 0
	}
	// Loads are impedances and draw less at less than nominal voltage; the
	// drop is brought back to the design current.
	u := float64(lamp.Abs())
	if u <= 0 {
		return 0
	}
	return float64(at.Abs()-lamp.Abs()) * float64(c.voltage()) / u
}

// explainDrop brings the figure to the book's own voltage drop per ampere and
// metre, and says how far it reaches.
func (c *sizer) explainDrop(f *Figure, view *wiring.View, worst fall) {
	l := &c.g.Loads[worst.load]
	f.At = l.ID()
	f.work("worst with %s", c.described(worst.state))
	edges, route := c.legsTo(f, worst)
	feed := c.leaving(view, worst, edges)
	f.work("%.3g A leaves the board; solved as a network at %v and design current: %.3f V", feed, c.temp, worst.volts)
	volts := worst.volts
	if ratio := c.tabled(f); ratio > 1 {
		volts *= ratio
		f.work("× %.4g, as the book's drop per ampere and metre is that much above the conductor's: %.3f V", ratio, volts)
	}
	if c.circuit().Other > 0 {
		f.work("what hangs elsewhere on the circuit is not in this: its place is not known")
	}
	f.set(rules.Of(unit.Volt(volts)))
	x := &c.out.Case
	x.Drop, x.Farthest, x.Route = rules.Know(unit.Volt(volts)), l.ID(), route
	most, ok := c.dropLimit(f)
	if k := c.first(edges); ok && k != nil && feed > 0 {
		per := 2 * c.perMetre(k, false) * c.warm * volts / worst.volts
		f.Passes = passes(k, (most-volts)/(per*feed))
	}
}

// legsTo writes out the conductors to a lamp and back, and gives the edges of
// the line and the length of the route, which is that of the neutral.
func (c *sizer) legsTo(f *Figure, worst fall) (edges []int, route unit.Millimetre) {
	l, o := &c.g.Loads[worst.load], &c.g.Origins[c.origin]
	closed := func(e *wiring.Edge) bool { return e.Closed(worst.state) }
	out, back := c.from(o.L, closed), c.from(o.N, closed)
	a, b := l.A, l.B
	if math.IsInf(out.r[a], 1) {
		a, b = b, a
	}
	edges = c.edges(out, a)
	for _, leg := range c.legs(trace{out: edges, back: c.edges(back, b)}) {
		way := "out"
		if leg.Back {
			way = "back"
			route += leg.Length
		}
		f.work("%s: %s %s, %v", way, leg.Cable, leg.Core, leg.Length)
	}
	return edges, route
}

// leaving is the current that leaves the board in a state, brought to design
// current; see lost.
func (c *sizer) leaving(view *wiring.View, worst fall, edges []int) float64 {
	if len(edges) == 0 {
		return 0
	}
	l := &c.g.Loads[worst.load]
	solved := view.Solve(c.setting(worst.state))
	feed := float64(solved.EdgeCurrent(edges[0]).Abs())
	if lamp, ok := solved.Voltage(l.A, l.B); ok && lamp.Abs() > 0 {
		feed *= float64(c.voltage() / lamp.Abs())
	}
	return feed
}

// dropLimit sets the limit of the voltage drop in volts, if the book has one.
func (c *sizer) dropLimit(f *Figure) (most float64, ok bool) {
	limit := rules.Ask(c.Book, rules.DropLimit, rules.Use(c.out.Case.Use), rules.Supply("public"))
	f.Cells = append(f.Cells, limit.Cells...)
	if !limit.Found {
		f.work("its limit is not known: %s", limit.Why)
		return 0, false
	}
	most = limit.Value.Fraction() * float64(c.voltage())
	f.work("at most %v of %v = %.3g V", limit.Value, c.voltage(), most)
	f.limit("at most", rules.Of(unit.Volt(most)))
	return most, true
}

func (c *sizer) described(s wiring.State) string {
	if text := c.g.Describe(s); text != "" {
		return text
	}
	return "the only position there is"
}

// tabled is how much greater the book's voltage drop per ampere and metre is
// than that of two conductors at working temperature, over the sizes of the
// circuit; 1 where the book has none.
func (c *sizer) tabled(f *Figure) float64 {
	most := 1.0
	seen := map[unit.SquareMillimetre]bool{}
	for _, k := range c.use {
		area := liveArea(k)
		if seen[area] {
			continue
		}
		seen[area] = true
		d := rules.Ask(c.Book, rules.Drop, rules.Area(area))
		f.Cells = append(f.Cells, d.Cells...)
		if own := 2 * c.warm * c.perMetre(k, false); d.Found && own > 0 {
			most = max(most, float64(d.Value)/own)
		}
	}
	return most
}
