package fault_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"strapper/fault"
	"strapper/reading"
	"strapper/wiring"
)

// Every fault of an example has a repair: proved, with something to do, with
// readings to expect where a box is opened; and where conductors stand wrongly,
// the ends that are wrong are among those that move.
func TestEveryFaultHasARepair(t *testing.T) {
	for _, name := range []string{"stairs.yaml", "gallery.yaml"} {
		f := example(t, name, fault.Options{SinglesOnly: true})
		for _, x := range f.Faults() {
			r, err := f.Repair(&fault.Cause{Sets: [][]*fault.Fault{{x}}})
			if err != nil {
				t.Fatal(err)
			}
			if !r.Proved || len(r.Steps)+len(r.Moves) == 0 {
				t.Errorf("%s, %s: proved %t, steps %v, moves %v", name, x.ID(), r.Proved, r.Steps, r.Moves)
			}
			switch x.Kind {
			case fault.Exchanged, fault.Misplaced, fault.Off, fault.NoEarth:
				for _, e := range x.Ends {
					if !moved(r, e) {
						t.Errorf("%s, %s: %v is not moved", name, x.ID(), e)
					}
				}
				if len(r.Moves) != 1 || r.Moves[0].Box.ID != x.Place() {
					t.Errorf("%s, %s: moves in %d boxes, want one", name, x.ID(), len(r.Moves))
				}
			}
			for _, b := range r.Moves {
				for _, m := range b.Moves {
					if strings.Contains(m.Text, "~") {
						t.Errorf("%s, %s: %q", name, x.ID(), m.Text)
					}
				}
			}
		}
	}
}

func moved(r *fault.Repair, e wiring.End) bool {
	for _, b := range r.Moves {
		for _, m := range b.Moves {
			if (m.Kind == wiring.Land || m.Kind == wiring.Join || m.Kind == wiring.Park) && slices.Contains(m.Ends, e) {
				return true
			}
		}
	}
	return false
}

// After every repair the insulation of the circuit is read, and what stays live
// is said where the consumer unit is opened, and only there.
func TestRepairEndsWithInsulation(t *testing.T) {
	f := example(t, "stairs.yaml", fault.Options{SinglesOnly: true})
	for i, x := range f.Faults() {
		if i%7 > 0 {
			continue // each takes a prediction of every reading
		}
		r, err := f.Repair(&fault.Cause{Sets: [][]*fault.Fault{{x}}})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(r.Expect, func(e reading.Reading) bool { return e.Test == reading.Insulation && e.Point == "lights" }) {
			t.Errorf("%s: no insulation is read", x.ID())
		}
		if board := x.Place() == "board" || x.Cable == "feed"; board != (r.Caution != "") {
			t.Errorf("%s: the caution is %q", x.ID(), r.Caution)
		}
	}
}

// No test that is offered can put a likely short circuit on the supply, and none
// needs a cover off while live as long as a dead one tells something.
func TestOnlySafeTestsAreOffered(t *testing.T) {
	for _, name := range []string{"kitchen.yaml", "stairs.yaml", "bathroom.yaml"} {
		f := example(t, name, fault.Options{SinglesOnly: true})
		if err := f.See(fault.Seen{Kind: fault.SeenTrip, Of: circuit(f), Is: "trips"}); err != nil {
			t.Fatal(err)
		}
		offered := map[fault.SeenKind]int{}
		for range 30 {
			q, _ := f.Next()
			if q == nil {
				break
			}
			offered[q.Kind]++
			seen := q.Seen
			seen.Is = q.Results[0].Is
			if err := f.See(seen); err != nil {
				t.Fatal(err)
			}
		}
		if offered[fault.SeenLamp]+offered[fault.SeenVolts] > 0 || offered[fault.SeenReading]+offered[fault.SeenInsulation]+offered[fault.SeenLook] == 0 {
			t.Errorf("%s: after a trip these were offered: %v", name, slices.Sorted(maps.Keys(offered)))
		}
	}
}

// A lamp whose switched line and protective conductor are exchanged has a live
// case while its switch is on, and no device opens. Once that is likely, no test
// has the supply on in such a position.
func TestNoPowerOnWhereMetalIsLikelyLive(t *testing.T) {
	f := example(t, "workshop.yaml", fault.Options{SinglesOnly: true})
	i := slices.IndexFunc(f.Faults(), func(x *fault.Fault) bool { return x.ID() == "exchanged bench lead.brown lead.cpc" })
	if i < 0 {
		t.Fatal("no such fault")
	}
	risky := f.Risky(f.Faults()[i])
	if err := f.See(fault.Seen{Kind: fault.SeenCause, Of: f.Faults()[i].ID(), Is: "so"}); err != nil {
		t.Fatal(err)
	}
	asked := 0
	for q, _ := f.Next(); q != nil && asked < 200; q, _ = f.Next() {
		asked++
		if slices.ContainsFunc(risky, func(x fault.Seen) bool { return q.Kind == x.Kind && q.Of == x.Of && maps.Equal(q.With, x.With) }) {
			t.Fatalf("offered: %s", q.Text)
		}
		f.Skip(q)
	}
	if len(risky) == 0 || asked == 0 {
		t.Errorf("%d positions with live metal, %d tests offered", len(risky), asked)
	}
}

// A dead test at the consumer unit warns of what stays live in it, the others
// do not; every dead reading has the lamps out, as its prediction has; and a cord
// whose position nobody sees is to be pulled.
func TestWordsOfTests(t *testing.T) {
	f := example(t, "bathroom.yaml", fault.Options{SinglesOnly: true})
	if text := f.Instruction(&fault.Seen{Kind: fault.SeenLamp, Of: "shower.lamp"}); !strings.Contains(text, "links out, lamps in, every cover on") {
		t.Errorf("%q does not say how the house is left first", text)
	}
	board, other := 0, 0
	for range 400 {
		q, _ := f.Next()
		if q == nil {
			break
		}
		f.Skip(q)
		atBoard := strings.Contains(q.Text, "board")
		switch {
		case q.Kind == fault.SeenLamp || q.Kind == fault.SeenVolts:
		case atBoard != strings.Contains(q.Caution, "incoming terminals"):
			t.Errorf("%q has the caution %q", q.Text, q.Caution)
		case atBoard:
			board++
		default:
			other++
		}
		if q.Kind == fault.SeenReading && !strings.Contains(q.Text, "lamps out") {
			t.Errorf("%q leaves the lamps in", q.Text)
		}
		if len(q.With) > 0 && !strings.Contains(q.Text, "pulling the cord of cord") {
			t.Errorf("%q leaves the cord alone", q.Text)
		}
	}
	if board == 0 || other == 0 {
		t.Errorf("%d tests at the board, %d elsewhere", board, other)
	}
}

func circuit(f *fault.Finder) string { return f.Graph().Origins[0].Circuit.ID }

// The voltage at a lamp may be asked for, with its caution, where none of the
// dead tests can be made; not before.
func TestLiveOnlyWhenNothingElseTells(t *testing.T) {
	f := read(t, "dimmer", dimmed, fault.Options{SinglesOnly: true})
	for _, x := range []fault.Seen{{Kind: fault.SeenTrip, Of: "c", Is: "holds"}, {Kind: fault.SeenLamp, Of: "lamp.lamp", Is: "dark"}} {
		if err := f.See(x); err != nil {
			t.Fatal(err)
		}
	}
	live, dead := false, 0
	for range 1000 {
		q, _ := f.Next()
		if q == nil {
			break
		}
		if q.Kind == fault.SeenVolts {
			live = true
			if !strings.Contains(q.Caution, "competent person") {
				t.Errorf("a live test without its caution: %q", q.Caution)
			}
			break
		}
		dead++
		f.Skip(q)
	}
	if !live || dead < 10 {
		t.Errorf("live test offered: %t, after %d dead ones that could not be made", live, dead)
	}
}

const dimmed = `
job: { title: Invented }
supply: { earthing: TN-S, Ze: 0.3 ohm }
circuits: { c: { device: mcb-b6, board: board } }
boxes:
  board: { kind: consumer-unit }
  lamp: { kind: ceiling-point, fit: { lamp: batten-holder } }
  a: { kind: plaster-1g-35, fit: { s: dimmer } }
cables:
  feed: { kind: te-1.0, from: board, to: a, length: 5 m }
  back: { kind: te-1.0, from: a, to: lamp, length: 5 m }
joints:
  board: [[c.L, feed.brown], [c.N, feed.blue], [c.E, feed.cpc]]
  a: [[s.COM, feed.brown], [s.L1, back.brown], [feed.blue, back.blue], [feed.cpc, back.cpc]]
  lamp: [[lamp.L, back.brown], [lamp.N, back.blue], [lamp.E, back.cpc]]
`
