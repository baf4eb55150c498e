package reading

import (
	"fmt"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// insulation chooses positions in which every conductor that is ever live is
// joined to its circuit's line, so that a test at the board reaches it, and
// adds a row for each circuit, pair of conductors and position.
func (f *forecast) insulation() {
	chosen := f.coverLive()
	for _, i := range chosen {
		f.out.Insulation = append(f.out.Insulation, f.g.Describe(f.t.states[i]))
	}
	all := f.t.all()
	for c := range f.g.Origins {
		id := f.g.Origins[c].Circuit.ID
		for k, i := range chosen {
			g := &group{first: i, members: []int{i}, relevant: all}
			for _, pair := range [3][2]string{{"L", "N"}, {"L", "E"}, {"N", "E"}} {
				if pair[0] == "L" || k == 0 { // neutral to earth does not depend on switches
					f.insulationRow(id, pair, g)
				}
			}
		}
	}
	f.disconnect()
}

func (f *forecast) insulationRow(circuit string, pair [2]string, g *group) {
	if pair[0] == "N" {
		g = &group{first: g.first, members: g.members}
	}
	x := &f.in.Insulation
	r := f.row(Insulation, circuit, pair, g)
	limit, look := f.insulationLimit()
	r.Limit, r.Note = limit, notes(insulateNote, fmt.Sprintf("expect over %v%s", x.Expect, look))
	f.add(r)
}

// coverLive is a greedy minimal choice of the states examined. Conductors that
// only a semiconductor joins to a line, or nothing in any state examined, are
// reported: no position reaches them.
func (f *forecast) coverLive() []int {
	metal := f.metalReach()
	missing := map[wiring.Node]bool{}
	for n, d := range f.proof.Duty {
		switch d {
		case switching.DutyLine, switching.DutySwitched, switching.DutyStrapper, switching.DutyMixed:
			missing[wiring.Node(n)] = true
		}
	}
	var chosen []int
	for len(missing) > 0 {
		best, gain := -1, 0
		for i := range metal {
			if n := count(metal[i], missing); n > gain {
				best, gain = i, n
			}
		}
		if best < 0 {
			break
		}
		chosen = append(chosen, best)
		for n := range missing {
			if metal[best][n] {
				delete(missing, n)
			}
		}
	}
	if len(chosen) == 0 && len(metal) > 0 {
		chosen = []int{0}
	}
	f.unreached(missing)
	return chosen
}

// metalReach marks, by state examined, what metal joins to any circuit's line.
func (f *forecast) metalReach() [][]bool {
	r := newReacher(f.g)
	list := make([][]bool, len(f.t.states))
	for i, s := range f.t.states {
		list[i] = make([]bool, f.g.Nodes())
		for _, o := range f.g.Origins {
			for n, there := range r.from(o.L, s, false) {
				list[i][n] = list[i][n] || there
			}
		}
	}
	return list
}

func count(reached []bool, missing map[wiring.Node]bool) (n int) {
	for node := range missing {
		if reached[node] {
			n++
		}
	}
	return n
}

func (f *forecast) unreached(missing map[wiring.Node]bool) {
	var names []string
	for n := range wiring.Node(f.g.Nodes()) {
		if missing[n] && len(f.g.Members(n)) > 0 {
			e := f.g.Members(n)[0]
			names = append(names, e.Box+": "+e.String())
		}
	}
	if len(names) == 0 {
		return
	}
	f.out.Findings = append(f.out.Findings, finding.Finding{
		Code: "insulation-not-reached", Severity: finding.Caution, Subject: "job",
		Text: "an insulation test from the board does not reach these live conductors in any position examined: " + strings.Join(names, ", "),
		Fix:  "take out the electronic switch and link its conductors for the test, or test them from there with the circuit isolated",
	})
}

// disconnect warns of what a test at 500 V may harm or what falsifies it.
func (f *forecast) disconnect() {
	x := &f.in.Insulation
	seen := map[string]bool{}
	for _, box := range f.g.Inst.Boxes {
		for _, it := range box.Fit {
			id := box.ID + "." + it.ID
			why, fix := sensitive(it)
			if why == "" || seen[id] {
				continue
			}
			seen[id] = true
			f.report("disconnect-for-insulation", finding.Caution, id,
				fmt.Sprintf("before the insulation test %s; if that cannot be done, test line and neutral joined, to earth only, and at %v DC if the maker asks for it", fix, x.ReducedVolts),
				"%s (%s) %s at %s", id, it.Kind.Title, why, f.testVoltage())
		}
	}
}

// What to do before an insulation test. Only what stands in the line is bridged:
// joining the line and neutral of a load would read as a fault between them.
const (
	linkIt   = "take it out and join its line and load conductors for as long as the test lasts"
	partIt   = "disconnect it and keep its conductors apart, line from neutral"
	lampOut  = "take the lamp out of its holder"
	driverIn = "disconnect the driver and keep its conductors apart, line from neutral"
)

// sensitive says why an accessory must not be in an insulation test, and what
// to do with it.
func sensitive(it *wiring.Fitted) (why, fix string) {
	for _, c := range it.Kind.Contacts {
		if c.Via == kit.ViaElectronic {
			return "is electronic and may be harmed", linkIt
		}
	}
	if it.Kind.Coil != nil {
		return "has a coil across line and neutral, which reads as a fault", partIt
	}
	for _, l := range it.Kind.Loads {
		switch {
		case l.Always:
			return "has a supply of its own, which reads as a fault and may be harmed", partIt
		case it.Kind.Class != kit.ClassLamp:
			return "reads as a fault between line and neutral", partIt
		case it.Lamp != nil && it.Lamp.Kind != nil && it.Lamp.Kind.Idle > 0, it.Lamp == nil && l.Kind != nil && l.Kind.Idle > 0:
			if it.Kind.ClassI {
				return "has an electronic driver, which reads as a fault and may be harmed", driverIn
			}
			return "holds an electronic lamp, which reads as a fault and may be harmed", lampOut
		}
	}
	return "", ""
}
