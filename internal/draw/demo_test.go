package draw

import "fmt"

// The demonstration: an invented house, invented people. It uses every block
// and every mark.

func demoScene() *Scene {
	sc := &Scene{W: 120, H: 62, Title: "Landing box", Desc: "A square box with two cables entering at the top and two switches."}
	edge := Style{Stroke: Black, Width: 0.4}
	box := Group{ID: "box-landing", Class: "box", Title: "Landing, two gang"}
	box.Nodes = append(box.Nodes, RoundRect(10, 18, 70, 36, 3, Style{Fill: White, Stroke: Slate, Width: 0.5}))
	sc.Add(box)
	band := Band{Width: 2, EdgeWidth: 0.2, Pitch: 3, Edge: Black}
	for i, c := range [][2]Ink{{RGB(110, 60, 20), None}, {RGB(30, 90, 200), None}, {RGB(40, 140, 40), RGB(250, 220, 30)}, {RGB(245, 245, 245), None}} {
		band.Base, band.Stripe = c[0], c[1]
		x := 20 + 12*float64(i)
		sc.Add(band.Along(Bent(4, Point{x, 4}, Point{x, 26}, Point{x + 6, 26}, Point{x + 6, 40})))
		sc.Add(Circle(x+6, 41.5, 1.8, Style{Fill: White, Stroke: Black, Width: 0.4}))
		sc.Add(Text{X: x + 6, Y: 49, Size: 3, S: fmt.Sprintf("L%d", i+1), Anchor: Middle, Bold: true})
	}
	sc.Add(EarthMark(68, 36, 6, 0.5, Black))
	sc.Add(Arrow(112, 30, 84, 30, 3, edge), Plate(Text{X: 98, Y: 27, Size: 3, S: "moves here", Anchor: Middle}, White))
	sc.Add(Text{X: 86, Y: 40, Size: 3.2, S: "1.5 mm² · 0.42 Ω"}, Text{X: 116, Y: 54, Size: 3, S: "hall side", Turn: -90})
	sc.Add(Arc(92, 50, 4, 180, 360, Style{Stroke: Black, Width: 0.3, Dash: []float64{1, 0.6}}), TickBox(98, 47, 4))
	return sc
}

func demoTable(rows int) Table {
	t := Table{
		Caption: "Predicted readings", RowHead: true,
		Head:    []string{"Test", "Between", "Position", "Expect", "Measured", "Verdict"},
		Align:   []Anchor{Start, Start, Start, End, Start, Start},
		Weights: nil,
	}
	for i := range rows {
		verdict := []Cell{{State: "as predicted", Tone: Good}, {State: "not yet", Tone: Plain}, {State: "look again", Tone: Warn}, {State: "refused", Tone: Bad, Text: "line reaches the neutral bar"}}[i%4]
		t.Rows = append(t.Rows, []Cell{
			{Text: fmt.Sprintf("R%d", i+1)},
			{Text: "hall switch L1 → landing switch COM, strappers both ways"},
			{Text: "hall **up**, landing down", Shaded: i%2 == 1},
			{Text: fmt.Sprintf("%.2f Ω ± 0.05", 0.3+float64(i)/50)},
			{Empty: true, Text: "Ω"},
			verdict,
		})
	}
	return t
}

func demo() *Document {
	return &Document{
		Title: "Stair lights at 9 Quince Row", Subject: "An invented house: a third switch on the upper landing",
		Author: "A. N. Example", Date: "2031-02-03", Footer: "Demonstration only. Nothing here describes a real installation.",
		Blocks: []Block{
			Para{Text: "What this sheet is for, in one sentence, set larger so that it is read first.", Style: Lead},
			Caution{Title: "Prove dead before touching", Text: "Lock off, prove the tester, test **every** conductor in the box, prove the tester again. Two circuits meet in this box: switching one off leaves the other live."},
			Heading{1, "As found"},
			Para{Text: "The cable from the joint box holds one spare core. Ω ² ³ µ ≤ ≥ × · – — ° ± √ Δ → ← ✓ ✗ £ ½ ☐ … ′ ″ ₁ ₂ φ ∞ are the characters that must print. Bold words stand **so that they are found** among others, and a paragraph is long enough here to run over several lines of the page without being cut."},
			Para{Text: "The neutral of the landing light may belong to the other circuit.", Style: Cautious},
			Figure{demoScene(), "The landing box as found. Numbers are those of the terminals.", ""},
			Heading{2, "Boxes side by side"},
			Figures{[]Figure{{half(), "Hall, as found", "a small square"}, {half(), "Hall, as left", "a small square"}}},
			Heading{1, "Readings"},
			demoTable(9),
			Para{Text: "Measured with leads nulled at 20 °C; conductor data by their published tables.", Style: Small},
			Heading{2, "Steps"},
			List{Items: []string{"Lock off at the consumer unit and keep the key.", "Open the landing box; move **one** core at a time, and compare with the card before closing: a step may be long enough to need a second line on the page.", "Close."}, Kind: Numbered},
			Heading{3, "Before leaving"},
			List{Items: []string{"Every switch toggles the light from every position.", "No joint is left without access."}, Kind: Ticks},
			List{Items: []string{"connector, 3-way: 2", "grommet: 1"}},
			Rule{},
			Keep{[]Block{
				Heading{2, "Signed"},
				Table{Head: []string{"Name", "Position", "Date"}, Weights: []float64{2, 2, 1}, Rows: [][]Cell{{{Empty: true}, {Empty: true}, {Empty: true}}}},
			}},
			PageBreak{},
			Heading{1, "A table over many pages"},
			demoTable(60),
		},
	}
}

func half() *Scene {
	sc := &Scene{W: 84, H: 40, Title: "Hall box"}
	sc.Add(Rect(1, 1, 82, 38, Style{Stroke: Black, Width: 0.3}), Text{X: 42, Y: 22, Size: 4, S: "hall", Anchor: Middle})
	return sc
}
