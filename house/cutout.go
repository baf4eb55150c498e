package house

import (
	"fmt"

	"strapper/source"
)

// plateFrom is the width of the narrowest box with an ordinary plate.
const plateFrom MM = 60

// Figures of cutting and filling boxes.
var (
	cableRoom  = assumption{"clear depth behind a box for the cable to turn in", 10, practice}
	thinBoard  = assumption{"thinnest board a clamped box holds to", 9, memory}
	thickBoard = assumption{"thickest board a clamped box holds to", 25, memory}

	plateOver = assumption{"plate beyond the edge of a flush box: 86 mm over about 72 mm", 7, memory}

	chaseShare = 3 // a leaf may be cut to one part in this
	chaseFrom  = source.Source{
		Authority: source.Memory, Cite: "Approved Document A, 2C30: a vertical chase no deeper than a third of the leaf, a horizontal one no deeper than a sixth",
		Note: "taken here for the hole of a box; to be confirmed",
	}

	plainBody = assumption{"depth that a plain switch takes in its box", 12, memory}
	deepBody  = assumption{"depth that a dimmer or electronic switch takes in its box", 20, memory}

	coreVolume     = int64(4000) // mm³
	coreVolumeFrom = source.Source{
		Authority: source.Practice, Cite: "common practice, no source: a folded tail of 150 mm, 3 mm across, fills about a quarter of its room",
		Note: "no British standard limits the conductors in a box",
	}
)

func cutFigures() []source.Figure {
	var list []source.Figure
	for _, x := range []assumption{cableRoom, thinBoard, thickBoard, plainBody, deepBody, plateOver} {
		list = append(list, source.Figure{Name: "box: " + x.name, Value: mm(x.value), Source: x.from})
	}
	return append(
		list,
		source.Figure{Name: "box: deepest hole in a leaf of masonry", Value: fmt.Sprintf("1/%d of the leaf", chaseShare), Source: chaseFrom},
		source.Figure{Name: "box: free room for one conductor", Value: fmt.Sprintf("%d cm³", coreVolume/1000), Source: coreVolumeFrom},
	)
}

// CutOut is the hole for a box and what there is behind it. Places along the
// wall are given as seen from the box's room, from the left corner of its
// face; in a ceiling they are distances from the left and front sides of the
// room.
type CutOut struct {
	Box           *Box
	Width, Height MM // of the hole; in a ceiling, across and front to back
	Left, Right   MM // edges of the hole
	Low, High     MM // edges of the hole over the finished floor; in a ceiling, from the front of the room

	LeftStud, RightStud MM // from the edges of the hole to the nearest stud; negative where it meets one
	Hollow              bool

	Room   MM   // depth of the hollow behind the finished face, its lining included
	Short  MM   // by how much the hollow is too shallow for the box with its cable
	Chase  MM   // how deep masonry has to be cut behind lining and void
	Most   MM   // how deep it may be cut; 0 where there is none
	Unheld bool // the box clamps to a board, and there is none that it holds to

	LevelWith string // the id of the box it was set level with; "" if none
}

// CutOut works out the hole of a box that is let into a wall or ceiling.
func (b *Box) CutOut() CutOut {
	c := CutOut{Box: b, Width: b.Size.Width, Height: b.Size.Height}
	for _, m := range b.Measures {
		if m.From == FromBox {
			c.LevelWith = m.Of
		}
	}
	if b.Wall == nil {
		least, _ := bounds(b.Room.Outline)
		c.Left, c.Low = b.At.X-least.X-c.Width/2, b.At.Y-least.Y-c.Height/2
		c.Right, c.High = c.Left+c.Width, c.Low+c.Height
		c.Hollow = true
		c.Room = b.Over.Ceiling + b.Over.Depth
		c.Short = max(0, b.Size.Depth+cableRoom.value-c.Room)
		return c
	}
	z := b.stretch()
	c.Left = z.Across(b.Along) - c.Width/2
	c.Right = c.Left + c.Width
	c.Low = b.Height - c.Height/2
	c.High = c.Low + c.Height
	c.studs(b, z)
	c.depths(b)
	return c
}

// stretch is the part of the box's face behind which its wall stands.
func (b *Box) stretch() Stretch {
	for _, z := range b.Face.Walls {
		if z.Wall == b.Wall {
			return z
		}
	}
	return Stretch{Wall: b.Wall}
}

// studs measures from the hole's edges to the studs beside it.
func (c *CutOut) studs(b *Box, z Stretch) {
	c.Hollow = b.Wall.Build.Hollow()
	if !c.Hollow {
		return
	}
	middle := (c.Left + c.Right) / 2
	c.LeftStud, c.RightStud = c.Left-z.From, z.To-c.Right
	left, right := false, false
	for _, s := range b.Wall.Studs {
		x := z.Across(s.At)
		if gap := c.Left - (x + s.Width/2); x <= middle && (!left || gap < c.LeftStud) {
			c.LeftStud, left = gap, true
		}
		if gap := x - s.Width/2 - c.Right; x > middle && (!right || gap < c.RightStud) {
			c.RightStud, right = gap, true
		}
	}
}

// depths compares the box with what the wall has behind its face.
func (c *CutOut) depths(b *Box) {
	w, side := b.Wall.Build, b.Side
	c.Unheld = b.Size.Lined && (w.Line[side] != LiningBoard || w.Face[side] < thinBoard.value || w.Face[side] > thickBoard.value)
	if w.Hollow() {
		c.Room = w.Face[side] + w.Core
		c.Short = max(0, b.Size.Depth+cableRoom.value-c.Room)
		return
	}
	c.Room = w.Face[side] + w.Gap[side]
	c.Chase = max(0, b.Size.Depth-c.Room)
	leaf := w.Core
	if w.Leaf[side] > 0 {
		leaf = w.Leaf[side]
	}
	c.Most = leaf / MM(chaseShare)
}

// Contents are what a box has to hold.
type Contents struct {
	Conductors int  // core ends, protective conductors included
	Deep       bool // a dimmer, a sensor or another electronic accessory is fitted
}

// Holds reports whether a box of one size can take the place of another
// without cutting: the other is not larger in any direction, and of the same
// sort.
func (s Size) Holds(other Size) bool {
	return s.Flush == other.Flush && s.Lined == other.Lined &&
		other.Width <= s.Width && other.Height <= s.Height && other.Depth <= s.Depth
}

// PlateOver is by how much a plate stands over a flush box on each side: none
// on boxes as narrow as an architrave, which their plates just cover.
func PlateOver(s Size) MM {
	if s.Width < plateFrom {
		return 0
	}
	return plateOver.value
}

// Crowded reports whether the conductors have too little room behind the
// accessory, with the room there is for each and the room each needs, in cubic
// millimetres. A box of unknown size, or without conductors, is not judged.
// The figures are a rule of thumb: no British standard sets a limit.
func (s Size) Crowded(in Contents) (each, needs int64, crowded bool) {
	if s.Depth == 0 || s.Width == 0 || s.Height == 0 || in.Conductors <= 0 {
		return 0, coreVolume, false
	}
	body := plainBody.value
	if in.Deep {
		body = deepBody.value
	}
	free := max(0, int64(s.Depth-body)) * int64(s.Width) * int64(s.Height)
	each = free / int64(in.Conductors)
	return each, coreVolume, each < coreVolume
}
