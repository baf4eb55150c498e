package diagnose_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapper/internal/diagnose"
)

// The three multipliers and two adders of J. de Kleer and B. C. Williams,
// Artificial Intelligence 32 (1987) 97: M1 X=AC, M2 Y=BD, M3 Z=CE, A1 F=X+Y,
// A2 G=Y+Z with A=3 B=2 C=2 D=3 E=3. A failed part gives anything.
const (
	m1 = iota
	m2
	m3
	a1
	a2
	parts
)

const unknown = -1

// polybox works out what a set of failed parts leaves known, after an output
// was seen: a sound adder whose output was seen tells one input from the other.
type polybox struct{ x, y, z, f, g int }

func (b *polybox) at(name string) int {
	return map[string]int{"X": b.x, "Y": b.y, "Z": b.z, "F": b.f, "G": b.g}[name]
}

// predict fills what follows from the sound parts and what was seen; ok is
// false where the two contradict each other.
func predict(failed func(int) bool, seen map[string]int) (b polybox, ok bool) {
	b = polybox{unknown, unknown, unknown, unknown, unknown}
	ok = true
	set := func(v *int, x int) {
		ok = ok && (*v == unknown || *v == x)
		*v = x
	}
	for name, v := range seen {
		set(map[string]*int{"X": &b.x, "Y": &b.y, "Z": &b.z, "F": &b.f, "G": &b.g}[name], v)
	}
	for _, m := range []struct {
		part int
		v    *int
	}{{m1, &b.x}, {m2, &b.y}, {m3, &b.z}} {
		if !failed(m.part) {
			set(m.v, 6)
		}
	}
	for range 3 { // as far as one sound part tells of another
		for _, a := range []struct {
			part      int
			p, q, sum *int
		}{{a1, &b.x, &b.y, &b.f}, {a2, &b.y, &b.z, &b.g}} {
			switch {
			case failed(a.part):
			case *a.p != unknown && *a.q != unknown:
				set(a.sum, *a.p+*a.q)
			case *a.sum != unknown && *a.p != unknown:
				set(a.q, *a.sum-*a.p)
			case *a.sum != unknown && *a.q != unknown:
				set(a.p, *a.sum-*a.q)
			}
		}
	}
	return b, ok
}

func inSet(set []int) func(int) bool {
	return func(part int) bool { return slices.Contains(set, part) }
}

func inMask(mask int) func(int) bool {
	return func(part int) bool { return mask>>part&1 == 1 }
}

func names(sets [][]int) string {
	word := [...]string{"M1", "M2", "M3", "A1", "A2"}
	var list []string
	for _, set := range sets {
		var s []string
		for _, p := range set {
			s = append(s, word[p])
		}
		slices.Sort(s)
		list = append(list, strings.Join(s, "+"))
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// De Kleer and Williams 1987, sections 2 and 3: conflicts and minimal diagnoses.
func TestPolyboxDiagnoses(t *testing.T) {
	for _, c := range []struct {
		seen           map[string]int
		conflicts      [][]int
		minimal, least string
		consistent     int
	}{
		{map[string]int{"F": 10}, [][]int{{m1, m2, a1}}, "A1 M1 M2", "A1 M1 M2", 28},
		{map[string]int{"F": 10, "G": 12}, [][]int{{m1, m2, a1}, {m1, m3, a1, a2}}, "A1 A2+M2 M1 M2+M3", "A1 M1", 27},
	} {
		consistent := func(set []int) bool {
			_, ok := predict(inSet(set), c.seen)
			return ok
		}
		if got := names(diagnose.Minimal(parts, parts, false, consistent)); got != c.minimal {
			t.Errorf("%v: minimal diagnoses %s, want %s", c.seen, got, c.minimal)
		}
		if got := names(diagnose.Minimal(parts, parts, true, consistent)); got != c.least {
			t.Errorf("%v: smallest diagnoses %s, want %s", c.seen, got, c.least)
		}
		if got := names(diagnose.HittingSets(c.conflicts)); got != c.minimal {
			t.Errorf("%v: hitting sets %s, want %s", c.seen, got, c.minimal)
		}
		n := 0
		for mask := range 1 << parts {
			if _, ok := predict(inMask(mask), c.seen); ok {
				n++
			}
		}
		if n != c.consistent {
			t.Errorf("%v: %d consistent sets of failed parts, want %d", c.seen, n, c.consistent)
		}
	}
}

// poly is the 32 sets of failed parts as hypotheses.
type poly struct {
	seen map[string]int
	p    []float64
}

func newPoly(prior float64) *poly {
	b := &poly{seen: map[string]int{}}
	for mask := range 1 << parts {
		x := 1.0
		for part := range parts {
			if mask>>part&1 == 1 {
				x *= prior
			} else {
				x *= 1 - prior
			}
		}
		b.p = append(b.p, x)
	}
	return b
}

// question asks for a value of 0 to 15; what no part tells may be any of them.
func (b *poly) question(name string) *diagnose.Question {
	q := &diagnose.Question{Outcomes: 16}
	for mask := range 1 << parts {
		box, _ := predict(inMask(mask), b.seen)
		q.Predict = append(q.Predict, int8(box.at(name)))
	}
	return q
}

func (b *poly) see(t *testing.T, name string, value int) {
	t.Helper()
	if !b.question(name).Update(b.p, value) {
		t.Fatalf("%s=%d is impossible", name, value)
	}
	b.seen[name] = value
}

func (b *poly) after(name string) float64 {
	return diagnose.Entropy(b.p) - b.question(name).Gain(b.p)
}

func (b *poly) of(sets ...int) float64 {
	mask := 0
	for _, s := range sets {
		mask |= 1 << s
	}
	return b.p[mask]
}

func (b *poly) part(part int) (sum float64) {
	for mask, x := range b.p {
		if mask>>part&1 == 1 {
			sum += x
		}
	}
	return sum
}

// Full Bayes on the same device with independent priors of 0.01 and 0.1, sums
// over all 32 sets; worked independently in docs/checks/08-fault.md.
func TestPolyboxProbabilities(t *testing.T) {
	for i, prior := range []float64{0.01, 0.1} {
		b := newPoly(prior)
		check := func(what string, got float64, want ...float64) {
			t.Helper()
			if math.Abs(got-want[i]) > 6e-9 {
				t.Errorf("prior %g: %s is %.8f, want %.8f", prior, what, got, want[i])
			}
		}
		check("prior entropy", diagnose.Entropy(b.p), 0.40396568, 2.34497797)
		b.see(t, "F", 10)
		check("entropy after F", diagnose.Entropy(b.p), 1.82783466, 3.01950729)
		for _, part := range []int{a1, m1, m2} {
			check("single fault after F", b.of(part), 0.32342211, 0.24210332)
		}
		check("after X", b.after("X"), 0.86847662, 1.88158161)
		check("after Y", b.after("Y"), 0.86847662, 1.88158161)
		check("after Z", b.after("Z"), 1.75458684, 2.60437181)
		check("after G", b.after("G"), 0.79021375, 1.71570376)
		b.see(t, "G", 12)
		check("entropy after F and G", diagnose.Entropy(b.p), 1.07135210, 1.50542296)
		check("A1", b.of(a1), 0.49622482, 0.45980798)
		check("M1", b.of(m1), 0.49622482, 0.45980798)
		check("A1 and M1", b.of(a1, m1), 0.00501237, 0.05108978)
		check("A2 and M2", b.of(a2, m2), 0.00031327, 0.00319311)
		check("A1 failed", b.part(a1), 0.50219613, 0.52276789)
		check("M2 failed", b.part(m2), 0.00127221, 0.01506325)
		check("A2 failed", b.part(a2), 0.00095893, 0.01187014)
		check("M3 failed", b.part(m3), 0.00095893, 0.01187014)
		check("after X", b.after("X"), 0.03833734, 0.31642178)
		check("after Y", b.after("Y"), 1.06354809, 1.43233394)
		check("after Z", b.after("Z"), 1.06700746, 1.45661740)
		four, six := *b, *b
		four.p, six.p = slices.Clone(b.p), slices.Clone(b.p)
		four.seen, six.seen = map[string]int{"F": 10, "G": 12}, map[string]int{"F": 10, "G": 12}
		four.see(t, "X", 4)
		check("M1 after X=4", four.of(m1), 0.99747276, 0.97199438)
		six.see(t, "X", 6)
		check("A1 after X=6", six.of(a1), 0.99619904, 0.95684443)
	}
}

// The cost of a probe printed by K. D. Forbus and J. de Kleer, Building Problem
// Solvers (1993), for the same device: the sum of c log2 c over the values, c
// being how many of the smallest diagnoses predict it. It is n times the
// entropy expected to remain if those n are equally likely.
func TestPolyboxProbes(t *testing.T) {
	cost := func(least [][]int, seen map[string]int, name string) float64 {
		q := diagnose.Question{Outcomes: 16}
		for _, set := range least {
			b, _ := predict(inSet(set), seen)
			q.Predict = append(q.Predict, int8(b.at(name)))
		}
		p := equal(len(least))
		return float64(len(least)) * (diagnose.Entropy(p) - q.Gain(p))
	}
	first := map[string]int{"F": 10}
	for name, want := range map[string]float64{"X": 2, "Y": 2, "G": 2, "Z": 4.7548876, "F": 4.7548876} {
		if got := cost([][]int{{a1}, {m1}, {m2}}, first, name); math.Abs(got-want) > 1e-6 {
			t.Errorf("after F, probing %s costs %.7f, want %.7f", name, got, want)
		}
	}
	both := map[string]int{"F": 10, "G": 12}
	for name, want := range map[string]float64{"X": 0, "Y": 2, "Z": 2} {
		if got := cost([][]int{{a1}, {m1}}, both, name); math.Abs(got-want) > 1e-6 {
			t.Errorf("after F and G, probing %s costs %.7f, want %.7f", name, got, want)
		}
	}
}

// A net of gates, in the order in which signals pass.
type net struct {
	inputs  int
	gates   []gate
	outputs []int // gates
	named   []string
}

type gate struct {
	kind string // nand, and, or, nor, not
	in   []int  // below inputs: an input; else a gate plus inputs
}

// reach marks, by pattern of the outputs, what the net can show if the gates
// of a set do anything. The gates' values are words with one lane for each
// choice of theirs.
func (n *net) reach(input int, failed []int) uint32 {
	var values [32]uint32
	for i := range n.inputs {
		values[i] = -uint32(input >> i & 1)
	}
	k := 0
	for g := range n.gates {
		if k < len(failed) && failed[k] == g {
			values[n.inputs+g] = [5]uint32{0xaaaaaaaa, 0xcccccccc, 0xf0f0f0f0, 0xff00ff00, 0xffff0000}[k]
			k++
			continue
		}
		values[n.inputs+g] = n.gates[g].value(&values)
	}
	var seen uint32
	for lane := range 1 << len(failed) {
		pattern := 0
		for o, g := range n.outputs {
			pattern |= int(values[n.inputs+g]>>lane&1) << o
		}
		seen |= 1 << pattern
	}
	return seen
}

func (g *gate) value(values *[32]uint32) uint32 {
	all, one := ^uint32(0), uint32(0)
	for _, i := range g.in {
		all, one = all&values[i], one|values[i]
	}
	switch g.kind {
	case "and":
		return all
	case "nand":
		return ^all
	case "or":
		return one
	}
	return ^one // nor, and not of one input
}

func (n *net) diagnoses(input, output, most int) [][]int {
	return diagnose.Minimal(len(n.gates), most, true, func(set []int) bool {
		return n.reach(input, set)>>output&1 == 1
	})
}

func (n *net) words(sets [][]int) string {
	var list []string
	for _, set := range sets {
		var s []string
		for _, g := range set {
			s = append(s, n.named[g])
		}
		list = append(list, strings.Join(s, ","))
	}
	return strings.Join(list, " ")
}

// c17 is the smallest of F. Brglez and H. Fujiwara's benchmarks (ISCAS 1985):
// six NANDs, inputs 1 2 3 6 7, outputs 22 23.
func c17() *net {
	return &net{
		inputs: 5, outputs: []int{4, 5}, named: []string{"10", "11", "16", "19", "22", "23"},
		gates: []gate{
			{"nand", []int{0, 2}},
			{"nand", []int{2, 3}},
			{"nand", []int{1, 6}},
			{"nand", []int{6, 4}},
			{"nand", []int{5, 7}},
			{"nand", []int{7, 8}},
		},
	}
}

// Smallest diagnoses of c17, and their counts over all observations, by
// exhaustive enumeration (docs/checks/08-fault.md).
func TestC17Diagnoses(t *testing.T) {
	n := c17()
	for _, c := range []struct{ in, out, want string }{
		{"11111", "00", "10 22"},
		{"11111", "11", "11 16 19 23"},
		{"11111", "01", "10,19 10,23 11,22 16,22 19,22 22,23"},
		{"00000", "10", "10 22"},
		{"00000", "01", "19 23"},
		{"00000", "11", "16"},
		{"10101", "01", "10 22"},
		{"10101", "10", "11 19 23"},
		{"10101", "00", "10,11 10,19 10,23 11,22 19,22 22,23"},
	} {
		if got := n.words(n.diagnoses(bits(c.in), bits(c.out), 6)); got != c.want {
			t.Errorf("inputs %s, outputs %s: %s, want %s", c.in, c.out, got, c.want)
		}
	}
	var seen, sets [7]int
	for input := range 32 {
		for output := range 4 {
			list := n.diagnoses(input, output, 6)
			size := len(list[0])
			seen[size]++
			sets[size] += len(list)
		}
	}
	if seen[0] != 32 || seen[1] != 83 || seen[2] != 13 || sets[1] != 158 || sets[2] != 78 {
		t.Errorf("observations by size %v, diagnoses %v; want 32 83 13 and 32 158 78", seen, sets)
	}
}

// bits reads a string of 0 and 1, the first being the lowest.
func bits(s string) (n int) {
	for i, c := range s {
		n |= int(c-'0') << i
	}
	return n
}

// lookAhead is the 74182 carry look-ahead circuit: 19 gates, inputs CN, G0-G3,
// P0-P3, outputs PO GO CZ CY CX, from the device's function; sizes as in A.
// Feldman, G. Provan and A. van Gemund, JAIR 38 (2010) 371.
func lookAhead() *net {
	const (
		cn = iota
		g0
		g1
		g2
		g3
		p0
		p1
		p2
		p3
		inputs
	)
	n := &net{inputs: inputs}
	add := func(name, kind string, in ...int) int {
		n.named, n.gates = append(n.named, name), append(n.gates, gate{kind, in})
		return inputs + len(n.gates) - 1
	}
	out := func(g int) { n.outputs = append(n.outputs, g-inputs) }
	notcn := add("NOTCN", "not", cn)
	out(add("PO", "or", p0, p1, p2, p3))
	b1, b2, b3, b4 := add("A1", "and", g3, g2, g1, g0), add("A2", "and", g3, g2, g1, p1), add("A3", "and", g3, g2, p2), add("A4", "and", g3, p3)
	out(add("GO", "or", b1, b2, b3, b4))
	b5, b6, b7, b8 := add("A5", "and", g2, g1, g0, notcn), add("A6", "and", g2, g1, g0, p0), add("A7", "and", g2, g1, p1), add("A8", "and", g2, p2)
	out(add("CZ", "nor", b5, b6, b7, b8))
	b9, b10, b11 := add("A9", "and", g1, g0, notcn), add("A10", "and", g1, g0, p0), add("A11", "and", g1, p1)
	out(add("CY", "nor", b9, b10, b11))
	b12, b13 := add("A12", "and", g0, notcn), add("A13", "and", g0, p0)
	out(add("CX", "nor", b12, b13))
	return n
}

// Smallest diagnoses of the 74182 for all 16,384 observations, by exhaustive
// enumeration with another program (docs/checks/08-fault.md).
func TestLookAheadDiagnoses(t *testing.T) {
	n := lookAhead()
	good := func(input int) int { return slices.Index(patterns(n.reach(input, nil)), true) }
	for _, c := range []struct {
		input  int
		flip   string // PO GO CZ CY CX
		want   string
		number int
	}{
		{0, "10000", "PO", 1},
		{0, "01000", "A1 A2 A3 A4 GO", 5},
		{0, "00100", "A5 A6 A7 A8 CZ", 5},
		{0, "00010", "A9 A10 A11 CY", 4},
		{0, "00001", "A12 A13 CX", 3},
		{0, "00011", "", 12},
		{0, "00111", "", 60},
		{0, "11111", "", 300},
		{511, "00001", "A13 CX", 2},
		{511, "11111", "", 2},
	} {
		list := n.diagnoses(c.input, good(c.input)^bits(c.flip), 5)
		if got := n.words(list); len(list) != c.number || c.want != "" && got != c.want {
			t.Errorf("inputs %d, outputs %s changed: %d diagnoses %s; want %d %s", c.input, c.flip, len(list), got, c.number, c.want)
		}
	}
	if testing.Short() {
		return
	}
	seen, sets, most := n.census(5)
	want := fmt.Sprint([6]int{512, 2592, 5184, 5120, 2496, 480}, [6]int{512, 7520, 43513, 120847, 156117, 71775}, [6]int{1, 5, 25, 110, 400, 400})
	if got := fmt.Sprint(seen, sets, most); got != want {
		t.Errorf("observations, diagnoses and most for one, by size:\n%s, want\n%s", got, want)
	}
}

func patterns(reached uint32) []bool {
	list := make([]bool, 32)
	for i := range list {
		list[i] = reached>>i&1 == 1
	}
	return list
}

// census counts observations, smallest diagnoses and the most of them for one
// observation, by their size.
func (n *net) census(most int) (seen, sets, top [6]int) {
	reached := make([]uint32, 1<<len(n.gates)) // by set of gates; every set reaches something
	for input := range 1 << n.inputs {
		clear(reached)
		for output := range 1 << len(n.outputs) {
			list := diagnose.Minimal(len(n.gates), most, true, func(set []int) bool {
				key := 0
				for _, g := range set {
					key |= 1 << g
				}
				if reached[key] == 0 {
					reached[key] = n.reach(input, set)
				}
				return reached[key]>>output&1 == 1
			})
			size := len(list[0])
			seen[size]++
			sets[size] += len(list)
			top[size] = max(top[size], len(list))
		}
	}
	return seen, sets, top
}
