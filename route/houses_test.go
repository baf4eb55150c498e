package route

import (
	"testing"

	"strapper/finding"
	"strapper/house"
	"strapper/kit"
)

func at(v house.MM) *house.MM { return &v }

// flush is a one-gang box as the catalogue has it: 72 mm square.
var flush = house.Size{Width: 72, Height: 72, Depth: 35, Plate: 7, Flush: true, Gangs: 1}

// singleStorey is a house of one floor under a loft, invented: a store and a study side by side with a
// stud wall between, 63 mm studs and 12.5 mm boards. docs/checks/05-route.md
// works its ways by hand.
func singleStorey() *house.Draft {
	return &house.Draft{
		Storeys: []house.DraftStorey{{ID: "ground", Height: at(2400)}},
		Rooms: []house.DraftRoom{
			{ID: "store", Title: "Store", Width: 3000, Depth: 4000},
			{ID: "study", Title: "Study", Width: 3500, Depth: 4000, Way: house.RightOf, Of: "store"},
		},
		Partition: "stud-63",
		Boxes: []house.DraftBox{
			{ID: "a", Room: "store", On: "study", Left: at(1350), Height: at(1200), Size: flush},
			{ID: "rose", Room: "study", On: house.OnCeiling, Left: at(1750), Front: at(2000), Size: house.Size{Width: 100, Height: 100}},
		},
	}
}

func build(t testing.TB, d *house.Draft) *house.House {
	t.Helper()
	h, list, err := d.Assemble()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		if f.Severity == finding.Forbids {
			t.Fatalf("the test house is refused: %v", f)
		}
	}
	return h
}

func cable(t testing.TB, id string) *kit.Cable {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	if cat.Cables[id] == nil {
		t.Fatalf("no cable %s", id)
	}
	return cat.Cables[id]
}

func finder(t testing.TB, h *house.House) *Finder {
	t.Helper()
	l, err := Usual()
	if err != nil {
		t.Fatal(err)
	}
	o, err := Customary()
	if err != nil {
		t.Fatal(err)
	}
	return NewFinder(h, l, o)
}

// twoStoreys is invented: hall and lounge below, landing and bedroom above, a
// loft over all. Joists of the first floor run left to right.
func twoStoreys() *house.Draft {
	return &house.Draft{
		Storeys: []house.DraftStorey{{ID: "ground", Height: at(2400)}, {ID: "first", Height: at(2400)}},
		Rooms: []house.DraftRoom{
			{ID: "hall", Title: "Hall", Width: 2000, Depth: 4500, Use: house.UseHall},
			{ID: "lounge", Title: "Lounge", Width: 3600, Depth: 4500, Way: house.RightOf, Of: "hall", Finish: house.FinishPaper},
			{ID: "landing", Title: "Landing", Width: 2000, Depth: 4500, Way: house.Above, Of: "hall"},
			{ID: "bedroom", Title: "Bedroom", Width: 3600, Depth: 4500, Way: house.RightOf, Of: "landing"},
		},
		Partition: "stud-75",
		Boxes: []house.DraftBox{
			{ID: "hall", Room: "hall", On: "lounge", Left: at(3420), Height: at(1350), Size: flush},
			{ID: "landing", Room: "landing", On: "bedroom", Left: at(1020), Height: at(1350), Size: flush, New: true},
			{ID: "lamp", Room: "landing", On: house.OnCeiling, Left: at(1000), Front: at(2250), Size: house.Size{Width: 100, Height: 100}},
			{ID: "lounge", Room: "lounge", On: "back", Left: at(1800), Height: at(1200), Size: flush},
			{ID: "point", Room: "lounge", On: house.OnCeiling, Left: at(1800), Front: at(2250), Size: house.Size{Width: 100, Height: 100}},
		},
	}
}

// dudeneysRoom is the room of H. E. Dudeney's puzzle of 1903 in units of half a metre, with
// walls too hard to chase and nothing over its ceiling.
func dudeneysRoom() *house.Draft {
	surface := house.Size{Width: 72, Height: 72, Depth: 32}
	return &house.Draft{
		Storeys: []house.DraftStorey{{ID: "ground", Height: at(6_000)}}, NoLoft: true,
		Rooms:   []house.DraftRoom{{ID: "room", Width: 15_000, Depth: 6_000}},
		Outside: "brick-215",
		Boxes: []house.DraftBox{
			{ID: "spider", Room: "room", On: "left", Left: at(3000), Height: at(5_500), Size: surface},
			{ID: "fly", Room: "room", On: "right", Left: at(3000), Height: at(500), Size: surface},
		},
	}
}
