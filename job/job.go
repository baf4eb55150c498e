// Package job is one piece of work as a file: the wiring as found, what
// changes, and the control wanted, in YAML that a person writes.
//
// [Read] turns the text into a [Job] whose installations are known to build,
// or into all the [Problems] of the file at once, each with its place, its
// line and what to do. It does not judge the wiring; that is switching's work.
//
// The text is parsed once into values with places, checked against a JSON
// Schema (draft 2020-12) that is generated from the file's own types, and then
// resolved against the catalogue of package kit. YAML's anchors, aliases, tags
// and several documents are refused: a job has no use for them.
package job

import (
	"encoding/json"
	"strings"

	"strapper/change"
	"strapper/fault"
	"strapper/finding"
	"strapper/house"
	"strapper/kit"
	measured "strapper/reading"
	"strapper/rules"
	"strapper/switching"
	"strapper/wiring"
)

// The names of the two conditions of a house, as findings carry them.
const (
	AsFound = "as found"
	AsLeft  = "as left"
)

// Job is one piece of work. Both installations build without findings that
// forbid, and every lamp and switch that Want names exists in the last of them.
type Job struct {
	Title, Client, Address, Note string
	Date                         string // "2026-11-25", or empty

	Book     *rules.Book // that the work is judged by
	Premises Premises
	Readings []measured.Taken // once the work was done

	Found *wiring.Installation
	Left  *wiring.Installation // nil when the file has no left: section
	Want  []switching.Want     // control given by the switches there will be

	Ask    *change.Ask  // control given by places: wiring to be looked for; nil if there is none
	Choose string       // the way to carry out; "" for the one of least effort
	Prices string       // the price list's file, as the job names it; not read here
	Seen   []fault.Seen // of the last of the two that the file writes out

	Unknown *fault.Unknown // runs to be found by tests; nil if there are none

	House *house.House // nil when the file has no house: section

	file        string
	found, left places
}

// places says where in the file each subject stands.
type places map[finding.Subject]place

// Read reads a job from the text of a file; the file's name is only used in
// places. If there is any problem the job is nil. Read never panics and is
// bounded in time: a text over MaxBytes or MaxLines is refused.
func Read(file string, text []byte, cat *kit.Catalogue) (*Job, Problems) {
	plain := strings.ReplaceAll(strings.TrimPrefix(string(text), "\uFEFF"), "\r\n", "\n")
	r := &reading{reporter: newReporter(file, plain), cat: cat, suspect: map[string]bool{}, unknown: map[string]bool{}}
	if r.root = r.parse(plain); r.root == nil {
		return nil, r.problems()
	}
	r.validate(r.root)
	if err := r.decode(); err != nil {
		r.report(r.root.at, "compare the file with the schema", "the file cannot be read: %v", err)
		return nil, r.problems()
	}
	j := r.resolve()
	if ps := r.problems(); len(ps) > 0 {
		return nil, ps
	}
	return j, nil
}

// reading is one reading of a file.
type reading struct {
	*reporter
	cat     *kit.Catalogue
	root    *value
	text    fileJob
	unknown map[string]bool // items that no joint's box has, reported once
	routed  []routed        // cables without a length
	suspect map[string]bool // ids of things that were refused: what follows from that is not reported again
}

// decode fills the file's types. Values of a wrong type are left out: the
// schema has reported them.
func (r *reading) decode() error {
	text, err := json.Marshal(r.root.plain())
	if err != nil {
		return err
	}
	return ignoreType(json.Unmarshal(text, &r.text))
}

// resolve makes the job of what was decoded.
func (r *reading) resolve() *Job {
	h := r.text.Job
	j := &Job{Title: h.Title, Client: h.Client, Address: h.Address, Note: h.Note, Date: h.Date, file: r.file}
	r.date(h.Date)
	found := r.found()
	j.Found, j.found = found.in, found.places
	last := found
	if r.root.field("left") != nil {
		last = r.left(found)
		j.Left, j.left = last.in, last.places
	}
	r.build(found, j, AsFound)
	if last != found {
		r.build(last, j, AsLeft)
	}
	j.Want = r.wants(last)
	j.Ask, j.Choose, j.Prices = r.ask(found, j), r.text.Choose, r.text.Prices
	var could []*wiring.Box
	if j.Ask != nil {
		could = j.Ask.Could.Boxes
	}
	j.House = r.house(found, last, could)
	r.lengthless(j.House)
	r.limitWalls(j.Ask, j.House)
	j.Book = r.book()
	j.Premises = r.premises()
	j.Readings = r.taken(last)
	j.Seen = r.seen(last)
	j.Unknown = r.runs(found)
	return j
}

// build lets wiring look for contradictions and reports them at their places.
func (r *reading) build(s *stage, j *Job, name string) {
	if r.incomplete {
		return
	}
	_, findings := wiring.Build(s.in)
	for _, f := range findings {
		if f.Severity != finding.Forbids || r.follows(f.Subject) || f.Code == "unknown-item" && r.said(f.Subject) {
			continue
		}
		p := j.PositionIn(name, f.Subject)
		r.report(place{p.Line, p.Column}, f.Fix, "%s", f.Text)
	}
}

// said reports whether it has been said that the item of an end is nowhere; a
// name that is wrong in one place is often used in ten.
func (r *reading) said(s finding.Subject) bool {
	parts := strings.Split(string(s), ".") // joints, box, item, name
	again := r.unknown[parts[2]]
	r.unknown[parts[2]] = true
	return again
}

// follows reports whether a finding is about something already refused.
func (r *reading) follows(s finding.Subject) bool {
	for part := range strings.SplitSeq(string(s), ".") {
		if r.suspect[part] {
			return true
		}
	}
	return false
}

// Position is where the file speaks of a subject: as found if it does so
// there, else as left; if nowhere, the nearest enclosing path.
func (j *Job) Position(s finding.Subject) finding.Position {
	return j.lookup(s, j.found, j.left)
}

// PositionIn is Position for one stage: for AsLeft the left: section is looked
// through first.
func (j *Job) PositionIn(stage string, s finding.Subject) finding.Position {
	if stage == AsLeft {
		return j.lookup(s, j.left, j.found)
	}
	return j.lookup(s, j.found, j.left)
}

// lookup shortens the path until one of the maps knows it. An end that no
// joint mentions is looked for where its item is fitted, a box without joints
// where the box is.
func (j *Job) lookup(s finding.Subject, maps ...places) finding.Position {
	for path := string(s); path != ""; path = path[:max(strings.LastIndexByte(path, '.'), 0)] {
		for _, m := range maps {
			if at, ok := m[finding.Subject(path)]; ok {
				return at.in(j.file)
			}
		}
		rest, end := strings.CutPrefix(path, "joints.")
		if !end {
			continue
		}
		for _, m := range maps {
			if at, ok := m[finding.Subject("boxes."+rest)]; ok {
				return at.in(j.file)
			}
		}
	}
	return place{1, 1}.in(j.file)
}
