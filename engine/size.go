package engine

import (
	"fmt"

	"strapper/kit"
	"strapper/rules"
	"strapper/sizing"
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
}
