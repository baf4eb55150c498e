package fault_test

import (
	"math/rand/v2"
	"testing"

	"strapper/fault"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// Every fault, worked out by bits and worked out as an edited installation by
// the proof (what is lit) and by the numeric network (what an ohmmeter reads),
// gives the same. The two share nothing but the fault itself.
func TestFaultsAgreeWithProofAndNetwork(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 6))
	compared := 0
	for _, name := range examples(t) {
		f := example(t, name, fault.Options{SinglesOnly: true})
		list := f.Faults()
		sets := [][]*fault.Fault{nil}
		for _, x := range list {
			sets = append(sets, []*fault.Fault{x})
		}
		pairs := f.Readings()
		for _, set := range sets {
			in, rename, err := fault.Apply(f.Graph().Inst, set...)
			if err != nil {
				t.Fatal(err)
			}
			g, problems := wiring.Build(in)
			if g == nil {
				t.Fatalf("%s: %s: %v", name, id(set), problems)
			}
			compareLit(t, name, f, g, set)
			v, err := g.View(cat, wiring.Condition{Temperature: 20, LoadsOut: true})
			if err != nil {
				t.Fatal(err)
			}
			compareMetal(t, f, g, v, r.IntN(len(f.States())), set)
			for range 12 {
				pair := pairs[r.IntN(len(pairs))]
				state := r.IntN(len(f.States()))
				a, okA := g.Node(rename(pair[0]))
				b, okB := g.Node(rename(pair[1]))
				if !okA || !okB {
					t.Fatalf("%s: %s: %v has no node", name, id(set), pair)
				}
				ohm, ok := v.Resistance(wiring.Setting{State: f.States()[state]}, a, b)
				want := "open"
				switch {
				case ok && ohm < 5:
					want = "joined"
				case ok && ohm < 2000:
					want = "high"
				}
				if got := f.Joined(pair[0], pair[1], state, set...); got != want {
					t.Errorf("%s, %s, %s: between %v and %v: %s by bits; %v (%v) by the network", name, id(set), f.Graph().Describe(f.States()[state]), pair[0], pair[1], got, ohm, ok)
				}
				compared++
			}
		}
	}
	if compared < 10000 {
		t.Errorf("only %d readings compared", compared)
	}
}

// compareLit compares what is lit over metal with the proof. Where a device
// opens the proof still says what would be fed.
func compareLit(t *testing.T, name string, f *fault.Finder, g *wiring.Graph, set []*fault.Fault) {
	t.Helper()
	for _, x := range set {
		if x.Weak() || x.Kind == fault.DeadLamp {
			return
		}
	}
	p := switching.Prove(g, nil)
	for _, load := range f.Graph().Lamps() {
		lit, trips := f.Lit(load, set...)
		for i, s := range f.States() {
			if trips[i] {
				continue
			}
			if want := p.Lit(load, s); lit[i] != want && !earthReturn(p) {
				t.Errorf("%s, %s, %s: %s lit %t by bits, %t by the proof", name, id(set), g.Describe(s), f.Graph().Loads[load].ID(), lit[i], want)
				return
			}
		}
	}
}

// compareMetal compares, in one position, whether what should be earthed is live
// and not earthed with what the numeric network has between it and the lines.
func compareMetal(t *testing.T, f *fault.Finder, g *wiring.Graph, v *wiring.View, state int, set []*fault.Fault) {
	t.Helper()
	live := false
	for n := range wiring.Node(g.Nodes()) {
		if !shouldBeEarthed(g, n) {
			continue
		}
		for _, o := range g.Origins {
			ohm, ok := v.Resistance(wiring.Setting{State: f.States()[state]}, o.L, n)
			_, earthed := v.Resistance(wiring.Setting{State: f.States()[state]}, o.L, g.Origins[0].E)
			live = live || ok && ohm < 5 && !earthed
		}
	}
	if got := f.LiveMetal(state, set...); got != live {
		t.Errorf("%s, %s: metal live %t by bits, %t by the network", id(set), g.Describe(f.States()[state]), got, live)
	}
}

func shouldBeEarthed(g *wiring.Graph, n wiring.Node) bool {
	for _, e := range g.Members(n) {
		if _, core := g.IsCore(e); core != nil && core.Earth || core == nil && e.Name == "E" {
			return true
		}
	}
	return false
}

// earthReturn reports whether some lamp's current comes back by earth: the proof
// does not call it lit, though it burns.
func earthReturn(p *switching.Proof) bool {
	for _, x := range p.Findings {
		if x.Code == "earth-return" {
			return true
		}
	}
	return false
}

func id(set []*fault.Fault) string {
	if len(set) == 0 {
		return "no fault"
	}
	return set[0].ID()
}
