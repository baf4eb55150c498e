package fault

import (
	"cmp"
	"math"
	"slices"

	"strapper/reading"
	"strapper/unit"
	"strapper/wiring"
)

// Numeric predictions are made for the likeliest hypotheses only.
const (
	mostMeasured = 24   // hypotheses
	leastFit     = 0.02 // of a value that does not fit, against one that does: lengths are often guessed
)

// refine weighs the likeliest hypotheses by how well the value read fits what
// the numeric network of each gives; logs are theirs for the observation. Those
// that are not worked out are left as they are, as if the value fitted.
func (f *Finder) refine(x *Seen, logs []float64) {
	if *x.Ohm > f.j.JoinedOhm {
		return // how great a poor contact is, nobody knows beforehand
	}
	w, err := f.k.watch(x)
	if err != nil {
		return
	}
	var list []int
	for h := range f.belief {
		if logs[h] > f.against[len(f.against)-1] {
			list = append(list, h)
		}
	}
	slices.SortFunc(list, func(a, b int) int { return cmp.Or(cmp.Compare(f.belief[b], f.belief[a]), cmp.Compare(a, b)) })
	list = list[:min(len(list), mostMeasured)]
	fit := make([]float64, len(list))
	best := 0.0
	for i, h := range list {
		fit[i] = 1
		if b, ok := f.measure(h, x.Between, f.stateOf(&w)); ok {
			fit[i] = density(*x.Ohm, b)
			best = max(best, fit[i])
		}
	}
	for i, h := range list {
		if best > 0 {
			logs[h] += math.Log(max(leastFit, min(fit[i]/best, 1)))
		}
	}
}

// density is how likely a value is under a band: as a normal distribution about
// the nominal value, of which the band is two standard deviations either way.
func density(x unit.Ohm, b reading.Band[unit.Ohm]) float64 {
	side := b.High - b.Nominal
	if x < b.Nominal {
		side = b.Nominal - b.Low
	}
	sigma := max(float64(side)/2, 1e-3)
	z := float64(x-b.Nominal) / sigma
	return math.Exp(-z*z/2) / (float64(b.High-b.Low)/4 + 1e-3)
}

// stateOf is one of the states of an observation.
func (f *Finder) stateOf(w *watch) wiring.State {
	for i, s := range f.k.states {
		if w.states>>i&1 == 1 {
			return s
		}
	}
	return f.g.Rest()
}

// measure is what an ohmmeter would read between two ends under a hypothesis,
// from the network of the installation with its faults in it: the shortest and
// the longest cables bound it. It is not ok where nothing joins the two.
func (f *Finder) measure(h int, ends [2]wiring.End, s wiring.State) (band reading.Band[unit.Ohm], ok bool) {
	in, rename, err := Apply(f.g.Inst, f.faultsOf(h)...)
	if err != nil {
		return band, false
	}
	g, _ := wiring.Build(in)
	if g == nil {
		return band, false
	}
	a, okA := g.Node(rename(ends[0]))
	b, okB := g.Node(rename(ends[1]))
	if !okA || !okB {
		return band, false
	}
	for i, to := range []*unit.Ohm{&band.Nominal, &band.Low, &band.High} {
		v, err := g.View(f.cat, wiring.Condition{Temperature: in.Supply.Ambient, Length: wiring.Bound(i), LoadsOut: true})
		if err != nil {
			return band, false
		}
		if *to, ok = v.Resistance(wiring.Setting{State: s}, a, b); !ok {
			return band, false
		}
	}
	band, err = reading.Ohmmeter(band)
	return band, err == nil
}
