// Package wiring is the electrical installation of one job: boxes with what is
// fitted in them, cables between them, and the joints that make core ends and
// terminals electrically one.
//
// There is one description and three views of it:
//
//   - [Graph], the conditional graph: nodes are joints, edges are cores and
//     contacts, a contact being closed in some positions of its switch. Package
//     switching proves over it.
//   - [View], the numeric network in a set of positions, for package network.
//   - [Placed], what is in each box and where it lands, for drawings and moves.
//
// No other package keeps its own idea of what a switch does: all of it comes
// from the catalogue of kit. The package does not judge a design; [Build] only
// reports what makes a description contradictory.
package wiring

import (
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/unit"
)

// Earthing is the type of earthing of the supply (IEC 60364-1).
type Earthing string

// The earthing arrangements of public low-voltage supplies.
const (
	TNS  Earthing = "TN-S"
	TNCS Earthing = "TN-C-S"
	TT   Earthing = "TT"
)

// Supply is the electricity supply at the origin of the installation.
type Supply struct {
	Voltage   unit.Volt    // line to neutral, nominal
	Frequency unit.Hertz   //
	Earthing  Earthing     //
	Ze        unit.Ohm     // external earth fault loop impedance
	Ambient   unit.Celsius // temperature of the cables when the tests are made
	Fault     unit.Ampere  // prospective fault current measured at the origin, the greater of line to neutral and line to earth; 0 not measured
}

// Circuit is one final circuit: its protective device and the outgoing
// terminals L, N and E, which stand in box Board under the circuit's own ID.
type Circuit struct {
	ID     string
	Title  string
	Board  string
	Device *kit.Device
	RCD    *kit.Device // nil if none
	Way    *kit.Accessory
	Also   []Served // what else hangs on it, so far as the job says

	Other    unit.Watt   // lighting on the circuit that the job does not draw, as demand
	Breaking unit.Ampere // fault current marked on the device as what it can break; 0 not stated
	RCDType  string      // "AC", "A", "F" or "B", as marked; empty not stated
}

// Named is the circuit as a person looks for it at the consumer unit: its id,
// its title and its device.
func (c *Circuit) Named() string {
	text := c.ID
	if c.Title != "" {
		text += ", " + c.Title
	}
	if c.Device != nil {
		text += " (" + c.Device.Title + ")"
	}
	return text
}

// Served is something besides the lamps of the job that loses its supply when
// a circuit is switched off.
type Served struct {
	What string // in words: "freezer in the garage"
	Kind ServedKind
}

// ServedKind says what must be thought of before the supply is cut.
type ServedKind string

// The kinds of what is served.
const (
	ServesOther   ServedKind = ""
	ServesFridge  ServedKind = "fridge"  // food spoils
	ServesAlarm   ServedKind = "alarm"   // smoke, heat, gas or intruder alarm
	ServesMedical ServedKind = "medical" // somebody depends on it
	ServesHeating ServedKind = "heating"
)

// Lamp is what burns in a lampholder or luminaire, where the job says so.
type Lamp struct {
	Kind  *kit.LampKind
	Power unit.Watt
}

// Fitted is one accessory fitted in a box.
type Fitted struct {
	ID   string
	Kind *kit.Accessory
	Lamp *Lamp  // nil: as the catalogue says
	IP   string // "IP44", as on its label; empty: not stated
}

// Box is any place where cables end.
type Box struct {
	ID    string
	Title string
	Kind  *kit.Box
	Fit   []*Fitted
	Place string // kind of room, "bathroom", "outside" …; empty: not stated
	Zone  string // of a room with a bath or shower: "zone 1", "outside"; empty: not stated
}

// Cable runs between two different boxes.
type Cable struct {
	ID        string
	Kind      *kit.Cable
	From, To  string
	Length    unit.Millimetre
	Tolerance unit.Millimetre // the true length lies within Length ± Tolerance
	Via       string          // in words, for the pack: "drop in the stud wall"
	Routed    bool            // the job gives no length: it is 0 until one is found in the house
	Laid      []Stretch       // how it lies, so far as is known; what is left of Length is not known
}

// Stretch is a length of cable that lies in one way, which decides how warm it
// may run.
type Stretch struct {
	Length     unit.Millimetre // 0: all of the cable that no other stretch takes
	How        Laying
	Ambient    unit.Celsius    // of the air round it; 0 not stated
	Bunched    int             // loaded circuits that touch there, this one counted; 0 or 1 is alone
	Surrounded unit.Millimetre // of LaidSurrounded: length wholly in insulation; 0 is all of the stretch
}

// Laying is how a cable lies, in the trade's words.
type Laying string

// The ways a flat cable lies in a house.
const (
	LaidUnknown    Laying = ""
	LaidClipped    Laying = "clipped"         // to a surface, or in plaster or masonry
	LaidCeiling    Laying = "ceiling-thin"    // above a ceiling, under thermal insulation of up to 100 mm
	LaidLoft       Laying = "ceiling-thick"   // above a ceiling, under more than 100 mm
	LaidStudFace   Laying = "stud-touching"   // in an insulated stud wall, touching the inner face
	LaidStudInside Laying = "stud-inside"     // in an insulated stud wall, not touching it
	LaidWallPipe   Laying = "conduit-in-wall" // in conduit in an insulated wall
	LaidPipe       Laying = "conduit"         // in conduit or trunking on a wall
	LaidSurrounded Laying = "surrounded"      // wholly surrounded by thermal insulation
)

// Layings lists them, as a job may name them.
func Layings() []Laying {
	return []Laying{LaidClipped, LaidCeiling, LaidLoft, LaidStudFace, LaidStudInside, LaidWallPipe, LaidPipe, LaidSurrounded}
}

// End is a place where a conductor can be joined: a terminal of an accessory
// (Item is the accessory) or the end of a core in a box (Item is the cable).
type End struct {
	Box, Item, Name string
}

// String is the end as a job writes it inside its box: "s1.COM".
func (e End) String() string { return e.Item + "." + e.Name }

// Path is the end with its box, box.item.name, as a job file has it.
func (e End) Path() string { return e.Box + "." + e.String() }

// Subject is the path of the end for findings.
func (e End) Subject() finding.Subject {
	return finding.Subject(strings.Join([]string{"joints", e.Box, e.Item, e.Name}, "."))
}

// Joint makes its ends electrically one. A joint of a single core end is that
// core parked: made safe in a connector, joined to nothing.
type Joint struct {
	Box  string
	Ends []End
}

// Installation is the wiring in one condition of the house: as found or as
// left. The zero value is an empty house.
type Installation struct {
	Supply   Supply
	Circuits []*Circuit
	Boxes    []*Box
	Cables   []*Cable
	Joints   []Joint
}

// Box finds a box by id; nil if there is none.
func (in *Installation) Box(id string) *Box {
	for _, b := range in.Boxes {
		if b.ID == id {
			return b
		}
	}
	return nil
}

// Cable finds a cable by id; nil if there is none.
func (in *Installation) Cable(id string) *Cable {
	for _, c := range in.Cables {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// Circuit finds a circuit by id; nil if there is none.
func (in *Installation) Circuit(id string) *Circuit {
	for _, c := range in.Circuits {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// Fitted finds an accessory in the box; nil if there is none.
func (b *Box) Fitted(id string) *Fitted {
	for _, f := range b.Fit {
		if f.ID == id {
			return f
		}
	}
	return nil
}

// Name is the box's title, or its id where it has none.
func (b *Box) Name() string {
	if b.Title != "" {
		return b.Title
	}
	return b.ID
}

// FullName is the box's title with the id by which readings call it.
func (b *Box) FullName() string {
	if b.Title == "" || b.Title == b.ID {
		return b.ID
	}
	return b.Title + " (" + b.ID + ")"
}
