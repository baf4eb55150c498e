package engine

import (
	"fmt"
	"slices"

	"strapper/finding"
	"strapper/house"
	"strapper/job"
	"strapper/kit"
	"strapper/wiring"
)

// crowding holds the conductors in each box against the room behind its
// accessories.
func crowding(in *wiring.Installation) []finding.Finding {
	var list []finding.Finding
	for _, b := range in.Boxes {
		c := Contents(in, b)
		each, needs, crowded := job.SizeOf(b.Kind).Crowded(c)
		if !crowded {
			continue
		}
		list = append(list, finding.Finding{
			Code: "box-crowded", Severity: finding.Caution, Subject: finding.Subject("boxes." + b.ID),
			Text: fmt.Sprintf("box %s has little room for %d conductors: %.1f cm³ each behind what is fitted, and %.1f cm³ is reckoned with",
				b.ID, c.Conductors, float64(each)/1000, float64(needs)/1000),
			Fix: "take a deeper box, or bring fewer cables into this one; this is a rule of thumb, judge it on site",
		})
	}
	return list
}

// Contents counts what a box has to hold: the core ends in it, and whether
// something deeper than a plain switch is fitted.
func Contents(in *wiring.Installation, b *wiring.Box) house.Contents {
	var c house.Contents
	for _, k := range in.Cables {
		if k.From == b.ID || k.To == b.ID {
			c.Conductors += len(k.Kind.Cores)
		}
	}
	c.Deep = slices.ContainsFunc(b.Fit, func(x *wiring.Fitted) bool {
		return x.Kind.Class == kit.ClassDimmer || x.Kind.Class == kit.ClassSensor || x.Kind.Class == kit.ClassRelay
	})
	return c
}

// CutOuts are the holes of the boxes that the work lets into walls and ceilings
// anew, in the order of the house section; none without a house.
func (r *Result) CutOuts() []house.CutOut {
	if r.Job.House == nil {
		return nil
	}
	var list []house.CutOut
	for _, b := range r.Job.House.Boxes {
		if b.New && b.Size.Flush && b.Size.Width > 0 && r.Final().Inst.Box(b.ID) != nil {
			list = append(list, b.CutOut())
		}
	}
	return list
}
