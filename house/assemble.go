package house

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/unit"
)

// Assemble makes a house of the description. The findings hold everything that
// is wrong with it, and a note for every assumption; if one of them forbids,
// the house is nil. Subjects are paths such as "house.rooms.kitchen". An error
// is a fault of the program's own data.
func (d *Draft) Assemble() (*House, []finding.Finding, error) {
	a := &assembly{d: d, h: &House{}, builds: map[string]*Build{}}
	usual, err := Builds()
	if err != nil {
		return nil, nil, err
	}
	for _, b := range slices.Concat(usual, d.Builds) {
		a.builds[b.ID] = b
	}
	for _, stage := range [][]func(){
		{a.uniqueNames},
		{a.storeys},
		{a.rooms},
		{a.outlines},
		{a.walls, a.floors, a.openings, a.timber, a.boxes, a.blocks}, // faults of one do not follow from those of another
		{a.check},
	} {
		for _, step := range stage {
			step()
		}
		if finding.Forbidden(a.list) {
			break
		}
	}
	a.tellAssumed()
	finding.Sort(a.list)
	if finding.Forbidden(a.list) {
		return nil, a.list, nil
	}
	a.h.Findings = a.list
	return a.h, a.list, nil
}

// assembly is one making of a house. Its stages run in order, and each may rely
// on those before it having found nothing that forbids.
type assembly struct {
	d       *Draft
	h       *House
	builds  map[string]*Build
	list    []finding.Finding
	assumed []taken
	byRef   map[string]*Wall     // by id, and with the two rooms in the other order
	said    map[*Wall]*DraftWall // what is described of a wall
	extent  *[2]Point            // of the house, once it was asked for
}

// taken is one assumption and where it was used.
type taken struct {
	what  string // with its value
	where []finding.Subject
	has   map[finding.Subject]bool
}

func at(parts ...string) finding.Subject {
	return finding.Subject("house." + strings.Join(parts, "."))
}

func (a *assembly) forbid(s finding.Subject, code, fix, format string, args ...any) {
	a.add(finding.Forbids, s, code, fix, format, args...)
}

func (a *assembly) caution(s finding.Subject, code, fix, format string, args ...any) {
	a.add(finding.Caution, s, code, fix, format, args...)
}

func (a *assembly) note(s finding.Subject, code, fix, format string, args ...any) {
	a.add(finding.Note, s, code, fix, format, args...)
}

func (a *assembly) add(sev finding.Severity, s finding.Subject, code, fix, format string, args ...any) {
	a.list = append(a.list, finding.Finding{Code: code, Severity: sev, Subject: s, Text: fmt.Sprintf(format, args...), Fix: fix})
}

// assume notes that a figure was taken for a subject.
func (a *assembly) assume(s finding.Subject) func(assumption) {
	return func(x assumption) { a.took(s, "%s: %v", x.name, x.value) }
}

func (a *assembly) took(s finding.Subject, format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	i := slices.IndexFunc(a.assumed, func(t taken) bool { return t.what == what })
	if i < 0 {
		i = len(a.assumed)
		a.assumed = append(a.assumed, taken{what: what, has: map[finding.Subject]bool{}})
	}
	if t := &a.assumed[i]; !t.has[s] {
		t.has[s] = true
		t.where = append(t.where, s)
	}
}

// tellAssumed makes notes of the assumptions: one for each floor and box, and
// one for each group of walls, openings or storeys of which the same is assumed.
func (a *assembly) tellAssumed() {
	type group struct {
		where []finding.Subject
		what  []string
	}
	var order []string
	groups := map[string]*group{}
	add := func(where []finding.Subject, what string) {
		key := fmt.Sprint(where)
		if groups[key] == nil {
			groups[key] = &group{where: where}
			order = append(order, key)
		}
		groups[key].what = append(groups[key].what, what)
	}
	for _, t := range a.assumed {
		if !strings.HasPrefix(string(t.where[0]), "house.floors.") && !strings.HasPrefix(string(t.where[0]), "house.boxes.") {
			add(t.where, t.what)
			continue
		}
		for i := range t.where {
			add(t.where[i:i+1:i+1], t.what)
		}
	}
	for _, key := range order {
		g := groups[key]
		a.list = append(a.list, finding.Finding{
			Code: "house-assumed", Severity: finding.Note, Subject: g.where[0], Related: g.where[1:],
			Text: fmt.Sprintf("assumed for %s: %s", sectioned(g.where), strings.Join(g.what, "; ")),
			Fix:  "measure what a hole or a length depends on, and give it in the house section",
		})
	}
}

// sectioned names subjects with what they are: "walls a and b".
func sectioned(where []finding.Subject) string {
	parts := strings.Split(string(where[0]), ".")
	if len(parts) < 3 {
		return "the house"
	}
	names := make([]string, len(where))
	for i, s := range where {
		names[i] = lastOf(s)
	}
	section := parts[1]
	if len(where) == 1 {
		section = map[string]string{"boxes": "box"}[section]
		if section == "" {
			section = strings.TrimSuffix(parts[1], "s")
		}
	}
	return section + " " + listed(names)
}

func lastOf(s finding.Subject) string {
	text := string(s)
	return text[strings.LastIndexByte(text, '.')+1:]
}

// listed joins names as a sentence does; long lists are cut.
func listed(names []string) string {
	const most = 6
	if n := len(names); n > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most-1], ", "), n-most+1)
	}
	return finding.List(names, " and ")
}

// meant is advice on a name that is not there.
func meant(name string, names []string) string {
	if near := finding.Nearest(name, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if len(names) == 0 {
		return ""
	}
	return "known here: " + listed(names)
}

func ids[T any](list []T, id func(T) string) []string {
	names := make([]string, len(list))
	for i, x := range list {
		names[i] = id(x)
	}
	return names
}

func (a *assembly) roomIDs() []string {
	return ids(a.d.Rooms, func(r DraftRoom) string { return r.ID })
}

func (a *assembly) wallIDs() []string { return ids(a.h.Walls, func(w *Wall) string { return w.ID }) }

// reserved are words that say where something is, and so cannot name a room.
var reserved = []string{"left", "right", "front", "back", OnCeiling, AboveCeiling, UnderFloor}

// uniqueNames refuses lists that use a name twice: the job file cannot, other
// makers of drafts might.
func (a *assembly) uniqueNames() {
	for _, l := range []struct {
		section string
		names   []string
	}{
		{"storeys", ids(a.d.Storeys, func(s DraftStorey) string { return s.ID })},
		{"rooms", a.roomIDs()},
		{"openings", ids(a.d.Openings, func(o DraftOpening) string { return o.ID })},
		{"boxes", ids(a.d.Boxes, func(b DraftBox) string { return b.ID })},
		{"obstructions", ids(a.d.Blocks, func(b DraftBlock) string { return b.ID })},
	} {
		seen := map[string]bool{}
		for _, id := range l.names {
			if id == "" || seen[id] {
				a.forbid(at(l.section, id), "house-name-twice", "give each its own name", "the name %q is used twice under %s, or is empty", id, l.section)
			}
			seen[id] = true
		}
	}
	for _, id := range a.roomIDs() {
		if slices.Contains(reserved, id) {
			a.forbid(at("rooms", id), "house-reserved-name", "add a word, such as \""+id+"-room\"", "a room cannot be called %q, which says where something is", id)
		}
	}
	if len(a.d.Rooms) == 0 {
		a.forbid("house", "house-empty", "give at least one room, such as \"hall: { size: 2 m x 4 m }\"", "the house has no rooms")
	}
}

// storeys sets out the storeys; their floors and levels follow in floors.
func (a *assembly) storeys() {
	list := a.d.Storeys
	if len(list) == 0 {
		list = []DraftStorey{{ID: "ground", Title: "Ground floor"}}
		a.took("house", "one storey, called ground")
	}
	for i, f := range list {
		s := &Storey{ID: f.ID, Title: f.Title, Index: i, Cellar: f.Cellar}
		if s.Title == "" {
			s.Title = storeyTitle(s.ID)
		}
		s.Height = storeyHeight.or(f.Height, a.assume(at("storeys", f.ID)))
		a.inRange(at("storeys", f.ID), "the height of the storey", s.Height, 1500, 6000)
		a.h.Storeys = append(a.h.Storeys, s)
	}
}

// inRange refuses a length that cannot be meant.
func (a *assembly) inRange(s finding.Subject, what string, v, least, most MM) bool {
	if v < least || v > most {
		a.forbid(s, "house-impossible", "check the number and its unit", "%s is %v; it should lie between %v and %v", what, v, least, most)
		return false
	}
	return true
}

// base is the storey that rooms belong to if nothing else is said: the lowest
// that is no cellar.
func (a *assembly) base() *Storey {
	for _, s := range a.h.Storeys {
		if !s.Cellar {
			return s
		}
	}
	return a.h.Storeys[0]
}

// storeyTitle makes "First floor" of "first"; other ids are taken as they are.
func storeyTitle(id string) string {
	if slices.Contains([]string{"ground", "first", "second", "third", "fourth", "upper", "lower", "top"}, id) {
		return titled(id) + " floor"
	}
	return titled(id)
}

// titled makes a heading of an id: "front-room" is "Front room".
func titled(id string) string {
	return finding.Capital(strings.ReplaceAll(strings.ReplaceAll(id, "-", " "), "_", " "))
}

// percentRange refuses a likelihood that is none.
func (a *assembly) percentRange(s finding.Subject, p *unit.Percent) {
	if p != nil && (*p < 0 || *p > 100) {
		a.forbid(s, "house-impossible", "give a percentage, such as \"50 %%\"", "a likelihood of %v is not between 0 and 100 %%", *p)
	}
}
