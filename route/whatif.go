package route

import (
	"fmt"
	"slices"

	"strapper/internal/shortest"
)

// whatIf works out, for everything that may stand in the way, what is done
// then: clear it, or leave it and take another way.
func (g *graph) whatIf(r Run, route *Route) {
	from, to := g.boxes[r.From], g.boxes[r.To]
	told := map[string]bool{}
	for _, i := range route.edges {
		for _, risk := range g.edges[i].risks {
			if told[risk.key] {
				continue
			}
			told[risk.key] = true
			w := WhatIf{What: risk.What, Likely: risk.Likely, Stay: risk.Do, Minutes: minutes(risk.extra.seconds), Do: risk.Do}
			g.other(&w, from, to, risk, route)
			route.WhatIf = append(route.WhatIf, w)
		}
	}
}

// other finds the best way that avoids an obstruction wherever it may be, and
// compares it with clearing it.
func (g *graph) other(w *WhatIf, from, to int32, risk Risk, route *Route) {
	t := g.score.Priced(from, to, scoreAll, func(arc int32) (uint32, bool) { return 0, !g.edges[arc/2].has(risk.key) })
	if t.Cost(to) == shortest.Far {
		if risk.leave {
			w.Do = risk.Do + ": no other hidden route was found; stop, measure again, and think of moving a box or of trunking"
		}
		return
	}
	way := t.Way(to)
	e := g.estimate(way)
	var here effort
	for _, i := range route.edges {
		here = here.plus(g.edges[i].own).plus(g.edges[i].shared)
	}
	here = here.plus(risk.extra.times(-risk.Likely.Fraction()))
	w.More = e.Minutes - minutes(here.seconds)
	w.Other = fmt.Sprintf("take another route: %v of cable, %d minutes in all, %s", said(e.Length), e.Minutes, e.Through)
	there := effort{float64(e.Minutes) * 60, e.Mess * 10}.score(g.l)
	if risk.leave || there < here.plus(risk.extra).score(g.l) {
		w.Do = w.Other
		if risk.leave {
			w.Do = risk.Do + "; " + w.Other
		}
	}
}

func (e *edge) has(key string) bool {
	return slices.ContainsFunc(e.risks, func(r Risk) bool { return r.key == key })
}

// through names the spaces that a way passes.
func (g *graph) through(way []int32) string {
	names := map[Space]string{InFloor: "through the floor", InLoft: "through the loft", InUnder: "beneath the floor", OnSurface: "in trunking"}
	text := "inside the walls"
	for _, arc := range way {
		for _, n := range []int32{g.edges[arc/2].a, g.edges[arc/2].b} {
			if name := names[g.nodes[n].space]; name != "" {
				text = name
			}
		}
	}
	return text
}
