package house

import (
	"slices"
	"testing"
)

// handHouse is the house of docs/checks/04-house.md.
func handHouse() *Draft {
	right := func(id string, by MM) DraftBox {
		return DraftBox{ID: id, Room: "hall", RightOf: "door", By: given(by), Height: given(1200), Size: Size{Width: 72, Height: 72, Depth: 25, Flush: true}, New: true}
	}
	return &Draft{
		Storeys: []DraftStorey{{ID: "ground", Height: given(2400)}, {ID: "first", Height: given(2400)}},
		Rooms: []DraftRoom{
			{ID: "hall", Width: 2000, Depth: 4500},
			{ID: "parlour", Width: 3500, Depth: 4500, Way: RightOf, Of: "hall"},
			{ID: "kitchen", Width: 5588, Depth: 3000, Way: Behind, Of: "hall"},
			{ID: "landing", Width: 2000, Depth: 4500, Way: Above, Of: "hall"},
			{ID: "bedroom", Width: 3500, Depth: 4500, Way: RightOf, Of: "landing"},
		},
		Walls:    []DraftWall{{Ref: "hall-parlour", FirstStud: given(350), Bearing: true, NoRows: true}},
		Openings: []DraftOpening{{ID: "door", Kind: Door, Room: "hall", Wall: "parlour", Left: given(2900), Width: given(762), Lining: given(65)}},
		Boxes:    []DraftBox{right("near", 150)},
	}
}

// Every figure is worked in docs/checks/04-house.md.
func TestHandWorkedHouse(t *testing.T) {
	h, list := assembled(t, handHouse())
	check := func(what string, got, want MM) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %d, by hand %d", what, got, want)
		}
	}
	first, top := h.Storey("first"), h.Storey("first").Above
	check("first floor", first.Level, 2628)
	check("joists, lower edge", first.Floor.JoistBottom(), 2415)
	check("joists, upper edge", first.Floor.JoistTop(), 2610)
	check("underside of the floor", first.Floor.Underside(), 2400)
	check("ceiling of the first floor", first.Ceiling(), 5028)
	check("ceiling joists, upper edge", top.JoistTop(), 5140)

	w := h.Wall("hall-parlour")
	check("hall-parlour", w.Length(), 4500)
	check("its thickness", w.Build.Thickness(), 88)
	if (w.From != Point{2000, 4500}) || (w.To != Point{2000, 0}) {
		t.Errorf("hall-parlour runs from %v to %v", w.From, w.To)
	}
	k := h.Wall("parlour-kitchen")
	check("parlour-kitchen", k.Length(), 3588)
	if (k.From != Point{2000, 4500}) {
		t.Errorf("parlour-kitchen begins at %v", k.From)
	}
	check("hall-kitchen", h.Wall("hall-kitchen").Length(), 2000)

	var studs []MM
	for _, s := range w.Studs {
		studs = append(studs, s.At)
		if s.Seen != (s.At == 350) {
			t.Errorf("stud at %d: seen %v", s.At, s.Seen)
		}
	}
	if want := []MM{19, 350, 950, 1550, 2150, 2750, 2946, 3746, 3950, 4481}; !slices.Equal(studs, want) {
		t.Errorf("studs at %v, by hand %v", studs, want)
	}

	b := h.Box("near")
	check("middle of the nearer box", b.Along, 3942)
	x, ok := b.clearOf()
	if check("clear of the stud", x, 3895); !ok {
		t.Error("no clear place found")
	}
	if !has(list, "stud-clash", 0) {
		t.Errorf("the nearer box meets no stud: %v", list)
	}

	d := handHouse()
	d.Boxes[0].By = given(250)
	h, list = assembled(t, d)
	if has(list, "stud-clash", 0) {
		t.Errorf("the farther box meets a stud: %v", list)
	}
	c := h.Box("near").CutOut()
	check("left edge", c.Left, 4006)
	check("right edge", c.Right, 4078)
	check("lower edge", c.Low, 1164)
	check("upper edge", c.High, 1236)
	check("to the stud on the left", c.LeftStud, 37)
	check("to the stud on the right", c.RightStud, 384)
	check("depth behind the face", c.Room, 76)

	part := first.Floor.Parts[0]
	joists := part.Joists()
	if len(joists) != 19 || joists[0] != 73 || joists[18] != 7273 || part.Run != AlongX {
		t.Errorf("joists along %v at %v", part.Run, joists)
	}
	if want := []MM{0, 2044, 5588}; !slices.Equal(part.Bearings, want) {
		t.Errorf("joists rest at %v, by hand %v", part.Bearings, want)
	}
	if from, to, ok := part.Span(3000); !ok || to-from != 3544 {
		t.Errorf("the span at 3000 reaches from %d to %d", from, to)
	}
}
