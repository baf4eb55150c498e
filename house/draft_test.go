package house

import (
	"strings"
	"testing"

	"strapper/finding"
	"strapper/unit"
)

func given(v MM) *MM { return &v }

// flush is a one-gang box for plaster, 25 mm deep, of the size in the
// catalogue; lined one for plasterboard, 47 mm deep.
var (
	flush = Size{Width: 72, Height: 72, Depth: 25, Plate: 7, Flush: true, Gangs: 1}
	lined = Size{Width: 75, Height: 75, Depth: 47, Plate: 7, Flush: true, Lined: true, Gangs: 1}
)

// terrace is a small invented house in which everything is given, so that a
// test sees only what it changes: two rooms side by side, a stud partition of
// 88 mm with studs seen at 19, 600 and 1200 mm from the left of the hall's
// right wall, a door in it, joists front to back.
func terrace() *Draft {
	joists := DraftPart{
		Run: new(AlongY), Spacing: given(400), Breadth: given(50), First: given(100),
		Bearings: []MM{0, 4000}, Insulate: given(0),
	}
	return &Draft{
		Partition: "stud-63", Outside: "cavity-270",
		Storeys: []DraftStorey{{ID: "ground", Height: given(2400)}},
		Rooms: []DraftRoom{
			{ID: "hall", Width: 2000, Depth: 4000, Use: UseHall},
			{ID: "parlour", Width: 3000, Depth: 4000, Way: RightOf, Of: "hall"},
		},
		Walls: []DraftWall{{Ref: "hall-parlour", Studs: []MM{19, 600, 1200}, NoRows: true}},
		Openings: []DraftOpening{{
			ID: "door", Kind: Door, Room: "hall", Wall: "parlour", Right: given(300),
			Width: given(762), Head: given(1981), Lining: given(65),
		}},
		Floors: []DraftFloor{
			{Ref: "ground", Solid: new(true), Depth: given(150)},
			{Ref: "loft", Depth: given(100), Ceiling: given(15), DraftPart: joists},
		},
		Loft: &DraftLoft{Height: given(2000), Crawl: given(300)},
	}
}

func (d *Draft) with(change func(*Draft)) *Draft {
	change(d)
	return d
}

func assembled(t *testing.T, d *Draft) (*House, []finding.Finding) {
	t.Helper()
	h, list, err := d.Assemble()
	if err != nil {
		t.Fatal(err)
	}
	if (h == nil) != finding.Forbidden(list) {
		t.Fatalf("house %v with findings %v", h, list)
	}
	return h, list
}

// fine assembles a house that must have no finding but assumptions.
func fine(t *testing.T, d *Draft) *House {
	t.Helper()
	h, list := assembled(t, d)
	for _, f := range list {
		if f.Code != "house-assumed" {
			t.Errorf("unwanted: %v", f)
		}
	}
	if h == nil {
		t.FailNow()
	}
	return h
}

func TestNothingIsAssumedOfAHouseThatIsGiven(t *testing.T) {
	if _, list := assembled(t, terrace()); len(list) > 0 {
		t.Errorf("findings: %v", list)
	}
}

// box puts a new box on the hall's right wall.
func box(size Size, along, height MM) func(*Draft) {
	return func(d *Draft) {
		d.Boxes = append(d.Boxes, DraftBox{ID: "b", Room: "hall", On: "right", Left: given(along), Height: given(height), Size: size, New: true})
	}
}

// old puts a box that is there as found on a wall of a room.
func old(id, room, on string, size Size, along, height MM) func(*Draft) {
	return func(d *Draft) {
		d.Boxes = append(d.Boxes, DraftBox{ID: id, Room: room, On: on, Left: given(along), Height: given(height), Size: size})
	}
}

func both(changes ...func(*Draft)) func(*Draft) {
	return func(d *Draft) {
		for _, c := range changes {
			c(d)
		}
	}
}

// Every limit, just inside and just outside. The limits are those of the
// fabric itself: where a wall, an opening, a stud or a board ends is geometry,
// worked from the sizes in terrace; the depths come from the builds.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name         string
		code         string
		severity     finding.Severity
		fine, breaks func(*Draft)
	}{
		{
			"a box at the left end of its wall: half of 72 mm is 36", "house-box-off-wall", finding.Forbids,
			old("b", "hall", "left", flush, 36, 1200), old("b", "hall", "left", flush, 35, 1200),
		},
		{
			"a box at the right end of a wall of 4000 mm", "house-box-off-wall", finding.Forbids,
			old("b", "hall", "left", flush, 3964, 1200), old("b", "hall", "left", flush, 3965, 1200),
		},
		{
			"a box on the floor", "house-box-off-wall", finding.Forbids,
			old("b", "hall", "left", flush, 1000, 36), old("b", "hall", "left", flush, 1000, 35),
		},
		{
			"a box under a ceiling at 2400 mm", "house-box-off-wall", finding.Forbids,
			old("b", "hall", "left", flush, 1000, 2364), old("b", "hall", "left", flush, 1000, 2365),
		},
		{ // the door's clear opening reaches from 4000-300-65-762 = 2873 to 3635
			"a box beside a door, its plate on the lining", "house-box-in-opening", finding.Forbids,
			old("b", "hall", "right", Size{Width: 72, Height: 72}, 2873-65-36, 1200), old("b", "hall", "right", Size{Width: 72, Height: 72}, 2873-36+1, 1200),
		},
		{ // lining from 2808; plate of 86 mm
			"a plate beside the lining of a door", "box-on-lining", finding.Caution,
			old("b", "hall", "right", flush, 2808-43, 1200), old("b", "hall", "right", flush, 2808-43+1, 1200),
		},
		{ // stud at 600, 38 wide: 581 to 619; box of 72: half is 36
			"a cut-out beside a stud that was seen", "stud-clash", finding.Caution,
			box(flush, 619+36, 1200), box(flush, 619+36-1, 1200),
		},
		{ // a pipe from 800 to 850
			"a cut-out beside a pipe", "box-on-obstruction", finding.Caution,
			both(pipeAt(800, nil), box(flush, 850+36, 1200)), both(pipeAt(800, nil), box(flush, 850+36-1, 1200)),
		},
		{
			"a cut-out beside a pipe that may be there", "box-on-obstruction", finding.Note,
			both(pipeAt(800, percent(40)), box(flush, 850+36, 1200)), both(pipeAt(800, percent(40)), box(flush, 850+36-1, 1200)),
		},
		{ // found from 700 to 760, at every height
			"a cut-out beside where a finder showed something live", "box-on-obstruction", finding.Caution,
			both(liveAt(700), box(flush, 760+36+1, 1200)), both(liveAt(700), box(flush, 760+36, 1200)),
		},
		{
			"two boxes side by side", "house-boxes-overlap", finding.Forbids,
			both(old("a", "hall", "left", Size{Width: 72, Height: 72}, 1000, 1200), old("b", "hall", "left", Size{Width: 72, Height: 72}, 1072, 1200)),
			both(old("a", "hall", "left", Size{Width: 72, Height: 72}, 1000, 1200), old("b", "hall", "left", Size{Width: 72, Height: 72}, 1071, 1200)),
		},
		{
			"two plates of 86 mm side by side", "plates-overlap", finding.Caution,
			both(old("a", "hall", "left", flush, 1000, 1200), old("b", "hall", "left", flush, 1086, 1200)),
			both(old("a", "hall", "left", flush, 1000, 1200), old("b", "hall", "left", flush, 1085, 1200)),
		},
		{ // 44 + 44 = 88 mm, the thickness of the wall; the parlour reads the wall the other way round
			"two boxes back to back in a wall of 88 mm", "back-to-back", finding.Caution,
			both(old("a", "hall", "right", deep(44), 900, 1200), old("b", "parlour", "left", deep(44), 3100, 1200)),
			both(old("a", "hall", "right", deep(44), 900, 1200), old("b", "parlour", "left", deep(45), 3100, 1200)),
		},
		{ // 12.5 mm board (13) and a 63 mm stud leave 76 mm, of which 10 for the cable
			"a box in a stud wall of 63 mm", "box-too-deep", finding.Caution,
			box(deep(66), 900, 1200), box(deep(67), 900, 1200),
		},
		{ // inner leaf 102, of which a third is 34; plaster 13: 47 mm is the deepest
			"a box in the inner leaf of a cavity wall", "box-too-deep", finding.Caution,
			onLeft(deep(47)), onLeft(deep(48)),
		},
		{
			"a box that clamps to a board, in plastered masonry", "box-not-held", finding.Caution,
			box(lined, 900, 1200), onLeft(lined),
		},
		{
			"a clear opening of 762 mm at the end of a wall of 4000 mm", "house-opening-off-wall", finding.Forbids,
			doorAt(4000 - 762), doorAt(4000 - 762 + 1),
		},
		{
			"a door as high as its storey", "house-opening-off-wall", finding.Forbids,
			func(d *Draft) { d.Openings[0].Head = given(2400) }, func(d *Draft) { d.Openings[0].Head = given(2401) },
		},
		{ // the door reaches to 3635; 3635 + 365 = 4000
			"a second opening beside the door", "house-openings-overlap", finding.Forbids,
			archAt(3635), archAt(3634),
		},
		{
			"rooms that touch and rooms that overlap", "house-rooms-overlap", finding.Forbids,
			roomAt(4088 + 1000), roomAt(4088 + 1000 - 1),
		},
		{
			"rooms too near for a wall: studs of 20 mm between 13 and 12", "house-wall-thickness", finding.Forbids,
			thinWall(45), thinWall(44),
		},
		{
			"a storey at its least height", "house-impossible", finding.Forbids,
			func(d *Draft) { d.Storeys[0].Height = given(1982) }, func(d *Draft) { d.Storeys[0].Height = given(1499) },
		},
		{
			"joists at the least distance", "house-impossible", finding.Forbids,
			func(d *Draft) { d.Floors[1].Spacing = given(200) }, func(d *Draft) { d.Floors[1].Spacing = given(199) },
		},
		{
			"bearings at the end of a floor 4000 mm deep", "house-bearings", finding.Forbids,
			func(d *Draft) { d.Floors[1].Bearings = []MM{0, 4000} }, func(d *Draft) { d.Floors[1].Bearings = []MM{0, 4001} },
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, list := assembled(t, terrace().with(c.fine))
			for _, f := range list {
				if f.Code == c.code && f.Severity >= c.severity {
					t.Errorf("just inside: %v", f)
				}
			}
			_, list = assembled(t, terrace().with(c.breaks))
			if !has(list, c.code, c.severity) {
				t.Errorf("just outside: no %v %s in %v", c.severity, c.code, list)
			}
		})
	}
}

func has(list []finding.Finding, code string, severity finding.Severity) bool {
	for _, f := range list {
		if f.Code == code && f.Severity == severity {
			return true
		}
	}
	return false
}

func deep(depth MM) Size {
	s := flush
	s.Depth = depth
	return s
}

// pipeAt puts a pipe 50 mm wide into the hall's right wall.
func pipeAt(left MM, likely *unit.Percent) func(*Draft) {
	return func(d *Draft) {
		d.Blocks = append(d.Blocks, DraftBlock{ID: "riser", Kind: BlockPipe, Room: "hall", Wall: "right", Left: given(left), Width: given(50), Likely: likely})
	}
}

func liveAt(left MM) func(*Draft) {
	return func(d *Draft) {
		d.Found = append(d.Found, DraftSighting{Sign: SignLive, Room: "hall", Wall: "right", Left: given(left), Width: given(60)})
	}
}

func onLeft(size Size) func(*Draft) {
	return func(d *Draft) {
		d.Boxes = append(d.Boxes, DraftBox{ID: "b", Room: "hall", On: "left", Left: given(900), Height: given(1200), Size: size, New: true})
	}
}

func doorAt(left MM) func(*Draft) {
	return func(d *Draft) { d.Openings[0].Right, d.Openings[0].Left = nil, given(left-65) }
}

func archAt(left MM) func(*Draft) {
	return func(d *Draft) {
		d.Openings = append(d.Openings, DraftOpening{
			ID: "arch", Kind: Arch, Room: "hall", Wall: "parlour", Left: given(left), Width: given(300), Head: given(1981),
		})
	}
}

func roomAt(left MM) func(*Draft) {
	return func(d *Draft) {
		d.Rooms = append(d.Rooms, DraftRoom{ID: "annexe", Outline: []Point{{left, 0}, {left, 1000}, {left + 1000, 1000}, {left + 1000, 0}}})
	}
}

// thinWall puts the parlour at a distance from the hall by outlines.
func thinWall(apart MM) func(*Draft) {
	return func(d *Draft) {
		x := 2000 + apart
		d.Rooms[1] = DraftRoom{ID: "parlour", Outline: []Point{{x, 0}, {x, 4000}, {x + 3000, 4000}, {x + 3000, 0}}}
	}
}

// What is refused says where, and what to do; names that are nearly right are
// suggested.
func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		name, code, fix string
		subject         finding.Subject
		change          func(*Draft)
	}{
		{"no rooms", "house-empty", "size: 2 m x 4 m", "house", func(d *Draft) { *d = Draft{} }},
		{"a room that is a direction", "house-reserved-name", "left-room", "house.rooms.left", func(d *Draft) { d.Rooms[0].ID = "left" }},
		{"a name twice", "house-name-twice", "its own name", "house.rooms.hall", func(d *Draft) { d.Rooms[1].ID = "hall" }},
		{"no size", "house-room-form", "size: 3 m x 4 m", "house.rooms.hall", func(d *Draft) { d.Rooms[0].Width, d.Rooms[0].Depth = 0, 0 }},
		{"no place", "house-room-form", "right-of: hall", "house.rooms.parlour", func(d *Draft) { d.Rooms[1].Way = "" }},
		{"a circle", "house-room-form", "has its place", "house.rooms.hall", func(d *Draft) { d.Rooms[0].Way, d.Rooms[0].Of = LeftOf, "parlour" }},
		{"a misspelt room", "house-unknown-room", `did you mean "hall"?`, "house.rooms.parlour.right-of", func(d *Draft) { d.Rooms[1].Of = "hal" }},
		{"no such storey", "house-unknown-storey", "storeys:", "house.rooms.parlour.above", func(d *Draft) { d.Rooms[1].Way = Above }},
		{"an outline of two corners", "house-outline", "three corners", "house.rooms.hall", func(d *Draft) { d.Rooms[0] = DraftRoom{ID: "hall", Outline: []Point{{0, 0}, {5, 5}}} }},
		{"a bow", "house-outline", "corner after corner", "house.rooms.hall", func(d *Draft) {
			d.Rooms = []DraftRoom{{ID: "hall", Outline: []Point{{0, 0}, {3000, 3000}, {0, 3000}, {3000, 0}}}}
		}},
		{"a misspelt wall", "house-unknown-wall", `did you mean "hall-parlour"?`, "house.walls.hall-parlor", func(d *Draft) { d.Walls[0].Ref = "hall-parlor" }},
		{"a misspelt build", "house-unknown-build", `did you mean "stud-89"?`, "house.walls.hall-parlour", func(d *Draft) { d.Walls[0].Build = "stud-98" }},
		{"studs in masonry", "house-no-studs", "build with studs", "house.walls.hall-parlour", func(d *Draft) { d.Walls[0].Build = "brick-102" }},
		{"a stud off its wall", "house-off-wall", "left corner", "house.walls.hall-parlour", func(d *Draft) { d.Walls[0].Studs = []MM{4001} }},
		{"two measures of one place", "house-measure-twice", "keep the one", "house.boxes.b", func(d *Draft) {
			d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: "left", Left: given(500), Right: given(500)}}
		}},
		{"level with itself", "house-unknown-box", "", "house.boxes.b", func(d *Draft) {
			d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: "left", LevelWith: "b"}}
		}},
		{"a misspelt door", "house-unknown-opening", `did you mean "door"?`, "house.boxes.b", func(d *Draft) {
			d.Boxes = []DraftBox{{ID: "b", Room: "hall", RightOf: "dor", By: given(150)}}
		}},
		{"a door of another wall", "house-unknown-opening", "door of that wall", "house.boxes.b", func(d *Draft) {
			d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: "left", RightOf: "door", By: given(150)}}
		}},
		{"a box outside its room", "house-box-off-wall", "sides of the room", "house.boxes.b", func(d *Draft) {
			d.Boxes = []DraftBox{{ID: "b", Room: "hall", On: OnCeiling, Left: given(2001)}}
		}},
		{"an obstruction nowhere", "house-no-measure", "wall: or floor:", "house.obstructions.p", func(d *Draft) { d.Blocks = []DraftBlock{{ID: "p", Kind: BlockPipe}} }},
		{"levels that do not add up", "house-levels", "leave the level out", "house.storeys.first", func(d *Draft) {
			d.Storeys = append(d.Storeys, DraftStorey{ID: "first", Height: given(2400), Level: given(4000)})
			d.Rooms = append(d.Rooms, DraftRoom{ID: "bedroom", Width: 2000, Depth: 4000, Way: Above, Of: "hall"})
		}},
		{"a likelihood over 100 %", "house-impossible", "percentage", "house.obstructions.p", func(d *Draft) {
			d.Blocks = []DraftBlock{{ID: "p", Kind: BlockPipe, Wall: "left", Room: "hall", Likely: percent(101)}}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, list := assembled(t, terrace().with(c.change))
			for _, f := range list {
				if f.Code == c.code && f.Subject == c.subject && f.Severity == finding.Forbids && strings.Contains(f.Fix, c.fix) {
					return
				}
			}
			t.Errorf("no %s about %s with advice %q in %v", c.code, c.subject, c.fix, list)
		})
	}
}

func percent(p unit.Percent) *unit.Percent { return &p }
