package fault

import (
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/internal/diagnose"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

// SeenKind is a kind of observation.
type SeenKind string

// The kinds of observation.
const (
	SeenLamp       SeenKind = "operate"    // what a lamp does with the supply on, nothing opened
	SeenTrip       SeenKind = "trip"       // whether a circuit's device opens
	SeenReading    SeenKind = "reading"    // an ohmmeter between two ends, dead
	SeenInsulation SeenKind = "insulation" // an insulation tester between two ends, dead, lamps out
	SeenLook       SeenKind = "look"       // an open box compared with its card, dead
	SeenAlone      SeenKind = "alone"      // a cable or lamp disconnected at every end, its insulation tested and its cores read through, dead
	SeenVolts      SeenKind = "volts"      // a two-pole tester between two ends, live
	SeenCause      SeenKind = "cause"      // a fault, by its ID, that was seen to be there, or not to be

	report SeenKind = "report" // how far a lamp or a trip is believed when the household tells of it
)

// Live reports whether the observation needs a cover off with the supply on.
func (k SeenKind) Live() bool { return k == SeenVolts }

// The words for what is seen, by kind.
var words = map[SeenKind][]string{
	SeenLamp:       {"dark", "lit", "dim", "trips", "works", "half", "glows"},
	SeenTrip:       {"holds", "trips"},
	SeenReading:    {"joined", "high", "open", "changes"},
	SeenInsulation: {"fine", "low", "short"},
	SeenLook:       {"as drawn", "different"},
	SeenAlone:      {"fine", "low", "short", "broken"},
	SeenVolts:      {"none", "mains", "ghost"},
	SeenCause:      {"not so", "so"},
}

// The outcomes by their place in words.
const (
	dark, lit, dim, tripsLamp, works, half, glows = 0, 1, 2, 3, 4, 5, 6
	holds, trips                                  = 0, 1
	joined, high, open, changes                   = 0, 1, 2, 3
	fine, low, short, broken                      = 0, 1, 2, 3
	asDrawn, different                            = 0, 1
	noVolts, mains, ghost                         = 0, 1, 2
)

// Outcomes lists the words for what may be seen.
func (k SeenKind) Outcomes() []string { return words[k] }

// Seen is one observation. With names the positions of switches by id; a
// switch that it leaves out may have stood anyhow, and what was seen holds for
// each of its positions.
type Seen struct {
	Kind     SeenKind
	Of       string            // the lamp ("stairs.lamp"), circuit, box, cable or item that it is about
	Between  [2]wiring.End     // of readings, insulation and volts
	With     map[string]string // position by switch id
	Is       string            // one of the kind's outcomes; empty where a value is given
	Ohm      *unit.Ohm         // the value read, where there is one
	Volt     *unit.Volt        // the same of volts
	HighZ    bool              // volts by a meter of 10 MΩ, which shows what couples; else by a two-pole tester
	Doubt    float64           // chance that it is wrong; 0 = as usual for its kind
	Reported bool              // told by the household, not seen by the person who tests
	Subject  finding.Subject   // where the job tells it: "seen.0"
}

// outcome is the index of what was seen.
func (x *Seen) outcome(j *judgement) (int, error) {
	if x.Is != "" {
		if i := slices.Index(words[x.Kind], x.Is); i >= 0 {
			return i, nil
		}
		return 0, fmt.Errorf("%q is not what can be seen here; it can be %s", x.Is, strings.Join(words[x.Kind], ", "))
	}
	if x.Volt != nil && x.Kind == SeenVolts {
		switch u := *x.Volt; {
		case u < j.NoVolts:
			return noVolts, nil
		case u >= j.MainsVolts:
			return mains, nil
		}
		return ghost, nil
	}
	if x.Ohm == nil {
		return 0, fmt.Errorf("nothing is said about what was seen: say %s, or give the value read", strings.Join(words[x.Kind], ", "))
	}
	switch r := *x.Ohm; x.Kind {
	case SeenReading:
		return grade(r, j.JoinedOhm, j.OpenOhm), nil
	case SeenInsulation, SeenAlone:
		return 2 - grade(r, j.ShortOhm, j.FineOhm), nil
	}
	return 0, fmt.Errorf("a resistance is not what is seen here; it can be %s", strings.Join(words[x.Kind], ", "))
}

func grade(r, first, second unit.Ohm) int {
	switch {
	case r <= first:
		return 0
	case r < second:
		return 1
	}
	return 2
}

// doubt is the chance that the observation is wrong.
func (x *Seen) doubt(j *judgement) float64 {
	if x.Doubt > 0 {
		return min(x.Doubt, 0.5)
	}
	return j.Wrong[x.sort()]
}

// sort is what the chance of a wrong note depends on.
func (x *Seen) sort() SeenKind {
	switch {
	case x.Reported:
		return report
	case x.Kind == SeenTrip:
		return SeenLamp
	}
	return x.Kind
}

// watch is an observation made ready to be predicted.
type watch struct {
	kind   SeenKind
	states uint64 // those in which it is made
	load   int
	a, b   int32
	circ   int
	box    string
	cable  string
	id     string
	free   []int // switches that With leaves out and a person sets
	highZ  bool  // a meter shows what couples
	itself bool  // something that moves by itself is left free
}

// watch checks the names in an observation.
func (k *skeleton) watch(x *Seen) (w watch, err error) {
	w = watch{kind: x.Kind, states: k.all, highZ: x.HighZ}
	if err := k.positions(x.With, &w); err != nil {
		return w, err
	}
	switch x.Kind {
	case SeenLamp:
		w.load = slices.IndexFunc(k.loads, func(l skeletonLoad) bool { return !l.always && k.g.Loads[l.index].ID() == x.Of })
		if w.load < 0 {
			return w, fmt.Errorf("there is no lamp called %q", x.Of)
		}
	case SeenTrip:
		w.circ = slices.IndexFunc(k.g.Origins, func(o wiring.Origin) bool { return o.Circuit.ID == x.Of })
		if w.circ < 0 {
			return w, fmt.Errorf("there is no circuit called %q", x.Of)
		}
	case SeenReading, SeenInsulation, SeenVolts:
		for i, to := range []*int32{&w.a, &w.b} {
			n, ok := k.node[x.Between[i]]
			if !ok {
				return w, fmt.Errorf("there is no end called %s in box %q", x.Between[i], x.Between[i].Box)
			}
			*to = n
		}
	case SeenCause:
		w.id = x.Of
	case SeenLook:
		if w.box = x.Of; k.g.Inst.Box(x.Of) == nil {
			return w, fmt.Errorf("there is no box called %q", x.Of)
		}
	case SeenAlone:
		if w.cable = x.Of; k.g.Inst.Cable(x.Of) == nil && !k.isLamp(x.Of) {
			return w, fmt.Errorf("there is no cable or lamp called %q", x.Of)
		}
	default:
		return w, fmt.Errorf("%q is no kind of observation", x.Kind)
	}
	return w, nil
}

func (k *skeleton) isLamp(id string) bool {
	return slices.ContainsFunc(k.loads, func(l skeletonLoad) bool { return !l.always && k.g.Loads[l.index].ID() == id })
}

// positions notes the states that the named positions leave.
func (k *skeleton) positions(with map[string]string, w *watch) error {
	held := map[int]bool{}
	for id, position := range with {
		sw := k.g.SwitchIndex(id)
		if sw < 0 {
			return fmt.Errorf("there is no switch called %q", id)
		}
		p := slices.Index(k.g.Switches[sw].Kind.Positions, position)
		if p < 0 {
			return fmt.Errorf("%s has no position %q; it has %s", id, position, strings.Join(k.g.Switches[sw].Kind.Positions, ", "))
		}
		held[sw] = true
		w.states &= k.mask(sw, 1<<p)
	}
	for sw := range k.g.Switches {
		switch a := k.g.Switches[sw].Kind.Actuator; {
		case held[sw]:
		case seenPosition(a):
			w.free = append(w.free, sw)
		case a == kit.BySensor || a == kit.ByTimer:
			w.itself = true
		}
	}
	if w.states == 0 {
		return fmt.Errorf("these positions are not among those that are worked out")
	}
	return nil
}

// predict is the outcome under the hypothesis that is set.
func (s *sim) predict(w *watch) int8 {
	switch w.kind {
	case SeenLamp:
		return s.lampOutcome(w)
	case SeenTrip:
		o := s.operate()
		switch {
		case o.trips[w.circ]&w.states != 0:
			return trips
		case o.may[w.circ]&w.states != 0:
			return diagnose.Unsaid
		}
		return holds
	case SeenReading:
		return s.resistance(w)
	case SeenInsulation:
		switch { // the worst of the positions counts
		case s.between(w.a, w.b, bar|poor)&w.states != 0:
			return short
		case s.between(w.a, w.b, bar|poor|damage)&w.states != 0:
			return low
		}
		return fine
	case SeenCause:
		for _, p := range s.patches {
			if p.id == w.id {
				return 1
			}
		}
		return 0
	case SeenLook:
		return s.look(w.box)
	case SeenAlone:
		return s.alone(w.cable)
	}
	return s.volts(w)
}

// lampOutcome is what the lamp does over the states of an observation.
func (s *sim) lampOutcome(w *watch) int8 {
	o := s.operate()
	on, weak := o.lit[w.load]&w.states, o.dim[w.load]&w.states
	for c := range s.lines {
		if at := o.trips[c] & w.states; at != 0 && at&s.feeds(c, w.load) != 0 {
			return tripsLamp
		}
	}
	switch {
	case weak != 0 && (on|weak == w.states || on == 0):
		return dim
	case on == w.states:
		return lit
	case on|weak == 0:
		return dark
	}
	return s.mixed(w, on)
}

// feeds is the states in which a circuit's line stands at a side of a load, by
// metal.
func (s *sim) feeds(circuit, load int) uint64 {
	front := s.reach(s.lines[circuit], electronics)
	return front[s.root(s.loads[load].a)] | front[s.root(s.loads[load].b)]
}

// mixed is the outcome where the lamp is lit in some of the states: it works
// if each switch that is free turns it in all of them. What no person sets, a
// relay, does so if its coil is energised.
func (s *sim) mixed(w *watch, on uint64) int8 {
	turns := false
	for sw := range s.g.Switches {
		seen := slices.Contains(w.free, sw)
		if !seen && (slices.Contains(s.settable, sw) || !s.moved(sw, w.states)) {
			continue
		}
		all, any := true, false
		for _, p := range s.moves[sw] {
			if w.states>>p[0]&(w.states>>p[1])&1 == 0 {
				continue
			}
			turned := on>>p[0]&1 != on>>p[1]&1
			all, any = all && turned, any || turned
		}
		if any && !all {
			return half
		}
		turns = turns || any
	}
	if turns {
		return works
	}
	return dark // a relay that nothing moves; most are found open
}

// moved reports whether a switch that no person sets changes over: a relay
// whose coil is energised, or anything that moves by itself.
func (s *sim) moved(sw int, states uint64) bool {
	if s.g.Switches[sw].Kind.Actuator != kit.ByCoil {
		return true
	}
	i := slices.IndexFunc(s.coils, func(c skeletonCoil) bool { return c.sw == sw })
	return i >= 0 && s.use.coil[i]&states != 0
}

// resistance is what the ohmmeter shows. It does not read through a
// semiconductor, nor, on its range, through damaged insulation. Where it is
// joined in some positions of what is left free and open in others, it changes
// as a cord is pulled or a relay worked by its lever; what moves by itself
// leaves it unsaid.
func (s *sim) resistance(w *watch) int8 {
	m := s.between(w.a, w.b, bar) & w.states
	p := m
	if len(s.loose) > 0 {
		p = s.between(w.a, w.b, bar|poor) & w.states
	}
	switch {
	case m == w.states:
		return joined
	case p == 0:
		return open
	case m == 0 && p == w.states:
		return high
	case w.itself:
		return diagnose.Unsaid
	}
	return changes
}

// look is whether a close look into an open box, with a pull at each conductor,
// shows that something is not as drawn.
func (s *sim) look(box string) int8 {
	for _, p := range s.patches {
		if p.visible == box {
			return different
		}
	}
	return asDrawn
}

// alone is what tests of a cable or a lamp show that nothing else is joined to.
func (s *sim) alone(id string) int8 {
	out := int8(fine)
	for _, p := range s.patches {
		if p.own == id {
			out = max(out, p.shows)
		}
	}
	return out
}

// volts is what a voltage tester shows: the supply's voltage between a line and
// a return; at an end that nothing drives a meter shows what couples into it, and
// a tester nothing.
func (s *sim) volts(w *watch) int8 {
	la, ra := s.driven(w.a)
	lb, rb := s.driven(w.b)
	floats := (^(la | ra) | ^(lb | rb)) & w.states
	switch x := (la&rb | lb&ra) & w.states; {
	case x == w.states:
		return mains
	case x != 0:
		return diagnose.Unsaid
	case w.highZ && floats == w.states:
		return ghost
	case w.highZ && floats != 0:
		return diagnose.Unsaid
	}
	return noVolts
}

// driven is the states in which a node is joined to a line, and to a return.
func (s *sim) driven(n int32) (line, ret uint64) {
	front := s.reach(n, electronics)
	for i := range s.lines {
		line |= front[s.root(s.lines[i])]
		ret |= front[s.root(s.neutrals[i])]
	}
	return line, ret | front[s.root(s.earth)]
}

// Check says of each observation what in it cannot be used: a name that the
// installation has not, or an outcome that its kind has not. It is nil where
// nothing is wrong.
func Check(g *wiring.Graph, list []Seen) []error {
	errs := make([]error, len(list))
	j, err := loadJudgement()
	if err != nil || len(g.Origins) == 0 {
		return errs
	}
	k := newSkeleton(g, j)
	for i := range list {
		if _, err := k.watch(&list[i]); err != nil {
			errs[i] = err
		} else if _, err := list[i].outcome(j); err != nil {
			errs[i] = err
		}
	}
	return errs
}
