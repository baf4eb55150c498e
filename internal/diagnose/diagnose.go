// Package diagnose answers: which of many explanations is the case, given what
// was seen, and what should be asked next? It knows hypotheses by their number
// only and nothing of what they are about.
//
// Method. A [Question] has a few outcomes, and every hypothesis predicts one of
// them, or commits itself to none. What is noted may be wrong with a known rate.
// The posterior is Bayes' rule; the next question is the one whose answer is
// expected to take away most entropy for its effort, one step ahead (J. de Kleer
// and B. C. Williams, Diagnosing Multiple Faults, Artificial Intelligence 32
// (1987) 97). One step ahead is not always best: [Questions.Expected] tells what
// it costs. Where only the structure of a device is known, [Minimal] and
// [HittingSets] give the minimal diagnoses (R. Reiter, A Theory of Diagnosis
// from First Principles, Artificial Intelligence 32 (1987) 57).
//
// It does not learn priors and does not judge whether a question may be asked.
package diagnose

import "math"

// Unsaid is the prediction of a hypothesis that commits itself to no outcome:
// all are equally likely under it.
const Unsaid int8 = -1

// MostOutcomes is the greatest number of outcomes of a question.
const MostOutcomes = 64

// Question is something that can be asked.
type Question struct {
	Outcomes int     // 2 to MostOutcomes
	Wrong    float64 // chance that another outcome is noted than the true one, 0 to below 1
	Effort   float64 // of asking, above 0; 0 counts as 1
	Predict  []int8  // by hypothesis: an outcome, or Unsaid
}

// Likelihood is the chance of noting an outcome under a prediction.
func (q *Question) Likelihood(predicted int8, seen int) float64 {
	switch {
	case predicted == Unsaid:
		return 1 / float64(q.Outcomes)
	case int(predicted) == seen:
		return 1 - q.Wrong
	}
	return q.Wrong / float64(q.Outcomes-1)
}

// Update weighs every hypothesis by the likelihood of an outcome and makes the
// weights sum to one. It reports false, and leaves the weights, if nothing
// could have given that outcome.
func (q *Question) Update(p []float64, seen int) bool {
	next := make([]float64, len(p))
	for h := range p {
		next[h] = p[h] * q.Likelihood(q.Predict[h], seen)
	}
	ok := Normalise(next)
	if ok {
		copy(p, next)
	}
	return ok
}

// Normalise makes weights sum to one; false if they sum to nothing.
func Normalise(p []float64) bool {
	sum := 0.0
	for _, x := range p {
		sum += x
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return false
	}
	for i := range p {
		p[i] /= sum
	}
	return true
}

// FromLog turns logarithms of weights into probabilities. It does not
// underflow, however many things were seen.
func FromLog(logs []float64) []float64 {
	top := math.Inf(-1)
	for _, l := range logs {
		top = max(top, l)
	}
	p := make([]float64, len(logs))
	if math.IsInf(top, -1) {
		return p
	}
	for i, l := range logs {
		p[i] = math.Exp(l - top)
	}
	Normalise(p)
	return p
}

// Entropy is that of a distribution, in bits.
func Entropy(p []float64) float64 {
	sum := 0.0
	for _, x := range p {
		sum -= plog(x)
	}
	return sum
}

func plog(x float64) float64 {
	if x <= 0 {
		return 0
	}
	return x * math.Log2(x)
}

// Outlook is the chance of noting each outcome.
func (q *Question) Outlook(p []float64) []float64 {
	chance, _ := q.outlook(p)
	return chance
}

// outlook is the same with the entropy that noting leaves when the hypothesis
// is known: wrong notes, and what no prediction tells.
func (q *Question) outlook(p []float64) (chance []float64, noise float64) {
	mass := make([]float64, q.Outcomes)
	unsaid, said := 0.0, 0.0
	for h, k := range q.Predict {
		if k == Unsaid {
			unsaid += p[h]
			continue
		}
		mass[k] += p[h]
		said += p[h]
	}
	chance = make([]float64, q.Outcomes)
	other := q.Wrong / float64(q.Outcomes-1)
	for o := range chance {
		chance[o] = mass[o]*(1-q.Wrong) + (said-mass[o])*other + unsaid/float64(q.Outcomes)
	}
	noise = said*(-plog(1-q.Wrong)-float64(q.Outcomes-1)*plog(other)) + unsaid*math.Log2(float64(q.Outcomes))
	return chance, noise
}

// Gain is the entropy that the answer is expected to take away, in bits: the
// mutual information of hypothesis and answer. It is never below zero. The
// weights must sum to one.
func (q *Question) Gain(p []float64) float64 {
	chance, noise := q.outlook(p)
	return max(Entropy(chance)-noise, 0)
}

// Questions are those that may be asked of the same hypotheses.
type Questions []Question

// Best is the question with most gain for its effort, and that gain in bits; -1
// if none gains more than least. Of equals the first is taken.
func (qs Questions) Best(p []float64, least float64) (best int, gain float64) {
	best = -1
	worth := 0.0
	for i := range qs {
		g := qs[i].Gain(p)
		effort := qs[i].Effort
		if effort <= 0 {
			effort = 1
		}
		if g > least && g/effort > worth*(1+1e-9) {
			best, gain, worth = i, g, g/effort
		}
	}
	return best, gain
}

// Classes numbers the hypotheses so that two have the same number if every
// question has the same prediction for both: nothing that can be asked tells
// them apart. The numbers start at zero, in the order of the hypotheses.
func (qs Questions) Classes(hypotheses int) []int {
	class := make([]int, hypotheses)
	at := map[string]int{}
	row := make([]byte, len(qs))
	for h := range class {
		for i := range qs {
			row[i] = byte(qs[i].Predict[h])
		}
		id, known := at[string(row)]
		if !known {
			id = len(at)
			at[string(row)] = id
		}
		class[h] = id
	}
	return class
}

// Expected is the expected number of questions that asking the best one each
// time takes until one class of indistinguishable hypotheses is left, if no
// answer is ever wrong. The weights must sum to one.
func (qs Questions) Expected(p []float64) float64 {
	i, _ := qs.Best(p, 1e-12)
	if i < 0 {
		return 0
	}
	total := 1.0
	for o, chance := range qs[i].Outlook(p) {
		if chance <= 0 {
			continue
		}
		next := append([]float64(nil), p...)
		if qs[i].Update(next, o) {
			total += chance * qs.Expected(next)
		}
	}
	return total
}
