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
