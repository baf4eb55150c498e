package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"

	"strapper/engine"
	"strapper/fault"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/reading"
	"strapper/unit"
)

type findCmd struct {
	jobFile
	Ask bool `help:"Ask for each test on standard input and note the answers in the file, as it does by itself on a terminal."`
}

// A search is one use of find.
type search struct {
	*session
	file   *jobFile
	text   []byte // the file as it was
	kept   []byte // the file as it was last read or written
	noted  int    // observations that were in it
	back   []bool // answers given, in order: true is a test that cannot be made
	finder *fault.Finder
	stage  *engine.Stage
	job    *job.Job
}

// Run looks for the fault in the wiring as left, or as found if nothing
// changes; or, where the file has unknown runs, for those.
func (c *findCmd) Run(s *session) error {
	text, err := c.text(s.in)
	if err != nil {
		return err
	}
	j, err := c.parse(s, text)
	if err != nil {
		return err
	}
	if j.Unknown != nil {
		return c.identify(s, j, text)
	}
	x, err := c.begin(s, j, text)
	if err != nil {
		return err
	}
	return c.lead(s, x)
}

// inquiry is what find carries out: a search for a fault, or for what belongs
// to what.
type inquiry interface {
	asJSON() any
	report() (more bool)
	dialogue() error
}

// lead shows an inquiry in the manner that was asked for.
func (c *findCmd) lead(s *session, x inquiry) error {
	switch {
	case c.JSON:
		s.json(x.asJSON())
		return nil
	case c.Ask || c.File != "-" && interactive(s):
		return x.dialogue()
	}
	x.report()
	return nil
}

// begin takes in what the job has seen.
func (c *findCmd) begin(s *session, j *job.Job, text []byte) (*search, error) {
	r, err := engine.Prove(j, s.cat)
	if err != nil {
		return nil, err
	}
	x := &search{session: s, file: &c.jobFile, text: text, kept: text, stage: r.Found, job: j, noted: len(j.Seen)}
	if j.Left != nil {
		x.stage = r.Left
	}
	if x.finder, err = fault.New(x.stage.Graph, j.Want, s.cat, fault.Options{Readings: reading.Options{Book: j.Book}}); err != nil {
		return nil, err
	}
	if finding.Forbidden(x.stage.Proof.Findings) && !c.JSON {
		fmt.Fprintf(s.out, "The wiring %s in the file is itself refused (see strapper check): what is looked for is how the house differs from it.\n", x.stage.Name)
	}
	return x, x.recall()
}

// recall takes in the observations that are in the file.
func (x *search) recall() error {
	for i := range x.job.Seen {
		if err := x.finder.See(x.job.Seen[i]); err != nil {
			return fmt.Errorf("%s: %w", x.job.Position(x.job.Seen[i].Subject), err)
		}
	}
	return nil
}

// interactive reports whether a person sits before the program.
func interactive(s *session) bool {
	f, ok := s.in.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	null, errNull := os.Stat(os.DevNull)
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && (errNull != nil || !os.SameFile(info, null))
}

// report prints where the search stands, and the next test or the repair; false
// when it is at its end.
func (x *search) report() (more bool) {
	fmt.Fprintf(x.out, "Looking for what is wrong in the wiring %s. Observations so far: %d.\n", x.stage.Name, len(x.finder.Seen()))
	if len(x.finder.Seen()) == 0 {
		x.invite()
	}
	x.causes()
	q, standing := x.finder.Next()
	if q != nil {
		x.question(q)
		return true
	}
	x.conclude(standing)
	return false
}

// invite shows how to note what the household tells, where nothing is noted.
func (x *search) invite() {
	g := x.stage.Graph
	lamps := g.Lamps()
	if len(lamps) == 0 {
		return
	}
	with := ""
	for i := range g.Switches {
		if sw := &g.Switches[i]; sw.Kind.Actuator == kit.ByHand {
			with = fmt.Sprintf(" with: { %s: %s },", sw.ID(), sw.Kind.Positions[len(sw.Kind.Positions)-1])
			break
		}
	}
	fmt.Fprintf(x.out, "Nothing is noted yet of what is wrong. Noted in the file, what the household tells shortens the search, such as:\n  seen:\n    - { lamp: %s,%s is: dark, told: true }\n", g.Loads[lamps[0]].ID(), with)
}

// mostCauses is how many causes are printed.
const mostCauses = 5

func (x *search) causes() {
	causes := x.finder.Causes()
	fmt.Fprintln(x.out, "\nLikeliest causes:")
	for i := range causes[:min(mostCauses, len(causes))] {
		fmt.Fprintf(x.out, "  %d. %s  %s%s\n", i+1, chance(causes[i].Chance), x.finder.Words(&causes[i]), alternatives(&causes[i]))
	}
}

// alternatives says how many more explanations a cause stands for.
func alternatives(c *fault.Cause) string {
	n := len(c.Sets) - 1
	if n == 0 {
		return ""
	}
	same := "the repair differs"
	if fault.SameRepair(c) {
		same = "the same repair"
	}
	more := "another"
	if n > 1 {
		more = fmt.Sprintf("one of %d others", n)
	}
	return fmt.Sprintf(" (or %s that no test offered here tells from it; %s)", more, same)
}

func chance(p float64) string {
	switch {
	case p < 0.005:
		return "<1 %"
	case p > 0.995:
		return ">99 %"
	}
	return fmt.Sprintf("%2.0f %%", 100*p)
}

func (x *search) question(q *fault.Question) {
	fmt.Fprintln(x.out, "\nNext test:")
	if q.Kind != fault.SeenLamp && q.Kind != fault.SeenTrip && !q.Kind.Live() {
		fmt.Fprintf(x.out, "  %s.\n", fault.Isolated)
	}
	if q.Caution != "" {
		fmt.Fprintf(x.out, "  %s\n", q.Caution)
	}
	fmt.Fprintf(x.out, "  %s\n", q.Text)
	for i := range q.Results {
		x.outcome(i+1, &q.Results[i])
	}
}

// outcome prints what one result of a test would point to.
func (x *search) outcome(n int, r *fault.Result) {
	likely, points := strings.TrimSpace(chance(r.Chance)), x.finder.Words(&r.Causes[0])
	switch r.Is {
	case "":
		fmt.Fprintf(x.out, "    %s, %s likely, would point to this:\n       %s\n", r.Means, likely, points)
	case r.Means:
		fmt.Fprintf(x.out, "    %d  %s, %s likely. It would point to this:\n       %s\n", n, r.Is, likely, points)
	default:
		fmt.Fprintf(x.out, "    %d  %s (%s), %s likely. It would point to this:\n       %s\n", n, r.Is, r.Means, likely, points)
	}
}

// conclude says what was found and how it is put right.
func (x *search) conclude(standing fault.Standing) {
	causes := x.finder.Causes()
	if standing == fault.Baffled {
		fmt.Fprintln(x.out, "\nNothing that is known here explains what was seen: several readings contradict every cause. Check them, and whether the file describes this house.")
		return
	}
	c := &causes[0]
	fmt.Fprintf(x.out, "\nFound, %s likely: %s.\n", strings.TrimSpace(chance(c.Chance)), x.finder.Words(c))
	x.alike(standing, causes)
	r, err := x.finder.Repair(c)
	if err != nil {
		fmt.Fprintf(x.out, "The repair cannot be worked out: %v\n", err)
		return
	}
	x.repair(r)
}

// alike lists what cannot be told from the cause.
func (x *search) alike(standing fault.Standing, causes []fault.Cause) {
	if len(causes[0].Sets) > 1 {
		x.twins(&causes[0])
	}
	if standing == fault.Alike {
		fmt.Fprintln(x.out, "No safe test left tells more. The other causes, in order:")
		for i := range causes[1:min(len(causes), 1+mostCauses)] {
			fmt.Fprintf(x.out, "  %s  %s\n", chance(causes[i+1].Chance), x.finder.Words(&causes[i+1]))
		}
	}
}

// twins lists the explanations that one cause stands for.
func (x *search) twins(c *fault.Cause) {
	if fault.SameRepair(c) {
		fmt.Fprintln(x.out, "No test offered here tells it from these, but the repair is the same:")
	} else {
		fmt.Fprintln(x.out, "No test offered here tells it from these, and the repair differs; look for them in this order:")
	}
	for _, set := range c.Sets[1:min(len(c.Sets), 1+mostCauses)] {
		fmt.Fprintf(x.out, "  %s\n", x.finder.Words(&fault.Cause{Sets: [][]*fault.Fault{set}}))
	}
}

func (x *search) repair(r *fault.Repair) {
	fmt.Fprintf(x.out, "\nRepair. %s.\n", fault.Isolated)
	if r.Caution != "" {
		fmt.Fprintf(x.out, "  %s\n", r.Caution)
	}
	for _, step := range r.Steps {
		fmt.Fprintf(x.out, "  %s\n", step)
	}
	for _, b := range r.Moves {
		fmt.Fprintf(x.out, "  %s:\n", b.Box.Name())
		for i, m := range b.Moves {
			fmt.Fprintf(x.out, "    %d. %s\n", i+1, m.Text)
		}
	}
	if r.Proved {
		fmt.Fprintf(x.out, "The wiring is then as drawn, which is proved in all %d positions of the switches.\n", r.Proof.States)
	} else {
		fmt.Fprintln(x.out, "The wiring is then as drawn, but as drawn it is refused: see strapper check.")
	}
	x.expect(r.Expect)
	fmt.Fprintln(x.out, "\nTest and certify to the rules in force. This is an aid to a competent person and replaces neither isolating nor testing.")
}

// expect lists what is to be read after the repair.
func (x *search) expect(list []reading.Reading) {
	if len(list) > 0 {
		fmt.Fprintln(x.out, "\nBefore the power is put on again, lamps out and electronic equipment disconnected, read:")
	}
	for i := range list {
		e := &list[i]
		low, nominal, high := e.Columns()
		switch {
		case low != "":
			nominal = low + " to " + high
		case nominal == "":
			nominal = e.Limit.String()
		}
		fmt.Fprintf(x.out, "  %s at %s, %s, %s: %s\n", e.Test, e.Point, e.Leads(), e.Position, nominal)
	}
}

// dialogue asks for one test after another. Each answer is noted in the file at
// once.
func (x *search) dialogue() error {
	lines := bufio.NewScanner(x.in)
	for {
		x.report()
		q, _ := x.finder.Next()
		if q == nil && len(x.finder.Seen()) == x.noted {
			return nil
		}
		if !x.answer(q, lines) {
			return x.save()
		}
		if err := x.save(); err != nil {
			return err
		}
		if _, err := fmt.Fprintln(x.out); err != nil {
			return err
		}
	}
}

const prompts = "Number or word, or a value with its unit (0.4 ohm); s cannot be tested; u undo; q leave it here;\n" + looked

const looked = "cause 2 so, or cause 2 not so, if you have looked for a cause and seen it: "

// answer takes answers until one can be used; false if there are no more.
func (x *search) answer(q *fault.Question, lines *bufio.Scanner) bool {
	prompt := prompts
	if q == nil {
		prompt = "u undo; q leave it here; " + looked
	}
	for {
		word, more := x.ask(prompt, lines)
		if !more {
			return false
		}
		err := x.use(q, word)
		if err == nil {
			return true
		}
		fmt.Fprintf(x.out, "%s.\n", finding.Capital(err.Error()))
	}
}

// ask reads a line in answer to a prompt; false if there is none, or the person
// leaves it there.
func (s *session) ask(prompt string, lines *bufio.Scanner) (word string, more bool) {
	fmt.Fprint(s.out, prompt)
	if !lines.Scan() {
		fmt.Fprintln(s.out)
		return "", false
	}
	word = strings.TrimSpace(lines.Text())
	return word, !strings.EqualFold(word, "q")
}

// use does what an answer says, or says why it cannot.
func (x *search) use(q *fault.Question, word string) error {
	plain := strings.ToLower(word)
	number, looked := strings.CutPrefix(plain, "cause ")
	switch {
	case plain == "u" && x.undo():
		return nil
	case plain == "u":
		return errors.New("there is nothing to undo here; observations that were in the file are taken out there")
	case looked:
		return x.lookedFor(number)
	case q == nil:
		return errors.New("there is no test left to answer")
	case plain == "s":
		x.finder.Skip(q)
		x.back = append(x.back, true)
		return nil
	}
	return x.take(q, word)
}

// undo takes back the last answer: an observation, or that a test cannot be
// made. It is false if there is none.
func (x *search) undo() bool {
	n := len(x.back) - 1
	if n < 0 {
		return false
	}
	skip := x.back[n]
	x.back = x.back[:n]
	if skip {
		return x.finder.Unskip()
	}
	return x.finder.Undo()
}

// see takes in an observation that can be undone.
func (x *search) see(seen fault.Seen) error {
	err := x.finder.See(seen)
	if err == nil {
		x.back = append(x.back, false)
	}
	return err
}

// lookedFor notes that a listed cause was seen to be so, or not: "2 not so".
func (x *search) lookedFor(text string) error {
	number, is, _ := strings.Cut(text, " ")
	causes := x.finder.Causes()
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(causes) {
		return fmt.Errorf("there is no cause number %q", number)
	}
	switch {
	case len(causes[n-1].Sets[0]) == 0:
		return errors.New("that nothing is wrong cannot be seen at one place")
	case len(causes[n-1].Sets[0]) > 1 && is == "not so":
		return errors.New("these are two faults, and one of them may still be there: go on with the test")
	}
	for _, f := range causes[n-1].Sets[0] {
		if err := x.see(fault.Seen{Kind: fault.SeenCause, Of: f.ID(), Is: is}); err != nil {
			return err
		}
	}
	return nil
}

// take turns a line into an observation.
func (x *search) take(q *fault.Question, word string) error {
	seen := q.Seen
	if n, err := strconv.Atoi(word); err == nil {
		if n < 1 || n > len(q.Results) {
			return fmt.Errorf("there is no answer number %d", n)
		}
		word = q.Results[n-1].Is
	}
	if word == "" {
		return errors.New("give what was seen, or the value read with its unit")
	}
	if _, err := strconv.ParseFloat(word, 64); err == nil {
		return fmt.Errorf("give the unit too, such as \"%s ohm\"", word)
	}
	measured(&seen, word)
	return x.see(seen)
}

// measured notes a word as a value, if it is one, and else as it stands. A
// tester shows what is above its range with a sign before it.
func measured(seen *fault.Seen, word string) {
	value := strings.TrimLeft(word, "> ")
	ohm, notOhm := unit.ParseOhm(value)
	volt, notVolt := unit.ParseVolt(value)
	switch {
	case notOhm == nil && ohm >= 0:
		seen.Ohm = &ohm
	case notVolt == nil && volt >= 0:
		seen.Volt = &volt
	default:
		seen.Is = strings.ToLower(word)
	}
}

// note writes the file with the answers given, unless somebody else has
// changed it, and returns what is in it then. It takes the error of making the
// text, too.
func (f *jobFile) note(before, after []byte, err error) ([]byte, error) {
	if err == nil {
		err = f.replace(before, after)
	}
	if err != nil {
		return before, fmt.Errorf("the answers cannot be noted: %w", err)
	}
	return after, nil
}

// save writes the answers given into the file.
func (x *search) save() error {
	text, err := job.NoteSeen(x.text, x.finder.Seen()[x.noted:])
	x.kept, err = x.file.note(x.kept, text, err)
	return err
}
