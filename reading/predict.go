package reading

import (
	"errors"
	"fmt"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/rules"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// Predict says what every test of the wiring should read. It needs the proof
// of the same graph. It fails if the network cannot be built; a supply whose Ze
// or voltage is not usable only costs the live tests, with a finding.
func Predict(g *wiring.Graph, p *switching.Proof, cat *kit.Catalogue, o Options) (*Readings, error) {
	if g == nil || p == nil || cat == nil || len(p.Duty) != g.Nodes() {
		return nil, errors.New("reading: the graph, its own proof and the catalogue are all needed")
	}
	in, err := loadInstruments()
	if err != nil {
		return nil, err
	}
	t := newTour(g, o.States)
	f := &forecast{
		g: g, proof: p, cat: cat, in: in, t: t, book: o.Book,
		survey: newSurvey(g, p, t), out: &Readings{Every: t.every},
	}
	for _, s := range t.states {
		f.out.Positions = append(f.out.Positions, g.Describe(s))
	}
	if err := f.dead(); err != nil {
		return nil, err
	}
	if !o.DeadOnly {
		f.live()
	}
	finding.Sort(f.out.Findings)
	return f.out, nil
}

// forecast is the work on one prediction.
type forecast struct {
	g      *wiring.Graph
	proof  *switching.Proof
	cat    *kit.Catalogue
	in     *instruments
	t      *tour
	survey *survey
	points []point
	out    *Readings
	book   *rules.Book
}

// bounded is the same condition at nominal, low and high lengths.
type bounded [3]*wiring.View

func (f *forecast) views(c wiring.Condition) (b bounded, err error) {
	for i, length := range [3]wiring.Bound{wiring.Nominal, wiring.Low, wiring.High} {
		c.Length = length
		if b[i], err = f.g.View(f.cat, c); err != nil {
			return b, fmt.Errorf("reading: %w", err)
		}
	}
	return b, nil
}

// ohms is the resistance between two leads in every state examined, open
// beyond the instrument's range.
func (f *forecast) ohms(b bounded, x *instrument, setting func(state int) wiring.Setting, from, to func(state int) wiring.Node) []sample {
	samples := make([]sample, len(f.t.states))
	for i := range samples {
		s := setting(i)
		nominal, ok := b[0].Resistance(s, from(i), to(i))
		if !ok || nominal > x.Range {
			samples[i].open = true
			continue
		}
		low, _ := b[1].Resistance(s, from(i), to(i))
		high, _ := b[2].Resistance(s, from(i), to(i))
		samples[i] = sample{low: float64(low), nom: float64(nominal), high: float64(high)}
	}
	return samples
}

func always(n wiring.Node) func(int) wiring.Node { return func(int) wiring.Node { return n } }

// row fills what every reading has.
func (f *forecast) row(t Test, point string, between [2]string, g *group) Reading {
	id := fmt.Sprintf("%s %s %s-%s", t, point, between[0], between[1])
	if key := f.t.key(g); key != "" {
		id += " " + key
	}
	return Reading{
		ID: id, Test: t, Point: point, Between: between,
		Position: f.t.words(g), Switches: f.t.switches(g), State: f.t.states[g.first], Open: g.value.open,
	}
}

func (f *forecast) add(r Reading) { f.out.Rows = append(f.out.Rows, r) }

// band is a sample as an instrument may show it.
func band[T ~float64](s sample) *Band[T] {
	if s.open {
		return nil
	}
	return &Band[T]{T(s.low), T(s.nom), T(s.high)}
}

// report adds a finding about something in a box.
func (f *forecast) report(code string, severity finding.Severity, id, fix, format string, args ...any) {
	f.out.Findings = append(f.out.Findings, finding.Finding{
		Code: code, Severity: severity, Subject: finding.Subject("boxes." + id), Text: fmt.Sprintf(format, args...), Fix: fix,
	})
}

// lit reports whether the point's lamp is on in every state of a group.
func (f *forecast) lit(p *point, g *group) bool {
	for _, i := range g.members {
		if p.load < 0 || !f.proof.Lit(p.load, f.t.states[i]) {
			return false
		}
	}
	return true
}

// ambient is the temperature at which the tests are made.
func (f *forecast) ambient() unit.Celsius { return f.g.Inst.Supply.Ambient }

func notes(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, "; ")
}
