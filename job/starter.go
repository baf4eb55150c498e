package job

import (
	"fmt"
	"slices"
	"strings"
)

// Starter is the text of a job file to begin from: one house with the named
// pattern (see [Patterns]), in harmonised or old colours, with comments that
// say what to change. It reads without problems. An unknown pattern or colour
// is an error that lists what there is.
func Starter(use string, old bool) ([]byte, error) {
	i := slices.IndexFunc(patternList, func(p pattern) bool { return p.use == use })
	if i < 0 {
		return nil, fmt.Errorf("there is no pattern %q: use one of %s", use, strings.Join(Patterns(), ", "))
	}
	p := patternList[i]
	var b strings.Builder
	b.WriteString(starterHead)
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("  - use: %s", use)
	line("    name: room                  # begins the names of all it adds: room-point, room-switch1 …")
	line("    circuit: lights")
	line("    colours: %s", map[bool]string{true: "old", false: "harmonised"}[old])
	line("    point: Room ceiling")
	line("    switches: [%s]", strings.Join(starterSwitches[:p.switches], ", "))
	if p.joint {
		line("    joint: Joint box in the loft")
	}
	line("    lamp: led\n    power: 9 W")
	line("    feed: 12 m                  # from the consumer unit")
	if p.drop {
		line("    drop: 5 m                   # to the first switch")
	}
	if p.lamp {
		line("    lamp-cable: 4 m             # to the lamp")
	}
	if p.switches > 1 {
		line("    straps: [%s]            # from each switch to the next", strings.Join(starterStraps[:p.switches-1], ", "))
	}
	line("    tolerance: 1 m              # how far each length may be out")
	b.WriteString(starterTail)
	line("  - { lamps: [room-point.lamp], from: [%s] }", strings.Join(starterFrom[:p.switches], ", "))
	return []byte(b.String()), nil
}

var (
	starterSwitches = []string{"First switch", "Second switch", "Third switch"}
	starterStraps   = []string{"6 m", "5 m"}
	starterFrom     = []string{"room-switch1.s1", "room-switch2.s1", "room-switch3.s1"}
)

const starterHead = `# A job for strapper. Change what is here to what you found in the house.
job:
  title: Alter the switching of one room
  client: ""
  address: ""
  # date: 2026-01-31              # of the survey

supply:
  voltage: 230 V
  earthing: TN-C-S              # TN-S, TN-C-S or TT
  Ze: 0.35 ohm                  # as measured
  temperature: 20 C             # of the cables when tested

circuits:
  lights: { title: Lights, device: mcb-b6, rcd: rcd-30, board: board }

boxes:
  board: { kind: consumer-unit, title: Consumer unit }

# The wiring as found. Further boxes, cables and joints may be written out
# under boxes:, cables: and joints:.
patterns:
`

const starterTail = `
# The wiring as left: only what changes. Take the # away and complete it.
# left:
#   boxes:
#     new: { kind: plaster-1g-35, title: New switch, fit: { s1: two-way } }
#   cables:
#     strap: { kind: 3ce-1.0, from: room-switch1, to: new, length: 7 m, tolerance: 1 m }
#   joints:                       # a box named here is given whole
#     new: [[s1.COM, strap.brown], [s1.L1, strap.black], [s1.L2, strap.grey], [strap.cpc]]

# The control asked for, once the work is done.
want:
`
