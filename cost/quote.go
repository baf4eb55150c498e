package cost

import (
	"fmt"
	"slices"
	"strings"
)

// Sums is what one case comes to.
type Sums struct {
	Net   Money `json:"net"`
	Tax   Money `json:"tax"`
	Gross Money `json:"gross"` // Net + Tax
}

// Priced is one line of an offer. Parts cost the same in all three cases, since
// they are bought before it is known what is in the walls.
type Priced struct {
	Name   string   `json:"name"`
	Amount string   `json:"amount"` // "25.6 m", "45 min"
	Bought []Bought `json:"bought,omitempty"`
	Over   int      `json:"over,omitempty"` // units bought and left over
	Low    Money    `json:"low"`
	Likely Money    `json:"likely"`
	High   Money    `json:"high"`
	Tax    Rate     `json:"tax_rate"` // hundredths of a per cent
	Cost   Money    `json:"cost"`     // what is paid for the parts; nought for work
	Why    string   `json:"why"`
}

// Quote is the price of one way of doing the work: each sum of a case is the sum
// of the lines in it, and the tax on it. It is not whole if Missing has anything.
type Quote struct {
	Name    string   `json:"name"`
	Title   []string `json:"title,omitempty"`
	Cables  []string `json:"new_cables,omitempty"` // from where to where
	Parts   []Priced `json:"parts"`
	Work    []Priced `json:"work"`
	Minutes Span     `json:"minutes"`
	Low     Sums     `json:"low"`
	Likely  Sums     `json:"likely"`
	High    Sums     `json:"high"`
	Taxes   []Taxed  `json:"taxes"`             // of the likely case, by rate
	Cost    Money    `json:"cost_of_parts"`     // before markup
	Missing []string `json:"missing,omitempty"` // what the list has no price for
}

// Taxed is the tax of one rate: what it is on, and what it comes to.
type Taxed struct {
	Rate Rate  `json:"rate"`
	Net  Money `json:"net"`
	Tax  Money `json:"tax"`
}

// Offer prices what a change needs. What the list has no price for is left out
// of the sums and named in Missing, with what its row must be called.
func (p *Prices) Offer(name string, title []string, n Needs) *Quote {
	q := &Quote{Name: name, Title: title, Cables: n.Cables, Parts: []Priced{}, Work: []Priced{}}
	for i := range n.Lines {
		q.part(p, &n.Lines[i])
	}
	for _, t := range n.Tasks {
		q.Minutes = q.Minutes.plus(t.Minutes)
		q.Work = append(q.Work, Priced{
			Name: t.Name, Amount: fmt.Sprintf("%d min", t.Minutes.Likely), Tax: p.Tax, Why: t.Why,
			Low: p.time(t.Minutes.Low), Likely: p.time(t.Minutes.Likely), High: p.time(t.Minutes.High),
		})
	}
	if p.Travel > 0 && len(n.Tasks) > 0 {
		q.Work = append(q.Work, Priced{Name: "Travel", Amount: "1 visit", Tax: p.Tax, Low: p.Travel, Likely: p.Travel, High: p.Travel, Why: "once"})
	}
	q.sum(p)
	return q
}

// time is what so many minutes cost, to the nearest minor unit.
func (p *Prices) time(minutes int) Money { return ratio(p.Labour, int64(minutes), 60) }

func (q *Quote) part(p *Prices, l *Line) {
	units, of := l.units()
	if units == 0 {
		return
	}
	offers := p.find(l)
	bought, over, ok := Buy(offers, of, units)
	if !ok {
		q.Missing = append(q.Missing, fmt.Sprintf("%s (%s %s): %s", l.Description, l.Quantity(), l.Unit(), missingRow(l, of, offers)))
		return
	}
	line := Priced{Name: short(l.Description), Amount: l.Quantity() + " " + l.Unit(), Bought: bought, Over: over, Tax: offers[0].Tax, Why: l.Why}
	for _, b := range bought {
		line.Cost += Money(b.Packs) * b.Each
	}
	line.Likely = line.Cost + p.Markup.Of(line.Cost)
	line.Low, line.High = line.Likely, line.Likely
	q.Cost += line.Cost
	q.Parts = append(q.Parts, line)
}

// short is a description without what explains it.
func short(s string) string {
	name, _, _ := strings.Cut(s, ": ")
	return name
}

// missingRow says what the price list wants.
func missingRow(l *Line, of string, offers []Offer) string {
	items := l.Items()
	if len(offers) > 0 {
		return fmt.Sprintf("the row %s is not by the unit %s, or too much is needed", offers[0].Item, of)
	}
	if len(items) == 0 || items[0] == "" {
		return "the list cannot have it"
	}
	return fmt.Sprintf("add a row with the item %s and the unit %s", items[0], of)
}

// sum adds up the three cases.
func (q *Quote) sum(p *Prices) {
	lines := slices.Concat(q.Parts, q.Work)
	for _, c := range []struct {
		sums *Sums
		of   func(l *Priced) Money
	}{
		{&q.Low, func(l *Priced) Money { return l.Low }},
		{&q.High, func(l *Priced) Money { return l.High }},
		{&q.Likely, func(l *Priced) Money { return l.Likely }}, // the last, whose taxes stay
	} {
		q.Taxes = taxes(lines, c.of, p.PerLine)
		*c.sums = Sums{}
		for _, t := range q.Taxes {
			c.sums.Net += t.Net
			c.sums.Tax += t.Tax
		}
		c.sums.Gross = c.sums.Net + c.sums.Tax
	}
}

// taxes works out the tax of lines by rate, the highest rate first. Rounded on
// the sum of each rate it is as EN 16931-1 has it (rules BR-CO-14, BR-CO-17);
// rounded on each line it is the sum of what stands beside the lines.
func taxes(lines []Priced, of func(*Priced) Money, perLine bool) []Taxed {
	list := []Taxed{}
	for i := range lines {
		l := &lines[i]
		k := slices.IndexFunc(list, func(t Taxed) bool { return t.Rate == l.Tax })
		if k < 0 {
			k = len(list)
			list = append(list, Taxed{Rate: l.Tax})
		}
		list[k].Net += of(l)
		list[k].Tax += l.Tax.Of(of(l))
	}
	for i := range list {
		if !perLine {
			list[i].Tax = list[i].Rate.Of(list[i].Net)
		}
	}
	slices.SortFunc(list, func(a, b Taxed) int { return int(b.Rate - a.Rate) })
	return list
}

// Whole reports whether everything that is needed has a price.
func (q *Quote) Whole() bool { return len(q.Missing) == 0 }
