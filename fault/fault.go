// Package fault answers: the light is wrong, so which conductor is in which
// wrong terminal, or what has failed, and which test should be made next? It
// also works out which core is which where cables and runs are not known.
//
// Method. Each hypothesis is an edit of the wiring as it should be: a [Fault],
// or two of them. Its consequences are worked out for every position of the
// switches at once, one bit a position: conductors joined for good are taken
// together, then sources are followed through the contacts. Where a reading is
// given as a number, the numeric network of the edited installation
// ([wiring.View]) says what that wiring would have read, and the instrument's
// accuracy how far that may be off. Bayes' rule weighs the hypotheses, and the
// next test is the one with the most information for its effort among those
// that are safe (package internal/diagnose).
//
// How often each kind of fault is met, how often a report is wrong and what a
// test costs are judgement, declared as such in data/judgement.json.
//
// What it does not do: it knows no faults but those it lists, at most two at
// once; it cannot tell apart what no offered test tells apart, and says so; it
// never replaces isolating, proving dead and testing by a competent person.
package fault

import (
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/wiring"
)

// Kind is a kind of fault.
type Kind string

// The kinds of fault.
const (
	Exchanged  Kind = "exchanged"      // two core ends of a box, each where the other belongs
	Misplaced  Kind = "misplaced"      // a core end in another joint of its box
	Off        Kind = "off"            // a core end out of its terminal or connector
	Slack      Kind = "loose"          // a core end that makes poor contact: tens of ohms
	Bridged    Kind = "bridged"        // two joints of a box touch
	Shorted    Kind = "shorted"        // a screw joins two cores of a cable
	Leaking    Kind = "leaking"        // damaged insulation between two cores of a cable
	Broken     Kind = "broken"         // a core parted within its cable
	WrongKind  Kind = "wrong switch"   // a switch of another kind, or of another convention
	NoContact  Kind = "dead contact"   // a contact that never closes
	Welded     Kind = "welded contact" // a contact that never opens
	Stuck      Kind = "stuck switch"   // a switch that stays in one position
	DeadSwitch Kind = "dead switch"    // a switch that joins nothing
	DeadLamp   Kind = "dead lamp"      // a lamp that does not light
	LeakyLamp  Kind = "leaking lamp"   // a lamp or driver that leaks to earth
	NoEarth    Kind = "cpc off"        // a protective conductor out of its joint
	NoKind     Kind = "nothing"        // the wiring is as it should be
)

// Fault is one edit of the wiring. Which fields are used depends on its kind.
// The zero value is no fault.
type Fault struct {
	Kind    Kind
	Ends    []wiring.End   // core ends: two if exchanged, one if misplaced, off or loose; of bridged joints one end each
	To      wiring.End     // misplaced: an end of the joint it stands in
	Cable   string         // shorted, leaking, broken
	Cores   []string       // of the cable: two, or one that is broken
	Box     string         // box and item of a switch or lamp
	Item    string         //
	Contact int            // index in the accessory's contacts; of a stuck switch the position
	As      *kit.Accessory // of a wrong switch: the accessory as it behaves

	weight float64 // share of its kind that falls to it, by plausibility
}

// Subject is what the fault is about, as findings name it.
func (f *Fault) Subject() finding.Subject {
	switch {
	case f.Cable != "":
		return finding.Subject("cables." + f.Cable)
	case f.Item != "":
		return finding.Subject("boxes." + f.Box + "." + f.Item)
	case len(f.Ends) > 0:
		return f.Ends[0].Subject()
	}
	return "job"
}

// Place is where the repair is made: a box, or a cable.
func (f *Fault) Place() string {
	switch {
	case f.Cable != "":
		return "cable " + f.Cable
	case f.Box == "" && len(f.Ends) > 0:
		return f.Ends[0].Box
	}
	return f.Box
}

// ID is a stable name of the fault: "exchanged hall strap.black strap.grey".
func (f *Fault) ID() string {
	parts := []string{string(f.Kind)}
	for i, e := range f.Ends {
		if i == 0 {
			parts = append(parts, e.Box)
		}
		parts = append(parts, e.String())
	}
	if f.Kind == Misplaced {
		parts = append(parts, "in", f.To.String())
	}
	if f.Cable != "" {
		parts = append(parts, f.Cable)
		parts = append(parts, f.Cores...)
	}
	if f.Item != "" {
		parts = append(parts, f.Box+"."+f.Item)
	}
	switch {
	case f.As != nil:
		parts = append(parts, f.As.ID)
	case f.Kind == NoContact || f.Kind == Welded || f.Kind == Stuck:
		parts = append(parts, string(rune('1'+f.Contact)))
	}
	return strings.Join(parts, " ")
}
