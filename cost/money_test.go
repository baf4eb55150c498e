package cost

import (
	"testing"

	"pgregory.net/rapid"
)

// CEN/TC 434, EN 16931 UBL example 2 (ubl-tc434-example2.xml, invoice TOSL108 of
// 2013): three rates, the first of which ends in half a unit: 25 % of 1460.50 is
// 365.125, printed 365.13; tax 365.28 in all, 1801.78 with it.
func TestTaxAsPublished(t *testing.T) {
	of := func(l *Priced) Money { return l.Likely }
	lines := []Priced{{Likely: 127300, Tax: 2500}, {Likely: 18750, Tax: 2500}, {Likely: 100, Tax: 1500}, {Likely: -2500, Tax: 0}}
	want := []Taxed{{2500, 146050, 36513}, {1500, 100, 15}, {0, -2500, 0}}
	got := taxes(lines, of, false)
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	net, tax := Money(0), Money(0)
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got[i], want[i])
		}
		net, tax = net+got[i].Net, tax+got[i].Tax
	}
	if net != 143650 || tax != 36528 || net+tax != 180178 {
		t.Errorf("%d and tax %d", net, tax)
	}
}

// Worked by hand in docs/checks/09-price.md: three lines of 0.13 at 20 % pay
// 0.08 rounded on the sum, 0.09 rounded on each line; at 2.5 % and 17.5 % halves
// go up, and down where the amount is owed back.
func TestRounding(t *testing.T) {
	for _, c := range []struct {
		net  Money
		rate Rate
		want Money
	}{
		{13, 2000, 3},
		{39, 2000, 8},
		{12, 2000, 2},
		{0, 2000, 0},
		{1, 2000, 0},
		{2, 2000, 0},
		{3, 2000, 1},
		{20, 250, 1},
		{19, 250, 0},
		{-20, 250, -1},
		{-19, 250, 0},
		{20, 1750, 4},
		{18, 1750, 3},
		{10000, 1, 1},
		{4999, 1, 0},
		{5000, 1, 1},
	} {
		if got := c.rate.Of(c.net); got != c.want {
			t.Errorf("%v of %d is %d, want %d", c.rate, c.net, got, c.want)
		}
	}
	lines := []Priced{{Likely: 13, Tax: 2000}, {Likely: 13, Tax: 2000}, {Likely: 13, Tax: 2000}}
	of := func(l *Priced) Money { return l.Likely }
	if sum, line := taxes(lines, of, false)[0].Tax, taxes(lines, of, true)[0].Tax; sum != 8 || line != 9 {
		t.Errorf("rounded on the sum %d, on each line %d; want 8 and 9", sum, line)
	}
}

// The digits of each currency are those of ISO 4217: two, none (JPY), three (KWD).
func TestMoneyIsPrintedAndRead(t *testing.T) {
	for _, c := range []struct {
		code, in string
		want     Money
		out      string
	}{
		{"GBP", "12.50", 1250, "£12.50"},
		{"GBP", " £ 1,234.5 ", 123450, "£1,234.50"},
		{"GBP", "0", 0, "£0.00"},
		{"GBP", "987654.32", 98765432, "£987,654.32"},
		{"EUR", "3.400", 340, "€3.40"},
		{"JPY", "1200", 1200, "JPY 1,200"},
		{"KWD", "1.250", 1250, "KWD 1.250"},
		{"gbp", "GBP 7", 700, "£7.00"},
	} {
		currency, err := currencyOf(c.code)
		if err != nil {
			t.Fatal(err)
		}
		got, err := currency.Parse(c.in)
		if err != nil || got != c.want || currency.Print(got) != c.out {
			t.Errorf("%s %q: %d %s, %v; want %d %s", c.code, c.in, got, currency.Print(got), err, c.want, c.out)
		}
	}
	for _, bad := range []string{"", "-", "-1", "12,50", "1,23.4", "1.234", ",5", "1e3", "£", "twelve", "1.2.3", "0x10", "1000000.01", "99999999999999999999999"} {
		if m, err := currencies[0].Parse(bad); err == nil {
			t.Errorf("%q was read as %d", bad, m)
		}
	}
	if _, err := currencyOf("XXX"); err == nil {
		t.Error("a currency that is not known was taken")
	}
	if s := currencies[0].Print(-123456); s != "-£1,234.56" {
		t.Error(s)
	}
}

func TestMoneyThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(currencies).Draw(t, "currency")
		m := Money(rapid.Int64Range(0, int64(mostMoney)).Draw(t, "amount"))
		for _, text := range []string{c.Print(m), c.Plain(m)} {
			if got, err := c.Parse(text); err != nil || got != m {
				t.Fatalf("%d printed as %q and read as %d: %v", m, text, got, err)
			}
		}
	})
}

func TestRates(t *testing.T) {
	for in, want := range map[string]Rate{"20": 2000, "20 %": 2000, "17.5": 1750, "0": 0, "0.01 %": 1, "5.00": 500} {
		if r, err := parseRate(in); err != nil || r != want {
			t.Errorf("%q: %d, %v", in, r, err)
		}
	}
	for _, bad := range []string{"", "%", "-1", "100.01", "17.555", "a"} {
		if r, err := parseRate(bad); err == nil {
			t.Errorf("%q was read as %v", bad, r)
		}
	}
	for r, want := range map[Rate]string{2000: "20 %", 1750: "17.5 %", 0: "0 %", 5: "0.05 %", 10000: "100 %"} {
		if r.String() != want {
			t.Errorf("%q, want %q", r, want)
		}
	}
}
