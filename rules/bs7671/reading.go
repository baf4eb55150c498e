package bs7671

import (
	"strapper/rules"
	"strapper/rules/iec"
)

func insulationLook(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	if c.Kind != rules.ReadInsulation {
		v.Skip("another kind of reading")
		return
	}
	look := rules.Ask(b, rules.InsulationLook, rules.Circuit(c.Circuit))
	least := rules.Ask(b, rules.InsulationLeast, rules.Circuit(c.Circuit))
	switch {
	case !look.Found || !least.Found:
		v.Skip("no such value is given for the circuit")
	case c.Value < float64(least.Value) && !c.Over:
		v.Skip("it fails the test itself")
	default:
		v.Take(look.Trail)
		value := rules.Measure{Number: c.Value, Unit: "Ω"}
		v.AtLeast("the insulation resistance", value, rules.Of(look.Value), "look for the reason: damp, a neon, electronic equipment left in")
	}
}

// loopWarm needs the external impedance and the temperature; without them the
// cold rule alone judges.
func loopWarm(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	switch {
	case c.Kind != rules.ReadLoop || c.System == "TT":
		v.Skip("not for this reading")
	case !c.Ze.Known || !c.AtKnown:
		v.Leave("measure Ze, and write down the temperature", "Ze or the temperature of the conductors at the test is not given")
	default:
		iec.LoopWarm(b, c, v)
	}
}

func measuredZe(b *rules.Book, c *rules.ReadingCase, v *rules.Verdict) {
	switch {
	case c.Kind != rules.ReadExternal:
		v.Skip("another kind of reading")
	default:
		iec.External(b, c, v)
	}
}
