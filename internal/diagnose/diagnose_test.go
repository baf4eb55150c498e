package diagnose_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
	"strapper/internal/diagnose"
)

// Half-split on a chain: one break among n equal sections, a test point
// between any two of them. The values are those of the best strategy, worked by
// dynamic programming in docs/checks/08-fault.md; on a chain of equal sections
// one step ahead is as good.
func TestHalfSplitOnAChain(t *testing.T) {
	want := []float64{1, 5. / 3, 2, 12. / 5, 8. / 3, 20. / 7, 3, 29. / 9, 3.4, 3.545455, 3.666667, 3.769231, 3.857143, 3.933333, 4}
	for i, w := range want {
		n := i + 2
		if got := chain(n).Expected(equal(n)); math.Abs(got-w) > 1e-6 {
			t.Errorf("%d sections: %.6f questions expected, want %.6f", n, got, w)
		}
	}
	for _, c := range []struct {
		p    []float64
		want float64
	}{
		{[]float64{.5, .25, .125, .125}, 1.75},
		{[]float64{.4, .3, .2, .1}, 1.9},
		{[]float64{.1, .4, .1, .4}, 2.0},
	} {
		if got := chain(len(c.p)).Expected(c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("sections %v: %.6f questions expected, want %.2f", c.p, got, c.want)
		}
	}
}

func equal(n int) []float64 {
	p := make([]float64, n)
	for i := range p {
		p[i] = 1 / float64(n)
	}
	return p
}

// chain is a series of n sections of which one is broken: test point k tells
// whether the break lies before it.
func chain(n int) diagnose.Questions {
	var qs diagnose.Questions
	for k := 1; k < n; k++ {
		q := diagnose.Question{Outcomes: 2}
		for h := range n {
			q.Predict = append(q.Predict, int8(b2i(h < k)))
		}
		qs = append(qs, q)
	}
	return qs
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// What the gain promises is what updating gives: the expected entropy after the
// answer, worked outcome by outcome with Bayes' rule (T. M. Cover and J. A.
// Thomas, Elements of Information Theory, 2nd ed. 2006, section 2.4).
func TestGainIsTheExpectedLossOfEntropy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "hypotheses")
		q := diagnose.Question{Outcomes: rapid.IntRange(2, 5).Draw(t, "outcomes"), Wrong: rapid.Float64Range(0, 0.4).Draw(t, "wrong")}
		p := make([]float64, n)
		for h := range p {
			p[h] = rapid.Float64Range(0.01, 1).Draw(t, "weight")
			q.Predict = append(q.Predict, int8(rapid.IntRange(-1, q.Outcomes-1).Draw(t, "prediction")))
		}
		diagnose.Normalise(p)
		after := 0.0
		for o, chance := range q.Outlook(p) {
			next := slices.Clone(p)
			if q.Update(next, o) {
				after += chance * diagnose.Entropy(next)
			}
		}
		if got, want := q.Gain(p), diagnose.Entropy(p)-after; math.Abs(got-want) > 1e-9 {
			t.Fatalf("gain %.12f, expected loss of entropy %.12f", got, want)
		}
	})
}

func TestClasses(t *testing.T) {
	qs := diagnose.Questions{
		{Outcomes: 2, Predict: []int8{0, 0, 1, 0, 1}},
		{Outcomes: 3, Predict: []int8{2, 2, 0, diagnose.Unsaid, 0}},
	}
	if got := qs.Classes(5); !slices.Equal(got, []int{0, 0, 1, 2, 1}) {
		t.Errorf("classes %v, want 0 0 1 2 1", got)
	}
}

// Without doubt an outcome that nothing explains changes nothing; with a rate
// of wrong answers, and however many of them, nothing is ever ruled out.
func TestNothingIsLockedIn(t *testing.T) {
	q := diagnose.Question{Outcomes: 2, Predict: []int8{0, 0}}
	p := []float64{.5, .5}
	if q.Update(p, 1) || p[0] != .5 {
		t.Errorf("an impossible outcome was accepted: %v", p)
	}
	logs := []float64{-5000, -5001, math.Inf(-1)}
	if p := diagnose.FromLog(logs); math.Abs(p[0]-1/(1+math.Exp(-1))) > 1e-12 || p[2] != 0 {
		t.Errorf("from logarithms %v: %v", logs, p)
	}
}

// Asking goes by effort: half the bits for a quarter of the effort is better.
func TestBestCountsEffort(t *testing.T) {
	qs := diagnose.Questions{
		{Outcomes: 2, Predict: []int8{0, 0, 1, 1}, Effort: 4},
		{Outcomes: 2, Predict: []int8{0, 1, 1, 1}, Effort: 1},
	}
	if i, gain := qs.Best(equal(4), 0); i != 1 || math.Abs(gain-0.811278) > 1e-6 {
		t.Errorf("best question %d with %.6f bits, want 1 with 0.811278", i, gain)
	}
	if i, _ := qs.Best([]float64{0, 1, 0, 0}, 0); i != -1 {
		t.Errorf("question %d is asked though the answer is known", i)
	}
}
