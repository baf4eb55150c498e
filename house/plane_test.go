package house

import (
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// skyline is the outline of columns of the given heights, each a unit wide, on
// the x axis, clockwise. What it covers is known from its making: the cells
// (i, j) with j < heights[i].
func skyline(heights []int, at Point, scale MM) []Point {
	list := []Point{{0, 0}}
	for i, h := range heights {
		list = append(list, Point{MM(i), MM(h)}, Point{MM(i + 1), MM(h)})
	}
	list = append(list, Point{MM(len(heights)), 0})
	list = straightened(slices.Compact(list))
	for i, p := range list {
		list[i] = Point{at.X + p.X*scale, at.Y + p.Y*scale}
	}
	return list
}

func drawHeights(t *rapid.T, name string) []int {
	return rapid.SliceOfN(rapid.IntRange(1, 5), 1, 6).Draw(t, name)
}

// Pick's theorem ties the area of a simple outline with whole coordinates to
// the points inside and on it: G. Pick, Geometrisches zur Zahlenlehre (1899).
// Twice the area is 2 I + B - 2.
func TestAreaAndWithinObeyPick(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outline := skyline(drawHeights(t, "heights"), Point{}, 1)
		if rapid.Bool().Draw(t, "slant") { // a shear keeps areas and whole points
			k := MM(rapid.IntRange(-3, 3).Draw(t, "shear"))
			for i, p := range outline {
				outline[i] = Point{p.X + k*p.Y, p.Y}
			}
		}
		least, greatest := bounds(outline)
		var inside, edge int64
		for x := least.X - 1; x <= greatest.X+1; x++ {
			for y := least.Y - 1; y <= greatest.Y+1; y++ {
				switch within(outline, Point{x, y}) {
				case 1:
					inside++
				case 0:
					edge++
				}
			}
		}
		if got, want := -area2(outline), 2*inside+edge-2; got != want {
			t.Fatalf("%v: twice the area is %d, by Pick's theorem %d", outline, got, want)
		}
		if _, _, bad := selfTouch(outline); bad {
			t.Fatalf("%v is simple, and is said to meet itself", outline)
		}
	})
}

// Two skylines overlap exactly if they share a cell, which is known from how
// they are made.
func TestOverlapEqualsSharedCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawHeights(t, "a"), drawHeights(t, "b")
		dx, dy := rapid.IntRange(-7, 7).Draw(t, "dx"), rapid.IntRange(-6, 6).Draw(t, "dy")
		scale := MM(rapid.IntRange(1, 100_000).Draw(t, "scale"))
		want := false
		for i, h := range a {
			if k := i - dx; k >= 0 && k < len(b) && max(0, dy) < min(h, b[k]+dy) {
				want = true
			}
		}
		p := skyline(a, Point{}, scale)
		q := skyline(b, Point{MM(dx) * scale, MM(dy) * scale}, scale)
		if got := overlap(p, q); got != want {
			t.Fatalf("%v and %v: overlap %v, their cells say %v", p, q, got, want)
		}
		if overlap(p, q) != overlap(q, p) {
			t.Fatalf("%v and %v: the order matters", p, q)
		}
	})
}

// The predicates stay exact at the ends of their reach, checked with integers
// of any size.
func TestTurnIsExactAtTheEndsOfItsReach(t *testing.T) {
	coordinate := rapid.Custom(func(t *rapid.T) MM {
		return MM(rapid.SampledFrom([]int64{-2 * int64(Reach), -2*int64(Reach) + 1, -1, 0, 1, 2*int64(Reach) - 1, 2 * int64(Reach)}).Draw(t, "c"))
	})
	rapid.Check(t, func(t *rapid.T) {
		var p [3]Point
		for i := range p {
			p[i] = Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}
		}
		diff := func(a, b MM) *big.Int { return new(big.Int).Sub(big.NewInt(int64(a)), big.NewInt(int64(b))) }
		left := new(big.Int).Mul(diff(p[1].X, p[0].X), diff(p[2].Y, p[0].Y))
		right := new(big.Int).Mul(diff(p[1].Y, p[0].Y), diff(p[2].X, p[0].X))
		if want := left.Sub(left, right); want.Cmp(big.NewInt(turn(p[0], p[1], p[2]))) != 0 {
			t.Fatalf("%v: turn %d, exactly %v", p, turn(p[0], p[1], p[2]), want)
		}
	})
}

// Outlines that meet themselves in each way there is, and the nearest that do
// not.
func TestSelfTouch(t *testing.T) {
	for _, c := range []struct {
		name    string
		outline []Point
		bad     bool
	}{
		{"a square", []Point{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, false},
		{"crossed like a bow", []Point{{0, 0}, {10, 10}, {0, 10}, {10, 0}}, true},
		{"folds back on itself", []Point{{0, 0}, {0, 10}, {0, 5}, {10, 0}}, true},
		{"a corner on another side", []Point{{0, 0}, {0, 10}, {10, 10}, {0, 5}, {10, 0}}, true},
		{"a corner 1 mm from it", []Point{{0, 0}, {0, 10}, {10, 10}, {1, 5}, {10, 0}}, false},
		{"two corners on one place", []Point{{0, 0}, {5, 5}, {0, 10}, {10, 10}, {5, 5}, {10, 0}}, true},
	} {
		if _, _, bad := selfTouch(c.outline); bad != c.bad {
			t.Errorf("%s: meets itself %v, want %v", c.name, bad, c.bad)
		}
	}
}
