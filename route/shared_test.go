package route

import (
	"slices"
	"strings"
	"testing"

	"strapper/finding"
)

func codes(list []finding.Finding) []string {
	var codes []string
	for _, f := range list {
		codes = append(codes, f.Code)
	}
	return codes
}

// Two three-core cables through one head plate: 11 × 10 mm has a diagonal of
// 14.9 mm, with 3 mm of play 17.9, so the hole becomes 20 mm.
func TestSharedHolesGrow(t *testing.T) {
	k := cable(t, "3ce-1.0")
	runs := []Run{{ID: "x", From: "a", To: "rose", Kind: k}, {ID: "y", From: "a", To: "rose", Kind: k}}
	p := finder(t, build(t, singleStorey())).Plan(runs, Options{})
	for _, c := range p.Runs {
		h := c.Routes[0].Holes[0]
		if h.Diameter != 20 || h.Cables != 2 {
			t.Errorf("run %s: %+v", c.Run, h)
		}
		if n := c.Routes[0].Notes; len(n) != 1 || !strings.Contains(n[0], "shared by cables x and y: drill it 20 mm") {
			t.Errorf("run %s: notes %q", c.Run, n)
		}
	}
	for range 30 {
		runs = append(runs, runs[0])
	}
	for i := range runs {
		runs[i].ID = strings.Repeat("x", i+1)
	}
	p = &Plan{}
	f := finder(t, build(t, singleStorey()))
	for _, r := range runs {
		p.Runs = append(p.Runs, f.choose(r, Options{}))
	}
	f.share(p, runs)
	if !slices.Equal(codes(p.Findings), []string{"hole-too-small"}) {
		t.Errorf("32 cables through one hole: %v", codes(p.Findings))
	}
}

// Holes of one joist stand three diameters apart (LABC) with 100 mm between
// (NHBC 6.4.18), a hole and a notch 100 mm (the same), each just inside and just outside.
func TestHolesOfOneJoistKeepTheirDistance(t *testing.T) {
	f := finder(t, build(t, singleStorey()))
	for _, c := range []struct {
		apart MM
		notch bool
		want  bool
	}{{116, false, true}, {115, false, false}, {100, true, true}, {99, true, false}} {
		a := &Hole{Diameter: 16, along: 1000, joist: "j"}
		b := &Hole{Diameter: 12, along: 1000 + c.apart, joist: "j", notch: c.notch}
		if f.apart(a, b) != c.want || f.apart(b, a) != c.want {
			t.Errorf("%v apart, notch %v: %v", c.apart, c.notch, !c.want)
		}
	}
	near := func(run string, along MM) Choice {
		return Choice{Run: run, Routes: []Route{{Holes: []Hole{{Through: "joist 3", Diameter: 16, joist: "first 3", along: along, Spot: Spot{X: along}}}}}}
	}
	for along, want := range map[MM]int{1115: 1, 1116: 0} {
		p := &Plan{Runs: []Choice{near("x", 1000), near("y", along)}}
		f.share(p, []Run{{ID: "x", Kind: cable(t, "te-1.0")}, {ID: "y", Kind: cable(t, "te-1.0")}})
		if len(p.Findings) != want {
			t.Errorf("holes %v apart: %v", along-1000, codes(p.Findings))
		}
	}
}
