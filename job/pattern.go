package job

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// pattern is one usual arrangement: what it needs and how it is laid out.
// The arrangements are common practice in the United Kingdom; no source is
// claimed for them.
//
// A pattern called p adds boxes p-point (holding lamp), p-switch1, p-switch2 …
// (each holding s1) and p-joint (holding j); cables p-feed, p-drop, p-lamp,
// p-strap1, p-strap2 … The left: section and other joints use these names.
type pattern struct {
	use      string
	switches int  // how many, exactly; for intermediate at least
	more     bool // more switches are allowed
	drop     bool // a cable from the point or joint box to the first switch
	lamp     bool // a cable of its own to the lamp
	joint    bool // a joint box
	lay      func(*layer)
}

// The six patterns.
//
// Loop-in at the ceiling: the supply and the switch cable meet in the rose;
// the switch cable's first core is line, its second switched line.
//
// Loop-in at the switch: the supply comes to the switch box, where neutrals
// are joined in a connector.
//
// Joint box: supply, switch cable and lamp cable meet in it; terminals in
// order line, neutral, switched line.
//
// Two-way with strappers: line on COM of the first switch, L1 and L2 strapped
// through the first two cores of a three-core cable, whose third core carries
// the neutral on; the lamp from COM of the second switch.
//
// Two-way with three-core, the usual conversion of one-way: line on L1 and
// switched line on L2 of the first switch; the three-core cable's first core
// joins COM to COM, its second L1 to L1, its third L2 to L2.
//
// Intermediate: the same with intermediate switches between; the first core
// runs through their boxes in a connector, the second and third are on the two
// sides of the intermediate switch.
var patternList = []pattern{
	{use: "loop-in-ceiling", switches: 1, drop: true, lay: (*layer).loopInCeiling},
	{use: "loop-in-switch", switches: 1, lamp: true, lay: (*layer).loopInSwitch},
	{use: "joint-box", switches: 1, drop: true, lamp: true, joint: true, lay: (*layer).jointBox},
	{use: "two-way-strappers", switches: 2, lamp: true, lay: (*layer).twoWayStrappers},
	{use: "two-way-three-core", switches: 2, drop: true, lay: (*layer).twoWayThreeCore},
	{use: "intermediate", switches: 3, more: true, drop: true, lay: (*layer).twoWayThreeCore},
}

// Patterns lists the arrangements that "use:" takes.
func Patterns() []string {
	names := make([]string, len(patternList))
	for i, p := range patternList {
		names[i] = p.use
	}
	return names
}

// supplyPoint is where a later pattern can take its feed: an end of each of
// line, neutral and earth in a box.
type supplyPoint struct {
	box                  string
	line, neutral, earth wiring.End
}

// layer lays out one pattern in a stage. Its problems are at the pattern's
// place, so are the things it adds.
type layer struct {
	*reading
	s      *stage
	p      pattern
	f      filePattern
	path   []string
	at     place
	from   supplyPoint
	to     supplyPoint // for the next pattern
	joints []wiring.Joint
	failed bool
}

// patterns expands all patterns: boxes and cables go into the stage, joints
// are returned, to be merged with those written out.
func (r *reading) patterns(s *stage) []wiring.Joint {
	var joints []wiring.Joint
	points := map[string]supplyPoint{}
	_, section, whole := r.root.walk("patterns")
	if !whole || section.kind != isList {
		return nil
	}
	for i, f := range r.text.Patterns {
		n := strconv.Itoa(i)
		l := &layer{reading: r, s: s, f: f, path: []string{"patterns", n}, at: r.at("patterns", n)}
		i := slices.IndexFunc(patternList, func(p pattern) bool { return p.use == f.Use })
		if i < 0 || f.Name == "" {
			r.refuse(f.Name)
			continue // the schema has reported it
		}
		l.p = patternList[i]
		if _, again := points[f.Name]; again {
			l.fail("give it another name", "a pattern above has the name %q too", f.Name)
		}
		l.source(points)
		l.fields()
		if !l.failed {
			l.p.lay(l)
		}
		points[f.Name] = l.to
		if l.failed {
			l.refuseAll()
			continue
		}
		joints = append(joints, l.joints...)
	}
	return joints
}

func (l *layer) fail(fix, format string, args ...any) {
	l.failAt(l.at, fix, format, args...)
}

func (l *layer) failAt(at place, fix, format string, args ...any) {
	l.report(at, fix, format, args...)
	l.failed = true
}

// refuseAll keeps quiet about everything a failed pattern would have added.
func (l *layer) refuseAll() {
	l.refuse(l.f.Name)
	for _, part := range []string{"point", "joint", "feed", "drop", "lamp"} {
		l.refuse(l.id(part))
	}
	for i := range max(len(l.f.Switches), l.p.switches) + 1 {
		l.refuse(l.id("switch" + strconv.Itoa(i+1)))
		l.refuse(l.id("strap" + strconv.Itoa(i+1)))
	}
}

func (l *layer) id(part string) string { return l.f.Name + "-" + part }

// source finds where the feed comes from.
func (l *layer) source(points map[string]supplyPoint) {
	switch c := l.s.in.Circuit(l.f.Circuit); {
	case l.f.Circuit != "" && l.f.Previous != "" || l.f.Circuit == "" && l.f.Previous == "":
		l.fail("give circuit: for the first point, previous: for those after it", "pattern %s needs either circuit or previous", l.f.Name)
	case l.f.Previous != "":
		l.previous(points)
	case c == nil:
		if !l.suspect[l.f.Circuit] {
			var ids []string
			for _, c := range l.s.in.Circuits {
				ids = append(ids, c.ID)
			}
			l.report(l.reading.at(append(l.path, "circuit")...), didYouMean(l.f.Circuit, ids), "there is no circuit called %q", l.f.Circuit)
		}
		l.failed = true
	default:
		end := func(name string) wiring.End { return wiring.End{Box: c.Board, Item: c.ID, Name: name} }
		l.from = supplyPoint{c.Board, end("L"), end("N"), end("E")}
	}
}

func (l *layer) previous(points map[string]supplyPoint) {
	p, ok := points[l.f.Previous]
	if !ok {
		names := slices.Sorted(maps.Keys(points))
		l.report(l.reading.at(append(l.path, "previous")...), didYouMean(l.f.Previous, names), "no pattern above is called %q", l.f.Previous)
	}
	l.from = p
	l.failed = l.failed || p.box == ""
}

// fields checks that the pattern is given what it needs, and no more.
func (l *layer) fields() {
	f, p := l.f, l.p
	l.need("drop", p.drop)
	l.need("lamp-cable", p.lamp)
	if !p.joint && f.Joint != nil {
		l.need("joint", false)
	}
	switch n := len(f.Switches); {
	case n > p.switches && !p.more, n > 0 && n < p.switches:
		least := strconv.Itoa(p.switches)
		if p.more {
			least += " or more"
		}
		l.failAt(l.name(append(l.path, "switches")...), "choose the pattern that has as many switches as the house", "%s has %s switch(es), and %d are given", p.use, least, n)
	}
	if n := max(len(f.Switches), p.switches) - 1; len(f.Straps) != n && !l.failed {
		l.failAt(l.name(append(l.path, "straps")...), "give the length of each cable from one switch to the next", "pattern %s has %d cable(s) between its switches, and %d length(s) in straps", f.Name, n, len(f.Straps))
	}
}

func (l *layer) need(key string, needed bool) {
	at, _, given := l.root.walk(append(l.path, key)...)
	switch {
	case needed && !given:
		l.failAt(at, fmt.Sprintf("add it, such as %q", key+": 5 m"), "%s needs the length of %q", l.p.use, key)
	case given && !needed:
		l.failAt(at, "delete it, or choose the pattern that has it", "%s has no %q", l.p.use, key)
	}
}

// box adds a box of the pattern with one accessory. part is "point",
// "switch1" and so on; standard the kind of box if the file names none.
func (l *layer) box(part, standard, item, accessory string, f *filePlace, path ...string) *wiring.Fitted {
	if f == nil {
		f = &filePlace{}
	}
	id := l.id(part)
	if l.s.in.Box(id) != nil {
		l.fail("give the pattern another name", "pattern %s adds a box %q, which is there already", l.f.Name, id)
	}
	b := &wiring.Box{ID: id, Title: f.Title}
	if b.Title == "" {
		b.Title = finding.Capital(l.f.Name) + " " + part
	}
	if f.Kind != "" {
		standard = f.Kind
	}
	b.Kind = look(l.reading, l.cat.Boxes, standard, "box", append(slices.Concat(l.path, path), "kind")...)
	x := &wiring.Fitted{ID: item, Kind: look(l.reading, l.cat.Accessories, accessory, "accessory", append(l.path, "accessory")...)}
	if b.Kind == nil || x.Kind == nil {
		l.failed = true
		return x
	}
	b.Fit = []*wiring.Fitted{x}
	l.s.in.Boxes = append(l.s.in.Boxes, b)
	l.s.note(l.at, "boxes", id)
	l.s.note(l.at, "boxes", id, item)
	l.s.note(l.at, "joints", id)
	return x
}

// cable adds a cable of the pattern; cores is 2 or 3 beside the cpc.
func (l *layer) cable(part string, cores int, from, to, length string, path ...string) cableEnds {
	kind := map[int]string{2: "te-", 3: "3ce-"}[cores] + l.size()
	if l.f.Colours == "old" {
		kind += "-old"
	}
	c := &wiring.Cable{ID: l.id(part), Kind: look(l.reading, l.cat.Cables, kind, "cable", l.path...), From: from, To: to}
	if l.s.in.Cable(c.ID) != nil {
		l.fail("give the pattern another name", "pattern %s adds a cable %q, which is there already", l.f.Name, c.ID)
	}
	path = slices.Concat(l.path, path)
	var ok bool
	c.Length, ok = quantity(l.reading, length, unit.ParseMillimetre, 0, lengths, path...)
	c.Tolerance, _ = quantity(l.reading, l.f.Tolerance, unit.ParseMillimetre, 0, tolerances, append(l.path, "tolerance")...)
	if ok && c.Tolerance > c.Length {
		l.failAt(l.reading.at(path...), "check both numbers", "the tolerance of %v is more than the length of %v", c.Tolerance, c.Length)
	}
	if c.Kind == nil || !ok {
		l.failed = true
		return cableEnds{c, make([]string, 3), ""}
	}
	l.s.in.Cables = append(l.s.in.Cables, c)
	l.s.note(l.at, "cables", c.ID)
	return endsOf(c)
}

func (l *layer) size() string {
	if l.f.Size == "" {
		return "1.0"
	}
	return strings.TrimSuffix(l.f.Size, " mm2")
}

// cableEnds names a cable's cores: live ones in order, and the cpc.
type cableEnds struct {
	c    *wiring.Cable
	live []string
	cpc  string
}

func endsOf(c *wiring.Cable) cableEnds {
	e := cableEnds{c: c}
	for _, core := range c.Kind.Cores {
		if core.Earth {
			e.cpc = core.Name
		} else {
			e.live = append(e.live, core.Name)
		}
	}
	return e
}

// core is the end of the n-th live core in a box, earth that of the cpc.
func (e cableEnds) core(box string, n int) wiring.End {
	return wiring.End{Box: box, Item: e.c.ID, Name: e.live[n]}
}

func (e cableEnds) earth(box string) wiring.End {
	return wiring.End{Box: box, Item: e.c.ID, Name: e.cpc}
}

// join adds a joint; a zero end, of a terminal that an accessory lacks, is
// left out, so that what remains meets in a connector.
func (l *layer) join(ends ...wiring.End) {
	ends = slices.DeleteFunc(ends, func(e wiring.End) bool { return e == wiring.End{} })
	for _, e := range ends {
		l.s.note(l.at, "joints", e.Box, e.Item, e.Name)
	}
	l.joints = append(l.joints, wiring.Joint{Box: ends[0].Box, Ends: ends})
}

// role finds the terminal of a role; the zero end if there is none.
func role(box string, x *wiring.Fitted, want kit.Role) wiring.End {
	for _, t := range x.Kind.Terminals {
		if t.Role == want {
			return wiring.End{Box: box, Item: x.ID, Name: t.Name}
		}
	}
	return wiring.End{}
}
