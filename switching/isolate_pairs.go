package switching

import (
	"slices"
	"strings"

	"strapper/wiring"
)

// A Conductor is what is electrically one in a box: a joint, a parked core, or
// a terminal with nothing in it. Of a known good earth outside the box Node is
// negative and Ends empty.
type Conductor struct {
	Node wiring.Node
	Ends []wiring.End // in the box
	Duty Duty
	Live bool // some circuit's line reaches it in some position
}

// Name is where to put the probe, with a core that leads to it: "s1 COM
// (drop red)", "connector with feed black and borrow black".
func (c *Conductor) Name(g *wiring.Graph) string {
	var terminals, cores []string
	for _, e := range c.Ends {
		if _, core := g.IsCore(e); core != nil {
			cores = append(cores, e.Item+" "+e.Name)
		} else {
			terminals = append(terminals, e.Item+" "+e.Name)
		}
	}
	switch {
	case c.Node < 0:
		return "a known good earth, with a long lead"
	case len(terminals) == 0 && c.Duty == DutyEarth:
		return "cpc (" + strings.Join(cores, ", ") + ")"
	case len(terminals) == 0 && len(cores) == 1:
		return "parked core " + cores[0]
	case len(terminals) == 0:
		return "connector with " + strings.Join(cores, ", ")
	case len(cores) == 0:
		return strings.Join(terminals, "/")
	}
	return strings.Join(terminals, "/") + " (" + strings.Join(cores, ", ") + ")"
}

// A DeadTest is one pair of conductors to be tested for voltage before hands
// go in.
type DeadTest struct {
	A, B  Conductor
	Shows bool // with something left on, this pair would show the supply voltage in some position
}

// DeadTests lists the pairs that matter in a box: those that could show the
// supply voltage if something were left on, and those that the procedure asks
// for besides: neutral to earth, and spare cores. The first conductor of a
// pair is the suspect one; the order is that of the box.
//
// Two conductors that are both live show nothing between each other, however
// dangerous both are: such a pair is left out, and the published procedure of
// testing each live conductor to neutral and to earth is what finds it. One
// that shows nothing to anything in the box is tested to an earth outside (HSE
// GS38, 4th ed. 2015, and the three tests L–N, L–E, N–E of the trade's
// textbooks: Linsley, Basic Electrical Installation Work).
func DeadTests(g *wiring.Graph, box string) []DeadTest {
	a := survey(g, blockBits, maxNodes)
	if a == nil {
		return nil
	}
	list := a.conductors(box)
	shows := a.showing(list)
	var tests []DeadTest
	for j := range list {
		for i := range j {
			x, y := list[i], list[j]
			if !shows[i][j] && !wanted(&x, &y) {
				continue
			}
			if reference(x.Duty) && !reference(y.Duty) || y.Live && !x.Live {
				x, y = y, x
			}
			tests = append(tests, DeadTest{x, y, shows[i][j]})
		}
	}
	tests = append(tests, lone(list, shows)...)
	slices.SortStableFunc(tests, func(t, u DeadTest) int { return int(t.A.Node) - int(u.A.Node) })
	return tests
}

// lone are the conductors that can be live and show it to nothing in the box:
// only to an earth outside it.
func lone(list []Conductor, shows [][]bool) []DeadTest {
	var tests []DeadTest
	for i, c := range list {
		if c.Live && !slices.Contains(shows[i], true) {
			tests = append(tests, DeadTest{A: c, B: outside, Shows: true})
		}
	}
	return tests
}

// outside is a known good earth that does not come to the box.
var outside = Conductor{Node: -1, Duty: DutyEarth}

// reference: what a suspect conductor is tested against.
func reference(d Duty) bool { return d == DutyEarth || d == DutyNeutral }

// wanted reports whether a pair is tested although nothing is known to make it
// live: neutral to earth, and spare cores to either.
func wanted(x, y *Conductor) bool {
	switch {
	case x.Duty == DutyUnused && y.Duty == DutyUnused:
		return false
	case x.Duty == DutyUnused:
		return reference(y.Duty)
	case y.Duty == DutyUnused:
		return reference(x.Duty)
	}
	return reference(x.Duty) && reference(y.Duty) && x.Duty != y.Duty
}

// conductors lists what can be touched in a box: what holds a core, and bare
// terminals that can be live.
func (a *reached) conductors(box string) []Conductor {
	p := a.p
	p.net = make([]netUse, p.n.count)
	p.Duty = make([]Duty, p.g.Nodes())
	a.use()
	p.assignDuties()
	var list []Conductor
	for n := range wiring.Node(p.g.Nodes()) {
		c := Conductor{Node: n, Duty: p.Duty[n], Live: p.net[p.n.of[n]].everL}
		core := false
		for _, e := range p.g.Members(n) {
			if e.Box == box {
				c.Ends = append(c.Ends, e)
				_, k := p.g.IsCore(e)
				core = core || k != nil
			}
		}
		if len(c.Ends) > 0 && (core || c.Live) {
			list = append(list, c)
		}
	}
	return list
}

// use fills in what every net is joined to over all states.
func (a *reached) use() {
	p := a.p
	a.m.views(func(v view) {
		for net := range p.net {
			u := &p.net[net]
			line, neutral := none(v), none(v)
			for i := range p.g.Origins {
				line = line.or(v.reached(p.lineOf(i), int32(net)))
				neutral = neutral.or(v.reached(p.neutralOf(i), int32(net)))
			}
			u.everL = u.everL || line.any()
			u.notL = u.notL || v.every().andNot(line).any()
			u.everN = u.everN || neutral.any()
			u.everE = u.everE || v.reached(p.earth(), int32(net)).any()
		}
	})
}

// showing marks the pairs of which one is live while the other is held at
// neutral or earth, in some state and with any circuits on.
func (a *reached) showing(list []Conductor) [][]bool {
	p := a.p
	shows := make([][]bool, len(list))
	for i := range shows {
		shows[i] = make([]bool, len(list))
	}
	a.m.views(func(v view) {
		all := p.poles(v)
		for i := range list {
			for j := range list {
				x, y := p.n.of[list[i].Node], p.n.of[list[j].Node]
				one := all.line[x].andNot(all.back[x]).and(all.back[y])
				other := all.line[y].andNot(all.back[y]).and(all.back[x])
				shows[i][j] = shows[i][j] || x != y && (one.any() || other.any())
			}
		}
	})
	return shows
}

// Reliance says what every test that could show something is made to, where
// that is only one of neutral and earth: "" if both serve, or nothing could
// show. If that one conductor is broken none of the tests shows anything.
func Reliance(tests []DeadTest) string {
	to := map[Duty]bool{}
	for _, t := range tests {
		if t.Shows && t.B.Node >= 0 {
			to[t.B.Duty] = true
		}
	}
	const also = "none of these shows anything. Test each also to a known good earth, with a long lead."
	switch {
	case len(to) != 1:
		return ""
	case to[DutyEarth]:
		return "No neutral comes to this box: if its cpc is broken, " + also
	case to[DutyNeutral]:
		return "No protective conductor comes to this box: if its neutral is broken, " + also
	}
	return ""
}

// Steps is the order of work before hands go into the boxes: common practice,
// after HSE HSG85 and GS38 (from memory, to be confirmed) and the Electricity
// at Work Regulations 1989 reg. 14, in our own words. Local rules and the
// employer's procedure come first.
func (is *Isolation) Steps() []string {
	return []string{
		"Ask whoever is in charge of the house for leave, and tell everybody in it what will be off.",
		"Identify the devices named here at the consumer unit, and look for any other source: a second board, a time switch, solar panels, a battery.",
		"Look at the voltage tester and its leads, and prove it on a known live source or a proving unit.",
		"Switch off " + is.what() + ".",
		"Lock each one off with a lock of your own, keep the key on you, and hang the tag on it. Of a fuse, keep the carrier.",
		"At the box, with the plate off and nothing taken apart, test each pair of the list for voltage, then every remaining conductor to every other and to earth.",
		"Prove the tester again at once. If it fails, nothing has been tested: start again.",
		"Only now touch. Clip a meter round each neutral before it is parted: if current flows, stop, it belongs to another circuit.",
		"After every break, and whenever the lock was out of your sight, test again before you touch.",
	}
}

func (is *Isolation) what() string {
	if is.Board {
		return "the main switch, after the circuits; its incoming terminals and the meter tails stay live"
	}
	if len(is.All()) == 0 {
		return "every circuit that may be near: nothing is known to feed these boxes, which proves nothing about them"
	}
	var list []string
	for _, c := range is.All() {
		list = append(list, c.ID)
	}
	if len(list) == 1 {
		return "circuit " + list[0]
	}
	return "all of these circuits: " + strings.Join(list, ", ")
}

// Warnings are what must be thought of before the supply is cut, from what the
// job declares. Nothing is supposed of a house that declares nothing.
func (is *Isolation) Warnings() []string {
	var list []string
	for _, s := range is.Also {
		text := s.What + " goes off too"
		switch s.Kind {
		case wiring.ServesFridge:
			text += ": keep its door shut, note the time, and see that it runs again"
		case wiring.ServesAlarm:
			text += ": tell the people in the house that they have no alarm, or one on its battery only, and test it when the supply is back"
		case wiring.ServesMedical:
			text += ": DO NOT switch off before whoever depends on it has another supply and has said so"
		case wiring.ServesHeating:
			text += ": check that it starts again, and its clock"
		}
		list = append(list, text+".")
	}
	return list
}
