package change

import (
	"strapper/internal/sat"
	"strapper/unit"
)

// limitStock makes the literal that holds the search to what is at hand; what
// it bars is found out as it comes up.
func (m *model) limitStock() {
	if m.ask.Limits.Stock != nil {
		m.addLimit("only what is on the van may be used", "with more than what is on the van", 30)
	}
}

// stocked adds what the last model uses too much of; it reports whether there
// was anything. The stock's limit is the last of the limits.
func (m *model) stocked() bool {
	st := m.ask.Limits.Stock
	if st == nil || !m.s.Value(m.limits[len(m.limits)-1].on) {
		return false
	}
	on := m.limits[len(m.limits)-1].on
	length := map[string]unit.Millimetre{}
	runs := map[string][]sat.Lit{}
	for i := range m.cables {
		if c := &m.cables[i]; c.found == nil && m.s.Value(m.taken[i]) {
			length[c.kind.ID] += c.run.Length + c.run.Tolerance
			runs[c.kind.ID] = append(runs[c.kind.ID], m.taken[i].Not())
		}
	}
	fittings := map[string]int{}
	picks := map[string][]sat.Lit{}
	for i, sl := range m.slots {
		for o, opt := range sl.options {
			if !opt.same && m.s.Value(m.pick[i][o]) {
				fittings[opt.kind.ID]++
				picks[opt.kind.ID] = append(picks[opt.kind.ID], m.pick[i][o].Not())
			}
		}
	}
	added := false
	for _, kind := range sorted(length) {
		if length[kind] > st.Cable[kind] {
			m.s.Add(append(runs[kind], on.Not())...)
			added = true
		}
	}
	for _, kind := range sorted(fittings) {
		if fittings[kind] > st.Fitting[kind] {
			m.s.Add(append(picks[kind], on.Not())...)
			added = true
		}
	}
	return added
}
