package route

import (
	"reflect"
	"testing"

	"strapper/house"
)

// runsOf are three runs between boxes of a house.
func runsOf(t *testing.T, seed uint64, h *house.House) []Run {
	kind := cable(t, "3ce-1.0")
	var runs []Run
	for i, a := range h.Boxes {
		if b := h.Boxes[(i*3+int(seed)+2)%len(h.Boxes)]; a != b && len(runs) < 3 {
			runs = append(runs, Run{ID: a.ID, From: a.ID, To: b.ID, Kind: kind, Tails: [2]MM{200, 300}})
		}
	}
	return runs
}

// What a route says of itself holds together: its stretches follow one another
// from box to box and add up to its length, its times rise from clear to
// blocked, the cut is long enough and the shopping length longer, no route of a
// run beats another in everything, and steps and holes are told.
func TestRoutesHoldTogether(t *testing.T) {
	routes := 0
	randomHouses(t, 30, func(seed uint64, h *house.House) {
		f := finder(t, h)
		for _, run := range runsOf(t, seed, h) {
			c := f.choose(run, Options{Waste: 10})
			for i := range c.Routes {
				r := &c.Routes[i]
				routes++
				checkRoute(t, seed, h, &c, r)
				for k := range c.Routes {
					if q := &c.Routes[k]; k != i && q.Length < r.Length && q.Minutes < r.Minutes && q.Mess < r.Mess {
						t.Errorf("seed %d, run %s: route %d beats route %d in everything", seed, c.Run, k, i)
					}
				}
			}
		}
	})
	if routes < 60 {
		t.Errorf("only %d routes", routes)
	}
}

func checkRoute(t *testing.T, seed uint64, h *house.House, c *Choice, r *Route) {
	t.Helper()
	fail := func(format string, args ...any) {
		t.Helper()
		t.Errorf("seed %d, run %s: "+format, append([]any{seed, c.Run}, args...)...)
	}
	sum := MM(0)
	for i, s := range r.Stretches {
		sum += s.Length
		if i > 0 && !c.Surface && s.From != r.Stretches[i-1].To {
			fail("stretch %d starts at %v, the one before ends at %v", i, s.From, r.Stretches[i-1].To)
		}
		if straight := abs(s.From.X-s.To.X) + abs(s.From.Y-s.To.Y) + abs(s.From.Z-s.To.Z); straight > s.Length+400 || s.Method == "" {
			fail("stretch %d of %v by method %q goes from %v to %v", i, s.Length, s.Method, s.From, s.To)
		}
	}
	if sum != r.Length {
		fail("stretches of %v in a route of %v", sum, r.Length)
	}
	if r.MinutesBest > r.Minutes || r.Minutes > r.MinutesMost {
		fail("minutes %d, %d, %d", r.MinutesBest, r.Minutes, r.MinutesMost)
	}
	if r.Cut < r.Length+r.OffBy+500 || r.Shop < r.Cut+r.Cut/10 {
		fail("length %v out by %v, cut %v, shop %v", r.Length, r.OffBy, r.Cut, r.Shop)
	}
	a, b := boxSpot(h, h.Box(c.From)), boxSpot(h, h.Box(c.To))
	if direct := abs(a.X-b.X) + abs(a.Y-b.Y) + abs(a.Z-b.Z); r.Length+600 < direct {
		fail("%v from %v to %v, which are %v apart", r.Length, a, b, direct)
	}
	if len(r.Steps) < 2 || len(r.Because) == 0 {
		fail("%d steps, because %v", len(r.Steps), r.Because)
	}
	for _, hole := range r.Holes {
		if hole.Through == "" || hole.Place == "" || hole.Diameter < 12 {
			fail("hole %+v", hole)
		}
	}
}

// The same house gives the same plan, down to the words.
func TestSamePlanTwice(t *testing.T) {
	randomHouses(t, 4, func(seed uint64, h *house.House) {
		p := finder(t, h).Plan(runsOf(t, seed, h), Options{Waste: 10})
		again := randomHouse(t, seed)
		q := finder(t, again).Plan(runsOf(t, seed, again), Options{Waste: 10})
		for i := range p.Runs {
			if !reflect.DeepEqual(words(&p.Runs[i]), words(&q.Runs[i])) {
				t.Fatalf("seed %d: run %s differs when planned again", seed, p.Runs[i].Run)
			}
		}
		if !reflect.DeepEqual(p.Together, q.Together) {
			t.Fatalf("seed %d: together %+v, again %+v", seed, p.Together, q.Together)
		}
	})
}

// words are the steps, what ifs and figures of a run.
func words(c *Choice) []any {
	var list []any
	for i := range c.Routes {
		r := &c.Routes[i]
		list = append(list, r.Because, r.Steps, r.WhatIf, r.Length, r.Minutes, r.Mess, r.Notes)
	}
	return append(list, c.None, c.Front)
}
