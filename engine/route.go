package engine

import (
	"fmt"
	"slices"

	"strapper/cost"
	"strapper/finding"
	"strapper/route"
	"strapper/sizing"
	"strapper/unit"
	"strapper/wiring"
)

// lengths gives the cables that the job states no length for that of their best
// way through the house. What the job holds is not changed. A cable that is
// there already may lie another way: a quarter of its length is added to what
// it may be out by.
func (r *Result) lengths(in *wiring.Installation, stage string, known *wiring.Installation) (*wiring.Installation, error) {
	if in == nil || r.Job.House == nil || !slices.ContainsFunc(in.Cables, func(c *wiring.Cable) bool { return c.Routed }) {
		return in, nil
	}
	if err := r.openFinder(); err != nil {
		return nil, err
	}
	out := *in
	out.Cables = make([]*wiring.Cable, len(in.Cables))
	for i, c := range in.Cables {
		out.Cables[i] = c
		if !c.Routed {
			continue
		}
		e, ok := r.finder.Best(c.From, c.To, c.Kind)
		if !ok {
			r.add(stage, finding.Finding{
				Code: "no-length", Severity: finding.Forbids, Subject: finding.Subject("cables." + c.ID),
				Text: fmt.Sprintf("cable %s has no length, and no route from %s to %s was found in the house", c.ID, c.From, c.To),
				Fix:  "give its length, or say more about the house",
			})
			continue
		}
		out.Cables[i] = measured(c, e, isFound(known, c))
	}
	return &out, nil
}

// measured is a cable with the length of a way.
func measured(c *wiring.Cable, e route.Estimate, thereAlready bool) *wiring.Cable {
	m := *c
	m.Length = roundedUp(e.Length)
	tolerance := e.OffBy
	if thereAlready {
		tolerance += e.Length / 4
	}
	tolerance = centimetres(tolerance)
	if m.Tolerance == 0 {
		m.Tolerance = tolerance
	}
	m.Tolerance = min(m.Tolerance, m.Length)
	if m.Via == "" {
		m.Via = e.Through
	}
	return &m
}

// centimetres rounds a length up: nothing finer is known.
func centimetres(l unit.Millimetre) unit.Millimetre { return (l + 9) / 10 * 10 }

// roundedUp is the length of a cable along a way: never nothing.
func roundedUp(l unit.Millimetre) unit.Millimetre { return max(centimetres(l), 10) }

func (r *Result) openFinder() (err error) {
	if r.finder == nil {
		r.finder, err = route.Open(r.Job.House)
	}
	return err
}

// routes finds the ways of the new cables whose ends the house places: those of
// the wiring as left, or all if the job changes nothing. A cable of which the
// job states both length and way keeps them.
func (r *Result) routes() error {
	if r.Job.House == nil {
		return nil
	}
	if err := r.openFinder(); err != nil {
		return err
	}
	final := r.Final()
	usual := cost.Usual()
	var runs []route.Run
	for _, c := range final.Inst.Cables {
		if r.Left != nil && isFound(r.Found.Inst, c) || r.Job.House.Box(c.From) == nil || r.Job.House.Box(c.To) == nil {
			continue
		}
		if !c.Routed && c.Via != "" {
			continue // its way has been chosen
		}
		from, to := final.Inst.Box(c.From), final.Inst.Box(c.To)
		runs = append(runs, route.Run{
			ID: c.ID, From: c.From, To: c.To, Kind: c.Kind,
			Tails: [2]unit.Millimetre{usual.Tail(from), usual.Tail(to)}, Names: [2]string{from.Name(), to.Name()},
		})
	}
	if len(runs) == 0 {
		return nil
	}
	r.Routes = r.finder.Plan(runs, route.Options{Waste: usual.Waste})
	for _, f := range r.Routes.Findings {
		r.add("", f)
	}
	r.compareLengths()
	return nil
}

// isFound reports whether a cable is there as found.
func isFound(found *wiring.Installation, c *wiring.Cable) bool {
	k := found.Cable(c.ID)
	return k != nil && wiring.SameCable(k, c)
}

// compareLengths notes where a stated length does not fit the way found.
func (r *Result) compareLengths() {
	for _, choice := range r.Routes.Runs {
		c := r.Final().Inst.Cable(choice.Run)
		if c.Routed || len(choice.Routes) == 0 {
			continue
		}
		way := &choice.Routes[0]
		if c.Length-c.Tolerance > way.Length+way.OffBy || c.Length+c.Tolerance < way.Length-way.OffBy {
			r.add("", finding.Finding{
				Code: "length-differs", Severity: finding.Note, Subject: finding.Subject("cables." + c.ID),
				Text: fmt.Sprintf("cable %s is given as %v, give or take %v, and its route through the house is %v, give or take %v", c.ID, c.Length, c.Tolerance, way.Length, way.OffBy),
				Fix:  "leave the length out, so that the route gives it, or say what the house section leaves out",
			})
		}
	}
}

// laid says how the new cables lie along their best routes, by cable.
func (r *Result) laid() map[string][]wiring.Stretch {
	if r.Routes == nil {
		return nil
	}
	laid := map[string][]wiring.Stretch{}
	for _, choice := range r.Routes.Runs {
		if len(choice.Routes) == 0 {
			continue
		}
		laid[choice.Run] = sizing.Stretches(lies(&choice.Routes[0]))
	}
	return laid
}

// lies are the stretches of a route by their methods, equal neighbours as one.
func lies(w *route.Route) []sizing.Lie {
	var list []sizing.Lie
	for _, s := range w.Stretches {
		if n := len(list); n > 0 && list[n-1].Method == s.Method {
			list[n-1].Length += s.Length
			list[n-1].Surrounded += s.Surrounded
			continue
		}
		list = append(list, sizing.Lie{Method: s.Method, Length: s.Length, Surrounded: s.Surrounded})
	}
	return list
}
