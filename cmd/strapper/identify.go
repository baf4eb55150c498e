package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"strapper/fault"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// An identification is one use of find on a file with unknown runs.
type identification struct {
	*session
	file   *jobFile
	text   []byte
	kept   []byte // the file as it was last read or written
	job    *job.Job
	puzzle *fault.Puzzle
	noted  int // tests that were in the file
}

type runsJSON struct {
	Title  string    `json:"title"`
	Ways   int       `json:"ways"`
	Tests  int       `json:"tests"`
	Next   *linkJSON `json:"next,omitempty"`
	Chance float64   `json:"chance"`
	Cables []string  `json:"cables,omitempty"`
	Joints []string  `json:"joints,omitempty"`
	Lamps  []string  `json:"lamps,omitempty"`
}

type linkJSON struct {
	Linked []string `json:"linked"`
	Read   string   `json:"read"`
	Text   string   `json:"text"`
	Before string   `json:"before"`
	Bits   float64  `json:"bits"`
}

// identify works out which cable end belongs to which.
func (c *findCmd) identify(s *session, j *job.Job, text []byte) error {
	p, err := fault.NewPuzzle(j.Unknown)
	if err != nil {
		return fmt.Errorf("%s: unknown: %w", c.name(), err)
	}
	return c.lead(s, &identification{session: s, file: &c.jobFile, text: text, kept: text, job: j, puzzle: p, noted: len(j.Unknown.Tests)})
}

const released = "Every loose end out of its terminals and connectors, each core labelled, nothing touching"

// before is what comes before any of the tests: every loose end is out of its
// terminals, those in a consumer unit too.
func (x *identification) before() []string {
	list := []string{fault.Isolated}
	for i := range x.job.Unknown.Ends {
		if b := x.job.Unknown.Known.Box(x.job.Unknown.Ends[i].Box); b != nil && b.Kind.Mount == kit.MountBoard {
			return append(list, fault.BoardLive, released)
		}
	}
	return append(list, released)
}

// report prints where the search stands; false when it is at its end.
func (x *identification) report() bool {
	fmt.Fprintf(x.out, "%d loose ends can belong together in %d ways. Tests so far: %d.\n", len(x.job.Unknown.Ends), x.puzzle.Ways(), len(x.puzzle.Tests()))
	t, _ := x.puzzle.Next()
	if t == nil {
		x.solved()
		return false
	}
	fmt.Fprintln(x.out, "\nNext test:")
	for _, line := range x.before() {
		fmt.Fprintf(x.out, "  %s.\n", line)
	}
	fmt.Fprintf(x.out, "  %s\n    1  joined\n    2  open\n", t.Instruction())
	return true
}

// solved prints the runs, what works what, and the sections for the file.
func (x *identification) solved() {
	chanceOf := x.puzzle.Chance(x.puzzle.Best())
	if chanceOf < 0.5 {
		fmt.Fprintln(x.out, "\nThe tests contradict each other: repeat them, beginning with the last.")
		return
	}
	found := x.puzzle.Wiring()
	fmt.Fprintf(x.out, "\nFound, %s likely. Lengths are assumed: measure the cables before you rely on readings.\n", strings.TrimSpace(chance(chanceOf)))
	for _, line := range arrangement(found) {
		fmt.Fprintf(x.out, "  %s\n", line)
	}
	cables, joints := job.FoundText(x.job.Unknown.Known, found)
	fmt.Fprintf(x.out, "\ncables:\n%s\n\njoints:\n%s\n", strings.Join(cables, "\n"), strings.Join(joints, "\n"))
}

// arrangement says of each lamp which switches work it, and in how many of
// their positions it is lit.
func arrangement(in *wiring.Installation) []string {
	g, _ := wiring.Build(in)
	if g == nil {
		return nil
	}
	p := switching.Prove(g, nil)
	var list []string
	for _, i := range g.Lamps() {
		if p.Exact {
			list = append(list, g.Loads[i].ID()+" "+worked(g, p, i))
		}
	}
	return list
}

// worked says which switches work a lamp.
func worked(g *wiring.Graph, p *switching.Proof, lamp int) string {
	var from []string
	for _, sw := range p.Switched(lamp) {
		from = append(from, g.Switches[sw].ID())
	}
	switch {
	case len(from) > 0:
		return fmt.Sprintf("is worked by %s (%s)", strings.Join(from, " and "), usual(len(from), p.CountLit(lamp), p.States))
	case p.CountLit(lamp) == 0:
		return "is never fed: the wiring is not whole, or not all of it is entered"
	}
	return "is always on: no switch works it"
}

// usual names what a lamp's switches are to one another.
func usual(switches int, lit, states uint64) string {
	switch {
	case switches == 1:
		return "one-way"
	case 2*lit != states:
		return fmt.Sprintf("not as a two-way pair: it is lit in %d of %d positions of all switches", lit, states)
	}
	return [...]string{"two-way", "two-way and intermediate"}[min(switches-2, 1)]
}

func (x *identification) asJSON() any {
	out := runsJSON{Title: x.job.Title, Ways: x.puzzle.Ways(), Tests: len(x.puzzle.Tests()), Chance: x.puzzle.Chance(x.puzzle.Best())}
	t, bits := x.puzzle.Next()
	if t != nil {
		out.Next = link(t, bits, x.before())
		return out
	}
	found := x.puzzle.Wiring()
	out.Cables, out.Joints = job.FoundText(x.job.Unknown.Known, found)
	out.Lamps = arrangement(found)
	return out
}

// link is a test on a linked pair of ends as JSON has it.
func link(t *fault.LinkTest, bits float64, before []string) *linkJSON {
	next := &linkJSON{Read: t.Read.Path(), Text: t.Instruction(), Before: strings.Join(before, ". "), Bits: bits}
	for _, e := range t.Linked {
		next.Linked = append(next.Linked, e.Path())
	}
	return next
}

// dialogue asks for one test after another, notes each in the file, and at the
// end writes the file with the wiring as found beside it.
func (x *identification) dialogue() error {
	lines := bufio.NewScanner(x.in)
	for x.report() {
		if !x.answer(lines) {
			return x.save()
		}
		if err := x.save(); err != nil {
			return err
		}
		fmt.Fprintln(x.out)
	}
	return x.write()
}

// answer takes answers until one can be used; false if there are no more.
func (x *identification) answer(lines *bufio.Scanner) bool {
	for {
		word, more := x.ask("1 joined, 2 open, u undo, q leave it here: ", lines)
		if !more {
			return false
		}
		err := x.use(word)
		if err == nil {
			return true
		}
		fmt.Fprintf(x.out, "%s.\n", finding.Capital(err.Error()))
	}
}

// use does what an answer says, or says why it cannot.
func (x *identification) use(word string) error {
	t, _ := x.puzzle.Next()
	switch word {
	case "1", "joined":
		t.Joined = true
		return x.puzzle.See(*t)
	case "2", "open":
		return x.puzzle.See(*t)
	case "u":
		if len(x.puzzle.Tests()) > x.noted && x.puzzle.Undo() {
			return nil
		}
		return errors.New("there is nothing to undo here; tests that were in the file are taken out there")
	}
	return errors.New("say whether it was joined or open")
}

func (x *identification) save() error {
	text, err := job.NoteLinks(x.text, x.puzzle.Tests()[x.noted:])
	x.kept, err = x.file.note(x.kept, text, err)
	return err
}

// write makes the job file with the wiring as found, unless there is one.
func (x *identification) write() error {
	if x.file.File == "-" || x.puzzle.Chance(x.puzzle.Best()) < 0.5 {
		return nil
	}
	text, err := os.ReadFile(x.file.File)
	if err == nil {
		text, err = job.NoteFound(text, x.job.Unknown.Known, x.puzzle.Wiring())
	}
	name := strings.TrimSuffix(x.file.File, filepath.Ext(x.file.File)) + "-found.yaml"
	if err == nil {
		err = writeNew(name, text)
	}
	switch {
	case errors.Is(err, os.ErrExist):
		fmt.Fprintf(x.out, "\n%s exists already and is left as it is.\n", name)
	case err != nil:
		return fmt.Errorf("the wiring found cannot be written: %w", err)
	default:
		fmt.Fprintf(x.out, "\nWrote %s: the same job with the wiring as found.\n", name)
	}
	return nil
}
