package wiring_test

import (
	"bytes"
	"math/cmplx"
	"os"
	"path/filepath"
	"testing"

	"strapper/engine"
	"strapper/job"
	"strapper/kit"
	"strapper/network/spicetest"
	"strapper/switching"
	"strapper/wiring"
)

// eachExample calls do for each installation of each example job.
func eachExample(t *testing.T, do func(t *testing.T, in *wiring.Installation, cat *kit.Catalogue)) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d example jobs found (%v), want at least four", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		j, problems := job.Read(filepath.Base(file), text, cat)
		if j == nil {
			t.Fatal(problems)
		}
		r, err := engine.Prove(j, cat) // gives the cables their lengths
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(file)+"/found", func(t *testing.T) { do(t, r.Found.Inst, cat) })
		if r.Left != nil {
			t.Run(filepath.Base(file)+"/left", func(t *testing.T) { do(t, r.Left.Inst, cat) })
		}
	}
}

// Every node voltage of every example, in every position of its switches, with
// the lamps running that the proof says, against ngspice: 1e-6 relative, or
// 1 nV where a voltage is next to nothing.
func TestExamplesAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	eachExample(t, func(t *testing.T, in *wiring.Installation, cat *kit.Catalogue) {
		g, findings := wiring.Build(in)
		if g == nil {
			t.Fatal(findings)
		}
		v, err := g.View(cat, wiring.Condition{Temperature: in.Supply.Ambient, Supplied: true})
		if err != nil {
			t.Fatal(err)
		}
		p := switching.Prove(g, nil)
		if g.States() > 256 {
			t.Fatalf("%d positions are too many for a process each", g.States())
		}
		for i := range g.States() {
			state := g.StateAt(i)
			compareVoltages(t, v, wiring.Setting{State: state, Lit: func(load int) bool { return p.Lit(load, state) }})
		}
	})
}

// compareVoltages takes differences to the first node, so that a part of the
// wiring that hangs on nothing is compared as well.
func compareVoltages(t *testing.T, v *wiring.View, s wiring.Setting) {
	t.Helper()
	var deck bytes.Buffer
	if err := v.Spice(&deck, "example", s); err != nil {
		t.Fatal(err)
	}
	want := spicetest.Run(t, deck.Bytes())
	solved := v.Solve(s)
	first := v.Graph.Origins[0].E
	compared := 0
	for n := range wiring.Node(v.Graph.Nodes()) {
		w, ok := want[v.SpiceNode(n)]
		if !ok {
			t.Fatalf("ngspice printed nothing for %v", v.Graph.Members(n))
		}
		got, ok := solved.Voltage(n, first)
		if !ok {
			continue // hangs on nothing: no voltage to the rest
		}
		compared++
		w -= want[v.SpiceNode(first)]
		if d := cmplx.Abs(complex128(got) - w); d > 1e-6*cmplx.Abs(w)+1e-9 {
			t.Errorf("%s: %v is at %v, ngspice says %v", v.Graph.Describe(s.State), v.Graph.Members(n), got, w)
		}
	}
	if compared < v.Graph.Nodes()/2 {
		t.Errorf("%s: only %d of %d nodes have a voltage", v.Graph.Describe(s.State), compared, v.Graph.Nodes())
	}
}
