package wiring

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// card prints what a connection card would show, one line per thing.
func card(p *Placed) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s / %s\n", p.Box.Name(), p.Box.Kind.Title)
	for _, it := range p.Items {
		fmt.Fprintf(&b, "item %s %q switch %d\n", it.ID, it.Title, it.Switch)
		for _, t := range it.Terminals {
			fmt.Fprintf(&b, "  %s: %v linked %v\n", t.Terminal.Name, t.Clamped, t.Linked)
		}
	}
	for _, c := range p.Cables {
		fmt.Fprintf(&b, "cable %s to %s\n", c.Cable.ID, c.Far.Name())
		for _, core := range c.Cores {
			fmt.Fprintf(&b, "  %s: %s %v %d with %v\n", core.Core.Colour, core.At, core.Terminals, core.Connector, core.With)
		}
	}
	for _, c := range p.Connectors {
		fmt.Fprintf(&b, "connector %d: %v\n", c.Number, c.Ends)
	}
	return b.String()
}

// The expected card is read off the joints of stairsLeft by hand.
func TestPlacedShowsTheHallSwitch(t *testing.T) {
	in := stairsLeft(t)
	in.Joints = slices.DeleteFunc(in.Joints, func(j Joint) bool { return j.Box == "hall" && j.Ends[0] == End{"hall", "s1", "L2"} })
	in.Joints = append(in.Joints, joint(t, "hall: strap.grey"))
	g := mustBuild(t, in)
	want := `Hall switch / One-gang box
item s1 "Two-way switch" switch 0
  COM: [drop.red] linked []
  L1: [strap.black] linked []
  L2: [] linked []
cable drop to Landing ceiling
  red: terminal [s1.COM] 0 with []
  black: connector [] 1 with [strap.brown]
  bare: connector [] 2 with [strap.cpc]
cable strap to Landing switch
  brown: connector [] 1 with [drop.black]
  black: terminal [s1.L1] 0 with []
  grey: parked [] 0 with []
  bare: connector [] 2 with [drop.cpc]
connector 1: [drop.black strap.brown]
connector 2: [drop.cpc strap.cpc]
`
	if got := card(g.Placed("hall")); got != want {
		t.Errorf("the hall's card is\n%s\nwant\n%s", got, want)
	}
}

func TestPlacedShowsWaysLinksAndLooseEnds(t *testing.T) {
	in := stairsFound(t)
	in.Circuits = append(in.Circuits, &Circuit{ID: "spare", Board: "board", Device: testMCB, Way: testWay})
	in.Joints = append(in.Joints[1:], joint(t, "board: lights.L spare.L feed.red"))
	in.Joints = in.Joints[1:] // feed.black at the board hangs loose
	g := mustBuild(t, in)
	p := g.Placed("board")
	if p.Items[0].Title != "Upstairs lights" || p.Items[1].Title != "Way" || p.Items[0].Circuit != in.Circuits[0] {
		t.Errorf("ways are titled %q and %q", p.Items[0].Title, p.Items[1].Title)
	}
	l := p.Items[0].Terminals[0]
	if len(l.Linked) != 1 || l.Linked[0] != (End{"board", "spare", "L"}) || len(l.Clamped) != 1 {
		t.Errorf("lights.L holds %v and is linked to %v", l.Clamped, l.Linked)
	}
	if black := p.Cables[0].Cores[1]; black.At != AtNothing || black.Terminals != nil || black.With != nil {
		t.Errorf("the loose core is placed %+v", black)
	}
	if got, want := g.Where(End{"board", "feed", "red"}), "L of lights linked to L of spare"; got != want {
		t.Errorf("the red core is in %q, want %q", got, want)
	}
	if got := g.Where(End{"board", "feed", "black"}); got != "joined to nothing" {
		t.Errorf("the loose core is in %q", got)
	}
	if g.Placed("attic") != nil {
		t.Error("a box that does not exist is placed")
	}
}
