package house

import (
	"fmt"
	"testing"
)

// threeBedrooms is the house of job/testdata/three-bedrooms.yaml.
func threeBedrooms() *Draft {
	return &Draft{
		Storeys: []DraftStorey{{ID: "ground", Height: given(2400)}, {ID: "first", Height: given(2400)}},
		Rooms: []DraftRoom{
			{ID: "hall", Width: 2000, Depth: 4600, Use: UseStairs},
			{ID: "lounge", Width: 3800, Depth: 4600, Way: RightOf, Of: "hall"},
			{ID: "kitchen", Width: 3400, Depth: 3000, Way: Behind, Of: "hall", Use: UseKitchen},
			{ID: "dining", Width: 2400, Depth: 3000, Way: RightOf, Of: "kitchen"},
			{ID: "landing", Width: 2000, Depth: 4600, Way: Above, Of: "hall", Use: UseStairs},
			{ID: "bedroom-1", Width: 3800, Depth: 3600, Way: RightOf, Of: "landing"},
			{ID: "bathroom", Width: 2400, Depth: 3000, Way: Behind, Of: "landing", Use: UseBathroom},
			{ID: "bedroom-2", Width: 3400, Depth: 3912, Way: Behind, Of: "bedroom-1", Align: "right"},
			{ID: "bedroom-3", Width: 1500, Depth: 2400, Way: RightOf, Of: "bedroom-1"},
		},
		Openings: []DraftOpening{
			{ID: "lounge-door", Kind: Door, Room: "hall", Wall: "lounge", Left: given(300)},
			{ID: "kitchen-door", Kind: Door, Room: "hall", Wall: "kitchen", Left: given(200)},
			{ID: "bedroom-door", Kind: Door, Room: "landing", Wall: "bedroom-1", Right: given(300)},
		},
		Boxes: []DraftBox{
			{ID: "low", Room: "hall", RightOf: "lounge-door", By: given(150), Height: given(1200), Size: flush},
			{ID: "high", Room: "landing", LeftOf: "bedroom-door", By: given(150), LevelWith: "other", Size: flush},
			{ID: "other", Room: "landing", On: "left", Left: given(900), Height: given(1200), Size: flush, New: true},
			{ID: "point", Room: "landing", On: OnCeiling},
		},
	}
}

func BenchmarkAssembleThreeBedrooms(b *testing.B) {
	d := threeBedrooms()
	b.ReportAllocs()
	for b.Loop() {
		if h, list, err := d.Assemble(); h == nil {
			b.Fatal(list, err)
		}
	}
}

// block is a block of flats of five rooms each, side by side on ten storeys.
func block(flats int) *Draft {
	d := &Draft{Partition: "stud-75", Outside: "brick-215"}
	for s := range 10 {
		d.Storeys = append(d.Storeys, DraftStorey{ID: fmt.Sprintf("s%d", s)})
	}
	for i := range flats {
		s, x := i%10, MM(i/10)*9000
		for k, o := range [][4]MM{{0, 0, 2000, 8000}, {2100, 0, 5000, 3900}, {2100, 4000, 5000, 8000}, {5100, 0, 8900, 3900}, {5100, 4000, 8900, 8000}} {
			d.Rooms = append(d.Rooms, DraftRoom{
				ID: fmt.Sprintf("f%d-%d", i, k), Storey: fmt.Sprintf("s%d", s),
				Outline: []Point{{x + o[0], o[1]}, {x + o[0], o[3]}, {x + o[2], o[3]}, {x + o[2], o[1]}},
			})
		}
	}
	return d
}

// Growth: a block of 50 flats, of 100 and of 200.
func BenchmarkAssembleBlock(b *testing.B) {
	for _, flats := range []int{50, 100, 200} {
		b.Run(fmt.Sprint(flats), func(b *testing.B) {
			d := block(flats)
			for b.Loop() {
				if h, list, err := d.Assemble(); h == nil {
					b.Fatal(list, err)
				}
			}
		})
	}
}
