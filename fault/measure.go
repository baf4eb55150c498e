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
	mostGlowing  = 400  // the same for a lamp that glows: few do, so most of them are ruled out
	leastFit     = 0.02 // of a value that does not fit, against one that does: lengths are often guessed
)

// refine weighs the likeliest hypotheses by how well a value fits what the
// numeric network of each gives, or whether its lamp would glow; logs are theirs
// for the observation. Those that are not worked out are left as they are, as if
// the value fitted. It is false where there is nothing to weigh: how great a
// poor contact is, nobody knows beforehand.
func (f *Finder) refine(x *Seen, outcome int, logs []float64) bool {
	w, err := f.k.watch(x)
	if err != nil {
		return false
	}
	switch {
	case x.Kind == SeenReading && x.Ohm != nil && *x.Ohm <= f.j.JoinedOhm:
		f.weighFit(logs, func(h int) (float64, bool) {
			m, err := f.model(h, wiring.Condition{LoadsOut: true})
			if err != nil {
				return 0, false
			}
			b, ok := m.measure(x.Between, f.stateOf(&w))
			return density(*x.Ohm, b), ok
		})
	case x.Kind == SeenVolts && x.Volt != nil && outcome == ghost:
		f.weighFit(logs, func(h int) (float64, bool) { return f.coupled(h, x, &w) })
	case x.Kind == SeenLamp && outcome == glows:
		f.glow(logs, &w)
	default:
		return false
	}
	return true
}

// weighFit weighs the likeliest of the hypotheses that an observation does not
// speak against by how well its value fits.
func (f *Finder) weighFit(logs []float64, fitOf func(h int) (float64, bool)) {
	n := len(f.against) - 1
	list := f.likeliest(mostMeasured, func(h int) bool { return logs[h] > f.against[n] })
	fit := make([]float64, len(list))
	best := 0.0
	for i, h := range list {
		x, ok := fitOf(h)
		if !ok {
			fit[i] = -1
			continue
		}
		fit[i] = x
		best = max(best, x)
	}
	if best <= 0 {
		return
	}
	f.against[n] = max(f.against[n], math.Log(leastFit))
	for i, h := range list {
		if fit[i] >= 0 {
			logs[h] += math.Log(max(leastFit, fit[i]/best))
		}
	}
}

// likeliest lists the hypotheses of a sort that carry most belief, n at most.
func (f *Finder) likeliest(n int, of func(h int) bool) []int {
	var list []int
	for h := range f.belief {
		if of(h) {
			list = append(list, h)
		}
	}
	slices.SortFunc(list, func(a, b int) int { return cmp.Or(cmp.Compare(f.belief[b], f.belief[a]), cmp.Compare(a, b)) })
	return list[:min(len(list), n)]
}

// The meters that show a voltage: a two-pole tester and a multimeter of 10 MΩ
// (package reading gives the sources); and how well coupling between cores is
// known, as the standard deviation of a logarithm.
const (
	testerInput    unit.Ohm = 200e3
	meterInput     unit.Ohm = 10e6
	couplingSpread          = 0.7 // ln 2: a factor of two either way, common practice, no source
)

// coupled is how well a ghost voltage fits a hypothesis.
func (f *Finder) coupled(h int, x *Seen, w *watch) (fit float64, ok bool) {
	m, err := f.model(h, wiring.Condition{Supplied: true})
	if err != nil {
		return 0, false
	}
	a, okA := m.g.Node(m.rename(x.Between[0]))
	b, okB := m.g.Node(m.rename(x.Between[1]))
	if !okA || !okB {
		return 0, false
	}
	input := testerInput
	if x.HighZ {
		input = meterInput
	}
	s := f.stateOf(w)
	u := m.views[0].Port(wiring.Setting{State: s, Lit: f.running(h, m, s)}, a, b).Reads(input)
	z := math.Log(float64(max(u, 0.1)/max(*x.Volt, 0.1))) / couplingSpread
	return math.Exp(-z * z / 2), true
}

// running says which loads of an edited installation are on in a state.
func (f *Finder) running(h int, m *model, s wiring.State) func(load int) bool {
	f.take(h, f.s)
	o := f.s.operate()
	at := slices.IndexFunc(f.k.states, func(x wiring.State) bool { return slices.Equal(x, s) })
	return func(load int) bool {
		l := &m.g.Loads[load]
		for i := range f.k.loads {
			if own := &f.g.Loads[f.k.loads[i].index]; own.ID() == l.ID() && own.Always == l.Always {
				return (o.lit[i]|o.dim[i])>>at&1 == 1
			}
		}
		return true // a fault's own resistance
	}
}

// glow weighs the hypotheses under which the lamp is dark by whether current
// enough comes to it all the same, over the coupling between cores or a leak.
// Where it is not worked out, a glow is taken for possible.
func (f *Finder) glow(logs []float64, w *watch) {
	n := len(f.against) - 1
	possible, plain := math.Log(0.3), f.against[n]
	f.each(func(h int, s *sim) {
		if s.predict(w) == dark {
			logs[h] = possible
		}
	})
	for _, h := range f.likeliest(mostGlowing, func(h int) bool { return logs[h] == possible }) {
		if !f.glows(h, w) {
			logs[h] = plain
		}
	}
}

func (f *Finder) glows(h int, w *watch) bool {
	m, err := f.model(h, wiring.Condition{Supplied: true})
	if err != nil {
		return true
	}
	s := f.stateOf(w)
	solved := m.views[0].Solve(wiring.Setting{State: s, Lit: f.running(h, m, s)})
	for _, i := range m.g.LoadsOf(f.g.Loads[f.k.loads[w.load].index].ID()) {
		l := &m.g.Loads[i]
		if l.Lamp != nil && l.Lamp.Glow > 0 && float64(solved.LoadCurrent(i).Abs()) >= f.j.Glow*float64(l.Lamp.Glow) {
			return true
		}
	}
	return false
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

// model makes the networks of the installation with a hypothesis's faults in it:
// of a dead one for the nominal, the shortest and the longest cables, of a live
// one the nominal only.
func (f *Finder) model(h int, c wiring.Condition) (*model, error) {
	in, rename, err := Apply(f.g.Inst, f.faultsOf(h)...)
	if err != nil {
		return nil, err
	}
	g, problems := wiring.Build(in)
	if g == nil {
		return nil, fmt.Errorf("the wiring with the fault in it contradicts itself: %v", problems[0])
	}
	m := &model{g: g, rename: rename}
	c.Temperature = in.Supply.Ambient
	for i, length := range []wiring.Bound{wiring.Nominal, wiring.Low, wiring.High} {
		c.Length = length
		if m.views[i], err = g.View(f.cat, c); err != nil {
			return nil, err
		}
		if c.Supplied {
			break
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
		if t.Kind != SeenReading || t.lead || same(&t.Seen, f.seen) || f.skips(&t.Seen) || tried >= mostPairs {
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
			if m, err := f.model(h, wiring.Condition{LoadsOut: true}); err == nil {
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
	q := &Question{Seen: t.Seen, Effort: f.effort(t), Text: f.Instruction(&t.Seen) + " Note the value.", Caution: f.before(t)}
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
