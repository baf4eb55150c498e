package rules

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"strapper/source"
)

// State is how far one cell of a table may be relied on.
type State string

// The states of a cell. Printed was read in a public page that gives it for this
// table, in this edition or an older one as its source says; the standard itself
// was not seen. Confirm is carried over from an earlier edition unread, worked
// from one, or taken from a standard that follows this one.
const (
	Printed  State = "published"
	Confirm  State = "to be confirmed"
	Recalled State = "memory"
)

// Authority is the state in the words of package source.
func (s State) Authority() source.Authority {
	switch s {
	case Printed:
		return source.Published
	case Confirm:
		return source.Derived
	}
	return source.Memory
}

// Cell is one value of a table with where it comes from.
type Cell struct {
	Table  Citation `json:"table"`
	At     string   `json:"at"` // row in words: "area 1.5 mm², method C"
	Value  float64  `json:"value"`
	Unit   string   `json:"unit"`
	State  State    `json:"state"`
	Source string   `json:"source"`
}

// String prints the cell as a footnote does.
func (c Cell) String() string {
	return fmt.Sprintf("%s, %s: %s [%s]", c.Table, c.At, strings.TrimSpace(strconv.FormatFloat(c.Value, 'f', -1, 64)+" "+c.Unit), c.State)
}

// Table is one table of a book. Its rows are cells, each found by the values
// of all the columns; it is never extrapolated and never interpolated.
type Table struct {
	Citation    Citation
	Title       string
	Answers     string // the question it answers, see [Question]; "*" if each row answers the one it names
	Unit        string
	Scale       float64 // factor from the table's unit to the base unit of package unit
	Columns     []Column
	Cells       []Cell
	Transcribed string // by whom, when, from what
	Checked     string // against print, by whom; "nobody yet" is allowed
	Carried     string // the edition from which it is taken over unread, if any

	keys  [][]string // by row and column
	index map[string]int
	steps []float64 // of the column that is read upward, by row
}

// Column is one key of a table.
type Column struct {
	Name string // "area", as keys name it
	// Up says that between two rows the next greater one is taken. A column is
	// so marked only where that errs on the safe side. At most one column is.
	Up bool
}

// ParseTable reads a table. Lines that begin with # before the rows are its
// head, "# name: value"; then comes a CSV with a header line: the columns, then
// value, state, source. A column named "x up" is read upward, and in its last
// row "500+" means that row or anything greater. A column named clause is the
// place of each value, where one file gathers values from the text of several
// ("411.5.3", or of another document "On-Site Guide|18th ed.|Table A1");
// a value may carry a unit of its own: "50 V".
func ParseTable(name, text string) (*Table, error) {
	t := &Table{Scale: 1}
	rest, err := t.head(text)
	if err != nil {
		return nil, fmt.Errorf("rules: %s: %w", name, err)
	}
	if err := t.rows(rest); err != nil {
		return nil, fmt.Errorf("rules: %s: %w", name, err)
	}
	if err := t.valid(); err != nil {
		return nil, fmt.Errorf("rules: %s: %w", name, err)
	}
	t.reindex()
	return t, nil
}

func (t *Table) head(text string) (rest string, err error) {
	for strings.HasPrefix(text, "#") {
		line, after, _ := strings.Cut(text, "\n")
		text = after
		name, value, ok := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, "#")), ":")
		if !ok {
			return "", fmt.Errorf("%q is not a line of the head: write name: value", line)
		}
		if err := t.set(name, strings.TrimSpace(value)); err != nil {
			return "", err
		}
	}
	return text, nil
}

func (t *Table) set(name, value string) (err error) {
	fields := map[string]*string{
		"document": &t.Citation.Document, "edition": &t.Citation.Edition, "table": &t.Citation.Clause, "title": &t.Title,
		"answers": &t.Answers, "unit": &t.Unit, "transcribed": &t.Transcribed, "checked": &t.Checked,
	}
	switch f, ok := fields[name]; {
	case ok:
		*f = value
	case name == "scale":
		t.Scale, err = strconv.ParseFloat(value, 64)
	default:
		err = fmt.Errorf("the head has no %q", name)
	}
	return err
}

func (t *Table) rows(text string) error {
	r := csv.NewReader(strings.NewReader(text))
	head, err := r.Read()
	if err != nil {
		return err
	}
	n := len(head) - 3
	if n < 0 || !slices.Equal(head[n:], []string{"value", "state", "source"}) {
		return fmt.Errorf("the last three columns are value, state, source, not %v", head)
	}
	clause := slices.Index(head[:n], "clause")
	for i, h := range head[:n] {
		if column, up := strings.CutSuffix(h, " up"); i != clause {
			t.Columns = append(t.Columns, Column{column, up})
		}
	}
	for {
		row, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if err := t.row(row, n, clause); err != nil {
			return err
		}
	}
}

// row adds one row of n columns before its value. A column "clause" is no key:
// it is the place of the value where the table gathers several.
func (t *Table) row(row []string, n, clause int) error {
	c := Cell{Table: t.Citation, State: State(row[n+1]), Source: row[n+2]}
	keys := slices.Clone(row[:n])
	if clause >= 0 {
		c.Table.Clause = row[clause]
		if place := strings.Split(row[clause], "|"); len(place) == 3 {
			c.Table = Citation{place[0], place[1], place[2]}
		}
		keys = slices.Delete(keys, clause, clause+1)
	}
	c.At = t.place(keys)
	number, name, own := strings.Cut(row[n], " ")
	if c.Unit = t.Unit; own {
		c.Unit = name
	}
	var err error
	if c.Value, err = strconv.ParseFloat(number, 64); err != nil {
		return fmt.Errorf("%s: %q is not a number", c.At, row[n])
	}
	t.Cells, t.keys = append(t.Cells, c), append(t.keys, keys)
	return nil
}

// units of the columns that carry one, for words.
var units = map[string]string{
	"area": " mm²", "rated": " A", "within": " s", "ambient": " °C", "surrounded": " mm", "residual": " A", "multiple": " × IΔn", "power": " W",
}

// place says in words where a row is: "area 1.5 mm², method C".
func (t *Table) place(keys []string) string {
	parts := make([]string, len(keys))
	for i, k := range keys {
		switch name := t.Columns[i].Name; {
		case name == "what":
			parts[i] = k
		case k == "-":
			parts[i] = "no " + name
		default:
			parts[i] = name + " " + k + units[name]
		}
	}
	return strings.Join(parts, ", ")
}

// valid reports what a table may not lack.
func (t *Table) valid() error {
	for _, f := range [][2]string{{"document", t.Citation.Document}, {"table", t.Citation.Clause}, {"title", t.Title}, {"transcribed", t.Transcribed}, {"checked", t.Checked}} {
		if f[1] == "" {
			return fmt.Errorf("the head lacks %q", f[0])
		}
	}
	seen := map[string]bool{}
	for _, c := range t.Cells {
		switch {
		case c.State != Printed && c.State != Confirm && c.State != Recalled:
			return fmt.Errorf("%s: %q is not a state", c.At, c.State)
		case c.Source == "":
			return fmt.Errorf("%s: no source", c.At)
		case seen[c.At]:
			return fmt.Errorf("%s: there twice", c.At)
		}
		seen[c.At] = true
	}
	return nil
}

// reindex prepares the table for look-ups, after its cells were set.
func (t *Table) reindex() {
	t.index = make(map[string]int, len(t.Cells))
	t.steps = make([]float64, len(t.Cells))
	for i := range t.Cells {
		key := ""
		for k, part := range t.keys[i] {
			if t.Columns[k].Up {
				t.steps[i] = number(strings.TrimSuffix(part, "+"))
				continue
			}
			key += tidy(part) + "|"
		}
		if t.upward() < 0 {
			t.index[key] = i
			continue
		}
		t.index[key+strconv.Itoa(i)] = i
	}
}

func (t *Table) upward() int { return slices.IndexFunc(t.Columns, func(c Column) bool { return c.Up }) }

// tidy makes numbers that are equal look equal: "1.0" and "1".
func tidy(s string) string {
	if v, err := strconv.ParseFloat(s, 64); err == nil {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return s
}

func number(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64) // a row that is no number is found by no key
	return v
}

// Lookup finds the cell for the keys; keys that the table has no column for
// are ignored, as another edition's table may depend on more. If there is no
// cell, why says so in words.
func (t *Table) Lookup(keys ...Key) (c Cell, ok bool, why string) {
	key, step, missing := t.key(keys)
	if missing != "" {
		return Cell{}, false, fmt.Sprintf("%s asks for the %s, which is not known", t.Citation, missing)
	}
	if t.upward() < 0 {
		if i, found := t.index[key]; found {
			return t.Cells[i], true, ""
		}
		return Cell{}, false, t.off(keys)
	}
	best := -1
	for i := range t.Cells {
		if _, found := t.index[key+strconv.Itoa(i)]; !found {
			continue
		}
		if (t.steps[i] >= step || t.open(i)) && (best < 0 || t.steps[i] < t.steps[best]) {
			best = i
		}
	}
	if best < 0 {
		return Cell{}, false, t.off(keys)
	}
	return t.Cells[best], true, ""
}

// open reports whether a row stands for anything greater too.
func (t *Table) open(i int) bool {
	return strings.HasSuffix(t.keys[i][t.upward()], "+")
}

func (t *Table) key(keys []Key) (key string, step float64, missing string) {
	for _, c := range t.Columns {
		i := slices.IndexFunc(keys, func(k Key) bool { return k.Name == c.Name })
		if i < 0 || keys[i].Value == "" {
			return "", 0, c.Name
		}
		if c.Up {
			step = number(keys[i].Value)
			continue
		}
		key += tidy(keys[i].Value) + "|"
	}
	return key, step, ""
}

// base is a value in base units. Dividing by 1000 keeps 36 mΩ at 0.036 Ω, where
// multiplying by 0.001 does not.
func (t *Table) base(v float64) float64 {
	if t.Scale < 1 {
		return v / math.Round(1/t.Scale)
	}
	return v * t.Scale
}

func (t *Table) off(keys []Key) string {
	var parts []string
	for _, c := range t.Columns {
		for _, k := range keys {
			if k.Name == c.Name {
				parts = append(parts, k.Name+" "+k.Value)
			}
		}
	}
	return fmt.Sprintf("%s has no row for %s", t.Citation, strings.Join(parts, ", "))
}

// With is the table with one cell's value changed, for tests that ask whether
// any check notices. The table itself is not altered.
func (t *Table) With(cell int, value float64) *Table {
	c := *t
	c.Cells = slices.Clone(t.Cells)
	c.Cells[cell].Value = value
	c.reindex()
	return &c
}

// Carry is the table taken over into another edition unread: what was printed
// for the old one is to be confirmed for the new.
func (t *Table) Carry(from, edition string) *Table {
	c := *t
	c.Carried = from
	if c.Citation.Edition == from {
		c.Citation.Edition = edition
	}
	c.Cells = slices.Clone(t.Cells)
	for i := range c.Cells {
		x := &c.Cells[i]
		if x.Table.Edition != from {
			continue // another document's, which has not changed
		}
		x.Table.Edition = edition
		if x.State == Printed {
			x.State = Confirm
		}
		x.Source += "; carried from " + from
	}
	c.reindex()
	return &c
}
