package change_test

import (
	"slices"
	"strings"
	"testing"

	"strapper/change"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/wiring"
)

// The houses below are invented for the tests. Each is written as a job file
// without its want; a case adds want, could and limits.

const houseHead = `
job: { title: Arrangement for a test }
supply: { voltage: 230 V, earthing: TN-C-S, Ze: 0.3 ohm }
`

const oneCircuit = `
circuits:
  lights: { device: mcb-b6, rcd: rcd-30, board: board }
`

// ceilingHouse: the supply loops in at the ceiling, one switch as found.
const ceilingHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-25, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0, from: board, to: point, length: 9 m }
  drop: { kind: te-1.0, from: point, to: hall, length: 5 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  point: [[lamp.LOOP, feed.brown, drop.brown], [lamp.N, feed.blue], [lamp.SL, drop.blue], [lamp.E, feed.cpc, drop.cpc]]
  hall: [[s1.COM, drop.brown], [s1.L1, drop.blue], [drop.cpc]]
`

// oldHouse is the same in the colours used before 31 March 2006, with a
// three-core drop one core of which is spare.
const oldHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-25, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0-old, from: board, to: point, length: 9 m }
  drop: { kind: 3ce-1.0-old, from: point, to: hall, length: 5 m }
joints:
  board: [[lights.L, feed.red], [lights.N, feed.black], [lights.E, feed.cpc]]
  point: [[lamp.LOOP, feed.red, drop.red], [lamp.N, feed.black], [lamp.SL, drop.yellow], [drop.blue], [lamp.E, feed.cpc, drop.cpc]]
  hall: [[s1.COM, drop.red], [s1.L1, drop.yellow], [drop.blue], [drop.cpc]]
`

// bareHouse has no protective conductor beyond the ceiling point.
const bareHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-25, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0-old, from: board, to: point, length: 9 m }
  drop: { kind: twin-1.0-old-nocpc, from: point, to: hall, length: 5 m }
joints:
  board: [[lights.L, feed.red], [lights.N, feed.black], [lights.E, feed.cpc]]
  point: [[lamp.LOOP, feed.red, drop.red], [lamp.N, feed.black], [lamp.SL, drop.black], [lamp.E, feed.cpc]]
  hall: [[s1.COM, drop.red], [s1.L1, drop.black]]
`

// pairHouse has a two-way pair by three-core, line and switched line on the
// pair of strappers at the first switch.
const pairHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-25, fit: { s1: two-way } }
  top: { kind: plaster-1g-25, fit: { s1: two-way } }
cables:
  feed: { kind: te-1.0, from: board, to: point, length: 9 m }
  drop: { kind: te-1.0, from: point, to: hall, length: 5 m }
  strap: { kind: 3ce-1.0, from: hall, to: top, length: 6 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  point: [[lamp.LOOP, feed.brown, drop.brown], [lamp.N, feed.blue], [lamp.SL, drop.blue], [lamp.E, feed.cpc, drop.cpc]]
  hall: [[s1.L1, drop.brown, strap.black], [s1.L2, drop.blue, strap.grey], [s1.COM, strap.brown], [drop.cpc, strap.cpc]]
  top: [[s1.L1, strap.black], [s1.L2, strap.grey], [s1.COM, strap.brown], [strap.cpc]]
`

// sharedHouse has one switch that works two lamps.
const sharedHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  front: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  back: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-35, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0, from: board, to: front, length: 9 m }
  on: { kind: te-1.0, from: front, to: back, length: 4 m }
  drop: { kind: te-1.0, from: front, to: hall, length: 5 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  front: [[lamp.LOOP, feed.brown, drop.brown], [lamp.N, feed.blue, on.blue], [lamp.SL, drop.blue, on.brown], [lamp.E, feed.cpc, drop.cpc, on.cpc]]
  back: [[lamp.SL, on.brown], [lamp.N, on.blue], [lamp.E, on.cpc]]
  hall: [[s1.COM, drop.brown], [s1.L1, drop.blue], [drop.cpc]]
`

// roomsHouse has two lamps, each with its switch.
const roomsHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  front: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  back: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-1g-35, fit: { s1: one-way } }
  yard: { kind: plaster-1g-35, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0, from: board, to: front, length: 9 m }
  on: { kind: te-1.0, from: front, to: back, length: 4 m }
  drop1: { kind: te-1.0, from: front, to: hall, length: 5 m }
  drop2: { kind: te-1.0, from: back, to: yard, length: 5 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  front: [[lamp.LOOP, feed.brown, drop1.brown, on.brown], [lamp.N, feed.blue, on.blue], [lamp.SL, drop1.blue], [lamp.E, feed.cpc, drop1.cpc, on.cpc]]
  back: [[lamp.LOOP, on.brown, drop2.brown], [lamp.N, on.blue], [lamp.SL, drop2.blue], [lamp.E, on.cpc, drop2.cpc]]
  hall: [[s1.COM, drop1.brown], [s1.L1, drop1.blue], [drop1.cpc]]
  yard: [[s1.COM, drop2.brown], [s1.L1, drop2.blue], [drop2.cpc]]
`

// circuitsHouse has two circuits that meet in the switch box of the hall.
const circuitsHouse = houseHead + `
circuits:
  down: { device: rcbo-b6, board: board }
  up: { device: rcbo-b6, board: board }
boxes:
  board: { kind: consumer-unit }
  low: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  high: { kind: ceiling-point, fit: { lamp: ceiling-rose } }
  hall: { kind: plaster-2g-35, fit: { s1: one-way, s2: one-way } }
  top: { kind: plaster-1g-35, fit: { s1: one-way } }
cables:
  feed1: { kind: te-1.0, from: board, to: low, length: 9 m }
  feed2: { kind: te-1.0, from: board, to: high, length: 12 m }
  drop1: { kind: te-1.0, from: low, to: hall, length: 5 m }
  drop2: { kind: te-1.0, from: high, to: hall, length: 7 m }
  spare: { kind: 3ce-1.0, from: hall, to: top, length: 6 m }
  drop3: { kind: te-1.0, from: high, to: top, length: 5 m }
joints:
  board: [[down.L, feed1.brown], [down.N, feed1.blue], [down.E, feed1.cpc], [up.L, feed2.brown], [up.N, feed2.blue], [up.E, feed2.cpc]]
  low: [[lamp.LOOP, feed1.brown, drop1.brown], [lamp.N, feed1.blue], [lamp.SL, drop1.blue], [lamp.E, feed1.cpc, drop1.cpc]]
  high: [[lamp.LOOP, feed2.brown, drop2.brown], [lamp.N, feed2.blue], [lamp.SL, drop2.blue], [lamp.E, feed2.cpc, drop2.cpc, drop3.cpc], [drop3.brown], [drop3.blue]]
  hall:
    - [s1.COM, drop1.brown]
    - [s1.L1, drop1.blue]
    - [s2.COM, drop2.brown]
    - [s2.L1, drop2.blue]
    - [drop1.cpc, drop2.cpc, spare.cpc]
    - [spare.brown]
    - [spare.black]
    - [spare.grey]
  top: [[drop3.brown], [drop3.blue], [spare.brown], [spare.black], [spare.grey], [drop3.cpc, spare.cpc]]
`

// feedHouse has the supply at the switch.
const feedHouse = houseHead + oneCircuit + `
boxes:
  board: { kind: consumer-unit }
  point: { kind: ceiling-point, fit: { lamp: batten-holder } }
  hall: { kind: plaster-1g-35, fit: { s1: one-way } }
cables:
  feed: { kind: te-1.0, from: board, to: hall, length: 9 m }
  lead: { kind: te-1.0, from: hall, to: point, length: 5 m }
joints:
  board: [[lights.L, feed.brown], [lights.N, feed.blue], [lights.E, feed.cpc]]
  hall: [[s1.COM, feed.brown], [s1.L1, lead.brown], [feed.blue, lead.blue], [feed.cpc, lead.cpc]]
  point: [[lamp.L, lead.brown], [lamp.N, lead.blue], [lamp.E, lead.cpc]]
`

// newTop could be a box at the top of the stairs, with runs to it.
const newTop = `
could:
  boxes:
    top: { kind: plaster-1g-35 }
  cables:
    strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m, time: 40 min, walls: [stairs] }
    over: { kinds: [te-1.0, 3ce-1.0], from: point, to: top, length: 7 m, time: 50 min }
`

const bothWays = "want: [{ lamps: [point.lamp], at: [hall, top] }]\n"

func catalogue(tb testing.TB) *kit.Catalogue {
	tb.Helper()
	cat, err := kit.Open()
	if err != nil {
		tb.Fatal(err)
	}
	return cat
}

// asked reads a job and hands out the wiring found and what is asked.
func asked(tb testing.TB, text string) (*wiring.Graph, change.Ask, *kit.Catalogue) {
	tb.Helper()
	cat := catalogue(tb)
	j, problems := job.Read("house.yaml", []byte(text), cat)
	if j == nil || j.Ask == nil {
		tb.Fatalf("not a job with an ask: %s", problems)
	}
	g, found := wiring.Build(j.Found)
	if g == nil {
		tb.Fatal(found)
	}
	return g, *j.Ask, cat
}

func search(tb testing.TB, text string, o change.Options) *change.Answer {
	tb.Helper()
	g, ask, cat := asked(tb, text)
	a, err := change.Search(g, ask, cat, o)
	if err != nil {
		tb.Fatal(err)
	}
	return a
}

// ways are the ways that are found; there must be some, the first proved to be
// the smallest, none of them refused, in rising order.
func ways(tb testing.TB, text string, most int) []change.Way {
	tb.Helper()
	a := search(tb, text, change.Options{Most: most})
	if len(a.Ways) == 0 {
		tb.Fatalf("no way: %v %+v", a.Findings, a.Impossible)
	}
	if !a.Smallest {
		tb.Error("the first is not proved to be the smallest")
	}
	for i := range a.Ways {
		if i > 0 && a.Ways[i].Effort.Minutes < a.Ways[i-1].Effort.Minutes {
			tb.Errorf("%s takes %.1f min, less than the one before it", a.Ways[i].Name, a.Ways[i].Effort.Minutes)
		}
	}
	return a.Ways
}

// pieces tells which ends are metallically one, contacts open.
func pieces(g *wiring.Graph) func(string) int {
	of := make([]int, g.Nodes())
	for n := range of {
		of[n] = n
	}
	for range of {
		for i := range g.Edges {
			if e := &g.Edges[i]; e.Kind == wiring.Conductor {
				least := min(of[e.A], of[e.B])
				of[e.A], of[e.B] = least, least
			}
		}
	}
	return func(end string) int { // "box.item.name"
		parts := strings.Split(end, ".")
		n, ok := g.Node(wiring.End{Box: parts[0], Item: parts[1], Name: parts[2]})
		if !ok {
			return -1
		}
		return of[n]
	}
}

func forbids(list []finding.Finding) []string {
	var codes []string
	for _, f := range list {
		if f.Severity == finding.Forbids {
			codes = append(codes, f.Code)
		}
	}
	return codes
}

// codes are the codes of findings, each once.
func codes(list []finding.Finding) []string {
	var all []string
	for _, f := range list {
		if !slices.Contains(all, f.Code) {
			all = append(all, f.Code)
		}
	}
	return all
}
