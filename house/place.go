package house

import (
	"math"
	"slices"
)

// Room finds a room by its id; nil if there is none.
func (h *House) Room(id string) *Room { return byID(h.Rooms, id, func(r *Room) string { return r.ID }) }

// Wall finds a wall by its id; nil if there is none.
func (h *House) Wall(id string) *Wall { return byID(h.Walls, id, func(w *Wall) string { return w.ID }) }

// Box finds where a box of the wiring stands; nil if the house does not say.
func (h *House) Box(id string) *Box { return byID(h.Boxes, id, func(b *Box) string { return b.ID }) }

// Storey finds a storey by its id; nil if there is none.
func (h *House) Storey(id string) *Storey {
	return byID(h.Storeys, id, func(s *Storey) string { return s.ID })
}

func byID[T any](list []*T, id string, of func(*T) string) *T {
	i := slices.IndexFunc(list, func(x *T) bool { return of(x) == id })
	if i < 0 {
		return nil
	}
	return list[i]
}

// Floors lists every floor of the house, the lowest first, the one over the
// highest storey last.
func (h *House) Floors() []*Floor {
	var list []*Floor
	for _, s := range h.Storeys {
		list = append(list, s.Floor)
	}
	if n := len(h.Storeys); n > 0 {
		list = append(list, h.Storeys[n-1].Above)
	}
	return list
}

// PartAt finds the part of a floor at a place on plan, its edge included; nil
// outside the floor.
func (f *Floor) PartAt(p Point) *Part {
	i := slices.IndexFunc(f.Parts, func(x *Part) bool { return within(x.Outline, p) >= 0 })
	if i < 0 {
		return nil
	}
	return f.Parts[i]
}

// Of is the coordinate of a point along the axis.
func (a Axis) Of(p Point) MM {
	if a == AlongX {
		return p.X
	}
	return p.Y
}

// Across is the other axis.
func (a Axis) Across() Axis { return 1 - a }

// Bounds are the least and greatest coordinates of the part.
func (p *Part) Bounds() (least, greatest Point) { return bounds(p.Outline) }

// Joists are the coordinates, across the run, of the joists' centre lines that
// lie in the part, ascending. A solid floor has none.
func (p *Part) Joists() []MM {
	if p.Solid || p.Spacing <= 0 {
		return nil
	}
	least, greatest := p.Bounds()
	low, high := p.Run.Across().Of(least)+p.Breadth/2, p.Run.Across().Of(greatest)-p.Breadth/2
	steps := (low - p.First) / p.Spacing
	for p.First+steps*p.Spacing < low {
		steps++
	}
	var list []MM
	for at := p.First + steps*p.Spacing; at <= high; at += p.Spacing {
		list = append(list, at)
	}
	return list
}

// Span is the clear stretch of joist between two bearings at a coordinate along
// the run; ok is false outside all of them.
func (p *Part) Span(at MM) (from, to MM, ok bool) {
	for i := 1; i < len(p.Bearings); i++ {
		if p.Bearings[i-1] <= at && at <= p.Bearings[i] {
			return p.Bearings[i-1], p.Bearings[i], true
		}
	}
	return 0, 0, false
}

// Length is the wall's length, rounded to whole millimetres.
func (w *Wall) Length() MM { return length(w.From, w.To) }

// At is the point on plan that lies along the wall and deep in it, counted
// from the face of side A, rounded to whole millimetres. It is exact for walls
// that run along an axis.
func (w *Wall) At(along, deep MM) Point {
	dx, dy := float64(w.To.X-w.From.X), float64(w.To.Y-w.From.Y)
	n := math.Hypot(dx, dy)
	if n == 0 {
		return w.From
	}
	a, d := float64(along)/n, float64(deep)/n
	return Point{
		w.From.X + MM(math.Round(dx*a-dy*d)),
		w.From.Y + MM(math.Round(dy*a+dx*d)),
	}
}

// Run is the axis a wall runs along; ok is false for a slanting wall.
func (w *Wall) Run() (a Axis, ok bool) {
	switch {
	case w.From.Y == w.To.Y:
		return AlongX, true
	case w.From.X == w.To.X:
		return AlongY, true
	}
	return 0, false
}

// Level is the level of a height over the finished floor of the wall's storey.
func (w *Wall) Level(height MM) MM { return w.Storey.Level + height }

// HeadPlate is the extent of the head plate in height over the finished floor;
// it may reach over the ceiling. Both are 0 in masonry.
func (w *Wall) HeadPlate() (low, high MM) {
	if !w.Build.Hollow() {
		return 0, 0
	}
	high = w.Storey.Height
	if w.Storey.Above != nil && !w.Build.UnderBoard {
		high += w.Storey.Above.Ceiling
	}
	return high - w.Build.Plate, high
}

// Length is the face's length, rounded to whole millimetres.
func (f *Face) Length() MM { return length(f.From, f.To) }

// At is the point of the face at a distance from its left corner.
func (f *Face) At(x MM) Point {
	n := f.Length()
	if n == 0 {
		return f.From
	}
	share := float64(x) / float64(n)
	return Point{
		f.From.X + MM(math.Round(float64(f.To.X-f.From.X)*share)),
		f.From.Y + MM(math.Round(float64(f.To.Y-f.From.Y)*share)),
	}
}

// Behind finds the wall behind a place of the face and the place along that
// wall; ok is false where no wall is known.
func (f *Face) Behind(x MM) (s Stretch, along MM, ok bool) {
	for _, s := range f.Walls {
		if s.From <= x && x <= s.To {
			return s, s.Along(x), true
		}
	}
	return Stretch{}, 0, false
}

// Along turns a distance from the face's left corner into one along the wall.
func (s Stretch) Along(x MM) MM {
	if s.Reverse {
		return s.At - (x - s.From)
	}
	return s.At + (x - s.From)
}

// Across turns a distance along the wall into one from the face's left corner.
func (s Stretch) Across(along MM) MM {
	if s.Reverse {
		return s.From + (s.At - along)
	}
	return s.From + (along - s.At)
}

func length(a, b Point) MM {
	return MM(math.Round(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))))
}

// Bounds are the least and greatest coordinates of the room.
func (r *Room) Bounds() (least, greatest Point) { return bounds(r.Outline) }

// Holds reports whether a place on plan lies in the room or on its edge.
func (r *Room) Holds(p Point) bool { return within(r.Outline, p) >= 0 }
