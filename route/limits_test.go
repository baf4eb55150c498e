package route

import (
	"fmt"
	"testing"

	"strapper/kit"
	"strapper/source"
)

func usual(t testing.TB) *Limits {
	t.Helper()
	l, err := Usual()
	if err != nil {
		t.Fatal(err)
	}
	return &l
}

// The figures of the data file, each against its publication.
func TestLimitsAreThePublished(t *testing.T) {
	l := usual(t)
	for _, c := range []struct {
		what, source string
		got, want    float64
	}{
		{"zone under the top of a wall", "BS 7671 522.6.202(i): 150 mm", float64(l.TopBand), 150},
		{"zone beside an angle", "BS 7671 522.6.202(i): 150 mm", float64(l.CornerBand), 150},
		{"wall whose reverse has the zone", "BS 7671 522.6.202(i): 100 mm or less", float64(l.ThinWall), 100},
		{"depth without a zone", "BS 7671 522.6.202: 50 mm", float64(l.Cover), 50},
		{"hole zone of a joist from", "NHBC 6.4.18, LABC: 0.25 span", float64(l.HoleFrom), 25},
		{"hole zone of a joist to", "NHBC 6.4.18, LABC: 0.40 span", float64(l.HoleTo), 40},
		{"hole in a joist", "LABC: 0.25 depth", float64(l.HoleShare), 25},
		{"hole in a joist at most", "LABC: 65 mm", float64(l.HoleMost), 65},
		{"holes apart", "LABC: 3 diameters", float64(l.HoleApart), 3},
		{"timber between holes", "NHBC 6.4.18: 100 mm", float64(l.HoleBetween), 100},
		{"notch zone from", "NHBC 6.4.18: 0.10 span", float64(l.NotchFrom), 10},
		{"notch zone to", "NHBC 6.4.18: 0.20 span", float64(l.NotchTo), 20},
		{"notch depth", "LABC, TRADA: 0.125 depth", float64(l.NotchShare), 12.5},
		{"notch at most", "LABC: 35 mm", float64(l.NotchMost), 35},
		{"hole to notch", "NHBC 6.4.18: 100 mm", float64(l.HoleToNotch), 100},
		{"deepest joist", "NHBC 6.4.18: 250 mm", float64(l.JoistDeepest), 250},
		{"hole in a stud", "NBS: 0.25 of the least width", float64(l.StudShare), 25},
		{"unsupported drop", "On-Site Guide Appendix D, from memory, to be confirmed: 5 m", float64(l.Drop), 5000},
	} {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v (%s)", c.what, c.got, c.want, c.source)
		}
	}
}

// LABC's look-up table of spans and depths (guide to notching and drilling
// joists): hole zone and largest hole, each just inside and just outside.
func TestJoistHolesAtTheirLimits(t *testing.T) {
	l := usual(t)
	for _, row := range []struct{ span, from, to MM }{
		{2000, 500, 800},
		{2500, 625, 1000},
		{3000, 750, 1200},
		{3500, 875, 1400},
		{4000, 1000, 1600},
		{4500, 1125, 1800},
	} {
		for at, want := range map[MM]bool{
			row.from: true, row.from - 1: false, row.to: true, row.to + 1: false,
			row.span - row.from: true, row.span - row.from + 1: false, row.span - row.to: true, row.span - row.to - 1: false,
			row.span / 2: false, 0: false,
		} {
			if got := l.JoistHole(200, row.span, at, 16).OK; got != want {
				t.Errorf("span %v, hole %v from a bearing: allowed %v, want %v", row.span, at, got, want)
			}
		}
	}
	// The table's 31.3, 43.8 and 56.3 mm are rounded down to whole ones here.
	for depth, most := range map[MM]MM{100: 25, 125: 31, 150: 37, 175: 43, 200: 50, 225: 56, 250: 62} {
		if !l.JoistHole(depth, 4000, 1200, most).OK || l.JoistHole(depth, 4000, 1200, most+1).OK {
			t.Errorf("depth %v: the largest hole is not %v", depth, most)
		}
	}
	if l.JoistHole(251, 4000, 1200, 16).OK || !l.JoistHole(250, 4000, 1200, 16).OK {
		t.Error("joists deeper than 250 mm are for an engineer (NHBC 6.4.18)")
	}
}

// With BS 7671 522.6.201, 50 mm from the edges: a hole d in a depth D is
// without a plate if d ≤ D - 100.
func TestJoistHolesNeedAPlateNearTheEdge(t *testing.T) {
	l := usual(t)
	for _, c := range []struct {
		depth, hole MM
		plate       bool
	}{{125, 25, false}, {125, 26, true}, {147, 36, false}, {115, 16, true}, {116, 16, false}, {97, 16, true}} {
		v := l.JoistHole(c.depth, 4000, 1200, c.hole)
		if !v.OK || v.Protect != c.plate {
			t.Errorf("hole %v in depth %v: %+v, want a plate: %v", c.hole, c.depth, v, c.plate)
		}
	}
}

// Notches: the stricter of NHBC (0.10 to 0.20 of the span) and LABC (0.125 of
// the depth, at most 35 mm).
func TestJoistNotchesAtTheirLimits(t *testing.T) {
	l := usual(t)
	for at, want := range map[MM]bool{400: true, 399: false, 800: true, 801: false, 3600: true, 3601: false, 3200: true, 3199: false} {
		if got := l.JoistNotch(200, 4000, at, 16); got.OK != want || want && !got.Protect {
			t.Errorf("span 4 m, notch at %v: %+v, want %v", at, got, want)
		}
	}
	// LABC's table: 12.5, 18.8, 25 and 31.3 mm; 250 mm is the deepest judged.
	for depth, most := range map[MM]MM{100: 12, 150: 18, 200: 25, 250: 31} {
		if !l.JoistNotch(depth, 4000, 600, most).OK || l.JoistNotch(depth, 4000, 600, most+1).OK {
			t.Errorf("depth %v: the deepest notch is not %v", depth, most)
		}
	}
	if l.JoistNotch(260, 4000, 600, 16).OK {
		t.Error("a joist of 260 mm was judged")
	}
	// 16 mm: 100 mm between is more than three diameters; 60 mm: three diameters are more.
	if !l.HolesApart(116, 16) || l.HolesApart(115, 16) || !l.HolesApart(180, 60) || l.HolesApart(179, 60) {
		t.Error("holes stand three diameters apart, centre to centre (LABC), and 100 mm between them (NHBC 6.4.18)")
	}
}

// NBS, drilling of struts: a quarter of the least width, and 0.25 to 0.40 of the
// length from the ends where load is carried. 63 mm studs: 15 mm; 89 mm: 22 mm;
// 100 mm: 25 mm.
func TestStudHolesAtTheirLimits(t *testing.T) {
	l := usual(t)
	for depth, most := range map[MM]MM{63: 15, 89: 22, 100: 25} {
		if !l.StudHole(depth, 2400, 1200, most, false).OK || l.StudHole(depth, 2400, 1200, most+1, false).OK {
			t.Errorf("stud %v: the largest hole is not %v", depth, most)
		}
	}
	for at, want := range map[MM]bool{600: true, 599: false, 960: true, 961: false, 1440: true, 1439: false, 1800: true, 1801: false} {
		if got := l.StudHole(100, 2400, at, 16, true).OK; got != want {
			t.Errorf("stud of 2.4 m with load, hole at %v: %v, want %v", at, got, want)
		}
	}
}

// Approved Document A section 2C, from memory, to be confirmed: a third of the
// leaf up the wall, a sixth along it. A leaf of 102 mm: 33.966 and 16.932 mm.
func TestChasesAtTheirLimits(t *testing.T) {
	l := usual(t)
	for _, c := range []struct {
		deep MM
		up   bool
		want bool
	}{{33, true, true}, {34, true, false}, {16, false, true}, {17, false, false}} {
		if got := l.Chase(102, c.deep, c.up); got != c.want {
			t.Errorf("chase of %v, up %v: %v", c.deep, c.up, got)
		}
	}
}

func kind(width, thickness MM) *kit.Cable {
	return &kit.Cable{ID: "test", Width: width, Thickness: thickness}
}

// On-Site Guide Table D1 (clips) and Table D5 (bends, from memory, to be
// confirmed), at each step of the table.
func TestClipsAndBendsAtTheirSteps(t *testing.T) {
	l := usual(t)
	for width, want := range map[MM][2]MM{9: {250, 400}, 10: {300, 400}, 15: {300, 400}, 16: {350, 450}, 20: {350, 450}, 21: {400, 550}, 40: {400, 550}} {
		h, v, ok := l.Clip(kind(width, 5))
		if !ok || h != want[0] || v != want[1] {
			t.Errorf("clips for %v: %v and %v", width, h, v)
		}
	}
	for width, want := range map[MM]MM{9: 27, 10: 30, 11: 44, 25: 100, 26: 156} {
		if r, ok := l.Bend(kind(width, 5)); !ok || r != want {
			t.Errorf("bend of %v: %v, want %v", width, r, want)
		}
	}
	for _, width := range []MM{0, 41, 100} {
		if _, _, ok := l.Clip(kind(width, 5)); ok {
			t.Errorf("the table of clips answered for %v", width)
		}
	}
	if _, ok := l.Bend(kind(61, 5)); ok {
		t.Error("the table of bends answered for 61 mm")
	}
}

// Common practice, no source: a cable down a stud wall is reached by a 16 mm
// hole in the head plate, and 1.0 mm² three-core and earth passes it. Its size,
// at most 11 × 5 mm (BS 6004 band 4.7 × 11.0, from memory, to be confirmed), has
// a diagonal of 12.1 mm.
func TestThreeCoreAndEarthPassesSixteenMillimetres(t *testing.T) {
	l := usual(t)
	for id, want := range map[string]MM{"te-1.0": 16, "3ce-1.0": 16, "te-1.5": 16, "te-2.5": 20, "3ce-1.5": 20} {
		d, ok := l.Hole(cable(t, id), 1)
		if !ok || d != want {
			t.Errorf("hole for %s: %v, want %v", id, d, want)
		}
	}
	// The limit itself: diagonal and 3 mm of play make just 16 mm, or a little more.
	if d, _ := l.Hole(kind(12, 5), 1); d != 16 { // 13 + 3
		t.Errorf("12 × 5 mm: %v", d)
	}
	if d, _ := l.Hole(kind(12, 6), 1); d != 20 { // 13.4 + 3
		t.Errorf("12 × 6 mm: %v", d)
	}
	// Two side by side: 11 × 10 mm, 14.9 + 3.
	if d, _ := l.Hole(cable(t, "3ce-1.0"), 2); d != 20 {
		t.Errorf("two cables: %v, want 20 mm", d)
	}
	if _, ok := l.Hole(kind(40, 20), 1); ok {
		t.Error("no drill carried passes 40 × 20 mm")
	}
	if _, ok := l.Hole(kind(0, 0), 1); ok {
		t.Error("a cable without a size got a hole")
	}
}

// Every figure has an authority and is listed.
func TestFiguresHaveSources(t *testing.T) {
	list, err := Figures()
	if err != nil {
		t.Fatal(err)
	}
	published := 0
	for _, f := range list {
		if !f.Source.Authority.Valid() || f.Source.Cite == "" || f.Value == "" {
			t.Errorf("%+v", f)
		}
		if f.Source.Authority == source.Published {
			published++
		}
	}
	if published < 20 {
		t.Errorf("only %d published figures", published)
	}
	o, err := Customary()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []Work{Enter, Drop, Nogging, StudHole, Across, Lining, ChaseUp, ChaseAlong, Head, Sole, Rise, Base, Skirting, LiftBoards, LiftSheets, AlongBoard, Lane, Joist, Notch, Bearing, PointWork, LoftIn, LoftRun, UnderIn, UnderRun, Through, ThroughUp, Trunk, Seal, Shift, Beside} {
		if op := o.Of(w); op == nil || op.Name == "" {
			t.Errorf("operation %s is not described", w)
		}
	}
	if len(fmt.Sprint(o.Figures())) == 0 {
		t.Error("no operations listed")
	}
}
