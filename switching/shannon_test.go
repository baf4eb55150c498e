package switching_test

import (
	"fmt"
	"math/bits"
	"testing"

	"strapper/switching"
	"strapper/wiring"
)

// Shannon, "A Symbolic Analysis of Relay and Switching Circuits", Trans. AIEE
// 57 (1938) 713: the sum modulo two of n variables takes 4(n-1) contacts, the
// circuit that controls a light from n points with n-2 double-pole and two
// single-pole changeover switches; it is lit in half of the positions.
func TestShannonParity(t *testing.T) {
	for n := 2; n <= 20; n++ {
		h, want := chain(t, n)
		g := h.graph()
		contacts := 0
		for i := range g.Edges {
			if g.Edges[i].Kind == wiring.Contact {
				contacts++
			}
		}
		if contacts != 4*(n-1) {
			t.Errorf("%d places: %d contacts, want %d", n, contacts, 4*(n-1))
		}
		for _, prove := range ways {
			p := prove(g, want)
			if got := codes(p); got != "" {
				t.Errorf("%d places: findings %s: %v", n, got, p.Findings)
			}
			if p.States != 1<<n || p.CountLit(0) != 1<<(n-1) {
				t.Errorf("%d places: lit in %d of %d states", n, p.CountLit(0), p.States)
			}
			checkParity(t, g, p, n)
		}
	}
}

// ways are the two methods of proof.
var ways = []func(*wiring.Graph, []switching.Want) *switching.Proof{switching.ProveByTable, switching.ProveByDiagram}

// checkParity compares with the parity of the number of moved switches, in
// every state of small circuits and in spread-out states of large ones.
func checkParity(t *testing.T, g *wiring.Graph, p *switching.Proof, n int) {
	t.Helper()
	step := uint64(1)
	if n > 12 {
		step = 1009
	}
	for i := uint64(0); i < 1<<n; i += step {
		if p.Lit(0, g.StateAt(i)) != (bits.OnesCount64(i)%2 == 0) {
			t.Fatalf("%d places: state %b is wrong", n, i)
		}
	}
}

// BenchmarkProveTable and BenchmarkProveDiagram are the two methods on one
// circuit, to see where the one overtakes the other.
func BenchmarkProveTable(b *testing.B) { benchmarkWay(b, switching.ProveByTable) }

func BenchmarkProveDiagram(b *testing.B) { benchmarkWay(b, switching.ProveByDiagram) }

func benchmarkWay(b *testing.B, prove func(*wiring.Graph, []switching.Want) *switching.Proof) {
	for _, n := range []int{3, 8, 10, 12, 13, 16, 20} {
		h, want := chain(b, n)
		g := h.graph()
		b.Run(fmt.Sprintf("places=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				prove(g, want)
			}
		})
	}
}

func BenchmarkProve(b *testing.B) {
	for _, n := range []int{2, 3, 4, 8, 12, 16, 20} {
		h, want := chain(b, n)
		g := h.graph()
		b.Run(fmt.Sprintf("places=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				switching.Prove(g, want)
			}
		})
	}
}
