package house

import (
	"fmt"
	"testing"
)

func ptr(v MM) *MM { return &v }

func TestSmoke(t *testing.T) {
	d := &Draft{
		Storeys: []DraftStorey{{ID: "ground"}, {ID: "first"}},
		Rooms: []DraftRoom{
			{ID: "hall", Width: 1900, Depth: 4500, Use: UseHall},
			{ID: "lounge", Width: 3600, Depth: 4500, Way: RightOf, Of: "hall"},
			{ID: "kitchen", Width: 5593, Depth: 3000, Way: Behind, Of: "hall"},
			{ID: "landing", Width: 1900, Depth: 4500, Way: Above, Of: "hall"},
			{ID: "bedroom", Width: 3600, Depth: 3500, Way: RightOf, Of: "landing"},
		},
		Openings: []DraftOpening{{ID: "door", Kind: Door, Wall: "lounge", Room: "hall", Left: ptr(500)}},
		Boxes:    []DraftBox{{ID: "s", Room: "hall", RightOf: "door", By: ptr(150), Size: Size{Width: 72, Height: 72, Depth: 25, Flush: true}, New: true}},
	}
	h, list, err := d.Assemble()
	for _, f := range list {
		fmt.Println(f)
	}
	if err != nil || h == nil {
		t.Fatal(err)
	}
	for _, w := range h.Walls {
		fmt.Println(w.ID, w.From, w.To, w.Length(), w.Build.ID, w.Build.Thickness(), len(w.Studs), w.Noggings)
	}
	for _, r := range h.Rooms {
		for _, f := range r.Faces {
			fmt.Print(r.ID, " ", f.Name, " ", f.Length(), ":")
			for _, s := range f.Walls {
				fmt.Print(" ", s.Wall.ID, s.Side, "[", s.From, s.To, "]@", s.At)
			}
			fmt.Println()
		}
	}
	fmt.Printf("%+v\n", h.Boxes[0].CutOut())
}
