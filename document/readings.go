package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/draw"
	"strapper/reading"
)

// readings are the tables of what each test should show.
func (p *pack) readings() []draw.Block {
	rs := p.Final().Readings
	if rs == nil || len(rs.Rows) == 0 {
		return nil
	}
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Readings to expect, " + p.Final().Name},
		draw.Para{Text: "Write what was measured in the empty box. A reading between low and high agrees with this sheet; that is no judgement that the installation is safe. A reading outside: stop and find out why. " +
			"Where one row names several positions, test in each and write the reading that is furthest from the nominal one."},
	}
	blocks = append(blocks, draw.Caution{Title: "Dead tests", Text: "Circuit isolated, locked off and proved dead. Lamps out, electronic equipment disconnected. The link or long lead put in at the board is for the test only: take it out, and see that it is out, before power is restored."})
	if !rs.Every {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: "There are more positions of the switches than were worked out: “any position tried” means the positions of a walk in which each switch is moved both ways."})
	}
	said := map[string]bool{}
	for _, test := range reading.Tests() {
		if s := p.sheet(test, said); len(s.rows) > 0 {
			blocks = append(blocks, draw.Heading{Level: 2, Text: test.Title()})
			blocks = append(blocks, s.blocks()...)
		}
	}
	return blocks
}

// A sheet is the table of one test.
type sheet struct {
	*pack
	test  reading.Test
	said  map[string]bool // cautions that stand above already
	table []reading.Row
	rows  []*reading.Reading // all of the table
	marks []string           // the notes by their letters
}

func (p *pack) sheet(test reading.Test, said map[string]bool) *sheet {
	s := &sheet{pack: p, test: test, said: said, table: p.Final().Readings.Table(p.Final().Graph, test)}
	for _, row := range s.table {
		s.rows = append(s.rows, row.Readings...)
	}
	return s
}

func (s *sheet) blocks() []draw.Block {
	blocks := s.cautions()
	if s.test == reading.Insulation {
		blocks = append(blocks, s.insulation()...)
	}
	t := s.print()
	if s.onlyLimits() {
		t.Weights, t.Align = []float64{4, 2.4, 5, 4.6, 2.4}, nil
	}
	blocks = append(blocks, t)
	for i, note := range s.marks {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: "**" + letter(i) + "** " + sentence(note)})
	}
	if limits := s.limits(); len(limits) > 0 {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: "Compared with: " + strings.Join(limits, "; ") + "."})
	}
	return blocks
}

// cautions are those of the rows that were not printed yet.
func (s *sheet) cautions() []draw.Block {
	var blocks []draw.Block
	for _, r := range s.rows {
		if r.Caution != "" && !s.test.Calculated() && !s.said[r.Caution] {
			s.said[r.Caution] = true
			blocks = append(blocks, draw.Caution{Title: "Live test", Text: sentence(strings.TrimPrefix(r.Caution, "Live: "))})
		}
	}
	return blocks
}

// insulation says in which positions to test and what to take out first.
func (s *sheet) insulation() []draw.Block {
	var blocks []draw.Block
	rs := s.Final().Readings
	if len(rs.Insulation) > 0 {
		blocks = append(blocks, draw.Para{Text: "Positions to test in, enough to reach every live conductor: **" + strings.Join(rs.Insulation, "; ") + "**."})
	}
	var out []string
	for _, f := range rs.Findings {
		if f.Severity == finding.Note {
			continue
		}
		out = append(out, sentence(f.Text)+" "+sentence(f.Fix))
	}
	if len(out) > 0 {
		blocks = append(blocks, draw.Para{Text: "First:"}, draw.List{Kind: draw.Ticks, Items: out})
	}
	return blocks
}

// onlyLimits reports whether the rows have no values, only limits.
func (s *sheet) onlyLimits() bool {
	return !slices.ContainsFunc(s.rows, func(r *reading.Reading) bool {
		return r.Ohm != nil || r.Volt != nil || r.Ampere != nil || r.Open
	})
}

func (s *sheet) print() draw.Table {
	t := draw.Table{
		Head: []string{"Point", "Leads", s.positionHead(), "Low", "Nominal", "High", "Measured"}, RowHead: true,
		Weights: []float64{3.6, 3, 4.9, 1.7, 1.9, 1.7, 2},
		Align:   []draw.Anchor{draw.Start, draw.Start, draw.Start, draw.End, draw.End, draw.End},
	}
	if s.onlyLimits() {
		t.Head = []string{"Point", "Leads", s.positionHead(), "Expect", "Measured"}
	}
	if s.test.Calculated() {
		t.Head = t.Head[:len(t.Head)-1]
		t.Weights = t.Weights[:len(t.Head)]
	}
	point, lead := "", ""
	for _, g := range s.table {
		row := s.row(g)
		r := g.Readings[0]
		samePoint := r.Point == point
		if samePoint {
			row[0].Text = ""
		}
		if samePoint && r.Leads() == lead {
			row[1].Text = ""
		}
		point, lead = r.Point, r.Leads()
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (s *sheet) row(g reading.Row) []draw.Cell {
	r := g.Readings[0]
	positions := make([]string, len(g.Readings))
	for i := range g.Readings {
		positions[i] = s.position(g.Readings[i])
	}
	if g.Others {
		positions = []string{"all the other positions"}
	}
	for i := range positions {
		positions[i] += s.mark(r.Note)
	}
	low, nominal, high := r.Columns()
	row := draw.Cells(s.pointName(r.Point), r.Leads(), strings.Join(positions, "\n"))
	if s.onlyLimits() {
		row = append(row, draw.Cell{Text: nominal})
	} else {
		row = append(row, draw.Cell{Text: low}, draw.Cell{Text: nominal, Bold: true}, draw.Cell{Text: high})
	}
	if s.test.Calculated() {
		return row
	}
	return append(row, s.measured(r))
}

// position is the positions of the switches in the order of the column's head.
func (s *sheet) position(r *reading.Reading) string {
	if len(r.Switches) == 0 {
		return r.Position
	}
	g := s.Final().Graph
	list := make([]string, len(g.Switches))
	for i := range g.Switches {
		list[i] = "any"
		if name, ok := r.Switches[g.Switches[i].ID()]; ok {
			list[i] = name
		}
	}
	return strings.Join(list, between)
}

// positionHead names the switches whose positions a column gives.
func (s *sheet) positionHead() string {
	g := s.Final().Graph
	if !slices.ContainsFunc(s.rows, func(r *reading.Reading) bool { return len(r.Switches) > 0 }) {
		return "Position"
	}
	list := make([]string, len(g.Switches))
	for i := range g.Switches {
		list[i] = g.Switches[i].Name()
	}
	return strings.Join(list, between)
}

const between = " · "

// pointName is the id of a point with what the household calls its box.
func (s *sheet) pointName(id string) string {
	box, _, ok := strings.Cut(id, ".")
	if name := boxName(box, s.insts()...); ok && name != box {
		if len(name) > 26 {
			name, _, _ = strings.Cut(name, ",")
		}
		return id + "\n" + name
	}
	return id
}

// mark is the letter of a note that is printed below the table.
func (s *sheet) mark(note string) string {
	if note == "" {
		return ""
	}
	i := slices.Index(s.marks, note)
	if i < 0 {
		i = len(s.marks)
		s.marks = append(s.marks, note)
	}
	return " (" + letter(i) + ")"
}

func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return fmt.Sprint(i + 1)
}

// limits lists what the rows are compared with; limits that stand in the
// table are given with their source only.
func (s *sheet) limits() []string {
	var list []string
	for _, r := range s.rows {
		if text := r.Limit.String(); text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}
