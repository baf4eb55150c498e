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
	JSON bool `help:"Print the list as JSON."`
}

// Run lists every figure with its authority.
func (c *sourcesCmd) Run(s *session) error {
	fabric, err := house.Figures()
	if err != nil {
		return err
	}
	figures := slices.Concat(s.cat.Figures(), wiring.Figures(), change.Figures(), reading.Figures(), fault.Figures(), cost.Figures(), fabric)
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
