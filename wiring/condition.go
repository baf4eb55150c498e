package wiring

import (
	"fmt"

	"strapper/network"
	"strapper/source"
	"strapper/unit"
)

// Bound says at which end of what is not known exactly a view is taken. The
// resistance between two points rises with that of every branch (Rayleigh's
// monotonicity law), so all-low and all-high bound every resistance exactly.
type Bound uint8

// The bounds. Nominal: cables of the stated length with conductors at their
// tabulated maximum. Low: the shortest cables, with the best conductors and
// contacts that are usual. High: the longest cables at the tabulated maximum,
// with contacts still usual.
const (
	Nominal Bound = iota
	Low
	High
)

// Contacts vary more than conductors: a usual one lies between these multiples
// of the catalogue's figure.
const (
	contactLow  = 0.2
	contactHigh = 2.0
)

// Condition is what is the case for a whole series of readings.
type Condition struct {
	Temperature unit.Celsius // of all conductors
	Length      Bound
	Supplied    bool       // the supply is connected; else the wiring is dead and isolated
	Loop        bool       // the supply's impedances without its voltage, direct current: for loop impedance. Overrides Supplied
	LoadsOut    bool       // lamps taken out; an accessory's own consumption stays
	Frequency   unit.Hertz // of a supplied view; 0 means the supply's, or 50 Hz if it names none
}

// energised reports whether the supply is there with or without its voltage.
func (c Condition) energised() bool { return c.Supplied || c.Loop }

func (c Condition) frequency(s Supply) unit.Hertz {
	switch {
	case c.Loop || !c.Supplied:
		return 0
	case c.Frequency > 0:
		return c.Frequency
	case s.Frequency > 0:
		return s.Frequency
	}
	return 50
}

// Setting is what is the case for one reading.
type Setting struct {
	State State
	Lit   func(load int) bool // which loads are running; nil: none
	Off   []bool              // by circuit: its device is off; missing: on. A dead view has all of them off
	Link  []int               // circuits whose line and cpc terminals are linked at the board, for method 1
}

// The public supply where the earth return is an electrode: conductors of the
// reference impedance. In TN half of Ze is taken for the line and half for the
// return, because a service has conductors of one size.
const (
	referenceLine    unit.Ohm = 0.24
	referenceNeutral unit.Ohm = 0.16
)

// supplyParts splits Ze, the impedance out by the line and back by the means of
// earthing, over the conductors of the supply.
func (s Supply) supplyParts() (line, neutral, earth unit.Ohm) {
	half := s.Ze / 2
	if s.Earthing != TT {
		return half, half, half
	}
	line = min(half, referenceLine)
	return line, min(half, referenceNeutral), s.Ze - line
}

// usable says what is wrong with a supply that is to be connected.
func (s Supply) usable() error {
	if !(s.Ze >= 2e-6 && s.Ze <= 1e6) || !(s.Voltage > 0 && s.Voltage <= 1000) {
		return fmt.Errorf("supply: %v with Ze %v cannot be connected: give a voltage up to 1000 V and the measured or declared Ze above zero", s.Voltage, s.Ze)
	}
	switch s.Earthing {
	case TNS, TNCS, TT:
		return nil
	}
	return fmt.Errorf("supply: earthing %q is not one of %s, %s, %s", s.Earthing, TNS, TNCS, TT)
}

// bars are the consumer unit's bars as network nodes.
type bars struct{ line, neutral, earth network.Node }

// connect builds the supply up to the bars. Ground is the star point of the
// source. With PME the neutral and the earth bar are one, behind the impedance
// of the PEN conductor.
func (s Supply) connect(n *network.Network, c Condition) bars {
	b := bars{line: n.Node(), neutral: n.Node()}
	b.earth = b.neutral
	if s.Earthing != TNCS || !c.energised() {
		b.earth = n.Node()
	}
	if !c.energised() {
		return b
	}
	line, neutral, earth := s.supplyParts()
	if c.Loop {
		n.Resistor(b.line, network.Ground, line)
	} else {
		n.Source(b.line, network.Ground, network.Voltage(complex(float64(s.Voltage), 0)), line)
	}
	n.Resistor(b.neutral, network.Ground, neutral)
	if b.earth != b.neutral {
		n.Resistor(b.earth, network.Ground, earth)
	}
	return b
}

// Figures lists the numbers that views rest on beside the catalogue's.
func Figures() []source.Figure {
	memory := func(cite, note string) source.Source {
		return source.Source{Authority: source.Memory, Cite: cite, Note: note}
	}
	practice := func(cite string) source.Source { return source.Source{Authority: source.Practice, Cite: cite} }
	return []source.Figure{
		{Name: "share of Ze in the line conductor, TN supplies", Value: "half", Source: practice("a service has line and return conductors of one size: assumed, common practice, no source")},
		{Name: "line conductor of the supply, TT", Value: referenceLine.String(), Source: memory("IEC TR 60725, reference impedance of public low-voltage supplies, resistive part of the line", "half of Ze if that is less; recalled, to be confirmed")},
		{Name: "neutral conductor of the supply, TT", Value: referenceNeutral.String(), Source: memory("IEC TR 60725, reference impedance of public low-voltage supplies, resistive part of the neutral", "half of Ze if that is less; recalled, to be confirmed")},
		{Name: "sound contact, lowest", Value: "0.2 of the catalogue's contact resistance", Source: practice("a good contact is a few milliohms, common practice, no source")},
		{Name: "sound contact, highest", Value: "2 times the catalogue's contact resistance", Source: practice("common practice, no source")},
	}
}
