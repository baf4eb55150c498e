package main

import (
	"fmt"
	"slices"

	"strapper/change"
	"strapper/cost"
	"strapper/fault"
	"strapper/house"
	"strapper/job"
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
	fabric, err := house.Figures()
	if err != nil {
		return err
	}
	ways, err := route.Figures()
	if err != nil {
		return err
	}
	figures := slices.Concat(s.cat.Figures(), wiring.Figures(), change.Figures(), reading.Figures(), sizing.Figures(), fault.Figures(), cost.Figures(), fabric, ways)
	shelf, err := books.All()
	if err != nil {
		return err
	}
	seen := map[source.Figure]bool{}
	for _, b := range shelf {
		if !c.Former && b.Until != "" {
			continue
		}
		for _, f := range b.Figures() {
			if !seen[f] {
				figures, seen[f] = append(figures, f), true
			}
		}
	}
	if c.JSON {
		s.json(sourcesJSON{figures})
		return nil
	}
	last := source.Source{}
	for _, f := range figures {
		if f.Source != last {
			fmt.Fprintf(s.out, "\n%s\n", f.Source)
			last = f.Source
		}
		fmt.Fprintf(s.out, "    %s: %s\n", f.Name, f.Value)
	}
	return nil
}
