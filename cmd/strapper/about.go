package main

import (
	"fmt"
	"slices"

	"strapper/change"
	"strapper/cost"
	"strapper/fault"
	"strapper/house"
	"strapper/job"
	"strapper/kit"
	"strapper/reading"
	"strapper/route"
	"strapper/rules/books"
	"strapper/sizing"
	"strapper/source"
	"strapper/wiring"
)

type schemaCmd struct{}

// Run prints the schema of the job file.
func (schemaCmd) Run(s *session) error {
	_, err := s.out.Write(job.Schema())
	return err
}

type sourcesCmd struct {
	JSON   bool `help:"Print the list as JSON."`
	Former bool `help:"Also list the tables of editions that are withdrawn."`
}

// Run lists every figure with its authority: of the catalogue, the predictions,
// and every cell of the rule books.
func (c *sourcesCmd) Run(s *session) error {
	figures, err := own(s.cat)
	if err != nil {
		return err
	}
	tables, err := tabulated(c.Former)
	if err != nil {
		return err
	}
	figures = append(figures, tables...)
	if c.JSON {
		s.json(sourcesJSON{figures})
		return nil
	}
	s.sources(figures)
	return nil
}

// own are the figures of the catalogue and of the program's own working.
func own(cat *kit.Catalogue) ([]source.Figure, error) {
	fabric, err := house.Figures()
	if err != nil {
		return nil, err
	}
	ways, err := route.Figures()
	if err != nil {
		return nil, err
	}
	norms, err := cost.Customary()
	if err != nil {
		return nil, err
	}
	return slices.Concat(cat.Figures(), wiring.Figures(), change.Figures(), reading.Figures(), sizing.Figures(), fault.Figures(), cost.Figures(), norms.Figures(), fabric, ways), nil
}

// tabulated are the figures of the rule books, those that editions share once.
func tabulated(former bool) ([]source.Figure, error) {
	shelf, err := books.All()
	if err != nil {
		return nil, err
	}
	var list []source.Figure
	seen := map[source.Figure]bool{}
	for _, b := range shelf {
		if !former && b.Until != "" {
			continue
		}
		for _, f := range b.Figures() {
			if !seen[f] {
				list, seen[f] = append(list, f), true
			}
		}
	}
	return list, nil
}

// sources prints figures under the sources they come from.
func (s *session) sources(figures []source.Figure) {
	last := source.Source{}
	for _, f := range figures {
		if f.Source != last {
			fmt.Fprintf(s.out, "\n%s\n", f.Source)
			last = f.Source
		}
		fmt.Fprintf(s.out, "    %s: %s\n", f.Name, f.Value)
	}
}
