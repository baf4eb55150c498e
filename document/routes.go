package document

import (
	"fmt"
	"strings"

	"strapper/finding"
	"strapper/internal/draw"
	"strapper/route"
)

// cableRoutes is the sheet of the new cables' routes through the house: the steps of
// each, what to do if something stands in the way, and one drill schedule for
// all. A job without a house, or without a new cable in it, has none.
func (p *pack) cableRoutes() []draw.Block {
	if p.Routes == nil {
		return nil
	}
	blocks := []draw.Block{
		draw.Heading{Level: 1, Text: "Routes of the new cables"},
		draw.Para{Text: "Before anything is drilled, lifted or cut: isolate, lock off and prove dead every circuit on the route, and look for pipes and cables with a detector. Minutes and mess are common practice and no promise."},
	}
	for i := range p.Routes.Runs {
		blocks = append(blocks, p.cableRoute(&p.Routes.Runs[i])...)
	}
	if t := p.Routes.Together; t != nil && len(t.Shared) > 0 {
		blocks = append(blocks, draw.Para{Text: fmt.Sprintf("Run together the cables take about %d minutes, %d fewer than one after the other. They share: %s.", t.Minutes, t.Saves, strings.Join(t.Shared, ", "))})
	}
	if t := p.drills(); len(t.Rows) > 0 {
		blocks = append(blocks, draw.Heading{Level: 2, Text: "Drill schedule"}, t,
			draw.Para{Style: draw.Small, Text: "“Out by” is what measuring on both sides may be wrong by, “allowed” what still serves. Where the first is more, make a 3 mm pilot from the room, close to the wall, and look for it from the other side."})
	}
	return blocks
}

// cableRoute is one run: its best route in full, and what the others come to.
func (p *pack) cableRoute(c *route.Choice) []draw.Block {
	in := p.Final().Inst
	cable := in.Cable(c.Run)
	blocks := []draw.Block{draw.Heading{Level: 2, Text: fmt.Sprintf("%s: %s to %s, %s", c.Run, in.Box(c.From).Name(), in.Box(c.To).Name(), cable.Kind.Title)}}
	if len(c.Routes) == 0 {
		return append(blocks, draw.Para{Text: sentence("No route was found: " + c.None)})
	}
	w := &c.Routes[0]
	text := fmt.Sprintf("**Cut %s.** The route is %s long, give or take %s. %s",
		tenths(w.Cut), hundredths(w.Length), hundredths(w.OffBy), w.Takes())
	if w.Bend > 0 {
		text += fmt.Sprintf(" No bend tighter than %d mm inside.", w.Bend)
	}
	blocks = append(blocks, draw.Para{Text: text})
	steps := draw.List{Kind: draw.Numbered}
	for _, s := range w.Steps {
		steps.Items = append(steps.Items, s.Text)
	}
	blocks = append(blocks, steps)
	if len(w.Notes) > 0 {
		mind := draw.List{}
		for _, n := range w.Notes {
			mind.Items = append(mind.Items, sentence(n))
		}
		blocks = append(blocks, draw.Para{Text: "**Mind**"}, mind)
	}
	if list := whatIfs(w); len(list) > 0 {
		blocks = append(blocks, draw.Para{Text: "**If something stands in the way**"}, draw.List{Items: list})
	}
	if t := others(c); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return blocks
}

func whatIfs(w *route.Route) []string {
	var list []string
	for _, f := range w.WhatIf {
		text := fmt.Sprintf("%s (%v likely): %s", finding.Capital(f.What), f.Likely, f.Do)
		if f.Other != "" && !strings.Contains(f.Do, f.Other) {
			text += "; or " + f.Other
		}
		list = append(list, text+".")
	}
	return list
}

// others compares the routes that were kept, if there is more than one.
func others(c *route.Choice) draw.Table {
	t := draw.Table{
		Caption: "Routes that no other beats in everything", Head: []string{"Route", "Length", "Minutes", "Mess", "Walls opened"},
		Weights: []float64{5, 2, 2, 2, 2}, RowHead: true,
	}
	if len(c.Routes) < 2 {
		return t
	}
	for i := range c.Routes {
		w := &c.Routes[i]
		t.Rows = append(t.Rows, draw.Cells(strings.Join(w.Because, ", "), hundredths(w.Length), fmt.Sprint(w.Minutes), fmt.Sprintf("%.1f", w.Mess), fmt.Sprint(w.Opened)))
	}
	return t
}

// drills has a row for each hole of the best routes, equal ones of one cable
// counted together; a hole that several cables pass is told once.
func (p *pack) drills() draw.Table {
	t := draw.Table{
		Head: []string{"Mark", "Cable", "Hole", "Size", "Where", "Measured from", "Out by, allowed", "Done"}, RowHead: true,
		Weights: []float64{1.1, 1.6, 2.6, 1.4, 3.4, 3.6, 2, 1},
	}
	n, shared := 0, map[string]string{}
	for i := range p.Routes.Runs {
		c := &p.Routes.Runs[i]
		if len(c.Routes) == 0 {
			continue
		}
		first := 1
		for _, h := range merged(c.Routes[0].Holes) {
			mark := fmt.Sprintf("%s%d", letterOf(n), first)
			if first += h.count; h.count > 1 {
				mark += fmt.Sprintf("–%d", first-1)
			}
			row := drillRow(c.Run, &h.Hole)
			if h.Cables > 1 {
				key := fmt.Sprint(h.Spot, h.Through)
				if other := shared[key]; other != "" {
					row = draw.Cells(c.Run, "the same hole as "+other, "", "", "", "", "")
				} else {
					shared[key] = mark
				}
			}
			t.Rows = append(t.Rows, append(draw.Cells(mark), row...))
		}
		n++
	}
	return t
}

// holes are one hole, or several alike.
type holes struct {
	route.Hole
	count int
}

// merged makes one of holes that follow one another and differ in the joist
// only.
func merged(all []route.Hole) []holes {
	var list []holes
	for i, h := range all {
		if n := len(list); i > 0 && strings.HasPrefix(h.Through, "joist") && alike(&all[i-1], &h) {
			first, _, _ := strings.Cut(strings.TrimPrefix(list[n-1].Through, "joists "), " to ")
			if first, _, _ = strings.Cut(strings.TrimPrefix(first, "joist "), " "); first != "" {
				list[n-1].Through = fmt.Sprintf("joists %s to %s", first, strings.TrimPrefix(h.Through, "joist "))
			}
			list[n-1].count++
			continue
		}
		list = append(list, holes{h, 1})
	}
	return list
}

func alike(a, b *route.Hole) bool {
	return strings.HasPrefix(a.Through, "joist") && a.Diameter == b.Diameter && a.Cables == b.Cables && a.Place == b.Place && a.Datum == b.Datum && a.Distance == b.Distance && a.Plate == b.Plate
}

func drillRow(run string, h *route.Hole) []draw.Cell {
	where := h.Place
	if wall := h.Wall(); wall != "" {
		where = wall + "; " + where
	}
	if h.Plate {
		where += "; cover with a 3 mm steel plate"
	}
	from, out := "seen where it is drilled", ""
	if h.Datum != "" {
		from = fmt.Sprintf("%d mm from %s", h.Distance, h.Datum)
		out = fmt.Sprintf("%d mm, %d mm", h.OffBy, h.Play)
	}
	size := fmt.Sprintf("%d mm", h.Diameter)
	if h.Cables > 1 {
		size += fmt.Sprintf(" for %d cables", h.Cables)
	}
	return draw.Cells(run, h.Through, size, where, from, out, "☐")
}

// tenths and hundredths print a length of cable in metres.
func tenths(l route.MM) string     { return fmt.Sprintf("%.1f m", l.Metres()) }
func hundredths(l route.MM) string { return fmt.Sprintf("%.2f m", l.Metres()) }
