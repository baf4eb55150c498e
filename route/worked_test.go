package route

import (
	"slices"
	"strings"
	"testing"

	"strapper/house"
	"strapper/unit"
)

// only plans one run and gives the choice.
func only(t testing.TB, h *house.House, from, to string) Choice {
	t.Helper()
	p := finder(t, h).Plan([]Run{{ID: "x", From: from, To: to, Kind: cable(t, "3ce-1.0"), Tails: [2]MM{200, 300}}}, Options{Waste: 10})
	return p.Runs[0]
}

func best(t testing.TB, h *house.House, from, to string) Route {
	t.Helper()
	c := only(t, h, from, to)
	if len(c.Routes) == 0 {
		t.Fatalf("no way from %s to %s: %s", from, to, c.None)
	}
	return c.Routes[0]
}

// docs/checks/05-route.md, every length.
func TestWorkedHouses(t *testing.T) {
	for _, c := range []struct {
		name     string
		draft    *house.Draft
		from, to string
		length   MM
		parts    []MM // stretches, in order, in one direction each
	}{
		{"A", singleStorey(), "a", "rose", 3868, []MM{1200, 112, 1794, 650, 112}},
		{"B", twoStoreys(), "hall", "landing", 5382, []MM{1050, 289, 2400, 293, 1350}},
		{"C", twoStoreys(), "hall", "point", 4648, []MM{1050, 289, 55, 2000, 1115, 139}},
		{"D", twoStoreys(), "lounge", "point", 3728, []MM{1200, 139, 2250, 139}},
	} {
		r := best(t, build(t, c.draft), c.from, c.to)
		var parts []MM
		for i, s := range r.Stretches {
			if i > 0 && s.Space == InWall && r.Stretches[i-1].Wall == s.Wall {
				parts[len(parts)-1] += s.Length // the zone under the ceiling is told apart
				continue
			}
			parts = append(parts, s.Length)
		}
		if r.Length != c.length || !slices.Equal(parts, c.parts) {
			t.Errorf("house %s: %v in %v, want %v in %v", c.name, r.Length, parts, c.length, c.parts)
		}
	}
}

// House A: uncertainty, cut and shopping length, and the hole.
func TestWorkedLengthsAndHole(t *testing.T) {
	r := best(t, build(t, singleStorey()), "a", "rose")
	if r.OffBy != 294 || r.Cut != 4700 || r.Shop != 5200 {
		t.Errorf("out by %v, cut %v, shop %v, want 294, 4700, 5200", r.OffBy, r.Cut, r.Shop)
	}
	if len(r.Holes) != 1 {
		t.Fatalf("%d holes, want the one in the head plate", len(r.Holes))
	}
	h := r.Holes[0]
	if h.Diameter != 16 || h.Distance != 1350 || h.OffBy != 24 || h.Play != 31 || !h.Sure() || !strings.Contains(h.Datum, "outside wall at the back") {
		t.Errorf("hole %+v", h)
	}
	if h.Spot != (Spot{3044, 2650, 2400}) {
		t.Errorf("hole at %v", h.Spot)
	}
}

// House C: where the joists are drilled.
func TestWorkedJoistHoles(t *testing.T) {
	r := best(t, build(t, twoStoreys()), "hall", "point")
	var joists []Hole
	for _, h := range r.Holes {
		if strings.HasPrefix(h.Through, "joist") {
			joists = append(joists, h)
		}
	}
	if len(joists) != 5 {
		t.Fatalf("%d joists, want 5", len(joists))
	}
	for _, h := range joists {
		if h.Distance != 1135 || h.Diameter != 16 || h.Plate || !strings.Contains(h.Datum, "front") {
			t.Errorf("%+v", h)
		}
	}
}

// House E: Dudeney's room with square runs, and trunking only as a last
// resort. His walls are too thick to have another side, so chases are barred by
// making a chase impossible: a depth that no limit allows.
func TestTrunkingInDudeneysRoom(t *testing.T) {
	h := build(t, dudeneysRoom())
	f := finder(t, h)
	f.l.ChaseVertical, f.l.ChaseHorizontal = 0, 0
	c := f.choose(Run{ID: "x", From: "spider", To: "fly", Kind: cable(t, "te-1.0")}, Options{})
	if !c.Surface || len(c.Routes) == 0 {
		t.Fatalf("%+v", c)
	}
	i := slices.IndexFunc(c.Routes, func(r Route) bool { return slices.Contains(r.Because, "shortest") })
	if got := c.Routes[i].Length; got != 42*500 {
		t.Errorf("%v, want 42 half metres", got)
	}
	if codes := c.findings(); len(codes) == 0 || codes[0].Code != "only-on-surface" {
		t.Errorf("findings %v", codes)
	}
	// With chases allowed there is a hidden way, under the ceiling and round the
	// room, and no trunking.
	if c := only(t, h, "spider", "fly"); c.Surface || len(c.Routes) == 0 {
		t.Errorf("trunking although the walls may be chased: %+v", c.None)
	}
}

// A nogging that may be there adds its likelihood times what opening the wall
// takes; the plan for it opens the wall at a stud.
func TestWhatIfTheNoggingIsThere(t *testing.T) {
	h := build(t, twoStoreys())
	r := best(t, h, "hall", "landing")
	open := h.Box("landing").Wall
	i := slices.IndexFunc(r.WhatIf, func(w WhatIf) bool { return strings.Contains(w.What, "nogging") })
	if i < 0 {
		t.Fatalf("no word of the nogging: %+v", r.WhatIf)
	}
	w := r.WhatIf[i]
	if w.Likely != 60 || w.Minutes != 30 || !strings.Contains(w.Stay, "middle of a stud") || w.Do != w.Stay {
		t.Errorf("%+v", w)
	}
	if r.MinutesBest >= r.Minutes || r.Minutes >= r.MinutesMost {
		t.Errorf("minutes %d, %d, %d do not rise", r.MinutesBest, r.Minutes, r.MinutesMost)
	}
	// Looked for and not there: no word of it, and its share of the time is gone.
	for i := range open.Noggings {
		open.Noggings[i].Likely = 0
	}
	clear := best(t, h, "hall", "landing")
	if d := r.Minutes - clear.Minutes; d != 18 { // 60 % of 30 minutes
		t.Errorf("the nogging's share is %d minutes, want 18", d)
	}
	// Certainly there: the wall is opened, and it is a step.
	for i := range open.Noggings {
		open.Noggings[i].Likely = 100
	}
	sure := best(t, h, "hall", "landing")
	if d := sure.Minutes - clear.Minutes; d != 30 || sure.Opened != 1 {
		t.Errorf("the nogging takes %d minutes and opens %d places, want 30 and 1", d, sure.Opened)
	}
	if !slices.ContainsFunc(sure.Steps, func(s Step) bool { return strings.Contains(s.Text, "drill the nogging, 16 mm") }) {
		t.Errorf("no step drills the nogging: %+v", sure.Steps)
	}
}

// Two cables through one head plate: the hole and the way into the loft are
// shared or not as the operations say. 12 minutes for the hole are saved.
func TestCablesShareAHole(t *testing.T) {
	h := build(t, singleStorey())
	k := cable(t, "3ce-1.0")
	runs := []Run{{ID: "x", From: "a", To: "rose", Kind: k}, {ID: "y", From: "a", To: "rose", Kind: k}}
	p := finder(t, h).Plan(runs, Options{})
	b := p.Together
	if b == nil || !b.Exact || !slices.Equal(b.Shared, []string{"drill the head plate"}) {
		t.Fatalf("%+v", b)
	}
	if alone := p.Runs[0].Routes[0].Minutes; b.Saves != 12 || b.Minutes > 2*alone-12 || b.Minutes < 2*alone-14 { // each rounded up
		t.Errorf("together %d, saved %d, alone %d", b.Minutes, b.Saves, p.Runs[0].Routes[0].Minutes)
	}
}

// What is known to stand in the way bars the way; what may be there does not.
func TestObstructions(t *testing.T) {
	d := singleStorey()
	block := house.DraftBlock{ID: "flue", Kind: house.BlockFlue, Wall: "store-study", Room: "store", Left: at(1250), Width: at(100), Low: at(1800), High: at(2400)}
	d.Blocks = []house.DraftBlock{block}
	c := only(t, build(t, d), "a", "rose")
	for _, r := range c.Routes {
		for _, s := range r.Stretches {
			if s.Space == InWall && s.Along[0] == s.Along[1] && max(s.High[0], s.High[1]) > 1800 && abs(s.From.Y-2650) < 200 {
				t.Errorf("the cable passes the flue: %+v", s)
			}
		}
	}
	likely := unit.Percent(30)
	d.Blocks[0].Likely = &likely
	r := best(t, build(t, d), "a", "rose")
	if r.Length != 3868 || !slices.ContainsFunc(r.WhatIf, func(w WhatIf) bool { return strings.Contains(w.What, "flue") && w.Likely == 30 }) {
		t.Errorf("a flue that may be there: %v, %+v", r.Length, r.WhatIf)
	}
}

// A heating pipe keeps the cable 150 mm off, another 25 mm: just inside and
// just outside.
func TestClearances(t *testing.T) {
	for _, c := range []struct {
		hot  bool
		gap  MM
		want bool
	}{{true, 149, false}, {true, 150, false}, {true, 151, true}, {false, 25, false}, {false, 26, true}} {
		h := build(t, singleStorey())
		w := h.Box("a").Wall
		at := h.Box("a").Along
		h.Blocks = []*house.Block{{ID: "pipe", Kind: house.BlockPipe, Likely: 100, Hot: c.hot, Wall: w, From: at + c.gap, To: at + c.gap + 30, Low: 1500, High: 2400}}
		f := graphOf(t, h, false)
		if _, barred := f.inTheWay(w, at, 1500, at, 2400); barred == c.want {
			t.Errorf("hot %v, %v off: barred %v", c.hot, c.gap, barred)
		}
	}
}

// Joists whose places were measured decide for certain; a fire floor is sealed;
// a concrete floor is not passed.
func TestFloors(t *testing.T) {
	d := twoStoreys()
	d.Floors = []house.DraftFloor{{Ref: "first", Fire: true, DraftPart: house.DraftPart{First: at(273)}}}
	h := build(t, d)
	r := best(t, h, "hall", "landing")
	seals := 0
	for _, s := range r.Steps {
		if strings.HasPrefix(s.Text, "Seal") {
			seals++
		}
	}
	if seals != 2 {
		t.Errorf("%d seals at the two plates of a fire floor: %+v", seals, r.Steps)
	}
	for _, w := range r.WhatIf {
		if strings.Contains(w.What, "joist") {
			t.Errorf("the joists were measured, and still: %s", w.What)
		}
	}
	d.Floors = []house.DraftFloor{{Ref: "first", DraftPart: house.DraftPart{First: at(2050 - 1600)}}} // a joist at 2050, over the wall
	for _, r := range only(t, build(t, d), "hall", "landing").Routes {
		for _, hole := range r.Holes {
			if strings.HasSuffix(hole.Through, "plate") && hole.Spot.X == 2050 && hole.Spot.Z < 3000 {
				t.Errorf("a plate is drilled under a joist that lies on it: %+v", hole)
			}
		}
	}
	solid := true
	d.Floors = []house.DraftFloor{{Ref: "first", Solid: &solid}}
	if c := only(t, build(t, d), "hall", "landing"); !c.Surface && len(c.Routes) > 0 {
		t.Errorf("a hidden way through concrete: %+v", c.Routes[0].Steps)
	}
}

// A box that the house does not know has no way, and says so.
func TestUnknownBox(t *testing.T) {
	f := finder(t, build(t, singleStorey()))
	p := f.Plan([]Run{{ID: "x", From: "a", To: "nowhere", Kind: cable(t, "3ce-1.0")}}, Options{})
	if len(p.Findings) != 1 || p.Findings[0].Code != "no-route" || !strings.Contains(p.Runs[0].None, "nowhere") {
		t.Errorf("%+v", p)
	}
	if _, ok := f.Best("a", "nowhere", cable(t, "3ce-1.0")); ok {
		t.Error("an estimate for a box that is nowhere")
	}
	if e, ok := f.Best("a", "rose", cable(t, "3ce-1.0")); !ok || e.Length != 3868 || e.Through != "through the loft" {
		t.Errorf("%+v", e)
	}
	if _, ok := f.Best("a", "rose", kind(0, 0)); ok {
		t.Error("an estimate for a cable without a size")
	}
}

// Methods of installation, by what BS 7671 Table 4A2 says of methods 100 to 103
// and C: beneath more than 100 mm of insulation 101, on bare joists C.
func TestMethodsOfInstallation(t *testing.T) {
	for insulation, want := range map[MM]string{0: "C", 97: "C", 98: "100", 197: "100", 198: "101", 270: "101"} {
		d := singleStorey()
		d.Floors = []house.DraftFloor{{Ref: "loft", DraftPart: house.DraftPart{Insulate: at(insulation)}}}
		for _, s := range best(t, build(t, d), "a", "rose").Stretches {
			if s.Space == InLoft && s.From.Z == s.To.Z && s.Method != want {
				t.Errorf("%v of insulation over joists of 97 mm: method %s, want %s", insulation, s.Method, want)
			}
		}
	}
	filled := true
	d := singleStorey()
	d.Walls = []house.DraftWall{{Ref: "store-study", Filled: &filled}}
	if s := best(t, build(t, d), "a", "rose").Stretches[0]; s.Method != "103" {
		t.Errorf("loose in an insulated stud wall: method %s, want 103", s.Method)
	}
}
