package reading

import (
	"fmt"
	"strings"

	"strapper/rules"
	"strapper/source"
	"strapper/unit"
	"strapper/wiring"
)

// cited is where an answer comes from: its table cell, or its arithmetic.
func cited(t rules.Trail) source.Source {
	switch {
	case t.Working != "" || len(t.Cells) == 0:
		return source.Source{Authority: source.Derived, Cite: t.Working}
	}
	c := t.Cells[0]
	return source.Source{Authority: c.State.Authority(), Cite: c.Table.String(), Note: string(c.State) + "; " + c.Source}
}

// zsLimit is what the rule book allows, for a measured value with the share
// that allows for warm conductors. On a TT supply, where an earth fault cannot
// trip an overcurrent device, it is the RCD's.
func (f *forecast) zsLimit(t Test, circuit int) (*Limit, string) {
	note := ""
	if t == ZsWorking {
		note = workingNote
	}
	c := f.g.Origins[circuit].Circuit
	system := string(f.g.Inst.Supply.Earthing)
	switch {
	case f.book == nil:
		return nil, note
	case system == string(wiring.TT):
		return f.residualLimit(c, note)
	case c.Device == nil:
		return nil, notes(note, "no limit is known: the circuit has no device")
	}
	within := rules.Ask(f.book, rules.DisconnectIn, rules.System(system))
	most := rules.Ask(f.book, rules.MaxZs, rules.Device(string(c.Device.Type)), rules.Curve(c.Device.Curve), rules.Rated(c.Device.Rating), rules.Within(within.Value))
	if !most.Found {
		return nil, notes(note, "no limit is known: "+most.Why)
	}
	if t == Zs {
		return f.coldLimit(most, c.Device.Title, note)
	}
	return &Limit{Text: fmt.Sprintf("at most %v (%s)", most.Value, c.Device.Title), Ohm: most.Value, Source: cited(most.Trail)}, note
}

// coldLimit is the share of a limit that a measurement with cold conductors is
// allowed; a book that has none leaves it to the calculated value.
func (f *forecast) coldLimit(most rules.Answer[unit.Ohm], device, note string) (*Limit, string) {
	share := rules.Ask(f.book, rules.MeasuredShare)
	if !share.Found {
		return nil, notes(note, "compare the calculated value with warm conductors")
	}
	s := cited(share.Trail)
	s.Note = notes(s.Note, cited(most.Trail).String())
	limit := most.Value * unit.Ohm(share.Value)
	return &Limit{Text: fmt.Sprintf("at most %v (%g of %v for %s)", limit, float64(share.Value), most.Value, device), Ohm: limit, Source: s}, note
}

// residualLimit is that of the most sensitive residual current device that
// guards the circuit.
func (f *forecast) residualLimit(c *wiring.Circuit, note string) (*Limit, string) {
	guard := Guard(c)
	if guard == nil {
		return nil, notes(note, "TT: only an RCD can disconnect an earth fault, and the circuit has none")
	}
	most := rules.Ask(f.book, rules.ResidualZs, rules.Residual(guard.Residual))
	if !most.Found {
		return nil, notes(note, "no limit is known: "+most.Why)
	}
	note = notes(note, "TT: the RCD disconnects")
	if steady := rules.Ask(f.book, rules.SteadyElectrode); steady.Found {
		note += fmt.Sprintf("; an earth electrode of more than %v may not be stable", steady.Value)
	}
	return &Limit{Text: fmt.Sprintf("at most %.0f Ω (%s)", float64(most.Value), guard.Title), Ohm: most.Value, Source: cited(most.Trail)}, note
}

// insulationLimit is the least that the book asks of a circuit up to 500 V, and
// what it says of a reading that is low without failing.
func (f *forecast) insulationLimit() (limit *Limit, look string) {
	if f.book == nil {
		return nil, ""
	}
	class := rules.Circuit("up to 500 V")
	least, volts := rules.Ask(f.book, rules.InsulationLeast, class), rules.Ask(f.book, rules.InsulationVolts, class)
	if least.Found && volts.Found {
		limit = &Limit{Text: fmt.Sprintf("at least %.2f MΩ at %v DC", float64(least.Value)/1e6, volts.Value), Ohm: least.Value, Source: cited(least.Trail)}
	}
	if a := rules.Ask(f.book, rules.InsulationLook, class); a.Found {
		look = fmt.Sprintf("; below %v look for the reason", strings.TrimSpace(a.Value.String()))
	}
	return limit, look
}

// testVoltage is that of the insulation test, in words.
func (f *forecast) testVoltage() string {
	if f.book != nil {
		if volts := rules.Ask(f.book, rules.InsulationVolts, rules.Circuit("up to 500 V")); volts.Found {
			return volts.Value.String() + " DC"
		}
	}
	return "the test voltage"
}
