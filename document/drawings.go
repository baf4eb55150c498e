package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/engine"
	"strapper/house"
	"strapper/internal/draw"
	"strapper/route"
	"strapper/unit"
)

// mm is a length of the house.
type mm = unit.Millimetre

// Drawing is one drawing of the house under a name that can be a file's.
type Drawing struct {
	Name    string // "plan-ground", "wall-hall-right"
	Caption string
	Scene   *draw.Scene
}

// Drawings are the drawings of a job's house: a plan of each storey with
// something new in it, a plan of each floor or loft in which a new cable runs or a new box is let into the
// ceiling, an elevation of each wall with a new box or cable, and a section
// through the wall at each new box. Each new cable is drawn on its best way. A
// job without a house has none.
func Drawings(r *engine.Result) []Drawing {
	if r.Job.House == nil {
		return nil
	}
	limits, _ := route.Usual() // a fault of the data was met when the ways were found
	s := &survey{h: r.Job.House, limits: limits}
	s.trace(r)
	var list []Drawing
	for _, st := range s.h.Storeys {
		if s.touches(st) {
			list = append(list, s.plan(st))
		}
	}
	for _, f := range s.h.Floors() {
		if s.concerns(f) {
			list = append(list, s.joists(f))
		}
	}
	for _, f := range s.faces() {
		list = append(list, s.elevation(f))
	}
	for _, b := range s.h.Boxes {
		if b.New && b.Wall != nil && b.Size.Flush && b.Size.Depth > 0 {
			list = append(list, s.section(b))
		}
	}
	return list
}

// survey is what the drawings show: the house and the ways of the new cables.
type survey struct {
	h      *house.House
	limits route.Limits
	ways   []way
}

// way is one cable on its best way, with the letter it has in the drawings.
type way struct {
	letter string
	id     string
	route  *route.Route
	dash   []float64
}

// dashes tell the first cables apart; their letters tell all.
var dashes = [][]float64{nil, {4, 1.4}, {1.6, 1.2}, {6, 1.2, 1.2, 1.2}}

func (s *survey) trace(r *engine.Result) {
	if r.Routes == nil || r.Forbidden() {
		return
	}
	for i := range r.Routes.Runs {
		c := &r.Routes.Runs[i]
		if len(c.Routes) == 0 {
			continue
		}
		n := len(s.ways)
		s.ways = append(s.ways, way{letter: letterOf(n), id: c.Run, route: &c.Routes[0], dash: dashes[n%len(dashes)]})
	}
}

// letterOf counts A, B … Z, AA.
func letterOf(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return letterOf(n/26-1) + letterOf(n%26)
}

// line is how a cable is drawn.
func (w *way) line() draw.Style {
	st := boldLine
	st.Dash = w.dash
	return st
}

// hole names a hole of a cable: B3 is the third of cable B.
func (w *way) hole(i int) string { return fmt.Sprintf("%s%d", w.letter, i+1) }

// legend says which letter is which cable, of those that a drawing shows.
func (s *survey) legend(shown func(*route.Stretch) bool) string {
	var list []string
	for i := range s.ways {
		w := &s.ways[i]
		for k := range w.route.Stretches {
			if shown(&w.route.Stretches[k]) {
				list = append(list, w.letter+" is cable "+w.id)
				break
			}
		}
	}
	return strings.Join(list, ", ")
}

// faces are the faces to be drawn, in the order of the house.
func (s *survey) faces() []*house.Face {
	wanted := map[*house.Face]bool{}
	for _, b := range s.h.Boxes {
		if b.New && b.Face != nil {
			wanted[b.Face] = true
		}
	}
	for i := range s.ways {
		for k := range s.ways[i].route.Stretches {
			if st := &s.ways[i].route.Stretches[k]; st.Wall != nil {
				wanted[s.seenFrom(st, wanted)] = true
			}
		}
	}
	var list []*house.Face
	for _, r := range s.h.Rooms {
		for _, f := range r.Faces {
			if wanted[f] {
				list = append(list, f)
			}
		}
	}
	return list
}

// seenFrom chooses the face on which a stretch in a wall is drawn: one that is
// drawn already, else the one on the side of its zone, else the other.
func (s *survey) seenFrom(st *route.Stretch, wanted map[*house.Face]bool) *house.Face {
	var best *house.Face
	for _, r := range s.h.Rooms {
		for _, f := range r.Faces {
			for _, z := range f.Walls {
				x := z.Across(st.Along[0])
				if z.Wall != st.Wall || x < z.From || x > z.To {
					continue
				}
				if wanted[f] {
					return f
				}
				if best == nil || z.Side == st.Side {
					best = f
				}
			}
		}
	}
	return best
}

// touches reports whether something new is in a storey; where nothing is new at
// all, whether it holds a box.
func (s *survey) touches(st *house.Storey) bool {
	isNew := func(b *house.Box) bool { return b.New }
	anything := len(s.ways) > 0 || slices.ContainsFunc(s.h.Boxes, isNew)
	return slices.ContainsFunc(s.h.Boxes, func(b *house.Box) bool { return b.Room.Storey == st && (b.New || !anything) }) ||
		s.legend(func(x *route.Stretch) bool { return onStorey(x, st) }) != ""
}

// concerns reports whether a floor deserves a plan of its joists.
func (s *survey) concerns(f *house.Floor) bool {
	for i := range s.ways {
		if slices.ContainsFunc(s.ways[i].route.Stretches, func(st route.Stretch) bool { return s.inFloor(&st, f) }) {
			return true
		}
	}
	return slices.ContainsFunc(s.h.Boxes, func(b *house.Box) bool { return b.New && b.Over == f && !f.Parts[len(f.Parts)-1].Solid })
}

// inFloor reports whether a stretch runs in or on a floor.
func (s *survey) inFloor(st *route.Stretch, f *house.Floor) bool {
	switch st.Space {
	case route.InFloor, route.InBoard, route.InLoft:
		return st.Floor == f
	case route.InUnder:
		return f.Below == nil
	}
	return false
}
