package job

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"strapper/finding"
	"strapper/house"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// stage is one condition of the house while it is being resolved.
type stage struct {
	in     *wiring.Installation
	places places
	joined map[wiring.End]place // ends that a joint of the file has already
}

func newStage() *stage {
	return &stage{in: &wiring.Installation{}, places: places{}, joined: map[wiring.End]place{}}
}

func (s *stage) note(at place, path ...string) {
	s.places[finding.Subject(strings.Join(path, "."))] = at
}

func (s *stage) boxIDs() []string {
	ids := make([]string, len(s.in.Boxes))
	for i, b := range s.in.Boxes {
		ids[i] = b.ID
	}
	return ids
}

func (s *stage) circuitIDs() []string {
	ids := make([]string, len(s.in.Circuits))
	for i, c := range s.in.Circuits {
		ids[i] = c.ID
	}
	return ids
}

func (s *stage) cableIDs() []string {
	ids := make([]string, len(s.in.Cables))
	for i, c := range s.in.Cables {
		ids[i] = c.ID
	}
	return ids
}

// keys lists the keys under a path in the order of the file.
func (r *reading) keys(path ...string) []key {
	if _, v, whole := r.root.walk(path...); whole && v.kind == isMap {
		return v.keys
	}
	return nil
}

// at is the place of the value under a path, or of what encloses it.
func (r *reading) at(path ...string) place {
	at, v, whole := r.root.walk(path...)
	if whole {
		return v.at
	}
	return at
}

// name is the place of the key under a path, or of what encloses it.
func (r *reading) name(path ...string) place {
	at, _, _ := r.root.walk(path...)
	return at
}

// found resolves the wiring as found.
func (r *reading) found() *stage {
	s := newStage()
	s.in.Supply = r.supply()
	for _, section := range []string{"job", "supply", "circuits", "boxes", "cables", "joints", "want", "book", "premises", "readings", "seen"} {
		s.note(r.name(section), section)
	}
	for _, k := range r.keys("boxes") {
		r.box(s, k, r.text.Boxes[k.name])
	}
	for _, k := range r.keys("circuits") {
		r.circuit(s, k, r.text.Circuits[k.name])
	}
	joints := r.patterns(s)
	for _, k := range r.keys("cables") {
		r.cable(s, k, r.text.Cables[k.name], "cables", k.name)
	}
	for _, k := range r.keys("joints") {
		r.joints(s, k, "joints", k.name)
	}
	s.merge(joints)
	return s
}

func (r *reading) date(text string) {
	if text == "" {
		return
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		r.report(r.at("job", "date"), `write year-month-day, such as "2026-11-25"`, "%q is not a date", text)
	}
}

// limits are the least and greatest value of a quantity that can be meant.
type limits[T cmp.Ordered] struct {
	what        string
	least, most T
}

// quantity parses a value with a unit and checks it against its limits. An
// absent value gives the default.
func quantity[T interface {
	cmp.Ordered
	String() string
}](r *reading, text string, parse func(string) (T, error), or T, l limits[T], path ...string,
) (x T, ok bool) {
	_, v, whole := r.root.walk(path...)
	if !whole || v.kind != isText {
		return or, false
	}
	x, err := parse(text)
	if err != nil {
		said, fix, _ := strings.Cut(err.Error(), ": write ")
		if fix != "" {
			fix = "write " + fix
		}
		r.report(v.at, fix, "%s", said)
		return or, false
	}
	if x < l.least || x > l.most {
		r.report(v.at, "check the number and its unit", "%s is %v; it should lie between %v and %v", l.what, x, l.least, l.most)
		return or, false
	}
	return x, true
}

func (r *reading) supply() wiring.Supply {
	f := r.text.Supply
	s := wiring.Supply{Earthing: wiring.Earthing(f.Earthing)}
	s.Voltage, _ = quantity(r, f.Voltage, unit.ParseVolt, 230, limits[unit.Volt]{"the supply voltage", 100, 260}, "supply", "voltage")
	s.Frequency = r.frequency(f.Frequency)
	s.Ze, _ = quantity(r, f.Ze, unit.ParseOhm, 0, limits[unit.Ohm]{"Ze", 0.01, 2000}, "supply", "Ze")
	s.Ambient, _ = quantity(r, f.Temperature, unit.ParseCelsius, 20, limits[unit.Celsius]{"the temperature of the cables", -30, 70}, "supply", "temperature")
	s.Fault, _ = quantity(r, f.Fault, unit.ParseAmpere, 0, limits[unit.Ampere]{"the prospective fault current", 5, 50e3}, "supply", "fault-current")
	return s
}

func (r *reading) frequency(text string) unit.Hertz {
	if text == "" {
		return 50
	}
	f, err := unit.ParseHertz(text)
	switch {
	case err != nil:
		r.report(r.at("supply", "frequency"), "", "%v", err)
	case f < 45 || f > 65:
		r.report(r.at("supply", "frequency"), `write "50 Hz"`, "the supply frequency is %v Hz; it should lie between 45 and 65 Hz", float64(f))
	}
	return f
}

// look finds a kind in the catalogue; an id that is not there is reported with
// the nearest one.
func look[T any](r *reading, kinds map[string]*T, id, what string, path ...string) *T {
	if kind, ok := kinds[id]; ok {
		return kind
	}
	if id != "" {
		r.report(r.at(path...), didYouMean(id, kit.Names(kinds)), "the catalogue has no %s called %q", what, id)
	}
	return nil
}

// refuse marks an id as reported, so that nothing else is said about it.
func (r *reading) refuse(id string) { r.suspect[id] = true }

func (r *reading) box(s *stage, k key, f fileBox) {
	s.note(k.at, "boxes", k.name)
	b := &wiring.Box{ID: k.name, Title: f.Title, Kind: look(r, r.cat.Boxes, f.Kind, "box", "boxes", k.name, "kind")}
	if b.Kind == nil {
		b.Kind = &kit.Box{}
		r.refuse(k.name)
	}
	for _, item := range r.keys("boxes", k.name, "fit") {
		if x := r.item(s, k.name, item, f.Fit[item.name], "boxes", k.name, "fit", item.name); x != nil {
			b.Fit = append(b.Fit, x)
		}
	}
	r.placed(b, f.filePlaced, "boxes", k.name)
	s.in.Boxes = append(s.in.Boxes, b)
}

// item resolves one accessory; nil if it was refused.
func (r *reading) item(s *stage, box string, k key, f *fileItem, path ...string) *wiring.Fitted {
	s.note(k.at, "boxes", box, k.name)
	if f == nil || f.Kind == "" {
		r.refuse(k.name)
		return nil
	}
	place := path
	if _, v, _ := r.root.walk(path...); v.kind == isMap {
		place = append(slices.Clone(path), "kind")
	}
	kind := look(r, r.cat.Accessories, f.Kind, "accessory", place...)
	if kind == nil {
		r.refuse(k.name)
		return nil
	}
	x := &wiring.Fitted{ID: k.name, Kind: kind, IP: f.IP}
	if f.Lamp != "" || f.Power != "" {
		x.Lamp = r.lamp(kind, f.Lamp, f.Power, path...)
	}
	return x
}

// lamp resolves what burns in an accessory, from the fields lamp and power
// under path.
func (r *reading) lamp(a *kit.Accessory, id, power string, path ...string) *wiring.Lamp {
	i := slices.IndexFunc(a.Loads, func(l kit.Load) bool { return !l.Always })
	if i < 0 {
		r.report(r.name(path...), "leave lamp and power out", "%s takes no lamp", strings.ToLower(a.Title))
		return nil
	}
	under := func(name string) []string { return append(slices.Clone(path), name) }
	l := &wiring.Lamp{Kind: a.Loads[i].Kind, Power: a.Loads[i].Power}
	if id != "" {
		l.Kind = look(r, r.cat.Lamps, id, "lamp", under("lamp")...)
		if _, _, given := r.root.walk(under("power")...); !given {
			r.report(r.at(under("lamp")...), `add its power, such as "power: 9 W"`, "the power of the lamp is missing")
		}
	}
	if w, ok := quantity(r, power, unit.ParseWatt, 0, limits[unit.Watt]{"the lamp's power", 0.1, 3000}, under("power")...); ok {
		l.Power = w
	}
	return l
}

func (r *reading) circuit(s *stage, k key, f fileCircuit) {
	s.note(k.at, "circuits", k.name)
	c := &wiring.Circuit{ID: k.name, Title: f.Title, Board: f.Board, Way: r.way()}
	c.Device = look(r, r.cat.Devices, f.Device, "protective device", "circuits", k.name, "device")
	if c.Device != nil && c.Device.Type == kit.RCD {
		r.report(r.at("circuits", k.name, "device"), `give it under rcd:, and the circuit's own device here, such as "mcb-b6"`, "%s does not protect against overcurrent", c.Device.Title)
	}
	if f.RCD != "" {
		c.RCD = look(r, r.cat.Devices, f.RCD, "protective device", "circuits", k.name, "rcd")
		if c.RCD != nil && c.RCD.Residual <= 0 {
			r.report(r.at("circuits", k.name, "rcd"), `give one that has, such as "rcd-30", or leave rcd: out`, "%s has no residual current function", c.RCD.Title)
		}
	}
	r.served(c, f)
	if !r.board(s, f.Board, k.name) || c.Way == nil {
		r.refuse(k.name)
		return
	}
	s.note(k.at, "boxes", f.Board, k.name)
	s.in.Circuits = append(s.in.Circuits, c)
}

// way is the accessory that stands for a circuit's outgoing terminals.
func (r *reading) way() *kit.Accessory {
	for _, id := range kit.Names(r.cat.Accessories) {
		if a := r.cat.Accessories[id]; a.Class == kit.ClassWay {
			return a
		}
	}
	r.report(r.root.at, "this is a fault of the program", "the catalogue has no consumer unit way")
	return nil
}

// board checks that a circuit leaves a consumer unit that has no accessory of
// the circuit's name.
func (r *reading) board(s *stage, id, circuit string) bool {
	at := r.at("circuits", circuit, "board")
	b := s.in.Box(id)
	switch {
	case id == "":
		return false
	case b == nil:
		if r.incomplete {
			return false
		}
		r.report(at, didYouMean(id, s.boxIDs()), "circuit %s leaves box %q, which is not under boxes:", circuit, id)
		return false
	case b.Kind.Mount != kit.MountBoard && b.Kind.ID != "":
		r.report(at, `name the consumer unit's box, of kind "consumer-unit"`, "circuit %s leaves box %q, which is no consumer unit but: %s", circuit, id, b.Kind.Title)
		return false
	case b.Fitted(circuit) != nil:
		r.report(r.name("boxes", id, "fit", circuit), "give the accessory another name", "the accessory %q has the name of a circuit that leaves the same box", circuit)
		return false
	}
	return true
}

// cable resolves a cable given under path and adds it, unless it was refused.
func (r *reading) cable(s *stage, k key, f fileCable, path ...string) {
	s.note(k.at, "cables", k.name)
	under := func(name string) []string { return append(slices.Clone(path), name) }
	c := &wiring.Cable{ID: k.name, From: f.From, To: f.To, Via: f.Via}
	c.Kind = look(r, r.cat.Cables, f.Kind, "cable", under("kind")...)
	ok := r.cableEnds(s, c, under)
	if s.in.Cable(k.name) != nil {
		r.report(k.at, "give one of them another name", "a pattern has added a cable %q already", k.name)
		return
	}
	measured := r.length(c, f, path)
	c.Laid = r.laid(c.Length, f.Laid, path...)
	if c.Kind == nil || !ok || !measured {
		r.refuse(k.name)
		return
	}
	s.in.Cables = append(s.in.Cables, c)
}

// length reads a cable's length and tolerance. In a job with a house they may
// be left out: the way through the house gives them.
func (r *reading) length(c *wiring.Cable, f fileCable, path []string) (ok bool) {
	under := func(name string) []string { return append(slices.Clone(path), name) }
	c.Tolerance, _ = quantity(r, f.Tolerance, unit.ParseMillimetre, 0, tolerances, under("tolerance")...)
	if _, _, given := r.root.walk(under("length")...); !given {
		c.Routed = true
		r.routed = append(r.routed, routed{c.ID, [2]string{c.From, c.To}, strings.Join(path, "."), r.name(path...)})
		return true
	}
	if c.Length, ok = quantity(r, f.Length, unit.ParseMillimetre, 0, lengths, under("length")...); !ok {
		return false
	}
	if c.Tolerance > c.Length {
		r.report(r.at(under("tolerance")...), "check both numbers", "the tolerance of %v is more than the length of %v", c.Tolerance, c.Length)
		return false
	}
	return true
}

// routed is a cable, or a run that one could take, without a length, and where
// the file speaks of it.
type routed struct {
	id    string
	boxes [2]string
	path  string
	at    place
}

// lengthless reports the cables without a length whose ends the house does not
// place.
func (r *reading) lengthless(h *house.House) {
	if r.incomplete || h == nil && r.text.House != nil {
		return
	}
	for _, c := range r.routed {
		for _, id := range c.boxes {
			switch {
			case r.suspect[c.id]:
			case h == nil:
				r.report(c.at, `add it, such as "length: 7.5 m"`, `%s lacks "length"`, c.path)
			case h.Box(id) == nil:
				r.report(c.at, `add "length: 7.5 m", or place the box under house: boxes`, "cable %s has no length, and the house does not say where box %s is", c.id, id)
			default:
				continue
			}
			break
		}
	}
}

var (
	lengths    = limits[unit.Millimetre]{"the length of the cable", 50, 500 * unit.Metre}
	tolerances = limits[unit.Millimetre]{"the tolerance of the length", 0, 500 * unit.Metre}
)

// cableEnds checks the boxes at a cable's ends, and that its name is free there.
func (r *reading) cableEnds(s *stage, c *wiring.Cable, under func(string) []string) bool {
	ok := c.From != "" && c.To != ""
	for _, end := range []struct{ key, box string }{{"from", c.From}, {"to", c.To}} {
		b := s.in.Box(end.box)
		switch {
		case end.box == "":
		case b == nil:
			r.noBox(s, end.box, r.at(under(end.key)...))
			ok = false
		case b.Fitted(c.ID) != nil || s.in.Circuit(c.ID) != nil && s.in.Circuit(c.ID).Board == b.ID:
			r.report(r.name(under(end.key)[:len(under(end.key))-1]...), "give the cable another name", "cable %s ends in box %s, where something else has the same name", c.ID, b.ID)
			ok = false
		}
	}
	if ok && c.From == c.To {
		r.report(r.at(under("to")...), "give it two different boxes", "cable %s starts and ends in box %q", c.ID, c.From)
		ok = false
	}
	return ok
}

// noBox reports a box that does not exist, unless the reason is known.
func (r *reading) noBox(s *stage, id string, at place) {
	if !r.incomplete && !r.suspect[id] {
		r.report(at, didYouMean(id, s.boxIDs()), "there is no box called %q", id)
	}
}

// joints resolves the joints of one box, given under path.
func (r *reading) joints(s *stage, k key, path ...string) {
	s.note(k.at, "joints", k.name)
	if s.in.Box(k.name) == nil {
		r.noBox(s, k.name, k.at)
		return
	}
	_, list, _ := r.root.walk(path...)
	for _, joint := range list.items {
		if joint.kind != isList {
			continue // the schema has reported it
		}
		if len(joint.items) == 0 {
			r.report(joint.at, "give its ends, or delete it", "this joint of box %s has no ends", k.name)
			continue
		}
		if ends := r.ends(s, k.name, joint); len(ends) > 0 {
			s.in.Joints = append(s.in.Joints, wiring.Joint{Box: k.name, Ends: ends})
		}
	}
}

func (r *reading) ends(s *stage, box string, joint *value) []wiring.End {
	var ends []wiring.End
	for _, v := range joint.items {
		if v.kind != isText {
			continue
		}
		e, ok := r.end(box, v)
		if !ok {
			continue
		}
		if first, again := s.joined[e]; again {
			r.report(v.at, "put all the ends that meet there into one joint", "%s is joined a second time in box %s; the first is on line %d", e, box, first.line)
			continue
		}
		s.joined[e] = v.at
		s.places[e.Subject()] = v.at
		ends = append(ends, e)
	}
	return ends
}

// end reads "item.terminal" or "cable.core".
func (r *reading) end(box string, v *value) (wiring.End, bool) {
	item, name, ok := strings.Cut(v.text, ".")
	switch {
	case !ok || item == "" || name == "":
		r.report(v.at, `write it as item.terminal or cable.core, such as "s1.COM"`, "%q is not an end of anything", v.text)
	case strings.HasPrefix(name, item+".") || item == box && strings.Contains(name, "."):
		r.report(v.at, `write only item.terminal, such as "s1.COM"`, "%q names its box; within joints of box %s the box is left out", v.text, box)
	case strings.Contains(name, "."):
		r.report(v.at, `write it as item.terminal or cable.core, such as "s1.COM"`, "%q has too many parts", v.text)
	default:
		return wiring.End{Box: box, Item: item, Name: name}, true
	}
	return wiring.End{}, false
}

// merge adds joints of patterns: to a joint that shares an end, else as they
// are.
func (s *stage) merge(joints []wiring.Joint) {
	for _, j := range joints {
		if i := s.sharing(j); i >= 0 {
			for _, e := range j.Ends {
				if !slices.Contains(s.in.Joints[i].Ends, e) {
					s.in.Joints[i].Ends = append(s.in.Joints[i].Ends, e)
				}
			}
			continue
		}
		s.in.Joints = append(s.in.Joints, j)
	}
}

func (s *stage) sharing(j wiring.Joint) int {
	return slices.IndexFunc(s.in.Joints, func(k wiring.Joint) bool {
		return slices.ContainsFunc(j.Ends, func(e wiring.End) bool { return slices.Contains(k.Ends, e) })
	})
}
