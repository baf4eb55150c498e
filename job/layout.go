package job

import (
	"strconv"

	"strapper/kit"
	"strapper/wiring"
)

// point adds the lighting point and returns its box and its terminals: line
// and earth may be absent.
func (l *layer) point() (box string, t pointTerminals) {
	accessory := l.f.Accessory
	if accessory == "" {
		accessory = "ceiling-rose"
	}
	box = l.id("point")
	x := l.box("point", "ceiling-point", "lamp", accessory, l.f.Point, "point")
	if l.failed {
		return box, t
	}
	i := loadOf(x.Kind)
	if i < 0 {
		l.failAt(l.reading.at(append(l.path, "accessory")...), `name one that takes a lamp, such as "ceiling-rose"`, "%s takes no lamp", x.Kind.Title)
		return box, t
	}
	if l.f.Lamp != "" || l.f.Power != "" {
		x.Lamp = l.lamp(x.Kind, l.f.Lamp, l.f.Power, l.path...)
	}
	between := x.Kind.Loads[i].Between
	end := func(name string) wiring.End { return wiring.End{Box: box, Item: x.ID, Name: name} }
	return box, pointTerminals{role(box, x, kit.RoleLine), end(between[0]), end(between[1]), role(box, x, kit.RoleEarth)}
}

type pointTerminals struct{ line, switched, neutral, earth wiring.End }

func loadOf(a *kit.Accessory) int {
	for i, l := range a.Loads {
		if !l.Always {
			return i
		}
	}
	return -1
}

// switchBox adds the n-th switch, from 1.
func (l *layer) switchBox(n int, accessory string) (box string, x *wiring.Fitted) {
	part := "switch" + strconv.Itoa(n)
	var f *filePlace
	if n <= len(l.f.Switches) {
		f = &l.f.Switches[n-1]
	}
	return l.id(part), l.box(part, "plaster-1g-25", "s1", accessory, f, "switches", strconv.Itoa(n-1))
}

// feed adds the feed into a box, joined at its source.
func (l *layer) feed(box string) cableEnds {
	c := l.cable("feed", 2, l.from.box, box, l.f.Feed, "feed")
	if !l.failed {
		l.join(l.from.line, c.core(l.from.box, 0))
		l.join(l.from.neutral, c.core(l.from.box, 1))
		l.join(l.from.earth, c.earth(l.from.box))
		l.to = supplyPoint{box, c.core(box, 0), c.core(box, 1), c.earth(box)}
	}
	return c
}

func end(box string, x *wiring.Fitted, name string) wiring.End {
	return wiring.End{Box: box, Item: x.ID, Name: name}
}

// dropped lays the supply and the switch cable of a loop-in point; the drop's
// ends in box sw are left to be joined.
func (l *layer) dropped(sw string) cableEnds {
	box, t := l.point()
	feed := l.feed(box)
	drop := l.cable("drop", 2, box, sw, l.f.Drop, "drop")
	if l.failed {
		return drop
	}
	l.join(t.line, feed.core(box, 0), drop.core(box, 0))
	l.join(t.neutral, feed.core(box, 1))
	l.join(t.switched, drop.core(box, 1))
	l.join(t.earth, feed.earth(box), drop.earth(box))
	return drop
}

func (l *layer) loopInCeiling() {
	sw, x := l.switchBox(1, "one-way")
	drop := l.dropped(sw)
	if l.failed {
		return
	}
	l.join(end(sw, x, "COM"), drop.core(sw, 0))
	l.join(end(sw, x, "L1"), drop.core(sw, 1))
	l.join(drop.earth(sw))
}

func (l *layer) loopInSwitch() {
	sw, x := l.switchBox(1, "one-way")
	feed := l.feed(sw)
	lamp := l.toLamp(sw)
	if l.failed {
		return
	}
	l.join(end(sw, x, "COM"), feed.core(sw, 0))
	l.join(end(sw, x, "L1"), lamp.core(sw, 0))
	l.join(feed.core(sw, 1), lamp.core(sw, 1))
	l.join(feed.earth(sw), lamp.earth(sw))
}

// toLamp lays the point and the cable to it; its ends in box from are left to
// be joined: switched line and neutral.
func (l *layer) toLamp(from string) cableEnds {
	box, t := l.point()
	c := l.cable("lamp", 2, from, box, l.f.LampCable, "lamp-cable")
	if l.failed {
		return c
	}
	l.join(t.switched, c.core(box, 0))
	l.join(t.neutral, c.core(box, 1))
	l.join(t.earth, c.earth(box))
	return c
}

func (l *layer) jointBox() {
	box := l.id("joint")
	j := l.box("joint", "joint-box", "j", "joint-box", l.f.Joint, "joint")
	sw, x := l.switchBox(1, "one-way")
	feed := l.feed(box)
	drop := l.cable("drop", 2, box, sw, l.f.Drop, "drop")
	lamp := l.toLamp(box)
	if l.failed {
		return
	}
	var free []wiring.End
	for _, t := range j.Kind.Terminals {
		if t.Role == kit.AnyRole {
			free = append(free, end(box, j, t.Name))
		}
	}
	if len(free) < 3 {
		l.fail("", "%s has fewer than three terminals", j.Kind.Title)
		return
	}
	l.join(free[0], feed.core(box, 0), drop.core(box, 0))
	l.join(free[1], feed.core(box, 1), lamp.core(box, 1))
	l.join(free[2], drop.core(box, 1), lamp.core(box, 0))
	l.join(role(box, j, kit.RoleEarth), feed.earth(box), drop.earth(box), lamp.earth(box))
	l.join(end(sw, x, "COM"), drop.core(sw, 0))
	l.join(end(sw, x, "L1"), drop.core(sw, 1))
	l.join(drop.earth(sw))
}

func (l *layer) twoWayStrappers() {
	a, sa := l.switchBox(1, "two-way")
	b, sb := l.switchBox(2, "two-way")
	feed := l.feed(a)
	strap := l.strap(1, a, b)
	lamp := l.toLamp(b)
	if l.failed {
		return
	}
	l.join(end(a, sa, "COM"), feed.core(a, 0))
	l.join(end(a, sa, "L1"), strap.core(a, 0))
	l.join(end(a, sa, "L2"), strap.core(a, 1))
	l.join(feed.core(a, 1), strap.core(a, 2))
	l.join(feed.earth(a), strap.earth(a))
	l.join(end(b, sb, "L1"), strap.core(b, 0))
	l.join(end(b, sb, "L2"), strap.core(b, 1))
	l.join(end(b, sb, "COM"), lamp.core(b, 0))
	l.join(strap.core(b, 2), lamp.core(b, 1))
	l.join(strap.earth(b), lamp.earth(b))
}

func (l *layer) strap(n int, from, to string) cableEnds {
	length := l.f.Straps[n-1]
	return l.cable("strap"+strconv.Itoa(n), 3, from, to, length, "straps", strconv.Itoa(n-1))
}

// twoWayThreeCore also lays intermediate switches between the first and the
// last.
func (l *layer) twoWayThreeCore() {
	last := len(l.f.Straps) + 1
	a, sa := l.switchBox(1, "two-way")
	drop := l.dropped(a)
	if l.failed {
		return
	}
	in, box, x := drop, a, sa
	for n := 2; n <= last; n++ {
		accessory := "intermediate"
		if n == last {
			accessory = "two-way"
		}
		next, y := l.switchBox(n, accessory)
		out := l.strap(n-1, box, next)
		if l.failed {
			return
		}
		l.through(n == 2, box, x, in, out)
		in, box, x = out, next, y
	}
	l.join(end(box, x, "COM"), in.core(box, 0))
	l.join(end(box, x, "L1"), in.core(box, 1))
	l.join(end(box, x, "L2"), in.core(box, 2))
	l.join(in.earth(box))
}

// through joins one cable to the next in a switch box: the drop to the first
// three-core cable at a two-way switch, or two three-core cables at an
// intermediate switch.
func (l *layer) through(first bool, box string, x *wiring.Fitted, in, out cableEnds) {
	l.join(in.earth(box), out.earth(box))
	if first {
		l.join(end(box, x, "COM"), out.core(box, 0))
		l.join(end(box, x, "L1"), in.core(box, 0), out.core(box, 1))
		l.join(end(box, x, "L2"), in.core(box, 1), out.core(box, 2))
		return
	}
	near, far := sides(x.Kind)
	l.join(in.core(box, 0), out.core(box, 0))
	for i := range near {
		l.join(end(box, x, near[i]), in.core(box, i+1))
		l.join(end(box, x, far[i]), out.core(box, i+1))
	}
}

// sides are the two pairs of terminals of an intermediate switch: those of one
// side are never joined to each other.
func sides(a *kit.Accessory) (near, far []string) {
	first := a.Terminals[0].Name
	joined := map[string]bool{}
	for _, c := range a.Contacts {
		switch first {
		case c.Join[0]:
			joined[c.Join[1]] = true
		case c.Join[1]:
			joined[c.Join[0]] = true
		}
	}
	for _, t := range a.Terminals {
		if joined[t.Name] {
			far = append(far, t.Name)
		} else {
			near = append(near, t.Name)
		}
	}
	return near, far
}
