// Package engine runs the passes over a job, in order, once: lengths and costs
// are taken from the house, a change is looked for if the job asks for one, the
// wiring as found and as left is proved, the moves between them are derived,
// readings are predicted, routes found, circuits sized, boxes made safe and parts
// counted, and the rule book judges all of it with the readings that were taken.
// The same job gives the same Result.
//
// It decides what a finding means for the work: what is wrong as found is a
// caution when the job changes the wiring (it is dangerous now, and the person
// must know), while what is wrong as left forbids.
package engine

import (
	"fmt"
	"slices"

	"strapper/change"
	"strapper/cost"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/reading"
	"strapper/route"
	"strapper/rules"
	"strapper/sizing"
	"strapper/switching"
	"strapper/wiring"
)

// The names of the two conditions of the house, and of both together, as
// findings carry them.
const (
	AsFound = job.AsFound
	AsLeft  = job.AsLeft
	AsBoth  = "as found and as left"
)

// MostPositions is the greatest number of positions of all switches that any
// output prints one by one.
const MostPositions = 64

// Stage is the wiring in one condition with what was worked out from it.
// Readings is nil as found when the job changes the wiring.
type Stage struct {
	Name     string
	Inst     *wiring.Installation
	Graph    *wiring.Graph
	Proof    *switching.Proof
	Readings *reading.Readings
}

// Result is everything worked out from one job. Left is nil when the job
// changes nothing, or no way to change it was found: then the wiring as found
// is what is proved and predicted.
type Result struct {
	Job      *job.Job
	Found    *Stage
	Left     *Stage
	Wants    []switching.Want // the control that the final stage is held to
	Change   *change.Answer   // of a job that asks for wiring to be looked for
	Way      *change.Way      // the way that Left carries out; nil if Left is written in the job
	Moves    []wiring.BoxMoves
	Parts    cost.TakeOff
	Routes   *route.Plan          // nil without a house, or if no new cable needs a way through it
	Verdicts []rules.Verdict      // of the job's rule book on the wiring as it will be and the work as a whole
	Readings []Judged             // that were taken, with what the book says of them
	Openings []Opening            // every box, and what must be off before it is opened
	Whole    *switching.Isolation // what must be off while the work has any of them open
	Sizes    *sizing.Sizes        // of the final stage, judged by the book of the job
	Findings []finding.Finding

	finder *route.Finder
}

// Final is the stage that the work ends with.
func (r *Result) Final() *Stage {
	if r.Left != nil {
		return r.Left
	}
	return r.Found
}

// Forbidden reports whether the work must not be carried out as planned.
func (r *Result) Forbidden() bool { return finding.Forbidden(r.Findings) }

// Run works out a job. An error means that it could not be worked out; what is
// wrong with the house is in Result.Findings.
func Run(j *job.Job, cat *kit.Catalogue) (*Result, error) {
	return RunWays(j, cat, change.Options{Named: j.Choose})
}

// RunWays is Run with the search for a change under the caller's control, as in
// Change.
func RunWays(j *job.Job, cat *kit.Catalogue, o change.Options) (*Result, error) {
	r, err := Change(j, cat, o)
	if err != nil {
		return nil, err
	}
	final := r.Final()
	if final.Readings, err = reading.Predict(final.Graph, final.Proof, cat, reading.Options{Book: j.Book}); err != nil {
		return nil, fmt.Errorf("readings %s: %w", final.Name, err)
	}
	for _, f := range final.Readings.Findings {
		r.add(final.Name, f)
	}
	if err := r.routes(); err != nil {
		return nil, fmt.Errorf("routes: %w", err)
	}
	if r.Left != nil {
		r.Moves = wiring.Moves(r.Found.Graph, r.Left.Graph, r.Left.Proof.Sleeve)
		r.Parts = cost.Count(r.Found.Inst, r.Left.Inst, cost.Options{Sleeves: cost.Sleeves(r.Moves)})
	}
	r.isolate()
	if err := r.size(cat); err != nil {
		return nil, err
	}
	r.judge()
	finding.Sort(r.Findings)
	return r, nil
}

// Prove runs only the passes that need no lengths: the change that is asked
// for, graphs, proofs and ratings.
func Prove(j *job.Job, cat *kit.Catalogue) (*Result, error) {
	return Change(j, cat, change.Options{Named: j.Choose})
}

// Change is Prove with the search for a change under the caller's control:
// how many ways are looked for, when it stops, and who is told of progress.
func Change(j *job.Job, cat *kit.Catalogue, o change.Options) (*Result, error) {
	r := &Result{Job: j, Wants: j.Want}
	left := j.Left
	var wants []switching.Want
	if left == nil && j.Ask == nil {
		wants = j.Want
	}
	found, err := r.lengths(j.Found, AsFound, j.Found)
	if err != nil {
		return nil, fmt.Errorf("lengths: %w", err)
	}
	if r.Found, err = r.stage(AsFound, found, wants, cat); err != nil {
		return nil, err
	}
	if j.Ask != nil {
		if left, err = r.search(cat, o); err != nil {
			return nil, err
		}
	}
	if left, err = r.lengths(left, AsLeft, j.Found); err != nil {
		return nil, fmt.Errorf("lengths: %w", err)
	}
	if left != nil {
		if r.Left, err = r.stage(AsLeft, left, r.Wants, cat); err != nil {
			return nil, err
		}
	}
	r.merge()
	if j.House != nil {
		for _, f := range j.House.Findings {
			r.add("", f)
		}
	}
	finding.Sort(r.Findings)
	return r, nil
}

// merge makes one finding of what is wrong as found and stays wrong as left.
func (r *Result) merge() {
	type key struct {
		code string
		at   finding.Subject
		text string
	}
	found := map[key]bool{}
	for _, f := range r.Findings {
		if f.Stage == AsFound {
			found[key{f.Code, f.Subject, f.Text}] = true
		}
	}
	both := map[key]bool{}
	for i := range r.Findings {
		f := &r.Findings[i]
		if k := (key{f.Code, f.Subject, f.Text}); f.Stage == AsLeft && found[k] {
			f.Stage, both[k] = AsBoth, true
		}
	}
	r.Findings = slices.DeleteFunc(r.Findings, func(f finding.Finding) bool {
		return f.Stage == AsFound && both[key{f.Code, f.Subject, f.Text}]
	})
}

func (r *Result) stage(name string, in *wiring.Installation, wants []switching.Want, cat *kit.Catalogue) (*Stage, error) {
	g, problems := wiring.Build(in)
	if g == nil {
		return nil, fmt.Errorf("the wiring %s contradicts itself: %v", name, problems[0])
	}
	s := &Stage{Name: name, Inst: in, Graph: g, Proof: switching.Prove(g, wants)}
	overloads, err := sizing.Overloads(g, s.Proof, cat)
	if err != nil {
		return nil, fmt.Errorf("currents %s: %w", name, err)
	}
	for _, list := range [][]finding.Finding{problems, s.Proof.Findings, overloads, crowding(in)} {
		for _, f := range list {
			r.add(name, f)
		}
	}
	return s, nil
}

// add places a finding in its stage and in the file.
func (r *Result) add(stage string, f finding.Finding) {
	f.Stage = stage
	if stage == AsFound && (r.Job.Left != nil || r.Job.Ask != nil) && f.Severity == finding.Forbids {
		f.Severity = finding.Caution
	}
	f.Position = r.Job.PositionIn(stage, f.Subject)
	r.Findings = append(r.Findings, f)
}
