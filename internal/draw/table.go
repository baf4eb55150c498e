package draw

import (
	"math"
	"strings"
)

const (
	cellPadX  = 1.6
	cellPadY  = 1.0
	fillH     = 6.6  // height of a box to write in
	fillW     = 13.0 // and its least width
	pillPad   = 1.3
	pillSize  = 8 * Pt
	leastCol  = 6.0
	rowRule   = 0.15
	headRule  = 0.5
	tallestHd = bodyH / 4
)

// laidCell is a cell broken into lines.
type laidCell struct {
	Cell
	set    setting
	lines  []line
	pill   bool    // the state word stands on the first line
	indent float64 // of the words that share a line with the state word
	tail   float64 // width of the words behind a box to write in
}

// laidRow is a row ready to be drawn.
type laidRow struct {
	cells []laidCell
	head  bool
	h     float64
}

// grid is a table with its columns settled.
type grid struct {
	Table
	w []float64
}

func (t Table) chunks() []chunk {
	n := t.columns()
	if n == 0 {
		return nil
	}
	g := grid{Table: t, w: t.widths(n)}
	var out []chunk
	caption := lineChunks(fill([]span{{s: t.Caption, bold: true}}, bodyW, cellType.size), setting{size: cellType.size, lead: 1.5, bold: true}, margin, 3.4)
	for i := range caption {
		caption[i].glue = stuck
	}
	head, repeat := g.head()
	out = append(out, caption...)
	out = append(out, head...)
	for i, r := range t.Rows {
		limit := bodyH
		if repeat != nil {
			limit -= repeat.h
		}
		rows := g.slice(g.lay(r, i), limit)
		for _, row := range rows {
			c := g.chunk(row)
			c.repeat = repeat
			out = append(out, c)
		}
	}
	if len(out) > 0 && len(caption) == 0 {
		out[0].gap = 3.4
	}
	return out
}

// head makes the chunks of the head, and the one to repeat on later pages:
// none if there is no head or it would take too much of each page.
func (g grid) head() ([]chunk, *chunk) {
	if len(g.Head) == 0 {
		return nil, nil
	}
	row := laidRow{head: true}
	for i := range g.w {
		text := ""
		if i < len(g.Head) {
			text = g.Head[i]
		}
		row.cells = append(row.cells, laidCell{set: headType, lines: headType.fill(text, g.w[i]-2*cellPadX)})
	}
	row.measure()
	var out []chunk
	for _, r := range g.slice(row, bodyH) {
		c := g.chunk(r)
		c.glue = stuck
		out = append(out, c)
	}
	if row.h > tallestHd {
		return out, nil
	}
	repeat := out[0]
	return out, &repeat
}

// lay breaks the cells of row i into lines.
func (g grid) lay(cells []Cell, i int) laidRow {
	var row laidRow
	for col := range g.w {
		var c Cell
		if col < len(cells) {
			c = cells[col]
		}
		c.Bold = c.Bold || g.RowHead && col == 0
		row.cells = append(row.cells, c.lay(g.w[col]-2*cellPadX))
	}
	row.measure()
	return row
}

func (c Cell) lay(w float64) laidCell {
	set := cellType
	set.bold = c.Bold
	out := laidCell{Cell: c, set: set}
	if c.Empty {
		out.lines = set.fill(oneLine(c.Text), math.Max(w-fillW-1.2, leastCol))
		for _, l := range out.lines {
			out.tail = math.Max(out.tail, l.w)
		}
		return out
	}
	out.lines = set.fill(c.Text, w)
	if c.State == "" {
		return out
	}
	out.pill = true
	pill := c.pillWidth()
	if len(out.lines) == 1 && pill+1.5+out.lines[0].w <= w {
		out.indent = pill + 1.5
	} else {
		out.lines = append([]line{{}}, out.lines...)
	}
	return out
}

func (c Cell) pillWidth() float64 {
	return Width(oneLine(c.State), pillSize, c.Tone.bold()) + 2*pillPad
}

func (t Tone) bold() bool { return t >= Warn }

func (c laidCell) height() float64 {
	n := len(c.lines)
	if c.pill {
		n = max(n, 1)
	}
	h := float64(n) * c.set.height()
	if c.Empty {
		h = math.Max(h, fillH)
	}
	return h
}

func (r *laidRow) measure() {
	r.h = cellType.height()
	for _, c := range r.cells {
		r.h = math.Max(r.h, c.height())
	}
	r.h += 2 * cellPadY
}

// toFill says whether the row has a box to write in.
func (r *laidRow) toFill() bool {
	for _, c := range r.cells {
		if c.Empty {
			return true
		}
	}
	return false
}

// slice cuts a row taller than limit into rows that fit, line by line; any
// other row stays whole.
func (g grid) slice(r laidRow, limit float64) []laidRow {
	if r.h <= limit {
		return []laidRow{r}
	}
	n := max(1, int((limit-2*cellPadY)/cellType.height()))
	var out []laidRow
	for more := true; more; {
		part := laidRow{head: r.head}
		more = false
		for i := range r.cells {
			c := r.cells[i]
			k := min(n, len(c.lines))
			c.lines = c.lines[:k]
			part.cells = append(part.cells, c)
			r.cells[i].lines = r.cells[i].lines[k:]
			r.cells[i].pill, r.cells[i].Empty = false, false
			more = more || len(r.cells[i].lines) > 0
		}
		part.measure()
		out = append(out, part)
	}
	return out
}

func (g grid) chunk(r laidRow) chunk {
	return chunk{h: r.h, draw: func(y float64) []Node {
		var out []Node
		x := margin
		if r.head {
			out = append(out, Rect(margin, y, g.width(), r.h, Style{Fill: Tint}))
		}
		for i, c := range r.cells {
			if c.Shaded && !r.head {
				out = append(out, Rect(x, y+rowRule/2, g.w[i], r.h-rowRule/2, Style{Fill: Tint}))
			}
			top, h := y+cellPadY, r.h-2*cellPadY
			if r.toFill() && !c.Empty { // words stand level with the boxes
				top += (h - c.height()) / 2
			}
			out = append(out, c.at(x+cellPadX, top, g.w[i]-2*cellPadX, h, g.anchor(i))...)
			x += g.w[i]
		}
		rule := Style{Stroke: Hairline, Width: rowRule}
		if r.head {
			rule = Style{Stroke: Black, Width: headRule}
		}
		return append(out, Line(margin, y+r.h, margin+g.width(), y+r.h, rule))
	}}
}

func (g grid) width() float64 {
	sum := 0.0
	for _, w := range g.w {
		sum += w
	}
	return sum
}

// at draws the cell in the w by h at x, y.
func (c laidCell) at(x, y, w, h float64, a Anchor) []Node {
	var out []Node
	if c.Empty {
		bw := w
		if c.tail > 0 {
			bw = math.Max(w-c.tail-1.2, leastCol/2)
		}
		out = append(out, Rect(x, y+(h-fillH)/2, bw, fillH, Style{Fill: White, Stroke: Slate, Width: 0.25}))
		y += (h - float64(len(c.lines))*c.set.height()) / 2
		x, w, a = x+bw+1.2, c.tail, Start
	}
	indent := c.indent
	if c.pill {
		whole := c.pillWidth()
		if c.indent > 0 {
			whole = c.indent + c.lines[0].w
		}
		px := x + (w-whole)*a.share()
		out = append(out, c.drawPill(px, y)...)
		if indent > 0 {
			return append(out, c.set.at(c.lines[0], px+indent, y, Start)...)
		}
	}
	for i, l := range c.lines {
		out = append(out, c.set.at(l, x+w*a.share(), y+float64(i)*c.set.height(), a)...)
	}
	return out
}

// pillStyles are frame, ground and words of the tones.
var pillStyles = [...]struct {
	frame Style
	words Ink
}{
	Plain: {Style{Fill: White, Stroke: Hairline, Width: 0.2}, Black},
	Good:  {Style{Fill: White, Stroke: RGB(20, 83, 45), Width: 0.3}, RGB(20, 83, 45)},
	Warn:  {Style{Fill: White, Stroke: RGB(110, 60, 0), Width: 0.6}, RGB(110, 60, 0)},
	Bad:   {Style{Fill: RGB(125, 20, 20), Stroke: RGB(125, 20, 20), Width: 0.3}, White},
}

func (c laidCell) drawPill(x, y float64) []Node {
	st := pillStyles[min(c.Tone, Bad)]
	w, h := c.pillWidth(), cellType.height()
	return []Node{
		RoundRect(x+0.2, y+0.2, w-0.4, h-0.4, 0.8, st.frame),
		Text{X: x + pillPad, Y: y + h/2 + pillSize*(Ascent-Descent)/2, Size: pillSize, S: oneLine(c.State), Bold: c.Tone.bold(), Fill: st.words},
	}
}

// widths settles the columns: by weight, or by contents, where each column
// gets the room of its longest word and shares what is left by how much more
// its longest line would use.
func (t Table) widths(n int) []float64 {
	if t.weighed() {
		return share(bodyW, make([]float64, n), t.Weights)
	}
	least, want := t.needs(n)
	if total(want) > bodyW {
		for i := range want {
			want[i] = math.Max(want[i]-least[i], 0.1)
		}
		return share(bodyW, least, want)
	}
	k := bodyW / total(want)
	for i := range want {
		want[i] *= k
	}
	return want
}

// needs are the widths each column needs at least and would use at most.
func (t Table) needs(n int) (least, want []float64) {
	least, want = make([]float64, n), make([]float64, n)
	for i := range n {
		least[i], want[i] = leastCol, leastCol
		t.need(i, &least[i], &want[i])
		least[i] = math.Min(least[i], bodyW/2)
	}
	return least, want
}

// need finds the width of the longest word and line of a column.
func (t Table) need(col int, least, want *float64) {
	if col < len(t.Head) {
		needWords(t.Head[col], headType.size, true, 0, least, want)
	}
	for _, r := range t.Rows {
		if col >= len(r) {
			continue
		}
		c, extra := r[col], 0.0
		if c.Empty {
			extra = fillW
			*least = math.Max(*least, fillW+2*cellPadX)
		}
		if c.State != "" {
			extra = c.pillWidth() + 1.5
			*least = math.Max(*least, c.pillWidth()+2*cellPadX)
		}
		needWords(unmarked(c.Text), cellType.size, true, extra, least, want)
	}
}

func needWords(s string, size float64, bold bool, extra float64, least, want *float64) {
	pad := 2*cellPadX + 0.1
	for _, l := range strings.Split(s, "\n") {
		*want = math.Max(*want, Width(l, size, bold)+extra+pad)
		for _, word := range strings.FieldsFunc(l, breaks) {
			*least = math.Max(*least, Width(word, size, bold)+pad)
		}
	}
}

// share gives each its least and divides what is left of w by want; where the
// least alone is too much it is cut for all alike.
func share(w float64, least, want []float64) []float64 {
	out := make([]float64, len(least))
	spare := w - total(least)
	if spare < 0 {
		for i := range out {
			out[i] = least[i] * w / total(least)
		}
		return out
	}
	for i := range out {
		out[i] = least[i] + spare*want[i]/total(want)
	}
	return out
}

func total(vs []float64) float64 {
	sum := 0.0
	for _, v := range vs {
		sum += v
	}
	return sum
}
