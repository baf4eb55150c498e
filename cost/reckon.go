package cost

import (
	"fmt"
	"strings"

	"strapper/route"
	"strapper/wiring"
)

// The parts that routes and records need.
const (
	Protection Part = "protection"
	Good       Part = "making good"
	Label      Part = "label"
)

// Change is a change of wiring with what was worked out of it.
type Change struct {
	Found, Left *wiring.Installation
	Moves       []wiring.BoxMoves
	Routes      *route.Plan        // nil: no route was worked out
	Stated      map[string]float64 // minutes to run a cable, where the job states them
}

func (c *Change) found() *wiring.Installation {
	if c.Found == nil {
		return &wiring.Installation{}
	}
	return c.Found
}

// way is the route that a cable takes; nil if none was worked out.
func (c *Change) way(cable string) *route.Route {
	if c.Routes == nil {
		return nil
	}
	for i := range c.Routes.Runs {
		if r := &c.Routes.Runs[i]; r.Run == cable && len(r.Routes) > 0 {
			return &r.Routes[0]
		}
	}
	return nil
}

// Needs is all that a change needs: what is bought for it and what is done.
type Needs struct {
	Lines []Line `json:"parts"`
	Tasks []Task `json:"tasks"`

	Cables []string `json:"new_cables"` // from where to where, in the words of the household
}

// Reckon lists the parts and the work of a change: those of [Count], what the
// routes use up, clips, a label for the consumer unit, and the times. Nothing
// as left needs nothing.
func (n *Norms) Reckon(c Change) Needs {
	if c.Left == nil || len(c.Moves) == 0 {
		return Needs{}
	}
	lines := Count(c.Found, c.Left, Options{Sleeves: Sleeves(c.Moves)}).Lines
	for _, l := range n.along(c) {
		lines = add(lines, l)
	}
	return Needs{Lines: lines, Tasks: n.work(c), Cables: c.cables()}
}

// cables are the new cables by their ends.
func (c *Change) cables() []string {
	var list []string
	for _, k := range missing(c.Left, c.found()) {
		from, to := k.From, k.To
		if b := c.Left.Box(from); b != nil {
			from = b.Name()
		}
		if b := c.Left.Box(to); b != nil {
			to = b.Name()
		}
		list = append(list, from+" to "+to)
	}
	return list
}

// along is what the new cables use up on their ways.
func (n *Norms) along(c Change) []Line {
	var list []Line
	for _, k := range missing(c.Left, c.found()) {
		w := c.way(k.ID)
		if w == nil {
			if s, ok := spacing(k.Kind.Width); ok {
				list = append(list, clip(k, int((k.Length+k.Tolerance+s-1)/s), fmt.Sprintf("one each %v, its way not worked out", s)))
			}
			continue
		}
		list = append(list, clip(k, w.Clips, "along its route"))
		list = append(list, n.used(k.ID, w)...)
	}
	return append(list, Line{Part: Label, Description: "Label for the consumer unit", Count: 1, Why: "the altered circuit"})
}

func clip(k *wiring.Cable, count int, why string) Line {
	return Line{Part: Clip, Kind: k.Kind.ID, Description: "Clip for " + k.Kind.Title, Count: count, Why: k.ID + ": " + why}
}

// used is what one route uses up. What two routes share is counted with each.
func (n *Norms) used(cable string, w *route.Route) []Line {
	var list []Line
	plates := 0
	for _, h := range w.Holes {
		if h.Plate {
			plates++
		}
	}
	if plates > 0 {
		list = append(list, Line{Part: Protection, Kind: "steel-plate", Description: "Steel plate over a hole or notch in timber, 3 mm", Count: plates, Why: cable})
	}
	for _, d := range w.Work {
		for _, m := range n.materials {
			if count := m.Each*d.Times + m.Metre*metresOf(d.Length); m.Work == d.Work && count > 0 {
				list = append(list, Line{Part: Good, Kind: m.Item, Description: m.Name, Count: count, Why: fmt.Sprintf("%s: %s", cable, d.Work)})
			}
		}
	}
	return list
}

// Items are the names under which a price list may have the thing of a line, the
// closest first: the id in the catalogue, then what stands for all of a sort.
func (l *Line) Items() []string {
	var list []string
	switch l.Part {
	case Clip:
		return []string{"clip-" + l.Kind, "clip"}
	case Plate:
		return []string{strings.ReplaceAll(strings.ToLower(strings.ReplaceAll(l.Description, ",", "")), " ", "-"), "plate"}
	case Connector:
		var ways int
		fmt.Sscanf(l.Description, "Connector for %d", &ways)
		for n := ways; n <= 8; n++ {
			list = append(list, fmt.Sprintf("connector-%d", n))
		}
		return list
	case Sleeving:
		return []string{"sleeve"}
	case Grommet:
		return []string{"grommet"}
	case Label:
		return []string{"label"}
	case Lamp:
		return []string{"lamp-" + l.Kind}
	}
	return []string{l.Kind}
}

// units is how much of a line has to be bought: whole metres, or pieces.
func (l *Line) units() (n int, of string) {
	if l.Length > 0 {
		return metresOf(l.Length), byLength
	}
	return l.Count, byPiece
}
