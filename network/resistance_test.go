package network_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"
)

// exact is the tolerance for resistances that are known as fractions.
const exact = 1e-12

func fraction(t testing.TB, s string) float64 {
	t.Helper()
	r, ok := new(big.Rat).SetString(strings.TrimSpace(s))
	if !ok {
		t.Fatalf("%q is not a fraction", s)
	}
	f, _ := r.Float64()
	return f
}

// both checks a pair by ohmmeter and by source and voltmeter.
func both(t *testing.T, what string, g *graph, a, b int, want float64) {
	t.Helper()
	relative(t, fmt.Sprintf("%s %d–%d", what, a, b), g.between(t, a, b), want, exact)
	relative(t, fmt.Sprintf("%s %d–%d by source", what, a, b), g.viaSource(t, a, b), want, exact)
}

// Complete graphs 2/n, cycles k(n-k)/n, paths k, K(m,n): Klein and Randić,
// J. Math. Chem. 12 (1993) 81; Klein, Croat. Chem. Acta 75 (2002) 633.
func TestResistanceOfSimpleGraphs(t *testing.T) {
	for n := 2; n <= 12; n++ {
		k, c, p := complete(n), cycle(max(n, 3)), path(n)
		for b := 1; b < n; b++ {
			both(t, fmt.Sprint("K", n), k, 0, b, 2/float64(n))
			both(t, fmt.Sprint("P", n), p, 0, b, float64(b))
			if n > 2 {
				both(t, fmt.Sprint("C", n), c, 0, b, float64(b*(n-b))/float64(n))
			}
		}
	}
	for m := 1; m <= 6; m++ {
		for n := 1; n <= 6; n++ {
			g, what := multipartite(m, n), fmt.Sprintf("K(%d,%d)", m, n)
			both(t, what, g, 0, m, float64(m+n-1)/float64(m*n))
			if m > 1 {
				both(t, what, g, 0, 1, 2/float64(n))
			}
		}
	}
}

// Resistance by graph distance. The five solids: van Steenwijk, Am. J. Phys. 66
// (1998) 90; cube 7/12, 3/4, 5/6 in every textbook; the others follow from
// Klein and Randić (1993) and were recomputed in exact fractions by an
// independent program.
var byDistance = []struct {
	name string
	g    *graph
	want string
}{
	{"tetrahedron", complete(4), "1/2"},
	{"cube", hypercube(3), "7/12 3/4 5/6"},
	{"octahedron", multipartite(2, 2, 2), "5/12 1/2"},
	{"dodecahedron", petersen(10, 2), "19/30 9/10 16/15 17/15 7/6"},
	{"icosahedron", icosahedron(), "11/30 7/15 1/2"},
	{"Petersen", petersen(5, 2), "3/5 4/5"},
	{"K(3,3)", multipartite(3, 3), "5/9 2/3"},
	{"Heawood", lcf(7, 5, -5), "13/21 6/7 19/21"},
	{"Pappus", lcf(3, 5, 7, -7, 7, -7, -5), "17/27 8/9 26/27 1"},
	{"Desargues", petersen(10, 3), "19/30 9/10 59/60 21/20 13/12"},
	{"4-cube", hypercube(4), "15/32 7/12 61/96 2/3"},
	{"5-cube", hypercube(5), "31/80 15/32 241/480 25/48 8/15"},
}

func TestResistanceByDistance(t *testing.T) {
	for _, row := range byDistance {
		want := strings.Fields(row.want)
		for a := range row.g.n {
			far := 0
			for b, d := range row.g.distances(a) {
				if far = max(far, d); a < b {
					both(t, row.name, row.g, a, b, fraction(t, want[d-1]))
				}
			}
			if far != len(want) {
				t.Errorf("%s: farthest node at %d, table has %d", row.name, far, len(want))
			}
		}
	}
}

// Hypercube, adjacent and antipodal: closed forms in n, Klein and Randić (1993)
// and the textbook sum over layers.
func TestResistanceOfHypercubes(t *testing.T) {
	for n := 1; n <= 7; n++ {
		g := hypercube(n)
		both(t, "cube", g, 0, 1, (math.Exp2(float64(n))-1)/(float64(n)*math.Exp2(float64(n-1))))
		sum := 0.0
		for k := range n {
			sum += 1 / (float64(n-k) * float64(new(big.Int).Binomial(int64(n), int64(k)).Int64()))
		}
		both(t, "cube", g, 0, g.n-1, sum)
	}
}

// Kirchhoff indices (sum over pairs): Klein and Randić (1993); cycles
// (n³-n)/12, paths (n³-n)/6; the solids recomputed in exact fractions.
func TestKirchhoffIndex(t *testing.T) {
	for _, row := range []struct {
		name string
		g    *graph
		want string
	}{
		{"K5", complete(5), "4"},
		{"C6", cycle(6), "35/2"},
		{"P6", path(6), "35"},
		{"cube", hypercube(3), "58/3"},
		{"octahedron", multipartite(2, 2, 2), "13/2"},
		{"Petersen", petersen(5, 2), "33"},
		{"icosahedron", icosahedron(), "28"},
		{"dodecahedron", petersen(10, 2), "548/3"},
	} {
		sum := 0.0
		for a := range row.g.n {
			for b := range a {
				sum += row.g.between(t, a, b)
			}
		}
		relative(t, row.name, sum, fraction(t, row.want), exact)
	}
}

// Wheels, golden-ratio closed form (recomputed in exact fractions); the rows are
// hub–rim, then rim–rim 1, 2, … apart.
func TestResistanceOfWheels(t *testing.T) {
	for n, row := range map[int]string{
		3:  "1/2 1/2",
		4:  "7/15 8/15 2/3",
		5:  "5/11 6/11 8/11",
		6:  "9/20 11/20 3/4 4/5",
		7:  "13/29 16/29 22/29 24/29",
		8:  "47/105 58/105 16/21 88/105 6/7",
		9:  "17/38 21/38 29/38 16/19 33/38",
		10: "123/275 152/275 42/55 232/275 48/55 22/25",
	} {
		g := hub(cycle(n))
		want := strings.Fields(row)
		for rim := range n {
			both(t, fmt.Sprint("wheel ", n), g, n, rim, fraction(t, want[0]))
		}
		for k := 1; k < len(want); k++ {
			both(t, fmt.Sprint("wheel ", n), g, 0, k, fraction(t, want[k]))
			phi := math.Phi
			closed := 2 / math.Sqrt(5) * (1 + math.Pow(phi, float64(-2*n)) - math.Pow(phi, float64(-2*k)) - math.Pow(phi, float64(-2*(n-k)))) /
				(1 - math.Pow(phi, float64(-2*n)))
			relative(t, "closed form", g.between(t, 0, k), closed, exact)
		}
	}
}

func fibonacci(n int) float64 {
	a, b := 0.0, 1.0
	for range n {
		a, b = b, a+b
	}
	return a
}

// Fans: hub to node i of n is F(2(n-i)+1)·F(2i-1)/F(2n) (encyclopaedia article
// "Resistance distance"). Ladders with one resistive rail: F(2n+1)/F(2n)
// (textbook).
func TestResistanceOfFansAndLadders(t *testing.T) {
	for n := 2; n <= 20; n++ {
		g := hub(path(n))
		for i := 1; i <= n; i++ {
			both(t, fmt.Sprint("fan ", n), g, n, i-1, fibonacci(2*(n-i)+1)*fibonacci(2*i-1)/fibonacci(2*n))
		}
		both(t, fmt.Sprint("ladder ", n), ladder(n), 1, 0, fibonacci(2*n+1)/fibonacci(2*n))
	}
	both(t, "long ladder", ladder(60), 1, 0, math.Phi)
	for i, want := range strings.Fields("13/21 10/21 10/21 13/21") {
		both(t, "fan 4", hub(path(4)), 4, i, fraction(t, want))
	}
}

// Two rails and N rungs: across the end rung, along one rail, corner to corner
// (recomputed in exact fractions; limit of the first √3-1, textbook).
func TestResistanceOfTwoRowGrids(t *testing.T) {
	rung := strings.Fields("1 3/4 11/15 41/56 153/209 571/780 2131/2911 7953/10864")
	rail := strings.Fields("0 3/4 4/3 13/7 26/11 149/52 138/41 375/97")
	corner := strings.Fields("1 1 7/5 15/8 45/19 43/15 239/71 433/112")
	for i := range rung {
		n := i + 1
		g, what := grid(n, 2), fmt.Sprint("2×", n)
		both(t, what, g, 0, n, fraction(t, rung[i]))
		both(t, what, g, 0, 2*n-1, fraction(t, corner[i]))
		if n > 1 {
			both(t, what, g, 0, n-1, fraction(t, rail[i]))
		}
	}
	both(t, "long", grid(40, 2), 0, 40, math.Sqrt(3)-1)
}

// Square grids, opposite corners: OEIS A357113/A357114. Adjacent corners, and
// nodes (0,0) to (3,3) of 5×4 nodes (the layout in Wu, J. Phys. A 37 (2004)
// 6653): recomputed in exact fractions.
func TestResistanceOfGrids(t *testing.T) {
	for _, row := range []struct {
		w, h int
		want string
	}{
		{1, 1, "1"},
		{2, 1, "7/5"},
		{2, 2, "3/2"},
		{3, 1, "15/8"},
		{3, 2, "121/69"},
		{3, 3, "13/7"},
		{4, 1, "45/19"},
		{4, 2, "430/209"},
		{4, 3, "2089/1023"},
		{4, 4, "47/22"},
		{5, 1, "43/15"},
		{5, 2, "1047/440"},
		{5, 3, "37873/16744"},
		{5, 4, "2749/1205"},
		{5, 5, "1171/495"},
		{6, 6, "6385/2494"},
		{7, 7, "982871/360161"},
		{8, 8, "441083/153254"},
	} {
		g := grid(row.w+1, row.h+1)
		both(t, fmt.Sprintf("%d×%d cells", row.w, row.h), g, 0, g.n-1, fraction(t, row.want))
	}
	adjacent := strings.Fields("3/4 5/4 181/112 251/132 109897/51480 11631/4988 490280571/195927584 732582281/276163708")
	for i, want := range adjacent {
		n := i + 2
		both(t, fmt.Sprintf("adjacent corners %d", n-1), grid(n, n), 0, n-1, fraction(t, want))
	}
	both(t, "5×4 nodes", grid(5, 4), 0, 3*5+3, fraction(t, "2356898/1380027"))
}

// Torus: adjacent (N²-1)/(2N²) by Foster; diagonal and knight's move recomputed
// in exact fractions. They tend to the infinite lattice of Cserti, Am. J. Phys.
// 68 (2000) 896.
func TestResistanceOfTori(t *testing.T) {
	for _, row := range []struct {
		n                          int
		adjacent, diagonal, knight string
	}{
		{3, "4/9", "5/9", ""},
		{4, "15/32", "7/12", "61/96"},
		{5, "12/25", "3/5", "17/25"},
		{8, "63/128", "7099/11424", "33587/45696"},
		{10, "99/200", "491861/784740", "5874283/7847400"},
	} {
		g, what := torus(row.n), fmt.Sprint("torus ", row.n)
		both(t, what, g, 0, 1, fraction(t, row.adjacent))
		both(t, what, g, 0, row.n+1, fraction(t, row.diagonal))
		if row.knight != "" {
			both(t, what, g, 0, row.n+2, fraction(t, row.knight))
		}
	}
}

// The infinite lattice: diagonal 2/π, adjacent 1/2 (Atkinson and van Steenwijk,
// Am. J. Phys. 67 (1999) 486). A torus of N×N falls short of it by about 1/N².
func TestTorusTendsToLattice(t *testing.T) {
	g := torus(30)
	relative(t, "adjacent", g.between(t, 0, 1), 0.5, 2e-3)
	relative(t, "diagonal", g.between(t, 0, 31), 2/math.Pi, 3e-3)
}
