package fault_test

import (
	"math"
	"testing"

	"strapper/fault"
	"strapper/unit"
	"strapper/wiring"
)

// Two joints touch in one of two boxes, or in the cable half way: only the value
// tells. Of 1.0 mm² conductors at 20 °C, 18.1 mΩ/m (IEC 60228:2004 Table 1), 5 m
// there and back: 2 × 5 × 0.0181 = 0.181 Ω from the far box, nothing but contacts
// from the near one, half of it from the middle.
func TestAValueTellsHowFarAwayTheFaultIs(t *testing.T) {
	near, far, middle := "bridged p-switch1 s1.L1 s1.L2", "bridged p-switch2 s1.L1 s1.L2", "shorted p-strap1 brown black"
	between := [2]wiring.End{{Box: "p-switch1", Item: "s1", Name: "L1"}, {Box: "p-switch1", Item: "s1", Name: "L2"}}
	for _, c := range []struct {
		ohm  unit.Ohm
		want string
	}{{0.01, near}, {0.2, far}, {0.1, middle}} {
		f := read(t, "two-wire", twoWire, fault.Options{SinglesOnly: true})
		tell(t, f, "1111")
		if err := f.See(fault.Seen{Kind: fault.SeenReading, Between: between, With: map[string]string{"p-switch1.s1": "up", "p-switch2.s1": "up"}, Ohm: &c.ohm}); err != nil {
			t.Fatal(err)
		}
		p := map[string]float64{}
		for _, x := range f.Causes() {
			for i, set := range x.Sets {
				if len(set) == 1 {
					p[set[0].ID()] += x.Chances[i]
				}
			}
		}
		for _, other := range []string{near, far, middle} {
			if other != c.want && p[c.want] <= p[other] {
				t.Errorf("%v: %s at %.3f, %s at %.3f", c.ohm, c.want, p[c.want], other, p[other])
			}
		}
		if math.IsNaN(p[c.want]) || p[c.want] == 0 {
			t.Errorf("%v: %s is not held possible: %v", c.ohm, c.want, p)
		}
	}
}

// Three pushes stand in parallel, and the contact of one is welded: no word tells
// which, but the length of core between does. The search asks for that value,
// and names the right push.
func TestTheSearchAsksForAValue(t *testing.T) {
	for _, want := range []string{"welded contact door.p 1", "welded contact stair.p 1", "welded contact window.p 1"} {
		f := example(t, "gallery.yaml", fault.Options{SinglesOnly: true})
		truth := byID(f, want)
		asked := false
		for range 40 {
			q, _ := f.Next()
			if q == nil {
				break
			}
			seen := q.Seen
			if q.Results[0].Is == "" {
				asked = true
				ohm := f.Value(q, truth)
				seen.Ohm = &ohm
			} else {
				seen.Is = f.Answer(q, truth)
			}
			if err := f.See(seen); err != nil {
				t.Fatal(err)
			}
		}
		if got := f.Causes()[0].Sets[0][0].ID(); !asked || got != want {
			t.Errorf("asked for a value: %t; %s is taken for %s", asked, want, got)
		}
	}
}

const oneWay = `
job: { title: Invented }
supply: { earthing: TN-S, Ze: 0.3 ohm }
circuits: { c: { device: mcb-b6, board: board } }
boxes: { board: { kind: consumer-unit } }
patterns:
  - { use: loop-in-ceiling, name: p, circuit: c, feed: 8 m, drop: 0.5 m, lamp: led, power: 9 W }
`

// A lamp that glows while it is off: half a metre of switch drop couples 17 pF/m
// into it (docs/checks/02-cable-capacitance.md), 230 V × 2π50 × 8.5 pF = 0.6 µA,
// too little to see; damaged insulation of 5 kΩ lets through 46 mA. So a leak is
// held likely, and wiring as drawn is not.
func TestGlowPointsToALeak(t *testing.T) {
	f := read(t, "one-way", oneWay, fault.Options{SinglesOnly: true})
	for position, is := range map[string]string{"off": "glows", "on": "lit"} {
		if err := f.See(fault.Seen{Kind: fault.SeenLamp, Of: "p-point.lamp", With: map[string]string{"p-switch1.s1": position}, Is: is}); err != nil {
			t.Fatal(err)
		}
	}
	if got := f.Causes()[0].Sets[0]; len(got) != 1 || got[0].Kind != fault.Leaking {
		t.Errorf("the likeliest cause is %v, want damaged insulation", f.Words(&f.Causes()[0]))
	}
}

// The idle strapper of a pair shows 60 to 120 V on a meter of 10 MΩ (technical
// notes of NECA and ECA WA; the cable's capacitances are in
// docs/checks/02-cable-capacitance.md) and next to nothing on a two-pole tester.
// That is no fault; the full voltage there is.
func TestGhostOnAnIdleStrapper(t *testing.T) {
	between := [2]wiring.End{{Box: "p-switch1", Item: "s1", Name: "L2"}, {Box: "p-switch1", Item: "p-strap1", Name: "cpc"}}
	with := map[string]string{"p-switch1.s1": "up", "p-switch2.s1": "up"}
	sound := func(x fault.Seen) bool {
		f := read(t, "two-wire", twoWire, fault.Options{SinglesOnly: true})
		x.Kind, x.Between, x.With = fault.SeenVolts, between, with
		if err := f.See(x); err != nil {
			t.Fatal(err)
		}
		return f.Sound()
	}
	ghost, nothing, full := unit.Volt(95), unit.Volt(2), unit.Volt(229)
	for _, c := range []struct {
		x    fault.Seen
		want bool
	}{
		{fault.Seen{Volt: &ghost, HighZ: true}, true},
		{fault.Seen{Volt: &nothing}, true},
		{fault.Seen{Volt: &full, HighZ: true}, false},
		{fault.Seen{Volt: &full}, false},
	} {
		if got := sound(c.x); got != c.want {
			t.Errorf("%v with high impedance %t: wiring as drawn explains it: %t, want %t", *c.x.Volt, c.x.HighZ, got, c.want)
		}
	}
}
