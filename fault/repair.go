package fault

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/reading"
	"strapper/switching"
	"strapper/wiring"
)

// Repair is what puts a cause right.
type Repair struct {
	Caution string            // before a consumer unit is opened; else empty
	Steps   []string          // what is done beside the moves, in words
	Moves   []wiring.BoxMoves // with the power off
	Proof   *switching.Proof  // of the wiring as it is then
	Proved  bool              // nothing forbids it, and it does what is wanted
	Expect  []reading.Reading // what to read before the power is put on again
}

// Repair works out how a cause is put right: the moves from the wiring with
// the fault in it to the wiring as it should be, proved in every position, and
// the readings to expect afterwards. Of faults that no test tells apart the
// likeliest is taken; see [SameRepair].
func (f *Finder) Repair(c *Cause) (*Repair, error) {
	set := c.Sets[0]
	r := &Repair{Proof: switching.Prove(f.g, f.wants)}
	r.Proved = r.Proof.Exact && !finding.Forbidden(r.Proof.Findings)
	in := copyOf(f.g.Inst)
	var moving []*Fault
	for _, x := range set {
		if slices.ContainsFunc(f.touched(x), f.isBoard) {
			r.Caution = BoardLive + "."
		}
		if step := f.step(x); step != "" {
			r.Steps = append(r.Steps, step)
		}
		switch x.Kind {
		case Slack, LeakyLamp, Bridged: // nothing changes places
		case Shorted, Leaking, Broken:
			renameCable(in, x.Cable)
		default:
			moving = append(moving, x)
		}
	}
	in, _, err := Apply(in, moving...)
	if err != nil {
		return nil, err
	}
	wrong, problems := wiring.Build(in)
	if wrong == nil {
		return nil, fmt.Errorf("the wiring with the fault in it contradicts itself: %v", problems[0])
	}
	r.Moves = wiring.Moves(wrong, f.g, r.Proof.Sleeve)
	return r, f.expect(r, set)
}

// step says what is done for a fault that no move of a conductor puts right.
func (f *Finder) step(x *Fault) string {
	switch x.Kind {
	case Slack:
		return fmt.Sprintf("In %s, take %s out of %s, cut back damaged copper, and make the joint again.", x.Ends[0].Box, f.g.EndName(x.Ends[0]), f.g.Where(x.Ends[0]))
	case Bridged:
		return fmt.Sprintf("In %s, part %s from %s: look for a whisker, bare copper outside a terminal or a crushed core, and make the ends again.", x.Ends[0].Box, f.g.EndName(x.Ends[0]), f.g.EndName(x.Ends[1]))
	case Shorted, Leaking, Broken:
		return fmt.Sprintf("Cable %s is damaged: find the place and repair it in an accessible joint box if the rules in force allow, or replace the cable as below.", x.Cable)
	case LeakyLamp:
		return fmt.Sprintf("Replace %s.%s.", x.Box, x.Item)
	case DeadLamp:
		return fmt.Sprintf("Fit a lamp known to be good in %s.%s.", x.Box, x.Item)
	}
	return ""
}

// renameCable gives a cable another name, so that the one as it should be is new.
func renameCable(in *wiring.Installation, id string) {
	old := id + "-damaged"
	for i, c := range in.Cables {
		if c.ID == id {
			cable := *c
			cable.ID = old
			in.Cables[i] = &cable
		}
	}
	for i := range in.Joints {
		for k := range in.Joints[i].Ends {
			if e := &in.Joints[i].Ends[k]; e.Item == id {
				e.Item = old
			}
		}
	}
}

// mostExpected is the greatest number of readings shown after a repair.
const mostExpected = 12

// expect predicts the dead readings at the places that were touched, and the
// insulation of every circuit.
func (f *Finder) expect(r *Repair, set []*Fault) error {
	all, err := reading.Predict(f.g, r.Proof, f.cat, f.after)
	if err != nil {
		return err
	}
	var boxes []string
	for _, x := range set {
		boxes = append(boxes, f.touched(x)...)
	}
	for _, row := range all.Rows {
		box, _, _ := strings.Cut(row.Point, ".")
		continuity := row.Test == reading.Polarity || row.Test == reading.R1R2 || row.Test == reading.R2
		if row.Test == reading.Insulation || slices.Contains(boxes, box) && continuity && len(r.Expect) < mostExpected {
			r.Expect = append(r.Expect, row)
		}
	}
	return nil
}

// touched lists the boxes that are opened to put a fault right.
func (f *Finder) touched(x *Fault) []string {
	if c := f.g.Inst.Cable(x.Cable); c != nil {
		return []string{c.From, c.To}
	}
	return []string{x.Place()}
}

// SameRepair reports whether everything in a cause is put right by the same
// work: the same boxes made as drawn, the same cable or accessory replaced.
func SameRepair(c *Cause) bool {
	for _, set := range c.Sets[1:] {
		if work(set) != work(c.Sets[0]) {
			return false
		}
	}
	return true
}

func work(set []*Fault) string {
	var list []string
	for _, x := range set {
		switch x.Kind {
		case WrongKind, NoContact, Welded, Stuck, DeadSwitch, DeadLamp, LeakyLamp:
			list = append(list, "replace "+x.Box+"."+x.Item)
		case Shorted, Leaking, Broken:
			list = append(list, "replace "+x.Cable)
		default:
			list = append(list, "put right "+x.Place())
		}
	}
	slices.Sort(list)
	return strings.Join(slices.Compact(list), ", ")
}
