package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"strapper/engine"
	"strapper/finding"
	"strapper/switching"
	"strapper/wiring"
)

type checkCmd struct {
	jobFile
	Rules bool `help:"Show every verdict of the rule book, also those that are met, with its working."`
}

// Run checks the job and prints its findings.
func (c *checkCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	if c.JSON {
		s.json(judged(r))
		return nil
	}
	s.findings(r)
	if c.Rules {
		s.allVerdicts(r)
	}
	s.book(r)
	s.taken(r)
	s.verdict(r)
	return nil
}

type proveCmd struct{ jobFile }

// Run proves the job and prints the table of positions.
func (c *proveCmd) Run(s *session) error {
	r, err := c.work(s, engine.Prove)
	if err != nil {
		return err
	}
	if c.JSON {
		s.json(proof(r))
		return nil
	}
	s.positions(r.Final())
	s.findings(r)
	s.verdict(r)
	return nil
}

// positions prints what is lit in every state, if they are few enough to read.
func (s *session) positions(stage *engine.Stage) {
	g, p := stage.Graph, stage.Proof
	if !p.Exact {
		return
	}
	fmt.Fprintf(s.out, "Wiring %s, all %d positions of the switches.\n\n", stage.Name, p.States)
	if g.States() <= engine.MostPositions {
		s.lit(g, p)
		return
	}
	for _, i := range g.Lamps() {
		fmt.Fprintf(s.out, "%s is lit in %d of them.\n", g.Loads[i].ID(), p.CountLit(i))
	}
}

// lit prints a head and a row for every state.
func (s *session) lit(g *wiring.Graph, p *switching.Proof) {
	t := tabwriter.NewWriter(s.out, 0, 0, 3, ' ', 0)
	row := func(of func(sw int) string, lit func(i int) string) {
		var cells []string
		for sw := range g.Switches {
			cells = append(cells, of(sw))
		}
		for _, i := range g.Lamps() {
			cells = append(cells, lit(i))
		}
		fmt.Fprintln(t, strings.Join(cells, "\t"))
	}
	row(func(sw int) string { return g.Switches[sw].Name() }, func(i int) string { return g.Loads[i].ID() })
	forStates(g, func(st wiring.State) {
		row(func(sw int) string { return g.Position(st, sw) }, func(i int) string { return g.Loads[i].Word(p.Lit(i, st)) })
	})
	t.Flush()
}

func (s *session) findings(r *engine.Result) {
	if len(r.Findings) > 0 {
		fmt.Fprintln(s.out)
	}
	for _, f := range r.Findings {
		s.finding(s.out, f)
	}
}

// finding prints one finding; the severity is coloured on a terminal only, and
// is always there as a word.
func (s *session) finding(w io.Writer, f finding.Finding) {
	word := strings.ToUpper(f.Severity.String())
	if terminal(w) {
		word = [...]string{"\x1b[36m", "\x1b[33m", "\x1b[1;31m"}[f.Severity] + word + "\x1b[0m"
	}
	fmt.Fprintf(w, "%s  %s [%s]\n", word, f.Text, f.Code)
	fmt.Fprintln(w, place(f))
	if f.Witness != "" {
		fmt.Fprintf(w, "    seen with: %s\n", f.Witness)
	}
	if f.Fix != "" {
		fmt.Fprintf(w, "    to do: %s\n", f.Fix)
	}
}

// place says which wiring, which part of it, and which line of the file a
// finding is about.
func place(f finding.Finding) string {
	text := "    where: "
	if f.Stage != "" {
		text += f.Stage + ", "
	}
	text += fmt.Sprint(f.Subject)
	if at := f.Position.String(); at != "" {
		text += " (" + at + ")"
	}
	return text
}

// verdict is the last line: whether the work may go ahead as planned.
func (s *session) verdict(r *engine.Result) {
	final := r.Final()
	switch {
	case r.Forbidden():
		fmt.Fprintf(s.out, "\nREFUSED: do not carry this out as planned; see what forbids it above.\n")
	case r.Failed():
		fmt.Fprintf(s.out, "\nFAILED: a reading that was taken does not pass. Keep the circuit dead, find out why, and test again.\n")
	case len(r.Wants) == 0:
		fmt.Fprintf(s.out, "\nNothing forbids it in any of the %d positions, but the file does not say what control is wanted.\n", final.Proof.States)
	default:
		fmt.Fprintf(s.out, "\nPROVED %s: the wanted control holds in all %d positions of the switches.\n", final.Name, final.Proof.States)
	}
	if r.Doubtful() {
		fmt.Fprintln(s.out, "Some readings differ from what was predicted, or are too close to their limit to tell: find out why before power is restored.")
	}
	fmt.Fprintln(s.out, "Isolate, lock off and prove dead before any box is opened; test and certify to the rules in force.")
}
