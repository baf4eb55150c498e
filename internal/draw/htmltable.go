package draw

import (
	"math"
	"strings"
)

func (o *htmlWriter) table(t Table) {
	n := t.columns()
	if n == 0 {
		return
	}
	stacked := ""
	if t.stacks(n) {
		stacked = `class="stack" `
	}
	o.put("<div class=\"wide\" tabindex=\"0\">\n<table ", stacked, "style=\"min-width:min(48rem,", num(t.screenWidth(n)), "mm)\">\n")
	if t.Caption != "" {
		o.put("<caption>", esc(t.Caption), "</caption>\n")
	}
	o.columns(t)
	if len(t.Head) > 0 {
		o.put("<thead><tr>")
		for i := range n {
			text := ""
			if i < len(t.Head) {
				text = t.Head[i]
			}
			o.open("th", class(t.anchor(i)), ` scope="col"`)
			o.put(words(text), "</th>")
		}
		o.put("</tr></thead>\n")
	}
	o.put("<tbody>\n")
	for _, r := range t.Rows {
		o.row(t, r, n)
	}
	o.put("</tbody>\n</table>\n</div>\n")
}

// screenWidth is the width, in millimetres of the screen, below which the
// table scrolls rather than squeeze its columns: each gets what it would use,
// up to a column of a few words, in type a quarter larger than on paper.
func (t Table) screenWidth(n int) float64 {
	_, want := t.needs(n)
	sum := 0.0
	for _, w := range want {
		sum += math.Min(w, 32)
	}
	return 1.25 * sum
}

// phoneWidth is what a phone shows without scrolling, in millimetres of the
// screen.
const phoneWidth = 90

// stacks reports whether each row is set as a block of named lines on a screen
// too narrow for the table, instead of hiding its last columns.
func (t Table) stacks(n int) bool {
	return len(t.Head) > 0 && t.screenWidth(n) > phoneWidth
}

// label repeats a column's head in its cell, for rows set as blocks.
func (t Table) label(i int) string {
	if i >= len(t.Head) || t.Head[i] == "" {
		return ""
	}
	return ` data-head="` + esc(strings.ReplaceAll(t.Head[i], "**", "")) + `"`
}

// columns gives the columns their shares of the width.
func (o *htmlWriter) columns(t Table) {
	if !t.weighed() {
		return
	}
	o.put("<colgroup>")
	sum := total(t.Weights)
	for _, w := range t.Weights {
		o.put(`<col style="width:`, num(100*w/sum), `%">`)
	}
	o.put("</colgroup>\n")
}

func (o *htmlWriter) row(t Table, cells []Cell, n int) {
	tr := "<tr>"
	for _, c := range cells {
		if c.Empty {
			tr = `<tr class="level">`
		}
	}
	o.put(tr)
	for i := range n {
		var c Cell
		if i < len(cells) {
			c = cells[i]
		}
		tag, scope := "td", t.label(i)
		if t.RowHead && i == 0 {
			tag, scope = "th", ` scope="row"`
		}
		o.open(tag, class(t.anchor(i))+c.class(), scope)
		o.cell(c)
		o.put("</", tag, ">")
	}
	o.put("</tr>\n")
}

func (o *htmlWriter) cell(c Cell) {
	if c.State != "" {
		tone := [...]string{"", " good", " warn", " bad"}[min(c.Tone, Bad)]
		o.put(`<span class="state`, tone, `">`, esc(c.State), "</span>")
	}
	if c.Empty {
		o.put(`<span class="blank" role="img" aria-label="to fill in"></span>`)
	}
	o.put(words(c.Text))
}

func (o *htmlWriter) open(tag, classes, rest string) {
	o.put("<", tag)
	if classes != "" {
		o.put(` class="`, classes[1:], `"`)
	}
	o.put(rest, ">")
}

func class(a Anchor) string {
	switch a {
	case Middle:
		return " middle"
	case End:
		return " end"
	}
	return ""
}

func (c Cell) class() string {
	out := ""
	if c.Bold {
		out += " bold"
	}
	if c.Shaded {
		out += " shaded"
	}
	if c.Empty {
		out += " fill"
		if c.Text == "" && c.State == "" {
			out += " only"
		}
	}
	return out
}
