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
	if len(r.list) == before {
		r.looseJoints(s, u)
		for i := range f.Tests {
			r.link(u, &f.Tests[i], strconv.Itoa(i))
		}
	}
	if len(r.list) > before {
		return nil
	}
	return u
}

// looseJoints resolves what is joined in the boxes of loose ends.
func (r *reading) looseJoints(s *stage, u *fault.Unknown) {
	part := &stage{in: &wiring.Installation{Boxes: s.in.Boxes}, places: s.places, joined: s.joined}
	for _, k := range r.keys("unknown", "joints") {
		r.joints(part, k, "unknown", "joints", k.name)
	}
	u.Joints = part.in.Joints
	r.checkRuns(s, u)
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
	t.Read = r.looseCore(u, r.at("unknown", "tests", n, "read"), f.Read)
	for i, text := range f.Linked {
		at := r.at("unknown", "tests", n, "linked", strconv.Itoa(i))
		e := r.looseCore(u, at, text)
		if e.Box == t.Read.Box || len(t.Linked) > 0 && e.Box != t.Linked[0].Box {
			r.report(at, "link cores of one box and read in another", "%q is not in the one box whose cores are linked", text)
		}
		t.Linked = append(t.Linked, e)
	}
	u.Tests = append(u.Tests, t)
}

// looseCore reads "box.label.core".
func (r *reading) looseCore(u *fault.Unknown, at place, text string) wiring.End {
	e, ok := seenEnd(text)
	ok = ok && slices.ContainsFunc(u.Ends, func(l fault.LooseEnd) bool {
		return l.Box == e.Box && l.Label == e.Item && l.Kind.Core(e.Name) != nil
	})
	if !ok {
		r.report(at, "write box.label.core, with a label of ends:", "%q is not a core of a loose end", text)
	}
	return e
}

// linkText is one test as the file has it.
func linkText(t *fault.LinkTest) string {
	var linked []string
	for _, e := range t.Linked {
		linked = append(linked, e.Path())
	}
	is := "open"
	if t.Joined {
		is = "joined"
	}
	return fmt.Sprintf("{ linked: [%s], read: %s, is: %s }", strings.Join(linked, ", "), t.Read.Path(), is)
}

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
		if len(jointLines(known, b.ID)) > 0 {
			continue
		}
		if lines := jointLines(found, b.ID); len(lines) > 0 {
			joints = append(append(joints, "  "+b.ID+":"), lines...)
		}
	}
	return cables, joints
}

// jointLines are the joints of a box as a job file writes them.
func jointLines(in *wiring.Installation, box string) []string {
	var lines []string
	for _, j := range in.Joints {
		if j.Box != box {
			continue
		}
		var ends []string
		for _, e := range j.Ends {
			ends = append(ends, e.String())
		}
		lines = append(lines, "    - ["+strings.Join(ends, ", ")+"]")
	}
	return lines
}

// NoteLinks writes tests into the unknown: section of a job file's text, after
// those that are there.
func NoteLinks(text []byte, list []fault.LinkTest) ([]byte, error) {
	if len(list) == 0 {
		return text, nil
	}
	lines := linesOf(text)
	from, to, err := section(lines, "unknown")
	if err != nil {
		return nil, err
	}
	at, indent := testsEnd(lines, from, to)
	var entries []string
	if at < 0 {
		entries, at = append(entries, "  tests:"), to
	}
	for i := range list {
		entries = append(entries, indent+"- "+linkText(&list[i]))
	}
	return textOf(slices.Insert(lines, at, entries...)), nil
}

// testsEnd finds the line after the last entry of tests: in the unknown:
// section, and how its entries are indented; -1 if there are no tests.
func testsEnd(lines []string, from, to int) (at int, indent string) {
	at, indent = -1, "    "
	for i := from + 1; i < to; i++ {
		if strings.HasPrefix(strings.TrimSpace(lines[i]), "tests:") {
			at = i + 1
		}
	}
	for ; at >= 0 && at < to && strings.HasPrefix(strings.TrimSpace(lines[at]), "-"); at++ {
		indent = indentOf(lines[at])
	}
	return at, indent
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
	return from, blockEnd(lines, from+1), nil
}

// blockEnd is the line after the last entry of a block that begins at a line;
// what is blank or a comment behind it is not part of it.
func blockEnd(lines []string, from int) int {
	end := from
	for i := from; i < len(lines); i++ {
		plain := strings.TrimSpace(lines[i])
		if plain == "" || strings.HasPrefix(plain, "#") {
			continue
		}
		if !strings.HasPrefix(lines[i], " ") && !strings.HasPrefix(lines[i], "-") {
			break
		}
		end = i + 1
	}
	return end
}

// linesOf and textOf take the text of a file apart into lines, and put it
// together again with one end of line behind the last.
func linesOf(text []byte) []string {
	return strings.Split(strings.TrimRight(string(text), "\n"), "\n")
}

func textOf(lines []string) []byte { return []byte(strings.Join(lines, "\n") + "\n") }

// indentOf is the blanks before an entry.
func indentOf(line string) string {
	return line[:len(line)-len(strings.TrimLeft(line, " "))]
}

// NoteFound writes identified wiring into a job file's text: its cables and
// joints into their sections, and the unknown: section turned into comments.
func NoteFound(text []byte, known, found *wiring.Installation) ([]byte, error) {
	lines := linesOf(text)
	from, to, err := section(lines, "unknown")
	if err != nil {
		return nil, err
	}
	for i := max(from, 0); i < to; i++ {
		lines[i] = strings.TrimRight("# "+lines[i], " ")
	}
	cables, joints := FoundText(known, found)
	if lines, err = addTo(lines, "cables", cables); err == nil {
		lines, err = addTo(lines, "joints", joints)
	}
	if err != nil {
		return nil, err
	}
	return textOf(lines), nil
}

// addTo adds entries to a section, which is begun at the end if it is not there.
func addTo(lines []string, name string, entries []string) ([]string, error) {
	_, at, err := section(lines, name)
	if err != nil {
		return nil, err
	}
	if at < 0 {
		lines = append(lines, "", name+":")
		at = len(lines)
	}
	return slices.Insert(lines, at, entries...), nil
}
