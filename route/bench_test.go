package route

import (
	"testing"

	"strapper/house"
)

// threeBedrooms is an invented house of usual size: four rooms and a hall
// below, three bedrooms, bathroom and landing above, a loft over all.
func threeBedrooms() *house.Draft {
	d := &house.Draft{
		Storeys: []house.DraftStorey{{ID: "ground", Height: at(2400)}, {ID: "first", Height: at(2400)}},
		Rooms: []house.DraftRoom{
			{ID: "hall", Width: 1900, Depth: 4200, Use: house.UseHall},
			{ID: "lounge", Width: 3900, Depth: 4200, Way: house.RightOf, Of: "hall"},
			{ID: "kitchen", Width: 2900, Depth: 3300, Way: house.Behind, Of: "hall", Use: house.UseKitchen},
			{ID: "dining", Width: 2812, Depth: 3300, Way: house.RightOf, Of: "kitchen"},
			{ID: "landing", Width: 1900, Depth: 4200, Way: house.Above, Of: "hall"},
			{ID: "street", Width: 3900, Depth: 4200, Way: house.RightOf, Of: "landing"},
			{ID: "bath", Width: 1900, Depth: 3300, Way: house.Behind, Of: "landing", Use: house.UseBathroom, Finish: house.FinishTiles},
			{ID: "rear", Width: 2000, Depth: 3300, Way: house.RightOf, Of: "bath"},
			{ID: "box", Width: 1724, Depth: 3300, Way: house.RightOf, Of: "rear"},
		},
		Partition: "stud-75",
	}
	wall := func(id, room, on string, left, height house.MM) {
		d.Boxes = append(d.Boxes, house.DraftBox{ID: id, Room: room, On: on, Left: at(left), Height: at(height), Size: flush})
	}
	for _, r := range []string{"hall", "lounge", "kitchen", "dining", "landing", "street", "bath", "rear", "box"} {
		d.Boxes = append(d.Boxes, house.DraftBox{ID: r + "-point", Room: r, On: house.OnCeiling, Left: at(900), Front: at(1600), Size: house.Size{Width: 100, Height: 100}})
	}
	wall("hall-1", "hall", "lounge", 3420, 1350)
	wall("hall-2", "hall", "kitchen", 500, 1350)
	wall("lounge-1", "lounge", "hall", 900, 1350)
	wall("lounge-2", "lounge", "right", 2500, 450)
	wall("kitchen-1", "kitchen", "dining", 1000, 1350)
	wall("kitchen-2", "kitchen", "back", 1200, 1150)
	wall("dining-1", "dining", "lounge", 700, 1350)
	wall("landing-1", "landing", "street", 1020, 1350)
	wall("landing-2", "landing", "bath", 500, 1350)
	wall("street-1", "street", "landing", 1500, 1350)
	wall("rear-1", "rear", "bath", 900, 1350)
	wall("box-1", "box", "rear", 900, 1350)
	return d
}

// What the issue asks: graph and Pareto set of a three-bedroom house under
// 50 ms, from nothing.
func BenchmarkThreeBedrooms(b *testing.B) {
	h, k := build(b, threeBedrooms()), cable(b, "3ce-1.0")
	for _, to := range []string{"landing-1", "box-1", "street-point", "kitchen-2"} {
		b.Run("hall-1 to "+to, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p := finder(b, h).Plan([]Run{{ID: "x", From: "hall-1", To: to, Kind: k}}, Options{})
				b.ReportMetric(float64(p.Runs[0].Front), "ways")
				if !p.Runs[0].Exact || len(p.Runs[0].Routes) == 0 {
					b.Fatalf("%+v", p.Runs[0])
				}
			}
		})
	}
}

// Best for all pairs of boxes, as a search for a change asks.
func BenchmarkBestAllPairs(b *testing.B) {
	h, k := build(b, threeBedrooms()), cable(b, "3ce-1.0")
	f := finder(b, h)
	for b.Loop() {
		for _, x := range h.Boxes {
			for _, y := range h.Boxes {
				f.Best(x.ID, y.ID, k)
			}
		}
	}
}
