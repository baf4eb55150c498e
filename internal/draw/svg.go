package draw

import (
	"bufio"
	"html"
	"io"
	"strings"
	"unicode/utf8"
)

// fontStack names the face the words were measured for and what to use
// without it.
const fontStack = `'Source Sans 3','Source Sans Pro','Segoe UI',Roboto,'Helvetica Neue',Arial,sans-serif`

// SVG writes the scene as a picture of its own, W by H millimetres, with
// title, description, ids, classes and real words. Each line of words carries
// its measured length, so that labels keep their room whatever face the
// viewer has. The error is w's.
func (sc *Scene) SVG(w io.Writer) error {
	out := svgWriter{b: bufio.NewWriter(w)}
	out.open(sc, ` width="`+num(sc.W)+`mm" height="`+num(sc.H)+`mm"`)
	out.nodes(sc.Nodes, 0)
	out.b.WriteString("</svg>\n")
	return out.b.Flush()
}

// svgWriter writes nodes; prefix goes before every id, so that many drawings
// can stand in one page.
type svgWriter struct {
	b      *bufio.Writer
	prefix string
}

func (o svgWriter) open(sc *Scene, attrs string) {
	o.b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"` + attrs +
		` viewBox="0 0 ` + num(sc.W) + ` ` + num(sc.H) + `" role="img" aria-labelledby="` + o.prefix + `title`)
	if sc.Desc != "" {
		o.b.WriteString(` ` + o.prefix + `desc`)
	}
	o.b.WriteString(`" font-family="` + fontStack + `" stroke-linejoin="round">` + "\n")
	o.b.WriteString(`<title id="` + o.prefix + `title">` + esc(sc.Title) + "</title>\n")
	if sc.Desc != "" {
		o.b.WriteString(`<desc id="` + o.prefix + `desc">` + esc(sc.Desc) + "</desc>\n")
	}
}

func (o svgWriter) nodes(nodes []Node, depth int) {
	for _, n := range nodes {
		switch n := plain(n).(type) {
		case Shape:
			o.shape(n)
		case Text:
			o.text(n)
		case Group:
			o.group(n, depth)
		case Placed:
			o.placed(n, depth)
		}
	}
}

func (o svgWriter) group(g Group, depth int) {
	o.b.WriteString("<g")
	if g.ID != "" {
		o.attr("id", o.prefix+safeID(g.ID))
	}
	if g.Class != "" {
		o.attr("class", g.Class)
	}
	o.b.WriteByte('>')
	if g.Title != "" {
		o.b.WriteString("<title>" + esc(g.Title) + "</title>")
	}
	o.b.WriteByte('\n')
	o.nodes(g.Nodes, depth)
	o.b.WriteString("</g>\n")
}

func (o svgWriter) placed(p Placed, depth int) {
	if p.Scene == nil || depth >= maxNesting {
		return
	}
	v := view{k: 1}.into(p)
	o.b.WriteString(`<g transform="translate(` + num(v.x) + ` ` + num(v.y) + `)`)
	if v.k != 1 {
		o.b.WriteString(` scale(` + num(v.k) + `)`)
	}
	o.b.WriteString(`">` + "\n")
	o.nodes(p.Scene.Nodes, depth+1)
	o.b.WriteString("</g>\n")
}

func (o svgWriter) shape(s Shape) {
	o.b.WriteString(`<path d="` + pathData(s.Path) + `" fill="` + s.Style.Fill.String() + `"`)
	if st := s.Style; st.Stroke != None {
		o.b.WriteString(` stroke="` + st.Stroke.String() + `" stroke-width="` + num(st.Width) + `"`)
		if len(st.Dash) > 0 {
			o.b.WriteString(` stroke-dasharray="` + numbers(st.Dash) + `"`)
		}
		if st.Round {
			o.b.WriteString(` stroke-linecap="round"`)
		}
	}
	o.b.WriteString("/>\n")
}

func (o svgWriter) text(t Text) {
	if t.S == "" {
		return
	}
	o.b.WriteString(`<text x="` + num(t.X) + `" y="` + num(t.Y) + `" font-size="` + num(t.Size) + `"`)
	if t.Anchor != Start {
		o.b.WriteString(` text-anchor="` + t.Anchor.String() + `"`)
	}
	if t.Bold {
		o.b.WriteString(` font-weight="600"`)
	}
	if utf8.RuneCountInString(t.S) > 1 {
		o.b.WriteString(` textLength="` + num(Width(t.S, t.Size, t.Bold)) + `" lengthAdjust="spacingAndGlyphs"`)
	}
	if t.Fill != None && t.Fill != Black {
		o.b.WriteString(` fill="` + t.Fill.String() + `"`)
	}
	if t.Turn != 0 {
		o.b.WriteString(` transform="rotate(` + num(t.Turn) + ` ` + num(t.X) + ` ` + num(t.Y) + `)"`)
	}
	o.b.WriteString(">" + esc(t.S) + "</text>\n")
}

func (o svgWriter) attr(name, value string) {
	o.b.WriteString(" " + name + `="` + esc(value) + `"`)
}

// esc makes words safe in HTML and XML: markup is escaped, bytes that are not
// UTF-8 and characters XML forbids become U+FFFD.
func esc(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return html.EscapeString(s)
}

func safeID(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return '-'
	}, s)
}
