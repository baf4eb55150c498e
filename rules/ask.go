package rules

import (
	"slices"
	"strconv"
	"strings"

	"strapper/unit"
)

// Question is something that a book answers with a quantity. Every book
// answers the same questions by its own tables and formulas, or says that it
// cannot: so what asks (package sizing) depends on no book.
type Question[T Quantity] string

// The questions, each with the keys it is asked by. A book may ignore a key
// that its answer does not depend on.
const (
	// Resistance is of a copper conductor at 20 °C. Keys: Area.
	Resistance = Question[unit.OhmPerMetre]("resistance")
	// WarmFactor turns a resistance at 20 °C into that at the working
	// temperature of the insulation. Keys: Insulation, Cpc.
	WarmFactor = Question[Factor]("warm-factor")
	// Rating is the current a cable carries, before factors. Keys: Area, Method.
	Rating = Question[unit.Ampere]("rating")
	// Drop is the voltage drop per ampere and metre of route, both conductors
	// warm. Keys: Area.
	Drop = Question[unit.OhmPerMetre]("drop")
	// DropLimit is a share of the nominal voltage. Keys: Use, Supply.
	DropLimit = Question[unit.Percent]("drop-limit")
	// AmbientFactor, GroupFactor, SurroundFactor and FuseFactor multiply a
	// rating. Keys: Ambient; Arrangement and Circuits; Surrounded; Device.
	AmbientFactor  = Question[Factor]("ambient-factor")
	GroupFactor    = Question[Factor]("group-factor")
	SurroundFactor = Question[Factor]("surround-factor")
	FuseFactor     = Question[Factor]("fuse-factor")
	// DisconnectIn is the time in which a final circuit must disconnect an
	// earth fault. Keys: System.
	DisconnectIn = Question[unit.Second]("disconnect-in")
	// MaxZs is the greatest earth fault loop impedance, conductors warm.
	// Keys: Device, Curve, Rated, Within.
	MaxZs = Question[unit.Ohm]("max-zs")
	// MeasuredShare is the share of MaxZs allowed to a value measured cold.
	MeasuredShare = Question[Factor]("measured-share")
	// TripMost and TripLeast bound the instantaneous trip of a circuit-breaker
	// in multiples of its rating. Keys: Curve.
	TripMost  = Question[Factor]("trip-most")
	TripLeast = Question[Factor]("trip-least")
	// Adiabatic is k in S = √(I²t)/k, in A·√s/mm². Keys: Insulation, Cpc.
	Adiabatic = Question[Factor]("adiabatic")
	// Breaking is the fault current that a device can interrupt. Keys: Device.
	Breaking = Question[unit.Ampere]("breaking")
	// LeastArea is the smallest copper conductor of a circuit. Keys: Use.
	LeastArea = Question[unit.SquareMillimetre]("least-area")
	// TouchVoltage bounds the electrode resistance times the residual current
	// on a TT supply.
	TouchVoltage = Question[unit.Volt]("touch-voltage")
	// ResidualZs is the greatest loop impedance with which an RCD disconnects an
	// earth fault in time. Keys: Residual.
	ResidualZs = Question[unit.Ohm]("residual-zs")
	// SteadyElectrode is the electrode resistance above which it may not be
	// stable.
	SteadyElectrode = Question[unit.Ohm]("steady-electrode")
	// TypicalZe is the greatest external loop impedance a distributor usually
	// declares. Keys: System.
	TypicalZe = Question[unit.Ohm]("typical-ze")
	// ResidualMost is the greatest rated residual current that counts as
	// additional protection.
	ResidualMost = Question[unit.Ampere]("residual-most")
	// ResidualWithin is the time in which an RCD must trip at a multiple of its
	// rated residual current. Keys: RCDKind, Multiple.
	ResidualWithin = Question[unit.Second]("residual-within")
	// ResidualNotBefore is the time before which a time-delayed RCD must not
	// trip. Keys: RCDKind, Multiple.
	ResidualNotBefore = Question[unit.Second]("residual-not-before")
	// InsulationLeast is the least insulation resistance, InsulationLook that
	// below which the reason should be looked for, InsulationVolts the test
	// voltage. Keys: Circuit.
	InsulationLeast = Question[unit.Ohm]("insulation-least")
	InsulationLook  = Question[unit.Ohm]("insulation-look")
	InsulationVolts = Question[unit.Volt]("insulation-volts")
	// LampholderDevice is the greatest device before lampholders. Keys: none.
	LampholderDevice = Question[unit.Ampere]("lampholder-device")
	// LampholderDemand is what a lampholder counts for if its lamp is less.
	LampholderDemand = Question[unit.Watt]("lampholder-demand")
	// Diversity is the share of the lighting taken at once. Keys: Premises.
	Diversity = Question[Factor]("diversity")
	// GearFactor turns lamp watts into volt-amperes. Keys: Lamp.
	GearFactor = Question[Factor]("gear-factor")
	// InrushLamps is how many drivers of a power start together on a device.
	// Keys: Curve, Rated, Power.
	InrushLamps = Question[Factor]("inrush-lamps")
	// ConcealedDepth is the depth from a surface from which a hidden cable needs
	// no zone.
	ConcealedDepth = Question[unit.Millimetre]("concealed-depth")
	// Uncertainty is the operating uncertainty that an instrument's standard
	// allows. Keys: Test.
	Uncertainty = Question[unit.Percent]("uncertainty")
	// TemperatureCoefficient of copper for correcting readings, per °C, from 20 °C.
	TemperatureCoefficient = Question[Factor]("coefficient")
	// WaterDigit is the least second digit of the IP code. Keys: Where.
	WaterDigit = Question[Factor]("water-digit")
	// AsbestosYear is the last year in which asbestos was put into buildings.
	AsbestosYear = Question[Factor]("asbestos-year")
	// Imperial is the area in mm² of an old conductor. Keys: Strands.
	Imperial = Question[unit.SquareMillimetre]("imperial")
)

// Key is one thing that an answer depends on. An empty value means not known.
type Key struct{ Name, Value string }

func numeric(name string, v float64) Key {
	return Key{name, strconv.FormatFloat(v, 'g', -1, 64)}
}

// positive leaves out a quantity that is not known.
func positive(name string, v float64) Key {
	if v <= 0 {
		return Key{Name: name}
	}
	return numeric(name, v)
}

// Area is the size of the live conductors in mm²; zero is not known.
func Area(a unit.SquareMillimetre) Key { return positive("area", float64(a)) }

// Method is the reference method of installation: "A", "B", "C", "100" to "103".
func Method(m string) Key { return Key{"method", m} }

// Insulation is of a conductor: "70 °C thermoplastic", "90 °C thermosetting".
func Insulation(kind string) Key { return Key{"insulation", kind} }

// The kinds of insulation that tables name.
const (
	Thermoplastic70 = "70 °C thermoplastic"
	Thermosetting90 = "90 °C thermosetting"
	Thermoplastic90 = "90 °C thermoplastic"
	Rubber60        = "60 °C rubber"
)

// Cpc is how the protective conductor runs: [InCable] or [Separate].
func Cpc(how string) Key { return Key{"cpc", how} }

// How a protective conductor runs.
const (
	InCable  = "in the cable or bunched with it"
	Separate = "separate"
)

// Use is what a circuit serves: "lighting" or "other".
func Use(use string) Key { return Key{"use", use} }

// Supply is who feeds the installation: "public" or "private".
func Supply(kind string) Key { return Key{"supply", kind} }

// Ambient is the temperature of the air round a cable.
func Ambient(t unit.Celsius) Key { return numeric("ambient", float64(t)) }

// Arrangement is how grouped cables lie: "bunched", "single layer touching",
// "single layer spaced".
func Arrangement(a string) Key { return Key{"arrangement", a} }

// Circuits is the number of loaded circuits in a group.
func Circuits(n int) Key { return positive("circuits", float64(n)) }

// Surrounded is the length of cable totally surrounded by thermal insulation.
func Surrounded(l unit.Millimetre) Key { return positive("surrounded", float64(l)) }

// Device is the kind of overcurrent device as the catalogue of kit names it:
// "mcb" and "rcbo", which tables call "circuit-breaker", "rewirable fuse" (to
// BS 3036), "cartridge fuse" (to BS 1361 or BS 88-3).
func Device(kind string) Key {
	if kind == "mcb" || kind == "rcbo" {
		kind = "circuit-breaker"
	}
	return Key{"device", kind}
}

// Curve is the tripping characteristic of a circuit-breaker; empty for a fuse.
func Curve(curve string) Key {
	if curve == "" {
		curve = "-"
	}
	return Key{"curve", curve}
}

// Rated is the rated current of a device.
func Rated(i unit.Ampere) Key { return positive("rated", float64(i)) }

// Within is a disconnection time.
func Within(t unit.Second) Key { return positive("within", float64(t)) }

// System is the type of earthing: "TN-S", "TN-C-S", "TT".
func System(s string) Key { return Key{"system", s} }

// RCDKind is "general" or "S" (time-delayed).
func RCDKind(kind string) Key { return Key{"rcd", kind} }

// Multiple is a test current in multiples of the rated residual current.
func Multiple(n float64) Key { return positive("multiple", n) }

// Circuit is the class of a circuit for insulation tests: "SELV", "up to 500 V".
func Circuit(class string) Key { return Key{"circuit", class} }

// Premises is what the installation serves: "dwelling".
func Premises(kind string) Key { return Key{"premises", kind} }

// Lamp is the kind of lamp: "led", "discharge", "resistive".
func Lamp(kind string) Key { return Key{"lamp", kind} }

// Power is of one lamp with its driver.
func Power(p unit.Watt) Key { return positive("power", float64(p)) }

// Test is a kind of measurement: "continuity", "insulation", "loop", "rcd time".
func Test(kind string) Key { return Key{"test", kind} }

// Residual is the rated residual operating current of an RCD.
func Residual(i Guard) Key { return positive("residual", float64(i)) }

// Where is a place that asks for protection against water: "zone 0" to
// "zone 2", "outside".
func Where(place string) Key { return Key{"where", place} }

// Strands is an imperial conductor by number and diameter in inches: "3/.029".
func Strands(s string) Key { return Key{"strands", s} }

// Trail is how an answer was found: the cells used and the working, or why
// there is none.
type Trail struct {
	Found   bool
	Why     string // why not
	Working string // one line; empty if the cell is the answer
	Cells   []Cell
}

// Answer is a quantity with its trail. Value means nothing unless Found.
type Answer[T Quantity] struct {
	Trail
	Value T
}

// Ask puts a question to a book. An answer that is not Found says why: the
// book has no such table, the table no such row, or a key is not known.
func Ask[T Quantity](b *Book, q Question[T], keys ...Key) Answer[T] {
	if f, ok := b.formulas[string(q)]; ok {
		v, trail := f(b, keys)
		return Answer[T]{trail, T(v)}
	}
	where := b.answers[string(q)]
	if len(where) == 0 {
		return Answer[T]{Trail: Trail{Why: b.Name() + " has no table of " + strings.ReplaceAll(string(q), "-", " ") + " here"}}
	}
	var why string
	for _, i := range where {
		t := b.Tables[i]
		c, found, off := t.Lookup(append(slices.Clip(keys), Key{"what", string(q)})...)
		if found {
			return Answer[T]{Trail{Found: true, Cells: []Cell{c}}, T(t.base(c.Value))}
		}
		if why == "" {
			why = off
		}
	}
	return Answer[T]{Trail: Trail{Why: why}}
}

// Formula answers a question by arithmetic instead of a table. Its value is in
// base units of package unit.
type Formula func(b *Book, keys []Key) (value float64, t Trail)

// KeyValue is the number of a key, if it is given and known.
func KeyValue(keys []Key, name string) (v float64, ok bool) {
	for _, k := range keys {
		if k.Name == name && k.Value != "" {
			v, err := strconv.ParseFloat(k.Value, 64)
			return v, err == nil
		}
	}
	return 0, false
}

// KeyText is the text of a key, empty if it is not given.
func KeyText(keys []Key, name string) string {
	for _, k := range keys {
		if k.Name == name {
			return k.Value
		}
	}
	return ""
}
