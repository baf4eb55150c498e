package sizing

import (
	"strapper/unit"
	"strapper/wiring"
)

// A Lie is a length of cable with the reference method by which it is rated, as
// a route through the house gives it, and how much of it insulation surrounds.
type Lie struct {
	Method     string
	Length     unit.Millimetre
	Surrounded unit.Millimetre
}

// Stretches says in the trade's words how a cable lies along a route. The
// longest stretch takes what the cable is longer than the route: tails in
// boxes, slack and bends. A method that no word stands for is a stretch of
// which it is not known how it lies.
func Stretches(route []Lie) []wiring.Stretch {
	var list []wiring.Stretch
	longest := -1
	for _, l := range route {
		if l.Surrounded > 0 {
			list = append(list, wiring.Stretch{How: wiring.LaidSurrounded, Length: l.Surrounded, Surrounded: l.Surrounded})
		}
		if rest := l.Length - l.Surrounded; rest > 0 {
			list = append(list, wiring.Stretch{How: byMethod(l.Method), Length: rest})
			if longest < 0 || rest > list[longest].Length {
				longest = len(list) - 1
			}
		}
	}
	if longest >= 0 {
		list[longest].Length = 0
	}
	return list
}

func byMethod(method string) wiring.Laying {
	for _, how := range wiring.Layings() {
		if methods[how].method == method {
			return how
		}
	}
	return wiring.LaidUnknown
}
