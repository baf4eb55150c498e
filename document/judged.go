package document

import (
	"fmt"
	"strings"

	"strapper/engine"
	"strapper/finding"
	"strapper/internal/draw"
	"strapper/reading"
	"strapper/rules"
)

// judged is the page of what the rule book asks: what is to be done, what was
// not assessed, and every rule that was held against the work with its value
// and limit.
func (p *pack) judged() []draw.Block {
	if len(p.Verdicts) == 0 {
		return nil
	}
	n := p.Count()
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "What the rules ask"},
		draw.Para{Text: fmt.Sprintf("Held against %s, %s. %d rules are met, %d are not, %d are too close to tell, %d were not assessed. It judges what this sheet and the survey say, not what is in the wall; the printed standard and local rules govern.",
			p.Job.Book.Name(), p.Job.Book.Scope, n[rules.Met], n[rules.NotMet], n[rules.TooClose], n[rules.NotAssessed])},
	}
	blocks = append(blocks, p.group(rules.ToDo, "To be done", draw.Ticks)...)
	blocks = append(blocks, p.group(rules.NotAssessed, "Not assessed: find out, or let a competent person judge", draw.Bullets)...)
	return append(blocks, p.heldAgainst()...)
}

// group is a list of the verdicts of one outcome.
func (p *pack) group(o rules.Outcome, head string, kind draw.ListKind) []draw.Block {
	var items []string
	for _, g := range p.Group(o) {
		text := "**" + strings.Join(g.Titles, "; ") + ".** " + sentence(g.First.Why)
		if g.More > 0 {
			text = strings.TrimSuffix(text, ".") + fmt.Sprintf(", and %d more.", g.More)
		}
		items = append(items, text+" "+sentence(g.First.Fix))
	}
	if len(items) == 0 {
		return nil
	}
	return []draw.Block{draw.Heading{Level: 2, Text: head}, draw.List{Kind: kind, Items: items}}
}

// outcomes as a word in a frame.
var outcomes = map[rules.Outcome]draw.Cell{
	rules.Met:      {State: "met", Tone: draw.Good},
	rules.NotMet:   {State: "not met", Tone: draw.Bad},
	rules.TooClose: {State: "too close", Tone: draw.Warn},
}

// heldAgainst is the table of the rules that were judged. What is met without
// a value, point by point, shares a row.
func (p *pack) heldAgainst() []draw.Block {
	t := draw.Table{Head: []string{"", "Rule", "Where", "Found", "Clause"}, Weights: []float64{2, 4, 4, 6, 3}}
	rows := map[string]int{}
	for i := range p.Verdicts {
		v := &p.Verdicts[i]
		state, shown := outcomes[v.Outcome]
		if !shown {
			continue
		}
		if k, again := rows[v.Check]; again && v.Outcome == rules.Met && v.Value == nil {
			t.Rows[k][2].Text += "; " + p.whereOf(v.Subject)
			t.Rows[k][3].Text = "So at each of them."
			continue
		}
		rows[v.Check] = len(t.Rows)
		t.Rows = append(t.Rows, []draw.Cell{state, {Text: v.Title}, {Text: p.whereOf(v.Subject)}, {Text: sentence(v.Why)}, {Text: p.clause(v)}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []draw.Block{draw.Heading{Level: 2, Text: "Held against the rules"}, t, p.cells()}
}

func (p *pack) whereOf(s finding.Subject) string {
	if s == "job" {
		return "the work"
	}
	return placeOf(s, p.insts()...)
}

// clause is a citation and how far it may be relied on; the book itself is
// named above the table.
func (p *pack) clause(v *rules.Verdict) string {
	c := v.Citation.String()
	if v.Citation.Document == p.Job.Book.Document {
		c = v.Citation.Clause
	}
	return fmt.Sprintf("%s (%s)", c, v.Source.Authority)
}

// cells lists the table cells that were used, each once.
func (p *pack) cells() draw.Block {
	var list []string
	seen := map[string]bool{}
	for i := range p.Verdicts {
		for _, c := range p.Verdicts[i].Cells {
			text := strings.TrimPrefix(c.String(), p.Job.Book.Name()+" ")
			if !seen[text] {
				seen[text] = true
				list = append(list, text)
			}
		}
	}
	return draw.Para{Style: draw.Small, Text: "Values used: " + strings.Join(list, "; ") + "."}
}

// taken is the table of the readings that were taken.
func (p *pack) taken() []draw.Block {
	if len(p.Readings) == 0 {
		return nil
	}
	t := draw.Table{Head: []string{"Reading", "Shown", "Predicted", "", "Why"}, Weights: []float64{4.4, 2, 3, 2.4, 7}}
	for i := range p.Readings {
		j := &p.Readings[i]
		v := j.Worst()
		why := "No rule is for this reading."
		if v != nil {
			why = strings.TrimSpace(sentence(v.Why) + " " + sentence(v.Fix))
		}
		t.Rows = append(t.Rows, []draw.Cell{{Text: j.Case.Name}, {Text: j.Shown()}, {Text: j.Expected()}, readingState(v), {Text: why}})
	}
	return []draw.Block{
		draw.Heading{Level: 1, Text: "Readings taken"},
		draw.Para{Text: "Judged by " + p.Job.Book.Name() + ", with the uncertainty of the instrument taken off. Where that is not stated, the worst that the instrument's standard allows is taken."},
		t,
	}
}

func readingState(v *rules.Verdict) draw.Cell {
	word := engine.Word(v)
	tone := draw.Plain
	switch word {
	case "pass":
		tone = draw.Good
	case "FAIL":
		tone = draw.Bad
	case "differs", string(rules.TooClose):
		tone = draw.Warn
	}
	return draw.Cell{State: word, Tone: tone}
}

// measured is the cell for what was measured: a box to write in, or the reading
// that the job has of the row. Only one that names where the switches stood, or
// whose row is for any position, is put there; the others stand in the table of
// the readings taken.
func (s *sheet) measured(r *reading.Reading) draw.Cell {
	for i := range s.Job.Readings {
		t := &s.Job.Readings[i]
		named := t.Leads[1] != "" || t.Test != reading.Insulation
		if named && t.Fits(r) && t.Open == r.Open && len(t.Switches) >= len(r.Switches) {
			return draw.Cell{Text: t.Shown(), Bold: true}
		}
	}
	return draw.Cell{Empty: true}
}
