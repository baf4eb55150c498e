package document

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// The letter codes of colours: IEC 60757:2021, Code for designation of colours.
func TestCoreCodes(t *testing.T) {
	published := map[kit.Colour]string{
		kit.Black: "BK", kit.Brown: "BN", kit.Red: "RD", kit.Yellow: "YE", kit.Green: "GN",
		kit.Blue: "BU", kit.Grey: "GY", kit.GreenYellow: "GNYE",
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range kit.Names(cat.Cables) {
		for _, core := range cat.Cables[id].Cores {
			if core.Colour == kit.Bare {
				continue // has no colour
			}
			code, ok := published[core.Colour]
			if !ok || skinOf(core.Colour).code != code {
				t.Errorf("%s: core %s is marked %q, the standard has %q", id, core.Name, skinOf(core.Colour).code, code)
			}
		}
		seen := map[string]bool{}
		for _, core := range cat.Cables[id].Cores {
			if c := codeOf(&core); seen[c] {
				t.Errorf("%s: two cores are marked %q", id, c)
			} else {
				seen[c] = true
			}
		}
	}
}

// legible fails for labels that overlap, leave the drawing or are too small:
// 6.5 point on paper, where the figure is not scaled down to the page.
func legible(t interface {
	Errorf(string, ...any)
}, what string, sc *draw.Scene,
) {
	for _, pair := range sc.Overlaps(0.05) {
		t.Errorf("%s: %q overlaps %q at %.1f, %.1f", what, pair[0].S, pair[1].S, pair[0].Box.X0, pair[0].Box.Y0)
	}
	for _, out := range sc.Outside(0.05) {
		t.Errorf("%s: %q leaves the drawing", what, out.S)
	}
	for _, x := range sc.TextBoxes() {
		if x.Size < 6.5*draw.Pt {
			t.Errorf("%s: %q is %.1f points", what, x.S, x.Size/draw.Pt)
		}
	}
}

func TestLabelsNeverOverlap(t *testing.T) {
	for _, name := range examples(t) {
		d := Pack(work(t, name))
		list := scenes(d.Blocks)
		if len(list) < 3 {
			t.Errorf("%s: only %d drawings", name, len(list))
		}
		for _, sc := range list {
			legible(t, name+": "+sc.Title, sc)
		}
		for i, page := range d.Pages() {
			if pairs := page.Overlaps(0.1); len(pairs) > 0 {
				t.Errorf("%s: page %d: %q overlaps %q", name, i+1, pairs[0][0].S, pairs[0][1].S)
			}
		}
	}
}

// crowded draws one box with accessories and cables of any kinds, joined at
// random.
func crowded(t *rapid.T, cat *kit.Catalogue) *wiring.Graph {
	pick := func(names []string, what string) string { return rapid.SampledFrom(names).Draw(t, what) }
	in := &wiring.Installation{Boxes: []*wiring.Box{
		{ID: "here", Title: "Landing switch, at the top of the stair", Kind: cat.Boxes["plaster-2g-35"]},
		{ID: "there", Title: "A box with a rather long name beside the airing cupboard", Kind: cat.Boxes["ceiling-point"]},
	}}
	var joints [][]wiring.End
	for i := range rapid.IntRange(1, 3).Draw(t, "accessories") {
		k := cat.Accessories[pick(kit.Names(cat.Accessories), "accessory")]
		id := fmt.Sprintf("s%d", i+1)
		in.Boxes[0].Fit = append(in.Boxes[0].Fit, &wiring.Fitted{ID: id, Kind: k})
		for _, term := range k.Terminals {
			joints = append(joints, []wiring.End{{Box: "here", Item: id, Name: term.Name}})
		}
	}
	joints = append(joints, nil, nil, nil) // connectors
	for i := range rapid.IntRange(1, 5).Draw(t, "cables") {
		k := cat.Cables[pick(kit.Names(cat.Cables), "cable")]
		id := fmt.Sprintf("cable-%d", i+1)
		in.Cables = append(in.Cables, &wiring.Cable{ID: id, Kind: k, From: "there", To: "here", Length: 1000})
		for _, core := range k.Cores {
			at := rapid.IntRange(-1, len(joints)-1).Draw(t, "joint")
			if at >= 0 {
				joints[at] = append(joints[at], wiring.End{Box: "here", Item: id, Name: core.Name})
			}
		}
	}
	if len(joints) > 5 && rapid.Bool().Draw(t, "link") { // two terminals linked
		joints[0] = append(joints[0], joints[1]...)
		joints[1] = nil
	}
	for _, ends := range joints {
		if len(ends) > 0 {
			in.Joints = append(in.Joints, wiring.Joint{Box: "here", Ends: ends})
		}
	}
	g, problems := wiring.Build(in)
	if g == nil {
		t.Fatalf("%v", problems)
	}
	return g
}

func catalogue(t testing.TB) *kit.Catalogue {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func TestCrowdedBoxesStayLegible(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		g := crowded(t, cat)
		n := newNotes()
		step := 1
		for i := range g.Placed("here").Cables {
			for _, core := range g.Placed("here").Cables[i].Cores {
				n.steps[core.End] = step
				n.sleeves[core.End] = rapid.SampledFrom([]string{"", "brown sleeve", "blue sleeve", "green-and-yellow sleeve"}).Draw(t, "sleeve")
				step++
			}
		}
		legible(t, "crowded", sketchBox(g, "here", "crowded", n))
		legible(t, "scheme", (&scheme{g: g, columns: columns(g.Inst)}).scene("scheme"))
	})
}

// Each core runs from its own place at the top into the terminal, connector or
// cap that the placed view of the wiring names.
func TestCoresLandWhereTheyAre(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		g := crowded(t, cat)
		s := &sketch{g: g, p: g.Placed("here"), at: map[wiring.End]int{}}
		top, foot := s.placeCables(), s.placeBlocks()
		s.width = max(top, foot)
		s.shift((s.width-top)/2, (s.width-foot)/2)
		s.route()
		drawn := map[wiring.End]int{}
		for i, e := range s.ends {
			drawn[e]++
			if e == (wiring.End{}) {
				continue
			}
			name := s.padAt(s.runs[i].x1)
			want := held(g, e)
			if want == "LOOSE" || want == "parked" || want[:3] == "con" {
				if name != want {
					t.Errorf("%v is drawn in %q and is in %q", e, name, want)
				}
				continue
			}
			n, _ := g.Node(e)
			if !slices.ContainsFunc(g.Members(n), func(m wiring.End) bool { return m.Item+" "+m.Name == name }) {
				t.Errorf("%v is drawn in %q and is in %q", e, name, want)
			}
		}
		for i, a := range s.runs {
			for _, b := range s.runs {
				if d := a.x1 - b.x0; d > -cell/3 && d < cell/3 && !b.link {
					t.Errorf("the foot of %v stands in line with a core at the top", s.ends[i])
				}
				// in one terminal the cores stand in the order in which they come
				if !a.link && !b.link && s.padAt(a.x1) == s.padAt(b.x1) && strings.Contains(s.padAt(a.x1), " ") && a.x0 < b.x0 && a.x1 > b.x1 {
					t.Errorf("%v crosses its neighbour in %s", s.ends[i], s.padAt(a.x1))
				}
			}
		}
		for i := range s.p.Cables {
			for _, core := range s.p.Cables[i].Cores {
				if drawn[core.End] != 1 {
					t.Errorf("%v is drawn %d times", core.End, drawn[core.End])
				}
			}
		}
	})
}

// padAt names the pad that a foot stands in.
func (s *sketch) padAt(x float64) string {
	for i := range s.blocks {
		b := &s.blocks[i]
		for _, pd := range b.pads {
			left := edge + float64(b.x+pd.x)*cell + footShift
			if x < left || x > left+float64(pd.w)*cell {
				continue
			}
			if b.item == nil {
				return pd.name
			}
			return b.item.ID + " " + pd.name
		}
	}
	return ""
}

// No two conductors of a card share a stretch: uprights stand apart, and so do
// the stretches of one track.
func TestRunsKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var runs []*run
		n := rapid.IntRange(1, 14).Draw(t, "cores")
		feet := rapid.Permutation(slices.Collect(func(yield func(int) bool) {
			for i := range n + 4 {
				if !yield(i) {
					return
				}
			}
		})).Draw(t, "feet")
		for i := range n {
			runs = append(runs, &run{x0: (float64(i) + 0.5) * cell, x1: float64(feet[i]+1) * cell})
		}
		if rapid.Bool().Draw(t, "links") {
			runs = append(runs, &run{x0: float64(feet[n]+1) * cell, x1: float64(feet[n+1]+1) * cell, link: true},
				&run{x0: float64(feet[n+2]+1) * cell, x1: float64(feet[n+3]+1) * cell, link: true})
		}
		tracks := assignTracks(runs)
		for i, a := range runs {
			if a.track < 0 || a.track >= tracks {
				t.Errorf("track %d of %d", a.track, tracks)
			}
			for _, b := range runs[:i] {
				alo, ahi := a.span()
				blo, bhi := b.span()
				if a.track == b.track && alo < bhi+coreWidth && blo < ahi+coreWidth {
					t.Errorf("%+v and %+v touch", *a, *b)
				}
			}
		}
	})
}

// Where nothing turns back, nothing crosses: cores that all go one way are
// drawn without a crossing if their order is kept.
func TestParallelRunsDoNotCross(t *testing.T) {
	for _, shift := range []float64{2.5, -3.5} {
		var runs []*run
		for i := range 8 {
			x := (float64(i) + 0.5) * cell
			runs = append(runs, &run{x0: x, x1: x + shift*cell})
		}
		assignTracks(runs)
		for _, a := range runs {
			for _, b := range runs {
				lo, hi := a.span()
				// b's upright from the top crosses a if it goes below a's track
				// inside a's stretch; so does its upright to the foot.
				if a != b && (b.x0 > lo && b.x0 < hi && b.track > a.track || b.x1 > lo && b.x1 < hi && b.track < a.track) {
					t.Errorf("%+v crosses %+v", *b, *a)
				}
			}
		}
	}
}
