package engine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"strapper/cost"
	"strapper/engine"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/unit"
)

// storeJob is an invented single storey: a switch on a stud wall, its lamp in the
// next room's ceiling. Its geometry is that of house A of
// docs/checks/05-route.md, whose way from the box to the rose is 3,868 mm, give
// or take 294; cables are given whole centimetres.
const storeJob = `
job: { title: Lamp in the study }
supply: { earthing: TN-S, Ze: 0.4 ohm, temperature: 20 C }
circuits: { lights: { device: mcb-b6, rcd: rcd-30, board: board } }
boxes:
  board: { kind: consumer-unit }
  a: { kind: plaster-1g-35, fit: { s1: one-way, c: connector-3 } }
cables:
  feed: { kind: te-1.0, from: board, to: a%s }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  a: [[s1.COM, feed.brown], [s1.L1], [feed.blue], [feed.cpc]]
left:
  boxes: { rose: { kind: ceiling-point, fit: { lamp: ceiling-rose } } }
  cables:
    new: { kind: 3ce-1.0, from: a, to: rose%s }
  joints:
    a: [[s1.COM, feed.brown], [s1.L1, new.brown], [feed.blue, new.black], [feed.cpc, new.cpc], [new.grey]]
    rose: [[lamp.SL, new.brown], [lamp.N, new.black], [lamp.E, new.cpc], [new.grey]]
want: [{ lamps: [rose.lamp], from: [a.s1] }]
`

const storeHouse = `
house:
  storeys: { ground: { height: 2.4 m } }
  rooms:
    store: { size: 3 m x 4 m }
    study: { size: 3.5 m x 4 m, right-of: store }
  partition: stud-63
  boxes:
    board: { room: store, on: study, from-left: 3.4 m, height: 1.5 m }
    a: { room: store, on: study, from-left: 1.35 m, height: 1.2 m }
    rose: { room: study, on: ceiling, from-left: 1.75 m, from-front: 2 m }
`

func readJob(t *testing.T, text string) (*job.Job, *kit.Catalogue, job.Problems) {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read("store.yaml", []byte(text), cat)
	return j, cat, problems
}

func runJob(t *testing.T, text string) *engine.Result {
	t.Helper()
	j, cat, problems := readJob(t, text)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	r, err := engine.Run(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A new cable without a length gets that of its way, and readings and parts
// follow; the job itself is not changed.
func TestLengthsComeFromTheHouse(t *testing.T) {
	r := runJob(t, fmt.Sprintf(storeJob, ", length: 5 m", "")+storeHouse)
	c := r.Final().Inst.Cable("new")
	if c.Length != 3870 || c.Tolerance != 300 || c.Via != "through the loft" {
		t.Errorf("%v ± %v via %q, want 3870 ± 300 through the loft", c.Length, c.Tolerance, c.Via)
	}
	if own := r.Job.Left.Cable("new"); own.Length != 0 || !own.Routed {
		t.Errorf("the job was changed: %+v", own)
	}
	if len(r.Routes.Runs) != 1 || r.Routes.Runs[0].Routes[0].Length != 3868 {
		t.Errorf("%+v", r.Routes)
	}
	// The take-off: longest, tails of 200 and 300 mm, 10 % waste:
	// (3870 + 300 + 500) × 1.1 = 5137.
	i := slices.IndexFunc(r.Parts.Lines, func(l cost.Line) bool { return l.Kind == "3ce-1.0" })
	if i < 0 || r.Parts.Lines[i].Length != 5137 {
		t.Errorf("take-off %+v", r.Parts.Lines)
	}
}

// A cable that is there already may lie another way: a quarter of its length
// more uncertain.
func TestLengthsOfCablesThatAreThere(t *testing.T) {
	r := runJob(t, fmt.Sprintf(storeJob, "", ", length: 4 m")+storeHouse)
	c := r.Found.Inst.Cable("feed")
	if c.Length == 0 || c.Tolerance < c.Length/4+100 {
		t.Errorf("%v ± %v", c.Length, c.Tolerance)
	}
	if len(r.Routes.Runs) != 1 || r.Routes.Runs[0].Run != "new" {
		t.Errorf("ways for %+v, want the new cable's only", r.Routes.Runs)
	}
}

// A stated length that fits the way is not remarked upon; one that does not is.
func TestStatedLengthsAreCompared(t *testing.T) {
	for length, want := range map[string]bool{"4 m": false, "3.6 m": false, "6 m": true, "2 m": true} {
		r := runJob(t, fmt.Sprintf(storeJob, ", length: 5 m", ", length: "+length)+storeHouse)
		got := slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "length-differs" })
		if got != want || r.Final().Inst.Cable("new").Length == 3868 {
			t.Errorf("%s: remarked %v, want %v", length, got, want)
		}
	}
	r := runJob(t, fmt.Sprintf(storeJob, ", length: 5 m", ", length: 6 m, via: along the skirting")+storeHouse)
	if r.Routes != nil {
		t.Error("a cable whose way is given was given another")
	}
}

// Without a house nothing changes, and a length is asked for.
func TestJobsWithoutAHouse(t *testing.T) {
	r := runJob(t, fmt.Sprintf(storeJob, ", length: 5 m", ", length: 4 m"))
	if r.Routes != nil || r.Final().Inst.Cable("new").Length != 4*unit.Metre {
		t.Errorf("%+v", r.Routes)
	}
	_, _, problems := readJob(t, fmt.Sprintf(storeJob, ", length: 5 m", ""))
	if text := problems.String(); !strings.Contains(text, `left.cables.new lacks "length"`) {
		t.Errorf("%s", text)
	}
	half := strings.Replace(storeHouse, "    board: { room: store, on: study, from-left: 3.4 m, height: 1.5 m }\n", "", 1)
	_, _, problems = readJob(t, fmt.Sprintf(storeJob, "", "")+half)
	if text := problems.String(); !strings.Contains(text, "does not say where box board is") {
		t.Errorf("%s", text)
	}
}

// The route tells the rule book that a cable is hidden in a stud wall: its
// circuit needs a 30 mA device (BS 7671 522.6.202).
func TestHiddenCablesNeedAnRCD(t *testing.T) {
	text := fmt.Sprintf(storeJob, ", length: 5 m", "") + storeHouse
	for device, want := range map[string]bool{"mcb-b6, rcd: rcd-30": false, "rcbo-b6": false, "mcb-b6": true} {
		r := runJob(t, strings.Replace(text, "mcb-b6, rcd: rcd-30", device, 1))
		got := slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Code == "no-rcd-hidden" })
		if got != want {
			t.Errorf("%s: asked for %v, want %v", device, got, want)
		}
	}
}

// How a cable lies along its route is what its rating goes by: up an unfilled
// stud wall reckoned as method 102, then on loft joists under more than 100 mm
// of insulation, method 101 (BS 7671 Table 4A2). The worst of a 1.0 mm² cable is
// 10.5 A (Table 4D5, method 101), not the 8 A of a cable of which nothing is known.
func TestRoutesSayHowCablesLie(t *testing.T) {
	text := fmt.Sprintf(storeJob, ", length: 5 m", "") + storeHouse
	r := runJob(t, text)
	if r.Sizes == nil {
		t.Fatal("no sizes")
	}
	var methods []string
	for _, c := range r.Sizes.Circuits {
		for _, s := range c.Stretches {
			if s.Cable == "new" {
				methods = append(methods, s.How)
			}
		}
	}
	want := []string{
		"in an insulated stud wall, touching its inner face", "wholly surrounded by insulation", // where it passes through the loft's insulation
		"above a ceiling, under more than 100 mm of insulation",
	}
	if !slices.Equal(methods, want) {
		t.Errorf("the new cable lies %q, want %q", methods, want)
	}
}
