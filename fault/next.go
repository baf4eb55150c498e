package fault

import (
	"cmp"
	"maps"
	"slices"

	"strapper/internal/diagnose"
)

// Standing says how far the search has come.
type Standing string

// The standings.
const (
	Asking  Standing = "asking"  // there is a test that tells more
	Certain Standing = "certain" // one cause is certain enough
	Alike   Standing = "alike"   // no offered test tells apart what remains
	Baffled Standing = "baffled" // what was seen fits nothing that is known here
)

// Question is the test to make next.
type Question struct {
	Seen            // what is tested, without what is seen
	Gain    float64 // bits it is expected to tell
	Effort  float64 // in the time of one reading in an open box
	Results []Result
	Text    string // what to do, in words
	Caution string // of a live test, and of one in a consumer unit; else empty
}

// Result is what one outcome would mean.
type Result struct {
	Is     string  // the outcome, as Seen.Is takes it; empty where it is the value that tells
	Means  string  // the same in words: "0 to 5 Ω"
	Chance float64 // of noting it
	Causes []Cause // the likeliest then, at most two
}

// leastGain is the information below which a test is not worth its while, in
// bits.
const leastGain = 0.001

// Next is the test with most information for its effort among those that are
// safe now, or nil with the reason why none is needed or left. Dead tests come
// first, and operating switches with everything closed; then a dead reading
// whose value tells apart what a word does not; a live test with a cover off is
// offered only where no other tells anything.
func (f *Finder) Next() (*Question, Standing) {
	list, p := f.leading()
	qs, class := f.offered(list, p)
	causes := f.causes(list, p, class)
	if f.baffled() {
		return nil, Baffled
	}
	settled := f.settled(causes)
	if settled && SameRepair(&causes[0]) {
		return nil, Certain
	}
	if !settled {
		if best, gain := f.unasked(qs).Best(p, leastGain); best >= 0 {
			return f.ask(&f.tests()[best], &qs[best], gain, list, p, class), Asking
		}
	}
	if q := f.byValue(&causes[0]); q != nil {
		return q, Asking
	}
	if q := f.live(list, p); q != nil {
		return q, Asking
	}
	return nil, Alike
}

// baffled reports whether even the best hypothesis needs that more was noted
// wrong than can be believed.
func (f *Finder) baffled() bool {
	at, wrong := mostBelieved(f.belief), 0
	for i := range f.log {
		if f.log[i][at] < contradicted {
			wrong++
		}
	}
	return wrong >= 3 && wrong*2 > len(f.log)
}

// contradicted is the logarithm of a likelihood below which an observation
// speaks against a hypothesis.
const contradicted = -2.5

// mostBelieved is the index of the greatest.
func mostBelieved(p []float64) (at int) {
	for i, x := range p {
		if x > p[at] {
			at = i
		}
	}
	return at
}

// offered predicts every test and takes the information out of those that are
// not offered: operating a switch where it may well put a short circuit on the
// supply or make metal live that should be earthed, and what cannot be done here. What only such tests tell apart is one
// class.
func (f *Finder) offered(list []int, p []float64) (qs diagnose.Questions, class []int) {
	tests := f.tests()
	qs = f.questions(list)
	tripped := slices.ContainsFunc(f.seen, func(x Seen) bool {
		return x.Is == words[SeenTrip][trips] && (x.Kind == SeenTrip || x.Kind == SeenLamp)
	})
	metal := f.metal(list)
	for i := range tests {
		t := &tests[i]
		risky := t.Kind == SeenLamp && (tripped || chanceOf(&qs[i], p, tripsLamp) > f.j.TripRisk || chanceIn(metal, p, t.watch.states) > f.j.TripRisk)
		if risky && !same(&t.Seen, f.seen) || f.skips(&t.Seen) {
			clear(qs[i].Predict)
		}
	}
	return qs, qs.Classes(len(list))
}

// metal is, by hypothesis of a list, the states in which something that should
// be earthed is live.
func (f *Finder) metal(list []int) []uint64 {
	out := make([]uint64, len(list))
	for i, h := range list {
		f.take(h, f.s)
		out[i] = f.s.operate().metal
	}
	return out
}

// chanceIn is the weight of the hypotheses that have one of some states.
func chanceIn(states []uint64, p []float64, of uint64) (sum float64) {
	for i, x := range states {
		if x&of != 0 {
			sum += p[i]
		}
	}
	return sum
}

// unasked takes the information out of tests that were made: none is made twice.
func (f *Finder) unasked(qs diagnose.Questions) diagnose.Questions {
	tests := f.tests()
	for i := range tests {
		if same(&tests[i].Seen, f.seen) {
			qs[i].Wrong = 1 - 1/float64(qs[i].Outcomes) // as good as not made
		}
	}
	return qs
}

func chanceOf(q *diagnose.Question, p []float64, outcome int8) (sum float64) {
	for h, k := range q.Predict {
		if k == outcome {
			sum += p[h]
		}
	}
	return sum
}

// same reports whether a test is in a list.
func same(x *Seen, list []Seen) bool {
	return slices.ContainsFunc(list, func(y Seen) bool {
		return x.Kind == y.Kind && x.Of == y.Of && x.Between == y.Between && maps.Equal(x.With, y.With)
	})
}

// ask makes the question of a test.
func (f *Finder) ask(t *test, q *diagnose.Question, gain float64, list []int, p []float64, class []int) *Question {
	out := &Question{Seen: t.Seen, Gain: gain, Effort: q.Effort, Text: f.Instruction(&t.Seen), Caution: f.before(t)}
	for o, chance := range q.Outlook(p) {
		next := slices.Clone(p)
		if !q.Update(next, o) || chance < 0.005 {
			continue
		}
		causes := f.causes(list, next, class)
		out.Results = append(out.Results, Result{Is: words[t.Kind][o], Means: f.Means(t.Kind, words[t.Kind][o]), Chance: chance, Causes: causes[:min(2, len(causes))]})
	}
	slices.SortStableFunc(out.Results, func(a, b Result) int { return cmp.Compare(b.Chance, a.Chance) })
	return out
}

// live looks for a test with the supply on that tells what no dead test does:
// the voltage at a lamp's terminals. It is not offered where a short circuit is
// likely.
func (f *Finder) live(list []int, p []float64) *Question {
	b := &pooling{f: f, settings: f.settings()}
	for _, l := range f.k.loads {
		load := &f.g.Loads[l.index]
		b.everywhere(test{Seen: Seen{Kind: SeenVolts, Between: load.Ends}, boxes: []string{load.Box.ID}})
	}
	qs := f.predictions(b.list, list, func(h int) []int8 { return f.row(b.list, h) })
	class := qs.Classes(len(list))
	for i := range b.list {
		if same(&b.list[i].Seen, f.seen) || f.skips(&b.list[i].Seen) || f.mayTrip(&b.list[i], list, p) {
			qs[i].Wrong = 1 - 1/float64(qs[i].Outcomes)
		}
	}
	best, gain := qs.Best(p, leastLiveGain)
	if best < 0 {
		return nil
	}
	return f.ask(&b.list[best], &qs[best], gain, list, p, class)
}

// leastLiveGain is the information that a live test must promise, in bits.
const leastLiveGain = 0.2

// mayTrip reports whether a device may well open with the switches so, or
// metal be live that should be earthed.
func (f *Finder) mayTrip(t *test, list []int, p []float64) bool {
	risk := 0.0
	for i, h := range list {
		f.take(h, f.s)
		o := f.s.operate()
		if o.metal&t.watch.states != 0 || slices.ContainsFunc(o.trips, func(x uint64) bool { return x&t.watch.states != 0 }) {
			risk += p[i]
		}
	}
	return risk > f.j.TripRisk
}
