package draw

import (
	"bytes"
	_ "embed"
	"encoding/binary"
	"fmt"
	"sync"

	"codeberg.org/go-pdf/fpdf"
)

// Source Sans 3 by Adobe, unmodified, SIL Open Font License 1.1 (OFL.txt).
var (
	//go:embed fonts/SourceSans3-Regular.ttf
	regularTTF []byte
	//go:embed fonts/SourceSans3-SemiBold.ttf
	semiboldTTF []byte
)

// Extents of the type as parts of its size, from the fonts' own outlines:
// the tallest of the letters (f) and the deepest (g) reach this far, and no
// letter further,
// from the baseline, and a capital letter is CapHeight tall.
const (
	Ascent    = 0.725
	Descent   = 0.225
	CapHeight = 0.656
)

const (
	family = "body"
	// absent is the advance written into the copy of the fonts used for
	// measuring, in the place of the glyph that stands for missing ones. No
	// real glyph is 30 em wide, so this width means: no glyph.
	absent = 30000
)

// meters measure with the PDF writer's own tables. They are only read once
// made, so many goroutines may measure at a time.
var meters = sync.OnceValues(func() ([2]*fpdf.Fpdf, error) {
	var m [2]*fpdf.Fpdf
	for i, ttf := range [][]byte{regularTTF, semiboldTTF} {
		marked, err := markMissing(ttf)
		if err != nil {
			return m, err
		}
		m[i] = fpdf.New("P", "mm", "A4", "")
		m[i].AddUTF8FontFromBytes(family, "", marked)
		m[i].SetFont(family, "", 10)
		if err := m[i].Error(); err != nil {
			return m, fmt.Errorf("draw: reading the font: %w", err)
		}
	}
	return m, nil
})

// markMissing copies a TrueType file with the advance of glyph 0, the first
// number of its table hmtx, set to absent.
func markMissing(ttf []byte) ([]byte, error) {
	out := bytes.Clone(ttf)
	tables := int(binary.BigEndian.Uint16(out[4:]))
	for i := range tables {
		rec := out[12+16*i:]
		if string(rec[:4]) == "hmtx" {
			binary.BigEndian.PutUint16(out[binary.BigEndian.Uint32(rec[8:]):], absent)
			return out, nil
		}
	}
	return nil, fmt.Errorf("draw: the font has no table hmtx")
}

func meter(bold bool) *fpdf.Fpdf {
	m, err := meters()
	if err != nil {
		panic(err) // the embedded fonts are broken: our bug, and a test's job
	}
	if bold {
		return m[1]
	}
	return m[0]
}

// advance is the width of a rune in thousandths of the size; false if the
// font has no glyph for it. The PDF writer sets the basic plane only.
func advance(m *fpdf.Fpdf, r rune) (int, bool) {
	if r >= 0xFFFF || r < ' ' {
		return 0, false
	}
	w := m.GetStringSymbolWidth(string(r))
	return w, w != absent
}

// Width is the length in millimetres of a line of words set at a size (the em
// in millimetres), semibold if bold. A rune the font lacks counts half an em.
func Width(s string, size float64, bold bool) float64 {
	m, sum := meter(bold), 0
	for _, r := range s {
		w, ok := advance(m, r)
		if !ok {
			w = 500
		}
		sum += w
	}
	return float64(sum) / 1000 * size
}

// MissingRunes lists the runes of s that the fonts cannot print, each once, in
// the order met. Line ends and tabs are not counted, since blocks break their
// words there; inside a [Text], which is one line, they are an error. Bytes that are not UTF-8 count as
// the rune U+FFFD.
func MissingRunes(s string) []rune {
	var out []rune
	seen := map[rune]bool{'\n': true, '\r': true, '\t': true}
	for _, r := range s {
		if seen[r] {
			continue
		}
		seen[r] = true
		_, regular := advance(meter(false), r)
		_, bold := advance(meter(true), r)
		if !regular || !bold || r == '\uFFFD' {
			out = append(out, r)
		}
	}
	return out
}

// MissingError says that words cannot be printed because the font lacks
// runes. In is the first text that has one.
type MissingError struct {
	Runes []rune
	In    string
}

// Error names each rune, the text and what to do.
func (e *MissingError) Error() string {
	names := ""
	for i, r := range e.Runes {
		if i > 0 {
			names += ", "
		}
		names += fmt.Sprintf("%q (%U)", r, r)
	}
	return fmt.Sprintf("draw: the font cannot print %s, first met in %q: use other words, or a drawn mark", names, e.In)
}
