package switching_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// liveSomewhere is the plainest way to the same answer: with some circuits off,
// a box taken apart in one way, the switches in one state, walk from each line
// that is on over contacts, conductors and lamps, and see whether an end of
// the box is come to. A walk over a lamp does not end at a place that neutral or
// earth holds; a short circuit, where line meets them, passes its voltage on.
func liveSomewhere(g *wiring.Graph, box string, off, letGo []bool) bool {
	b := newBrute(g)
	for i := range g.States() {
		b.set(g.StateAt(i))
		held := func(n wiring.Node) bool {
			for k, o := range g.Origins {
				if b.same(n, o.E) || !letGo[k] && b.same(n, o.N) {
					return true
				}
			}
			return false
		}
		live := make([]bool, g.Nodes())
		spread := func(n wiring.Node) (more bool) {
			for m := range wiring.Node(g.Nodes()) {
				if b.same(n, m) && !live[m] {
					live[m], more = true, true
				}
			}
			return more
		}
		for k, o := range g.Origins {
			if !off[k] {
				spread(o.L)
			}
		}
		for more := true; more; {
			more = false
			for k := range g.Loads {
				x, y := g.Loads[k].A, g.Loads[k].B
				if live[y] {
					x, y = y, x
				}
				if live[x] && !live[y] && !held(y) {
					more = spread(y) || more
				}
			}
		}
		for n := range wiring.Node(g.Nodes()) {
			if m := g.Members(n); live[n] && len(m) > 0 && slices.ContainsFunc(m, func(e wiring.End) bool { return e.Box == box }) {
				return true
			}
		}
	}
	return false
}

// takenApart is the house with some joints of a box divided: bit k of the
// pattern divides the k-th joint of the box into its ends.
func takenApart(t testing.TB, in wiring.Installation, box string, pattern int) *wiring.Graph {
	t.Helper()
	var joints []wiring.Joint
	k := 0
	for _, j := range in.Joints {
		if j.Box == box {
			k++
			if pattern>>(k-1)&1 == 1 {
				continue
			}
		}
		joints = append(joints, j)
	}
	in.Joints = joints
	g, problems := wiring.Build(&in)
	if g == nil {
		t.Fatal(problems)
	}
	return g
}

// borrowing adds a circuit, some of it behind a device that may break its
// neutral, and a lamp between the line of one circuit and the neutral of another by
// way of a joint box.
func borrowing(h *house, r *rand.Rand) {
	circuits := []string{"c"}
	for _, c := range h.in.Circuits[1:] {
		circuits = append(circuits, c.ID)
	}
	if r.Intn(2) == 0 {
		h.in.Circuits = append(h.in.Circuits, &wiring.Circuit{ID: "e", Board: "board", Device: h.cat.Devices["mcb-b6"], Way: h.cat.Accessories["cu-way"]})
		h.wire("L:e", "board", "e", "L")
		h.wire("N:e", "board", "e", "N")
		h.wire("E", "board", "e", "E")
		circuits = append(circuits, "e")
	}
	for _, c := range h.in.Circuits {
		switch r.Intn(6) {
		case 0, 1:
			c.Device = h.cat.Devices["rcbo-b6"]
		case 2:
			c.RCD = h.cat.Devices["rcd-30"]
		}
	}
	pick := func() string { return circuits[r.Intn(len(circuits))] }
	h.fit("jb", "connector-3", "1=L:"+pick(), "2=N:"+pick(), "3=n1")
	h.fit("far", "lampholder", "L=L:"+pick(), "N=N:"+pick())
	h.fit("near", "lampholder", "L=n1", "N=N:"+pick())
}

// opensNeutral: an RCBO may, and so may an RCD before the circuit when it trips.
func opensNeutral(c *wiring.Circuit) bool { return c.Device.Type == kit.RCBO || c.RCD != nil }

func isolationHouse(t testing.TB, seed int64) *house {
	h, _ := randomHouse(t, seed, 5)
	borrowing(h, rand.New(rand.NewSource(seed)))
	return h
}

// sets lists all subsets of n circuits, the smaller first.
func sets(n int) [][]bool {
	var list [][]bool
	for bits := range 1 << n {
		s := make([]bool, n)
		for i := range s {
			s[i] = bits>>i&1 == 1
		}
		list = append(list, s)
	}
	count := func(s []bool) (k int) {
		for _, v := range s {
			if v {
				k++
			}
		}
		return k
	}
	slices.SortStableFunc(list, func(a, b []bool) int { return count(a) - count(b) })
	return list
}

// Isolate against brute force on seeded random houses: every set of circuits
// off, every way of dividing the joints of the box, every state, and devices
// that break the neutral or do not. The set found must be safe in all of them,
// and no smaller set may be.
func TestIsolateAgainstBruteForce(t *testing.T) {
	answers := map[string]int{}
	for seed := range int64(250) {
		h := isolationHouse(t, seed)
		g := h.graph()
		in := *g.Inst
		for _, box := range in.Boxes {
			if box.ID == "board" {
				continue
			}
			is := switching.Isolate([]string{box.ID}, g)
			compareIsolation(t, seed, in, box.ID, is, answers)
			if t.Failed() {
				return
			}
		}
	}
	t.Log(answers)
	for _, kind := range []string{"0 off", "1 off", "2 off", "through a lamp", "let go", "let go by what is beside"} {
		if answers[kind] < 10 {
			t.Errorf("only %d boxes with %s: the test looks at too little", answers[kind], kind)
		}
	}
}

func compareIsolation(t *testing.T, seed int64, in wiring.Installation, box string, is *switching.Isolation, answers map[string]int) {
	t.Helper()
	joints := 0
	for _, j := range in.Joints {
		joints += b2i(j.Box == box)
	}
	var graphs []*wiring.Graph
	for pattern := range 1 << joints {
		graphs = append(graphs, takenApart(t, in, box, pattern))
	}
	unsafe := func(off []bool) bool {
		letGo := make([]bool, len(off))
		var could []int
		for k, c := range in.Circuits {
			if off[k] && opensNeutral(c) {
				could = append(could, k)
			}
		}
		for bits := range 1 << len(could) {
			for i, k := range could {
				letGo[k] = bits>>i&1 == 1
			}
			if slices.ContainsFunc(graphs, func(g *wiring.Graph) bool { return liveSomewhere(g, box, off, letGo) }) {
				return true
			}
		}
		return false
	}
	var smallest []string
	for _, off := range sets(len(in.Circuits)) {
		if unsafe(off) {
			continue
		}
		for k, c := range in.Circuits {
			if off[k] {
				smallest = append(smallest, c.ID)
			}
		}
		break
	}
	if got := is.Circuits(); !slices.Equal(got, smallest) || !is.Exact {
		t.Errorf("seed %d, box %s: off %v, brute force says %v", seed, box, got, smallest)
	}
	all := make([]bool, len(in.Circuits))
	for k, c := range in.Circuits {
		all[k] = slices.Contains(is.All(), c)
	}
	if unsafe(all) {
		t.Errorf("seed %d, box %s: with %v and %v off it is not safe", seed, box, is.Circuits(), is.Beside)
	}
	for _, b := range is.Beside {
		if b.Witness != "" {
			answers["let go by what is beside"]++
		}
	}
	answers[fmt.Sprintf("%d off", len(is.Needed))]++
	for _, n := range is.Needed {
		if n.Through {
			answers["through a lamp"]++
		}
		if strings.Contains(n.Witness, "live") == false {
			t.Errorf("seed %d, box %s: no witness for %s", seed, box, n.Circuit.ID)
		}
	}
	answers["let go"] += letGoMatters(in, box, is)
}

// letGoMatters counts boxes in which a circuit must be off only because
// another's device may break its neutral.
func letGoMatters(in wiring.Installation, box string, is *switching.Isolation) int {
	plain := in
	plain.Circuits = nil
	for _, c := range in.Circuits {
		d := *c
		d.Device, d.RCD = &kit.Device{Type: kit.MCB, Rating: 6}, nil
		plain.Circuits = append(plain.Circuits, &d)
	}
	g, _ := wiring.Build(&plain)
	return b2i(len(switching.Isolate([]string{box}, g).Needed) < len(is.Needed))
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// The same by voltages: with the set off and the box taken apart, a
// low-impedance tester reads next to nothing from any end of the box to earth,
// in any state; the numeric network knows nothing of the method. Houses with a
// dead short are left out: there the supply collapses or the device trips.
func TestIsolatedBoxesHaveNoVoltage(t *testing.T) {
	live := 0
	for seed := range int64(200) {
		h := isolationHouse(t, seed)
		g := h.graph()
		if shorted(switching.Prove(g, nil)) {
			continue
		}
		in := *g.Inst
		in.Supply = wiring.Supply{Voltage: 230, Frequency: 50, Earthing: wiring.TNS, Ze: 0.5, Ambient: 20}
		for _, box := range in.Boxes {
			if box.ID == "board" {
				continue
			}
			is := switching.Isolate([]string{box.ID}, g)
			apart := takenApart(t, in, box.ID, -1)
			off := make([]bool, len(in.Circuits))
			for i, c := range in.Circuits {
				off[i] = is.Has(c.ID)
			}
			if v := highest(t, h, apart, box.ID, off); v > 5 {
				t.Fatalf("seed %d, box %s: %v with %v off", seed, box.ID, v, is.Circuits())
			}
			live += b2i(len(is.Needed) > 0 && highest(t, h, apart, box.ID, make([]bool, len(off))) > 50)
		}
	}
	if live < 50 {
		t.Errorf("only %d boxes were live with everything on: the test looks at too little", live)
	}
}

func shorted(p *switching.Proof) bool {
	return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Code == "short-circuit" || f.Code == "earth-fault"
	})
}

// highest is the greatest voltage that a tester of 3 kΩ reads in a box.
func highest(t *testing.T, h *house, g *wiring.Graph, box string, off []bool) (most unit.Volt) {
	t.Helper()
	view, err := g.View(h.cat, wiring.Condition{Temperature: 20, Supplied: true})
	if err != nil {
		t.Fatal(err)
	}
	for i := range g.States() {
		set := wiring.Setting{State: g.StateAt(i), Off: off, Lit: func(int) bool { return true }}
		for n := range wiring.Node(g.Nodes()) {
			if m := g.Members(n); len(m) > 0 && m[0].Box == box {
				most = max(most, view.Port(set, n, g.Origins[0].E).Reads(3000))
			}
		}
	}
	return most
}

// Truth tables and decision diagrams must ask for the same circuits and put
// out the same lamps.
func TestIsolateTablesAgainstDiagrams(t *testing.T) {
	for seed := range int64(120) {
		g := isolationHouse(t, seed).graph()
		for _, box := range g.Inst.Boxes {
			a, b := switching.Isolate([]string{box.ID}, g), switching.IsolateByDiagram([]string{box.ID}, g)
			if fmt.Sprint(a.Circuits(), a.Dark, a.Partly) != fmt.Sprint(b.Circuits(), b.Dark, b.Partly) {
				t.Fatalf("seed %d, box %s: %v dark %v, by diagram %v dark %v", seed, box.ID, a.Circuits(), a.Dark, b.Circuits(), b.Dark)
			}
			for i := range a.Needed {
				if !slices.Equal(a.Needed[i].Live, b.Needed[i].Live) || a.Needed[i].Through != b.Needed[i].Through {
					t.Fatalf("seed %d, box %s: %v, by diagram %v", seed, box.ID, a.Needed[i], b.Needed[i])
				}
			}
		}
	}
}

// What goes dark, counted state by state.
func TestDarkAgainstBruteForce(t *testing.T) {
	dark := 0
	for seed := range int64(150) {
		g := isolationHouse(t, seed).graph()
		for _, box := range g.Inst.Boxes {
			is := switching.Isolate([]string{box.ID}, g)
			off, letGo := make([]bool, len(g.Origins)), make([]bool, len(g.Origins))
			for k, o := range g.Origins {
				off[k] = is.Has(o.Circuit.ID) || slices.Contains(is.All(), o.Circuit)
				letGo[k] = off[k] && opensNeutral(o.Circuit)
			}
			var want []string
			for _, i := range g.Lamps() {
				if fedIn(g, i, nil, nil) > 0 && fedIn(g, i, off, letGo) == 0 {
					want = append(want, g.Loads[i].ID())
				}
			}
			if !slices.Equal(is.Dark, want) {
				t.Fatalf("seed %d, box %s: dark %v, state by state %v", seed, box.ID, is.Dark, want)
			}
			dark += len(want)
		}
	}
	if dark < 100 {
		t.Errorf("only %d lamps went dark", dark)
	}
}

// fedIn counts the states in which a load is fed.
func fedIn(g *wiring.Graph, load int, off, letGo []bool) (n int) {
	b := newBrute(g)
	is := func(list []bool, k int) bool { return list != nil && list[k] }
	at := func(x wiring.Node, pole func(wiring.Origin) wiring.Node, without []bool) bool {
		for k, o := range g.Origins {
			if !is(without, k) && b.same(x, pole(o)) {
				return true
			}
		}
		return false
	}
	line, neutral := func(o wiring.Origin) wiring.Node { return o.L }, func(o wiring.Origin) wiring.Node { return o.N }
	l := &g.Loads[load]
	for i := range g.States() {
		b.set(g.StateAt(i))
		n += b2i(at(l.A, line, off) && at(l.B, neutral, letGo) || at(l.B, line, off) && at(l.A, neutral, letGo))
	}
	return n
}

// The stair light of two circuits that the trade warns of: line from one floor,
// neutral from the other (reg. 314.4 of BS 7671 forbids it in new work, from
// memory, to be confirmed). At the light both must be off, although a tester
// shows its neutral dead; at the neutral's joint too; at the switch on the
// line only the one.
func TestBorrowedNeutralNeedsBoth(t *testing.T) {
	h := newHouse(t, "up", "down")
	h.fit("landing", "one-way", "COM=L:up", "L1=SL")
	h.fit("hall", "luminaire-class2", "L=L:down", "N=N:down")
	h.fit("stairs", "luminaire-class2", "L=SL", "N=nd")
	h.fit("joint", "connector-3", "1=nd", "2=N:down")
	for i := range h.in.Boxes {
		if h.in.Boxes[i].ID == "joint" { // one joint of the two
			h.wire("nd", "joint", "x", "2")
		}
	}
	g := h.graph()
	for box, want := range map[string]string{"landing": "up", "hall": "down", "stairs": "up", "joint": "up", "board": "up down"} {
		is := switching.Isolate([]string{box}, g)
		if got := strings.Join(is.Circuits(), " "); got != want {
			t.Errorf("%s: off %s, want %s: %+v", box, got, want, is.Needed)
		}
		if box == "joint" && (!is.Needed[0].Through || !strings.Contains(is.Needed[0].Witness, "stairs.x")) {
			t.Errorf("the joint's neutral is live through the lamp: %+v", is.Needed[0])
		}
		if is.Board != (box == "board") {
			t.Errorf("%s: board %v", box, is.Board)
		}
	}
	pairs := switching.DeadTests(g, "joint")
	for _, p := range pairs {
		if p.Shows {
			t.Errorf("a borrowed neutral shows nothing to a tester while it is joined, yet %v does", p.A.Name(g))
		}
	}
}

// A lamp between two circuits whose line is, by mistake, joined to a neutral as
// well: the short circuit passes a voltage on until a device opens, so what hangs
// beyond the lamp is live too. The circuits by hand: d is shorted at the joint,
// its lamp leads on to the open end in the box.
func TestShortCircuitIsLive(t *testing.T) {
	h := newHouse(t, "c", "d")
	h.fit("joint", "connector-3", "1=L:d", "2=N:c")
	h.wire("L:d", "joint", "x", "2")
	h.fit("lamp", "luminaire-class2", "L=L:d", "N=far")
	h.fit("end", "connector-3", "1=far")
	is := switching.Isolate([]string{"end"}, h.graph())
	if got := strings.Join(is.Circuits(), " "); got != "d" {
		t.Fatalf("off %q, want d", got)
	}
	if w := is.Needed[0].Witness; !strings.Contains(w, "lamp.x") {
		t.Errorf("%q names no path through the lamp", w)
	}
}

// An RCD before a circuit stays on when the circuit's breaker is off, and trips
// when its neutral is touched to earth; then the neutral that another circuit
// borrows elsewhere is live. By hand: the lamp takes its line from d and its
// neutral from c, beyond the box that is opened.
func TestRCDBeforeCircuitLetsGoOfNeutral(t *testing.T) {
	for _, rcd := range []string{"", "rcd-30"} {
		h := newHouse(t, "c", "d")
		h.in.Circuits[0].RCD = h.cat.Devices[rcd]
		h.fit("box", "connector-3", "1=L:c", "2=N:c")
		h.fit("lamp", "luminaire-class2", "L=L:d", "N=N:c")
		is := switching.Isolate([]string{"box"}, h.graph())
		var all []string
		for _, c := range is.All() {
			all = append(all, c.ID)
		}
		want := "c"
		if rcd != "" {
			want = "c d"
		}
		if got := strings.Join(all, " "); got != want {
			t.Errorf("with %q before it: off %q, want %q", rcd, got, want)
		}
	}
}

// Two boxes of a neutral that is looped: either alone leaves it held by way of
// the other, both at once do not.
func TestBoxesOpenedTogether(t *testing.T) {
	h := newHouse(t, "c", "d")
	h.fit("lamp", "luminaire-class2", "L=L:d", "N=far")
	for _, box := range []string{"a", "b"} {
		h.fit(box, "connector-3", "1=far", "2=N:c")
		h.wire("far", box, "x", "2") // one joint of the two
	}
	g := h.graph()
	for _, c := range []struct {
		boxes []string
		need  string
	}{{[]string{"a"}, ""}, {[]string{"b"}, ""}, {[]string{"a", "b"}, "d"}} {
		if got := strings.Join(switching.Isolate(c.boxes, g).Circuits(), " "); got != c.need {
			t.Errorf("%v: off %q, want %q", c.boxes, got, c.need)
		}
	}
}

// A pair of DeadTests shows voltage exactly where the numeric network has some
// state and some circuits left on in which it does.
func TestDeadTestsAgainstVoltages(t *testing.T) {
	pairs := 0
	for seed := range int64(120) {
		h := isolationHouse(t, seed)
		g := h.graph()
		if shorted(switching.Prove(g, nil)) {
			continue
		}
		g.Inst.Supply = wiring.Supply{Voltage: 230, Frequency: 50, Earthing: wiring.TNS, Ze: 0.5, Ambient: 20}
		view, err := g.View(h.cat, wiring.Condition{Temperature: 20, Supplied: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, box := range g.Inst.Boxes {
			tests := switching.DeadTests(g, box.ID)
			checkAllLiveTested(t, seed, g, view, box.ID, tests)
			for _, d := range tests {
				if d.B.Node < 0 {
					d.B.Node = g.Origins[0].E
				}
				most := unit.Volt(0)
				for i := range g.States() {
					most = max(most, view.Port(wiring.Setting{State: g.StateAt(i)}, d.A.Node, d.B.Node).Reads(300e3))
				}
				if d.Shows && most < 200 {
					t.Fatalf("seed %d, box %s: %s to %s should show, and reads %v", seed, box.ID, d.A.Name(g), d.B.Name(g), most)
				}
				pairs += b2i(d.Shows)
			}
		}
	}
	if pairs < 200 {
		t.Errorf("only %d pairs show", pairs)
	}
}

// A box to which one of neutral and earth does not come says so: every test in
// it hangs on the other.
func TestReliance(t *testing.T) {
	h := newHouse(t, "c")
	h.fit("hall", "one-way", "COM=L:c", "L1=SL")
	h.fit("both", "connector-3", "1=SL", "2=N:c", "3=E")
	h.fit("bare", "connector-3", "1=SL", "2=N:c")
	h.fit("metal", "connector-3", "1=SL", "2=E")
	g := h.graph()
	for box, want := range map[string]string{"both": "", "bare": "No protective conductor", "metal": "No neutral", "hall": ""} {
		if got := switching.Reliance(switching.DeadTests(g, box)); (want == "") != (got == "") || !strings.HasPrefix(got, want) {
			t.Errorf("%s: %q, want %q", box, got, want)
		}
	}
}

// checkAllLiveTested wants every conductor that some state makes live, by the
// numeric network, in a pair that would show it.
func checkAllLiveTested(t *testing.T, seed int64, g *wiring.Graph, view *wiring.View, box string, tests []switching.DeadTest) {
	t.Helper()
	for n := range wiring.Node(g.Nodes()) {
		if !slices.ContainsFunc(g.Members(n), func(e wiring.End) bool { return e.Box == box }) {
			continue
		}
		for i := range g.States() {
			v := view.Port(wiring.Setting{State: g.StateAt(i)}, n, g.Origins[0].E).Reads(3000)
			if v > 200 && !slices.ContainsFunc(tests, func(d switching.DeadTest) bool { return d.Shows && (d.A.Node == n || d.B.Node == n) }) {
				t.Fatalf("seed %d, box %s: %v is live with %v and in no pair that shows it", seed, box, g.Members(n), g.Describe(g.StateAt(i)))
			}
		}
	}
}

func BenchmarkIsolate(b *testing.B) {
	h, _ := chain(b, 8)
	g := h.graph()
	for b.Loop() {
		for _, box := range g.Inst.Boxes {
			switching.Isolate([]string{box.ID}, g)
		}
	}
}

// Where the switches are too many to work out, every circuit is asked for, and
// it is said that this is not exact.
func TestIsolateTooLarge(t *testing.T) {
	h, _ := chain(t, switching.MaxBits+4) // more places than truth tables reach
	g := h.graph()
	is := switching.IsolateCramped([]string{"lamp"}, g, 10)
	if is.Exact || strings.Join(is.Circuits(), " ") != "c" || is.Needed[0].Witness == "" {
		t.Errorf("%+v", is)
	}
	if is := switching.Isolate([]string{"lamp"}, g); !is.Exact || strings.Join(is.Circuits(), " ") != "c" {
		t.Errorf("with room for it: %+v", is)
	}
}

// FuzzIsolate wants no panic, and no answer that differs by method, of any house
// that can be described.
func FuzzIsolate(f *testing.F) {
	f.Add(int64(3), uint8(0))
	f.Add(int64(11), uint8(2))
	f.Fuzz(func(t *testing.T, seed int64, pick uint8) {
		g := isolationHouse(t, seed).graph()
		box := g.Inst.Boxes[int(pick)%len(g.Inst.Boxes)].ID
		a, b := switching.Isolate([]string{box}, g), switching.IsolateByDiagram([]string{box}, g)
		if fmt.Sprint(a.Circuits(), a.Dark, a.Partly) != fmt.Sprint(b.Circuits(), b.Dark, b.Partly) {
			t.Errorf("box %s: %v, by diagram %v", box, a, b)
		}
		switching.DeadTests(g, box)
	})
}

// BenchmarkIsolateMany is one box of a house of 40 switches, by diagram.
func BenchmarkIsolateMany(b *testing.B) {
	h, _ := chainOf(b, 40, "two-way", 1)
	g := h.graph()
	box := g.Inst.Boxes[len(g.Inst.Boxes)/2].ID
	for b.Loop() {
		switching.Isolate([]string{box}, g)
		switching.DeadTests(g, box)
	}
}
