package change

import (
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/sat"
	"strapper/kit"
)

// Impossible says why there is no way.
type Impossible struct {
	// Limits are limits that clash: leaving out any one of them would not be
	// a contradiction any more. In words.
	Limits []string `json:"limits"`
	// Cut counts the cores that are too few, where counting shows it.
	Cut      *Cut     `json:"cut,omitempty"`
	Remedies []Remedy `json:"remedies"` // the cheapest things that would make it possible
	// Never tells that it is no limit that stands in the way, and that no cable
	// would help: the switches asked for cannot do it.
	Never bool `json:"never,omitempty"`
	// Stopped tells that the search for reasons was stopped: Limits may be too
	// many, and Remedies too few.
	Stopped bool `json:"stopped,omitempty"`
}

// A Remedy is a set of limits that, given up together, make a way possible.
type Remedy struct {
	Text    []string `json:"give_up"`
	Minutes float64  `json:"minutes"` // what the way then takes, a new cable being reckoned at ExtraLength and ExtraMinutes

	given []sat.Lit // the limits
}

// includes reports whether a remedy gives up all that another does.
func (r *Remedy) includes(other *Remedy) bool {
	return !slices.ContainsFunc(other.given, func(l sat.Lit) bool { return !slices.Contains(r.given, l) })
}

// What a new cable that nobody has offered is reckoned at.
const (
	ExtraLength  = 8000 // mm
	ExtraMinutes = 90
)

// mostRemedies is how many things that would help are looked for.
const mostRemedies = 3

// why looks for the limits that clash, and for what would help.
func (m *model) why(o *Options) (*Impossible, error) {
	im := &Impossible{Limits: []string{}, Cut: m.shortOfCores(), Remedies: []Remedy{}}
	g := survey(m.g, m.ask, m.cat, m.w)
	if r := g.offerMore(); len(r) == 0 && len(m.limits) == 0 {
		return im, nil
	}
	w := encode(g)
	w.s.Stop = o.Stop
	w.clash(im)
	for range mostRemedies {
		if more, err := w.remedy(im); err != nil || !more {
			im.Stopped = w.stopped()
			return im, err
		}
	}
	im.Stopped = w.stopped()
	return im, nil
}

func (m *model) stopped() bool { return m.s.Stop != nil && m.s.Stop() }

// offerMore adds cables that nobody offered, between any two boxes that the
// change is about.
func (s *ground) offerMore() []Cable {
	about := map[int]bool{}
	for _, sl := range s.slots {
		about[sl.box] = true
	}
	for _, f := range s.fixed {
		for _, g := range s.groups {
			if f.net == g.switched {
				about[f.box] = true
			}
		}
	}
	if s.bare(about) {
		for _, g := range s.groups {
			about[s.boxOf[s.g.Origins[g.circuit].Circuit.Board]] = true
		}
	}
	kinds := s.extraKinds()
	s.extra = nil
	list := sorted(about)
	for i, a := range list {
		for _, b := range list[:i] {
			s.extra = append(s.extra, Cable{
				ID: "extra-" + s.boxes[b].ID + "-" + s.boxes[a].ID, From: s.boxes[b].ID, To: s.boxes[a].ID,
				Kinds: kinds, Length: ExtraLength, Minutes: ExtraMinutes,
			})
		}
	}
	for i := range s.extra {
		s.addRun(&s.extra[i], true)
	}
	return s.extra
}

// bare reports whether some of the boxes lack a protective conductor as found.
func (s *ground) bare(boxes map[int]bool) bool {
	for b := range boxes {
		if s.lacked(s.boxes[b].ID) {
			return true
		}
	}
	return false
}

// extraKinds are a two-core and a three-core cable of the size in the house.
func (s *ground) extraKinds() []*kit.Cable {
	size := "1.0"
	for _, c := range s.g.Inst.Cables {
		if strings.Contains(c.Kind.ID, "1.5") {
			size = "1.5"
		}
	}
	var list []*kit.Cable
	for _, id := range []string{"te-" + size, "3ce-" + size} {
		if k := s.cat.Cables[id]; k != nil {
			list = append(list, k)
		}
	}
	return list
}

// solve is the solver's answer with every net in one piece.
func (m *model) solve(assume []sat.Lit) sat.Status {
	for {
		status := m.s.Solve(assume...)
		if status != sat.Sat || !m.refine(m.s) {
			return status
		}
	}
}

// clash finds a smallest set of limits that clash, by leaving out one after
// the other. That nothing more can be run is one limit.
func (m *model) clash(im *Impossible) {
	if m.solve(m.assumed()) != sat.Unsat {
		return
	}
	core := m.s.Core()
	im.Never = len(core) == 0
	for i := 0; i < len(core); {
		fewer := slices.Delete(slices.Clone(core), i, i+1)
		if m.solve(fewer) == sat.Unsat {
			core = fewer
		} else {
			i++
		}
	}
	im.Limits = append(im.Limits, m.inWords(core)...)
}

func (m *model) inWords(core []sat.Lit) []string {
	var list, pairs []string
	for _, l := range m.limits {
		switch {
		case !slices.Contains(core, l.on):
		case l.extra == nil:
			list = append(list, l.text)
		default:
			pairs = append(pairs, strings.TrimPrefix(l.text, nothingNew))
		}
	}
	if len(pairs) > 0 {
		list = append(list, nothingNew+finding.List(pairs, ", nor between "))
	}
	return list
}

const nothingNew = "nothing new is offered between "

// givenUp says what giving up a limit means in the last model.
func (m *model) givenUp(l *limit) string {
	if l.extra == nil {
		return l.relaxed
	}
	for i := range m.cables {
		if m.cables[i].run == l.extra && m.s.Value(m.taken[i]) {
			return "with a new cable (" + m.cables[i].kind.Title + ") " + l.relaxed
		}
	}
	return l.relaxed
}

// price is what giving up a limit weighs, in tenths of a minute.
func (l *limit) price() int64 { return max(1, l.weight) }

// mostRefused is how many plans the proof may refuse before no more is looked
// for that would help.
const mostRefused = 50

// remedy finds the cheapest set of limits to give up that has not been found
// yet and leads to a way that is proved; false if there is none.
func (m *model) remedy(im *Impossible) (bool, error) {
	soft := slices.Clone(m.soft)
	var held []sat.Lit
	for _, l := range m.limits {
		if l.fixed {
			held = append(held, l.on)
			continue
		}
		soft = append(soft, sat.Soft{Lit: l.on.Not(), Weight: l.price() * m.grain})
	}
	for range mostRefused {
		out := m.s.Minimise(sat.Search{Soft: soft, Refine: m.refine, Assume: held})
		if !out.Found {
			return false, nil
		}
		r := m.given(out.Cost)
		p := m.read()
		_, good, err := m.prove(p)
		switch {
		case err != nil:
			return false, err
		case !good:
			m.forbidPlan(p)
			continue
		case len(r.given) == 0:
			return false, nil
		}
		im.Remedies = slices.DeleteFunc(im.Remedies, func(more Remedy) bool { return more.includes(&r) })
		im.Remedies = append(im.Remedies, r)
		m.s.Add(r.given...)
		return true, nil
	}
	return false, nil
}

// given is what the last model gives up.
func (m *model) given(cost int64) Remedy {
	r := Remedy{}
	for i := range m.limits {
		if l := &m.limits[i]; !l.fixed && !m.s.Value(l.on) {
			r.Text, r.given = append(r.Text, m.givenUp(l)), append(r.given, l.on)
			cost -= l.price() * m.grain
		}
	}
	r.Minutes = m.minutes(cost)
	return r
}
