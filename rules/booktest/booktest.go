// Package booktest is the suite that any rule book must pass. A book gives it
// cases whose outcomes come from outside the program, and the suite asks:
//
//   - does each case come out as its source says;
//   - is a case of which nothing is known never met and never breached;
//   - does no case, however odd, make a check panic or stay silent;
//   - does a look-up off the table say so, and never guess;
//   - is each cell of each table noticed by some case when it is changed by a
//     few per cent either way?
//
// What it finds it writes into the book's COVERAGE.md: which rules are covered
// by how many cases, and which cells nothing guards.
package booktest

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"strapper/rules"
	"strapper/unit"
)

// Case is one case with the outcome that its source gives. Exactly one of the
// five that are judged is set.
type Case struct {
	Source string // what says so: document, table, example; or the arithmetic

	Check   string // the check that is looked at
	Point   *rules.PointCase
	Circuit *rules.CircuitCase
	Reading *rules.ReadingCase
	Work    *rules.WorkCase
	Want    rules.Outcome

	// Answer is instead a question put to the book, with the value that comes
	// back, in base units of package unit, right to Tolerance.
	Answer    func(*rules.Book) (value float64, found bool)
	Name      string // of the question
	Value     float64
	Tolerance float64
}

// Asked is a case that puts a question to the book.
func Asked[T rules.Quantity](source string, value, tolerance float64, q rules.Question[T], keys ...rules.Key) Case {
	return Case{
		Source: source, Name: string(q) + words(keys), Value: value, Tolerance: tolerance,
		Answer: func(b *rules.Book) (float64, bool) {
			a := rules.Ask(b, q, keys...)
			return float64(a.Value), a.Found
		},
	}
}

func words(keys []rules.Key) string {
	var b strings.Builder
	for _, k := range keys {
		b.WriteString(" " + k.Value)
	}
	return b.String()
}

// Suite is what a book brings.
type Suite struct {
	Cases    []Case
	Not      []string          // rules of the document that the book does not cover, in words
	Unguard  map[string]string // tables whose cells may go unnoticed, by clause, with the reason
	Coverage string            // file to write, "COVERAGE.md"
	Update   bool              // write it anew instead of comparing
}

// fails is why a case does not come out as wanted, empty if it does.
func (c *Case) fails(b *rules.Book) string {
	if c.Answer != nil {
		v, found := c.Answer(b)
		if !found {
			return c.Name + ": not answered"
		}
		if d := v - c.Value; d > c.Tolerance || d < -c.Tolerance {
			return fmt.Sprintf("%s: %.6g, want %.6g ± %.3g", c.Name, v, c.Value, c.Tolerance)
		}
		return ""
	}
	for _, v := range c.judge(only(b, c.Check)) {
		if v.Check == c.Check {
			if v.Outcome != c.Want {
				return fmt.Sprintf("%s: %s, want %s: %s", c.Check, v.Outcome, c.Want, v.Why)
			}
			return ""
		}
	}
	if c.Want == rules.NotApplicable && c.Reading != nil {
		return "" // left out of the list
	}
	return c.Check + ": no such check"
}

// only is the book with one of its checks.
func only(b *rules.Book, check string) *rules.Book {
	c := *b
	for i := range b.Checks {
		if b.Checks[i].ID == check {
			c.Checks = b.Checks[i : i+1]
		}
	}
	return &c
}

func (c *Case) judge(b *rules.Book) []rules.Verdict {
	switch {
	case c.Point != nil:
		return b.Point(nil, c.Point)
	case c.Circuit != nil:
		return b.Circuit(nil, c.Circuit)
	case c.Reading != nil:
		return b.Reading(nil, c.Reading)
	case c.Work != nil:
		return b.Work(nil, c.Work)
	}
	return nil
}

// Run holds the book against the suite.
func Run(t *testing.T, b *rules.Book, s Suite) {
	t.Helper()
	t.Run("cases", func(t *testing.T) { s.cases(t, b) })
	t.Run("nothing known", func(t *testing.T) { unknown(t, b) })
	t.Run("odd cases", func(t *testing.T) { odd(t, b) })
	t.Run("off the table", func(t *testing.T) { off(t, b) })
	t.Run("cells", func(t *testing.T) { s.cells(t, b) })
}

// Hold runs the cases alone over a book: another edition that shares them.
func Hold(t *testing.T, b *rules.Book, list []Case) {
	t.Helper()
	for i := range list {
		if why := list[i].fails(b); why != "" {
			t.Errorf("%s: %s (%s)", b.Name(), why, list[i].Source)
		}
	}
}

func (s *Suite) cases(t *testing.T, b *rules.Book) {
	seen := map[string]map[rules.Outcome]bool{}
	for i := range s.Cases {
		c := &s.Cases[i]
		if c.Source == "" {
			t.Errorf("case %d of %s%s names no source", i, c.Check, c.Name)
		}
		if why := c.fails(b); why != "" {
			t.Errorf("%s (%s)", why, c.Source)
		}
		if seen[c.Check] == nil {
			seen[c.Check] = map[rules.Outcome]bool{}
		}
		seen[c.Check][c.Want] = true
	}
	for _, k := range b.Checks {
		if got := seen[k.ID]; len(got) < 2 {
			t.Errorf("check %s is seen with %d outcomes; a test that cannot fail proves nothing", k.ID, len(got))
		}
	}
}

// unknown: of nothing known nothing may be said.
func unknown(t *testing.T, b *rules.Book) {
	var list []rules.Verdict
	list = b.Point(list, &rules.PointCase{})
	list = b.Circuit(list, &rules.CircuitCase{})
	list = b.Work(list, &rules.WorkCase{})
	for _, kind := range kinds {
		list = b.Reading(list, &rules.ReadingCase{Kind: kind})
	}
	for _, v := range list {
		known := v.Check == "measured-insulation" || v.Check == "insulation-look" // a reading of zero is a reading
		if (v.Outcome == rules.Met || v.Outcome == rules.NotMet) && !known {
			t.Errorf("%s is %s of a case of which nothing is known: %s", v.Check, v.Outcome, v.Why)
		}
	}
	complete(t, b, list)
}

var kinds = []rules.ReadingKind{
	rules.ReadContinuity, rules.ReadOpen, rules.ReadInsulation, rules.ReadLoop,
	rules.ReadExternal, rules.ReadRCDTime, rules.ReadFault,
}

// complete: every verdict says something, cites something, and a breach or a
// thing left open says what to do.
func complete(t *testing.T, b *rules.Book, list []rules.Verdict) {
	t.Helper()
	for _, v := range list {
		switch {
		case v.Outcome == "" || v.Why == "":
			t.Errorf("%s says nothing: %+v", v.Check, v)
		case v.Citation.Document == "" || v.Citation.Clause == "" || !v.Source.Authority.Valid():
			t.Errorf("%s cites nothing: %+v", v.Check, v.Citation)
		case v.Fix == "" && (v.Outcome == rules.NotMet || v.Outcome == rules.ToDo || v.Outcome == rules.NotAssessed || v.Outcome == rules.TooClose):
			t.Errorf("%s is %s and does not say what to do", v.Check, v.Outcome)
		}
		for _, c := range v.Cells {
			if !holds(b, c) {
				t.Errorf("%s used a cell that is not the book's: %v", v.Check, c)
			}
		}
	}
}

func holds(b *rules.Book, c rules.Cell) bool {
	return slices.ContainsFunc(b.Tables, func(t *rules.Table) bool { return slices.Contains(t.Cells, c) })
}

// odd: seeded random cases, most of them impossible.
func odd(t *testing.T, b *rules.Book) {
	r := rand.New(rand.NewPCG(7671, 60364))
	for range 2000 {
		var list []rules.Verdict
		list = b.Point(list, oddPoint(r))
		list = b.Circuit(list, oddCircuit(r))
		list = b.Reading(list, oddReading(r))
		list = b.Work(list, oddWork(r))
		complete(t, b, list)
		if t.Failed() {
			return
		}
	}
}

// off: absurd keys are found in no table, whatever is asked.
func off(t *testing.T, b *rules.Book) {
	for _, table := range b.Tables {
		var keys []rules.Key
		for _, c := range table.Columns {
			keys = append(keys, rules.Key{Name: c.Name, Value: "9.87654e30"})
		}
		if c, ok, why := table.Lookup(keys...); ok && !slices.ContainsFunc(table.Columns, func(c rules.Column) bool { return c.Up }) || !ok && why == "" {
			t.Errorf("%s answers %v to nonsense: %q", table.Citation, c, why)
		}
		if _, ok, why := table.Lookup(); ok || why == "" {
			t.Errorf("%s answers without keys: %q", table.Citation, why)
		}
	}
}

// step is by how much each cell is changed.
const step = 0.05

// cells changes each cell either way and asks whether a case notices.
func (s *Suite) cells(t *testing.T, b *rules.Book) {
	var unguarded []string
	guarded := map[string]int{}
	for i, table := range b.Tables {
		for k, cell := range table.Cells {
			if s.noticed(b, i, k, cell.Value*(1+step)) && s.noticed(b, i, k, cell.Value*(1-step)) {
				guarded[table.Citation.String()]++
				continue
			}
			unguarded = append(unguarded, cell.String())
			if _, known := s.Unguard[table.Citation.Clause]; !known {
				t.Errorf("no case notices when this cell is changed by %.0f %%: %v", step*100, cell)
			}
		}
	}
	s.write(t, b, guarded, unguarded)
}

func (s *Suite) noticed(b *rules.Book, table, cell int, value float64) bool {
	changed := b.With(table, cell, value)
	return slices.ContainsFunc(s.Cases, func(c Case) bool { return c.fails(changed) != "" })
}

func pick[T any](r *rand.Rand, list ...T) T { return list[r.IntN(len(list))] }

func fact(r *rand.Rand) rules.Fact { return pick(r, rules.Unknown, rules.Yes, rules.No) }

func given[T rules.Quantity](r *rand.Rand, most float64) rules.Given[T] {
	return rules.Given[T]{Value: T(pick(r, 0, r.Float64()*most)), Known: r.IntN(3) > 0}
}

func oddPoint(r *rand.Rand) *rules.PointCase {
	return &rules.PointCase{
		Name: "x", Kind: pick(r, rules.KindLamp, rules.KindSwitch, rules.KindPull, rules.KindFan, ""),
		Place: pick(r, rules.PlaceUnknown, rules.PlaceBathroom, rules.PlaceOutside, rules.PlaceRoom, "moon"),
		Zone:  pick(r, rules.ZoneUnknown, rules.Zone0, rules.Zone1, rules.Zone2, rules.ZoneOutside, "9"),
		IP:    pick(r, "", "IP", "IPX", "IPX4", "IP44", "IP2X", "ip 65", "forty-four", "IPé5"),
		New:   fact(r), Extra: fact(r), Earthed: fact(r), Metal: fact(r), Hung: fact(r),
	}
}

func oddCircuit(r *rand.Rand) *rules.CircuitCase {
	return &rules.CircuitCase{
		Name: "x", System: pick(r, "", "TN-S", "TN-C-S", "TT", "IT"), Voltage: pick(r, unit.Volt(0), 230), Private: r.IntN(2) == 0, Use: pick(r, "", "lighting", "other"),
		Serves: fact(r), New: fact(r), Hidden: fact(r), Wet: fact(r), Holders: fact(r), Overload: fact(r), Direct: fact(r), Bonded: fact(r),
		DeviceKind: pick(r, "", "mcb", "rcbo", "rewirable fuse", "cartridge fuse", "rcd"), Curve: pick(r, "", "B", "C", "Z"), Rated: pick(r, unit.Ampere(0), 5, 6, 7, 16),
		Capacity: pick(r, unit.Ampere(0), 6000), RCD: given[rules.Guard](r, 0.3), RCDType: pick(r, "", "AC", "A"),
		Design: given[unit.Ampere](r, 20), Carries: pick(r, unit.Ampere(0), 8), Drop: given[unit.Volt](r, 20),
		Ze: given[unit.Ohm](r, 300), Zs: given[unit.Ohm](r, 300), ZsLow: given[unit.Ohm](r, 10), Fault: given[unit.Ampere](r, 20e3),
		Clears: given[unit.Second](r, 5), LeastIF: given[unit.Ampere](r, 500), Line: pick(r, unit.SquareMillimetre(0), 0.75, 1), Earth: given[unit.SquareMillimetre](r, 2),
		EarthRuns: pick(r, "", rules.InCable, rules.Separate), Insulation: pick(r, "", rules.Thermoplastic70, "tar"), Sheath: pick(r, "", "pvc", "rubber", "lead"), Route: pick(r, 0, 250*unit.Metre),
	}
}

func oddReading(r *rand.Rand) *rules.ReadingCase {
	return &rules.ReadingCase{
		Name: "x", Kind: pick(r, kinds...), Value: pick(r, 0, r.Float64(), r.Float64()*1e7), Over: r.IntN(4) == 0, Under: r.IntN(4) == 0,
		At: 10, AtKnown: r.IntN(2) == 0, Ambient: 20, Forecast: r.IntN(2) == 0, Predicts: r.IntN(4) == 0, Predicted: rules.Span{Low: 0.1, Nominal: 0.2, High: 0.3},
		Meter:    rules.Meter{Stated: r.IntN(2) == 0, Accuracy: 3, Digits: 3, Resolution: 0.01, Nulled: fact(r), Leads: pick(r, unit.Ohm(0), 0.1)},
		PerMetre: pick(r, unit.OhmPerMetre(0), 0.0362), System: pick(r, "", "TN-S", "TT"), DeviceKind: pick(r, "", "mcb"), Curve: pick(r, "", "B"), Rated: pick(r, unit.Ampere(0), 6),
		Residual: pick(r, rules.Guard(0), 0.03), RCDKind: pick(r, "", "general", "S"), Multiple: pick(r, 0.0, 1, 5), Ze: given[unit.Ohm](r, 1),
		TestVolts: pick(r, unit.Volt(0), 250, 500), Circuit: pick(r, "", "up to 500 V", "SELV or PELV"),
	}
}

func oddWork(r *rand.Rand) *rules.WorkCase {
	return &rules.WorkCase{
		Nation: pick(r, rules.NationUnknown, rules.England, rules.Wales, rules.Scotland, rules.NorthernIreland, "France"), House: pick(r, "", "house", "flat"), Storeys: r.IntN(6) - 1,
		Built: pick(r, 0, 1875, 1999, 2000, 2026), Finish: pick(r, "", "textured coating", "plaster"), Opens: fact(r), NewCircuits: r.IntN(3) - 1, Altered: r.IntN(4) - 1, Board: fact(r),
		Places: []rules.Place{pick(r, rules.PlaceUnknown, rules.PlaceKitchen, rules.PlaceRoom)}, Special: fact(r), Garden: fact(r), Alone: fact(r), Climb: pick(r, 0, 3*unit.Metre), Designed: pick(r, "", "2026-11-25", "1999-01-01"),
	}
}

// write renews COVERAGE.md, or compares it.
func (s *Suite) write(t *testing.T, b *rules.Book, guarded map[string]int, unguarded []string) {
	t.Helper()
	text := s.coverage(b, guarded, unguarded)
	if s.Update {
		if err := os.WriteFile(s.Coverage, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	have, err := os.ReadFile(s.Coverage)
	if err != nil || string(have) != text {
		t.Errorf("%s is not what the book covers now (%v); renew it with -update and read the difference", s.Coverage, err)
	}
}
