package fault

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"strapper/internal/diagnose"
	"strapper/unit"
)

// A Trial puts every single fault into an installation, one after the other,
// and lets a way of asking find it.
type Trial struct {
	F      *Finder
	Choose Chooser
	Wrong  float64    // share of answers that are noted wrong on purpose
	Chance *rand.Rand // of noise and wrong answers

	Faults     int     // tried
	Found      int     // of those, the true one or its class ended on top
	Tests      float64 // mean number, weighted by the prior of the faults
	Plain      float64 // mean number, every fault counted once
	Part       int     // of pairs: one of the two was in what ended on top
	Misled     int     // faults with a wrong answer on the way
	MisledGood int     // of those, found all the same
	Later      int     // of those misled and not found, found after the cause named was looked for and was not there
	Missed     []string
	weight     float64
}

// Chooser picks the next test, or -1 to stop.
type Chooser func(f *Finder, p []float64, qs diagnose.Questions) int

// Case is a hypothesis that is true while it is tried.
type Case struct {
	h      int
	misled bool
	tries  int // causes that were looked for in vain
}

// BestFirst is what Next does.
func BestFirst(f *Finder, p []float64, qs diagnose.Questions) int {
	best, _ := qs.Best(p, leastGain)
	return best
}

// BoxByBox is a fixed routine: from the board on, everything that can be read
// in one box that is not known yet, then the next box.
func BoxByBox(f *Finder, p []float64, qs diagnose.Questions) int {
	tests := f.tests()
	for _, box := range f.g.Inst.Boxes {
		for i := range tests {
			if slices.Contains(tests[i].boxes, box.ID) && qs[i].Gain(p) > leastGain {
				return i
			}
		}
	}
	return slices.IndexFunc(qs, func(q diagnose.Question) bool { return q.Gain(p) > leastGain })
}

// HalfSplit is a fixed routine: a reading from the board to the point that
// parts what is still possible most evenly, by number; when none parts it any
// more, the same within boxes, and then with any test.
func HalfSplit(f *Finder, p []float64, qs diagnose.Questions) int {
	tests := f.tests()
	equal := slices.Repeat([]float64{1 / float64(len(p))}, len(p))
	for _, kind := range []func(*test) bool{
		func(t *test) bool { return t.Kind == SeenReading && t.lead },
		func(t *test) bool { return t.Kind == SeenReading },
		func(*test) bool { return true },
	} {
		best, gain := -1, 0.0
		for i := range tests {
			if !kind(&tests[i]) || qs[i].Gain(p) <= leastGain {
				continue
			}
			if g := qs[i].Gain(equal); g > gain {
				best, gain = i, g
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}

// mostAsked ends a search that does not come to an end.
const mostAsked = 40

// Run tries every single fault.
func (t *Trial) Run() *Trial {
	var cases []Case
	for i := range t.F.faults {
		cases = append(cases, Case{h: i + 1})
	}
	t.run(cases, 0)
	t.Faults = len(cases)
	t.Tests /= t.weight
	t.Plain /= float64(t.Faults)
	return t
}

// RunPairs tries a number of pairs of faults, drawn by their prior.
func (t *Trial) RunPairs(n int) *Trial {
	first := 1 + len(t.F.faults)
	sum := 0.0
	for h := first; h < len(t.F.hyps); h++ {
		sum += math.Exp(t.F.prior[h])
	}
	for range n {
		x := t.Chance.Float64() * sum
		h := first
		for ; h < len(t.F.hyps)-1 && x > 0; h++ {
			x -= math.Exp(t.F.prior[h])
		}
		t.run([]Case{{h: h}}, 0)
	}
	t.Faults = n
	t.Tests /= t.weight
	t.Plain /= float64(n)
	return t
}

// run follows the cases through the questions, those that answer alike
// together.
func (t *Trial) run(cases []Case, depth int) {
	f := t.F
	list, p := f.leading()
	qs, class := f.offered(list, p)
	causes := f.causes(list, p, class)
	next := -1
	if !f.settled(causes) && depth < mostAsked {
		next = t.Choose(f, p, f.unasked(qs))
	}
	if next < 0 {
		t.judge(cases, depth, causes)
		t.again(cases, depth, causes)
		return
	}
	x := f.tests()[next]
	parts := make([][]Case, len(words[x.Kind]))
	for _, c := range cases {
		o := t.answer(&c, &x)
		parts[o] = append(parts[o], c)
	}
	for o, part := range parts {
		if len(part) == 0 {
			continue
		}
		seen := x.Seen
		seen.Is = words[x.Kind][o]
		if err := f.See(seen); err != nil {
			panic(err)
		}
		t.run(part, depth+1)
		f.Undo()
	}
}

// again goes on with the cases that were misled, once the cause that was named
// has been looked for and is not there.
func (t *Trial) again(cases []Case, depth int, causes []Cause) {
	if t.Wrong == 0 || len(causes[0].Sets[0]) == 0 {
		return
	}
	for _, c := range cases {
		if !c.misled || c.tries >= 3 || slices.Contains(causes[0].hyps, c.h) {
			continue
		}
		before := len(t.F.seen)
		for _, x := range causes[0].Sets[0] {
			if err := t.F.See(Seen{Kind: SeenCause, Of: x.ID(), Is: "not so"}); err != nil {
				panic(err)
			}
		}
		c.tries++
		t.run([]Case{c}, depth)
		for len(t.F.seen) > before {
			t.F.Undo()
		}
	}
}

// answer is what is noted of a test: what the case gives, read with noise, and
// now and then something else.
func (t *Trial) answer(c *Case, x *test) int {
	t.F.take(c.h, t.F.s)
	k := int(t.F.s.predict(&x.watch))
	n := len(words[x.Kind])
	switch {
	case k == int(diagnose.Unsaid):
		return t.Chance.IntN(n)
	case t.Wrong > 0 && t.Chance.Float64() < t.Wrong:
		c.misled = true
		return (k + 1 + t.Chance.IntN(n-1)) % n
	}
	return t.noisy(x.Kind, k)
}

// noisy reads an outcome off an instrument: what is joined reads up to some
// ohms, and poor contacts and damaged insulation are of any size about the
// usual, a factor of e to one standard deviation.
func (t *Trial) noisy(kind SeenKind, k int) int {
	j := t.F.j
	var ohm unit.Ohm
	switch {
	case kind == SeenReading && k == joined:
		ohm = unit.Ohm((0.05 + 2*t.Chance.Float64()) * (1 + 0.02*t.Chance.NormFloat64()))
	case kind == SeenReading && k == high:
		ohm = j.LooseOhm * unit.Ohm(math.Exp(t.Chance.NormFloat64()))
	case (kind == SeenInsulation || kind == SeenAlone) && k == low:
		ohm = j.LeakOhm * unit.Ohm(math.Exp(t.Chance.NormFloat64()))
	default:
		return k
	}
	x := Seen{Kind: kind, Ohm: &ohm}
	o, err := x.outcome(j)
	if err != nil {
		panic(err)
	}
	return o
}

func (t *Trial) judge(cases []Case, depth int, causes []Cause) {
	for _, c := range cases {
		if c.tries > 0 {
			if slices.Contains(causes[0].hyps, c.h) {
				t.Later++
			}
			continue
		}
		w := math.Exp(t.F.prior[c.h])
		t.weight += w
		t.Tests += w * float64(depth)
		t.Plain += float64(depth)
		good := slices.Contains(causes[0].hyps, c.h)
		if good {
			t.Found++
		} else {
			t.Missed = append(t.Missed, fmt.Sprintf("%s taken for %s", ids(t.F.faultsOf(c.h)), ids(causes[0].Sets[0])))
		}
		if !good && partly(t.F.faultsOf(c.h), causes[0].Sets) {
			t.Part++
		}
		if c.misled {
			t.Misled++
			if good {
				t.MisledGood++
			}
		}
	}
}

func partly(truth []*Fault, sets [][]*Fault) bool {
	return slices.ContainsFunc(sets, func(set []*Fault) bool {
		return slices.ContainsFunc(set, func(x *Fault) bool { return slices.Contains(truth, x) })
	})
}

// Bound is the entropy of what can be told apart among the single faults, in
// bits: no questions of two outcomes are fewer on average.
func Bound(f *Finder) float64 {
	var list []int
	var p []float64
	for h := 1; h <= len(f.faults); h++ {
		list, p = append(list, h), append(p, math.Exp(f.prior[h]))
	}
	diagnose.Normalise(p)
	mass := map[int]float64{}
	for i, c := range f.questions(list).Classes(len(list)) {
		mass[c] += p[i]
	}
	sum := 0.0
	for _, m := range mass {
		sum -= m * math.Log2(m)
	}
	return sum
}

func ids(set []*Fault) (list []string) {
	for _, f := range set {
		list = append(list, f.ID())
	}
	return list
}
