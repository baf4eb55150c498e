package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/draw"
	"strapper/reading"
)

// testTitles are the headings of the tables, in the order in which they stand.
// What is calculated has no box to write in.
var testTitles = []struct {
	test       reading.Test
	title      string
	calculated bool
}{
	{test: reading.R2, title: "Dead: protective conductor, R2 by long lead"},
	{test: reading.R1R2, title: "Dead: R1+R2, line and cpc linked at the board"},
	{test: reading.R1, title: "Dead: line, R1 by long lead"},
	{test: reading.Rn, title: "Dead: neutral, Rn by long lead"},
	{test: reading.Polarity, title: "Dead: polarity"},
	{test: reading.Insulation, title: "Dead: insulation"},
	{test: reading.Zs, title: "Live: earth fault loop impedance"},
	{test: reading.ZsWorking, title: "Calculated: loop impedance with warm conductors", calculated: true},
	{test: reading.Voltage, title: "Live: voltage, two-pole tester"},
	{test: reading.Ghost, title: "Live: voltage, high-impedance meter (ghost voltages)"},
	{test: reading.Glow, title: "Estimated: current through a lamp that is off", calculated: true},
}

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
	if !rs.Every {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: "There are more positions of the switches than were worked out: “any position tried” means the positions of a walk in which each switch is moved both ways."})
	}
	said := map[string]bool{}
	for _, tt := range testTitles {
		s := sheet{pack: p, test: tt.test, calculated: tt.calculated, said: said}
		for i := range rs.Rows {
			if rs.Rows[i].Test == tt.test {
				s.rows = append(s.rows, &rs.Rows[i])
			}
		}
		if len(s.rows) > 0 {
			blocks = append(blocks, draw.Heading{Level: 2, Text: tt.title})
			blocks = append(blocks, s.blocks()...)
		}
	}
	return blocks
}

// A sheet is the table of one test.
type sheet struct {
	*pack
	test       reading.Test
	calculated bool
	said       map[string]bool // cautions that stand above already
	rows       []*reading.Reading
	marks      []string // the notes by their letters
}

func (s *sheet) blocks() []draw.Block {
	blocks := s.cautions()
	if s.test == reading.Insulation {
		blocks = append(blocks, s.insulation()...)
	}
	t := s.table()
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
		if r.Caution != "" && !s.calculated && !s.said[r.Caution] {
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
		out = append(out, sentence(f.Text))
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

func (s *sheet) table() draw.Table {
	t := draw.Table{
		Head: []string{"Point", "Leads", s.positionHead(), "Low", "Nominal", "High", "Measured"}, RowHead: true,
		Weights: []float64{3.6, 3, 4.9, 1.7, 1.9, 1.7, 2},
		Align:   []draw.Anchor{draw.Start, draw.Start, draw.Start, draw.End, draw.End, draw.End},
	}
	if s.onlyLimits() {
		t.Head = []string{"Point", "Leads", s.positionHead(), "Expect", "Measured"}
	}
	if s.calculated {
		t.Head = t.Head[:len(t.Head)-1]
		t.Weights = t.Weights[:len(t.Head)]
	}
	point, lead := "", ""
	for _, g := range s.merged() {
		row := s.row(g)
		r := g.list[0]
		samePoint := r.Point == point
		if samePoint {
			row[0].Text = ""
		}
		if samePoint && leads(r) == lead {
			row[1].Text = ""
		}
		point, lead = r.Point, leads(r)
		t.Rows = append(t.Rows, row)
	}
	return t
}

// A tableRow is the readings of one pair of leads that look the same on paper.
// The last row of a pair may stand for every position that the pair's other
// rows do not name.
type tableRow struct {
	list   []*reading.Reading
	others bool
}

// merged makes the rows pair by pair in the order of the readings.
func (s *sheet) merged() []tableRow {
	var rows []tableRow
	for i := 0; i < len(s.rows); {
		n := i + 1
		for n < len(s.rows) && s.rows[n].Point == s.rows[i].Point && s.rows[n].Between == s.rows[i].Between {
			n++
		}
		rows = append(rows, s.mergedPair(s.rows[i:n])...)
		i = n
	}
	return rows
}

func (s *sheet) mergedPair(list []*reading.Reading) []tableRow {
	var rows []tableRow
	covered := uint64(0)
	for _, r := range list {
		covered += s.covers(r)
		i := slices.IndexFunc(rows, func(g tableRow) bool { return looksLike(g.list[0], r) })
		if i < 0 {
			rows = append(rows, tableRow{})
			i = len(rows) - 1
		}
		rows[i].list = append(rows[i].list, r)
	}
	longest := 0
	for i := range rows {
		if len(rows[i].list) > len(rows[longest].list) {
			longest = i
		}
	}
	if row := rows[longest]; covered == s.Final().Graph.States() && len(rows) > 1 && len(row.list) > 2 {
		row.others = true
		rows = append(slices.Delete(rows, longest, longest+1), row)
	}
	return rows
}

// covers is the number of positions of all switches that a reading is for.
func (s *sheet) covers(r *reading.Reading) uint64 {
	n := uint64(1)
	for i := range s.Final().Graph.Switches {
		sw := &s.Final().Graph.Switches[i]
		if _, fixed := r.Switches[sw.ID()]; !fixed {
			n *= uint64(len(sw.Kind.Positions))
		}
	}
	return n
}

func looksLike(a, b *reading.Reading) bool {
	al, an, ah := a.Columns()
	bl, bn, bh := b.Columns()
	return a.Point == b.Point && a.Between == b.Between && al == bl && an == bn && ah == bh && a.Note == b.Note && limitText(a) == limitText(b)
}

func (s *sheet) row(g tableRow) []draw.Cell {
	r := g.list[0]
	positions := make([]string, len(g.list))
	for i := range g.list {
		positions[i] = s.position(g.list[i])
	}
	if g.others {
		positions = []string{"every other position"}
	}
	low, nominal, high := r.Columns()
	row := draw.Cells(s.pointName(r.Point), leads(r), strings.Join(positions, "\n")+s.mark(r.Note))
	if s.onlyLimits() {
		row = append(row, draw.Cell{Text: nominal})
	} else {
		row = append(row, draw.Cell{Text: low}, draw.Cell{Text: nominal, Bold: true}, draw.Cell{Text: high})
	}
	if s.calculated {
		return row
	}
	return append(row, draw.Cell{Empty: true})
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

func leads(r *reading.Reading) string {
	if r.Between[1] == "" {
		return r.Between[0]
	}
	return r.Between[0] + " – " + r.Between[1]
}

// limits lists what the rows are compared with; limits that stand in the
// table are given with their source only.
func (s *sheet) limits() []string {
	var list []string
	for _, r := range s.rows {
		if text := limitText(r); text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// limitText is a limit and where it comes from.
func limitText(r *reading.Reading) string {
	if r.Limit == nil {
		return ""
	}
	return r.Limit.Text + " (" + r.Limit.Source.Cite + ")"
}
