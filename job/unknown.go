package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strapper/fault"
	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

type fileUnknown struct {
	Ends   []fileLoose           `json:"ends" jsonschema:"minItems=2" jsonschema_description:"Cable ends whose other end is not known. Every cable needs both of its ends here."`
	Joints map[string][][]string `json:"joints,omitempty" jsonschema_description:"What is joined in the boxes of these ends, as in joints: but with the ends' labels. A box named here must not stand under joints:."`
	Tests  []fileLink            `json:"tests,omitempty" jsonschema_description:"Tests made so far, every loose end disconnected."`
}

type fileLoose struct {
	Box  string `json:"box" jsonschema:"minLength=1" jsonschema_description:"The box where it ends."`
	End  string `json:"end" jsonschema:"pattern=^[A-Za-z0-9][A-Za-z0-9_-]*$" jsonschema_description:"The label you have put on it."`
	Kind string `json:"kind" jsonschema:"example=te-1.0-old,example=single-red-1.0" jsonschema_description:"Kind of cable, by its id in the catalogue, from its sheath and cores. Which of two cores of one colour is which does not matter."`
}

type fileLink struct {
	Linked []string `json:"linked" jsonschema:"minItems=1" jsonschema_description:"Cores of one box joined to one another and to a long lead, each written box.label.core."`
	Read   string   `json:"read" jsonschema:"minLength=1" jsonschema_description:"The core in another box that was read against the lead."`
	Is     string   `json:"is" jsonschema:"enum=joined,enum=open" jsonschema_description:"What was read."`
}

// runs resolves the unknown: section against the wiring as found; nil if there
// is none, or if it was refused.
func (r *reading) runs(s *stage) *fault.Unknown {
	f := r.text.Unknown
	if f == nil || r.incomplete {
		return nil
	}
	before := len(r.list)
	u := &fault.Unknown{Known: s.in}
	for i := range f.Ends {
		r.looseEnd(s, u, &f.Ends[i], strconv.Itoa(i))
	}
	if len(r.list) > before {
		return nil
	}
	part := &stage{in: &wiring.Installation{Boxes: s.in.Boxes}, places: s.places, joined: s.joined}
	for _, k := range r.keys("unknown", "joints") {
		r.joints(part, k, "unknown", "joints", k.name)
	}
	u.Joints = part.in.Joints
	r.checkRuns(s, u)
	for i := range f.Tests {
		r.link(u, &f.Tests[i], strconv.Itoa(i))
	}
	if len(r.list) > before {
		return nil
	}
	return u
}

func (r *reading) looseEnd(s *stage, u *fault.Unknown, f *fileLoose, n string) {
	kind := look(r, r.cat.Cables, f.Kind, "cable", "unknown", "ends", n, "kind")
	box := s.in.Box(f.Box)
	twice := slices.ContainsFunc(u.Ends, func(e fault.LooseEnd) bool { return e.Label == f.End })
	switch at := r.at("unknown", "ends", n); {
	case box == nil:
		r.noBox(s, f.Box, at)
	case twice || s.in.Cable(f.End) != nil || s.in.Circuit(f.End) != nil || box.Fitted(f.End) != nil:
		r.report(at, "give each end a label of its own", "something else is called %q already", f.End)
	case kind != nil:
		u.Ends = append(u.Ends, fault.LooseEnd{Box: f.Box, Label: f.End, Kind: kind})
	}
}

// checkRuns lets wiring look for names that are not there: each loose end is a
// cable to nowhere for the purpose.
func (r *reading) checkRuns(s *stage, u *fault.Unknown) {
	const nowhere = "~nowhere"
	in := *s.in
	in.Boxes = append(slices.Clone(in.Boxes), &wiring.Box{ID: nowhere, Kind: &kit.Box{}})
	in.Cables = slices.Clone(in.Cables)
	for _, e := range u.Ends {
		in.Cables = append(in.Cables, &wiring.Cable{ID: e.Label, Kind: e.Kind, From: e.Box, To: nowhere, Length: 1000})
	}
	in.Joints = slices.Concat(in.Joints, u.Joints)
	_, findings := wiring.Build(&in)
	for _, f := range findings {
		if f.Severity != finding.Forbids {
			continue
		}
		at, ok := s.places[f.Subject]
		if !ok {
			at = r.at("unknown", "joints")
		}
		r.report(at, f.Fix, "%s", f.Text)
	}
}

func (r *reading) link(u *fault.Unknown, f *fileLink, n string) {
	t := fault.LinkTest{Joined: f.Is == "joined", Subject: finding.Subject("unknown.tests." + n)}
	core := func(at place, text string) wiring.End {
		e, ok := seenEnd(text)
		ok = ok && slices.ContainsFunc(u.Ends, func(l fault.LooseEnd) bool {
			return l.Box == e.Box && l.Label == e.Item && l.Kind.Core(e.Name) != nil
		})
		if !ok {
			r.report(at, "write box.label.core, with a label of ends:", "%q is not a core of a loose end", text)
		}
		return e
	}
	t.Read = core(r.at("unknown", "tests", n, "read"), f.Read)
	for i, text := range f.Linked {
		at := r.at("unknown", "tests", n, "linked", strconv.Itoa(i))
		e := core(at, text)
		if e.Box == t.Read.Box || len(t.Linked) > 0 && e.Box != t.Linked[0].Box {
			r.report(at, "link cores of one box and read in another", "%q is not in the one box whose cores are linked", text)
		}
		t.Linked = append(t.Linked, e)
	}
	u.Tests = append(u.Tests, t)
}

// linkText is one test as the file has it.
func linkText(t *fault.LinkTest) string {
	var linked []string
	for _, e := range t.Linked {
		linked = append(linked, fullName(e))
	}
	is := map[bool]string{true: "joined", false: "open"}[t.Joined]
	return fmt.Sprintf("{ linked: [%s], read: %s, is: %s }", strings.Join(linked, ", "), fullName(t.Read), is)
}

func fullName(e wiring.End) string { return e.Box + "." + e.String() }

// FoundText is the cables and joints that an identification has added to the
// known wiring, as sections of a job file write them. Joints of boxes that the
// known wiring has joints in already are left out.
func FoundText(known, found *wiring.Installation) (cables, joints []string) {
	for _, c := range found.Cables {
		if known.Cable(c.ID) == nil {
			cables = append(cables, fmt.Sprintf("  %s: { kind: %s, from: %s, to: %s, length: %g m, tolerance: %g m, via: %q }",
				c.ID, c.Kind.ID, c.From, c.To, c.Length.Metres(), c.Tolerance.Metres(), c.Via))
		}
	}
	for _, b := range found.Boxes {
		if slices.ContainsFunc(known.Joints, func(j wiring.Joint) bool { return j.Box == b.ID }) {
			continue
		}
		var lines []string
		for _, j := range found.Joints {
			if j.Box != b.ID {
				continue
			}
			var ends []string
			for _, e := range j.Ends {
				ends = append(ends, e.String())
			}
			lines = append(lines, "    - ["+strings.Join(ends, ", ")+"]")
		}
		if len(lines) > 0 {
			joints = append(append(joints, "  "+b.ID+":"), lines...)
		}
	}
	return cables, joints
}

// NoteLinks writes tests into the unknown: section of a job file's text, after
// those that are there.
func NoteLinks(text []byte, list []fault.LinkTest) ([]byte, error) {
	if len(list) == 0 {
		return text, nil
	}
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	from, to, err := section(lines, "unknown")
	if err != nil {
		return nil, err
	}
	at, indent := to, "    "
	tests := -1
	for i := from + 1; i < to; i++ {
		if strings.HasPrefix(strings.TrimSpace(lines[i]), "tests:") {
			tests = i
		}
	}
	var entries []string
	if tests < 0 {
		entries = append(entries, "  tests:")
	} else {
		for at = tests + 1; at < to && strings.HasPrefix(strings.TrimSpace(lines[at]), "-"); at++ {
			indent = lines[at][:len(lines[at])-len(strings.TrimLeft(lines[at], " "))]
		}
	}
	for i := range list {
		entries = append(entries, indent+"- "+linkText(&list[i]))
	}
	return []byte(strings.Join(slices.Insert(lines, at, entries...), "\n") + "\n"), nil
}

// section finds the lines of a section in block form: its name, and the line
// after its last entry.
func section(lines []string, name string) (from, to int, err error) {
	from = slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, name+":") })
	if from < 0 {
		return -1, -1, nil
	}
	rest, _, _ := strings.Cut(strings.TrimPrefix(lines[from], name+":"), "#")
	if strings.TrimSpace(rest) != "" {
		return 0, 0, fmt.Errorf("the section %s is written on one line: give each entry a line of its own, so that more can be added", name)
	}
	to = from + 1
	for i := from + 1; i < len(lines); i++ {
		plain := strings.TrimSpace(lines[i])
		if plain == "" || strings.HasPrefix(plain, "#") {
			continue
		}
		if !strings.HasPrefix(lines[i], " ") && !strings.HasPrefix(lines[i], "-") {
			break
		}
		to = i + 1
	}
	return from, to, nil
}

// NoteFound writes identified wiring into a job file's text: its cables and
// joints into their sections, and the unknown: section turned into comments.
func NoteFound(text []byte, known, found *wiring.Installation) ([]byte, error) {
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	from, to, err := section(lines, "unknown")
	if err != nil {
		return nil, err
	}
	for i := max(from, 0); i < to; i++ {
		lines[i] = strings.TrimRight("# "+lines[i], " ")
	}
	cables, joints := FoundText(known, found)
	for _, part := range []struct {
		name    string
		entries []string
	}{{"cables", cables}, {"joints", joints}} {
		_, at, err := section(lines, part.name)
		if err != nil {
			return nil, err
		}
		if at < 0 {
			lines = append(lines, "", part.name+":")
			at = len(lines)
		}
		lines = slices.Insert(lines, at, part.entries...)
	}
	return []byte(strings.Join(lines, "\n") + "\n"), nil
}
