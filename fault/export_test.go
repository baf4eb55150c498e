package fault

import (
	"strapper/unit"
	"strapper/wiring"
)

// Faults lists the single faults that are considered.
func (f *Finder) Faults() []*Fault { return f.faults }

// Hypotheses is the number of single faults and pairs.
func (f *Finder) Hypotheses() int { return len(f.hyps) }

// Lit is, by state, whether a lamp is fed over metal alone with some faults in
// the wiring, and whether a device opens.
func (f *Finder) Lit(load int, faults ...*Fault) (lit, trips []bool) {
	f.put(faults)
	o := f.s.operate()
	for i := range f.k.states {
		open := false
		for _, x := range o.trips {
			open = open || x>>i&1 == 1
		}
		lit, trips = append(lit, o.lit[load]>>i&1 == 1), append(trips, open)
	}
	return lit, trips
}

// LiveMetal reports whether something that should be earthed, and is not, is live
// in a state with some faults in the wiring.
func (f *Finder) LiveMetal(state int, faults ...*Fault) bool {
	f.put(faults)
	return f.s.operate().metal>>state&1 == 1
}

// Risky lists the operating tests that would make metal live with a fault.
func (f *Finder) Risky(x *Fault) (list []Seen) {
	f.put([]*Fault{x})
	metal := f.s.operate().metal
	for _, t := range f.tests() {
		if t.Kind == SeenLamp && t.watch.states&metal != 0 {
			list = append(list, t.Seen)
		}
	}
	return list
}

// Joined is what an ohmmeter shows between two ends in a state.
func (f *Finder) Joined(a, b wiring.End, state int, faults ...*Fault) string {
	f.put(faults)
	w := watch{kind: SeenReading, a: f.k.node[a], b: f.k.node[b], states: 1 << state}
	return words[SeenReading][f.s.resistance(&w)]
}

func (f *Finder) put(faults []*Fault) {
	var list []*patch
	for _, x := range faults {
		p := f.k.patch(x)
		list = append(list, &p)
	}
	f.s.set(list...)
}

// States lists the positions that are worked out.
func (f *Finder) States() []wiring.State { return f.k.states }

// Graph is the wiring as it should be.
func (f *Finder) Graph() *wiring.Graph { return f.g }

// Readings lists the ends between which readings are offered.
func (f *Finder) Readings() (pairs [][2]wiring.End) {
	for _, t := range f.tests() {
		if t.Kind == SeenReading {
			pairs = append(pairs, t.Between)
		}
	}
	return pairs
}

// Weak reports whether a fault is a matter of degree, which a proof does not
// know.
func (f *Fault) Weak() bool { return f.Kind == Slack || f.Kind == Leaking || f.Kind == LeakyLamp }

// Explaining lists the single faults that explain all that was seen.
func (f *Finder) Explaining() (list []*Fault) {
	for i, x := range f.faults {
		if f.explains(i + 1) {
			list = append(list, x)
		}
	}
	return list
}

// Other is the core that a core is the other end of in one way.
func (p *Puzzle) Other(way int, e wiring.End) wiring.End { return p.cores[p.ways[way][p.at[e]]] }

// Answer is what a test shows if a single fault is there.
func (f *Finder) Answer(q *Question, x *Fault) string {
	w, err := f.k.watch(&q.Seen)
	if err != nil {
		panic(err)
	}
	f.put([]*Fault{x})
	return words[q.Kind][max(f.s.predict(&w), 0)]
}

// Value is what the ohmmeter would read with a single fault there, nominally.
func (f *Finder) Value(q *Question, x *Fault) unit.Ohm {
	for i := range f.faults {
		if f.faults[i] == x {
			m, err := f.model(i+1, wiring.Condition{LoadsOut: true})
			if err != nil {
				panic(err)
			}
			w, err := f.k.watch(&q.Seen)
			if err != nil {
				panic(err)
			}
			b, _ := m.measure(q.Between, f.stateOf(&w))
			return b.Nominal
		}
	}
	return 0
}

// Sound reports whether wiring as drawn explains all that was seen.
func (f *Finder) Sound() bool { return f.explains(0) }
