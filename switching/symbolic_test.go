package switching_test

import (
	"fmt"
	"math/bits"
	"math/rand"
	"testing"

	"strapper/switching"
	"strapper/wiring"
)

// chainOf is a chain with its strappers crossed after some places, and its
// ends of a kind with three terminals.
func chainOf(t testing.TB, n int, ends string, lamps int) (*house, []switching.Want) {
	h := newHouse(t, "c")
	w := switching.Want{Rule: switching.RuleToggle, Subject: "want.0"}
	for i := range n {
		box := fmt.Sprintf("s%02d", i)
		w.From = append(w.From, box+".x")
		before, after := fmt.Sprint("p", i-1, " q", i-1), fmt.Sprint("p", i, " q", i)
		var p, q, r, s string
		fmt.Sscan(before, &p, &q)
		fmt.Sscan(after, &r, &s)
		switch i {
		case 0:
			h.fit(box, ends, "COM=L:c", "L1="+r, "L2="+s)
		case n - 1:
			h.fit(box, ends, "COM=SL", "L1="+p, "L2="+q)
		default:
			h.fit(box, "intermediate", "A1="+p, "A2="+q, "B1="+r, "B2="+s)
		}
	}
	for i := range lamps {
		box := fmt.Sprintf("lamp%d", i)
		h.fit(box, "luminaire-class2", "L=SL", "N=N:c")
		w.Lamps = append(w.Lamps, box+".x")
	}
	return h, []switching.Want{w}
}

// Shannon 1938 again, beyond what truth tables can hold. Bryant, IEEE Trans.
// Computers C-35 (1986) 677: the diagram of parity has 2n-1 nodes; it is true
// in 2^(n-1) states.
func TestLongChains(t *testing.T) {
	for n := 21; n <= 64; n++ {
		h, want := chainOf(t, n, "two-way", 1)
		g := h.graph()
		p := switching.Prove(g, want)
		if !p.Exact || codes(p) != "" {
			t.Fatalf("%d places: exact %v, findings %s", n, p.Exact, codes(p))
		}
		if got := p.DiagramNodes(0); got != 2*n-1 {
			t.Errorf("%d places: %d nodes, want %d", n, got, 2*n-1)
		}
		if got := p.CountLit(0); got != 1<<(n-1) {
			t.Errorf("%d places: lit in %d states, want %d", n, got, uint64(1)<<(n-1))
		}
		sampleParity(t, g, p)
	}
}

func sampleParity(t *testing.T, g *wiring.Graph, p *switching.Proof) {
	t.Helper()
	r := rand.New(rand.NewSource(1))
	for range 200 {
		number, s := r.Uint64(), g.Rest()
		for i := range s {
			s[i] = uint8(number >> i & 1)
		}
		odd := bits.OnesCount64(number<<(64-len(s)))%2 == 1
		if p.Lit(0, s) == odd {
			t.Fatalf("%d places: %v is wrong", len(s), s)
		}
	}
}

// A place left out of the strappers, or landed wrongly, must be found however
// long the chain.
func TestLongChainRefused(t *testing.T) {
	for _, n := range []int{6, 12, 19, 30, 64} {
		h, want := chainOf(t, n, "two-way", 1)
		// at the third switch, a strapper of one side and one of the other change places
		for net, ends := range h.nodes {
			for i := range ends {
				if ends[i].Box == "s02" && (ends[i].Name == "A2" || ends[i].Name == "B1") {
					h.nodes[net][i].Name = map[string]string{"A2": "B1", "B1": "A2"}[ends[i].Name]
				}
			}
		}
		p := switching.Prove(h.graph(), want)
		if !p.Exact || codes(p) != "does-not-switch" {
			t.Errorf("%d places: exact %v, findings %q", n, p.Exact, codes(p))
		}
		// dark for good in one position of the third switch: every other switch
		// fails from there; it fails itself where the others leave the lamp dark
		if got := len(without(p.Findings, "missing-cpc")); got != n {
			t.Errorf("%d places: %d findings, want one for each switch", n, got)
		}
	}
}

// Switches of three positions take two bits, also where these lie in two words
// or in two blocks of the table: five and eleven of two positions come before
// them. Lit when the number of moved switches is even and none is off.
func TestThreePositions(t *testing.T) {
	for _, n := range []int{2, 3, 6, 7, 8, 12, 13, 14} {
		h, want := chainOf(t, n, "two-way-and-off", 1)
		g := h.graph()
		p := switching.ProveByTable(g, want)
		if codes(p) != "" {
			t.Errorf("%d places: findings %s", n, codes(p))
		}
		if got := p.CountLit(0); got != 1<<(n-1) {
			t.Errorf("%d places: lit in %d states, want %d", n, got, 1<<(n-1))
		}
		b := newBrute(g)
		for i := uint64(0); i < g.States(); i += 1 + g.States()/500 {
			b.set(g.StateAt(i))
			if p.Lit(0, b.s) != b.lit(&g.Loads[0]) {
				t.Fatalf("%d places: %s is wrong", n, g.Describe(b.s))
			}
		}
	}
}

// Several switches that may hold the lamps off, of three positions each; with
// one of them landed wrongly the control must fail.
func TestThreePositionsRefused(t *testing.T) {
	h, want := chainOf(t, 7, "two-way-and-off", 1)
	for _, name := range []string{"p0", "q0"} {
		for i, e := range h.nodes[name] {
			if e.Box == "s00" && e.Name == "L2" {
				h.nodes[name][i].Name = "COM"
			}
		}
	}
	for i, e := range h.nodes["L:c"] {
		if e.Box == "s00" {
			h.nodes["L:c"][i].Name = "L2"
		}
	}
	p := switching.Prove(h.graph(), want)
	if codes(p) != "does-not-switch" {
		t.Errorf("findings %q", codes(p))
	}
}

// A function too large for the bound on nodes is answered "not proved": a grid
// of 144 nets with a one-way switch on each of its 264 sides.
func TestTooLarge(t *testing.T) {
	h := newHouse(t, "c")
	r := rand.New(rand.NewSource(3))
	const side = 12
	at := func(x, y int) string { return fmt.Sprintf("g%d.%d", x, y) }
	k := h.cat.Accessories["one-way"]
	for x := range side {
		for y := range side {
			if x+1 < side {
				h.fitKind(fmt.Sprintf("r%d.%d", x, y), k, "COM="+at(x, y), "L1="+at(x+1, y))
			}
			if y+1 < side {
				h.fitKind(fmt.Sprintf("u%d.%d", x, y), k, "COM="+at(x, y), "L1="+at(x, y+1))
			}
		}
	}
	h.fit("feed", "one-way", "COM=L:c", "L1="+at(r.Intn(side), r.Intn(side)))
	h.fit("lamp", "luminaire-class2", "L="+at(r.Intn(side), r.Intn(side)), "N=N:c")
	p := switching.Prove(h.graph(), nil)
	if p.Exact || codes(p) != "not-proved" || p.Lit(0, nil) || p.CountLit(0) != 0 {
		t.Errorf("exact %v, findings %q", p.Exact, codes(p))
	}
}

// Wherever the diagrams are given up, truth tables give the same proof.
func TestGivenUp(t *testing.T) {
	h, wants := randomHouse(t, 5, 9)
	g := h.graph()
	want := switching.ProveByTable(g, wants)
	for nodes := 3; nodes < 300; nodes += 7 {
		compareProofs(t, int64(nodes), g, want, switching.ProveCramped(g, wants, nodes))
	}
	h, wants = chainOf(t, 24, "two-way", 1)
	g = h.graph()
	gaveUp := false
	for nodes := 3; nodes < 1500; nodes += 60 {
		p := switching.ProveCramped(g, wants, nodes)
		gaveUp = gaveUp || !p.Exact
		if !p.Exact && codes(p) != "not-proved" || p.Exact && p.CountLit(0) != 1<<23 {
			t.Errorf("%d nodes: exact %v, findings %q", nodes, p.Exact, codes(p))
		}
	}
	if !gaveUp {
		t.Error("a few nodes were enough: the test looks at nothing")
	}
}

// rooms is a house of separate two-place lights on one circuit.
func rooms(t testing.TB, n int) (*house, []switching.Want) {
	h := newHouse(t, "c")
	var wants []switching.Want
	for i := range n {
		name := func(s string) string { return fmt.Sprintf("%s%02d", s, i) }
		h.fit(name("a"), "two-way", "COM=L:c", "L1="+name("p"), "L2="+name("q"))
		h.fit(name("b"), "two-way", "COM="+name("SL"), "L1="+name("p"), "L2="+name("q"))
		h.fit(name("lamp"), "luminaire-class2", "L="+name("SL"), "N=N:c")
		wants = append(wants, wantToggle(name("lamp")+".x", name("a")+".x", name("b")+".x")...)
	}
	return h, wants
}

// With one-way switches bridging a grid of nets that is just small enough for
// a table, the two methods must still agree.
func TestGridByBothWays(t *testing.T) {
	const side = 3
	h := newHouse(t, "c")
	at := func(x, y int) string { return fmt.Sprintf("g%d.%d", x, y) }
	for x := range side {
		for y := range side {
			if x+1 < side {
				h.fit(fmt.Sprintf("r%d.%d", x, y), "one-way", "COM="+at(x, y), "L1="+at(x+1, y))
			}
			if y+1 < side {
				h.fit(fmt.Sprintf("u%d.%d", x, y), "one-way", "COM="+at(x, y), "L1="+at(x, y+1))
			}
		}
	}
	h.fit("feed", "double-pole", "Lin=L:c", "Lout="+at(0, 0))
	h.fit("lamp", "luminaire-class2", "L="+at(2, 2), "N=N:c")
	g := h.graph()
	compareProofs(t, 0, g, switching.ProveByTable(g, nil), switching.ProveByDiagram(g, nil))
}

// A whole house: more switches than a table holds, none of which minds the
// other rooms.
func TestManyRooms(t *testing.T) {
	h, wants := rooms(t, 20)
	g := h.graph()
	p := switching.Prove(g, wants)
	if !p.Exact || codes(p) != "" {
		t.Fatalf("exact %v, findings %s", p.Exact, codes(p))
	}
	for i := range g.Loads {
		if got := fmt.Sprint(p.Switched(i)); got != fmt.Sprint([]int{2 * i, 2*i + 1}) || p.CountLit(i) != 1<<39 {
			t.Errorf("lamp %d minds %s, lit in %d states", i, got, p.CountLit(i))
		}
	}
}

func BenchmarkProveSymbolic(b *testing.B) {
	for _, n := range []int{21, 32, 64} {
		h, want := chainOf(b, n, "two-way", 1)
		benchmark(b, fmt.Sprintf("places=%d", n), h, want)
	}
	for _, n := range []int{11, 20, 40} {
		h, want := rooms(b, n)
		benchmark(b, fmt.Sprintf("rooms=%d", n), h, want)
	}
}

func benchmark(b *testing.B, name string, h *house, wants []switching.Want) {
	g := h.graph()
	b.Run(name, func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			switching.Prove(g, wants)
		}
	})
}

// BenchmarkProveLamps has several lamps in parallel at 20 places, and a lamp
// whose neutral is missing, so that lamps in series must be looked for.
func BenchmarkProveLamps(b *testing.B) {
	for _, n := range []int{1, 2, 6} {
		h, want := chainOf(b, 20, "two-way", n)
		benchmark(b, fmt.Sprintf("lamps=%d", n), h, want)
	}
	h, want := chainOf(b, 20, "two-way", 2)
	h.fit("dark", "luminaire-class2", "L=L:c")
	benchmark(b, "no-neutral", h, want)
	h, want = rooms(b, 10)
	benchmark(b, "rooms=10", h, want)
}

// BenchmarkBrute is union-find rebuilt for every state, for comparison.
func BenchmarkBrute(b *testing.B) {
	for _, n := range []int{3, 10, 16} {
		h, _ := chainOf(b, n, "two-way", 1)
		g := h.graph()
		b.Run(fmt.Sprintf("places=%d", n), func(b *testing.B) {
			for b.Loop() {
				u := newBrute(g)
				for i := range g.States() {
					u.set(g.StateAt(i))
					u.lit(&g.Loads[0])
				}
			}
		})
	}
}
