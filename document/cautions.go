package document

import (
	"slices"
	"strconv"
	"strings"

	"strapper/internal/draw"
	"strapper/wiring"
)

// usual are the cautions of every job: common practice, in our own words.
var usual = []string{
	"**Isolate and lock off.** Switch off every circuit that meets in the box, lock it off, keep the key, put up a notice. The switch on the wall isolates nothing.",
	"**Prove dead.** Prove the tester on a known live source or proving unit; test every conductor in the box to every other and to earth; prove the tester again. Only then touch.",
	"**Know every circuit in the box.** More than one circuit may meet in a box, and a neutral can be live with its own circuit off. Identify every conductor before it is taken out; a clip-on meter on the neutral shows what still flows.",
	"**Stop if it differs.** If cables, colours, terminals or anything else differ from this sheet, make safe, and have the job worked out again. Do not guess.",
	"**Prove the accessory in your hand.** Markings differ between makers: check with a continuity tester which terminals each position joins, and go by that.",
	"**Asbestos** may be in textured coatings, boards, flash guards and old fuse carriers put in before 2000. Do not drill, scrape or break them unless they are known to be free of it.",
	"**Hidden cables and pipes.** Use a detector and the safe zones, isolate before drilling, and do not trust either alone.",
	"**Height and loft.** Use a sound ladder or platform on firm ground. In a loft tread on joists or boards only, with a light and someone who knows you are there.",
	"**Test and certify.** Dead tests before power, then the live tests that are needed, by a competent person. Write the readings down, and issue the certificate that the rules ask for.",
	"**Local rules and licensed practice govern.** Where they ask for more than this sheet or forbid the work to the person doing it, they win.",
}

// cautions is the page to be read before anything is touched.
func (p *pack) cautions() []draw.Block {
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Before you start"},
		draw.Caution{Title: "Electricity kills. Dead means proved dead.", Text: "Every step in this pack is done with the circuits named for its box switched off, locked off and proved dead."},
		draw.List{Kind: draw.Numbered, Items: usual},
	}
	t := draw.Table{
		Caption: "Off before the box is opened", Head: []string{"Box", "Circuits to lock off", "Locked off", "Proved dead"},
		RowHead: true, Weights: []float64{3, 6, 1.5, 1.5},
	}
	for _, b := range p.Final().Inst.Boxes {
		t.Rows = append(t.Rows, []draw.Cell{{Text: b.FullName()}, {Text: p.offFor(b.ID)}, {Text: "☐"}, {Text: "☐"}})
	}
	return append(blocks, t)
}

// offFor says which circuits must be off for a box.
func (p *pack) offFor(box string) string {
	o := p.Opening(box)
	switch {
	case isBoard(p, box):
		return "Main switch of the consumer unit; its incoming terminals stay live"
	case o == nil || len(o.All()) == 0:
		return "Nothing that is drawn here feeds it. Switch off what is near, and test as if it were live"
	}
	all := o.All()
	names := make([]string, len(all))
	for i, c := range all {
		names[i] = "circuit " + c.Named()
	}
	if len(names) > 1 {
		return "**" + number(len(names)) + " circuits meet here.** All of these: " + strings.Join(names, "; ")
	}
	return names[0]
}

func number(n int) string {
	if n < 7 {
		return [...]string{"No", "One", "Two", "Three", "Four", "Five", "Six"}[n]
	}
	return strconv.Itoa(n)
}

func isBoard(p *pack, box string) bool {
	return slices.ContainsFunc(p.Found.Inst.Circuits, func(c *wiring.Circuit) bool { return c.Board == box })
}
