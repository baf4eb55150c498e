package sizing

import (
	"fmt"
	"strings"

	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// Stretch is what one length of cable may carry where it lies.
type Stretch struct {
	Cable   string       `json:"cable"`
	How     string       `json:"how"` // in words
	Known   bool         `json:"known"`
	Iz      unit.Ampere  `json:"iz_a"`
	Why     string       `json:"why,omitempty"` // why not known
	Assumed bool         `json:"assumed"`       // how it lies is not known, the lowest rating is taken
	Working string       `json:"working"`
	Cells   []rules.Cell `json:"cells,omitempty"`
}

// methods are the reference methods for the trade's words (BS 7671 Table 4A2
// as transcribed with Table 4D5 by E. Palmer; embedded in plaster as clipped
// direct, from memory, to be confirmed). Cable wholly in insulation is rated as
// clipped and then reduced.
var methods = map[wiring.Laying]struct{ method, words string }{
	wiring.LaidUnknown:    {"103", "not stated, taken as the worst: in an insulated stud wall, not touching it"},
	wiring.LaidClipped:    {"C", "clipped to a surface or in plaster"},
	wiring.LaidCeiling:    {"100", "above a ceiling, under up to 100 mm of insulation"},
	wiring.LaidLoft:       {"101", "above a ceiling, under more than 100 mm of insulation"},
	wiring.LaidStudFace:   {"102", "in an insulated stud wall, touching its inner face"},
	wiring.LaidStudInside: {"103", "in an insulated stud wall, not touching it"},
	wiring.LaidWallPipe:   {"A", "in conduit in an insulated wall"},
	wiring.LaidPipe:       {"B", "in conduit or trunking on a wall"},
	wiring.LaidSurrounded: {"C", "wholly surrounded by insulation"},
}

// capacity finds the weakest stretch of the circuit's cables.
func (c *sizer) capacity() {
	f := Figure{Symbol: "Iz", Name: "current the cable may carry where it lies"}
	weakest := -1
	for _, k := range c.use {
		for _, s := range stretchesOf(k, c.lies(k)) {
			out := c.stretch(k, s)
			c.out.Stretches = append(c.out.Stretches, out)
			i := len(c.out.Stretches) - 1
			if weakest < 0 || weaker(&out, &c.out.Stretches[weakest]) {
				weakest = i
			}
		}
	}
	f.limit("at least", rules.Of(c.circuit().Device.Rating))
	if weakest < 0 {
		f.Why = "no cable of the circuit is drawn"
		c.out.Figures = append(c.out.Figures, f)
		return
	}
	w := &c.out.Stretches[weakest]
	f.At, f.Cells, f.Why = w.Cable+", "+w.How, w.Cells, w.Why
	f.work("%s", w.Working)
	if w.Known {
		f.set(rules.Of(w.Iz))
		f.Passes = fmt.Sprintf("carries a device of up to %v", rules.Of(w.Iz))
		c.out.Case.Carries, c.out.Case.Stretch = w.Iz, w.Cable+", "+w.How
	}
	c.out.Figures = append(c.out.Figures, f)
}

// weaker puts what is not known first: the whole circuit then is not.
func weaker(a, b *Stretch) bool {
	if a.Known != b.Known {
		return !a.Known
	}
	return a.Iz < b.Iz
}

// stretchesOf lists how a cable lies, with what is left over as not known.
func stretchesOf(k *wiring.Cable, laid []wiring.Stretch) []wiring.Stretch {
	if len(laid) == 0 {
		return []wiring.Stretch{{Length: k.Length}}
	}
	var sum unit.Millimetre
	rest := false
	for _, s := range laid {
		sum += s.Length
		rest = rest || s.Length == 0
	}
	if rest || sum >= k.Length {
		return laid
	}
	return append(append([]wiring.Stretch{}, laid...), wiring.Stretch{Length: k.Length - sum})
}

func (c *sizer) stretch(k *wiring.Cable, s wiring.Stretch) Stretch {
	m := methods[s.How]
	out := Stretch{Cable: k.ID, How: m.words, Assumed: s.How == wiring.LaidUnknown}
	it := rules.Ask(c.Book, rules.Rating, rules.Area(liveArea(k)), rules.Method(m.method))
	if !out.take(it.Trail) {
		return out
	}
	iz, parts := float64(it.Value), []string{fmt.Sprintf("%v (%v, method %s)", rules.Of(it.Value), liveArea(k), m.method)}
	for _, x := range c.factors(s) {
		if !out.take(x.answer.Trail) {
			return out
		}
		if v := float64(x.answer.Value); v != 1 {
			iz *= v
			parts = append(parts, fmt.Sprintf("%s %g", x.name, v))
		}
	}
	out.Known, out.Iz = true, unit.Ampere(iz)
	out.Working = strings.Join(parts, " × ")
	if len(parts) > 1 {
		out.Working += " = " + rules.Of(out.Iz).String()
	}
	return out
}

func (s *Stretch) take(t rules.Trail) bool {
	s.Cells = append(s.Cells, t.Cells...)
	if !t.Found {
		s.Why = t.Why
	}
	return t.Found
}

// liveArea is the size of a cable's live conductors.
func liveArea(k *wiring.Cable) unit.SquareMillimetre {
	least := unit.SquareMillimetre(0)
	for i := range k.Kind.Cores {
		if core := &k.Kind.Cores[i]; !core.Earth && (least == 0 || core.Area < least) {
			least = core.Area
		}
	}
	return least
}

type factor struct {
	name   string
	answer rules.Answer[rules.Factor]
}

// factors lists what the rating of a stretch is multiplied by. Air warmer or
// colder than tables assume counts only where it is stated.
func (c *sizer) factors(s wiring.Stretch) []factor {
	list := []factor{{"Cc", rules.Ask(c.Book, rules.FuseFactor, rules.Device(string(c.circuit().Device.Type)))}}
	if s.Ambient != 0 {
		list = append(list, factor{"Ca", rules.Ask(c.Book, rules.AmbientFactor, rules.Ambient(s.Ambient))})
	}
	if s.Bunched > 1 {
		list = append(list, factor{"Cg", rules.Ask(c.Book, rules.GroupFactor, rules.Arrangement("bunched"), rules.Circuits(s.Bunched))})
	}
	if s.How == wiring.LaidSurrounded {
		length := s.Surrounded
		if length == 0 {
			length = s.Length
		}
		if length == 0 {
			length = 10 * unit.Metre // all of a cable: the open row of the table
		}
		list = append(list, factor{"Ci", rules.Ask(c.Book, rules.SurroundFactor, rules.Surrounded(length))})
	}
	return list
}
