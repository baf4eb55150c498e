package cost

import (
	"fmt"

	"strapper/kit"
	"strapper/source"
	"strapper/unit"
	"strapper/wiring"
)

// Practice holds the allowances of the trade.
type Practice struct {
	TailSwitch  unit.Millimetre // per cable end in a switch box, surface or joint box
	TailCeiling unit.Millimetre // per cable end at a ceiling point
	TailBoard   unit.Millimetre // per cable end at a consumer unit
	Waste       unit.Percent    // on new cable, reckoned to 0.1 %
}

// Usual is the practice that the program reckons with: the upper end of what
// is customary, since running short costs more than what is left on the reel.
func Usual() Practice {
	return Practice{TailSwitch: 200, TailCeiling: 300, TailBoard: 500, Waste: 10}
}

// Tail is the spare length left for terminating a cable in a box.
func (p Practice) Tail(b *wiring.Box) unit.Millimetre {
	switch {
	case b == nil:
		return p.TailSwitch
	case b.Kind.Mount == kit.MountBoard:
		return p.TailBoard
	case b.Kind.Mount == kit.MountCeiling:
		return p.TailCeiling
	}
	return p.TailSwitch
}

// A support is a row of the table of clip spacings: the greatest distance
// between clips along a horizontal run of cable whose wider side is at most
// Upto. On vertical runs clips may stand further apart.
type support struct {
	upto, horizontal, vertical unit.Millimetre
}

var supports = []support{{9, 250, 400}, {15, 300, 400}, {20, 350, 450}, {40, 400, 550}}

// spacing is the horizontal spacing of clips; ok is false off the table, which
// is never extrapolated, and where the width of the cable is not known.
func spacing(width unit.Millimetre) (s unit.Millimetre, ok bool) {
	for _, row := range supports {
		if width > 0 && width <= row.upto {
			return row.horizontal, true
		}
	}
	return 0, false
}

// Figures lists the numbers of this package with their sources.
func Figures() []source.Figure {
	u := Usual()
	tails := source.Source{Authority: source.Memory, Cite: "common practice, no source", Note: "200 mm to 300 mm at points, 300 mm to 500 mm at the board; to be confirmed"}
	list := []source.Figure{
		{Name: "tail per cable end at a switch box", Value: u.TailSwitch.String(), Source: tails},
		{Name: "tail per cable end at a ceiling point", Value: u.TailCeiling.String(), Source: tails},
		{Name: "tail per cable end at a consumer unit", Value: u.TailBoard.String(), Source: tails},
		{Name: "waste on new cable", Value: u.Waste.String(), Source: source.Source{
			Authority: source.Memory, Cite: "common practice, no source", Note: "5 % to 10 %, the upper end taken; to be confirmed",
		}},
		{Name: "grommets per new cable end in a box let into plaster", Value: "1", Source: source.Source{
			Authority: source.Practice, Cite: "common practice, no source", Note: "one 20 mm knock-out for each cable",
		}},
	}
	for _, row := range supports {
		list = append(list, source.Figure{
			Name:  fmt.Sprintf("spacing of clips, cable up to %v wide", row.upto),
			Value: fmt.Sprintf("%v horizontal, %v vertical", row.horizontal, row.vertical),
			Source: source.Source{
				Authority: source.Published, Cite: "IET On-Site Guide Table D1, after Whitfield, Electrician's Guide, Table 4.10",
				Note: "non-armoured PVC-insulated cable in accessible positions",
			},
		})
	}
	return list
}
