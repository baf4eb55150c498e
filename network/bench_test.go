package network_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"strapper/network"
	"strapper/network/spicetest"
	"strapper/unit"
)

// positions prepares the states of every position, in counting order.
func (p *places) positions(f *network.Factor, count uint) [][]bool {
	all := make([][]bool, count)
	for i := range all {
		all[i] = f.States()
		p.set(all[i], uint(i))
	}
	return all
}

// BenchmarkThreePlace solves the 13-node three-place network in its eight
// positions in counting order and reads the lamp voltage.
func BenchmarkThreePlace(b *testing.B) {
	p := newPlaces(3)
	f, err := p.net.Factor(50)
	if err != nil {
		b.Fatal(err)
	}
	benchWalk(b, f, p, p.positions(f, 8))
}

// BenchmarkThreePlaceThrow throws only the last switch to and fro, as
// BenchmarkNgspiceLoop does.
func BenchmarkThreePlaceThrow(b *testing.B) { benchPair(b, 0, 4) }

// BenchmarkThreePlaceAll throws all three switches every time, so that nothing
// but the part no switch can reach is kept.
func BenchmarkThreePlaceAll(b *testing.B) { benchPair(b, 0, 7) }

func benchPair(b *testing.B, first, second uint) {
	p := newPlaces(3)
	f, err := p.net.Factor(50)
	if err != nil {
		b.Fatal(err)
	}
	all := [][]bool{f.States(), f.States()}
	p.set(all[0], first)
	p.set(all[1], second)
	benchWalk(b, f, p, all)
}

func benchWalk(b *testing.B, f *network.Factor, p *places, all [][]bool) {
	var s *network.Solution
	s = f.Solve(all[0], s)
	lights := 0
	b.ReportAllocs()
	k := 0
	for b.Loop() {
		s = f.Solve(all[k], s)
		if v, ok := s.Voltage(p.sl, network.Ground); ok && real(v) > 100 {
			lights++
		}
		if k++; k == len(all) {
			k = 0
		}
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "solves/s")
	if lights == 0 {
		b.Fatal("the lamp was never on")
	}
}

// BenchmarkPlaces shows the growth with the number of places, walking positions
// in Gray-code order (one switch moves at a time).
func BenchmarkPlaces(b *testing.B) {
	for _, n := range []int{3, 5, 10, 20} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := newPlaces(n)
			f, err := p.net.Factor(50)
			if err != nil {
				b.Fatal(err)
			}
			all := make([][]bool, min(1<<n, 1024))
			for i := range all {
				all[i] = f.States()
				p.set(all[i], uint(i)^uint(i)>>1)
			}
			benchWalk(b, f, p, all)
		})
	}
}

// BenchmarkDenseLU is the same network by the textbook: nodal equations stamped
// and solved by dense complex LU with partial pivoting, nothing reused.
func BenchmarkDenseLU(b *testing.B) {
	const n = 12
	fixed, contacts := threePlaceParts()
	p := newPlaces(3)
	states := make([]bool, len(contacts))
	a, v := make([]complex128, n*n), make([]complex128, n)
	base := make([]complex128, n*n)
	for _, q := range fixed {
		stampFloat(base, n, q, q.y)
	}
	b.ReportAllocs()
	lights, k := 0, uint(0)
	for b.Loop() {
		p.set(states, k&7)
		copy(a, base)
		clear(v)
		v[0] = 230 / complex(float64(feed), 0)
		for i, q := range contacts {
			if states[i] {
				stampFloat(a, n, q, 100)
			} else {
				stampFloat(a, n, q, 1e-9)
			}
		}
		denseLU(a, v)
		if real(v[int(p.sl)-1]) > 100 {
			lights++
		}
		k++
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "solves/s")
	if want := (b.N + 7) / 2; lights > want || lights < b.N/2-4 {
		b.Fatalf("lamp on %d times in %d", lights, b.N)
	}
}

// branch is an admittance between two nodes, 0 being Ground.
type branch struct {
	a, b int
	y    complex128
}

func stampFloat(m []complex128, n int, q branch, y complex128) {
	a, b := q.a-1, q.b-1
	if a >= 0 {
		m[a*n+a] += y
	}
	if b >= 0 {
		m[b*n+b] += y
	}
	if a >= 0 && b >= 0 {
		m[a*n+b] -= y
		m[b*n+a] -= y
	}
}

// threePlaceParts is the three-place network with the node numbers of newPlaces:
// com 1, strappers 2–9 in pairs, com3 10, sl 11, lamp neutral 12.
func threePlaceParts() (fixed, contacts []branch) {
	r := func(a, b int, ohm unit.Ohm) { fixed = append(fixed, branch{a, b, complex(1/float64(ohm), 0)}) }
	c := func(a, b int, f unit.Farad) { fixed = append(fixed, branch{a, b, complex(0, omega*float64(f))}) }
	r(1, 0, feed)
	for _, run := range [2]int{2, 6} {
		r(run, run+2, strapper)
		r(run+1, run+3, strapper)
		c(run, run+1, spanC)
		c(run+2, run+3, spanC)
	}
	for _, core := range []int{2, 3, 8, 9} {
		c(core, 0, spanC)
	}
	r(10, 11, switched)
	c(10, 0, slC)
	r(11, 12, lamp)
	r(12, 0, neutral)
	r(11, 0, 1e6)
	for _, q := range [][2]int{{1, 2}, {1, 3}, {4, 6}, {5, 7}, {4, 7}, {5, 6}, {10, 8}, {10, 9}} {
		contacts = append(contacts, branch{q[0], q[1], 0})
	}
	return fixed, contacts
}

// BenchmarkNgspiceLoop is the same network inside one ngspice process: a control
// loop that alters two contacts, does one alternating analysis, tests the lamp
// voltage and destroys the plot. It runs whole processes of ngspiceTurns turns;
// start and reading of the deck are left out by subtracting a process of one
// turn.
func BenchmarkNgspiceLoop(b *testing.B) {
	spicetest.Need(b)
	spicetest.Output(b, loopDeck(1))
	var spent time.Duration
	turns := 0
	for b.Loop() {
		start := time.Now()
		spicetest.Output(b, loopDeck(1))
		overhead := time.Since(start)
		start = time.Now()
		out := spicetest.Output(b, loopDeck(ngspiceTurns+1))
		spent += time.Since(start) - overhead
		turns += ngspiceTurns
		if want := fmt.Sprintf("hits = %.6e", ngspiceTurns/2+1.); !strings.Contains(out, want) {
			b.Fatalf("ngspice: want %q in\n%s", want, out)
		}
	}
	b.ReportMetric(float64(turns)/spent.Seconds(), "solves/s")
	b.ReportMetric(float64(spent.Nanoseconds())/float64(turns), "ns/solve")
}

const ngspiceTurns = 4000

// loopDeck writes the three-place network with the last switch thrown to and fro
// the given number of times.
func loopDeck(turns int) []byte {
	fixed, contacts := threePlaceParts()
	var d strings.Builder
	d.WriteString("* three-place control, last switch thrown to and fro\nVL l0 0 DC 0 AC 230 0\n")
	fmt.Fprintf(&d, "RF l0 n1 %v\n", float64(feed))
	name := func(v int) string { return network.SpiceNode("", network.Node(v)) }
	for i, q := range fixed[1:] {
		if imag(q.y) != 0 {
			fmt.Fprintf(&d, "C%d %s %s %v\n", i, name(q.a), name(q.b), imag(q.y)/omega)
		} else {
			fmt.Fprintf(&d, "R%d %s %s %v\n", i, name(q.a), name(q.b), 1/real(q.y))
		}
	}
	for i, q := range contacts {
		ohm := 1e9
		if i == 0 || i == 2 || i == 3 || i == 6 {
			ohm = 0.01
		}
		fmt.Fprintf(&d, "RS%d %s %s %v\n", i, name(q.a), name(q.b), ohm)
	}
	fmt.Fprintf(&d, `.control
let n = 0
let hits = 0
dowhile n < %d
  if n - 2*floor(n/2) > 0.5
    alter rs6 = 1g
    alter rs7 = 0.01
  else
    alter rs6 = 0.01
    alter rs7 = 1g
  end
  ac lin 1 50 50
  if vm(n11) > 100
    let const.hits = const.hits + 1
  end
  let const.n = const.n + 1
  destroy $curplot
  setplot const
end
print hits
quit
.endc
.end
`, turns)
	return []byte(d.String())
}
