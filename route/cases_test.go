package route

import (
	"slices"
	"strings"
	"testing"

	"strapper/house"
	"strapper/unit"
)

// worksOf lists the operations of a run's best way in the order of the graph.
func worksOf(t *testing.T, h *house.House, from, to string) []Work {
	t.Helper()
	f := finder(t, h)
	c := f.choose(Run{ID: "x", From: from, To: to, Kind: cable(t, "3ce-1.0")}, Options{})
	if len(c.Routes) == 0 {
		t.Fatalf("no way: %s", c.None)
	}
	g, err := f.graph(cable(t, "3ce-1.0"), c.Surface)
	if err != nil {
		t.Fatal(err)
	}
	var list []Work
	for _, i := range c.Routes[0].edges {
		for _, task := range g.edges[i].tasks {
			list = append(list, task.work)
		}
	}
	return list
}

func has(list []Work, works ...Work) bool {
	for _, w := range works {
		if !slices.Contains(list, w) {
			return false
		}
	}
	return true
}

// A loft that nobody gets into is not used: 600 mm at the ridge, common practice,
// no source.
func TestLowLofts(t *testing.T) {
	for height, want := range map[MM]bool{600: true, 599: false} {
		d := twoStoreys()
		d.Loft = &house.DraftLoft{Height: at(height)}
		h := build(t, d)
		f := finder(t, h)
		through, noted := false, false
		for _, from := range h.Boxes {
			for _, to := range h.Boxes {
				for _, r := range f.choose(Run{ID: "x", From: from.ID, To: to.ID, Kind: cable(t, "3ce-1.0")}, Options{}).Routes {
					through = through || slices.ContainsFunc(r.Stretches, func(s Stretch) bool { return s.Space == InLoft })
				}
			}
		}
		for _, finding := range f.Plan(nil, Options{}).Findings {
			noted = noted || finding.Code == "loft-too-low"
		}
		if through != want || noted == want {
			t.Errorf("loft of %v: gone through %v, noted %v", height, through, noted)
		}
	}
}

// A floor of sheets has no boards to lift, and what is drilled through an inside
// wall does not lead outside.
func TestWordsFitTheFloorAndTheWall(t *testing.T) {
	steps := func(d *house.Draft, from, to string) (all string) {
		for _, r := range only(t, build(t, d), from, to).Routes {
			for _, s := range r.Steps {
				all += s.Text + "\n"
			}
		}
		return all
	}
	sheets := twoStoreys()
	sheets.Floors = []house.DraftFloor{{Ref: "first", DeckKind: house.DeckSheets}}
	if got := steps(sheets, "hall", "point"); strings.Contains(got, "board") || !strings.Contains(got, "sheet") {
		t.Errorf("a floor of sheets: %s", got)
	}
	open := twoStoreys()
	open.NoLoft, open.Partition = true, "stud-63" // its studs are too thin to drill
	yes := true
	open.Floors = []house.DraftFloor{{Ref: "first", Solid: &yes, Depth: at(150)}}
	open.Boxes = append(open.Boxes, house.DraftBox{ID: "bed", Room: "bedroom", On: "landing", Left: at(1800), Height: at(1350), Size: flush})
	got := steps(open, "landing", "bed")
	if !strings.Contains(got, "Drill through the wall") || strings.Contains(got, "outside") || !strings.Contains(got, "From Landing into Bedroom") {
		t.Errorf("trunking through an inside wall: %s", got)
	}
}

// A wall that stops fire is sealed where a cable passes its plates, as a floor
// is (Approved Document B, from memory, to be confirmed).
func TestFireWallsAreSealed(t *testing.T) {
	for _, fire := range []bool{false, true} {
		h := build(t, twoStoreys())
		for _, w := range h.Walls {
			w.Fire = fire
		}
		list := worksOf(t, h, "hall", "point")
		if !has(list, Head) && !has(list, Sole) && !has(list, Rise) {
			t.Fatalf("no plate is passed: %v", list)
		}
		if slices.Contains(list, Seal) != fire {
			t.Errorf("walls stop fire: %v, sealed: %v", fire, list)
		}
	}
}

// A hole of 16 mm leaves 50 mm to either edge of a joist of 116 mm; in one of
// 115 mm it is covered with a plate (BS 7671 522.6.201). Joists over 250 mm are
// not drilled at all (NHBC 6.4.18).
func TestCrossingJoistsByDepth(t *testing.T) {
	for depth, want := range map[MM]struct{ crossed, plate bool }{
		195: {true, false}, 116: {true, false}, 115: {true, true}, 251: {false, false},
	} {
		d := twoStoreys()
		d.Floors = []house.DraftFloor{{Ref: "first", Depth: at(depth)}}
		crossed, plate := false, false
		for _, r := range only(t, build(t, d), "hall", "point").Routes {
			for _, h := range r.Holes {
				if strings.HasPrefix(h.Through, "joist") {
					crossed, plate = true, plate || h.Plate
				}
			}
		}
		if crossed != want.crossed || plate != want.plate {
			t.Errorf("joists of %v: crossed %v with a plate %v, want %+v", depth, crossed, plate, want)
		}
	}
}

// A floor whose joists change direction over a wall is passed from part to part.
func TestPartsOfAFloorArePassed(t *testing.T) {
	d := twoStoreys()
	alongX := house.AlongX
	d.Floors = []house.DraftFloor{{Ref: "first", Parts: []house.DraftPart{{Room: "hall"}, {Room: "lounge", Run: &alongX}}}}
	h := build(t, d)
	if n := len(h.Storeys[1].Floor.Parts); n < 2 {
		t.Fatalf("%d parts, want two and perhaps the strip over the wall", n)
	}
	works := worksOf(t, h, "hall", "point")
	if !has(works, Bearing) {
		t.Errorf("the cable goes from one part to the other by %v", works)
	}
	r := best(t, h, "hall", "point")
	if !slices.ContainsFunc(r.Steps, func(s Step) bool { return strings.Contains(s.Text, "between the floor's parts") }) {
		t.Errorf("no step passes the bearing: %+v", r.Steps)
	}
}

// Beneath a floor with room for a person the cable goes straight, and both
// plates are drilled from below; without access boards have to be lifted.
func TestBeneathTheFloor(t *testing.T) {
	d := singleStorey()
	d.NoLoft = true
	d.Boxes = append(d.Boxes, house.DraftBox{ID: "low", Room: "study", On: "front", Left: at(1000), Height: at(450), Size: flush})
	solid := false
	d.Floors = []house.DraftFloor{{Ref: "ground", Solid: &solid}}
	d.Under = &house.DraftUnder{Height: at(600), Access: true}
	works := worksOf(t, build(t, d), "a", "low")
	if !has(works, Sole, UnderIn, UnderRun, Base) || has(works, LiftBoards) {
		t.Errorf("with access: %v", works)
	}
	d.Under.Access = false
	works = worksOf(t, build(t, d), "a", "low")
	if has(works, UnderRun) {
		t.Errorf("without access: %v", works)
	}
}

// Behind plasterboard on dabs the cable is passed, not chased; in a wall of
// brick it is chased.
func TestLinings(t *testing.T) {
	for wall, want := range map[string]Work{"dry-lined-100": Lining, "brick-102": ChaseUp, "lath-100": Drop, "metal-70": Drop} {
		d := singleStorey()
		d.Partition = wall
		if works := worksOf(t, build(t, d), "a", "rose"); !has(works, want) {
			t.Errorf("%s: %v, want %s", wall, works, want)
		}
	}
}

// A door between box and ceiling bars the way up: the box has to be left
// sideways.
func TestOpeningsAreGoneRound(t *testing.T) {
	d := twoStoreys()
	h := build(t, d)
	w, b := h.Box("hall").Wall, h.Box("hall")
	w.Openings = []*house.Opening{{ID: "hatch", Kind: house.Hatch, Wall: w, From: b.Along - 200, To: b.Along + 200, Sill: 1700, Head: 2100}}
	for _, r := range only(t, h, "hall", "landing").Routes {
		for _, s := range r.Stretches {
			if s.Wall == w && s.Along[0] == s.Along[1] && abs(s.Along[0]-b.Along) < 200 && max(s.High[0], s.High[1]) > 1700 && min(s.High[0], s.High[1]) < 2100 {
				t.Errorf("the cable crosses the hatch: %+v", s)
			}
		}
	}
}

// A pipe known to lie across a lane bars it; one that may be there is a risk
// with a plan.
func TestPipesInFloors(t *testing.T) {
	h := build(t, twoStoreys())
	floor := h.Storeys[1].Floor
	pipe := &house.Block{ID: "heating", Kind: house.BlockPipe, Likely: 40, Hot: true, Floor: floor, Area: [2]house.Point{{X: 1700, Y: 2000}, {X: 2050, Y: 2050}}}
	h.Blocks = []*house.Block{pipe}
	r := best(t, h, "hall", "landing")
	if !slices.ContainsFunc(r.WhatIf, func(w WhatIf) bool { return strings.Contains(w.What, "heating") && w.Likely == 40 }) {
		t.Errorf("no word of the pipe: %+v", r.WhatIf)
	}
	pipe.Likely = 100
	for _, r := range only(t, h, "hall", "landing").Routes {
		for _, s := range r.Stretches {
			low, high := min(s.From.Y, s.To.Y), max(s.From.Y, s.To.Y)
			if s.Space == InFloor && s.From.X > 1550 && low < 2000 && high > 2050 {
				t.Errorf("the cable passes the pipe: %+v", s)
			}
		}
	}
}

// A stud finder's sign of metal or of a live cable bars a place; a clear one
// does not.
func TestSightings(t *testing.T) {
	for sign, want := range map[house.Sign]bool{house.SignMetal: true, house.SignLive: true, house.SignPipe: true, house.SignClear: false, house.SignStud: false} {
		h := build(t, singleStorey())
		b := h.Box("a")
		h.Found = []*house.Sighting{{Sign: sign, Wall: b.Wall, Side: b.Side, From: b.Along - 50, To: b.Along + 50, Height: 2000}}
		g := graphOf(t, h, false)
		if _, barred := g.inTheWay(b.Wall, b.Along, 1200, b.Along, 2400); barred != want {
			t.Errorf("%s: barred %v, want %v", sign, barred, want)
		}
	}
}

// A drop of more than 5 m is told to need a support (On-Site Guide Appendix D,
// from memory, to be confirmed).
func TestLongDrops(t *testing.T) {
	g := graphOf(t, build(t, singleStorey()), false)
	for length, want := range map[MM]bool{5000: false, 5001: true} {
		w := build(t, singleStorey()).Box("a").Wall
		r := Route{Stretches: []Stretch{{Space: InWall, Wall: w, Length: length, To: Spot{Z: length}}}}
		g.supports(cable(t, "te-1.0"), &r)
		if got := len(r.Notes) > 0; got != want {
			t.Errorf("a drop of %v: %v", length, r.Notes)
		}
	}
}

// Tiles are dearer to open than paint, paper lies between, a cupboard is
// cheapest: the wall is opened from the easier side.
func TestWallsAreOpenedFromTheEasierSide(t *testing.T) {
	for _, c := range []struct {
		store, study house.Finish
		want         string
	}{{house.FinishTiles, house.FinishPaint, "from Study"}, {house.FinishPaint, house.FinishPaper, "from Store"}} {
		d := singleStorey()
		d.Rooms[0].Finish, d.Rooms[1].Finish = c.store, c.study
		h := build(t, d)
		g := graphOf(t, h, false)
		if text := g.openAt(h.Box("a").Wall, h.Box("a").Along, 1600); !strings.Contains(text, c.want) {
			t.Errorf("store %s, study %s: %s", c.store, c.study, text)
		}
	}
}

// The likelihood of a nogging goes into the expected time in proportion.
func TestExpectedTimeGoesByLikelihood(t *testing.T) {
	h := build(t, twoStoreys())
	w := h.Box("landing").Wall
	expected := func(likely unit.Percent) float64 {
		for i := range w.Noggings {
			w.Noggings[i].Likely = likely
		}
		g := graphOf(t, h, false)
		sum := effort{}
		t := g.score.From(g.boxes["hall"], scoreAll, -1)
		for _, arc := range t.Way(g.boxes["landing"]) {
			sum = sum.plus(g.edges[arc/2].own).plus(g.edges[arc/2].shared)
		}
		return sum.seconds
	}
	none := expected(0)
	for _, likely := range []unit.Percent{20, 50, 80} {
		if got, want := expected(likely)-none, 30*60*likely.Fraction(); got < want-1e-6 || got > want+1e-6 {
			t.Errorf("%v likely: %v s more, want %v", likely, got, want)
		}
	}
}

// Joint boxes in voids: one in the loft is reached from the loft, one between
// joists under a lifted board, and none of them through a ceiling.
func TestBoxesInVoids(t *testing.T) {
	d := twoStoreys()
	d.Boxes = append(d.Boxes,
		house.DraftBox{ID: "loft-joint", Room: "bedroom", On: house.AboveCeiling, Left: at(1500), Front: at(2000), Size: house.Size{Width: 100, Height: 100}},
		house.DraftBox{ID: "floor-joint", Room: "bedroom", On: house.UnderFloor, Left: at(1500), Front: at(2000), Size: house.Size{Width: 100, Height: 100}})
	h := build(t, d)
	works := worksOf(t, h, "landing", "loft-joint")
	if !has(works, Head, LoftRun) || has(works, PointWork) {
		t.Errorf("to the loft: %v", works)
	}
	// The middle of the partition is x = 2050 and the box stands at 2100 + 1500 =
	// 3600, 3480 and 2000 back: up 1050 and 112, then 1550 and 1480.
	if r := best(t, h, "landing", "loft-joint"); r.Length != 1050+112+1550+1480 {
		t.Errorf("to the loft: %v", r.Length)
	}
	works = worksOf(t, h, "hall", "floor-joint")
	if !has(works, Head, LiftBoards) || has(works, PointWork) {
		t.Errorf("under the boards: %v", works)
	}
	for _, s := range best(t, h, "hall", "floor-joint").Steps {
		if strings.Contains(s.Text, "through the ceiling") {
			t.Errorf("a box between the joists: %s", s.Text)
		}
	}
}

// Rooms that are no rectangles, walls that slant, rooms that run into one
// another: the routes hold together, or there are none, and nothing panics.
func TestOddHouses(t *testing.T) {
	found := 0
	for name, outline := range map[string][]house.Point{
		"L":       {{X: 0, Y: 0}, {X: 4000, Y: 0}, {X: 4000, Y: 2000}, {X: 2000, Y: 2000}, {X: 2000, Y: 4000}, {X: 0, Y: 4000}},
		"bay":     {{X: 0, Y: 0}, {X: 3000, Y: 0}, {X: 4000, Y: 1000}, {X: 4000, Y: 4000}, {X: 0, Y: 4000}},
		"lozenge": {{X: 2000, Y: 0}, {X: 4000, Y: 2000}, {X: 2000, Y: 4000}, {X: 0, Y: 2000}},
	} {
		d := &house.Draft{
			Storeys: []house.DraftStorey{{ID: "ground", Height: at(2400)}},
			Rooms:   []house.DraftRoom{{ID: "room", Outline: outline}, {ID: "next", Width: 2000, Depth: 2000, Way: house.LeftOf, Of: "room", Open: name == "L"}},
			Boxes: []house.DraftBox{
				{ID: "point", Room: "room", On: house.OnCeiling, Left: at(1500), Front: at(1500), Size: house.Size{Width: 100, Height: 100}},
			},
		}
		h, list, err := d.Assemble()
		if err != nil {
			t.Fatal(err)
		}
		if h == nil {
			t.Logf("%s: %v", name, list[0])
			continue
		}
		for i, face := range h.Room("room").Faces {
			s, along, ok := face.Behind(face.Length() / 2)
			if !ok || s.Wall.Build.Fabric == house.FabricOpenSpace {
				continue
			}
			b := &house.Box{ID: face.Name, Room: h.Room("room"), Size: flush, Wall: s.Wall, Side: s.Side, Along: along, Height: MM(1000 + 50*i), Face: face}
			h.Boxes = append(h.Boxes, b)
		}
		for _, b := range h.Boxes {
			c := only(t, h, b.ID, "point")
			for k := range c.Routes {
				found++
				checkRoute(t, uint64(k), h, &c, &c.Routes[k])
			}
		}
	}
	if found < 5 {
		t.Errorf("only %d routes in odd houses", found)
	}
}
