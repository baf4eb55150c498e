package main

import (
	"strapper/engine"
	"strapper/switching"
)

func isolation(r *engine.Result, openings []engine.Opening) isolationJSON {
	out := isolationJSON{checkJSON: check(r), Boxes: []openingJSON{}, Whole: isolated(r.Whole), Steps: r.Whole.Steps()}
	for i := range openings {
		o := &openings[i]
		b := openingJSON{Box: o.Box.ID, Title: o.Box.Title, isolatedJSON: isolated(o.Isolation), Tests: []pairJSON{}}
		for _, t := range o.Tests {
			b.Tests = append(b.Tests, pairJSON{t.A.Name(o.Graph), t.B.Name(o.Graph), t.Shows})
		}
		out.Boxes = append(out.Boxes, b)
	}
	return out
}

func isolated(is *switching.Isolation) isolatedJSON {
	out := isolatedJSON{
		Exact: is.Exact, MainSwitch: is.Board, Off: []needJSON{}, Beside: []besideJSON{},
		Dark: append([]string{}, is.Dark...), Partly: append([]string{}, is.Partly...), Warnings: append([]string{}, is.Warnings()...),
	}
	for i := range is.Needed {
		n := &is.Needed[i]
		need := needJSON{Circuit: n.Circuit.ID, Through: n.Through, Witness: n.Witness, Live: []string{}}
		for _, e := range n.Live {
			need.Live = append(need.Live, e.Path())
		}
		out.Off = append(out.Off, need)
	}
	for _, b := range is.Beside {
		out.Beside = append(out.Beside, besideJSON{b.Circuit.ID, b.Why()})
	}
	return out
}
