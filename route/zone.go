package route

import (
	"fmt"
	"slices"

	"strapper/house"
)

// wallZones are the zones of one wall in which a hidden cable may run.
type wallZones struct {
	wall  *house.Wall
	bands [2][]band // by side: from floor to ceiling
	rows  [2][]band // by side: along the whole wall
}

// band is a strip of a wall: along it for those from floor to ceiling, in
// height for the others.
type band struct {
	low, high MM
	title     string
	corner    bool
}

func (b band) holds(x MM) bool { return b.low <= x && x <= b.high }

// zones collects the bands of every wall: accessories on it, and the angles
// with other walls that the faces of rooms show.
func (f *fabric) zones() {
	for _, w := range f.h.Walls {
		f.walls[w] = &wallZones{wall: w}
	}
	for _, b := range f.h.Boxes {
		if z := f.walls[b.Wall]; z != nil {
			half, tall := halfWidth(b), halfHeight(b)
			z.bands[b.Side] = append(z.bands[b.Side], band{low: b.Along - half, high: b.Along + half, title: "in the vertical zone of " + b.ID})
			z.rows[b.Side] = append(z.rows[b.Side], band{low: b.Height - tall, high: b.Height + tall, title: "in the horizontal zone of " + b.ID})
		}
	}
	for _, r := range f.h.Rooms {
		for _, face := range r.Faces {
			f.corner(face, 0)
			f.corner(face, face.Length())
		}
	}
}

// corner adds the band beside one end of a face to the wall behind it.
func (f *fabric) corner(face *house.Face, x MM) {
	s, along, ok := face.Behind(x)
	z := f.walls[s.Wall]
	if !ok || z == nil || s.Wall.Build.Fabric == house.FabricOpenSpace {
		return
	}
	b := band{low: along, high: along + f.l.CornerBand, title: "in the zone beside the corner", corner: true}
	if (x == 0) == s.Reverse { // the face continues towards smaller places of the wall
		b.low, b.high = along-f.l.CornerBand, along
	}
	z.bands[s.Side] = append(z.bands[s.Side], b)
}

// halfWidth and halfHeight are half of an accessory as it is seen: its body,
// without the overhang of its plate, which is on the safe side.
func halfWidth(b *house.Box) MM  { return halfOr(b.Size.Width) }
func halfHeight(b *house.Box) MM { return halfOr(b.Size.Height) }

func halfOr(x MM) MM {
	if x <= 0 {
		return 36 // half of a one-gang box
	}
	return x / 2
}

// allowed names the zone of one side of the wall that holds a straight stretch
// along an axis, or "".
func (z *wallZones) allowed(l *Limits, side house.Side, x1, z1, x2, z2 MM) string {
	top := z.wall.Storey.Height - l.TopBand
	if min(z1, z2) >= top {
		return "in the zone under the ceiling"
	}
	within := func(list []band, a, b MM, accessories bool) string {
		i := slices.IndexFunc(list, func(b0 band) bool {
			return b0.holds(a) && b0.holds(b) && !(accessories && b0.corner)
		})
		if i < 0 {
			return ""
		}
		return list[i].title
	}
	if t := within(z.bands[side], x1, x2, false); t != "" {
		return t
	}
	if t := within(z.rows[side], z1, z2, false); t != "" {
		return t
	}
	if z.wall.Build.Thickness() > l.ThinWall {
		return ""
	}
	if t := within(z.bands[side.Other()], x1, x2, true); t != "" {
		return t
	}
	return within(z.rows[side.Other()], z1, z2, true)
}

// hidden says whether a stretch may be hidden in a wall: in a chase on one
// side, or loose inside a hollow wall. In a wall thick enough the cable may be
// held near the side that has the zone, away from the other face.
func (f *fabric) hidden(w *house.Wall, side house.Side, x1, z1, x2, z2 MM) (zone string, near house.Side, held, ok bool) {
	z := f.walls[w]
	var names [2]string
	for _, s := range []house.Side{house.SideA, house.SideB} {
		names[s] = z.allowed(f.l, s, x1, z1, x2, z2)
	}
	deep := w.Build.Thickness()
	if !w.Build.Hollow() {
		far := w.Rooms[side.Other()] != nil && deep-f.chaseDepth(w, side) < f.l.Cover
		return names[side], side, false, names[side] != "" && (!far || names[side.Other()] != "")
	}
	if needed := f.facesNeeded(w); names[0] != "" && names[1] != "" || len(needed) == 1 && names[needed[0]] != "" {
		s := house.SideA
		if names[s] == "" || len(needed) == 1 {
			s = needed[0]
		}
		return names[s], s, false, true
	}
	for _, s := range []house.Side{side, side.Other()} {
		// Held against the lining of side s: far enough from the other face?
		if names[s] != "" && deep-w.Build.Face[s]-f.width >= f.l.Cover {
			return names[s], s, true, true
		}
	}
	return "", side, false, false
}

// facesNeeded are the sides of a hollow wall on which somebody may drill: those
// with a room, or both if neither is described.
func (f *fabric) facesNeeded(w *house.Wall) []house.Side {
	both := []house.Side{house.SideA, house.SideB}
	if w.Rooms[house.SideA] == nil && w.Rooms[house.SideB] == nil {
		return both
	}
	return slices.DeleteFunc(both, func(s house.Side) bool { return w.Rooms[s] == nil })
}

// chaseDepth is how deep a chase is cut: through the lining, and 15 mm at
// least.
func (f *fabric) chaseDepth(w *house.Wall, side house.Side) MM {
	return max(w.Build.Face[side]+w.Build.Gap[side], 15)
}

// inOpening reports whether a stretch in a wall meets an opening.
func inOpening(w *house.Wall, x1, z1, x2, z2, margin MM) bool {
	return slices.ContainsFunc(w.Openings, func(o *house.Opening) bool {
		return max(x1, x2) > o.From-margin && min(x1, x2) < o.To+margin && max(z1, z2) > o.Sill-margin && min(z1, z2) < o.Head+margin
	})
}

// inTheWay looks for obstructions in a wall at a stretch: known ones bar it,
// likely ones are risks.
func (f *fabric) inTheWay(w *house.Wall, x1, z1, x2, z2 MM) (risks []Risk, barred bool) {
	for _, b := range f.h.Blocks {
		clear := f.clearance(b)
		if b.Wall != w || max(x1, x2) < b.From-clear || min(x1, x2) > b.To+clear || max(z1, z2) < b.Low-clear || min(z1, z2) > b.High+clear {
			continue
		}
		if b.Kind == house.BlockNogging {
			risks = append(risks, f.noggingRisk(w, (x1+x2)/2, (b.Low+b.High)/2, b.Likely))
			continue
		}
		if b.Known() {
			return nil, true
		}
		risks = append(risks, Risk{
			What: fmt.Sprintf("%s (%s)", b.Kind, b.ID), Likely: b.Likely, key: "block " + b.ID,
			Do: "do not force it", leave: true, extra: effort{45 * 60, 20},
		})
	}
	for _, s := range f.h.Found {
		if s.Wall == w && max(x1, x2) >= s.From && min(x1, x2) <= s.To && (s.Height == 0 || min(z1, z2) <= s.Height+100 && max(z1, z2) >= s.Height-100) {
			if s.Sign == house.SignLive || s.Sign == house.SignPipe || s.Sign == house.SignMetal {
				return nil, true
			}
		}
	}
	return risks, false
}

// clearance is how far a cable stays from an obstruction.
func (f *fabric) clearance(b *house.Block) MM {
	switch {
	case b.Hot || b.Kind == house.BlockFlue:
		return f.l.HeatClear
	case b.Kind == house.BlockPipe:
		return f.l.ServiceClear
	}
	return f.hole / 2
}
