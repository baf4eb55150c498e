package main

import (
	"fmt"
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
		s.json(readingsJSON{check(r), final.Name, final.Readings})
		return nil
	}
	fmt.Fprintf(s.out, "Predicted readings, wiring %s, cables at %v.\n", final.Name, final.Inst.Supply.Ambient)
	s.rows(final.Readings, false)
	if c.Live {
		fmt.Fprintln(s.out, "\nLive tests, for a competent person only:")
		s.rows(final.Readings, true)
	}
	s.findings(r)
	s.verdict(r)
	return nil
}

// rows prints the dead or the live readings, a table for each test.
func (s *session) rows(list *reading.Readings, live bool) {
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	defer t.Flush()
	last := reading.Test("")
	for i := range list.Rows {
		r := &list.Rows[i]
		if r.Test.Live() != live {
			continue
		}
		if r.Test != last {
			last = r.Test
			t.Flush()
			fmt.Fprintf(t, "\n%s\nat\tbetween\tpositions\tlowest\texpected\thighest\tlimit\n", r.Test)
		}
		low, nominal, high := r.Columns()
		limit := ""
		if r.Limit != nil {
			limit = r.Limit.Text
		}
		fmt.Fprintf(t, "%s\t%s – %s\t%s\t%s\t%s\t%s\t%s\n", r.Point, r.Between[0], r.Between[1], r.Position, low, nominal, high, limit)
	}
}
