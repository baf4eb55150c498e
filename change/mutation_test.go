package change_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/job"
	"strapper/switching"
	"strapper/wiring"
)

// A meter finds out by itself what an installation does: in every position of
// all switches it joins what conductors and closed contacts join, and looks at
// each source and lamp. It is slow and simple, and shares nothing with package
// switching but the graph.
type meter struct {
	lit    map[string]string // by lamp: one letter a state, 1 lit
	unsafe string            // what is dangerous in some state; "" if nothing
}

func measure(g *wiring.Graph) meter {
	m := meter{lit: map[string]string{}}
	position := make([]int, len(g.Switches))
	for {
		m.state(g, position)
		i := len(position) - 1
		for ; i >= 0; i-- {
			if position[i]++; position[i] < len(g.Switches[i].Kind.Positions) {
				break
			}
			position[i] = 0
		}
		if i < 0 {
			return m
		}
	}
}

// A forest is which nodes are one, as disjoint sets.
type forest []int

func (j forest) root(n wiring.Node) int {
	i := int(n)
	for j[i] != i {
		i = j[i]
	}
	return i
}

func (j forest) join(a, b wiring.Node) { j[j.root(a)] = j.root(b) }

func (m *meter) state(g *wiring.Graph, position []int) {
	j := make(forest, g.Nodes())
	for n := range j {
		j[n] = n
	}
	for i := range g.Edges {
		e := &g.Edges[i]
		if e.Kind == wiring.Conductor || e.In>>position[e.Switch]&1 == 1 {
			j.join(e.A, e.B)
		}
	}
	m.sources(g, j)
	for i := range g.Loads {
		m.load(g, &g.Loads[i], j)
	}
}

func (m *meter) sources(g *wiring.Graph, j forest) {
	seen := map[int]string{}
	for i, o := range g.Origins {
		for _, s := range []struct {
			n    wiring.Node
			name string
		}{{o.L, fmt.Sprint("line ", i)}, {o.N, fmt.Sprint("neutral ", i)}, {o.E, "earth"}} {
			if was, met := seen[j.root(s.n)]; met && was != s.name {
				m.unsafe = was + " meets " + s.name
			}
			seen[j.root(s.n)] = s.name
		}
	}
}

func (m *meter) load(g *wiring.Graph, l *wiring.Load, j forest) {
	line, neutral := -1, -1
	for i, o := range g.Origins {
		if j.root(l.A) == j.root(o.L) {
			line = i
		}
		if j.root(l.B) == j.root(o.N) {
			neutral = i
		}
		if !l.Always && (j.root(l.B) == j.root(o.L) || j.root(l.A) == j.root(o.N)) {
			m.unsafe = l.ID() + " has line and neutral exchanged"
		}
	}
	if line >= 0 && neutral != line && !l.Always {
		m.unsafe = l.ID() + " is dark and live, or returns by another circuit"
	}
	id, lit := l.ID(), "0"
	if line >= 0 && line == neutral {
		lit = "1"
	}
	if !l.Always {
		m.lit[id] += lit
	}
}

// alike compares the lamps of the wants: "same", "turned" if all lamps of a
// want that toggles are lit exactly where they were dark, or "other".
func (m *meter) alike(other *meter, wants []switching.Want) string {
	answer := "same"
	for _, w := range wants {
		for _, lamp := range w.Lamps {
			switch {
			case m.lit[lamp] == other.lit[lamp]:
			case w.Rule != switching.RuleAny && w.Rule != switching.RuleAll && len(w.Off) == 0 && m.lit[lamp] == turned(other.lit[lamp]):
				answer = "turned"
			default:
				return "other"
			}
		}
	}
	return answer
}

// others reports whether a lamp that no want mentions is lit otherwise.
func (m *meter) others(other *meter, wants []switching.Want) bool {
	for lamp, lit := range m.lit {
		wanted := slices.ContainsFunc(wants, func(w switching.Want) bool { return slices.Contains(w.Lamps, lamp) })
		if !wanted && lit != other.lit[lamp] {
			return true
		}
	}
	return false
}

func turned(lit string) string {
	return strings.NewReplacer("0", "1", "1", "0").Replace(lit)
}

// mutants makes every single mistake in the joints of an installation: two
// ends exchanged in a box, an end in another joint, an end out of its joint.
func mutants(in *wiring.Installation, each func(what string, in *wiring.Installation)) {
	for _, b := range in.Boxes {
		var at []int
		for i, j := range in.Joints {
			if j.Box == b.ID {
				at = append(at, i)
			}
		}
		for x, i := range at {
			for k, e := range in.Joints[i].Ends {
				for _, o := range at[x+1:] {
					for q, f := range in.Joints[o].Ends {
						m := copied(in)
						m.Joints[i].Ends[k], m.Joints[o].Ends[q] = f, e
						each(fmt.Sprintf("%s: %s and %s exchanged", b.ID, e, f), m)
					}
				}
				for _, o := range at {
					if o != i {
						each(fmt.Sprintf("%s: %s moved to %s", b.ID, e, in.Joints[o].Ends[0]), moved(in, i, k, o))
					}
				}
				if len(in.Joints[i].Ends) > 1 {
					each(fmt.Sprintf("%s: %s out of its joint", b.ID, e), moved(in, i, k, -1))
				}
			}
		}
	}
}

func copied(in *wiring.Installation) *wiring.Installation {
	m := *in
	m.Joints = slices.Clone(in.Joints)
	for i := range m.Joints {
		m.Joints[i].Ends = slices.Clone(m.Joints[i].Ends)
	}
	return &m
}

// moved takes an end out of a joint and puts it into another, or parks it.
func moved(in *wiring.Installation, from, k, to int) *wiring.Installation {
	m := copied(in)
	e := m.Joints[from].Ends[k]
	m.Joints[from].Ends = slices.Delete(m.Joints[from].Ends, k, k+1)
	switch {
	case to >= 0:
		m.Joints[to].Ends = append(m.Joints[to].Ends, e)
	case in.Cable(e.Item) != nil:
		m.Joints = append(m.Joints, wiring.Joint{Box: e.Box, Ends: []wiring.End{e}})
	}
	if len(m.Joints[from].Ends) == 0 || len(m.Joints[from].Ends) == 1 && in.Cable(m.Joints[from].Ends[0].Item) == nil {
		m.Joints = slices.Delete(m.Joints, from, from+1)
	}
	return m
}

// Every single mistake in carrying out a way is refused by the proof, or makes
// no difference: the meter finds the lamps lit in the same positions, or, where
// any of several switches toggles them, in exactly the others, and nothing
// dangerous. A lamp that no want mentions is held to nothing but safety: the
// proof cannot know how it ought to work.
func TestEveryMutantIsRefusedOrTheSame(t *testing.T) {
	var refused, same, turn, unasked int
	for _, w := range slices.Concat(wishes, exampleWishes(t)) {
		a := search(t, w.text, change.Options{Most: 2})
		for i := range a.Ways {
			way := &a.Ways[i]
			before := measure(way.Graph)
			if before.unsafe != "" && !knownWrong(way) {
				t.Errorf("%s, %s: %s", w.name, way.Name, before.unsafe)
			}
			mutants(way.Left, func(what string, in *wiring.Installation) {
				g, problems := wiring.Build(in)
				if g == nil || finding.Forbidden(problems) {
					refused++
					return
				}
				if worse(switching.Prove(g, way.Wants).Findings, way.Findings) {
					refused++
					return
				}
				after := measure(g)
				switch alike := after.alike(&before, way.Wants); {
				case after.unsafe != "" && before.unsafe == "":
					t.Errorf("%s, %s, %s: not refused, though %s", w.name, way.Name, what, after.unsafe)
				case alike == "same" && after.others(&before, way.Wants):
					unasked++
				case alike == "same":
					same++
				case alike == "turned":
					turn++
				default:
					t.Errorf("%s, %s, %s: not refused, though the lamps do something else", w.name, way.Name, what)
				}
			})
		}
	}
	t.Logf("%d mutants refused, %d make no difference, %d exchange on and off, %d only touch a lamp of which nothing is asked", refused, same, turn, unasked)
	if refused < 5*(same+turn) || refused == 0 || same == 0 || turn == 0 {
		t.Errorf("%d refused, %d the same, %d turned: the mutants test nothing", refused, same, turn)
	}
}

// exampleWishes are the examples that leave the wiring to be found.
func exampleWishes(tb testing.TB) (list []wish) {
	tb.Helper()
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil {
		tb.Fatal(err)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			tb.Fatal(err)
		}
		if j, _ := job.Read(name, text, catalogue(tb)); j != nil && j.Ask != nil {
			list = append(list, wish{filepath.Base(name), string(text)})
		}
	}
	if len(list) == 0 {
		tb.Error("no example leaves the wiring to be found")
	}
	return list
}

func knownWrong(w *change.Way) bool { return len(forbids(w.Findings)) > 0 }

// worse reports whether findings forbid something that others did not.
func worse(list, before []finding.Finding) bool {
	return slices.ContainsFunc(list, func(f finding.Finding) bool {
		return f.Severity == finding.Forbids && !slices.ContainsFunc(before, func(b finding.Finding) bool {
			return b.Code == f.Code && b.Subject == f.Subject
		})
	})
}

// What a way says of the cores of a cable that may be exchanged is what the
// meter finds when they are: at both ends nothing changes, at one end what is
// said.
func TestExchangesDoWhatTheySay(t *testing.T) {
	count := map[string]int{}
	for _, w := range wishes {
		for _, way := range search(t, w.text, change.Options{Most: 3}).Ways {
			before := measure(way.Graph)
			for _, x := range way.Exchanges {
				c := way.Left.Cable(x.Cable)
				both := swapped(swapped(way.Left, c.From, x), c.To, x)
				if m := measured(t, both); m.alike(&before, way.Wants) != "same" || m.unsafe != before.unsafe {
					t.Errorf("%s, %s: %s of %s exchanged at both ends: something changes", w.name, way.Name, x.Cores, x.Cable)
				}
				said := map[bool]string{true: "same", false: "turned"}[x.Same]
				for _, box := range []string{c.From, c.To} {
					m := measured(t, swapped(way.Left, box, x))
					got := m.alike(&before, way.Wants)
					switch {
					case x.OneEnd && !x.Same && got == "same": // the other end decides
					case x.OneEnd && (got != said || m.unsafe != before.unsafe):
						t.Errorf("%s, %s: %s; exchanged in %s the lamps are %s %s", w.name, way.Name, x.Text, box, got, m.unsafe)
					}
				}
				if x.Same && !x.OneEnd {
					t.Errorf("%s, %s: %+v contradicts itself", w.name, way.Name, x)
				}
				count[fmt.Sprint(x.OneEnd, x.Same)]++
			}
		}
	}
	t.Log(count)
	for _, kind := range []string{"false false", "true false", "true true"} {
		if count[kind] == 0 {
			t.Errorf("no exchange of the kind (one end, same) = %s", kind)
		}
	}
}

func measured(tb testing.TB, in *wiring.Installation) meter {
	tb.Helper()
	g, problems := wiring.Build(in)
	if g == nil {
		tb.Fatal(problems)
	}
	return measure(g)
}

// swapped exchanges two cores of a cable in one box.
func swapped(in *wiring.Installation, box string, x change.Exchange) *wiring.Installation {
	m := copied(in)
	for i := range m.Joints {
		for k, e := range m.Joints[i].Ends {
			if e.Box == box && e.Item == x.Cable {
				if at := slices.Index(x.Cores[:], e.Name); at >= 0 {
					m.Joints[i].Ends[k].Name = x.Cores[1-at]
				}
			}
		}
	}
	return m
}
