package job

import (
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

func boxItem(box, item string) finding.Subject {
	return finding.Subject("boxes." + box + "." + item)
}

// wants resolves the control asked for against the last stage. Wants that name
// places instead of switches are left to ask.
func (r *reading) wants(s *stage) []switching.Want {
	c := &control{reading: r, s: s, lit: map[string]place{}}
	var list []switching.Want
	for i, f := range r.text.Want {
		n := strconv.Itoa(i)
		if _, v, whole := r.root.walk("want", n); !whole || v.kind != isMap {
			continue
		}
		s.note(r.at("want", n), "want", n)
		if r.places(n) {
			c.lamps(n, f.Lamps)
			continue
		}
		if len(f.From) == 0 && !r.given("want", n, "from") {
			r.report(r.at("want", n), "give from: with the switches there will be, or at: with the boxes they are wanted in", "this want does not say from where the lamps are worked")
		}
		w := switching.Want{Lamps: f.Lamps, From: f.From, Off: f.Off, Rule: rule(f.Rule), Subject: finding.Subject("want." + n)}
		c.want(n, w)
		list = append(list, w)
	}
	return list
}

func rule(text string) switching.Rule {
	if text == "" {
		return switching.RuleToggle
	}
	return switching.Rule(text)
}

// given reports whether the file has something under a path.
func (r *reading) given(path ...string) bool {
	_, _, whole := r.root.walk(path...)
	return whole
}

// control checks the names that wants use.
type control struct {
	*reading
	s   *stage
	lit map[string]place // lamps that a want has already
}

// lamps checks the lamps of a want.
func (c *control) lamps(n string, ids []string) {
	for i, id := range ids {
		at := c.at("want", n, "lamps", strconv.Itoa(i))
		if c.exists(at, id, "lamp", isLamp) {
			c.lampOnce(at, id)
		}
	}
}

func (c *control) want(n string, w switching.Want) {
	c.lamps(n, w.Lamps)
	used := map[string]place{}
	for _, list := range []struct {
		key string
		ids []string
	}{{"from", w.From}, {"off", w.Off}} {
		for i, id := range list.ids {
			at := c.at("want", n, list.key, strconv.Itoa(i))
			if !c.exists(at, id, "switch", isSwitch) {
				continue
			}
			c.operable(at, id)
			if first, again := used[id]; again {
				c.report(at, "name each switch once", "switch %s is named a second time in this want; the first is on line %d", id, first.line)
			}
			used[id] = at
		}
	}
}

func isLamp(x *wiring.Fitted) bool {
	return slices.ContainsFunc(x.Kind.Loads, func(l kit.Load) bool { return !l.Always })
}

func isSwitch(x *wiring.Fitted) bool { return len(x.Kind.Positions) > 1 }

// all lists the ids "box.item" of the fitted things that are of a sort.
func (c *control) all(sort func(*wiring.Fitted) bool) []string {
	var ids []string
	for _, b := range c.s.in.Boxes {
		for _, x := range b.Fit {
			if sort(x) {
				ids = append(ids, b.ID+"."+x.ID)
			}
		}
	}
	return ids
}

// exists checks that an id names a fitted thing of the sort meant.
func (c *control) exists(at place, id, what string, sort func(*wiring.Fitted) bool) bool {
	x := c.fitted(id)
	ids := c.all(sort)
	switch {
	case id == "" || c.incomplete && x == nil || c.follows(finding.Subject(id)):
		return false
	case x == nil && !strings.Contains(id, "."):
		c.report(at, c.inBox(id, ids), "%q is not written box.item", id)
	case x == nil:
		c.report(at, didYouMean(id, ids), "there is no %s called %q once the work is done", what, id)
	case !sort(x):
		c.report(at, didYouMean(id, ids), "%s is no %s but: %s", id, what, x.Kind.Title)
	default:
		return true
	}
	return false
}

// inBox suggests what is fitted in the box that was named alone.
func (c *control) inBox(box string, ids []string) string {
	for _, id := range ids {
		if strings.HasPrefix(id, box+".") {
			return "did you mean \"" + id + "\"?"
		}
	}
	return didYouMean(box, ids)
}

func (c *control) fitted(id string) *wiring.Fitted {
	box, item, _ := strings.Cut(id, ".")
	if b := c.s.in.Box(box); b != nil {
		return b.Fitted(item)
	}
	return nil
}

func (c *control) lampOnce(at place, id string) {
	if first, again := c.lit[id]; again {
		c.report(at, "put all its switches into one want", "lamp %s is already wanted on line %d", id, first.line)
		return
	}
	c.lit[id] = at
}

// operable checks that a person or a sensor works the switch, not a coil.
func (c *control) operable(at place, id string) {
	x := c.fitted(id)
	if x.Kind.Actuator == kit.ByCoil {
		c.report(at, "name the push switches that energise it", "%s is worked by its coil, not by hand", id)
	}
}
