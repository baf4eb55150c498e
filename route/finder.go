package route

import (
	"fmt"
	"math"
	"slices"

	"strapper/house"
	"strapper/internal/shortest"
	"strapper/kit"
	"strapper/source"
)

// Finder holds the graphs of one house, one for each size of cable that is
// asked for. It is not for use by several goroutines at once.
type Finder struct {
	h      *house.House
	l      Limits
	o      *Operations
	graphs map[graphKey]*graph
	trees  map[treeKey]*shortest.Tree
}

type graphKey struct {
	hole, width MM
	surface     bool
}

type treeKey struct {
	graph *graph
	from  int32
}

// graph is a fabric ready to be searched. Edge i is the arcs 2i and 2i+1.
type graph struct {
	*fabric
	front *shortest.Graph // length, mess, time
	score *shortest.Graph // one number: of everything, and of what is done for every cable
}

// The objectives of the score graph.
const (
	scoreAll = 0
	scoreOwn = 1
)

// NewFinder prepares a search for ways through a house.
func NewFinder(h *house.House, l Limits, o *Operations) *Finder {
	return &Finder{h: h, l: l, o: o, graphs: map[graphKey]*graph{}, trees: map[treeKey]*shortest.Tree{}}
}

// graph is the graph for a kind of cable, with or without trunking on
// surfaces.
func (f *Finder) graph(k *kit.Cable, surface bool) (*graph, error) {
	hole, ok := f.l.Hole(k, 1)
	if !ok {
		return nil, fmt.Errorf("the catalogue gives no size for cable %s, or none of the drills is large enough", k.ID)
	}
	key := graphKey{hole, k.Width, surface}
	if g := f.graphs[key]; g != nil {
		return g, nil
	}
	g := &graph{fabric: newFabric(f.h, &f.l, f.o, hole, k.Width)}
	if surface {
		g.surfaces()
	}
	if err := g.ready(); err != nil {
		return nil, err
	}
	f.graphs[key] = g
	return g, nil
}

// ready turns the edges into arcs.
func (g *graph) ready() (err error) {
	front := make([]shortest.Arc, 0, 2*len(g.edges))
	score := make([]shortest.Arc, 0, 2*len(g.edges))
	for i := range g.edges {
		e := &g.edges[i]
		seconds, mess := e.own.plus(e.shared).cost()
		costs := shortest.Costs{uint32(e.length), mess, seconds}
		own := e.own.score(g.l) + e.length.Metres()
		marks := shortest.Costs{uint32(math.Round(own + e.shared.score(g.l))), uint32(math.Round(own))}
		for _, ends := range [][2]int32{{e.a, e.b}, {e.b, e.a}} {
			front = append(front, shortest.Arc{From: ends[0], To: ends[1], Cost: costs})
			score = append(score, shortest.Arc{From: ends[0], To: ends[1], Cost: marks})
		}
	}
	if g.front, err = shortest.New(len(g.nodes), 3, front); err != nil {
		return err
	}
	g.score, err = shortest.New(len(g.nodes), 2, score)
	return err
}

// Estimate is what the best way between two boxes comes to.
type Estimate struct {
	Length  MM       `json:"length_mm"` // along the way, without tails at the boxes
	OffBy   MM       `json:"off_by_mm"` // it may be longer or shorter
	Minutes int      `json:"minutes"`   // expected, likely obstructions included
	Mess    float64  `json:"mess"`      // points, expected
	Opened  int      `json:"opened"`    // places at which a wall is certainly opened, and walls chased
	Walls   []string `json:"walls"`     // ids of those walls, in order, each once
	Surface bool     `json:"surface"`   // only in trunking
	Through string   `json:"through"`   // in words: "through the loft"
}

// Best is the way between two boxes that weighs least, time and mess taken
// together. ok is false if the house does not say where a box is, or no way
// leads there. Further questions from the same box cost next to nothing.
func (f *Finder) Best(from, to string, k *kit.Cable) (e Estimate, ok bool) {
	for _, surface := range []bool{false, true} {
		g, err := f.graph(k, surface)
		if err != nil {
			return e, false
		}
		a, okA := g.boxes[from]
		b, okB := g.boxes[to]
		if !okA || !okB || a == b {
			return e, false
		}
		t := f.tree(g, a)
		if t.Cost(b) != shortest.Far {
			return g.estimate(t.Way(b)), true
		}
	}
	return e, false
}

func (f *Finder) tree(g *graph, from int32) *shortest.Tree {
	key := treeKey{g, from}
	t := f.trees[key]
	if t == nil {
		t = g.score.From(from, scoreAll, -1)
		f.trees[key] = t
	}
	return t
}

// estimate sums up a way.
func (g *graph) estimate(way []int32) Estimate {
	var e Estimate
	var sum effort
	chased, walls := map[*house.Wall]bool{}, map[*house.Wall]bool{}
	for _, arc := range way {
		d := &g.edges[arc/2]
		e.Length += d.length
		sum = sum.plus(d.own).plus(d.shared)
		for _, t := range d.tasks {
			switch t.work {
			case Trunk:
				e.Surface = true
			case Nogging, StudHole, Skirting:
				e.Opened++
				walls[g.wallOf(d)] = true
			case ChaseUp, ChaseAlong:
				chased[g.wallOf(d)] = true
				walls[g.wallOf(d)] = true
			}
		}
	}
	e.Opened += len(chased)
	for w := range walls {
		e.Walls = append(e.Walls, w.ID)
	}
	slices.Sort(e.Walls)
	e.Through = g.through(way)
	e.OffBy = g.offBy(e.Length)
	e.Minutes, e.Mess = minutes(sum.seconds), math.Round(sum.mess)/10
	return e
}

// wallOf is the wall an edge runs in or leaves; it has one if it is opened.
func (g *graph) wallOf(e *edge) *house.Wall {
	if w := g.nodes[e.b].wall; w != nil {
		return w
	}
	return g.nodes[e.a].wall
}

func (g *graph) offBy(length MM) MM { return g.l.LengthFixed + shareUp(g.l.LengthShare, length) }

func minutes(seconds float64) int { return int(math.Ceil(seconds/60 - 1e-9)) }

// Open prepares a search with the limits and the operations of the data files.
func Open(h *house.House) (*Finder, error) {
	l, err := Usual()
	if err != nil {
		return nil, err
	}
	o, err := Customary()
	if err != nil {
		return nil, err
	}
	return NewFinder(h, l, o), nil
}

// Figures lists the limits and the operations of the data files with their
// sources.
func Figures() ([]source.Figure, error) {
	f, err := Open(nil)
	if err != nil {
		return nil, err
	}
	return slices.Concat(f.l.Figures(), f.o.Figures()), nil
}
