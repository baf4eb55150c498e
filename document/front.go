package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/engine"
	"strapper/finding"
	"strapper/internal/draw"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// front is the first page: whose job it is, the verdict, and what is wrong.
func (p *pack) front() []draw.Block {
	blocks := []draw.Block{p.heading()}
	blocks = append(blocks, p.verdict()...)
	if len(p.Wants) > 0 {
		blocks = append(blocks, draw.Heading{Level: 2, Text: "What is wanted"}, draw.List{Items: p.wants()})
	}
	return slices.Concat(blocks, p.way(), p.findings())
}

// way says how what is wanted is wired, where the job asked for that to be
// found.
func (p *pack) way() []draw.Block {
	if p.Way == nil {
		return nil
	}
	var items []string
	for _, t := range p.Way.Title {
		items = append(items, t+".")
	}
	items = append(items, fmt.Sprintf("What it disturbs: %s. Minutes weigh the trouble; they are no quotation.", p.Way.Effort))
	if p.Change.Smallest && p.Way == &p.Change.Ways[0] {
		items = append(items, "No way within the limits of the job takes less effort; that is proved.")
	}
	return []draw.Block{draw.Heading{Level: 2, Text: "How it is wired: " + p.Way.Name}, draw.List{Items: items}}
}

// heading is a table of two columns without a head.
func (p *pack) heading() draw.Table {
	s := p.Final().Inst.Supply
	t := draw.Table{RowHead: true, Weights: []float64{1, 5}}
	for _, row := range [][2]string{
		{"For", p.Job.Client},
		{"At", p.Job.Address},
		{"Note", p.Job.Note},
		{"Supply", fmt.Sprintf("%v, %v Hz, %s, Ze %v, cables at %v when tested", s.Voltage, float64(s.Frequency), s.Earthing, s.Ze, s.Ambient)},
		{"Circuits", p.circuitList()},
	} {
		if row[1] != "" {
			t.Rows = append(t.Rows, draw.Cells(row[0], oneLine(row[1])))
		}
	}
	return t
}

func (p *pack) circuitList() string {
	var list []string
	for _, c := range p.Final().Inst.Circuits {
		text := c.ID
		if c.Title != "" {
			text += ": " + c.Title
		}
		if c.Device != nil {
			text += ", " + c.Device.Title
		}
		if c.RCD != nil {
			text += ", " + c.RCD.Title
		}
		list = append(list, text)
	}
	return strings.Join(list, "; ")
}

// verdict is one line when the work may be done, and a framed refusal with
// what forbids it when not.
func (p *pack) verdict() []draw.Block {
	if !p.Forbidden() {
		return []draw.Block{draw.Para{Style: draw.Lead, Text: "**Proved:** " + p.proved()}}
	}
	var why []string
	for _, f := range p.Findings {
		if text := sentence(f.Text); f.Severity == finding.Forbids && !slices.Contains(why, text) {
			why = append(why, text)
		}
	}
	title := refused
	if p.Left == nil {
		title = "DANGEROUS: put this right before anything else is done"
	}
	why = append(why, "Steps, parts and readings are not printed for wiring that is refused.")
	return []draw.Block{draw.Caution{Title: title, Text: strings.Join(why, "\n")}}
}

const refused = "REFUSED: do not carry out this work as planned"

// proved is what the proof says, in the count of positions it covers.
func (p *pack) proved() string {
	n := p.Final().Proof.States
	toggles, others := 0, 0
	for _, w := range p.Wants {
		if w.Rule == switching.RuleToggle || w.Rule == "" {
			toggles++
		} else {
			others++
		}
	}
	switch {
	case p.pushed():
		return fmt.Sprintf("each press changes its lamps, worked out for all %d positions, and no position shows a hazard that was looked for.", n)
	case toggles+others == 0:
		return fmt.Sprintf("no position of the switches, of all %d, shows a hazard that was looked for. No control was asked for.", n)
	case others > 0:
		return fmt.Sprintf("the control wanted holds in all %d positions of the switches, and no position shows a hazard that was looked for.", n)
	case toggles == 1 && len(p.Wants[0].Lamps) == 1:
		return fmt.Sprintf("every switch changes the lamp from all %d positions, and no position shows a hazard that was looked for.", n)
	}
	return fmt.Sprintf("every switch changes its lamps from all %d positions, and no position shows a hazard that was looked for.", n)
}

// pushed reports whether every control wanted is by pushes that spring back.
func (p *pack) pushed() bool {
	some := false
	for _, w := range p.Wants {
		for _, id := range w.From {
			i := p.Final().Graph.SwitchIndex(id)
			if i < 0 || p.Final().Graph.Switches[i].Kind.Actuator != kit.ByPush {
				return false
			}
			some = true
		}
	}
	return some
}

// wants says each control in words.
func (p *pack) wants() []string {
	var list []string
	for _, w := range p.Wants {
		from, lit := p.names(w.From), "lit"
		if !p.lights(w.Lamps) {
			lit = "on"
		}
		text := "**" + p.names(w.Lamps) + "** "
		switch {
		case len(w.From) == 1:
			text += "switched by " + from
		case w.Rule == switching.RuleAny:
			text += lit + " while any one of these is on: " + from
		case w.Rule == switching.RuleAll:
			text += lit + " only while all of these are on: " + from
		default:
			text += "changed by each of these, whatever the others are set to: " + from
		}
		if len(w.Off) > 0 {
			text += "; held off by " + p.names(w.Off)
		}
		list = append(list, text+".")
	}
	return list
}

// lights reports whether all of the loads are lamps, and no fan among them.
func (p *pack) lights(ids []string) bool {
	return !slices.ContainsFunc(p.Final().Graph.Loads, func(l wiring.Load) bool {
		return slices.Contains(ids, l.ID()) && l.Item.Kind.Class != kit.ClassLamp
	})
}

// names are the accessories as the household calls them; semicolons part them,
// as a name may hold commas.
func (p *pack) names(ids []string) string {
	list := make([]string, len(ids))
	for i, id := range ids {
		list[i] = placeOf(finding.Subject("boxes."+id), p.insts()...)
	}
	return strings.Join(list, "; ")
}

// findings are two tables: what concerns the work, and what is wrong as found
// where the work changes the wiring.
func (p *pack) findings() []draw.Block {
	var plan, found []finding.Finding
	for _, f := range withoutAssumed(p.Findings) {
		if p.Left != nil && f.Stage == engine.AsFound {
			found = append(found, f)
		} else {
			plan = append(plan, f)
		}
	}
	var blocks []draw.Block
	if len(plan) > 0 {
		blocks = append(blocks, draw.Heading{Level: 2, Text: "Findings on the wiring " + p.Final().Name}, p.findingTable(plan))
	}
	if len(found) > 0 {
		blocks = append(blocks,
			draw.Heading{Level: 2, Text: "As found: what is there now, before the work"},
			draw.Para{Style: draw.Cautious, Text: "Nothing below is put right by being listed. What the work does not remove is for whoever is responsible for the installation, and they must be told."},
			p.findingTable(found))
	}
	if len(blocks) == 0 {
		blocks = append(blocks, draw.Para{Text: "Nothing was found that forbids the work or needs a warning of its own."})
	}
	return blocks
}

// states of a finding as a word in a frame.
var severities = map[finding.Severity]draw.Cell{
	finding.Forbids: {State: "forbids", Tone: draw.Bad},
	finding.Caution: {State: "caution", Tone: draw.Warn},
	finding.Note:    {State: "note", Tone: draw.Plain},
}

// findingTable has a row for each finding; those that differ only in their
// place share one.
func (p *pack) findingTable(list []finding.Finding) draw.Table {
	t := draw.Table{Head: []string{"", "Where", "What, and seen when", "To do"}, Weights: []float64{2.1, 4, 7, 4.9}}
	for len(list) > 0 {
		f := list[0]
		var where, what []string
		var rest []finding.Finding
		for _, o := range list {
			if o.Code != f.Code || o.Severity != f.Severity || o.Fix != f.Fix {
				rest = append(rest, o)
				continue
			}
			where = append(where, p.where(o))
			what = append(what, whatAndWhen(o))
		}
		list = rest
		t.Rows = append(t.Rows, []draw.Cell{
			severities[f.Severity], {Text: strings.Join(where, "\n")}, {Text: strings.Join(what, "\n")}, {Text: sentence(f.Fix)},
		})
	}
	return t
}

// where is a finding's place, with its line in the job file.
func (p *pack) where(f finding.Finding) string {
	text := placeOf(f.Subject, p.insts()...)
	if f.Position.Line > 0 {
		text += fmt.Sprintf(" (line %d)", f.Position.Line)
	}
	return text
}

func whatAndWhen(f finding.Finding) string {
	text := "**" + strings.ReplaceAll(sentence(f.Text), "**", "") + "**"
	if f.Severity != finding.Forbids {
		text = sentence(f.Text)
	}
	if f.Witness != "" {
		text += " Seen when: " + strings.TrimPrefix(f.Witness, "seen when: ") + "."
	}
	return text
}
