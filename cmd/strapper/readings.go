package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"strapper/engine"
	"strapper/reading"
)

type readingsCmd struct {
	jobFile
	Live bool `help:"Show the live tests as well; they are for a competent person, and only where the dead tests leave a question."`
}

// Run predicts the readings of the wiring as left, or as found if nothing
// changes.
func (c *readingsCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	final := r.Final()
	if c.JSON {
		s.json(readingsJSON{check(r), final.Name, final.Readings, r.Job.Book.Name(), taken(r)})
		return nil
	}
	if r.Forbidden() {
		fmt.Fprintf(s.out, "Readings are not printed for wiring that is refused.\n")
	} else {
		s.readings(final, c.Live)
	}
	s.taken(r)
	s.findings(r)
	s.verdict(r)
	return nil
}

// readings prints a table for each test, dead ones first.
func (s *session) readings(stage *engine.Stage, live bool) {
	fmt.Fprintf(s.out, "Predicted readings, wiring %s, cables at %v. Dead tests: circuit isolated, locked\n"+
		"off and proved dead, lamps out, electronic equipment disconnected. Take every link and\n"+
		"long lead out again before power is restored.\n", stage.Name, stage.Inst.Supply.Ambient)
	for _, test := range reading.Tests() {
		if !test.Live() {
			s.table(stage, test)
		}
	}
	if !live {
		return
	}
	fmt.Fprintln(s.out, "\nLive tests, for a competent person only:")
	for _, test := range reading.Tests() {
		if test.Live() {
			s.table(stage, test)
		}
	}
}

// table prints the readings of one test: a line for each position, the values
// once for positions that read alike. Notes stand below by their numbers, then
// cautions and limits.
func (s *session) table(stage *engine.Stage, test reading.Test) {
	rows := stage.Readings.Table(stage.Graph, test)
	if len(rows) == 0 {
		return
	}
	fmt.Fprintf(s.out, "\n%s\n", test.Title())
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "point\tleads\tlow\tnominal\thigh\tpositions")
	var marks, below []string
	for _, row := range rows {
		r := row.Readings[0]
		low, nominal, high := r.Columns()
		mark := ""
		if r.Note != "" {
			marks = once(marks, r.Note)
			mark = fmt.Sprintf(" (%d)", slices.Index(marks, r.Note)+1)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t", r.Point, r.Leads(), low, nominal, high)
		fmt.Fprintln(t, strings.Join(positionsOf(row), mark+"\n\t\t\t\t\t")+mark)
		below = once(once(below, r.Caution), r.Limit.String())
	}
	t.Flush()
	for i, text := range marks {
		fmt.Fprintf(s.out, "  (%d) %s\n", i+1, text)
	}
	for _, text := range below {
		fmt.Fprintf(s.out, "  %s\n", text)
	}
}

func positionsOf(row reading.Row) []string {
	if row.Others {
		return []string{"all the other positions"}
	}
	list := make([]string, len(row.Readings))
	for i, r := range row.Readings {
		list[i] = r.Position
	}
	return list
}

// once appends a text that is not empty and not there yet.
func once(list []string, text string) []string {
	if text == "" || slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}
