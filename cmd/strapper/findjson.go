package main

import (
	"strings"

	"strapper/fault"
	"strapper/finding"
	"strapper/reading"
)

type findJSON struct {
	Title    string         `json:"title"`
	Stage    string         `json:"stage"`
	Seen     int            `json:"seen"`
	Standing fault.Standing `json:"standing"`
	Causes   []causeJSON    `json:"causes"`
	Next     *questionJSON  `json:"next,omitempty"`
	Repair   *repairJSON    `json:"repair,omitempty"`
}

type causeJSON struct {
	Chance     float64   `json:"chance"`
	Text       string    `json:"text"`
	Sets       []setJSON `json:"sets"`
	SameRepair bool      `json:"same_repair"`
}

type setJSON struct {
	Chance float64     `json:"chance"`
	Faults []faultJSON `json:"faults"`
}

type faultJSON struct {
	ID      string          `json:"id"`
	Kind    fault.Kind      `json:"kind"`
	Subject finding.Subject `json:"subject"`
	Text    string          `json:"text"`
}

type questionJSON struct {
	Kind    fault.SeenKind    `json:"kind"`
	Of      string            `json:"of,omitempty"`
	Between []string          `json:"between,omitempty"`
	With    map[string]string `json:"with,omitempty"`
	Text    string            `json:"text"`
	Before  string            `json:"before,omitempty"`
	Bits    float64           `json:"bits"`
	Effort  float64           `json:"effort"`
	Results []resultJSON      `json:"results"`
}

type resultJSON struct {
	Is     string  `json:"is"`
	Means  string  `json:"means"`
	Chance float64 `json:"chance"`
	Then   string  `json:"then"`
}

type repairJSON struct {
	Before string            `json:"before"`
	Steps  []string          `json:"steps"`
	Boxes  []boxMovesJSON    `json:"boxes"`
	Proved bool              `json:"proved"`
	Expect []reading.Reading `json:"expect"`
}

func (x *search) asJSON() any {
	out := findJSON{Title: x.job.Title, Stage: x.stage.Name, Seen: len(x.finder.Seen()), Causes: []causeJSON{}}
	causes := x.finder.Causes()
	for i := range causes[:min(len(causes), 2*mostCauses)] {
		out.Causes = append(out.Causes, x.cause(&causes[i]))
	}
	q, standing := x.finder.Next()
	out.Standing = standing
	if q != nil {
		out.Next = x.next(q)
	}
	if standing == fault.Certain || standing == fault.Alike {
		out.Repair = x.mend(&causes[0])
	}
	return out
}

// mend is the repair of a cause as JSON has it; nil if there is none.
func (x *search) mend(c *fault.Cause) *repairJSON {
	r, err := x.finder.Repair(c)
	if err != nil {
		return nil
	}
	return repairOf(r)
}

func (x *search) cause(c *fault.Cause) causeJSON {
	out := causeJSON{Chance: c.Chance, Text: x.finder.Words(c), SameRepair: fault.SameRepair(c), Sets: []setJSON{}}
	for i, set := range c.Sets {
		out.Sets = append(out.Sets, x.set(set, c.Chances[i]))
	}
	return out
}

func (x *search) set(faults []*fault.Fault, chance float64) setJSON {
	s := setJSON{Chance: chance, Faults: []faultJSON{}}
	for _, f := range faults {
		s.Faults = append(s.Faults, faultJSON{f.ID(), f.Kind, f.Subject(), x.finder.Describe(f)})
	}
	return s
}

func (x *search) next(q *fault.Question) *questionJSON {
	out := &questionJSON{Kind: q.Kind, Of: q.Of, With: q.With, Text: q.Text, Before: q.Caution, Bits: q.Gain, Effort: q.Effort}
	if q.Of == "" {
		for _, e := range q.Between {
			out.Between = append(out.Between, e.Path())
		}
	}
	if q.Kind != fault.SeenLamp && q.Kind != fault.SeenTrip && !q.Kind.Live() {
		out.Before = strings.TrimSuffix(fault.Isolated+". "+q.Caution, " ")
	}
	for _, r := range q.Results {
		out.Results = append(out.Results, resultJSON{r.Is, r.Means, r.Chance, x.finder.Words(&r.Causes[0])})
	}
	return out
}

func repairOf(r *fault.Repair) *repairJSON {
	out := &repairJSON{Before: strings.TrimSuffix(fault.Isolated+". "+r.Caution, " "), Steps: r.Steps, Boxes: boxMoves(r.Moves), Proved: r.Proved, Expect: r.Expect}
	if out.Steps == nil {
		out.Steps = []string{}
	}
	if out.Expect == nil {
		out.Expect = []reading.Reading{}
	}
	return out
}
