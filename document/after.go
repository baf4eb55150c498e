package document

import (
	"slices"

	"strapper/engine"
	"strapper/internal/draw"
	"strapper/kit"
	"strapper/wiring"
)

// Sizes of the picture of today and afterwards, in millimetres.
const (
	panelW  = 85.0
	panelH0 = 9.0 // its title
	cardW   = 34.0
	cardH   = 13.0
	cardGap = 4.0
)

// todayAndAfter is a picture of which switch works which light, before and after
// the work. It is left out where there are too many switches to tell, and where
// pushes work a relay, whose contacts are not the switch that a person presses.
func (p *pack) todayAndAfter() []draw.Block {
	if !p.Found.Proof.Exact || !p.Left.Proof.Exact || pushes(p.Found) || pushes(p.Left) {
		return nil
	}
	today, after := worked(p.Found), worked(p.Left)
	figures := draw.Figures{Figures: []draw.Figure{
		{Scene: today.scene("Today", nil), Caption: ""}, {Scene: after.scene("Afterwards", today), Caption: ""},
	}}
	return []draw.Block{draw.Keep{Blocks: []draw.Block{
		draw.Heading{Level: 2, Text: "Today and afterwards"},
		draw.Para{Style: draw.Small, Text: "Switches stand at the left, lights at the right; a line joins each switch to the lights it works. New ones have a heavy frame."},
		figures,
	}}}
}

// pushes reports whether any switch springs back.
func pushes(s *engine.Stage) bool {
	return slices.ContainsFunc(s.Graph.Switches, func(sw wiring.Switch) bool { return sw.Kind.Actuator == kit.ByPush })
}

// works is which switch works which load.
type works struct {
	switches, loads []string // ids
	names           map[string]string
	joined          [][2]int
}

// worked looks up in a proof which switch works which lamp. Loads that nobody
// switches are left out.
func worked(s *engine.Stage) *works {
	w := &works{names: map[string]string{}}
	for _, l := range s.Graph.Lamps() {
		load := &s.Graph.Loads[l]
		for _, k := range s.Proof.Switched(l) {
			sw := &s.Graph.Switches[k]
			w.joined = append(w.joined, [2]int{w.add(&w.switches, sw.ID(), sw.Box), w.add(&w.loads, load.ID(), load.Box)})
		}
	}
	return w
}

// add finds or appends a thing and says its place.
func (w *works) add(list *[]string, id string, b *wiring.Box) int {
	if i := slices.Index(*list, id); i >= 0 {
		return i
	}
	w.names[id] = b.Name()
	*list = append(*list, id)
	return len(*list) - 1
}

// scene draws it; what before has not is new.
func (w *works) scene(title string, before *works) *draw.Scene {
	rows := max(len(w.switches), len(w.loads), 1)
	sc := &draw.Scene{W: panelW, H: panelH0 + float64(rows)*(cardH+cardGap), Title: title, Desc: w.say()}
	sc.Add(draw.Text{X: 0, Y: 5, Size: 4, S: title, Bold: true})
	y := func(list []string, i int) float64 {
		return panelH0 + (float64(i)+float64(rows-len(list))/2)*(cardH+cardGap)
	}
	for _, j := range w.joined {
		sc.Add(draw.Line(cardW, y(w.switches, j[0])+cardH/2, panelW-cardW, y(w.loads, j[1])+cardH/2, draw.Style{Stroke: draw.Slate, Width: 0.5}))
	}
	for i, id := range w.switches {
		sc.Add(w.card(id, 0.5, y(w.switches, i), before != nil && !slices.Contains(before.switches, id))...)
	}
	for i, id := range w.loads {
		sc.Add(w.card(id, panelW-cardW-0.5, y(w.loads, i), before != nil && !slices.Contains(before.loads, id))...)
	}
	return sc
}

// card is one switch or light with its name.
func (w *works) card(id string, x, y float64, fresh bool) []draw.Node {
	st, name := draw.Style{Fill: draw.White, Stroke: draw.Slate, Width: 0.3}, w.names[id]
	if fresh {
		st.Width, name = 0.9, "NEW: "+name
	}
	nodes := []draw.Node{draw.RoundRect(x, y, cardW, cardH, 2, st)}
	lines := wrap(name, labelSize, fresh, cardW-3)
	if len(lines) > 3 {
		lines = lines[:3]
		lines[2] = fit(lines[2]+" …", labelSize, fresh, cardW-3)
	}
	for i, line := range lines {
		nodes = append(nodes, draw.Text{
			X: x + cardW/2, Y: y + cardH/2 + labelSize*0.35 + labelLine*(float64(i)-float64(len(lines)-1)/2),
			Size: labelSize, S: line, Bold: fresh, Anchor: draw.Middle,
		})
	}
	return nodes
}

// say tells the picture in words.
func (w *works) say() string {
	text := ""
	for _, j := range w.joined {
		text += w.names[w.switches[j[0]]] + " works " + w.names[w.loads[j[1]]] + ". "
	}
	if text == "" {
		return "No switch works a light."
	}
	return text[:len(text)-1]
}
