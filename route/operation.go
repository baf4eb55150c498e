package route

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"

	"strapper/house"
	"strapper/source"
)

// Work is the key of an operation: what is done where a cable passes.
type Work string

// The operations; what each is in words, and what it takes, is in
// data/operations.json.
const (
	Enter      Work = "enter"
	Drop       Work = "drop"
	Nogging    Work = "nogging"
	StudHole   Work = "stud"
	Across     Work = "across"
	Lining     Work = "lining"
	ChaseUp    Work = "chase-up"
	ChaseAlong Work = "chase-along"
	Head       Work = "head"
	Sole       Work = "sole"
	Rise       Work = "rise"
	Base       Work = "base"
	Skirting   Work = "skirting"
	LiftBoards Work = "lift-boards"
	LiftSheets Work = "lift-sheets"
	AlongBoard Work = "along-board"
	Lane       Work = "lane"
	Joist      Work = "joist"
	Notch      Work = "notch"
	Bearing    Work = "bearing"
	PointWork  Work = "point"
	LoftIn     Work = "loft-in"
	LoftRun    Work = "loft"
	UnderIn    Work = "under-in"
	UnderRun   Work = "under"
	Through    Work = "through"
	ThroughUp  Work = "through-floor"
	Trunk      Work = "trunk"
	Seal       Work = "seal"
	Shift      Work = "shift"
	Beside     Work = "beside"
)

// Operation is what a kind of work takes. Mess is in points: one is a patch of
// a hand's size to make good.
type Operation struct {
	Key          Work    `json:"key"`
	Name         string  `json:"name"`
	Minutes      float64 `json:"minutes"`
	PerMetre     float64 `json:"per_metre"` // minutes
	Mess         float64 `json:"mess"`
	MessPerMetre float64 `json:"mess_per_metre"`
	Shared       bool    `json:"shared"` // done once for all cables that pass there
	Finish       bool    `json:"finish"` // the mess depends on what the wall wears
	Tool         string  `json:"tool"`
}

// Operations are the operations by their keys.
type Operations struct {
	of     map[Work]*Operation
	list   []Operation
	source source.Source
}

//go:embed data/operations.json
var operationsFile []byte

// Customary gives the operations of the data file. An error is a fault in it.
func Customary() (*Operations, error) {
	var file struct {
		Source     source.Source `json:"source"`
		Operations []Operation   `json:"operations"`
	}
	if err := json.Unmarshal(operationsFile, &file); err != nil {
		return nil, fmt.Errorf("data/operations.json: %w", err)
	}
	o := &Operations{of: map[Work]*Operation{}, list: file.Operations, source: file.Source}
	for i := range o.list {
		o.of[o.list[i].Key] = &o.list[i]
	}
	return o, nil
}

// Of finds an operation; nil if there is none of that key.
func (o *Operations) Of(w Work) *Operation { return o.of[w] }

// Figures lists the operations as figures with their source.
func (o *Operations) Figures() []source.Figure {
	var list []source.Figure
	for _, op := range o.list {
		value := fmt.Sprintf("%g min + %g min/m, mess %g + %g/m", op.Minutes, op.PerMetre, op.Mess, op.MessPerMetre)
		list = append(list, source.Figure{Name: "route: " + op.Name, Value: value, Source: o.source})
	}
	return list
}

// effort is what an edge costs besides its length: time in seconds, mess in
// tenths of a point.
type effort struct {
	seconds, mess float64
}

func (e effort) plus(f effort) effort { return effort{e.seconds + f.seconds, e.mess + f.mess} }

func (e effort) times(x float64) effort { return effort{e.seconds * x, e.mess * x} }

// score weighs time and mess as one number, in seconds.
func (e effort) score(l *Limits) float64 { return e.seconds + e.mess/10*float64(l.MessMinutes)*60 }

// takes is the effort of a task.
func (o *Operations) takes(t task) effort {
	op := o.of[t.work]
	if op == nil {
		return effort{}
	}
	e := effort{60 * op.PerMetre * t.length.Metres(), 10 * op.MessPerMetre * t.length.Metres()}
	if !t.on {
		e = e.plus(effort{60 * op.Minutes, 10 * op.Mess})
	}
	if op.Finish && t.finish != 0 {
		e.mess *= t.finish
	}
	if t.half {
		e = e.times(0.5)
	}
	return e
}

// finishFactor is how much worse a finish is to make good than paint: common
// practice, no source.
func finishFactor(r *house.Room) float64 {
	if r == nil {
		return 1
	}
	factor := map[house.Finish]float64{house.FinishPaint: 1, house.FinishPaper: 1.5, house.FinishTiles: 3, house.FinishBare: 0.3}[r.Finish]
	if factor == 0 {
		factor = 1
	}
	if r.Use == house.UseCupboard || r.Use == house.UseGarage {
		factor /= 2
	}
	return factor
}

// cost rounds an effort to whole units for the search. Times go by quarters of
// a minute and mess by tenths of a point, finer than either is known, so that
// ways are not told apart by nothing.
func (e effort) cost() (seconds, mess uint32) {
	return uint32(math.Round(e.seconds/15)) * 15, uint32(math.Round(e.mess))
}
