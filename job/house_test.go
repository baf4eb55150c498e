package job

import (
	"os"
	"testing"

	"strapper/house"
)

func readExample(t testing.TB, name string) *Job {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, ps := Read(name+".yaml", text, catalogue(t))
	if len(ps) > 0 {
		t.Fatal(ps.String())
	}
	return j
}

// The house that was surveyed in full: every value below is worked by hand
// from the lengths in examples/kitchen.yaml.
func TestHouseAsSurveyed(t *testing.T) {
	h := readExample(t, "kitchen").House
	if h == nil {
		t.Fatal("no house")
	}
	check := func(what string, got, want house.MM) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %d, by hand %d", what, got, want)
		}
	}
	check("first floor", h.Storey("first").Level, 2450+15+200+22)
	// The hall's back face is at 5300, the kitchen's front at 5430: 130 mm, as
	// 15 + 100 + 15 of the build.
	w := h.Wall("hall-kitchen")
	check("hall-kitchen", w.Build.Thickness(), 130)
	check("its studs", w.Build.Stud, 50)
	// The kitchen's front is read from the right, x = 5600; studs seen from
	// there at 3930 ... 5530 stand at x = 1670 ... 70, and so along the wall,
	// which begins with the hall at x = 0.
	seen := 0
	for _, s := range w.Studs {
		if s.Seen {
			seen++
			if at := int(s.At); at%400 != 70 {
				t.Errorf("a stud at %d is said to have been seen", at)
			}
		}
	}
	if seen != 5 {
		t.Errorf("%d studs seen, want 5", seen)
	}
	// hall-door: from the right corner of that face (x = 0) 500 to the lining,
	// 70 lining: clear from x = 570 to 1332.
	o := w.Openings[0]
	check("hall-door from", o.From, 570)
	check("hall-door to", o.To, 1332)
	// The switch is left of it as seen from the kitchen: at x = 1332+70+160.
	b := h.Box("kitchen-switch1")
	check("switch along the wall", b.Along, 1562)
	check("switch on plan", b.At.Y, 5430)
	if b.New || b.Side != house.SideB {
		t.Errorf("switch: new %v, side %v", b.New, b.Side)
	}
	// The garden door's face is the kitchen's second back wall, from x = 1300:
	// lining at 500, clear from 560 to 1398, lining to 1458, and 160.
	g := h.Box("garden")
	check("garden switch along its face", g.At.X, 1300+1458+160)
	check("garden switch level with the other", g.Height, 1200)
	if !g.New || !g.Size.Flush {
		t.Errorf("garden switch: %+v", g)
	}
	part := h.Storey("first").Floor.PartAt(house.Point{X: 100, Y: 100})
	check("first joist", part.Joists()[0], 75)
	check("the span over the kitchen", part.Bearings[2]-part.Bearings[1], 8700-5360)
	if p := h.Blocks[0]; p.ID != "waste" || p.Area != [2]house.Point{{X: 4900, Y: 5430}, {X: 5010, Y: 8700}} {
		t.Errorf("waste pipe: %+v", p)
	}
}

// Boxes are new where the wiring as left has one that was not there, or one
// that needs a larger hole.
func TestWhichBoxesAreNew(t *testing.T) {
	h := readExample(t, "stairs").House
	for id, want := range map[string]bool{"hall": false, "top": false, "landing": true, "stairs": false, "board": false} {
		if b := h.Box(id); b == nil || b.New != want {
			t.Errorf("box %s: %+v, want new %v", id, b, want)
		}
	}
	small, large := house.Size{Width: 72, Height: 72, Depth: 25, Flush: true}, house.Size{Width: 72, Height: 72, Depth: 35, Flush: true}
	if small.Holds(large) || !large.Holds(small) {
		t.Error("a deeper box needs a deeper hole, a shallower one does not")
	}
}

// A job without a house reads as it always did.
func TestNoHouse(t *testing.T) {
	if j := readExample(t, "gallery"); j.House != nil {
		t.Errorf("a house from nowhere: %+v", j.House)
	}
}

// Findings about the house lead to their line.
func TestHouseFindingsHavePlaces(t *testing.T) {
	j := readExample(t, "stairs")
	for _, f := range j.House.Findings {
		p := j.Position(f.Subject)
		if p.Line < 15 || p.Line > 40 {
			t.Errorf("%s stands at line %d", f.Subject, p.Line)
		}
	}
}

func BenchmarkReadHouse(b *testing.B) {
	text, err := os.ReadFile("testdata/three-bedrooms.yaml")
	if err != nil {
		b.Fatal(err)
	}
	cat := catalogue(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, ps := Read("three-bedrooms.yaml", text, cat); len(ps) > 0 {
			b.Fatal(ps.String())
		}
	}
}

// The benchmark's house is a house of three bedrooms.
func TestThreeBedrooms(t *testing.T) {
	text, err := os.ReadFile("testdata/three-bedrooms.yaml")
	if err != nil {
		t.Fatal(err)
	}
	h := mustRead(t, string(text)).House
	if len(h.Storeys) != 2 || len(h.Rooms) != 9 || h.Room("bedroom-3") == nil || len(h.Walls) < 25 {
		t.Errorf("%d storeys, %d rooms, %d walls", len(h.Storeys), len(h.Rooms), len(h.Walls))
	}
}
