package document

import (
	"fmt"
	"math"
	"strings"

	"strapper/internal/draw"
	"strapper/sizing"
)

// sizes is what each circuit carries, loses and clears, what is old, and the
// arithmetic. What the rule book says of it stands with the rest of the rules.
func (p *pack) sizes() []draw.Block {
	if p.Sizes == nil || len(p.Sizes.Circuits) == 0 {
		return nil
	}
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Sizes and protection, " + p.Final().Name},
		draw.Para{Style: draw.Small, Text: "By " + p.Sizes.Book + ". Lengths at the long end of their tolerance, conductors at the tabulated maximum and working temperature, lampholders at what the book has them count for. " +
			"Many of the book's figures are recalled or carried over and still to be confirmed against print: the list of sources says which. A competent person decides."},
	}
	for i := range p.Sizes.Circuits {
		blocks = append(blocks, p.sized(&p.Sizes.Circuits[i])...)
	}
	return append(blocks, p.neutrals()...)
}

func (p *pack) sized(c *sizing.Circuit) []draw.Block {
	blocks := []draw.Block{draw.Keep{Blocks: []draw.Block{draw.Heading{Level: 2, Text: "Circuit " + c.Circuit.Named()}, figuresTable(c)}}}
	if way := loopWay(c); way != "" {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: way})
	}
	if runs := longestRuns(c); runs != "" {
		blocks = append(blocks, draw.Para{Style: draw.Small, Text: runs})
	}
	if len(c.Old) > 0 {
		blocks = append(blocks, oldTable(c))
	}
	blocks = append(blocks, draw.Heading{Level: 3, Text: "Working, circuit " + c.ID})
	for i := range c.Figures {
		if f := &c.Figures[i]; len(f.Working) > 0 {
			blocks = append(blocks, draw.Para{Style: draw.Small, Text: "**" + f.Symbol + ", " + f.Name + ":** " + strings.Join(f.Working, "; ") + "."})
		}
	}
	return blocks
}

// figuresTable has a row for each figure.
func figuresTable(c *sizing.Circuit) draw.Table {
	t := draw.Table{
		Head: []string{"", "What", "Value", "Limit", "To spare", "Where, and how far it passes"}, RowHead: true,
		Weights: []float64{0.9, 5, 1.7, 2.4, 2, 6},
	}
	for i := range c.Figures {
		f := &c.Figures[i]
		value, limit, spare := "not assessed", "", ""
		if f.Known {
			value = f.Value.String()
		}
		if f.Limit != nil {
			limit = f.Sense + " " + f.Limit.String()
		}
		if share, ok := f.Margin(); ok && share < 0 {
			spare = fmt.Sprintf("**FAILS** by %.0f %%", -float64(share))
		} else if ok {
			spare = "many times"
			if share < 1000 {
				spare = fmt.Sprintf("%.0f %%", float64(share))
			}
		}
		var where []string
		for _, text := range []string{f.At, f.Passes, f.Why} {
			if text != "" {
				where = append(where, text)
			}
		}
		t.Rows = append(t.Rows, []draw.Cell{{Text: f.Symbol}, {Text: f.Name}, {Text: value, Bold: true}, {Text: limit}, {Text: spare}, {Text: strings.Join(where, "; ")}})
	}
	return t
}

// loopWay says over which conductors the earth fault current runs.
func loopWay(c *sizing.Circuit) string {
	out, back := c.Loop()
	if len(out) == 0 {
		return ""
	}
	text := "**The longest loop,** to " + c.PathTo
	if c.PathState != "" {
		text += " with " + c.PathState
	}
	return text + ": out by " + strings.Join(out, ", ") + "; back by " + strings.Join(back, ", ") + "."
}

// longestRuns says how long a plain run could be.
func longestRuns(c *sizing.Circuit) string {
	var list []string
	for _, l := range c.Runs {
		if l.Known {
			list = append(list, fmt.Sprintf("%.0f m of %s by %s", math.Floor(l.Length.Metres()), l.Cable, l.By))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "**Longest plain run** with all that the device allows: " + strings.Join(list, "; ") + ". Strappers that the line runs over out and back count as often as it does."
}

func oldTable(c *sizing.Circuit) draw.Table {
	t := draw.Table{Caption: "What is old here", Head: []string{"What", "May be done as it is", "To be put right first"}, RowHead: true, Weights: []float64{4, 4, 7}}
	for _, o := range c.Old {
		t.Rows = append(t.Rows, draw.Cells(sentence(o.What), sentence(o.May), sentence(o.First)))
	}
	return t
}

// neutrals says where an electronic switch that needs a neutral can go.
func (p *pack) neutrals() []draw.Block {
	var list []string
	for _, n := range p.Sizes.Neutrals {
		text := "none"
		switch {
		case n.Has && n.Same:
			text = "yes, " + n.Core
		case n.Has:
			text = "only that of another circuit (" + n.Core + "), which must not be used"
		}
		list = append(list, boxName(n.Box, p.insts()...)+": "+text)
	}
	if len(list) == 0 {
		return nil
	}
	return []draw.Block{draw.Para{Style: draw.Small, Text: "**Neutral at the switches,** for electronic ones that need it: " + strings.Join(list, "; ") + ". Never take one from another circuit or from the cpc."}}
}
