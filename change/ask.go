package change

import (
	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// Ask is what is wanted of the wiring, and within what limits.
type Ask struct {
	Groups []Group
	Could  Could
	Limits Limits
}

// Group is a number of lamps that act as one and the places they are worked
// from.
type Group struct {
	Lamps   []string // "box.item"; all exist as found
	At      []Place
	Off     []Place        // master switches: while one is in its first position the lamps are dark
	Rule    switching.Rule // toggle, any or all
	Circuit string         // the circuit that feeds them; "" keeps the one that does as found
	Subject finding.Subject
}

// Place is where somebody works a switch. It is one of the switches found in
// its box, or a new one.
type Place struct {
	Box     string
	Item    string         // a switch found there; "" lets the search choose, or fit a new one
	Kind    *kit.Accessory // what is to be fitted; nil leaves it to the search
	Keep    bool           // the switch found stays, as it is
	Neutral bool           // a neutral is wanted in the box
	Subject finding.Subject
}

// Could is what may be added to the house.
type Could struct {
	Boxes  []*wiring.Box // none of them is there as found
	Cables []Cable
}

// Cable is a run that a new cable could take: one cable, of one of the kinds.
type Cable struct {
	ID        string
	From, To  string // boxes as found, or that could be added
	Kinds     []*kit.Cable
	Length    unit.Millimetre
	Routed    bool // Length was not stated: it is that of a way through the house
	Tolerance unit.Millimetre
	Minutes   float64  // of work to run it, ends not counted
	Walls     []string // finished walls that it opens, by name
	Replaces  string   // a cable found that is drawn out for it; "" if none
	Via       string
	Subject   finding.Subject
}

// Limits are what must not be done. Each is named in the explanation when
// there is no way.
type Limits struct {
	Closed   []Limit          // boxes in which nothing may change
	Walls    []Limit          // walls, by the name that Cable.Walls uses, that must not be opened
	Switches []*kit.Accessory // kinds that may be newly fitted; empty: the usual ones
	Stock    *Stock           // what is on the van; nil: no limit
	Doubtful []string         // cables found that are only used if it cannot be helped
}

// Limit is one thing that must be left alone.
type Limit struct {
	Name    string
	Subject finding.Subject
}

// Stock is what is at hand. Kinds that are not listed are not at hand.
type Stock struct {
	Cable   map[string]unit.Millimetre // by kind
	Fitting map[string]int             // accessories, by kind
	Subject finding.Subject
}
