package bs7671_test

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"testing"

	"strapper/rules"
	"strapper/rules/booktest"
	"strapper/rules/bs7671"
	"strapper/unit"
)

// answers are the cells that no check reads: packages that choose sizes do.
func answers() []booktest.Case {
	var list []booktest.Case
	for area, row := range map[float64][]float64{ // methods 100, 101, 102, 103, C, A
		1.0: {13, 10.5, 13, 8, 16, 11.5}, 1.5: {16, 13, 16, 10, 20, 14.5}, 2.5: {21, 17, 21, 13.5, 27, 20},
		4: {27, 22, 27, 17.5, 37, 26}, 6: {34, 27, 35, 23.5, 47, 32}, 10: {45, 36, 47, 32, 64, 44},
	} {
		source := palmer
		if area > 1.5 {
			source = "Table 4D5, " + recalled
		}
		for i, method := range []string{"100", "101", "102", "103", "C", "A"} {
			list = append(list, booktest.Asked(source, row[i], 0, rules.Rating, rules.Area(unit.SquareMillimetre(area)), rules.Method(method)))
		}
	}
	for area, amps := range map[float64]float64{1: 13, 1.5: 16.5, 2.5: 23} {
		list = append(list, booktest.Asked(palmer+", note on method B; 2.5 mm² "+recalled, amps, 0, rules.Rating, rules.Area(unit.SquareMillimetre(area)), rules.Method("B")))
	}
	const iec60228 = "IEC 60228:2004 Table 1, cable makers' tables (kabelmetal-indonesia.com, uecables.com)"
	for area, milli := range map[float64]float64{0.5: 36, 0.75: 24.5, 1: 18.1, 1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83} {
		list = append(list, booktest.Asked(iec60228, milli/1000, 1e-9, rules.Resistance, rules.Area(unit.SquareMillimetre(area))))
		if area >= 1 { // both conductors at 70 °C; the table is rounded to two or three figures
			list = append(list, booktest.Asked("2 × 1.20 × the resistance of IEC 60228:2004 Table 1", 2.4*milli/1000, 2.4*milli/1000*0.015, rules.Drop, rules.Area(unit.SquareMillimetre(area))))
		}
	}
	return append(append(list, factors()...), values()...)
}

func factors() []booktest.Case {
	var list []booktest.Case
	for t := 35.0; t <= 60; t += 5 { // heat lost goes with the square of the current (IEC 60287)
		list = append(list, booktest.Asked("√((70 - t)/(70 - 30)): losses go with the square of the current, IEC 60287", math.Sqrt((70-t)/40), 0.006, rules.AmbientFactor, rules.Ambient(unit.Celsius(t))))
	}
	list = append(list, booktest.Asked("Table 4B1, "+recalled, 1.03, 0, rules.AmbientFactor, rules.Ambient(25)), booktest.Asked("ratings are for 30 °C", 1, 0, rules.AmbientFactor, rules.Ambient(30)))
	for arrangement, row := range map[string][]float64{
		"bunched":               {1, .80, .70, .65, .60, .57, .54, .52, .50},
		"single layer touching": {1, .85, .79, .75, .73, .72, .72, .71, .70}, "single layer spaced": {1, .94, .90, .90, .90, .90, .90, .90, .90},
	} {
		for i, f := range row {
			list = append(list, booktest.Asked("Table 4C1, "+recalled+"; 0.70 for three: City & Guilds 2375 recipe", f, 0, rules.GroupFactor, rules.Arrangement(arrangement), rules.Circuits(i+1)))
		}
	}
	for mm, f := range map[unit.Millimetre]float64{50: .88, 100: .78, 200: .63, 400: .51, 500: .50, 3000: .50} {
		list = append(list, booktest.Asked("Table 52.2: 0.78 and 0.63, "+palmer+"; 0.5, 523.9 (analyticslkp.blogg.se); others "+recalled, f, 0, rules.SurroundFactor, rules.Surrounded(mm)))
	}
	for device, f := range map[string]float64{"rewirable fuse": 1.45 / 2, "cartridge fuse": 1, "mcb": 1} {
		list = append(list, booktest.Asked("1.45/2 = 0.725, as a BS 3036 fuse carries twice its rating: The IEE Wiring Regulations explained (Pergamon), ch. 36", f, 0, rules.FuseFactor, rules.Device(device)))
	}
	for i, k := range []struct {
		insulation, runs string
		at               float64
	}{{rules.Thermoplastic70, rules.InCable, 70}, {rules.Thermoplastic70, rules.Separate, 30}, {rules.Thermosetting90, rules.InCable, 90}} {
		list = append(list, booktest.Asked(fmt.Sprintf("1 + 0.004 (t - 20), row %d of On-Site Guide Table I3", i), 1+0.004*(k.at-20), 1e-9, rules.WarmFactor, rules.Insulation(k.insulation), rules.Cpc(k.runs)))
	}
	return list
}

func values() []booktest.Case {
	list := []booktest.Case{
		booktest.Asked("B. Whitfield, Electricians' Guide, Table 6.2", 0.66, 0, rules.Diversity, rules.Premises("dwelling")),
		booktest.Asked("On-Site Guide Table A1; given as practice, diynot.com thread 59072", 100, 0, rules.LampholderDemand),
		booktest.Asked("On-Site Guide Table A1, "+recalled, 1.8, 0, rules.GearFactor, rules.Lamp("discharge")),
		booktest.Asked("Table 64: 1000 V test, "+recalled, 1e6, 0, rules.InsulationLeast, rules.Circuit("above 500 V")),
		booktest.Asked("21 Ω TT, "+recalled, 21, 0, rules.TypicalZe, rules.System("TT")),
		booktest.Asked("50 V, 411.5.3; "+recalled, 50, 0, rules.TouchVoltage),
		booktest.Asked("50 mm: wiki.diyfaq.org.uk, safe zones", 50, 0, rules.ConcealedDepth),
		booktest.Asked("each entry 1/(1 + 0.004 (t - 20)): factor table after IEC 60228 (uecables.com)", (1/0.980-1)/5, 1e-4, rules.TemperatureCoefficient),
	}
	for circuit, volts := range map[string]float64{"SELV or PELV": 250, "up to 500 V": 500, "above 500 V": 1000} {
		list = append(list, booktest.Asked("test voltages: Practical Guide to Electrical Wiring (1library.net)", volts, 0, rules.InsulationVolts, rules.Circuit(circuit)))
	}
	for curve, n := range map[string][2]float64{"B": {3, 5}, "C": {5, 10}, "D": {10, 20}} {
		list = append(list,
			booktest.Asked("230/n: 46/In, 23/In, 11.5/In in BS 7671:2008 Table 41.3 (D. Locke app. 3)", n[1], 0, rules.TripMost, rules.Curve(curve)),
			booktest.Asked("IEC 60898-1 Table 7, "+recalled, n[0], 0, rules.TripLeast, rules.Curve(curve)))
	}
	for test, share := range map[string]float64{"insulation": 30, "loop": 30, "continuity": 30, "fault current": 30, "rcd time": 10} {
		list = append(list, booktest.Asked("BS EN 61557 parts 2 to 4, makers' error tables (manualmachine.com/megger); part 6 "+recalled, share, 0, rules.Uncertainty, rules.Test(test)))
	}
	for _, x := range []struct {
		curve        string
		rated, power float64
		lamps        float64
	}{{"B", 10, 10, 15}, {"B", 10, 75, 4}, {"B", 16, 10, 22}, {"B", 16, 75, 8}, {"C", 10, 10, 30}, {"C", 10, 150, 5}} {
		list = append(list, booktest.Asked("BEAMA guide (March 2021) as read off by a member of the IET forum, thread 23776", x.lamps, 0, rules.InrushLamps, rules.Curve(x.curve), rules.Rated(unit.Ampere(x.rated)), rules.Power(unit.Watt(x.power))))
	}
	for strands, x := range map[string][2]float64{"1/.044": {1, .044}, "3/.029": {3, .029}, "3/.036": {3, .036}, "7/.029": {7, .029}, "7/.036": {7, .036}} {
		list = append(list, booktest.Asked("n π/4 d², 25.4 mm to the inch", x[0]*math.Pi/4*math.Pow(x[1]*25.4, 2), 0.0006, rules.Imperial, rules.Strands(strands)))
	}
	return list
}

// not is what lighting in a dwelling may meet and the book does not judge.
var not = []string{
	"314.4 separate circuits, borrowed neutrals: proved in the wiring itself, not judged from a case",
	"411.3.1.2 main and 415.2 supplementary bonding: only asked after, not sized",
	"421.1.7 arc fault detection and 443 surge protection: not for lighting circuits as read",
	"422 escape routes and 521.10.202 support in fire",
	"433.1.1 second condition I2 <= 1.45 Iz: met by the devices in the tables, or through the factor for BS 3036",
	"434.5.2 let-through energy below 0.1 s: asks for the maker's figure",
	"514 labels and notices; 514.14.1 notice of mixed colours is not confirmed for this edition",
	"522.6.203 metal-framed partitions",
	"526 joints and their enclosures",
	"559 and 714 luminaires, but for lampholders and water",
	"701.415.2 and the 12 V rules of zone 0 beyond asking",
	"702, 703, 705 and other special locations, but for notice of pools and saunas",
	"Appendix 4, 6.1: the correction for the working temperature of a lightly loaded cable",
	"AD M heights of switches, which do not bind alterations",
	"Ireland, Isle of Man, Channel Islands",
}

func TestBook(t *testing.T) {
	b, err := bs7671.OpenCurrent()
	if err != nil {
		t.Fatal(err)
	}
	booktest.Run(t, b, booktest.Suite{Cases: cases(), Not: not, Coverage: "COVERAGE.md", Update: *update})
	if n := boundaries(cases()); n < 150 {
		t.Errorf("%d boundary cases, want at least 150", n)
	}
}

// boundaries counts the cases that judge, not those that only look up.
func boundaries(list []booktest.Case) (n int) {
	for _, c := range list {
		if c.Answer == nil {
			n++
		}
	}
	return n
}

// The former edition gives the same verdicts but for its dates: it was
// withdrawn on 15 October 2026 (Electrical Safety First, Amendment 4 pages).
func TestFormerEdition(t *testing.T) {
	b, err := bs7671.OpenFormer()
	if err != nil {
		t.Fatal(err)
	}
	for day, want := range map[string]rules.Outcome{"2026-10-14": rules.Met, "2026-10-15": rules.NotMet} {
		for _, v := range b.Work(nil, &rules.WorkCase{Designed: day}) {
			if v.Check == "edition" && v.Outcome != want {
				t.Errorf("%s: %s, want %s", day, v.Outcome, want)
			}
		}
	}
	booktest.Hold(t, b, slices.DeleteFunc(cases(), func(c booktest.Case) bool { return c.Check == "edition" }))
	if c := b.Table("Table 4D5").Cells[0]; c.State != rules.Printed {
		t.Errorf("4D5 in the edition it was transcribed for: %s", c.State)
	}
	current, err := bs7671.OpenCurrent()
	if err != nil {
		t.Fatal(err)
	}
	if c := current.Table("Table 4D5").Cells[0]; c.State != rules.Confirm || c.Table.Edition != bs7671.Current {
		t.Errorf("4D5 carried into the current edition unread: %v", c)
	}
}

var update = flag.Bool("update", false, "write COVERAGE.md anew")
