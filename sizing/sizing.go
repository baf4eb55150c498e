// Package sizing answers, for each circuit of a job: what does it draw, what
// may its cables and its device carry where they lie, what voltage is lost on
// the way to the farthest lamp in the worst position of the switches, how
// large is the earth fault loop with the strappers in it, how soon is a fault
// cleared, and how much longer could a run be before any of it fails?
//
// It fills a rules.CircuitCase and leaves the judging to a rule book, which it
// also asks for every tabulated value: there is no figure of a standard in
// here. What the book does not answer stays not known, with the reason.
//
// Method. The line's path through switches and strappers is taken from the
// wiring itself, position by position: for each state the shortest path by
// resistance (Dijkstra, Numer. Math. 1 (1959) 269), and the worst state is then
// solved as a numeric network, which gives the figure. Currents are those of
// the design (lampholders at what the book has them count for), so the voltage
// drop holds for any lamp that may be put in. Lengths are taken at the long end
// of their tolerance, conductors at the tabulated maximum and working
// temperature.
//
// It does not choose where a cable runs, nor judge a reading.
package sizing

import (
	"fmt"
	"math"
	"slices"

	"strapper/finding"
	"strapper/kit"
	"strapper/rules"
	"strapper/source"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// Sizes is what was worked out of one condition of the wiring.
type Sizes struct {
	Book     string    `json:"book"`
	Circuits []Circuit `json:"circuits"`
	Neutrals []Neutral `json:"neutrals"`
}

// Circuit is one circuit with every figure, its case for the book, and what
// the book says of it once judged.
type Circuit struct {
	Circuit   *wiring.Circuit   `json:"-"`
	ID        string            `json:"circuit"`
	Case      rules.CircuitCase `json:"-"`
	Figures   []Figure          `json:"figures"`
	Demands   []Demand          `json:"demands"`
	Stretches []Stretch         `json:"stretches"`
	Path      []Leg             `json:"path"`       // to the point of the greatest loop impedance, out and back
	PathTo    string            `json:"path_to"`    // that point
	PathState string            `json:"path_state"` // in words
	Runs      []Longest         `json:"longest_runs"`
	Old       []Old             `json:"old"`
	Verdicts  []rules.Verdict   `json:"verdicts"`
}

// Figure is one quantity with the arithmetic behind it and how much there is
// to spare. Known is false where it could not be worked out; Why says why.
type Figure struct {
	Symbol  string         `json:"symbol"` // "Ib"
	Name    string         `json:"name"`
	At      string         `json:"at,omitempty"` // the point or cable it is about
	Known   bool           `json:"known"`
	Value   rules.Measure  `json:"value"`
	Limit   *rules.Measure `json:"limit,omitempty"`
	Sense   string         `json:"sense,omitempty"`  // "at most", "at least"
	Passes  string         `json:"passes,omitempty"` // "passes to 41 m"
	Why     string         `json:"why,omitempty"`
	Working []string       `json:"working"`
	Cells   []rules.Cell   `json:"cells,omitempty"`
}

// Met reports whether the value keeps its limit; true where there is none.
func (f *Figure) Met() bool {
	switch {
	case !f.Known || f.Limit == nil:
		return true
	case f.Sense == "at least":
		return f.Value.Number >= f.Limit.Number*(1-1e-9)
	}
	return f.Value.Number <= f.Limit.Number*(1+1e-9)
}

// Margin is what is left to the limit as a share of it, negative beyond; ok is
// false where there is nothing to compare.
func (f *Figure) Margin() (share unit.Percent, ok bool) {
	if !f.Known || f.Limit == nil || f.Limit.Number == 0 {
		return 0, false
	}
	d := 1 - f.Value.Number/f.Limit.Number
	if f.Sense == "at least" {
		d = -d
	}
	return unit.Percent(100 * d), true
}

func (f *Figure) work(format string, args ...any) {
	f.Working = append(f.Working, fmt.Sprintf(format, args...))
}

// take adds what an answer of the book rests on; if it has none the figure
// stays not known.
func (f *Figure) take(t rules.Trail) bool {
	f.Cells = append(f.Cells, t.Cells...)
	if !t.Found {
		f.Why = t.Why
		return false
	}
	if t.Working != "" {
		f.Working = append(f.Working, t.Working)
	}
	return true
}

func (f *Figure) set(v rules.Measure) { f.Known, f.Value = true, v }

func (f *Figure) limit(sense string, l rules.Measure) { f.Sense, f.Limit = sense, &l }

// Options are what a sizing rests on besides the wiring.
type Options struct {
	Book *rules.Book
	// Found is the wiring as found where the graph is that as left; nil where
	// nothing changes. It tells what is new.
	Found *wiring.Graph
	// Laid is how cables lie of which the wiring does not say it, by id: from
	// their routes through the house. See [Stretches].
	Laid map[string][]wiring.Stretch
}

// MostStates is the greatest number of states that are gone through one by
// one for the volt drop and the loop. Beyond it each lamp's own switches are,
// with as many of the other lamps lit as will light together; see [Size].
const MostStates = 1 << 8

// Size works out every circuit of a graph. An error means that the wiring
// cannot be made a network; what cannot be worked out of one circuit is a
// figure that is not known. Beyond [MostStates] the worst position is exact
// for lamps that do not share switches.
func Size(g *wiring.Graph, p *switching.Proof, cat *kit.Catalogue, o Options) (*Sizes, error) {
	if o.Book == nil {
		return nil, fmt.Errorf("sizing: no rule book is given")
	}
	s := &Sizes{Book: o.Book.Name(), Neutrals: neutrals(g, p)}
	for i := range g.Origins {
		if g.Origins[i].Circuit.Device == nil {
			return nil, fmt.Errorf("circuit %s: no protective device is named; name one under device", g.Origins[i].Circuit.ID)
		}
		c := &sizer{g: g, p: p, cat: cat, Options: o, origin: i, most: MostStates}
		if err := c.size(); err != nil {
			return nil, fmt.Errorf("circuit %s: %w", g.Origins[i].Circuit.ID, err)
		}
		s.Circuits = append(s.Circuits, c.out)
	}
	return s, nil
}

// Judge has the book judge every circuit. Whatever else is known of a circuit
// (rooms, bonding) is to be put into its Case before.
func (s *Sizes) Judge(b *rules.Book, stage string) {
	for i := range s.Circuits {
		c := &s.Circuits[i]
		c.Verdicts = b.Circuit(nil, &c.Case)
		for k := range c.Verdicts {
			c.Verdicts[k].Stage = stage
		}
	}
}

// A sizer works out one circuit.
type sizer struct {
	g   *wiring.Graph
	p   *switching.Proof
	cat *kit.Catalogue
	Options
	origin int
	most   uint64 // states gone through one by one
	out    Circuit

	warm  float64 // factor from 20 °C to working temperature, cpc with the line
	temp  unit.Celsius
	loads []int           // fed by the circuit
	use   []*wiring.Cable // of which some core belongs to the circuit
	load  []wiring.Load   // all of the graph, at design current
	total unit.Ampere     // design current
	far   trace           // the point of the greatest loop impedance

	edgesAt [][]int        // by node; see touching
	chosen  []wiring.State // see states
	minded  map[int][]int  // by load: the switches that change it; see switched
}

func (c *sizer) circuit() *wiring.Circuit { return c.g.Origins[c.origin].Circuit }

func (c *sizer) voltage() unit.Volt {
	if u := c.g.Inst.Supply.Voltage; u > 0 {
		return u
	}
	return 230
}

func (c *sizer) size() error {
	k := c.circuit()
	c.out.Circuit, c.out.ID = k, k.ID
	c.facts()
	c.warmth()
	c.demand()
	c.capacity()
	if err := c.drop(); err != nil {
		return err
	}
	if err := c.loop(); err != nil {
		return err
	}
	c.fault()
	c.heat()
	c.inrush()
	c.dimmers()
	c.out.Runs = c.longest()
	c.old()
	return nil
}

// facts fills in what needs no arithmetic.
func (c *sizer) facts() {
	k, s := c.circuit(), c.g.Inst.Supply
	x := &c.out.Case
	x.Subject, x.Name = finding.Subject("circuits."+k.ID), "circuit "+k.ID
	x.System, x.Voltage, x.Use = string(s.Earthing), c.voltage(), "lighting"
	x.DeviceKind, x.Curve, x.Rated, x.Capacity = string(k.Device.Type), k.Device.Curve, k.Device.Rating, k.Breaking
	x.RCD = rules.Know(rules.Guard(residual(k)))
	x.RCDType = k.RCDType
	x.Overload = rules.Yes
	x.EarthRuns, x.Insulation, x.Sheath = rules.InCable, rules.Thermoplastic70, "pvc"
	if s.Ze > 0 {
		x.Ze = rules.Know(s.Ze)
	}
	c.loads = c.fed()
	c.use = c.cables()
	x.Serves = rules.Is(slices.ContainsFunc(c.loads, func(i int) bool { return !c.g.Loads[i].Always && c.g.Loads[i].Item.Kind.Class == kit.ClassLamp }))
	x.Holders = rules.Is(slices.ContainsFunc(c.loads, func(i int) bool { return c.g.Loads[i].Item.Kind.Holder }))
	x.Direct = rules.Is(slices.ContainsFunc(c.loads, func(i int) bool { return electronic(c.g.Loads[i].Lamp) }))
	c.conductors()
	c.changes()
}

// residual is the rated residual current that protects a circuit; 0 for none.
func residual(k *wiring.Circuit) unit.Ampere {
	switch {
	case k.Device != nil && k.Device.Residual > 0:
		return k.Device.Residual
	case k.RCD != nil:
		return k.RCD.Residual
	}
	return 0
}

func electronic(l *kit.LampKind) bool { return l != nil && l.Idle > 0 && l.PowerFactor < 1 }

// fed lists the loads that the circuit can feed.
func (c *sizer) fed() (list []int) {
	for i := range c.g.Loads {
		if l := &c.g.Loads[i]; c.p.Fed(l.A, c.origin) || c.p.Fed(l.B, c.origin) {
			list = append(list, i)
		}
	}
	return list
}

// cables lists the cables of which some core can carry the circuit.
func (c *sizer) cables() (list []*wiring.Cable) {
	for _, k := range c.g.Inst.Cables {
		for i := range k.Kind.Cores {
			n, ok := c.g.Node(wiring.End{Box: k.From, Item: k.ID, Name: k.Kind.Cores[i].Name})
			if ok && !k.Kind.Cores[i].Earth && c.p.Fed(n, c.origin) {
				list = append(list, k)
				break
			}
		}
	}
	return list
}

// conductors notes the thinnest line conductor and cpc, and old cable. A
// cable of one core brings no cpc of its own and needs none.
func (c *sizer) conductors() {
	x := &c.out.Case
	earth, none := unit.SquareMillimetre(math.Inf(1)), false
	for _, k := range c.use {
		own := unit.SquareMillimetre(0)
		for i := range k.Kind.Cores {
			core := &k.Kind.Cores[i]
			if core.Earth {
				own = core.Area
				continue
			}
			if x.Line == 0 || core.Area < x.Line {
				x.Line = core.Area
			}
		}
		if own > 0 {
			earth = min(earth, own)
		} else if len(k.Kind.Cores) > 1 {
			none = true
		}
		if k.Kind.Sheath != "" && x.Sheath != kit.SheathRubber {
			x.Sheath = k.Kind.Sheath
		}
		if k.Kind.Sheath != "" {
			x.Insulation = rules.Rubber60
		}
	}
	for _, k := range c.g.Inst.Cables { // singles in conduit
		if len(k.Kind.Cores) == 1 && k.Kind.Cores[0].Earth {
			earth = min(earth, k.Kind.Cores[0].Area)
		}
	}
	switch {
	case none:
		x.Earth = rules.Know(unit.SquareMillimetre(0))
	case !math.IsInf(float64(earth), 1):
		x.Earth = rules.Know(earth)
	}
}

// changes notes whether the work adds to the circuit, and whether what it adds
// is hidden in a wall.
func (c *sizer) changes() {
	x := &c.out.Case
	x.New, x.Hidden = rules.No, rules.No
	if c.Found == nil {
		return
	}
	for _, k := range c.use {
		if c.Found.Inst.Cable(k.ID) != nil {
			continue
		}
		x.New = rules.Yes
		if h := hidden(k, c.lies(k)); x.Hidden != rules.Yes && h != rules.No {
			x.Hidden = h
		}
	}
	for _, i := range c.loads {
		if c.Found.Inst.Box(c.g.Loads[i].Box.ID) == nil {
			x.New = rules.Yes
		}
	}
}

// lies is how a cable lies, as the wiring says, or else its route.
func (c *sizer) lies(k *wiring.Cable) []wiring.Stretch {
	if len(k.Laid) > 0 {
		return k.Laid
	}
	return c.Laid[k.ID]
}

// hidden tells from how a cable lies whether it is in a wall less than 50 mm
// deep: an ordinary partition has no place that deep (docs/checks/07-sizing.md).
func hidden(k *wiring.Cable, laid []wiring.Stretch) rules.Fact {
	f, sum := rules.No, unit.Millimetre(0)
	for _, s := range laid {
		sum += s.Length
		if s.Length == 0 {
			sum = k.Length
		}
		switch s.How {
		case wiring.LaidStudFace, wiring.LaidStudInside, wiring.LaidWallPipe:
			return rules.Yes
		case wiring.LaidClipped, wiring.LaidSurrounded, wiring.LaidUnknown:
			f = rules.Unknown
		}
	}
	if sum < k.Length {
		return rules.Unknown
	}
	return f
}

// warmth asks the book how much greater a resistance is at working
// temperature. Without an answer the temperature of the view is left at 20 °C
// and the figures that need it are not known.
func (c *sizer) warmth() {
	x := &c.out.Case
	a := rules.Ask(c.Book, rules.WarmFactor, rules.Insulation(x.Insulation), rules.Cpc(x.EarthRuns))
	c.warm, c.temp = 1, 20
	if a.Found {
		c.warm = float64(a.Value)
		c.temp = unit.Celsius(20 + (c.warm-1)/c.cat.Physics.Coefficient)
	}
}

// Figures lists the numbers that sizing rests on beside the book's and the
// catalogue's.
func Figures() []source.Figure {
	memory := func(cite string) source.Source {
		return source.Source{Authority: source.Memory, Cite: cite, Note: "recalled, to be confirmed against print"}
	}
	return []source.Figure{
		{Name: "longest time of instantaneous tripping of a circuit-breaker", Value: instantly.String(), Source: memory("IEC 60898-1 Table 7")},
		{Name: "conductor cooler below its rating, Ct", Value: "(230 + tp − (1 − Ib²/It²)(tp − 30)) / (230 + tp)", Source: memory("BS 7671 Appendix 4, 6.1; it gives the On-Site Guide's printed lengths, docs/checks/07-sizing.md")},
		{Name: "ways in which a cable lies, as reference methods", Value: "A, B, C, 100 to 103", Source: source.Source{Authority: source.Published, Cite: "BS 7671 Table 4A2, as transcribed with Table 4D5 by E. Palmer", Note: "secondary source; embedded in plaster as clipped direct is recalled"}},
		{Name: "states gone through one by one", Value: fmt.Sprint(MostStates), Source: source.Source{Authority: source.Practice, Cite: "a limit of the program, no source"}},
	}
}
