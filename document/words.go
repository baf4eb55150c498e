package document

import (
	"strconv"
	"strings"

	"strapper/finding"
	"strapper/internal/draw"
	"strapper/wiring"
)

// wrap breaks words into lines no wider than w millimetres; a word that is too
// long for a line is cut.
func wrap(s string, size float64, bold bool, w float64) []string {
	var lines []string
	line := ""
	for _, word := range glued(strings.Fields(s)) {
		for _, piece := range cut(word, size, bold, w) {
			joined := strings.TrimSpace(line + " " + piece)
			if line != "" && draw.Width(joined, size, bold) > w {
				lines = append(lines, line)
				joined = piece
			}
			line = joined
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fit shortens a text to w millimetres.
func fit(s string, size float64, bold bool, w float64) string {
	if draw.Width(s, size, bold) <= w {
		return s
	}
	return cut(s, size, bold, w-draw.Width("…", size, bold))[0] + "…"
}

// glued keeps a unit with its number: "1.0 mm²" is one word.
func glued(words []string) []string {
	var list []string
	for _, w := range words {
		if n := len(list); n > 0 && (strings.TrimRight(w, ",;") == "mm²" || w == "W") {
			list[n-1] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

// cut divides a word into pieces no wider than w; a piece has one letter at
// least.
func cut(word string, size float64, bold bool, w float64) []string {
	var pieces []string
	piece := ""
	for _, r := range word {
		if piece != "" && draw.Width(piece+string(r), size, bold) > w {
			pieces = append(pieces, piece)
			piece = ""
		}
		piece += string(r)
	}
	return append(pieces, piece)
}

// shortTitle is a title up to its first colon: what follows is explanation.
func shortTitle(s string) string {
	head, _, _ := strings.Cut(s, ":")
	return head
}

// boxName is how the household calls a box of either stage.
func boxName(id string, insts ...*wiring.Installation) string {
	for _, in := range insts {
		if in == nil {
			continue
		}
		if b := in.Box(id); b != nil {
			return b.Name()
		}
	}
	return id
}

// alone reports whether a box holds one accessory, so that its name will do.
func alone(id string, insts ...*wiring.Installation) bool {
	found := false
	for _, in := range insts {
		if in == nil {
			continue
		}
		if b := in.Box(id); b != nil {
			if len(b.Fit) != 1 {
				return false
			}
			found = true
		}
	}
	return found
}

// placeOf says in words where a finding's subject is.
func placeOf(s finding.Subject, insts ...*wiring.Installation) string {
	part := strings.Split(string(s), ".")
	switch {
	case part[0] == "boxes" && len(part) == 3 && alone(part[1], insts...):
		return boxName(part[1], insts...)
	case part[0] == "boxes" && len(part) > 2:
		return strings.Join(part[2:], " ") + " in " + boxName(part[1], insts...)
	case part[0] == "boxes" && len(part) == 2:
		return boxName(part[1], insts...)
	case part[0] == "joints" && len(part) > 3:
		return part[3] + " of " + part[2] + " in " + boxName(part[1], insts...)
	case part[0] == "joints" && len(part) > 1:
		return "joints in " + boxName(part[1], insts...)
	case part[0] == "cables" && len(part) > 1:
		return "cable " + part[1]
	case part[0] == "circuits" && len(part) > 1:
		return "circuit " + part[1]
	case part[0] == "readings" && len(part) > 1:
		return "readings taken"
	case part[0] == "want" && len(part) > 1:
		return "control wanted"
	case part[0] == "house" && len(part) == 3 && part[1] == "boxes":
		return boxName(part[2], insts...)
	case part[0] == "house":
		return strings.Join(part, " ")
	}
	return string(s)
}

// sentence begins with a capital, unless with an id, and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	if !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	if first, _, _ := strings.Cut(s, " "); strings.ContainsAny(strings.TrimRight(first, ".,:"), ".-") {
		return s
	}
	return finding.Capital(s)
}

// held says in a few letters what holds a core end.
func held(g *wiring.Graph, e wiring.End) string {
	p := g.Placed(e.Box)
	if p == nil {
		return ""
	}
	for i := range p.Cables {
		for _, core := range p.Cables[i].Cores {
			if core.End == e {
				return heldAt(&core)
			}
		}
	}
	return ""
}

func heldAt(c *wiring.PlacedCore) string {
	switch c.At {
	case wiring.AtTerminal:
		return c.Terminals[0].Item + " " + c.Terminals[0].Name
	case wiring.AtConnector:
		return "con " + strconv.Itoa(c.Connector)
	case wiring.AtParked:
		return "parked"
	}
	return "LOOSE"
}
