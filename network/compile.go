package network

import (
	"slices"

	"strapper/unit"
)

// Factor is a network made ready for solving at one frequency: the order of
// elimination and the list of operations. It does not change and may be used
// from several goroutines, each with its own [Solution].
type Factor struct {
	net *frozen
	pos []int32 // node → position; the reference has position len(rows)

	rows     []row
	static   []complex128 // per entry, admittance of the branches without switch
	termEnd  []int32      // per entry, end of its terms
	terms    []term
	col      []int32 // per entry, position of the neighbour
	parent   []int32 // per row, next row that depends on it, or -1
	sources  []carried
	jterms   []jterm
	switches []contact
	peers    []int32 // switches of one entry, pointed to by contact

	start *Solution // all switches open
}

// frozen is what a Factor keeps of the network as it was.
type frozen struct {
	branches []element
	w        float64
	withEMF  bool
}

// row is one node's elimination: entries lo…hi-1 lead to its neighbours in
// ascending position; from mid on they lead to the reference, whose voltage is
// zero.
type row struct {
	lo, mid, hi int32
	term        int32 // first term of the first entry
	jlo, jhi    int32 // the carried source currents of this row
}

// term adds y[y]·m[m] to an entry: the mesh branch that an earlier node left.
type term struct{ y, m int32 }

// carried is a source current J that an entry may have: base of its own, then
// jterms up to minus added and up to end subtracted.
type carried struct {
	base       complex128
	minus, end int32
}

// jterm is m[m]·j[j].
type jterm struct{ m, j int32 }

// contact is a switchable branch: its entry (-1 if it joins a node to itself
// or never conducts), both admittances, and all switches of that entry.
type contact struct {
	y          [2]complex128 // open, closed
	entry, row int32
	lo, hi     int32 // in peers
}

// Factor prepares the network for solving at frequency f: 0 for direct current,
// else [MinFrequency] to [MaxFrequency]. It returns every mistake made while
// building, each a [*BuildError], joined. The network may be added to
// afterwards without effect on the Factor. The work grows with the square of
// the number of nodes.
func (n *Network) Factor(f unit.Hertz) (*Factor, error) {
	if err := n.check(f); err != nil {
		return nil, err
	}
	return n.compile(f, true, int(Ground), -1), nil
}

// compile makes a Factor with the given reference node and, if not -1, the node
// to be eliminated last. With emf false sources count as their series resistance
// only.
func (n *Network) compile(f unit.Hertz, emf bool, ref, last int) *Factor {
	b := &builder{Factor: &Factor{net: &frozen{
		branches: slices.Clone(n.branches), w: angular(f), withEMF: emf,
	}}}
	o := arrange(n.nodes, ref, last, b.edges())
	b.pos = o.positions()
	b.layRows(o.columns(b.pos))
	b.layBranches()
	b.layContacts(n.switches)
	b.flatten()
	b.start = b.fresh()
	return b.Factor
}

// builder holds what is needed only while a Factor is made.
type builder struct {
	*Factor
	cols  [][]int32
	parts [][]term          // per entry
	emf   []complex128      // per entry, Σ y·e of its sources
	j     []int32           // per entry, its carried current, or -1
	users map[int32][]int32 // switches per entry
}

func (b *builder) edges() []edge {
	var out []edge
	for i := range b.net.branches {
		e := &b.net.branches[i]
		if e.a != e.b && b.net.conducts(e) {
			out = append(out, edge{int(e.a), int(e.b), e.sw >= 0})
		}
	}
	return out
}

func (z *frozen) conducts(e *element) bool {
	return e.closed.admittance(z.w) != 0 || e.open.admittance(z.w) != 0
}

// layRows numbers the entries and writes down, for each pair of neighbours of
// each node, the product that the pair's entry gains.
func (b *builder) layRows(cols [][]int32) {
	b.cols = cols
	ref := int32(len(cols))
	for _, c := range cols {
		r := row{lo: int32(len(b.col)), hi: int32(len(b.col) + len(c))}
		r.mid = r.hi
		parent := int32(-1)
		if len(c) > 0 && c[0] != ref {
			parent = c[0]
		}
		if len(c) > 0 && c[len(c)-1] == ref {
			r.mid--
		}
		b.rows, b.parent, b.col = append(b.rows, r), append(b.parent, parent), append(b.col, c...)
	}
	b.parts = make([][]term, len(b.col))
	for p := range b.rows {
		b.eachPair(p, func(ev, eb, e int32) { b.parts[e] = append(b.parts[e], term{y: ev, m: eb}) })
	}
}

// eachPair calls do for each pair of entries ev < eb of row p with the entry e
// that joins the two neighbours.
func (b *builder) eachPair(p int, do func(ev, eb, e int32)) {
	r := b.rows[p]
	for ev := r.lo; ev < r.hi; ev++ {
		for eb := ev + 1; eb < r.hi; eb++ {
			do(ev, eb, b.entry(b.col[ev], b.col[eb]))
		}
	}
}

// entry finds the entry of row p that leads to position q > p.
func (b *builder) entry(p, q int32) int32 {
	i, _ := slices.BinarySearch(b.cols[p], q)
	return b.rows[p].lo + int32(i)
}

// entryOf finds the entry between two nodes and whether it runs from the
// second to the first.
func (b *builder) entryOf(x, y Node) (e int32, turned bool) {
	p, q := b.pos[x], b.pos[y]
	if p > q {
		return b.entry(q, p), true
	}
	return b.entry(p, q), false
}

// layBranches gives every entry its fixed admittance and source current.
func (b *builder) layBranches() {
	b.static = make([]complex128, len(b.col))
	b.emf = make([]complex128, len(b.col))
	b.j = slices.Repeat([]int32{-1}, len(b.col))
	for i := range b.net.branches {
		el := &b.net.branches[i]
		if el.sw >= 0 || el.a == el.b || !b.net.conducts(el) {
			continue
		}
		e, turned := b.entryOf(el.a, el.b)
		y := el.closed.admittance(b.net.w)
		b.static[e] += y
		if !el.source || !b.net.withEMF {
			continue
		}
		b.j[e] = 0
		if turned {
			y = -y
		}
		b.emf[e] += y * el.emf
	}
}

// layContacts finds the entry of each switch.
func (b *builder) layContacts(switches []Branch) {
	b.users = map[int32][]int32{}
	for i, br := range switches {
		el := &b.net.branches[br]
		c := contact{entry: -1}
		if el.a != el.b && b.net.conducts(el) {
			c.y = [2]complex128{el.open.admittance(b.net.w), el.closed.admittance(b.net.w)}
			c.entry, _ = b.entryOf(el.a, el.b)
			c.row = min(b.pos[el.a], b.pos[el.b])
			b.users[c.entry] = append(b.users[c.entry], int32(i))
		}
		b.switches = append(b.switches, c)
	}
	for i := range b.switches {
		c := &b.switches[i]
		c.lo = int32(len(b.peers))
		b.peers = append(b.peers, b.users[c.entry]...)
		c.hi = int32(len(b.peers))
	}
}

// flatten writes terms and source currents in the order they will be used.
func (b *builder) flatten() {
	plus, minus := b.spread()
	for p := range b.rows {
		r := &b.rows[p]
		r.term, r.jlo = int32(len(b.terms)), int32(len(b.sources))
		for e := r.lo; e < r.hi; e++ {
			b.terms = append(b.terms, b.parts[e]...)
			b.termEnd = append(b.termEnd, int32(len(b.terms)))
			if b.j[e] >= 0 {
				b.carry(e, plus[e], minus[e])
			}
		}
		r.jhi = int32(len(b.sources))
	}
}

// spread finds which entries can carry a source current, and from what: with k
// eliminated, J(v→b) gains m(k,v)·J(k→b) - m(k,b)·J(k→v). The j of each jterm
// is an entry, to be renumbered.
func (b *builder) spread() (plus, minus [][]jterm) {
	plus, minus = make([][]jterm, len(b.col)), make([][]jterm, len(b.col))
	for p := range b.rows {
		b.eachPair(p, func(ev, eb, e int32) {
			if b.j[eb] >= 0 {
				b.j[e] = 0
				plus[e] = append(plus[e], jterm{m: ev, j: eb})
			}
			if b.j[ev] >= 0 {
				b.j[e] = 0
				minus[e] = append(minus[e], jterm{m: eb, j: ev})
			}
		})
	}
	return plus, minus
}

// carry numbers the source current of entry e and writes its terms.
func (b *builder) carry(e int32, plus, minus []jterm) {
	b.j[e] = int32(len(b.sources))
	c := carried{base: b.emf[e]}
	b.carryTerms(plus)
	c.minus = int32(len(b.jterms))
	b.carryTerms(minus)
	c.end = int32(len(b.jterms))
	b.sources = append(b.sources, c)
}

func (b *builder) carryTerms(list []jterm) {
	for _, t := range list {
		b.jterms = append(b.jterms, jterm{m: t.m, j: b.j[t.j]})
	}
}
