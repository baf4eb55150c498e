// Package kit is the catalogue of what can be fitted: accessories, boxes,
// cables, conductors, lamps and protective devices, each one JSON file under
// data/, embedded in the program.
//
// An accessory is data: its terminals, its positions, and for each position
// which terminals are joined. From that alone package wiring derives what is
// proved, what is solved and what is drawn, so a new kind of switch is a new
// file and no code. What is not contacts-per-position (a load, a coil that
// toggles a contact) is a field of its own here and has one translation in
// package wiring.
//
// The catalogue knows no makers and no prices. Every file names its source.
package kit

import (
	"strapper/source"
	"strapper/unit"
)

// Class groups accessories by what they do.
type Class string

// The classes of accessory.
const (
	ClassSwitch    Class = "switch"
	ClassDimmer    Class = "dimmer"
	ClassSensor    Class = "sensor"
	ClassRelay     Class = "relay"
	ClassIsolator  Class = "isolator"
	ClassLamp      Class = "lamp" // lampholder, rose with pendant, luminaire
	ClassFan       Class = "fan"
	ClassConnector Class = "connector"
	ClassWay       Class = "way" // the outgoing terminals of one circuit at the consumer unit
)

// Actuator is what changes an accessory's position.
type Actuator string

// The actuators. Pull is a cord whose position cannot be seen; Push springs
// back to the first position; Coil toggles each time its coil is energised;
// Sensor and Timer change by themselves, so a proof must allow any position.
const (
	ByNothing Actuator = ""
	ByHand    Actuator = "hand"
	ByPull    Actuator = "pull"
	ByPush    Actuator = "push"
	ByCoil    Actuator = "coil"
	BySensor  Actuator = "sensor"
	ByTimer   Actuator = "timer"
)

// Role is what a terminal is meant for, where its maker says so.
type Role string

// The roles of a terminal. The empty role takes any live conductor.
const (
	AnyRole     Role = ""
	RoleCommon  Role = "common"
	RoleStrap   Role = "strap"
	RoleLine    Role = "line"
	RoleSwitch  Role = "switched"
	RoleNeutral Role = "neutral"
	RoleEarth   Role = "earth"
)

// Terminal is one place on an accessory where conductors are clamped.
type Terminal struct {
	Name string `json:"name"` // as marked: "COM", "L1"
	Role Role   `json:"role,omitempty"`
}

// Via says through what a contact joins its two terminals.
type Via string

// ViaMetal is an ordinary contact; ViaElectronic a semiconductor, through
// which an ohmmeter does not read and a small voltage is lost.
const (
	ViaMetal      Via = ""
	ViaElectronic Via = "electronic"
)

// Contact joins two terminals in some of the accessory's positions.
type Contact struct {
	Join [2]string `json:"join"`
	In   []string  `json:"in"` // position names; never empty
	Via  Via       `json:"via,omitempty"`
}

// Load is current-using equipment between two terminals of an accessory. Lamp
// is the key of a lamp kind; for a lampholder the job may name another.
type Load struct {
	Between [2]string `json:"between"` // line side first
	Lamp    string    `json:"lamp"`
	Power   unit.Watt `json:"power_w"`
	Always  bool      `json:"always,omitempty"` // the accessory's own consumption, not a lamp to be switched
	Kind    *LampKind `json:"-"`                // the lamp kind that Lamp names, linked when the catalogue is read
}

// Coil toggles the accessory between its positions each time it is energised.
type Coil struct {
	Between [2]string `json:"between"`
	Power   unit.Watt `json:"power_w"`
}

// Accessory is one kind of thing that is fitted in or on a box.
//
// Invariants, checked when the catalogue is read: terminals have distinct
// names; contacts and loads name terminals that exist and positions that
// exist; an accessory with an actuator has at least two positions.
type Accessory struct {
	ID        string        `json:"id"`
	Title     string        `json:"title"`
	Class     Class         `json:"class"`
	Actuator  Actuator      `json:"actuator,omitempty"`
	Terminals []Terminal    `json:"terminals"`
	Positions []string      `json:"positions,omitempty"` // first = rest, or as drawn
	Contacts  []Contact     `json:"contacts,omitempty"`
	Loads     []Load        `json:"loads,omitempty"`
	Coil      *Coil         `json:"coil,omitempty"`
	Rating    unit.Ampere   `json:"rating_a,omitempty"`     // of each contact or terminal; 0 = not stated
	MinLoad   unit.Watt     `json:"min_load_w,omitempty"`   // below this a dimmer may flicker or not start
	MaxLoad   unit.Watt     `json:"max_load_w,omitempty"`   // LED load a dimmer may carry
	ClassI    bool          `json:"class_1,omitempty"`      // exposed metal: must be earthed
	Holder    bool          `json:"holder,omitempty"`       // an ordinary lampholder: any lamp that fits may be put in
	Capacity  int           `json:"capacity,omitempty"`     // conductors of 1.5 mm² per terminal; 0 = not stated
	Symbol    string        `json:"symbol"`                 // name of its drawing
	Source    source.Source `json:"source"`                 // terminals, positions and contacts
	RSource   source.Source `json:"rating_source,omitzero"` // rating and capacity
	LSource   source.Source `json:"load_source,omitzero"`   // powers of loads and coil, load limits
}

// Mount is how a box is fixed.
type Mount string

// The mounts of boxes.
const (
	MountPlaster      Mount = "plaster"
	MountPlasterboard Mount = "plasterboard"
	MountSurface      Mount = "surface"
	MountCeiling      Mount = "ceiling"
	MountBoard        Mount = "board" // a consumer unit
)

// Box is one kind of enclosure in which cables end.
type Box struct {
	ID     string          `json:"id"`
	Title  string          `json:"title"`
	Gangs  int             `json:"gangs"` // plates it takes; 0 where accessories fix otherwise
	Mount  Mount           `json:"mount"`
	Depth  unit.Millimetre `json:"depth_mm,omitempty"`
	Width  unit.Millimetre `json:"width_mm,omitempty"`
	Height unit.Millimetre `json:"height_mm,omitempty"`
	Source source.Source   `json:"source"`
}

// Colour is the colour of a core's insulation; Bare for an uninsulated cpc.
type Colour string

// The colours met in fixed wiring of dwellings.
const (
	Brown       Colour = "brown"
	Blue        Colour = "blue"
	Black       Colour = "black"
	Grey        Colour = "grey"
	Red         Colour = "red"
	Yellow      Colour = "yellow"
	GreenYellow Colour = "green-yellow"
	Green       Colour = "green"
	Bare        Colour = "bare"
)

// Palette tells harmonised core colours from those used before 31 March 2006.
type Palette string

// The palettes.
const (
	Harmonised Palette = "harmonised"
	OldColours Palette = "old"
)

// Core is one conductor of a cable.
type Core struct {
	Name   string                `json:"name"` // as it is called in a job: "brown", "cpc"
	Colour Colour                `json:"colour"`
	Area   unit.SquareMillimetre `json:"area_mm2"`
	Earth  bool                  `json:"earth,omitempty"` // a protective conductor

	Strands string           `json:"strands,omitempty"`   // of an imperial conductor: "3/.029"
	PerM    unit.OhmPerMetre `json:"ohm_per_m,omitempty"` // at 20 °C, where the area stands in no table
}

// Coupling is the capacitance per metre between two cores of a cable.
type Coupling struct {
	Between [2]string          `json:"between"`
	C       unit.FaradPerMetre `json:"f_per_m"`
}

// Cable is one kind of cable.
type Cable struct {
	ID        string          `json:"id"`
	Title     string          `json:"title"`
	Palette   Palette         `json:"palette"`
	Cores     []Core          `json:"cores"`
	Coupling  []Coupling      `json:"coupling,omitempty"`
	Rating    unit.Ampere     `json:"rating_a"`         // lowest tabulated: in an insulated stud wall, not touching a face
	Sheath    string          `json:"sheath,omitempty"` // [SheathRubber] or [SheathLead]; plastic if empty
	Width     unit.Millimetre `json:"width_mm,omitempty"`
	Thickness unit.Millimetre `json:"thickness_mm,omitempty"`
	Source    source.Source   `json:"source"`
	CSource   source.Source   `json:"coupling_source,omitzero"`
	RSource   source.Source   `json:"rating_source"`
}

// The sheaths of cable from before plastic.
const (
	SheathRubber = "rubber"
	SheathLead   = "lead"
)

// DeviceType is a family of protective devices.
type DeviceType string

// The families of protective device on lighting circuits.
const (
	MCB       DeviceType = "mcb"
	RCBO      DeviceType = "rcbo"
	RCD       DeviceType = "rcd"
	Rewirable DeviceType = "rewirable fuse"
	Cartridge DeviceType = "cartridge fuse"
)

// Device is one kind of protective device. With what loop impedance it
// disconnects in time is for a rule book.
type Device struct {
	ID       string        `json:"id"`
	Title    string        `json:"title"`
	Type     DeviceType    `json:"type"`
	Curve    string        `json:"curve,omitempty"`
	Rating   unit.Ampere   `json:"rating_a"`
	Residual unit.Ampere   `json:"residual_a,omitempty"` // IΔn
	Source   source.Source `json:"source"`
}

// Conductor is a row of the table of conductor resistances: maximum for plain
// annealed copper, class 1 or 2, at 20 °C.
type Conductor struct {
	Area       unit.SquareMillimetre `json:"area_mm2"`
	Resistance unit.OhmPerMetre      `json:"ohm_per_m"`
}

// LampKind is how a lamp behaves electrically.
type LampKind struct {
	ID          string        `json:"id"`
	Title       string        `json:"title"`
	PowerFactor float64       `json:"power_factor"`       // apparent power = power / power factor
	Idle        unit.Ohm      `json:"idle_ohm,omitempty"` // impedance when not lit; 0 = same as lit
	Glow        unit.Ampere   `json:"glow_a,omitempty"`   // current at which it shows when off; 0 = never
	Source      source.Source `json:"source"`
}
