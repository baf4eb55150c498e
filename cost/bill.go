package cost

import (
	"strconv"
	"strings"
)

// Bill is the bill of quantities of an offer as a table, the first row of which
// names the columns. Amounts are digits alone, in the list's currency and before
// tax; of work the likely case, with low and high beside it. Its last rows are
// the sums. No cell begins with a sign that a spreadsheet takes for a formula.
func (p *Prices) Bill(q *Quote) [][]string {
	c := p.Currency.Plain
	rows := [][]string{{"part or work", "what", "needed", "bought", "left over", "tax %", "low " + p.Currency.Code, "likely " + p.Currency.Code, "high " + p.Currency.Code, "why"}}
	for _, of := range []struct {
		group string
		lines []Priced
	}{{"part", q.Parts}, {"work", q.Work}} {
		for _, l := range of.lines {
			var packs []string
			for _, b := range l.Bought {
				packs = append(packs, b.String())
			}
			over := ""
			if l.Over > 0 {
				over = strconv.Itoa(l.Over)
			}
			rows = append(rows, []string{
				of.group, harmless(l.Name), l.Amount, strings.Join(packs, " + "), over,
				strings.TrimSuffix(l.Tax.String(), " %"), c(l.Low), c(l.Likely), c(l.High), harmless(l.Why),
			})
		}
	}
	for _, m := range q.Missing {
		rows = append(rows, []string{"no price", harmless(m), "", "", "", "", "", "", "", ""})
	}
	for _, s := range []struct {
		name string
		of   func(Sums) Money
	}{
		{"before tax", func(s Sums) Money { return s.Net }},
		{"tax", func(s Sums) Money { return s.Tax }},
		{"to pay", func(s Sums) Money { return s.Gross }},
	} {
		rows = append(rows, []string{"sum", s.name, "", "", "", "", c(s.of(q.Low)), c(s.of(q.Likely)), c(s.of(q.High)), ""})
	}
	return rows
}

// harmless keeps what a person named from being read as a formula.
func harmless(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
