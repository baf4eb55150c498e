package cost

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Offer is one row of a price list: what a pack of an item costs before tax.
type Offer struct {
	Item        string // id in the catalogue, or the item of a small part; see Line.Items
	Description string // as the wholesaler calls it; may be empty
	Unit        string // "m" or "off"
	Pack        int    // units in a pack, at least 1
	Price       Money  // of one pack, without tax
	Tax         Rate
}

// Terms are what a price list says besides prices of parts.
type Terms struct {
	Currency Currency
	Labour   Money    // for an hour, without tax
	Travel   Money    // for each visit, without tax; nought if nothing is charged
	Markup   Rate     // added to what parts cost
	Tax      Rate     // on everything that does not say otherwise
	TaxName  string   // "VAT"
	PerLine  bool     // tax is rounded on each line, not on the sum of each rate
	Seller   []string // name and address, a line each
	Number   string   // the seller's tax number
	Valid    int      // days that a quotation holds; 0: not said
	Payment  string   // how it is to be paid, in words
}

// Prices is a price list: the user's own, never the program's.
type Prices struct {
	Terms
	Offers []Offer
	Note   string // said on everything that is made of the list
}

// needed is what a price list must have besides the parts.
var needed = []string{"currency", "labour", "tax"}

// columns of a price list; those without which it cannot be read come first.
var columns = []string{"item", "price", "description", "unit", "pack", "tax"}

// ReadPrices makes a price list of the rows of a table, the first of which
// names the columns: item and price, and if wanted description, unit, pack and
// tax, in any order. Rows whose item is one of the terms (see docs/price.md)
// say what is not a part. The error names every row that cannot be read.
func ReadPrices(rows [][]string) (*Prices, error) {
	r := &priceReader{p: &Prices{}, seen: map[string]bool{}}
	if err := r.head(rows); err != nil {
		return nil, err
	}
	r.p.TaxName = "VAT"
	for pass := range 2 { // terms first: prices are read in the currency
		for i, row := range rows[1:] {
			r.row = i + 2
			item := strings.ToLower(r.cell(row, "item"))
			_, term := terms[item]
			switch {
			case item == "" && strings.TrimSpace(strings.Join(row, "")) != "" && pass == 0:
				r.fail("has no item: name the part by its id in the catalogue, or leave the row empty")
			case item == "":
			case pass == 0 && term, pass == 1 && !term && r.p.Currency.Code != "":
				r.read(item, row)
			}
		}
		for _, term := range needed {
			if pass == 0 && !r.seen[term] {
				r.problems = append(r.problems, fmt.Errorf("the price list has no row for %s", term))
			}
		}
	}
	return r.p, errors.Join(r.problems...)
}

type priceReader struct {
	p        *Prices
	column   map[string]int
	row      int
	seen     map[string]bool
	problems []error
}

func (r *priceReader) fail(format string, args ...any) {
	const most = 20
	if len(r.problems) < most {
		r.problems = append(r.problems, fmt.Errorf("row %d %s", r.row, fmt.Sprintf(format, args...)))
	}
}

// head finds the columns by their names.
func (r *priceReader) head(rows [][]string) error {
	r.column = map[string]int{}
	if len(rows) == 0 {
		return errors.New("the price list is empty")
	}
	for i, name := range rows[0] {
		name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\uFEFF")))
		if _, twice := r.column[name]; twice && slices.Contains(columns, name) {
			return fmt.Errorf("row 1 has two columns called %s", name)
		}
		r.column[name] = i
	}
	for _, name := range columns[:2] {
		if _, ok := r.column[name]; !ok {
			return fmt.Errorf("row 1 has no column called %s: the first row names the columns %s", name, strings.Join(columns, ", "))
		}
	}
	return nil
}

func (r *priceReader) cell(row []string, column string) string {
	if i, ok := r.column[column]; ok && i < len(row) {
		return strings.TrimSpace(row[i])
	}
	return ""
}

// terms say how the rows that are no parts are read: v is the price column, d
// the description.
var terms = map[string]func(p *Prices, v, d string) error{
	"currency": func(p *Prices, v, d string) (err error) { p.Currency, err = currencyOf(v + d); return err },
	"labour":   func(p *Prices, v, _ string) (err error) { p.Labour, err = p.Currency.Parse(v); return err },
	"travel":   func(p *Prices, v, _ string) (err error) { p.Travel, err = p.Currency.Parse(v); return err },
	"markup":   func(p *Prices, v, _ string) (err error) { p.Markup, err = parseRate(v); return err },
	"tax": func(p *Prices, v, d string) (err error) {
		if d != "" {
			p.TaxName = d
		}
		p.Tax, err = parseRate(v)
		return err
	},
	"tax-rounding": func(p *Prices, v, d string) error {
		switch v + d {
		case "line":
			p.PerLine = true
		case "sum":
		default:
			return fmt.Errorf("%q is not known: write line or sum", v+d)
		}
		return nil
	},
	"tax-number": func(p *Prices, v, d string) error { p.Number = v + d; return nil },
	"seller":     func(p *Prices, v, d string) error { p.Seller = append(p.Seller, v+d); return nil },
	"payment":    func(p *Prices, v, d string) error { p.Payment = v + d; return nil },
	"note":       func(p *Prices, v, d string) error { p.Note = v + d; return nil },
	"valid-days": func(p *Prices, v, d string) (err error) {
		if p.Valid, err = strconv.Atoi(v); err != nil || p.Valid < 1 || p.Valid > 999 {
			return fmt.Errorf("%q is not a number of days", v)
		}
		return nil
	},
}

// read reads one row.
func (r *priceReader) read(item string, row []string) {
	price, description := r.cell(row, "price"), r.cell(row, "description")
	if term, ok := terms[item]; ok {
		if r.seen[item] && item != "seller" {
			r.fail("gives %s a second time", item)
			return
		}
		r.seen[item] = true
		if item != "currency" && r.p.Currency.Code == "" && (item == "labour" || item == "travel") {
			r.fail("gives %s before the currency: put the currency row first", item)
			return
		}
		if err := term(r.p, price, description); err != nil {
			r.fail("(%s): %v", item, err)
		}
		return
	}
	o := Offer{Item: item, Description: description, Unit: strings.ToLower(r.cell(row, "unit")), Pack: 1, Tax: r.p.Tax}
	if err := r.offer(&o, price, r.cell(row, "pack"), r.cell(row, "tax")); err != nil {
		r.fail("(%s): %v", item, err)
		return
	}
	r.p.Offers = append(r.p.Offers, o)
}

func (r *priceReader) offer(o *Offer, price, pack, tax string) (err error) {
	switch o.Unit {
	case "":
		o.Unit = byPiece
	case byLength, byPiece:
	default:
		return fmt.Errorf("the unit is %q: write m for what is sold by length, off for pieces", o.Unit)
	}
	if pack != "" {
		if o.Pack, err = strconv.Atoi(pack); err != nil || o.Pack < 1 || o.Pack > mostUnits {
			return fmt.Errorf("the pack is %q: write how many units it holds, as a whole number", pack)
		}
	}
	if tax != "" {
		if o.Tax, err = parseRate(tax); err != nil {
			return err
		}
	}
	o.Price, err = r.p.Currency.Parse(price)
	return err
}

// The units of a line and of an offer.
const (
	byLength = "m"
	byPiece  = "off"
)

// mostUnits bounds what is bought of one item, so that the choice of packs ends.
const mostUnits = 10000

// Bought is so many packs of one offer.
type Bought struct {
	Packs int    `json:"packs"`
	Pack  int    `json:"pack"`
	Unit  string `json:"unit"`
	Each  Money  `json:"each"` // pays for one pack, before markup and tax
}

// String says what is bought: "2 × 50 m", "3 off".
func (b Bought) String() string {
	if b.Pack == 1 {
		return fmt.Sprintf("%d %s", b.Packs, b.Unit)
	}
	return fmt.Sprintf("%d × %d %s", b.Packs, b.Pack, b.Unit)
}

// Buy is the cheapest way of buying at least so many units of an item in whole
// packs; among equals the one with least left over. It is exact: every sum of
// packs is tried once, smallest first. ok is false if nothing is needed, nothing
// of the unit is offered, or more than 10 000 units are asked for.
func Buy(offers []Offer, unit string, units int) (list []Bought, over int, ok bool) {
	offers = slices.DeleteFunc(slices.Clone(offers), func(o Offer) bool { return o.Unit != unit })
	if len(offers) == 0 || units < 1 || units > mostUnits {
		return nil, 0, false
	}
	// To reach at least k units costs cost[k]; over[k] is then left.
	cost, left, last := make([]Money, units+1), make([]int, units+1), make([]int, units+1)
	for k := 1; k <= units; k++ {
		for i, o := range offers {
			rest := max(k-o.Pack, 0)
			c, l := cost[rest]+o.Price, left[rest]+max(o.Pack-k, 0)
			if i == 0 || c < cost[k] || c == cost[k] && l < left[k] {
				cost[k], left[k], last[k] = c, l, i
			}
		}
	}
	packs := make([]int, len(offers))
	for k := units; k > 0; k -= offers[last[k]].Pack {
		packs[last[k]]++
	}
	for i, n := range packs {
		if n > 0 {
			list = append(list, Bought{n, offers[i].Pack, unit, offers[i].Price})
		}
	}
	slices.SortFunc(list, func(a, b Bought) int { return b.Pack - a.Pack })
	return list, left[units], true
}

// find is what is offered for a line: of the first of its items that is listed.
func (p *Prices) find(l *Line) []Offer {
	for _, item := range l.Items() {
		var list []Offer
		for _, o := range p.Offers {
			if o.Item == item {
				list = append(list, o)
			}
		}
		if len(list) > 0 {
			return list
		}
	}
	return nil
}
