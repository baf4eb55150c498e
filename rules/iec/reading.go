package iec

import (
	"fmt"
	"math"
	"strings"

	"strapper/rules"
	"strapper/unit"
)

// What the checks of readings ask, in our own words.
const (
	ExplainContinuity = "The conductor is continuous, and its resistance is what its length and size give; where an open circuit belongs nothing reads."
	ExplainInsulation = "The insulation resistance is no less than the least given for the voltage of the circuit, with the instrument's uncertainty taken off."
	ExplainMeasuredZs = "The measured loop impedance, brought to the working temperature of the conductors, lets the device disconnect in time."
	ExplainAgrees     = "The measured loop impedance is what lengths, sizes and the external impedance give."
	ExplainTrip       = "The residual current device trips no later than the time given for the test current."
)

// tests are the names by which the operating uncertainty is asked for.
var tests = map[rules.ReadingKind]string{
	rules.ReadContinuity: "continuity", rules.ReadOpen: "continuity", rules.ReadInsulation: "insulation",
	rules.ReadLoop: "loop", rules.ReadExternal: "loop", rules.ReadRCDTime: "rcd time", rules.ReadFault: "fault current",
}

// Truth is the interval in which the true value of a reading lies: a display x
// of an instrument that may show t (1 ± a) ± d for a true t. Accuracy and
// digits are the maker's where stated, else a is the operating uncertainty that
// the standard for the instrument allows. Leads that were not nulled are taken
// off. ok is false if no uncertainty is known.
func Truth(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) (low, shown, high float64, ok bool) {
	a, d := c.Meter.Accuracy.Fraction(), float64(c.Meter.Digits)*c.Meter.Resolution
	if !c.Meter.Stated {
		u := rules.Ask(b, rules.Uncertainty, rules.Test(tests[c.Kind]))
		if !v.Take(u.Trail) {
			return 0, 0, 0, false
		}
		a, d = u.Value.Fraction(), 0
	}
	shown = c.Value
	if c.Meter.Nulled == rules.No && c.Meter.Leads > 0 && c.Kind == rules.ReadContinuity {
		shown = math.Max(0, shown-float64(c.Meter.Leads))
		v.Work("less the leads, which were not nulled: %.4g Ω - %.4g Ω = %.4g Ω", c.Value, float64(c.Meter.Leads), shown)
	}
	low, high = math.Max(0, (shown-d)/(1+a)), (shown+d)/(1-a)
	if c.Over {
		high = math.Inf(1)
	}
	if c.Under {
		low = 0
	}
	v.Work("instrument ± %.3g %%%s: the true value is %.4g to %.4g %s", a*100, digits(c.Meter), scale(c.Kind, low), scale(c.Kind, high), unitOf(c.Kind))
	return low, shown, high, true
}

func digits(m rules.Meter) string {
	if !m.Stated || m.Digits == 0 {
		return ""
	}
	return fmt.Sprintf(" ± %d digits", m.Digits)
}

func unitOf(k rules.ReadingKind) string {
	switch k {
	case rules.ReadInsulation:
		return "MΩ"
	case rules.ReadRCDTime:
		return "ms"
	case rules.ReadFault:
		return "A"
	}
	return "Ω"
}

func scale(k rules.ReadingKind, x float64) float64 {
	switch k {
	case rules.ReadInsulation:
		return x / 1e6
	case rules.ReadRCDTime:
		return x * 1000
	}
	return x
}

// within judges an interval against an upper limit: met if all of it is below,
// not met if all of it is above, else too close to tell.
func within(v *rules.Verdict, what string, low, shown, high float64, limit rules.Measure, fix string) {
	value := rules.Measure{Number: shown, Unit: limit.Unit}
	v.AtMost(what, value, limit, fix)
	decide(v, high <= limit.Number*(1+1e-9), low > limit.Number*(1+1e-9), fix)
}

// above is within for a lower limit.
func above(v *rules.Verdict, what string, low, shown, high float64, limit rules.Measure, fix string) {
	value := rules.Measure{Number: shown, Unit: limit.Unit}
	v.AtLeast(what, value, limit, fix)
	decide(v, low >= limit.Number*(1-1e-9), high < limit.Number*(1-1e-9), fix)
}

func decide(v *rules.Verdict, pass, fail bool, fix string) {
	switch {
	case pass:
		v.Outcome, v.Fix = rules.Met, ""
	case fail:
		v.Outcome, v.Fix = rules.NotMet, fix
	default:
		v.Outcome = rules.TooClose
		v.Fix = "repeat it with an instrument of stated, better accuracy; until then take it as failed"
		v.Why += "; within the instrument's uncertainty it may be on either side"
	}
}

// skipKind leaves out readings of other kinds.
func skipKind(c *rules.ReadingCase, v *rules.Verdict, kinds ...rules.ReadingKind) bool {
	for _, k := range kinds {
		if c.Kind == k {
			return false
		}
	}
	v.Skip("another kind of reading")
	return true
}

// factor is 1 + α (t - 20); α by the book.
func factor(b *rules.Book, t unit.Celsius, v *rules.Verdict) (float64, bool) {
	alpha := rules.Ask(b, rules.TemperatureCoefficient)
	if !v.Take(alpha.Trail) {
		return 1, false
	}
	return 1 + float64(alpha.Value)*(float64(t)-20), true
}

// Continuity judges a continuity reading against what was predicted, and says
// in words what a difference is worth. The band predicted holds lengths,
// conductors and a usual instrument; one whose accuracy is stated widens it to
// where it is too close to tell.
func Continuity(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	switch {
	case skipKind(c, v, rules.ReadContinuity, rules.ReadOpen):
	case !c.Forecast && !c.Predicts:
		v.Leave("name the point, leads and positions as on the test sheet", "no reading was predicted to compare %s with", c.Name)
	case c.Predicts && c.Over:
		v.Meet("open, as it should be")
	case c.Predicts:
		v.Breach("stop: find what joins the two before power is restored", "it reads %v where the circuit should be open", rules.Of(unit.Ohm(c.Value)))
	case c.Over:
		v.Breach("stop: look for a loose end or a wrong terminal on the way", "it is open; %s was predicted", spanText(c.Predicted))
	default:
		compare(b, c, v)
	}
}

// LoopAgrees compares a measured loop impedance with what was predicted.
func LoopAgrees(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	switch {
	case skipKind(c, v, rules.ReadLoop):
	case !c.Forecast || c.Over:
		v.Skip("there is nothing to compare it with")
	default:
		compare(b, c, v)
	}
}

func spanText(s rules.Span) string {
	return unit.Ohm(s.Low).String() + " to " + unit.Ohm(s.High).String()
}

// compare brings a reading to the temperature of the prediction.
func compare(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	shown := c.Value
	if c.Meter.Nulled == rules.No && c.Meter.Leads > 0 {
		shown = math.Max(0, shown-float64(c.Meter.Leads))
		v.Work("less the leads, which were not nulled: %.4g Ω - %.4g Ω = %.4g Ω", c.Value, float64(c.Meter.Leads), shown)
	}
	from := c.Ambient
	if c.AtKnown {
		from = c.At
	}
	here, ok := factor(b, from, v)
	there, _ := factor(b, c.Ambient, new(rules.Verdict))
	if !ok {
		return
	}
	fixed := 0.0 // the part outside the house, whose temperature is its own
	if c.Kind == rules.ReadLoop {
		fixed = math.Min(shown, float64(c.Ze.Value))
	}
	x := fixed + (shown-fixed)*there/here
	if from != c.Ambient {
		v.Work("from %.3g °C to %.3g °C: %.4g Ω + %.4g Ω × %.4g / %.4g = %.4g Ω", float64(from), float64(c.Ambient), fixed, shown-fixed, there, here, x)
	}
	value := rules.Of(unit.Ohm(x))
	v.Value = &value
	trend := Trend(c, x, there)
	low, high := c.Predicted.Low, c.Predicted.High
	a, d := c.Meter.Accuracy.Fraction(), float64(c.Meter.Digits)*c.Meter.Resolution
	switch {
	case x >= low*(1-1e-9) && x <= high*(1+1e-9):
		v.Meet("it agrees with %s as predicted%s", spanText(c.Predicted), leadsNote(c))
	case c.Meter.Stated && x >= low*(1-a)-d && x <= high*(1+a)+d:
		v.Doubt("repeat it", "%s; within the instrument's uncertainty it may agree", trend)
	default:
		v.Breach("find out why before power is restored", "%s%s", trend, leadsNote(c))
	}
}

// leadsNote says that a reading may still hold the leads.
func leadsNote(c *rules.ReadingCase) string {
	switch {
	case c.Kind == rules.ReadLoop:
	case c.Meter.Nulled == rules.Unknown:
		return "; it is not said whether the leads were nulled"
	case c.Meter.Nulled == rules.No && c.Meter.Leads <= 0:
		return "; the leads were not nulled, and their resistance is not given"
	}
	return ""
}

// Trend says in words how a reading differs from the most likely one, and what
// that is worth: "0.4 Ω high: a poor joint, or 11 m more cable than surveyed".
// X and the prediction are at one temperature, warm the factor from 20 °C to it.
func Trend(c *rules.ReadingCase, x, warm float64) string {
	d := x - c.Predicted.Nominal
	by := unit.Ohm(math.Abs(d)).String()
	metres := ""
	if c.PerMetre > 0 {
		metres = fmt.Sprintf("%.0f m", math.Abs(d)/(float64(c.PerMetre)*warm))
		if metres == "0 m" {
			metres = "less than 1 m"
		}
	}
	switch {
	case d >= 0 && metres == "":
		return by + " high: a poor joint, or more cable than surveyed"
	case d >= 0:
		return by + " high: a poor joint, or " + metres + " more cable than surveyed"
	case metres == "":
		return by + " low: less cable than surveyed, or a second path beside it"
	}
	return by + " low: " + metres + " less cable than surveyed, or a second path beside it"
}

// Insulation judges an insulation resistance against the least for its circuit.
func Insulation(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	if skipKind(c, v, rules.ReadInsulation) {
		return
	}
	volts := rules.Ask(b, rules.InsulationVolts, rules.Circuit(c.Circuit))
	least := rules.Ask(b, rules.InsulationLeast, rules.Circuit(c.Circuit))
	if !v.Take(least.Trail) {
		return
	}
	if volts.Found && c.TestVolts > 0 && c.TestVolts < volts.Value {
		v.Take(volts.Trail)
		v.Work("tested at %.4g V instead of %.4g V: only where equipment that stays connected would be harmed", float64(c.TestVolts), float64(volts.Value))
	}
	low, shown, high, ok := Truth(b, c, v)
	if !ok {
		return
	}
	what := "the insulation resistance"
	above(v, what, low, shown, high, rules.Of(least.Value), "do not restore power: find the fault")
	if c.Over {
		v.Why = strings.Replace(v.Why, what+" is ", what+" is more than ", 1)
	}
}

// loopReading is the limit that a measured loop impedance is held against; ok
// is false if there is none, or all is said: it is another reading, no loop was
// found, or the supply is TT.
func loopReading(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) (limit unit.Ohm, ok bool) {
	if skipKind(c, v, rules.ReadLoop) || noLoop(c, v) {
		return 0, false
	}
	if c.System == "TT" {
		loopTT(b, c, v)
		return 0, false
	}
	return readingLimit(b, c, v)
}

// LoopWarm judges a measured loop impedance, its part beyond the origin brought
// to the working temperature.
func LoopWarm(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	limit, ok := loopReading(b, c, v)
	if !ok {
		return
	}
	low, shown, high, ok := Truth(b, c, v)
	if !ok {
		return
	}
	f, ok := warming(b, c, v)
	if !ok {
		return
	}
	ze := 0.0
	if c.Ze.Known {
		ze = float64(c.Ze.Value)
	}
	hot := func(z float64) float64 { return math.Min(z, ze) + math.Max(0, z-ze)*f }
	v.Work("warm: %.4g Ω + (%.4g - %.4g) Ω × %.4g = %.4g Ω", math.Min(shown, ze), shown, math.Min(shown, ze), f, hot(shown))
	within(v, "the loop impedance with warm conductors", hot(low), hot(shown), hot(high), rules.Of(limit), "do not leave it in use: find out why it is so high")
}

// noLoop judges a test that found no earth fault loop at all.
func noLoop(c *rules.ReadingCase, v *rules.Verdict) bool {
	if !c.Over || c.Value > 0 {
		return false
	}
	v.Breach("do not leave it in use: look for the break in the protective conductor", "no earth fault loop was found")
	return true
}

// warming is the factor from the temperature of the test to that of work.
func warming(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) (float64, bool) {
	work := rules.Ask(b, rules.WarmFactor, rules.Insulation(rules.Thermoplastic70), rules.Cpc(rules.InCable))
	if !v.Take(work.Trail) {
		return 0, false
	}
	t := c.Ambient
	if c.AtKnown {
		t = c.At
	}
	f, ok := factor(b, t, v)
	return float64(work.Value) / f, ok
}

// readingLimit is the greatest loop impedance for the circuit of a reading.
func readingLimit(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) (unit.Ohm, bool) {
	return loopLimit(b, &rules.CircuitCase{System: c.System, DeviceKind: c.DeviceKind, Curve: c.Curve, Rated: c.Rated}, v)
}

// LoopCold judges a measured loop impedance by the share of the limit that is
// allowed to a measurement with cold conductors.
func LoopCold(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	limit, ok := loopReading(b, c, v)
	share := rules.Ask(b, rules.MeasuredShare)
	if !ok || !v.Take(share.Trail) {
		return
	}
	most := unit.Ohm(float64(share.Value) * float64(limit))
	v.Work("%.3g × %.4g Ω = %.4g Ω", float64(share.Value), float64(limit), float64(most))
	low, shown, high, ok := Truth(b, c, v)
	if ok {
		within(v, "the measured loop impedance", low, shown, high, rules.Of(most), "do not leave it in use: find out why it is so high")
	}
}

// loopTT judges a loop impedance on a TT supply, which an RCD has to cope with.
func loopTT(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	if c.Residual <= 0 {
		v.Breach("protect the circuit with a 30 mA RCD", "on a TT supply nothing but a residual current device disconnects an earth fault, and there is none")
		return
	}
	limit := rules.Ask(b, rules.ResidualZs, rules.Residual(c.Residual))
	if !v.Take(limit.Trail) {
		return
	}
	low, shown, high, ok := Truth(b, c, v)
	if ok {
		within(v, "the measured loop impedance", low, shown, high, rules.Of(limit.Value), "better the earth electrode")
	}
}

// TripTime judges the time in which an RCD tripped. Its uncertainty is a share
// of the limit.
func TripTime(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	if skipKind(c, v, rules.ReadRCDTime) {
		return
	}
	if c.Residual <= 0 {
		v.Leave("name the device under rcd: of its circuit", "no residual current device is known of")
		return
	}
	kind := c.RCDKind
	if kind == "" {
		kind = "general"
	}
	limit := rules.Ask(b, rules.ResidualWithin, rules.RCDKind(kind), rules.Multiple(c.Multiple))
	if !limit.Found {
		v.Leave("test once at the rated residual current", "no time is asked at %g times the rated residual current", c.Multiple)
		return
	}
	v.Take(limit.Trail)
	if c.Over {
		v.Breach("the device must not be relied on: have it replaced", "it did not trip; at most %v is asked", rules.Of(limit.Value))
		return
	}
	d, ok := timeUncertainty(b, c, float64(limit.Value), v)
	if !ok {
		return
	}
	within(v, "the trip time", c.Value-d, c.Value, c.Value+d, rules.Of(limit.Value), "the device must not be relied on: have it replaced")
	least := rules.Ask(b, rules.ResidualNotBefore, rules.RCDKind(kind), rules.Multiple(c.Multiple))
	if v.Outcome == rules.Met && least.Found {
		v.Take(least.Trail)
		above(v, "the trip time of a delayed device", c.Value-d, c.Value, c.Value+d, rules.Of(least.Value), "it will not let the device after it trip first: have it looked at")
	}
}

func timeUncertainty(b *rules.Book, c *rules.ReadingCase, limit float64, v *rules.Verdict) (float64, bool) {
	if c.Meter.Stated {
		return c.Value*c.Meter.Accuracy.Fraction() + float64(c.Meter.Digits)*c.Meter.Resolution, true
	}
	u := rules.Ask(b, rules.Uncertainty, rules.Test(tests[c.Kind]))
	if !v.Take(u.Trail) {
		return 0, false
	}
	v.Work("instrument ± %.3g %% of %.3g ms", float64(u.Value), limit*1000)
	return limit * u.Value.Fraction(), true
}

// FaultMeasured judges a measured prospective fault current.
func FaultMeasured(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	if skipKind(c, v, rules.ReadFault) {
		return
	}
	capacity := c.Capacity
	if capacity <= 0 {
		a := rules.Ask(b, rules.Breaking, rules.Device(c.DeviceKind))
		if !v.Take(a.Trail) {
			return
		}
		capacity = a.Value
	}
	low, shown, high, ok := Truth(b, c, v)
	if ok {
		within(v, "the prospective fault current", low, shown, high, rules.Of(capacity), "have a competent person fit a device that can break it")
	}
}

// External judges a measured external loop impedance by what distributors
// usually declare.
func External(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	most := rules.Ask(b, rules.TypicalZe, rules.System(c.System))
	if skipKind(c, v, rules.ReadExternal) || !v.Take(most.Trail) {
		return
	}
	if c.System == "TT" {
		v.Skip("on a TT supply it is mostly the electrode, which is judged by itself")
		return
	}
	low, shown, high, ok := Truth(b, c, v)
	if ok {
		within(v, "the external loop impedance", low, shown, high, rules.Of(most.Value), "ask the distributor before anything is added")
	}
}
