package switching

import "strapper/finding"

// Rule says how the switches of a Want act together.
type Rule string

// The rules. Toggle is what two-way and intermediate switching gives.
const (
	RuleToggle Rule = "toggle" // moving any one of the switches changes the lamps, from every state
	RuleAny    Rule = "any"    // lit while at least one is out of its first position
	RuleAll    Rule = "all"    // lit while all are out of their first position
)

// Want is the control asked for: lamps by id ("stairs.lamp"), the switches that
// control them ("hall.s1"), and master switches that hold them off while in
// their first position. Lamps of one want act as one.
type Want struct {
	Lamps   []string
	From    []string
	Off     []string
	Rule    Rule
	Subject finding.Subject // where the job asks for it: "want.0"
}
