package main

import (
	"fmt"
	"math"
	"strings"

	"strapper/engine"
	"strapper/rules"
	"strapper/rules/books"
	"strapper/sizing"
	"strapper/unit"
)

type sizeCmd struct {
	jobFile
	Book    string `help:"Rule book, by its id; the one the job names, or bs7671." placeholder:"ID"`
	Edition string `help:"Edition of the book; the current one if not given." placeholder:"EDITION"`
	Working bool   `help:"Show the arithmetic of every figure and the table cells used."`
}

// Run works out sizes, protection and limits of every circuit and prints what
// the book says of them.
func (c *sizeCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	if err := c.another(s, r); err != nil {
		return err
	}
	if c.JSON {
		s.json(sizeJSON{check(r), r.Final().Name, r.Sizes})
		return nil
	}
	fmt.Fprintf(s.out, "Sizes and protection, wiring %s, by %s.\n", r.Final().Name, r.Sizes.Book)
	for i := range r.Sizes.Circuits {
		s.sized(&r.Sizes.Circuits[i], c.Working)
	}
	s.neutrals(r)
	fmt.Fprintln(s.out, "\nFigures of the book marked in \"strapper sources\" as recalled or to be confirmed are no more certain than that. A competent person decides.")
	return nil
}

// another works the sizes out by another book than the job names, if one is
// asked for.
func (c *sizeCmd) another(s *session, r *engine.Result) error {
	if c.Book == "" && c.Edition == "" {
		return nil
	}
	book, err := books.Find(c.Book, c.Edition)
	if err != nil {
		return err
	}
	r.Sizes, err = r.Size(book, s.cat)
	return err
}

// sized prints one circuit.
func (s *session) sized(c *sizing.Circuit, working bool) {
	fmt.Fprintf(s.out, "\n%s\n", c.Circuit.Named())
	for i := range c.Figures {
		s.figure(&c.Figures[i], working)
	}
	s.path(c)
	s.runs(c)
	s.old(c)
	s.verdicts(c, working)
}

// figure prints one line: the value, its limit, and how much is left.
func (s *session) figure(f *sizing.Figure, working bool) {
	fmt.Fprintf(s.out, "  %-4s %s: %s\n", f.Symbol, f.Name, figureText(f))
	if f.At != "" {
		fmt.Fprintf(s.out, "         at %s\n", f.At)
	}
	if !working {
		return
	}
	for _, line := range f.Working {
		fmt.Fprintf(s.out, "         | %s\n", line)
	}
	for _, cell := range f.Cells {
		fmt.Fprintf(s.out, "         # %s\n", cell)
	}
}

func figureText(f *sizing.Figure) string {
	if !f.Known {
		return "not assessed: " + f.Why
	}
	text := f.Value.String()
	if f.Limit == nil {
		return text
	}
	text += fmt.Sprintf(", %s %s", f.Sense, f.Limit)
	if share, ok := f.Margin(); ok {
		text += ": " + left(share)
	}
	if f.Passes != "" {
		text += "; " + f.Passes
	}
	return text
}

// left says how much of a limit is left over.
func left(p unit.Percent) string {
	switch {
	case p < 0:
		return fmt.Sprintf("FAILS by %.0f %%", -float64(p))
	case p > 1000:
		return "many times what is needed"
	}
	return fmt.Sprintf("%.0f %% to spare", float64(p))
}

// path prints the way of the earth fault, out and back.
func (s *session) path(c *sizing.Circuit) {
	if out, back := c.Loop(); len(out) > 0 {
		fmt.Fprintf(s.out, "  Loop to %s: out %s; back %s\n", c.PathTo, strings.Join(out, ", "), strings.Join(back, ", "))
	}
}

func (s *session) runs(c *sizing.Circuit) {
	for _, l := range c.Runs {
		value := fmt.Sprintf("%.0f m", math.Floor(l.Length.Metres()))
		if !l.Known {
			value = l.Why
		}
		fmt.Fprintf(s.out, "  Longest plain run of %s by %s: %s\n", l.Cable, l.By, value)
	}
}

func (s *session) old(c *sizing.Circuit) {
	for _, o := range c.Old {
		fmt.Fprintf(s.out, "  OLD: %s\n       may be done: %s\n       first: %s\n", o.What, o.May, o.First)
	}
}

// verdicts prints what the book says, worst first; what does not apply is left
// out, and of what is met only the titles are given unless the working is
// asked for.
func (s *session) verdicts(c *sizing.Circuit, working bool) {
	for _, o := range []rules.Outcome{rules.NotMet, rules.TooClose, rules.ToDo, rules.NotAssessed, rules.Met} {
		if o == rules.Met && !working {
			s.met(c.Verdicts)
			continue
		}
		for i := range c.Verdicts {
			if c.Verdicts[i].Outcome == o {
				s.bookVerdict(&c.Verdicts[i], working)
			}
		}
	}
}

// met gives the titles of what is met.
func (s *session) met(verdicts []rules.Verdict) {
	var titles []string
	for i := range verdicts {
		if verdicts[i].Outcome == rules.Met {
			titles = append(titles, verdicts[i].Title)
		}
	}
	if len(titles) > 0 {
		fmt.Fprintf(s.out, "  MET: %s\n", strings.Join(titles, "; "))
	}
}

func (s *session) bookVerdict(v *rules.Verdict, working bool) {
	fmt.Fprintf(s.out, "  %s: %s: %s (%s)\n", strings.ToUpper(string(v.Outcome)), v.Title, v.Why, v.Citation)
	if v.Fix != "" && v.Outcome != rules.Met {
		fmt.Fprintf(s.out, "       to do: %s\n", v.Fix)
	}
	for _, line := range v.Working {
		if working {
			fmt.Fprintf(s.out, "       | %s\n", line)
		}
	}
}

// neutrals says where an electronic switch that needs a neutral may be fitted.
func (s *session) neutrals(r *engine.Result) {
	if len(r.Sizes.Neutrals) == 0 {
		return
	}
	fmt.Fprintln(s.out, "\nNeutral at the switches, for electronic ones that need it:")
	for _, n := range r.Sizes.Neutrals {
		fmt.Fprintf(s.out, "  %s: %s\n", n.Box, neutralText(n))
	}
}

func neutralText(n sizing.Neutral) string {
	switch {
	case !n.Has:
		return "none; never take one from another circuit or from the cpc"
	case !n.Same:
		return "only that of another circuit (" + n.Core + "), which must not be used"
	}
	return "yes, " + n.Core
}
