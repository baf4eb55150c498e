package route

import (
	"testing"

	"strapper/house"
)

// inZone is the rule of BS 7671 regulation 522.6.202(i), written anew from the
// rooms' corners and the boxes, for one face of a wall at one point.
func inZone(h *house.House, w *house.Wall, side house.Side, along, high MM) bool {
	if high >= w.Storey.Height-150 {
		return true
	}
	deep := MM(0)
	if side == house.SideB {
		deep = w.Build.Thickness()
	}
	p := w.At(along, deep)
	if r := w.Rooms[side]; r != nil {
		for _, c := range r.Outline {
			if abs(c.X-p.X)+abs(c.Y-p.Y) <= 150+1 { // along the face; a millimetre for rounding
				return true
			}
		}
	}
	for _, b := range h.Boxes {
		if b.Wall != w || b.Side != side && w.Build.Thickness() > 100 {
			continue
		}
		if abs(b.Along-along) <= b.Size.Width/2 || abs(b.Height-high) <= b.Size.Height/2 {
			return true
		}
	}
	return false
}

// A hidden cable never leaves its zone: every point of every stretch in every
// wall of every way of many random houses, on each face from which it lies less
// than 50 mm deep.
func TestHiddenCablesStayInTheirZones(t *testing.T) {
	points, held := 0, 0
	kind := cable(t, "3ce-1.0")
	randomHouses(t, 40, func(seed uint64, h *house.House) {
		f := finder(t, h)
		var runs []Run
		for i, a := range h.Boxes {
			b := h.Boxes[(i*5+int(seed)+1)%len(h.Boxes)]
			if a != b {
				runs = append(runs, Run{ID: a.ID, From: a.ID, To: b.ID, Kind: kind})
			}
		}
		for _, r := range runs {
			c := f.choose(r, Options{})
			for _, way := range c.Routes {
				for _, s := range way.Stretches {
					if s.Space != InWall {
						continue
					}
					if s.Held {
						held++
					}
					points += checkStretch(t, seed, h, s, kind.Width)
				}
			}
		}
	})
	if points < 10_000 || held == 0 {
		t.Errorf("%d points, %d stretches held from a face: too few to tell anything", points, held)
	}
}

func checkStretch(t *testing.T, seed uint64, h *house.House, s Stretch, width MM) (points int) {
	t.Helper()
	w := s.Wall
	steps := MM(40)
	for i := MM(0); i <= steps; i++ {
		along := s.Along[0] + (s.Along[1]-s.Along[0])*i/steps
		high := s.High[0] + (s.High[1]-s.High[0])*i/steps
		points++
		for _, side := range []house.Side{house.SideA, house.SideB} {
			if !near(w, side, &s, width) {
				continue
			}
			if !inZone(h, w, side, along, high) {
				t.Fatalf("seed %d: cable in wall %s, %v along and %v high, is in no zone of side %d (%s, %v thick, held %v) %+v",
					seed, w.ID, along, high, side, w.Build.ID, w.Build.Thickness(), s.Held, s)
			}
		}
	}
	return points
}

// near reports whether a cable may lie less than 50 mm from a face behind which
// somebody may drill. Loose in a hollow wall it may lie anywhere; held, it lies
// at the lining of its side.
func near(w *house.Wall, side house.Side, s *Stretch, width MM) bool {
	b := w.Build
	if w.Rooms[side] == nil && (w.Rooms[0] != nil || w.Rooms[1] != nil) {
		return false
	}
	if b.Hollow() {
		return !s.Held || side == s.Side || b.Thickness()-b.Face[s.Side]-width < 50
	}
	return side == s.Side || b.Thickness()-max(b.Face[s.Side]+b.Gap[s.Side], 15) < 50
}

// Each band at its edge, on the walls of the single-storey house: a box of
// 72 mm has 36 mm to either side, a corner 150 mm, the ceiling 150 mm. The
// partition is 88 mm thick, so a box's zone counts on both faces; at 101 mm it
// does not (BS 7671 522.6.202(i)).
func TestZonesAtTheirEdges(t *testing.T) {
	h := build(t, singleStorey())
	g := graphOf(t, h, false)
	w := h.Box("a").Wall
	z, box := g.walls[w], h.Box("a").Along
	top := w.Storey.Height - 150
	for _, c := range []struct {
		name        string
		side        house.Side
		along, high MM
		want, thick bool // thick: the wall is made 101 mm
	}{
		{name: "box, its edge", along: box + 36, high: 600, want: true},
		{name: "box, beyond its edge", along: box + 37, high: 600},
		{name: "box, other side, its edge", side: 1, along: box - 36, high: 600, want: true},
		{name: "box, other side, beyond", side: 1, along: box - 37, high: 600},
		{name: "box, other side of a thick wall", along: box, high: 600, side: h.Box("a").Side.Other(), thick: true},
		{name: "box, its own side of a thick wall", along: box, high: 600, side: h.Box("a").Side, thick: true, want: true},
		{name: "level with the box", along: 2000, high: 1236, want: true},
		{name: "above its level", along: 2000, high: 1237},
		{name: "under the ceiling, its edge", along: 2000, high: top, want: true},
		{name: "under the ceiling, below", along: 2000, high: top - 1},
		{name: "corner, its edge", along: 150, high: 600, want: true},
		{name: "corner, beyond", along: 151, high: 600},
		{name: "other corner, its edge", along: w.Length() - 150, high: 600, want: true},
		{name: "other corner, beyond", along: w.Length() - 151, high: 600},
		{name: "along the skirting", along: 2000, high: 20},
	} {
		build := *w.Build
		if c.thick {
			build.Core += 101 - build.Thickness()
		}
		wall := *w
		wall.Build = &build
		zc := *z
		zc.wall = &wall
		if got := zc.allowed(g.l, c.side, c.along, c.high, c.along, c.high) != ""; got != c.want {
			t.Errorf("%s: allowed %v, want %v", c.name, got, c.want)
		}
	}
}
