package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/engine"
	"strapper/finding"
	"strapper/house"
	"strapper/internal/draw"
)

// assumedCode marks the notes that are listed with the house instead of on the
// first page.
const assumedCode = "house-assumed"

// fabric is the sheet of the house: the holes to cut for new boxes, and what
// was assumed. A job without a house has none.
func (p *pack) fabric() []draw.Block {
	h := p.Job.House
	if h == nil {
		return nil
	}
	blocks := []draw.Block{draw.Heading{Level: 1, Text: "The house"}}
	for _, d := range Drawings(p.Result) {
		blocks = append(blocks, draw.Figure{Scene: d.Scene, Caption: d.Caption})
	}
	if t := p.cutOuts(h); len(t.Rows) > 0 {
		blocks = append(blocks, draw.Heading{Level: 2, Text: "Holes for new boxes"}, t,
			draw.Para{Style: draw.Small, Text: "Distances are read by somebody who stands in the room and looks at the wall. Find studs, pipes and cables with a detector before cutting, and cut with every circuit in the wall dead."})
	}
	if list := sightings(h); len(list) > 0 {
		blocks = append(blocks, draw.Heading{Level: 2, Text: "Found with a detector or a small hole"}, draw.List{Items: list})
	}
	if list := p.assumed(); len(list) > 0 {
		blocks = append(blocks,
			draw.Heading{Level: 2, Text: "Assumed about the house"},
			draw.Para{Text: "None of this was measured. Check what a hole or a length depends on."},
			draw.List{Items: list})
	}
	if len(blocks) == 1 {
		return nil
	}
	return blocks
}

// sightings lists what was found, in words.
func sightings(h *house.House) []string {
	var list []string
	for _, x := range h.Found {
		f, from, to := seenOn(x)
		if f == nil {
			continue
		}
		text := fmt.Sprintf("%s, wall %s: %s from %d to %d mm from the left corner", f.Room.Title, faceSide(f), x.Sign, from, to)
		if x.Height > 0 {
			text += fmt.Sprintf(", %d mm above the floor", x.Height)
		}
		if x.Note != "" {
			text += "; " + oneLine(x.Note)
		}
		list = append(list, text+".")
	}
	return list
}

// seenOn is the face on which something was found, and its extent there.
func seenOn(x *house.Sighting) (f *house.Face, from, to house.MM) {
	r := x.Wall.Rooms[x.Side]
	if r == nil {
		return nil, 0, 0
	}
	for _, f := range r.Faces {
		for _, z := range f.Walls {
			if z.Wall == x.Wall && z.Side == x.Side {
				from, to = rising(z.Across(x.From), z.Across(x.To))
				return f, from, to
			}
		}
	}
	return nil, 0, 0
}

// assumed lists the assumptions as sentences.
func (p *pack) assumed() []string {
	var list []string
	for _, f := range p.Findings {
		if f.Code == assumedCode {
			list = append(list, sentence(strings.TrimPrefix(f.Text, "assumed for ")))
		}
	}
	return list
}

// withoutAssumed leaves out the notes that the sheet of the house lists.
func withoutAssumed(list []finding.Finding) []finding.Finding {
	return slices.DeleteFunc(slices.Clone(list), func(f finding.Finding) bool { return f.Code == assumedCode })
}

// cutOuts has a row for each box that is let into a wall or ceiling anew.
func (p *pack) cutOuts(h *house.House) draw.Table {
	t := draw.Table{
		Head:    []string{"Box", "Hole", "Where it is", "Beside and behind it"},
		Weights: []float64{3, 2.2, 5, 5}, RowHead: true,
	}
	for _, c := range p.CutOuts() {
		t.Rows = append(t.Rows, draw.Cells(boxName(c.Box.ID, p.insts()...), holeSize(&c), holePlace(&c), p.holeDepth(&c)))
	}
	return t
}

func holeSize(c *house.CutOut) string {
	return fmt.Sprintf("%d × %d mm, %d deep", c.Width, c.Height, c.Box.Size.Depth)
}

// CutOut says in words what is to be cut for a new box.
func CutOut(r *engine.Result, c *house.CutOut) string {
	p := &pack{Result: r}
	return boxName(c.Box.ID, p.insts()...) + ": cut " + holeSize(c) + ". " + holePlace(c) + ". " + p.holeDepth(c) + "."
}

// holePlace says where a hole's edges are.
func holePlace(c *house.CutOut) string {
	b := c.Box
	if b.Wall == nil {
		return fmt.Sprintf("Ceiling of %s: %d to %d mm from the left side of the room, %d to %d mm from its front side", b.Room.Title, c.Left, c.Right, c.Low, c.High)
	}
	text := fmt.Sprintf("%s, wall %s: %d to %d mm from the left corner, %d to %d mm above the floor", b.Room.Title, faceSide(b.Face), c.Left, c.Right, c.Low, c.High)
	if beside := besideDoor(b); beside != "" {
		text += "; " + beside
	}
	if c.LevelWith != "" {
		text += "; level with " + c.LevelWith
	}
	return text
}

// faceSide is the side of a room that a face is on; one of several on that
// side also has its name.
func faceSide(f *house.Face) string {
	side, number, _ := strings.Cut(f.Name, "-")
	if number != "" {
		return side + " (" + f.Name + " on the plan)"
	}
	return side
}

// besideDoor repeats the measure from a door's lining, if it was so measured.
func besideDoor(b *house.Box) string {
	for _, m := range b.Measures {
		if m.From == house.FromOpening {
			return fmt.Sprintf("its middle %d mm from the lining of %s", m.Distance, m.Of)
		}
	}
	return ""
}

// holeDepth says what is beside and behind a hole.
func (p *pack) holeDepth(c *house.CutOut) string {
	var list []string
	b := c.Box
	if b.Wall != nil {
		list = append(list, b.Wall.Build.Title)
	}
	if c.Hollow && b.Wall != nil {
		list = append(list, fmt.Sprintf("studs %s to the left and %s to the right of the hole, %s", away(c.LeftStud), away(c.RightStud), seenStuds(b.Wall)))
	}
	switch {
	case c.Hollow:
		list = append(list, fmt.Sprintf("%d mm deep behind the face", c.Room))
	case c.Chase > 0:
		list = append(list, fmt.Sprintf("cut %d mm into the masonry, of which at most %d mm may be cut", c.Chase, c.Most))
	}
	in := engine.Contents(p.Final().Inst, p.Final().Inst.Box(b.ID))
	if each, _, _ := b.Size.Crowded(in); each > 0 {
		list = append(list, fmt.Sprintf("%d conductors, %.1f cm³ for each", in.Conductors, float64(each)/1000))
	}
	return strings.Join(list, "; ")
}

// away is a distance to a stud; a hole that meets one has less than none.
func away(d house.MM) string {
	if d < 0 {
		return "in its way"
	}
	return fmt.Sprintf("%d mm", d)
}

// seenStuds says whether the studs of a wall were found.
func seenStuds(w *house.Wall) string {
	if slices.ContainsFunc(w.Studs, func(s house.Stud) bool { return s.Seen }) {
		return "set out from one that was found"
	}
	return "assumed"
}
