package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"strapper/job"
)

type newCmd struct {
	Pattern string `arg:"" name:"arrangement" optional:"" default:"loop-in-ceiling" help:"Arrangement as found: ${patterns}. Without one: ${default}."`
	Old     bool   `help:"Core colours from before 31 March 2006 (red, black, yellow, blue)."`
	Out     string `short:"o" help:"File to write; by default the job is printed. A file that exists is never overwritten." type:"path"`
}

// Run prints or writes a starter file.
func (c *newCmd) Run(s *session) error {
	text, err := job.Starter(c.Pattern, c.Old)
	if err != nil {
		return err
	}
	if c.Out == "" {
		_, err := s.out.Write(text)
		return err
	}
	err = writeNew(c.Out, text)
	if errors.Is(err, os.ErrExist) {
		return fmt.Errorf("%s exists already and is left as it is: choose another name", c.Out)
	}
	if err == nil {
		_, err = fmt.Fprintf(s.out, "Wrote %s: correct it to the house, then run strapper check %s\n", c.Out, c.Out)
	}
	return err
}

// patterns is the list for the help.
func patterns() string { return strings.Join(job.Patterns(), ", ") }
