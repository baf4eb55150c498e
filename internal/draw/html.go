package draw

import (
	"bufio"
	_ "embed"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

//go:embed page.css
var pageCSS string

// HTML writes the document as one HTML file in UTF-8 that refers to nothing
// outside itself and runs no script: words, tables, and each figure as SVG on
// a white panel. Wide tables and figures scroll in their own boxes, so that
// the page itself fits a screen of 360 pixels. The error is w's.
func (d *Document) HTML(w io.Writer) error {
	o := &htmlWriter{b: bufio.NewWriterSize(w, 1<<15)}
	o.put("<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n")
	o.put("<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n")
	o.put("<title>", esc(oneLine(d.Title)), "</title>\n")
	o.meta("author", d.Author)
	o.meta("description", d.Subject)
	o.meta("date", d.Date)
	o.put("<style>\n", pageCSS, "</style>\n</head>\n<body>\n")
	o.header(d)
	o.put("<main>\n")
	o.blocks(d.Blocks)
	o.put("</main>\n")
	if d.Footer != "" {
		o.put("<footer><hr><p>", esc(d.Footer), "</p></footer>\n")
	}
	o.put("</body>\n</html>\n")
	return o.b.Flush()
}

type htmlWriter struct {
	b       *bufio.Writer
	figures int
	heads   int
	turn    bool // a page break is due before the next block
}

func (o *htmlWriter) put(parts ...string) {
	for _, p := range parts {
		o.b.WriteString(p)
	}
}

func (o *htmlWriter) meta(name, content string) {
	if content != "" {
		o.put(`<meta name="`, name, `" content="`, esc(oneLine(content)), "\">\n")
	}
}

func (o *htmlWriter) header(d *Document) {
	o.put("<header>\n<h1>", esc(d.Title), "</h1>\n")
	if d.Subject != "" {
		o.put(`<p class="lead">`, esc(d.Subject), "</p>\n")
	}
	var by []string
	if d.Author != "" {
		by = append(by, esc(d.Author))
	}
	if d.Date != "" {
		by = append(by, "<time>"+esc(d.Date)+"</time>")
	}
	if len(by) > 0 {
		o.put(`<p class="small">`, strings.Join(by, " · "), "</p>\n")
	}
	o.put("</header>\n")
}

func (o *htmlWriter) blocks(blocks []Block) {
	for _, b := range blocks {
		o.block(b)
	}
}

func (o *htmlWriter) block(b Block) {
	if o.turn {
		if _, again := plainBlock(b).(PageBreak); !again {
			o.put("<div class=\"turn\"></div>\n")
			o.turn = false
		}
	}
	switch b := plainBlock(b).(type) {
	case Heading:
		o.heading(b)
	case Para:
		o.para(b)
	case Table:
		o.table(b)
	case Figure:
		o.figure(b)
	case Figures:
		o.put("<div class=\"side\">\n")
		for _, f := range b.Figures {
			o.figure(f)
		}
		o.put("</div>\n")
	case List:
		o.list(b)
	case Caution:
		o.caution(b)
	case Keep:
		o.put("<div class=\"keep\">\n")
		o.blocks(b.Blocks)
		o.put("</div>\n")
	case PageBreak:
		o.turn = true
	case Rule:
		o.put("<hr>\n")
	}
}

// words writes words with their bold stretches and line ends.
func words(s string) string {
	var b strings.Builder
	for _, sp := range marked(s, false) {
		t := strings.ReplaceAll(esc(sp.s), "\n", "<br>")
		if sp.bold {
			t = "<strong>" + t + "</strong>"
		}
		b.WriteString(t)
	}
	return b.String()
}

func (o *htmlWriter) heading(h Heading) {
	if strings.TrimSpace(h.Text) == "" {
		return
	}
	o.heads++
	tag := "h" + strconv.Itoa(h.level()+1)
	o.put("<", tag, ` id="s`, strconv.Itoa(o.heads), `">`, esc(h.Text), "</", tag, ">\n")
}

func (o *htmlWriter) para(p Para) {
	class := [...]string{"", ` class="cautious"`, ` class="small"`, ` class="lead"`}[min(p.Style, Lead)]
	o.put("<p", class, ">", words(p.Text), "</p>\n")
}

func (o *htmlWriter) list(l List) {
	tag, open := "ul", "<ul>\n"
	switch l.Kind {
	case Ticks:
		open = "<ul class=\"ticks\">\n"
	case Numbered:
		tag, open = "ol", "<ol>\n"
		if l.first() != 1 {
			open = fmt.Sprintf("<ol start=\"%d\">\n", l.first())
		}
	}
	o.put(open)
	for _, item := range l.Items {
		if l.Kind == Ticks {
			o.put(`<li><i role="img" aria-label="to tick"></i><span>`, words(item), "</span></li>\n")
		} else {
			o.put("<li>", words(item), "</li>\n")
		}
	}
	o.put("</", tag, ">\n")
}

func (o *htmlWriter) caution(c Caution) {
	if c.Title == "" && c.Text == "" {
		return
	}
	o.put("<div class=\"caution\" role=\"note\">")
	o.put(`<svg viewBox="0 0 10 9.2" aria-hidden="true">`)
	mark := svgWriter{b: o.b}
	mark.nodes([]Node{WarningMark(0, 0, 10)}, 0)
	o.put("</svg>\n<div>")
	if c.Title != "" {
		o.put("<p><strong>", esc(c.Title), "</strong></p>")
	}
	if c.Text != "" {
		o.put("<p>", words(c.Text), "</p>")
	}
	o.put("</div></div>\n")
}

func (o *htmlWriter) figure(f Figure) {
	o.put("<figure>\n")
	if f.Scene != nil {
		o.figures++
		o.panel(f)
	}
	if f.Caption != "" {
		o.put("<figcaption>", words(f.Caption), "</figcaption>\n")
	}
	if f.Scene == nil && f.alt() != "" {
		o.put("<p>", esc(f.alt()), "</p>\n")
	}
	o.put("</figure>\n")
}

// legible is the size, in millimetres of the screen, below which words in a
// figure are not shrunk on a narrow screen; the panel scrolls instead.
const legible = 2.5

func (o *htmlWriter) panel(f Figure) {
	sc := *f.Scene
	sc.Desc = f.alt()
	floor := 0.0
	if s := sc.smallest(); s > 0 {
		floor = sc.W * math.Min(1, legible/s)
	}
	o.put("<div class=\"panel\" tabindex=\"0\">\n")
	svg := svgWriter{b: o.b, prefix: "f" + strconv.Itoa(o.figures) + "-"}
	svg.open(&sc, fmt.Sprintf(` style="width:min(100%%,%smm);min-width:%smm"`, num(sc.W), num(floor)))
	svg.nodes(sc.Nodes, 0)
	o.put("</svg>\n</div>\n")
}
