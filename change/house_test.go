package change_test

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"strapper/change"
	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// A builder makes a random house and what is asked of it. Everything in it is
// invented; how the lights are wired are the usual ways of the trade (common
// practice, no source).
type builder struct {
	r       *rand.Rand
	cat     *kit.Catalogue
	in      *wiring.Installation
	ask     change.Ask
	places  []string // boxes in which somebody may want a switch
	names   []string // rooms not yet used
	lamps   []string // those that are to be worked
	other   []string // those of a second circuit, if anything is asked of it
	old     bool
	cables  int
	circuit string
}

// RandomCase makes a house as found and an ask, the same for the same seed:
// the first of those that the seed gives that are small enough to try
// everything.
func RandomCase(seed uint64) (found *wiring.Installation, ask change.Ask) {
	cat, err := kit.Open()
	if err != nil {
		panic(err) // the catalogue is part of the program and has its own tests
	}
	r := rand.New(rand.NewPCG(seed, 3))
	for {
		if found, ask = randomCase(r, cat); small(found, ask) {
			return found, ask
		}
	}
}

// small: what is found and what could be run has so many live cores at most.
func small(in *wiring.Installation, ask change.Ask) bool {
	found, could := 0, 0
	for _, c := range in.Cables {
		found += len(c.Kind.Cores) - 1
	}
	for _, c := range ask.Could.Cables {
		could += len(c.Kinds[len(c.Kinds)-1].Cores) - 1
	}
	return found <= 12 && found+could <= 15
}

func randomCase(r *rand.Rand, cat *kit.Catalogue) (found *wiring.Installation, ask change.Ask) {
	b := &builder{r: r, cat: cat, in: &wiring.Installation{Supply: wiring.Supply{Voltage: 230, Frequency: 50, Earthing: wiring.TNCS, Ze: 0.35, Ambient: 20}}}
	b.names = []string{"study", "landing", "porch", "cellar", "attic", "nook", "workshop", "scullery"}
	b.r.Shuffle(len(b.names), func(i, j int) { b.names[i], b.names[j] = b.names[j], b.names[i] })
	b.old = b.chance(25)
	b.box("board", "consumer-unit")
	b.feedFrom("c1")
	pick(b, b.loopAtCeiling, b.loopAtSwitch, b.jointBox, b.strappers, b.strappers, b.threeCore, b.threeCore)()
	if b.chance(40) {
		b.secondCircuit()
	}
	if b.chance(45) && len(b.in.Boxes) > 2 {
		b.unusedCable()
	}
	b.wish()
	b.earth()
	return b.in, b.ask
}

func (b *builder) chance(percent int) bool { return b.r.IntN(100) < percent }

func pick[T any](b *builder, list ...T) T { return list[b.r.IntN(len(list))] }

func (b *builder) room() string {
	n := b.names[0]
	b.names = b.names[1:]
	return n
}

func (b *builder) box(id, kind string) string {
	b.in.Boxes = append(b.in.Boxes, &wiring.Box{ID: id, Kind: b.cat.Boxes[kind]})
	return id
}

func (b *builder) feedFrom(id string) {
	b.circuit = id
	b.in.Circuits = append(b.in.Circuits, &wiring.Circuit{ID: id, Board: "board", Device: b.cat.Devices["mcb-b6"], Way: b.cat.Accessories["cu-way"]})
}

func (b *builder) fit(box, id, kind string) string {
	where := b.in.Box(box)
	where.Fit = append(where.Fit, &wiring.Fitted{ID: id, Kind: b.cat.Accessories[kind]})
	return id
}

// run lays a cable of two or three live cores and returns their names.
func (b *builder) run(cores int, from, to string) (id string, live []string) {
	return b.cut(cores, from, to, unit.Millimetre(1000+b.r.IntN(9000)))
}

// cut lays one of a known length.
func (b *builder) cut(cores int, from, to string, length unit.Millimetre) (id string, live []string) {
	kind := map[int]string{2: "te-1.0", 3: "3ce-1.0"}[cores]
	if b.old {
		kind += "-old"
	}
	b.cables++
	c := &wiring.Cable{ID: fmt.Sprintf("w%d", b.cables), Kind: b.cat.Cables[kind], From: from, To: to, Length: length}
	b.in.Cables = append(b.in.Cables, c)
	for _, core := range c.Kind.Cores {
		if !core.Earth {
			live = append(live, core.Name)
		}
	}
	return c.ID, live
}

// join makes a joint; each end is an item and a name, as "w1", "brown".
func (b *builder) join(box string, names ...string) {
	j := wiring.Joint{Box: box}
	for i := 0; i < len(names); i += 2 {
		j.Ends = append(j.Ends, wiring.End{Box: box, Item: names[i], Name: names[i+1]})
	}
	b.in.Joints = append(b.in.Joints, j)
}

// spare leaves a core over: parked at both ends, or loose.
func (b *builder) spare(cable, core string, boxes ...string) {
	for _, box := range boxes {
		if b.chance(60) {
			b.join(box, cable, core)
		}
	}
}

// feed brings line and neutral from the board.
func (b *builder) feed(to string) (cable string, line, neutral string) {
	id, live := b.run(2, "board", to)
	b.join("board", b.circuit, "L", id, live[0])
	b.join("board", b.circuit, "N", id, live[1])
	return id, live[0], live[1]
}

// point fits a lamp in a box of its own and returns the terminals of line
// side, neutral and, on a rose, the loop terminal.
func (b *builder) point() (box, line, loop string) {
	box = b.box(b.room()+"-point", "ceiling-point")
	kind, line, loop := "batten-holder", "L", ""
	if b.chance(60) {
		kind, line, loop = "ceiling-rose", "SL", "LOOP"
	}
	b.fit(box, "lamp", kind)
	b.lamps = append(b.lamps, box+".lamp")
	return box, line, loop
}

// switchBox fits a switch of some kind in a new box.
func (b *builder) switchBox(kind string) string {
	box := b.box(b.room(), "plaster-1g-25")
	b.fit(box, "s", kind)
	b.places = append(b.places, box)
	return box
}

// single is the kind of a switch that works alone: a two-way one does too.
func (b *builder) single() (kind, common, other string) {
	if b.chance(30) {
		return "two-way", "COM", pick(b, "L1", "L2")
	}
	return "one-way", "COM", "L1"
}

// twoOrThree is mostly two cores; a third is spare.
func (b *builder) twoOrThree() int {
	if b.chance(45) {
		return 3
	}
	return 2
}

// drop runs a switch cable to a box with a single switch; line and switched
// line are returned, a third core is left over.
func (b *builder) drop(from string) (cable, line, switched string) {
	kind, common, other := b.single()
	box := b.switchBox(kind)
	id, live := b.run(b.twoOrThree(), from, box)
	b.join(box, "s", common, id, live[0])
	b.join(box, "s", other, id, live[1])
	for _, core := range live[2:] {
		b.spare(id, core, from, box)
	}
	return id, live[0], live[1]
}

func (b *builder) loopAtCeiling() {
	box, line, loop := b.point()
	feed, l, n := b.feed(box)
	drop, dl, sl := b.drop(box)
	lines := []string{feed, l, drop, dl}
	if loop != "" && b.chance(80) {
		lines = append(lines, "lamp", loop)
	}
	neutrals, switched := []string{feed, n, "lamp", "N"}, []string{drop, sl, "lamp", line}
	if b.chance(60) {
		second := b.another(box)
		neutrals, switched = append(neutrals, second[0], second[1]), append(switched, second[0], second[2])
	}
	b.join(box, lines...)
	b.join(box, neutrals...)
	b.join(box, switched...)
}

// another is a second lamp that burns with the first: its cable, the core that
// is its neutral, and its switched line.
func (b *builder) another(from string) [3]string {
	box, line, _ := b.point()
	id, live := b.run(b.twoOrThree(), from, box)
	b.join(box, id, live[1], "lamp", "N")
	b.join(box, id, live[0], "lamp", line)
	for _, core := range live[2:] {
		b.spare(id, core, from, box)
	}
	return [3]string{id, live[1], live[0]}
}

func (b *builder) loopAtSwitch() {
	kind, common, other := b.single()
	box := b.switchBox(kind)
	feed, l, n := b.feed(box)
	lamp := b.another(box)
	b.join(box, "s", common, feed, l)
	b.join(box, "s", other, lamp[0], lamp[2])
	b.join(box, feed, n, lamp[0], lamp[1])
}

// jointBox joins in the terminals of a joint box, or in connectors there.
func (b *builder) jointBox() {
	box := b.box(b.room()+"-joint", "joint-box")
	t := [][]string{{"j", "A"}, {"j", "B"}, {"j", "C"}}
	if b.chance(60) {
		b.fit(box, "j", "joint-box")
	} else {
		t = make([][]string, 3)
	}
	feed, l, n := b.feed(box)
	drop, dl, sl := b.drop(box)
	lamp := b.another(box)
	b.join(box, append(t[0], feed, l, drop, dl)...)
	b.join(box, append(t[1], feed, n, lamp[0], lamp[1])...)
	b.join(box, append(t[2], drop, sl, lamp[0], lamp[2])...)
}

// strappers is two-way switching, line at one common and lamp at the other,
// the neutral carried in the third core.
func (b *builder) strappers() {
	first, second := b.switchBox("two-way"), b.switchBox("two-way")
	feed, l, n := b.feed(first)
	strap, live := b.run(3, first, second)
	lamp := b.another(second)
	b.join(first, "s", "COM", feed, l)
	b.join(first, "s", "L1", strap, live[0])
	b.join(first, "s", "L2", strap, live[1])
	b.join(first, feed, n, strap, live[2])
	b.join(second, "s", "L1", strap, live[0])
	b.join(second, "s", "L2", strap, live[1])
	b.join(second, "s", "COM", lamp[0], lamp[2])
	b.join(second, strap, live[2], lamp[0], lamp[1])
}

// threeCore is the usual conversion of a drop, at times with an intermediate
// switch between.
func (b *builder) threeCore() {
	box, line, loop := b.point()
	feed, l, n := b.feed(box)
	first := b.switchBox("two-way")
	drop, d := b.run(b.twoOrThree(), box, first)
	lines := []string{feed, l, drop, d[0]}
	if loop != "" {
		lines = append(lines, "lamp", loop)
	}
	b.join(box, lines...)
	b.join(box, feed, n, "lamp", "N")
	b.join(box, drop, d[1], "lamp", line)
	for _, core := range d[2:] {
		b.spare(drop, core, box, first)
	}
	middle := b.chance(30)
	second := b.switchBox(map[bool]string{false: "two-way", true: "intermediate"}[middle])
	strap, s := b.run(3, first, second)
	b.join(first, "s", "COM", strap, s[0])
	b.join(first, "s", "L1", drop, d[0], strap, s[1])
	b.join(first, "s", "L2", drop, d[1], strap, s[2])
	if middle {
		strap, s, second = b.through(strap, s, second)
	}
	b.join(second, "s", "COM", strap, s[0])
	b.join(second, "s", "L1", strap, s[1])
	b.join(second, "s", "L2", strap, s[2])
}

// through leads the conversion through an intermediate switch to one more.
func (b *builder) through(in string, i []string, box string) (out string, o []string, last string) {
	last = b.switchBox("two-way")
	out, o = b.run(3, box, last)
	b.join(box, in, i[0], out, o[0])
	b.join(box, "s", "A1", in, i[1])
	b.join(box, "s", "A2", in, i[2])
	b.join(box, "s", "B1", out, o[1])
	b.join(box, "s", "B2", out, o[2])
	return out, o, last
}

// secondCircuit puts a lamp of another circuit, with its switch, into a box
// that is there.
func (b *builder) secondCircuit() {
	if len(b.in.Boxes) > 4 {
		return
	}
	lamps := b.lamps
	b.feedFrom("c2")
	box := b.places[0]
	b.in.Box(box).Kind = b.cat.Boxes["plaster-2g-35"]
	b.fit(box, "z", "one-way")
	feed, l, n := b.feed(box)
	other := b.another(box)
	b.join(box, "z", "COM", feed, l)
	b.join(box, "z", "L1", other[0], other[2])
	b.join(box, feed, n, other[0], other[1])
	if b.chance(40) {
		b.other = b.lamps[len(lamps):]
	}
	b.lamps = lamps
}

// unusedCable is one that nobody has used yet.
func (b *builder) unusedCable() {
	i := 1 + b.r.IntN(len(b.in.Boxes)-1)
	j := b.r.IntN(len(b.in.Boxes) - 1)
	if j >= i {
		j++
	}
	from, to := b.in.Boxes[i].ID, b.in.Boxes[j].ID
	id, live := b.run(2+b.r.IntN(2), from, to)
	for _, core := range live {
		b.spare(id, core, from, to)
	}
}

// earth joins the protective conductors in every box.
func (b *builder) earth() {
	for _, box := range b.in.Boxes {
		if j := earthOf(b.in, box.ID); len(j.Ends) > 0 {
			b.in.Joints = append(b.in.Joints, j)
		}
	}
}

// earthOf is all cpcs and earth terminals of a box as one joint.
func earthOf(in *wiring.Installation, box string) wiring.Joint {
	j := wiring.Joint{Box: box}
	add := func(item, name string) {
		j.Ends = append(j.Ends, wiring.End{Box: box, Item: item, Name: name})
	}
	for _, c := range in.Circuits {
		if c.Board == box {
			add(c.ID, "E")
		}
	}
	for _, f := range in.Box(box).Fit {
		for _, t := range f.Kind.Terminals {
			if t.Role == kit.RoleEarth {
				add(f.ID, t.Name)
			}
		}
	}
	for _, c := range in.Cables {
		for _, core := range c.Kind.Cores {
			if core.Earth && (c.From == box || c.To == box) {
				add(c.ID, core.Name)
			}
		}
	}
	return j
}

// wish asks for a change.
func (b *builder) wish() {
	b.could()
	b.ask.Groups = []change.Group{b.group(0, b.lamps)}
	if len(b.other) > 0 {
		b.ask.Groups = append(b.ask.Groups, b.same(1, b.other))
	}
	b.limits()
}

func (b *builder) group(n int, lamps []string) change.Group {
	if len(lamps) > 1 && len(b.ask.Could.Boxes) > 0 && b.chance(80) {
		return b.parted(n, lamps)
	}
	g := change.Group{Lamps: lamps, Rule: switching.RuleToggle, Subject: finding.Subject(fmt.Sprintf("want.%d", n))}
	at := slices.Clone(b.places)
	b.r.Shuffle(len(at), func(i, j int) { at[i], at[j] = at[j], at[i] })
	for i, box := range at[:min(len(at), pick(b, 1, 2, 2, 3, 3, 3))] {
		p := change.Place{Box: box, Subject: finding.Subject(fmt.Sprintf("want.%d.at.%d", n, i))}
		if where := b.in.Box(box); where != nil && where.Fitted("s") != nil {
			b.trim(&p, where.Fitted("s").Kind)
		}
		g.At = append(g.At, p)
	}
	if len(b.in.Circuits) > 1 && b.chance(25) {
		g.Circuit = "c2"
	}
	return g
}

// parted asks for one of two lamps by itself, from a new place; the other stays
// with the switches it has.
func (b *builder) parted(n int, lamps []string) change.Group {
	return change.Group{
		Lamps: lamps[:1], Rule: switching.RuleToggle, Subject: finding.Subject(fmt.Sprintf("want.%d", n)),
		At: []change.Place{{Box: b.ask.Could.Boxes[0].ID, Subject: finding.Subject(fmt.Sprintf("want.%d.at.0", n))}},
	}
}

// trim adds wishes about a switch that is there.
func (b *builder) trim(p *change.Place, kind *kit.Accessory) {
	if b.chance(40) {
		p.Item = "s"
		p.Keep = b.chance(15)
	}
	if !p.Keep && b.chance(8) {
		p.Kind = pick(b, b.cat.Accessories["two-way"], b.cat.Accessories["intermediate"], kind)
	}
	p.Neutral = b.chance(10)
}

// same asks that the second circuit's lamp is worked from where it is, and at
// times from a new place too.
func (b *builder) same(n int, lamps []string) change.Group {
	g := change.Group{
		Lamps: lamps, Rule: switching.RuleToggle, Subject: finding.Subject(fmt.Sprintf("want.%d", n)),
		At: []change.Place{{Box: b.places[0], Item: "z", Subject: finding.Subject(fmt.Sprintf("want.%d.at.0", n))}},
	}
	for _, box := range b.ask.Could.Boxes {
		used := func(p change.Place) bool { return p.Box == box.ID }
		if b.chance(40) && !slices.ContainsFunc(b.ask.Groups[0].At, used) {
			g.At = append(g.At, change.Place{Box: box.ID, Subject: finding.Subject(fmt.Sprintf("want.%d.at.1", n))})
		}
	}
	return g
}

// could adds a box and cables that could be.
func (b *builder) could() {
	ids := make([]string, 0, 8)
	for _, box := range b.in.Boxes {
		ids = append(ids, box.ID)
	}
	if len(ids) < 6 && b.chance(60) {
		box := &wiring.Box{ID: b.room(), Kind: b.cat.Boxes["plaster-1g-35"]}
		b.ask.Could.Boxes = append(b.ask.Could.Boxes, box)
		b.places = append(b.places, box.ID)
		b.cable(pick(b, ids[1:]...), box.ID)
	} else if b.chance(50) {
		b.cable(b.two(ids))
	}
	if b.chance(60) {
		for _, box := range b.ask.Could.Boxes {
			ids = append(ids, box.ID)
		}
		b.cable(b.two(ids))
	}
}

func (b *builder) two(ids []string) (from, to string) {
	i, j := b.r.IntN(len(ids)), b.r.IntN(len(ids)-1)
	if j >= i {
		j++
	}
	return ids[i], ids[j]
}

func (b *builder) cable(from, to string) {
	kinds := pick(b, []string{"te-1.0"}, []string{"3ce-1.0"}, []string{"3ce-1.0"}, []string{"te-1.0", "3ce-1.0"})
	c := change.Cable{ID: fmt.Sprintf("n%d", len(b.ask.Could.Cables)+1), From: from, To: to, Length: unit.Millimetre(500 + b.r.IntN(11000)), Minutes: float64(b.r.IntN(900)) / 10}
	for _, k := range kinds {
		c.Kinds = append(c.Kinds, b.cat.Cables[k])
	}
	for _, wall := range []string{"chimney breast", "party wall"} {
		if b.chance(30) {
			c.Walls = append(c.Walls, wall)
		}
	}
	b.ask.Could.Cables = append(b.ask.Could.Cables, c)
}

func (b *builder) limits() {
	l := &b.ask.Limits
	if b.chance(15) {
		box := b.in.Boxes[b.r.IntN(len(b.in.Boxes))].ID
		l.Closed = append(l.Closed, change.Limit{Name: box, Subject: "limits.closed.0"})
	}
	if b.chance(15) {
		l.Walls = append(l.Walls, change.Limit{Name: "party wall", Subject: "limits.walls.0"})
	}
	if b.chance(10) {
		l.Doubtful = append(l.Doubtful, b.in.Cables[b.r.IntN(len(b.in.Cables))].ID)
	}
	fixed := func(p change.Place) bool { return p.Kind != nil }
	if b.chance(8) && !slices.ContainsFunc(b.ask.Groups[0].At, fixed) {
		l.Switches = []*kit.Accessory{b.cat.Accessories["two-way"]}
	}
}
