package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/cost"
	"strapper/engine"
	"strapper/internal/draw"
	"strapper/switching"
)

// Offer is what a quotation and an invoice are made of: the price list, and the
// priced ways with the one taken among them.
type Offer struct {
	Prices *cost.Prices
	Ways   []*cost.Quote
	Taken  *cost.Quote
}

// Quotation lays out the offer for the householder: what they get with a picture
// of today and afterwards, what it costs from low to high, what may change that,
// what the other ways cost. It is nil for work that is refused or changes
// nothing, and for an offer that is not whole: a sum with gaps is not to be
// handed over.
func Quotation(r *engine.Result, o Offer) *draw.Document {
	if r.Forbidden() || r.Left == nil || o.Taken == nil || !o.Taken.Whole() {
		return nil
	}
	p := &pack{Result: r}
	d := &draw.Document{
		Title: "Quotation: " + oneLine(r.Job.Title), Subject: "What is done and what it costs", Date: r.Job.Date,
		Footer: "The work is tested and recorded to the rules in force before it is handed over.",
	}
	d.Blocks = append(d.Blocks, p.parties(o.Prices), draw.Heading{Level: 1, Text: "What you get"}, draw.List{Items: p.gets()})
	d.Blocks = append(d.Blocks, p.todayAndAfter()...)
	d.Blocks = append(d.Blocks, p.inHouse()...)
	d.Blocks = append(d.Blocks, priceTable(o)...)
	d.Blocks = append(d.Blocks, p.mayChange()...)
	d.Blocks = append(d.Blocks, otherWays(o)...)
	d.Blocks = append(d.Blocks, conditions(o.Prices)...)
	return d
}

// parties are who offers to whom.
func (p *pack) parties(list *cost.Prices) draw.Table {
	t := draw.Table{RowHead: true, Weights: []float64{1, 5}}
	for _, row := range [][2]string{
		{"From", strings.Join(list.Seller, ", ")},
		{list.TaxName + " number", list.Number},
		{"For", p.Job.Client},
		{"At", p.Job.Address},
		{"Note", p.Job.Note},
		{"Prices", list.Note},
	} {
		if row[1] != "" {
			t.Rows = append(t.Rows, draw.Cells(row[0], oneLine(row[1])))
		}
	}
	return t
}

// gets says each control in the words of the household.
func (p *pack) gets() []string {
	list := p.wants()
	for i, w := range p.Wants {
		toggles := w.Rule == switching.RuleToggle || w.Rule == ""
		if !toggles || len(w.From) < 2 || len(w.Off) > 0 {
			continue
		}
		var from []string
		for _, id := range w.From {
			from = append(from, "from **"+p.names([]string{id})+"**")
		}
		last := len(from) - 1
		list[i] = fmt.Sprintf("**%s**: on and off %s and %s, whichever was used last.", p.names(w.Lamps), strings.Join(from[:last], ", "), from[last])
	}
	return list
}

// inHouse says what is done to the house, in plain words.
func (p *pack) inHouse() []draw.Block {
	var items []string
	for _, b := range p.Left.Inst.Boxes {
		if was := p.Found.Inst.Box(b.ID); was == nil {
			items = append(items, fmt.Sprintf("New: **%s**.", b.Name()))
		}
	}
	opened := 0
	for _, k := range p.Left.Inst.Cables {
		if was := p.Found.Inst.Cable(k.ID); was != nil {
			continue
		}
		text := fmt.Sprintf("A new cable from %s to %s, about %s", p.Left.Inst.Box(k.From).Name(), p.Left.Inst.Box(k.To).Name(), tenths(k.Length))
		if k.Via != "" {
			text += ", " + k.Via
		}
		items = append(items, text+".")
	}
	if p.Routes != nil {
		for i := range p.Routes.Runs {
			if c := &p.Routes.Runs[i]; len(c.Routes) > 0 {
				opened += c.Routes[0].Opened
			}
		}
		items = append(items, places(opened))
	}
	if len(items) == 0 {
		return nil
	}
	return []draw.Block{draw.Heading{Level: 2, Text: "What is done to the house"}, draw.List{Items: items}}
}

// places says how often a wall is opened.
func places(n int) string {
	switch n {
	case 0:
		return "No finished wall has to be opened, so far as is known before the work."
	case 1:
		return "A finished wall is opened at one place, closed and filled again."
	}
	return fmt.Sprintf("Finished walls are opened at %d places, closed and filled again.", n)
}

// priceTable is what it costs in three cases.
func priceTable(o Offer) []draw.Block {
	q, c := o.Taken, o.Prices.Currency.Print
	parts, low, likely, high := cost.Money(0), cost.Money(0), cost.Money(0), cost.Money(0)
	for _, l := range q.Parts {
		parts += l.Likely
	}
	for _, l := range q.Work {
		low, likely, high = low+l.Low, likely+l.Likely, high+l.High
	}
	t := draw.Table{
		Head: []string{"", "If all goes well", "Likely", "If much is in the way"}, RowHead: true,
		Weights: []float64{4, 2, 2, 2}, Align: []draw.Anchor{draw.Start, draw.End, draw.End, draw.End},
	}
	t.Rows = append(
		t.Rows,
		draw.Cells("Parts", c(parts), c(parts), c(parts)),
		draw.Cells("Work", c(low), c(likely), c(high)),
		draw.Cells(o.Prices.TaxName, c(q.Low.Tax), c(q.Likely.Tax), c(q.High.Tax)),
	)
	sum := draw.Cells("To pay", c(q.Low.Gross), c(q.Likely.Gross), c(q.High.Gross))
	for i := range sum {
		sum[i].Bold = true
	}
	t.Rows = append(t.Rows, sum)
	text := fmt.Sprintf("The work takes about %s, from %s to %s.", hoursAbout(q.Minutes.Likely), hoursAbout(q.Minutes.Low), hoursAbout(q.Minutes.High))
	return []draw.Block{draw.Keep{Blocks: []draw.Block{draw.Heading{Level: 1, Text: "What it costs"}, t, draw.Para{Text: text}}}}
}

// hoursAbout says minutes in half hours, rounded up.
func hoursAbout(minutes int) string {
	halves := (minutes + 29) / 30
	switch {
	case halves < 2:
		return "half an hour"
	case halves == 2:
		return "1 hour"
	case halves%2 == 0:
		return fmt.Sprintf("%d hours", halves/2)
	}
	return fmt.Sprintf("%d½ hours", halves/2)
}

// mayChange lists what may be in the way of the new cables, each thing once.
func (p *pack) mayChange() []draw.Block {
	if p.Routes == nil {
		return nil
	}
	var items []string
	seen := map[string]bool{}
	for i := range p.Routes.Runs {
		c := &p.Routes.Runs[i]
		if len(c.Routes) == 0 {
			continue
		}
		for _, w := range c.Routes[0].WhatIf {
			if seen[w.What] {
				continue
			}
			seen[w.What] = true
			items = append(items, fmt.Sprintf("%s, which is there with a likelihood of %v.", strings.ToUpper(w.What[:1])+w.What[1:], w.Likely))
		}
	}
	if len(items) == 0 {
		return nil
	}
	return []draw.Block{draw.Keep{Blocks: []draw.Block{
		draw.Heading{Level: 2, Text: "What may be in the way"},
		draw.Para{Text: "Nobody can see into a closed wall. These would take more time:"},
		draw.List{Items: items},
	}}}
}

// otherWays compares the ways of doing the work that differ in the new cables:
// of those that differ only inside the boxes the one of least effort stands.
func otherWays(o Offer) []draw.Block {
	c := o.Prices.Currency.Print
	t := draw.Table{
		Head: []string{"New cables", "If all goes well", "Likely", "If much is in the way"}, RowHead: true,
		Weights: []float64{6, 2.2, 2, 2.6}, Align: []draw.Anchor{draw.Start, draw.End, draw.End, draw.End},
	}
	seen := map[string]bool{}
	for _, q := range slices.Concat([]*cost.Quote{o.Taken}, o.Ways) {
		name := strings.Join(q.Cables, "; ")
		if seen[name] {
			continue
		}
		seen[name] = true
		switch {
		case name == "":
			name = "none"
		case q == o.Taken:
			name = "This quotation: " + name
		}
		if !q.Whole() {
			t.Rows = append(t.Rows, draw.Cells(name, "", "no price yet", ""))
			continue
		}
		t.Rows = append(t.Rows, draw.Cells(name, c(q.Low.Gross), c(q.Likely.Gross), c(q.High.Gross)))
	}
	if len(t.Rows) < 2 {
		return nil
	}
	return []draw.Block{draw.Keep{Blocks: []draw.Block{
		draw.Heading{Level: 2, Text: "Other ways of doing it"},
		t,
		draw.Para{Style: draw.Small, Text: "With " + o.Prices.TaxName + ". All work alike from every switch. Another way would be checked against the rules before it is carried out."},
	}}}
}

// conditions are what the price does not hold, and for how long it holds.
func conditions(list *cost.Prices) []draw.Block {
	items := []string{
		"Openings are closed and filled, ready for a decorator. Painting, papering and tiling are not in the price.",
		"If something unsafe or unexpected is found, the work stops and you are told what it is and what it would cost before it goes on.",
		"While the work lasts some lights are off. Say beforehand if anyone depends on medical equipment, an alarm or a freezer on them.",
	}
	if list.Valid > 0 {
		items = append(items, fmt.Sprintf("The prices hold for %d days from the date above.", list.Valid))
	}
	if list.Payment != "" {
		items = append(items, "Payment: "+list.Payment+".")
	}
	sign := draw.Table{RowHead: true, Weights: []float64{2, 5}, Rows: [][]draw.Cell{
		{{Text: "I accept this quotation (name)"}, {Empty: true}},
		{{Text: "Date and signature"}, {Empty: true}},
	}}
	return []draw.Block{draw.Keep{Blocks: []draw.Block{draw.Heading{Level: 2, Text: "What else to know"}, draw.List{Items: items}, sign}}}
}
