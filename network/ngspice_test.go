package network_test

import (
	"bytes"
	"fmt"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"strapper/network"
	"strapper/network/spicetest"
	"strapper/unit"
)

const (
	decks       = 84
	perDeck     = 65    // 5,460 networks in all; ngspice slows down with longer decks
	agreement   = 1e-6  // of the node's voltage
	rounding    = 1e-13 // of the sources: what is left where they cancel to nothing
	fewExcuses  = decks * perDeck * 6 / 100
	exactEnough = 1e-12
)

// prefix names network i of a deck: "aa", "ab", …
func prefix(i int) string { return string([]byte{byte('a' + i/26), byte('a' + i%26)}) }

// ngspice (an independent program, sparse LU) on random networks of 2–15 nodes:
// resistances 1 mΩ–1 GΩ, capacitances 1 pF–3 µF, one to four sources anywhere,
// switches open and closed; every node voltage to 1e-6 of itself. Three decks in
// four are at 50 Hz, one at 0 Hz with resistances only.
//
// A voltage that is the little left over where sources cancel is held to 1e-13 of
// the source voltages instead, since no 16-digit program can do better.
//
// Every node has a way to Ground, and ngspice adds no gmin to linear networks
// once the operating point is left out (".options noopac"). Where the two still
// differ by more the exact solution in 640-bit arithmetic decides:
// ours must be within 1e-12 of the source voltages and nearer to it than
// ngspice at that node. That is so in one network of twenty: sparse LU loses the
// small admittances beside the large ones, and 12 decades of resistance are
// drawn here. At least 5,000 networks must agree without that.
func TestAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	rnd := rand.New(rand.NewPCG(50, 230))
	var c comparison
	for d := range decks {
		f, w := unit.Hertz(50), omega
		if d%4 == 3 {
			f, w = 0, 0
		}
		recipes := make([]*recipe, perDeck)
		for i := range recipes {
			recipes[i] = randomRecipe(rnd, house, f == 0)
		}
		c.deck(t, recipes, f, w)
	}
	t.Logf("%d networks, %d node voltages; largest difference where accepted %.2g; %d networks where ngspice is off, by up to %.2g of the source voltages, ours there by %.2g",
		c.networks, c.voltages, c.most, c.excused, c.theirs, c.ours)
	if agreed := c.networks - c.excused; agreed < 5000 || c.excused > fewExcuses {
		t.Errorf("%d networks agree, %d decided by the exact solution: want at least 5000 and at most %d", agreed, c.excused, fewExcuses)
	}
}

type comparison struct {
	networks, voltages, excused int
	most, theirs, ours          float64
}

func (c *comparison) deck(t *testing.T, recipes []*recipe, f unit.Hertz, w float64) {
	t.Helper()
	var parts []network.SpicePart
	for i, rc := range recipes {
		n, states := rc.build()
		parts = append(parts, network.SpicePart{Prefix: prefix(i), Net: n, States: states})
	}
	var deck bytes.Buffer
	if err := network.WriteSpice(&deck, "random networks", f, parts...); err != nil {
		t.Fatal(err)
	}
	printed := spicetest.Run(t, deck.Bytes())
	for i, rc := range recipes {
		c.network(t, rc, parts[i], printed, f, w)
	}
}

func (c *comparison) network(t *testing.T, rc *recipe, p network.SpicePart, printed map[string]complex128, f unit.Hertz, w float64) {
	t.Helper()
	s := solve(t, p.Net, f, p.States...)
	c.networks++
	excused, floor := false, rounding*rc.sources()
	for node := 1; node < rc.nodes; node++ {
		theirs, ok := printed[network.SpiceNode(p.Prefix, network.Node(node))]
		if !ok {
			t.Fatalf("ngspice did not print node %d of %s", node, p.Prefix)
		}
		ours := volts(t, s, network.Node(node))
		c.voltages++
		if off := cmplx.Abs(ours - theirs); off <= max(agreement*cmplx.Abs(ours), floor) {
			if off > floor {
				c.most = max(c.most, off/cmplx.Abs(ours))
			}
			continue
		}
		excused = true
		c.decide(t, rc, node, ours, theirs, w)
	}
	if excused {
		c.excused++
	}
}

// decide compares both with the exact solution.
func (c *comparison) decide(t *testing.T, rc *recipe, node int, ours, theirs complex128, w float64) {
	t.Helper()
	want := rc.exact(w)[node]
	scale := rc.sources()
	mine, other := cmplx.Abs(ours-want), cmplx.Abs(theirs-want)
	c.theirs, c.ours = max(c.theirs, other/scale), max(c.ours, mine/scale)
	if mine > exactEnough*scale || mine > other {
		t.Errorf("node %d: ours %v, ngspice %v, exact %v, of\n%+v", node, ours, theirs, want, rc.parts)
	}
}

// The three-place network in all eight positions, as written by Spice. On the
// idle strapper ngspice has 2e-8 of the true voltage (100 S of contact beside
// 3e-7 S of capacitance cost its LU seven digits), elsewhere 1e-12 and better.
func TestThreePlaceAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	p := newPlaces(3)
	f, err := p.net.Factor(50)
	if err != nil {
		t.Fatal(err)
	}
	for position, states := range p.positions(f, 8) {
		var deck bytes.Buffer
		if err := p.net.Spice(&deck, "three-place control", 50, states); err != nil {
			t.Fatal(err)
		}
		printed := spicetest.Run(t, deck.Bytes())
		s := f.Solve(states, nil)
		for node := network.Node(1); int(node) < p.net.Nodes(); node++ {
			ours, theirs := volts(t, s, node), printed[network.SpiceNode("", node)]
			if cmplx.Abs(ours-theirs) > 1e-7*cmplx.Abs(ours) {
				t.Errorf("position %d, node %d: %v, ngspice %v", position, node, ours, theirs)
			}
		}
	}
}

// Floating parts in ngspice: their voltages are compared above their lowest
// node, to which the deck ties earth.
func TestFloatingPartsAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	n := network.New()
	plus, mid, minus, alone := n.Node(), n.Node(), n.Node(), n.Node()
	n.Source(plus, minus, 9+3i, 1)
	n.Impedance(plus, mid, network.Series(10e3, 1e-6))
	n.Impedance(mid, minus, network.Parallel(2e3, 0.2e-6))
	n.Switchable(minus, network.Ground, network.Ohms(1), network.Open())
	var deck bytes.Buffer
	if err := n.Spice(&deck, "floating", 50, nil); err != nil {
		t.Fatal(err)
	}
	if ties := strings.Count(deck.String(), "Rtie"); ties != 2 {
		t.Errorf("%d ties, want 2:\n%s", ties, deck.String())
	}
	printed := spicetest.Run(t, deck.Bytes())
	s := solve(t, n, 50)
	for _, node := range []network.Node{plus, mid, minus, alone} {
		v, ok := s.Voltage(node, s.Part(node))
		theirs := printed[fmt.Sprintf("n%d", node)]
		if !ok || cmplx.Abs(complex128(v)-theirs) > 1e-9 {
			t.Errorf("node %d: %v %v, ngspice %v", node, v, ok, theirs)
		}
	}
}
