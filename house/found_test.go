package house

import (
	"slices"
	"testing"

	"strapper/finding"
)

// What a stud finder tells overrules what is assumed: a stud moves the
// set-out, a clear place takes an assumed stud away, a nogging is certain
// between the studs beside it.
func TestSightings(t *testing.T) {
	d := terrace()
	d.Walls, d.Openings = nil, nil
	d.Found = []DraftSighting{
		{Sign: SignStud, Room: "hall", Wall: "right", Left: given(231), Width: given(38)},                           // its middle is 250
		{Sign: SignClear, Room: "hall", Wall: "right", Left: given(1400), Width: given(100)},                        // 1450 = 250 + 2 x 600
		{Sign: SignNogging, Room: "parlour", Wall: "left", Left: given(3400), Width: given(40), Height: given(900)}, // 4000 - 3420 = 580 from the hall
	}
	h, list := assembled(t, d)
	if h == nil {
		t.Fatal(list)
	}
	w := h.Wall("hall-parlour")
	var at []MM
	for _, s := range w.Studs {
		at = append(at, s.At)
	}
	if want := []MM{19, 250, 850, 2050, 2650, 3250, 3850, 3981}; !slices.Equal(at, want) {
		t.Errorf("studs at %v, want %v", at, want)
	}
	var sure []Nogging
	for _, n := range w.Noggings {
		if n.Likely == 100 {
			sure = append(sure, n)
		}
	}
	if len(sure) != 1 || sure[0].From != 269 || sure[0].To != 831 || sure[0].Height != 900 {
		t.Errorf("certain noggings %v, want one from 250+19 to 850-19 at 900", sure)
	}
	if len(h.Found) != 3 || h.Found[2].Side != SideB {
		t.Errorf("recorded: %v", h.Found)
	}
}

// A box that is there as found shows that the stud assumed in its place is
// not; one to be cut only meets it.
func TestAnOldBoxClearsAnAssumedStud(t *testing.T) {
	d := terrace()
	d.Walls[0].Studs = nil // assumed from the left end: 19, 619 ...
	d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: "right", Left: given(619), Height: given(900), Size: flush}}
	h, list := assembled(t, d)
	if h == nil || has(list, "stud-clash", finding.Note) {
		t.Fatal(list)
	}
	for _, s := range h.Wall("hall-parlour").Studs {
		if distance(s.At, 619) < 55 {
			t.Errorf("a stud is still assumed at %d", s.At)
		}
	}
	d.Boxes[0].New = true
	if _, list = assembled(t, d); !has(list, "stud-clash", finding.Note) {
		t.Errorf("a new box there meets no stud: %v", list)
	}
}

// An assumed depth of joists gives way to levels that were measured; a given
// one does not.
func TestLevelsDecideAnAssumedDepth(t *testing.T) {
	d := handHouse()
	d.Storeys[1].Level = given(2650) // 2650 - 2400 - 15 - 18 = 217
	h, list := assembled(t, d)
	if h == nil || h.Storey("first").Floor.Depth != 217 {
		t.Fatalf("joists %v", list)
	}
	d.Floors = []DraftFloor{{Ref: "first", Depth: given(195)}}
	if h, _ = assembled(t, d); h != nil {
		t.Error("joists of 195 mm do not reach a level of 2650, and are accepted")
	}
	d.Floors[0].Depth = given(217)
	if h, list = assembled(t, d); h == nil {
		t.Errorf("joists of 217 mm reach it: %v", list)
	}
}

// A cellar lies below: its level follows from the floor over it.
func TestCellar(t *testing.T) {
	d := handHouse()
	d.Storeys = slices.Insert(d.Storeys, 0, DraftStorey{ID: "cellar", Cellar: true, Height: given(2000)})
	d.Rooms = append(d.Rooms, DraftRoom{ID: "store", Width: 2000, Depth: 4500, Way: Below, Of: "hall"})
	h, list := assembled(t, d)
	if h == nil {
		t.Fatal(list)
	}
	if got := h.Storey("cellar").Level; got != -(18 + 195 + 15 + 2000) { // boards, joists, ceiling, height
		t.Errorf("the cellar lies at %d", got)
	}
	if h.Storey("ground").Level != 0 || h.Storey("ground").Floor.Below != h.Storey("cellar") {
		t.Error("the ground floor does not stand on the cellar at level 0")
	}
}

// Obstructions lie where they were measured, on either form of place.
func TestBlocks(t *testing.T) {
	d := terrace()
	d.Blocks = []DraftBlock{
		{ID: "stack", Kind: BlockPipe, Wall: "left", Room: "parlour", Left: given(3000), Width: given(110)},
		{ID: "beam", Kind: BlockSteel, Floor: "loft", Room: "parlour", Front: given(1000), Deep: given(150), Likely: percent(40)},
	}
	h := fine(t, d)
	s, b := h.Blocks[0], h.Blocks[1]
	if s.Wall.ID != "hall-parlour" || s.From != 4000-3110 || s.To != 1000 || s.High != 2400 || !s.Known() {
		t.Errorf("stack: %+v", s)
	}
	if want := ([2]Point{{2088, 1000}, {5088, 1150}}); b.Area != want || b.Known() || b.Floor != h.Storeys[0].Above {
		t.Errorf("beam: %+v, want %v", b, want)
	}
}

// A part of a loft floor has the joists of the whole and boards of its own.
func TestParts(t *testing.T) {
	d := terrace()
	d.Floors[1].Parts = []DraftPart{
		{Room: "hall", Boarded: true, Insulate: given(100)},
		{Room: "parlour", Run: new(AlongX), First: given(60)},
	}
	h := accepted(t, d)
	f := h.Storeys[0].Above
	hall, parlour := f.PartAt(Point{1000, 1000}), f.PartAt(Point{3000, 1000})
	whole := f.PartAt(Point{2040, 1000}) // over the partition
	if !hall.Boarded || hall.Insulate != 100 || hall.Run != AlongY || hall.First != whole.First || whole.Boarded {
		t.Errorf("over the hall: %+v; whole: %+v", hall, whole)
	}
	if parlour.Run != AlongX || parlour.First != 60 || !parlour.Measured {
		t.Errorf("over the parlour: %+v", parlour)
	}
	if f.PartAt(Point{9000, 0}) != nil {
		t.Error("there is a part outside the floor")
	}
}

func accepted(t *testing.T, d *Draft) *House {
	t.Helper()
	h, list := assembled(t, d)
	if h == nil {
		t.Fatal(list)
	}
	return h
}

// A box placed by each of the measures there are. The hall's right wall is
// 4000 long; the door's lining reaches from 4000-300-65-762-65 = 2808 to 3700.
func TestMeasures(t *testing.T) {
	for _, c := range []struct {
		box         DraftBox
		along, high MM
	}{
		{DraftBox{On: "right", Left: given(700), Height: given(900)}, 700, 900},
		{DraftBox{On: "right", Right: given(3100), Below: given(300)}, 900, 2100},
		{DraftBox{On: "parlour", LeftOf: "door", By: given(160), Height: given(1200)}, 2648, 1200},
		{DraftBox{RightOf: "door", By: given(160), Height: given(1200)}, 3860, 1200},
		{DraftBox{On: "hall-parlour"}, 2000, 1200}, // nothing said: the middle of the wall, at the usual height
	} {
		c.box.ID, c.box.Room = "b", "hall"
		d := terrace()
		d.Boxes = []DraftBox{c.box}
		b := accepted(t, d).Box("b")
		if b.Along != c.along || b.Height != c.high || b.Side != SideA {
			t.Errorf("%+v: at %d, %d high on side %d; want %d, %d", c.box, b.Along, b.Height, b.Side, c.along, c.high)
		}
	}
}

// From the parlour the same wall is read the other way round, and left and
// right of the door change places: its lining reaches from 300 to 1192.
func TestMeasuresFromTheOtherRoom(t *testing.T) {
	for _, c := range []struct {
		box   DraftBox
		along MM
	}{
		{DraftBox{On: "hall", Left: given(1500)}, 2500},
		{DraftBox{LeftOf: "door", By: given(100)}, 4000 - 200},
		{DraftBox{RightOf: "door", By: given(100)}, 4000 - 1292},
	} {
		c.box.ID, c.box.Room, c.box.Height = "b", "parlour", given(1200)
		d := terrace()
		d.Boxes = []DraftBox{c.box}
		if b := accepted(t, d).Box("b"); b.Along != c.along || b.Side != SideB {
			t.Errorf("%+v: at %d on side %d, want %d on side B", c.box, b.Along, b.Side, c.along)
		}
	}
}

// Studs that were found stand where they were found, and assumed ones keep half
// their spacing away from them; the set-out reaches back before the first.
func TestStudsThatWereFound(t *testing.T) {
	for _, c := range []struct{ seen, want []MM }{
		{[]MM{700}, []MM{19, 100, 700, 1300, 1900, 2500, 3100, 3700, 3981}},
		{[]MM{250, 900}, []MM{19, 250, 900, 1450, 2050, 2650, 3250, 3850, 3981}}, // 850 is taken for the one at 900
	} {
		d := terrace()
		d.Openings, d.Walls[0].Studs = nil, c.seen
		var at []MM
		for _, s := range accepted(t, d).Wall("hall-parlour").Studs {
			at = append(at, s.At)
		}
		if !slices.Equal(at, c.want) {
			t.Errorf("found at %v: studs at %v, want %v", c.seen, at, c.want)
		}
	}
}

// A joist found in the middle of a floor sets out those on both sides of it.
func TestJoistsOnBothSidesOfTheOneFound(t *testing.T) {
	d := terrace()
	d.Floors[1].First = given(2100) // from the left edge, x = 0; the floor is 5088 wide
	j := accepted(t, d).Storeys[0].Above.Parts[0].Joists()
	if len(j) != 13 || j[0] != 100 || j[12] != 4900 {
		t.Errorf("joists at %v, want 100 to 4900 by 400", j)
	}
}

// The head plate meets the joists behind the ceiling's board, or stops under
// it. The ceiling is 15 thick, the plate 38 high.
func TestHeadPlate(t *testing.T) {
	d := terrace()
	w := accepted(t, d).Wall("hall-parlour")
	if low, high := w.HeadPlate(); low != 2415-38 || high != 2415 {
		t.Errorf("head plate from %d to %d", low, high)
	}
	d.Walls[0].Under = true
	w = accepted(t, d).Wall("hall-parlour")
	if low, high := w.HeadPlate(); low != 2400-38 || high != 2400 {
		t.Errorf("under the board: head plate from %d to %d", low, high)
	}
	d.Walls = []DraftWall{{Ref: "hall-parlour", Build: "brick-102"}}
	if low, high := accepted(t, d).Wall("hall-parlour").HeadPlate(); low != 0 || high != 0 {
		t.Errorf("masonry has a head plate from %d to %d", low, high)
	}
}

// Rooms on one place overlap, though none of their sides cross; rooms that only
// touch do not.
func TestRoomsOnOnePlace(t *testing.T) {
	square := func(x MM) []Point { return []Point{{x, 0}, {x, 3000}, {x + 3000, 3000}, {x + 3000, 0}} }
	for x, want := range map[MM]bool{0: true, 2999: true, 3000: false} {
		_, list := assembled(t, &Draft{Rooms: []DraftRoom{{ID: "a", Outline: square(0)}, {ID: "b", Outline: square(x)}}})
		if has(list, "house-rooms-overlap", finding.Forbids) != want {
			t.Errorf("moved by %d: %v", x, list)
		}
	}
}

// The gap between two sketched rooms is the wall that is described between
// them: lath-100 is 25 + 100 + 25 thick.
func TestGapOfADescribedWall(t *testing.T) {
	for _, ref := range []string{"hall-parlour", "parlour-hall"} {
		d := terrace()
		d.Openings, d.Walls = nil, []DraftWall{{Ref: ref, Build: "lath-100"}}
		if least, _ := accepted(t, d).Room("parlour").Bounds(); least.X != 2150 {
			t.Errorf("%s: the parlour begins at %d, want 2000 + 150", ref, least.X)
		}
	}
}

// What is assumed of a loft, a suspended floor and an obstruction of unknown
// width: the figures are those that Figures lists.
func TestAssumedSizes(t *testing.T) {
	d := terrace()
	d.Floors = []DraftFloor{}
	d.Under = &DraftUnder{}
	d.Blocks = []DraftBlock{{ID: "p", Kind: BlockPipe, Room: "hall", Wall: "left", Left: given(500)}}
	h := accepted(t, d)
	if p := h.Storeys[0].Above.Parts[0]; p.Insulate != 270 || p.Spacing != 400 || h.Storeys[0].Above.Depth != 97 {
		t.Errorf("loft: %+v", p)
	}
	if f := h.Storeys[0].Floor; f.Parts[0].Solid || f.DeckKind != DeckBoards || f.Top != 0 || h.Under == nil || h.Under.Height != 300 {
		t.Errorf("suspended floor: %+v over %+v", f, h.Under)
	}
	if b := h.Blocks[0]; b.To-b.From != 50 {
		t.Errorf("the pipe is %d wide", b.To-b.From)
	}
	d.NoLoft = true
	if h = accepted(t, d); h.Loft != nil || h.Storeys[0].Above == nil || h.Storeys[0].Above.Parts[0].Insulate != 0 {
		t.Errorf("without a loft: %+v", h.Storeys[0].Above.Parts[0])
	}
}

// A cellar whose level was measured decides the joists over it: from -2300 with
// a height of 2000 there are 300 for ceiling 15, boards 18 and joists of 267.
func TestLevelOfACellarDecidesTheJoists(t *testing.T) {
	d := handHouse()
	d.Storeys = slices.Insert(d.Storeys, 0, DraftStorey{ID: "cellar", Cellar: true, Height: given(2000), Level: given(-2300)})
	d.Rooms = append(d.Rooms, DraftRoom{ID: "store", Width: 2000, Depth: 4500, Way: Below, Of: "hall"})
	h := accepted(t, d)
	if got := h.Storey("ground").Floor.Depth; got != 267 {
		t.Errorf("joists %d deep, want 267", got)
	}
	if f := h.Storey("ground").Floor; f.Underside() != -300 {
		t.Errorf("the cellar's ceiling lies at %d", f.Underside())
	}
}
