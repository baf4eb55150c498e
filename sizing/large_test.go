package sizing

import (
	"fmt"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/rules"
)

// points is a circuit of n ceiling points in a chain, an invented house: each
// has a one-way switch at 4 m, and the first two of them a two-way pair.
func points(n int) string {
	var boxes, cables, joints, wants strings.Builder
	for i := range n {
		fmt.Fprintf(&boxes, "  p%d: { kind: ceiling-point, fit: { lamp: { kind: ceiling-rose, lamp: led, power: %d W } } }\n  s%d: { kind: plaster-1g-35, fit: { s: one-way } }\n", i, 6+i, i)
		from, feed := "board", fmt.Sprintf("f%d", i)
		if i > 0 {
			from = fmt.Sprintf("p%d", i-1)
		}
		fmt.Fprintf(&cables, "  %s: { kind: te-1.0, from: %s, to: p%d, length: %d m }\n  d%d: { kind: te-1.0, from: p%d, to: s%d, length: 4 m }\n", feed, from, i, 3+i%4, i, i, i)
		on := ""
		if i < n-1 {
			on = fmt.Sprintf(", f%d.%%s", i+1)
		}
		next := func(core string) string {
			if on == "" {
				return ""
			}
			return fmt.Sprintf(on, core)
		}
		fmt.Fprintf(&joints, "  p%[1]d: [ [lamp.LOOP, f%[1]d.brown, d%[1]d.brown%[2]s], [lamp.N, f%[1]d.blue%[3]s], [lamp.SL, d%[1]d.blue], [lamp.E, f%[1]d.cpc, d%[1]d.cpc%[4]s] ]\n", i, next("brown"), next("blue"), next("cpc"))
		fmt.Fprintf(&joints, "  s%[1]d: [ [s.COM, d%[1]d.brown], [s.L1, d%[1]d.blue], [d%[1]d.cpc] ]\n", i)
		fmt.Fprintf(&wants, "  - { lamps: [p%[1]d.lamp], from: [s%[1]d.s] }\n", i)
	}
	return `job: { title: Many points }
supply: { voltage: 230 V, earthing: TN-C-S, Ze: 0.35 ohm }
circuits: { c: { device: rcbo-b6, board: board } }
boxes:
  board: { kind: consumer-unit }
` + boxes.String() + "cables:\n" + cables.String() + "joints:\n  board: [ [c.L, f0.brown], [c.N, f0.blue], [c.E, f0.cpc] ]\n" + joints.String() + "want:\n" + wants.String()
}

// With twelve points and as many switches there are 4,096 positions. The worst
// is all lamps lit, seen from the last: the drop is the sum over the chain of
// what each length carries, worked here by hand as a sum; 20 mΩ of contact
// stand before each lamp.
func TestTwelvePoints(t *testing.T) {
	w := sized(t, points(12))
	c := &w.Circuits[0]
	about(t, "Ib", c.figure(t, "Ib").Value.Number, 12*100.0/230, 1e-9)
	const r, ib = 0.0181 * 1.2, 100.0 / 230
	drop := 0.0
	for i := range 12 {
		carried := float64(12-i) * ib
		drop += carried * 2 * r * float64(3+i%4)
	}
	drop += ib * (2*r*4 + 0.02) // the last switch drop, out and back, and its contact
	about(t, "Vd", c.figure(t, "Vd").Value.Number, drop*0.044/(2*r), 0.03)
	if at := c.figure(t, "Vd").At; at != "p11.lamp" {
		t.Errorf("the farthest lamp is %s", at)
	}
}

// A dimmer is held against the lamps it dims: 5 W behind one that needs 10 W,
// with 100 W on another switch of the same job.
func TestDimmersOwnLamps(t *testing.T) {
	text := strings.Replace(strings.Replace(points(2), "s0: { kind: plaster-1g-35, fit: { s: one-way } }", "s0: { kind: plaster-1g-35, fit: { s: dimmer } }", 1),
		"lamp: led, power: 7 W", "lamp: resistive, power: 100 W", 1)
	w := sized(t, text)
	list, err := Overloads(w.g, w.p, w.cat)
	if err != nil {
		t.Fatal(err)
	}
	var found []finding.Finding
	for _, f := range list {
		if f.Code == "dimmer-underloaded" {
			found = append(found, f)
		}
	}
	if f := w.Circuits[0].figure(t, "P"); f.At != "s0.s" || f.Value.Number != 6 || f.Limit.Number != 10 || f.Met() {
		t.Errorf("%+v", f)
	}
	if len(found) != 1 || found[0].Subject != "boxes.s0.s" || !strings.Contains(found[0].Text, "6 W") {
		t.Errorf("%v", list)
	}
}

// Cases just within and just beyond each limit by the length of the feed or the
// load: the verdict turns where the arithmetic of docs/checks/07-sizing.md says.
func TestVerdictsTurnAtTheirLimits(t *testing.T) {
	for _, c := range []struct {
		check   string
		text    string
		outcome rules.Outcome
	}{
		{"design-current", stairs("TN-S", "mcb-b6", ", other-load: 1280 W", "", rose), rules.Met}, // 1380 W = 6 A
		{"design-current", stairs("TN-S", "mcb-b6", ", other-load: 1281 W", "", rose), rules.NotMet},
		{"device-cable", stairs("TN-S", "mcb-b10", "", ", laid: [ { how: ceiling-thick } ]", rose), rules.Met}, // 10.5 A
		{"device-cable", stairs("TN-S", "mcb-b16", "", ", laid: [ { how: clipped } ]", rose), rules.Met},       // 16 A
		{"device-cable", stairs("TN-S", "mcb-b16", "", ", laid: [ { how: stud-touching } ]", rose), rules.NotMet},
		{"breaking", stairs("TN-C-S", "mcb-b6", ", breaking: 0.657 kA", "", rose), rules.NotMet}, // 230 / 0.35 = 657.14 A
		{"breaking", stairs("TN-C-S", "mcb-b6", ", breaking: 0.658 kA", "", rose), rules.Met},
		// on TN-S line to neutral may carry more than Ze tells, which is to earth
		{"breaking", stairs("TN-S", "mcb-b6", ", breaking: 6 kA", "", rose), rules.NotAssessed},
		{"lampholder-device", stairs("TN-S", "mcb-b16", "", "", rose), rules.Met},
		{"rcd-type", stairs("TN-S", "rcbo-b6", ", rcd-type: A", "", rose), rules.NotApplicable}, // nothing is added
	} {
		if v := sized(t, c.text).Circuits[0].verdict(c.check); v.Outcome != c.outcome {
			t.Errorf("%s: %s (%s), want %s", c.check, v.Outcome, v.Why, c.outcome)
		}
	}
}

// A whole circuit of twelve points, 4,096 positions.
func BenchmarkSizeTwelvePoints(b *testing.B) {
	w := sized(b, points(12))
	for b.Loop() {
		s, err := Size(w.g, w.p, w.cat, Options{Book: w.b})
		if err != nil {
			b.Fatal(err)
		}
		s.Judge(w.b, "")
	}
}
