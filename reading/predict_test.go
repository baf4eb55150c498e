package reading

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

func near(tb testing.TB, what string, got, want, tolerance float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		tb.Errorf("%s: got %.8g, want %.8g ± %g", what, got, want, tolerance)
	}
}

// find gives the rows of a test at a point; lead is the first lead, or "".
func find(r *Readings, t Test, point, lead string) (rows []Reading) {
	for _, x := range r.Rows {
		if x.Test == t && x.Point == point && (lead == "" || x.Between[0] == lead) {
			rows = append(rows, x)
		}
	}
	return rows
}

// 35 m of 1.5/1.0 twin and earth at 30.2 mΩ/m (On-Site Guide Table I1), Ze
// 0.35 Ω (docs/checks/01-readings-at-a-point.md), type B 6 A: R1+R2 1.057 Ω, at 70 °C ×1.20 = 1.268 Ω, Zs 1.618 Ω, below
// 7.28 Ω (BS 7671:2018 Table 41.3); a measured one below 0.8 of it, 5.82 Ω.
func TestLoopOfOneRun(t *testing.T) {
	h := single(t, 35)
	r := h.predict(h.exact(), Options{})
	loop := find(r, R1R2, "point.lamp", "L")
	if len(loop) != 2 || !loop[0].Open || loop[1].Open || loop[1].Position != "point on" {
		t.Fatalf("R1+R2 rows: %+v, want open with the switch off and a value with it on", loop)
	}
	near(t, "R1+R2", float64(loop[1].Ohm.Nominal), 1.057, 1e-5)
	hot := find(r, ZsWorking, "point.lamp", "L")
	if len(hot) != 1 {
		t.Fatalf("%d rows of working Zs, want one: there is none with the lamp off", len(hot))
	}
	near(t, "R1+R2 hot", float64(hot[0].Ohm.Nominal)-0.35, 1.2684, 1e-5)
	near(t, "Zs hot", float64(hot[0].Ohm.Nominal), 1.6184, 1e-5)
	near(t, "limit", float64(hot[0].Limit.Ohm), 7.28, 1e-9)
	cold := find(r, Zs, "point.lamp", "L")
	near(t, "Zs", float64(cold[0].Ohm.Nominal), 0.35+1.057, 1e-5)
	near(t, "measured limit", float64(cold[0].Limit.Ohm), 5.824, 1e-9)
	if !strings.Contains(cold[0].Caution, "Live") || loop[1].Caution != "" {
		t.Errorf("cautions: Zs %q, R1+R2 %q; only live rows carry one", cold[0].Caution, loop[1].Caution)
	}
	r2 := find(r, R2, "point.lamp", "")
	near(t, "R2", float64(r2[0].Ohm.Nominal), 35*0.0181, 1e-5)
	rn := find(r, Rn, "point.lamp", "")
	near(t, "Rn", float64(rn[0].Ohm.Nominal), 35*0.0121, 1e-5)
	r1 := find(r, R1, "point.lamp", "")
	near(t, "R1", float64(r1[0].Ohm.Nominal), 35*0.0121, 1e-5)
}

// The bounds of 10 m ± 2 m by hand: conductors from 5 % under the tabulated
// maximum at the shortest to the maximum at the longest, then the instrument's
// 2 % + 2 digits.
func TestBoundsByHand(t *testing.T) {
	h := single(t, 10)
	h.in.Cables[0].Tolerance = 2000
	r := h.predict(h.exact(), Options{DeadOnly: true})
	b := find(r, R2, "point.lamp", "")[0].Ohm
	near(t, "low", float64(b.Low), 8*0.0181*0.95*0.98-0.02, 1e-6)
	near(t, "nominal", float64(b.Nominal), 10*0.0181, 1e-6)
	near(t, "high", float64(b.High), 12*0.0181*1.02+0.02, 1e-6)
}

// Two-way control: a value in both positions in which the lamp is on, open in
// the two others; at the first switch the feed reads in any position and each
// strapper in one position of that switch, whatever the other one does.
func TestPositionsOfTwoWay(t *testing.T) {
	r := stair(t, 0).predict(stair(t, 0).cat, Options{})
	loop := find(r, R1R2, "point.lamp", "L")
	var on []string
	for _, x := range loop {
		if !x.Open {
			on = append(on, x.Position)
		}
	}
	if len(loop) != 4 || !reflect.DeepEqual(on, []string{"hall up, landing up", "hall down, landing down"}) {
		t.Errorf("R1+R2 at the lamp reads in %q of %d rows", on, len(loop))
	}
	if feed := find(r, R1R2, "hall.s1", "COM"); len(feed) != 1 || feed[0].Position != "any position" || feed[0].Open {
		t.Errorf("R1+R2 at the feed: %+v, want a value in any position", feed)
	}
	strap := find(r, R1R2, "hall.s1", "L1")
	if len(strap) != 2 || strap[0].Position != "hall up" || strap[0].Open || !strap[1].Open || strap[0].Switches["hall.s1"] != "up" {
		t.Errorf("R1+R2 at a strapper: %+v, want a value with hall up and open with hall down", strap)
	}
	for _, id := range []string{"hall.s1", "landing.s2"} {
		p := find(r, Polarity, id, "")
		if len(p) != 1 || !p[0].Open {
			t.Errorf("polarity at %s: %+v, want open to neutral", id, p)
		}
	}
}

// Each strapper is joined to the line in one position of the first switch, and
// beyond the second switch in another, so two positions reach every conductor
// and one does not (Guidance Note 3: repeat with two-way switches moved).
func TestInsulationPositions(t *testing.T) {
	for n := range 3 {
		r := stair(t, n).predict(stair(t, n).cat, Options{DeadOnly: true})
		if len(r.Insulation) != 2 {
			t.Errorf("%d intermediates: insulation in %q, want two positions", n, r.Insulation)
		}
		rows := find(r, Insulation, "lights", "")
		if len(rows) != 5 || rows[0].Limit.Ohm != 1e6 || !strings.Contains(rows[0].Limit.Text, "1.00 MΩ at 500 V") {
			t.Errorf("%d rows of insulation, first %+v: want L-N, L-E twice and N-E once, 1 MΩ at 500 V", len(rows), rows[0])
		}
	}
	if r := single(t, 10).predict(single(t, 10).cat, Options{}); !reflect.DeepEqual(r.Insulation, []string{"point on"}) {
		t.Errorf("one-way: insulation in %q, want the switch on", r.Insulation)
	}
}

func findings(r *Readings) (codes []string) {
	for _, f := range r.Findings {
		codes = append(codes, f.Code+" "+string(f.Subject))
	}
	return codes
}

func TestElectronicSwitch(t *testing.T) {
	h := newHouse(t)
	h.box("point", "s=dimmer", "lamp=batten-holder")
	h.cable("run", "te-1.5", "board", "point", 10)
	h.join("board", "lights.L run.brown", "lights.N run.blue", "lights.E run.cpc")
	h.join("point", "s.COM run.brown", "s.L1 lamp.L", "lamp.N run.blue", "lamp.E run.cpc")
	r := h.predict(h.cat, Options{})
	for _, x := range find(r, R1R2, "point.lamp", "L") {
		if !x.Open {
			t.Errorf("%s reads %v through a dimmer", x.ID, x.Ohm)
		}
	}
	text := strings.Join(findings(r), "\n")
	for _, want := range []string{"disconnect-for-insulation boxes.point.s", "insulation-not-reached job"} {
		if !strings.Contains(text, want) {
			t.Errorf("no finding %s in\n%s", want, text)
		}
	}
	if z := find(r, Zs, "point.lamp", "L"); len(z) != 1 || z[0].Ohm.Nominal < 2 {
		t.Errorf("Zs behind a dimmer: %+v, want one row above the dimmer's 2 Ω", z)
	}
}

// A lamp wired line to the N terminal, and a switch in the neutral, are told.
func TestPolarityReversed(t *testing.T) {
	h := newHouse(t)
	h.box("point", "s=one-way", "lamp=batten-holder")
	h.cable("run", "te-1.5", "board", "point", 10)
	h.join("board", "lights.L run.brown", "lights.N run.blue", "lights.E run.cpc")
	h.join("point", "s.COM run.blue", "s.L1 lamp.N", "lamp.L run.brown", "lamp.E run.cpc")
	r := h.predict(h.cat, Options{})
	if c := strings.Join(findings(r), " "); !strings.Contains(c, "never-fed boxes.point.s") {
		t.Errorf("a switch in the neutral is passed over: %v", c)
	}
	h = newHouse(t)
	h.box("point", "s=one-way", "lamp=batten-holder")
	h.cable("run", "te-1.5", "board", "point", 10)
	h.join("board", "lights.L run.brown", "lights.N run.blue", "lights.E run.cpc")
	h.join("point", "s.COM run.brown", "s.L1 lamp.N", "lamp.L run.blue", "lamp.E run.cpc")
	rows := find(h.predict(h.cat, Options{}), Polarity, "point.lamp", "")
	if len(rows) != 2 || rows[1].Open || !strings.Contains(rows[1].Note, "wrong way round") {
		t.Errorf("reversed lamp: %+v", rows)
	}
}

// The idle strapper shows a ghost voltage on the 10 MΩ meter and little on a
// two-pole tester; driven conductors show 230 V -6 % +10 % on both.
func TestGhosts(t *testing.T) {
	h := stair(t, 0)
	r := h.predict(h.cat, Options{})
	for _, x := range find(r, Ghost, "hall.s1", "") {
		if x.Volt.Nominal < 2 || !strings.Contains(x.Note, "coupled") {
			t.Errorf("%s: %v %q, want a ghost marked as coupled", x.ID, x.Volt, x.Note)
		}
	}
	if len(find(r, Ghost, "hall.s1", "L2")) == 0 || len(find(r, Ghost, "hall.s1", "COM")) != 0 {
		t.Error("want ghosts on a strapper and none on the feed")
	}
	feed := find(r, Voltage, "hall.s1", "COM")
	if len(feed) != 1 || feed[0].Between[1] != "N in the box or cpc in the box" {
		t.Fatalf("voltage at the feed: %+v, want one row", feed)
	}
	near(t, "low", float64(feed[0].Volt.Low), 230*0.94*0.97-3, 0.1)
	near(t, "high", float64(feed[0].Volt.High), 230*1.10*1.03+3, 0.1)
	if len(find(r, Glow, "point.lamp", "")) != 1 {
		t.Error("want one row of current when off")
	}
	for _, x := range h.predict(h.cat, Options{DeadOnly: true}).Rows {
		if x.Test.Live() || x.Volt != nil || x.Ampere != nil {
			t.Errorf("dead tests only, and there is %s", x.ID)
		}
	}
}

// Without a supply that can be used the dead tests remain.
func TestSupplyNotKnown(t *testing.T) {
	h := stair(t, 0)
	h.in.Supply.Ze = 0
	r := h.predict(h.cat, Options{})
	if c := strings.Join(findings(r), " "); !strings.Contains(c, "live-not-predicted supply") || len(find(r, R1R2, "point.lamp", "")) != 4 {
		t.Errorf("findings %s", c)
	}
}

func TestSameJobSameBytesAndIDsAreUnique(t *testing.T) {
	for n := range 3 {
		a, errA := json.Marshal(stair(t, n).predict(stair(t, n).cat, Options{}))
		r := stair(t, n).predict(stair(t, n).cat, Options{})
		b, errB := json.Marshal(r)
		if errA != nil || errB != nil || string(a) != string(b) {
			t.Errorf("%d intermediates: two runs differ (%v, %v)", n, errA, errB)
		}
		seen := map[string]bool{}
		for _, x := range r.Rows {
			if seen[x.ID] {
				t.Errorf("two rows are called %s", x.ID)
			}
			seen[x.ID] = true
		}
	}
}

// A walk moves one switch at a time, each both ways, and the lamp is seen on
// and off.
func TestWalkThroughManyPositions(t *testing.T) {
	h := stair(t, 4)
	g := h.graph()
	tr := newTour(g, 0)
	if tr.every {
		t.Fatal("64 states are more than are examined one by one")
	}
	both := map[string]bool{}
	for i, s := range tr.states {
		next := tr.states[(i+1)%len(tr.states)]
		moved := 0
		for sw := range s {
			if s[sw] != next[sw] {
				moved++
				both[fmt.Sprint(sw, s[sw], next[sw])] = true
			}
		}
		if moved != 1 {
			t.Errorf("step %d moves %d switches", i, moved)
		}
	}
	if len(both) != 2*len(g.Switches) {
		t.Errorf("moves made: %v, want each of %d switches both ways", both, len(g.Switches))
	}
	r := h.predict(h.cat, Options{DeadOnly: true})
	rows := find(r, R1R2, "point.lamp", "")
	if r.Every || len(rows) != 2 || rows[0].Open || !rows[1].Open || !strings.HasSuffix(rows[1].Position, "more of the positions tried)") {
		t.Errorf("walk of %d positions gives %+v, want a reading with the lamp on and open with it off", len(r.Positions), rows)
	}
}

// Every band holds its nominal value.
func TestBandsHoldNominal(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		h := stair(t, rapid.IntRange(0, 1).Draw(rt, "intermediates"))
		for _, c := range h.in.Cables {
			c.Length = unit.Millimetre(rapid.IntRange(1, 60000).Draw(rt, "length"))
			c.Tolerance = unit.Millimetre(rapid.Int64Range(0, int64(c.Length)).Draw(rt, "tolerance"))
		}
		for _, x := range h.predict(h.cat, Options{}).Rows {
			if b := x.Ohm; b != nil && !(0 <= b.Low && b.Low <= b.Nominal && b.Nominal <= b.High) {
				rt.Errorf("%s: %+v", x.ID, *b)
			}
			if b := x.Volt; b != nil && !(0 <= b.Low && b.Low <= b.Nominal && b.Nominal <= b.High) {
				rt.Errorf("%s: %+v", x.ID, *b)
			}
		}
	})
}

func TestFiguresHaveSources(t *testing.T) {
	if _, err := loadInstruments(); err != nil {
		t.Fatal(err)
	}
	list := append(Figures(), wiring.Figures()...)
	if len(list) < 14 {
		t.Errorf("%d figures, want those of the instruments and of the views", len(list))
	}
	for _, f := range list {
		if f.Name == "" || f.Value == "" || !f.Source.Authority.Valid() || f.Source.Cite == "" {
			t.Errorf("figure without name, value or source: %+v", f)
		}
	}
}

func TestPredictRefuses(t *testing.T) {
	h := stair(t, 0)
	g := h.graph()
	other := single(t, 3).graph()
	if _, err := Predict(g, switching.Prove(other, nil), h.cat, Options{}); err == nil {
		t.Error("the proof of another graph is taken")
	}
	if _, err := Predict(nil, nil, nil, Options{}); err == nil {
		t.Error("nothing at all is taken")
	}
}

// FuzzPredict joins the ends of a small house at random.
func FuzzPredict(f *testing.F) {
	f.Add([]byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9})
	f.Add([]byte("all in one heap"))
	f.Add([]byte{9, 9, 9, 0, 0, 0, 1, 1, 200, 255, 3, 17})
	cat, err := kit.Open()
	if err != nil {
		f.Fatal(err)
	}
	kinds := kit.Names(cat.Accessories)
	cables := kit.Names(cat.Cables)
	f.Fuzz(func(t *testing.T, seed []byte) {
		next := func(n int) int {
			if len(seed) == 0 || n == 0 {
				return 0
			}
			b := int(seed[0])
			seed = seed[1:]
			return b % n
		}
		h := newHouse(t)
		h.in.Supply.Earthing = []wiring.Earthing{wiring.TNS, wiring.TNCS, wiring.TT, "?"}[next(4)]
		h.in.Supply.Ze = unit.Ohm(next(100)) / 10
		h.box("a", "x="+kinds[next(len(kinds))], "y="+kinds[next(len(kinds))])
		h.box("b", "x="+kinds[next(len(kinds))], "y="+kinds[next(len(kinds))])
		h.cable("p", cables[next(len(cables))], "board", "a", 1+float64(next(50)))
		h.cable("q", cables[next(len(cables))], "a", "b", 1+float64(next(50))).Tolerance = 1000
		for _, box := range h.in.Boxes {
			h.scatter(box, next)
		}
		g, _ := wiring.Build(h.in)
		if g == nil {
			return
		}
		r, err := Predict(g, switching.Prove(g, nil), cat, Options{})
		if err != nil {
			t.Fatalf("a house that can be built cannot be predicted: %v", err)
		}
		if _, err := json.Marshal(r); err != nil {
			t.Fatalf("not a number: %v", err)
		}
	})
}

// scatter puts every end in a box into one of a few joints, or none.
func (h *house) scatter(box *wiring.Box, next func(int) int) {
	joints := make([]wiring.Joint, 5)
	put := func(item, name string) {
		if k := next(len(joints) + 1); k < len(joints) {
			joints[k].Box = box.ID
			joints[k].Ends = append(joints[k].Ends, wiring.End{Box: box.ID, Item: item, Name: name})
		}
	}
	if box.ID == "board" {
		for _, t := range h.in.Circuits[0].Way.Terminals {
			put("lights", t.Name)
		}
	}
	for _, it := range box.Fit {
		for _, t := range it.Kind.Terminals {
			put(it.ID, t.Name)
		}
	}
	for _, c := range h.in.Cables {
		if c.From == box.ID || c.To == box.ID {
			for _, core := range c.Kind.Cores {
				put(c.ID, core.Name)
			}
		}
	}
	for _, j := range joints {
		if len(j.Ends) > 0 {
			h.in.Joints = append(h.in.Joints, j)
		}
	}
}

func BenchmarkPredict(b *testing.B) {
	for places := 2; places <= 4; places++ {
		b.Run(fmt.Sprintf("places=%d", places), func(b *testing.B) {
			h := stair(b, places-2)
			g := h.graph()
			p := switching.Prove(g, nil)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Predict(g, p, h.cat, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BS 7671:2018 Table 41.5: 30 mA allows 1667 Ω on a TT supply, where the
// breaker's 7.28 Ω says nothing; without an RCD there is no limit to meet.
func TestLimitOnTT(t *testing.T) {
	for _, residual := range []string{"rcd-30", ""} {
		h := stair(t, 0)
		h.in.Supply.Earthing, h.in.Supply.Ze = wiring.TT, 62
		h.in.Circuits[0].RCD = h.cat.Devices[residual]
		for _, test := range []Test{Zs, ZsWorking} {
			rows := find(h.predict(h.cat, Options{}), test, "point.lamp", "")
			if len(rows) == 0 {
				t.Fatalf("no row of %s", test)
			}
			for _, x := range rows {
				switch {
				case residual == "" && (x.Limit != nil || !strings.Contains(x.Note, "the circuit has none")):
					t.Errorf("%s without RCD: %v, %q", x.ID, x.Limit, x.Note)
				case residual != "" && (x.Limit == nil || !strings.HasPrefix(x.Limit.Text, "at most 1667 Ω")):
					t.Errorf("%s behind 30 mA: %v", x.ID, x.Limit)
				}
			}
		}
	}
}

// What is joined for an insulation test is only what stands in the line: line
// and neutral of a lamp or fan joined would read as the fault looked for.
func TestNothingJoinsLineAndNeutral(t *testing.T) {
	h := newHouse(t)
	h.box("point", "s=dimmer", "lamp=batten-holder", "fan=timer-fan")
	h.cable("run", "te-1.5", "board", "point", 10)
	h.join("board", "lights.L run.brown", "lights.N run.blue", "lights.E run.cpc")
	h.join("point", "s.COM run.brown fan.L", "s.L1 lamp.L fan.SL", "lamp.N run.blue fan.N", "lamp.E run.cpc")
	seen := map[string]bool{}
	for _, f := range h.predict(h.cat, Options{}).Findings {
		if f.Code != "disconnect-for-insulation" {
			continue
		}
		seen[string(f.Subject)] = true
		if inLine := f.Subject == "boxes.point.s"; strings.Contains(f.Fix, " join ") != inLine {
			t.Errorf("%s: %s", f.Subject, f.Fix)
		}
	}
	if !seen["boxes.point.s"] || !seen["boxes.point.fan"] {
		t.Errorf("to be disconnected: %v", seen)
	}
}
