package house

import (
	"testing"

	"strapper/finding"
	"strapper/source"
)

// The builds of partitions keep to the published least sizes. Sources beside
// the checks.
func TestBuilds(t *testing.T) {
	list, err := Builds()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]*Build{}
	for _, b := range list {
		if seen[b.ID] != nil || b.ID == "" || b.Title == "" || b.Source.Cite == "" || !b.Source.Authority.Valid() {
			t.Errorf("build %q: twice, or without a title or source", b.ID)
		}
		seen[b.ID] = b
		switch b.Fabric {
		case FabricStud, FabricLath, FabricMetal:
			if b.Stud <= 0 || b.Plate <= 0 || b.Centres <= 0 || b.Core <= 0 {
				t.Errorf("%s: a stud wall without studs", b.ID)
			}
		case FabricSolid, FabricDryLined:
			if b.Stud != 0 || len(b.Rows) > 0 || b.Leaf != [2]MM{} {
				t.Errorf("%s: masonry with studs, or solid with leaves", b.ID)
			}
		case FabricCavity:
			if b.Leaf[0]+b.Leaf[1] >= b.Core {
				t.Errorf("%s: no cavity", b.ID)
			}
		default:
			t.Errorf("%s: fabric %q", b.ID, b.Fabric)
		}
		// NHBC Standards 6.3.12: 12.5 mm board on studs at up to 600 mm.
		if b.Fabric == FabricStud && (b.Centres > 600 || b.Face[0]+b.Face[1] != 25) {
			t.Errorf("%s: two boards of 12.5 mm on studs at %v", b.ID, b.Centres)
		}
	}
	// NHBC Standards 6.3.9 Table 3: plates and studs 63 x 38 at up to 600 mm;
	// with two 12.5 mm boards 88 mm.
	if b := seen["stud-63"]; b.Core != 63 || b.Stud != 38 || b.Plate != 38 || b.Centres != 600 || b.Thickness() != 88 {
		t.Errorf("stud-63: %+v", b)
	}
	if seen[assumedPartition] == nil || seen[assumedOutside] == nil {
		t.Error("the assumed builds are not in the data")
	}
	list[0].Rows[0] = 1
	if again, _ := Builds(); again[0].Rows[0] == 1 {
		t.Error("the data can be altered from outside")
	}
}

func TestEveryFigureHasItsSource(t *testing.T) {
	list, err := Figures()
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 60 {
		t.Errorf("only %d figures", len(list))
	}
	names := map[string]bool{}
	for _, f := range list {
		if f.Name == "" || f.Value == "" || f.Source.Cite == "" || !f.Source.Authority.Valid() || names[f.Name] {
			t.Errorf("figure %+v: twice, or something is missing", f)
		}
		names[f.Name] = true
		if f.Source.Authority == source.Regression {
			t.Errorf("%s rests on nothing", f.Name)
		}
	}
}

// The hole in each sort of wall. Depths are added up from the builds: in
// stud-63 13 + 63; dry-lined 13 + 15, the block behind cut for the rest, at
// most a third of 100 (Approved Document A, 2C30, from memory, to be
// confirmed); plaster 13 on brick of 102.
func TestDepths(t *testing.T) {
	for _, c := range []struct {
		build                    string
		size                     Size
		room, short, chase, most MM
		unheld                   bool
	}{
		{"stud-63", lined, 76, 0, 0, 0, false},
		{"stud-63", deep(66), 76, 0, 0, 0, false},
		{"stud-63", deep(70), 76, 4, 0, 0, false}, // 70 + 10 for the cable
		{"lath-100", lined, 125, 0, 0, 0, true},   // no board to clamp to
		{"dry-lined-100", lined, 28, 0, 19, 33, false},
		{"brick-102", deep(35), 13, 0, 22, 34, false},
		{"brick-102", deep(47), 13, 0, 34, 34, false}, // just what may be cut
		{"metal-48", lined, 61, 0, 0, 0, false},       // 47 + 10 = 57 of 13 + 48
	} {
		d := terrace()
		d.Walls = []DraftWall{{Ref: "hall-parlour", Build: c.build}}
		d.Openings = nil
		d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: "right", Left: given(300), Height: given(900), Size: c.size, New: true}}
		h, list := assembled(t, d)
		if h == nil {
			t.Errorf("%s: %v", c.build, list)
			continue
		}
		got := h.Box("b").CutOut()
		if got.Room != c.room || got.Short != c.short || got.Chase != c.chase || got.Most != c.most || got.Unheld != c.unheld {
			t.Errorf("%s, box %d deep: %+v, want %+v", c.build, c.size.Depth, got, c)
		}
		if wrong := c.short > 0 || c.chase > c.most; has(list, "box-too-deep", finding.Caution) != wrong {
			t.Errorf("%s, box %d deep: findings %v", c.build, c.size.Depth, list)
		}
	}
}

// A new box is set level with an old one and says so.
func TestLevelWithAnOldPlate(t *testing.T) {
	d := terrace()
	d.Boxes = []DraftBox{
		{ID: "new", Room: "parlour", On: "left", Left: given(3300), LevelWith: "old", Size: flush, New: true},
		{ID: "old", Room: "hall", On: "left", Left: given(700), Below: given(1137), Size: flush},
	}
	h := accepted(t, d)
	b := h.Box("new")
	if b.Height != 2400-1137 {
		t.Errorf("set at %d, want 1263", b.Height)
	}
	if m := b.Measures[len(b.Measures)-1]; m.From != FromBox || m.Of != "old" {
		t.Errorf("measured %+v", m)
	}
	if c := b.CutOut(); c.LevelWith != "old" {
		t.Errorf("level with %q", c.LevelWith)
	}
}

// A ceiling box is cut between the joists; its hole is measured from the left
// and front sides of the room. Joists of 50 stand at 100, 500 ...
func TestCeilingBox(t *testing.T) {
	round := Size{Width: 65, Height: 65, Depth: 30, Flush: true}
	at := func(x MM) *Draft {
		d := terrace()
		d.Boxes = []DraftBox{{ID: "c", Room: "hall", On: OnCeiling, Left: given(x), Front: given(1500), Size: round, New: true}}
		return d
	}
	h := fine(t, at(500+25+32)) // 65/2 is kept as 32
	if c := h.Box("c").CutOut(); c.Left != 557-32 || c.Right != c.Left+65 || c.Low != 1468 || c.Room != 115 || c.Short != 0 {
		t.Errorf("hole %+v", c)
	}
	if _, list := assembled(t, at(500+25+32-1)); !has(list, "joist-clash", finding.Caution) {
		t.Errorf("1 mm nearer it meets no joist: %v", list)
	}
}

// The room behind what is fitted: the working is (depth - 12) x 72 x 72, or
// (depth - 20) x 72 x 72, over the number of conductors, against 4 cm³, a rule
// of thumb without a source.
func TestCrowded(t *testing.T) {
	for _, c := range []struct {
		depth   MM
		in      Contents
		each    int64
		crowded bool
	}{
		{25, Contents{Conductors: 16}, 4212, false}, // 13 x 5184 / 16
		{25, Contents{Conductors: 17}, 3964, true},
		{16, Contents{Conductors: 5}, 4147, false}, // 4 x 5184 / 5
		{16, Contents{Conductors: 6}, 3456, true},
		{25, Contents{Conductors: 6, Deep: true}, 4320, false}, // 5 x 5184 / 6
		{25, Contents{Conductors: 7, Deep: true}, 3702, true},
		{16, Contents{Conductors: 1, Deep: true}, 0, true}, // deeper than the box
		{25, Contents{}, 0, false},
	} {
		each, _, crowded := deep(c.depth).Crowded(c.in)
		if each != c.each || crowded != c.crowded {
			t.Errorf("%d mm with %+v: %d mm³ each, crowded %v; want %d, %v", c.depth, c.in, each, crowded, c.each, c.crowded)
		}
	}
	if _, _, crowded := (Size{}).Crowded(Contents{Conductors: 99}); crowded {
		t.Error("a box of unknown size is judged")
	}
}
