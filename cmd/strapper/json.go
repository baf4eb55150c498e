package main

import (
	"encoding/json"
	"fmt"

	"strapper/engine"
	"strapper/finding"
	"strapper/house"
	"strapper/job"
	"strapper/reading"
	"strapper/route"
	"strapper/rules"
	"strapper/sizing"
	"strapper/source"
	"strapper/switching"
	"strapper/unit"
	"strapper/wiring"
)

// The types below are what --json prints; docs/json.md explains them. Fields
// are only ever added.

type problemsJSON struct {
	Problems job.Problems `json:"problems"`
}

type checkJSON struct {
	Title    string            `json:"title"`
	Fine     bool              `json:"fine"`
	Findings []finding.Finding `json:"findings"`
}

// judgedJSON is what the rule book says.
type judgedJSON struct {
	checkJSON
	Book     string          `json:"book"`
	Verdicts []rules.Verdict `json:"verdicts"`
	Taken    []takenJSON     `json:"taken"`
}

// takenJSON is one reading that was taken.
type takenJSON struct {
	Subject  finding.Subject `json:"subject"`
	Name     string          `json:"name"`
	Shown    string          `json:"shown"`
	Outcome  rules.Outcome   `json:"outcome,omitempty"` // the verdict that decides it
	Verdicts []rules.Verdict `json:"verdicts"`
}

type proofJSON struct {
	checkJSON
	Stage    string       `json:"stage"`
	Exact    bool         `json:"exact"`
	States   uint64       `json:"states"`
	Switches []switchJSON `json:"switches"`
	Lamps    []lampJSON   `json:"lamps"`
	Table    []stateJSON  `json:"table,omitempty"`
}

type switchJSON struct {
	ID        string   `json:"id"`
	Kind      string   `json:"kind"`
	Positions []string `json:"positions"`
}

type lampJSON struct {
	ID       string   `json:"id"`
	Lit      uint64   `json:"lit_states"`
	Switches []string `json:"switches"`
}

type stateJSON struct {
	Positions []string `json:"positions"`
	Lit       []bool   `json:"lit"`
}

type readingsJSON struct {
	checkJSON
	Stage string `json:"stage"`
	*reading.Readings
	Book  string      `json:"book"`
	Taken []takenJSON `json:"taken"`
}

type routeJSON struct {
	checkJSON
	Routes *route.Plan  `json:"routes"`          // null without a house, or without a new cable in it
	CutOut []cutOutJSON `json:"cut_outs"`        // holes of new boxes
	Files  []string     `json:"files,omitempty"` // drawings written
}

// cutOutJSON is the hole of a new box as seen from its room: left and right from
// the left corner of the wall or the left side of the room, low and high over
// the finished floor or from the front side of the room.
type cutOutJSON struct {
	Box        string              `json:"box"`
	Room       string              `json:"room"`
	Wall       string              `json:"wall,omitempty"` // none: in the ceiling
	Left       unit.Millimetre     `json:"left_mm"`
	Right      unit.Millimetre     `json:"right_mm"`
	Low        unit.Millimetre     `json:"low_mm"`
	High       unit.Millimetre     `json:"high_mm"`
	Depth      unit.Millimetre     `json:"depth_mm"`
	Hollow     unit.Millimetre     `json:"hollow_mm"`          // behind the face
	Chase      unit.Millimetre     `json:"masonry_mm"`         // to be cut
	Most       unit.Millimetre     `json:"masonry_most_mm"`    // that may be cut; 0 in a hollow wall
	Studs      *[2]unit.Millimetre `json:"studs_mm,omitempty"` // from the hole to the left and right; less than 0 where it meets one
	LevelWith  string              `json:"level_with,omitempty"`
	Conductors int                 `json:"conductors"`
}

func cutOuts(r *engine.Result) []cutOutJSON {
	list := []cutOutJSON{}
	in := r.Final().Inst
	for _, c := range r.CutOuts() {
		j := cutOut(&c)
		j.Conductors = engine.Contents(in, in.Box(c.Box.ID)).Conductors
		list = append(list, j)
	}
	return list
}

func cutOut(c *house.CutOut) cutOutJSON {
	j := cutOutJSON{
		Box: c.Box.ID, Room: c.Box.Room.ID, Left: c.Left, Right: c.Right, Low: c.Low, High: c.High,
		Depth: c.Box.Size.Depth, Hollow: c.Room, Chase: c.Chase, Most: c.Most, LevelWith: c.LevelWith,
	}
	if c.Box.Wall == nil {
		return j
	}
	j.Wall = c.Box.Wall.ID
	if c.Hollow {
		j.Studs = &[2]unit.Millimetre{c.LeftStud, c.RightStud}
	}
	return j
}

// boxMovesJSON is what is done in one box, in order.
type boxMovesJSON struct {
	Box   string   `json:"box"`
	Moves []string `json:"moves"`
}

func boxMoves(moves []wiring.BoxMoves) []boxMovesJSON {
	list := []boxMovesJSON{}
	for _, b := range moves {
		m := boxMovesJSON{Box: b.Box.ID}
		for _, step := range b.Moves {
			m.Moves = append(m.Moves, step.Text)
		}
		list = append(list, m)
	}
	return list
}

type sizeJSON struct {
	checkJSON
	Stage string `json:"stage"`
	*sizing.Sizes
}

type isolationJSON struct {
	checkJSON
	Boxes []openingJSON `json:"boxes"`
	Whole isolatedJSON  `json:"whole"`
	Steps []string      `json:"steps"`
}

type openingJSON struct {
	Box   string `json:"box"`
	Title string `json:"title,omitempty"`
	isolatedJSON
	Tests []pairJSON `json:"tests"`
}

type isolatedJSON struct {
	Exact      bool         `json:"exact"`
	MainSwitch bool         `json:"main_switch"`
	Off        []needJSON   `json:"off"`
	Beside     []besideJSON `json:"off_too"`
	Dark       []string     `json:"dark"`
	Partly     []string     `json:"partly_dark"`
	Warnings   []string     `json:"warnings"`
}

type needJSON struct {
	Circuit string   `json:"circuit"`
	Live    []string `json:"live"`
	Through bool     `json:"through_lamp"`
	Witness string   `json:"witness"`
}

type besideJSON struct {
	Circuit string `json:"circuit"`
	Why     string `json:"why"`
}

type pairJSON struct {
	A     string `json:"a"`
	B     string `json:"b"`
	Shows bool   `json:"shows"`
}

type packJSON struct {
	checkJSON
	Files []string `json:"files"`
}

type sourcesJSON struct {
	Figures []source.Figure `json:"figures"`
}

func (s *session) json(v any) {
	e := json.NewEncoder(s.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		fmt.Fprintf(s.err, "strapper: cannot write: %v\n", err)
		s.code = exitCannot
	}
}

func check(r *engine.Result) checkJSON {
	c := checkJSON{Title: r.Job.Title, Fine: !r.Forbidden() && !r.Failed(), Findings: r.Findings}
	if c.Findings == nil {
		c.Findings = []finding.Finding{}
	}
	return c
}

func judged(r *engine.Result) judgedJSON {
	return judgedJSON{check(r), r.Job.Book.Name(), r.Verdicts, taken(r)}
}

func taken(r *engine.Result) []takenJSON {
	list := []takenJSON{}
	for i := range r.Readings {
		j := &r.Readings[i]
		t := takenJSON{Subject: j.Case.Subject, Name: j.Case.Name, Shown: j.Shown(), Verdicts: j.Verdicts}
		if v := j.Worst(); v != nil {
			t.Outcome = v.Outcome
		}
		list = append(list, t)
	}
	return list
}

func proof(r *engine.Result) proofJSON {
	final := r.Final()
	g, p := final.Graph, final.Proof
	out := proofJSON{checkJSON: check(r), Stage: final.Name, Exact: p.Exact, States: p.States, Switches: []switchJSON{}, Lamps: []lampJSON{}}
	for i := range g.Switches {
		out.Switches = append(out.Switches, switchJSON{g.Switches[i].ID(), g.Switches[i].Kind.ID, g.Switches[i].Kind.Positions})
	}
	if !p.Exact {
		return out
	}
	for _, i := range g.Lamps() {
		out.Lamps = append(out.Lamps, lamp(g, p, i))
	}
	forStates(g, func(s wiring.State) { out.Table = append(out.Table, state(g, p, s)) })
	return out
}

// lamp says how often a lamp is lit, and by which switches.
func lamp(g *wiring.Graph, p *switching.Proof, i int) lampJSON {
	l := lampJSON{ID: g.Loads[i].ID(), Lit: p.CountLit(i), Switches: []string{}}
	for _, sw := range p.Switched(i) {
		l.Switches = append(l.Switches, g.Switches[sw].ID())
	}
	return l
}

// state is a row of the table of positions.
func state(g *wiring.Graph, p *switching.Proof, s wiring.State) stateJSON {
	row := stateJSON{Positions: []string{}, Lit: []bool{}}
	for sw := range g.Switches {
		row.Positions = append(row.Positions, g.Position(s, sw))
	}
	for _, i := range g.Lamps() {
		row.Lit = append(row.Lit, p.Lit(i, s))
	}
	return row
}

// forStates calls f for every state, if they are few enough to print.
func forStates(g *wiring.Graph, f func(wiring.State)) {
	if n := g.States(); n <= engine.MostPositions {
		for i := range n {
			f(g.StateAt(i))
		}
	}
}
