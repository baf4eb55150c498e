// Package rules is the vocabulary of a standard as a program can use it: a
// [Citation], a [Table] whose every cell says how far it may be relied on, a
// [Question] that a book answers with the cells used, typed cases, a [Check]
// that judges one of them, and the [Verdict] it gives. A [Book] is tables and
// checks of one edition.
//
// It answers: what does this edition ask of this point, circuit, reading or
// piece of work, and by which clause, cell and arithmetic? It does not work
// out currents or impedances: a case is flat quantities that others fill in.
// Choosing a size is a search, and a book does not know the search.
//
// Three things never happen here. No wording of a standard is stored: clauses
// are cited and put in our own words. No table is extrapolated: off its rows
// the answer is [NotAssessed], with the reason. No severity is decided: what a
// verdict that is not met means for the work is for the package engine.
package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/source"
	"strapper/unit"
)

// Citation is the place of a rule: "BS 7671:2018+A4:2026 411.3.4".
type Citation struct {
	Document string `json:"document"`
	Edition  string `json:"edition,omitempty"`
	Clause   string `json:"clause"` // clause or table
}

// String prints the citation on one line.
func (c Citation) String() string {
	text := c.Document
	if c.Edition != "" {
		text += ":" + c.Edition
	}
	return text + " " + c.Clause
}

// Outcome is what a check says of a case.
type Outcome string

// The outcomes. TooClose is given where a value is known as an interval that
// holds the limit: a reading with the instrument's uncertainty, a prediction
// with that of its lengths. ToDo is what a rule asks to be done on the day.
const (
	Met           Outcome = "met"
	NotMet        Outcome = "not met"
	TooClose      Outcome = "too close to tell"
	ToDo          Outcome = "to be done"
	NotAssessed   Outcome = "not assessed"
	NotApplicable Outcome = "not applicable"
)

// Measure is a number with its unit, as verdicts print and JSON carries it.
// The number is in the base unit of its quantity (package unit).
type Measure struct {
	Number float64 `json:"number"`
	Unit   string  `json:"unit"`
}

// Quantity is any of the named quantities of package unit, or a [Factor].
type Quantity interface{ ~float64 | ~int64 }

// Factor is a pure number: a rating factor, a multiple, a count.
type Factor float64

// Of makes a measure of a quantity.
func Of[T Quantity](v T) Measure {
	m := Measure{Number: float64(v)}
	switch any(v).(type) {
	case unit.Ohm:
		m.Unit = "Ω"
	case unit.OhmPerMetre:
		m.Unit = "Ω/m"
	case unit.Ampere:
		m.Unit = "A"
	case unit.Volt:
		m.Unit = "V"
	case unit.Watt:
		m.Unit = "W"
	case unit.Celsius:
		m.Unit = "°C"
	case unit.Second:
		m.Unit = "s"
	case unit.Percent:
		m.Unit = "%"
	case unit.SquareMillimetre:
		m.Unit = "mm²"
	case unit.Millimetre:
		m.Unit = "m"
		m.Number /= 1000
	}
	return m
}

// A scale is a prefixed unit and the value from which it is used.
type scale struct {
	from, factor float64
	name         string
}

// scales are the prefixed names in which a unit is printed, greatest first. A
// megohm is used from a tenth, as insulation testers show it.
var scales = map[string][]scale{
	"Ω":   {{1e5, 1e6, "MΩ"}, {1e4, 1e3, "kΩ"}},
	"A":   {{1e3, 1e3, "kA"}, {1, 1, "A"}, {0, 1e-3, "mA"}},
	"s":   {{0.1, 1, "s"}, {0, 1e-3, "ms"}},
	"Ω/m": {{0, 1e-3, "mΩ/m"}},
}

// String prints the measure to three significant figures.
func (m Measure) String() string { return m.text(3) }

func (m Measure) text(digits int) string {
	v, name := m.Number, m.Unit
	for _, s := range scales[m.Unit] {
		if v != 0 && math.Abs(v) >= s.from*0.9995 {
			v, name = v/s.factor, s.name
			break
		}
	}
	return strings.TrimSpace(figures(v, digits) + " " + name)
}

// figures prints v to n significant figures without an exponent.
func figures(v float64, n int) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	text := strconv.FormatFloat(v, 'f', max(decimals, 0), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// Verdict is what one check says of one case. Compliance is recorded, not only
// failure: a verdict that is met carries its value, limit and working too.
type Verdict struct {
	Check    string          `json:"check"`
	Citation Citation        `json:"citation"`
	Title    string          `json:"title"`
	Subject  finding.Subject `json:"subject"`
	Stage    string          `json:"stage,omitempty"` // "as found", "as left"; empty for the work as a whole
	Outcome  Outcome         `json:"outcome"`
	Value    *Measure        `json:"value,omitempty"`
	Limit    *Measure        `json:"limit,omitempty"`
	Sense    string          `json:"sense,omitempty"`   // "at most", "at least": how Limit binds Value
	Why      string          `json:"why"`               // one sentence
	Fix      string          `json:"fix,omitempty"`     // what to do, where it is not met or not assessed
	Working  []string        `json:"working,omitempty"` // arithmetic, line by line
	Cells    []Cell          `json:"cells,omitempty"`   // of tables, as used
	Source   source.Source   `json:"source"`            // how far the clause itself may be relied on
}

// String prints the verdict on one line.
func (v *Verdict) String() string {
	return fmt.Sprintf("%s: %s: %s: %s (%s)", v.Subject, v.Title, v.Outcome, v.Why, v.Citation)
}

// Meet sets the outcome met, with a reason.
func (v *Verdict) Meet(format string, args ...any) { v.set(Met, "", format, args) }

// Breach sets the outcome not met, with what to do and a reason.
func (v *Verdict) Breach(fix, format string, args ...any) { v.set(NotMet, fix, format, args) }

// Skip sets the outcome not applicable, with a reason.
func (v *Verdict) Skip(format string, args ...any) { v.set(NotApplicable, "", format, args) }

// Leave sets the outcome not assessed, with what would settle it and a reason.
func (v *Verdict) Leave(fix, format string, args ...any) { v.set(NotAssessed, fix, format, args) }

// Doubt sets the outcome too close to tell, with what to do and a reason.
func (v *Verdict) Doubt(fix, format string, args ...any) { v.set(TooClose, fix, format, args) }

// Due sets the outcome to be done: the rule asks for something that can only
// be done on the day, such as a record or a notice.
func (v *Verdict) Due(fix, format string, args ...any) { v.set(ToDo, fix, format, args) }

func (v *Verdict) set(o Outcome, fix, format string, args []any) {
	v.Outcome, v.Fix = o, fix
	if v.Why = format; len(args) > 0 {
		v.Why = fmt.Sprintf(format, args...)
	}
}

// Work adds a line of arithmetic.
func (v *Verdict) Work(format string, args ...any) {
	v.Working = append(v.Working, fmt.Sprintf(format, args...))
}

// Take adds what an answer rests on. If the book had no answer the outcome is
// not assessed and Take reports false.
func (v *Verdict) Take(t Trail) bool {
	v.Cells = append(v.Cells, t.Cells...)
	if !t.Found {
		v.Leave("look it up in print, or ask a competent person", "%s", t.Why)
		return false
	}
	if t.Working != "" {
		v.Working = append(v.Working, t.Working)
	}
	return true
}

// equalWithin is the relative difference that is arithmetic's, not the house's.
const equalWithin = 1e-9

// AtMost judges a value that may not exceed a limit; at the limit it is met.
// What names the value in words: "the loop impedance".
func (v *Verdict) AtMost(what string, value, limit Measure, fix string) {
	v.judge(what, "at most", value, limit, fix, value.Number <= limit.Number+math.Abs(limit.Number)*equalWithin)
}

// AtLeast judges a value that may not fall below a limit; at the limit it is met.
func (v *Verdict) AtLeast(what string, value, limit Measure, fix string) {
	v.judge(what, "at least", value, limit, fix, value.Number >= limit.Number-math.Abs(limit.Number)*equalWithin)
}

func (v *Verdict) judge(what, sense string, value, limit Measure, fix string, met bool) {
	v.Value, v.Limit, v.Sense = &value, &limit, sense
	a, b := apart(value, limit)
	if met {
		v.Meet("%s is %s; %s %s is asked", what, a, sense, b)
		return
	}
	v.Breach(fix, "%s is %s; %s %s is asked", what, a, sense, b)
}

// apart prints two measures with enough figures to tell them apart, if they
// differ by more than arithmetic.
func apart(a, b Measure) (string, string) {
	for n := 3; n < 7; n++ {
		if s, t := a.text(n), b.text(n); s != t {
			return s, t
		}
	}
	return a.text(3), b.text(3)
}

// Margin is what is left to the limit, in the value's unit and as a share of
// the limit; negative beyond it. ok is false if the verdict compares nothing.
func (v *Verdict) Margin() (left Measure, share unit.Percent, ok bool) {
	if v.Value == nil || v.Limit == nil || v.Limit.Number == 0 {
		return Measure{}, 0, false
	}
	d := v.Limit.Number - v.Value.Number
	if v.Sense == "at least" {
		d = -d
	}
	return Measure{d, v.Limit.Unit}, unit.Percent(100 * d / math.Abs(v.Limit.Number)), true
}
