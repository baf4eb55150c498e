package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"strapper/document"
	"strapper/engine"
	"strapper/finding"
	"strapper/route"
)

type routeCmd struct {
	jobFile
	All bool   `help:"Tell every route kept, not only the one that weighs least."`
	SVG string `name:"svg" placeholder:"DIR" help:"Write the drawings of the house with the routes into this folder, one SVG file each." type:"path"`
}

// Run finds the routes of the new cables.
func (c *routeCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	files, err := drawn(r, c.SVG)
	if err != nil {
		return err
	}
	if c.JSON {
		s.json(routeJSON{checkJSON: check(r), Routes: r.Routes, CutOut: cutOuts(r), Files: files})
		return nil
	}
	s.found(r, c.All)
	s.wrote(files)
	return nil
}

// found tells the routes, or why there are none, and what else was found.
func (s *session) found(r *engine.Result, all bool) {
	switch {
	case r.Job.House == nil:
		fmt.Fprintln(s.out, "The job has no house section, so there are no routes to find: cables keep the lengths stated.")
	case r.Routes == nil:
		fmt.Fprintln(s.out, "There are no routes to find: every new cable has its length and its route (via) in the job, or ends in a box that the house section does not place.")
	case r.Forbidden():
		fmt.Fprintln(s.out, "Routes are not printed for wiring that is refused.")
	default:
		s.routes(r, all)
	}
	s.cuts(r)
	s.findings(r)
	s.verdict(r)
}

// cuts tells what is to be cut for new boxes.
func (s *session) cuts(r *engine.Result) {
	list := r.CutOuts()
	if len(list) == 0 || r.Forbidden() {
		return
	}
	fmt.Fprintln(s.out, "Holes for new boxes, read by somebody who stands in the room and looks at the wall")
	for i := range list {
		s.indented("  -  ", document.CutOut(r, &list[i]))
	}
	fmt.Fprintln(s.out)
}

// drawn writes the drawings of the house into a folder and returns the names of
// the files; no folder, no drawings.
func drawn(r *engine.Result, dir string) ([]string, error) {
	if dir == "" || r.Forbidden() {
		return nil, nil
	}
	var files []string
	for _, d := range document.Drawings(r) {
		var text bytes.Buffer
		if err := d.Scene.SVG(&text); err != nil {
			return files, fmt.Errorf("cannot draw %s: %w", d.Name, err)
		}
		name := filepath.Join(dir, d.Name+".svg")
		if err := os.WriteFile(name, text.Bytes(), 0o644); err != nil {
			return files, fmt.Errorf("cannot write the drawings: %w", err)
		}
		files = append(files, name)
	}
	return files, nil
}

// wrote names the files written.
func (s *session) wrote(files []string) {
	if len(files) > 0 {
		fmt.Fprintf(s.out, "Wrote %d drawings:\n  %s\n", len(files), strings.Join(files, "\n  "))
	}
}

// routes prints the routes of every run, then what they share.
func (s *session) routes(r *engine.Result, all bool) {
	in := r.Final().Inst
	for i := range r.Routes.Runs {
		choice := &r.Routes.Runs[i]
		fmt.Fprintf(s.out, "Cable %s, %s, from %s to %s\n", choice.Run, in.Cable(choice.Run).Kind.Title, in.Box(choice.From).Name(), in.Box(choice.To).Name())
		s.choice(choice.Routes, all)
		fmt.Fprintln(s.out)
	}
	if t := r.Routes.Together; t != nil && len(t.Shared) > 0 {
		fmt.Fprintf(s.out, "Run together the cables take %d minutes, %d fewer than one after the other. They share: %s.\n\n", t.Minutes, t.Saves, strings.Join(t.Shared, ", "))
	}
	fmt.Fprintln(s.out, "Minutes and mess are common practice, no source. Isolate, lock off and prove dead every circuit on\n"+
		"the route before anything is drilled, cut or lifted; look for pipes and cables first.")
	fmt.Fprintln(s.out)
}

// choice compares the routes of a run and tells the first of them, or all.
func (s *session) choice(routes []route.Route, all bool) {
	told := routes
	if len(routes) > 1 {
		s.compare(routes)
		if !all {
			told = routes[:1]
		}
	}
	for i := range told {
		s.route(&told[i])
	}
	if len(told) < len(routes) {
		fmt.Fprintln(s.out, "\n  --all tells the other routes as well.")
	}
}

// compare is one line for each route.
func (s *session) compare(routes []route.Route) {
	t := tabwriter.NewWriter(s.out, 2, 0, 2, ' ', 0)
	fmt.Fprintln(t, "  route\tlength\tminutes\tmess\twalls opened")
	for i := range routes {
		w := &routes[i]
		fmt.Fprintf(t, "  %s\t%s\t%d\t%.1f\t%d\n", strings.Join(w.Because, ", "), metres(w.Length), w.Minutes, w.Mess, w.Opened)
	}
	t.Flush()
}

// route tells one route: what it takes, the steps, and what if.
func (s *session) route(w *route.Route) {
	fmt.Fprintf(s.out, "\n  The route that %s: %s of cable, give or take %s.\n", because(w.Because), metres(w.Length), metres(w.OffBy))
	fmt.Fprintf(s.out, "  Cut %s (with tails, at its longest); take %s from the shop.\n", metres(w.Cut), metres(w.Shop))
	fmt.Fprintf(s.out, "  %s Mess %.1f.\n", w.Takes(), w.Mess)
	if w.Bend > 0 {
		fmt.Fprintf(s.out, "  No bend tighter than %d mm inside. Clips: %d.\n", w.Bend, w.Clips)
	}
	for i, step := range w.Steps {
		s.indented(fmt.Sprintf("%3d  ", i+1), step.Text)
	}
	for i := range w.WhatIf {
		s.whatIf(&w.WhatIf[i])
	}
	for _, n := range w.Notes {
		s.indented("  !  ", finding.Capital(n)+".")
	}
}

// whatIf tells what is done if something stands in the way.
func (s *session) whatIf(f *route.WhatIf) {
	s.indented("  ?  ", fmt.Sprintf("If there is %s (%v likely): %s.", f.What, f.Likely, f.Do))
	if f.Other != "" && !strings.Contains(f.Do, f.Other) {
		s.indented("     ", "Or "+f.Other+".")
	}
}

// because joins the reasons for a route: "weighs least and is shortest".
func because(list []string) string {
	text := list[0]
	if text != "weighs least" {
		text = "is " + text
	}
	switch rest := list[1:]; len(rest) {
	case 0:
	case 1:
		text += " and is " + rest[0]
	default:
		text += ", is " + strings.Join(rest[:len(rest)-1], ", ") + " and " + rest[len(rest)-1]
	}
	return strings.NewReplacer("is least mess", "makes the least mess", "least mess", "least messy").Replace(text)
}

// metres prints a length as it is said of a cable.
func metres(l route.MM) string { return fmt.Sprintf("%.2f m", l.Metres()) }

// indented prints a text under a mark, broken at 90 characters.
func (s *session) indented(mark, text string) {
	const width = 90
	line := mark
	for i, word := range strings.Fields(text) {
		if i > 0 && len(line)+1+len(word) > width {
			fmt.Fprintln(s.out, line)
			line = strings.Repeat(" ", len(mark))
		} else if i > 0 {
			line += " "
		}
		line += word
	}
	fmt.Fprintln(s.out, line)
}
