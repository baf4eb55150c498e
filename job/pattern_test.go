package job

import (
	"fmt"
	"strings"
	"testing"

	"strapper/wiring"
)

// A pattern's control function, by joining up what is closed in each state:
// the lamp must be lit in exactly half of the states, change with every switch,
// its neutral always at the bar, and every earth at the bar.
func TestPatternsSwitchTheirLamp(t *testing.T) {
	for _, use := range Patterns() {
		for _, old := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s old=%v", use, old), func(t *testing.T) {
				text, err := Starter(use, old)
				if err != nil {
					t.Fatal(err)
				}
				checkToggle(t, mustRead(t, string(text)).Found)
			})
		}
	}
}

// Four and five switches, with intermediates in a row.
func TestIntermediatePatternGrows(t *testing.T) {
	for n := 4; n <= 6; n++ {
		text := patternJob(fmt.Sprintf("{use: intermediate, name: p, circuit: lights, feed: 9 m, drop: 5 m, switches: [%s], straps: [%s]}",
			repeated("A switch", n), repeated("6 m", n-1)))
		checkToggle(t, mustRead(t, text).Found)
	}
}

// A point that loops from another: both are fed, each by its own switch.
func TestPatternsChain(t *testing.T) {
	for _, use := range []string{"loop-in-ceiling", "two-way-three-core"} {
		straps := map[string]string{"two-way-three-core": ", straps: [4 m]"}[use]
		text := patternJob("{use: "+use+", name: p, circuit: lights, feed: 9 m, drop: 5 m"+straps+"}",
			"{use: loop-in-ceiling, name: q, previous: p, feed: 4 m, drop: 3 m, colours: old, size: 1.5 mm2}")
		j := mustRead(t, text)
		checkToggle(t, j.Found)
		if c := j.Found.Cable("q-feed"); c == nil || c.From != "p-point" || c.Kind.ID != "te-1.5-old" {
			t.Errorf("q-feed is %+v, want te-1.5-old from p-point", c)
		}
	}
}

// Lampholders without a loop or earth terminal get connectors instead.
func TestPatternWithoutLoopTerminal(t *testing.T) {
	for _, use := range []string{"{use: loop-in-ceiling, drop: 4 m, ", "{use: loop-in-switch, lamp-cable: 4 m, "} {
		checkToggle(t, mustRead(t, patternJob(use+"name: p, circuit: lights, feed: 9 m, accessory: lampholder, lamp: resistive, power: 60 W}")).Found)
	}
}

// A pattern joins the terminals of the board that are written out already.
func TestPatternMergesWithWrittenJoints(t *testing.T) {
	text := patternJob("{use: loop-in-ceiling, name: p, circuit: lights, feed: 9 m, drop: 5 m}") + `
  far: { kind: ceiling-point, fit: { lamp: lampholder } }
cables: { other: { kind: te-1.0, from: board, to: far, length: 4 m } }
joints: { board: [[lights.L, other.brown], [lights.N, other.blue], [lights.E, other.cpc]] }`
	j := mustRead(t, text)
	for _, joint := range j.Found.Joints {
		if joint.Box == "board" && len(joint.Ends) != 3 {
			t.Errorf("board joint %v, want three ends", joint.Ends)
		}
	}
}

func repeated(s string, n int) string {
	return strings.TrimSuffix(strings.Repeat(s+", ", n), ", ")
}

func patternJob(patterns ...string) string {
	return `
job: { title: Test }
supply: { earthing: TN-S, Ze: 0.3 ohm }
circuits: { lights: { device: mcb-b6, board: board } }
patterns: [` + strings.Join(patterns, ", ") + `]
boxes:
  board: { kind: consumer-unit }`
}

func mustRead(t testing.TB, text string) *Job {
	t.Helper()
	j, ps := Read("test.yaml", []byte(text), catalogue(t))
	if len(ps) > 0 {
		t.Fatal(ps.String())
	}
	return j
}

// checkToggle walks all states of an installation in which every lamp has
// switches of its own in the boxes that share its pattern's prefix.
func checkToggle(t *testing.T, in *wiring.Installation) {
	t.Helper()
	g, findings := wiring.Build(in)
	if g == nil {
		t.Fatal(findings)
	}
	if len(g.Loads) == 0 || len(g.Switches) == 0 {
		t.Fatal("no lamp or no switch")
	}
	for n := range g.Nodes() {
		if g.Loose(wiring.Node(n)) {
			if e := g.Members(wiring.Node(n))[0]; strings.Contains(e.Item, "-") { // a core of a cable
				t.Errorf("%v in %s is not accounted for", e, e.Box)
			}
		}
	}
	for i := range g.States() {
		s := g.StateAt(i)
		net := closed(g, s)
		o := g.Origins[0]
		if net.find(o.L) == net.find(o.N) || net.find(o.L) == net.find(o.E) || net.find(o.N) == net.find(o.E) {
			t.Fatalf("%s: line, neutral and earth are not apart", g.Describe(s))
		}
		for l := range g.Loads {
			if net.find(g.Loads[l].B) != net.find(o.N) {
				t.Errorf("%s: the lamp's neutral is not at the bar", g.Describe(s))
			}
			prefix, _, _ := strings.Cut(g.Loads[l].Box.ID, "-")
			for sw := range g.Switches {
				before := lit(g, s, l)
				own := strings.HasPrefix(g.Switches[sw].Box.ID, prefix+"-")
				s[sw] ^= 1
				if after := before != lit(g, s, l); after != own {
					t.Errorf("%s: %s changes the lamp: %v, want %v", g.Describe(s), g.Switches[sw].Name(), after, own)
				}
				s[sw] ^= 1
			}
		}
		for _, e := range g.Edges {
			if e.Core != nil && e.Core.Earth && net.find(e.A) != net.find(o.E) {
				t.Errorf("the cpc of %s is not continuous", e.Cable.ID)
			}
		}
	}
}

func lit(g *wiring.Graph, s wiring.State, load int) bool {
	net := closed(g, s)
	return net.find(g.Loads[load].A) == net.find(g.Origins[0].L)
}

// forest is a union-find.
type forest []wiring.Node

func closed(g *wiring.Graph, s wiring.State) forest {
	f := make(forest, g.Nodes())
	for i := range f {
		f[i] = wiring.Node(i)
	}
	for i := range g.Edges {
		if e := &g.Edges[i]; e.Closed(s) {
			f[f.find(e.A)] = f.find(e.B)
		}
	}
	return f
}

func (f forest) find(n wiring.Node) wiring.Node {
	for f[n] != n {
		n = f[n]
	}
	return n
}

func TestStarterRefusesUnknownPattern(t *testing.T) {
	if _, err := Starter("two-way", false); err == nil || !strings.Contains(err.Error(), "two-way-strappers") {
		t.Errorf("got %v, want a list of patterns", err)
	}
}
