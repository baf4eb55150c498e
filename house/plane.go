package house

import (
	"cmp"
	"slices"
)

// The predicates of this file are exact: every one is the sign of a sum of two
// products of differences of coordinates, each below 2^23 by Reach (doubled
// coordinates included), so that nothing overflows and nothing is rounded.

// turn is positive if c lies to the left of the line from a to b, negative if
// to the right, zero if on it. It is twice the area of the triangle.
func turn(a, b, c Point) int64 {
	return int64(b.X-a.X)*int64(c.Y-a.Y) - int64(b.Y-a.Y)*int64(c.X-a.X)
}

// cross and dot are the products of the directions from a to b and from c to d.
func cross(a, b, c, d Point) int64 {
	return int64(b.X-a.X)*int64(d.Y-c.Y) - int64(b.Y-a.Y)*int64(d.X-c.X)
}

func dot(a, b, c, d Point) int64 {
	return int64(b.X-a.X)*int64(d.X-c.X) + int64(b.Y-a.Y)*int64(d.Y-c.Y)
}

// onSegment reports whether p lies on the segment from a to b, ends included.
func onSegment(a, b, p Point) bool {
	return turn(a, b, p) == 0 && between(a.X, b.X, p.X) && between(a.Y, b.Y, p.Y)
}

func between(a, b, x MM) bool { return min(a, b) <= x && x <= max(a, b) }

// crossing reports whether two segments cross at a point inside both.
func crossing(a, b, c, d Point) bool {
	return opposite(turn(a, b, c), turn(a, b, d)) && opposite(turn(c, d, a), turn(c, d, b))
}

func opposite(s, t int64) bool { return s < 0 && t > 0 || s > 0 && t < 0 }

// touching reports whether two segments have a point in common.
func touching(a, b, c, d Point) bool {
	return crossing(a, b, c, d) || onSegment(a, b, c) || onSegment(a, b, d) || onSegment(c, d, a) || onSegment(c, d, b)
}

// area2 is twice the signed area of an outline: negative if it runs clockwise.
func area2(outline []Point) int64 {
	var sum int64
	for i := range outline {
		p, q := edge(outline, i)
		sum += turn(outline[0], p, q)
	}
	return sum
}

// edge is edge number i of an outline.
func edge(outline []Point, i int) (from, to Point) {
	return outline[i], outline[(i+1)%len(outline)]
}

// within is 1 for a point inside a simple outline, 0 on its edge, -1 outside.
// It counts the edges that pass a ray to the right.
func within(outline []Point, p Point) int {
	inside := false
	for i := range outline {
		a, b := edge(outline, i)
		if onSegment(a, b, p) {
			return 0
		}
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if (turn(a, b, p) > 0) == (b.Y > a.Y) {
			inside = !inside
		}
	}
	if inside {
		return 1
	}
	return -1
}

// bounds are the least and greatest coordinates of an outline.
func bounds(outline []Point) (least, greatest Point) {
	least, greatest = outline[0], outline[0]
	for _, p := range outline[1:] {
		least.X, least.Y = min(least.X, p.X), min(least.Y, p.Y)
		greatest.X, greatest.Y = max(greatest.X, p.X), max(greatest.Y, p.Y)
	}
	return least, greatest
}

// selfTouch finds two edges of an outline that meet where they should not:
// neighbours that fold back, or others with a common point.
func selfTouch(outline []Point) (i, j int, bad bool) {
	n := len(outline)
	for i := range n {
		a, b := edge(outline, i)
		c, d := edge(outline, (i+1)%n)
		if a == b || turn(a, b, d) == 0 && dot(a, b, c, d) < 0 {
			return i, (i + 1) % n, true
		}
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			c, d := edge(outline, j)
			if touching(a, b, c, d) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// overlap reports whether two simple clockwise outlines have an area in
// common. Where edges cross they have. Else every edge, cut at the corners of
// the other outline that lie on it, is in whole pieces inside, outside or on
// the other; a piece inside, or one that both outlines run along in the same
// direction, shows the common area. If there is neither, the boundary of a
// common area would lie on both outlines, which then are equal, and equal
// clockwise outlines share every piece in the same direction.
func overlap(a, b []Point) bool {
	if apart(a, b) {
		return false
	}
	for i := range a {
		p, q := edge(a, i)
		for j := range b {
			r, s := edge(b, j)
			if crossing(p, q, r, s) {
				return true
			}
		}
	}
	return reaches(a, b) || reaches(b, a)
}

func apart(a, b []Point) bool {
	a0, a1 := bounds(a)
	b0, b1 := bounds(b)
	return a1.X <= b0.X || b1.X <= a0.X || a1.Y <= b0.Y || b1.Y <= a0.Y
}

// reaches reports whether a piece of an edge of a lies inside b, or along an
// edge of b in the same direction.
func reaches(a, b []Point) bool {
	double := make([]Point, len(b))
	for i, p := range b {
		double[i] = Point{2 * p.X, 2 * p.Y}
	}
	for i := range a {
		p, q := edge(a, i)
		cuts := cutAt(p, q, b)
		for k := 1; k < len(cuts); k++ {
			middle := Point{cuts[k-1].X + cuts[k].X, cuts[k-1].Y + cuts[k].Y}
			switch within(double, middle) {
			case 1:
				return true
			case 0:
				if sameWay(double, middle, p, q) {
					return true
				}
			}
		}
	}
	return false
}

// sameWay reports whether an edge of the outline through m runs as p to q.
func sameWay(outline []Point, m, p, q Point) bool {
	for j := range outline {
		r, s := edge(outline, j)
		if onSegment(r, s, m) && cross(p, q, r, s) == 0 && dot(p, q, r, s) > 0 {
			return true
		}
	}
	return false
}

// cutAt lists p, the corners of an outline that lie between p and q on the
// segment, in order, and q.
func cutAt(p, q Point, outline []Point) []Point {
	cuts := []Point{p, q}
	for _, c := range outline {
		if c != p && c != q && onSegment(p, q, c) {
			cuts = append(cuts, c)
		}
	}
	slices.SortFunc(cuts, func(a, b Point) int { return cmp.Compare(dot(p, q, p, a), dot(p, q, p, b)) })
	return cuts
}
