package engine

import (
	"strapper/finding"
	"strapper/rules"
)

// weight is what a verdict that is not met means for the work: the code and
// severity of the finding. An empty code means that another pass reports the
// same thing with more detail.
type weight struct {
	code     string
	severity finding.Severity
}

// weights by check. A check that is not here is recorded and makes no finding.
var weights = map[string]weight{
	"existing-sound":    {"existing-inadequate", finding.Forbids},
	"design-current":    {"", finding.Forbids}, // circuit-overloaded
	"device-cable":      {"device-over-cable", finding.Forbids},
	"least-area":        {"conductor-too-thin", finding.Caution},
	"volt-drop":         {"volt-drop", finding.Caution},
	"disconnection":     {"loop-too-high", finding.Forbids},
	"device-alone":      {"loop-too-high", finding.Caution},
	"tt-rcd":            {"no-rcd", finding.Forbids}, // loop-too-high, where there is one
	"electrode-steady":  {"electrode-high", finding.Caution},
	"supply-ze":         {"supply-ze-high", finding.Caution},
	"breaking":          {"breaking-capacity", finding.Forbids},
	"adiabatic-line":    {"fault-heat", finding.Forbids},
	"adiabatic-cpc":     {"fault-heat", finding.Forbids},
	"circuit-cpc":       {"circuit-without-cpc", finding.Caution}, // missing-cpc forbids, point by point
	"rcd-luminaires":    {"no-rcd-lighting", finding.Forbids},
	"rcd-hidden":        {"no-rcd-hidden", finding.Forbids},
	"rcd-bathroom":      {"no-rcd-bathroom", finding.Forbids},
	"rcd-type":          {"rcd-type", finding.Caution},
	"lampholder-device": {"device-over-lampholder", finding.Forbids},
	"old-sheath":        {"old-sheath", finding.Caution},
	"point-cpc":         {"", finding.Forbids}, // missing-cpc
	"bath-ip":           {"bath-ip", finding.Forbids},
	"bath-zone-0":       {"bath-zone-0", finding.Forbids},
	"bath-switch":       {"bath-switch", finding.Forbids},
	"outside-ip":        {"outside-ip", finding.Forbids},
	"edition":           {"edition", finding.Caution},

	"measured-continuity": {"reading-differs", finding.Caution},
	"measured-insulation": {"reading-fails", finding.Caution},
	"insulation-look":     {"insulation-look", finding.Note},
	"measured-zs":         {"reading-fails", finding.Caution},
	"measured-zs-warm":    {"reading-fails", finding.Caution},
	"loop-agrees":         {"reading-differs", finding.Caution},
	"measured-ze":         {"supply-ze-high", finding.Caution},
	"rcd-time":            {"reading-fails", finding.Caution},
	"measured-fault":      {"reading-fails", finding.Caution},
}

// advisory checks of readings do not decide whether a reading passes.
var advisory = map[string]bool{"insulation-look": true, "measured-ze": true, "loop-agrees": true}

// dues are what must be done on the day and must be read before work starts.
var dues = map[string]weight{"asbestos": {"asbestos", finding.Caution}}

// tell makes findings of the verdicts.
func (r *Result) tell() {
	stage := r.Final().Name
	for i := range r.Verdicts {
		r.weigh(stage, &r.Verdicts[i])
	}
	for i := range r.Readings {
		for k := range r.Readings[i].Verdicts {
			v := &r.Readings[i].Verdicts[k]
			why := v.Why
			v.Why = r.Readings[i].Case.Name + ": " + why
			r.weigh("", v)
			v.Why = why
		}
	}
}

// weigh adds the finding of one verdict, if it makes one.
func (r *Result) weigh(stage string, v *rules.Verdict) {
	w, known := weights[v.Check]
	switch {
	case v.Outcome == rules.ToDo:
		w, known = dues[v.Check]
	case v.Outcome == rules.TooClose:
		w.severity = finding.Caution
		if stage == "" {
			w.code = "reading-too-close"
		}
	case v.Outcome != rules.NotMet:
		return
	case v.Check == "measured-continuity" && !Differs(v):
		w.code = "reading-fails"
	case v.Check == "tt-rcd" && v.Value != nil:
		w.code = "loop-too-high"
	}
	if !known || w.code == "" {
		return
	}
	r.add(stage, finding.Finding{
		Code: w.code, Severity: w.severity, Subject: v.Subject, Text: v.Why + " (" + v.Citation.String() + ")", Fix: v.Fix,
	})
}
