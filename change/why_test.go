package change_test

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/kit"
	"strapper/wiring"
)

// noNew offers a box at the top of the stairs and no cable to it.
const noNew = "could: { boxes: { top: { kind: plaster-1g-35 } } }\n"

// refusals are asks that cannot be met.
var refusals = []struct {
	wish
	limits []string // what must be among the limits that clash
	cut    change.Cut
}{
	{wish{"no cable", ceilingHouse + noNew + bothWays}, []string{"nothing new"}, change.Cut{Here: []string{"top"}, Cores: 0, Needed: 3}},
	{wish{"two-core for three", ceilingHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [te-1.0], from: hall, to: top, length: 6 m } }
` + bothWays}, []string{"nothing new"}, change.Cut{Here: []string{"top"}, Cores: 2, Needed: 3}},
	{wish{"wall", ceilingHouse + newTop + bothWays + "limits: { walls: [stairs], cables: [over] }\n"}, []string{"wall stairs"}, change.Cut{Here: []string{"top"}, Cores: 0, Needed: 3}},
	{wish{"switch box closed", ceilingHouse + newTop + bothWays + "limits: { closed: [hall] }\n"}, []string{"hall is not to be opened"}, change.Cut{}},
	{wish{"both ends closed", ceilingHouse + newTop + bothWays + "limits: { closed: [hall, point] }\n"}, []string{"hall is not to be opened"}, change.Cut{Here: []string{"top"}, Cores: 0, Needed: 3}},
	{wish{"neutral", ceilingHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, neutral: true }] }]\n"}, []string{"a neutral is wanted in hall", "nothing new"}, change.Cut{}},
	{wish{"sensor without neutral", ceilingHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }] }]\n"}, []string{"nothing new"}, change.Cut{}},
	{wish{"only one-way", ceilingHouse + newTop + bothWays + "limits: { switches: [one-way] }\n"}, []string{"no two-way switch"}, change.Cut{}},
	{wish{"only two-way for three", ceilingHouse + thirdPlace + "limits: { switches: [two-way] }\n"}, []string{"no intermediate switch"}, change.Cut{}},
	{wish{"van empty of cable", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { 3ce-1.0: 5 m }, switches: { two-way: 2 } } }\n"}, []string{"van"}, change.Cut{}},
	{wish{"van short of switches", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { 3ce-1.0: 50 m }, switches: { two-way: 1 } } }\n"}, []string{"van"}, change.Cut{}},
	{wish{"no protective conductor", bareHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [3ce-1.0], from: hall, to: top, length: 6 m } }
` + bothWays}, []string{"a protective conductor must reach top", "nothing new"}, change.Cut{}},
	{wish{"third place on a pair", pairHouse + `
could: { boxes: { end: { kind: plaster-1g-35 } } }
want: [{ lamps: [point.lamp], at: [hall, top, end] }]
limits: { closed: [point] }
`}, []string{"nothing new"}, change.Cut{Here: []string{"end"}, Cores: 0, Needed: 3}},
	{wish{"old switch in a closed box", ceilingHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables: { new: { kinds: [te-1.0], from: point, to: door, length: 4 m } }
want: [{ lamps: [point.lamp], at: [door] }]
limits: { closed: [hall] }
`}, []string{"hall is not to be opened"}, change.Cut{}},
}

// A giver takes limits away from an ask, by the words in which they are named.
type giver struct {
	cat *kit.Catalogue
	ask change.Ask
	n   int
}

var (
	notOpened = regexp.MustCompile(`^(?:(\w+) is not to be opened|if (\w+) may be opened)$`)
	notCut    = regexp.MustCompile(`^(?:the wall (\w+) is not to be cut|if the wall (\w+) may be cut)$`)
	noNeutral = regexp.MustCompile(`^(?:a neutral is wanted in (\w+)|if there need be no neutral in (\w+))$`)
	noKind    = regexp.MustCompile(`^(?:no ([\w-]+) switch may be fitted|if a switch of kind ([\w-]+) may be fitted)$`)
	oneCable  = regexp.MustCompile(`^with a new cable \((.*)\) between (\w+) and (\w+)$`)
	pairsOf   = regexp.MustCompile(`(\w+) and (\w+)`)
)

func newGiver(cat *kit.Catalogue, ask change.Ask) *giver {
	g := &giver{cat: cat, ask: ask}
	g.ask.Limits.Closed = slices.Clone(ask.Limits.Closed)
	g.ask.Limits.Walls = slices.Clone(ask.Limits.Walls)
	g.ask.Limits.Switches = slices.Clone(ask.Limits.Switches)
	g.ask.Could.Cables = slices.Clone(ask.Could.Cables)
	g.ask.Groups = slices.Clone(ask.Groups)
	for i := range g.ask.Groups {
		g.ask.Groups[i].At = slices.Clone(ask.Groups[i].At)
	}
	return g
}

func named(m []string) string { return m[1] + m[2] }

// give takes one limit away; false if it is not one that can be.
func (g *giver) give(t *testing.T, text string) bool {
	t.Helper()
	drop := func(list []change.Limit, name string) []change.Limit {
		return slices.DeleteFunc(list, func(l change.Limit) bool { return l.Name == name })
	}
	if m := notOpened.FindStringSubmatch(text); m != nil {
		g.ask.Limits.Closed = drop(g.ask.Limits.Closed, named(m))
	} else if m := notCut.FindStringSubmatch(text); m != nil {
		g.ask.Limits.Walls = drop(g.ask.Limits.Walls, named(m))
	} else if m := noNeutral.FindStringSubmatch(text); m != nil {
		for _, q := range g.ask.Groups {
			for i := range q.At {
				q.At[i].Neutral = q.At[i].Neutral && q.At[i].Box != named(m)
			}
		}
	} else if m := noKind.FindStringSubmatch(text); m != nil {
		g.ask.Limits.Switches = append(g.ask.Limits.Switches, g.cat.Accessories[named(m)])
	} else if strings.Contains(text, "on the van") {
		g.ask.Limits.Stock = nil
	} else if m := oneCable.FindStringSubmatch(text); m != nil {
		g.offer(m[2], m[3], func(k *kit.Cable) bool { return k.Title == m[1] })
	} else if strings.HasPrefix(text, "a protective conductor must reach ") {
		return false
	} else {
		t.Fatalf("a limit in words that nobody can follow: %q", text)
	}
	return true
}

func (g *giver) offer(from, to string, fits func(*kit.Cable) bool) {
	g.n++
	c := change.Cable{ID: "given" + string(rune('a'+g.n)), From: from, To: to, Length: change.ExtraLength, Minutes: change.ExtraMinutes}
	for _, id := range []string{"te-1.0", "3ce-1.0"} {
		if k := g.cat.Cables[id]; fits(k) {
			c.Kinds = append(c.Kinds, k)
		}
	}
	g.ask.Could.Cables = append(g.ask.Could.Cables, c)
}

// pairs are the pairs of boxes between which nothing new is offered.
func pairs(limits []string) (list [][2]string) {
	for _, text := range limits {
		if rest, ok := strings.CutPrefix(text, "nothing new is offered between "); ok {
			for _, m := range pairsOf.FindAllStringSubmatch(strings.ReplaceAll(rest, "nor between ", ""), -1) {
				list = append(list, [2]string{m[1], m[2]})
			}
		}
	}
	return list
}

// What is said to clash clashes, and would not without any one of the limits:
// with all other limits given up, and new cables offered between all other
// boxes of the change, there is still no way; with one more there is.
func TestClashIsSmallest(t *testing.T) {
	for _, r := range refusals {
		g, ask, cat := asked(t, r.text)
		a, err := change.Search(g, ask, cat, change.Options{})
		if err != nil || len(a.Ways) > 0 || a.Impossible == nil || !a.All {
			t.Errorf("%s: want no way and the reason: %v %+v", r.name, err, a)
			continue
		}
		limits := a.Impossible.Limits
		for _, part := range r.limits {
			if !slices.ContainsFunc(limits, func(l string) bool { return strings.Contains(l, part) }) {
				t.Errorf("%s: clash %q, want %q in it", r.name, limits, part)
			}
		}
		possible := func(without string) bool {
			q := onlyLimits(t, cat, g, &ask, limits, without)
			a, err := change.Search(g, q, cat, change.Options{})
			if err != nil {
				t.Fatal(err)
			}
			return len(a.Ways) > 0
		}
		if possible("") {
			t.Errorf("%s: %q do not clash", r.name, limits)
		}
		for _, l := range limits {
			if strings.HasPrefix(l, "a protective conductor") {
				continue
			}
			if ps := pairs([]string{l}); len(ps) > 0 {
				for _, p := range ps {
					if !possible(p[0] + " and " + p[1]) {
						t.Errorf("%s: %q clash without a new cable between %v being barred", r.name, limits, p)
					}
				}
			} else if !possible(l) {
				t.Errorf("%s: %q clash without %q", r.name, limits, l)
			}
		}
	}
}

// onlyLimits is an ask with the limits listed, but for one, and no others.
func onlyLimits(t *testing.T, cat *kit.Catalogue, g *wiring.Graph, ask *change.Ask, limits []string, without string) change.Ask {
	t.Helper()
	v := newGiver(cat, *ask)
	keep := func(text string) bool { return text != without && slices.Contains(limits, text) }
	for _, l := range ask.Limits.Closed {
		if text := l.Name + " is not to be opened"; !keep(text) {
			v.give(t, text)
		}
	}
	for _, l := range ask.Limits.Walls {
		if text := "the wall " + l.Name + " is not to be cut"; !keep(text) {
			v.give(t, text)
		}
	}
	for _, q := range ask.Groups {
		for _, p := range q.At {
			if text := "a neutral is wanted in " + p.Box; p.Neutral && !keep(text) {
				v.give(t, text)
			}
		}
	}
	if len(ask.Limits.Switches) > 0 {
		for _, k := range []string{"one-way", "two-way", "intermediate"} {
			if text := "no " + k + " switch may be fitted"; !keep(text) {
				v.give(t, text)
			}
		}
	}
	if ask.Limits.Stock != nil && !keep("only what is on the van may be used") {
		v.give(t, "on the van")
	}
	barred := pairs(limits)
	bare := slices.ContainsFunc(limits, func(l string) bool { return strings.HasPrefix(l, "a protective conductor") })
	for _, p := range aboutPairs(g, ask) {
		text := p[0] + " and " + p[1]
		if slices.Contains(p[:], "board") && !bare {
			continue // thought of only where a protective conductor is to be brought
		}
		if text == without || p[1]+" and "+p[0] == without || !slices.Contains(barred, p) && !slices.Contains(barred, [2]string{p[1], p[0]}) {
			v.offer(p[0], p[1], func(*kit.Cable) bool { return true })
		}
	}
	return v.ask
}

// aboutPairs are the pairs of boxes between which new cables are thought of:
// those of places, lamps and switches that are taken out.
func aboutPairs(g *wiring.Graph, ask *change.Ask) (list [][2]string) {
	var boxes []string
	add := func(id string) {
		if !slices.Contains(boxes, id) {
			boxes = append(boxes, id)
		}
	}
	for _, q := range ask.Groups {
		for _, l := range q.Lamps {
			box, _, _ := strings.Cut(l, ".")
			add(box)
		}
		for _, p := range slices.Concat(q.At, q.Off) {
			add(p.Box)
		}
	}
	for i := range g.Switches {
		add(g.Switches[i].Box.ID)
	}
	add(g.Origins[0].Circuit.Board)
	for i, a := range boxes {
		for _, b := range boxes[:i] {
			list = append(list, [2]string{a, b})
		}
	}
	return list
}

// Whatever is said to help does: with the limits given up there is a way, and
// it takes the minutes that were said. Nothing else helps for less: the first
// thing offered is the cheapest.
func TestRemediesHelp(t *testing.T) {
	offered := 0
	for _, r := range refusals {
		g, ask, cat := asked(t, r.text)
		a, err := change.Search(g, ask, cat, change.Options{})
		if err != nil || a.Impossible == nil {
			t.Fatal(r.name, err)
		}
		for _, remedy := range a.Impossible.Remedies {
			offered++
			v := newGiver(cat, ask)
			for _, text := range remedy.Text {
				if !v.give(t, text) {
					t.Errorf("%s: %q cannot be given up", r.name, text)
				}
			}
			a, err := change.Search(g, v.ask, cat, change.Options{})
			if err != nil || len(a.Ways) == 0 {
				t.Errorf("%s: with %q there is still no way: %v %+v", r.name, remedy.Text, err, a.Impossible)
				continue
			}
			if got := a.Ways[0].Effort.Minutes; math.Abs(got-remedy.Minutes) > 0.5 {
				t.Errorf("%s: %q takes %.1f min, said %.1f", r.name, remedy.Text, got, remedy.Minutes)
			}
		}
	}
	if offered < 20 {
		t.Errorf("%d remedies, too few to test", offered)
	}
}

// Where too few cores are the reason, the count is right. Three conductors have
// to pass to a switch at an end of a chain, whatever the arrangement: two
// strappers and line or switched line, or line, switched line and the joined
// commons (from the terminals of a two-way switch, all three of which are used).
func TestCountOfCoresIsRight(t *testing.T) {
	for _, r := range refusals {
		a := search(t, r.text, change.Options{})
		if r.cut.Needed == 0 {
			continue
		}
		got := a.Impossible.Cut
		if got == nil || !slices.Equal(got.Here, r.cut.Here) || got.Cores != r.cut.Cores || got.Needed != r.cut.Needed {
			t.Errorf("%s: %+v, want %+v", r.name, got, r.cut)
		}
	}
}

// An intermediate between two others needs four.
func TestIntermediateNeedsFourCores(t *testing.T) {
	text := pairHouse + `
could:
  boxes: { mid: { kind: plaster-1g-35 } }
  cables: { low: { kinds: [3ce-1.0], from: hall, to: mid, length: 3 m } }
want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, mid, { box: top, keep: true }] }]
`
	a := search(t, text, change.Options{})
	if a.Impossible == nil || a.Impossible.Cut == nil {
		t.Fatalf("%+v", a)
	}
	if c := a.Impossible.Cut; !slices.Equal(c.Here, []string{"mid"}) || c.Cores != 3 || c.Needed != 4 {
		t.Errorf("%+v, want 3 cores at mid where 4 are needed", c)
	}
}

// A switch that is to be kept and cannot serve is said to be the reason.
func TestKeptSwitchThatCannotServe(t *testing.T) {
	a := search(t, ceilingHouse+newTop+"want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, top] }]\n", change.Options{})
	if len(a.Ways) > 0 || !slices.Equal(forbids(a.Findings), []string{"no-switch-kind"}) || !strings.Contains(a.Findings[0].Text, "hall") {
		t.Errorf("%+v, want to hear that the one-way switch in hall cannot be kept", a)
	}
}

// That no cable would help is said where it is so, and only there.
func TestNeverIsSaidWhereNothingHelps(t *testing.T) {
	for _, c := range []struct {
		text  string
		never bool
	}{
		{ceilingHouse + noNew + bothWays, false},
		{ceilingHouse + strings.ReplaceAll(thirdPlace, "[hall, mid, top]", "[{ box: hall, fit: two-way }, { box: mid, fit: two-way }, { box: top, fit: two-way }]"), true},
		{oldHouse + newTop + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }, { box: top, fit: pir }], rule: all }]\n", true},
	} {
		a := search(t, c.text, change.Options{})
		if a.Impossible == nil || a.Impossible.Never != c.never || c.never == (len(a.Impossible.Limits) > 0) {
			t.Errorf("%+v, want never: %v", a.Impossible, c.never)
		}
	}
}
