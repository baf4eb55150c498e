package wiring

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/unit"
)

// The kinds of these tests are made by hand, so that they do not depend on
// the catalogue. Contacts of one-way, two-way and intermediate switches are
// those of patterns 1, 6 and 7 of IEC 60669-1 (from memory, to be confirmed).
var (
	testOneWay = &kit.Accessory{
		ID: "one-way", Title: "One-way switch", Class: kit.ClassSwitch, Actuator: kit.ByHand,
		Terminals: terminals("COM", "L1"), Positions: []string{"off", "on"},
		Contacts: []kit.Contact{{Join: [2]string{"COM", "L1"}, In: []string{"on"}}}, Rating: 10,
	}
	testTwoWay = &kit.Accessory{
		ID: "two-way", Title: "Two-way switch", Class: kit.ClassSwitch, Actuator: kit.ByHand,
		Terminals: terminals("COM", "L1", "L2"), Positions: []string{"up", "down"},
		Contacts: []kit.Contact{
			{Join: [2]string{"COM", "L1"}, In: []string{"up"}},
			{Join: [2]string{"COM", "L2"}, In: []string{"down"}},
		}, Rating: 10,
	}
	testRose = &kit.Accessory{
		ID: "rose", Title: "Ceiling rose with pendant", Class: kit.ClassLamp,
		Terminals: terminals("L", "LOOP", "N", "E"),
		Loads:     []kit.Load{{Between: [2]string{"L", "N"}, Lamp: "led", Power: 9, Kind: testLED}},
	}
	testRelay = &kit.Accessory{
		ID: "relay", Title: "Latching relay", Class: kit.ClassRelay, Actuator: kit.ByCoil,
		Terminals: terminals("1", "2", "A1", "A2"), Positions: []string{"open", "closed"},
		Contacts: []kit.Contact{{Join: [2]string{"1", "2"}, In: []string{"closed"}}},
		Coil:     &kit.Coil{Between: [2]string{"A1", "A2"}, Power: 3},
	}
	testBridge = &kit.Accessory{
		ID: "bridge", Title: "Bridged terminals", Class: kit.ClassConnector,
		Terminals: terminals("a", "b"), Positions: []string{"fixed"},
		Contacts: []kit.Contact{{Join: [2]string{"a", "b"}, In: []string{"fixed"}}},
	}
	testWay    = &kit.Accessory{ID: "way", Title: "Way", Class: kit.ClassWay, Terminals: terminals("L", "N", "E")}
	testLED    = &kit.LampKind{ID: "led", Title: "LED lamp", PowerFactor: 0.5}
	testGLS    = &kit.LampKind{ID: "filament", Title: "Filament lamp", PowerFactor: 1}
	testOneG   = &kit.Box{ID: "box-1g", Title: "One-gang box", Gangs: 1, Mount: kit.MountPlaster}
	testTwoG   = &kit.Box{ID: "box-2g", Title: "Two-gang box", Gangs: 2, Mount: kit.MountPlaster}
	testCeil   = &kit.Box{ID: "ceiling", Title: "Ceiling point", Mount: kit.MountCeiling}
	testBoard  = &kit.Box{ID: "board", Title: "Consumer unit", Mount: kit.MountBoard}
	testMCB    = &kit.Device{ID: "mcb-b6", Title: "B6 circuit-breaker", Type: kit.MCB, Rating: 6}
	testTwin   = cable("te-1.0", "red", "black")
	testTriple = cable("3ce-1.0", "brown", "black", "grey")
)

func terminals(names ...string) []kit.Terminal {
	var list []kit.Terminal
	for _, n := range names {
		list = append(list, kit.Terminal{Name: n})
	}
	return list
}

func cable(id string, colours ...string) *kit.Cable {
	c := &kit.Cable{ID: id, Title: fmt.Sprintf("%d-core and earth 1.0 mm²", len(colours)), Rating: 11}
	for _, name := range colours {
		c.Cores = append(c.Cores, kit.Core{Name: name, Colour: kit.Colour(name), Area: 1})
	}
	c.Cores = append(c.Cores, kit.Core{Name: "cpc", Colour: kit.Bare, Area: 1, Earth: true})
	return c
}

// joint reads "hall: s1.COM drop.red" as a joint.
func joint(t testing.TB, text string) Joint {
	t.Helper()
	box, ends, ok := strings.Cut(text, ":")
	if !ok {
		t.Fatalf("joint %q has no box", text)
	}
	j := Joint{Box: box}
	for _, e := range strings.Fields(ends) {
		name, terminal, _ := strings.Cut(e, ".")
		j.Ends = append(j.Ends, End{box, name, terminal})
	}
	return j
}

func joints(t testing.TB, texts ...string) []Joint {
	t.Helper()
	var list []Joint
	for _, text := range texts {
		list = append(list, joint(t, text))
	}
	return list
}

// stairsFound is an invented loop-in at a ceiling rose with a one-way switch.
func stairsFound(t testing.TB) *Installation {
	return &Installation{
		Circuits: []*Circuit{{ID: "lights", Title: "Upstairs lights", Board: "board", Device: testMCB, Way: testWay}},
		Boxes: []*Box{
			{ID: "board", Title: "Consumer unit", Kind: testBoard},
			{ID: "point", Title: "Landing ceiling", Kind: testCeil, Fit: []*Fitted{{ID: "lamp", Kind: testRose}}},
			{ID: "hall", Title: "Hall switch", Kind: testOneG, Fit: []*Fitted{{ID: "s1", Kind: testOneWay}}},
		},
		Cables: []*Cable{
			{ID: "feed", Kind: testTwin, From: "board", To: "point", Length: 12 * unit.Metre, Tolerance: 2 * unit.Metre},
			{ID: "drop", Kind: testTwin, From: "point", To: "hall", Length: 5 * unit.Metre},
		},
		Joints: joints(
			t,
			"board: lights.L feed.red", "board: lights.N feed.black", "board: lights.E feed.cpc",
			"point: lamp.LOOP feed.red drop.red", "point: lamp.L drop.black", "point: lamp.N feed.black", "point: lamp.E feed.cpc drop.cpc",
			"hall: s1.COM drop.red", "hall: s1.L1 drop.black", "hall: drop.cpc",
		),
	}
}

// stairsLeft adds a second switch: a two-way pair with a three-core cable.
func stairsLeft(t testing.TB) *Installation {
	in := stairsFound(t)
	in.Boxes[2] = &Box{ID: "hall", Title: "Hall switch", Kind: testOneG, Fit: []*Fitted{{ID: "s1", Kind: testTwoWay}}}
	in.Boxes = append(in.Boxes, &Box{ID: "landing", Title: "Landing switch", Kind: testOneG, Fit: []*Fitted{{ID: "s1", Kind: testTwoWay}}})
	in.Cables = append(in.Cables, &Cable{ID: "strap", Kind: testTriple, From: "hall", To: "landing", Length: 7 * unit.Metre, Tolerance: unit.Metre})
	in.Joints = append(in.Joints[:7:7], joints(
		t,
		"hall: s1.COM drop.red", "hall: s1.L1 strap.black", "hall: s1.L2 strap.grey",
		"hall: drop.black strap.brown", "hall: drop.cpc strap.cpc",
		"landing: s1.L1 strap.black", "landing: s1.L2 strap.grey", "landing: s1.COM strap.brown", "landing: strap.cpc",
	)...)
	return in
}

func mustBuild(t testing.TB, in *Installation) *Graph {
	t.Helper()
	g, findings := Build(in)
	if g == nil {
		t.Fatalf("the installation contradicts itself: %v", findings)
	}
	return g
}

// reaches floods the graph from a node in a state.
func reaches(g *Graph, from, to Node, s State) bool {
	seen := map[Node]bool{from: true}
	for grown := true; grown; {
		grown = false
		for i := range g.Edges {
			e := &g.Edges[i]
			if e.Closed(s) && seen[e.A] != seen[e.B] {
				seen[e.A], seen[e.B], grown = true, true, true
			}
		}
	}
	return seen[to]
}

// A one-way switch lights the lamp when on. A two-way pair is the sum modulo
// two of its switches (Shannon, "A Symbolic Analysis of Relay and Switching
// Circuits", Trans. AIEE 57 (1938) 713).
func TestGraphConductsAsTheSwitchesSay(t *testing.T) {
	for _, c := range []struct {
		name string
		in   *Installation
		want []bool // by state
	}{
		{"one-way", stairsFound(t), []bool{false, true}},
		{"two-way pair", stairsLeft(t), []bool{true, false, false, true}},
	} {
		g := mustBuild(t, c.in)
		if g.States() != uint64(len(c.want)) {
			t.Errorf("%s: %d states, want %d", c.name, g.States(), len(c.want))
		}
		load := g.Loads[g.LoadsOf("point.lamp")[0]]
		for i, want := range c.want {
			s := g.StateAt(uint64(i))
			if got := reaches(g, g.Origins[0].L, load.A, s); got != want {
				t.Errorf("%s: %s: line reaches the lamp: %v, want %v", c.name, g.Describe(s), got, want)
			}
			if !reaches(g, g.Origins[0].N, load.B, s) || !reaches(g, g.Origins[0].E, nodeOf(t, g, "hall.drop.cpc"), s) {
				t.Errorf("%s: %s: neutral or earth is not continuous", c.name, g.Describe(s))
			}
		}
	}
}

func nodeOf(t testing.TB, g *Graph, path string) Node {
	t.Helper()
	p := strings.Split(path, ".")
	n, ok := g.Node(End{p[0], p[1], p[2]})
	if !ok {
		t.Fatalf("no end %s", path)
	}
	return n
}

func TestBuildReportsContradictions(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Installation)
		code   string
		at     finding.Subject
		fix    string
	}{
		{"end twice", func(in *Installation) {
			in.Joints = append(in.Joints, joint(t, "hall: s1.COM drop.cpc"))
		}, "joined-twice", "joints.hall.s1.COM", "put all the ends"},
		{"wrong terminal", func(in *Installation) { in.Joints[7] = joint(t, "hall: s1.CON drop.red") }, "unknown-terminal", "joints.hall.s1.CON", `did you mean "COM"?`},
		{"wrong item", func(in *Installation) { in.Joints[7] = joint(t, "hall: s1.COM dropp.red") }, "unknown-item", "joints.hall.dropp.red", `did you mean "drop"?`},
		{"cable of another box", func(in *Installation) { in.Joints[7] = joint(t, "hall: s1.COM feed.red") }, "unknown-item", "joints.hall.feed.red", ""},
		{"loop of cable", func(in *Installation) { in.Cables[1].To = "point" }, "cable-to-itself", "cables.drop", "two different boxes"},
		{"cable to nowhere", func(in *Installation) { in.Cables[1].To = "attic" }, "unknown-box", "cables.drop", "add the box"},
		{"no length", func(in *Installation) { in.Cables[1].Length = 0 }, "impossible-length", "cables.drop", "above zero"},
		{"tolerance over length", func(in *Installation) { in.Cables[1].Tolerance = 6 * unit.Metre }, "impossible-length", "cables.drop", "no greater"},
		{"board missing", func(in *Installation) { in.Circuits[0].Board = "bored" }, "unknown-box", "circuits.lights", "consumer unit"},
		{"five positions", func(in *Installation) {
			k := *testOneWay
			k.Positions = []string{"off", "on", "2", "3", "4"}
			in.Boxes[2].Fit[0].Kind = &k
		}, "too-many-positions", "boxes.hall.s1", ""},
	} {
		in := stairsFound(t)
		c.change(in)
		g, findings := Build(in)
		if g != nil {
			t.Errorf("%s: a graph was built", c.name)
		}
		found := false
		for _, f := range findings {
			found = found || f.Code == c.code && f.Subject == c.at && strings.Contains(f.Fix, c.fix) && f.Severity == finding.Forbids
		}
		if !found {
			t.Errorf("%s: no %s at %s with %q in %v", c.name, c.code, c.at, c.fix, findings)
		}
	}
}

func TestUnjoinedEnds(t *testing.T) {
	in := stairsFound(t)
	in.Joints = in.Joints[:8] // leaves s1.L1, drop.black and drop.cpc at the hall
	in.Joints = append(in.Joints, joint(t, "hall: drop.black"))
	g := mustBuild(t, in)
	for _, c := range []struct {
		end           string
		loose, parked bool
	}{{"hall.s1.L1", true, false}, {"hall.drop.cpc", true, false}, {"hall.drop.black", false, true}, {"hall.drop.red", false, false}} {
		if n := nodeOf(t, g, c.end); g.Loose(n) != c.loose || g.Parked(n) != c.parked {
			t.Errorf("%s: loose %v, parked %v; want %v, %v", c.end, g.Loose(n), g.Parked(n), c.loose, c.parked)
		}
	}
	total := 0
	for n := range g.Nodes() {
		total += len(g.Members(Node(n)))
	}
	if want := 3 + 4 + 2 + 2*2*3; total != want { // way, rose, switch; two cables of three cores with two ends
		t.Errorf("the nodes hold %d ends, want each of the %d once", total, want)
	}
}

func TestAccessoriesBecomeEdgesLoadsAndCoils(t *testing.T) {
	in := stairsFound(t)
	in.Boxes[1].Fit[0].Lamp = &Lamp{Kind: testGLS, Power: 60}
	in.Boxes[2].Fit = append(in.Boxes[2].Fit, &Fitted{ID: "r", Kind: testRelay}, &Fitted{ID: "b", Kind: testBridge})
	g := mustBuild(t, in)
	if len(g.Switches) != 2 || len(g.Coils) != 1 || g.Coils[0].Switch != g.SwitchIndex("hall.r") {
		t.Errorf("switches %d, coils %+v", len(g.Switches), g.Coils)
	}
	if g.SwitchIndex("hall.b") != -1 {
		t.Error("an accessory with one position is listed as a switch")
	}
	if !reaches(g, nodeOf(t, g, "hall.b.a"), nodeOf(t, g, "hall.b.b"), g.Rest()) {
		t.Error("terminals joined in the only position do not conduct")
	}
	if got := g.Switches[0].Name(); got != "hall.s1" {
		t.Errorf("one of two switches in a box is called %q", got)
	}
	load := &g.Loads[0]
	if got := float64(load.Current(230)); math.Abs(got-60.0/230) > 1e-12 { // I = P / (U cos φ), cos φ = 1
		t.Errorf("60 W at 230 V and power factor 1 draws %v A", got)
	}
	if load.ID() != "point.lamp" || load.Lamp != testGLS {
		t.Errorf("the job's lamp is not the one burning: %+v", load)
	}
}

// What an accessory uses for itself is no lamp: it keeps its own power, and
// nobody switches it.
func TestOwnConsumptionIsNoLamp(t *testing.T) {
	kind := *testRose
	kind.Loads = append(kind.Loads[:1:1], kit.Load{Between: [2]string{"LOOP", "N"}, Lamp: "led", Power: 1, Always: true, Kind: testLED})
	in := stairsFound(t)
	in.Boxes[1].Fit[0] = &Fitted{ID: "lamp", Kind: &kind, Lamp: &Lamp{Kind: testGLS, Power: 60}}
	g := mustBuild(t, in)
	if list := g.LoadsOf("point.lamp"); len(list) != 1 || g.Loads[list[0]].Power != 60 {
		t.Errorf("the switched loads are %v of %+v", list, g.Loads)
	}
	if own := g.Loads[1]; !own.Always || own.Power != 1 || own.Lamp != testLED {
		t.Errorf("the accessory's own consumption is %+v", own)
	}
}

func TestStatesAreNumberedOnce(t *testing.T) {
	g := mustBuild(t, stairsLeft(t))
	seen := map[string]bool{}
	for i := range g.States() {
		s := g.StateAt(i)
		text := g.Describe(s)
		if seen[text] {
			t.Errorf("state %d repeats %q", i, text)
		}
		seen[text] = true
		if g.Position(s, 0) != []string{"up", "down"}[i%2] {
			t.Errorf("state %d: the first switch does not change fastest: %s", i, text)
		}
	}
	if !seen["hall down, landing up"] || len(seen) != 4 {
		t.Errorf("states are %v", seen)
	}
}

func TestStatesSaturate(t *testing.T) {
	in := &Installation{Boxes: []*Box{{ID: "wall", Kind: testOneG}}}
	for i := range 70 {
		in.Boxes[0].Fit = append(in.Boxes[0].Fit, &Fitted{ID: fmt.Sprint("s", i), Kind: testOneWay})
	}
	if got := mustBuild(t, in).States(); got != 1<<62 {
		t.Errorf("70 switches have %d states", got)
	}
}

func TestEmptyHouse(t *testing.T) {
	g := mustBuild(t, &Installation{})
	if g.Nodes() != 0 || g.States() != 1 || g.Describe(g.Rest()) != "" {
		t.Errorf("an empty house has %d nodes and %d states, %q", g.Nodes(), g.States(), g.Describe(g.Rest()))
	}
}
