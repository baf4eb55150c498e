package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"strapper/engine"
	"strapper/switching"
	"strapper/wiring"
)

type isolateCmd struct {
	jobFile
	Box []string `help:"Only these boxes, by their ids, opened by the work or not." placeholder:"BOX"`
}

// Run prints what must be off before each box is opened, and the pairs to test
// in it.
func (c *isolateCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	openings, err := c.chosen(r)
	if err != nil {
		return err
	}
	if c.JSON {
		s.json(isolation(r, openings))
		return nil
	}
	for i := range openings {
		s.opening(&openings[i])
	}
	s.whole(r)
	switch {
	case r.Forbidden() && r.Left == nil:
		fmt.Fprintln(s.out, "\nWhat is there is DANGEROUS (strapper check says why). Use this list to make it safe.")
	case r.Forbidden():
		fmt.Fprintln(s.out, "\nThe plan is REFUSED (strapper check says why). Use this list only to make the wiring safe.")
	}
	fmt.Fprintln(s.out, "\nLocal rules and your employer's procedure come before this list. It is worked out from the file: if the house differs, it proves nothing.")
	return nil
}

// chosen are the boxes named, or those that the work opens.
func (c *isolateCmd) chosen(r *engine.Result) ([]engine.Opening, error) {
	var list []engine.Opening
	for _, id := range c.Box {
		o := r.Opening(id)
		if o == nil {
			return nil, fmt.Errorf("there is no box called %q; there are %s", id, strings.Join(boxIDs(r), ", "))
		}
		list = append(list, *o)
	}
	if len(c.Box) > 0 {
		return list, nil
	}
	for _, o := range r.Openings {
		if o.Works {
			list = append(list, o)
		}
	}
	return list, nil
}

func boxIDs(r *engine.Result) []string {
	ids := make([]string, len(r.Openings))
	for i, o := range r.Openings {
		ids[i] = o.Box.ID
	}
	return ids
}

// opening prints one box.
func (s *session) opening(o *engine.Opening) {
	fmt.Fprintf(s.out, "%s\n", o.Box.FullName())
	s.off(o.Isolation)
	if len(o.Tests) > 0 {
		s.pairs(o)
	}
	if text := switching.Reliance(o.Tests); text != "" {
		fmt.Fprintf(s.out, "    %s\n", text)
	}
	fmt.Fprintln(s.out)
}

// pairs prints what is to be tested against what in a box.
func (s *session) pairs(o *engine.Opening) {
	fmt.Fprintln(s.out, "  Test for voltage, plate off, nothing taken apart yet:")
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	for _, d := range o.Tests {
		why := ""
		if d.Shows {
			why = "would show if something were left on"
		}
		fmt.Fprintf(t, "    %s\tto %s\t%s\n", d.A.Name(o.Graph), d.B.Name(o.Graph), why)
	}
	t.Flush()
}

// off prints what must be off, with its witnesses, and what goes out.
func (s *session) off(is *switching.Isolation) {
	if is.Board {
		fmt.Fprintln(s.out, "  OFF: the main switch. Its incoming terminals and the meter tails stay live.")
	}
	for i := range is.Needed {
		n := &is.Needed[i]
		fmt.Fprintf(s.out, "  OFF: %s\n       if it were left on: %s\n", n.Circuit.Named(), n.Witness)
		if n.Through {
			fmt.Fprintln(s.out, "       no tester shows this while the conductors are joined: clip a meter round the neutral")
		}
	}
	for _, b := range is.Beside {
		fmt.Fprintf(s.out, "  OFF TOO: %s\n       %s\n", b.Circuit.Named(), b.Why())
	}
	if len(is.All()) == 0 && !is.Board {
		fmt.Fprintln(s.out, "  Nothing in the file feeds this box. Switch off what is near, and test as if it were live.")
	}
	s.dark(is)
	for _, w := range is.Warnings() {
		fmt.Fprintf(s.out, "  NOTE: %s\n", w)
	}
}

// dark says what goes out with what is switched off.
func (s *session) dark(is *switching.Isolation) {
	if len(is.Dark) > 0 {
		fmt.Fprintf(s.out, "  Goes dark: %s\n", strings.Join(is.Dark, ", "))
	}
	if len(is.Partly) > 0 {
		fmt.Fprintf(s.out, "  Works in some positions only: %s\n", strings.Join(is.Partly, ", "))
	}
}

// whole prints what holds for all of the work, and its order.
func (s *session) whole(r *engine.Result) {
	if len(r.Whole.Boxes) == 0 {
		fmt.Fprintln(s.out, "No box is opened in this work.")
		return
	}
	fmt.Fprintf(s.out, "While the work has any of these boxes open, in whatever order the work is done, keep off: %s\n\nOrder of work:\n", strings.Join(ids(r.Whole.All()), ", "))
	for i, step := range r.Whole.Steps() {
		fmt.Fprintf(s.out, "%2d. %s\n", i+1, step)
	}
}

func ids(circuits []*wiring.Circuit) []string {
	list := make([]string, len(circuits))
	for i, c := range circuits {
		list[i] = c.ID
	}
	return list
}
