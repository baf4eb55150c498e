package engine

import (
	"fmt"

	"strapper/cost"
	"strapper/wiring"
)

// Alternative is one way of doing the work with what it needs. All are proved
// in every position of the switches; the rule book has judged only the taken.
type Alternative struct {
	Name  string // of a way that was looked for; "as written" for a job that gives its wiring as left
	Title []string
	Taken bool
	Needs cost.Needs
}

// AsWritten is the name of the way of a job that gives its wiring as left.
const AsWritten = "as written"

// Alternatives reckons what each way of the work needs, the least effort first.
// A job that changes nothing has none.
func (r *Result) Alternatives(n *cost.Norms) ([]Alternative, error) {
	if r.Left == nil {
		return nil, nil
	}
	if r.Way == nil {
		return []Alternative{{Name: AsWritten, Taken: true, Needs: n.Reckon(r.costs())}}, nil
	}
	var list []Alternative
	for i := range r.Change.Ways {
		w := &r.Change.Ways[i]
		if w == r.Way {
			list = append(list, Alternative{w.Name, w.Title, true, n.Reckon(r.costs())})
			continue
		}
		other, err := r.instead(w.Left)
		if err != nil {
			return nil, fmt.Errorf("way %s: %w", w.Name, err)
		}
		other.Moves = w.Moves
		list = append(list, Alternative{w.Name, w.Title, false, n.Reckon(other.costs())})
	}
	return list, nil
}

// instead is the result with another wiring as left, its routes found and
// nothing proved again.
func (r *Result) instead(left *wiring.Installation) (*Result, error) {
	other := &Result{Job: r.Job, Found: r.Found, finder: r.finder}
	in, err := other.lengths(left, AsLeft, r.Job.Found)
	if err != nil {
		return nil, err
	}
	other.Left = &Stage{Name: AsLeft, Inst: in}
	return other, other.routes()
}

// costs is what the work is reckoned from.
func (r *Result) costs() cost.Change {
	c := cost.Change{Found: r.Found.Inst, Left: r.Left.Inst, Moves: r.Moves, Routes: r.Routes, Stated: map[string]float64{}}
	if r.Job.Ask != nil {
		for _, k := range r.Job.Ask.Could.Cables {
			c.Stated[k.ID] = k.Minutes
		}
	}
	return c
}
