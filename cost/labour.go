package cost

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"

	"strapper/route"
	"strapper/source"
	"strapper/unit"
	"strapper/wiring"
)

// Job is a kind of work of the labour file.
type Job string

// The kinds of work; what each is in words, and its times, is in
// data/labour.json.
const (
	Arrive   Job = "arrive"
	FitBox   Job = "box"
	Fitting  Job = "fitting"
	CoreEnd  Job = "end"
	Mark     Job = "sleeve"
	RunCable Job = "run"
	PerMetre Job = "metre"
	MakeGood Job = "good"
	TestWork Job = "test"
	ClearUp  Job = "clear"
)

// Span is a number of minutes: if all goes well, likely, and if what may stand
// in the way does. Low ≤ Likely ≤ High.
type Span struct {
	Low    int `json:"low"`
	Likely int `json:"likely"`
	High   int `json:"high"`
}

func (s Span) plus(t Span) Span { return Span{s.Low + t.Low, s.Likely + t.Likely, s.High + t.High} }

// Task is a piece of work of the offer, with the time it takes.
type Task struct {
	Job     Job    `json:"job"`
	Name    string `json:"name"`
	Minutes Span   `json:"minutes"`
	Why     string `json:"why"`
}

// norm is what one unit of a kind of work takes, in minutes.
type norm struct {
	Key               Job
	Name, Per         string
	Low, Likely, High float64
}

// stuff is what a kind of work on a route uses up.
type stuff struct {
	Work        route.Work
	Item, Name  string
	Each, Metre int // for each time; for each metre begun
}

// Norms are the times of work and what making good takes.
type Norms struct {
	tasks     []norm
	materials []stuff
	labour    source.Source
	stock     source.Source
}

//go:embed data/labour.json
var labourFile []byte

//go:embed data/materials.json
var materialsFile []byte

// Customary gives the norms of the data files. An error is a fault in them.
func Customary() (*Norms, error) {
	var labour struct {
		Source source.Source
		Tasks  []norm
	}
	var stock struct {
		Source    source.Source
		Materials []stuff
	}
	if err := json.Unmarshal(labourFile, &labour); err != nil {
		return nil, fmt.Errorf("data/labour.json: %w", err)
	}
	if err := json.Unmarshal(materialsFile, &stock); err != nil {
		return nil, fmt.Errorf("data/materials.json: %w", err)
	}
	return &Norms{labour.Tasks, stock.Materials, labour.Source, stock.Source}, nil
}

// Figures lists the norms with their sources.
func (n *Norms) Figures() []source.Figure {
	var list []source.Figure
	for _, t := range n.tasks {
		if t.High > 0 {
			list = append(list, source.Figure{Name: "labour: " + t.Name + ", each " + t.Per, Value: fmt.Sprintf("%g min, %g to %g", t.Likely, t.Low, t.High), Source: n.labour})
		}
	}
	for _, m := range n.materials {
		value := fmt.Sprintf("%d each time", m.Each)
		if m.Metre > 0 {
			value = fmt.Sprintf("%d for each metre begun", m.Metre)
		}
		list = append(list, source.Figure{Name: fmt.Sprintf("making good, %s: %s", m.Work, m.Name), Value: value, Source: n.stock})
	}
	return list
}

func (n *Norms) of(j Job) norm {
	for _, t := range n.tasks {
		if t.Key == j {
			return t
		}
	}
	return norm{Key: j, Name: string(j)}
}

// times is what so many units of a kind of work take, in whole minutes, rounded
// up. Units are counted: a part of one counts as that part.
func (n *Norms) times(j Job, units float64, why string) Task {
	t := n.of(j)
	up := func(minutes float64) int { return int(math.Ceil(minutes*units - 1e-9)) }
	return Task{Job: j, Name: t.Name, Minutes: Span{up(t.Low), up(t.Likely), up(t.High)}, Why: why}
}

// counted are the units of work in a list of moves.
type counted struct{ boxes, fittings, ends, sleeves int }

func countMoves(moves []wiring.BoxMoves) counted {
	var c counted
	for _, b := range moves {
		for _, m := range b.Moves {
			switch m.Kind {
			case wiring.FitBox:
				c.boxes++
			case wiring.Fit, wiring.ChangeLamp:
				c.fittings++
			case wiring.TakeOff, wiring.Land, wiring.Join, wiring.Park:
				c.ends += len(m.Ends)
			case wiring.Link, wiring.Unlink:
				c.ends++
			case wiring.Sleeve, wiring.Check, wiring.Mark:
				c.sleeves += len(m.Ends)
			}
		}
	}
	return c
}

// work lists what there is to do in a change.
func (n *Norms) work(c Change) []Task {
	m := countMoves(c.Moves)
	list := []Task{n.times(Arrive, 1, "once")}
	for _, u := range []struct {
		job   Job
		count int
		what  string
	}{{FitBox, m.boxes, "boxes"}, {Fitting, m.fittings, "accessories"}, {CoreEnd, m.ends, "core ends"}, {Mark, m.sleeves, "core ends"}} {
		if u.count > 0 {
			list = append(list, n.times(u.job, float64(u.count), fmt.Sprintf("%s: %d", u.what, u.count)))
		}
	}
	list = append(list, n.runs(c)...)
	return append(list, n.times(TestWork, 1, "once"), n.times(ClearUp, 1, "once"))
}

// runs is the work of the new cables, and of making good after them. What they
// share is taken off once, from the first estimate to the last.
func (n *Norms) runs(c Change) []Task {
	var list []Task
	mess := 0.0
	for _, k := range missing(c.Left, c.found()) {
		if w := c.way(k.ID); w != nil {
			list = append(list, Task{RunCable, "Run cable " + k.ID, Span{w.MinutesBest, w.Minutes, w.MinutesMost}, fmt.Sprintf("its route, %v", k.Length)})
			mess += w.Mess
			continue
		}
		if stated := c.Stated[k.ID]; stated > 0 {
			up := int(math.Ceil(stated))
			list = append(list, Task{RunCable, "Run cable " + k.ID, Span{up, up, up}, "as the job says"})
			continue
		}
		t := n.times(PerMetre, (k.Length + k.Tolerance).Metres(), fmt.Sprintf("%v, its way not worked out; making good not counted", k.Length+k.Tolerance))
		t.Job, t.Name = RunCable, "Run cable "+k.ID
		list = append(list, t)
	}
	if c.Routes != nil && c.Routes.Together != nil && c.Routes.Together.Saves > 0 {
		list = saved(list, c.Routes.Together.Saves)
	}
	if mess > 0 {
		list = append(list, n.times(MakeGood, mess, fmt.Sprintf("%.1f patches along the routes", mess)))
	}
	return list
}

// saved takes what running cables together saves off the longest run, as far
// as it goes.
func saved(list []Task, minutes int) []Task {
	most := -1
	for i, t := range list {
		if most < 0 || t.Minutes.Low > list[most].Minutes.Low {
			most = i
		}
	}
	if most >= 0 {
		s := &list[most]
		minutes = min(minutes, s.Minutes.Low)
		s.Minutes = s.Minutes.plus(Span{-minutes, -minutes, -minutes})
		s.Why += fmt.Sprintf("; %d min saved by running cables together", minutes)
	}
	return list
}

// metresOf is a length in whole metres, rounded up.
func metresOf(l unit.Millimetre) int { return int((l + unit.Metre - 1) / unit.Metre) }
