package document

import (
	"fmt"
	"slices"
	"strings"

	"strapper/cost"
	"strapper/internal/draw"
	"strapper/kit"
	"strapper/reading"
	"strapper/sizing"
	"strapper/source"
	"strapper/wiring"
)

// takeOff is what must be in the van, and what comes out.
func (p *pack) takeOff() []draw.Block {
	if len(p.Parts.Lines)+len(p.Parts.Removed) == 0 {
		return nil
	}
	blocks := []draw.Block{draw.Heading{Level: 1, Text: "Cable and parts"}}
	for _, part := range []struct {
		caption, tick string
		lines         []cost.Line
	}{{"To bring", "Have", p.Parts.Lines}, {"Comes out", "Out", p.Parts.Removed}} {
		if len(part.lines) == 0 {
			continue
		}
		t := draw.Table{
			Caption: part.caption, Head: []string{"", "What", "Quantity", "Why", part.tick}, RowHead: true,
			Weights: []float64{2, 4, 1.8, 7, 1.3}, Align: []draw.Anchor{draw.Start, draw.Start, draw.End},
		}
		for i := range part.lines {
			l := &part.lines[i]
			t.Rows = append(t.Rows, []draw.Cell{
				{Text: string(l.Part)}, {Text: l.Description}, {Text: l.Quantity() + " " + l.Unit(), Bold: true}, {Text: l.Why}, {Text: "☐"},
			})
		}
		blocks = append(blocks, t)
	}
	return blocks
}

// assumed is what the pack rests on and cannot know.
var assumed = []string{
	"The wiring is as the job describes it. What is inside the walls was not seen.",
	"Switch contacts and joints are sound, and each accessory joins the terminals that its card shows.",
	"Lengths lie within the tolerances given in the job.",
	"“Low” and “high” include those tolerances, the spread of real cable and the instrument's own error.",
}

// sources lists what the sheets rest on.
func (p *pack) sources() []draw.Block {
	var items []string
	practice := 0
	for _, s := range p.citations() {
		if s.Authority == source.Practice {
			practice++
			continue
		}
		items = append(items, fmt.Sprintf("%s (%s)", s.Cite, s.Authority))
	}
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Assumptions and sources"},
		draw.List{Items: assumed},
		draw.Para{Text: fmt.Sprintf("Conductors at %v for the dead tests.", p.Final().Inst.Supply.Ambient)},
		draw.Heading{Level: 2, Text: "Sources of the figures"},
		draw.Para{Style: draw.Small, Text: "“memory” marks a figure recalled and still to be confirmed against print; “derived” one worked out for this program. " +
			fmt.Sprintf("What rests on common practice alone, %d points, is left out here. The command “sources” lists every figure.", practice)},
	}
	blocks = append(blocks, draw.Para{Style: draw.Small, Text: strings.Join(items, "; ") + "."})
	return blocks
}

// citations lists the sources of what is used, each citation once.
func (p *pack) citations() []source.Source {
	c := &citer{}
	for _, in := range p.insts() {
		for _, k := range in.Cables {
			c.add(k.Kind.Source, k.Kind.CSource)
		}
		for _, k := range in.Circuits {
			c.device(k.Device)
			c.device(k.RCD)
		}
		for _, b := range in.Boxes {
			c.box(b)
		}
	}
	if p.Sizes != nil {
		for i := range p.Sizes.Circuits {
			for _, f := range p.Sizes.Circuits[i].Figures {
				for _, cell := range f.Cells {
					s := cell.Figure("").Source
					s.Note = ""
					c.add(s)
				}
			}
		}
	}
	for _, list := range [][]source.Figure{wiring.Figures(), reading.Figures(), sizing.Figures(), cost.Figures()} {
		for _, f := range list {
			c.add(f.Source)
		}
	}
	return c.list
}

type citer struct{ list []source.Source }

func (c *citer) add(sources ...source.Source) {
	for _, s := range sources {
		known := func(o source.Source) bool { return o.Cite == s.Cite && o.Authority == s.Authority }
		if s.Cite != "" && !slices.ContainsFunc(c.list, known) {
			c.list = append(c.list, s)
		}
	}
}

func (c *citer) device(d *kit.Device) {
	if d != nil {
		c.add(d.Source)
	}
}

func (c *citer) box(b *wiring.Box) {
	for _, f := range b.Fit {
		c.add(f.Kind.Source, f.Kind.RSource, f.Kind.LSource)
	}
}
