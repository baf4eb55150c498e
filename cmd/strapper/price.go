package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"
	"time"

	"strapper/change"
	"strapper/cost"
	"strapper/document"
	"strapper/engine"
	"strapper/internal/draw"
	"strapper/job"
	"strapper/kit"
)

type priceCmd struct {
	jobFile
	Prices string `help:"Price list, CSV or XLSX (see docs/price.md); instead of the one that the job names." placeholder:"FILE" type:"path"`
	Bill   string `help:"Write the bill of quantities of the way taken into this file, as CSV or XLSX by its ending." placeholder:"FILE" type:"path"`

	Quotation string `help:"Write the quotation for the householder into this file, as PDF or HTML by its ending." placeholder:"FILE" type:"path"`
	Invoice   string `help:"Write an invoice of the likely case into this file, as PDF or HTML; needs --number and --dated." placeholder:"FILE" type:"path"`
	Number    string `help:"Number of the invoice." placeholder:"TEXT"`
	Dated     string `help:"Date of the invoice, as year-month-day." placeholder:"DATE"`
}

// Run prices the ways of doing the work.
func (c *priceCmd) Run(s *session) error {
	r, err := c.work(s, func(j *job.Job, cat *kit.Catalogue) (*engine.Result, error) {
		return engine.RunWays(j, cat, change.Options{Most: fewWays, Named: j.Choose})
	})
	if err != nil {
		return err
	}
	if r.Forbidden() || r.Left == nil {
		return c.nothing(s, r)
	}
	list, err := c.list(r.Job.Prices)
	if err != nil {
		return err
	}
	norms, err := cost.Customary()
	if err != nil {
		return err
	}
	ways, err := r.Alternatives(norms)
	if err != nil {
		return err
	}
	offers := pricesOf(list, ways)
	if err := c.papers(r, list, offers); err != nil {
		return err
	}
	if c.JSON {
		s.json(priceJSON{checkJSON: check(r), Currency: &list.Currency, Taken: offers.name, Ways: offers.quotes})
		return nil
	}
	s.prices(list, offers)
	s.findings(r)
	s.verdict(r)
	return nil
}

// nothing says why there is nothing to price.
func (c *priceCmd) nothing(s *session, r *engine.Result) error {
	if c.JSON {
		s.json(priceJSON{checkJSON: check(r), Ways: []*cost.Quote{}})
		return nil
	}
	if r.Forbidden() {
		fmt.Fprintln(s.out, "Work that is refused has no price.")
	} else {
		fmt.Fprintln(s.out, "The job changes nothing, so there is nothing to price.")
	}
	s.findings(r)
	s.verdict(r)
	return nil
}

// priceJSON is what price prints as JSON. Currency is null where nothing was
// priced.
type priceJSON struct {
	checkJSON
	Currency *cost.Currency `json:"currency"`
	Taken    string         `json:"taken,omitempty"`
	Ways     []*cost.Quote  `json:"ways"`
}

// list reads the price list: that of the flag, or the one that the job names,
// which is looked for beside the job.
func (c *priceCmd) list(named string) (*cost.Prices, error) {
	name := c.Prices
	if name == "" && named != "" {
		if name = filepath.FromSlash(named); !filepath.IsAbs(name) && c.File != "-" {
			name = filepath.Join(filepath.Dir(c.File), name)
		}
	}
	if name == "" {
		return nil, errors.New("there is no price list: give one with --prices FILE, or name it in the job after the word prices")
	}
	rows, err := readTable(name)
	if err != nil {
		return nil, fmt.Errorf("cannot read the price list: %w", err)
	}
	list, err := cost.ReadPrices(rows)
	if err != nil {
		return nil, fmt.Errorf("in the price list %s: %w", name, err)
	}
	return list, nil
}

// offers are the prices of all ways.
type offers struct {
	quotes []*cost.Quote
	name   string // of the way taken
}

func pricesOf(list *cost.Prices, ways []engine.Alternative) offers {
	var o offers
	for _, w := range ways {
		o.quotes = append(o.quotes, list.Offer(w.Name, w.Title, w.Needs))
		if w.Taken {
			o.name = w.Name
		}
	}
	return o
}

func (o offers) taken() *cost.Quote {
	for _, q := range o.quotes {
		if q.Name == o.name {
			return q
		}
	}
	return nil
}

// prices prints the way taken line by line, then all ways side by side.
func (s *session) prices(list *cost.Prices, o offers) {
	if list.Note != "" {
		fmt.Fprintf(s.out, "Price list: %s.\n\n", strings.TrimSuffix(list.Note, "."))
	}
	s.quote(list, o.taken())
	if len(o.quotes) > 1 {
		s.sideBySide(list, o)
	}
	fmt.Fprintln(s.out, "\nLow: nothing stands in the way. High: everything does that may. Parts are bought before that is known.")
	fmt.Fprintln(s.out, "Times are common practice from memory: put your own judgement before them. This is an estimate, no offer.")
	fmt.Fprintln(s.out)
}

func (s *session) quote(list *cost.Prices, q *cost.Quote) {
	p := list.Currency.Print
	t := tabwriter.NewWriter(s.out, 2, 0, 2, ' ', 0)
	fmt.Fprintf(t, "Parts\tneeded\tbought\tprice\n")
	for _, l := range q.Parts {
		var packs []string
		for _, b := range l.Bought {
			packs = append(packs, b.String())
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", l.Name, l.Amount, strings.Join(packs, " + "), p(l.Likely))
	}
	t.Flush()
	fmt.Fprintln(s.out)
	t = tabwriter.NewWriter(s.out, 2, 0, 2, ' ', 0)
	fmt.Fprintf(t, "Work\tlow\tlikely\thigh\n")
	for _, l := range q.Work {
		fmt.Fprintf(t, "  %s, %s\t%s\t%s\t%s\n", l.Name, l.Amount, p(l.Low), p(l.Likely), p(l.High))
	}
	fmt.Fprintf(t, "  Time in all\t%s\t%s\t%s\n", hours(q.Minutes.Low), hours(q.Minutes.Likely), hours(q.Minutes.High))
	fmt.Fprintf(t, "\t\t\t\nParts and work\t%s\t%s\t%s\n", p(q.Low.Net), p(q.Likely.Net), p(q.High.Net))
	fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", list.TaxName, p(q.Low.Tax), p(q.Likely.Tax), p(q.High.Tax))
	fmt.Fprintf(t, "To pay\t%s\t%s\t%s\n", p(q.Low.Gross), p(q.Likely.Gross), p(q.High.Gross))
	t.Flush()
	fmt.Fprintf(s.out, "Of this the parts cost you %s before %s.\n", p(q.Cost), list.TaxName)
	if !q.Whole() {
		fmt.Fprintln(s.out, "\nNOT WHOLE: the price list has nothing for these, and the sums leave them out")
		for _, m := range q.Missing {
			s.indented("  -  ", m)
		}
	}
}

// sideBySide compares the ways.
func (s *session) sideBySide(list *cost.Prices, o offers) {
	p := list.Currency.Print
	fmt.Fprintln(s.out, "\nThe ways side by side, to pay with tax; only the taken one was judged by the rule book")
	t := tabwriter.NewWriter(s.out, 2, 0, 2, ' ', 0)
	fmt.Fprintln(t, "  way\tlow\tlikely\thigh\ttime\t")
	for _, q := range o.quotes {
		mark := ""
		if q.Name == o.name {
			mark = "<- taken"
		}
		if !q.Whole() {
			mark += " not whole"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\n", q.Name, p(q.Low.Gross), p(q.Likely.Gross), p(q.High.Gross), hours(q.Minutes.Likely), mark)
	}
	t.Flush()
}

func hours(minutes int) string { return fmt.Sprintf("%d h %02d", minutes/60, minutes%60) }

// bill writes the bill of quantities of the way taken.
func (c *priceCmd) bill(list *cost.Prices, q *cost.Quote) error {
	if err := writeTable(c.Bill, list.Bill(q)); err != nil {
		return fmt.Errorf("cannot write the bill of quantities: %w", err)
	}
	return nil
}

// papers writes the files that are asked for.
func (c *priceCmd) papers(r *engine.Result, list *cost.Prices, o offers) error {
	if c.Bill != "" {
		if err := c.bill(list, o.taken()); err != nil {
			return err
		}
	}
	offer := document.Offer{Prices: list, Ways: o.quotes, Taken: o.taken()}
	if c.Quotation != "" {
		if err := c.paper(c.Quotation, document.Quotation(r, offer)); err != nil {
			return fmt.Errorf("cannot write the quotation: %w", err)
		}
	}
	if c.Invoice == "" {
		return nil
	}
	if _, err := time.Parse(time.DateOnly, c.Dated); err != nil || strings.TrimSpace(c.Number) == "" {
		return errors.New("an invoice needs its number and date: add --number and --dated, the date as year-month-day")
	}
	if err := c.paper(c.Invoice, document.Invoice(r, offer, document.Bill{Number: c.Number, Date: c.Dated})); err != nil {
		return fmt.Errorf("cannot write the invoice: %w", err)
	}
	return nil
}

// paper writes one document; there is none for an offer that is not whole.
func (c *priceCmd) paper(name string, d *draw.Document) error {
	if d == nil {
		return errors.New("the price list has no price for something that is needed; strapper price says for what")
	}
	switch strings.ToLower(filepath.Ext(name)) {
	case ".pdf":
		return writeFile(name, d.PDF)
	case ".html":
		return writeFile(name, d.HTML)
	}
	return fmt.Errorf("%s ends neither in .pdf nor in .html", name)
}

// readTable reads a table of text by the ending of its name.
func readTable(name string) ([][]string, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if strings.EqualFold(filepath.Ext(name), ".xlsx") {
		return readSheet(f)
	}
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	return r.ReadAll()
}
