package house

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/unit"
)

// Mistake is one fault of a table of outlines, with its place.
type Mistake struct {
	Position finding.Position
	Text     string
	Fix      string
}

// Error prints the mistake on one line: file:line:column: text; fix.
func (m *Mistake) Error() string {
	text := fmt.Sprintf("%s: %s", m.Position, m.Text)
	if m.Fix != "" {
		text += "; " + m.Fix
	}
	return text
}

// MostCorners is the greatest number of rows of a table of outlines.
const MostCorners = 10_000

// ReadOutlines reads a table with one row a corner, in order round each room:
//
//	room,x,y
//	hall,0,0
//	hall,0,4500
//
// The header gives the unit: "x mm" and "y mm", or "x m" and "y m" (also in
// brackets, or with an underscore); or every number carries its own. A column
// "storey" may be added, and any others are passed over. Columns may be divided
// by semicolons, and then have decimal commas. Rooms keep the order in which
// they first appear. The error joins all mistakes, each a [*Mistake].
func ReadOutlines(file string, text []byte) ([]DraftRoom, error) {
	plain := strings.TrimPrefix(string(text), "\uFEFF")
	t := &table{file: file, row: csv.NewReader(strings.NewReader(plain))}
	head, _, _ := strings.Cut(plain, "\n")
	if strings.Contains(head, ";") {
		t.row.Comma, t.comma = ';', true
	}
	t.row.FieldsPerRecord = -1
	t.row.Comment = '#'
	t.row.TrimLeadingSpace = true
	if t.header() {
		t.corners()
	}
	for _, r := range t.rooms {
		if len(t.errs) == 0 && len(r.Outline) < 3 {
			t.wrong(t.last[r.ID], 1, "give at least three rows", "room %s has only %d corners", r.ID, len(r.Outline))
		}
	}
	if len(t.errs) > 0 {
		return nil, errors.Join(t.errs...)
	}
	return t.rooms, nil
}

// table is one reading of a table of outlines.
type table struct {
	file          string
	row           *csv.Reader
	comma         bool // decimal commas
	room, x, y    int  // columns
	storey        int  // -1 if there is none
	scaleX, scale float64
	rooms         []DraftRoom
	last          map[string]int // line of each room's last corner
	errs          []error
}

func (t *table) wrong(line, column int, fix, format string, args ...any) {
	if len(t.errs) < 50 {
		t.errs = append(t.errs, &Mistake{finding.Position{File: t.file, Line: line, Column: column}, fmt.Sprintf(format, args...), fix})
	}
}

// read reads one row; nil at the end or after a row that cannot be read.
func (t *table) read() []string {
	fields, err := t.row.Read()
	var bad *csv.ParseError
	switch {
	case errors.As(err, &bad):
		t.wrong(bad.Line, bad.Column, "check quotation marks", "the row cannot be read: %v", bad.Err)
		return nil
	case err != nil && !errors.Is(err, io.EOF):
		t.wrong(1, 1, "", "the table cannot be read: %v", err)
		return nil
	}
	return fields
}

func (t *table) header() bool {
	t.room, t.x, t.y, t.storey, t.last = -1, -1, -1, -1, map[string]int{}
	fields := t.read()
	if fields == nil {
		if len(t.errs) == 0 {
			t.wrong(1, 1, "begin with the header room,x mm,y mm", "the table is empty")
		}
		return false
	}
	for i, f := range fields {
		words := strings.Fields(strings.NewReplacer("_", " ", "(", " ", ")", " ", "[", " ", "]", " ").Replace(strings.ToLower(f)))
		if len(words) == 0 {
			continue
		}
		switch words[0] {
		case "room":
			t.room = i
		case "storey":
			t.storey = i
		case "x":
			t.x, t.scaleX = i, t.unit(i, words)
		case "y":
			t.y, t.scale = i, t.unit(i, words)
		}
	}
	if t.room < 0 || t.x < 0 || t.y < 0 {
		line, column := t.row.FieldPos(0)
		t.wrong(line, column, "begin with the header room,x mm,y mm", "the header lacks room, x or y")
	}
	return len(t.errs) == 0
}

// unit is the number of millimetres in the unit of a column; 0 if the header
// does not say.
func (t *table) unit(i int, words []string) float64 {
	if len(words) == 1 {
		return 0
	}
	switch words[1] {
	case "mm":
		return 1
	case "cm":
		return 10
	case "m":
		return 1000
	}
	line, column := t.row.FieldPos(i)
	t.wrong(line, column, "write mm, cm or m", "%q is not a unit of length", words[1])
	return 0
}

func (t *table) corners() {
	for n := 0; ; n++ {
		before := len(t.errs)
		fields := t.read()
		if fields == nil {
			if len(t.errs) > before {
				continue
			}
			return
		}
		line, _ := t.row.FieldPos(0)
		if n >= MostCorners {
			t.wrong(line, 1, "divide the table", "the table has more than %d corners", MostCorners)
			return
		}
		t.corner(line, fields)
	}
}

func (t *table) corner(line int, fields []string) {
	if len(fields) <= max(t.room, t.x, t.y) {
		t.wrong(line, 1, "give room, x and y in every row", "the row has only %d columns", len(fields))
		return
	}
	id := roomID(fields[t.room])
	if id == "" {
		_, column := t.row.FieldPos(t.room)
		t.wrong(line, column, "write the room's name in every row", "the row names no room")
		return
	}
	x, okX := t.length(line, t.x, fields[t.x], t.scaleX)
	y, okY := t.length(line, t.y, fields[t.y], t.scale)
	if !okX || !okY {
		return
	}
	r := t.find(id, fields)
	r.Outline = append(r.Outline, Point{x, y})
	t.last[id] = line
}

// find is the room with an id, new if it was not met before.
func (t *table) find(id string, fields []string) *DraftRoom {
	for i := range t.rooms {
		if t.rooms[i].ID == id {
			return &t.rooms[i]
		}
	}
	r := DraftRoom{ID: id, Title: strings.TrimSpace(fields[t.room])}
	if t.storey >= 0 && t.storey < len(fields) {
		r.Storey = roomID(fields[t.storey])
	}
	t.rooms = append(t.rooms, r)
	return &t.rooms[len(t.rooms)-1]
}

// roomID makes a name that can be used in a job file: "Front room" becomes
// "front-room".
func roomID(name string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(strings.TrimSpace(name)) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '_':
			b.WriteRune(c)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.TrimRight(strings.TrimLeft(b.String(), "_"), "-")
}

// length reads one coordinate in millimetres.
func (t *table) length(line, field int, text string, scale float64) (MM, bool) {
	_, column := t.row.FieldPos(field)
	text = strings.TrimSpace(text)
	if t.comma {
		text = strings.Replace(text, ",", ".", 1)
	}
	number, err := strconv.ParseFloat(text, 64)
	var v MM
	switch {
	case err == nil && scale == 0:
		t.wrong(line, column, `write the unit in the header, such as "x mm"`, "%q has no unit", text)
		return 0, false
	case err == nil && !math.IsNaN(number) && math.Abs(number*scale) <= float64(Reach):
		v = MM(math.Round(number * scale))
	default:
		if v, err = unit.ParseMillimetre(text); err != nil {
			t.wrong(line, column, `write a number, or a number and a unit, such as "2.4 m"`, "%q is not a length", text)
			return 0, false
		}
	}
	if v < -Reach || v > Reach {
		t.wrong(line, column, "check the number and its unit", "%v is too far away for a house", v)
		return 0, false
	}
	return v, true
}
