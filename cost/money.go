package cost

import (
	"fmt"
	"strconv"
	"strings"
)

// Money is an amount in the minor unit of a currency: pence, cents. Amounts are
// whole, so that sums are exact; what is rounded is rounded once, where a
// function says so.
type Money int64

// mostMoney bounds what is read: 10 000 packs of a hundred lines, marked up and
// taxed at 100 %, stay below the greatest whole number.
const mostMoney Money = 1e8

// Rate is a rate in hundredths of a per cent: 2000 is 20 %. It is whole, so
// that the same tax comes out on every machine.
type Rate int64

// String prints the rate as a person writes it: "20 %", "17.5 %".
func (r Rate) String() string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%d.%02d", r/100, r%100), "0"), ".") + " %"
}

// Of is the share of an amount, rounded to the nearest minor unit, halves away
// from nought.
func (r Rate) Of(m Money) Money { return ratio(m, int64(r), 10000) }

// ratio is m·num/den to the nearest minor unit, halves away from nought; den is
// above nought.
func ratio(m Money, num, den int64) Money {
	n := int64(m) * num
	if n < 0 {
		return -Money((2*-n + den) / (2 * den))
	}
	return Money((2*n + den) / (2 * den))
}

// Currency is a currency by its code with the digits of its minor unit, both
// as in ISO 4217, and the sign to print.
type Currency struct {
	Code   string `json:"code"`
	Digits int    `json:"digits"`
	Sign   string `json:"sign"`
}

// currencies are those that a price list may be in.
var currencies = []Currency{
	{"GBP", 2, "£"},
	{"EUR", 2, "€"},
	{"USD", 2, "US$"},
	{"AUD", 2, "A$"},
	{"NZD", 2, "NZ$"},
	{"CAD", 2, "C$"},
	{"CHF", 2, "CHF "},
	{"DKK", 2, "DKK "},
	{"NOK", 2, "NOK "},
	{"SEK", 2, "SEK "},
	{"JPY", 0, "JPY "},
	{"KWD", 3, "KWD "},
}

// currencyOf finds a currency by its code.
func currencyOf(code string) (Currency, error) {
	var codes []string
	for _, c := range currencies {
		if c.Code == strings.ToUpper(strings.TrimSpace(code)) {
			return c, nil
		}
		codes = append(codes, c.Code)
	}
	return Currency{}, fmt.Errorf("%q is not one of the currencies known: %s", code, strings.Join(codes, ", "))
}

// unit is how many minor units make one of the currency.
func (c Currency) unit() int64 {
	n := int64(1)
	for range c.Digits {
		n *= 10
	}
	return n
}

// Print writes an amount with its sign and thousands apart: "£1,234.50".
func (c Currency) Print(m Money) string {
	minus := ""
	if m < 0 {
		minus, m = "-", -m
	}
	whole := strconv.FormatInt(int64(m)/c.unit(), 10)
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return minus + c.Sign + whole + c.fraction(m)
}

// Plain writes an amount as digits alone, for a table to reckon with: "1234.50".
func (c Currency) Plain(m Money) string {
	minus := ""
	if m < 0 {
		minus, m = "-", -m
	}
	return minus + strconv.FormatInt(int64(m)/c.unit(), 10) + c.fraction(m)
}

func (c Currency) fraction(m Money) string {
	if c.Digits == 0 {
		return ""
	}
	return fmt.Sprintf(".%0*d", c.Digits, int64(m)%c.unit())
}

// Parse reads an amount such as "12.50", "£12.50" or "1,234.50". More digits
// than the currency has are refused, not rounded.
func (c Currency) Parse(s string) (Money, error) {
	text := strings.TrimSpace(s)
	for _, sign := range []string{strings.TrimSpace(c.Sign), c.Code} {
		text = strings.TrimSpace(strings.TrimPrefix(text, sign))
	}
	whole, fraction, _ := strings.Cut(text, ".")
	if len(strings.TrimRight(fraction, "0")) > c.Digits {
		return 0, fmt.Errorf("%q has more than %d digits after the point: give the price of a larger pack", s, c.Digits)
	}
	whole, ok := thousands(whole)
	if !ok || !digits(whole) || fraction != "" && !digits(fraction) {
		return 0, fmt.Errorf("%q is not an amount: write it like 12.50, with a point", s)
	}
	fraction = (fraction + "000")[:c.Digits]
	n, err := strconv.ParseInt(whole+fraction, 10, 64)
	if err != nil || Money(n) > mostMoney {
		return 0, fmt.Errorf("%q is too much", s)
	}
	return Money(n), nil
}

// thousands takes out commas that stand before each three digits.
func thousands(s string) (string, bool) {
	parts := strings.Split(s, ",")
	for i, p := range parts {
		if i > 0 && len(p) != 3 || i == 0 && len(parts) > 1 && (len(p) == 0 || len(p) > 3) {
			return s, false
		}
	}
	return strings.Join(parts, ""), true
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// parseRate reads "20", "20 %" or "17.5", from 0 to 100 per cent.
func parseRate(s string) (Rate, error) {
	text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "%"))
	m, err := Currency{Digits: 2}.Parse(text)
	if err != nil || m > 10000 {
		return 0, fmt.Errorf("%q is not a rate: write it like 20 or 17.5, in per cent, with two digits after the point at most", s)
	}
	return Rate(m), nil
}
