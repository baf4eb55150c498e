package reading

import (
	"slices"

	"strapper/wiring"
)

// Tests lists the tests in the order in which their tables stand on paper.
func Tests() []Test {
	return []Test{R2, R1R2, R1, Rn, Polarity, Insulation, Zs, ZsWorking, Voltage, Ghost, Glow}
}

var titles = map[Test]string{
	R2:         "Dead: protective conductor, R2 by long lead",
	R1R2:       "Dead: R1+R2, line and cpc linked at the board",
	R1:         "Dead: line, R1 by long lead",
	Rn:         "Dead: neutral, Rn by long lead",
	Polarity:   "Dead: polarity",
	Insulation: "Dead: insulation",
	Zs:         "Live: earth fault loop impedance",
	ZsWorking:  "Calculated: loop impedance with warm conductors",
	Voltage:    "Live: voltage, two-pole tester",
	Ghost:      "Live: voltage, high-impedance meter (ghost voltages)",
	Glow:       "Estimated: current through a lamp that is off",
}

// Title is the heading of a test's table: whether it is dead, live or not a
// test at all, and what is measured.
func (t Test) Title() string { return titles[t] }

// Calculated reports whether the test is worked out and never measured.
func (t Test) Calculated() bool { return t == ZsWorking || t == Glow }

// A Row is the readings of one point and pair of leads that look alike on
// paper: same display, note and limit. It has one reading at least.
type Row struct {
	Readings []*Reading
	Others   bool // the row is for all positions that the rows above it of the same leads do not name
}

// Table gathers the readings of one test, pair of leads by pair of leads in
// the order of the readings; it is empty if the test has none. Where the rows
// of a pair cover every position of the switches of g that was examined, the one
// that would name most of them, if more than two, comes last and stands for all
// the others.
func (rs *Readings) Table(g *wiring.Graph, test Test) []Row {
	var rows []Row
	var pair []*Reading
	var states []wiring.State
	if rs.Every {
		states = settable(g)
	}
	for i := range rs.Rows {
		r := &rs.Rows[i]
		if r.Test != test {
			continue
		}
		if len(pair) > 0 && !sameLeads(pair[0], r) {
			rows = append(rows, gather(g, states, pair)...)
			pair = nil
		}
		pair = append(pair, r)
	}
	if len(pair) > 0 {
		rows = append(rows, gather(g, states, pair)...)
	}
	return rows
}

func sameLeads(a, b *Reading) bool { return a.Point == b.Point && a.Between == b.Between }

// gather makes the rows of one pair of leads; states are all that were
// examined, or none if those were chosen from many.
func gather(g *wiring.Graph, states []wiring.State, pair []*Reading) []Row {
	var rows []Row
	covered := 0
	for _, r := range pair {
		covered += covers(g, states, r)
		i := slices.IndexFunc(rows, func(row Row) bool { return alike(row.Readings[0], r) })
		if i < 0 {
			i = len(rows)
			rows = append(rows, Row{})
		}
		rows[i].Readings = append(rows[i].Readings, r)
	}
	longest := 0
	for i := range rows {
		if len(rows[i].Readings) > len(rows[longest].Readings) {
			longest = i
		}
	}
	if row := rows[longest]; covered > 0 && covered == len(states) && len(rows) > 1 && len(row.Readings) > 2 {
		row.Others = true
		rows = append(slices.Delete(rows, longest, longest+1), row)
	}
	return rows
}

// covers is the number of states that a reading is for.
func covers(g *wiring.Graph, states []wiring.State, r *Reading) (n int) {
	for _, s := range states {
		fits := true
		for i := range g.Switches {
			name, fixed := r.Switches[g.Switches[i].ID()]
			fits = fits && (!fixed || name == g.Position(s, i))
		}
		if fits {
			n++
		}
	}
	return n
}

func alike(a, b *Reading) bool {
	al, an, ah := a.Columns()
	bl, bn, bh := b.Columns()
	return al == bl && an == bn && ah == bh && a.Note == b.Note && a.Limit.String() == b.Limit.String()
}

// String is the limit with where it comes from; empty if there is none.
func (l *Limit) String() string {
	if l == nil {
		return ""
	}
	return l.Text + " (" + l.Source.Cite + ")"
}

// Leads says where the two leads go.
func (r *Reading) Leads() string {
	if r.Between[1] == "" {
		return r.Between[0]
	}
	return r.Between[0] + " – " + r.Between[1]
}
