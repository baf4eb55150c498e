package change_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// Every way of every wish keeps what no want asks to change: lamps that are not
// mentioned are worked by the same switches in the same positions, no lamp is
// moved to another circuit unless it is said, and nothing that was right as
// found is forbidden as left.
func TestWaysLeaveTheRestAlone(t *testing.T) {
	for _, w := range wishes {
		g, ask, cat := asked(t, w.text)
		was := switching.Prove(g, nil)
		a, err := change.Search(g, ask, cat, change.Options{Most: 5})
		if err != nil || len(a.Ways) == 0 {
			t.Errorf("%s: no way: %v %v %+v", w.name, err, a.Findings, a.Impossible)
			continue
		}
		for _, way := range a.Ways {
			for _, load := range g.Lamps() {
				id := g.Loads[load].ID()
				if slices.ContainsFunc(ask.Groups, func(g change.Group) bool { return slices.Contains(g.Lamps, id) }) {
					continue
				}
				left := way.Graph.LoadsOf(id)[0]
				before, after := idsOf(g, was.Switched(load)), idsOf(way.Graph, way.Proof.Switched(left))
				if !slices.Equal(before, after) || was.Truth(load, was.Switched(load)...) != way.Proof.Truth(left, way.Proof.Switched(left)...) {
					t.Errorf("%s, %s: %s was worked by %v, is worked by %v", w.name, way.Name, id, before, after)
				}
			}
			for _, code := range forbids(way.Findings) {
				if !slices.Contains(forbids(was.Findings), code) {
					t.Errorf("%s, %s: %s is new", w.name, way.Name, code)
				}
			}
		}
	}
}

func idsOf(g *wiring.Graph, switches []int) []string {
	var list []string
	for _, i := range switches {
		list = append(list, g.Switches[i].ID())
	}
	slices.Sort(list)
	return list
}

// Switches are worked where it was asked, and there alone.
func TestSwitchesAreWhereTheyWereAsked(t *testing.T) {
	for _, w := range wishes {
		_, ask, _ := asked(t, w.text)
		for _, way := range ways(t, w.text, 3) {
			for i, g := range ask.Groups {
				load := way.Graph.LoadsOf(g.Lamps[0])[0]
				var want, got []string
				for _, p := range slices.Concat(g.At, g.Off) {
					want = append(want, p.Box)
				}
				for _, sw := range way.Proof.Switched(load) {
					got = append(got, way.Graph.Switches[sw].Box.ID)
				}
				slices.Sort(want)
				slices.Sort(got)
				if !slices.Equal(want, got) {
					t.Errorf("%s, %s: %s is worked from %v, asked from %v", w.name, way.Name, g.Lamps[0], got, want)
				}
				if len(way.Wants[i].From) != len(g.At) {
					t.Errorf("%s, %s: proved for %v", w.name, way.Name, way.Wants[i].From)
				}
			}
		}
	}
}

// Two circuits that meet in a box are never joined, in any position: no core
// and no terminal of one is reached by the line or neutral of the other.
func TestCircuitsAreNeverMixed(t *testing.T) {
	for _, text := range []string{
		"want: [{ lamps: [high.lamp], at: [hall.s2, top] }]\n",
		"want: [{ lamps: [high.lamp], at: [hall.s2, top] }, { lamps: [low.lamp], at: [hall.s1] }]\n",
		"want: [{ lamps: [low.lamp], at: [hall.s1, top] }]\n",
	} {
		for _, way := range ways(t, circuitsHouse+text, 20) {
			for n := range wiring.Node(way.Graph.Nodes()) {
				if way.Proof.Fed(n, 0) && way.Proof.Fed(n, 1) {
					t.Errorf("%s: %v is reached by both circuits", way.Name, way.Graph.Members(n))
				}
			}
			for i, lamp := range []string{"low.lamp", "high.lamp"} {
				l := &way.Graph.Loads[way.Graph.LoadsOf(lamp)[0]]
				if !way.Proof.Fed(l.A, i) || !way.Proof.Fed(l.B, i) || way.Proof.Fed(l.A, 1-i) || way.Proof.Fed(l.B, 1-i) {
					t.Errorf("%s: %s is not on its own circuit alone", way.Name, lamp)
				}
			}
		}
	}
}

// A lamp may be given to another circuit if the want says so; then it has both
// line and neutral of that one.
func TestCircuitNamed(t *testing.T) {
	text := circuitsHouse + `
could: { cables: { across: { kinds: [te-1.0, 3ce-1.0], from: board, to: high, length: 9 m } } }
want: [{ lamps: [high.lamp], at: [hall.s2], circuit: down }]
`
	for _, way := range ways(t, text, 5) {
		l := &way.Graph.Loads[way.Graph.LoadsOf("high.lamp")[0]]
		if !way.Proof.Fed(l.A, 0) || !way.Proof.Fed(l.B, 0) || way.Proof.Fed(l.A, 1) || way.Proof.Fed(l.B, 1) {
			t.Errorf("%s: high.lamp is not on the circuit named", way.Name)
		}
	}
}

// What a way costs is the weights times what its moves say, counted here from
// the wiring as found and as left and the moves alone.
func TestEffortIsWhatTheMovesSay(t *testing.T) {
	for _, w := range wishes {
		g, ask, _ := asked(t, w.text)
		for _, way := range ways(t, w.text, 5) {
			got := way.Effort
			want := counted(g, &ask, &way)
			if got.Boxes != want.Boxes || got.Walls != want.Walls || got.Cable != want.Cable || got.EndsNew != want.EndsNew ||
				got.EndsMoved != want.EndsMoved || got.Fittings != want.Fittings || got.Joints != want.Joints || got.HiddenJoints != want.HiddenJoints {
				t.Errorf("%s, %s:\n got %+v\nwant %+v", w.name, way.Name, got, want)
			}
			u := change.Usual()
			sum := u.WallOpened*float64(got.Walls) + got.RunMinutes + u.BoxOpened*float64(got.Boxes) + u.EndMoved*float64(got.EndsMoved) +
				u.EndNew*float64(got.EndsNew) + u.Fitting*float64(got.Fittings) + u.JointNew*float64(got.Joints) + u.JointHidden*float64(got.HiddenJoints) +
				u.SpareUsed*float64(got.SparesUsed) + u.OldUsed*float64(got.OldUsed) + u.DoubtfulUsed*float64(got.DoubtfulCores) + u.Sleeve*float64(got.Sleeves)
			if math.Abs(sum-got.Minutes) > 0.01 {
				t.Errorf("%s, %s: %.2f min, the sum of its parts is %.2f", w.name, way.Name, got.Minutes, sum)
			}
		}
	}
}

func counted(g *wiring.Graph, ask *change.Ask, way *change.Way) (e change.Effort) {
	walls := map[string]bool{}
	fresh := map[string]bool{}
	for _, c := range way.Left.Cables {
		if g.Inst.Cable(c.ID) != nil {
			continue
		}
		fresh[c.ID] = true
		e.Cable += c.Length
		for _, k := range c.Kind.Cores {
			if !k.Earth {
				e.EndsNew += 2
			}
		}
		for _, r := range ask.Could.Cables {
			if r.ID == c.ID {
				for _, name := range r.Walls {
					walls[name] = true
				}
			}
		}
	}
	e.Walls = len(walls)
	fitted := map[string]bool{}
	for _, b := range way.Moves {
		if !b.New {
			e.Boxes++
		}
		ends := map[wiring.End]bool{}
		for _, m := range b.Moves {
			switch m.Kind {
			case wiring.TakeOff, wiring.Land, wiring.Join, wiring.Park:
				for _, end := range m.Ends {
					if !fresh[end.Item] && !green(way.Graph, g, end) {
						ends[end] = true
					}
				}
			case wiring.Fit, wiring.Remove:
				fitted[b.Box.ID+"."+m.Item] = true
			}
			if m.Kind == wiring.Join && len(m.With) < 2 && !green(way.Graph, g, m.Ends[0]) {
				e.Joints++
				if b.Box.Kind.Mount == kit.MountSurface && b.Box.Kind.Gangs == 0 {
					e.HiddenJoints++
				}
			}
		}
		e.EndsMoved += len(ends)
	}
	e.Fittings = len(fitted)
	return e
}

// green reports a core that is a protective conductor.
func green(left, found *wiring.Graph, e wiring.End) bool {
	if _, core := left.IsCore(e); core != nil {
		return core.Earth
	}
	_, core := found.IsCore(e)
	return core != nil && core.Earth
}

// The effort that is minimised is the effort that is printed: of the first way
// it is the bound that was proved, of every way the best that was told of last.
func TestEffortIsWhatWasMinimised(t *testing.T) {
	for _, w := range wishes {
		best := map[int]float64{}
		a := search(t, w.text, change.Options{Most: 5, Progress: func(p change.Progress) { best[p.Found] = p.Best }})
		if math.Abs(a.Bound-a.Ways[0].Effort.Minutes) > 0.01 {
			t.Errorf("%s: the bound is %.1f min, the first way takes %.1f", w.name, a.Bound, a.Ways[0].Effort.Minutes)
		}
		for i, way := range a.Ways {
			if math.Abs(best[i]-way.Effort.Minutes) > 0.01 {
				t.Errorf("%s, %s: minimised to %.1f min, takes %.1f", w.name, way.Name, best[i], way.Effort.Minutes)
			}
		}
	}
}

// Two searches give the same ways, and the ways' names are different.
func TestSearchIsTheSameAgain(t *testing.T) {
	for _, w := range wishes {
		a, b := search(t, w.text, change.Options{Most: 4}), search(t, w.text, change.Options{Most: 4})
		if !slices.Equal(names(a.Ways), names(b.Ways)) || a.All != b.All || a.Bound != b.Bound {
			t.Errorf("%s: %v, and again %v", w.name, names(a.Ways), names(b.Ways))
		}
		for i := range a.Ways {
			if a.Ways[i].Effort != b.Ways[i].Effort || !slices.EqualFunc(a.Ways[i].Left.Joints, b.Ways[i].Left.Joints, sameJoint) {
				t.Errorf("%s: %s is another way the second time", w.name, a.Ways[i].Name)
			}
		}
		all := names(a.Ways)
		slices.Sort(all)
		if n := len(slices.Compact(all)); n != len(a.Ways) {
			t.Errorf("%s: two ways of one name: %v", w.name, names(a.Ways))
		}
		if few := search(t, w.text, change.Options{}); few.Ways[0].Name != a.Ways[0].Name {
			t.Errorf("%s: the first of one is %s, of four %s", w.name, few.Ways[0].Name, a.Ways[0].Name)
		}
		last := a.Ways[len(a.Ways)-1].Name
		if found := search(t, w.text, change.Options{Named: last}).Way(last); found == nil {
			t.Errorf("%s: %s is not found by its name", w.name, last)
		}
	}
}

func sameJoint(a, b wiring.Joint) bool { return a.Box == b.Box && slices.Equal(a.Ends, b.Ends) }

// A search that is stopped says no more than it knows: its bound is not above
// the least effort, its best not below, and it claims nothing.
func TestStoppedSearchClaimsNothing(t *testing.T) {
	stopped := 0
	for _, w := range wishes {
		least := search(t, w.text, change.Options{}).Ways[0].Effort.Minutes
		for _, after := range []int{0, 1, 2, 3, 5, 8, 20} {
			asked := 0
			a := search(t, w.text, change.Options{Stop: func() bool { asked++; return asked > after }})
			if asked <= after {
				break
			}
			stopped++
			switch {
			case a.Bound > least+0.01:
				t.Errorf("%s, stopped after %d: bound %.1f min, the least effort is %.1f", w.name, after, a.Bound, least)
			case len(a.Ways) > 0 && a.Ways[0].Effort.Minutes < least-0.01:
				t.Errorf("%s, stopped after %d: %.1f min, the least effort is %.1f", w.name, after, a.Ways[0].Effort.Minutes, least)
			case a.Smallest && a.Ways[0].Effort.Minutes > least+0.01:
				t.Errorf("%s, stopped after %d: %.1f min claimed to be the least, which is %.1f", w.name, after, a.Ways[0].Effort.Minutes, least)
			case len(a.Ways) == 0 && a.Impossible != nil:
				t.Errorf("%s, stopped after %d: claimed to be impossible", w.name, after)
			}
		}
	}
	if stopped < 20 {
		t.Errorf("only %d searches were stopped", stopped)
	}
}

// Names and order in the file have nothing to do with what is the least.
func TestLeastEffortDoesNotDependOnNamesOrOrder(t *testing.T) {
	for _, w := range wishes {
		least := search(t, w.text, change.Options{}).Ways[0].Effort.Minutes
		g, ask, cat := asked(t, w.text)
		in, turned := otherNames(g.Inst, ask)
		g, problems := wiring.Build(in)
		if g == nil {
			t.Fatal(problems)
		}
		a, err := change.Search(g, turned, cat, change.Options{})
		if err != nil || len(a.Ways) == 0 || math.Abs(a.Ways[0].Effort.Minutes-least) > 0.01 {
			t.Errorf("%s: with other names and in another order %v %+v, want %.1f min", w.name, err, a, least)
		}
	}
}

// otherNames gives every box a name that sorts the other way and turns all
// lists round.
func otherNames(in *wiring.Installation, ask change.Ask) (*wiring.Installation, change.Ask) {
	name := func(id string) string {
		return strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' {
				return 'a' + 'z' - r
			}
			return r
		}, id)
	}
	dotted := func(id string) string {
		box, item, _ := strings.Cut(id, ".")
		return name(box) + "." + item
	}
	out := *in
	out.Boxes, out.Cables, out.Joints, out.Circuits = nil, nil, nil, nil
	for _, c := range in.Circuits {
		n := *c
		n.Board = name(c.Board)
		out.Circuits = append(out.Circuits, &n)
	}
	box := func(b *wiring.Box) *wiring.Box {
		n := *b
		n.ID = name(b.ID)
		n.Fit = slices.Clone(b.Fit)
		return &n
	}
	for _, b := range in.Boxes {
		out.Boxes = append(out.Boxes, box(b))
	}
	for _, c := range in.Cables {
		n := *c
		n.From, n.To = name(c.To), name(c.From)
		out.Cables = append(out.Cables, &n)
	}
	for _, j := range in.Joints {
		n := wiring.Joint{Box: name(j.Box)}
		for _, e := range j.Ends {
			n.Ends = append(n.Ends, wiring.End{Box: name(e.Box), Item: e.Item, Name: e.Name})
		}
		slices.Reverse(n.Ends)
		out.Joints = append(out.Joints, n)
	}
	q := ask
	q.Groups, q.Could, q.Limits.Closed = nil, change.Could{}, nil
	places := func(list []change.Place) []change.Place {
		var n []change.Place
		for _, p := range list {
			p.Box = name(p.Box)
			n = append(n, p)
		}
		slices.Reverse(n)
		return n
	}
	for _, g := range ask.Groups {
		g.At, g.Off = places(g.At), places(g.Off)
		g.Lamps = slices.Clone(g.Lamps)
		for i := range g.Lamps {
			g.Lamps[i] = dotted(g.Lamps[i])
		}
		slices.Reverse(g.Lamps)
		q.Groups = append(q.Groups, g)
	}
	for _, b := range ask.Could.Boxes {
		q.Could.Boxes = append(q.Could.Boxes, box(b))
	}
	for _, c := range ask.Could.Cables {
		c.From, c.To = name(c.To), name(c.From)
		c.Kinds = slices.Clone(c.Kinds)
		slices.Reverse(c.Kinds)
		q.Could.Cables = append(q.Could.Cables, c)
	}
	for _, l := range ask.Limits.Closed {
		q.Limits.Closed = append(q.Limits.Closed, change.Limit{Name: name(l.Name)})
	}
	slices.Reverse(out.Boxes)
	slices.Reverse(out.Cables)
	slices.Reverse(out.Joints)
	slices.Reverse(q.Could.Boxes)
	slices.Reverse(q.Could.Cables)
	return &out, q
}

// A run more that a cable could take never makes the least effort greater.
func TestMoreToChooseFromCostsNoMore(t *testing.T) {
	for _, w := range wishes {
		g, ask, cat := asked(t, w.text)
		least := search(t, w.text, change.Options{}).Ways[0].Effort.Minutes
		boxes := slices.Concat(g.Inst.Boxes, ask.Could.Boxes)
		for i := 1; i < len(boxes); i++ {
			more := ask
			more.Could.Cables = append(slices.Clone(ask.Could.Cables), change.Cable{
				ID: "offered", From: boxes[i-1].ID, To: boxes[i].ID, Length: 3 * unit.Metre, Minutes: float64(5 * i),
				Kinds: []*kit.Cable{cat.Cables["te-1.0"], cat.Cables["3ce-1.0"]},
			})
			if ask.Limits.Stock != nil {
				continue
			}
			a, err := change.Search(g, more, cat, change.Options{})
			if err != nil || len(a.Ways) == 0 || a.Ways[0].Effort.Minutes > least+0.01 {
				t.Errorf("%s: with a run between %s and %s %v %+v, without it %.1f min", w.name, boxes[i-1].ID, boxes[i].ID, err, a, least)
			}
		}
	}
}

// One more thing that must be left alone never makes the least effort smaller,
// and is left alone.
func TestMoreLimitsCostNoLess(t *testing.T) {
	held := 0
	for _, w := range wishes {
		g, ask, cat := asked(t, w.text)
		least := search(t, w.text, change.Options{}).Ways[0].Effort.Minutes
		for _, b := range g.Inst.Boxes {
			limited := ask
			limited.Limits.Closed = append(slices.Clone(ask.Limits.Closed), change.Limit{Name: b.ID})
			a, err := change.Search(g, limited, cat, change.Options{})
			switch {
			case err != nil:
				t.Error(err)
			case len(a.Ways) == 0 && a.Impossible == nil:
				t.Errorf("%s, %s closed: neither a way nor a reason", w.name, b.ID)
			case len(a.Ways) == 0:
			case a.Ways[0].Effort.Minutes < least-0.01:
				t.Errorf("%s, %s closed: %.1f min, less than %.1f", w.name, b.ID, a.Ways[0].Effort.Minutes, least)
			case slices.ContainsFunc(a.Ways[0].Moves, func(m wiring.BoxMoves) bool { return m.Box.ID == b.ID }):
				t.Errorf("%s: %s is opened although it is closed", w.name, b.ID)
			default:
				held++
			}
		}
	}
	if held < 40 {
		t.Errorf("only %d limits held", held)
	}
}
