package sizing

import (
	"fmt"
	"math"
	"slices"

	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// Leg is one conductor on the way from the board to a point, or back by the
// protective conductor. A strapper cable that the line runs out and back on is
// there twice.
type Leg struct {
	Cable  string          `json:"cable"`
	Core   string          `json:"core"`
	Length unit.Millimetre `json:"length_mm"` // the long end of its tolerance
	PerM   rules.Measure   `json:"per_metre"` // at 20 °C
	Back   bool            `json:"back"`      // by the protective conductor
}

// Loop says over which conductors the current of an earth fault at the point of
// the longest loop runs, out and back: "drop brown 5.00 m".
func (c *Circuit) Loop() (out, back []string) {
	for _, l := range c.Path {
		text := fmt.Sprintf("%s %s %v", l.Cable, l.Core, l.Length)
		if l.Back {
			back = append(back, text)
		} else {
			out = append(out, text)
		}
	}
	return out, back
}

// A trace is a way from a source over what is joined in one state.
type trace struct {
	found bool
	node  wiring.Node // the point
	earth wiring.Node // the protective conductor in its box
	state wiring.State
	r     float64 // ohms at 20 °C, out and back
	out   []int   // edges, from the board
	back  []int
}

// ways are the least resistances from one node to all others, with the edge by
// which each was reached.
type ways struct {
	r   []float64
	via []int
}

// from runs Dijkstra's search over the edges that use admits. Graphs are small,
// so the nearest open node is looked for in a plain list.
func (c *sizer) from(start wiring.Node, use func(*wiring.Edge) bool) ways {
	n := c.g.Nodes()
	w := ways{make([]float64, n), make([]int, n)}
	done := make([]bool, n)
	for i := range w.r {
		w.r[i], w.via[i] = math.Inf(1), -1
	}
	w.r[start] = 0
	at := c.touching()
	for {
		best := -1
		for i := range done {
			if !done[i] && !math.IsInf(w.r[i], 1) && (best < 0 || w.r[i] < w.r[best]) {
				best = i
			}
		}
		if best < 0 {
			return w
		}
		done[best] = true
		for _, k := range at[best] {
			e := &c.g.Edges[k]
			next := e.A + e.B - wiring.Node(best)
			if r := w.r[best] + c.ohms(e); use(e) && r < w.r[next] {
				w.r[next], w.via[next] = r, k
			}
		}
	}
}

// touching lists the edges at each node.
func (c *sizer) touching() [][]int {
	if c.edgesAt == nil {
		c.edgesAt = make([][]int, c.g.Nodes())
		for k := range c.g.Edges {
			e := &c.g.Edges[k]
			c.edgesAt[e.A] = append(c.edgesAt[e.A], k)
			if e.B != e.A {
				c.edgesAt[e.B] = append(c.edgesAt[e.B], k)
			}
		}
	}
	return c.edgesAt
}

// ohms is the resistance of an edge at 20 °C and the long end of its length.
func (c *sizer) ohms(e *wiring.Edge) float64 {
	if e.Core == nil {
		return float64(c.cat.Physics.Contact)
	}
	r, _ := c.cat.Physics.PerMetre(e.Core)
	return float64(r.Over(longest(e.Cable)))
}

func longest(k *wiring.Cable) unit.Millimetre { return k.Length + k.Tolerance }

// edges walks back from a node to the source.
func (c *sizer) edges(w ways, to wiring.Node) []int {
	var list []int
	for at := to; w.via[at] >= 0; {
		e := &c.g.Edges[w.via[at]]
		list = append(list, w.via[at])
		at = e.A + e.B - at
	}
	slices.Reverse(list)
	return list
}

// farthest finds the point and the state of the greatest resistance out by the
// line and back by the protective conductor.
func (c *sizer) farthest(states []wiring.State) (best trace) {
	o := &c.g.Origins[c.origin]
	back := c.from(o.E, func(e *wiring.Edge) bool { return e.Kind == wiring.Conductor })
	earth := c.earths(back)
	for _, s := range states {
		out := c.from(o.L, func(e *wiring.Edge) bool { return e.Closed(s) })
		for n := range wiring.Node(c.g.Nodes()) {
			m := c.g.Members(n)
			if len(m) == 0 || math.IsInf(out.r[n], 1) || m[0].Box == o.Circuit.Board {
				continue
			}
			e, ok := earth[m[0].Box]
			if r := out.r[n] + back.r[max(e, 0)]; ok && r > best.r*(1+1e-12) {
				best = trace{found: true, node: n, earth: e, state: s, r: r, out: c.edges(out, n), back: c.edges(back, e)}
			}
		}
	}
	return best
}

// earths is the protective conductor in each box that has one, the farthest if
// there are several.
func (c *sizer) earths(back ways) map[string]wiring.Node {
	earth := map[string]wiring.Node{}
	for n := range wiring.Node(c.g.Nodes()) {
		for _, e := range c.g.Members(n) {
			if math.IsInf(back.r[n], 1) {
				continue
			}
			if old, ok := earth[e.Box]; !ok || back.r[n] > back.r[old] {
				earth[e.Box] = n
			}
		}
	}
	return earth
}

// legs are the cables of a trace in order.
func (c *sizer) legs(t trace) (list []Leg) {
	add := func(edges []int, back bool) {
		for _, k := range edges {
			if e := &c.g.Edges[k]; e.Core != nil {
				r, _ := c.cat.Physics.PerMetre(e.Core)
				list = append(list, Leg{Cable: e.Cable.ID, Core: e.Core.Name, Length: longest(e.Cable), PerM: rules.Of(r), Back: back})
			}
		}
	}
	add(t.out, false)
	add(t.back, true)
	return list
}

// states lists the states to go through: all of them, or, where they are too
// many, those of each lamp's own switches with as many others lit as will.
func (c *sizer) states() []wiring.State {
	if c.chosen == nil {
		c.chosen = c.choose()
	}
	return c.chosen
}

// switched lists the switches that change a load, worked out once.
func (c *sizer) switched(load int) []int {
	if c.minded == nil {
		c.minded = map[int][]int{}
	}
	list, known := c.minded[load]
	if !known {
		list = c.p.Switched(load)
		c.minded[load] = list
	}
	return list
}

func (c *sizer) choose() []wiring.State {
	var list []wiring.State
	if n := c.g.States(); n <= c.most {
		for i := range n {
			list = append(list, c.g.StateAt(i))
		}
		return list
	}
	base := c.bright()
	list = append(list, base)
	for _, load := range c.loads {
		list = c.vary(list, base, c.switched(load))
		if len(list) > 16*MostStates {
			break
		}
	}
	return list
}

// vary adds a base state with some switches in every combination of positions.
func (c *sizer) vary(list []wiring.State, base wiring.State, switches []int) []wiring.State {
	n := 1
	for _, sw := range switches {
		if n *= len(c.g.Switches[sw].Kind.Positions); n > MostStates {
			return list
		}
	}
	for i := range n {
		s := slices.Clone(base)
		for _, sw := range switches {
			k := len(c.g.Switches[sw].Kind.Positions)
			s[sw] = uint8(i % k)
			i /= k
		}
		list = append(list, s)
	}
	return list
}

// bright is a state in which as many lamps are lit as are found to go
// together, one lamp after the other.
func (c *sizer) bright() wiring.State {
	best := c.g.Rest()
	lit := func(s wiring.State) (n int) {
		for _, i := range c.loads {
			if c.p.Lit(i, s) {
				n++
			}
		}
		return n
	}
	for _, load := range c.loads {
		for _, s := range c.vary(nil, best, c.switched(load)) {
			if lit(s) > lit(best) {
				best = s
			}
		}
	}
	return best
}
