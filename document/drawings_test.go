package document

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/engine"
	"strapper/house"
	"strapper/internal/draw"
	"strapper/job"
)

func TestShowDrawings(t *testing.T) {
	if *show == "" {
		t.Skip("only with -show")
	}
	for _, name := range examples(t) {
		for _, d := range Drawings(work(t, name)) {
			file, err := os.Create(filepath.Join(*show, name+"-"+d.Name+".svg"))
			if err != nil {
				t.Fatal(err)
			}
			if err := d.Scene.SVG(file); err != nil {
				t.Error(err)
			}
			file.Close()
		}
	}
}

func withHouses(t *testing.T) map[string]*engine.Result {
	t.Helper()
	list := map[string]*engine.Result{}
	for _, name := range examples(t) {
		if r := work(t, name); r.Job.House != nil {
			list[name] = r
		}
	}
	if len(list) < 3 {
		t.Fatalf("only %d examples have a house", len(list))
	}
	return list
}

func texts(sc *draw.Scene) []string {
	var list []string
	for _, b := range sc.TextBoxes() {
		list = append(list, b.S)
	}
	return list
}

// Every new box in a wall is drawn on its wall, named, and cut through; every
// new cable and every hole of the drill schedule is in some drawing.
func TestDrawingsShowWhatIsNew(t *testing.T) {
	for name, r := range withHouses(t) {
		byName := map[string][]string{}
		var all []string
		for _, d := range Drawings(r) {
			if byName[d.Name] != nil {
				t.Errorf("%s: two drawings are called %s", name, d.Name)
			}
			byName[d.Name] = texts(d.Scene)
			all = append(all, byName[d.Name]...)
			if d.Scene.Desc == "" || d.Caption == "" || d.Scene.Title == "" {
				t.Errorf("%s: %s has no words", name, d.Name)
			}
		}
		for _, b := range r.Job.House.Boxes {
			if !b.New || b.Face == nil {
				continue
			}
			if wall := "wall-" + b.Room.ID + "-" + b.Face.Name; !slices.Contains(byName[wall], b.ID+", new") {
				t.Errorf("%s: box %s is not named on %s: %q", name, b.ID, wall, byName[wall])
			}
			if byName["section-"+b.ID] == nil {
				t.Errorf("%s: no section at %s", name, b.ID)
			}
		}
		if r.Routes == nil {
			continue
		}
		n := 0
		for i := range r.Routes.Runs {
			c := &r.Routes.Runs[i]
			if len(c.Routes) == 0 {
				continue
			}
			letter := letterOf(n)
			n++
			if !slices.Contains(all, letter) {
				t.Errorf("%s: cable %s is in no drawing", name, c.Run)
			}
			for k, h := range c.Routes[0].Holes {
				if mark := fmt.Sprintf("%s%d", letter, k+1); !strings.HasPrefix(h.Through, "joist") && !slices.Contains(all, mark) {
					t.Errorf("%s: hole %s (%s) is in no drawing", name, mark, h.Through)
				}
			}
		}
	}
}

// The marks of the drill schedule count every hole of a cable once.
func TestDrillMarksCountTheHoles(t *testing.T) {
	span := regexp.MustCompile(`^([A-Z]+)(\d+)(?:–(\d+))?$`)
	for name, r := range withHouses(t) {
		if r.Routes == nil {
			continue
		}
		p := &pack{Result: r}
		next := map[string]int{}
		for _, row := range p.drills().Rows {
			m := span.FindStringSubmatch(row[0].Text)
			if m == nil {
				t.Fatalf("%s: mark %q", name, row[0].Text)
			}
			var from, to int
			fmt.Sscan(m[2], &from)
			if to = from; m[3] != "" {
				fmt.Sscan(m[3], &to)
			}
			if from != next[m[1]]+1 {
				t.Errorf("%s: mark %s follows %d", name, row[0].Text, next[m[1]])
			}
			next[m[1]] = to
		}
		n := 0
		for i := range r.Routes.Runs {
			if c := &r.Routes.Runs[i]; len(c.Routes) > 0 {
				if got := next[letterOf(n)]; got != len(c.Routes[0].Holes) {
					t.Errorf("%s: cable %s has %d holes, the schedule counts %d", name, c.Run, len(c.Routes[0].Holes), got)
				}
				n++
			}
		}
	}
}

// In the bathroom both new cables pass one hole of the head plate: it is told
// once, lest two be drilled.
func TestSharedHoleIsToldOnce(t *testing.T) {
	p := &pack{Result: work(t, "bathroom")}
	rows := p.drills().Rows
	if len(rows) != 2 || rows[0][2].Text != "head plate" || rows[1][2].Text != "the same hole as "+rows[0][0].Text {
		t.Errorf("%v", rows)
	}
}

// The distances of the kitchen's new switch, worked by hand from
// examples/kitchen.yaml: the door's lining begins 500 from the left corner of
// its wall and ends at 500 + 60 + 838 + 60 = 1458; the switch is 160 beyond.
func TestElevationHasTheMeasuredFigures(t *testing.T) {
	for _, d := range Drawings(work(t, "kitchen")) {
		if d.Name != "wall-kitchen-back-2" {
			continue
		}
		for _, want := range []string{"500", "1458", "1618", "1200", "2450"} {
			if !slices.Contains(texts(d.Scene), want) {
				t.Errorf("no figure %s in %q", want, texts(d.Scene))
			}
		}
		return
	}
	t.Error("the wall is not drawn")
}

// A frame is to scale, and the scale is the largest that fits.
func TestFramesAreToScale(t *testing.T) {
	f := newFrame("x", 0, 2400, 4000, 2400, 148, 105, 10, 10)
	if f.scale != 40 { // 4000 / 25 = 160 > 148; 4000 / 40 = 100
		t.Errorf("scale 1:%d, want 1:40", f.scale)
	}
	a, b := f.at(0, 0), f.at(4000, 2400)
	if math.Abs(b.X-a.X-100) > 1e-9 || math.Abs(a.Y-b.Y-60) > 1e-9 || b.Y >= a.Y {
		t.Errorf("a wall of 4000 x 2400 is drawn from %v to %v", a, b)
	}
}

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 701: "ZZ", 702: "AAA"} {
		if got := letterOf(n); got != want {
			t.Errorf("cable %d is %s, want %s", n, got, want)
		}
	}
}

// Whatever the house, no label lies on another or off the paper.
func TestLabelsOfRandomHouses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &house.Draft{Storeys: []house.DraftStorey{{ID: "ground"}, {ID: "first"}}}
		pick := func(name string, low, high int) house.MM {
			return house.MM(rapid.IntRange(low, high).Draw(t, name) * 100)
		}
		for i := range rapid.IntRange(2, 5).Draw(t, "rooms") {
			r := house.DraftRoom{ID: fmt.Sprintf("room-%d", i), Width: pick("width", 12, 60), Depth: pick("depth", 12, 60)}
			if i > 0 {
				r.Way, r.Of = rapid.SampledFrom([]house.Way{house.RightOf, house.Behind, house.Above}).Draw(t, "way"), fmt.Sprintf("room-%d", rapid.IntRange(0, i-1).Draw(t, "of"))
			}
			d.Rooms = append(d.Rooms, r)
		}
		for i := range rapid.IntRange(1, 6).Draw(t, "boxes") {
			left, height := pick("left", 1, 12), pick("height", 1, 22)
			d.Boxes = append(d.Boxes, house.DraftBox{
				ID: fmt.Sprintf("a-box-with-a-name-%d", i), Room: d.Rooms[rapid.IntRange(0, len(d.Rooms)-1).Draw(t, "room")].ID,
				On:   rapid.SampledFrom([]string{"left", "right", "front", "back"}).Draw(t, "on"),
				Left: &left, Height: &height, New: rapid.Bool().Draw(t, "new"),
				Size: house.Size{Width: 72, Height: 72, Depth: 35, Flush: true, Plate: 7},
			})
		}
		h, _, err := d.Assemble()
		if err != nil {
			t.Fatal(err)
		}
		if h == nil {
			t.Skip("refused")
		}
		for _, x := range Drawings(&engine.Result{Job: &job.Job{House: h}}) {
			for _, pair := range x.Scene.Overlaps(0.05) {
				t.Errorf("%s: %q lies on %q", x.Name, pair[0].S, pair[1].S)
			}
			for _, b := range h.Boxes {
				if x.Name == "plan-"+b.Room.Storey.ID && !slices.Contains(texts(x.Scene), b.ID) {
					t.Errorf("%s: box %s has no name", x.Name, b.ID)
				}
			}
			for _, b := range x.Scene.Outside(0.05) {
				t.Errorf("%s: %q leaves the paper", x.Name, b.S)
			}
		}
	})
}

func BenchmarkDrawings(b *testing.B) {
	r := work(b, "kitchen")
	b.ReportAllocs()
	for b.Loop() {
		if len(Drawings(r)) < 4 {
			b.Fatal("drawings are missing")
		}
	}
}
