package engine

import (
	"fmt"
	"slices"

	"strapper/kit"
	"strapper/route"
	"strapper/rules"
	"strapper/sizing"
	"strapper/wiring"
)

// size works out what the circuits of the final stage carry, lose and clear,
// by the rule book of the job. The book judges it later, with the rest.
func (r *Result) size(cat *kit.Catalogue) error {
	if r.Job.Book == nil {
		return nil
	}
	var err error
	r.Sizes, err = r.sizes(r.Job.Book, cat)
	return err
}

// Size does the same by another book, and has it judge the circuits.
func (r *Result) Size(b *rules.Book, cat *kit.Catalogue) (*sizing.Sizes, error) {
	s, err := r.sizes(b, cat)
	if err != nil {
		return nil, err
	}
	for k := range s.Circuits {
		r.known(&s.Circuits[k].Case, k)
	}
	s.Judge(b, r.Final().Name)
	return s, nil
}

func (r *Result) sizes(b *rules.Book, cat *kit.Catalogue) (*sizing.Sizes, error) {
	final := r.Final()
	o := sizing.Options{Book: b, Laid: r.laid()}
	if r.Left != nil {
		o.Found = r.Found.Graph
	}
	s, err := sizing.Size(final.Graph, final.Proof, cat, o)
	if err != nil {
		return nil, fmt.Errorf("sizes %s: %w", final.Name, err)
	}
	return s, nil
}

// known adds to the case of a circuit what is known of the house round it.
func (r *Result) known(c *rules.CircuitCase, k int) {
	j := &judge{Result: r, Stage: r.Final(), changed: r.changedBoxes()}
	c.New, c.Bonded = rules.Is(j.altered(k)), r.Job.Premises.Existing
	j.rooms(c, k)
	r.hide(c, k)
}

// ways are the ways that stand first, by cable.
func (r *Result) ways() map[string]*route.Route {
	list := map[string]*route.Route{}
	if r.Routes == nil {
		return list
	}
	for i := range r.Routes.Runs {
		if run := &r.Routes.Runs[i]; len(run.Routes) > 0 {
			list[run.Run] = &run.Routes[0]
		}
	}
	return list
}

// hide says whether new cable of the circuit is hidden in a wall, where the
// ways through the house tell it: yes if one of them runs in a wall, no if all
// have ways and none does.
func (r *Result) hide(c *rules.CircuitCase, k int) {
	ways, final := r.ways(), r.Final()
	hidden, all := rules.No, len(ways) > 0
	for _, cable := range final.Inst.Cables {
		if r.Left != nil && isFound(r.Found.Inst, cable) || !r.carries(cable, k) {
			continue
		}
		way := ways[cable.ID]
		all = all && way != nil
		if way != nil && slices.ContainsFunc(way.Stretches, func(s route.Stretch) bool { return s.Space == route.InWall }) {
			hidden = rules.Yes
		}
	}
	if all || hidden == rules.Yes {
		c.Hidden = hidden
	}
}

// carries reports whether a cable carries a circuit's line or neutral.
func (r *Result) carries(cable *wiring.Cable, k int) bool {
	final := r.Final()
	return slices.ContainsFunc(cable.Kind.Cores, func(core kit.Core) bool {
		n, ok := final.Graph.Node(wiring.End{Box: cable.From, Item: cable.ID, Name: core.Name})
		return ok && final.Proof.Fed(n, k)
	})
}
