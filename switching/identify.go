package switching

import (
	"strapper/kit"
	"strapper/wiring"
)

// Sleeve is the identification that a core end needs for what it does, given
// the colour it has: "brown sleeve", "blue sleeve", "green-and-yellow sleeve",
// or "" if its own colour says it already, if it does nothing, or if the end
// is not a core.
//
// Source: IEC 60445 and BS 7671 reg. 514.3 and Table 51 for the colours (from
// memory, to be confirmed against print); switched lines and strappers are
// line conductors, whatever the colour of the core.
func (p *Proof) Sleeve(e wiring.End) string {
	cable, core := p.g.IsCore(e)
	n, ok := p.g.Node(e)
	if core == nil || !ok {
		return ""
	}
	needs := kit.Colour("")
	switch p.Duty[n] {
	case DutyEarth:
		needs = kit.GreenYellow
	case DutyNeutral:
		needs = kit.Blue
	case DutyLine, DutySwitched, DutyStrapper, DutyMixed:
		needs = kit.Brown
	}
	if needs == "" || says(core.Colour, needs, cable.Kind.Palette) {
		return ""
	}
	if needs == kit.GreenYellow {
		return "green-and-yellow sleeve"
	}
	return string(needs) + " sleeve"
}

// says reports whether a core's own colour already identifies it. In cables
// of before 2006 red was line, black neutral and green the protective
// conductor.
func says(colour, needs kit.Colour, palette kit.Palette) bool {
	if colour == needs {
		return true
	}
	if palette != kit.OldColours {
		return false
	}
	switch needs {
	case kit.Brown:
		return colour == kit.Red
	case kit.Blue:
		return colour == kit.Black
	case kit.GreenYellow:
		return colour == kit.Green
	}
	return false
}
