package document

import (
	"math"
	"slices"

	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// Sizes of a card's drawing in millimetres.
const (
	cell       = 6.4 // between cores, and between places in a terminal
	labelSize  = 2.7
	labelLine  = 3.3
	codeSize   = 2.5
	sheathH    = 6.0
	trackPitch = 3.8
	padH       = 9.6
	leastCable = 4 // cells
	edge       = 2.0
)

// notes are what a drawing says beyond the wiring itself: steps by the core
// end they move, sleeves, and which cables and accessories are new or go.
type notes struct {
	steps   map[wiring.End]int
	sleeves map[wiring.End]string
	cables  map[string]string // by cable: "NEW", "GOES"
	items   map[string]string
}

// A sketch is the drawing of one box in one condition.
type sketch struct {
	g      *wiring.Graph
	p      *wiring.Placed
	notes  notes
	cables []cableColumn
	blocks []block
	runs   []*run
	ends   []wiring.End // by run; of a link the zero End
	width  int          // cells
	at     map[wiring.End]int
}

// A cableColumn is a cable's place at the top; x and w are in cells.
type cableColumn struct {
	*wiring.PlacedCable
	x, w, first int
	label       []label
}

type label struct {
	s    string
	bold bool
}

// sketchBox draws what is in a box. The scene is as wide as it needs to be.
func sketchBox(g *wiring.Graph, box, title string, n notes) *draw.Scene {
	p := g.Placed(box)
	if p == nil {
		return nil
	}
	s := &sketch{g: g, p: p, notes: n, at: map[wiring.End]int{}}
	top := s.placeCables()
	foot := s.placeBlocks()
	s.width = max(top, foot)
	s.shift((s.width-top)/2, (s.width-foot)/2)
	s.route()
	return s.scene(title)
}

// placeCables sets the cables side by side and returns the cells they take.
func (s *sketch) placeCables() int {
	x := 0
	for i := range s.p.Cables {
		c := cableColumn{PlacedCable: &s.p.Cables[i], x: x}
		id := c.Cable.ID
		c.w = max(leastCable, len(c.Cores), int(math.Ceil((draw.Width(id, labelSize, true)+1)/cell)))
		c.label = s.cableLabel(&c)
		c.first = (c.w - len(c.Cores) + 1) / 2
		s.cables = append(s.cables, c)
		x += c.w + 1
	}
	return max(x-1, 0)
}

func (s *sketch) cableLabel(c *cableColumn) []label {
	var list []label
	add := func(text string, bold bool) {
		for _, line := range wrap(text, labelSize, bold, float64(c.w)*cell-0.5) {
			list = append(list, label{line, bold})
		}
	}
	if tag := s.notes.cables[c.Cable.ID]; tag != "" {
		add(tag, true)
	}
	add(c.Cable.ID, true)
	add(c.Cable.Kind.Title, false)
	if c.Far != nil {
		add("to "+c.Far.Name(), false)
	}
	return list
}

// shift moves the cables and the blocks to the right by cells.
func (s *sketch) shift(top, foot int) {
	for i := range s.cables {
		s.cables[i].x += top
		for k, core := range s.cables[i].Cores {
			s.at[core.End] = s.cables[i].x + s.cables[i].first + k
		}
	}
	for i := range s.blocks {
		s.blocks[i].x += foot
	}
}

// route makes the runs from the cores to their places, and the links.
func (s *sketch) route() {
	for i := range s.blocks {
		s.sortSlots(&s.blocks[i])
	}
	links := map[int]float64{}
	for i := range s.blocks {
		for _, pd := range s.blocks[i].pads {
			for k, sl := range pd.slots {
				x := s.footX(&s.blocks[i], &pd, k)
				switch from, started := links[sl.link]; {
				case sl.link == 0:
					s.add(&run{x0: s.coreX(sl.end), x1: x}, sl.end)
				case started:
					s.add(&run{x0: from, x1: x, link: true}, wiring.End{})
				default:
					links[sl.link] = x
				}
			}
		}
	}
}

func (s *sketch) add(r *run, e wiring.End) {
	s.runs = append(s.runs, r)
	s.ends = append(s.ends, e)
}

// sortSlots puts the cores of each pad in the order in which they arrive.
func (s *sketch) sortSlots(b *block) {
	for i := range b.pads {
		slices.SortStableFunc(b.pads[i].slots, func(x, y slot) int {
			if x.link != 0 || y.link != 0 {
				return x.link - y.link
			}
			return s.at[x.end] - s.at[y.end]
		})
	}
}

// coreX is where a core leaves its cable; footX where a slot stands. The one
// lies on whole cells, the other between them.
func (s *sketch) coreX(e wiring.End) float64 { return edge + (float64(s.at[e])+0.5)*cell }

func (s *sketch) footX(b *block, pd *pad, k int) float64 {
	left := (pd.w - len(pd.slots)) / 2
	return edge + (float64(b.x+pd.x+left+k)+0.5)*cell + footShift
}

// footShift parts the feet from the tops, which would otherwise stand in line.
const footShift = cell / 2

func (s *sketch) core(e wiring.End) *kit.Core {
	_, core := s.g.IsCore(e)
	return core
}
