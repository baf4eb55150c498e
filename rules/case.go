package rules

import (
	"strapper/finding"
	"strapper/unit"
)

// Fact is whether something is so. The zero value is not known: a check that
// needs it is then not assessed.
type Fact int8

// The values of a fact.
const (
	Unknown Fact = iota
	Yes
	No
)

// Is makes a fact of what is known.
func Is(b bool) Fact {
	if b {
		return Yes
	}
	return No
}

// Given is a quantity that may not be known; its zero value is not.
type Given[T Quantity] struct {
	Value T
	Known bool
}

// Know makes a quantity that is known.
func Know[T Quantity](v T) Given[T] { return Given[T]{v, true} }

// Place is where in or about the premises something stands.
type Place string

// The places that rules treat apart. PlaceUnknown is not stated.
const (
	PlaceUnknown  Place = ""
	PlaceRoom     Place = "room"     // a dry room, hall, stair, landing
	PlaceKitchen  Place = "kitchen"  //
	PlaceBathroom Place = "bathroom" // a room with a bath or shower
	PlacePool     Place = "pool"     // a room with a swimming pool
	PlaceSauna    Place = "sauna"    // a room with a sauna heater
	PlaceLoft     Place = "loft"     //
	PlaceOutside  Place = "outside"  // fixed to the house in the open, or in the garden
	PlaceGarage   Place = "garage"   // or another outbuilding
)

// Zone is a zone of a room with a bath or shower.
type Zone string

// The zones. ZoneUnknown is not stated.
const (
	ZoneUnknown Zone = ""
	Zone0       Zone = "0"
	Zone1       Zone = "1"
	Zone2       Zone = "2"
	ZoneOutside Zone = "outside the zones"
)

// PointKind is what stands at a point.
type PointKind string

// The kinds of point.
const (
	KindLamp      PointKind = "lamp"
	KindSwitch    PointKind = "switch"
	KindPull      PointKind = "pull switch" // worked by an insulating cord
	KindFan       PointKind = "fan"
	KindAccessory PointKind = "accessory" // anything else with terminals
)

// PointCase is one lamp, switch or accessory. The zero value of a field is not
// known, unless it says otherwise.
type PointCase struct {
	Subject finding.Subject
	Name    string // as the household calls it

	Kind  PointKind
	Place Place
	Zone  Zone
	IP    string // "IP44", "IPX4"; empty: not stated

	New     Fact // installed by this work
	Extra   Fact // supplied at extra-low voltage, SELV or PELV
	Earthed Fact // a cpc reaches it
	Metal   Fact // has metal that can be touched and no double insulation (class I)
	Hung    Fact // an all-insulated pendant, below which no cpc is run
}

// Guard is a rated residual operating current in amperes; zero is no RCD.
type Guard = unit.Ampere

// CircuitCase is one final circuit as it will be left. What is worked out
// (currents, impedances, drops) is filled by the passes that can; the zero
// value of a field is not known, unless it says otherwise.
type CircuitCase struct {
	Subject finding.Subject
	Name    string

	System  string    // "TN-S", "TN-C-S", "TT"
	Voltage unit.Volt // line to earth
	Private bool      // fed from a private transformer or generator
	Use     string    // "lighting" or "other"
	Serves  Fact      // supplies luminaires in a dwelling
	New     Fact      // new, or gets new points or new cable by this work
	Hidden  Fact      // its new cable runs in walls less than 50 mm deep
	Wet     Fact      // serves, or passes through, a room with a bath or shower
	Holders Fact      // feeds ordinary lampholders

	DeviceKind string      // as in [Device]; "rcd" alone is no overcurrent device
	Curve      string      // of a circuit-breaker
	Rated      unit.Ampere // In
	Capacity   unit.Ampere // breaking capacity marked on the device
	RCD        Given[Guard]
	RCDType    string // "AC", "A", "F", "B"
	Direct     Fact   // its loads can pass a residual current with a DC part

	Design   Given[unit.Ampere] // Ib
	Carries  unit.Ampere        // Iz of the weakest stretch, all factors in
	Stretch  string             // which stretch that is
	Overload Fact               // the load can overload the cable
	Drop     Given[unit.Volt]   // at the farthest lamp, in the worst position
	Farthest string             // which lamp that is

	Ze      Given[unit.Ohm]
	Zs      Given[unit.Ohm]    // conductors at working temperature, the farthest point
	ZsLow   Given[unit.Ohm]    // the same with the shortest cables; Zs if not known
	ZsAt    string             // where
	Fault   Given[unit.Ampere] // greatest prospective fault current at the device
	Clears  Given[unit.Second] // time in which the device clears the least earth fault
	LeastIF Given[unit.Ampere] // that least earth fault current

	Line       unit.SquareMillimetre        // the thinnest line conductor
	Earth      Given[unit.SquareMillimetre] // the thinnest cpc; 0 is none
	EarthRuns  string                       // [InCable] or [Separate]
	Insulation string                       // as in [Insulation]
	Sheath     string                       // "pvc", "rubber", "lead"
	Bonded     Fact                         // main bonding and earthing conductor seen and adequate
	Route      unit.Millimetre              // length of route to the farthest lamp
}

// ReadingKind is what was measured.
type ReadingKind string

// The kinds of reading that a book judges.
const (
	ReadContinuity ReadingKind = "continuity" // R1+R2, R1, R2, Rn, or a polarity test that should be closed
	ReadOpen       ReadingKind = "open"       // a test that should read nothing
	ReadInsulation ReadingKind = "insulation"
	ReadLoop       ReadingKind = "loop"
	ReadExternal   ReadingKind = "external loop" // Ze
	ReadRCDTime    ReadingKind = "rcd time"
	ReadFault      ReadingKind = "fault current"
)

// Meter is what is known of the instrument.
type Meter struct {
	Name       string
	Accuracy   unit.Percent // of the reading
	Digits     int          // of the display, added to it
	Resolution float64      // of the display, base unit
	Stated     bool         // the three above are the maker's; else the standard's worst is taken
	Nulled     Fact         // lead resistance taken off by the instrument
	Leads      unit.Ohm     // resistance of the leads, where it is not
}

// ReadingCase is one reading that was taken, with what it is held against.
type ReadingCase struct {
	Subject finding.Subject
	Name    string // "R1+R2 at the landing lamp, both switches up"

	Kind    ReadingKind
	Value   float64 // as displayed, base unit: ohm, second, ampere
	Over    bool    // the display said more than its range
	Under   bool    // the display said less than Value
	At      unit.Celsius
	AtKnown bool // At is stated
	Meter   Meter

	Predicted Span             // at the temperature PredictedAt, true values
	Forecast  bool             // Predicted is filled
	Predicts  bool             // an open display was predicted
	PerMetre  unit.OhmPerMetre // what one metre more of the last cable would add, at 20 °C
	Ambient   unit.Celsius     // the temperature that the prediction was made for

	System     string // as of the circuit
	DeviceKind string
	Curve      string
	Rated      unit.Ampere
	Residual   Guard
	RCDKind    string  // "general" or "S"
	Multiple   float64 // of the residual current, RCD time
	Ze         Given[unit.Ohm]
	TestVolts  unit.Volt
	Circuit    string      // class for insulation: "up to 500 V"
	Capacity   unit.Ampere // breaking capacity of the weakest device
}

// Span is a least, a most likely and a greatest value in base units.
type Span struct{ Low, Nominal, High float64 }

// Nation is the part of the United Kingdom whose building regulations apply.
type Nation string

// The nations.
const (
	NationUnknown   Nation = ""
	England         Nation = "England"
	Wales           Nation = "Wales"
	Scotland        Nation = "Scotland"
	NorthernIreland Nation = "Northern Ireland"
)

// WorkCase is the piece of work as a whole: what it is, where and by whom.
type WorkCase struct {
	Subject finding.Subject
	Nation  Nation
	House   string // "house", "flat"; empty is not known
	Storeys int    // of the house
	Built   int    // year in which it was built or last plastered; 0 not known
	Finish  string // of the ceilings and walls that are opened: "textured coating", "plaster", "plasterboard", "insulating board"; empty not known
	Opens   Fact   // walls or ceilings are drilled, cut or lifted

	NewCircuits int     // circuits added
	Altered     int     // existing circuits altered
	Board       Fact    // the consumer unit is replaced
	Places      []Place // of the points that are new or changed
	Special     Fact    // some of it is in the space by a bath or shower, or a pool or sauna room
	Garden      Fact    // some of it is garden lighting, or extra-low voltage lighting that is not a made-up set

	Alone    Fact            // one person works alone
	Climb    unit.Millimetre // greatest height of work above the floor
	Notified Fact            // notice has been given, or a registered installer certifies
	Designed string          // date of the design, year-month-day
}
