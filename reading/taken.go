package reading

import (
	"math"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// The readings that are taken and not predicted.
const (
	External Test = "Ze"            // of the supply, at the origin
	TripTime Test = "RCD time"      // of a residual current device
	Fault    Test = "fault current" // prospective, at the board
)

// Taken is a reading that somebody took, as a job file gives it. Low and High
// are what was displayed, the least and the greatest where several positions
// were tested, equal otherwise; in ohm, second or ampere by the test.
type Taken struct {
	Subject  finding.Subject
	Test     Test
	Point    string            // "landing.lamp", a circuit, or empty for the whole
	Leads    [2]string         // empty: any
	Switches map[string]string // positions they were in, by id; those not named do not matter or were all tried
	Low      float64
	High     float64
	Open     bool // off scale, or less than nothing could be read
	Over     bool // more than High: ">200 Mohm"
	Meter    rules.Meter
	At       unit.Celsius // of the cables at the test
	AtKnown  bool
	Volts    unit.Volt // of an insulation test
	Multiple float64   // of the rated residual current, for a trip time
	Delayed  bool      // the device is of the time-delayed kind
}

// kinds tells what a book makes of a test.
var kinds = map[Test]rules.ReadingKind{
	R2: rules.ReadContinuity, R1R2: rules.ReadContinuity, R1: rules.ReadContinuity, Rn: rules.ReadContinuity,
	Insulation: rules.ReadInsulation, Zs: rules.ReadLoop, External: rules.ReadExternal, TripTime: rules.ReadRCDTime, Fault: rules.ReadFault,
}

// Measurable lists the tests that a job file may give readings of.
func Measurable() []Test {
	return []Test{R2, R1R2, R1, Rn, Insulation, Zs, External, TripTime, Fault}
}

// Unit is the base unit of a test's readings: "ohm", "s" or "A".
func (t Test) Unit() string {
	switch t {
	case TripTime:
		return "s"
	case Fault:
		return "A"
	}
	return "ohm"
}

// Cases are what a rule book judges: one for each reading taken, two where the
// least and the greatest differ. Each is matched to the rows predicted for its
// test, point, leads and positions; where several fit it is held against all
// of them together.
func Cases(rs *Readings, g *wiring.Graph, book *rules.Book, list []Taken) []rules.ReadingCase {
	var cases []rules.ReadingCase
	for i := range list {
		t := &list[i]
		c := blank(g, t)
		if rs != nil {
			forecastFor(rs, g, book, t, &c)
		}
		if !t.Open && t.High != t.Low {
			least := c
			least.Value, least.Name = t.Low, c.Name+", least"
			least.Predicted.Nominal = nearest(rs, t, t.Low)
			cases = append(cases, least)
			c.Name += ", greatest"
		}
		c.Value = t.High
		cases = append(cases, c)
	}
	return cases
}

// blank is a case with what does not depend on the prediction.
func blank(g *wiring.Graph, t *Taken) rules.ReadingCase {
	s := g.Inst.Supply
	c := rules.ReadingCase{
		Subject: t.Subject, Name: t.name(), Kind: kinds[t.Test], Over: t.Open || t.Over, At: t.At, AtKnown: t.AtKnown, Meter: t.Meter,
		Ambient: s.Ambient, System: string(s.Earthing), TestVolts: t.Volts, Multiple: t.Multiple, RCDKind: "general", Circuit: "up to 500 V",
	}
	if t.Delayed {
		c.RCDKind = "S"
	}
	if s.Ze > 0 {
		c.Ze = rules.Know(s.Ze)
	}
	if k := circuitOf(g, t.Point); k != nil {
		protects(&c, k)
	}
	return c
}

// protects notes the devices of the reading's circuit.
func protects(c *rules.ReadingCase, k *wiring.Circuit) {
	c.DeviceKind, c.Curve, c.Rated = string(k.Device.Type), k.Device.Curve, k.Device.Rating
	if d := Guard(k); d != nil {
		c.Residual = d.Residual
	}
}

func (t *Taken) name() string {
	text := string(t.Test)
	if t.Point != "" {
		text += " at " + t.Point
	}
	if t.Leads[1] != "" {
		text += ", " + t.Leads[0] + " to " + t.Leads[1]
	}
	return text
}

// circuitOf is the circuit of that id, or the one that can feed the point; of
// a supply with one circuit that one. It is nil if it cannot be told.
func circuitOf(g *wiring.Graph, point string) *wiring.Circuit {
	if c := g.Inst.Circuit(point); c != nil {
		return c
	}
	if len(g.Inst.Circuits) == 1 {
		return g.Inst.Circuits[0]
	}
	return nil
}

// Shown is what was displayed, in words: "0.45 Ω", "0.42 Ω to 0.47 Ω", "open".
func (t *Taken) Shown() string {
	unitOf := map[string]string{"ohm": "Ω", "s": "s", "A": "A"}[t.Test.Unit()]
	high := rules.Measure{Number: t.High, Unit: unitOf}.String()
	switch {
	case t.Open:
		return "open"
	case t.Over:
		return "> " + high
	case t.Low != t.High:
		return rules.Measure{Number: t.Low, Unit: unitOf}.String() + " to " + high
	}
	return high
}

// Fits reports whether a row is of the reading's test, point, leads and
// positions.
func (t *Taken) Fits(r *Reading) bool {
	if r.Test != t.Test || r.Point != t.Point {
		return false
	}
	if t.Leads[1] != "" && t.Leads != r.Between && t.Leads != [2]string{r.Between[1], r.Between[0]} {
		return false
	}
	for id, position := range t.Switches {
		if fixed, ok := r.Switches[id]; ok && fixed != position {
			return false
		}
	}
	return true
}

// forecastFor joins the rows that fit into one band. A reading that is open
// matches the open rows, another the rest, if there are any of its kind. The
// circuit is that of the rows, where they name it.
func forecastFor(rs *Readings, g *wiring.Graph, book *rules.Book, t *Taken, c *rules.ReadingCase) {
	var band rules.Span
	open, found := false, false
	for _, r := range rs.fitting(t) {
		if k := g.Inst.Circuit(r.Circuit); k != nil {
			protects(c, k)
		}
		switch {
		case r.Open:
			open = true
		case r.Ohm != nil && !found:
			band, found = rules.Span{Low: float64(r.Ohm.Low), High: float64(r.Ohm.High)}, true
		case r.Ohm != nil:
			band.Low, band.High = math.Min(band.Low, float64(r.Ohm.Low)), math.Max(band.High, float64(r.Ohm.High))
		}
	}
	c.PerMetre = perMetre(g, book, t)
	if c.Predicts = open && (t.Open || !found); c.Predicts || !found {
		return
	}
	band.Nominal = nearest(rs, t, t.High)
	c.Forecast, c.Predicted = true, band
}

// fitting lists the rows that a reading may be of.
func (rs *Readings) fitting(t *Taken) []*Reading {
	var list []*Reading
	for i := range rs.Rows {
		if t.Fits(&rs.Rows[i]) {
			list = append(list, &rs.Rows[i])
		}
	}
	return list
}

// nearest is the nominal value, of the rows that fit, next to what was shown.
func nearest(rs *Readings, t *Taken, shown float64) (best float64) {
	if rs == nil {
		return 0
	}
	for _, r := range rs.fitting(t) {
		if r.Ohm == nil {
			continue
		}
		if n := float64(r.Ohm.Nominal); best == 0 || math.Abs(n-shown) < math.Abs(best-shown) {
			best = n
		}
	}
	return best
}

// perMetre is what a metre more of the last cable before the point would add
// to the reading at 20 °C; 0 if it cannot be told.
func perMetre(g *wiring.Graph, book *rules.Book, t *Taken) (sum unit.OhmPerMetre) {
	box, _, _ := strings.Cut(t.Point, ".")
	i := slices.IndexFunc(g.Inst.Cables, func(c *wiring.Cable) bool { return c.From == box || c.To == box })
	if i < 0 || t.Test.Unit() != "ohm" {
		return 0
	}
	live, earth := areas(g.Inst.Cables[i].Kind)
	add := func(a unit.SquareMillimetre) {
		if r := rules.Ask(book, rules.Resistance, rules.Area(a)); r.Found {
			sum += r.Value
		}
	}
	if t.Test != R2 {
		add(live)
	}
	if t.Test == R2 || t.Test == R1R2 || t.Test == Zs {
		add(earth)
	}
	return sum
}

func areas(k *kit.Cable) (live, earth unit.SquareMillimetre) {
	for _, c := range k.Cores {
		if c.Earth {
			earth = c.Area
		} else {
			live = c.Area
		}
	}
	return live, earth
}
