package sizing

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapper/job"
	"strapper/kit"
	"strapper/network/spicetest"
	"strapper/rules"
	"strapper/rules/books"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// two is a stair light fed at the ceiling with two switches, an invented
// house: feed 12 m, drop 5 m, strapper cable 7 m, all of 1.0 mm². %s takes
// fields of the circuit, of the cables, and of the lamp.
const two = `
job: { title: Stair light }
supply: { voltage: 230 V, earthing: %[1]s, Ze: 0.35 ohm }
circuits: { c: { device: %[2]s, board: board%[3]s } }
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: %[5]s } }
  hall: { kind: plaster-1g-35, fit: { s1: two-way } }
  top: { kind: plaster-1g-35, fit: { s1: two-way } }
cables:
  feed: { kind: te-1.0, from: board, to: point, length: 12 m%[4]s }
  drop: { kind: te-1.0, from: point, to: hall, length: 5 m%[4]s }
  strap: { kind: 3ce-1.0, from: hall, to: top, length: 7 m%[4]s }
joints:
  board: [ [c.L, feed.brown], [c.N, feed.blue], [c.E, feed.cpc] ]
  point: [ [lamp.LOOP, feed.brown, drop.brown], [lamp.SL, drop.blue], [lamp.N, feed.blue], [lamp.E, feed.cpc, drop.cpc] ]
  hall: [ [s1.COM, strap.brown], [s1.L1, drop.brown, strap.black], [s1.L2, drop.blue, strap.grey], [drop.cpc, strap.cpc] ]
  top: [ [s1.COM, strap.brown], [s1.L1, strap.black], [s1.L2, strap.grey], [strap.cpc] ]
want: [ { lamps: [point.lamp], from: [hall.s1, top.s1] } ]
`

func stairs(earthing, device, circuit, cables, lamp string) string {
	return fmt.Sprintf(two, earthing, device, circuit, cables, lamp)
}

const rose = "{ kind: ceiling-rose, lamp: led, power: 9 W }"

type worked struct {
	*Sizes
	g   *wiring.Graph
	p   *switching.Proof
	cat *kit.Catalogue
	b   *rules.Book
}

func sized(t testing.TB, text string) worked {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	b, err := books.Find("bs7671", "")
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read("house.yaml", []byte(text), cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	in := j.Found
	o := Options{Book: b}
	if j.Left != nil {
		found, _ := wiring.Build(j.Found)
		in, o.Found = j.Left, found
	}
	g, _ := wiring.Build(in)
	p := switching.Prove(g, j.Want)
	s, err := Size(g, p, cat, o)
	if err != nil {
		t.Fatal(err)
	}
	s.Judge(b, "as left")
	return worked{s, g, p, cat, b}
}

func (c *Circuit) figure(t testing.TB, symbol string) *Figure {
	t.Helper()
	for i := range c.Figures {
		if c.Figures[i].Symbol == symbol {
			return &c.Figures[i]
		}
	}
	t.Fatalf("no figure %s", symbol)
	return nil
}

func (c *Circuit) verdict(id string) rules.Verdict {
	for _, v := range c.Verdicts {
		if v.Check == id {
			return v
		}
	}
	return rules.Verdict{}
}

func about(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

// The hand calculation of docs/checks/07-sizing.md, in full: the line runs over
// the strapper cable out and back to the lamp, and three times to the last
// terminal; contacts at the high end are 20 mΩ each.
func TestStairsByHand(t *testing.T) {
	w := sized(t, stairs("TN-C-S", "mcb-b6", "", "", rose))
	c := &w.Circuits[0]
	ib := 100.0 / 230
	about(t, "Ib", c.figure(t, "Ib").Value.Number, ib, 1e-9)
	about(t, "Iz", c.figure(t, "Iz").Value.Number, 8, 1e-9)
	about(t, "Zs", c.figure(t, "Zs").Value.Number, 0.35+1.2*0.0181*(12+5+3*7+12+5+7)+4*0.02, 1e-4)
	if at := c.figure(t, "Zs").At; at != "top.s1.L1" && at != "top.s1.L2" {
		t.Errorf("farthest point %s", at)
	}
	r := 1.2*0.0181*(12+5+2*7+5+12) + 2*0.02
	about(t, "Vd", c.figure(t, "Vd").Value.Number, ib*r*0.044/(2*1.2*0.0181), 1e-3)
	about(t, "t", c.figure(t, "t").Value.Number, 0.1, 1e-9)
	about(t, "Ipf", c.figure(t, "Ipf").Value.Number, 230/0.35, 1e-6)
	least := 230 / c.figure(t, "Zs").Value.Number
	about(t, "S", c.figure(t, "S").Limit.Number, math.Sqrt(least*least*0.1)/115, 1e-6)
	if x := c.Case; x.Route != 12*unit.Metre || x.Line != 1 || x.Earth.Value != 1 || x.Farthest != "point.lamp" {
		t.Errorf("case: %+v", x)
	}
}

// How far a limit is kept, by giving the feed that length: it passes, and a
// metre more does not.
func TestPassesTo(t *testing.T) {
	for _, symbol := range []string{"Zs", "Vd"} {
		text := stairs("TN-C-S", "mcb-b6", ", other-load: 0 W", "", rose)
		w := sized(t, text)
		var to float64
		f := w.Circuits[0].figure(t, symbol)
		if _, err := fmt.Sscanf(f.Passes, "passes to %f m of feed", &to); err != nil {
			t.Fatalf("%q: %v", f.Passes, err)
		}
		for more, met := range map[float64]bool{0: true, 1: false} {
			longer := strings.Replace(text, "length: 12 m", fmt.Sprintf("length: %v m", to+more), 1)
			if got := sized(t, longer).Circuits[0].figure(t, symbol); got.Met() != met {
				t.Errorf("%s with %v m of feed: %v, limit %v", symbol, to+more, got.Value, got.Limit)
			}
		}
	}
}

// The voltage drop against ngspice, which solves the same network in the worst
// state by its own means; and the same as a plain sum of conductors.
func TestDropAgainstNgspice(t *testing.T) {
	spicetest.Need(t)
	for _, text := range []string{stairs("TN-S", "mcb-b6", "", "", rose), stairs("TN-C-S", "mcb-b6", "", ", tolerance: 1 m", "{ kind: ceiling-rose, lamp: resistive, power: 500 W }")} {
		w := sized(t, text)
		c := &sizer{g: w.g, p: w.p, cat: w.cat, Options: Options{Book: w.b}, most: MostStates}
		c.facts()
		c.warmth()
		c.demand()
		g := *w.g
		g.Loads = c.load
		view, err := g.View(w.cat, wiring.Condition{Temperature: c.temp, Length: wiring.High, Supplied: true})
		if err != nil {
			t.Fatal(err)
		}
		worst := c.worst(view)
		var deck bytes.Buffer
		if err := view.Spice(&deck, "volt drop", c.setting(worst.state)); err != nil {
			t.Fatal(err)
		}
		volts := spicetest.Run(t, deck.Bytes())
		at := func(n wiring.Node) complex128 { return volts[view.SpiceNode(n)] }
		o, l := &w.g.Origins[0], &w.g.Loads[worst.load]
		source, lamp := abs(at(o.L)-at(o.N)), abs(at(l.A)-at(l.B))
		about(t, "volt drop", worst.volts, (source-lamp)*230/lamp, 1e-4)
	}
}

func abs(v complex128) float64 { return math.Hypot(real(v), imag(v)) }

// With more states than are gone through one by one, each lamp's own switches
// give the same worst case, where lamps share none.
func TestManyStates(t *testing.T) {
	w := sized(t, stairs("TN-C-S", "mcb-b6", "", "", rose))
	few := &sizer{g: w.g, p: w.p, cat: w.cat, Options: Options{Book: w.b}, most: 1}
	if err := few.size(); err != nil {
		t.Fatal(err)
	}
	for i, f := range w.Circuits[0].Figures {
		if g := few.out.Figures[i]; math.Abs(f.Value.Number-g.Value.Number) > 1e-9 {
			t.Errorf("%s: %v with all states, %v with each lamp's own", f.Symbol, f.Value, g.Value)
		}
	}
}

// Iz by the trade's words: 1.0 mm² of BS 7671 Table 4D5 (E. Palmer's
// copy), its factors as tabulated (Tables 4B1, 4C1, 52.2, and 0.725
// for a rewirable fuse); the City & Guilds recipe's 0.87 × 0.70 (a student's
// worked design, electriciansforums.net thread 202003) asks of a 6 A device
// It >= 9.85 A, which is 6 A at that stretch.
func TestCapacityOfStretches(t *testing.T) {
	for _, c := range []struct {
		laid   string
		device string
		want   float64
	}{
		{"", "mcb-b6", 8},
		{"how: clipped", "mcb-b6", 16},
		{"how: ceiling-thin", "mcb-b6", 13},
		{"how: ceiling-thick", "mcb-b6", 10.5},
		{"how: stud-touching", "mcb-b6", 13},
		{"how: stud-inside", "mcb-b6", 8},
		{"how: conduit-in-wall", "mcb-b6", 11.5},
		{"how: conduit", "mcb-b6", 13},
		{"how: surrounded", "mcb-b6", 8},
		{"how: surrounded, surrounded: 200 mm", "mcb-b6", 16 * 0.63},
		{"how: surrounded, surrounded: 90 mm", "mcb-b6", 16 * 0.78},
		{"how: clipped, ambient: 40 C, bunched: 3", "mcb-b6", 16 * 0.87 * 0.70},
		{"how: clipped, ambient: 36 C", "mcb-b6", 16 * 0.87},
		{"how: clipped", "rewirable-5", 16 * 0.725},
		{"how: clipped, length: 2 m", "mcb-b6", 8},
	} {
		laid := ""
		if c.laid != "" {
			laid = ", laid: [ { " + c.laid + " } ]"
		}
		f := sized(t, stairs("TN-C-S", c.device, "", laid, rose)).Circuits[0].figure(t, "Iz")
		about(t, c.laid+" "+c.device, f.Value.Number, c.want, 1e-9)
	}
	about(t, "6 / (0.87 × 0.70)", 6/(0.87*0.70), 9.85, 0.005)
	f := sized(t, stairs("TN-C-S", "mcb-b6", "", ", laid: [ { how: clipped, ambient: 80 C } ]", rose)).Circuits[0].figure(t, "Iz")
	if f.Known || !strings.Contains(f.Why, "4B1") {
		t.Errorf("80 °C is off the table: %+v", f)
	}
}

// Clearing by device: breaker at once within its greatest loop impedance; a 5 A
// rewirable fuse in 0.4 s up to 9.10 Ω and in 5 s up to 16.8 Ω (BS 7671 Tables
// 41.2 and 41.4 as worked in the book); an RCD within 300 ms.
func TestClearing(t *testing.T) {
	for _, c := range []struct {
		device, circuit string
		ze              float64
		want            float64 // 0: not known
	}{
		{"mcb-b6", "", 0.35, 0.1},
		{"mcb-b6", "", 6.0, 0},
		{"rcbo-b6", "", 6.1, 0.3},
		{"mcb-b6", ", rcd: rcd-30", 6.1, 0.3},
		{"rewirable-5", "", 0.35, 0.4},
		{"rewirable-5", "", 9.0, 5},
		{"rewirable-5", "", 16.0, 0},
	} {
		text := strings.Replace(stairs("TN-S", c.device, c.circuit, "", rose), "Ze: 0.35 ohm", fmt.Sprintf("Ze: %v ohm", c.ze), 1)
		f := sized(t, text).Circuits[0].figure(t, "t")
		if f.Known != (c.want > 0) || f.Known && f.Value.Number != c.want {
			t.Errorf("%s%s at Ze %v: %+v, want %v s", c.device, c.circuit, c.ze, f, c.want)
		}
	}
}

// A circuit of the time before 1966: imperial rubber-sheathed cable without a
// protective conductor behind a rewirable fuse, no RCD. Each is told, and the
// book finds against each.
func TestOldCircuit(t *testing.T) {
	text := `
job: { title: Old light }
supply: { voltage: 230 V, earthing: TN-S, Ze: 0.6 ohm }
circuits: { c: { device: rewirable-5, board: board } }
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: lampholder } }
  hall: { kind: plaster-1g-35, fit: { s1: one-way } }
cables:
  feed: { kind: twin-3.029-rubber, from: board, to: hall, length: 10 m }
  drop: { kind: twin-3.029-rubber, from: hall, to: point, length: 4 m }
joints:
  board: [ [c.L, feed.red], [c.N, feed.black] ]
  hall: [ [s1.COM, feed.red], [s1.L1, drop.red], [feed.black, drop.black] ]
  point: [ [lamp.L, drop.red], [lamp.N, drop.black] ]
left:
  boxes: { more: { kind: ceiling-point, fit: { lamp: lampholder } } }
  cables: { new: { kind: te-1.0, from: point, to: more, length: 3 m, laid: [ { how: ceiling-thin } ] } }
  joints:
    point: [ [lamp.L, drop.red, new.brown], [lamp.N, drop.black, new.blue], [new.cpc] ]
    more: [ [lamp.L, new.brown], [lamp.N, new.blue], [new.cpc] ]
`
	w := sized(t, text)
	c := &w.Circuits[0]
	var told []string
	for _, o := range c.Old {
		told = append(told, o.What)
		if o.First == "" || o.May == "" {
			t.Errorf("%s: nothing said", o.What)
		}
	}
	for _, want := range []string{"no protective conductor in cable feed, drop", "Rewirable fuse 5 A", "rubber-sheathed cable", "imperial conductors 3/.029, 1.28 mm²", "no residual current device"} {
		if !slices.Contains(told, want) {
			t.Errorf("%q is not told: %q", want, told)
		}
	}
	for id, want := range map[string]rules.Outcome{"circuit-cpc": rules.NotMet, "old-sheath": rules.NotMet, "rcd-luminaires": rules.NotMet, "device-cable": rules.NotAssessed, "rcd-hidden": rules.NotApplicable} {
		if v := c.verdict(id); v.Outcome != want {
			t.Errorf("%s: %s (%s), want %s", id, v.Outcome, v.Why, want)
		}
	}
	if f := c.figure(t, "Zs"); f.Known || f.Why == "" {
		t.Errorf("no loop without a protective conductor: %+v", f)
	}
	if n := w.Neutrals; len(n) != 1 || !n[0].Has || !n[0].Same {
		t.Errorf("the neutral passes through the switch box: %+v", n)
	}
}

// The design counts a lampholder for 100 W at least (On-Site Guide Table A1), a
// lamp of more for itself, a luminaire for its own apparent power; the rest of
// the circuit is added as stated.
func TestDemand(t *testing.T) {
	for _, c := range []struct {
		lamp, circuit string
		want          float64
	}{
		{rose, "", 100.0 / 230},
		{"{ kind: ceiling-rose, lamp: resistive, power: 150 W }", "", 150.0 / 230},
		{"{ kind: ceiling-rose, lamp: led, power: 60 W }", "", 120.0 / 230}, // power factor 0.5
		{rose, ", other-load: 460 W", 100.0/230 + 2},
	} {
		f := sized(t, stairs("TN-S", "mcb-b6", c.circuit, "", c.lamp)).Circuits[0].figure(t, "Ib")
		about(t, c.lamp+c.circuit, f.Value.Number, c.want, 1e-9)
	}
}

// Without a protective conductor there is no fault loop to be long, and on a TT
// supply without an RCD no length will do (BS 7671 411.5.3, from memory, to be
// confirmed).
func TestNoLongestRunWithoutALoop(t *testing.T) {
	bare := strings.NewReplacer("feed: { kind: te-1.0,", "feed: { kind: twin-1.0-old-nocpc,", "feed.brown", "feed.red", "feed.blue", "feed.black", ", [c.E, feed.cpc]", "", "feed.cpc, ", "")
	for text, want := range map[string]string{
		bare.Replace(stairs("TN-S", "mcb-b6", "", "", rose)): "no protective conductor",
		stairs("TT", "mcb-b6", "", "", rose):                 "there is none",
	} {
		c := &sized(t, text).Circuits[0]
		if l := c.Runs[0]; l.Known || !strings.Contains(l.Why, want) {
			t.Errorf("%+v, want none for %q", l, want)
		}
	}
}

// How many lampholders more a device carries: 6 A is 13.8 of 100 W (On-Site Guide
// Table A1), so 12 beside the first; how low Ze may be: 230 V / 6 kA = 0.038 Ω.
func TestSensitivities(t *testing.T) {
	c := &sized(t, stairs("TN-C-S", "mcb-b6", "", "", rose)).Circuits[0]
	for symbol, want := range map[string]string{"Ib": "passes with 12 lampholders more", "Iz": "carries a device of up to 8 A", "Ipf": "passes with Ze down to 0.038 Ω"} {
		if got := c.figure(t, symbol).Passes; got != want {
			t.Errorf("%s: %q, want %q", symbol, got, want)
		}
	}
}

// A route's methods in the trade's words; what the cable is longer than its
// route lies as the longest stretch. The rating follows: 16 A clipped, and 0.88
// of it for 50 mm through insulation (BS 7671 Tables 4D5, 52.2).
func TestStretchesOfARoute(t *testing.T) {
	got := Stretches([]Lie{{Method: "C", Length: 4000}, {Method: "C", Length: 900, Surrounded: 50}, {Method: "102", Length: 2400}, {Method: "x", Length: 10}})
	want := []wiring.Stretch{
		{How: wiring.LaidClipped},
		{How: wiring.LaidSurrounded, Length: 50, Surrounded: 50},
		{How: wiring.LaidStudFace, Length: 2400},
		{Length: 10},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%+v", got)
	}
	w := sized(t, stairs("TN-S", "mcb-b6", "", "", rose))
	laid := map[string][]wiring.Stretch{}
	for _, k := range w.g.Inst.Cables {
		laid[k.ID] = want[:2]
	}
	s, err := Size(w.g, w.p, w.cat, Options{Book: w.b, Laid: laid})
	if err != nil {
		t.Fatal(err)
	}
	about(t, "Iz", s.Circuits[0].figure(t, "Iz").Value.Number, 16*0.88, 1e-9)
}

// New cable counts as hidden in a wall where it lies in one, as not where all of
// it lies above ceilings, and is not known else.
func TestHidden(t *testing.T) {
	for _, c := range []struct {
		laid []wiring.Stretch
		want rules.Fact
	}{
		{nil, rules.Unknown},
		{[]wiring.Stretch{{How: wiring.LaidLoft}}, rules.No},
		{[]wiring.Stretch{{How: wiring.LaidLoft, Length: 2000}}, rules.Unknown},
		{[]wiring.Stretch{{How: wiring.LaidLoft, Length: 2000}, {How: wiring.LaidStudFace}}, rules.Yes},
		{[]wiring.Stretch{{How: wiring.LaidClipped}}, rules.Unknown},
		{[]wiring.Stretch{{How: wiring.LaidWallPipe}}, rules.Yes},
	} {
		if got := hidden(&wiring.Cable{Length: 5000}, c.laid); got != c.want {
			t.Errorf("%+v: %v, want %v", c.laid, got, c.want)
		}
	}
}

// A measured fault current is taken before one worked from Ze, and a marked
// breaking capacity before the least usual of its kind.
func TestBreaking(t *testing.T) {
	text := strings.Replace(stairs("TN-S", "mcb-b6", ", breaking: 3 kA", "", rose), "Ze: 0.35 ohm", "Ze: 0.35 ohm, fault-current: 3.2 kA", 1)
	f := sized(t, text).Circuits[0].figure(t, "Ipf")
	if f.Met() || f.Value.Number != 3200 || f.Limit.Number != 3000 {
		t.Errorf("%+v", f)
	}
	if f := sized(t, stairs("TT", "rcbo-b6", "", "", rose)).Circuits[0].figure(t, "Ipf"); f.Known {
		t.Errorf("TT: the electrode says nothing of line to neutral: %+v", f)
	}
}

// No figure comes from an edition's number in here: with every cell of a table
// doubled the figures follow.
func TestFiguresComeFromTheBook(t *testing.T) {
	w := sized(t, stairs("TN-C-S", "mcb-b6", "", "", rose))
	book := w.b
	for i, table := range book.Tables {
		for k := range table.Cells {
			book = book.With(i, k, table.Cells[k].Value*2)
		}
	}
	s, err := Size(w.g, w.p, w.cat, Options{Book: book})
	if err != nil {
		t.Fatal(err)
	}
	for _, symbol := range []string{"Ib", "Iz", "Vd", "Zs", "t", "Ipf", "S"} {
		a, b := w.Circuits[0].figure(t, symbol), s.Circuits[0].figure(t, symbol)
		if a.Value.Number == b.Value.Number && (a.Limit == nil || a.Limit.Number == b.Limit.Number) {
			t.Errorf("%s is %v, limit %v, whatever the book says", symbol, a.Value, a.Limit)
		}
	}
}

func BenchmarkSize(b *testing.B) {
	w := sized(b, stairs("TN-C-S", "mcb-b6", "", "", rose))
	for b.Loop() {
		s, err := Size(w.g, w.p, w.cat, Options{Book: w.b})
		if err != nil {
			b.Fatal(err)
		}
		s.Judge(w.b, "")
	}
}
