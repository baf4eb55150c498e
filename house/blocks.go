package house

import "slices"

// blocks places the obstructions.
func (a *assembly) blocks() {
	for _, f := range a.d.Blocks {
		s := at("obstructions", f.ID)
		a.percentRange(s, f.Likely)
		b := &Block{ID: f.ID, Kind: f.Kind, Likely: likelihood(f.Likely), Hot: f.Hot}
		ok := false
		switch {
		case f.Wall != "" && f.Floor != "" || f.Wall == "" && f.Floor == "":
			a.forbid(s, "house-no-measure", "give wall: or floor:", "obstruction %s must be in a wall or in a floor", f.ID)
		case f.Wall != "":
			ok = a.blockWall(s, b, f)
		default:
			ok = a.blockFloor(s, b, f)
		}
		if ok {
			a.h.Blocks = append(a.h.Blocks, b)
		}
	}
}

func (a *assembly) blockWall(s subject, b *Block, f DraftBlock) bool {
	face := a.findFace(s, f.Room, f.Wall)
	if face == nil {
		return false
	}
	low, high := MM(0), face.Length()
	if f.Left != nil {
		low = *f.Left
		if f.Width != nil {
			high = low + *f.Width
		} else {
			high = low + 50
			a.took(s, "it is 50 mm wide")
		}
	}
	i := slices.IndexFunc(face.Walls, func(z Stretch) bool { return z.From <= low && low <= z.To })
	if i < 0 || low > high || f.Left != nil && high > face.Walls[i].To {
		a.forbid(s, "house-off-wall", "measure again from the left corner as seen from room "+face.Room.ID, "obstruction %s reaches from %v to %v along %s, and there is no one wall behind all of that", b.ID, low, high, face)
		return false
	}
	z := face.Walls[i]
	b.Wall = z.Wall
	b.From, b.To = ordered(z.Along(low), z.Along(min(high, z.To)))
	b.Low, b.High = 0, z.Wall.Storey.Height
	if f.Low != nil {
		b.Low = *f.Low
	}
	if f.High != nil {
		b.High = *f.High
	}
	return a.inRange(s, "the upper edge of the obstruction", b.High, b.Low, z.Wall.Storey.Height)
}

func (a *assembly) blockFloor(s subject, b *Block, f DraftBlock) bool {
	for _, floor := range a.h.Floors() {
		if floor.ID == f.Floor {
			b.Floor = floor
		}
	}
	if b.Floor == nil {
		names := ids(a.h.Floors(), func(f *Floor) string { return f.ID })
		a.forbid(s, "house-unknown-storey", meant(f.Floor, names), "there is no floor %q", f.Floor)
		return false
	}
	r := a.h.Room(f.Room)
	if r == nil || r.Storey != b.Floor.Over && r.Storey != b.Floor.Below {
		names := append(roomNames(b.Floor.Over), roomNames(b.Floor.Below)...)
		a.forbid(s, "house-unknown-room", meant(f.Room, names), "obstruction %s lies over or under room %q, which is not there", b.ID, f.Room)
		return false
	}
	least, greatest := bounds(r.Outline)
	b.Area = [2]Point{least, greatest}
	if f.Left != nil {
		b.Area[0].X = least.X + *f.Left
	}
	if f.Front != nil {
		b.Area[0].Y = least.Y + *f.Front
	}
	if f.Width != nil {
		b.Area[1].X = b.Area[0].X + *f.Width
	}
	if f.Deep != nil {
		b.Area[1].Y = b.Area[0].Y + *f.Deep
	}
	if b.Area[0].X > b.Area[1].X || b.Area[0].Y > b.Area[1].Y {
		a.forbid(s, "house-off-wall", "measure again from the left and front sides of room "+r.ID, "obstruction %s begins beyond the room", b.ID)
		return false
	}
	return true
}
