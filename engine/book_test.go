package engine_test

import (
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"strapper/engine"
	"strapper/job"
	"strapper/kit"
	"strapper/rules"
	"strapper/rules/books"
	"strapper/unit"
	"strapper/wiring"
)

func text(t testing.TB, file string) string {
	t.Helper()
	b, err := os.ReadFile("../examples/" + file)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// with is an example job with text added at its end.
func with(t testing.TB, file, more string) (*job.Job, *kit.Catalogue) {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read(file, []byte(text(t, file)+more), cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	return j, cat
}

func run(t testing.TB, j *job.Job, cat *kit.Catalogue) *engine.Result {
	t.Helper()
	r, err := engine.Run(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Where an earth fault would not be disconnected in time the work is forbidden:
// TT without RCD, or more than 50 V / 30 mA = 1667 Ω behind one (BS 7671:2018
// 411.5.3); TN above the 7.28 Ω of a B6 (Table 41.3: 0.95 × 230 V / 30 A),
// unless an RCD disconnects in its place, which is for a person to decide.
func TestDisconnection(t *testing.T) {
	for _, c := range []struct {
		earthing wiring.Earthing
		ze       unit.Ohm
		rcd      string
		want     string
	}{
		{wiring.TT, 62, "", "no-rcd forbids"},
		{wiring.TT, 62, "rcd-30", ""},
		{wiring.TT, 1800, "rcd-30", "loop-too-high forbids"},
		{wiring.TT, 5000, "rcd-30", "loop-too-high forbids"},
		{wiring.TNS, 0.8, "", ""},
		{wiring.TNS, 7.5, "", "loop-too-high forbids"},
		{wiring.TNS, 7.5, "rcd-30", "loop-too-high caution"},
		{wiring.TNS, 5.6, "", "loop-too-high caution"}, // its band holds the limit
	} {
		j, cat := with(t, "stairs.yaml", "")
		for _, in := range []*wiring.Installation{j.Found, j.Left} {
			in.Supply.Earthing, in.Supply.Ze = c.earthing, c.ze
			in.Circuits[0].RCD = cat.Devices[c.rcd]
		}
		got := ""
		for _, f := range run(t, j, cat).Findings {
			if f.Code == "no-rcd" || f.Code == "loop-too-high" {
				got += f.Code + " " + f.Severity.String()
			}
		}
		if got != c.want {
			t.Errorf("%s, %v, RCD %q: %q, want %q", c.earthing, c.ze, c.rcd, got, c.want)
		}
	}
}

// Every check of every book that can be not met says what that means, and
// every weight is of a check that exists.
func TestEveryCheckIsWeighed(t *testing.T) {
	all, err := books.All()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, b := range all {
		for _, k := range b.Checks {
			seen[k.ID] = true
			if !engine.Weighed(k.ID) && k.Work == nil {
				t.Errorf("%s, %s: no weight, so nobody is told when it is not met", b.Name(), k.ID)
			}
		}
	}
	for _, id := range engine.WeighedChecks() {
		if !seen[id] {
			t.Errorf("%q has a weight, and no book has such a check", id)
		}
	}
}

// A reading is judged by its rows. Of 6.5 m + 11 m + … of 1.0/1.0 cable the band
// is what the program predicts; a reading of twice as much is no such cable,
// and one of 0.2 MΩ fails by Table 64 (1 MΩ at 500 V: T. Linsley, Basic
// Electrical Installation Work, p. 356).
func TestReadingsAreJudged(t *testing.T) {
	j, cat := with(t, "stairs.yaml", `
instruments:
  meter: { accuracy: 2 %, digits: 2, resolution: 0.01 ohm, leads: nulled }
readings:
  - { test: R1+R2, at: stairs.lamp, reads: 5 ohm, instrument: meter }
  - { test: R2, at: stairs.lamp, reads: open, instrument: meter }
  - { test: insulation, at: lights, reads: 0.2 Mohm, volts: 500 V }
  - { test: insulation, at: lights, reads: ">200 Mohm", volts: 500 V }
  - { test: RCD time, at: lights, reads: 24 ms }
  - { test: insulation, at: lights, reads: 1.2 Mohm, volts: 500 V }
`)
	r := run(t, j, cat)
	want := []rules.Outcome{rules.NotMet, rules.NotMet, rules.NotMet, rules.Met, rules.Met, rules.TooClose}
	var got []rules.Outcome
	for i := range r.Readings {
		got = append(got, r.Readings[i].Worst().Outcome)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if !r.Failed() {
		t.Error("readings that fail do not fail the job")
	}
	var codes []string
	for _, f := range r.Findings {
		if strings.HasPrefix(f.Code, "reading-") {
			codes = append(codes, f.Code)
		}
		if f.Position.Line == 0 {
			t.Errorf("%s has no place", f.Code)
		}
	}
	slices.Sort(codes)
	if want := []string{"reading-differs", "reading-fails", "reading-fails", "reading-too-close"}; !slices.Equal(codes, want) {
		t.Errorf("findings %q, want %q", codes, want)
	}
}

// The readings that are predicted, written back as taken, agree: the prediction
// and the judgement meet. (A closed loop of the program; the figures are
// checked where they are predicted.)
func TestPredictedReadingsAgree(t *testing.T) {
	j, cat := with(t, "stairs.yaml", "")
	var more strings.Builder
	more.WriteString("\nreadings:\n")
	for _, row := range run(t, j, cat).Final().Readings.Rows {
		if row.Ohm == nil || row.Test.Live() || row.Test.Calculated() || row.Test == "polarity" {
			continue
		}
		fmt.Fprintf(&more, "  - { test: %s, at: %s, leads: [%q, %q], reads: %.4f ohm, with: {", row.Test, row.Point, row.Between[0], row.Between[1], float64(row.Ohm.Nominal))
		for id, position := range row.Switches {
			fmt.Fprintf(&more, " %s: %q,", id, position)
		}
		more.WriteString(" } }\n")
	}
	j, cat = with(t, "stairs.yaml", more.String())
	r := run(t, j, cat)
	if len(r.Readings) < 5 {
		t.Fatalf("only %d readings", len(r.Readings))
	}
	for i := range r.Readings {
		if v := r.Readings[i].Worst(); v == nil || v.Outcome != rules.Met {
			t.Errorf("%s: %v", r.Readings[i].Case.Name, v)
		}
	}
}

// A bathroom is judged by its zones: IPX4 in zones 1 and 2, no switch there
// (701.512.2, 701.512.3, from memory, to be confirmed); in England work in the
// zones is notifiable (Part P list of 2013).
func TestPlaces(t *testing.T) {
	fresh := strings.NewReplacer(
		"zones 1 and 2\", place: bathroom, zone: outside,", "zones 1 and 2\", place: bathroom, zone: zone 1,", "nation: Wales", "nation: England",
		"power: 15 W", "power: 15 W, ip: IP23",
	).Replace(text(t, "bathroom.yaml"))
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read("bathroom.yaml", []byte(fresh), cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	r := run(t, j, cat)
	if codes := forbidding(r.Findings); !slices.Contains(codes, "bath-ip") {
		t.Errorf("IP23 in zone 1: forbidden by %q", codes)
	}
	for _, v := range r.Verdicts {
		if v.Check == "notify-england" && v.Outcome != rules.ToDo {
			t.Errorf("%s: %s", v.Outcome, v.Why)
		}
	}
}

// With nothing known, nothing is said to be met that was not looked at.
func TestNothingStated(t *testing.T) {
	j, cat := with(t, "gallery.yaml", "") // it has no house, which would tell of walls
	for _, v := range run(t, j, cat).Verdicts {
		switch v.Check {
		case "bath-ip", "outside-ip", "ladders", "lone-working": // the routes tell whether cables are hidden
			if v.Outcome == rules.Met || v.Outcome == rules.NotMet {
				t.Errorf("%s is %s, and nothing was stated: %s", v.Check, v.Outcome, v.Why)
			}
		}
	}
}

// An edition or book that is not there is a problem of the file.
func TestBookOfTheJob(t *testing.T) {
	j, _ := with(t, "stairs.yaml", "\nbook: { id: bs7671, edition: \"2018+A2:2022+A3:2024\" }\n")
	if j.Book.Edition != "2018+A2:2022+A3:2024" {
		t.Errorf("%s", j.Book.Name())
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	_, problems := job.Read("x.yaml", []byte(text(t, "stairs.yaml")+"\nbook: { id: nowhere }\n"), cat)
	if len(problems) != 1 || !strings.Contains(problems.String(), "nowhere") {
		t.Errorf("%v", problems)
	}
}

// twelve is a job of twelve points by pattern: eleven rooms off one circuit and
// one more.
func twelve(t testing.TB) (*job.Job, *kit.Catalogue) {
	t.Helper()
	var b strings.Builder
	b.WriteString("job: { title: Twelve points, date: 2026-11-25 }\nsupply: { earthing: TN-C-S, Ze: 0.35 ohm }\ncircuits: { lights: { device: mcb-b6, rcd: rcd-30, board: board } }\nboxes: { board: { kind: consumer-unit } }\npatterns:\n")
	for i := range 12 {
		from := "circuit: lights"
		if i > 0 {
			from = fmt.Sprintf("previous: r%d", i-1)
		}
		fmt.Fprintf(&b, "  - { use: loop-in-ceiling, name: r%d, %s, feed: 4 m, drop: 3 m }\n", i, from)
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read("twelve.yaml", []byte(b.String()), cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	return j, cat
}

// The whole book over a job of twelve points; asked for: under 2 ms.
func BenchmarkBook(b *testing.B) {
	j, cat := twelve(b)
	r := run(b, j, cat)
	if len(r.Final().Graph.Lamps()) != 12 {
		b.Fatalf("%d lamps", len(r.Final().Graph.Lamps()))
	}
	b.ReportAllocs()
	for b.Loop() {
		engine.JudgeAgain(r)
	}
}

// A batch of 10,000 jobs judged one after the other: what is held afterwards
// does not grow with their number.
func BenchmarkBookBatch(b *testing.B) {
	j, cat := twelve(b)
	r := run(b, j, cat)
	for b.Loop() {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		for range 10_000 {
			engine.JudgeAgain(r)
		}
		runtime.GC()
		runtime.ReadMemStats(&after)
		b.ReportMetric(float64(int64(after.HeapAlloc)-int64(before.HeapAlloc))/1e6, "MB-kept")
	}
}

// The catalogue and the book may not say two things: the resistances of
// conductors are in both. (Both cite the same table.)
func TestCatalogueAgreesWithTheBook(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	b, err := books.Find("", "")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range cat.Physics.Conductors {
		if a := rules.Ask(b, rules.Resistance, rules.Area(row.Area)); !a.Found || math.Abs(float64(a.Value/row.Resistance)-1) > 1e-12 {
			t.Errorf("%v: %v Ω/m in the catalogue, %v in the book", row.Area, row.Resistance, a.Value)
		}
	}
}

// A thousand jobs from text to verdicts on all processors; with -benchtime 10x
// it is ten thousand. What is held afterwards does not grow with their number.
func BenchmarkBatch(b *testing.B) {
	file := []byte(text(b, "stairs.yaml"))
	cat, err := kit.Open()
	if err != nil {
		b.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	for b.Loop() {
		var group sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			group.Go(func() {
				for range 1000 / runtime.GOMAXPROCS(0) {
					j, _ := job.Read("stairs.yaml", file, cat)
					if _, err := engine.Run(j, cat); err != nil {
						b.Error(err)
					}
				}
			})
		}
		group.Wait()
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(int64(after.HeapAlloc)-int64(before.HeapAlloc))/1e6, "MB-kept")
	b.ReportMetric(float64(before.Sys)/1e6, "MB-before")
	b.ReportMetric(float64(after.Sys)/1e6, "MB-after")
}

// Where the file has a house, the room in which a box stands tells its place;
// what is said of the box itself comes first.
func TestPlaceByTheHouse(t *testing.T) {
	j, cat := with(t, "kitchen.yaml", "")
	seen := map[rules.Place]bool{}
	for _, c := range engine.Points(run(t, j, cat)) {
		seen[c.Place] = true
	}
	if !seen[rules.PlaceKitchen] || seen[rules.PlaceUnknown] {
		t.Errorf("places of a house with a kitchen: %v", seen)
	}
	for _, b := range j.Left.Boxes {
		b.Place = "outside"
	}
	for _, c := range engine.Points(run(t, j, cat)) {
		if c.Place != rules.PlaceOutside {
			t.Errorf("%s is in %q, said to be outside", c.Name, c.Place)
		}
	}
}
