// Package reading answers: what should each test of the finished wiring read,
// at each point and in each position of the switches? It predicts the dead
// tests (continuity, polarity, insulation) and, for a competent person who
// needs them, the live ones (voltages, earth fault loop impedance), each as
// lowest, nominal and highest display.
//
// It does not judge: limits are asked of a rule book and shown with their source,
// and readings that were taken are made cases ([Cases]) for the book.
//
// Method. Every value comes from the numeric network of the wiring
// ([wiring.View]). The resistance between two points rises with every branch
// resistance (Rayleigh's monotonicity law; P. G. Doyle and J. L. Snell, Random
// Walks and Electric Networks, 1984, section 1.4), so the shortest cables with
// the best conductors and the longest with the worst bound a dead reading
// exactly; the instrument's accuracy widens that. Live voltages are nominal
// with the band of the supply: what couples between cores is not known well
// enough for an exact bound.
//
// Where a dead test can tell, no live test is offered in its place; live rows
// carry a caution.
package reading

import (
	"strapper/finding"
	"strapper/rules"
	"strapper/source"
	"strapper/unit"
	"strapper/wiring"
)

// Test names a kind of test.
type Test string

// The tests, dead ones first in the order they are made.
const (
	R2         Test = "R2"                   // cpc, long lead from the board
	R1R2       Test = "R1+R2"                // line and cpc linked at the board, measured at the point
	R1         Test = "R1"                   // line, long lead from the board
	Rn         Test = "Rn"                   // neutral, long lead from the board
	Polarity   Test = "polarity"             // nothing but line where line belongs
	Insulation Test = "insulation"           // between live conductors and to earth
	Voltage    Test = "voltage"              // two-pole tester, low impedance
	Ghost      Test = "voltage, high-Z"      // 10 MΩ multimeter, where it shows more than the tester
	Glow       Test = "current when off"     // through a lamp that is off
	Zs         Test = "Zs"                   // measured at test temperature
	ZsWorking  Test = "Zs, conductors 70 °C" // what the device has to cope with
)

// Live reports whether the test needs the supply on. [Glow] and [ZsWorking] are
// calculated, not measured.
func (t Test) Live() bool {
	switch t {
	case Voltage, Ghost, Zs:
		return true
	}
	return false
}

// Band is a value with its bounds, Low <= Nominal <= High.
type Band[T ~float64] struct {
	Low     T `json:"low"`
	Nominal T `json:"nominal"`
	High    T `json:"high"`
}

// Limit is what a reading is compared with, and by what authority.
type Limit struct {
	Text   string        `json:"text"` // "at most 5.82 Ω"
	Ohm    unit.Ohm      `json:"ohm,omitempty"`
	Ampere unit.Ampere   `json:"ampere,omitempty"`
	Source source.Source `json:"source"`
}

// Reading is one line of a test sheet. Of Ohm, Volt and Ampere one is set, or
// none if the reading is Open (off scale) or only has a limit.
type Reading struct {
	ID       string             `json:"id"` // stable: "R1+R2 landing.lamp SL-E hall.s1=up"
	Test     Test               `json:"test"`
	Point    string             `json:"point"`              // "landing.lamp", or a circuit for insulation
	Circuit  string             `json:"circuit,omitempty"`  // that a loop impedance is of
	Between  [2]string          `json:"between"`            // where the leads go
	Position string             `json:"position"`           // in words: "hall up", "any position"
	Switches map[string]string  `json:"switches,omitempty"` // the switches that matter, by id; missing ones do not. Of a walk: those of State
	State    wiring.State       `json:"-"`                  // one state of the Position
	Open     bool               `json:"open,omitempty"`
	Ohm      *Band[unit.Ohm]    `json:"ohm,omitempty"`
	Volt     *Band[unit.Volt]   `json:"volt,omitempty"`
	Ampere   *Band[unit.Ampere] `json:"ampere,omitempty"`
	Limit    *Limit             `json:"limit,omitempty"`
	Note     string             `json:"note,omitempty"`
	Caution  string             `json:"caution,omitempty"`
}

// Columns prints the bounds for a table. An open reading says so in the middle;
// one that only has a limit prints that.
func (r *Reading) Columns() (low, nominal, high string) {
	switch {
	case r.Ohm != nil:
		return r.Ohm.Low.String(), r.Ohm.Nominal.String(), r.Ohm.High.String()
	case r.Volt != nil:
		return r.Volt.Low.String(), r.Volt.Nominal.String(), r.Volt.High.String()
	case r.Ampere != nil:
		return r.Ampere.Low.String(), r.Ampere.Nominal.String(), r.Ampere.High.String()
	case r.Open:
		return "", "open", ""
	case r.Limit != nil:
		return "", r.Limit.Text, ""
	}
	return "", "", ""
}

// Readings is everything predicted for one installation, in a fixed order: dead
// tests before live ones, then by point in the order of the job.
type Readings struct {
	Positions  []string          `json:"positions"`            // of the switches, those examined
	Every      bool              `json:"every"`                // they are all that one person can set: no two pushes held at once
	Insulation []string          `json:"insulation_positions"` // enough to reach every live conductor
	Rows       []Reading         `json:"rows"`
	Findings   []finding.Finding `json:"findings,omitempty"` // what to disconnect, what is not reached
}

// Options chooses what is predicted. The zero value is everything.
type Options struct {
	DeadOnly bool        // leave out the live tests, and what is calculated beside them
	Book     *rules.Book // gives the limits that rows are compared with; nil prints none
	States   int         // examine every state up to this many, else a walk through them; 0 = 16; at most 4096
}

// The cautions of live rows.
const (
	liveCaution  = "Live: only by a competent person who has to, and only where the dead tests leave a question; do not open an accessory live to learn what a dead test tells. Prove the tester before and after."
	loopCaution  = "Live: only by a competent person. Ze plus the measured R1+R2 gives Zs without opening anything live."
	glowNote     = "estimate; not a test to be made"
	coupledNote  = "coupled from a conductor beside it, nothing drives it: depends on lengths and tester"
	workingNote  = "calculated, not measured"
	insulateNote = "lamps out, electronic equipment disconnected, main switch off and circuit isolated"
)
