package switching_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"strapper/switching"
	"strapper/wiring"
)

// brute looks at one state after another with a plain union-find, as the
// slowest and plainest way to the same answers.
type brute struct {
	g    *wiring.Graph
	s    wiring.State
	root []int
	seen map[string]bool // "code subject"
	best map[string]int  // "code subject source node neutral": fewest contacts so far
}

func newBrute(g *wiring.Graph) *brute {
	return &brute{g: g, root: make([]int, g.Nodes()), seen: map[string]bool{}, best: map[string]int{}}
}

func (b *brute) find(n wiring.Node) int {
	i := int(n)
	for b.root[i] != i {
		i = b.root[i]
	}
	return i
}

func (b *brute) same(x, y wiring.Node) bool { return b.find(x) == b.find(y) }

// set joins what is joined in a state.
func (b *brute) set(s wiring.State) {
	b.s = s
	for i := range b.root {
		b.root[i] = i
	}
	for i := range b.g.Edges {
		if e := &b.g.Edges[i]; e.Closed(s) {
			b.root[b.find(e.A)] = b.find(e.B)
		}
	}
	for _, o := range b.g.Origins {
		b.root[b.find(o.E)] = b.find(b.g.Origins[0].E)
	}
}

func (b *brute) line(n wiring.Node) bool { return b.at(n, "L") }

func (b *brute) neutral(n wiring.Node) bool { return b.at(n, "N") }

func (b *brute) at(n wiring.Node, pole string) bool {
	for _, o := range b.g.Origins {
		if pole == "L" && b.same(n, o.L) || pole == "N" && b.same(n, o.N) {
			return true
		}
	}
	return false
}

func (b *brute) earth(n wiring.Node) bool { return b.same(n, b.g.Origins[0].E) }

func (b *brute) lit(l *wiring.Load) bool {
	return b.line(l.A) && b.neutral(l.B) || b.line(l.B) && b.neutral(l.A)
}

// note records a fault of this state, with the fewest contacts between the
// source and the place.
func (b *brute) note(code, subject string, from, to wiring.Node, far ...wiring.Node) {
	key := code + " " + subject
	b.seen[key] = true
	at := fmt.Sprint(key, " ", from, to, far)
	d := b.contacts(from, to)
	if old, ok := b.best[at]; !ok || d < old {
		b.best[at] = d
	}
}

// contacts counts the fewest contacts on a way between two nodes (Bellman,
// Ford: relax until nothing changes).
func (b *brute) contacts(from, to wiring.Node) int {
	dist := slices.Repeat([]int{1 << 20}, b.g.Nodes())
	dist[from] = 0
	for changed := true; changed; {
		changed = false
		for i := range b.g.Edges {
			e := &b.g.Edges[i]
			cost := 0
			if e.Kind == wiring.Contact {
				cost = 1
			}
			for _, w := range [2][2]wiring.Node{{e.A, e.B}, {e.B, e.A}} {
				if e.Closed(b.s) && dist[w[0]]+cost < dist[w[1]] {
					dist[w[1]], changed = dist[w[0]]+cost, true
				}
			}
		}
	}
	return dist[to]
}

func (b *brute) look() {
	for i := range b.g.Origins {
		b.circuit(i)
	}
	for i := range b.g.Loads {
		b.load(i)
	}
	for n := range wiring.Node(b.g.Nodes()) {
		b.end(n)
	}
	for i := range b.g.Edges {
		e := &b.g.Edges[i]
		if e.Core == nil || !e.Core.Earth || b.bonded(e.A) {
			continue
		}
		for _, o := range b.g.Origins {
			for _, pole := range [2]wiring.Node{o.L, o.N} {
				if b.same(pole, e.A) {
					b.note("cpc-live", "cables."+e.Cable.ID, pole, e.A)
				}
			}
		}
	}
}

// bonded: joined to earth with every contact open.
func (b *brute) bonded(n wiring.Node) bool {
	only := newBrute(b.g)
	for i := range only.root {
		only.root[i] = i
	}
	for i := range b.g.Edges {
		if e := &b.g.Edges[i]; e.Kind == wiring.Conductor {
			only.root[only.find(e.A)] = only.find(e.B)
		}
	}
	for _, o := range b.g.Origins {
		if only.same(n, o.E) {
			return true
		}
	}
	return false
}

func (b *brute) circuit(i int) {
	o := b.g.Origins[i]
	subject := "circuits." + o.Circuit.ID
	for j, q := range b.g.Origins {
		if b.same(o.L, q.N) {
			b.note("short-circuit", subject, o.L, q.N)
		}
		if j < i && b.same(o.L, q.L) {
			b.note("circuits-joined", subject, q.L, o.L)
		}
		if j < i && b.same(o.N, q.N) {
			b.note("neutrals-joined", subject, q.N, o.N)
		}
	}
	if b.earth(o.L) {
		b.note("earth-fault", subject, o.L, b.g.Origins[0].E)
	}
	if b.earth(o.N) {
		b.note("neutral-to-earth", subject, o.N, b.g.Origins[0].E)
	}
}

func (b *brute) load(i int) {
	l := &b.g.Loads[i]
	subject := "boxes." + l.ID()
	for k, o := range b.g.Origins {
		for side, x := range [2]wiring.Node{l.A, l.B} {
			y := [2]wiring.Node{l.B, l.A}[side]
			if !b.same(o.L, x) {
				continue
			}
			if !b.neutral(y) && b.earth(y) {
				b.note("earth-return", subject, o.L, x)
			}
			if !b.neutral(y) && !b.earth(y) {
				b.note("live-when-off", subject, o.L, x)
			}
			for j, q := range b.g.Origins {
				if side == 1 && b.same(q.N, y) {
					b.note("reversed-polarity", subject, o.L, x, q.N)
				}
				if j != k && b.same(q.N, y) {
					b.note("borrowed-neutral", subject, o.L, x, q.N)
				}
			}
		}
	}
	across := b.line(l.A) && b.dead(l.B) || b.line(l.B) && b.dead(l.A)
	if !across && b.throughAnother(i) {
		b.seen["series-lamps "+subject] = true
	}
}

// throughAnother tries every simple path from line to neutral or earth that leads
// through the load and at least one other.
func (b *brute) throughAnother(load int) bool {
	for start := range b.root {
		if n := wiring.Node(start); b.root[start] == start && b.line(n) && !b.dead(n) && b.onward(start, load, map[int]bool{}, map[int]bool{}) {
			return true
		}
	}
	return false
}

func (b *brute) dead(n wiring.Node) bool { return b.neutral(n) || b.earth(n) }

func (b *brute) onward(at, load int, visited, used map[int]bool) bool {
	n := wiring.Node(at)
	if b.dead(n) {
		return !b.line(n) && used[load] && len(used) > 1
	}
	if len(used) > 0 && b.line(n) {
		return false
	}
	visited[at] = true
	defer delete(visited, at)
	for i := range b.g.Loads {
		for side, x := range [2]wiring.Node{b.g.Loads[i].A, b.g.Loads[i].B} {
			next := b.find([2]wiring.Node{b.g.Loads[i].B, b.g.Loads[i].A}[side])
			if b.find(x) != at || visited[next] || used[i] {
				continue
			}
			used[i] = true
			found := b.onward(next, load, visited, used)
			delete(used, i)
			if found {
				return true
			}
		}
	}
	return false
}

func (b *brute) end(n wiring.Node) {
	if !b.g.Loose(n) && !b.g.Parked(n) {
		return
	}
	end := b.g.Members(n)[0]
	if _, core := b.g.IsCore(end); core == nil {
		return
	}
	code := "live-end"
	if b.g.Parked(n) {
		code = "live-spare"
	}
	for _, o := range b.g.Origins {
		if b.same(o.L, n) {
			b.note(code, string(end.Subject()), o.L, n)
		}
	}
}

// randomHouse is a small house in which everything is landed at random.
func randomHouse(t testing.TB, seed int64, size int) (*house, []switching.Want) {
	r := rand.New(rand.NewSource(seed))
	circuits := []string{"c", "d"}[:1+r.Intn(2)]
	h := newHouse(t, circuits...)
	nets := []string{"E", "Eloose", "n1", "n2", "n3", "n4"}
	for _, c := range circuits {
		nets = append(nets, "L:"+c, "N:"+c, "L:"+c, "N:"+c)
	}
	kinds := []string{"one-way", "two-way", "two-way", "intermediate", "two-way-and-off", "double-pole", "push", "lampholder", "lampholder", "luminaire-class2"}
	w := switching.Want{Subject: "want.0", Rule: []switching.Rule{switching.RuleToggle, switching.RuleAny, switching.RuleAll}[r.Intn(3)]}
	for i := range 2 + r.Intn(size) {
		kind := kinds[r.Intn(len(kinds))]
		box := fmt.Sprintf("b%d", i)
		var land []string
		for _, terminal := range h.cat.Accessories[kind].Terminals {
			if r.Intn(8) > 0 {
				land = append(land, terminal.Name+"="+nets[r.Intn(len(nets))])
			}
		}
		h.fit(box, kind, land...)
		if strings.HasPrefix(kind, "l") {
			w.Lamps = append(w.Lamps, box+".x")
		} else if r.Intn(2) == 0 {
			w.From = append(w.From, box+".x")
		}
	}
	h.spare(r)
	return h, []switching.Want{w}
}

// spare runs a cable from a lamp or switch to the board, its far end loose or
// parked.
func (h *house) spare(r *rand.Rand) {
	if len(h.in.Boxes) < 2 || len(h.order) == 0 || r.Intn(3) > 0 {
		return
	}
	net := h.order[r.Intn(len(h.order))]
	e := h.nodes[net][0]
	to := h.in.Boxes[len(h.in.Boxes)-1].ID
	if to == e.Box {
		return
	}
	c := &wiring.Cable{ID: "spare", Kind: h.cat.Cables["single-brown-1.0"], From: e.Box, To: to, Length: 1000}
	h.in.Cables = append(h.in.Cables, c)
	h.nodes[net] = append(h.nodes[net], wiring.End{Box: e.Box, Item: "spare", Name: "brown"})
	if r.Intn(2) == 0 {
		h.in.Joints = append(h.in.Joints, wiring.Joint{Box: to, Ends: []wiring.End{{Box: to, Item: "spare", Name: "brown"}}})
	}
}

var bruteCodes = strings.Fields("short-circuit earth-fault circuits-joined neutrals-joined neutral-to-earth live-when-off reversed-polarity earth-return borrowed-neutral live-end live-spare cpc-live")

// The prover against plain search through all states, on random houses: what
// is lit, which faults there are, and that each witness has as few contacts as
// there can be.
func TestAgainstBruteForce(t *testing.T) {
	found := map[string]int{}
	for seed := range int64(3000) {
		h, _ := randomHouse(t, seed, 7)
		g := h.graph()
		p := switching.Prove(g, nil)
		b := newBrute(g)
		for i := range g.States() {
			b.set(g.StateAt(i))
			b.look()
			for k := range g.Loads {
				if p.Lit(k, b.s) != b.lit(&g.Loads[k]) {
					t.Fatalf("seed %d: load %d in %s: lit %v", seed, k, g.Describe(b.s), p.Lit(k, b.s))
				}
			}
		}
		compareFindings(t, seed, p, b, found)
		if t.Failed() {
			return
		}
	}
	for _, code := range append(bruteCodes, "series-lamps") {
		if found[code] < 10 {
			t.Errorf("only %d houses had %s: the test looks at too little", found[code], code)
		}
	}
	t.Log(found)
}

func compareFindings(t *testing.T, seed int64, p *switching.Proof, b *brute, found map[string]int) {
	t.Helper()
	got := map[string]string{}
	series := map[string]bool{}
	for _, f := range p.Findings {
		got[f.Code+" "+string(f.Subject)] = f.Witness
		series[string(f.Subject)] = series[string(f.Subject)] || f.Code == "series-lamps"
		found[f.Code]++
	}
	for key := range b.seen {
		code, subject, _ := strings.Cut(key, " ")
		if _, ok := got[key]; !ok && !(code == "live-when-off" && series[subject]) {
			t.Errorf("seed %d: %s was not found", seed, key)
		}
	}
	for key, witness := range got {
		if code, _, _ := strings.Cut(key, " "); slices.Contains(bruteCodes, code) {
			if !b.seen[key] {
				t.Errorf("seed %d: %s is not so", seed, key)
			}
			checkShortest(t, seed, key, witness, b)
		} else if code == "series-lamps" && !b.anySeries() {
			t.Errorf("seed %d: %s is not so", seed, key)
		}
	}
}

// anySeries: a lamp beside a series path is counted with it, so that only
// houses without any such path must be free of the finding.
func (b *brute) anySeries() bool {
	for key := range b.seen {
		if strings.HasPrefix(key, "series-lamps ") {
			return true
		}
	}
	return false
}

// checkShortest wants the contacts that a witness passes to be as few as lead
// to one of the places where the fault shows.
func checkShortest(t *testing.T, seed int64, key, witness string, b *brute) {
	t.Helper()
	n := strings.Count(witness, "–")
	for at, d := range b.best {
		if strings.HasPrefix(at, key+" ") && d == n {
			return
		}
	}
	t.Errorf("seed %d: %s: %q passes %d contacts, which is not the fewest", seed, key, witness, n)
}

// Truth tables and decision diagrams must agree in everything.
func TestTablesAgainstDiagrams(t *testing.T) {
	for seed := range int64(800) {
		h, wants := randomHouse(t, seed, 9)
		if seed%2 == 0 {
			addRelay(h, seed)
		}
		g := h.graph()
		compareProofs(t, seed, g, switching.Prove(g, wants), switching.ProveByDiagram(g, wants))
		if t.Failed() {
			return
		}
	}
}

// addRelay adds two relays and two pushes, coils and contacts landed at random.
func addRelay(h *house, seed int64) {
	r := rand.New(rand.NewSource(seed))
	nets := []string{"n1", "n2", "n3", "L:c", "n1", "n2"}
	pick := func() string { return nets[r.Intn(len(nets))] }
	for _, box := range []string{"relay", "relay2"} {
		h.fit(box, "latching-relay", "A1="+pick(), "A2=N:c", "1="+pick(), "2="+pick())
	}
	for _, box := range []string{"push", "push2"} {
		h.fit(box, "push", "COM=L:c", "L1="+pick())
	}
}

func compareProofs(t *testing.T, seed int64, g *wiring.Graph, p, q *switching.Proof) {
	t.Helper()
	brief := func(p *switching.Proof) (list []string) {
		for _, f := range p.Findings {
			list = append(list, f.Code+" "+string(f.Subject)+" "+fmt.Sprint(strings.Count(f.Witness, "–")))
		}
		return list
	}
	if a, b := brief(p), brief(q); !slices.Equal(a, b) {
		t.Errorf("seed %d: findings\n%s\nby diagram\n%s", seed, strings.Join(a, "\n"), strings.Join(b, "\n"))
	}
	if !slices.Equal(p.Duty, q.Duty) {
		t.Errorf("seed %d: duties %v, by diagram %v", seed, p.Duty, q.Duty)
	}
	for k := range g.Loads {
		if p.CountLit(k) != q.CountLit(k) || !slices.Equal(p.Switched(k), q.Switched(k)) {
			t.Errorf("seed %d: load %d lit in %d states by %v, by diagram in %d by %v", seed, k, p.CountLit(k), p.Switched(k), q.CountLit(k), q.Switched(k))
		}
		for i := range g.States() {
			if s := g.StateAt(i); p.Lit(k, s) != q.Lit(k, s) {
				t.Fatalf("seed %d: load %d in %s differs", seed, k, g.Describe(s))
			}
		}
	}
}

// FuzzProve wants no panic, and no proof that differs by method, of any house
// that can be described.
func FuzzProve(f *testing.F) {
	f.Add(int64(1), uint8(5))
	f.Add(int64(7), uint8(12))
	f.Fuzz(func(t *testing.T, seed int64, size uint8) {
		h, wants := randomHouse(t, seed, 1+int(size)%9)
		h.in.Joints = append(h.in.Joints, wiring.Joint{Box: "board"})
		g := h.graph()
		compareProofs(t, seed, g, switching.Prove(g, wants), switching.ProveByDiagram(g, wants))
	})
}
