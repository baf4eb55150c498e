package fault

import (
	"cmp"
	"fmt"
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
		m, err := f.model(h)
		if err != nil {
			continue
		}
		if b, ok := m.measure(x.Between, f.stateOf(&w)); ok {
			fit[i] = density(*x.Ohm, b)
			best = max(best, fit[i])
		}
	}
	n := len(f.against) - 1
	f.against[n] = max(f.against[n], math.Log((1-x.doubt(f.j))*leastFit)+1e-9)
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

// A model is the numeric network of one hypothesis, with the shortest and the
// longest cables too: they bound every reading.
type model struct {
	g      *wiring.Graph
	rename func(wiring.End) wiring.End
	views  [3]*wiring.View // nominal, low, high
}

// model makes the network of the installation with a hypothesis's faults in it,
// supply off and lamps out.
func (f *Finder) model(h int) (*model, error) {
	in, rename, err := Apply(f.g.Inst, f.faultsOf(h)...)
	if err != nil {
		return nil, err
	}
	g, problems := wiring.Build(in)
	if g == nil {
		return nil, fmt.Errorf("the wiring with the fault in it contradicts itself: %v", problems[0])
	}
	m := &model{g: g, rename: rename}
	for i, length := range []wiring.Bound{wiring.Nominal, wiring.Low, wiring.High} {
		m.views[i], err = g.View(f.cat, wiring.Condition{Temperature: in.Supply.Ambient, Length: length, LoadsOut: true})
		if err != nil {
			return nil, err
		}
	}
	return m, nil
}

// measure is what an ohmmeter may read between two ends. It is not ok where
// nothing joins the two.
func (m *model) measure(ends [2]wiring.End, s wiring.State) (band reading.Band[unit.Ohm], ok bool) {
	a, okA := m.g.Node(m.rename(ends[0]))
	b, okB := m.g.Node(m.rename(ends[1]))
	if !okA || !okB {
		return band, false
	}
	for i, to := range []*unit.Ohm{&band.Nominal, &band.Low, &band.High} {
		if *to, ok = m.views[i].Resistance(wiring.Setting{State: s}, a, b); !ok {
			return band, false
		}
	}
	band, err := reading.Ohmmeter(band)
	return band, err == nil
}

// Of what no word tells apart, this much is looked at for a value that does.
const (
	mostModels = 6
	mostPairs  = 60
)

// byValue looks for a reading whose value tells apart what a cause stands for:
// how far away a bridge or a screw is shows in the length of core before it. It
// is nil if there is none, or if the value was read already.
func (f *Finder) byValue(c *Cause) *Question {
	models, sets := f.models(c)
	if len(models) < 2 {
		return nil
	}
	var best *Question
	apart, tried := 0, 0
	for _, t := range f.tests() {
		if t.Kind != SeenReading || t.lead || same(&t.Seen, f.seen) || same(&t.Seen, f.skipped) || tried >= mostPairs {
			continue
		}
		s := f.stateOf(&t.watch)
		bands := make([]reading.Band[unit.Ohm], len(models))
		all := true
		for i, m := range models {
			var ok bool
			bands[i], ok = m.measure(t.Between, s)
			all = all && ok && bands[i].Nominal < f.j.JoinedOhm
		}
		if !all {
			continue
		}
		tried++
		if n := disjoint(bands); n > apart {
			apart, best = n, f.valueQuestion(&t, bands, sets, c)
		}
	}
	return best
}

// models are those of the likeliest sets of a cause that differ in their repair
// from the first, and of the first.
func (f *Finder) models(c *Cause) (models []*model, sets []int) {
	for i, set := range c.Sets {
		if i > 0 && work(set) == work(c.Sets[0]) || len(models) >= mostModels {
			continue
		}
		for _, h := range c.hyps {
			if !slices.Equal(f.faultsOf(h), set) {
				continue
			}
			if m, err := f.model(h); err == nil {
				models, sets = append(models, m), append(sets, i)
			}
		}
	}
	return models, sets
}

// disjoint counts the bands that do not meet the first.
func disjoint(bands []reading.Band[unit.Ohm]) (n int) {
	for _, b := range bands[1:] {
		if b.Low > bands[0].High || b.High < bands[0].Low {
			n++
		}
	}
	return n
}

func (f *Finder) valueQuestion(t *test, bands []reading.Band[unit.Ohm], sets []int, c *Cause) *Question {
	q := &Question{Seen: t.Seen, Effort: f.effort(t), Text: f.Instruction(&t.Seen) + " Note the value."}
	sum := 0.0
	for _, i := range sets {
		sum += c.Chances[i]
	}
	for k, i := range sets {
		q.Results = append(q.Results, Result{
			Means: fmt.Sprintf("%v to %v", bands[k].Low, bands[k].High), Chance: c.Chances[i] / sum,
			Causes: []Cause{{Chance: c.Chances[i], Sets: c.Sets[i : i+1], Chances: c.Chances[i : i+1]}},
		})
	}
	return q
}
