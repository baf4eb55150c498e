package fault

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"strapper/internal/diagnose"
	"strapper/kit"
	"strapper/reading"
	"strapper/switching"
	"strapper/wiring"
)

// Finder looks for the fault in one installation. It is not for several
// goroutines at a time.
type Finder struct {
	g       *wiring.Graph
	wants   []switching.Want
	cat     *kit.Catalogue
	j       *judgement
	k       *skeleton
	s       *sim
	faults  []*Fault
	patches []patch
	hyps    []hypothesis
	prior   []float64 // logarithms
	seen    []Seen
	log     [][]float64 // by observation and hypothesis: logarithms of likelihoods
	against []float64   // by observation: what speaks against a hypothesis is no more likely than this
	belief  []float64   // by hypothesis; sums to one
	pool    questionPool
	skipped []Seen // tests that cannot be made
	after   reading.Options
}

// hypothesis is one fault or two, by index; -1 for none.
type hypothesis struct{ a, b int32 }

// Options chooses what is considered. The zero value is everything.
type Options struct {
	SinglesOnly bool            // leave out pairs of faults
	Readings    reading.Options // how the readings after a repair are predicted; those that need the supply are left out anyhow
}

// New makes a finder for an installation whose graph is as it should be. It
// fails only if there is no circuit, or so much wiring that pairs of faults run
// into millions.
func New(g *wiring.Graph, wants []switching.Want, cat *kit.Catalogue, o Options) (*Finder, error) {
	j, err := loadJudgement()
	if err != nil {
		return nil, err
	}
	if g == nil || cat == nil || len(g.Origins) == 0 {
		return nil, errors.New("no circuit feeds the wiring; add one to the section circuits")
	}
	f := &Finder{g: g, wants: wants, cat: cat, j: j, k: newSkeleton(g, j), after: o.Readings}
	f.after.DeadOnly = true
	f.s = newSim(f.k)
	f.faults = listSuspects(g, cat, j)
	for _, x := range f.faults {
		f.patches = append(f.patches, f.k.patch(x))
	}
	f.hypotheses(!o.SinglesOnly && len(f.faults) <= mostForPairs)
	f.weigh()
	return f, nil
}

// mostForPairs is the greatest number of single faults of which pairs are
// considered.
const mostForPairs = 1500

// hypotheses lists no fault, every fault, and every two that can be there
// together.
func (f *Finder) hypotheses(pairs bool) {
	add := func(a, b int32, p float64) {
		f.hyps = append(f.hyps, hypothesis{a, b})
		f.prior = append(f.prior, math.Log(p))
	}
	double := f.j.Double
	if !pairs {
		double = 0
	}
	sum := 0.0
	for _, x := range f.faults {
		sum += x.weight
	}
	add(-1, -1, max(1-sum, 1e-6)*(1-double))
	for i, x := range f.faults {
		add(int32(i), -1, x.weight*(1-double))
	}
	if !pairs {
		return
	}
	for i, x := range f.faults {
		for k := i + 1; k < len(f.faults); k++ {
			if f.together(i, k) {
				add(int32(i), int32(k), 2*x.weight*f.faults[k].weight*double)
			}
		}
	}
}

// together reports whether two faults do not touch the same thing.
func (f *Finder) together(i, k int) bool {
	a, b := f.faults[i], f.faults[k]
	p, q := &f.patches[i], &f.patches[k]
	if a.Item != "" && a.Item == b.Item && a.Box == b.Box && len(p.open)+len(q.open) > 0 {
		return false
	}
	for _, x := range p.cut {
		for _, y := range q.cut {
			if x == y {
				return false
			}
		}
	}
	return a.Cable == "" || a.Cable != b.Cable
}

// take sets a simulator to a hypothesis.
func (f *Finder) take(h int, s *sim) {
	switch x := f.hyps[h]; {
	case x.a < 0:
		s.set()
	case x.b < 0:
		s.set(&f.patches[x.a])
	default:
		s.set(&f.patches[x.a], &f.patches[x.b])
	}
}

// workers share the work of simulating every hypothesis.
const workers = 4

// each calls do with a simulator set to each hypothesis, several at a time.
func (f *Finder) each(do func(h int, s *sim)) {
	part := len(f.hyps)/workers + 1
	var wait sync.WaitGroup
	for from := 0; from < len(f.hyps); from += part {
		wait.Go(func() {
			s := newSim(f.k)
			for h := from; h < min(from+part, len(f.hyps)); h++ {
				f.take(h, s)
				do(h, s)
			}
		})
	}
	wait.Wait()
}

// See takes in an observation. The error names what in it cannot be used, and
// then nothing has changed.
func (f *Finder) See(x Seen) error {
	w, err := f.k.watch(&x)
	if err != nil {
		return fmt.Errorf("%s: %w", x.Kind, err)
	}
	if x.Kind == SeenCause && !slices.ContainsFunc(f.faults, func(y *Fault) bool { return y.ID() == x.Of }) {
		return fmt.Errorf("no fault that is looked for here is called %q", x.Of)
	}
	outcome, err := x.outcome(f.j)
	if err != nil {
		return fmt.Errorf("%s: %w", x.Kind, err)
	}
	q := diagnose.Question{Outcomes: len(words[x.Kind]), Wrong: x.doubt(f.j)}
	var table [diagnose.MostOutcomes + 1]float64
	for k := range q.Outcomes + 1 {
		table[k] = math.Log(q.Likelihood(int8(k-1), outcome))
	}
	logs := make([]float64, len(f.hyps))
	f.each(func(h int, s *sim) { logs[h] = table[s.predict(&w)+1] })
	f.seen, f.log = append(f.seen, x), append(f.log, logs)
	f.against = append(f.against, math.Log(q.Wrong/float64(q.Outcomes-1))+1e-9)
	f.weigh()
	if f.refine(&x, outcome, logs) {
		f.weigh()
	}
	return nil
}

// Undo forgets the last observation; false if there is none.
func (f *Finder) Undo() bool {
	if len(f.seen) == 0 {
		return false
	}
	n := len(f.seen) - 1
	f.seen, f.log, f.against = f.seen[:n], f.log[:n], f.against[:n]
	f.weigh()
	return true
}

// Skip takes a test out of those that are offered: it cannot be made here. Where
// probes go, that holds for every position of the switches.
func (f *Finder) Skip(q *Question) { f.skipped = append(f.skipped, q.Seen) }

// Unskip puts the last test skipped back; false if there is none.
func (f *Finder) Unskip() bool {
	n := len(f.skipped)
	f.skipped = f.skipped[:max(n-1, 0)]
	return n > 0
}

// skips reports whether a test cannot be made here.
func (f *Finder) skips(x *Seen) bool {
	return slices.ContainsFunc(f.skipped, func(y Seen) bool {
		anyhow := x.Kind == SeenReading || x.Kind == SeenInsulation
		return x.Kind == y.Kind && x.Of == y.Of && x.Between == y.Between && (anyhow || maps.Equal(x.With, y.With))
	})
}

// Seen lists the observations taken in.
func (f *Finder) Seen() []Seen { return slices.Clone(f.seen) }

// weigh works out the posterior.
func (f *Finder) weigh() {
	sum := slices.Clone(f.prior)
	for _, logs := range f.log {
		for h, l := range logs {
			sum[h] += l
		}
	}
	f.belief = diagnose.FromLog(sum)
}

// Cause is what explains what was seen: faults that no offered test tells
// apart, the likeliest first. A set that has another of them in it is counted
// in Chance and not listed.
type Cause struct {
	Chance  float64    // posterior of all of them together
	Sets    [][]*Fault // each no fault, one, or two; never empty
	Chances []float64  // of each
	hyps    []int
	fits    []bool // by set: it explains all that was seen
}

// explains reports whether a hypothesis needs nothing to have been noted wrong.
func (f *Finder) explains(h int) bool {
	for i, logs := range f.log {
		if logs[h] <= f.against[i] {
			return false
		}
	}
	return true
}

// most is the greatest number of hypotheses that questions are chosen among.
const most = 600

// leading lists the hypotheses that carry the belief, and every single fault
// that explains all that was seen, the likeliest first; and their weights,
// which sum to one.
func (f *Finder) leading() (list []int, p []float64) {
	floor := 0.0
	if len(f.belief) > most {
		sorted := slices.Clone(f.belief)
		slices.Sort(sorted)
		floor = sorted[len(sorted)-most]
	}
	for h, x := range f.belief {
		if x >= floor && x > 0 && len(list) < 2*most {
			list = append(list, h)
		}
	}
	byBelief := func(a, b int) int { return cmp.Or(cmp.Compare(f.belief[b], f.belief[a]), cmp.Compare(a, b)) }
	slices.SortFunc(list, byBelief)
	sum := 0.0
	for i, h := range list {
		if sum += f.belief[h]; sum > 0.999 || i == most {
			list = list[:i+1]
			break
		}
	}
	for h := range 1 + len(f.faults) { // no fault, and the single ones
		if f.explains(h) && !slices.Contains(list, h) {
			list = append(list, h)
		}
	}
	slices.SortFunc(list, byBelief)
	for _, h := range list {
		p = append(p, f.belief[h])
	}
	diagnose.Normalise(p)
	return list, p
}

// settled reports whether the likeliest cause is certain enough: nothing else
// that is one fault explains all that was seen, and little belief is left for
// the rest.
func (f *Finder) settled(causes []Cause) bool {
	if causes[0].Chance < f.j.Certain {
		return false
	}
	explained := false
	for i := range causes {
		for _, h := range causes[i].hyps {
			if h > len(f.faults) || !f.explains(h) {
				continue
			}
			if i > 0 {
				return false
			}
			explained = true
		}
	}
	return explained || causes[0].Chance >= f.j.Doubtful
}

// Causes lists what explains what was seen, the likeliest first. What no
// offered test tells apart is one cause.
func (f *Finder) Causes() []Cause {
	list, p := f.leading()
	_, class := f.offered(list, p)
	return f.causes(list, p, class)
}

func (f *Finder) causes(list []int, p []float64, class []int) []Cause {
	var causes []Cause
	at := map[int]int{}
	for i, h := range list {
		k, known := at[class[i]]
		if !known {
			k = len(causes)
			at[class[i]] = k
			causes = append(causes, Cause{})
		}
		c := &causes[k]
		c.Chance += p[i]
		c.Sets, c.Chances, c.hyps = append(c.Sets, f.faultsOf(h)), append(c.Chances, p[i]), append(c.hyps, h)
		c.fits = append(c.fits, f.explains(h))
	}
	for i := range causes {
		causes[i].reduce()
	}
	slices.SortStableFunc(causes, func(a, b Cause) int { return cmp.Compare(b.Chance, a.Chance) })
	return causes
}

// reduce leaves out what has another set of the cause in it: the second fault
// is then one that nothing shows. Nor are two misplaced ends listed beside the
// exchange that they amount to, nor what a value read speaks against while
// another set fits it.
func (c *Cause) reduce() {
	var sets [][]*Fault
	var chances []float64
	fits := slices.Contains(c.fits, true)
	for i, set := range c.Sets {
		covered := slices.ContainsFunc(c.Sets, func(other []*Fault) bool {
			return within(other, set) || len(other) == 1 && len(set) == 2 && work(other) == work(set)
		})
		if !covered && (c.fits[i] || !fits) {
			sets, chances = append(sets, set), append(chances, c.Chances[i])
		}
	}
	if len(sets) > 0 {
		c.Sets, c.Chances = sets, chances
	}
}

// within reports whether a set is part of a greater one.
func within(set, of []*Fault) bool {
	return len(set) < len(of) && !slices.ContainsFunc(set, func(x *Fault) bool { return !slices.Contains(of, x) })
}

func (f *Finder) faultsOf(h int) (list []*Fault) {
	for _, i := range []int32{f.hyps[h].a, f.hyps[h].b} {
		if i >= 0 {
			list = append(list, f.faults[i])
		}
	}
	return list
}
