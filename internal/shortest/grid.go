package shortest

import (
	"fmt"
	"math"
)

// Grid is a block of cells, each with a cost; a step between two that share a
// face costs the sum of theirs, which is twice their mean. It takes a quarter
// of the memory of a Graph. Cells are numbered x + nx·y + nx·ny·z.
type Grid struct {
	nx, ny, nz int
	cell       []uint32 // with a border of one cell round each plane, and a plane above and below
	step       []int32  // to the neighbours in cell
	most       uint32
}

// blocked is the cost of a cell that cannot be entered.
const blocked = math.MaxUint32

// NewGrid makes a grid of nx × ny × nz cells. cost is asked once for each cell,
// in order; a cell for which it says false cannot be entered. Costs are 1 to
// 16,384. Sizes below 1, or 2³⁰ cells and more, are an error.
func NewGrid(nx, ny, nz int, cost func(cell int) (c uint32, open bool)) (*Grid, error) {
	if nx < 1 || ny < 1 || nz < 1 || float64(nx+2)*float64(ny+2)*float64(nz+2) >= 1<<30 {
		return nil, fmt.Errorf("a grid of %d × %d × %d cells: each side at least 1, fewer than 2³⁰ in all", nx, ny, nz)
	}
	g := &Grid{nx: nx, ny: ny, nz: nz, cell: make([]uint32, (nx+2)*(ny+2)*(nz+2))}
	row, plane := int32(nx+2), int32((nx+2)*(ny+2))
	g.step = []int32{1, -1, row, -row, plane, -plane}
	if nz == 1 {
		g.step = g.step[:4]
	}
	for i := range g.cell {
		g.cell[i] = blocked
	}
	for i := range nx * ny * nz {
		c, open := cost(i)
		if !open {
			continue
		}
		if c < 1 || c > mostBuckets/2 {
			return nil, fmt.Errorf("cell %d costs %d: 1 to %d", i, c, mostBuckets/2)
		}
		g.cell[g.place(i)] = c
		g.most = max(g.most, 2*c)
	}
	return g, nil
}

// place is where a cell stands within the border.
func (g *Grid) place(i int) int32 {
	x, y, z := i%g.nx, i/g.nx%g.ny, i/(g.nx*g.ny)
	return int32(x + 1 + (g.nx+2)*(y+1) + (g.nx+2)*(g.ny+2)*(z+1))
}

// number is the cell at a place.
func (g *Grid) number(p int32) int {
	row, plane := g.nx+2, (g.nx+2)*(g.ny+2)
	x, y, z := int(p)%row-1, int(p)%plane/row-1, int(p)/plane-1
	return x + g.nx*y + g.nx*g.ny*z
}

// Field holds the costs of the cheapest ways from one cell of a grid.
type Field struct {
	g    *Grid
	from int32
	cost []uint32
}

// From finds the cheapest ways from a cell to all others; a goal of 0 or more
// stops it there. It panics on a cell outside the grid.
func (g *Grid) From(from, goal int) *Field {
	f := &Field{g: g, from: g.place(from), cost: make([]uint32, len(g.cell))}
	stop := int32(-1)
	if goal >= 0 {
		stop = g.place(goal)
	}
	for i, c := range g.cell {
		if c != blocked { // a blocked cell keeps 0: no way to it is cheaper
			f.cost[i] = Far
		}
	}
	if g.cell[f.from] == blocked {
		return f
	}
	f.cost[f.from] = 0
	q := newBuckets(g.most)
	q.add(0, f.from)
	f.spread(q, stop)
	return f
}

// spread empties the buckets in order of cost, relaxing the neighbours.
func (f *Field) spread(q *buckets, stop int32) {
	cost, cell, step := f.cost, f.g.cell, f.g.step
	for at := uint32(0); q.waiting > 0; at++ {
		list := &q.list[at&q.mask]
		for len(*list) > 0 {
			n := (*list)[len(*list)-1]
			*list = (*list)[:len(*list)-1]
			q.waiting--
			if cost[n] != at {
				continue
			}
			if n == stop {
				return
			}
			own := at + cell[n]
			for _, s := range step {
				to := n + s
				if c := own + cell[to]; c < cost[to] && c >= at {
					cost[to] = c
					q.add(c, to)
				}
			}
		}
	}
}

// Cost is the cost of the cheapest way to a cell: each step the sum of its two
// cells. Far if there is none, or if the search stopped before it.
func (f *Field) Cost(to int) uint32 {
	p := f.g.place(to)
	if f.g.cell[p] == blocked {
		return Far
	}
	return f.cost[p]
}

// Way lists the cells of a cheapest way, first and last included; nil if there
// is none.
func (f *Field) Way(to int) []int {
	if f.Cost(to) == Far {
		return nil
	}
	p := f.g.place(to)
	way := []int{to}
	for p != f.from {
		p = f.before(p)
		way = append(way, f.g.number(p))
	}
	for i, j := 0, len(way)-1; i < j; i, j = i+1, j-1 {
		way[i], way[j] = way[j], way[i]
	}
	return way
}

// before is a neighbour from which p is reached at its cost.
func (f *Field) before(p int32) int32 {
	for _, s := range f.g.step {
		n := p + s
		if f.g.cell[n] != blocked && f.cost[n] != Far && f.cost[n]+f.g.cell[n]+f.g.cell[p] == f.cost[p] {
			return n
		}
	}
	return f.from
}
