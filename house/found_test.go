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
