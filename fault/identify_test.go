package fault_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"strapper/fault"
	"strapper/kit"
	"strapper/wiring"
)

// fiveReds is a wall box with five unmarked reds in conduit, each a single
// conductor, whose other ends lie in two boxes.
func fiveReds(t *testing.T) *fault.Unknown {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	red := cat.Cables["single-red-1.0"]
	if red == nil {
		t.Fatal("the catalogue has no single red")
	}
	u := &fault.Unknown{Known: &wiring.Installation{Boxes: []*wiring.Box{{ID: "a"}, {ID: "b"}, {ID: "c"}}}}
	for _, l := range []string{"a1", "a2", "a3", "a4", "a5", "b1", "b2", "b3", "c1", "c2"} {
		u.Ends = append(u.Ends, fault.LooseEnd{Box: l[:1], Label: l, Kind: red})
	}
	return u
}

// Every way that the five reds may run is found by the tests, in few more than
// its information: of ways that are equally likely no series of tests with two
// outcomes takes fewer than log2 of their number on average.
func TestFiveReds(t *testing.T) {
	u := fiveReds(t)
	p, err := fault.NewPuzzle(u)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(3, 6))
	total, tries := 0, 60
	for range tries {
		truth := r.IntN(p.Ways())
		n := solve(t, p, truth)
		if p.Best() != truth {
			t.Errorf("way %d was taken for %d", truth, p.Best())
		}
		total += n
		for p.Undo() {
		}
	}
	mean, bound := float64(total)/float64(tries), math.Log2(float64(p.Ways()))
	t.Logf("%d ways, %.2f tests on average, entropy %.2f", p.Ways(), mean, bound)
	if mean > 1.15*bound {
		t.Errorf("%.2f tests on average, more than 1.15 times %.2f", mean, bound)
	}
}

// solve answers the tests as a way gives them, and counts them.
func solve(t *testing.T, p *fault.Puzzle, truth int) (n int) {
	t.Helper()
	for ; n < 50; n++ {
		test, _ := p.Next()
		if test == nil {
			return n
		}
		test.Joined = slices.Contains(test.Linked, p.Other(truth, test.Read))
		if err := p.See(*test); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

// A two-way pair in old colours whose three-core cable has cores of one colour:
// what is found, written out and proved, is the house.
func TestFoundRunsAreTheHouse(t *testing.T) {
	f := read(t, "two-wire", twoWire, fault.Options{SinglesOnly: true})
	in := f.Graph().Inst
	u := &fault.Unknown{Known: &wiring.Installation{Supply: in.Supply, Circuits: in.Circuits, Boxes: in.Boxes}}
	label := map[wiring.End]wiring.End{}
	for _, c := range in.Cables {
		for _, box := range []string{c.From, c.To} {
			u.Ends = append(u.Ends, fault.LooseEnd{Box: box, Label: c.ID + "-in-" + box, Kind: c.Kind})
			for _, core := range c.Kind.Cores {
				label[wiring.End{Box: box, Item: c.ID, Name: core.Name}] = wiring.End{Box: box, Item: c.ID + "-in-" + box, Name: core.Name}
			}
		}
	}
	for _, j := range in.Joints {
		joint := wiring.Joint{Box: j.Box}
		for _, e := range j.Ends {
			if to, ok := label[e]; ok {
				e = to
			}
			joint.Ends = append(joint.Ends, e)
		}
		u.Joints = append(u.Joints, joint)
	}
	p, err := fault.NewPuzzle(u)
	if err != nil {
		t.Fatal(err)
	}
	truth := -1
	for w := range p.Ways() {
		same := true
		for _, c := range in.Cables {
			same = same && p.Other(w, wiring.End{Box: c.From, Item: c.ID + "-in-" + c.From, Name: c.Kind.Cores[0].Name}).Item == c.ID+"-in-"+c.To
		}
		if same {
			truth = w
		}
	}
	n := solve(t, p, truth)
	t.Logf("%d ways, %d tests", p.Ways(), n)
	g, problems := wiring.Build(p.Wiring())
	if g == nil {
		t.Fatal(problems)
	}
	if len(g.Inst.Cables) != len(in.Cables) || g.Nodes() != f.Graph().Nodes() || len(problems) > 0 {
		t.Errorf("%d cables and %d nodes, want %d and %d; %v", len(g.Inst.Cables), g.Nodes(), len(in.Cables), f.Graph().Nodes(), problems)
	}
	for i := range g.Inst.Cables {
		if c := g.Inst.Cables[i]; c.Kind == nil || c.From == c.To {
			t.Errorf("cable %s from %s to %s", c.ID, c.From, c.To)
		}
	}
}

// Ends that cannot belong together, and tests of ends that are not there, are
// refused in words.
func TestUnknownThatCannotBe(t *testing.T) {
	u := fiveReds(t)
	u.Ends = u.Ends[:9]
	if _, err := fault.NewPuzzle(u); err == nil {
		t.Error("nine ends were paired")
	}
	u = fiveReds(t)
	u.Tests = []fault.LinkTest{{Linked: []wiring.End{{Box: "a", Item: "a1", Name: "blue"}}, Read: wiring.End{Box: "b", Item: "b1", Name: "red"}}}
	if _, err := fault.NewPuzzle(u); err == nil {
		t.Error("a core that is not there was linked")
	}
}
