package document

import (
	"fmt"
	"strings"

	"strapper/cost"
	"strapper/engine"
	"strapper/internal/draw"
)

// Bill is what an invoice says besides the offer.
type Bill struct {
	Number, Date string // the date as year-month-day; both are the seller's to give
}

// Invoice lays out the likely case of an offer as an invoice: every part and
// piece of work, the tax by rate, the sum. It is nil where Quotation is. Whether
// it has all that the local law asks of an invoice is the seller's to know.
func Invoice(r *engine.Result, o Offer, b Bill) *draw.Document {
	if r.Forbidden() || r.Left == nil || o.Taken == nil || !o.Taken.Whole() {
		return nil
	}
	p := &pack{Result: r}
	c := o.Prices.Currency.Print
	d := &draw.Document{Title: "Invoice " + oneLine(b.Number), Subject: oneLine(r.Job.Title), Date: b.Date}
	parties := p.parties(o.Prices)
	parties.Rows = append(parties.Rows, draw.Cells("Work", oneLine(r.Job.Title)))
	t := draw.Table{
		Head: []string{"", "Quantity", o.Prices.TaxName, "Price"}, RowHead: true,
		Weights: []float64{7, 3, 1.4, 2}, Align: []draw.Anchor{draw.Start, draw.End, draw.End, draw.End},
	}
	for _, l := range o.Taken.Parts {
		if l.Likely == 0 {
			continue // it comes with something else
		}
		t.Rows = append(t.Rows, draw.Cells(l.Name, bought(&l), l.Tax.String(), c(l.Likely)))
	}
	for _, l := range o.Taken.Work {
		t.Rows = append(t.Rows, draw.Cells(l.Name, l.Amount, l.Tax.String(), c(l.Likely)))
	}
	d.Blocks = []draw.Block{parties, t, sums(o)}
	if o.Prices.Payment != "" {
		d.Blocks = append(d.Blocks, draw.Para{Text: "Payment: " + o.Prices.Payment + "."})
	}
	return d
}

// bought says which packs were bought.
func bought(l *cost.Priced) string {
	var list []string
	for _, b := range l.Bought {
		list = append(list, b.String())
	}
	return strings.Join(list, " + ")
}

// sums are the totals of an invoice, the tax by rate.
func sums(o Offer) draw.Table {
	c, q := o.Prices.Currency.Print, o.Taken
	t := draw.Table{RowHead: true, Weights: []float64{8, 2}, Align: []draw.Anchor{draw.Start, draw.End}}
	t.Rows = append(t.Rows, draw.Cells("Before "+o.Prices.TaxName, c(q.Likely.Net)))
	for _, x := range q.Taxes {
		t.Rows = append(t.Rows, draw.Cells(fmt.Sprintf("%s, %v of %s", o.Prices.TaxName, x.Rate, c(x.Net)), c(x.Tax)))
	}
	return draw.Table{RowHead: true, Weights: t.Weights, Align: t.Align, Rows: append(t.Rows, []draw.Cell{{Text: "To pay", Bold: true}, {Text: c(q.Likely.Gross), Bold: true}})}
}
