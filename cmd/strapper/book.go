package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"strapper/engine"
	"strapper/finding"
	"strapper/rules"
)

// book prints what the rule book says in few lines: how many rules are met,
// what is to be done on the day, and what was not assessed and why. What is not
// met stands among the findings.
func (s *session) book(r *engine.Result) {
	n := r.Count()
	fmt.Fprintf(s.out, "\nJudged by %s: %d met, %d not met, %d too close to tell, %d to be done, %d not assessed, %d not applicable.\n",
		r.Job.Book.Name(), n[rules.Met], n[rules.NotMet], n[rules.TooClose], n[rules.ToDo], n[rules.NotAssessed], n[rules.NotApplicable])
	s.group(r, rules.ToDo, "To be done:")
	s.group(r, rules.NotAssessed, "Not assessed:")
}

// group prints the verdicts of one outcome, those with the same thing to do
// together.
func (s *session) group(r *engine.Result, o rules.Outcome, head string) {
	for i, g := range r.Group(o) {
		if i == 0 {
			fmt.Fprintln(s.out, head)
		}
		fmt.Fprintf(s.out, "  %s: %s%s. %s.\n", strings.Join(g.Titles, "; "), g.First.Why, others(g.More), finding.Capital(g.First.Fix))
	}
}

// others says for how many more places the same stands.
func others(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return ", and for one more"
	}
	return fmt.Sprintf(", and for %d more", n)
}

// allVerdicts prints every verdict with its working and the table cells used.
func (s *session) allVerdicts(r *engine.Result) {
	fmt.Fprintln(s.out)
	for i := range r.Verdicts {
		s.oneVerdict(&r.Verdicts[i])
	}
}

func (s *session) oneVerdict(v *rules.Verdict) {
	fmt.Fprintf(s.out, "%s  %s, %s: %s (%s)\n", strings.ToUpper(string(v.Outcome)), v.Subject, v.Title, v.Why, v.Citation)
	if left, share, ok := v.Margin(); ok && share != 0 {
		fmt.Fprintf(s.out, "    to spare: %v, %.0f %% of the limit\n", left, float64(share))
	}
	for _, line := range v.Working {
		fmt.Fprintf(s.out, "    %s\n", line)
	}
	for _, c := range v.Cells {
		fmt.Fprintf(s.out, "    by %s\n", c)
	}
	if v.Fix != "" {
		fmt.Fprintf(s.out, "    to do: %s\n", v.Fix)
	}
}

// taken prints the readings that were taken, each with the verdict that
// decides it.
func (s *session) taken(r *engine.Result) {
	if len(r.Readings) == 0 {
		return
	}
	fmt.Fprintf(s.out, "\nReadings taken, judged by %s\n", r.Job.Book.Name())
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "reading\tshown\tverdict\twhy")
	for i := range r.Readings {
		j := &r.Readings[i]
		v, why := j.Worst(), "no rule is for this reading"
		if v != nil {
			why = v.Why
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", j.Case.Name, j.Shown(), engine.Word(v), why)
	}
	t.Flush()
	for i := range r.Readings {
		if v := r.Readings[i].Worst(); v != nil && v.Fix != "" {
			fmt.Fprintf(s.out, "  %s: %s.\n", r.Readings[i].Case.Name, v.Fix)
		}
	}
}
