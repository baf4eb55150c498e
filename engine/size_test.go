package engine_test

import (
	"testing"

	"strapper/rules"
	"strapper/rules/books"
)

// The way of a new cable through the house says how it lies, and that it is
// hidden in a wall: the strapper cable of the kitchen goes down a stud wall. As
// nothing says so of the cables that are there, the worst is taken for them.
func TestSizesFollowTheWays(t *testing.T) {
	j, cat := with(t, "kitchen.yaml", "")
	r := run(t, j, cat)
	c := &r.Sizes.Circuits[0]
	if c.Case.Hidden != rules.Yes {
		t.Errorf("hidden: %v", c.Case.Hidden)
	}
	known := map[string]bool{}
	for _, s := range c.Stretches {
		known[s.Cable] = known[s.Cable] || !s.Assumed
	}
	if !known["strap"] || known["kitchen-feed"] || known["kitchen-drop"] {
		t.Errorf("how the cables lie is known of %v", known)
	}
}

// Another book judges the same circuits anew, and leaves the job's own sizes as
// they were.
func TestSizeByAnotherBook(t *testing.T) {
	j, cat := with(t, "kitchen.yaml", "")
	r := run(t, j, cat)
	before := r.Sizes
	b, err := books.Find("iec", "")
	if err != nil {
		t.Fatal(err)
	}
	s, err := r.Size(b, cat)
	if err != nil {
		t.Fatal(err)
	}
	if r.Sizes != before || s.Book != b.Name() || len(s.Circuits[0].Verdicts) == len(before.Circuits[0].Verdicts) {
		t.Errorf("%s with %d verdicts, %s with %d", before.Book, len(before.Circuits[0].Verdicts), s.Book, len(s.Circuits[0].Verdicts))
	}
}
