package house

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// drawSketch draws a house of rooms placed by one another; many of them are
// refused for overlapping.
func drawSketch(t *rapid.T) *Draft {
	d := &Draft{Storeys: []DraftStorey{{ID: "ground"}, {ID: "first"}}}
	n := rapid.IntRange(1, 6).Draw(t, "rooms")
	for i := range n {
		r := DraftRoom{
			ID: fmt.Sprintf("r%d", i), Width: MM(rapid.IntRange(8, 50).Draw(t, "width") * 100),
			Depth: MM(rapid.IntRange(8, 50).Draw(t, "depth") * 100),
		}
		if i > 0 {
			r.Way = rapid.SampledFrom([]Way{RightOf, LeftOf, Behind, InFrontOf, Above}).Draw(t, "way")
			r.Of = fmt.Sprintf("r%d", rapid.IntRange(0, i-1).Draw(t, "of"))
			r.Align = rapid.SampledFrom([]string{"", "front", "back", "left", "right"}).Draw(t, "align")
			r.Open = rapid.IntRange(0, 5).Draw(t, "open") == 0
		}
		d.Rooms = append(d.Rooms, r)
	}
	return d
}

// In every house that is accepted: the walls behind a face cover it from
// corner to corner without overlap; both sides of a wall lie as far apart as
// it is thick, which leads from a point of one room's face to the other's; and
// places along a wall and along a face turn into one another.
func TestWallsFitTheFaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, _, err := drawSketch(t).Assemble()
		if err != nil {
			t.Fatal(err)
		}
		if h == nil {
			t.Skip("refused")
		}
		for _, r := range h.Rooms {
			for _, f := range r.Faces {
				checkFace(t, f)
			}
		}
		for _, w := range h.Walls {
			for i := 1; i < len(w.Studs); i++ {
				if w.Studs[i].At-w.Studs[i-1].At < w.Build.Stud {
					t.Fatalf("studs of %s overlap: %v", w.ID, w.Studs)
				}
				// One that would overlap the stud at the end is left out for it.
				if w.Studs[i].At-w.Studs[i-1].At >= w.Build.Centres+w.Build.Stud {
					t.Fatalf("studs of %s stand farther apart than their centres: %v", w.ID, w.Studs)
				}
			}
		}
	})
}

func checkFace(t *rapid.T, f *Face) {
	var done MM
	for _, z := range f.Walls {
		if z.From != done {
			t.Fatalf("%v: a stretch begins at %d, the last ended at %d", f, z.From, done)
		}
		done = z.To
		x := z.From + (z.To-z.From)/3
		along := z.Along(x)
		if z.Across(along) != x || along < 0 || along > z.Wall.Length() {
			t.Fatalf("%v: %d is %d along %s of %d, and back %d", f, x, along, z.Wall.ID, z.Wall.Length(), z.Across(along))
		}
		deep := MM(0)
		if z.Side == SideB {
			deep = z.Wall.Build.Thickness()
		}
		if p := z.Wall.At(along, deep); p != f.At(x) {
			t.Fatalf("%v at %d is %v; the wall's face there %v", f, x, f.At(x), p)
		}
		if z.Wall.Rooms[z.Side] != f.Room {
			t.Fatalf("%v: the wall %s knows another room on that side", f, z.Wall.ID)
		}
	}
	if done != f.Length() {
		t.Fatalf("%v of %d: walls cover %d", f, f.Length(), done)
	}
}

// Slanting walls are rounded to a millimetre: a bay with corners cut at 45
// degrees, one beside a room that follows it 100 mm away.
func TestSlantingWalls(t *testing.T) {
	// (100, 100) moved along the slant's normal (1, 1)/√2 by 141.42 is 200 in x.
	bay := []Point{{0, 0}, {0, 3000}, {2000, 3000}, {3000, 2000}, {3000, 0}}
	beyond := []Point{{2100, 3100}, {3100, 3100}, {3100, 2100}}
	h, list := assembled(t, &Draft{Rooms: []DraftRoom{{ID: "bay", Outline: bay}, {ID: "beyond", Outline: beyond}}})
	if h == nil {
		t.Fatal(list)
	}
	w := h.Wall("bay-beyond")
	if w == nil {
		t.Fatalf("no wall between: %v", ids(h.Walls, func(w *Wall) string { return w.ID }))
	}
	if got := w.Build.Thickness(); got != 141 { // 200 / √2
		t.Errorf("the slanting wall is %d thick, 141 by Pythagoras", got)
	}
	if got := w.Length(); got != 1414 { // 1000 √2
		t.Errorf("it is %d long, 1414 by Pythagoras", got)
	}
	p := w.At(w.Length()/2, w.Build.Thickness())
	if distance(p.X, 2600) > 1 || distance(p.Y, 2600) > 1 {
		t.Errorf("its far face has its middle at %v", p)
	}
	if _, ok := w.Run(); ok {
		t.Error("it is said to run along an axis")
	}
}

// The same description gives the same house, findings and all.
func TestSameDraftSameHouse(t *testing.T) {
	a, la := assembled(t, handHouse())
	b, lb := assembled(t, handHouse())
	if !reflect.DeepEqual(la, lb) || !reflect.DeepEqual(a.Rooms[0].Outline, b.Rooms[0].Outline) || !reflect.DeepEqual(a.Findings, b.Findings) {
		t.Error("two makings of one house differ")
	}
	for i := range a.Walls {
		if a.Walls[i].ID != b.Walls[i].ID || !reflect.DeepEqual(a.Walls[i].Studs, b.Walls[i].Studs) {
			t.Errorf("wall %s differs", a.Walls[i].ID)
		}
	}
}

// A room placed in each of the ways stands where its words say.
func TestWays(t *testing.T) {
	for _, c := range []struct {
		room DraftRoom
		want Point // its front left corner; the hall is 2000 x 4000 at the origin, walls 88
	}{
		{DraftRoom{Way: RightOf}, Point{2088, 0}},
		{DraftRoom{Way: RightOf, Align: "back"}, Point{2088, 3000}},
		{DraftRoom{Way: LeftOf}, Point{-1588, 0}},
		{DraftRoom{Way: Behind}, Point{0, 4088}},
		{DraftRoom{Way: Behind, Align: "right"}, Point{500, 4088}},
		{DraftRoom{Way: InFrontOf}, Point{0, -1088}},
		{DraftRoom{Way: RightOf, Open: true}, Point{2000, 0}},
		{DraftRoom{Way: Behind, ShiftRight: 250, ShiftBack: -8}, Point{250, 4080}},
		{DraftRoom{Way: Above}, Point{0, 0}},
		{DraftRoom{Way: Above, Align: "back", ShiftRight: 100}, Point{100, 3000}},
	} {
		c.room.ID, c.room.Of, c.room.Width, c.room.Depth = "x", "hall", 1500, 1000
		d := &Draft{Storeys: []DraftStorey{{ID: "g"}, {ID: "f"}}, Rooms: []DraftRoom{{ID: "hall", Width: 2000, Depth: 4000}, c.room}}
		if c.room.Way != Above { // so that the upper storey is not empty
			d.Rooms = append(d.Rooms, DraftRoom{ID: "up", Width: 1000, Depth: 1000, Way: Above, Of: "hall"})
		}
		h, list := assembled(t, d)
		if h == nil {
			t.Errorf("%s: %v", c.room.Way, list)
			continue
		}
		if got, _ := bounds(h.Room("x").Outline); got != c.want {
			t.Errorf("%+v: stands at %v, want %v", c.room, got, c.want)
		}
	}
}
