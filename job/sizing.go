package job

import (
	"slices"
	"strconv"

	"strapper/unit"
	"strapper/wiring"
)

// served resolves what only sizing and isolation ask of a circuit.
func (r *reading) served(c *wiring.Circuit, f fileCircuit) {
	under := func(name string) []string { return []string{"circuits", c.ID, name} }
	for _, a := range f.Also {
		c.Also = append(c.Also, wiring.Served{What: a.What, Kind: wiring.ServedKind(a.Kind)})
	}
	c.Other, _ = quantity(r, f.Other, unit.ParseWatt, 0, limits[unit.Watt]{"the other load", 0, 20e3}, under("other-load")...)
	c.Breaking, _ = quantity(r, f.Breaking, unit.ParseAmpere, 0, limits[unit.Ampere]{"the breaking capacity", 500, 100e3}, under("breaking")...)
	c.RCDType = f.RCDType
	if protected := c.RCD != nil || c.Device != nil && c.Device.Residual > 0; f.RCDType != "" && c.Device != nil && !protected {
		r.report(r.at(under("rcd-type")...), "give the residual current device under rcd:, or leave its type out", "circuit %s has no residual current device whose type this could be", c.ID)
	}
}

// laid resolves how a cable of the given length lies.
func (r *reading) laid(length unit.Millimetre, list []fileStretch, path ...string) []wiring.Stretch {
	var out []wiring.Stretch
	var sum unit.Millimetre
	rest := false
	for i, f := range list {
		under := func(name string) []string { return append(slices.Clone(path), "laid", strconv.Itoa(i), name) }
		s := wiring.Stretch{How: wiring.Laying(f.How), Bunched: f.Bunched}
		s.Length, _ = quantity(r, f.Length, unit.ParseMillimetre, 0, lengths, under("length")...)
		s.Ambient, _ = quantity(r, f.Ambient, unit.ParseCelsius, 0, limits[unit.Celsius]{"the temperature round the cable", 1, 80}, under("ambient")...)
		s.Surrounded, _ = quantity(r, f.Surrounded, unit.ParseMillimetre, 0, lengths, under("surrounded")...)
		switch {
		case f.Surrounded != "" && s.How != wiring.LaidSurrounded:
			r.report(r.at(under("surrounded")...), `write "how: surrounded" for that stretch`, "a length within insulation is given for a stretch that is %s", f.How)
		case f.Length == "" && rest:
			r.report(r.at(under("how")...), "give the length of all stretches but one", "two stretches have no length, so neither is known")
		case length > 0 && sum+s.Length > length:
			r.report(r.at(under("length")...), "correct a length", "the stretches come to %v, and the cable is %v long", sum+s.Length, length)
		}
		rest = rest || f.Length == ""
		sum += s.Length
		out = append(out, s)
	}
	return out
}
