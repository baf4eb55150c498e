package job

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/wiring"
)

// left resolves the wiring as left: the wiring as found with the changes of
// the left: section. What was found is not altered.
func (r *reading) left(found *stage) *stage {
	f := r.text.Left
	if f == nil {
		f = &fileLeft{}
	}
	s := &stage{in: clone(found.in), places: places{}, joined: map[wiring.End]place{}}
	s.note(r.name("left"), "job")
	gone := r.removed(s, f)
	for _, k := range r.keys("left", "boxes") {
		r.leftBox(s, k, f.Boxes[k.name], gone)
	}
	for _, k := range r.keys("left", "cables") {
		r.leftCable(s, found, k, f.Cables[k.name])
	}
	for _, k := range r.keys("left", "joints") {
		if at, removed := gone["boxes."+k.name]; removed {
			r.report(k.at, "delete one of the two", "joints are given for box %s, which is removed on line %d", k.name, at.line)
			continue
		}
		s.in.Joints = slices.DeleteFunc(s.in.Joints, func(j wiring.Joint) bool { return j.Box == k.name })
		r.joints(s, k, "left", "joints", k.name)
	}
	r.leftovers(s, gone)
	return s
}

// removed takes out the boxes and cables of left.remove and returns where each
// is removed, by subject.
func (r *reading) removed(s *stage, f *fileLeft) map[string]place {
	gone := map[string]place{}
	for i, id := range f.Remove.Cables {
		at := r.at("left", "remove", "cables", strconv.Itoa(i))
		if s.in.Cable(id) == nil {
			r.notThere(gone, "cables."+id, at, didYouMean(id, s.cableIDs()), "cable", id)
			continue
		}
		gone["cables."+id] = at
		s.note(at, "cables", id)
		s.in.Cables = slices.DeleteFunc(s.in.Cables, func(c *wiring.Cable) bool { return c.ID == id })
	}
	for i, id := range f.Remove.Boxes {
		at := r.at("left", "remove", "boxes", strconv.Itoa(i))
		if s.in.Box(id) == nil {
			r.notThere(gone, "boxes."+id, at, didYouMean(id, s.boxIDs()), "box", id)
			continue
		}
		gone["boxes."+id] = at
		s.note(at, "boxes", id)
		s.in.Boxes = slices.DeleteFunc(s.in.Boxes, func(b *wiring.Box) bool { return b.ID == id })
		s.in.Joints = slices.DeleteFunc(s.in.Joints, func(j wiring.Joint) bool { return j.Box == id })
	}
	return gone
}

// notThere reports the removal of what does not exist, or does no longer.
func (r *reading) notThere(gone map[string]place, subject string, at place, fix, what, id string) {
	switch before, again := gone[subject]; {
	case again:
		r.report(at, "delete it here", "%s %q is already removed on line %d", what, id, before.line)
	case id != "" && !r.suspect[id] && !r.incomplete:
		r.report(at, fix, "there is no %s called %q to remove", what, id)
	}
}

// leftBox adds a new box, or changes one that was found.
func (r *reading) leftBox(s *stage, k key, f fileLeftBox, gone map[string]place) {
	s.note(k.at, "boxes", k.name)
	if at, removed := gone["boxes."+k.name]; removed {
		r.report(k.at, "delete one of the two", "box %s is changed here and removed on line %d", k.name, at.line)
		return
	}
	i := slices.IndexFunc(s.in.Boxes, func(b *wiring.Box) bool { return b.ID == k.name })
	b := &wiring.Box{ID: k.name}
	if i < 0 {
		s.in.Boxes = append(s.in.Boxes, b)
		if f.Kind == "" {
			r.kindless(s, k)
		}
	} else {
		*b = *s.in.Boxes[i]
		b.Fit = slices.Clone(b.Fit)
		s.in.Boxes[i] = b
	}
	r.describe(b, f)
	r.placed(b, f.filePlaced, "left", "boxes", k.name)
	for _, item := range r.keys("left", "boxes", k.name, "fit") {
		r.leftItem(s, b, item, f.Fit[item.name])
	}
}

// kindless reports a new box without a kind; it may be one found, misspelt.
func (r *reading) kindless(s *stage, k key) {
	others := slices.DeleteFunc(s.boxIDs(), func(id string) bool { return id == k.name })
	fix := `add it, such as "kind: plaster-1g-35"`
	if near := finding.Nearest(k.name, others); near != "" {
		fix = fmt.Sprintf("did you mean %q?", near)
		r.refuse(near)
	}
	r.refuse(k.name)
	if !r.incomplete {
		r.report(k.at, fix, "box %q is not there as found, so its kind is needed", k.name)
	}
}

func (r *reading) describe(b *wiring.Box, f fileLeftBox) {
	if f.Title != "" {
		b.Title = f.Title
	}
	if f.Kind == "" {
		return
	}
	kind := look(r, r.cat.Boxes, f.Kind, "box", "left", "boxes", b.ID, "kind")
	if kind == nil {
		r.refuse(b.ID)
		return
	}
	b.Kind = kind
}

// leftItem fits, exchanges or takes out one accessory.
func (r *reading) leftItem(s *stage, b *wiring.Box, k key, f *fileItem) {
	path := []string{"left", "boxes", b.ID, "fit", k.name}
	at := slices.IndexFunc(b.Fit, func(x *wiring.Fitted) bool { return x.ID == k.name })
	if _, v, _ := r.root.walk(path...); v.kind == isNull {
		s.note(k.at, "boxes", b.ID, k.name)
		if at < 0 && !r.incomplete {
			r.report(k.at, didYouMean(k.name, itemIDs(b)), "nothing called %q is fitted in box %s that could be taken out", k.name, b.ID)
		}
		if at < 0 {
			return
		}
		b.Fit = slices.Delete(b.Fit, at, at+1)
		return
	}
	x := r.item(s, b.ID, k, f, path...)
	switch {
	case x == nil:
	case at < 0:
		b.Fit = append(b.Fit, x)
	default:
		b.Fit[at] = x
	}
}

func itemIDs(b *wiring.Box) []string {
	ids := make([]string, len(b.Fit))
	for i, x := range b.Fit {
		ids[i] = x.ID
	}
	return ids
}

// leftCable adds a new cable under a name that was not used as found.
func (r *reading) leftCable(s, found *stage, k key, f fileCable) {
	if found.in.Cable(k.name) != nil {
		r.report(k.at, "give the new cable another name; put the old one under left: remove: if it goes", "cable %q is there already as found", k.name)
		return
	}
	r.cable(s, k, f, "left", "cables", k.name)
}

// leftovers reports what still hangs on things that were taken out: cables
// that end in a box removed, and joints as found that hold ends removed.
func (r *reading) leftovers(s *stage, gone map[string]place) {
	for _, c := range s.in.Cables {
		for _, end := range []string{c.From, c.To} {
			if at, removed := gone["boxes."+end]; removed {
				r.report(at, "remove the cable too, or leave the box", "box %s is removed, but cable %s still ends in it", end, c.ID)
				r.refuse(c.ID)
			}
		}
	}
	for _, j := range s.in.Joints {
		for _, e := range j.Ends {
			if _, again := s.joined[e]; again {
				continue
			}
			at, removed := gone["cables."+e.Item]
			why := "cable " + e.Item + " is removed"
			if b := s.in.Box(j.Box); !removed && b != nil && r.takenOut(b, e.Item) {
				at, removed = s.places[boxItem(b.ID, e.Item)], true
				why = e.Item + " is taken out of box " + b.ID
			}
			if removed && !r.suspect[j.Box+"/"+e.Item] {
				r.report(at, "give all joints of box "+j.Box+" under left: joints:", "%s, but the joints of box %s as found still hold %s", why, j.Box, e)
				r.refuse(j.Box + "/" + e.Item)
				r.refuse(e.Item)
			}
		}
	}
	maps.DeleteFunc(r.suspect, func(id string, _ bool) bool { return strings.Contains(id, "/") })
}

// takenOut reports whether the file takes an item out of a box.
func (r *reading) takenOut(b *wiring.Box, item string) bool {
	_, v, whole := r.root.walk("left", "boxes", b.ID, "fit", item)
	return whole && v.kind == isNull
}

// clone copies an installation so that its lists can be changed; the boxes
// and cables themselves are shared and must be replaced, not changed.
func clone(in *wiring.Installation) *wiring.Installation {
	c := *in
	c.Circuits, c.Boxes = slices.Clone(in.Circuits), slices.Clone(in.Boxes)
	c.Cables, c.Joints = slices.Clone(in.Cables), slices.Clone(in.Joints)
	return &c
}
