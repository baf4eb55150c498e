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
}

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
}

// End is a place where a conductor can be joined: a terminal of an accessory
// (Item is the accessory) or the end of a core in a box (Item is the cable).
type End struct {
	Box, Item, Name string
}

// String is the end as a job writes it inside its box: "s1.COM".
func (e End) String() string { return e.Item + "." + e.Name }

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
