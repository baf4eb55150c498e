package sizing

import (
	"slices"

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

// Stretches says in the trade's words how a cable lies along a route, what lies
// alike taken together. The longest stretch takes what the cable is longer than
// the route: tails in boxes, slack and bends. A method that no word stands for
// is a stretch of which it is not known how it lies.
func Stretches(way []Lie) []wiring.Stretch {
	var list []wiring.Stretch
	most := -1
	for _, l := range way {
		if l.Surrounded > 0 {
			list = append(list, wiring.Stretch{How: wiring.LaidSurrounded, Length: l.Surrounded, Surrounded: l.Surrounded})
		}
		rest := l.Length - l.Surrounded
		if rest <= 0 {
			continue
		}
		how := byMethod(l.Method)
		k := slices.IndexFunc(list, func(s wiring.Stretch) bool { return s.How == how })
		if k < 0 {
			k = len(list)
			list = append(list, wiring.Stretch{How: how})
		}
		list[k].Length += rest
		if most < 0 || list[k].Length > list[most].Length {
			most = k
		}
	}
	if most >= 0 {
		list[most].Length = 0
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
