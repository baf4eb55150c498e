package document

import (
	"math"
	"strconv"

	"strapper/internal/draw"
	"strapper/wiring"
)

// levels are the heights of the parts of a card's drawing, from its top.
type levels struct {
	sheath, channel, sleeve, badge, pad, foot, h float64
}

func (s *sketch) levels(tracks int) levels {
	lines := 0
	for _, c := range s.cables {
		lines = max(lines, len(c.label))
	}
	l := levels{sheath: edge + float64(lines)*labelLine + 0.8}
	l.channel = l.sheath + sheathH + 7
	l.sleeve = l.channel + float64(max(tracks-1, 0))*trackPitch + 2.5
	l.badge = l.sleeve
	if len(s.notes.sleeves) > 0 {
		l.badge += 7.5
	}
	l.pad = l.badge
	if len(s.notes.steps) > 0 {
		l.pad += 5
	}
	l.pad += 1
	l.foot = l.pad + padH
	for i := range s.blocks {
		l.foot = math.Max(l.foot, l.pad+s.blockHeight(&s.blocks[i]))
	}
	l.h = l.foot + 2 + labelLine + edge
	return l
}

func (s *sketch) blockHeight(b *block) float64 {
	if b.item == nil {
		return padH
	}
	return padH + 1 + insideHeight(b.item.Kind) + float64(len(b.label()))*labelLine + 1.5
}

// label names an accessory at its foot.
func (b *block) label() []label {
	var list []label
	add := func(text string, bold bool) {
		for _, line := range wrap(text, labelSize, bold, float64(b.w)*cell-2) {
			list = append(list, label{line, bold})
		}
	}
	add(b.tag, true)
	add(b.item.ID, true)
	add(shortTitle(b.item.Title), false)
	if l := b.item.Lamp; l != nil && l.Kind != nil {
		add(shortTitle(l.Kind.Title)+" "+l.Power.String(), false)
	}
	return list
}

// scene puts the drawing together: outline, accessories, conductors over
// them, and all words on top.
func (s *sketch) scene(title string) *draw.Scene {
	l := s.levels(assignTracks(s.runs))
	sc := &draw.Scene{W: 2*edge + float64(s.width)*cell, H: l.h, Title: title, Desc: s.describe()}
	dash := draw.Style{Fill: draw.White, Stroke: draw.Slate, Width: 0.35, Dash: []float64{2, 1}}
	sc.Add(draw.RoundRect(0.5, l.sheath+sheathH/2, sc.W-1, l.foot+1.5-l.sheath-sheathH/2, 2.5, dash))
	sc.Add(draw.Text{X: sc.W / 2, Y: l.h - edge, Size: labelSize, S: s.kindLine(sc.W), Anchor: draw.Middle})
	for i := range s.blocks {
		sc.Add(s.frame(&s.blocks[i], l)...)
	}
	for i, r := range s.runs {
		sc.Add(s.conductor(r, s.ends[i], l)...)
	}
	for i := range s.cables {
		sc.Add(s.cable(&s.cables[i], l)...)
	}
	for i := range s.runs {
		sc.Add(s.footMarks(s.runs[i], s.ends[i], l)...)
	}
	for i := range s.blocks {
		sc.Add(s.words(&s.blocks[i], l)...)
	}
	return sc
}

// kindLine is the kind of box, cut to what the drawing has room for.
func (s *sketch) kindLine(w float64) string {
	lines := wrap(shortTitle(s.p.Box.Kind.Title), labelSize, false, w-2)
	if len(lines) == 0 {
		return ""
	}
	return lines[0]
}

// describe says in words where every core lands.
func (s *sketch) describe() string {
	text := "Rear of " + s.p.Box.Name() + "."
	for i := range s.p.Cables {
		for _, core := range s.p.Cables[i].Cores {
			text += " " + sentence(s.g.EndName(core.End)+": "+s.g.Where(core.End))
		}
	}
	return text
}

func (s *sketch) conductor(r *run, e wiring.End, l levels) []draw.Node {
	y := l.channel + float64(r.track)*trackPitch
	foot := l.pad + 1.6
	if r.link {
		p := draw.Bent(1.5, draw.Point{X: r.x0, Y: foot}, draw.Point{X: r.x0, Y: y}, draw.Point{X: r.x1, Y: y}, draw.Point{X: r.x1, Y: foot})
		return conductor(p, skin{base: draw.White})
	}
	p := draw.Bent(1.5, draw.Point{X: r.x0, Y: l.sheath + sheathH - 1}, draw.Point{X: r.x0, Y: y}, draw.Point{X: r.x1, Y: y}, draw.Point{X: r.x1, Y: foot})
	return conductor(p, skinOf(s.core(e).Colour))
}

// cable draws the end of a sheath, the letters of its cores and its label.
func (s *sketch) cable(c *cableColumn, l levels) []draw.Node {
	mid := edge + (float64(c.x)+float64(c.w)/2)*cell
	w := float64(len(c.Cores))*cell - 1.6
	left := edge + float64(c.x+c.first)*cell + 0.8
	out := []draw.Node{draw.RoundRect(left, l.sheath, w, sheathH, 1.5, draw.Style{Fill: draw.RGB(222, 225, 228), Stroke: draw.Black, Width: 0.4})}
	for i, line := range c.label {
		out = append(out, draw.Text{X: mid, Y: edge + float64(i+1)*labelLine - 0.7, Size: labelSize, S: line.s, Bold: line.bold, Anchor: draw.Middle})
	}
	for _, core := range c.Cores {
		code := draw.Text{X: s.coreX(core.End), Y: l.sheath + sheathH + 3.6, Size: codeSize, S: codeOf(core.Core), Bold: true, Anchor: draw.Middle}
		out = append(out, draw.Plate(code, draw.White))
	}
	return out
}

// footMarks draws the sleeve and the number of the step above a terminal.
func (s *sketch) footMarks(r *run, e wiring.End, l levels) []draw.Node {
	var out []draw.Node
	if name := s.notes.sleeves[e]; name != "" {
		k := skinOf(sleeveColour(name))
		p := draw.Path{}.M(r.x1, l.sleeve).L(r.x1, l.sleeve+6.5)
		band := draw.Band{Width: 3.2, EdgeWidth: 0.35, Pitch: 2.6, Base: k.base, Stripe: k.stripe, Edge: draw.Black}
		out = append(out, band.Along(p))
		if k.stripe == draw.None {
			out = append(out, draw.Text{X: r.x1 + codeSize*draw.CapHeight/2, Y: l.sleeve + 3.25, Size: codeSize, S: k.code, Bold: true, Anchor: draw.Middle, Fill: k.base.Over(), Turn: -90})
		}
	}
	if n := s.notes.steps[e]; n > 0 {
		out = append(out, badge(r.x1, l.badge+2.4, n)...)
	}
	return out
}

// badge is the number of a step in a ring.
func badge(x, y float64, n int) []draw.Node {
	return []draw.Node{
		draw.Circle(x, y, 2.2, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.4}),
		draw.Text{X: x, Y: y + codeSize*draw.CapHeight/2, Size: codeSize, S: strconv.Itoa(n), Bold: true, Anchor: draw.Middle},
	}
}

// frame draws a block without its words.
func (s *sketch) frame(b *block, l levels) []draw.Node {
	x := edge + float64(b.x)*cell + footShift
	w, h := float64(b.w)*cell, s.blockHeight(b)
	var out []draw.Node
	if b.item != nil {
		out = append(out, draw.RoundRect(x-0.4, l.pad-1, w+0.8, h+1, 1.5, draw.Style{Fill: draw.Tint, Stroke: draw.Black, Width: 0.5}))
	}
	for _, pd := range b.pads {
		style := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.3}
		if b.open {
			style.Dash = []float64{1, 0.8}
		}
		out = append(out, draw.RoundRect(x+float64(pd.x)*cell+0.4, l.pad, float64(pd.w)*cell-0.8, padH-0.8, 0.8, style))
	}
	if b.item != nil {
		in := inside{kind: b.item.Kind, left: x + 1, y: l.pad + padH + 0.4, x: func(t string) float64 { return s.padX(b, t) }}
		out = append(out, in.draw()...)
	}
	return out
}

func (s *sketch) padX(b *block, terminal string) float64 {
	for _, pd := range b.pads {
		if pd.name == terminal {
			return edge + (float64(b.x+pd.x)+float64(pd.w)/2)*cell + footShift
		}
	}
	return 0
}

// words writes the letters of what lands, the terminals' names and the label.
func (s *sketch) words(b *block, l levels) []draw.Node {
	var out []draw.Node
	for i := range b.pads {
		pd := &b.pads[i]
		for k, sl := range pd.slots {
			code := "link"
			if sl.link == 0 {
				code = codeOf(s.core(sl.end))
			}
			out = append(out, draw.Text{X: s.footX(b, pd, k), Y: l.pad + 4.3, Size: codeSize, S: code, Anchor: draw.Middle})
		}
		name := draw.Text{X: edge + (float64(b.x+pd.x)+float64(pd.w)/2)*cell + footShift, Y: l.pad + 7.8, Size: labelSize, S: pd.name, Bold: true, Anchor: draw.Middle}
		out = append(out, name)
	}
	if b.item == nil {
		return out
	}
	y := l.pad + padH + 1 + insideHeight(b.item.Kind)
	for i, line := range b.label() {
		out = append(out, draw.Text{X: edge + (float64(b.x)+float64(b.w)/2)*cell + footShift, Y: y + float64(i+1)*labelLine - 0.5, Size: labelSize, S: line.s, Bold: line.bold, Anchor: draw.Middle})
	}
	return out
}
