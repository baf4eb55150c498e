package draw

import (
	"fmt"
	"math"
	"strings"
)

func pageOf(i, n int) string { return fmt.Sprintf("page %d of %d", i, n) }

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// chunks breaks blocks into what can stand on a page.
func chunks(blocks []Block) []chunk {
	var out []chunk
	for _, b := range blocks {
		out = append(out, blockChunks(b)...)
	}
	return out
}

func blockChunks(b Block) []chunk {
	switch b := plainBlock(b).(type) {
	case Heading:
		return b.chunks()
	case Para:
		return b.chunks()
	case Table:
		return b.chunks()
	case Figure:
		return Figures{[]Figure{b}}.chunks()
	case Figures:
		return b.chunks()
	case List:
		return b.chunks()
	case Caution:
		return b.chunks()
	case Keep:
		return keepTogether(chunks(b.Blocks))
	case PageBreak:
		return []chunk{{breaks: true}}
	case Rule:
		return []chunk{{gap: 3, h: 3, draw: func(y float64) []Node {
			return []Node{Line(margin, y, pageW-margin, y, Style{Stroke: Slate, Width: 0.3})}
		}}}
	}
	return nil
}

// keepTogether holds chunks together up to their last, which is let go.
func keepTogether(cs []chunk) []chunk {
	for i := range cs {
		if i < len(cs)-1 && !cs[i].breaks && !cs[i+1].breaks {
			cs[i].glue = max(cs[i].glue, kept)
		}
	}
	return cs
}

// lineChunks makes a chunk of each line; no first or last line stands alone.
func lineChunks(lines []line, set setting, x float64, gap float64) []chunk {
	out := make([]chunk, len(lines))
	for i, l := range lines {
		out[i] = chunk{h: set.height(), draw: func(y float64) []Node { return set.at(l, x, y, Start) }}
	}
	if n := len(out); n > 0 {
		out[0].gap = gap
		stick(out, 0)
		stick(out, n-2)
	}
	return out
}

// stick holds chunk i to the next, if both are there.
func stick(cs []chunk, i int) {
	if i >= 0 && i < len(cs)-1 {
		cs[i].glue = stuck
	}
}

func (h Heading) level() int { return max(1, min(3, h.Level)) }

func (h Heading) chunks() []chunk {
	set := headingType[h.level()-1]
	lines := fill([]span{{s: h.Text, bold: true}}, bodyW, set.size)
	out := lineChunks(lines, set, margin, headingGap[h.level()-1])
	for i := range out {
		out[i].glue = stuck
	}
	if len(out) > 0 {
		out[0].heading = &h
		out[len(out)-1].h += 0.6
	}
	return out
}

func (d *Document) titleBlock() []chunk {
	set := titleType
	out := lineChunks(fill([]span{{s: d.Title, bold: true}}, bodyW, set.size), set, margin, 0)
	out = append(out, lineChunks(fill([]span{{s: d.Subject}}, bodyW, leadType.size), leadType, margin, 1)...)
	var by []string
	for _, s := range []string{d.Author, d.Date} {
		if s != "" {
			by = append(by, s)
		}
	}
	out = append(out, lineChunks(fill([]span{{s: strings.Join(by, " · ")}}, bodyW, smallType.size), smallType, margin, 1)...)
	if len(out) == 0 {
		return nil
	}
	return append(out, chunk{gap: 2, h: 1.5, draw: func(y float64) []Node {
		return []Node{Line(margin, y+0.4, pageW-margin, y+0.4, Style{Stroke: Black, Width: 0.8})}
	}})
}

func (p Para) chunks() []chunk {
	set, x := bodyType, margin
	switch p.Style {
	case Small:
		set = smallType
	case Lead:
		set = leadType
	case Cautious:
		x += 5
	}
	out := lineChunks(set.fill(p.Text, pageW-margin-x), set, x, paraGap)
	if p.Style == Cautious {
		for i := range out {
			out[i] = barred(out[i])
		}
	}
	return out
}

// barred draws a heavy bar beside a chunk.
func barred(c chunk) chunk {
	words := c.draw
	c.draw = func(y float64) []Node {
		bar := Rect(margin+1, y, 1.4, c.h, Style{Fill: Black})
		return append([]Node{bar}, words(y)...)
	}
	return c
}

func (l List) chunks() []chunk {
	const inset = 7.5
	set := bodyType
	var out []chunk
	for i, item := range l.Items {
		gap := 1.0
		if i == 0 {
			gap = paraGap
		}
		if l.Kind == Ticks && i > 0 {
			gap = 1.6
		}
		cs := lineChunks(set.fill(item, bodyW-inset), set, margin+inset, gap)
		if len(cs) == 0 {
			cs = lineChunks([]line{{}}, set, margin+inset, gap)
		}
		words := cs[0].draw
		cs[0].draw = func(y float64) []Node { return append(l.marker(i, y), words(y)...) }
		out = append(out, cs...)
	}
	return out
}

// marker is what stands before item i whose first line has its top at y.
func (l List) marker(i int, y float64) []Node {
	set := bodyType
	mid := y + set.baseline() - set.size*CapHeight/2
	switch l.Kind {
	case Numbered:
		n := fmt.Sprintf("%d.", l.first()+i)
		return []Node{Text{X: margin + 5.8, Y: y + set.baseline(), Size: set.size, S: n, Anchor: End}}
	case Ticks:
		return []Node{TickBox(margin+1.2, mid-1.9, 3.8)}
	}
	return []Node{Circle(margin+4, mid, 0.55, Style{Fill: Black})}
}

// Caution boxes: heavy frame, black bar with the triangle, words beside it.
const (
	cautionBar  = 13.0
	cautionPadX = 4.0
	cautionPadY = 2.6
)

func (c Caution) chunks() []chunk {
	set := bodyType
	w := bodyW - cautionBar - 2*cautionPadX
	var lines []line
	if c.Title != "" {
		lines = fill([]span{{s: c.Title, bold: true}}, w, set.size)
	}
	lines = append(lines, set.fill(c.Text, w)...)
	if len(lines) == 0 {
		return nil
	}
	most := int((bodyH - 2*cautionPadY) / set.height())
	var out []chunk
	for len(lines) > 0 {
		n := min(most, len(lines))
		out = append(out, cautionChunk(lines[:n], set))
		lines = lines[n:]
	}
	return out
}

func cautionChunk(lines []line, set setting) chunk {
	h := math.Max(float64(len(lines))*set.height()+2*cautionPadY, 13)
	return chunk{gap: 3.4, h: h, draw: func(y float64) []Node {
		out := []Node{
			Rect(margin+0.4, y+0.4, bodyW-0.8, h-0.8, Style{Fill: White, Stroke: Black, Width: 0.8}),
			Rect(margin, y, cautionBar, h, Style{Fill: Black}),
			WarningMark(margin+2, y+h/2-4.2, 9),
		}
		top := y + (h-float64(len(lines))*set.height())/2
		for i, l := range lines {
			out = append(out, set.at(l, margin+cautionBar+cautionPadX, top+float64(i)*set.height(), Start)...)
		}
		return out
	}}
}

// figureGap is the room between figures side by side.
const figureGap = 8.0

// shown is a figure with the size it is shown at.
type shown struct {
	Figure
	w, h, k float64
	lines   []line // of the caption, below the figure
	rest    []line // what of a very long caption follows below the row
}

// captionLines is the most of a caption that is kept with its figure.
const captionLines = 6

func (f Figure) size() shown {
	s := shown{Figure: f, k: 1}
	if f.Scene == nil || !(f.Scene.W > 0 && f.Scene.H > 0) || f.Scene.W > 1e6 || f.Scene.H > 1e6 {
		s.Scene = nil
		s.w = bodyW
	} else {
		s.k = math.Min(1, math.Min(bodyW/f.Scene.W, (bodyH-30)/f.Scene.H))
		s.w, s.h = s.k*f.Scene.W, s.k*f.Scene.H
	}
	words := f.Caption
	if s.Scene == nil {
		words = strings.TrimSpace(f.Caption + " " + f.alt())
	}
	s.lines = smallType.fill(words, math.Max(s.w, 30))
	if len(s.lines) > captionLines {
		s.lines, s.rest = s.lines[:captionLines], s.lines[captionLines:]
	}
	return s
}

func (s shown) height() float64 {
	h := s.h + float64(len(s.lines))*smallType.height()
	if len(s.lines) > 0 && s.h > 0 {
		h += 1.2
	}
	return h
}

func (s shown) at(x, y float64) []Node {
	var out []Node
	if s.Scene != nil {
		out = append(out, Placed{x, y, s.k, s.Scene})
		y += s.h + 1.2
	}
	for i, l := range s.lines {
		out = append(out, smallType.at(l, x, y+float64(i)*smallType.height(), Start)...)
	}
	return out
}

func (f Figures) chunks() []chunk {
	var out []chunk
	var row []shown
	used := 0.0
	flush := func() {
		if len(row) > 0 {
			out = append(out, figureRow(row))
		}
		for _, s := range row {
			out = append(out, lineChunks(s.rest, smallType, margin, 0)...)
		}
		row, used = nil, 0
	}
	for _, fig := range f.Figures {
		s := fig.size()
		room := math.Max(s.w, 30)
		if used+room > bodyW+snug {
			flush()
		}
		row = append(row, s)
		used += room + figureGap
	}
	flush()
	return out
}

func figureRow(row []shown) chunk {
	h := 0.0
	for _, s := range row {
		h = math.Max(h, s.height())
	}
	return chunk{gap: 3.4, h: h, draw: func(y float64) []Node {
		var out []Node
		x := margin
		for _, s := range row {
			out = append(out, s.at(x, y)...)
			x += math.Max(s.w, 30) + figureGap
		}
		return out
	}}
}
