package draw

import (
	"strings"
	"unicode"
)

// span is a stretch of words of one weight, x millimetres from the start of
// its line.
type span struct {
	s    string
	bold bool
	x, w float64
}

type line struct {
	spans []span
	w     float64
}

// type setting of a run of words
type setting struct {
	size float64
	bold bool
	ink  Ink
	lead float64 // line height as a part of the size
}

func (s setting) height() float64 { return s.size * s.lead }

// baseline is the depth of the baseline below the top of a line.
func (s setting) baseline() float64 {
	return s.height()/2 + s.size*(Ascent-Descent)/2
}

// Wrap breaks words into lines no longer than width millimetres, at spaces
// and line ends, and inside a word only where the word alone is too long. A
// line holds at least one character, so it may be longer than a tiny width.
func Wrap(s string, width, size float64, bold bool) []string {
	var out []string
	for _, l := range fill([]span{{s: s, bold: bold}}, width, size) {
		words := make([]string, len(l.spans))
		for i, sp := range l.spans {
			words[i] = sp.s
		}
		out = append(out, strings.Join(words, " "))
	}
	return out
}

// Fit shortens s with an ellipsis to at most width millimetres; where not
// even the ellipsis fits it is empty.
func Fit(s string, width, size float64, bold bool) string {
	if Width(s, size, bold) <= width {
		return s
	}
	rs := []rune(s)
	room := width - Width("…", size, bold)
	used := 0.0
	for i, r := range rs {
		used += Width(string(r), size, bold)
		if used > room {
			if room < 0 {
				return ""
			}
			return strings.TrimRightFunc(string(rs[:i]), unicode.IsSpace) + "…"
		}
	}
	return s
}

// marked splits words at pairs of ** into plain and bold stretches. A last **
// without its fellow is kept as it is.
func marked(s string, bold bool) []span {
	parts := strings.Split(s, "**")
	if n := len(parts); n%2 == 0 {
		parts = append(parts[:n-2], parts[n-2]+"**"+parts[n-1])
	}
	var out []span
	for i, p := range parts {
		if p != "" {
			out = append(out, span{s: p, bold: bold || i%2 == 1})
		}
	}
	return out
}

// unmarked is s without its bold marks.
func unmarked(s string) string {
	var b strings.Builder
	for _, sp := range marked(s, false) {
		b.WriteString(sp.s)
	}
	return b.String()
}

func (set setting) fill(s string, width float64) []line {
	return fill(marked(s, set.bold), width, set.size)
}

// fill breaks stretches of words into lines.
func fill(text []span, width, size float64) []line {
	f := filler{width: width, size: size}
	for _, t := range text {
		for i, para := range strings.Split(t.s, "\n") {
			if i > 0 {
				f.endWord()
				f.endLine()
			}
			f.words(para, t.bold)
		}
	}
	f.endWord()
	if len(f.cur.spans) > 0 {
		f.endLine()
	}
	return f.lines
}

type filler struct {
	width, size float64
	lines       []line
	cur         line
	word        []span // pieces that stand together without a space
}

// breaks says where a line may end. A no-break space is no place to break.
func breaks(r rune) bool {
	return r == ' ' || r == '\t' || r == '\r' || r == '\u2003' || r == '\u2009'
}

func (f *filler) words(s string, bold bool) {
	for s != "" {
		i := strings.IndexFunc(s, breaks)
		if i < 0 {
			f.piece(s, bold)
			return
		}
		f.piece(s[:i], bold)
		f.endWord()
		s = strings.TrimLeftFunc(s[i:], breaks)
	}
}

func (f *filler) piece(s string, bold bool) {
	if s != "" {
		f.word = append(f.word, span{s: s, bold: bold, w: Width(s, f.size, bold)})
	}
}

// endWord puts the word on the line, or on the next, or in parts on many.
func (f *filler) endWord() {
	if len(f.word) == 0 {
		return
	}
	w := 0.0
	for _, p := range f.word {
		w += p.w
	}
	space := 0.0
	if len(f.cur.spans) > 0 {
		space = Width(" ", f.size, false)
		if f.cur.w+space+w > f.width+1e-9 {
			f.endLine()
			space = 0
		}
	}
	for i, p := range f.word {
		if i > 0 {
			space = 0
		}
		if w > f.width+1e-9 {
			f.chop(p)
			continue
		}
		f.add(p, space)
	}
	f.word = f.word[:0]
}

// chop adds a piece of a word that is longer than the line.
func (f *filler) chop(p span) {
	for p.s != "" {
		n, w := f.prefix(p)
		f.add(span{s: p.s[:n], bold: p.bold, w: w}, 0)
		p.s = p.s[n:]
		if p.s != "" {
			f.endLine()
		}
	}
}

// prefix is the length in bytes of what still fits on the line, one rune at
// least on an empty line, ending after a slash or hyphen if there is one late
// enough.
func (f *filler) prefix(p span) (n int, w float64) {
	m, used, soft, softW := meter(p.bold), 0.0, 0, 0.0
	for i, r := range p.s {
		k, ok := advance(m, r)
		if !ok {
			k = 500
		}
		next := used + float64(k)/1000*f.size
		if f.cur.w+next > f.width+1e-9 && (i > 0 || len(f.cur.spans) > 0) {
			if soft > i/2 {
				return soft, softW
			}
			return i, used
		}
		used = next
		if strings.ContainsRune("/-–_.", r) {
			soft, softW = i+len(string(r)), used
		}
	}
	return len(p.s), used
}

func (f *filler) add(p span, space float64) {
	if p.s == "" {
		return
	}
	if n := len(f.cur.spans); n > 0 && f.cur.spans[n-1].bold == p.bold {
		last := &f.cur.spans[n-1]
		if space > 0 {
			last.s += " "
			space = Width(" ", f.size, p.bold)
		}
		last.s += p.s
		last.w += space + p.w
		f.cur.w += space + p.w
		return
	}
	p.x = f.cur.w + space
	f.cur.spans = append(f.cur.spans, p)
	f.cur.w = p.x + p.w
}

func (f *filler) endLine() {
	f.lines = append(f.lines, f.cur)
	f.cur = line{}
}

// at sets a line with its top at y, anchored at x, in nodes.
func (set setting) at(l line, x, y float64, a Anchor) []Node {
	x -= l.w * a.share()
	out := make([]Node, 0, len(l.spans))
	for _, sp := range l.spans {
		out = append(out, Text{X: x + sp.x, Y: y + set.baseline(), Size: set.size, S: sp.s, Bold: sp.bold, Fill: set.ink})
	}
	return out
}
