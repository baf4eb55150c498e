package document

import (
	"fmt"
	"strings"

	"strapper/engine"
	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// cards are the connection cards of the boxes that change, and a list of the
// boxes that do not. Where nothing changes, every box is shown as it is.
func (p *pack) cards() []draw.Block {
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Connection cards"},
		draw.Para{Style: draw.Small, Text: "Each drawing shows the **rear of the accessory as the hand sees it** with the plate off and the cables coming from above. Terminals are named, not to scale, and may stand elsewhere on the piece: go by the marking. " +
			"Core letters: BN brown, BU blue, BK black, GY grey, RD red, YE yellow, GN green, GNYE green-and-yellow, cpc bare protective conductor, drawn in the green-and-yellow sleeve it must have. " +
			"con: connector. A ring with a number is the step in the list. A thick collar is a sleeve with the letters of its colour. A white conductor is a link; cores drawn at one of two linked terminals may be in the other. " +
			"Inside an accessory each position has a row: filled dots with a bracket are joined, rings are not."},
	}
	if p.Forbidden() {
		blocks = append(blocks, draw.Caution{Title: refused, Text: "The drawings show the plan that was refused, so that it can be put right. Nothing is to be connected by them."})
	}
	if p.Left == nil {
		return append(blocks, p.plainCards()...)
	}
	for i := range p.Moves {
		blocks = append(blocks, p.card(&p.Moves[i])...)
	}
	return append(blocks, p.untouched()...)
}

// plainCards shows every box with an accessory or a joint as found.
func (p *pack) plainCards() []draw.Block {
	var blocks []draw.Block
	for _, b := range p.Found.Inst.Boxes {
		if sc := sketchBox(p.Found.Graph, b.ID, b.Name()+", as found", notes{}); sc != nil {
			blocks = append(blocks, draw.Keep{Blocks: []draw.Block{
				draw.Heading{Level: 2, Text: b.Name()}, draw.Figure{Scene: sc, Caption: b.Name() + ", as found"},
			}})
		}
	}
	return blocks
}

func (p *pack) card(m *wiring.BoxMoves) []draw.Block {
	name := m.Box.FullName()
	intro := "**Off before opening:** " + strings.TrimSuffix(p.offFor(m.Box.ID), ".") + "."
	switch {
	case m.New:
		intro = "**New box** (" + shortTitle(m.Box.Kind.Title) + "). " + intro
	case m.Gone:
		intro = "**This box goes.** " + intro
	}
	figures := p.figures(m)
	blocks := []draw.Block{
		draw.Keep{Blocks: append([]draw.Block{draw.Heading{Level: 2, Text: name}, draw.Para{Text: intro}, draw.Figures{Figures: figures}}, joins(m.Box)...)},
	}
	if !p.Forbidden() {
		blocks = append(blocks, draw.Heading{Level: 3, Text: m.Box.Name() + ": step by step"}, draw.List{Kind: draw.Ticks, Items: steps(m)})
	}
	if !m.Gone {
		blocks = append(blocks, draw.Keep{Blocks: []draw.Block{p.coreTable(m)}})
	}
	return append(blocks, p.exchanges(m)...)
}

// exchanges says of the cables that end in a box which cores may change
// places.
func (p *pack) exchanges(m *wiring.BoxMoves) []draw.Block {
	if p.Way == nil || p.Forbidden() || m.Gone {
		return nil
	}
	var items []string
	for _, x := range p.Way.Exchanges {
		if c := p.Left.Inst.Cable(x.Cable); c != nil && (c.From == m.Box.ID || c.To == m.Box.ID) {
			items = append(items, x.Text+".")
		}
	}
	if len(items) == 0 {
		return nil
	}
	return []draw.Block{draw.Keep{Blocks: []draw.Block{
		draw.Para{Style: draw.Small, Text: "**Where it does not matter which core is which** (identify whichever is used):"}, draw.List{Items: items},
	}}}
}

// joins says in words which terminals the switches of a box join.
func joins(b *wiring.Box) []draw.Block {
	var blocks []draw.Block
	for _, f := range b.Fit {
		var rows []string
		for _, position := range f.Kind.Positions {
			var pairs []string
			for _, c := range closed(f.Kind, position) {
				pairs = append(pairs, c.Join[0]+"–"+c.Join[1])
			}
			if len(pairs) == 0 {
				pairs = []string{"nothing"}
			}
			rows = append(rows, position+" "+strings.Join(pairs, ", "))
		}
		if len(rows) > 0 {
			blocks = append(blocks, draw.Para{Style: draw.Small, Text: "**" + f.ID + "** joins: " + strings.Join(rows, "; ") + "."})
		}
	}
	return blocks
}

// figures are the box as found and as left, where it exists.
func (p *pack) figures(m *wiring.BoxMoves) []draw.Figure {
	var list []draw.Figure
	add := func(s *engine.Stage, n notes) {
		name := s.Name
		if s == p.Left && p.Forbidden() {
			name += " (REFUSED)"
		}
		if sc := sketchBox(s.Graph, m.Box.ID, m.Box.Name()+", "+s.Name, n); sc != nil {
			list = append(list, draw.Figure{Scene: sc, Caption: m.Box.Name() + ": **" + name + "**, rear view"})
		}
	}
	before, after := notesFound(m), notesLeft(m)
	if p.Forbidden() {
		before.steps, after.steps = nil, nil // there is no list of steps
	}
	add(p.Found, before)
	add(p.Left, after)
	return list
}

// steps are the moves as sentences with their numbers, and what a steel box asks
// for besides (boxes set in plaster are of steel).
func steps(m *wiring.BoxMoves) []string {
	list := make([]string, len(m.Moves))
	for i, move := range m.Moves {
		list[i] = fmt.Sprintf("**%d** %s", i+1, move.Text)
	}
	if m.Box.Kind.Mount == kit.MountPlaster && !m.Gone {
		list = append(list, "**Steel box:** join the cpc to the earth terminal of the box, and to a plate or accessory of metal. That terminal may hold a cpc that the drawing parks or puts in a connector.")
	}
	return list
}

// notesFound marks what goes, and which step takes each core end off.
func notesFound(m *wiring.BoxMoves) notes {
	n := newNotes()
	for i, move := range m.Moves {
		switch move.Kind {
		case wiring.TakeOff:
			n.number(move.Ends, i+1)
		case wiring.Withdraw:
			n.cables[move.Item] = "GOES"
		case wiring.Remove:
			n.items[move.Item] = "COMES OUT"
		}
	}
	return n
}

// notesLeft marks what is new, which step lands each core end, and sleeves.
func notesLeft(m *wiring.BoxMoves) notes {
	n := newNotes()
	for i, move := range m.Moves {
		switch move.Kind {
		case wiring.Land, wiring.Join, wiring.Park:
			n.number(move.Ends, i+1)
		case wiring.BringIn:
			n.cables[move.Item] = "NEW"
		case wiring.Fit:
			n.items[move.Item] = "NEW"
		case wiring.Sleeve, wiring.Check:
			for _, e := range move.Ends {
				n.sleeves[e] = move.Sleeve
			}
		}
	}
	return n
}

func newNotes() notes {
	return notes{steps: map[wiring.End]int{}, sleeves: map[wiring.End]string{}, cables: map[string]string{}, items: map[string]string{}}
}

func (n notes) number(ends []wiring.End, step int) {
	for _, e := range ends {
		n.steps[e] = step
	}
}

// coreTable says the same in words, core by core as left.
func (p *pack) coreTable(m *wiring.BoxMoves) draw.Table {
	t := draw.Table{
		Caption: m.Box.Name() + ": every core as left (changed ones shaded)",
		Head:    []string{"Cable", "Core", "As found in", "As left in", "Sleeve", "Then it is"}, RowHead: true,
		Weights: []float64{2.6, 2, 2.4, 2.4, 2.6, 2.4},
	}
	n := notesLeft(m)
	for _, cable := range p.Left.Graph.Placed(m.Box.ID).Cables {
		for _, core := range cable.Cores {
			was := "new cable"
			if n.cables[cable.Cable.ID] == "" {
				was = held(p.Found.Graph, core.End)
			}
			changed := n.steps[core.End] > 0
			row := draw.Cells(cable.Cable.ID, coreName(core), was, heldAt(&core),
				sleeveWord(n.sleeves[core.End]), p.Left.Proof.Duty[core.Node].String())
			for i := range row {
				row[i].Shaded = changed
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

func coreName(c wiring.PlacedCore) string {
	if code := codeOf(c.Core); code != c.Core.Name {
		return c.Core.Name + " " + code
	}
	return c.Core.Name
}

func sleeveWord(s string) string { return strings.TrimSuffix(s, " sleeve") }

// untouched lists the boxes that need no opening.
func (p *pack) untouched() []draw.Block {
	var list []string
	for _, b := range p.Left.Inst.Boxes {
		touched := false
		for i := range p.Moves {
			touched = touched || p.Moves[i].Box.ID == b.ID
		}
		if !touched {
			list = append(list, b.Name())
		}
	}
	if len(list) == 0 {
		return nil
	}
	return []draw.Block{
		draw.Heading{Level: 2, Text: "Boxes in which nothing changes"},
		draw.Para{Text: strings.Join(list, "; ") + ". Leave them closed, unless a test needs a lead there."},
	}
}
