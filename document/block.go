package document

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// A block stands at the foot of a card: an accessory, or what holds core ends
// that are free in the box. x, w and those of its pads are in cells; the pads'
// are counted from the block's left.
type block struct {
	item *wiring.PlacedItem // nil: connector, parked or loose core ends
	tag  string             // "NEW", "GOES"
	open bool               // of loose ends: nothing holds them
	x, w int
	pads []pad
}

// A pad is a terminal, or the inside of a connector.
type pad struct {
	name  string
	x, w  int
	slots []slot
}

// A slot holds one core end, or one end of the link of that number.
type slot struct {
	end  wiring.End
	link int
}

// placeBlocks sets accessories, then connectors, parked and loose ends side by
// side, and returns the cells they take.
func (s *sketch) placeBlocks() int {
	s.itemBlocks()
	first := len(s.blocks)
	s.freeBlocks()
	s.centre()
	slices.SortStableFunc(s.blocks[first:], func(a, b block) int { return cmp.Compare(s.mean(&a), s.mean(&b)) })
	x := 0
	for i := range s.blocks {
		s.blocks[i].x = x
		x += s.blocks[i].w + 1
	}
	return max(x, 1) // a cell more than is used, for footShift
}

// itemBlocks makes a block of each accessory. Where terminals are one joint
// all of its cores are drawn in the first of them, with links to the others.
func (s *sketch) itemBlocks() {
	links := s.linksByNode()
	seen := map[wiring.Node]bool{}
	for i := range s.p.Items {
		it := &s.p.Items[i]
		b := block{item: it, tag: s.notes.items[it.ID], w: nameCells(it)}
		for _, t := range it.Terminals {
			pd := pad{name: t.Terminal.Name, x: b.w}
			if !seen[t.Node] {
				for _, e := range t.Clamped {
					pd.slots = append(pd.slots, slot{end: e})
				}
			}
			seen[t.Node] = true
			for _, l := range links[t.End] {
				pd.slots = append(pd.slots, slot{link: l})
			}
			pd.w = max(len(pd.slots), cellsOf(pd.name, labelSize), 1)
			b.w += pd.w
			b.pads = append(b.pads, pd)
		}
		b.w = max(b.w, leastCable)
		s.blocks = append(s.blocks, b)
	}
}

// linksByNode numbers the links between terminals that are one joint, each
// from one terminal to the next.
func (s *sketch) linksByNode() map[wiring.End][]int {
	last := map[wiring.Node]wiring.End{}
	links := map[wiring.End][]int{}
	number := 0
	for _, it := range s.p.Items {
		for _, t := range it.Terminals {
			if before, ok := last[t.Node]; ok {
				number++
				links[before] = append(links[before], number)
				links[t.End] = append(links[t.End], number)
			}
			last[t.Node] = t.End
		}
	}
	return links
}

// nameCells is the room left of the terminals for the names of positions.
func nameCells(it *wiring.PlacedItem) int {
	cells := 0
	for _, name := range it.Kind.Positions {
		cells = max(cells, cellsOf(name, labelSize))
	}
	return cells
}

func cellsOf(s string, size float64) int {
	return int(math.Ceil((draw.Width(s, size, true) + 1.4) / cell))
}

// freeBlocks makes a block of each connector and of each single end.
func (s *sketch) freeBlocks() {
	for _, c := range s.p.Connectors {
		pd := pad{name: "con " + strconv.Itoa(c.Number)}
		for _, e := range c.Ends {
			pd.slots = append(pd.slots, slot{end: e})
		}
		s.freeBlock(pd, false)
	}
	for i := range s.p.Cables {
		for _, core := range s.p.Cables[i].Cores {
			switch core.At {
			case wiring.AtParked:
				s.freeBlock(pad{name: "parked", slots: []slot{{end: core.End}}}, false)
			case wiring.AtNothing:
				s.freeBlock(pad{name: "LOOSE", slots: []slot{{end: core.End}}}, true)
			}
		}
	}
}

func (s *sketch) freeBlock(pd pad, open bool) {
	pd.w = max(len(pd.slots), 2)
	s.blocks = append(s.blocks, block{open: open, w: pd.w, pads: []pad{pd}})
}

// centre notes provisional places of the cores, for ordering.
func (s *sketch) centre() {
	for _, c := range s.cables {
		for k, core := range c.Cores {
			s.at[core.End] = c.x + c.first + k
		}
	}
}

// mean is the middle of the cores that a block holds.
func (s *sketch) mean(b *block) float64 {
	sum, n := 0, 0
	for _, pd := range b.pads {
		for _, sl := range pd.slots {
			sum += s.at[sl.end]
			n++
		}
	}
	return float64(sum) / float64(max(n, 1))
}

// A mark draws the inside of an accessory below its terminals: for each
// position which terminals are joined, then what is fed. x finds a terminal.
type inside struct {
	kind *kit.Accessory
	left float64
	x    func(terminal string) float64
	y    float64
	out  []draw.Node
}

var (
	fine   = draw.Style{Stroke: draw.Black, Width: 0.25}
	strong = draw.Style{Stroke: draw.Black, Width: 0.6}
	dashed = draw.Style{Stroke: draw.Black, Width: 0.6, Dash: []float64{1.2, 0.8}}
)

// insideHeight is the height that drawInside takes.
func insideHeight(k *kit.Accessory) float64 {
	h := 0.0
	for _, p := range k.Positions {
		h += positionHeight(k, p)
	}
	h += 7.5 * float64(len(k.Loads))
	if k.Coil != nil {
		h += 7.5
	}
	return h
}

// bracketStep is how much deeper each further bracket of a row reaches.
const bracketStep = 2.0

func positionHeight(k *kit.Accessory, position string) float64 {
	return 4.2 + bracketStep*float64(len(closed(k, position)))
}

// closed lists the contacts that are closed in a position.
func closed(k *kit.Accessory, position string) []kit.Contact {
	var list []kit.Contact
	for _, c := range k.Contacts {
		if slices.Contains(c.In, position) {
			list = append(list, c)
		}
	}
	return list
}

func (in *inside) draw() []draw.Node {
	for _, p := range in.kind.Positions {
		in.position(p)
	}
	for _, l := range in.kind.Loads {
		in.load(l)
	}
	if c := in.kind.Coil; c != nil {
		in.between(c.Between, false)
		x := (in.x(c.Between[0]) + in.x(c.Between[1])) / 2
		in.out = append(in.out, draw.Rect(x-1.6, in.y-5.2, 3.2, 4.4, draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.5}))
	}
	return in.out
}

// position draws one row: a ring for each terminal with contacts, filled and
// joined by a bracket where the contact is closed.
func (in *inside) position(name string) {
	y := in.y + 2.4
	in.out = append(in.out, draw.Text{X: in.left, Y: y + 0.9, Size: labelSize, S: name})
	shut := closed(in.kind, name)
	for i, c := range shut {
		style := strong
		if c.Via == kit.ViaElectronic {
			style = dashed
		}
		a, b, d := in.x(c.Join[0]), in.x(c.Join[1]), y+1.8+bracketStep*float64(i)
		bracket := []draw.Point{{X: a, Y: y}, {X: a, Y: d}, {X: b, Y: d}, {X: b, Y: y}}
		gap := draw.Style{Stroke: draw.Tint, Width: 2} // so that brackets that cross do not seem joined
		in.out = append(in.out, draw.Polyline(gap, bracket...), draw.Polyline(style, bracket...))
	}
	for _, t := range in.kind.Terminals {
		if in.touched(t.Name, in.kind.Contacts) {
			ring := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.3}
			if in.touched(t.Name, shut) {
				ring.Fill = draw.Black
			}
			in.out = append(in.out, draw.Circle(in.x(t.Name), y, 0.8, ring))
		}
	}
	in.y += positionHeight(in.kind, name)
}

func (in *inside) touched(terminal string, list []kit.Contact) bool {
	return slices.ContainsFunc(list, func(c kit.Contact) bool { return c.Join[0] == terminal || c.Join[1] == terminal })
}

// load draws a lamp as a crossed circle, a motor as a ring with its letter and
// the accessory's own consumption as a small rectangle.
func (in *inside) load(l kit.Load) {
	in.between(l.Between, l.Always)
	x, y := (in.x(l.Between[0])+in.x(l.Between[1]))/2, in.y-3
	white := draw.Style{Fill: draw.White, Stroke: draw.Black, Width: 0.5}
	switch {
	case l.Always:
		in.out = append(in.out, draw.Rect(x-2.2, y-1.2, 4.4, 2.4, white))
	case in.kind.Class == kit.ClassFan:
		in.out = append(in.out, draw.Circle(x, y, 2.2, white), draw.Text{X: x, Y: y + 0.9, Size: labelSize, S: "M", Anchor: draw.Middle, Bold: true})
	default:
		d := 2.2 * math.Sqrt2 / 2
		in.out = append(in.out, draw.Circle(x, y, 2.2, white),
			draw.Line(x-d, y-d, x+d, y+d, fine), draw.Line(x-d, y+d, x+d, y-d, fine))
	}
}

// between draws the line on which a load or a coil sits.
func (in *inside) between(ends [2]string, thin bool) {
	style := strong
	if thin {
		style = fine
	}
	a, b, y := in.x(ends[0]), in.x(ends[1]), in.y+4.5
	in.out = append(in.out, draw.Polyline(style, draw.Point{X: a, Y: in.y + 0.6}, draw.Point{X: a, Y: y}, draw.Point{X: b, Y: y}, draw.Point{X: b, Y: in.y + 0.6}),
		draw.Circle(a, in.y+0.6, 0.6, draw.Style{Fill: draw.Black}), draw.Circle(b, in.y+0.6, 0.6, draw.Style{Fill: draw.Black}))
	in.y += 7.5
}
