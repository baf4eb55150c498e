package switching_test

import (
	"fmt"
	"strings"
	"testing"

	"strapper/switching"
)

// permutations lists the orders of the words.
func permutations(words ...string) [][]string {
	if len(words) == 1 {
		return [][]string{{words[0]}}
	}
	var list [][]string
	for i, w := range words {
		rest := append(append([]string{}, words[:i]...), words[i+1:]...)
		for _, p := range permutations(rest...) {
			list = append(list, append([]string{w}, p...))
		}
	}
	return list
}

// rows reads a table of words.
func rows(text string) [][]string {
	var list [][]string
	for line := range strings.Lines(strings.TrimSpace(text)) {
		list = append(list, strings.Fields(line))
	}
	return list
}

// A landing is the order of three conductors on COM, L1 and L2.
func landing(order []string) []string {
	return []string{"COM=" + order[0], "L1=" + order[1], "L2=" + order[2]}
}

// All 36 ways to land the three conductors of a two-wire circuit: exhaustive
// enumeration, by hand calculation of which terminals each position joins.
// Rows: what stands on COM, L1, L2 of switch A; columns: of switch B, in the
// order of the header. Truth strings: both up, B down, A down, both down.
var twoWire = `
A              SL/t1/t2 SL/t2/t1 t1/SL/t2 t1/t2/SL t2/SL/t1 t2/t1/SL
L:c/t1/t2      1001 0110 1000 0100 0010 0001
L:c/t2/t1      0110 1001 0010 0001 1000 0100
t1/L:c/t2      1000 0100 1000 0100 0000 0000
t1/t2/L:c      0010 0001 0010 0001 0000 0000
t2/L:c/t1      0100 1000 0000 0000 1000 0100
t2/t1/L:c      0001 0010 0000 0000 0010 0001`

// The same of the three-wire conversion, dual to the two-wire table: exhaustive
// enumeration. c is the core between the commons.
var threeWire = `
A              c/L:c/SL c/SL/L:c L:c/c/SL L:c/SL/c SL/c/L:c SL/L:c/c
c/L:c/SL       0110 1001 0111 1011 1101 1110
c/SL/L:c       1001 0110 1101 1110 0111 1011
L:c/c/SL       0111 1011 0111 1011 1111 1111
L:c/SL/c       1101 1110 1101 1110 1111 1111
SL/c/L:c       1011 0111 1111 1111 0111 1011
SL/L:c/c       1110 1101 1111 1111 1101 1110`

func TestEveryLanding(t *testing.T) {
	for name, text := range map[string]string{"two-wire": twoWire, "three-wire": threeWire} {
		t.Run(name, func(t *testing.T) {
			table := rows(text)
			counts := map[int]int{}
			for _, row := range table[1:] {
				for i, want := range row[1:] {
					a, b := strings.Split(row[0], "/"), strings.Split(table[0][i+1], "/")
					checkLanding(t, a, b, want)
					counts[strings.Count(want, "1")]++
				}
			}
			checkCounts(t, name, counts)
		})
	}
}

func checkLanding(t *testing.T, a, b []string, want string) {
	t.Helper()
	h := newHouse(t, "c")
	h.fit("a", "two-way", landing(a)...)
	h.fit("b", "two-way", landing(b)...)
	h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
	p := switching.Prove(h.graph(), wantToggle("lamp.x", "a.x", "b.x"))
	if got := p.Truth(0, 0, 1); got != want {
		t.Errorf("%v and %v: %s, want %s", a, b, got, want)
	}
	right := want == "0110" || want == "1001"
	if got := strings.Contains(codes(p), "does-not-switch"); got == right {
		t.Errorf("%v and %v, %s: findings %q", a, b, want, codes(p))
	}
	if right && codes(p) != "" {
		t.Errorf("%v and %v: findings %q of a sound circuit", a, b, codes(p))
	}
}

// Four right; of the others 24 are wrong in one position of four, and 8 in two.
func checkCounts(t *testing.T, name string, got map[int]int) {
	t.Helper()
	want := map[int]int{2: 4, 1: 24, 0: 8}
	if name == "three-wire" {
		want = map[int]int{2: 4, 3: 24, 4: 8}
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("positions lit: %v, want %v", got, want)
	}
}

// intermediates are the three devices that four terminals allow, with the
// terminals in the order 1 to 4: of the three ways to pair four terminals a
// device uses two (exhaustive enumeration).
var intermediates = map[string][]string{
	"intermediate":   {"A1", "A2", "B1", "B2"},
	"intermediate-2": {"L1", "L2", "L3", "L4"},
	"intermediate-3": {"L1", "L2", "L3", "L4"},
}

// intermediateHouse is a two-wire, or three-wire, three-place circuit whose
// four strappers land on the intermediate in the given order.
func intermediateHouse(t *testing.T, kind string, order []string, conversion bool) *switching.Proof {
	t.Helper()
	h := newHouse(t, "c")
	if conversion {
		h.fit("a", "two-way", "COM=com", "L1=L:c", "L2=SL")
	} else {
		h.fit("a", "two-way", "COM=L:c", "L1=p1", "L2=q1")
	}
	var land []string
	for i, terminal := range intermediates[kind] {
		land = append(land, terminal+"="+order[i])
	}
	h.fit("b", kind, land...)
	if conversion {
		h.fit("c", "two-way", "COM=com", "L1=p2", "L2=q2")
	} else {
		h.fit("c", "two-way", "COM=SL", "L1=p2", "L2=q2")
	}
	h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
	return switching.Prove(h.graph(), wantToggle("lamp.x", "a.x", "b.x", "c.x"))
}

// Of the 24 ways to land four conductors on an intermediate 8 work, for each of
// the three devices. The other 16 leave the lamp dark in one position of the
// intermediate and two-way in the other, four of each class (exhaustive
// enumeration).
func TestIntermediateTwoWire(t *testing.T) {
	want := "0000 0110:4 0000 1001:4 0110 0000:4 0110 1001:4 1001 0000:4 1001 0110:4"
	for kind := range intermediates {
		count := map[string]int{}
		for _, order := range permutations("p1", "q1", "p2", "q2") {
			p := intermediateHouse(t, kind, order, false)
			s := p.Truth(0, 1, 0, 2)
			count[s[:4]+" "+s[4:]]++
			right := s == "01101001" || s == "10010110"
			if (codes(p) == "") != right || right == strings.Contains(codes(p), "does-not-switch") {
				t.Errorf("%s %v: lit %s, findings %q", kind, order, s, codes(p))
			}
		}
		if got := tally(count); got != want {
			t.Errorf("%s: %s, want %s", kind, got, want)
		}
	}
}

// With three-wire control 8 of 24 work; the failures are lit in six positions
// of eight, by four strings (exhaustive enumeration).
func TestIntermediateThreeWire(t *testing.T) {
	want := "01101001:4 01111011:4 10010110:4 10110111:4 11011110:4 11101101:4"
	count := map[string]int{}
	for _, order := range permutations("L:c", "SL", "p2", "q2") {
		p := intermediateHouse(t, "intermediate", order, true)
		s := p.Truth(0, 0, 1, 2)
		count[s]++
		if right := strings.Count(s, "1") == 4; (codes(p) == "") != right {
			t.Errorf("%v: lit %s, findings %q", order, s, codes(p))
		}
	}
	if got := tally(count); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func tally(count map[string]int) string {
	var list []string
	for _, s := range sortedKeys(count) {
		list = append(list, fmt.Sprintf("%s:%d", s, count[s]))
	}
	return strings.Join(list, " ")
}

// "Three Way Troubleshooting", theboohers.org: a three-place circuit measured
// to be lit in positions 010 and 111 only, its pairs mixed at the four-way
// switch. Of the 864 = 6 × 24 × 6 ways to land the conductors exactly 16 do
// that, all with both commons right (exhaustive enumeration).
func TestMeasuredThreePlaces(t *testing.T) {
	found := 0
	ends := permutations("F", "t1", "t2")
	for _, a := range ends {
		for _, b := range permutations("p1", "q1", "p2", "q2") {
			for _, c := range ends {
				if threePlaces(t, a, b, c).Truth(0, 0, 1, 2) != "00100001" {
					continue
				}
				found++
				if a[0] != "F" || c[0] != "F" {
					t.Errorf("%v %v %v: a common is wrong", a, b, c)
				}
			}
		}
	}
	if found != 16 {
		t.Errorf("%d of 864 landings give 00100001, want 16", found)
	}
}

func threePlaces(t *testing.T, a, b, c []string) *switching.Proof {
	t.Helper()
	h := newHouse(t, "c")
	first := strings.NewReplacer("F", "L:c", "t1", "p1", "t2", "q1")
	last := strings.NewReplacer("F", "SL", "t1", "p2", "t2", "q2")
	end := func(r *strings.Replacer, order []string) []string {
		return landing([]string{r.Replace(order[0]), r.Replace(order[1]), r.Replace(order[2])})
	}
	h.fit("a", "two-way", end(first, a)...)
	h.fit("b", "intermediate", "A1="+b[0], "A2="+b[1], "B1="+b[2], "B2="+b[3])
	h.fit("c", "two-way", end(last, c)...)
	h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
	return switching.Prove(h.graph(), nil)
}
