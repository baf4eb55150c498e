// Command strapper works out an alteration of house lighting from a job file:
// it checks the file, proves the wiring in every position of the switches,
// predicts what the tests will read and prints the job pack.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/alecthomas/kong"

	"strapper/job"
	"strapper/kit"
)

// The exit codes.
const (
	exitFine    = 0 // worked out, and nothing forbids the work
	exitForbids = 1 // worked out, and something forbids the work
	exitCannot  = 2 // could not be worked out
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// commands are what can be asked for; kong reads the help from the tags.
type commands struct {
	New      newCmd      `cmd:"" help:"Write a job file to start from, for one of the usual arrangements."`
	Check    checkCmd    `cmd:"" help:"Read a job file, prove it, and say everything that is wrong with it."`
	Change   changeCmd   `cmd:"" help:"Find ways to wire the control wanted, the least disturbing first, or say why there is none."`
	Prove    proveCmd    `cmd:"" help:"Show what is lit in every position of the switches, and whether that is what is wanted."`
	Readings readingsCmd `cmd:"" help:"Predict what each dead and live test will read."`
	Route    routeCmd    `cmd:"" help:"Find the routes of the new cables through the house: steps, holes, lengths, what to do if something stands in the way."`
	Size     sizeCmd     `cmd:"" help:"Work out currents, volt drop, fault loops and limits of every circuit, and how far each still passes."`
	Isolate  isolateCmd  `cmd:"" help:"Say what must be off before each box is opened, why, and which pairs to test in it."`
	Pack     packCmd     `cmd:"" help:"Print the job pack: connection cards, switch positions, readings to fill in, parts."`
	Price    priceCmd    `cmd:"" help:"Price the ways of doing the work by your own price list, from low to high; write the bill of quantities."`
	Rooms    roomsCmd    `cmd:"" help:"Make the rooms of a house section from a table of corners (CSV)."`
	Find     findCmd     `cmd:"" help:"Find what is wrong from what was seen and read: the likeliest causes, the next test, the repair."`
	Schema   schemaCmd   `cmd:"" help:"Print the JSON Schema of the job file, for an editor."`
	Sources  sourcesCmd  `cmd:"" help:"List every figure the program uses and where it comes from."`
}

// A session is one run of the program: where it writes and what it knows.
type session struct {
	in       io.Reader
	out, err io.Writer
	cat      *kit.Catalogue
	code     int
}

// run is the whole program but for the process: it returns the exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) (code int) {
	s := &session{in: in, out: out, err: errOut}
	stop := -1
	parser, err := kong.New(&commands{}, kong.Name("strapper"), kong.Writers(out, errOut), kong.Exit(func(c int) { stop = c }),
		kong.Description("Works out an alteration of house lighting before a wall is cut. It is an aid to a competent person and replaces neither local rules nor testing."),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}), kong.Vars{"patterns": patterns()})
	if err != nil {
		return s.fail(err)
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	if stop >= 0 { // help was asked for and printed
		return stop
	}
	if err != nil {
		return s.fail(fmt.Errorf("%w; strapper --help shows what there is", err))
	}
	if s.cat, err = kit.Open(); err != nil {
		return s.fail(err)
	}
	if err := ctx.Run(s); err != nil {
		return s.fail(err)
	}
	return s.code
}

// fail prints why the work could not be done.
func (s *session) fail(err error) int {
	var problems job.Problems
	if errors.As(err, &problems) {
		fmt.Fprint(s.err, problems.String())
		return exitCannot
	}
	fmt.Fprintf(s.err, "strapper: %v\n", err)
	return exitCannot
}
