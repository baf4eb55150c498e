package change

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/sat"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// Options say how far a search goes.
type Options struct {
	Most     int              // ways to look for; 0: only the best
	Named    string           // go on until the way of this name is found; "": until Most are
	Weights  *Weights         // nil: the usual ones
	Stop     func() bool      // asked now and then; true ends the search with what it has
	Progress func(p Progress) // told of every better way and every better bound
}

// Progress is how far a search has come.
type Progress struct {
	Found int     // ways found and proved so far
	Best  float64 // minutes of the best in hand for the next way; 0 if there is none yet
	Bound float64 // minutes that the next way takes at the least
}

// A Way is one way of getting the control asked for.
type Way struct {
	Name      string // stable, for choosing it: made of arrangement, order and new cables
	Title     []string
	Left      *wiring.Installation
	Graph     *wiring.Graph
	Wants     []switching.Want
	Proof     *switching.Proof
	Findings  []finding.Finding
	Moves     []wiring.BoxMoves
	Effort    Effort
	Exchanges []Exchange
	Contacts  int // of the switches, as far as they are used
}

// Answer is what a search found.
type Answer struct {
	Ways       []Way // in rising order of effort
	Smallest   bool  // the first is proved to take the least effort
	All        bool  // there are no others, but for ones that only add to these
	Bound      float64
	Impossible *Impossible // why there is no way; nil if there is one or the search was stopped
	Findings   []finding.Finding
}

// Search finds ways from the wiring as found to the control asked for.
//
// What is wrong with the ask or the wiring as found, so that no search is
// possible, is in Findings. An error means that the work could not be done.
func Search(found *wiring.Graph, ask Ask, cat *kit.Catalogue, o Options) (*Answer, error) {
	w := Usual()
	if o.Weights != nil {
		w = *o.Weights
	}
	g := survey(found, &ask, cat, w)
	a := &Answer{Findings: g.findings}
	if g.refused() {
		return a, nil
	}
	m := encode(g)
	m.s.Stop = o.Stop
	for !enough(a, &o) {
		more, err := m.next(a, &o)
		if err != nil {
			return nil, err
		}
		if !more {
			break
		}
	}
	if len(a.Ways) == 0 && a.All {
		var err error
		if a.Impossible, err = m.why(&o); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// mostNamed is how many ways are looked through for one that is named.
const mostNamed = 200

func enough(a *Answer, o *Options) bool {
	if o.Named != "" && len(a.Ways) < mostNamed {
		return a.Way(o.Named) != nil && len(a.Ways) >= o.Most
	}
	return len(a.Ways) >= max(1, o.Most)
}

// Way finds a way by its name; nil if there is none.
func (a *Answer) Way(name string) *Way {
	for i := range a.Ways {
		if a.Ways[i].Name == name {
			return &a.Ways[i]
		}
	}
	return nil
}

func (m *model) assumed() []sat.Lit {
	var list []sat.Lit
	for _, l := range m.limits {
		list = append(list, l.on)
	}
	return list
}

// refine adds what the last model breaks; it reports whether it broke anything.
func (m *model) refine(*sat.Solver) bool {
	connected, earthed := m.connect(), m.earthed()
	return m.stocked() || connected || earthed
}

// next looks for the next way and adds it; false if there is none, or the
// search was stopped.
func (m *model) next(a *Answer, o *Options) (bool, error) {
	for {
		q := sat.Search{Soft: m.soft, Refine: m.refine, Assume: m.assumed()}
		if o.Progress != nil {
			q.Better = func(cost, bound int64) {
				o.Progress(Progress{Found: len(a.Ways), Best: m.minutes(cost), Bound: m.minutes(bound)})
			}
		}
		out := m.s.Minimise(q)
		if len(a.Ways) == 0 && out.Bound < math.MaxInt64 {
			a.Bound = m.minutes(out.Bound)
		}
		if !out.Found {
			a.All = out.Status == sat.Unsat
			return false, nil
		}
		p := m.read()
		way, good, err := m.prove(p)
		if err != nil {
			return false, err
		}
		if !good {
			m.forbidPlan(p)
			if !out.Optimal {
				return false, nil
			}
			continue
		}
		if len(a.Ways) == 0 {
			a.Smallest = out.Optimal
		}
		m.name(&way, p, a)
		a.Ways = append(a.Ways, way)
		m.s.Add(m.signature(p)...)
		return out.Optimal, nil
	}
}

// minutes turns what is minimised into minutes, with what every way costs.
func (m *model) minutes(cost int64) float64 { return float64(cost/m.grain+m.fixedC) / 10 }

// prove makes a way of a plan and proves it; false if the proof forbids it.
func (m *model) prove(p *plan) (Way, bool, error) {
	way := Way{Left: m.left(p), Wants: m.wants()}
	g, problems := wiring.Build(way.Left)
	if g == nil {
		return way, false, fmt.Errorf("change: the wiring found contradicts itself: %s", problems[0].Text)
	}
	way.Graph, way.Proof = g, switching.Prove(g, way.Wants)
	way.Findings = slices.Concat(problems, way.Proof.Findings)
	for _, f := range way.Findings {
		if f.Severity == finding.Forbids && !m.asFound(f) {
			return way, false, nil
		}
	}
	way.Moves = wiring.Moves(m.g, g, way.Proof.Sleeve)
	way.Effort = m.effort(p, &way)
	way.Contacts = m.contacts(p)
	way.Exchanges = m.exchanges(p, &way)
	return way, true, nil
}

// asFound reports whether what forbids was wrong before and has nothing to do
// with the change.
func (m *ground) asFound(f finding.Finding) bool {
	return slices.ContainsFunc(m.proof.Findings, func(was finding.Finding) bool {
		return was.Code == f.Code && was.Subject == f.Subject && was.Text == f.Text
	}) || m.plainBox(f)
}

// plainBox reports whether a protective conductor is missing in a box where one
// was missing at something metal that is gone.
func (m *ground) plainBox(f finding.Finding) bool {
	box, inBox := strings.CutPrefix(string(f.Subject), "boxes.")
	return f.Code == "missing-cpc" && inBox && !strings.Contains(box, ".") && m.lacked(box)
}

func (m *ground) wants() []switching.Want {
	var list []switching.Want
	for _, g := range m.groups {
		w := switching.Want{Lamps: g.Lamps, Rule: g.rule(), Subject: g.Subject}
		for _, i := range g.slots {
			w.From = append(w.From, m.slotID(i))
		}
		for _, i := range g.masters {
			w.Off = append(w.Off, m.slotID(i))
		}
		list = append(list, w)
	}
	return list
}

// signature is a clause that bars a plan's arrangement with its cables and the
// boxes opened, and everything that only adds cables or boxes to them.
func (m *model) signature(p *plan) []sat.Lit {
	var clause []sat.Lit
	for g := range m.groups {
		if p.tap[g] >= 0 {
			clause = append(clause, m.tap[g][p.tap[g]].Not())
		}
		for k, q := range p.order[g] {
			clause = append(clause, m.place[g][q][k].Not())
		}
	}
	for _, i := range p.taken {
		clause = append(clause, m.taken[i].Not())
	}
	for b := range m.boxes {
		if p.open[b] && !m.boxes[b].fresh {
			clause = append(clause, m.open[b].Not())
		}
	}
	return clause
}

// forbidPlan bars one plan that the proof refuses, as narrowly as can be.
func (m *model) forbidPlan(p *plan) {
	clause := m.signature(p)
	for w, n := range p.label {
		if n >= 0 {
			clause = append(clause, m.carry[w][n].Not())
		}
	}
	for i, o := range p.option {
		if o >= 0 {
			clause = append(clause, m.pick[i][o].Not())
		}
	}
	m.s.Add(clause...)
}

// contacts counts the contacts that the arrangement uses: one of a make, two
// of a changeover, four of a crossover.
func (m *ground) contacts(p *plan) (n int) {
	for i, o := range p.option {
		if o >= 0 {
			n += [...]int{partMake: 1, partChange: 2, partCross: 4}[m.slots[i].options[o].part]
		}
	}
	return n
}

// effort counts what a way disturbs, from its moves.
func (m *ground) effort(p *plan, way *Way) Effort {
	e := Effort{}
	walls := map[string]bool{}
	for _, i := range p.taken {
		c := &m.cables[i]
		for _, name := range c.run.Walls {
			walls[name] = true
		}
		e.Cable += c.run.Length
		e.RunMinutes += float64(m.runTenths(c)) / 10
		for k := range c.kind.Cores {
			if !c.kind.Cores[k].Earth {
				e.EndsNew += 2
			}
		}
	}
	e.Walls = len(walls)
	m.countMoves(&e, way)
	m.countCores(&e, p)
	for i, sl := range m.slots {
		if sl.place == nil || sl.found == nil || !sl.options[p.option[i]].same {
			e.Fittings++
		}
	}
	e.Minutes = float64(e.sum(&m.w)) / 10
	return e
}

// countMoves counts boxes, ends and joints from the moves themselves.
func (m *ground) countMoves(e *Effort, way *Way) {
	for _, b := range way.Moves {
		if !b.New {
			e.Boxes++
		}
		touched := map[wiring.End]bool{}
		for _, mv := range b.Moves {
			switch mv.Kind {
			case wiring.TakeOff, wiring.Land, wiring.Join, wiring.Park:
				for _, end := range mv.Ends {
					if m.live(end) {
						touched[end] = true
					}
				}
			}
			if mv.Kind == wiring.Join && !m.wasJoint(mv.With) && m.lives(mv.Ends) {
				e.Joints++
				if hidden(b.Box.Kind) {
					e.HiddenJoints++
				}
			}
		}
		e.EndsMoved += len(touched)
	}
}

// wasJoint reports whether core ends that stay in a connector were joined there
// to others as found, staying or not.
func (m *ground) wasJoint(ends []wiring.End) bool {
	if len(ends) == 0 {
		return false
	}
	n, ok := m.g.Node(ends[0])
	return ok && len(m.g.Members(n)) > 1
}

func (m *ground) lives(ends []wiring.End) bool {
	return slices.ContainsFunc(ends, func(e wiring.End) bool {
		if m.live(e) {
			return true
		}
		for i := range m.cables {
			c := &m.cables[i]
			if core := c.kind.Core(e.Name); c.found == nil && c.id == e.Item && core != nil && !core.Earth {
				return true
			}
		}
		return false
	})
}

// live reports whether an end is of a core found that is not protective.
func (m *ground) live(e wiring.End) bool {
	_, core := m.g.IsCore(e)
	return core != nil && !m.earthen(e)
}

// countCores counts the cores that come into use, and those to be identified.
func (m *ground) countCores(e *Effort, p *plan) {
	for w, n := range p.label {
		x := &m.wires[w]
		if n < 0 || n == x.was {
			continue
		}
		if !m.says(w, n) {
			e.Sleeves++
		}
		c := &m.cables[x.cable]
		if c.found == nil {
			continue
		}
		if x.spare {
			e.SparesUsed++
			if old(c.kind) {
				e.OldUsed++
			}
		}
		if slices.Contains(m.ask.Limits.Doubtful, c.id) {
			e.DoubtfulCores++
		}
	}
}
