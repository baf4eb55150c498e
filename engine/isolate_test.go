package engine_test

import (
	"math/rand"
	"slices"
	"strings"
	"testing"

	"strapper/engine"
	"strapper/switching"
	"strapper/wiring"
)

// halfway is the wiring at some stage of the work: of each box that is opened
// the joints are as found, as left, or partly taken apart; nothing else has
// changed. Cables of both conditions are there.
func halfway(t *testing.T, r *engine.Result, rnd *rand.Rand) *wiring.Graph {
	t.Helper()
	found, left := r.Found.Inst, r.Left.Inst
	in := *left
	in.Joints = nil
	for _, c := range found.Cables {
		if left.Cable(c.ID) == nil {
			in.Cables = append(slices.Clone(in.Cables), c)
		}
	}
	for _, b := range in.Boxes {
		from := left
		if o := r.Opening(b.ID); o != nil && o.Works && rnd.Intn(2) == 0 && found.Box(b.ID) != nil {
			from = found
		}
		for _, j := range from.Joints {
			if j.Box == b.ID && !(r.Opening(b.ID).Works && rnd.Intn(3) == 0) {
				in.Joints = append(in.Joints, known(&in, j))
			}
		}
	}
	g, problems := wiring.Build(&in)
	if g == nil {
		t.Fatal(problems)
	}
	return g
}

// known leaves out of a joint what is not there at that stage.
func known(in *wiring.Installation, j wiring.Joint) wiring.Joint {
	out := wiring.Joint{Box: j.Box}
	for _, e := range j.Ends {
		f := in.Box(j.Box).Fitted(e.Item)
		has := in.Cable(e.Item) != nil || in.Circuit(e.Item) != nil
		if f != nil {
			for _, terminal := range f.Kind.Terminals {
				has = has || terminal.Name == e.Name
			}
		}
		if has {
			out.Ends = append(out.Ends, e)
		}
	}
	return out
}

// With what Whole asks for switched off, no box that the work opens can be made
// live at any stage of it, in whatever order: of seeded stages of the examples,
// each box still needs nothing more.
func TestWholeCoversEveryStage(t *testing.T) {
	stages := 0
	for _, name := range []string{"bathroom", "gallery", "kitchen", "landing", "stairs", "workshop"} {
		j, cat := with(t, name+".yaml", "")
		r := run(t, j, cat)
		if r.Left == nil {
			continue
		}
		rnd := rand.New(rand.NewSource(1))
		for range 60 {
			g := halfway(t, r, rnd)
			for _, o := range r.Openings {
				if !o.Works {
					continue
				}
				for _, c := range switching.Isolate([]string{o.Box.ID}, g).Circuits() {
					if !r.Whole.Has(c) {
						t.Fatalf("%s, box %s: %s is live at some stage, and %v does not say so", name, o.Box.ID, c, r.Whole.Circuits())
					}
				}
				stages++
			}
		}
	}
	if stages < 300 {
		t.Errorf("only %d stages", stages)
	}
}

// In the example of the borrowed neutral both circuits must be off at the box
// where it is joined, though its own circuit alone would show a tester dead.
func TestBorrowedNeutralExample(t *testing.T) {
	j, cat := with(t, "landing.yaml", "")
	o := run(t, j, cat).Opening("hall")
	if got := strings.Join(o.Circuits(), " "); got != "up down" {
		t.Fatalf("off at the hall light: %s", got)
	}
	if n := o.Needed[0]; !n.Through || !strings.Contains(n.Witness, "landing.lamp") {
		t.Errorf("the upstairs circuit reaches it through the landing light: %+v", n)
	}
}
