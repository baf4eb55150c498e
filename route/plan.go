package route

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"strapper/finding"
	"strapper/house"
	"strapper/internal/shortest"
	"strapper/kit"
	"strapper/unit"
)

// Run is a cable to find a way for. Tails are what is left at each end for
// terminating. Names are the boxes as the household calls them; "" stands for
// their ids.
type Run struct {
	ID       string
	From, To string // boxes
	Kind     *kit.Cable
	Tails    [2]MM
	Names    [2]string
}

// Plan is the ways found for all runs of a job.
type Plan struct {
	Runs     []Choice          `json:"runs"`
	Together *Bundle           `json:"together,omitempty"` // nil for a single run
	Findings []finding.Finding `json:"-"`
}

// Choice is the ways of one run. Routes holds a few of them, the best first;
// it is empty if there is none, and None says why.
type Choice struct {
	Run     string  `json:"cable"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Routes  []Route `json:"routes"`
	Front   int     `json:"not_beaten"` // ways that no other beats in length, mess and time
	Exact   bool    `json:"exact"`      // the whole front was found
	None    string  `json:"none,omitempty"`
	Surface bool    `json:"surface,omitempty"` // no hidden way: trunking
}

// Route is one way of a cable.
type Route struct {
	Because     []string  `json:"because"`            // "weighs least", "shortest", "least mess", "quickest"
	Length      MM        `json:"length_mm"`          // from box to box
	OffBy       MM        `json:"off_by_mm"`          // it may be longer or shorter
	Cut         MM        `json:"cut_mm"`             // with tails, at its longest, rounded up to 0.1 m
	Shop        MM        `json:"shopping_mm"`        // with waste
	Minutes     int       `json:"minutes"`            // expected
	MinutesBest int       `json:"minutes_if_clear"`   // if nothing stands in the way
	MinutesMost int       `json:"minutes_if_blocked"` // if everything that may be there is
	Mess        float64   `json:"mess"`               // points, expected
	Opened      int       `json:"opened"`             // places at which a finished wall is certainly opened
	Work        []Done    `json:"work"`               // what is certainly done, by its kind
	Steps       []Step    `json:"steps"`
	Holes       []Hole    `json:"holes"`
	Stretches   []Stretch `json:"stretches"`
	WhatIf      []WhatIf  `json:"what_if"`
	Clips       int       `json:"clips"`
	Bend        MM        `json:"least_bend_radius_mm,omitempty"` // 0: the table does not reach
	Notes       []string  `json:"notes,omitempty"`

	edges []int32
	start int32
}

// Step is one thing to do, in order from the first box to the second.
type Step struct {
	Text    string `json:"text"`
	Length  MM     `json:"length_mm,omitempty"`
	Minutes int    `json:"minutes,omitempty"`
	Tool    string `json:"tool,omitempty"`
}

// Stretch is a part of the way in one kind of place, straight on paper. Method
// is the reference method of installation by which the cable is rated there.
type Stretch struct {
	Space      Space        `json:"space"`
	From       Spot         `json:"from"`
	To         Spot         `json:"to"`
	Length     MM           `json:"length_mm"`
	Zone       string       `json:"zone,omitempty"`
	Method     string       `json:"method"`
	Surrounded MM           `json:"surrounded_mm,omitempty"` // length wholly in insulation
	WallID     string       `json:"wall,omitempty"`
	Held       bool         `json:"held,omitempty"` // to be held near the side with the zone
	Wall       *house.Wall  `json:"-"`
	Side       house.Side   `json:"-"`
	Along      [2]MM        `json:"-"` // on the wall
	High       [2]MM        `json:"-"` // over the finished floor
	Floor      *house.Floor `json:"-"`
}

// WhatIf is what to do if something stands in the way.
type WhatIf struct {
	What    string       `json:"what"`
	Likely  unit.Percent `json:"likely"`
	Do      string       `json:"do"`      // the better of the two below
	Stay    string       `json:"stay"`    // clear the way
	Minutes int          `json:"minutes"` // that Stay takes
	Other   string       `json:"other,omitempty"`
	More    int          `json:"more_minutes,omitempty"` // that the other way takes, made good included
}

// Bundle is the cheapest way of taking all runs together, sharing what is
// drilled, lifted and opened once.
type Bundle struct {
	Minutes int      `json:"minutes"`
	Mess    float64  `json:"mess"`
	Saves   int      `json:"saves_minutes"` // against each on its own best way
	Shared  []string `json:"shared"`        // what more than one cable uses
	Exact   bool     `json:"exact"`         // proved to weigh least
	Within  float64  `json:"within"`        // per cent: what weighs least is at most this much lighter
}

// Options are what the caller knows besides the house.
type Options struct {
	Waste unit.Percent // on the cut length
}

// Plan finds the ways of all runs. A box that the house does not know, or a run
// without a way, is a finding.
func (f *Finder) Plan(runs []Run, o Options) *Plan {
	p := &Plan{}
	for _, r := range runs {
		p.Runs = append(p.Runs, f.choose(r, o))
	}
	for i := range p.Runs {
		p.Findings = append(p.Findings, p.Runs[i].findings()...)
	}
	if l := f.h.Loft; l != nil && l.Height < f.l.LoftLeast {
		p.Findings = append(p.Findings, finding.Finding{
			Code: "loft-too-low", Severity: finding.Note, Subject: "house.loft",
			Text: fmt.Sprintf("nobody gets into a loft of %v at its highest, so no route goes through it", l.Height),
		})
	}
	if len(runs) > 1 {
		f.share(p, runs)
	}
	p.Together = f.together(runs)
	return p
}

// mostLabels bounds the search of one run, so that an answer comes at once.
const mostLabels = 400_000

func (f *Finder) choose(r Run, o Options) Choice {
	c := Choice{Run: r.ID, From: r.From, To: r.To, Routes: []Route{}}
	for _, id := range []string{r.From, r.To} {
		if f.h.Box(id) == nil {
			c.None = fmt.Sprintf("the house does not say where box %s is", id)
			return c
		}
	}
	if r.From == r.To {
		c.None = "the cable starts and ends in the same box"
		return c
	}
	for _, surface := range []bool{false, true} {
		g, err := f.graph(r.Kind, surface)
		if err != nil {
			c.None = err.Error()
			return c
		}
		front := g.front.Front(g.boxes[r.From], g.boxes[r.To], mostLabels)
		if len(front.Ways) > 0 {
			c.Surface, c.Exact, c.Front = surface, front.Exact, len(front.Ways)
			c.Routes = g.pick(r, o, front.Ways)
			return c
		}
		c.None = g.whyNone(r)
	}
	return c
}

// whyNone is the reason why no way leads between two boxes, as far as it is
// known.
func (g *graph) whyNone(r Run) string {
	for _, id := range []string{r.From, r.To} {
		for _, b := range g.barred {
			if len(b) > len(id) && b[:len(id)+1] == id+":" {
				return "no way out of box " + b
			}
		}
	}
	return "no route keeps to the zones, the joists and what is known to be in the way"
}

// pick takes from the front the way that weighs least, the shortest, the one
// with least mess and the quickest, each once.
func (g *graph) pick(r Run, o Options, ways []shortest.Way) []Route {
	score := func(w shortest.Way) float64 {
		return effort{float64(w.Cost[2]), float64(w.Cost[1])}.score(g.l) + MM(w.Cost[0]).Metres()
	}
	orders := []struct {
		because string
		of      func(w shortest.Way) float64
	}{
		{"weighs least", score},
		{"shortest", func(w shortest.Way) float64 { return float64(w.Cost[0]) }},
		{"least mess", func(w shortest.Way) float64 { return float64(w.Cost[1]) }},
		{"quickest", func(w shortest.Way) float64 { return float64(w.Cost[2]) }},
	}
	var routes []Route
	taken := map[int]int{}
	for _, order := range orders {
		best := 0
		for i := range ways {
			if d := cmp.Compare(order.of(ways[i]), order.of(ways[best])); d < 0 || d == 0 && score(ways[i]) < score(ways[best]) {
				best = i
			}
		}
		if at, known := taken[best]; known {
			routes[at].Because = append(routes[at].Because, order.because)
			continue
		}
		taken[best] = len(routes)
		route := g.route(r, o, ways[best].Arcs)
		route.Because = []string{order.because}
		routes = append(routes, route)
	}
	return routes
}

// route works out one way.
func (g *graph) route(r Run, o Options, arcs []int32) Route {
	e := g.estimate(arcs)
	route := Route{
		Length: e.Length, OffBy: e.OffBy, Minutes: e.Minutes, Mess: e.Mess, Opened: e.Opened,
		start: g.boxes[r.From], Work: g.work(arcs), Holes: []Hole{}, WhatIf: []WhatIf{},
	}
	var clear, most effort
	for _, arc := range arcs {
		route.edges = append(route.edges, arc/2)
		d := &g.edges[arc/2]
		clear = clear.plus(d.own).plus(d.shared)
		most = most.plus(d.own).plus(d.shared)
		for _, risk := range d.risks {
			clear = clear.plus(risk.extra.times(-risk.Likely.Fraction()))
			most = most.plus(risk.extra.times(1 - risk.Likely.Fraction()))
		}
	}
	route.MinutesBest, route.MinutesMost = minutes(clear.seconds), minutes(most.seconds)
	route.Cut = upTo(route.Length+route.OffBy+r.Tails[0]+r.Tails[1], 100)
	route.Shop = upTo(route.Cut+MM(math.Ceil(float64(route.Cut)*o.Waste.Fraction())), 100)
	g.stretch(&route)
	g.steps(r, &route)
	g.supports(r.Kind, &route)
	g.whatIf(r, &route)
	return route
}

func upTo(x, step MM) MM { return (x + step - 1) / step * step }

// mostCases bounds the search for joint ways, so that an answer comes within a
// second: a few per cent may be left unproved, which Bundle.Within tells.
const mostCases = 150

// together finds the ways of several runs that share what is done once.
func (f *Finder) together(runs []Run) *Bundle {
	if len(runs) < 2 {
		return nil
	}
	widest := slices.MaxFunc(runs, func(a, b Run) int { return cmp.Compare(a.Kind.Width, b.Kind.Width) }).Kind
	g, err := f.graph(widest, false)
	if err != nil {
		return nil
	}
	var ends [][2]int32
	for _, r := range runs {
		a, okA := g.boxes[r.From]
		b, okB := g.boxes[r.To]
		if !okA || !okB {
			return nil
		}
		ends = append(ends, [2]int32{a, b})
	}
	joint := g.score.Together(scoreOwn, ends, g.charges(widest), mostCases)
	if joint.Ways == nil {
		return nil
	}
	return g.bundle(joint)
}

// charges are the parts of edges that are done once for all cables. A hole
// takes as many cables as the largest drill lets pass.
func (g *graph) charges(k *kit.Cable) shortest.Shared {
	s := shortest.Shared{Of: make([]int32, 2*len(g.edges))}
	for i := range g.edges {
		s.Of[2*i], s.Of[2*i+1] = -1, -1
		e := &g.edges[i]
		if cost := uint32(math.Round(e.shared.score(g.l))); cost > 0 {
			s.Of[2*i], s.Of[2*i+1] = int32(len(s.Charges)), int32(len(s.Charges))
			s.Charges = append(s.Charges, shortest.Charge{Cost: cost, Most: g.room(e, k)})
		}
	}
	return s
}

// room is how many cables the holes of an edge may pass; 0 for any number.
func (g *graph) room(e *edge, k *kit.Cable) int {
	most := 0
	for _, t := range e.tasks {
		if t.hole == nil {
			continue
		}
		for n := 1; n <= 8; n++ {
			d, ok := g.l.Hole(k, n)
			if !ok || t.work == Joist && d > min(share(g.l.HoleShare, g.nodes[e.a].floor.Depth), g.l.HoleMost) {
				break
			}
			most = n
		}
	}
	return most
}

// bundle sums up a joint answer.
func (g *graph) bundle(j shortest.Joint) *Bundle {
	b := &Bundle{Exact: j.Exact, Shared: []string{}}
	users := map[int32]int{}
	var sum effort
	for _, way := range j.Ways {
		for _, arc := range way {
			users[arc/2]++
		}
	}
	var alone effort
	for _, i := range slices.Sorted(maps.Keys(users)) {
		e, n := &g.edges[i], users[i]
		sum = sum.plus(e.own.times(float64(n))).plus(e.shared)
		if n < 2 {
			continue
		}
		for _, t := range e.tasks {
			if op := g.o.Of(t.work); op != nil && op.Shared && !slices.Contains(b.Shared, op.Name) {
				b.Shared = append(b.Shared, op.Name)
			}
		}
	}
	slices.Sort(b.Shared)
	for _, way := range j.Ways {
		from, to := g.ends(way)
		for _, arc := range g.score.From(from, scoreAll, to).Way(to) {
			alone = alone.plus(g.edges[arc/2].own).plus(g.edges[arc/2].shared)
		}
	}
	b.Minutes, b.Mess = minutes(sum.seconds), math.Round(sum.mess)/10
	b.Within = math.Ceil(1000*(1-float64(j.AtLeast)/float64(max(j.Cost, 1)))) / 10
	b.Saves = max(0, minutes(alone.seconds)-b.Minutes)
	return b
}

// ends are the nodes at which a way begins and ends.
func (g *graph) ends(way []int32) (from, to int32) {
	at := func(arc int32, last bool) int32 {
		e := g.edges[arc/2]
		if (arc%2 == 0) == last {
			return e.b
		}
		return e.a
	}
	return at(way[0], false), at(way[len(way)-1], true)
}

// findings are what a run's ways mean for the work.
func (c *Choice) findings() []finding.Finding {
	at := finding.Subject("cables." + c.Run)
	var list []finding.Finding
	add := func(s finding.Severity, code, text, fix string) {
		list = append(list, finding.Finding{Code: code, Severity: s, Subject: at, Text: text, Fix: fix})
	}
	switch {
	case len(c.Routes) == 0:
		add(finding.Caution, "no-route", fmt.Sprintf("no route was found from %s to %s: %s", c.From, c.To, c.None),
			"say more about the house, move a box, or give the cable's length by hand")
		return list
	case c.Surface:
		add(finding.Caution, "only-on-surface", fmt.Sprintf("no hidden route keeps to the zones from %s to %s; the cable needs trunking", c.From, c.To),
			"show it to the household before you start, or move a box")
	}
	best := &c.Routes[0]
	for _, s := range best.Stretches {
		if s.Held {
			add(finding.Caution, "hold-from-face", fmt.Sprintf("in wall %s the zone of one side does not reach the other: the cable must stay 50 mm from the far face", s.WallID),
				"fix the cable to the side of the stud near the face with the zone, or protect it as the rules for hidden cables say")
			break
		}
	}
	for _, h := range best.Holes {
		if !h.Sure() {
			add(finding.Note, "measure-not-sure", fmt.Sprintf("the hole in the %s, %v from %s, may be out by %v when it is measured, and %v is all there is", h.Through, h.Distance, h.Datum, h.OffBy, h.Play),
				"make a 3 mm pilot through the ceiling close to the wall, over or under the box, and look for it from the other side")
			break
		}
	}
	return list
}
