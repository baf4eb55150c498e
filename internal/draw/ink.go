package draw

import (
	"fmt"
	"math"
	"strconv"
)

// Ink is a colour of 8 bits per channel, or no colour at all. The zero value
// is [None]. Every other value comes from [RGB] or [ParseInk].
type Ink uint32

// None leaves a shape unfilled or unstroked.
const None Ink = 0

const inked Ink = 1 << 24

// RGB makes an ink from its red, green and blue parts.
func RGB(r, g, b uint8) Ink {
	return inked | Ink(r)<<16 | Ink(g)<<8 | Ink(b)
}

// The inks of the page itself. Contrast against White, by the relative
// luminance formula of WCAG 2.2, is 21:1 for Black, 10:1 and more for Slate,
// and 3:1 and more for Hairline, which draws lines and never words.
var (
	Black    = RGB(0, 0, 0)
	White    = RGB(255, 255, 255)
	Slate    = RGB(58, 64, 72)
	Hairline = RGB(128, 134, 142)
	Tint     = RGB(236, 238, 240)
)

// ParseInk reads "#rrggbb". The error says what was read.
func ParseInk(s string) (Ink, error) {
	if len(s) != 7 || s[0] != '#' {
		return None, fmt.Errorf("draw: colour %q is not of the form #rrggbb", s)
	}
	v, err := strconv.ParseUint(s[1:], 16, 24)
	if err != nil {
		return None, fmt.Errorf("draw: colour %q is not of the form #rrggbb", s)
	}
	return inked | Ink(v), nil
}

// String prints the ink as "#rrggbb", or "none".
func (k Ink) String() string {
	if k == None {
		return "none"
	}
	const digits = "0123456789abcdef"
	b := []byte("#000000")
	for i := 6; i > 0; i-- {
		b[i] = digits[k&15]
		k >>= 4
	}
	return string(b)
}

// rgb gives the channels as fpdf wants them.
func (k Ink) rgb() (r, g, b int) {
	return int(k >> 16 & 255), int(k >> 8 & 255), int(k & 255)
}

// Luminance is the relative luminance, 0 (black) to 1 (white), as WCAG 2.2
// defines it; callers use it to choose black or white words upon an ink.
func (k Ink) Luminance() float64 {
	r, g, b := k.rgb()
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

// Over is Black or White, whichever is read better upon the ink.
func (k Ink) Over() Ink {
	// Contrast (L1+0.05)/(L2+0.05) is equal for both at L = 0.179.
	if k == None || k.Luminance() > 0.179 {
		return Black
	}
	return White
}

func linear(c int) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}
