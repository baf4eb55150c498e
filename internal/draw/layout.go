package draw

// A4 portrait and the frame of the text on it, in millimetres.
const (
	pageW, pageH = 210.0, 297.0
	margin       = 15.0
	bodyW        = pageW - 2*margin
	bodyTop      = 24.0
	bodyEnd      = 279.0
	bodyH        = bodyEnd - bodyTop
)

var (
	bodyType    = setting{size: 10 * Pt, lead: 1.34}
	smallType   = setting{size: 8.5 * Pt, lead: 1.3, ink: Slate}
	leadType    = setting{size: 12 * Pt, lead: 1.34}
	titleType   = setting{size: 22 * Pt, lead: 1.12, bold: true}
	cellType    = setting{size: 9 * Pt, lead: 1.28}
	headType    = setting{size: 9 * Pt, lead: 1.2, bold: true}
	headingType = [...]setting{
		{size: 15 * Pt, lead: 1.2, bold: true},
		{size: 12 * Pt, lead: 1.2, bold: true},
		{size: 10.5 * Pt, lead: 1.25, bold: true},
	}
	headingGap = [...]float64{7.5, 5.5, 4}
)

const paraGap = 2.2

// glue is how hard a chunk holds on to the next.
type glue uint8

const (
	loose glue = iota
	kept       // by a Keep
	stuck      // a heading to its text, the first two lines of a paragraph
)

// chunk is the least part that can stand on a page: a line, a row, a figure.
type chunk struct {
	gap, h  float64 // space above unless first on its page; height
	draw    func(y float64) []Node
	glue    glue
	heading *Heading // to be bookmarked
	repeat  *chunk   // set above this one where it begins a page
	breaks  bool     // begins a new page and is nothing else
}

// mark is a heading with its place.
type mark struct {
	Heading
	page int // from 0
	y    float64
}

type paginator struct {
	pages [][]Node
	marks []mark
	y     float64
	blank bool
}

func (p *paginator) turn() {
	p.pages = append(p.pages, nil)
	p.y, p.blank = bodyTop, true
}

// height is what a run of chunks takes from here on, or on a fresh page.
func (p *paginator) height(run []chunk, fresh bool) float64 {
	h := 0.0
	for i, c := range run {
		switch {
		case i > 0 || !fresh:
			h += c.gap
		case c.repeat != nil:
			h += c.repeat.h
		}
		h += c.h
	}
	return h
}

const snug = 1e-6

func (p *paginator) fits(run []chunk) bool {
	return p.y+p.height(run, p.blank) <= bodyEnd+snug
}

// run is the length of the run at the head of cs held together by at least g.
func run(cs []chunk, g glue) int {
	n := 1
	for n < len(cs) && cs[n-1].glue >= g {
		n++
	}
	return n
}

// place sets all chunks. A run held together goes to a fresh page if it fits
// there and not here; a run taller than a page is set run by run of what is
// held harder, and in the end chunk by chunk.
func (p *paginator) place(cs []chunk, g glue) {
	for len(cs) > 0 {
		n := run(cs, g)
		switch group := cs[:n]; {
		case n == 1 || p.fits(group):
			p.putAll(group)
		case p.height(group, true) <= bodyH+snug:
			p.turn()
			p.putAll(group)
		case g < stuck:
			p.place(group, g+1)
		default:
			p.putAll(group)
		}
		cs = cs[n:]
	}
}

func (p *paginator) putAll(cs []chunk) {
	for _, c := range cs {
		p.put(c)
	}
}

func (p *paginator) put(c chunk) {
	if c.breaks {
		if !p.blank {
			p.turn()
		}
		return
	}
	if !p.blank && !p.fits([]chunk{c}) {
		p.turn()
	}
	if p.blank && c.repeat != nil {
		p.ink(*c.repeat)
	} else if !p.blank {
		p.y += c.gap
	}
	p.ink(c)
}

func (p *paginator) ink(c chunk) {
	last := len(p.pages) - 1
	if c.heading != nil {
		p.marks = append(p.marks, mark{*c.heading, last, p.y})
	}
	if c.draw != nil {
		p.pages[last] = append(p.pages[last], c.draw(p.y)...)
	}
	p.y += c.h
	p.blank = false
}

// lay breaks the document into pages.
func (d *Document) lay() ([]*Scene, []mark) {
	p := &paginator{}
	p.turn()
	p.place(append(d.titleBlock(), chunks(d.Blocks)...), kept)
	scenes := make([]*Scene, len(p.pages))
	for i, nodes := range p.pages {
		sc := &Scene{W: pageW, H: pageH, Title: d.Title}
		sc.Add(d.furniture(i, len(p.pages))...)
		sc.Add(nodes...)
		scenes[i] = sc
	}
	return scenes, p.marks
}

// Pages lays the document out on A4 portrait, each page a scene of 210 by 297.
func (d *Document) Pages() []*Scene {
	pages, _ := d.lay()
	return pages
}

// furniture is what stands in the margins of page i of n.
func (d *Document) furniture(i, n int) []Node {
	left, right, set := margin, pageW-margin, smallType
	out := []Node{
		Line(left, 283, right, 283, Style{Stroke: Hairline, Width: 0.2}),
		Text{X: right, Y: 287.5, Size: set.size, S: pageOf(i+1, n), Anchor: End, Fill: set.ink},
	}
	if d.Footer != "" {
		out = append(out, Text{X: left, Y: 287.5, Size: set.size, S: Fit(oneLine(d.Footer), bodyW-30, set.size, false), Fill: set.ink})
	}
	if i == 0 { // the title itself stands there
		return out
	}
	out = append(out, Line(left, 18.5, right, 18.5, Style{Stroke: Hairline, Width: 0.2}))
	title := Fit(oneLine(d.Title), bodyW*0.55, set.size, true)
	out = append(out, Text{X: left, Y: 16, Size: set.size, S: title, Bold: true, Fill: set.ink})
	about := Fit(oneLine(d.Subject), bodyW*0.42, set.size, false)
	return append(out, Text{X: right, Y: 16, Size: set.size, S: about, Anchor: End, Fill: set.ink})
}
