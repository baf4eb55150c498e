package wiring

import (
	"bytes"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/kit"
	"strapper/network/spicetest"
	"strapper/unit"
)

func view(tb testing.TB, g *Graph, cat *kit.Catalogue, c Condition) *View {
	tb.Helper()
	v, err := g.View(cat, c)
	if err != nil {
		tb.Fatal(err)
	}
	return v
}

func near(tb testing.TB, what string, got, want, tolerance float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		tb.Errorf("%s: got %.8g, want %.8g ± %g", what, got, want, tolerance)
	}
}

// TestTabulatedLoops reads R1+R2 of published examples at the end of one cable.
func TestTabulatedLoops(t *testing.T) {
	for _, c := range []struct {
		cite      string
		line, cpc unit.SquareMillimetre
		metres    float64
		want      float64
		digits    float64
	}{
		{"published worked example, 4/1.5 at 16.71 mΩ/m", 4, 1.5, 12, 0.20, 0.005},
		{"same, 18 m", 4, 1.5, 18, 0.30, 0.005},
		{"same, 20.5 m", 4, 1.5, 20.5, 0.34, 0.005},
		{"same with 4/2.5 at 12.02 mΩ/m", 4, 2.5, 12, 0.144, 0.0005},
		{"same, 18 m", 4, 2.5, 18, 0.216, 0.0005},
		{"same, 20.5 m", 4, 2.5, 20.5, 0.246, 0.0005},
		{"same, 23 m", 4, 2.5, 23, 0.276, 0.0005},
		{"22 m of 2.5/1.5 at 19.51 mΩ/m", 2.5, 1.5, 22, 0.429, 0.0005},
		{"D. Locke, Guide to the IEE Wiring Regulations (Wiley 2008) Table 4.3", 1.5, 1, 50, 1.51, 0.005},
		{"same", 2.5, 1.5, 50, 0.98, 0.005},
		{"same", 4, 1.5, 50, 0.84, 0.005},
		{"same", 6, 2.5, 50, 0.52, 0.005},
		{"same", 10, 4, 50, 0.32, 0.005},
	} {
		h := newHouse(t)
		h.circuit("lights")
		h.box("point", "lamp=batten-holder")
		h.in.Cables = append(h.in.Cables, &Cable{ID: "run", Kind: flat(c.line, c.cpc), From: "board", To: "point", Length: unit.FromMetres(c.metres)})
		h.join("board", "lights.L run.L", "lights.N run.N", "lights.E run.cpc")
		h.join("point", "lamp.L run.L", "lamp.N run.N", "lamp.E run.cpc")
		g := h.graph()
		v := view(t, g, exact(h.cat), Condition{Temperature: 20, LoadsOut: true})
		l, e := h.node(g, "point", "lamp.L"), h.node(g, "point", "lamp.E")
		r, ok := v.Resistance(Setting{Link: []int{0}}, l, e)
		if !ok {
			t.Errorf("%s: open", c.cite)
		}
		near(t, c.cite, float64(r), c.want, c.digits+1e-6)
		if r, ok := v.Resistance(Setting{}, l, e); ok {
			t.Errorf("%s: %v without the link at the board, want open", c.cite, r)
		}
	}
}

// R1 of 22 m of 2.5/1.5 is 0.163 Ω and R2 0.266 Ω (same worked example), each
// by the long lead.
func TestLongLead(t *testing.T) {
	h := newHouse(t)
	h.circuit("lights")
	h.box("point", "lamp=batten-holder")
	h.in.Cables = append(h.in.Cables, &Cable{ID: "run", Kind: flat(2.5, 1.5), From: "board", To: "point", Length: 22000})
	h.join("board", "lights.L run.L", "lights.N run.N", "lights.E run.cpc")
	h.join("point", "lamp.L run.L", "lamp.N run.N", "lamp.E run.cpc")
	g := h.graph()
	v := view(t, g, exact(h.cat), Condition{Temperature: 20, LoadsOut: true})
	for _, c := range []struct {
		from, to string
		want     float64
	}{{"lights.L", "lamp.L", 0.163}, {"lights.E", "lamp.E", 0.266}, {"lights.N", "lamp.N", 0.163}} {
		r, ok := v.Resistance(Setting{}, h.node(g, "board", c.from), h.node(g, "point", c.to))
		if !ok {
			t.Errorf("%s: open", c.from)
		}
		near(t, c.from, float64(r), c.want, 0.0005)
	}
}

// Factors from IEC 60228:2004 annex and the On-Site Guide, Tables I2 and I3.
func TestTemperature(t *testing.T) {
	h, g := stair(t, false, 8)
	l, e := h.node(g, "point", "lamp.L"), h.node(g, "point", "lamp.E")
	read := func(c unit.Celsius) float64 {
		v := view(t, g, exact(h.cat), Condition{Temperature: c, LoadsOut: true})
		r, _ := v.Resistance(Setting{State: State{0, 0}, Link: []int{0}}, l, e)
		return float64(r)
	}
	for c, factor := range map[unit.Celsius]float64{5: 0.94, 10: 0.96, 15: 0.98, 25: 1.02, 70: 1.20} {
		near(t, c.String(), read(c)/read(20), factor, 1e-6)
	}
}

// The path model: two-wire control puts the distance between the switches into
// R1 once, three-wire control twice, in both positions in which the lamp is on.
// The closed form counts cores; R2 goes the direct way.
func TestPathOfControl(t *testing.T) {
	const r15, r10 = 0.0121, 0.0181 // IEC 60228:2004 Table 1
	for _, c := range []struct {
		threeWire bool
		r1, r2    float64 // feed 10 m, between 8 m, drop 4 m
		lit       []State
	}{
		{false, (10 + 8 + 4) * r15, (10 + 8 + 4) * r10, []State{{0, 0}, {1, 1}}},
		{true, (10 + 2*8 + 4) * r15, (10 + 4) * r10, []State{{0, 1}, {1, 0}}},
	} {
		h, g := stair(t, c.threeWire, 8)
		v := view(t, g, exact(h.cat), Condition{Temperature: 20, LoadsOut: true})
		l, e := h.node(g, "point", "lamp.L"), h.node(g, "point", "lamp.E")
		lit := 0
		for i := range g.States() {
			r, ok := v.Resistance(Setting{State: g.StateAt(i), Link: []int{0}}, l, e)
			if !ok {
				continue
			}
			lit++
			near(t, g.Describe(g.StateAt(i)), float64(r), c.r1+c.r2, 3e-6)
		}
		for _, s := range c.lit {
			if _, ok := v.Resistance(Setting{State: s, Link: []int{0}}, l, e); !ok {
				t.Errorf("three-wire %v: open in %s", c.threeWire, g.Describe(s))
			}
		}
		if lit != 2 {
			t.Errorf("three-wire %v: %d positions read, want 2 of 4", c.threeWire, lit)
		}
	}
}

// strapperGhost is 10 m of three-core cable with one core live, one floating
// and one at neutral, the cpc earthed.
func strapperGhost(t *testing.T, couplings []kit.Coupling, metres float64) (*View, Node, Node) {
	h := newHouse(t)
	h.in.Supply.Ze = 1e-4
	h.circuit("lights")
	h.box("far")
	k := *h.cat.Cables["3ce-1.5"]
	k.Coupling = couplings
	h.in.Cables = append(h.in.Cables, &Cable{ID: "run", Kind: &k, From: "board", To: "far", Length: unit.FromMetres(metres)})
	h.join("board", "lights.L run.brown", "lights.N run.grey", "lights.E run.cpc", "run.black")
	g := h.graph()
	return view(t, g, h.cat, Condition{Temperature: 20, Supplied: true}), h.node(g, "far", "run.black"), h.node(g, "board", "lights.E")
}

// Partial capacitances in pF/m of a flat three-core and earth, permittivity 4,
// from a two-dimensional field solution: 60.8 to the live core, 78.5 to the
// cpc, 12.9 to the far core. Voltages of 10 m of it by ngspice for each meter;
// without one the divider gives 230 × 60.8/152.2.
func TestGhostOfAStrapper(t *testing.T) {
	v, core, earth := strapperGhost(t, []kit.Coupling{
		{Between: [2]string{"brown", "black"}, C: 60.8e-12},
		{Between: [2]string{"black", "cpc"}, C: 78.5e-12},
		{Between: [2]string{"black", "grey"}, C: 12.9e-12},
	}, 10)
	p := v.Port(Setting{}, core, earth)
	near(t, "open", float64(p.Open.Abs()), 230*60.8/152.2, 1e-4)
	for _, c := range []struct {
		meter unit.Ohm
		want  float64
	}{{10e6, 89.9333}, {1e6, 39.6342}, {400e3, 17.2599}, {300e3, 13.0461}, {200e3, 8.7465}, {100e3, 4.3882}, {7e3, 0.30752}, {3e3, 0.13180}} {
		near(t, c.meter.String(), float64(p.Reads(c.meter)), c.want, 1e-4)
	}
}

// One coupling of 100 pF/m to the line and a meter to earth is the high-pass
// V = 230 ωRC/√(1 + (ωRC)²); the current into a short circuit is 7.2257 µA for
// each metre. The printed values are of that formula to three decimals.
func TestSingleCoupling(t *testing.T) {
	for _, c := range []struct{ metres, r10M, r200k, r7k float64 }{
		{5, 194.020, 7.222, 0.253},
		{10, 219.165, 14.423, 0.506},
		{20, 227.141, 28.677, 1.012},
		{50, 229.535, 68.935, 2.529},
	} {
		v, core, earth := strapperGhost(t, []kit.Coupling{{Between: [2]string{"brown", "black"}, C: 100e-12}}, c.metres)
		p := v.Port(Setting{}, core, earth)
		near(t, "10 MΩ", float64(p.Reads(10e6)), c.r10M, 6e-4)
		near(t, "200 kΩ", float64(p.Reads(200e3)), c.r200k, 6e-4)
		near(t, "7 kΩ", float64(p.Reads(7e3)), c.r7k, 6e-4)
		near(t, "short circuit, µA", 1e6*cmplx.Abs(complex128(p.Open)/p.Impedance), 7.2257*c.metres, 2e-4*c.metres)
	}
}

// The loop from the board out and back is Ze by definition; a running lamp
// lifts the neutral from earth by its current in half of Ze where the two
// return apart (TN-S), and not at all at the board with PME.
func TestSupplyByEarthing(t *testing.T) {
	for _, c := range []struct {
		earthing Earthing
		ze       unit.Ohm
		neutral  float64 // ohms that lift the neutral
	}{{TNCS, 0.35, 0}, {TNS, 0.8, 0.4}, {TT, 100, 0.16}} {
		h, _ := stair(t, false, 8)
		h.in.Supply.Earthing, h.in.Supply.Ze = c.earthing, c.ze
		for _, c := range h.in.Cables { // leakage would lift the earth as well
			k := *c.Kind
			k.Coupling, c.Kind = nil, &k
		}
		g := h.graph()
		o := g.Origins[0]
		loop := view(t, g, exact(h.cat), Condition{Temperature: 20, Loop: true, LoadsOut: true})
		r, _ := loop.Resistance(Setting{}, o.L, o.E)
		near(t, string(c.earthing)+" loop", float64(r), float64(c.ze), 1e-6)
		live := view(t, g, exact(h.cat), Condition{Temperature: 20, Supplied: true})
		s := live.Solve(Setting{State: State{0, 0}, Lit: func(int) bool { return true }})
		amps := float64(s.LoadCurrent(0).Abs())
		near(t, "lamp current", amps, 9/0.5/230, 1e-3*9/0.5/230)
		volts, _ := s.Voltage(o.N, o.E)
		near(t, string(c.earthing)+" neutral to earth", float64(volts.Abs()), amps*c.neutral, 1e-6)
	}
}

// A semiconductor conducts with the supply on and not under an ohmmeter.
func TestDimmer(t *testing.T) {
	h := newHouse(t)
	h.circuit("lights")
	h.box("hall", "d=dimmer", "lamp=batten-holder")
	h.cable("feed", "te-1.0", "board", "hall", 5)
	h.join("board", "lights.L feed.brown", "lights.N feed.blue", "lights.E feed.cpc")
	h.join("hall", "feed.brown d.COM", "d.L1 lamp.L", "feed.blue lamp.N", "feed.cpc lamp.E")
	g := h.graph()
	l, n := h.node(g, "hall", "lamp.L"), h.node(g, "hall", "lamp.N")
	dead := view(t, g, h.cat, Condition{Temperature: 20, LoadsOut: true})
	if r, ok := dead.Resistance(Setting{State: State{0}}, h.node(g, "board", "lights.L"), l); ok {
		t.Errorf("an ohmmeter reads %v through a dimmer, want open", r)
	}
	live := view(t, g, h.cat, Condition{Temperature: 20, Supplied: true})
	on := Setting{State: State{0}, Lit: func(int) bool { return true }}
	if u := live.Port(on, l, n).Reads(10e6); u < 229 {
		t.Errorf("lamp behind a dimmer has %v, want nearly 230 V", u)
	}
	if u := live.Port(Setting{State: State{1}}, l, n).Reads(10e6); u > 1e-3 {
		t.Errorf("lamp off has %v, want 0", u)
	}
	off := on
	off.Off = []bool{true}
	if u := live.Port(off, l, n).Reads(10e6); u > 1e-3 {
		t.Errorf("with the circuit off the lamp has %v, want 0", u)
	}
}

func TestViewRefuses(t *testing.T) {
	for name, change := range map[string]func(*house){
		"Ze":       func(h *house) { h.in.Supply.Ze = 0 },
		"voltage":  func(h *house) { h.in.Supply.Voltage = -1 },
		"earthing": func(h *house) { h.in.Supply.Earthing = "IT" },
	} {
		h, _ := stair(t, false, 8)
		change(h)
		if _, err := h.graph().View(h.cat, Condition{Supplied: true}); err == nil || !strings.Contains(strings.ToLower(err.Error()), strings.ToLower(name)) {
			t.Errorf("%s: error %v does not name it", name, err)
		}
		if _, err := h.graph().View(h.cat, Condition{}); err != nil {
			t.Errorf("%s: a dead view does not need it: %v", name, err)
		}
	}
	h, _ := stair(t, false, 8)
	h.in.Cables[0].Kind = &kit.Cable{Cores: []kit.Core{
		{Name: "brown", Area: 1.3}, {Name: "blue", Area: 1.3}, {Name: "cpc", Area: 1},
	}}
	if _, err := h.graph().View(h.cat, Condition{}); err == nil || !strings.Contains(err.Error(), "cable feed") {
		t.Errorf("an untabulated core: error %v does not name the cable", err)
	}
}

// Rayleigh's law, on any lengths: the bounds hold the nominal reading, and a
// longer cable never reads less.
func TestBoundsHoldNominal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		three := rapid.Bool().Draw(rt, "three-wire")
		h, _ := stair(t, three, 8)
		for _, c := range h.in.Cables {
			c.Length = unit.Millimetre(rapid.IntRange(1, 60000).Draw(rt, "length"))
			c.Tolerance = unit.Millimetre(rapid.Int64Range(0, int64(c.Length)).Draw(rt, "tolerance"))
		}
		state := State{rapid.Uint8Range(0, 1).Draw(rt, "s1"), rapid.Uint8Range(0, 1).Draw(rt, "s2")}
		read := func(b Bound) (float64, bool) {
			g := h.graph()
			v := view(t, g, h.cat, Condition{Temperature: 20, Length: b, LoadsOut: true})
			r, ok := v.Resistance(Setting{State: state, Link: []int{0}}, h.node(g, "point", "lamp.L"), h.node(g, "point", "lamp.E"))
			return float64(r), ok
		}
		low, okL := read(Low)
		nominal, okN := read(Nominal)
		high, okH := read(High)
		if okL != okN || okN != okH || !(low <= nominal && nominal <= high) {
			rt.Fatalf("bounds %v %v %v (%v %v %v)", low, nominal, high, okL, okN, okH)
		}
		h.in.Cables[0].Length += 1000
		if longer, _ := read(Nominal); okN && longer <= nominal {
			rt.Fatalf("a metre more of the feed reads %v after %v", longer, nominal)
		}
	})
}

// compare solves a supplied view in every position with every load idle and
// with every load running, and compares all node voltages with ngspice.
func compare(t *testing.T, g *Graph, cat *kit.Catalogue) {
	t.Helper()
	v := view(t, g, cat, Condition{Temperature: 20, Supplied: true})
	for i := range min(g.States(), 16) {
		for _, lit := range []bool{false, true} {
			s := Setting{State: g.StateAt(i), Lit: func(int) bool { return lit }}
			var deck bytes.Buffer
			if err := v.Spice(&deck, "house", s); err != nil {
				t.Fatal(err)
			}
			want := spicetest.Run(t, deck.Bytes())
			solved := v.Solve(s)
			for n := range Node(g.Nodes()) {
				got, ok := solved.s.Voltage(v.node[n], solved.s.Part(v.node[n]))
				w, printed := want[v.SpiceNode(n)]
				if !ok || !printed {
					t.Fatalf("node %d is missing (%v, %v)", n, ok, printed)
				}
				if d := cmplx.Abs(complex128(got) - w); d > 1e-6*cmplx.Abs(w)+1e-9 {
					t.Errorf("%s, lit %v, node %v: %v, ngspice %v", g.Describe(s.State), lit, g.Members(n), got, w)
				}
			}
		}
	}
}

// Every node voltage against ngspice, to 1e-6 relative (1 nV near zero).
func TestVoltagesAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	coupled := func(h *house) {
		for _, c := range h.in.Cables {
			k := *c.Kind
			k.Coupling = nil
			for i := range k.Cores {
				for j := range i {
					k.Coupling = append(k.Coupling, kit.Coupling{Between: [2]string{k.Cores[i].Name, k.Cores[j].Name}, C: unit.FaradPerMetre(20e-12 * float64(i+2*j+1))})
				}
			}
			c.Kind = &k
		}
	}
	for _, three := range []bool{false, true} {
		for _, earthing := range []Earthing{TNCS, TNS, TT} {
			h, _ := stair(t, three, 8)
			h.in.Supply.Earthing = earthing
			coupled(h)
			compare(t, h.graph(), h.cat)
		}
	}
}

func BenchmarkViewPort(b *testing.B) {
	h, g := stair(b, true, 8)
	v := view(b, g, h.cat, Condition{Temperature: 20, Supplied: true})
	l, e := h.node(g, "point", "lamp.L"), h.node(g, "point", "lamp.E")
	i := uint64(0)
	for b.Loop() {
		v.Port(Setting{State: g.StateAt(i & 3)}, l, e)
		i++
	}
}

func BenchmarkView(b *testing.B) {
	h, g := stair(b, true, 8)
	for b.Loop() {
		view(b, g, h.cat, Condition{Temperature: 20, Supplied: true})
	}
}
