package job

import (
	"strconv"
	"strings"

	"strapper/fault"
	"strapper/finding"
	"strapper/unit"
	"strapper/wiring"
)

type fileSeen struct {
	Lamp       string            `json:"lamp,omitempty" jsonschema:"example=stairs.lamp" jsonschema_description:"What a lamp does with the supply on: is dark, lit, dim, glows (faintly, though off), trips (the device opens), works (it goes on and off with each switch left free) or half (with some of them only)."`
	Circuit    string            `json:"circuit,omitempty" jsonschema_description:"Whether a circuit's device opens: is trips or holds."`
	Between    []string          `json:"between,omitempty" jsonschema:"minItems=2,maxItems=2" jsonschema_description:"Dead: an ohmmeter between two ends, each written box.item.terminal or box.cable.core: is joined, high, open or changes, or reads a resistance."`
	Insulation []string          `json:"insulation,omitempty" jsonschema:"minItems=2,maxItems=2" jsonschema_description:"Dead, lamps out: an insulation tester between two ends: is fine, low or short, or reads a resistance."`
	Look       string            `json:"look,omitempty" jsonschema_description:"Dead: a box opened and compared with its card, each conductor pulled at: is as drawn or different."`
	Alone      string            `json:"alone,omitempty" jsonschema_description:"Dead: a cable or lamp disconnected at every end, its insulation tested and its cores read through: is fine, low, short or broken, or reads the lowest insulation."`
	Volts      []string          `json:"volts,omitempty" jsonschema:"minItems=2,maxItems=2" jsonschema_description:"Live, by a competent person: the voltage between two ends: is none, mains or ghost (between the two), or reads a voltage."`
	Cause      string            `json:"cause,omitempty" jsonschema_description:"A fault, by the id that find --json gives it, that was looked for: is so or not so."`
	With       map[string]string `json:"with,omitempty" jsonschema_description:"Positions of switches, by box.item. What was seen holds for every position of a switch left out."`
	Is         string            `json:"is,omitempty" jsonschema_description:"What was seen, in a word."`
	Reads      string            `json:"reads,omitempty" jsonschema:"example=0.42 ohm,example=95 V" jsonschema_description:"The resistance or voltage read, in place of a word."`
	Meter      string            `json:"meter,omitempty" jsonschema:"enum=tester,enum=high" jsonschema_description:"Of volts: tester for a two-pole tester, high for a multimeter of 10 Mohm; tester if not given."`
	Doubt      string            `json:"doubt,omitempty" jsonschema:"example=10 %" jsonschema_description:"How likely it is that this is wrong; as usual for its kind if not given."`
	Told       bool              `json:"told,omitempty" jsonschema_description:"The household told it; you have not seen it yourself."`
}

// seen resolves the observations against the last stage.
func (r *reading) seen(s *stage) []fault.Seen {
	_, section, whole := r.root.walk("seen")
	if !whole || section.kind != isList {
		return nil
	}
	var list []fault.Seen
	for i := range r.text.Seen {
		n := strconv.Itoa(i)
		s.note(r.at("seen", n), "seen", n)
		if x, ok := r.observation(&r.text.Seen[i], n); ok {
			x.Subject = finding.Subject("seen." + n)
			list = append(list, x)
		}
	}
	if r.incomplete || len(list) < len(r.text.Seen) {
		return nil
	}
	if g, _ := wiring.Build(s.in); g != nil {
		for i, err := range fault.Check(g, list) {
			if err != nil {
				r.report(r.at("seen", strconv.Itoa(i)), "compare with the names in boxes:, cables: and circuits:", "%v", err)
			}
		}
	}
	return list
}

// observation reads one entry: exactly one thing that it is about.
func (r *reading) observation(f *fileSeen, n string) (x fault.Seen, ok bool) {
	x = fault.Seen{With: f.With, Is: f.Is, Reported: f.Told, HighZ: f.Meter == "high"}
	about := 0
	for kind, id := range f.things() {
		if id != "" {
			x.Kind, x.Of = kind, id
			about++
		}
	}
	ok = true
	for kind, ends := range f.pairs() {
		if len(ends) == 2 {
			x.Kind = kind
			about++
			ok = r.between(&x, ends, n) && ok
		}
	}
	if about != 1 {
		r.report(r.at("seen", n), "name one of lamp, circuit, between, insulation, look, alone, volts and cause", "this is about %s", map[bool]string{true: "several things at once", false: "nothing"}[about > 1])
		return x, false
	}
	return x, r.value(&x, f, n) && r.doubt(&x, f, n) && ok
}

// things are what an observation can be about, if not a pair of ends.
func (f *fileSeen) things() map[fault.SeenKind]string {
	return map[fault.SeenKind]string{
		fault.SeenLamp: f.Lamp, fault.SeenTrip: f.Circuit, fault.SeenLook: f.Look, fault.SeenAlone: f.Alone, fault.SeenCause: f.Cause,
	}
}

// pairs are the ends that an observation can be made between.
func (f *fileSeen) pairs() map[fault.SeenKind][]string {
	return map[fault.SeenKind][]string{
		fault.SeenReading: f.Between, fault.SeenInsulation: f.Insulation, fault.SeenVolts: f.Volts,
	}
}

// between reads the two ends of an observation.
func (r *reading) between(x *fault.Seen, ends []string, n string) bool {
	ok := true
	for i, text := range ends {
		e, fine := seenEnd(text)
		if !fine {
			r.report(r.at("seen", n, seenKeys[x.Kind], strconv.Itoa(i)), `write box.item.terminal or box.cable.core, such as "hall.s1.COM"`, "%q is not an end in a box", text)
			ok = false
		}
		x.Between[i] = e
	}
	return ok
}

// value reads what was seen where it is a number.
func (r *reading) value(x *fault.Seen, f *fileSeen, n string) bool {
	at := r.at("seen", n, "reads")
	switch {
	case f.Reads == "":
		return true
	case f.Is != "":
		r.report(at, "give one of the two", "both a word and a value are given")
		return false
	case x.Kind == fault.SeenVolts:
		volt, err := unit.ParseVolt(f.Reads)
		x.Volt = &volt
		if err != nil || volt < 0 || volt > 1000 {
			r.report(at, `write a voltage such as "95 V"`, "%q is not a voltage that can be read here", f.Reads)
			return false
		}
		return true
	}
	return r.ohms(x, f.Reads, at)
}

// ohms reads a resistance.
func (r *reading) ohms(x *fault.Seen, text string, at place) bool {
	ohm, err := unit.ParseOhm(text)
	x.Ohm = &ohm
	switch {
	case err != nil:
		r.report(at, `write a resistance such as "0.42 ohm"; for over-range write "is: open"`, "%v", err)
	case ohm < 0:
		r.report(at, "null the leads and read again", "a resistance is never below zero")
	}
	return err == nil && ohm >= 0
}

// doubt reads how likely it is that an observation is wrong.
func (r *reading) doubt(x *fault.Seen, f *fileSeen, n string) bool {
	if f.Doubt == "" {
		return true
	}
	p, err := unit.ParsePercent(f.Doubt)
	x.Doubt = p.Fraction()
	if err != nil || p <= 0 || p > 50 {
		r.report(r.at("seen", n, "doubt"), `write a share up to half, such as "10 %"`, "%q does not say how likely it is wrong", f.Doubt)
		return false
	}
	return true
}

// seenEnd reads "box.item.terminal".
func seenEnd(text string) (e wiring.End, ok bool) {
	parts := strings.Split(text, ".")
	if len(parts) != 3 || parts[0] == "" || parts[1] == "" || parts[2] == "" {
		return e, false
	}
	return wiring.End{Box: parts[0], Item: parts[1], Name: parts[2]}, true
}
