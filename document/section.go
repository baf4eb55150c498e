package document

import (
	"fmt"

	"strapper/house"
	"strapper/internal/draw"
)

// section cuts through the wall at a new box, level with it and seen from
// above: linings, studs, what is behind, and the box with the depth it needs.
func (s *survey) section(b *house.Box) Drawing {
	const reach = 330 // to either side of the box
	c := b.CutOut()
	w := b.Wall.Build
	deep := w.Thickness()
	f := newFrame(fmt.Sprintf("Section at %s, seen from above; the room is below", b.ID), -reach, deep, 2*reach, deep, 132, 80, 24, 11)
	z := faceStretch(b)
	x0, x1 := max(-reach, z.From-z.Across(b.Along)), min(reach, z.To-z.Across(b.Along))
	// From the box's face inwards.
	near, far := b.Side, b.Side.Other()
	core := w.Face[near] + w.Gap[near]
	layer := func(from, to mm, st draw.Style) { f.area(x0, from, x1, to, st) }
	body := draw.Style{Stroke: draw.Black, Width: 0.3}
	if !w.Hollow() {
		body.Fill = masonry
	}
	layer(core, core+w.Core, body)
	if w.Leaf[near] > 0 {
		layer(core+w.Leaf[near], core+w.Core-w.Leaf[far], draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.3})
	}
	lining := draw.Style{Fill: draw.Tint, Stroke: draw.Black, Width: 0.3}
	if w.Face[near] > 0 {
		layer(0, w.Face[near], lining)
	}
	if w.Face[far] > 0 {
		layer(deep-w.Face[far], deep, lining)
	}
	if w.Hollow() {
		f.sectionStuds(b, z, core, x0, x1)
	}
	half := b.Size.Width / 2
	f.area(-half, 0, b.Size.Width-half, b.Size.Depth, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.9})
	f.area(-half-b.Size.Plate, -4, b.Size.Width-half+b.Size.Plate, 0, draw.Style{Fill: draw.Black})
	f.sectionFigures(b, &c, x0, x1, deep)
	f.sc.Desc = f.sc.Title + ": " + w.Title + ". " + sectionWords(b, &c)
	return Drawing{Name: "section-" + b.ID, Caption: w.Title + ". " + sectionWords(b, &c), Scene: f.done()}
}

func faceStretch(b *house.Box) house.Stretch {
	for _, z := range b.Face.Walls {
		if z.Wall == b.Wall {
			return z
		}
	}
	return house.Stretch{}
}

// sectionStuds draws the studs in reach, crossed as cut timber is.
func (f *frame) sectionStuds(b *house.Box, z house.Stretch, core, x0, x1 mm) {
	for _, s := range b.Wall.Studs {
		x := z.Across(s.At) - z.Across(b.Along)
		from, to := x-s.Width/2, x+s.Width-s.Width/2
		if from < x0 || to > x1 {
			continue
		}
		st := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.35}
		if !s.Seen {
			st.Dash = []float64{1.6, 1}
		}
		f.area(from, core, to, core+b.Wall.Build.Core, st)
		f.line(from, core, to, core+b.Wall.Build.Core, thin)
		f.line(from, core+b.Wall.Build.Core, to, core, thin)
	}
}

// sectionFigures writes the depths at the left and the distances below.
func (f *frame) sectionFigures(b *house.Box, c *house.CutOut, x0, x1, deep mm) {
	ys := []mm{b.Size.Depth, deep}
	if c.Room > 0 && c.Hollow {
		ys = append(ys, c.Room)
	}
	if lining := b.Wall.Build.Face[b.Side]; lining > 0 {
		ys = append(ys, lining)
	}
	f.ticksLeft(0, deep, f.at(x0, 0).X-2.5, ys)
	half := b.Size.Width / 2
	p := f.at(0, 0)
	y := p.Y + 3.5
	span := func(from, to mm) {
		if to <= from {
			return
		}
		a, d := f.at(from, 0).X, f.at(to, 0).X
		f.sc.Add(draw.Line(a, y, d, y, thin), draw.Line(a, y-0.9, a, y+0.9, thin), draw.Line(d, y-0.9, d, y+0.9, thin))
		s := fmt.Sprint(int64(to - from))
		f.words(draw.Text{X: (a + d) / 2, Y: y + 3.2, Size: tagSize, S: s, Anchor: draw.Middle})
	}
	span(-half, b.Size.Width-half)
	if c.Hollow {
		if c.LeftStud > 0 && -half-c.LeftStud >= x0 {
			span(-half-c.LeftStud, -half)
		}
		if c.RightStud > 0 && b.Size.Width-half+c.RightStud <= x1 {
			span(b.Size.Width-half, b.Size.Width-half+c.RightStud)
		}
	}
}

// sectionWords says whether the depth suffices.
func sectionWords(b *house.Box, c *house.CutOut) string {
	switch {
	case c.Hollow && c.Short > 0:
		return fmt.Sprintf("The box is %d mm deep: the %d mm behind the face are %d mm too few with the cable.", b.Size.Depth, c.Room, c.Short)
	case c.Hollow:
		return fmt.Sprintf("The box is %d mm deep, and there are %d mm behind the face.", b.Size.Depth, c.Room)
	case c.Chase > c.Most:
		return fmt.Sprintf("The box needs %d mm of the masonry, of which at most %d mm may be cut.", c.Chase, c.Most)
	case c.Chase > 0:
		return fmt.Sprintf("The box needs %d mm of the masonry, of which at most %d mm may be cut.", c.Chase, c.Most)
	}
	return fmt.Sprintf("The box is %d mm deep and needs no cutting behind the lining.", b.Size.Depth)
}
