package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/route"
	"strapper/unit"
)

// askJob is storeJob with the wiring to be found: the lamp in the study is wired
// as found, and is wanted from a second place.
const askJob = `
job: { title: Second switch for the study }
supply: { earthing: TN-S, Ze: 0.4 ohm, temperature: 20 C }
circuits: { lights: { device: mcb-b6, rcd: rcd-30, board: board } }
boxes:
  board: { kind: consumer-unit }
  a: { kind: plaster-1g-35, fit: { s1: one-way, c: connector-3 } }
  rose: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
cables:
  feed: { kind: te-1.0, from: board, to: a, length: 5 m }
  lead: { kind: te-1.0, from: a, to: rose, length: 4 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  a: [[s1.COM, feed.brown], [s1.L1, lead.brown], [feed.blue, lead.blue], [feed.cpc, lead.cpc]]
  rose: [[lamp.SL, lead.brown], [lamp.N, lead.blue], [lamp.E, lead.cpc]]
could:
  boxes: { b: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [3ce-1.0], from: a, to: b%s }
want: [{ lamps: [rose.lamp], at: [a, b] }]
`

// Box b is in the same face of the same wall as a, 1000 mm to the right of it
// and as high.
var askHouse = strings.TrimRight(storeHouse, "\n") + "\n    b: { room: store, on: study, from-left: 2.35 m, height: 1.2 m }\n"

// A run without a length gets that of its best way: the search for a change
// reckons with it, and the wiring as left has it.
func TestRunsTakeTheirCostsFromTheHouse(t *testing.T) {
	r := runJob(t, fmt.Sprintf(askJob, "")+askHouse)
	if r.Way == nil {
		t.Fatalf("no way: %+v", r.Findings)
	}
	plan := &r.Routes.Runs[slices.IndexFunc(r.Routes.Runs, func(c route.Choice) bool { return c.Run == "strap" })].Routes[0]
	c := r.Left.Inst.Cable("strap")
	// Up and down the wall and along over the plate: 2 × (2400 - 1200 + 15 + 97) + 1000, as in house A
	// of docs/checks/05-route.md.
	const want = 3624
	if plan.Length != want || c.Length != 3630 || r.Way.Effort.Cable != 3630 {
		t.Errorf("route %v, cable %v, reckoned %v; want %d, rounded up to centimetres", plan.Length, c.Length, r.Way.Effort.Cable, want)
	}
	run := float64(plan.Minutes) + change.Usual().CableMetre*c.Length.Metres()
	if got := r.Way.Effort.RunMinutes; plan.Minutes <= 0 || math.Abs(got-run) > 0.05 {
		t.Errorf("the run is reckoned at %.2f min, want the %d of the route and its metres: %.2f", got, plan.Minutes, run)
	}
	if r.Way.Effort.Walls != plan.Opened {
		t.Errorf("%d walls opened, the route opens %d", r.Way.Effort.Walls, plan.Opened)
	}
	if own := r.Job.Ask.Could.Cables[0]; own.Length != 0 || !own.Routed || own.Minutes != 0 {
		t.Errorf("the job was changed: %+v", own)
	}
}

// What is stated is kept.
func TestStatedRunsAreKept(t *testing.T) {
	r := runJob(t, fmt.Sprintf(askJob, ", length: 6 m, time: 50 min, walls: [the new paper], via: behind the skirting")+askHouse)
	e := r.Way.Effort
	if e.Cable != 6*unit.Metre || e.Walls != 1 || math.Abs(e.RunMinutes-50-6*change.Usual().CableMetre) > 0.05 {
		t.Errorf("%+v", e)
	}
	r = runJob(t, fmt.Sprintf(askJob, ", time: 50 min, walls: [the new paper]")+askHouse)
	if e = r.Way.Effort; e.Cable != 3630 || e.Walls != 1 || math.Abs(e.RunMinutes-50-3.63*change.Usual().CableMetre) > 0.05 {
		t.Errorf("length from the house, the rest stated: %+v", e)
	}
}

// Without a house, or where it does not place a box, a length is asked for.
func TestRunsWithoutLengthNeedAHouse(t *testing.T) {
	_, _, problems := readJob(t, fmt.Sprintf(askJob, ""))
	if text := problems.String(); !strings.Contains(text, `could.cables.strap lacks "length"`) {
		t.Errorf("%s", text)
	}
	_, _, problems = readJob(t, fmt.Sprintf(askJob, "")+storeHouse)
	if text := problems.String(); !strings.Contains(text, "the house does not say where box b is") {
		t.Errorf("%s", text)
	}
}

// A wall of the house may be shut to the search; a run whose way opens it is
// not used then.
func TestWallsOfTheHouseCanBeLimited(t *testing.T) {
	chased := strings.Replace(askHouse, "partition: stud-63", "partition: brick-102", 1)
	r := runJob(t, fmt.Sprintf(askJob, "")+chased)
	if r.Way == nil || r.Way.Effort.Walls != 1 {
		t.Fatalf("in a brick wall: %+v %+v", r.Way, r.Findings)
	}
	r = runJob(t, fmt.Sprintf(askJob, "")+"limits: { walls: [store-study] }"+chased)
	if r.Way != nil || !slices.ContainsFunc(r.Findings, func(f finding.Finding) bool {
		return f.Code == "no-way" && strings.Contains(f.Witness+f.Fix+f.Text, "store-study")
	}) {
		t.Errorf("the wall is cut all the same, or not named: %+v", r.Findings)
	}
	_, _, problems := readJob(t, fmt.Sprintf(askJob, "")+"limits: { walls: [store-studio] }"+chased)
	if text := problems.String(); !strings.Contains(text, `did you mean "store-study"?`) {
		t.Errorf("%s", text)
	}
}

// To an outbuilding that the house section does not join to the house no way
// leads: the run is left out, and the file says where it stands.
func TestRunsWithoutAWayAreLeftOut(t *testing.T) {
	r := runJob(t, fmt.Sprintf(askJob, "")+`
house:
  storeys: { ground: { height: 2.4 m } }
  loft: { none: true }
  outside: brick-215
  floors: { ground: { solid: true } }
  rooms:
    store: { outline: [[0 m, 0 m], [3 m, 0 m], [3 m, 4 m], [0 m, 4 m]] }
    study: { outline: [[20 m, 0 m], [23 m, 0 m], [23 m, 4 m], [20 m, 4 m]] }
  boxes:
    board: { room: store, on: left, from-left: 3.4 m, height: 1.5 m }
    a: { room: store, on: right, from-left: 1.35 m, height: 1.2 m }
    rose: { room: store, on: ceiling, from-left: 1.75 m, from-front: 2 m }
    b: { room: study, on: left, from-left: 1.35 m, height: 1.2 m }
`)
	i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "no-length" })
	if i < 0 || r.Way != nil || len(r.Job.Ask.Could.Cables) != 1 {
		t.Fatalf("%+v %+v", r.Way, r.Findings)
	}
	if f := r.Findings[i]; f.Severity != finding.Caution || f.Position.Line != 19 {
		t.Errorf("%+v, want a caution at line 19", f)
	}
}
