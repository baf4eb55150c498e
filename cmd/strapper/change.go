package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"time"

	"strapper/change"
	"strapper/engine"
	"strapper/job"
	"strapper/kit"
)

type changeCmd struct {
	jobFile
	All    bool          `help:"List every way that is found, not only the first few."`
	Within time.Duration `help:"Stop after this long with the best so far, such as 10s; Ctrl-C does the same at any time." placeholder:"TIME"`
}

// How many ways are listed, and at the most looked for.
const (
	fewWays = 5
	allWays = 200
)

// Run looks for ways to wire what is wanted and lists them.
func (c *changeCmd) Run(s *session) error {
	stop, release := c.stopper()
	defer release()
	o := change.Options{Most: fewWays, Stop: stop, Progress: s.searching()}
	if c.All {
		o.Most = allWays
	}
	r, err := c.work(s, seek(o))
	if err != nil {
		return err
	}
	if c.JSON {
		s.json(changed(r))
		return nil
	}
	s.ways(r, c.File)
	s.findings(r)
	return nil
}

// seek is the pass that looks for ways to do what a job asks.
func seek(o change.Options) func(*job.Job, *kit.Catalogue) (*engine.Result, error) {
	return func(j *job.Job, cat *kit.Catalogue) (*engine.Result, error) {
		if j.Ask == nil {
			return nil, errors.New("the job does not ask for a change to be looked for: give the boxes the lamps are wanted from with at: in a want")
		}
		o.Named = j.Choose
		return engine.Change(j, cat, o)
	}
}

// stopper ends the search at an interrupt, or when its time is over.
func (c *changeCmd) stopper() (stop func() bool, release func()) {
	ctx, cancel := signal.NotifyContext(context.Background(), os.Interrupt)
	if c.Within > 0 {
		timed, done := context.WithTimeout(ctx, c.Within)
		return func() bool { return timed.Err() != nil }, func() { done(); cancel() }
	}
	return func() bool { return ctx.Err() != nil }, cancel
}

// searching tells a person at a terminal how far the search has come.
func (s *session) searching() func(change.Progress) {
	if !terminal(s.err) {
		return nil
	}
	start, last := time.Now(), time.Now()
	return func(p change.Progress) {
		if now := time.Now(); now.Sub(start) > time.Second && now.Sub(last) > 500*time.Millisecond {
			last = now
			fmt.Fprintf(s.err, "strapper: %d found; next: best so far %.1f min, not under %.1f min\n", p.Found, p.Best, p.Bound)
		}
	}
}

// ways prints the ways that were found.
func (s *session) ways(r *engine.Result, file string) {
	a := r.Change
	if a == nil || len(a.Ways) == 0 {
		fmt.Fprintln(s.out, "No way was found to wire what is wanted.")
		return
	}
	fmt.Fprintln(s.out, claim(a))
	for i := range a.Ways {
		s.way(i+1, &a.Ways[i], r.Way == &a.Ways[i])
	}
	fmt.Fprintf(s.out, "\nMinutes weigh the trouble, they are no quotation. Every way is proved in all positions of its switches.\n")
	if r.Job.Choose == "" {
		fmt.Fprintf(s.out, "To carry one out, write \"choose: NAME\" in %s and print the pack; else the first is taken.\n", file)
	}
	fmt.Fprintln(s.out, "Isolate, lock off and prove dead before any box is opened; test and certify to the rules in force.")
}

// claim says how many there are and what is proved of the first.
func claim(a *change.Answer) string {
	text := fmt.Sprintf("%d ways, least effort first", len(a.Ways))
	if len(a.Ways) == 1 {
		text = "One way"
	}
	if a.All {
		text += "; there are no others, but for ones that only add to these"
	}
	if a.Smallest {
		return text + ".\nThe first is proved to take the least effort."
	}
	return fmt.Sprintf("%s.\nThe search was stopped: nothing takes less than %.1f min, but the first is not proved to be the best.", text, a.Bound)
}

func (s *session) way(n int, w *change.Way, taken bool) {
	mark := ""
	if taken {
		mark = "   <- taken"
	}
	fmt.Fprintf(s.out, "\n%2d  %s%s\n", n, w.Name, mark)
	for _, t := range w.Title {
		fmt.Fprintf(s.out, "    %s.\n", t)
	}
	s.effort(w)
	for _, x := range w.Exchanges {
		if x.OneEnd {
			fmt.Fprintf(s.out, "    %s.\n", x.Text)
		}
	}
}

// effort says what a way takes.
func (s *session) effort(w *change.Way) {
	if len(w.Moves) == 0 {
		fmt.Fprintln(s.out, "    It is wired like this as found: nothing has to be done.")
		return
	}
	fmt.Fprintf(s.out, "    %s.\n", w.Effort)
}

type changeJSON struct {
	checkJSON
	Smallest   bool               `json:"smallest"`
	All        bool               `json:"all"`
	Bound      float64            `json:"bound_minutes"`
	Taken      string             `json:"taken,omitempty"`
	Ways       []wayJSON          `json:"ways"`
	Impossible *change.Impossible `json:"impossible,omitempty"`
}

type wayJSON struct {
	Name      string            `json:"name"`
	Title     []string          `json:"title"`
	Effort    change.Effort     `json:"effort"`
	Contacts  int               `json:"contacts"`
	States    uint64            `json:"proved_states"`
	Exchanges []change.Exchange `json:"exchanges"`
	Moves     []boxMovesJSON    `json:"moves"`
}

func changed(r *engine.Result) changeJSON {
	c := changeJSON{checkJSON: check(r), Ways: []wayJSON{}}
	a := r.Change
	c.Smallest, c.All, c.Bound, c.Impossible = a.Smallest, a.All, a.Bound, a.Impossible
	if r.Way != nil {
		c.Taken = r.Way.Name
	}
	for i := range a.Ways {
		c.Ways = append(c.Ways, oneWay(&a.Ways[i]))
	}
	return c
}

func oneWay(w *change.Way) wayJSON {
	out := wayJSON{Name: w.Name, Title: w.Title, Effort: w.Effort, Contacts: w.Contacts, States: w.Proof.States, Exchanges: w.Exchanges, Moves: boxMoves(w.Moves)}
	if out.Exchanges == nil {
		out.Exchanges = []change.Exchange{}
	}
	return out
}
