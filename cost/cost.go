// Package cost counts what a change of wiring needs: new cable in metres, new
// accessories, plates, boxes, connectors and small parts, and what comes out.
//
// The question it answers is "what must be in the van", so it rounds up and
// gives for every line the reason. It knows no prices, makers or pack sizes,
// and it does not judge the change: an installation as found and one as left
// are compared, whatever they are worth.
//
// Method: a thing is new if the installation as found has no thing of the same
// kind in the same place; a cable is the same piece if it is of the same kind
// between the same boxes. Cable is counted at the longest that its tolerance
// allows, with a tail at each end and waste on the whole. The figures are in
// [Usual] and their sources in [Figures]; a hand calculation is in
// docs/checks/03-take-off.md.
package cost

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"strapper/unit"
	"strapper/wiring"
)

// Part groups the lines of a take-off.
type Part string

// The parts, in the order of the lines.
const (
	Cable     Part = "cable"
	Box       Part = "box"
	Accessory Part = "accessory"
	Lamp      Part = "lamp"
	Device    Part = "protective device"
	Plate     Part = "plate"
	Connector Part = "connector"
	Sleeving  Part = "sleeving"
	Grommet   Part = "grommet"
	Clip      Part = "clip"
)

// Line is one thing that is needed, or that comes out: so many, or so long.
type Line struct {
	Part        Part            `json:"part"`
	Kind        string          `json:"kind,omitempty"`      // id in the catalogue; "" for small parts
	Description string          `json:"description"`         //
	Count       int             `json:"count,omitempty"`     // pieces; 0 where a length is given
	Length      unit.Millimetre `json:"length_mm,omitempty"` // of cable
	Why         string          `json:"why"`                 // how the quantity comes about
}

// Quantity is the number or length to print, without its unit. Lengths are
// in metres to 0.1 m, rounded up.
func (l *Line) Quantity() string {
	if l.Length == 0 {
		return strconv.Itoa(l.Count)
	}
	tenths := (l.Length + 99) / 100
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

// Unit is the unit of the quantity: "m" or "off".
func (l *Line) Unit() string {
	if l.Length == 0 {
		return "off"
	}
	return "m"
}

// TakeOff is what a change needs and what it frees.
type TakeOff struct {
	Lines   []Line `json:"lines"`
	Removed []Line `json:"removed,omitempty"`
}

// Options say what the installations themselves do not.
type Options struct {
	Practice Practice // the zero value stands for Usual()
	Sleeves  int      // ends to be identified by a sleeve; below zero counts as none
	Clips    bool     // count clips as if every new cable were clipped all the way
}

// Count compares two installations. Either may be nil: nothing as found is a
// new installation, nothing as left needs nothing.
func Count(found, left *wiring.Installation, o Options) TakeOff {
	if left == nil {
		return TakeOff{}
	}
	if found == nil {
		found = &wiring.Installation{}
	}
	if o.Practice == (Practice{}) {
		o.Practice = Usual()
	}
	c := counter{found: found, left: left, o: o}
	c.cables()
	c.boxes()
	c.accessories()
	c.devices()
	c.plates()
	c.connectors()
	c.smallParts()
	return TakeOff{Lines: c.lines, Removed: c.removed()}
}

type counter struct {
	found, left *wiring.Installation
	o           Options
	lines       []Line
}

// add puts a line into the list, or adds it to an equal one.
func add(list []Line, l Line) []Line {
	for i := range list {
		old := &list[i]
		if old.Part == l.Part && old.Kind == l.Kind && old.Description == l.Description {
			old.Count += l.Count
			old.Length += l.Length
			if l.Why != "" {
				old.Why += "; " + l.Why
			}
			return list
		}
	}
	return append(list, l)
}

func (c *counter) add(l Line) { c.lines = add(c.lines, l) }

// newCables lists the cables as left that are not there as found.
func (c *counter) newCables() []*wiring.Cable { return missing(c.left, c.found) }

// missing lists the cables of one installation that another does not have.
func missing(of, in *wiring.Installation) []*wiring.Cable {
	var list []*wiring.Cable
	for _, k := range of.Cables {
		if other := in.Cable(k.ID); other == nil || !wiring.SameCable(other, k) {
			list = append(list, k)
		}
	}
	return list
}

// cables counts metres by kind; waste is reckoned on the whole of a kind and
// rounded up to the millimetre.
func (c *counter) cables() {
	first, p := len(c.lines), c.o.Practice
	perMille := unit.Millimetre(math.Round(float64(p.Waste) * 10))
	for _, k := range c.newCables() {
		tails := p.Tail(c.left.Box(k.From)) + p.Tail(c.left.Box(k.To))
		c.add(Line{
			Part: Cable, Kind: k.Kind.ID, Description: k.Kind.Title, Length: k.Length + k.Tolerance + tails,
			Why: fmt.Sprintf("%s: %v + tolerance %v + tails %v", k.ID, k.Length, k.Tolerance, tails),
		})
	}
	for i := first; i < len(c.lines); i++ {
		l := &c.lines[i]
		l.Length += (l.Length*perMille + 999) / 1000
		l.Why += fmt.Sprintf("; with %v waste", p.Waste)
	}
}

// hasBox reports whether an installation has a box of the same kind there.
func hasBox(in *wiring.Installation, b *wiring.Box) bool {
	other := in.Box(b.ID)
	return other != nil && other.Kind.ID == b.Kind.ID
}

func (c *counter) boxes() {
	for _, b := range c.left.Boxes {
		if !hasBox(c.found, b) {
			c.add(Line{Part: Box, Kind: b.Kind.ID, Description: b.Kind.Title, Count: 1, Why: b.Name()})
		}
	}
}

// hasItem reports whether an installation has an accessory of the same kind
// there. The box may be another: an accessory is fitted again.
func hasItem(in *wiring.Installation, box string, f *wiring.Fitted) bool {
	b := in.Box(box)
	if b == nil {
		return false
	}
	other := b.Fitted(f.ID)
	return other != nil && other.Kind.ID == f.Kind.ID
}

func (c *counter) accessories() {
	for _, b := range c.left.Boxes {
		for _, f := range b.Fit {
			if !hasItem(c.found, b.ID, f) {
				c.add(Line{Part: Accessory, Kind: f.Kind.ID, Description: f.Kind.Title, Count: 1, Why: b.Name()})
			}
		}
	}
	for _, b := range c.left.Boxes {
		for _, f := range b.Fit {
			if f.Lamp != nil && f.Lamp.Kind != nil && !c.hasLamp(b.ID, f) {
				c.add(Line{
					Part: Lamp, Kind: f.Lamp.Kind.ID, Description: f.Lamp.Kind.Title + " " + f.Lamp.Power.String(),
					Count: 1, Why: b.Name(),
				})
			}
		}
	}
}

// hasLamp reports whether the same lamp burns there as found. A lamp that only
// the catalogue speaks of is not known, so that another one named is new.
func (c *counter) hasLamp(box string, f *wiring.Fitted) bool {
	b := c.found.Box(box)
	if b == nil || b.Fitted(f.ID) == nil {
		return false
	}
	was := b.Fitted(f.ID).Lamp
	return was != nil && was.Kind != nil && was.Kind.ID == f.Lamp.Kind.ID && was.Power == f.Lamp.Power
}

// devices counts protective devices of circuits. A residual-current device may
// serve several circuits of a board and counts once there.
func (c *counter) devices() {
	residual := map[string]bool{}
	for _, k := range c.left.Circuits {
		was := c.found.Circuit(k.ID)
		if d := k.Device; d != nil && (was == nil || was.Device == nil || was.Device.ID != d.ID) {
			c.add(Line{Part: Device, Kind: d.ID, Description: d.Title, Count: 1, Why: "circuit " + k.ID})
		}
		d := k.RCD
		if d == nil || residual[k.Board+"/"+d.ID] || hasResidual(c.found, k.Board, d.ID) {
			continue
		}
		residual[k.Board+"/"+d.ID] = true
		c.add(Line{Part: Device, Kind: d.ID, Description: d.Title, Count: 1, Why: "circuit " + k.ID})
	}
}

func hasResidual(in *wiring.Installation, board, id string) bool {
	return slices.ContainsFunc(in.Circuits, func(k *wiring.Circuit) bool {
		return k.Board == board && k.RCD != nil && k.RCD.ID == id
	})
}

// removed lists what comes out, in the same order of parts. Whether a cable is
// pulled out or cut back and left in the wall is for the person on site.
func (c *counter) removed() []Line {
	var list []Line
	for _, k := range missing(c.found, c.left) {
		list = add(list, Line{Part: Cable, Kind: k.Kind.ID, Description: k.Kind.Title, Length: k.Length, Why: k.ID})
	}
	for _, b := range c.found.Boxes {
		if !hasBox(c.left, b) {
			list = add(list, Line{Part: Box, Kind: b.Kind.ID, Description: b.Kind.Title, Count: 1, Why: b.Name()})
		}
	}
	for _, b := range c.found.Boxes {
		for _, f := range b.Fit {
			if !hasItem(c.left, b.ID, f) {
				list = add(list, Line{Part: Accessory, Kind: f.Kind.ID, Description: f.Kind.Title, Count: 1, Why: b.Name()})
			}
		}
	}
	for _, k := range c.found.Circuits {
		now := c.left.Circuit(k.ID)
		if d := k.Device; d != nil && (now == nil || now.Device == nil || now.Device.ID != d.ID) {
			list = add(list, Line{Part: Device, Kind: d.ID, Description: d.Title, Count: 1, Why: "circuit " + k.ID})
		}
	}
	return list
}
