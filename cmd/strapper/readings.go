package main

import (
	"fmt"
	"io"
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
	s.tables(stage, false)
	if live {
		fmt.Fprintln(s.out, "\nLive tests, for a competent person only:")
		s.tables(stage, true)
	}
}

// tables prints the tests that are live, or those that are dead.
func (s *session) tables(stage *engine.Stage, live bool) {
	for _, test := range reading.Tests() {
		if test.Live() == live {
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
	var notes footnotes
	for _, row := range rows {
		r := row.Readings[0]
		low, nominal, high := r.Columns()
		mark := notes.of(r)
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t", r.Point, r.Leads(), low, nominal, high)
		fmt.Fprintln(t, strings.Join(positionsOf(row), mark+"\n\t\t\t\t\t")+mark)
	}
	t.Flush()
	notes.print(s.out)
}

// footnotes are the texts below a table of readings, each there once.
type footnotes struct {
	numbered []string
	plain    []string // cautions and limits
}

// of takes in what is to be said of a reading and returns the mark beside it.
func (f *footnotes) of(r *reading.Reading) (mark string) {
	f.plain = once(once(f.plain, r.Caution), r.Limit.String())
	if r.Note == "" {
		return ""
	}
	f.numbered = once(f.numbered, r.Note)
	return fmt.Sprintf(" (%d)", slices.Index(f.numbered, r.Note)+1)
}

func (f *footnotes) print(w io.Writer) {
	for i, text := range f.numbered {
		fmt.Fprintf(w, "  (%d) %s\n", i+1, text)
	}
	for _, text := range f.plain {
		fmt.Fprintf(w, "  %s\n", text)
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
