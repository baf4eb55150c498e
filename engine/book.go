package engine

import (
	"slices"
	"strings"

	"strapper/finding"
	"strapper/house"
	"strapper/kit"
	"strapper/reading"
	"strapper/rules"
	"strapper/unit"
	"strapper/wiring"
)

// judge has the job's rule book judge the work, its circuits, its points and
// the readings that were taken, and makes findings of what is not met.
func (r *Result) judge() {
	b, final := r.Job.Book, r.Final()
	if b == nil {
		return
	}
	j := &judge{Result: r, Stage: final, changed: r.changedBoxes()}
	list := b.Work(nil, j.work())
	at := []int{len(list)} // where the verdicts of each circuit begin
	for k := range final.Graph.Origins {
		list = b.Circuit(list, j.circuit(k))
		at = append(at, len(list))
	}
	for _, c := range j.points() {
		list = b.Point(list, c)
	}
	for i := range list {
		list[i].Stage = final.Name
	}
	r.Verdicts = list
	for k := range r.Sizes.Circuits {
		r.Sizes.Circuits[k].Verdicts = list[at[k]:at[k+1]:at[k+1]]
	}
	for _, c := range reading.Cases(final.Readings, final.Graph, b, r.Job.Readings) {
		r.Readings = append(r.Readings, Judged{Case: c, Verdicts: b.Reading(nil, &c)})
	}
	r.tell()
}

// Judged is one reading that was taken with what the book says of it.
type Judged struct {
	Case     rules.ReadingCase
	Verdicts []rules.Verdict
}

// Shown is what the instrument displayed, with its unit.
func (j *Judged) Shown() string {
	c := &j.Case
	unitOf := "Ω"
	switch c.Kind {
	case rules.ReadRCDTime:
		unitOf = "s"
	case rules.ReadFault:
		unitOf = "A"
	}
	text := rules.Measure{Number: c.Value, Unit: unitOf}.String()
	switch {
	case c.Over && c.Value == 0:
		return "open"
	case c.Over:
		return "> " + text
	}
	return text
}

// Worst is the verdict that decides the reading: not met before too close to
// tell, before met, before the rest; of advice only where no rule decides.
func (j *Judged) Worst() *rules.Verdict {
	order := []rules.Outcome{rules.NotMet, rules.TooClose, rules.Met, rules.NotAssessed}
	for _, advice := range []bool{false, true} {
		for _, o := range order {
			for i := range j.Verdicts {
				if v := &j.Verdicts[i]; v.Outcome == o && advisory[v.Check] == advice {
					return v
				}
			}
		}
	}
	return nil
}

// Differs reports whether all that is wrong with a reading is that it lies
// outside what was predicted. Open where it should read, and the other way
// round, is more than that.
func Differs(v *rules.Verdict) bool {
	return v.Outcome == rules.NotMet && v.Check == "measured-continuity" && v.Value != nil
}

// Failed reports whether a reading that was taken fails: the wiring must not be
// left in use.
func (r *Result) Failed() bool {
	return slices.ContainsFunc(r.Readings, func(j Judged) bool {
		v := j.Worst()
		return v != nil && v.Outcome == rules.NotMet && !Differs(v) && !advisory[v.Check]
	})
}

// Doubtful reports whether a reading that was taken differs from its prediction
// or is too close to its limit to tell.
func (r *Result) Doubtful() bool {
	return slices.ContainsFunc(r.Readings, func(j Judged) bool {
		v := j.Worst()
		return v != nil && (Differs(v) || v.Outcome == rules.TooClose)
	})
}

// changedBoxes are the boxes in which something changes, new ones included.
func (r *Result) changedBoxes() map[string]bool {
	list := map[string]bool{}
	for _, m := range r.Moves {
		list[m.Box.ID] = true
	}
	return list
}

// judge fills the cases of one result.
type judge struct {
	*Result
	*Stage
	changed map[string]bool
}

// work is the piece of work as a whole. What is planned adds no circuit and no
// consumer unit: a job file has no words for that.
func (j *judge) work() *rules.WorkCase {
	p := &j.Job.Premises
	c := &rules.WorkCase{
		Subject: "job", Nation: p.Nation, House: p.Kind, Storeys: p.Storeys, Built: p.Built, Finish: p.Finish, Climb: p.Climb,
		Notified: p.Notified, Designed: j.Job.Date, Board: rules.No, Opens: rules.No,
	}
	if p.Crew > 0 {
		c.Alone = rules.Is(p.Crew == 1)
	}
	for k := range j.Graph.Origins {
		if j.altered(k) {
			c.Altered++
		}
	}
	j.places(c)
	return c
}

// places notes where the work is. A box whose room is not stated leaves it open
// whether some of the work is in a special location.
func (j *judge) places(c *rules.WorkCase) {
	c.Special, c.Garden = rules.No, rules.No
	if len(j.changed) == 0 {
		return
	}
	c.Opens = rules.Yes
	for _, b := range j.Inst.Boxes {
		if !j.changed[b.ID] || b.Kind.Mount == kit.MountBoard {
			continue
		}
		place := j.place(b)
		c.Places = append(c.Places, place)
		c.Special = either(c.Special, special(place, zone(b)))
		c.Garden = either(c.Garden, rules.Is(place == rules.PlaceOutside))
	}
}

// uses tells what kind of place a room of the house is.
var uses = map[house.Use]rules.Place{
	house.UseBathroom: rules.PlaceBathroom, house.UseKitchen: rules.PlaceKitchen, house.UseGarage: rules.PlaceGarage, house.UseOutdoor: rules.PlaceOutside,
	house.UseOrdinary: rules.PlaceRoom, house.UseHall: rules.PlaceRoom, house.UseStairs: rules.PlaceRoom, house.UseCupboard: rules.PlaceRoom,
}

// place is where a box is: as the file says of it, else by the room in which
// the house has it, else not known.
func (j *judge) place(b *wiring.Box) rules.Place {
	if b.Place != "" || j.Job.House == nil {
		return rules.Place(b.Place)
	}
	if x := j.Job.House.Box(b.ID); x != nil && x.Room != nil {
		return uses[x.Room.Use]
	}
	return rules.PlaceUnknown
}

// special says whether a place is a special location of the building
// regulations: in a bathroom the zones, a pool or sauna room whole.
func special(p rules.Place, z rules.Zone) rules.Fact {
	switch {
	case p == rules.PlaceUnknown || p == rules.PlaceBathroom && z == rules.ZoneUnknown:
		return rules.Unknown
	case p == rules.PlacePool || p == rules.PlaceSauna:
		return rules.Yes
	}
	return rules.Is(p == rules.PlaceBathroom && z != rules.ZoneOutside)
}

// either is yes if one is, else not known if one is not.
func either(a, b rules.Fact) rules.Fact {
	switch {
	case a == rules.Yes || b == rules.Yes:
		return rules.Yes
	case a == rules.Unknown || b == rules.Unknown:
		return rules.Unknown
	}
	return rules.No
}

func zone(b *wiring.Box) rules.Zone {
	if b.Zone == "outside" {
		return rules.ZoneOutside
	}
	return rules.Zone(strings.TrimPrefix(b.Zone, "zone "))
}

// altered reports whether the work changes a box that the circuit feeds.
func (j *judge) altered(circuit int) bool {
	return j.meets(circuit, func(box string) bool { return j.changed[box] })
}

// meets reports whether the circuit comes to a box of some kind.
func (j *judge) meets(circuit int, is func(box string) bool) bool {
	for n := range wiring.Node(j.Graph.Nodes()) {
		if !j.Proof.Fed(n, circuit) {
			continue
		}
		for _, e := range j.Graph.Members(n) {
			if is(e.Box) {
				return true
			}
		}
	}
	return false
}

// circuit is one circuit, as package sizing has worked it out.
func (j *judge) circuit(k int) *rules.CircuitCase {
	c := &j.Sizes.Circuits[k].Case
	j.known(c, k)
	return c
}

// rooms says whether the circuit serves a bathroom; not known while any of its
// boxes has no room.
func (j *judge) rooms(c *rules.CircuitCase, k int) {
	wet := rules.No
	for _, b := range j.Inst.Boxes {
		if b.Kind.Mount == kit.MountBoard || !j.meets(k, func(box string) bool { return box == b.ID }) {
			continue
		}
		place := j.place(b)
		if place == rules.PlaceUnknown {
			wet = either(wet, rules.Unknown)
		}
		wet = either(wet, rules.Is(place == rules.PlaceBathroom))
	}
	c.Wet = wet
}

// points are the lamps, then the switches.
func (j *judge) points() []*rules.PointCase {
	var list []*rules.PointCase
	for _, i := range j.Graph.Lamps() {
		l := &j.Graph.Loads[i]
		kind := rules.KindLamp
		if l.Item.Kind.Class == kit.ClassFan {
			kind = rules.KindFan
		}
		list = append(list, j.point(l.Box, l.Item, kind))
	}
	for i := range j.Graph.Switches {
		s := &j.Graph.Switches[i]
		kind := rules.KindSwitch
		if s.Kind.Actuator == kit.ByPull {
			kind = rules.KindPull
		}
		list = append(list, j.point(s.Box, s.Item, kind))
	}
	return list
}

func (j *judge) point(b *wiring.Box, f *wiring.Fitted, kind rules.PointKind) *rules.PointCase {
	id := b.ID + "." + f.ID
	earth := slices.ContainsFunc(f.Kind.Terminals, func(t kit.Terminal) bool { return t.Role == kit.RoleEarth })
	return &rules.PointCase{
		Subject: finding.Subject("boxes." + id), Name: id, Kind: kind, Place: j.place(b), Zone: zone(b), IP: f.IP,
		New: rules.Is(j.changed[b.ID]), Extra: rules.No, Metal: rules.Is(f.Kind.ClassI),
		Earthed: rules.Is(!j.lacksEarth(id)), Hung: rules.Is(kind == rules.KindLamp && !earth && !f.Kind.ClassI && f.Kind.Holder),
	}
}

// lacksEarth goes by what the proof found.
func (j *judge) lacksEarth(id string) bool {
	box, _, _ := strings.Cut(id, ".")
	return slices.ContainsFunc(j.Proof.Findings, func(f finding.Finding) bool {
		return f.Code == "missing-cpc" && (f.Subject == finding.Subject("boxes."+id) || f.Subject == finding.Subject("boxes."+box))
	})
}

// Count is how many verdicts have each outcome.
func (r *Result) Count() map[rules.Outcome]int {
	n := map[rules.Outcome]int{}
	for i := range r.Verdicts {
		n[r.Verdicts[i].Outcome]++
	}
	return n
}

// Word is the outcome of a verdict as it is said of a reading.
func Word(v *rules.Verdict) string {
	switch {
	case v == nil:
		return string(rules.NotAssessed)
	case v.Outcome == rules.Met:
		return "pass"
	case Differs(v):
		return "differs"
	case v.Outcome == rules.NotMet:
		return "FAIL"
	}
	return string(v.Outcome)
}

// Group is verdicts of one outcome that ask for the same thing to be done.
type Group struct {
	First  *rules.Verdict
	Titles []string // of the rules, each once
	More   int      // other subjects
}

// Group gathers the verdicts of one outcome by what is to be done, in the
// order of the book.
func (r *Result) Group(o rules.Outcome) []Group {
	var list []Group
	subjects := map[string]map[finding.Subject]bool{}
	for i := range r.Verdicts {
		v := &r.Verdicts[i]
		if v.Outcome != o {
			continue
		}
		k := slices.IndexFunc(list, func(g Group) bool { return g.First.Fix == v.Fix })
		if k < 0 {
			k = len(list)
			list = append(list, Group{First: v})
			subjects[v.Fix] = map[finding.Subject]bool{}
		}
		if !slices.Contains(list[k].Titles, v.Title) {
			list[k].Titles = append(list[k].Titles, v.Title)
		}
		subjects[v.Fix][v.Subject] = true
		list[k].More = len(subjects[v.Fix]) - 1
	}
	return list
}

// Expected is the band that was predicted for the reading, in words; empty if
// there is none.
func (j *Judged) Expected() string {
	c := &j.Case
	switch {
	case c.Predicts:
		return "open"
	case !c.Forecast:
		return ""
	}
	return unit.Ohm(c.Predicted.Low).String() + " to " + unit.Ohm(c.Predicted.High).String()
}
