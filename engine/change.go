package engine

import (
	"fmt"
	"slices"
	"strings"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// search looks for the change that a job asks for and returns the wiring as
// left of the way chosen; nil if there is none.
func (r *Result) search(cat *kit.Catalogue, o change.Options) (*wiring.Installation, error) {
	a, err := change.Search(r.Found.Graph, *r.Job.Ask, cat, o)
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
