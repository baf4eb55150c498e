package cost

import (
	"fmt"
	"slices"

	"strapper/kit"
	"strapper/wiring"
)

// plates counts the plates of boxes in which the accessories behind a plate
// change. As many accessories as a box has gangs have a plate each; more share
// one plate. A gang that is left without an accessory gets a blank plate.
func (c *counter) plates() {
	for _, b := range c.left.Boxes {
		was := c.found.Box(b.ID)
		fresh := !hasBox(c.found, b)
		if b.Kind.Gangs < 1 || !fresh && samePlates(was, b) {
			continue
		}
		before, now := 0, behind(b)
		if !fresh {
			before = blanks(was)
		}
		if len(now) > 0 {
			c.plate(b, now)
		}
		if n := blanks(b) - before; n > 0 {
			c.add(Line{Part: Plate, Description: "Blank plate, 1 gang", Count: n, Why: b.Name() + ": a gang with nothing in it"})
		}
	}
}

func (c *counter) plate(b *wiring.Box, now []*wiring.Fitted) {
	for i := range min(b.Kind.Gangs, len(now)) {
		n := (len(now)-1-i)/b.Kind.Gangs + 1 // accessories behind the i-th gang
		if n == 1 && b.Kind.Gangs >= len(now) && hasItem(c.found, b.ID, now[i]) {
			continue // it keeps its own plate
		}
		c.add(Line{Part: Plate, Description: fmt.Sprintf("%d-gang plate", n), Count: 1, Why: b.Name() + plateNote})
	}
}

// plateNote keeps a plate from being bought twice.
const plateNote = " (none where it is one piece with the accessory)"

// behind lists the accessories that sit behind a plate of a box.
func behind(b *wiring.Box) []*wiring.Fitted {
	var list []*wiring.Fitted
	for _, f := range b.Fit {
		if f.Kind.Class != kit.ClassConnector {
			list = append(list, f)
		}
	}
	return list
}

func blanks(b *wiring.Box) int { return max(b.Kind.Gangs-len(behind(b)), 0) }

func samePlates(a, b *wiring.Box) bool {
	return slices.EqualFunc(behind(a), behind(b), func(x, y *wiring.Fitted) bool { return x.ID == y.ID && x.Kind.ID == y.Kind.ID })
}

// connectors counts free joints, and core ends made safe on their own, that no
// connector as found can hold. One as found is used again only where it keeps
// one of its ends and need not take more than before.
func (c *counter) connectors() {
	used := map[int]bool{}
	for _, j := range c.left.Joints {
		ends := ways(c.left, j)
		if ends == 0 || c.heldAlready(j, used) {
			continue
		}
		c.add(Line{
			Part: Connector, Description: fmt.Sprintf("Connector for %d or more", max(ends, 2)), Count: 1,
			Why: c.left.Box(j.Box).Name() + ": " + holds(j),
		})
	}
}

func holds(j wiring.Joint) string {
	text := ""
	for i, e := range j.Ends {
		if i > 0 {
			text += ", "
		}
		text += e.String()
	}
	return text
}

// ways is the number of core ends of a free joint; 0 if the joint has a
// terminal, is empty, or stands in a box that does not exist.
func ways(in *wiring.Installation, j wiring.Joint) int {
	if in.Box(j.Box) == nil {
		return 0
	}
	for _, e := range j.Ends {
		if in.Cable(e.Item) == nil {
			return 0
		}
	}
	return len(j.Ends)
}

func (c *counter) heldAlready(j wiring.Joint, used map[int]bool) bool {
	for i, was := range c.found.Joints {
		if used[i] || was.Box != j.Box || ways(c.found, was) < len(j.Ends) {
			continue
		}
		for _, e := range was.Ends {
			if k := c.left.Cable(e.Item); k != nil && wiring.SameCable(c.found.Cable(e.Item), k) && slices.Contains(j.Ends, e) {
				used[i] = true
				return true
			}
		}
	}
	return false
}

// smallParts counts sleeving, grommets and clips.
func (c *counter) smallParts() {
	if c.o.Sleeves > 0 {
		c.add(Line{Part: Sleeving, Description: "Piece of identification sleeving", Count: c.o.Sleeves, Why: "one for each end to be marked"})
	}
	for _, k := range c.newCables() {
		for _, id := range []string{k.From, k.To} {
			if b := c.left.Box(id); b != nil && b.Kind.Mount == kit.MountPlaster {
				c.add(Line{Part: Grommet, Description: "Grommet, 20 mm", Count: 1, Why: k.ID + " into " + b.Name()})
			}
		}
	}
	if c.o.Clips {
		c.clips()
	}
}

// clips counts one clip for each spacing begun, at the horizontal spacing,
// which is the closer one.
func (c *counter) clips() {
	for _, k := range c.newCables() {
		s, ok := spacing(k.Kind.Width)
		if !ok {
			continue
		}
		n := (k.Length + k.Tolerance + s - 1) / s
		c.add(Line{
			Part: Clip, Kind: k.Kind.ID, Description: "Clip for " + k.Kind.Title, Count: int(n),
			Why: fmt.Sprintf("%s: one each %v, if clipped all the way", k.ID, s),
		})
	}
}

// Sleeves is the number of ends that a list of moves wants sleeved, or checked
// for a sleeve that may be missing: what [Options] asks for.
func Sleeves(moves []wiring.BoxMoves) (n int) {
	for _, b := range moves {
		for _, m := range b.Moves {
			if m.Kind == wiring.Sleeve || m.Kind == wiring.Check {
				n++
			}
		}
	}
	return n
}
