package fault

import (
	"fmt"
	"slices"
	"strings"

	"strapper/kit"
	"strapper/wiring"
)

// Describe says what a fault is in one sentence without a full stop: "hall: the
// black core of strap and the grey core of strap are exchanged".
func (f *Finder) Describe(x *Fault) string {
	g := f.g
	name := func(i int) string { return g.EndName(x.Ends[i]) }
	item := x.Box + "." + x.Item
	switch x.Kind {
	case Exchanged:
		return fmt.Sprintf("%s: %s and %s are exchanged", x.Ends[0].Box, name(0), name(1))
	case Misplaced:
		return fmt.Sprintf("%s: %s is in %s and belongs in %s", x.Ends[0].Box, name(0), f.joint(x.To), g.Where(x.Ends[0]))
	case Off, NoEarth:
		return fmt.Sprintf("%s: %s is out of %s", x.Ends[0].Box, name(0), g.Where(x.Ends[0]))
	case Slack:
		return fmt.Sprintf("%s: %s makes poor contact in %s", x.Ends[0].Box, name(0), g.Where(x.Ends[0]))
	case Bridged:
		return fmt.Sprintf("%s: %s and %s touch", x.Ends[0].Box, name(0), name(1))
	case Shorted:
		return fmt.Sprintf("cable %s: something joins its cores %s, a screw or a nail perhaps", x.Cable, strings.Join(x.Cores, " and "))
	case Leaking:
		return fmt.Sprintf("cable %s: the insulation between its cores %s is damaged", x.Cable, strings.Join(x.Cores, " and "))
	case Broken:
		return fmt.Sprintf("cable %s: its core %s is broken on the way", x.Cable, x.Cores[0])
	case DeadLamp:
		return item + ": the lamp itself does not light"
	case LeakyLamp:
		return item + ": the lamp or its driver leaks to earth"
	case NoKind, "":
		return "nothing is wrong: the wiring is as drawn"
	}
	return f.describeSwitch(x)
}

func (f *Finder) describeSwitch(x *Fault) string {
	item := x.Box + "." + x.Item
	sw := &f.g.Switches[f.g.SwitchIndex(item)]
	switch x.Kind {
	case DeadSwitch:
		return item + ": the switch joins nothing in any position"
	case Stuck:
		return fmt.Sprintf("%s: the switch stays in its position %s, however it is moved", item, sw.Kind.Positions[x.Contact])
	case NoContact, Welded:
		word := "closes"
		if x.Kind == Welded {
			word = "opens"
		}
		return fmt.Sprintf("%s: the contact %s of the switch never %s", item, strings.Join(sw.Kind.Contacts[x.Contact].Join[:], "-"), word)
	}
	return fmt.Sprintf("%s: the wrong switch is fitted; it joins %s", item, joins(x.As.Positions, x))
}

// joins lists what a wrong switch joins, position by position.
func joins(positions []string, x *Fault) string {
	var parts []string
	for _, p := range positions {
		var list []string
		for _, c := range x.As.Contacts {
			for _, in := range c.In {
				if in == p {
					list = append(list, c.Join[0]+"-"+c.Join[1])
				}
			}
		}
		if len(list) == 0 {
			list = []string{"nothing"}
		}
		parts = append(parts, strings.Join(list, " ")+" in "+p)
	}
	return strings.Join(parts, ", ")
}

// joint names the joint of an end: the terminal, or the connector it is in.
func (f *Finder) joint(e wiring.End) string {
	if _, core := f.g.IsCore(e); core == nil {
		return f.g.EndName(e)
	}
	return f.g.Where(e)
}

// Words says a cause in one sentence: the likeliest of what cannot be told
// apart.
func (f *Finder) Words(c *Cause) string { return f.setWords(c.Sets[0]) }

func (f *Finder) setWords(set []*Fault) string {
	if len(set) == 0 {
		return f.Describe(&Fault{Kind: NoKind})
	}
	parts := make([]string, len(set))
	for i, x := range set {
		parts[i] = f.Describe(x)
	}
	return strings.Join(parts, "; and ")
}

// Isolated is what comes before every dead test.
const Isolated = "Circuit isolated, locked off and proved dead at the point of work, every circuit that meets there"

// liveCaution is what comes before a live one.
const liveCaution = "Live, with a cover off: only by a competent person who has to, since no dead test tells this. Prove the tester before and after; if in doubt, do not make it."

// BoardLive is what must be known before a consumer unit is opened, dead or not.
const BoardLive = "In the consumer unit: main switch off and locked too. Its incoming terminals and the meter tails stay live all the same: leave their shield on and keep clear of them"

// before is the caution that a test asks for.
func (f *Finder) before(t *test) string {
	switch {
	case t.Kind.Live():
		return liveCaution
	case t.Kind != SeenLamp && t.Kind != SeenTrip && slices.ContainsFunc(t.boxes, f.isBoard):
		return BoardLive + "."
	}
	return ""
}

func (f *Finder) isBoard(box string) bool {
	return slices.ContainsFunc(f.g.Origins, func(o wiring.Origin) bool { return o.Circuit.Board == box })
}

// restored is what comes before the supply is put on for a look.
const restored = "Everything joined again, test leads and links out, lamps in, every cover on, power on"

// Instruction says in words how an observation is made: where the probes go,
// how the switches stand, and which of them are worked.
func (f *Finder) Instruction(x *Seen) string {
	set := f.setting(x.With)
	switch x.Kind {
	case SeenLamp:
		return fmt.Sprintf("%s%s: what does %s do?", restored, set, x.Of)
	case SeenTrip:
		return fmt.Sprintf("%s%s: does the device of %s open?", restored, set, x.Of)
	case SeenReading:
		return fmt.Sprintf("Dead, lamps out%s: ohmmeter between %s.", set, f.probes(x))
	case SeenInsulation:
		return fmt.Sprintf("Dead%s, lamps out and electronic equipment disconnected: insulation tester between %s.", set, f.probes(x))
	case SeenLook:
		return fmt.Sprintf("Dead: open %s, look closely and pull at each conductor. Is every one where the card says, tight, touching nothing else, and the switch of the kind shown?", x.Of)
	case SeenCause:
		return fmt.Sprintf("Look: is it so that there is this fault: %s?", x.Of)
	case SeenAlone:
		if c := f.g.Inst.Cable(x.Of); c != nil {
			return fmt.Sprintf("Dead: label and disconnect every core of cable %s in %s and in %s; insulation tester between each two of them. Then link them in %[2]s, read each two through in %[3]s, and take the link out.", x.Of, c.From, c.To)
		}
		return fmt.Sprintf("Dead: disconnect %s from its conductors; insulation tester between its line and its earth, at 250 V DC if it is electronic.", x.Of)
	}
	with := "two-pole tester"
	if x.HighZ {
		with = "multimeter of 10 MΩ"
	}
	return fmt.Sprintf("Live%s: %s between %s.", set, with, f.probes(x))
}

// setting is the positions of the switches in words, in the order of the job.
func (f *Finder) setting(with map[string]string) string {
	var parts, free []string
	for i := range f.g.Switches {
		sw := &f.g.Switches[i]
		p, ok := with[sw.ID()]
		switch {
		case ok:
			parts = append(parts, sw.Name()+" "+p)
		case sw.Kind.Actuator == kit.ByPull:
			free = append(free, "pulling the cord of "+sw.Name()+" as you go")
		}
	}
	switch {
	case len(with) > 0:
		return ", " + strings.Join(append(parts, free...), ", ")
	case len(f.g.Switches) > 0:
		return ", working the switches as you go"
	}
	return ""
}

func (f *Finder) probes(x *Seen) string {
	a, b := x.Between[0], x.Between[1]
	if a.Box == b.Box {
		return fmt.Sprintf("%s and %s in %s", f.g.EndName(a), f.g.EndName(b), a.Box)
	}
	return fmt.Sprintf("%s in %s and %s in %s, with a long lead", f.g.EndName(a), a.Box, f.g.EndName(b), b.Box)
}

// Means says an outcome in words a person can compare with the instrument.
func (f *Finder) Means(k SeenKind, is string) string {
	j := f.j
	switch string(k) + " " + is {
	case "operate dim":
		return "dim or flickers"
	case "operate glows":
		return "glows faintly though it should be dark"
	case "operate trips":
		return "the device opens"
	case "operate works":
		return "goes on and off with each switch left free"
	case "operate half":
		return "goes on and off with some of the switches left free only"
	case "reading joined":
		return fmt.Sprintf("up to %v", j.JoinedOhm)
	case "reading high":
		return fmt.Sprintf("%v to %v, or unsteady", j.JoinedOhm, j.OpenOhm)
	case "reading open":
		return fmt.Sprintf("above %v, or over-range", j.OpenOhm)
	case "reading changes":
		return "joined and open by turns, as what is left free is worked"
	case "insulation fine", "alone fine":
		return fmt.Sprintf("%v or more", j.FineOhm)
	case "insulation low", "alone low":
		return fmt.Sprintf("%v to %v", j.ShortOhm, j.FineOhm)
	case "insulation short", "alone short":
		return fmt.Sprintf("zero, and an ohmmeter reads up to %v", j.ShortOhm)
	case "alone broken":
		return "a core does not read through"
	case "look different":
		return "something is not as drawn, or loose, or touches"
	case "volts none":
		return fmt.Sprintf("below %v", j.NoVolts)
	case "volts mains":
		return fmt.Sprintf("%v or more", j.MainsVolts)
	case "volts ghost":
		return "between the two"
	}
	return is
}
