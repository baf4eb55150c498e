package engine

import (
	"fmt"
	"slices"
	"strings"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/route"
	"strapper/wiring"
)

// search looks for the change that a job asks for and returns the wiring as
// left of the way chosen; nil if there is none.
func (r *Result) search(cat *kit.Catalogue, o change.Options) (*wiring.Installation, error) {
	ask, err := r.offered()
	if err != nil {
		return nil, err
	}
	a, err := change.Search(r.Found.Graph, ask, cat, o)
	if err != nil {
		return nil, err
	}
	r.Change = a
	for _, f := range a.Findings {
		r.add("", f)
	}
	switch {
	case len(a.Ways) > 0:
		return r.choose(), nil
	case a.Impossible != nil:
		r.add("", noWay(a.Impossible))
	case len(a.Findings) == 0:
		r.add("", finding.Finding{
			Code: "search-stopped", Severity: finding.Forbids, Subject: "want",
			Text: "the search was stopped before a way was found", Fix: "give it more time, or ask for less",
		})
	}
	return nil, nil
}

// offered is what the job asks, with length, time and walls of those runs that
// state no length from their best ways through the house. Runs to which no way
// leads are left out.
func (r *Result) offered() (change.Ask, error) {
	ask := *r.Job.Ask
	if !slices.ContainsFunc(ask.Could.Cables, func(c change.Cable) bool { return c.Routed }) {
		return ask, nil
	}
	if err := r.openFinder(); err != nil {
		return ask, fmt.Errorf("routes: %w", err)
	}
	ask.Could.Cables = nil
	for _, c := range r.Job.Ask.Could.Cables {
		if c.Routed && !r.through(&c) {
			r.add("", finding.Finding{
				Code: "no-length", Severity: finding.Caution, Subject: c.Subject,
				Text: fmt.Sprintf("the run %s has no length, and no route from %s to %s was found in the house: it is left out", c.ID, c.From, c.To),
				Fix:  "give its length, or say more about the house",
			})
			continue
		}
		ask.Could.Cables = append(ask.Could.Cables, c)
	}
	return ask, nil
}

// through takes for a run what its way through the house comes to; false if no
// way leads there. Of kinds of cable that have to go different ways the longest,
// the slowest and all the walls count: which kind is taken is not known yet, and
// it gets the length of its own way when it is.
func (r *Result) through(c *change.Cable) bool {
	var kinds []*kit.Cable
	var all route.Estimate
	for _, k := range c.Kinds {
		if e, ok := r.finder.Best(c.From, c.To, k); ok {
			kinds = append(kinds, k)
			all = worse(all, e)
		}
	}
	c.Kinds, c.Length = kinds, roundedUp(all.Length)
	if c.Tolerance == 0 {
		c.Tolerance = centimetres(all.OffBy)
	}
	c.Tolerance = min(c.Tolerance, c.Length)
	if c.Minutes == 0 {
		c.Minutes = float64(all.Minutes)
	}
	if len(c.Walls) == 0 {
		c.Walls = all.Walls
	}
	return len(kinds) > 0
}

// worse takes of two ways what is the worse of each.
func worse(a, b route.Estimate) route.Estimate {
	walls := slices.Concat(a.Walls, b.Walls)
	slices.Sort(walls)
	return route.Estimate{
		Length: max(a.Length, b.Length), OffBy: max(a.OffBy, b.OffBy), Minutes: max(a.Minutes, b.Minutes),
		Walls: slices.Compact(walls),
	}
}

// choose takes the way that the job names, else the one of least effort.
func (r *Result) choose() *wiring.Installation {
	a := r.Change
	r.Way = &a.Ways[0]
	if name := r.Job.Choose; name != "" {
		if r.Way = a.Way(name); r.Way == nil {
			r.add("", noSuchWay(a, name))
			return nil
		}
	} else {
		r.add("", finding.Finding{
			Code: "way-taken", Severity: finding.Note, Subject: "want",
			Text: fmt.Sprintf("of the ways to wire what is wanted, the one of least effort is taken: %s", r.Way.Name),
			Fix:  "to hold the job to it, write choose: " + r.Way.Name + "; the change command lists the others",
		})
	}
	r.Wants = slices.Concat(r.Job.Want, r.Way.Wants)
	return r.Way.Left
}

func noSuchWay(a *change.Answer, name string) finding.Finding {
	var names []string
	for i := range a.Ways {
		names = append(names, a.Ways[i].Name)
	}
	f := finding.Finding{
		Code: "way-unknown", Severity: finding.Forbids, Subject: "choose",
		Text: fmt.Sprintf("there is no way called %q", name), Fix: "take one that the change command lists",
	}
	if near := finding.Nearest(name, names); near != "" {
		f.Fix = fmt.Sprintf("did you mean %q?", near)
	}
	return f
}

// noWay says why there is no way, and what would help.
func noWay(im *change.Impossible) finding.Finding {
	f := finding.Finding{Code: "no-way", Severity: finding.Forbids, Subject: "want", Text: "what is wanted cannot be wired within the limits"}
	switch c := im.Cut; {
	case c != nil:
		f.Text += ": " + c.String()
	case im.Never:
		f.Text += ": with the switches that are asked for, no arrangement does it, whatever cables are run"
	}
	switch len(im.Limits) {
	case 0:
	case 1:
		f.Witness = "what stands in the way: " + im.Limits[0]
	default:
		f.Witness = "these clash: " + strings.Join(im.Limits, "; ")
	}
	var fixes []string
	for _, m := range im.Remedies {
		fixes = append(fixes, fmt.Sprintf("%s (about %.0f min)", strings.Join(m.Text, " and "), m.Minutes))
	}
	if im.Stopped {
		f.Witness = strings.TrimPrefix(f.Witness+"; the search for reasons was stopped before its end", "; ")
	}
	f.Fix = "offer more boxes and cables under could:, or ask for less"
	if len(fixes) > 0 {
		f.Fix = "it can be done " + strings.Join(fixes, ", or ")
	}
	return f
}
