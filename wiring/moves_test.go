package wiring

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/kit"
)

// The list a person would write for the second stair switch, made by hand from
// the two sets of joints: nothing at the board or the ceiling is touched.
func TestMovesForASecondSwitch(t *testing.T) {
	marks := func(e End) string {
		if e == (End{"hall", "drop", "black"}) {
			return "brown sleeve"
		}
		return ""
	}
	list := Moves(mustBuild(t, stairsFound(t)), mustBuild(t, stairsLeft(t)), marks)
	var b strings.Builder
	for _, bm := range list {
		fmt.Fprintf(&b, "%s new=%v gone=%v\n", bm.Box.Name(), bm.New, bm.Gone)
		for _, m := range bm.Moves {
			fmt.Fprintf(&b, "- %s: %s\n", m.Kind, m.Text)
		}
	}
	want := `Hall switch new=false gone=false
- mark: Label the red core of drop: it is in COM of s1 and goes back to COM of s1.
- mark: Label the black core of drop: it is in L1 of s1 and goes to the connector with the brown core of strap.
- take off: Take the red core of drop out of COM of s1.
- take off: Take the black core of drop out of L1 of s1.
- remove accessory: Remove s1 (One-way switch).
- bring in cable: Bring in the new cable strap (3-core and earth 1.0 mm², from Landing switch).
- fit accessory: Fit s1 (Two-way switch).
- land: Land the red core of drop in COM of s1.
- land: Land the black core of strap in L1 of s1.
- land: Land the grey core of strap in L2 of s1.
- sleeve: Put a brown sleeve on the black core of drop, unless it has one.
- join: Join the black core of drop and the brown core of strap in connector 1.
- open: Open the connector with the cpc of drop, keeping the cpc of drop in it.
- join: Add the cpc of strap to the connector with the cpc of drop.
Landing switch new=true gone=false
- fit box: Fit the box (One-gang box).
- bring in cable: Bring in the new cable strap (3-core and earth 1.0 mm², from Hall switch).
- fit accessory: Fit s1 (Two-way switch).
- land: Land the black core of strap in L1 of s1.
- land: Land the grey core of strap in L2 of s1.
- land: Land the brown core of strap in COM of s1.
- park: Park the cpc of strap in a connector of its own.
`
	if got := b.String(); got != want {
		t.Errorf("the moves are\n%s\nwant\n%s", got, want)
	}
}

func TestMovesOfThingsThatGo(t *testing.T) {
	in := stairsFound(t)
	in.Boxes, in.Cables, in.Joints = in.Boxes[:2], in.Cables[:1], append(in.Joints[:3:3], joints(t,
		"point: lamp.L feed.red", "point: lamp.N feed.black", "point: lamp.E feed.cpc")...)
	in.Boxes[1].Fit[0].Lamp = &Lamp{Kind: testGLS, Power: 40}
	list := Moves(mustBuild(t, stairsFound(t)), mustBuild(t, in), nil)
	if len(list) != 2 || list[0].Box.ID != "point" || list[1].Box.ID != "hall" || !list[1].Gone || list[0].Gone {
		t.Fatalf("boxes with moves: %+v", list)
	}
	kinds := func(b BoxMoves) (text string) {
		for _, m := range b.Moves {
			text += string(m.Kind) + " "
			for _, e := range m.Ends {
				text += e.String() + " "
			}
		}
		return strings.TrimSpace(text)
	}
	// feed.red stays on the ceiling: LOOP and L part, and LOOP is left empty.
	if got, want := kinds(list[0]), "mark feed.red take off feed.red take off drop.red take off drop.black take off drop.cpc "+
		"withdraw cable change lamp land feed.red"; got != want {
		t.Errorf("at the ceiling: %s\nwant %s", got, want)
	}
	if got, want := kinds(list[1]), "take off drop.red take off drop.black take off drop.cpc remove accessory withdraw cable remove box"; got != want {
		t.Errorf("in the hall: %s\nwant %s", got, want)
	}
}

func TestNoChangeNoMoves(t *testing.T) {
	a, b := mustBuild(t, stairsLeft(t)), mustBuild(t, stairsLeft(t))
	if got := Moves(a, b, func(End) string { return "brown sleeve" }); len(got) != 0 {
		t.Errorf("moves between equal wirings: %+v", got)
	}
	if Moves(a, nil, nil) != nil || Moves(nil, b, nil) != nil {
		t.Error("moves to or from no wiring")
	}
}

// Every sleeve that a changed box needs is asked for once: put on an end that
// moves, checked on one that stays.
func TestEveryMarkIsAskedForOnce(t *testing.T) {
	list := Moves(mustBuild(t, stairsFound(t)), mustBuild(t, stairsLeft(t)), func(End) string { return "brown sleeve" })
	seen := map[End]int{}
	for _, b := range list {
		for _, m := range b.Moves {
			if m.Kind == Sleeve || m.Kind == Check {
				seen[m.Ends[0]]++
			}
		}
	}
	for _, e := range []string{"drop.red", "drop.black", "drop.cpc", "strap.brown", "strap.black", "strap.grey", "strap.cpc"} {
		item, name, _ := strings.Cut(e, ".")
		if got := seen[End{"hall", item, name}]; got != 1 {
			t.Errorf("%s is asked to be marked %d times", e, got)
		}
	}
}

// Ends are what exists and what it is joined to, as a person sees it: the interpreter of
// moves, written without the code that makes them.
type ends struct {
	at   map[End]int // joint of every end that exists; 0 = in none
	next int
}

func readEnds(g *Graph) *ends {
	h := &ends{at: map[End]int{}}
	for e, n := range g.node {
		h.at[e] = 0
		if !g.loose[n] {
			h.at[e] = int(n) + 1
		}
	}
	h.next = g.Nodes() + 1
	return h
}

// String lists the ends and joints; a terminal alone is in no joint.
func (h *ends) String() string {
	groups := map[int][]string{}
	var lines []string
	for e, j := range h.at {
		name := e.Box + ":" + e.String()
		if j == 0 {
			lines = append(lines, name)
			continue
		}
		groups[j] = append(groups[j], name)
	}
	for _, names := range groups {
		slices.Sort(names)
		text := strings.Join(names, " ")
		if len(names) == 1 && !strings.Contains(names[0], "cable") {
			lines = append(lines, text) // a terminal
			continue
		}
		lines = append(lines, "["+text+"]")
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// do carries out one move; the error says why it cannot be done.
func (h *ends) do(left *Graph, box string, m Move) error {
	switch m.Kind {
	case TakeOff, Unlink:
		return h.part(m)
	case Remove, Withdraw:
		return h.takeAway(box, m.Item)
	case BringIn, Fit:
		return h.bring(left, box, m.Item)
	case Land, Link, Join, Park:
		return h.put(m)
	case Open:
		if j := h.at[m.With[0]]; j == 0 {
			return fmt.Errorf("opens what holds nothing")
		}
	}
	return nil
}

func (h *ends) part(m Move) error {
	for _, e := range m.Ends {
		if h.at[e] == 0 {
			return fmt.Errorf("%v is in no joint", e)
		}
		h.at[e] = 0
	}
	return nil
}

func (h *ends) takeAway(box, item string) error {
	gone := 0
	for e, j := range h.at {
		if e.Box != box || e.Item != item {
			continue
		}
		for other, k := range h.at {
			if j != 0 && k == j && other != e {
				return fmt.Errorf("%v still holds %v", e, other)
			}
		}
		delete(h.at, e)
		gone++
	}
	if gone == 0 {
		return fmt.Errorf("%s is not in %s", item, box)
	}
	return nil
}

func (h *ends) bring(left *Graph, box, item string) error {
	for e := range left.node {
		if e.Box != box || e.Item != item {
			continue
		}
		if _, there := h.at[e]; there {
			return fmt.Errorf("%v is there already", e)
		}
		h.at[e] = 0
	}
	return nil
}

func (h *ends) put(m Move) error {
	h.next++
	j := h.next
	if len(m.With) > 0 && h.at[m.With[0]] != 0 {
		j = h.at[m.With[0]]
	}
	for _, e := range m.With {
		if len(m.With) > 1 && h.at[e] != j {
			return fmt.Errorf("%v is not where the move says", e)
		}
		h.at[e] = j
	}
	for _, e := range m.Ends {
		if was, there := h.at[e]; !there || was != 0 && !h.emptyTerminal(e) {
			return fmt.Errorf("%v cannot be landed: there %v, in joint %d", e, there, was)
		}
		h.at[e] = j
	}
	return nil
}

// emptyTerminal reports whether nothing is joined to a terminal.
func (h *ends) emptyTerminal(e End) bool {
	for other, j := range h.at {
		if j == h.at[e] && other != e {
			return false
		}
	}
	return !strings.HasPrefix(e.Item, "cable")
}

// kindOf is what an end belongs to, in words that are equal when it is the
// same piece; "" if it does not exist.
func kindOf(g *Graph, e End) string {
	if _, ok := g.Node(e); !ok {
		return ""
	}
	box := g.Inst.Box(e.Box)
	if c, _ := g.IsCore(e); c != nil {
		return "cable " + c.Kind.ID + min(c.From, c.To) + max(c.From, c.To)
	}
	if f := box.Fitted(e.Item); f != nil {
		return box.Kind.ID + f.Kind.ID
	}
	return box.Kind.ID + g.Inst.Circuit(e.Item).Device.ID
}

// untouchable lists the ends whose joint is the same before and after and
// whose pieces all stay, in a box that stays.
func untouchable(found, left *Graph) map[End]bool {
	same := map[End]bool{}
	for e, n := range left.node {
		f, ok := found.node[e]
		if !ok || found.Inst.Box(e.Box).Kind != left.Inst.Box(e.Box).Kind || found.loose[f] != left.loose[n] {
			continue
		}
		same[e] = len(found.members[f]) == len(left.members[n])
		for _, x := range left.members[n] {
			same[e] = same[e] && slices.Contains(found.members[f], x) && kindOf(found, x) == kindOf(left, x)
		}
	}
	return same
}

type reporter interface {
	Helper()
	Fatalf(string, ...any)
}

// checkMoves carries out the moves and compares; it returns how many core ends
// that stay in the house were taken off.
func checkMoves(t reporter, found, left *Graph) (touched int) {
	t.Helper()
	h, want := readEnds(found), readEnds(left)
	before := h.String()
	same := untouchable(found, left)
	for _, b := range Moves(found, left, nil) {
		rank := 0
		for _, m := range b.Moves {
			if err := h.do(left, b.Box.ID, m); err != nil {
				t.Fatalf("box %s: %q: %v\nfound\n%s\n\nleft\n%s", b.Box.ID, m.Text, err, before, want)
			}
			if m.Text == "" || ranks[m.Kind] < rank {
				t.Fatalf("box %s: %q (%s) is out of order", b.Box.ID, m.Text, m.Kind)
			}
			rank = ranks[m.Kind]
			for _, e := range m.Ends {
				if same[e] {
					t.Fatalf("%v is touched by %q, though its joint is the same\nfound\n%s\n\nleft\n%s", e, m.Text, before, want)
				}
			}
			if m.Kind == Mark {
				touched++
			}
		}
	}
	if h.String() != want.String() {
		t.Fatalf("found\n%s\n\nbecomes\n%s\n\nnot\n%s", before, h, want)
	}
	return touched
}

// ranks is the order of work.
var ranks = map[MoveKind]int{
	Mark: 1, TakeOff: 2, Unlink: 2, Remove: 3, Withdraw: 4, RemoveBox: 5, FitBox: 6, BringIn: 7, Fit: 8, ChangeLamp: 9,
	Open: 10, Sleeve: 10, Land: 10, Link: 10, Join: 10, Park: 10, Check: 11, Cover: 12,
}

// partitions calls f with every way to part n things into groups, as the
// number of the group of each (restricted growth strings; Bell numbers count
// them).
func partitions(n int, f func([]int)) {
	group := make([]int, n)
	var grow func(i, used int)
	grow = func(i, used int) {
		if i == n {
			f(group)
			return
		}
		for g := range used + 1 {
			group[i] = g
			grow(i+1, max(used, g+1))
		}
	}
	grow(0, 0)
}

// smallHouse has a switch of two terminals and a cable of three cores in box
// a, joined as group says.
func smallHouse(t testing.TB, group []int, replaced, loose bool) *Graph {
	kind := *testOneWay
	if replaced {
		kind.ID = "another"
	}
	in := &Installation{
		Boxes:  []*Box{{ID: "a", Kind: testOneG, Fit: []*Fitted{{ID: "s", Kind: &kind}}}, {ID: "b", Kind: testOneG}},
		Cables: []*Cable{{ID: "cable", Kind: testTwin, From: "a", To: "b", Length: 1}},
	}
	ends := []End{{"a", "s", "COM"}, {"a", "s", "L1"}, {"a", "cable", "red"}, {"a", "cable", "black"}, {"a", "cable", "cpc"}}
	for g := range ends {
		j := Joint{Box: "a"}
		for i, e := range ends {
			if group[i] == g {
				j.Ends = append(j.Ends, e)
			}
		}
		if len(j.Ends) > 1 || len(j.Ends) == 1 && !loose {
			in.Joints = append(in.Joints, j)
		}
	}
	return mustBuild(t, in)
}

// All 52 ways (the fifth Bell number) to join five ends, as found and as left,
// the switch kept or replaced, single ends parked or loose.
func TestMovesBetweenAllSmallHouses(t *testing.T) {
	var all [][]int
	partitions(5, func(g []int) { all = append(all, slices.Clone(g)) })
	if len(all) != 52 {
		t.Fatalf("%d partitions of five", len(all))
	}
	for i, f := range all {
		for _, l := range all {
			for v := range 4 {
				found := smallHouse(t, f, false, i%2 == 0)
				touched := checkMoves(t, found, smallHouse(t, l, v&1 == 1, v&2 == 2))
				if v == 0 && i%2 == 1 {
					if want := fewest(f, l); touched != want {
						t.Fatalf("%v to %v touches %d cores, want %d", f, l, touched, want)
					}
				}
			}
		}
	}
}

// fewest is the least number of cores taken off between two ways to join the
// five ends of a small house, by trying every pairing of groups. A group with
// a terminal is paired only with one that shares a terminal, and no pairing
// that keeps fewer terminals is looked at.
func fewest(f, l []int) int {
	best, bestKept := [2]int{-1, -1}, 0
	var try func(g int, used [5]bool, kept [2]int)
	try = func(g int, used [5]bool, kept [2]int) {
		if g == 5 {
			if kept[0] > best[0] || kept[0] == best[0] && kept[1] > best[1] {
				best, bestKept = kept, kept[1]
			}
			return
		}
		try(g+1, used, kept)
		for h := range 5 {
			terminals, cores, clamped := 0, 0, false
			for e := range 5 {
				both := f[e] == g && l[e] == h
				clamped = clamped || e < 2 && (f[e] == g || l[e] == h)
				if both && e < 2 {
					terminals++
				} else if both {
					cores++
				}
			}
			if used[h] || clamped && terminals == 0 {
				continue
			}
			next := used
			next[h] = true
			// A terminal alone is no joint, so that it keeps nothing.
			if alone(f, g) || alone(l, h) {
				continue
			}
			try(g+1, next, [2]int{kept[0] + terminals, kept[1] + cores})
		}
	}
	try(0, [5]bool{}, [2]int{})
	return 3 - bestKept
}

// alone reports whether a group is a single terminal.
func alone(group []int, g int) bool {
	n, terminal := 0, false
	for e, x := range group {
		if x == g {
			n++
			terminal = terminal || e < 2
		}
	}
	return n == 1 && terminal
}

// randomHouse has up to four boxes, each with up to two accessories, cables
// between them and a consumer unit's way in the first.
func randomHouse(t *rapid.T, label string) *Installation {
	pick := func(what string, n int) int { return rapid.IntRange(0, n-1).Draw(t, label+" "+what) }
	in := &Installation{}
	n := 2 + pick("boxes", 3)
	for i := range n {
		b := &Box{ID: fmt.Sprint("box", i), Kind: testOneG}
		if pick("gangs", 8) == 0 {
			b.Kind = testTwoG
		}
		for k := range pick("items", 3) {
			b.Fit = append(b.Fit, &Fitted{ID: fmt.Sprint("s", k), Kind: []*kit.Accessory{testOneWay, testTwoWay, testRose}[pick("kind", 3)]})
		}
		in.Boxes = append(in.Boxes, b)
	}
	device := *testMCB
	device.ID = fmt.Sprint("mcb", pick("device", 2))
	in.Circuits = []*Circuit{{ID: "way", Board: "box0", Device: &device, Way: testWay}}
	for k := range pick("cables", 4) {
		from := pick("from", n)
		in.Cables = append(in.Cables, &Cable{
			ID: fmt.Sprint("cable", k), Kind: []*kit.Cable{testTwin, testTriple}[pick("cable kind", 2)], Length: 1,
			From: in.Boxes[from].ID, To: in.Boxes[(from+1+pick("to", n-1))%n].ID,
		})
	}
	joinAtRandom(t, in, pick)
	return in
}

func joinAtRandom(t *rapid.T, in *Installation, pick func(string, int) int) {
	g, _ := Build(in)
	if g == nil {
		t.Fatalf("the random house contradicts itself")
	}
	for _, b := range in.Boxes {
		groups := make([]Joint, 1+pick("groups", 6))
		for n := range g.Nodes() {
			if e := g.members[n][0]; e.Box == b.ID {
				if k := pick("group", len(groups)+1); k < len(groups) {
					groups[k].Box, groups[k].Ends = b.ID, append(groups[k].Ends, e)
				}
			}
		}
		for _, j := range groups {
			if len(j.Ends) > 0 {
				in.Joints = append(in.Joints, j)
			}
		}
	}
}

func TestMovesTurnFoundIntoLeft(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		found, _ := Build(randomHouse(t, "found"))
		left, _ := Build(randomHouse(t, "left"))
		checkMoves(t, found, left)
	})
}

// The pairing is compared with the best of all pairings, tried one by one.
func TestAssignIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, columns := rapid.IntRange(0, 5).Draw(t, "rows"), rapid.IntRange(0, 5).Draw(t, "columns")
		w := rapid.SliceOfN(rapid.IntRange(0, 6), rows*columns, rows*columns).Draw(t, "weights")
		weight := func(r, c int) int { return w[r*columns+c] }
		var best func(r int, used uint) int
		best = func(r int, used uint) int {
			if r == rows {
				return 0
			}
			most := best(r+1, used)
			for c := range columns {
				if used>>c&1 == 0 {
					most = max(most, weight(r, c)+best(r+1, used|1<<c))
				}
			}
			return most
		}
		sum, seen := 0, map[int]bool{}
		for c, r := range assign(rows, columns, weight) {
			if r < 0 {
				continue
			}
			if seen[r] || weight(r, c) == 0 {
				t.Fatalf("row %d is paired twice, or for nothing", r)
			}
			seen[r] = true
			sum += weight(r, c)
		}
		if want := best(0, 0); sum != want {
			t.Fatalf("the pairing is worth %d, the best %d", sum, want)
		}
	})
}

func BenchmarkMoves(b *testing.B) {
	found, left := mustBuild(b, stairsFound(b)), mustBuild(b, stairsLeft(b))
	for b.Loop() {
		Moves(found, left, nil)
	}
}

// A joint of several terminals goes on where most of its terminals do, even if
// more cores go elsewhere: terminals cannot follow a core.
func TestTerminalsComeBeforeCores(t *testing.T) {
	stay := func(End) bool { return true }
	hall := func(text string) *meeting {
		m := &meeting{}
		for _, e := range joint(t, "hall: "+text).Ends {
			if e.Item == "s" {
				m.terminals = append(m.terminals, e)
			} else {
				m.cores = append(m.cores, e)
			}
		}
		return m
	}
	found := hall("s.1 s.2 s.3 c.a c.b c.c")
	linked, clamped := overlap(found, hall("s.1 s.2"), stay), overlap(found, hall("s.3 c.a c.b c.c"), stay)
	if linked <= clamped {
		t.Errorf("two terminals weigh %d, one with three cores %d", linked, clamped)
	}
	if free := overlap(found, hall("c.a c.b c.c"), stay); free != 0 {
		t.Errorf("a free connector is made of terminals: %d", free)
	}
}

// A way whose protective device is another is taken off and landed again.
func TestMovesForAnotherDevice(t *testing.T) {
	in := stairsFound(t)
	other := *testMCB
	other.ID = "rcbo-b6"
	in.Circuits[0].Device = &other
	list := Moves(mustBuild(t, stairsFound(t)), mustBuild(t, in), nil)
	if len(list) != 1 || list[0].Box.ID != "board" {
		t.Fatalf("boxes with moves: %+v", list)
	}
	count := map[MoveKind]int{}
	for _, m := range list[0].Moves {
		count[m.Kind]++
	}
	if count[TakeOff] != 3 || count[Land] != 3 || count[Remove] != 1 || count[Fit] != 1 || len(list[0].Moves) != 3+3+3+2 {
		t.Errorf("moves at the board: %v", count)
	}
}

// A box that takes a plate and loses its only accessory is closed; one that
// keeps one, or has none as found, is not mentioned.
func TestEmptyBoxIsClosed(t *testing.T) {
	found := stairsFound(t)
	left := stairsFound(t)
	left.Boxes = slices.Clone(left.Boxes)
	for i, b := range left.Boxes {
		if len(b.Fit) == 0 || b.Kind.Gangs == 0 {
			continue
		}
		bare := *b
		bare.Fit = nil
		left.Boxes[i] = &bare
		left.Joints = slices.DeleteFunc(slices.Clone(left.Joints), func(j Joint) bool { return j.Box == b.ID })
		for _, m := range Moves(mustBuild(t, found), mustBuild(t, left), nil) {
			last := m.Moves[len(m.Moves)-1]
			if (m.Box.ID == b.ID) != (last.Kind == Cover) {
				t.Errorf("%s is emptied; in %s the last step is %q", b.ID, m.Box.ID, last.Text)
			}
		}
		return
	}
	t.Fatal("no box to empty")
}
