package document

import (
	"fmt"
	"strconv"
	"strings"

	"strapper/engine"
	"strapper/internal/draw"
)

// positions is the table of all switch positions, or its rule and count.
func (p *pack) positions() []draw.Block {
	stage := p.Final()
	heading := draw.Heading{Level: 1, Text: "All switch positions, " + stage.Name}
	n := stage.Proof.States
	switch {
	case !stage.Proof.Exact || len(stage.Graph.Switches) == 0:
		return nil
	case n > engine.MostPositions:
		return []draw.Block{heading, draw.Para{Text: fmt.Sprintf("There are %d positions of the %d switches, too many to print. All of them were proved: %s", n, len(stage.Graph.Switches), p.proved())}}
	}
	t := draw.Table{RowHead: true, Head: []string{""}}
	for i := range stage.Graph.Switches {
		t.Head = append(t.Head, stage.Graph.Switches[i].Name())
	}
	lamps := stage.Graph.Lamps()
	for _, i := range lamps {
		t.Head = append(t.Head, stage.Graph.Loads[i].ID())
	}
	t.Head = append(t.Head, "Tried")
	for k := range n {
		s := stage.Graph.StateAt(k)
		row := []draw.Cell{{Text: strconv.FormatUint(k+1, 10)}}
		for i := range stage.Graph.Switches {
			row = append(row, draw.Cell{Text: stage.Graph.Position(s, i)})
		}
		for _, i := range lamps {
			c := draw.Cell{Text: stage.Graph.Loads[i].Word(false)}
			if stage.Proof.Lit(i, s) {
				c = draw.Cell{Text: strings.ToUpper(stage.Graph.Loads[i].Word(true)), Bold: true, Shaded: true}
			}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, append(row, draw.Cell{Text: "☐"}))
	}
	return []draw.Block{heading, draw.Para{Style: draw.Small, Text: "Names such as “up” and “down” only tell the positions apart: a rocker fitted the other way round exchanges them. What counts is that the lamps change as shown whenever one switch is moved."}, t}
}
