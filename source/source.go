// Package source says where a figure comes from. Every number in a table, in
// the catalogue of kit and behind a prediction names its authority, so that a
// reader can tell a published limit from a rule of thumb.
package source

import "fmt"

// Authority is how much a figure may be relied on.
type Authority string

// The authorities, strongest first. Standards keep their authority only while
// the edition named beside the figure is the current one.
const (
	Published   Authority = "published"   // document, edition and table are named
	Independent Authority = "independent" // a general-purpose program and its version
	Derived     Authority = "derived"     // worked in docs/checks
	Practice    Authority = "practice"    // common practice, no source
	Memory      Authority = "memory"      // recalled, to be confirmed against print
	Regression  Authority = "regression"  // today's answer, pinned
	Invented    Authority = "invented"    // demonstration data
)

// Valid reports whether a is one of the authorities above.
func (a Authority) Valid() bool {
	switch a {
	case Published, Independent, Derived, Practice, Memory, Regression, Invented:
		return true
	}
	return false
}

// Source is the authority of a figure and where to look it up.
type Source struct {
	Authority Authority `json:"authority"`
	Cite      string    `json:"cite"`           // document, edition, table; or the working
	Note      string    `json:"note,omitempty"` // doubt, scope, or condition
}

// String prints the source on one line.
func (s Source) String() string {
	text := fmt.Sprintf("%s: %s", s.Authority, s.Cite)
	if s.Note != "" {
		text += " (" + s.Note + ")"
	}
	return text
}

// Figure is one number the program uses, as the `sources` command lists it.
type Figure struct {
	Name   string `json:"name"`  // what it is, in words
	Value  string `json:"value"` // with unit
	Source Source `json:"source"`
}
