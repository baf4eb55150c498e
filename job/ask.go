package job

import (
	"slices"
	"strconv"
	"strings"

	"strapper/change"
	"strapper/finding"
	"strapper/house"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// places reports whether a want names the places its lamps are worked from, so
// that the wiring is to be looked for.
func (r *reading) places(n string) bool { return r.given("want", n, "at") }

// asking is the resolving of what the search for a change is asked.
type asking struct {
	*reading
	found *stage
	notes places // where the file speaks of what could be added
	ask   *change.Ask
}

// ask resolves the wants that name places, with what could be added and what
// must be left alone; nil if there are none.
func (r *reading) ask(found *stage, j *Job) *change.Ask {
	a := &asking{reading: r, found: found, notes: places{}, ask: &change.Ask{}}
	for i := range r.text.Want {
		if n := strconv.Itoa(i); r.places(n) {
			a.ask.Groups = append(a.ask.Groups, change.Group{})
		}
	}
	if len(a.ask.Groups) == 0 {
		a.idle()
		return nil
	}
	if r.root.field("left") != nil {
		r.report(r.name("left"), "leave left: out, or name switches with from: in every want", "the wiring as left is written out here, but a want asks with at: to look for it")
	}
	a.could()
	a.groups()
	a.limits()
	if j.left == nil {
		j.left = a.notes
	}
	return a.ask
}

// idle reports sections that only the search for a change reads.
func (a *asking) idle() {
	for _, section := range []string{"could", "limits", "choose"} {
		if a.given(section) {
			a.report(a.name(section), "give the places with at: in a want, or leave it out", "%s: is only of use where a want asks with at: for a change to be looked for", section)
		}
	}
}

func (a *asking) groups() {
	a.ask.Groups = nil
	for i, f := range a.text.Want {
		n := strconv.Itoa(i)
		if !a.places(n) {
			continue
		}
		if a.given("want", n, "from") {
			a.report(a.name("want", n, "from"), "leave one of them out", "this want has both from: and at:")
		}
		g := change.Group{Lamps: f.Lamps, Rule: rule(f.Rule), Circuit: f.Circuit, Subject: finding.Subject("want." + n)}
		if f.Circuit != "" && a.found.in.Circuit(f.Circuit) == nil {
			a.report(a.at("want", n, "circuit"), didYouMean(f.Circuit, a.found.circuitIDs()), "there is no circuit called %q", f.Circuit)
		}
		for k, p := range f.At {
			g.At = append(g.At, a.place(p, "want", n, "at", strconv.Itoa(k)))
		}
		for k, id := range f.Off {
			g.Off = append(g.Off, a.place(fileAt{Box: id}, "want", n, "off", strconv.Itoa(k)))
		}
		a.placeOnce(&g, n)
		a.ask.Groups = append(a.ask.Groups, g)
	}
}

// mostPlaces is the greatest number of places of one want.
const mostPlaces = 12

func (a *asking) placeOnce(g *change.Group, n string) {
	used := map[[2]string]place{}
	for k, p := range g.At {
		at := a.at("want", n, "at", strconv.Itoa(k))
		key := [2]string{p.Box, p.Item}
		if first, again := used[key]; again && p.Box != "" {
			a.report(at, "name each place once", "%s is named a second time in this want; the first is on line %d", p.Box, first.line)
		}
		used[key] = at
	}
	if len(g.At) > mostPlaces {
		a.report(a.at("want", n, "at"), "ask for fewer", "%d places are more than the search takes; it takes %d", len(g.At), mostPlaces)
	}
}

// place resolves one place: a box, or a switch found in it.
func (a *asking) place(f fileAt, path ...string) change.Place {
	at := a.at(path...)
	if _, v, whole := a.root.walk(path...); whole && v.kind == isMap {
		at = a.at(append(slices.Clone(path), "box")...)
	}
	box, item, _ := strings.Cut(f.Box, ".")
	p := change.Place{Box: box, Item: item, Keep: f.Keep, Neutral: f.Neutral, Subject: finding.Subject(strings.Join(path, "."))}
	a.found.note(at, path...)
	if f.Box == "" || !a.hasBox(box, at) {
		return p
	}
	if f.Fit != "" {
		p.Kind = look(a.reading, a.cat.Accessories, f.Fit, "accessory", append(slices.Clone(path), "fit")...)
		a.workable(p.Kind, append(slices.Clone(path), "fit")...)
		if f.Keep {
			a.report(a.at(append(slices.Clone(path), "fit")...), "leave one of them out", "this place has both keep: and fit:")
		}
	}
	b := a.found.in.Box(box)
	switches := a.switchesIn(b)
	switch {
	case item != "" && !slices.Contains(switches, item):
		a.report(at, didYouMean(item, switches), "there is no switch called %q in box %s as found", item, box)
	case f.Keep && len(switches) == 0:
		a.report(at, "leave keep: out", "there is no switch to keep in box %s as found", box)
	}
	return p
}

// workable reports a kind from which lamps cannot be worked: one that has not
// two positions in which it stays, or a relay or isolator.
func (a *asking) workable(k *kit.Accessory, path ...string) {
	if k == nil || len(k.Positions) == 2 && k.Coil == nil && k.Class != kit.ClassIsolator && k.Actuator != kit.ByPush {
		return
	}
	a.report(a.at(path...), "name a switch, dimmer or sensor of two positions that stays as it is put", "lamps cannot be worked from this: %s (%s)", k.ID, strings.ToLower(k.Title))
}

func (a *asking) switchesIn(b *wiring.Box) []string {
	var ids []string
	if b != nil {
		for _, f := range b.Fit {
			if isSwitch(f) {
				ids = append(ids, f.ID)
			}
		}
	}
	return ids
}

// hasBox reports whether a box is there as found or could be added.
func (a *asking) hasBox(id string, at place) bool {
	if a.known(id) {
		return true
	}
	ids := a.found.boxIDs()
	for _, b := range a.ask.Could.Boxes {
		ids = append(ids, b.ID)
	}
	if !a.incomplete && !a.suspect[id] {
		a.report(at, orAdd(didYouMean(id, ids)), "there is no box called %q, neither found nor under could:", id)
	}
	return false
}

func (a *asking) known(id string) bool {
	return a.found.in.Box(id) != nil || slices.ContainsFunc(a.ask.Could.Boxes, func(b *wiring.Box) bool { return b.ID == id })
}

func orAdd(fix string) string {
	if fix == "" {
		return "add it under could: boxes:"
	}
	return fix
}

// could resolves what may be added.
func (a *asking) could() {
	if a.text.Could == nil {
		return
	}
	for _, k := range a.keys("could", "boxes") {
		a.newBox(k, a.text.Could.Boxes[k.name])
	}
	for _, k := range a.keys("could", "cables") {
		a.run(k, a.text.Could.Cables[k.name])
	}
}

// newBox resolves one box that could be added.
func (a *asking) newBox(k key, f fileNewBox) {
	a.notes[finding.Subject("boxes."+k.name)] = k.at
	if a.found.in.Box(k.name) != nil {
		a.report(k.at, "give the new box another name", "box %q is there already as found", k.name)
		return
	}
	b := &wiring.Box{ID: k.name, Title: f.Title, Kind: look(a.reading, a.cat.Boxes, f.Kind, "box", "could", "boxes", k.name, "kind")}
	if b.Kind == nil {
		b.Kind = &kit.Box{}
		a.refuse(k.name)
	}
	a.ask.Could.Boxes = append(a.ask.Could.Boxes, b)
}

var runTimes = limits[unit.Second]{"the time to run the cable", 0, 100 * 3600}

// run resolves one run that a new cable could take.
func (a *asking) run(k key, f fileRun) {
	path := []string{"could", "cables", k.name}
	under := func(name ...string) []string { return append(slices.Clone(path), name...) }
	a.notes[finding.Subject("cables."+k.name)], a.notes[finding.Subject(strings.Join(path, "."))] = k.at, k.at
	c := change.Cable{ID: k.name, From: f.From, To: f.To, Walls: f.Walls, Replaces: f.Replaces, Via: f.Via, Subject: finding.Subject(strings.Join(path, "."))}
	if slices.Contains(a.limited(), k.name) {
		return
	}
	for i, id := range f.Kinds {
		if kind := look(a.reading, a.cat.Cables, id, "cable", under("kinds", strconv.Itoa(i))...); kind != nil {
			c.Kinds = append(c.Kinds, kind)
		}
	}
	ok := a.ends(&c, under)
	if c.Routed = !a.given(under("length")...); !c.Routed {
		c.Length, _ = quantity(a.reading, f.Length, unit.ParseMillimetre, 0, lengths, under("length")...)
	}
	c.Tolerance, _ = quantity(a.reading, f.Tolerance, unit.ParseMillimetre, 0, tolerances, under("tolerance")...)
	seconds, _ := quantity(a.reading, f.Time, unit.ParseSecond, 0, runTimes, under("time")...)
	c.Minutes = float64(seconds) / 60
	if c.Tolerance > c.Length && c.Length > 0 {
		a.report(a.at(under("tolerance")...), "check both numbers", "the tolerance of %v is more than the length of %v", c.Tolerance, c.Length)
	}
	if f.Replaces != "" && a.found.in.Cable(f.Replaces) == nil {
		a.report(a.at(under("replaces")...), didYouMean(f.Replaces, a.found.cableIDs()), "there is no cable called %q as found", f.Replaces)
	}
	if !ok {
		return
	}
	a.ask.Could.Cables = append(a.ask.Could.Cables, c)
	if c.Routed {
		a.routed = append(a.routed, routed{c.ID, [2]string{c.From, c.To}, strings.Join(path, "."), k.at})
	}
}

// limited lists the runs that are not to be used after all.
func (a *asking) limited() []string {
	if a.text.Limits == nil {
		return nil
	}
	return a.text.Limits.Cables
}

// ends checks a run's name and the boxes at its ends.
func (a *asking) ends(c *change.Cable, under func(...string) []string) bool {
	if a.found.in.Cable(c.ID) != nil {
		a.report(a.name("could", "cables", c.ID), "give the run another name", "cable %q is there already as found", c.ID)
		return false
	}
	ok := c.From != "" && c.To != ""
	for _, end := range []struct{ key, box string }{{"from", c.From}, {"to", c.To}} {
		ok = end.box != "" && a.hasBox(end.box, a.at(under(end.key)...)) && ok
		if b := a.found.in.Box(end.box); b != nil && b.Fitted(c.ID) != nil {
			a.report(a.name("could", "cables", c.ID), "give the run another name", "run %s ends in box %s, where something else has the same name", c.ID, end.box)
			ok = false
		}
	}
	if ok && c.From == c.To {
		a.report(a.at(under("to")...), "give it two different boxes", "run %s starts and ends in box %q", c.ID, c.From)
		ok = false
	}
	return ok
}

// limits resolves what must be left alone.
func (a *asking) limits() {
	f := a.text.Limits
	if f == nil {
		return
	}
	l := &a.ask.Limits
	for i, id := range f.Closed {
		a.limitBox(id, a.at("limits", "closed", strconv.Itoa(i)))
	}
	a.limitRuns(f)
	for i, id := range f.Switches {
		if k := look(a.reading, a.cat.Accessories, id, "accessory", "limits", "switches", strconv.Itoa(i)); k != nil {
			a.workable(k, "limits", "switches", strconv.Itoa(i))
			l.Switches = append(l.Switches, k)
		}
	}
	for i, id := range f.Doubtful {
		if a.found.in.Cable(id) == nil {
			a.report(a.at("limits", "doubtful", strconv.Itoa(i)), didYouMean(id, a.found.cableIDs()), "there is no cable called %q as found", id)
		}
	}
	l.Doubtful = f.Doubtful
	a.stock(f.Stock)
}

// limitBox closes a box that is there as found.
func (a *asking) limitBox(id string, at place) {
	switch {
	case a.found.in.Box(id) != nil:
		a.ask.Limits.Closed = append(a.ask.Limits.Closed, change.Limit{Name: id, Subject: finding.Subject("boxes." + id)})
	case a.known(id):
		a.report(at, "leave it out under could: if it is not wanted", "box %q is not there as found; it could only be added", id)
	default:
		a.noBox(a.found, id, at)
	}
}

// limitRuns checks the names of runs that are not to be used after all.
func (a *asking) limitRuns(f *fileLimits) {
	runs := a.text.Could.runs()
	for i, id := range f.Cables {
		if runs[id] == nil {
			a.report(a.at("limits", "cables", strconv.Itoa(i)), didYouMean(id, kit.Names(runs)), "there is no run called %q under could: cables:", id)
		}
	}
}

func (f *fileCould) runs() map[string]*fileRun {
	runs := map[string]*fileRun{}
	if f != nil {
		for id, r := range f.Cables {
			runs[id] = &r
		}
	}
	return runs
}

// limitWalls resolves the walls that are not to be cut: those that runs name,
// and those of the house.
func (r *reading) limitWalls(ask *change.Ask, h *house.House) {
	if ask == nil || r.text.Limits == nil {
		return
	}
	walls := r.walls(h)
	for i, name := range r.text.Limits.Walls {
		if !slices.Contains(walls, name) && (h != nil || r.text.House == nil) {
			r.report(r.at("limits", "walls", strconv.Itoa(i)), didYouMean(name, walls), "no run under could: cables: opens a wall called %q", name)
			continue
		}
		ask.Limits.Walls = append(ask.Limits.Walls, change.Limit{Name: name, Subject: finding.Subject("limits.walls." + strconv.Itoa(i))})
	}
}

// walls are the names of walls that a run could open.
func (r *reading) walls(h *house.House) []string {
	var names []string
	for _, c := range r.text.Could.runs() {
		names = append(names, c.Walls...)
	}
	if h != nil {
		for _, w := range h.Walls {
			names = append(names, w.ID)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// stock resolves what is on the van.
func (a *asking) stock(f *fileStock) {
	if f == nil {
		return
	}
	st := &change.Stock{Cable: map[string]unit.Millimetre{}, Fitting: map[string]int{}, Subject: "limits.stock"}
	for _, k := range a.keys("limits", "stock", "cables") {
		listed(a, a.cat.Cables, "cable", k)
		st.Cable[k.name], _ = quantity(a.reading, f.Cables[k.name], unit.ParseMillimetre, 0, limits[unit.Millimetre]{"the length in stock", 0, 10000 * unit.Metre}, "limits", "stock", "cables", k.name)
	}
	for _, k := range a.keys("limits", "stock", "switches") {
		listed(a, a.cat.Accessories, "accessory", k)
		if f.Switches[k.name] < 0 {
			a.report(a.at("limits", "stock", "switches", k.name), "write 0 or more", "a number in stock cannot be negative")
		}
		st.Fitting[k.name] = f.Switches[k.name]
	}
	a.ask.Limits.Stock = st
}

// listed checks that the catalogue has a kind of that name.
func listed[K any](a *asking, kinds map[string]*K, what string, k key) {
	if kinds[k.name] == nil {
		a.report(k.at, didYouMean(k.name, kit.Names(kinds)), "the catalogue has no %s called %q", what, k.name)
	}
}
