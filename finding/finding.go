// Package finding describes what is wrong with a job, where, and what to do
// about it. A finding is about the house or the plan; it is not a Go error
// (the work could not be done) and never a panic (our bug).
package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Subject is the path of the thing a finding is about, in the job's own names:
// "boxes.landing.s1.L1", "cables.strap.brown", "circuits.stairs".
type Subject string

// Severity says what a finding means for the work.
type Severity int

// The severities. Forbids stops the job: exit code 1, and the pack says so on
// its first page. Caution must be read before work starts. Note informs.
const (
	Note Severity = iota
	Caution
	Forbids
)

// String names the severity in output and JSON.
func (s Severity) String() string {
	return [...]string{"note", "caution", "forbids"}[s]
}

// MarshalText makes the severity a word in JSON.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Position is a place in the job file; zero when the finding has none.
type Position struct {
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
}

// String prints file:line:column, or nothing for the zero position.
func (p Position) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Finding is one thing that is wrong or must be known.
type Finding struct {
	Code     string    `json:"code"`              // stable, lower case with dashes: "borrowed-neutral"
	Severity Severity  `json:"severity"`          //
	Stage    string    `json:"stage,omitempty"`   // "as found", "as left", or "" for the file
	Subject  Subject   `json:"subject"`           //
	Text     string    `json:"text"`              // one sentence, no full stop needed
	Witness  string    `json:"witness,omitempty"` // positions and path, in words
	Fix      string    `json:"fix,omitempty"`     // what to do
	Related  []Subject `json:"related,omitempty"`
	Position Position  `json:"position,omitzero"`
}

// String prints the finding for a terminal or a log, on as many lines as it has
// parts.
func (f Finding) String() string {
	var b strings.Builder
	if at := f.Position.String(); at != "" {
		b.WriteString(at + ": ")
	}
	fmt.Fprintf(&b, "%s: %s: %s [%s]", f.Severity, f.Subject, f.Text, f.Code)
	if f.Witness != "" {
		b.WriteString("\n    seen when: " + f.Witness)
	}
	if f.Fix != "" {
		b.WriteString("\n    to do: " + f.Fix)
	}
	return b.String()
}

// Sort orders findings: worst first, then by stage, subject and code, so that
// equal jobs print equal lists.
func Sort(list []Finding) {
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			strings.Compare(a.Stage, b.Stage),
			strings.Compare(string(a.Subject), string(b.Subject)),
			strings.Compare(a.Code, b.Code),
			strings.Compare(a.Text, b.Text),
		)
	})
}

// Forbidden reports whether any finding forbids the work.
func Forbidden(list []Finding) bool {
	return slices.ContainsFunc(list, func(f Finding) bool { return f.Severity == Forbids })
}

// Nearest returns the candidate closest in spelling to name, or "" if none is
// near enough to suggest. Distance is counted in insertions, deletions,
// substitutions and swaps of neighbours; at most a third of the name may differ.
func Nearest(name string, candidates []string) string {
	best, bestDistance := "", len(name)/3+1
	for _, c := range candidates {
		if d := distance(strings.ToLower(name), strings.ToLower(c)); d < bestDistance || (d == bestDistance && best != "" && c < best) {
			best, bestDistance = c, d
		}
	}
	return best
}

// distance is the optimal string alignment distance.
func distance(a, b string) int {
	var before, above []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, above, row = above, row, make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			same := 1
			if a[i-1] == b[j-1] {
				same = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+same)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}
