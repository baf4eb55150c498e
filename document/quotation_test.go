package document

import (
	"bytes"
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"strapper/cost"
	"strapper/engine"
)

// offered prices an example by the list of the examples.
func offered(t testing.TB, name string) (*engine.Result, Offer) {
	t.Helper()
	text, err := os.ReadFile("../examples/prices.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	list, err := cost.ReadPrices(rows)
	if err != nil {
		t.Fatal(err)
	}
	norms, err := cost.Customary()
	if err != nil {
		t.Fatal(err)
	}
	r := work(t, name)
	ways, err := r.Alternatives(norms)
	if err != nil {
		t.Fatal(err)
	}
	o := Offer{Prices: list}
	for _, w := range ways {
		q := list.Offer(w.Name, w.Title, w.Needs)
		if o.Ways = append(o.Ways, q); w.Taken {
			o.Taken = q
		}
	}
	return r, o
}

// Every example that may be carried out and changes something has both papers,
// with the sums of its offer, the same bytes each time.
func TestQuotationAndInvoice(t *testing.T) {
	made := 0
	for _, name := range examples(t) {
		r, o := offered(t, name)
		d := Quotation(r, o)
		if r.Forbidden() || r.Left == nil {
			if d != nil || Invoice(r, o, Bill{"1", "2026-12-01"}) != nil {
				t.Errorf("%s: there is a paper for work that is refused or nothing", name)
			}
			continue
		}
		if d == nil {
			t.Errorf("%s: no quotation; missing: %v", name, o.Taken.Missing)
			continue
		}
		made++
		c := o.Prices.Currency.Print
		text := plainText(d.Blocks)
		for _, want := range []string{c(o.Taken.Low.Gross), c(o.Taken.Likely.Gross), c(o.Taken.High.Gross), r.Job.Client, "What is done to the house"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the quotation does not say %s", name, want)
			}
		}
		bill := plainText(Invoice(r, o, Bill{"7", "2026-12-01"}).Blocks)
		for _, want := range []string{c(o.Taken.Likely.Net), c(o.Taken.Likely.Tax), c(o.Taken.Likely.Gross), o.Prices.Number} {
			if !strings.Contains(bill, want) {
				t.Errorf("%s: the invoice does not say %s", name, want)
			}
		}
		again, o2 := offered(t, name)
		if !bytes.Equal(pdfOf(t, d), pdfOf(t, Quotation(again, o2))) {
			t.Errorf("%s: two quotations of one job differ", name)
		}
	}
	if made < 4 {
		t.Errorf("only %d examples were quoted", made)
	}
}

// A sum with gaps is not handed over.
func TestNoQuotationWithGaps(t *testing.T) {
	r, o := offered(t, "stairs")
	o.Taken.Missing = []string{"a switch"}
	if Quotation(r, o) != nil || Invoice(r, o, Bill{"1", "2026-12-01"}) != nil {
		t.Error("an offer with gaps became a paper")
	}
}

// The picture: a switch is joined to the lamps that its job wants it to work,
// new ones are marked, and no label meets another or leaves the picture.
func TestTodayAndAfter(t *testing.T) {
	for _, name := range examples(t) {
		r, _ := offered(t, name)
		if r.Left == nil || pushes(r.Left) {
			continue
		}
		today, after := worked(r.Found), worked(r.Left)
		for _, w := range r.Wants {
			for _, lamp := range w.Lamps {
				for _, from := range w.From {
					if !r.Forbidden() && !after.works(from, lamp) {
						t.Errorf("%s: %s is not joined to %s", name, from, lamp)
					}
				}
			}
		}
		for _, sc := range []*works{today, after} {
			picture := sc.scene("Afterwards", today)
			if list := picture.Overlaps(0.1); len(list) > 0 {
				t.Errorf("%s: labels meet: %v", name, list)
			}
			if list := picture.Outside(0.1); len(list) > 0 {
				t.Errorf("%s: labels leave the picture: %v", name, list)
			}
		}
	}
}

func (w *works) works(from, lamp string) bool {
	for _, j := range w.joined {
		if w.switches[j[0]] == from && w.loads[j[1]] == lamp {
			return true
		}
	}
	return false
}

func TestHoursInWords(t *testing.T) {
	for minutes, want := range map[int]string{1: "half an hour", 30: "half an hour", 60: "1 hour", 61: "1½ hours", 120: "2 hours", 186: "3½ hours"} {
		if got := hoursAbout(minutes); got != want {
			t.Errorf("%d min: %s, want %s", minutes, got, want)
		}
	}
}
