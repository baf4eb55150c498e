package document

import (
	"strings"

	"strapper/engine"
	"strapper/finding"
	"strapper/internal/draw"
	"strapper/switching"
	"strapper/wiring"
)

// isolation is the checklist of making safe: what is off for the whole of the
// work and its order, then each box that is opened with its pairs to test.
func (p *pack) isolation() []draw.Block {
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Making safe"},
		draw.Caution{Title: "Off while any box of this work is open", Text: p.wholeOff()},
	}
	if w := p.Whole.Warnings(); len(w) > 0 {
		blocks = append(blocks, draw.Heading{Level: 3, Text: "Think of this first"}, draw.List{Kind: draw.Ticks, Items: w})
	}
	if p.Forbidden() {
		blocks = append(blocks, draw.Para{Style: draw.Cautious, Text: "The plan is refused. This page serves to make safe what is there, not to carry it out."})
	}
	blocks = append(blocks, draw.Heading{Level: 2, Text: "Order of work"}, draw.List{Kind: draw.Ticks, Items: p.Whole.Steps()})
	for i := range p.Openings {
		if o := &p.Openings[i]; o.Works {
			blocks = append(blocks, p.opening(o)...)
		}
	}
	return blocks
}

func (p *pack) wholeOff() string {
	var list []string
	for _, c := range p.Whole.All() {
		list = append(list, "Circuit "+c.Named())
	}
	if p.Whole.Board {
		list = append([]string{"The main switch of the consumer unit; its incoming terminals and the meter tails stay live"}, list...)
	}
	if len(list) == 0 {
		return "Nothing that is drawn here feeds these boxes. Test as if they were live."
	}
	text := strings.Join(list, "; ") + "."
	if len(p.Whole.Dark) > 0 {
		text += "\nGoes dark meanwhile: " + p.names(p.Whole.Dark) + "."
	}
	return text + "\nWorked out from what is drawn here, in every position of every switch. If the house differs, it proves nothing."
}

// opening is the checklist of one box.
func (p *pack) opening(o *engine.Opening) []draw.Block {
	items := []string{}
	if o.Board {
		items = append(items, "**Off: the main switch.** Its incoming terminals and the meter tails stay live.")
	}
	for i := range o.Needed {
		items = append(items, p.need(&o.Needed[i]))
	}
	for _, b := range o.Beside {
		items = append(items, "**Off too: circuit "+b.Circuit.Named()+".** "+sentence(b.Why()))
	}
	if len(items) == 0 {
		items = append(items, "Nothing that is drawn here feeds this box. Switch off what is near, and test as if it were live.")
	}
	items = append(items, "Locked, tagged, key on me")
	blocks := []draw.Block{draw.Heading{Level: 2, Text: "Making safe: " + o.Box.FullName()}, draw.List{Kind: draw.Ticks, Items: items}}
	if text := switching.Reliance(o.Tests); text != "" {
		blocks = append(blocks, draw.Para{Style: draw.Cautious, Text: text})
	}
	if len(o.Tests) > 0 {
		blocks = append(blocks, pairs(o))
	}
	return []draw.Block{draw.Keep{Blocks: blocks}}
}

// need is one circuit with what it would make live.
func (p *pack) need(n *switching.Need) string {
	text := "**Off: circuit " + n.Circuit.Named() + ".** If it were left on: " + n.Witness + "."
	if n.Through {
		text += " **No tester shows this while the conductors are joined:** clip a meter round the neutral before it is parted."
	}
	if place := placeOf(finding.Subject("boxes."+n.At.Box), p.insts()...); place != n.At.Box {
		text = strings.ReplaceAll(text, " in "+n.At.Box+" ", " in this box ")
	}
	return text
}

// pairs is the table of what is tested before hands go in.
func pairs(o *engine.Opening) draw.Table {
	t := draw.Table{
		Caption: o.Box.Name() + ": no voltage between these, plate off, nothing taken apart yet", Head: []string{"From", "To", "Shows if left on", "Dead", "Tester proved again"},
		RowHead: true, Weights: []float64{5, 5, 2, 1.2, 1.8},
	}
	for i, d := range o.Tests {
		shows := ""
		if d.Shows {
			shows = "yes"
		}
		row := []draw.Cell{{Text: d.A.Name(o.Graph)}, {Text: d.B.Name(o.Graph)}, {Text: shows}, {Text: "☐"}, {}}
		if i == len(o.Tests)-1 {
			row[4].Text = "☐"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// tags are to be cut out, one for each device that is locked off.
func (p *pack) tags() []draw.Block {
	if len(p.Whole.All()) == 0 {
		return nil
	}
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Tags for the devices locked off"},
		draw.Para{Style: draw.Small, Text: "Cut out along the dashes and hang one on each lock. Whoever hung a tag takes it off, and nobody else."},
	}
	var figures []draw.Figure
	for _, c := range p.Whole.All() {
		figures = append(figures, draw.Figure{Scene: isolationTag(c)})
	}
	return append(blocks, draw.Figures{Figures: figures})
}

const (
	tagWidth  = 80.0
	tagHeight = 62.0
)

// isolationTag is one tag, with lines to write on.
func isolationTag(c *wiring.Circuit) *draw.Scene {
	sc := &draw.Scene{W: tagWidth, H: tagHeight, Title: "Tag for circuit " + c.ID, Desc: "Danger, do not switch on, circuit " + c.Named() + ", with lines for name, telephone and date"}
	thin := draw.Style{Stroke: draw.Black, Width: 0.3}
	sc.Add(draw.Rect(0.5, 0.5, tagWidth-1, tagHeight-1, draw.Style{Stroke: draw.Black, Width: 0.3, Dash: []float64{2, 2}}))
	sc.Add(draw.Rect(4, 12, tagWidth-8, 11, draw.Style{Fill: draw.Black}))
	sc.Add(draw.Circle(tagWidth/2, 7, 2.5, thin))
	mid := func(y, size float64, bold bool, fill draw.Ink, text string) {
		sc.Add(draw.Text{X: tagWidth / 2, Y: y, Size: size, S: fit(text, size, bold, tagWidth-10), Anchor: draw.Middle, Bold: bold, Fill: fill})
	}
	mid(19.6, 6, true, draw.White, "DO NOT SWITCH ON")
	mid(29, 4, true, draw.Black, "Somebody is working on this circuit")
	mid(35, 3.6, true, draw.Black, "Circuit "+c.ID)
	mid(40, 3.2, false, draw.Black, strings.TrimPrefix(c.Named(), c.ID+", "))
	for i, label := range []string{"Locked off by", "Telephone", "Date and time"} {
		y := 47 + 5.2*float64(i)
		sc.Add(draw.Text{X: 5, Y: y, Size: 3, S: label}, draw.Line(27, y+0.6, tagWidth-5, y+0.6, thin))
	}
	return sc
}
