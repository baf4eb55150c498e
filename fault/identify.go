package fault

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/diagnose"
	"strapper/kit"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// LooseEnd is the end of a cable in a box whose other end is not known.
type LooseEnd struct {
	Box, Label string
	Kind       *kit.Cable
}

// Unknown is what is seen of wiring whose runs are not known: cable ends by
// labels put on them, and what is joined in their boxes, in which a label
// stands for its cable. Cores of one colour in a cable are named by each end
// for itself: red1 here may be red2 there.
type Unknown struct {
	Known  *wiring.Installation // what is known; boxes of loose ends have no joints in it
	Ends   []LooseEnd
	Joints []wiring.Joint
	Tests  []LinkTest // made so far
}

// LinkTest is one dead test with every loose end disconnected from its
// terminals: some cores of one box joined together and to a long lead, and a
// core in another box read against that lead.
type LinkTest struct {
	Linked  []wiring.End // all in one box; Item is a label
	Read    wiring.End
	Joined  bool            // what was read
	Subject finding.Subject // where the job tells it
}

// Puzzle works out unknown runs. It is not for several goroutines at a time.
type Puzzle struct {
	u      *Unknown
	j      *judgement
	cores  []wiring.End         // every core of every loose end
	at     map[wiring.End]int16 // its index
	ways   [][]int16            // by hypothesis and core: the core it is the other end of
	prior  []float64
	belief []float64
	tests  []LinkTest
}

// mostWays is the greatest number of ways in which the ends may belong
// together.
const mostWays = 20_000

// NewPuzzle lists every way in which the loose ends can belong together: each
// with one of the same kind in another box, cores of a colour in any order. Ways
// that give wiring which nothing forbids are held likelier, since the house has
// been in use. The error says what cannot be used, or that there are too many
// ways, and what to do.
func NewPuzzle(u *Unknown) (*Puzzle, error) {
	j, err := loadJudgement()
	if err != nil {
		return nil, err
	}
	p := &Puzzle{u: u, j: j, at: map[wiring.End]int16{}}
	for _, e := range u.Ends {
		for _, c := range e.Kind.Cores {
			end := wiring.End{Box: e.Box, Item: e.Label, Name: c.Name}
			p.at[end] = int16(len(p.cores))
			p.cores = append(p.cores, end)
		}
	}
	if err := p.enumerate(); err != nil {
		return nil, err
	}
	p.weighPrior()
	for _, t := range u.Tests {
		if err := p.See(t); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// enumerate pairs the first end that is free with each that fits, and goes on.
func (p *Puzzle) enumerate() error {
	partner := make([]int16, len(p.cores))
	used := make([]bool, len(p.u.Ends))
	var pair func() error
	pair = func() error {
		i := slices.Index(used, false)
		if i < 0 {
			if len(p.ways) >= mostWays {
				return fmt.Errorf("the ends can belong together in more than %d ways: find the other end of one or two cables first, and enter them as known", mostWays)
			}
			p.ways = append(p.ways, slices.Clone(partner))
			return nil
		}
		used[i] = true
		defer func() { used[i] = false }()
		a := &p.u.Ends[i]
		for k := i + 1; k < len(used); k++ {
			b := &p.u.Ends[k]
			if used[k] || a.Kind != b.Kind || a.Box == b.Box {
				continue
			}
			used[k] = true
			if err := p.permute(a, b, 0, partner, pair); err != nil {
				return err
			}
			used[k] = false
		}
		return nil
	}
	if err := pair(); err != nil {
		return err
	}
	if len(p.ways) == 0 {
		return errors.New("the ends do not go together: every cable needs its other end, of the same kind, in another box of the list")
	}
	return nil
}

// permute joins core n of a with each core of its colour of b that is free.
func (p *Puzzle) permute(a, b *LooseEnd, n int, partner []int16, then func() error) error {
	if n == len(a.Kind.Cores) {
		return then()
	}
	x := &a.Kind.Cores[n]
	from := p.at[wiring.End{Box: a.Box, Item: a.Label, Name: x.Name}]
	for i := range b.Kind.Cores {
		y := &b.Kind.Cores[i]
		to := p.at[wiring.End{Box: b.Box, Item: b.Label, Name: y.Name}]
		if y.Colour != x.Colour || y.Earth != x.Earth || p.taken(a, n, to, partner) {
			continue
		}
		partner[from], partner[to] = to, from
		if err := p.permute(a, b, n+1, partner, then); err != nil {
			return err
		}
	}
	return nil
}

// taken reports whether a core is the other end of an earlier core of a.
func (p *Puzzle) taken(a *LooseEnd, n int, to int16, partner []int16) bool {
	for _, c := range a.Kind.Cores[:n] {
		if partner[p.at[wiring.End{Box: a.Box, Item: a.Label, Name: c.Name}]] == to {
			return true
		}
	}
	return false
}

// mostProved is the greatest number of ways that are proved for their prior.
const mostProved = 2000

func (p *Puzzle) weighPrior() {
	p.prior = slices.Repeat([]float64{1}, len(p.ways))
	for w := range p.ways {
		if len(p.ways) <= mostProved && p.sound(w) {
			p.prior[w] = p.j.SoundRuns
		}
	}
	diagnose.Normalise(p.prior)
	p.belief = slices.Clone(p.prior)
}

// sound reports whether nothing forbids the wiring that a way gives.
func (p *Puzzle) sound(way int) bool {
	g, _ := wiring.Build(p.wiring(way))
	if g == nil || len(g.Origins) == 0 {
		return false
	}
	return !finding.Forbidden(switching.Prove(g, nil).Findings)
}

// See takes in a test.
func (p *Puzzle) See(t LinkTest) error {
	q, err := p.question(&t)
	if err != nil {
		return err
	}
	p.tests = append(p.tests, t)
	q.Update(p.belief, b2i(t.Joined))
	return nil
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Undo forgets the last test; false if there is none.
func (p *Puzzle) Undo() bool {
	n := len(p.tests)
	if n == 0 {
		return false
	}
	tests := p.tests[:n-1]
	p.tests, p.belief = nil, slices.Clone(p.prior)
	return !slices.ContainsFunc(tests, func(t LinkTest) bool { return p.See(t) != nil })
}

// Tests lists the tests taken in.
func (p *Puzzle) Tests() []LinkTest { return slices.Clone(p.tests) }

// Ways is the number of ways in which the ends can belong together.
func (p *Puzzle) Ways() int { return len(p.ways) }

// question predicts a test: joined if the core that is read is the other end of
// one that is linked.
func (p *Puzzle) question(t *LinkTest) (*diagnose.Question, error) {
	read, ok := p.at[t.Read]
	if !ok {
		return nil, fmt.Errorf("%s in box %q is not a core of a loose end", t.Read, t.Read.Box)
	}
	linked := make([]bool, len(p.cores))
	for _, e := range t.Linked {
		i, ok := p.at[e]
		if !ok || e.Box == t.Read.Box {
			return nil, fmt.Errorf("%s in box %q is not a core of a loose end in another box than the core that is read", e, e.Box)
		}
		linked[i] = true
	}
	q := &diagnose.Question{Outcomes: 2, Wrong: p.j.Wrong[SeenReading], Predict: make([]int8, len(p.ways))}
	for w, partner := range p.ways {
		q.Predict[w] = int8(b2i(linked[partner[read]]))
	}
	return q, nil
}

// Next is the test that tells most, and the bits it is expected to tell; nil
// when the likeliest way is certain enough. For each core that may be read and
// each other box, those cores are linked that come nearest to half of the
// belief.
func (p *Puzzle) Next() (*LinkTest, float64) {
	if p.belief[p.Best()] >= p.j.Certain {
		return nil, 0
	}
	var best *LinkTest
	gain := leastGain
	for read := range p.cores {
		for _, linked := range p.halves(int16(read)) {
			t := &LinkTest{Linked: linked, Read: p.cores[read]}
			if q, err := p.question(t); err == nil {
				if g := q.Gain(p.belief); g > gain+1e-9 && !p.made(t) {
					best, gain = t, g
				}
			}
		}
	}
	return best, gain
}

func (p *Puzzle) made(t *LinkTest) bool {
	return slices.ContainsFunc(p.tests, func(x LinkTest) bool { return x.Read == t.Read && slices.Equal(x.Linked, t.Linked) })
}

// halves lists, by box, the cores that are the other end of a core in half of
// the belief, as nearly as adding the likeliest that still fit comes to it.
func (p *Puzzle) halves(read int16) [][]wiring.End {
	mass := map[int16]float64{}
	for w, partner := range p.ways {
		mass[partner[read]] += p.belief[w]
	}
	boxes := map[string][]int16{}
	for i := range mass {
		boxes[p.cores[i].Box] = append(boxes[p.cores[i].Box], i)
	}
	var list [][]wiring.End
	for _, box := range slices.Sorted(maps.Keys(boxes)) {
		cores := boxes[box]
		slices.SortFunc(cores, func(a, b int16) int { return cmp.Or(cmp.Compare(mass[b], mass[a]), cmp.Compare(a, b)) })
		var linked []wiring.End
		sum := 0.0
		for _, i := range cores {
			if x := sum + mass[i]; len(linked) == 0 || math.Abs(x-0.5) < math.Abs(sum-0.5)-1e-9 {
				sum = x
				linked = append(linked, p.cores[i])
			}
		}
		slices.SortFunc(linked, func(a, b wiring.End) int { return strings.Compare(a.String(), b.String()) })
		list = append(list, linked)
	}
	return list
}

// Best is the likeliest way, and how likely it is.
func (p *Puzzle) Best() (way int) { return mostBelieved(p.belief) }

// Chance is how likely a way is.
func (p *Puzzle) Chance(way int) float64 { return p.belief[way] }

// The length of a run that nobody has measured.
const (
	assumedLength    = 8 * unit.Metre
	assumedTolerance = 7 * unit.Metre
)

// Wiring is the installation that the likeliest way gives. A cable is named
// after its two ends, its cores after the first of them; its length is assumed.
func (p *Puzzle) Wiring() *wiring.Installation { return p.wiring(p.Best()) }

func (p *Puzzle) wiring(way int) *wiring.Installation {
	in := copyOf(p.u.Known)
	partner := p.ways[way]
	name := map[wiring.End]wiring.End{}
	done := map[string]bool{}
	for i := range p.u.Ends {
		a := &p.u.Ends[i]
		if done[a.Box+"."+a.Label] {
			continue
		}
		first := p.cores[partner[p.at[wiring.End{Box: a.Box, Item: a.Label, Name: a.Kind.Cores[0].Name}]]]
		done[first.Box+"."+first.Item] = true
		id := a.Label + "-" + first.Item
		in.Cables = append(in.Cables, &wiring.Cable{
			ID: id, Kind: a.Kind, From: a.Box, To: first.Box, Length: assumedLength, Tolerance: assumedTolerance, Via: "run found by test, length assumed",
		})
		for _, c := range a.Kind.Cores {
			end := wiring.End{Box: a.Box, Item: a.Label, Name: c.Name}
			name[end] = wiring.End{Box: a.Box, Item: id, Name: c.Name}
			name[p.cores[partner[p.at[end]]]] = wiring.End{Box: first.Box, Item: id, Name: c.Name}
		}
	}
	for _, j := range p.u.Joints {
		joint := wiring.Joint{Box: j.Box}
		for _, e := range j.Ends {
			if to, ok := name[e]; ok {
				e = to
			}
			joint.Ends = append(joint.Ends, e)
		}
		in.Joints = append(in.Joints, joint)
	}
	return in
}

// Instruction says in words how a test is made.
func (t *LinkTest) Instruction() string {
	to := "to a long lead"
	if len(t.Linked) > 1 {
		to = "to one another and to a long lead"
	}
	return fmt.Sprintf("In %s join %s %s; in %s read between %s and the lead.", t.Linked[0].Box, named(t.Linked), to, t.Read.Box, t.Read)
}

func named(ends []wiring.End) string {
	names := make([]string, len(ends))
	for i, e := range ends {
		names[i] = e.String()
	}
	return strings.Join(names, ", ")
}
