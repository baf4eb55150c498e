package job

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	measured "strapper/reading"
	"strapper/rules"
	"strapper/unit"
)

// The types below are the sections instruments: and readings: of the job file.

type fileInstrument struct {
	Name       string `json:"name,omitempty" jsonschema_description:"Make, model or serial number, for the record."`
	Accuracy   string `json:"accuracy,omitempty" jsonschema:"example=3 %" jsonschema_description:"Share of the reading, from the maker's sheet; without it the worst that the instrument's standard allows is taken."`
	Digits     int    `json:"digits,omitempty" jsonschema:"minimum=0,maximum=100,example=3" jsonschema_description:"Digits of the display that come on top."`
	Resolution string `json:"resolution,omitempty" jsonschema:"example=0.01 ohm" jsonschema_description:"What one digit is worth: 0.01 ohm, 0.01 Mohm, 1 ms."`
	Leads      string `json:"leads,omitempty" jsonschema:"example=nulled,example=0.06 ohm" jsonschema_description:"nulled, or the resistance of the leads, which is then taken off; leave out if not known."`
}

type fileReading struct {
	Test        string            `json:"test" jsonschema:"enum=R2,enum=R1+R2,enum=R1,enum=Rn,enum=insulation,enum=Zs,enum=Ze,enum=RCD time,enum=fault current" jsonschema_description:"What was measured."`
	At          string            `json:"at,omitempty" jsonschema:"example=landing.lamp" jsonschema_description:"Where: a lamp or switch, written box.item; the circuit for insulation, RCD time and fault current; leave out for Ze."`
	Leads       []string          `json:"leads,omitempty" jsonschema:"minItems=2,maxItems=2" jsonschema_description:"The two terminals that the leads were on, as the test sheet names them."`
	With        map[string]string `json:"with,omitempty" jsonschema_description:"Positions of switches, by box.item; those not named were all tried."`
	Reads       string            `json:"reads,omitempty" jsonschema:"example=0.45 ohm,example=>200 Mohm,example=open" jsonschema_description:"What was displayed. Give this, or min and max."`
	Min         string            `json:"min,omitempty" jsonschema:"example=0.42 ohm" jsonschema_description:"The least of several positions."`
	Max         string            `json:"max,omitempty" jsonschema:"example=0.47 ohm" jsonschema_description:"The greatest of several positions."`
	Instrument  string            `json:"instrument,omitempty" jsonschema_description:"The instrument, by its id under instruments."`
	Temperature string            `json:"temperature,omitempty" jsonschema:"example=12 C" jsonschema_description:"Temperature of the cables at the test; that under supply if not given."`
	Volts       string            `json:"volts,omitempty" jsonschema:"example=500 V" jsonschema_description:"Test voltage, of insulation."`
	Multiple    int               `json:"multiple,omitempty" jsonschema:"minimum=1,maximum=5,example=1" jsonschema_description:"Test current in multiples of the rated residual current, of RCD time; 1 if not given."`
	Delayed     bool              `json:"delayed,omitempty" jsonschema_description:"True if the residual current device is of the time-delayed kind, S."`
}

// taken resolves the readings that were taken, against the last stage.
func (r *reading) taken(s *stage) []measured.Taken {
	var list []measured.Taken
	_, section, whole := r.root.walk("readings")
	if !whole || section.kind != isList {
		return nil
	}
	for i, f := range r.text.Readings {
		n := strconv.Itoa(i)
		s.note(r.at("readings", n), "readings", n)
		if t, ok := r.oneTaken(s, f, n); ok {
			list = append(list, t)
		}
	}
	return list
}

func (r *reading) oneTaken(s *stage, f fileReading, n string) (measured.Taken, bool) {
	t := measured.Taken{Subject: finding.Subject("readings." + n), Test: measured.Test(f.Test), Point: f.At, Switches: f.With, Multiple: max(1, float64(f.Multiple)), Delayed: f.Delayed}
	if !slices.Contains(measured.Measurable(), t.Test) {
		return t, false // the schema has reported it
	}
	if len(f.Leads) == 2 {
		t.Leads = [2]string(f.Leads)
	}
	t.Meter = r.meter(f.Instrument, n)
	t.At, t.AtKnown = s.in.Supply.Ambient, r.text.Supply.Temperature != ""
	if at, ok := quantity(r, f.Temperature, unit.ParseCelsius, 0, limits[unit.Celsius]{"the temperature of the cables", -30, 70}, "readings", n, "temperature"); ok {
		t.At, t.AtKnown = at, true
	}
	t.Volts, _ = quantity(r, f.Volts, unit.ParseVolt, 0, limits[unit.Volt]{"the test voltage", 50, 1000}, "readings", n, "volts")
	ok := r.where(s, &t, n)
	return t, r.displayed(&t, f, n) && ok
}

// where checks that the place of a reading, and the switches, exist.
func (r *reading) where(s *stage, t *measured.Taken, n string) bool {
	ok := true
	switch t.Test {
	case measured.External:
	case measured.Insulation, measured.TripTime, measured.Fault:
		ok = r.ofCircuit(s, t, n)
	default:
		ok = r.fitted(s, t.Point, "at", n)
	}
	for _, k := range r.keys("readings", n, "with") {
		ok = r.fitted(s, k.name, "with", n) && r.position(s, k.name, t.Switches[k.name], n) && ok
	}
	return ok
}

// ofCircuit checks that the circuit of a reading exists; where there is only
// one, it need not be named.
func (r *reading) ofCircuit(s *stage, t *measured.Taken, n string) bool {
	circuits := s.circuitIDs()
	if t.Point == "" && len(circuits) == 1 {
		t.Point = circuits[0]
	}
	ok := slices.Contains(circuits, t.Point)
	if !ok && !r.incomplete {
		r.report(r.at("readings", n, "at"), didYouMean(t.Point, circuits), "a reading of %s is of a circuit, and %q is none", t.Test, t.Point)
	}
	return ok
}

// position checks that a switch has a position of that name.
func (r *reading) position(s *stage, id, position, n string) bool {
	box, item, _ := strings.Cut(id, ".")
	kind := s.in.Box(box).Fitted(item).Kind
	if position == "" || slices.Contains(kind.Positions, position) {
		return position != "" // the schema has reported an empty one
	}
	fix := "it has none that can be set"
	if len(kind.Positions) > 0 {
		fix = "it has " + orList(kind.Positions)
	}
	r.report(r.at("readings", n, "with", id), fix, "%s has no position %q", id, position)
	return false
}

// fitted checks that box.item exists.
func (r *reading) fitted(s *stage, id, key, n string) bool {
	var all []string
	for _, b := range s.in.Boxes {
		for _, f := range b.Fit {
			all = append(all, b.ID+"."+f.ID)
		}
	}
	if slices.Contains(all, id) {
		return true
	}
	if !r.incomplete {
		r.report(r.at("readings", n, key), didYouMean(id, all), "nothing called %q is fitted; write box.item", id)
	}
	return false
}

// meter is the instrument of a reading; of none, one of which nothing is known.
func (r *reading) meter(id, n string) rules.Meter {
	if id == "" {
		return rules.Meter{}
	}
	f, ok := r.text.Instruments[id]
	if !ok {
		r.report(r.at("readings", n, "instrument"), didYouMean(id, slices.Sorted(maps.Keys(r.text.Instruments))), "there is no instrument called %q under instruments:", id)
		return rules.Meter{}
	}
	under := func(name string) []string { return []string{"instruments", id, name} }
	m := rules.Meter{Name: id, Digits: f.Digits}
	if f.Name != "" {
		m.Name = f.Name
	}
	m.Accuracy, m.Stated = quantity(r, f.Accuracy, unit.ParsePercent, 0, limits[unit.Percent]{"the accuracy", 0, 50}, under("accuracy")...)
	m.Resolution = r.resolution(f.Resolution, under("resolution")...)
	if m.Digits > 0 && f.Resolution == "" {
		r.report(r.at(under("digits")...), `add what one is worth, such as "resolution: 0.01 ohm"`, "digits are given without the resolution of the display")
	}
	r.leads(&m, f.Leads, under("leads")...)
	return m
}

func (r *reading) resolution(text string, path ...string) float64 {
	if text == "" {
		return 0
	}
	if x, err := unit.ParseOhm(text); err == nil {
		return float64(x)
	}
	if x, err := unit.ParseSecond(text); err == nil {
		return float64(x)
	}
	if x, err := unit.ParseAmpere(text); err == nil {
		return float64(x)
	}
	r.report(r.at(path...), `write a number and a unit, such as "0.01 ohm", "0.01 Mohm" or "1 ms"`, "%q is not what one digit is worth", text)
	return 0
}

func (r *reading) leads(m *rules.Meter, text string, path ...string) {
	switch text {
	case "":
	case "nulled":
		m.Nulled = rules.Yes
	default:
		m.Nulled = rules.No
		m.Leads, _ = quantity(r, text, unit.ParseOhm, 0, limits[unit.Ohm]{"the resistance of the leads", 0, 10}, path...)
	}
}

// displayed reads what the instrument showed.
func (r *reading) displayed(t *measured.Taken, f fileReading, n string) bool {
	switch {
	case f.Reads != "" && (f.Min != "" || f.Max != ""):
		r.report(r.at("readings", n), "give reads: alone, or min: and max:", "the reading is given twice")
		return false
	case f.Reads == "open" && (t.Test == measured.Insulation || t.Test == measured.Fault):
		r.report(r.at("readings", n, "reads"), `write what the display said, such as ">200 Mohm"`, "open is no reading of %s", t.Test)
		return false
	case f.Reads == "open":
		t.Open = true
		return true
	case f.Reads != "":
		text, over := strings.CutPrefix(f.Reads, ">")
		t.Over = over
		x, ok := r.shown(t.Test, strings.TrimSpace(text), n, "reads")
		t.Low, t.High = x, x
		return ok
	case f.Min == "" || f.Max == "":
		r.noValue(n)
		return false
	}
	return r.spread(t, f, n)
}

// noValue reports a reading without a value, unless the schema has reported one
// that is no text.
func (r *reading) noValue(n string) {
	for _, key := range []string{"reads", "min", "max"} {
		if _, v, given := r.root.walk("readings", n, key); given && v.kind != isText {
			return
		}
	}
	r.report(r.at("readings", n), `add what was displayed, such as "reads: 0.45 ohm", or "reads: open"`, "the reading has no value")
}

// spread reads the least and the greatest of several positions.
func (r *reading) spread(t *measured.Taken, f fileReading, n string) bool {
	var a, b bool
	t.Low, a = r.shown(t.Test, f.Min, n, "min")
	t.High, b = r.shown(t.Test, f.Max, n, "max")
	if a && b && t.Low > t.High {
		r.report(r.at("readings", n, "min"), "exchange them", "the least is more than the greatest")
		return false
	}
	return a && b
}

// shown is a display in the base unit of its test.
func (r *reading) shown(t measured.Test, text, n, key string) (float64, bool) {
	path := []string{"readings", n, key}
	switch t.Unit() {
	case "s":
		x, ok := quantity(r, text, unit.ParseSecond, 0, limits[unit.Second]{"the time", 0, 10}, path...)
		return float64(x), ok
	case "A":
		x, ok := quantity(r, text, unit.ParseAmpere, 0, limits[unit.Ampere]{"the fault current", 1, 100e3}, path...)
		return float64(x), ok
	}
	x, ok := quantity(r, text, unit.ParseOhm, 0, limits[unit.Ohm]{"the reading", 0, 1e12}, path...)
	return float64(x), ok
}
