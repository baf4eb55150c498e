package job

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/house"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// house resolves the house section; nil if there is none, or if it was
// refused. The boxes it places are those of the wiring.
func (r *reading) house(found, last *stage, could []*wiring.Box) *house.House {
	if r.text.House == nil {
		return nil
	}
	_, section, _ := r.root.walk("house")
	found.noteAll(section, r.name("house"), "house")
	before := len(r.list)
	d := &houseReader{reading: r, f: r.text.House, found: found, last: last, could: could}
	d.builds()
	d.rooms()
	d.fabric()
	d.boxes()
	d.obstacles()
	if len(r.list) > before || r.incomplete {
		return nil
	}
	h, findings, err := d.draft.Assemble()
	if err != nil {
		r.report(section.at, "this is a fault of the program", "%v", err)
		return nil
	}
	look := &Job{file: r.file, found: found.places}
	for _, f := range findings {
		if f.Severity == finding.Forbids {
			p := look.Position(f.Subject)
			r.report(place{p.Line, p.Column}, f.Fix, "%s", f.Text)
		}
	}
	return h
}

// noteAll notes the place of every key and list item under a value.
func (s *stage) noteAll(v *value, at place, path string) {
	s.note(at, path)
	for i, x := range v.items {
		name, where := strconv.Itoa(i), x.at
		if v.kind == isMap {
			name, where = v.keys[i].name, v.keys[i].at
		}
		s.noteAll(x, where, path+"."+name)
	}
}

// houseReader makes a draft of the house section.
type houseReader struct {
	*reading
	f           *fileHouse
	draft       house.Draft
	found, last *stage
	could       []*wiring.Box // that may be added
}

// far is the greatest length that a house section may hold.
const far = 100 * unit.Metre

// length reads a length of any size under a path of the house section; nil if
// it is not there or was refused.
func (d *houseReader) length(path ...string) *house.MM { return d.lengthIn(0, path...) }

// shift is length for one that may be negative.
func (d *houseReader) shift(path ...string) house.MM {
	if v := d.lengthIn(-far, path...); v != nil {
		return *v
	}
	return 0
}

func (d *houseReader) lengthIn(least house.MM, path ...string) *house.MM {
	path = append([]string{"house"}, path...)
	_, v, whole := d.root.walk(path...)
	if !whole || v.kind != isText {
		return nil
	}
	l := limits[unit.Millimetre]{"this length", least, far}
	x, ok := quantity(d.reading, v.text, unit.ParseMillimetre, 0, l, path...)
	if !ok {
		return nil
	}
	return &x
}

// lengths reads a list of lengths.
func (d *houseReader) lengths(path ...string) []house.MM {
	var list []house.MM
	_, v, whole := d.root.walk(append([]string{"house"}, path...)...)
	if !whole || v.kind != isList {
		return nil
	}
	for i := range v.items {
		if x := d.length(append(slices.Clone(path), strconv.Itoa(i))...); x != nil {
			list = append(list, *x)
		}
	}
	return list
}

// emptyList reports whether a path leads to a list without items, which says
// that there is none of a thing, while no list says nothing.
func (d *houseReader) emptyList(path ...string) bool {
	_, v, whole := d.root.walk(append([]string{"house"}, path...)...)
	return whole && v.kind == isList && len(v.items) == 0
}

func (d *houseReader) percent(path ...string) *unit.Percent {
	path = append([]string{"house"}, path...)
	_, v, whole := d.root.walk(path...)
	if !whole || v.kind != isText {
		return nil
	}
	p, ok := quantity(d.reading, v.text, unit.ParsePercent, 0, limits[unit.Percent]{"the likelihood", 0, 100}, path...)
	if !ok {
		return nil
	}
	return &p
}

// take gives a length to a field if it was given.
func take(field *house.MM, given *house.MM) {
	if given != nil {
		*field = *given
	}
}

// builds makes the builds of the person's own from the usual ones.
func (d *houseReader) builds() {
	d.draft.Partition, d.draft.Outside = d.f.Partition, d.f.Outside
	usual, err := house.Builds()
	if err != nil {
		return // Assemble reports it
	}
	names := make([]string, len(usual))
	for i, b := range usual {
		names[i] = b.ID
	}
	own := d.keys("house", "builds")
	for _, k := range own {
		f := d.f.Builds[k.name]
		i := slices.Index(names, f.Like)
		if i < 0 {
			if f.Like != "" {
				d.report(d.at("house", "builds", k.name, "like"), didYouMean(f.Like, names), "there is no usual build called %q", f.Like)
			}
			continue
		}
		d.draft.Builds = append(d.draft.Builds, d.build(k.name, f, *usual[i]))
	}
	for _, k := range own {
		names = append(names, k.name)
	}
	d.buildNames(names)
}

// buildNames checks where builds are named, so that a slip is shown in its
// place.
func (d *houseReader) buildNames(names []string) {
	check := func(id string, path ...string) {
		if id != "" && !slices.Contains(names, id) {
			d.report(d.at(path...), didYouMean(id, names), "there is no build of wall called %q", id)
		}
	}
	check(d.f.Partition, "house", "partition")
	check(d.f.Outside, "house", "outside")
	for _, k := range d.keys("house", "walls") {
		check(d.f.Walls[k.name].Build, "house", "walls", k.name, "build")
	}
}

func (d *houseReader) build(id string, f fileBuild, b house.Build) *house.Build {
	under := func(name string) []string { return []string{"builds", id, name} }
	b.ID = id
	if f.Title != "" {
		b.Title = f.Title
	}
	take(&b.Core, d.length(under("core")...))
	if face := d.length(under("face")...); face != nil {
		for i := range b.Face {
			if b.Face[i] > 0 {
				b.Face[i] = *face
			}
		}
	}
	take(&b.Stud, d.length(under("stud")...))
	take(&b.Centres, d.length(under("centres")...))
	take(&b.Plate, d.length(under("plate")...))
	if rows := d.lengths(under("noggings")...); rows != nil || d.emptyList(under("noggings")...) {
		b.Rows = rows
	}
	if p := d.percent(under("likely")...); p != nil {
		b.Likely = *p
	}
	b.Filled = b.Filled || f.Filled
	b.UnderBoard = b.UnderBoard || f.UnderBoard
	return &b
}

func (d *houseReader) rooms() {
	for _, k := range d.keys("house", "storeys") {
		f := d.f.Storeys[k.name]
		d.draft.Storeys = append(d.draft.Storeys, house.DraftStorey{
			ID: k.name, Title: f.Title, Cellar: f.Cellar,
			Level: d.lengthIn(-far, "storeys", k.name, "level"), Height: d.length("storeys", k.name, "height"),
		})
	}
	for _, k := range d.keys("house", "rooms") {
		d.draft.Rooms = append(d.draft.Rooms, d.room(k.name, d.f.Rooms[k.name]))
	}
}

func (d *houseReader) room(id string, f fileRoom) house.DraftRoom {
	r := house.DraftRoom{
		ID: id, Title: f.Title, Storey: f.Storey, Use: house.Use(f.Use), Finish: house.Finish(f.Finish),
		Align: f.Align, Open: f.Open,
		ShiftRight: d.shift("rooms", id, "shift-right"), ShiftBack: d.shift("rooms", id, "shift-back"),
	}
	ways := []struct {
		way house.Way
		of  string
	}{
		{house.RightOf, f.RightOf},
		{house.LeftOf, f.LeftOf},
		{house.Behind, f.Behind},
		{house.InFrontOf, f.InFrontOf},
		{house.Above, f.Above},
		{house.Below, f.Below},
	}
	for _, w := range ways {
		switch {
		case w.of == "":
		case r.Way != "":
			d.report(d.name("house", "rooms", id, string(w.way)), "keep one; shift-right: and shift-back: move it from there", "room %s is placed %s %s already", id, r.Way, r.Of)
		default:
			r.Way, r.Of = w.way, w.of
		}
	}
	if f.Size != "" {
		r.Width, r.Depth = d.size(f.Size, "house", "rooms", id, "size")
	}
	for i, corner := range f.Outline {
		d.corner(&r, i, len(corner))
	}
	return r
}

func (d *houseReader) corner(r *house.DraftRoom, i, parts int) {
	path := []string{"rooms", r.ID, "outline", strconv.Itoa(i)}
	if parts != 2 {
		d.report(d.at(append([]string{"house"}, path...)...), "write [right, back], such as [0 m, 4.5 m]", "corner %d of room %s needs two lengths and has %d", i+1, r.ID, parts)
		return
	}
	x, y := d.lengthIn(-far, append(path, "0")...), d.lengthIn(-far, append(path, "1")...)
	if x != nil && y != nil {
		r.Outline = append(r.Outline, house.Point{X: *x, Y: *y})
	}
}

var timesSign = regexp.MustCompile(`\s*[x×]\s*`)

// size reads "3.6 m x 4.5 m"; one unit may serve both.
func (d *houseReader) size(text string, path ...string) (width, depth house.MM) {
	parts := timesSign.Split(strings.TrimSpace(text), -1)
	if len(parts) == 2 && parts[0] != "" && strings.Trim(parts[0], "0123456789.") == "" {
		parts[0] += " " + strings.TrimLeft(parts[1], "0123456789. ")
	}
	if len(parts) == 2 {
		w, errW := unit.ParseMillimetre(parts[0])
		h, errH := unit.ParseMillimetre(parts[1])
		if errW == nil && errH == nil {
			return w, h
		}
	}
	d.report(d.at(path...), `write width x depth, such as "3.6 m x 4.5 m"`, "%q is not a size", text)
	return 0, 0
}

// fabric reads walls, openings, floors, loft and void.
func (d *houseReader) fabric() {
	for _, k := range d.keys("house", "walls") {
		f := d.f.Walls[k.name]
		d.draft.Walls = append(d.draft.Walls, house.DraftWall{
			Ref: k.name, Build: f.Build, SeenFrom: d.roomName(f.SeenFrom, "house", "walls", k.name, "seen-from"),
			Centres: d.length("walls", k.name, "centres"), FirstStud: d.length("walls", k.name, "first-stud"),
			Studs: d.lengths("walls", k.name, "studs"), Rows: d.lengths("walls", k.name, "noggings"),
			NoRows: d.emptyList("walls", k.name, "noggings"), Filled: f.Filled, Fire: f.Fire, Bearing: f.Bearing, Under: f.UnderBoard,
		})
	}
	for _, k := range d.keys("house", "openings") {
		f := d.f.Openings[k.name]
		at := func(name string) *house.MM { return d.length("openings", k.name, name) }
		d.draft.Openings = append(d.draft.Openings, house.DraftOpening{
			ID: k.name, Kind: house.OpeningKind(f.Kind), Wall: f.Wall, Room: d.roomName(f.Room, "house", "openings", k.name, "room"),
			Left: at("from-left"), Right: at("from-right"), Width: at("width"), Sill: at("sill"), Head: at("head"), Lining: at("lining"),
		})
	}
	for _, k := range d.keys("house", "floors") {
		d.draft.Floors = append(d.draft.Floors, d.floor(k.name, d.f.Floors[k.name]))
	}
	if f := d.f.Loft; f != nil {
		d.draft.NoLoft = f.None
		d.draft.Loft = &house.DraftLoft{Height: d.length("loft", "height"), Crawl: d.length("loft", "eaves"), Hatch: f.Hatch}
	}
	if f := d.f.Under; f != nil {
		d.draft.Under = &house.DraftUnder{Height: d.length("under", "height"), Access: f.Access}
	}
}

// roomName checks the name of a room; "" passes.
func (d *houseReader) roomName(id string, path ...string) string {
	if _, ok := d.f.Rooms[id]; !ok && id != "" {
		var names []string
		for _, k := range d.keys("house", "rooms") {
			names = append(names, k.name)
		}
		d.report(d.at(path...), didYouMean(id, names), "there is no room called %q", id)
	}
	return id
}

func (d *houseReader) floor(id string, f fileFloor) house.DraftFloor {
	at := func(name string) *house.MM { return d.length("floors", id, name) }
	floor := house.DraftFloor{
		Ref: id, Solid: f.Solid, Depth: at("depth"), Deck: at("deck"), Ceiling: at("ceiling"),
		DeckKind: house.Deck(f.Boards), Lining: house.Lining(f.Lining), Fire: f.Fire,
		DraftPart: d.part("", f.fileJoists, "floors", id),
	}
	for i, p := range f.Parts {
		d.roomName(p.Room, "house", "floors", id, "parts", strconv.Itoa(i), "room")
		floor.Parts = append(floor.Parts, d.part(p.Room, p.fileJoists, "floors", id, "parts", strconv.Itoa(i)))
	}
	return floor
}

func (d *houseReader) part(room string, f fileJoists, path ...string) house.DraftPart {
	at := func(name string) []string { return append(slices.Clone(path), name) }
	p := house.DraftPart{
		Room: room, Spacing: d.length(at("spacing")...), Breadth: d.length(at("breadth")...), First: d.length(at("first-joist")...),
		Bearings: d.lengths(at("bearings")...), Insulate: d.length(at("insulation")...), Boarded: f.Boarded,
	}
	switch f.Joists {
	case "front-back":
		p.Run = new(house.AlongY)
	case "left-right":
		p.Run = new(house.AlongX)
	}
	return p
}

// boxes places the boxes of the wiring, those that could be added among them.
// One that is not there as found, or is of another kind as left, is to be cut.
func (d *houseReader) boxes() {
	for _, k := range d.keys("house", "boxes") {
		f := d.f.Boxes[k.name]
		before, after := d.found.in.Box(k.name), d.last.in.Box(k.name)
		if i := slices.IndexFunc(d.could, func(b *wiring.Box) bool { return b.ID == k.name }); i >= 0 {
			after = d.could[i]
		}
		if before == nil && after == nil {
			d.noBox(d.last, k.name, k.at)
			continue
		}
		b := after
		if b == nil {
			b = before
		}
		at := func(name string) *house.MM { return d.length("boxes", k.name, name) }
		d.draft.Boxes = append(d.draft.Boxes, house.DraftBox{
			ID: k.name, Room: d.roomName(f.Room, "house", "boxes", k.name, "room"), On: f.On,
			Left: at("from-left"), Right: at("from-right"), Front: at("from-front"), Back: at("from-back"),
			RightOf: f.RightOf, LeftOf: f.LeftOf, By: at("by"), Height: at("height"), Below: at("below-ceiling"), LevelWith: f.LevelWith,
			New: isNew(before, after), Size: SizeOf(b.Kind),
		})
	}
}

func isNew(before, after *wiring.Box) bool {
	return after != nil && (before == nil || before.Kind != after.Kind && !SizeOf(before.Kind).Holds(SizeOf(after.Kind)))
}

// SizeOf is what the house needs to know of a kind of box.
func SizeOf(k *kit.Box) house.Size {
	s := house.Size{Width: k.Width, Height: k.Height, Depth: k.Depth, Gangs: k.Gangs}
	switch k.Mount {
	case kit.MountPlaster:
		s.Flush = true
	case kit.MountPlasterboard:
		s.Flush, s.Lined = true, true
	case kit.MountCeiling:
		s.Flush = k.Depth > 0
	}
	if s.Flush && s.Gangs > 0 {
		s.Plate = house.PlateOver(s)
	}
	return s
}

func (d *houseReader) obstacles() {
	for _, k := range d.keys("house", "obstructions") {
		f := d.f.Obstructions[k.name]
		at := func(name string) *house.MM { return d.length("obstructions", k.name, name) }
		d.draft.Blocks = append(d.draft.Blocks, house.DraftBlock{
			ID: k.name, Kind: house.BlockKind(f.Kind), Likely: d.percent("obstructions", k.name, "likely"), Hot: f.Hot,
			Wall: f.Wall, Room: d.roomName(f.Room, "house", "obstructions", k.name, "room"), Floor: f.Floor,
			Left: at("from-left"), Width: at("width"), Front: at("from-front"), Deep: at("depth"), Low: at("bottom"), High: at("top"),
		})
	}
	for i, f := range d.f.Found {
		n := strconv.Itoa(i)
		at := func(name string) *house.MM { return d.length("found", n, name) }
		d.draft.Found = append(d.draft.Found, house.DraftSighting{
			Sign: house.Sign(f.Sign), Wall: f.Wall, Room: d.roomName(f.Room, "house", "found", n, "room"),
			Left: at("from-left"), Width: at("width"), Height: at("height"), Note: f.Note,
		})
	}
}
