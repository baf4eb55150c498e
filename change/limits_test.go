package change_test

import (
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// A case is an ask and what must be true of its best way, or of all that are
// looked for.
type limitCase struct {
	name, text string
	best       func(w *change.Way) string // what is wrong with the best; "" if nothing
	each       func(w *change.Way) string // the same of every one of the first eight
}

func kindAt(w *change.Way, id string) string {
	box, item, _ := strings.Cut(id, ".")
	if b := w.Left.Box(box); b != nil && b.Fitted(item) != nil {
		return b.Fitted(item).Kind.ID
	}
	return ""
}

func kinds(want string, ids ...string) func(w *change.Way) string {
	return func(w *change.Way) string {
		var got []string
		for _, id := range ids {
			got = append(got, kindAt(w, id))
		}
		if s := strings.Join(got, " "); s != want {
			return "fitted: " + s + ", want " + want
		}
		return ""
	}
}

func cable(id, kind string) func(w *change.Way) string {
	return func(w *change.Way) string {
		got := ""
		if c := w.Left.Cable(id); c != nil {
			got = c.Kind.ID
		}
		if got != kind {
			return "cable " + id + " is of kind " + got + ", want " + kind
		}
		return ""
	}
}

func both(list ...func(w *change.Way) string) func(w *change.Way) string {
	return func(w *change.Way) string {
		for _, f := range list {
			if wrong := f(w); wrong != "" {
				return wrong
			}
		}
		return ""
	}
}

// neutralIn wants the neutral of a circuit on some core or terminal in a box.
func neutralIn(box string) func(w *change.Way) string {
	return func(w *change.Way) string {
		at := pieces(w.Graph)
		for _, c := range w.Left.Cables {
			for _, k := range c.Kind.Cores {
				if (c.From == box || c.To == box) && at(box+"."+c.ID+"."+k.Name) == at("board.lights.N") {
					return ""
				}
			}
		}
		return "there is no neutral in " + box
	}
}

// Every limit is kept, and what is asked for beside the lamps is done.
var limitCases = []limitCase{
	{"barred run", oldHouse + newTop + bothWays + "limits: { cables: [strap] }\n", nil, cable("strap", "")},
	{"wall", oldHouse + newTop + bothWays + "limits: { walls: [stairs] }\n", nil, cable("strap", "")},
	{"wall that is cheaper than the way round", ceilingHouse + strings.ReplaceAll(newTop, "time: 50 min", "time: 600 min") + bothWays, cable("over", ""), nil},
	{"neutral at a new switch", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, { box: top, neutral: true }] }]\n", neutralIn("top"), neutralIn("top")},
	{"neutral at the switch found", oldHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, neutral: true }] }]\n", both(neutralIn("hall"), kinds("one-way", "hall.s1")), nil},
	{"sensor", oldHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }] }]\n", both(kinds("pir", "hall.s1"), func(w *change.Way) string {
		at := pieces(w.Graph)
		if at("hall.s1.L") != at("board.lights.L") || at("hall.s1.N") != at("board.lights.N") || at("hall.s1.SL") != at("point.lamp.SL") {
			return "the sensor is not between line, neutral and switched line"
		}
		return ""
	}), nil},
	{"dimmer with a neutral, its common on the line", oldHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [3ce-1.0], from: hall, to: top, length: 6 m } }
want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer-neutral }, top] }]
`, both(kinds("dimmer-neutral two-way", "hall.s1", "top.s1"), func(w *change.Way) string {
		at := pieces(w.Graph)
		if at("hall.s1.COM") != at("board.lights.L") || at("hall.s1.N") != at("board.lights.N") {
			return "the dimmer has no steady supply between COM and N"
		}
		return ""
	}), nil},
	{"dimmer at one of two", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer }, top] }]\n", kinds("dimmer two-way", "hall.s1", "top.s1"), nil},
	{"kept", pairHouse + `
could:
  boxes: { end: { kind: plaster-1g-35 } }
  cables: { high: { kinds: [3ce-1.0], from: top, to: end, length: 4 m } }
want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, top, end] }]
`, kinds("two-way", "hall.s1"), kinds("two-way", "hall.s1")},
	{"added beyond a pair", pairHouse + `
could:
  boxes: { end: { kind: plaster-1g-35 } }
  cables: { high: { kinds: [3ce-1.0], from: top, to: end, length: 4 m } }
want: [{ lamps: [point.lamp], at: [hall, top, end] }]
`, kinds("two-way intermediate two-way", "hall.s1", "top.s1", "end.s1"), nil},
	{"pull cord stays a pull cord", strings.ReplaceAll(ceilingHouse, "s1: one-way", "s1: pull-one-way") + newTop + bothWays, kinds("pull-two-way two-way", "hall.s1", "top.s1"), nil},
	{"pull cord asked for", ceilingHouse + strings.ReplaceAll(newTop, "plaster-1g-35", "ceiling-box") + "want: [{ lamps: [point.lamp], at: [hall, { box: top, fit: pull-two-way }] }]\n", kinds("two-way pull-two-way", "hall.s1", "top.s1"), nil},
	{"metal stays metal", strings.NewReplacer("s1: one-way", "s1: one-way-metal", "[drop.cpc]]", "[s1.E, drop.cpc]]").Replace(ceilingHouse) + newTop + bothWays, both(kinds("two-way-metal two-way", "hall.s1", "top.s1"), onEarth("hall.s1.E")), onEarth("hall.s1.E")},
	{"metal moved", strings.NewReplacer("s1: one-way", "s1: one-way-metal", "[drop.cpc]]", "[s1.E, drop.cpc]]").Replace(ceilingHouse) + newTop + "want: [{ lamps: [point.lamp], at: [{ box: top, fit: one-way-metal }] }]\n", both(kinds(" one-way-metal", "hall.s1", "top.s1"), onEarth("top.s1.E")), nil},
	{"metal exchanged for plastic", strings.NewReplacer("s1: one-way", "s1: one-way-metal", "[drop.cpc]]", "[s1.E, drop.cpc]]").Replace(ceilingHouse) + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: two-way }] }]\n", both(kinds("two-way", "hall.s1"), onEarth("hall.drop.cpc")), nil},
	{"plastic exchanged for metal", ceilingHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: two-way-metal }] }]\n", both(kinds("two-way-metal", "hall.s1"), onEarth("hall.s1.E")), nil},
	{"stock of three-core", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { 3ce-1.0: 6 m }, switches: { two-way: 2 } } }\n", cable("strap", "3ce-1.0"), stock(map[string]int{"3ce-1.0": 6}, map[string]int{"two-way": 2})},
	{"stock of two-core", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { te-1.0: 13 m }, switches: { two-way: 2 } } }\n", nil, stock(map[string]int{"te-1.0": 13}, map[string]int{"two-way": 2})},
	{"stock of other switches", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { 3ce-1.0: 50 m }, switches: { two-way: 1, intermediate: 1 } } }\n", nil, stock(map[string]int{"3ce-1.0": 50}, map[string]int{"two-way": 1, "intermediate": 1})},
	{"switches allowed", ceilingHouse + newTop + bothWays + "limits: { switches: [intermediate] }\n", kinds("intermediate intermediate", "hall.s1", "top.s1"), kinds("intermediate intermediate", "hall.s1", "top.s1")},
	{"either", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, top], rule: any }]\n", both(kinds("one-way one-way", "hall.s1", "top.s1"), truth("0111")), truth("0111")},
	{"either, by two-way switches", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, { box: top, fit: two-way }], rule: any }]\nlimits: { switches: [two-way] }\n", both(kinds("one-way two-way", "hall.s1", "top.s1"), truth("0111")), truth("0111")},
	{"both, by intermediates", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: intermediate }, { box: top, fit: intermediate }], rule: all }]\n", truth("0001"), truth("0001")},
	{"both", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, top], rule: all }]\n", both(kinds("one-way one-way", "hall.s1", "top.s1"), truth("0001")), truth("0001")},
	{"conduit", ceilingHouse + `
could: { cables: { again: { kinds: [3ce-1.0], from: point, to: hall, length: 5 m, replaces: drop } } }
want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }] }]
`, both(cable("drop", ""), cable("again", "3ce-1.0")), nil},
	{"cable that stays in its conduit", ceilingHouse + `
could: { cables: { again: { kinds: [3ce-1.0], from: point, to: hall, length: 5 m, replaces: drop } } }
want: [{ lamps: [point.lamp], at: [{ box: hall, fit: two-way }] }]
`, both(cable("drop", "te-1.0"), cable("again", "")), nil},
	{"switch moved", ceilingHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables: { new: { kinds: [te-1.0], from: point, to: door, length: 4 m } }
want: [{ lamps: [point.lamp], at: [door] }]
`, kinds(" one-way", "hall.s1", "door.s1"), nil},
	{"group split", sharedHouse + `
could: { cables: { more: { kinds: [te-1.0], from: front, to: hall, length: 5 m } } }
want: [{ lamps: [front.lamp], at: [hall] }, { lamps: [back.lamp], at: [hall] }]
`, both(kinds("one-way one-way", "hall.s1", "hall.s2"), apart), apart},
	{"feed at the switch", feedHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m } }
` + bothWays, both(cable("strap", "3ce-1.0"), neutralIn("hall")), nil},
	{"master", roomsHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables: { in: { kinds: [te-1.0], from: front, to: door, length: 4 m } }
want:
  - { lamps: [front.lamp], at: [hall], off: [door] }
  - { lamps: [back.lamp], at: [yard], off: [door] }
`, both(kinds("one-way one-way one-way", "hall.s1", "yard.s1", "door.s1"), masterHolds), masterHolds},
	{"doubtful cable is spared", oldHouse + strings.ReplaceAll(newTop, "walls: [stairs]", "walls: []") + bothWays + "limits: { doubtful: [drop] }\n", func(w *change.Way) string {
		if w.Effort.DoubtfulCores > 1 {
			return "its spare core is used though it need not be"
		}
		return ""
	}, nil},
}

func onEarth(end string) func(w *change.Way) string {
	return func(w *change.Way) string {
		at := pieces(w.Graph)
		if at(end) < 0 || at(end) != at("board.lights.E") {
			return end + " is not earthed"
		}
		return ""
	}
}

// stock wants no more used than there is: metres by kind of cable, switches
// newly fitted by kind.
func stock(metres, switches map[string]int) func(w *change.Way) string {
	return func(w *change.Way) string {
		length := map[string]int{}
		fitted := map[string]int{}
		for _, b := range w.Moves {
			for _, m := range b.Moves {
				if m.Kind == wiring.Fit {
					fitted[b.Box.Fitted(m.Item).Kind.ID]++
				}
				if m.Kind == wiring.BringIn {
					c := w.Left.Cable(m.Item)
					length[c.Kind.ID] += int(c.Length+c.Tolerance) / 2 // brought in at both ends
				}
			}
		}
		for kind, n := range length {
			if n > 1000*metres[kind] {
				return "more " + kind + " than there is"
			}
		}
		for kind, n := range fitted {
			if n > switches[kind] {
				return "more " + kind + " than there are"
			}
		}
		return ""
	}
}

func truth(want string) func(w *change.Way) string {
	return func(w *change.Way) string {
		if got := lit(w, "point.lamp", w.Wants[0].From...); got != want {
			return "lit " + got + ", want " + want
		}
		return ""
	}
}

// apart wants the two lamps of the split group each on a switch of its own.
func apart(w *change.Way) string {
	a := w.Proof.Switched(w.Graph.LoadsOf("front.lamp")[0])
	b := w.Proof.Switched(w.Graph.LoadsOf("back.lamp")[0])
	if len(a) != 1 || len(b) != 1 || a[0] == b[0] {
		return "the lamps are not worked apart"
	}
	return ""
}

// masterHolds wants each lamp lit with master and its own switch on only, with
// the meter's own truth.
func masterHolds(w *change.Way) string {
	for _, pair := range [][2]string{{"front.lamp", "hall.s1"}, {"back.lamp", "yard.s1"}} {
		if got := lit(w, pair[0], "door.s1", pair[1]); got != "0001" {
			return pair[0] + " is lit " + got + " by master and switch, want 0001"
		}
	}
	return ""
}

func TestLimitsAreKept(t *testing.T) {
	for _, c := range limitCases {
		for i, w := range ways(t, c.text, 8) {
			if i == 0 && c.best != nil {
				if wrong := c.best(&w); wrong != "" {
					t.Errorf("%s, %s: %s", c.name, w.Name, wrong)
				}
			}
			if c.each != nil {
				if wrong := c.each(&w); wrong != "" {
					t.Errorf("%s, %s: %s", c.name, w.Name, wrong)
				}
			}
			if got := forbids(w.Findings); len(got) > 0 {
				t.Errorf("%s, %s: forbidden by %v", c.name, w.Name, got)
			}
		}
	}
}

// In a house without protective conductors nothing metal and no new box is
// offered unless one is brought there; what has none as found may stay as it
// is, and is still said to have none.
func TestHouseWithoutProtectiveConductor(t *testing.T) {
	top := "could: { boxes: { top: { kind: plaster-1g-35 } }, cables: { strap: { kinds: [3ce-1.0], from: hall, to: top, length: 6 m }%s } }\n"
	with := func(more string) string { return bareHouse + strings.ReplaceAll(top, "%s", more) }
	for _, c := range []struct {
		name, text string
		possible   bool
		codes      []string
	}{
		{"new box beyond the bare drop", with("") + bothWays, false, nil},
		{"with a protective conductor run to it", with(", earth: { kinds: [single-earth-1.5], from: point, to: hall, length: 5 m }") + bothWays, true, nil},
		{"with a cable that has one drawn in", with(", again: { kinds: [3ce-1.0], from: point, to: hall, length: 5 m, replaces: drop }") + bothWays, true, nil},
		{"dimmer of plastic in the bare box", bareHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer }] }]\n", true, []string{"missing-cpc"}},
		{"metal switch in the bare box", bareHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: one-way-metal }] }]\n", false, nil},
		{"metal switch exchanged for plastic", strings.ReplaceAll(bareHouse, "s1: one-way", "s1: one-way-metal") + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: one-way }] }]\n", true, []string{"missing-cpc"}},
	} {
		a := search(t, c.text, change.Options{Most: 5})
		if (len(a.Ways) > 0) != c.possible {
			t.Errorf("%s: %d ways, want some: %v; %+v", c.name, len(a.Ways), c.possible, a.Impossible)
			continue
		}
		for _, w := range a.Ways {
			if got := forbids(w.Findings); !slices.Equal(got, c.codes) {
				t.Errorf("%s, %s: forbidden by %v, want %v", c.name, w.Name, got, c.codes)
			}
		}
		if !c.possible && !slices.ContainsFunc(a.Impossible.Limits, func(l string) bool { return strings.HasPrefix(l, "a protective conductor must reach ") }) {
			t.Errorf("%s: the reason is %q, want the protective conductor in it", c.name, a.Impossible.Limits)
		}
	}
}

// Old colours: red is line and black neutral already; nothing else says what it
// carries (IEC 60445 for the new colours; red, black, yellow and blue before
// 2006: BS 7671 Table 51 note, from memory, to be confirmed).
func TestOldColours(t *testing.T) {
	text := oldHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [3ce-1.0-old], from: hall, to: top, length: 6 m } }
` + bothWays
	for _, w := range ways(t, text, 3) {
		for _, b := range w.Moves {
			for _, m := range b.Moves {
				if m.Kind != wiring.Sleeve && m.Kind != wiring.Check {
					continue
				}
				switch _, core := w.Graph.IsCore(m.Ends[0]); {
				case core.Colour == kit.Red && strings.Contains(m.Sleeve, "brown"):
					t.Errorf("%s: red is to be sleeved brown in %s", w.Name, b.Box.ID)
				case core.Colour == kit.Blue && m.Sleeve != "brown sleeve" && !core.Earth:
					t.Errorf("%s: a blue core of an old three-core that is no neutral gets a %s in %s", w.Name, m.Sleeve, b.Box.ID)
				}
			}
		}
		if w.Effort.OldUsed > w.Effort.SparesUsed {
			t.Errorf("%s: %d old of %d spares", w.Name, w.Effort.OldUsed, w.Effort.SparesUsed)
		}
	}
}

// What cannot be searched is refused with the reason.
func TestRefusedAsks(t *testing.T) {
	for _, c := range []struct{ name, text, code, says string }{
		{"switch twice", ceilingHouse + "want: [{ lamps: [point.lamp], at: [hall, hall.s1] }]\n", "place-unknown", "s1"},
		{"switch and master", ceilingHouse + "want: [{ lamps: [point.lamp], at: [hall.s1], off: [hall.s1] }]\n", "place-unknown", "s1"},
		{"sensor behind a master", oldHouse + newTop + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }], off: [top] }]\n", "no-switch-kind", "at all times"},
		{"two dimmers", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer }, { box: top, fit: dimmer }] }]\n", "no-switch-kind", "two dimmers"},
		{"lamp left out", sharedHouse + "want: [{ lamps: [front.lamp], at: [hall] }]\n", "lamp-left-out", "back.lamp"},
		{"two circuits", circuitsHouse + "want: [{ lamps: [low.lamp, high.lamp], at: [hall.s1] }]\n", "group-circuits", "down and up"},
		{"push kept", strings.ReplaceAll(ceilingHouse, "s1: one-way", "s1: push") + "want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }] }]\n", "no-switch-kind", "hall"},
		{"cpc as a line", strings.ReplaceAll(strings.ReplaceAll(ceilingHouse, "[s1.L1, drop.blue], [drop.cpc]", "[s1.L1, drop.cpc], [drop.blue]"), "[lamp.SL, drop.blue], [lamp.E, feed.cpc, drop.cpc]", "[lamp.SL, drop.cpc], [lamp.E, feed.cpc], [drop.blue]") + "want: [{ lamps: [point.lamp], at: [hall] }]\n", "start-earth", "drop.cpc"},
		{"line and neutral joined", strings.ReplaceAll(ceilingHouse, "[lamp.LOOP, feed.brown, drop.brown], [lamp.N, feed.blue]", "[lamp.LOOP, feed.brown, drop.brown, feed.blue], [lamp.N]") + "want: [{ lamps: [point.lamp], at: [hall] }]\n", "start-mixed", "line of lights"},
	} {
		a := search(t, c.text, change.Options{})
		if len(a.Ways) > 0 || !slices.Contains(forbids(a.Findings), c.code) {
			t.Errorf("%s: %d ways, findings %v, want %s", c.name, len(a.Ways), codes(a.Findings), c.code)
			continue
		}
		f := a.Findings[slices.IndexFunc(a.Findings, func(f finding.Finding) bool { return f.Code == c.code })]
		if !strings.Contains(f.Text, c.says) || f.Fix == "" {
			t.Errorf("%s: %q (%q), want %q in it and what to do", c.name, f.Text, f.Fix, c.says)
		}
	}
}
