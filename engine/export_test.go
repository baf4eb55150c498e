package engine

import (
	"maps"
	"slices"

	"strapper/rules"
)

// JudgeAgain runs the book over a result anew, as tests and benchmarks do.
func JudgeAgain(r *Result) {
	r.Verdicts, r.Readings, r.Findings = nil, nil, r.Findings[:0]
	r.judge()
}

// Weighed reports whether a check has a weight.
func Weighed(check string) bool { _, ok := weights[check]; return ok }

// WeighedChecks lists the checks that have one.
func WeighedChecks() []string { return slices.Sorted(maps.Keys(weights)) }

// Points are the cases of the points of a result.
func Points(r *Result) []*rules.PointCase {
	j := &judge{Result: r, Stage: r.Final(), changed: r.changedBoxes()}
	return j.points()
}
