// Package bdd answers questions about Boolean functions of many variables:
// are two equal, is one ever true, for how many assignments, for which.
//
// A function is kept as a reduced ordered binary decision diagram, in which
// every node is stored once, so that equal functions are the same Ref. Method:
// R. E. Bryant, "Graph-Based Algorithms for Boolean Function Manipulation",
// IEEE Trans. Computers C-35 (1986) 677; if-then-else with a computed table as
// in K. S. Brace, R. L. Rudell and R. E. Bryant, "Efficient Implementation of a
// BDD Package", 27th Design Automation Conference (1990) 40 (both from memory,
// to be confirmed).
//
// The order of the variables is the caller's; the package does not reorder,
// and frees nothing. A bound on the number of nodes makes it give up instead.
package bdd

import "math/big"

// Ref is a function held by a Manager. Refs of one manager are equal exactly
// when the functions are.
type Ref int32

// The constant functions.
const (
	False Ref = 0
	True  Ref = 1
)

// node is "if variable then high else low"; next chains the unique table.
type node struct {
	variable  int32
	low, high Ref
	next      Ref
}

type entry struct{ f, g, h, result Ref }

// Manager holds diagrams over a fixed number of variables. It is not safe for
// use by several goroutines.
type Manager struct {
	variables int
	limit     int
	full      bool
	nodes     []node
	buckets   []Ref   // unique table, a power of two long
	computed  []entry // computed table, direct mapped, as long
}

// New makes a manager for variables 0 … variables-1, variable 0 nearest the
// root, that gives up at limit nodes. A limit of zero is one million.
func New(variables, limit int) *Manager {
	if limit <= 0 {
		limit = 1_000_000
	}
	end := int32(variables)
	m := &Manager{variables: variables, limit: limit, nodes: []node{{variable: end}, {variable: end}}}
	m.grow(1 << 8)
	return m
}

// Full reports whether the limit was met. Every result since is meaningless.
func (m *Manager) Full() bool { return m.full }

// Variables is the number of variables.
func (m *Manager) Variables() int { return m.variables }

// grow makes both tables anew.
func (m *Manager) grow(size int) {
	m.buckets = make([]Ref, size)
	m.computed = make([]entry, size)
	for i := 2; i < len(m.nodes); i++ {
		n := &m.nodes[i]
		k := m.slot(uint32(n.variable), uint32(n.low), uint32(n.high))
		n.next, m.buckets[k] = m.buckets[k], Ref(i)
	}
}

// slot hashes three numbers into the tables (multiplicative hashing).
func (m *Manager) slot(a, b, c uint32) uint32 {
	h := uint64(a)*0x9E3779B97F4A7C15 ^ uint64(b)*0xBF58476D1CE4E5B9 ^ uint64(c)*0x94D049BB133111EB
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	return uint32(h>>32) & uint32(len(m.buckets)-1)
}

// mk finds or makes the node of a variable.
func (m *Manager) mk(variable int32, low, high Ref) Ref {
	if low == high {
		return low
	}
	k := m.slot(uint32(variable), uint32(low), uint32(high))
	for r := m.buckets[k]; r != 0; r = m.nodes[r].next {
		if n := &m.nodes[r]; n.variable == variable && n.low == low && n.high == high {
			return r
		}
	}
	if len(m.nodes) >= m.limit {
		m.full = true
		return False
	}
	r := Ref(len(m.nodes))
	m.nodes = append(m.nodes, node{variable, low, high, m.buckets[k]})
	m.buckets[k] = r
	if len(m.nodes) > len(m.buckets) {
		m.grow(2 * len(m.buckets))
	}
	return r
}

// Var is the function that is true where variable i is.
func (m *Manager) Var(i int) Ref { return m.mk(int32(i), False, True) }

// Ite is "if f then g else h".
func (m *Manager) Ite(f, g, h Ref) Ref {
	switch {
	case m.full:
		return False
	case f == True || g == h:
		return g
	case f == False:
		return h
	case g == True && h == False:
		return f
	}
	if e := m.computed[m.slot(uint32(f), uint32(g), uint32(h))]; e.f == f && e.g == g && e.h == h {
		return e.result
	}
	top := min(m.nodes[f].variable, m.nodes[g].variable, m.nodes[h].variable)
	f0, f1 := m.split(f, top)
	g0, g1 := m.split(g, top)
	h0, h1 := m.split(h, top)
	low := m.Ite(f0, g0, h0)
	r := m.mk(top, low, m.Ite(f1, g1, h1))
	m.computed[m.slot(uint32(f), uint32(g), uint32(h))] = entry{f, g, h, r}
	return r
}

// split is a function with a variable at or above its root false, and true.
func (m *Manager) split(f Ref, variable int32) (low, high Ref) {
	if n := &m.nodes[f]; n.variable == variable {
		return n.low, n.high
	}
	return f, f
}

// And is true where both are.
func (m *Manager) And(f, g Ref) Ref { return m.Ite(f, g, False) }

// Or is true where either is.
func (m *Manager) Or(f, g Ref) Ref { return m.Ite(f, True, g) }

// Not is true where f is not.
func (m *Manager) Not(f Ref) Ref { return m.Ite(f, False, True) }

// AndNot is true where f is and g is not.
func (m *Manager) AndNot(f, g Ref) Ref { return m.Ite(g, False, f) }

// Xor is true where exactly one is.
func (m *Manager) Xor(f, g Ref) Ref { return m.Ite(f, m.Not(g), g) }

// Restrict is f with a variable fixed: it no longer depends on it.
func (m *Manager) Restrict(f Ref, variable int, value bool) Ref {
	done := map[Ref]Ref{}
	var walk func(Ref) Ref
	walk = func(f Ref) Ref {
		n := m.nodes[f]
		switch {
		case n.variable > int32(variable):
			return f
		case n.variable == int32(variable) && value:
			return n.high
		case n.variable == int32(variable):
			return n.low
		}
		r, ok := done[f]
		if !ok {
			low := walk(n.low)
			r = m.mk(n.variable, low, walk(n.high))
			done[f] = r
		}
		return r
	}
	return walk(f)
}

// Eval is f for one assignment.
func (m *Manager) Eval(f Ref, value func(variable int) bool) bool {
	for f > True {
		n := &m.nodes[f]
		if value(int(n.variable)) {
			f = n.high
		} else {
			f = n.low
		}
	}
	return f == True
}

// Size is the number of inner nodes of f's diagram, constants not counted.
func (m *Manager) Size(f Ref) int {
	seen := map[Ref]bool{}
	var walk func(Ref)
	walk = func(f Ref) {
		if f > True && !seen[f] {
			seen[f] = true
			walk(m.nodes[f].low)
			walk(m.nodes[f].high)
		}
	}
	walk(f)
	return len(seen)
}

// SatCount is the number of assignments for which f is true.
func (m *Manager) SatCount(f Ref) *big.Int {
	done := map[Ref]*big.Int{False: new(big.Int), True: big.NewInt(1)}
	var walk func(Ref) *big.Int // over the variables from f's own downwards
	below := func(from int32, f Ref) *big.Int {
		return new(big.Int).Lsh(walk(f), uint(m.nodes[f].variable-from-1))
	}
	walk = func(f Ref) *big.Int {
		if n, ok := done[f]; ok {
			return n
		}
		n := m.nodes[f]
		sum := new(big.Int).Add(below(n.variable, n.low), below(n.variable, n.high))
		done[f] = sum
		return sum
	}
	return below(-1, f)
}

// AnySat is an assignment for which f is true, with as few variables true as
// can be, and of those the first ones; ok is false if there is none.
func (m *Manager) AnySat(f Ref) (values []bool, ok bool) {
	if f == False {
		return nil, false
	}
	const never = 1 << 30
	fewest := map[Ref]int{False: never, True: 0}
	var walk func(Ref) int
	walk = func(f Ref) int {
		n, ok := fewest[f]
		if !ok {
			n = min(walk(m.nodes[f].low), walk(m.nodes[f].high)+1)
			fewest[f] = n
		}
		return n
	}
	values = make([]bool, m.variables)
	for f > True {
		n := &m.nodes[f]
		if walk(n.low) < walk(n.high)+1 {
			f = n.low
		} else {
			values[n.variable], f = true, n.high
		}
	}
	return values, true
}
