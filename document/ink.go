package document

import (
	"strings"

	"strapper/internal/draw"
	"strapper/kit"
)

// A skin is how the insulation of a core is drawn. Code is its letter code of
// IEC 60757, by which it is told apart without colour.
type skin struct {
	base, stripe draw.Ink
	code         string
}

var (
	greenInk  = draw.RGB(34, 136, 62)
	yellowInk = draw.RGB(247, 214, 40)
)

// skins are the colours as they look on fresh insulation. A bare protective
// conductor is shown in the sleeve it is given in every box.
var skins = map[kit.Colour]skin{
	kit.Brown:       {draw.RGB(121, 74, 36), draw.None, "BN"},
	kit.Blue:        {draw.RGB(38, 112, 204), draw.None, "BU"},
	kit.Black:       {draw.RGB(24, 24, 24), draw.None, "BK"},
	kit.Grey:        {draw.RGB(150, 154, 158), draw.None, "GY"},
	kit.Red:         {draw.RGB(205, 38, 38), draw.None, "RD"},
	kit.Yellow:      {yellowInk, draw.None, "YE"},
	kit.Green:       {greenInk, draw.None, "GN"},
	kit.GreenYellow: {greenInk, yellowInk, "GNYE"},
	kit.Bare:        {greenInk, yellowInk, "cpc"},
}

func skinOf(c kit.Colour) skin {
	if s, ok := skins[c]; ok {
		return s
	}
	return skin{draw.White, draw.None, string(c)}
}

// codeOf is the letter code of a core, with the number of its name where a
// cable has several cores of one colour.
func codeOf(c *kit.Core) string {
	digits := strings.TrimLeft(c.Name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-_")
	if len(digits) > 2 {
		digits = ""
	}
	return skinOf(c.Colour).code + digits
}

// sleeveColour reads the colour of a sleeve from its name: "brown sleeve".
func sleeveColour(name string) kit.Colour {
	word, _, _ := strings.Cut(name, " ")
	if strings.HasPrefix(word, "green") {
		return kit.GreenYellow
	}
	return kit.Colour(word)
}

const (
	coreWidth = 1.5
	coreEdge  = 0.3
	halo      = 0.5
)

// conductor draws a core along a path: white on both sides so that crossings
// can be followed, a black edge so that pale cores show, then its colour.
func conductor(p draw.Path, s skin) []draw.Node {
	gap := draw.Shape{Path: p, Style: draw.Style{Stroke: draw.White, Width: coreWidth + 2*coreEdge + 2*halo}}
	band := draw.Band{Width: coreWidth, EdgeWidth: coreEdge, Pitch: 2.6, Base: s.base, Stripe: s.stripe, Edge: draw.Black}
	return []draw.Node{gap, band.Along(p)}
}
