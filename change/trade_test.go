package change_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/wiring"
)

// A chain is what a way looks like on the terminals: which switches stand in
// which order, and what is on them.
type chain struct {
	common, straps bool // commons joined; all pairs of strappers run through
	lineAt, backAt int  // places at whose common line and switched line are; -1
	onPair         bool // line and switched line are the two of one pair
	crossed        bool // the last switch has the pair the other way round than the first
}

// read looks at two-way switches at the ends and intermediates between, in the
// order given, of a lamp fed through its terminal SL or L.
func (c *chain) read(g *wiring.Graph, lamp string, line string, order ...string) {
	at := pieces(g)
	pairs := make([][2]int, 0, 2*len(order))
	for i, id := range order {
		switch {
		case i == 0 || i == len(order)-1:
			pairs = append(pairs, [2]int{at(id + ".L1"), at(id + ".L2")})
		default:
			a, b := [2]int{at(id + ".A1"), at(id + ".A2")}, [2]int{at(id + ".B1"), at(id + ".B2")}
			if !samePair(a, pairs[len(pairs)-1]) {
				a, b = b, a
			}
			pairs = append(pairs, a, b)
		}
	}
	first, last := order[0], order[len(order)-1]
	c.common = at(first+".COM") == at(last+".COM")
	c.straps = true
	for i := 0; i < len(pairs); i += 2 {
		c.straps = c.straps && samePair(pairs[i], pairs[i+1])
	}
	c.crossed = pairs[0][0] != pairs[len(pairs)-1][0]
	c.lineAt, c.backAt = -1, -1
	for i, id := range []string{first, last} {
		if at(id+".COM") == at(line) {
			c.lineAt = i
		}
		if at(id+".COM") == at(lamp) {
			c.backAt = i
		}
	}
	c.onPair = slices.ContainsFunc(pairs, func(p [2]int) bool { return samePair(p, [2]int{at(line), at(lamp)}) })
}

func samePair(a, b [2]int) bool {
	return a[0] != a[1] && (a == b || a == [2]int{b[1], b[0]})
}

// ends reports the two-wire arrangement: line on the common at one end,
// switched line on the common at the other, nothing but strappers between.
func (c *chain) ends() bool {
	return c.straps && !c.common && !c.onPair && c.lineAt+c.backAt == 1 && c.lineAt >= 0 && c.backAt >= 0
}

// commons reports the three-wire arrangement: commons joined, line and switched
// line on one pair.
func (c *chain) commons() bool {
	return c.straps && c.common && c.onPair && c.lineAt < 0 && c.backAt < 0
}

func (c *chain) String() string { return fmt.Sprintf("%+v", *c) }

// lit is the truth string of a lamp over two switches, (1,1)(1,2)(2,1)(2,2).
func lit(w *change.Way, lamp string, sw ...string) string {
	var list []int
	for _, id := range sw {
		list = append(list, w.Graph.SwitchIndex(id))
	}
	return w.Proof.Truth(w.Graph.LoadsOf(lamp)[0], list...)
}

// Two places, drop at the first switch and a three-core cable to the second:
// both arrangements of the trade are found, and no other.
//
// The two-wire ("strapper") arrangement lights alike, 1001, and with the
// strappers crossed unlike, 0110; the three-wire conversion, commons joined,
// lights unlike, and crossed alike (from the contacts of a two-way switch, COM
// to L1 or L2: C. E. Shannon, Trans. AIEE 57 (1938) 713; the conversion as
// flameport.com and the-regs.co.uk draw it).
func TestTwoPlacesBothArrangements(t *testing.T) {
	found := map[string]int{}
	for _, w := range ways(t, ceilingHouse+newTop+bothWays, 50) {
		var c chain
		c.read(w.Graph, "point.lamp.SL", "board.lights.L", "hall.s1", "top.s1")
		kind, truth := "ends", map[bool]string{false: "1001", true: "0110"}[c.crossed]
		if c.commons() {
			kind, truth = "commons", map[bool]string{false: "0110", true: "1001"}[c.crossed]
		} else if !c.ends() {
			t.Errorf("%s is neither arrangement of the trade: %v", w.Name, &c)
			continue
		}
		found[kind]++
		if kind == "ends" {
			found[fmt.Sprint("line at ", c.lineAt)]++
		}
		if got := lit(&w, "point.lamp", "hall.s1", "top.s1"); got != truth {
			t.Errorf("%s (%s): lit %s, published %s", w.Name, &c, got, truth)
		}
	}
	for _, kind := range []string{"ends", "commons", "line at 0", "line at 1"} {
		if found[kind] == 0 {
			t.Errorf("no way of the kind %q: %v", kind, found)
		}
	}
}

// With a three-core cable between the switches and nothing else, the
// conversion of the trade lands line and switched line on the pair at the
// first switch, and COM on COM, L1 on L1, L2 on L2 or these two crossed.
func TestThreeCoreBetweenSwitches(t *testing.T) {
	text := ceilingHouse + newTop + bothWays + "limits: { cables: [over] }\n"
	list := ways(t, text, 50)
	i := slices.IndexFunc(list, func(w change.Way) bool {
		var c chain
		c.read(w.Graph, "point.lamp.SL", "board.lights.L", "hall.s1", "top.s1")
		return c.commons()
	})
	if i != 0 {
		t.Fatalf("the conversion by three-core is way %d, want the first", i)
	}
	w := &list[i]
	if c := w.Left.Cable("strap"); c == nil || c.Kind.ID != "3ce-1.0" {
		t.Errorf("strap is %v, want a three-core", c)
	}
	at := pieces(w.Graph)
	for _, core := range []string{"brown", "black", "grey"} {
		terminal := ""
		for _, name := range []string{"COM", "L1", "L2"} {
			if at("top.strap."+core) == at("top.s1."+name) {
				terminal = name
			}
		}
		if terminal == "" {
			t.Errorf("core %s of the three-core is on no terminal of the new switch", core)
		}
	}
	if at("hall.s1.COM") == at("board.lights.L") || at("hall.s1.COM") == at("point.lamp.SL") {
		t.Error("line or switched line is on COM at the first switch")
	}
}

// The supply at the first switch, the lamp fed from the second: only strappers
// and a neutral run between, as in the old wiring of stairs.
func TestLineAtOneEndLampAtTheOther(t *testing.T) {
	text := feedHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [te-1.0], from: hall, to: top, length: 6 m }
    back: { kinds: [te-1.0], from: top, to: point, length: 4 m }
` + bothWays
	list := ways(t, text, 50)
	if !slices.ContainsFunc(list, func(w change.Way) bool {
		var c chain
		c.read(w.Graph, "point.lamp.L", "board.lights.L", "hall.s1", "top.s1")
		return c.ends() && c.lineAt == 0 && c.backAt == 1
	}) {
		t.Errorf("line at the first and switched line at the second switch is not among %v", names(list))
	}
}

// The feed at the switch: both arrangements with a three-core; the neutral
// stays in its connector.
func TestFeedAtTheSwitch(t *testing.T) {
	text := feedHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [3ce-1.0], from: hall, to: top, length: 6 m }
` + bothWays
	kinds := map[string]bool{}
	for _, w := range ways(t, text, 50) {
		var c chain
		c.read(w.Graph, "point.lamp.L", "board.lights.L", "hall.s1", "top.s1")
		kinds["ends"], kinds["commons"] = kinds["ends"] || c.ends(), kinds["commons"] || c.commons()
		at := pieces(w.Graph)
		if at("hall.feed.blue") != at("point.lamp.N") || at("hall.feed.blue") != at("board.lights.N") {
			t.Errorf("%s: the neutral does not run through", w.Name)
		}
	}
	if !kinds["ends"] || !kinds["commons"] {
		t.Errorf("found %v, want both", kinds)
	}
}

// thirdPlace is a third place between or beyond two that could be.
const thirdPlace = `
could:
  boxes:
    mid: { kind: plaster-1g-35 }
    top: { kind: plaster-1g-35 }
  cables:
    strap1: { kinds: [te-1.0, 3ce-1.0], from: hall, to: mid, length: 4 m, time: 30 min }
    strap2: { kinds: [te-1.0, 3ce-1.0], from: mid, to: top, length: 4 m, time: 30 min }
    over: { kinds: [te-1.0], from: point, to: top, length: 6 m, time: 60 min }
want: [{ lamps: [point.lamp], at: [hall, mid, top] }]
`

// Three places: an intermediate in the middle of each of the two arrangements,
// its two pairs of terminals on the two pairs of strappers.
func TestIntermediateInEach(t *testing.T) {
	kinds := map[string]bool{}
	for _, w := range ways(t, ceilingHouse+thirdPlace, 60) {
		if k := w.Left.Box("mid").Fitted("s1").Kind.ID; k != "intermediate" {
			continue
		}
		var c chain
		c.read(w.Graph, "point.lamp.SL", "board.lights.L", "hall.s1", "mid.s1", "top.s1")
		switch {
		case c.ends():
			kinds["ends"] = true
		case c.commons():
			kinds["commons"] = true
		default:
			t.Errorf("%s: an intermediate in neither arrangement: %v", w.Name, &c)
		}
		if got := lit(&w, "point.lamp", "hall.s1", "mid.s1", "top.s1"); got != "01101001" && got != "10010110" {
			t.Errorf("%s: lit %s, want parity of three (Shannon 1938)", w.Name, got)
		}
	}
	if !kinds["ends"] || !kinds["commons"] {
		t.Errorf("with an intermediate in the middle: found %v, want both", kinds)
	}
}

// A pair becomes a chain of three: the new switch between is an intermediate
// while the old two stay two-way.
func TestPairBecomesChain(t *testing.T) {
	text := pairHouse + `
could:
  boxes: { mid: { kind: plaster-1g-35 } }
  cables:
    low: { kinds: [3ce-1.0], from: hall, to: mid, length: 3 m, time: 20 min, replaces: strap }
    high: { kinds: [3ce-1.0], from: mid, to: top, length: 4 m, time: 20 min }
want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, mid, { box: top, keep: true }] }]
`
	w := ways(t, text, 1)[0]
	var c chain
	c.read(w.Graph, "point.lamp.SL", "board.lights.L", "hall.s1", "mid.s1", "top.s1")
	if !c.commons() {
		t.Errorf("%s: %v, want an intermediate in the three-core arrangement", w.Name, &c)
	}
	if w.Effort.Fittings != 1 || w.Left.Cable("strap") != nil {
		t.Errorf("%d switches fitted, strap %v; want the intermediate alone and the old cable gone", w.Effort.Fittings, w.Left.Cable("strap"))
	}
}

// Every way of every number of places uses 4(n-1) contacts, the least there is
// (Shannon 1938; that fewer do not suffice: Cardot 1952). They are counted
// here on the wiring as left: contacts both of whose terminals are joined to
// something.
func TestContactsAreShannons(t *testing.T) {
	for n := 2; n <= 6; n++ {
		for _, w := range ways(t, ceilingHouse+rowOf(n), 12) {
			if want := 4 * (n - 1); w.Contacts != want || usedContacts(&w) != want {
				t.Errorf("%d places, %s: says %d contacts, has %d, want %d", n, w.Name, w.Contacts, usedContacts(&w), want)
			}
			half := uint64(1) << (n - 1)
			if got := strings.Count(lit(&w, "point.lamp", w.Wants[0].From...), "1"); uint64(got) != half {
				t.Errorf("%d places, %s: lit in %d positions, want %d", n, w.Name, got, half)
			}
		}
	}
}

// rowOf asks for n places in a row, a three-core from each to the next.
func rowOf(n int) string {
	var boxes, runs []string
	at, before := []string{"hall"}, "hall"
	for i := 2; i <= n; i++ {
		box := fmt.Sprintf("place%d", i)
		boxes = append(boxes, box+": { kind: plaster-1g-35 }")
		runs = append(runs, fmt.Sprintf("run%d: { kinds: [3ce-1.0], from: %s, to: %s, length: 4 m }", i, before, box))
		at, before = append(at, box), box
	}
	return "could:\n  boxes: { " + strings.Join(boxes, ", ") + " }\n  cables:\n    " + strings.Join(runs, "\n    ") +
		"\nwant: [{ lamps: [point.lamp], at: [" + strings.Join(at, ", ") + "] }]\n"
}

func usedContacts(w *change.Way) (n int) {
	for i := range w.Graph.Edges {
		e := &w.Graph.Edges[i]
		if e.Kind != wiring.Contact || !slices.Contains(w.Wants[0].From, w.Graph.Switches[e.Switch].ID()) {
			continue
		}
		if len(w.Graph.Members(e.A)) > 1 && len(w.Graph.Members(e.B)) > 1 {
			n++
		}
	}
	return n
}

func names(list []change.Way) []string {
	var all []string
	for i := range list {
		all = append(all, list[i].Name)
	}
	return all
}
