package document

import (
	"slices"
	"strings"

	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// Sizes of the drawing of the whole job in millimetres.
const (
	schemeW   = 180.0 // at least
	leastW    = 24.0  // of a column
	schemeTop = 13.0
	coreLine  = 5.4
	cableGap  = 6.2
)

// scheme is the whole job in one drawing: a column for each box, and for each
// cable a line for each core from box to box with what holds its ends.
func (p *pack) scheme() []draw.Block {
	stage := p.Final()
	if len(stage.Inst.Boxes) < 2 || len(stage.Inst.Cables) == 0 {
		return nil
	}
	sc := (&scheme{g: stage.Graph, columns: columns(stage.Inst)}).scene("The whole job, " + stage.Name)
	return []draw.Block{draw.Keep{Blocks: []draw.Block{
		draw.Heading{Level: 1, Text: "The whole job, " + stage.Name},
		draw.Para{Style: draw.Small, Text: "A column for each box, a line for each core. At either end stands what holds the core there; conductors held by the same terminal or connector are joined. Connectors are numbered in each box as on its card."},
		draw.Figure{Scene: sc},
	}}}
}

// columns orders the boxes: from the consumer unit along the cables, each box
// after the one that it is reached from.
func columns(in *wiring.Installation) []string {
	var list []string
	var walk func(id string)
	walk = func(id string) {
		if slices.Contains(list, id) {
			return
		}
		list = append(list, id)
		for _, c := range in.Cables {
			if c.From == id {
				walk(c.To)
			} else if c.To == id {
				walk(c.From)
			}
		}
	}
	for _, c := range in.Circuits {
		walk(c.Board)
	}
	for _, b := range in.Boxes {
		walk(b.ID)
	}
	return list
}

type scheme struct {
	g       *wiring.Graph
	columns []string
}

// width is that of the whole drawing, column that of one box.
func (s *scheme) width() float64 { return max(schemeW, leastW*float64(len(s.columns))) }

func (s *scheme) column() float64 { return s.width() / float64(len(s.columns)) }

func (s *scheme) x(box string) float64 {
	return s.column() * (float64(slices.Index(s.columns, box)) + 0.5)
}

func (s *scheme) scene(title string) *draw.Scene {
	sc := &draw.Scene{W: s.width(), Title: title, Desc: s.describe()}
	y := schemeTop
	for _, c := range s.g.Inst.Cables {
		y += cableGap + coreLine*float64(len(c.Kind.Cores))
	}
	sc.H = y + 4
	w := s.column()
	for _, id := range s.columns {
		x := s.x(id)
		sc.Add(draw.Line(x, schemeTop, x, sc.H-1, draw.Style{Stroke: draw.Hairline, Width: 0.4, Dash: []float64{1.5, 1}}))
		lines := wrap(boxName(id, s.g.Inst), labelSize, true, w-2)
		lines = lines[:min(len(lines), 3)]
		for i, line := range lines {
			sc.Add(draw.Text{X: x, Y: schemeTop - 1.5 - labelLine*float64(len(lines)-1-i), Size: labelSize, S: line, Bold: true, Anchor: draw.Middle})
		}
	}
	y = schemeTop
	for _, c := range s.g.Inst.Cables {
		sc.Add(s.cable(c, y)...)
		y += cableGap + coreLine*float64(len(c.Kind.Cores))
	}
	return sc
}

// cable draws one cable from y downwards: its name, then its cores.
func (s *scheme) cable(c *wiring.Cable, y float64) []draw.Node {
	left, right := c.From, c.To
	if s.x(left) > s.x(right) {
		left, right = right, left
	}
	a, b := s.x(left), s.x(right)
	title := draw.Text{X: (a + b) / 2, Y: y + cableGap - 2.2, Size: labelSize, S: fit(c.ID+", "+c.Length.String(), labelSize, true, min(a+b, 2*s.width()-a-b)-2), Bold: true, Anchor: draw.Middle}
	out := []draw.Node{draw.Plate(title, draw.White)}
	for i := range c.Kind.Cores {
		core := &c.Kind.Cores[i]
		cy := y + cableGap + coreLine*(float64(i)+0.35)
		out = append(out, conductor(draw.Path{}.M(a, cy).L(b, cy), skinOf(core.Colour))...)
		out = append(out, draw.Circle(a, cy, 1, draw.Style{Fill: draw.Black}), draw.Circle(b, cy, 1, draw.Style{Fill: draw.Black}))
		out = append(out, s.endWords(wiring.End{Box: left, Item: c.ID, Name: core.Name}, a, cy, draw.End),
			s.endWords(wiring.End{Box: right, Item: c.ID, Name: core.Name}, b, cy, draw.Start))
		out = append(out, s.code(core, (a+b)/2, cy))
	}
	return out
}

func (s *scheme) code(core *kit.Core, x, y float64) draw.Node {
	return draw.Plate(draw.Text{X: x, Y: y + codeSize*draw.CapHeight/2, Size: codeSize, S: codeOf(core), Bold: true, Anchor: draw.Middle}, draw.White)
}

// endWords stand outside the end of a core, away from it, over what passes
// there. A long id is shortened before the terminal's name is.
func (s *scheme) endWords(e wiring.End, x, y float64, a draw.Anchor) draw.Node {
	gap, room := 2.0, s.width()-x
	if a == draw.End {
		gap, room = -2, x
	}
	room = min(room, s.column()) - 3
	text := held(s.g, e)
	if item, name, ok := strings.Cut(text, " "); ok {
		name = " " + name
		text = fit(item, codeSize, false, room-draw.Width(name, codeSize, false)) + name
	}
	return draw.Plate(draw.Text{X: x + gap, Y: y + codeSize*draw.CapHeight/2, Size: codeSize, S: text, Anchor: a}, draw.White)
}

func (s *scheme) describe() string {
	text := ""
	for _, c := range s.g.Inst.Cables {
		for _, core := range c.Kind.Cores {
			text += sentence(c.ID+" "+core.Name+" from "+held(s.g, wiring.End{Box: c.From, Item: c.ID, Name: core.Name})+" in "+c.From+
				" to "+held(s.g, wiring.End{Box: c.To, Item: c.ID, Name: core.Name})+" in "+c.To) + " "
		}
	}
	return text
}
