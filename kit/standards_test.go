package kit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"strapper/unit"
)

// IEC 60228:2004 Table 1, class 1, plain annealed copper: greatest resistance
// at 20 °C in Ω/km, as cable makers print it.
func TestConductorResistances(t *testing.T) {
	want := []struct{ area, perKm float64 }{
		{0.5, 36.0},
		{0.75, 24.5},
		{1, 18.1},
		{1.5, 12.1},
		{2.5, 7.41},
		{4, 4.61},
		{6, 3.08},
		{10, 1.83},
	}
	p := opened(t).Physics
	if len(p.Conductors) != len(want) {
		t.Errorf("%d rows, want %d", len(p.Conductors), len(want))
	}
	for _, row := range want {
		got, ok := p.Resistance(unit.SquareMillimetre(row.area))
		if !ok || !near(float64(got)*1000, row.perKm, 1e-9) {
			t.Errorf("%v mm²: %v Ω/km (tabulated: %v), want %v", row.area, float64(got)*1000, ok, row.perKm)
		}
	}
	for _, off := range []unit.SquareMillimetre{0, 1.25, 16, -1} {
		if r, ok := p.Resistance(off); ok || r != 0 {
			t.Errorf("%v mm² is not in the table but gave %v", float64(off), r)
		}
	}
}

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

// On-Site Guide Table I1: R1+R2 at 20 °C in mΩ/m, for the cables of the
// catalogue that have a protective conductor.
func TestR1R2OfCables(t *testing.T) {
	c := opened(t)
	for id, want := range map[string]float64{
		"te-1.0": 36.20, "te-1.0-old": 36.20, "te-1.0-brown": 36.20, "te-1.0-old-red": 36.20,
		"te-1.5": 30.20, "te-1.5-old": 30.20, "te-1.5-brown": 30.20, "te-1.5-old-red": 30.20,
		"te-2.5": 19.51, "te-2.5-old": 19.51,
		"3ce-1.0": 36.20, "3ce-1.0-old": 36.20, "3ce-1.5": 30.20, "3ce-1.5-old": 30.20,
	} {
		k := c.Cables[id]
		for _, core := range k.Cores {
			if core.Earth {
				continue
			}
			got := perMetre(t, c, core.Area) + perMetre(t, c, k.Core("cpc").Area)
			if !near(got, want, 1e-9) {
				t.Errorf("%s, core %s: R1+R2 is %.4f mΩ/m, want %.2f", id, core.Name, got, want)
			}
		}
	}
}

// perMetre is a conductor's resistance in mΩ/m.
func perMetre(t *testing.T, c *Catalogue, area unit.SquareMillimetre) float64 {
	t.Helper()
	r, ok := c.Physics.Resistance(area)
	if !ok {
		t.Fatalf("no resistance for %v mm²", float64(area))
	}
	return float64(r) * 1000
}

// On-Site Guide Table I1, pairs of conductors that no cable here has.
func TestR1R2OfPairs(t *testing.T) {
	c := opened(t)
	for _, row := range []struct{ line, cpc, want float64 }{
		{1.5, 1.5, 24.20},
		{2.5, 1, 25.51},
		{4, 1.5, 16.71},
		{4, 2.5, 12.02},
		{6, 2.5, 10.49},
		{10, 4, 6.44},
	} {
		got := perMetre(t, c, unit.SquareMillimetre(row.line)) + perMetre(t, c, unit.SquareMillimetre(row.cpc))
		if !near(got, row.want, 1e-9) {
			t.Errorf("%v/%v: %.4f mΩ/m, want %.2f", row.line, row.cpc, got, row.want)
		}
	}
}

// Published worked examples of R1+R2. The tolerance is half the last digit
// printed.
func TestR1R2WorkedExamples(t *testing.T) {
	c := opened(t)
	for _, row := range []struct {
		from              string
		line, cpc, metres float64
		want, tolerance   float64
	}{
		// electriciansforums.net thread 2913, a radial circuit in 4/1.5
		{"radial point 1", 4, 1.5, 12, 0.20, 0.005},
		{"radial point 2", 4, 1.5, 18, 0.30, 0.005},
		{"radial point 3", 4, 1.5, 20.5, 0.34, 0.005},
		// the same in 4/2.5
		{"radial point 1", 4, 2.5, 12, 0.144, 0.0005},
		{"radial point 2", 4, 2.5, 18, 0.216, 0.0005},
		{"radial point 3", 4, 2.5, 20.5, 0.246, 0.0005},
		{"radial point 4", 4, 2.5, 23, 0.276, 0.0005},
		// On-Site Guide example, 22 m of 2.5/1.5
		{"22 m", 2.5, 1.5, 22, 0.429, 0.0005},
		// Locke, Guide to the Wiring Regulations (Wiley 2008) Table 4.3, 50 m
		{"Locke", 1.5, 1, 50, 1.51, 0.005},
		{"Locke", 2.5, 1.5, 50, 0.98, 0.005},
		{"Locke", 4, 1.5, 50, 0.84, 0.005},
		{"Locke", 6, 2.5, 50, 0.52, 0.005},
		{"Locke", 10, 4, 50, 0.32, 0.005},
	} {
		length := unit.FromMetres(row.metres)
		r1, _ := c.Physics.Resistance(unit.SquareMillimetre(row.line))
		r2, _ := c.Physics.Resistance(unit.SquareMillimetre(row.cpc))
		got := float64(r1.Over(length) + r2.Over(length))
		if !near(got, row.want, row.tolerance) {
			t.Errorf("%s, %v m of %v/%v: %.4f Ω, want %v", row.from, row.metres, row.line, row.cpc, got, row.want)
		}
	}
}

// Electriciansforums.net thread 2913: loop impedance 0.6 Ω at the board and
// 20.5 m of 4/1.5 cold gives 0.94 Ω; 23 m of 4/2.5 hot gives 0.9312 Ω.
func TestLoopImpedanceWorkedExamples(t *testing.T) {
	c := opened(t)
	cold := 0.6 + 20.5e-3*(perMetre(t, c, 4)+perMetre(t, c, 1.5))
	if !near(cold, 0.94, 0.005) {
		t.Errorf("cold: %.4f Ω, want 0.94", cold)
	}
	r20 := unit.Ohm(23e-3 * (perMetre(t, c, 4) + perMetre(t, c, 2.5)))
	if hot := 0.6 + float64(c.Physics.At(r20, 70)); !near(hot, 0.9312, 0.001) {
		t.Errorf("hot: %.4f Ω, want 0.9312", hot)
	}
}

func TestTemperatureFactors(t *testing.T) {
	p := opened(t).Physics
	for _, row := range []struct {
		from      string
		at        unit.Celsius
		want      float64
		tolerance float64
		inverse   bool
	}{
		{"OSG Table I3, 70 °C thermoplastic", 70, 1.20, 1e-12, false},
		{"OSG Table I3, 90 °C insulation", 90, 1.28, 1e-12, false},
		{"OSG Table I2", 5, 0.94, 1e-12, false},
		{"OSG Table I2", 10, 0.96, 1e-12, false},
		{"OSG Table I2", 15, 0.98, 1e-12, false},
		{"OSG Table I2", 20, 1.00, 1e-12, false},
		{"OSG Table I2", 25, 1.02, 1e-12, false},
		{"IEC 60228 annex", 5, 1.064, 5e-4, true},
		{"IEC 60228 annex", 10, 1.042, 5e-4, true},
		{"IEC 60228 annex", 15, 1.020, 5e-4, true},
		{"IEC 60228 annex", 25, 0.980, 5e-4, true},
		{"IEC 60228 annex", 30, 0.962, 5e-4, true},
		{"IEC 60228 annex", 70, 0.833, 5e-4, true},
		{"IEC 60228 annex", 90, 0.781, 5e-4, true},
	} {
		got := float64(p.At(1, row.at))
		if row.inverse {
			got = 1 / got
		}
		if !near(got, row.want, row.tolerance) {
			t.Errorf("%s at %v: %.5f, want %v", row.from, row.at, got, row.want)
		}
	}
	// OSG Appendix B: measured at 10 °C, in service at 70 °C, hence the 0.8 rule.
	if got := float64(p.At(1, 10) / p.At(1, 70)); !near(got, 0.8, 1e-12) {
		t.Errorf("10 °C over 70 °C is %v, want 0.8", got)
	}
}

// Circuit-breakers for lighting: types B and C in 6, 10 and 16 A, with and
// without residual current protection (preferred ratings, IEC 60898-1, from
// memory, to be confirmed).
func TestBreakers(t *testing.T) {
	c := opened(t)
	for _, curve := range []string{"B", "C"} {
		for _, rating := range []unit.Ampere{6, 10, 16} {
			for _, kind := range []DeviceType{MCB, RCBO} {
				id := fmt.Sprintf("%s-%s%g", kind, strings.ToLower(curve), float64(rating))
				d := c.Devices[id]
				if d == nil || d.Type != kind || d.Curve != curve || d.Rating != rating {
					t.Errorf("%s: %+v", id, d)
				}
			}
		}
	}
}

// BS 7671 Table 4D5, two loaded cores: the lowest column, reference method
// 103, and that no catalogue rating exceeds any column of that row.
func TestFlatCableRatings(t *testing.T) {
	columns := map[unit.SquareMillimetre][]unit.Ampere{ // 100 101 102 103 C A
		1.0: {13, 10.5, 13, 8, 16, 11.5},
		1.5: {16, 13, 16, 10, 20, 14.5},
		2.5: {21, 17, 21, 13.5, 27, 20},
	}
	c := opened(t)
	for _, id := range Names(c.Cables) {
		k := c.Cables[id]
		if len(k.Cores) == 1 || k.Cores[0].Strands != "" { // no table of today rates imperial cable
			continue
		}
		row := columns[k.Cores[0].Area]
		if k.Rating != row[3] {
			t.Errorf("%s: rating %v, want %v", id, k.Rating, row[3])
		}
		for _, other := range row {
			if k.Rating > other {
				t.Errorf("%s: rating %v is over %v of the same row", id, k.Rating, other)
			}
		}
	}
}
