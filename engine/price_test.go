package engine_test

import (
	"reflect"
	"testing"

	"strapper/change"
	"strapper/cost"
	"strapper/engine"
)

// What a way is reckoned to need beside the others is what it needs when the job
// names it and everything is worked out for it alone.
func TestAlternativesAreWhatTheJobWouldNeed(t *testing.T) {
	n, err := cost.Customary()
	if err != nil {
		t.Fatal(err)
	}
	j, cat := load(t, "../examples/signal-box.yaml")
	r, err := engine.RunWays(j, cat, change.Options{Most: 5, Named: j.Choose})
	if err != nil {
		t.Fatal(err)
	}
	list, err := r.Alternatives(n)
	if err != nil || len(list) < 3 {
		t.Fatalf("%d ways, %v", len(list), err)
	}
	taken := 0
	for _, a := range list {
		if a.Taken {
			taken++
		}
		j.Choose = a.Name
		alone, err := engine.Run(j, cat)
		if err != nil {
			t.Fatal(err)
		}
		own, err := alone.Alternatives(n)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, b := range own {
			if b.Taken && b.Name == a.Name {
				found = true
				if !reflect.DeepEqual(a.Needs, b.Needs) {
					t.Errorf("%s needs %+v beside others, %+v alone", a.Name, a.Needs, b.Needs)
				}
			}
		}
		if !found {
			t.Errorf("%s is not taken when it is named", a.Name)
		}
	}
	if taken != 1 {
		t.Errorf("%d ways are taken", taken)
	}
}

// A job with its wiring as left has one way; one that changes nothing has none.
func TestOneWayAsWritten(t *testing.T) {
	n, _ := cost.Customary()
	j, cat := load(t, "../examples/kitchen.yaml")
	r, err := engine.Run(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	list, err := r.Alternatives(n)
	if err != nil || len(list) != 1 || list[0].Name != engine.AsWritten || !list[0].Taken || len(list[0].Needs.Lines) == 0 {
		t.Errorf("%+v, %v", list, err)
	}
	// Worked by hand in docs/checks/09-price.md.
	want := map[string]int{"plasterboard-patch": 1, "filler": 26, "floor-screw": 12, "3ce-1.0": 10}
	for _, l := range list[0].Needs.Lines {
		if n, ok := want[l.Kind]; ok && l.Count > 0 {
			if l.Count != n {
				t.Errorf("%s: %d, want %d", l.Description, l.Count, n)
			}
			delete(want, l.Kind)
		}
	}
	if len(want) > 0 {
		t.Errorf("not needed: %v", want)
	}
	r.Left = nil
	if list, err := r.Alternatives(n); err != nil || len(list) != 0 {
		t.Errorf("%+v, %v", list, err)
	}
}
