package bdd_test

import (
	"fmt"
	"math/big"
	"math/bits"
	"math/rand"
	"testing"

	"strapper/internal/bdd"
)

func parity(m *bdd.Manager) bdd.Ref {
	f := bdd.False
	for i := range m.Variables() {
		f = m.Xor(f, m.Var(i))
	}
	return f
}

// Bryant, IEEE Trans. Computers C-35 (1986) 677: the parity of n variables has
// a diagram of 2n-1 nodes in any order. It is true for half of the 2^n
// assignments.
func TestParity(t *testing.T) {
	for n := 1; n <= 130; n++ {
		m := bdd.New(n, 0)
		f := parity(m)
		if got := m.Size(f); got != 2*n-1 {
			t.Errorf("%d variables: %d nodes, want %d", n, got, 2*n-1)
		}
		if want := new(big.Int).Lsh(big.NewInt(1), uint(n-1)); m.SatCount(f).Cmp(want) != 0 {
			t.Errorf("%d variables: true for %v, want %v", n, m.SatCount(f), want)
		}
	}
}

// Bryant 1986, figure 2: a1b1 + a2b2 + … + anbn takes 2n nodes with the pairs
// together and 2(2^n - 1) with all a before all b.
func TestOrderMatters(t *testing.T) {
	for n := 1; n <= 10; n++ {
		m := bdd.New(2*n, 0)
		together, apart := bdd.False, bdd.False
		for i := range n {
			together = m.Or(together, m.And(m.Var(2*i), m.Var(2*i+1)))
			apart = m.Or(apart, m.And(m.Var(i), m.Var(n+i)))
		}
		if got := m.Size(together); got != 2*n {
			t.Errorf("%d pairs together: %d nodes, want %d", n, got, 2*n)
		}
		if got := m.Size(apart); got != 2*(1<<n-1) {
			t.Errorf("%d pairs apart: %d nodes, want %d", n, got, 2*(1<<n-1))
		}
	}
}

// A random expression against its truth table, in one machine word of six
// variables (exhaustive).
func TestAgainstTruthTables(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 500 {
		m := bdd.New(6, 0)
		refs, words := []bdd.Ref{bdd.False, bdd.True}, []uint64{0, ^uint64(0)}
		for i := range 6 {
			refs = append(refs, m.Var(i))
			words = append(words, column(i))
		}
		for range 30 {
			i, j, k := r.Intn(len(refs)), r.Intn(len(refs)), r.Intn(len(refs))
			f, w := operate(m, r.Intn(6), refs[i], refs[j], refs[k], words[i], words[j], words[k])
			refs, words = append(refs, f), append(words, w)
		}
		for i := range refs {
			compare(t, m, refs[i], words[i])
			for j := range refs {
				if (refs[i] == refs[j]) != (words[i] == words[j]) {
					t.Fatal("equal functions must be one diagram, and only they")
				}
			}
		}
	}
}

func column(variable int) (w uint64) {
	for a := range 64 {
		w |= uint64(a>>variable&1) << a
	}
	return w
}

func operate(m *bdd.Manager, op int, f, g, h bdd.Ref, x, y, z uint64) (bdd.Ref, uint64) {
	switch op {
	case 0:
		return m.And(f, g), x & y
	case 1:
		return m.Or(f, g), x | y
	case 2:
		return m.Xor(f, g), x ^ y
	case 3:
		return m.AndNot(f, g), x &^ y
	case 4:
		return m.Not(f), ^x
	}
	return m.Ite(f, g, h), x&y | ^x&z
}

func compare(t *testing.T, m *bdd.Manager, f bdd.Ref, w uint64) {
	t.Helper()
	if got := m.SatCount(f); got.Int64() != int64(bits.OnesCount64(w)) {
		t.Fatalf("true for %v, want %d", got, bits.OnesCount64(w))
	}
	fewest := 7
	for a := range 64 {
		value := func(v int) bool { return a>>v&1 == 1 }
		if m.Eval(f, value) != (w>>a&1 == 1) {
			t.Fatalf("wrong for %06b", a)
		}
		if w>>a&1 == 1 {
			fewest = min(fewest, bits.OnesCount(uint(a)))
		}
		for v := range 6 {
			set := m.Restrict(f, v, true)
			if m.Eval(set, value) != (w>>(a|1<<v)&1 == 1) {
				t.Fatalf("restricted wrong for %06b", a)
			}
		}
	}
	checkAnySat(t, m, f, fewest)
}

func checkAnySat(t *testing.T, m *bdd.Manager, f bdd.Ref, fewest int) {
	t.Helper()
	values, ok := m.AnySat(f)
	if ok != (f != bdd.False) {
		t.Fatal("a solution exists exactly when the function is not false")
	}
	if !ok {
		return
	}
	n := 0
	for _, v := range values {
		if v {
			n++
		}
	}
	if n != fewest || !m.Eval(f, func(v int) bool { return values[v] }) {
		t.Fatalf("%v is no solution with %d true", values, fewest)
	}
}

// A function that is too large makes the manager full, not wrong or endless.
func TestLimit(t *testing.T) {
	m := bdd.New(40, 1000)
	f := bdd.False
	for i := range 20 {
		f = m.Or(f, m.And(m.Var(i), m.Var(20+i)))
	}
	if !m.Full() {
		t.Error("the limit of 1,000 nodes was not met by a diagram of two million")
	}
}

func BenchmarkParity(b *testing.B) {
	for _, n := range []int{16, 32, 64} {
		b.Run(fmt.Sprintf("variables=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				parity(bdd.New(n, 0))
			}
		})
	}
}
