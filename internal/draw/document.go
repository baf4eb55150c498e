package draw

// Document is a run of blocks to be printed on A4 portrait or shown as a page
// of HTML. Title, Subject, Author and Date stand at its head and in the
// metadata of the file. Date is given by the caller, since nothing here reads
// a clock: written as 2006-01-02 it also dates the PDF file, otherwise, or
// empty, the file carries a fixed date. Footer stands at the foot of each page.
type Document struct {
	Title, Subject, Author string
	Date                   string
	Footer                 string
	Blocks                 []Block
}

// Block is a part of a document: [Heading], [Para], [Table], [Figure],
// [Figures], [List], [Caution], [Keep], [PageBreak] or [Rule].
//
// Words in Para, List, Caution and Cell may hold bold stretches between pairs
// of two asterisks, and line ends, which are kept.
type Block interface{ block() }

// Heading begins a part. Level 1 is the largest; below 1 counts as 1, above 3
// as 3. Headings make the bookmarks of the PDF. A heading is never the last
// thing on a page.
type Heading struct {
	Level int
	Text  string
}

// ParaStyle is how a paragraph looks.
type ParaStyle uint8

// The styles. Cautious has a heavy bar at its side and is for one sentence
// among others; what must not be missed is a [Caution].
const (
	Normal ParaStyle = iota
	Cautious
	Small
	Lead
)

// Para is a paragraph.
type Para struct {
	Text  string
	Style ParaStyle
}

// Tone is how a state word stands out. The word itself always says the state;
// the tones differ in frame, weight and ground as well as in hue.
type Tone uint8

// The tones: Plain has a thin frame, Good a frame, Warn a heavy frame and bold
// type, Bad is white upon dark.
const (
	Plain Tone = iota
	Good
	Warn
	Bad
)

// Cell is one cell of a table. Empty is a box to write in, with Text (a unit,
// say) behind it. State is a word in a frame in front of the text.
type Cell struct {
	Text                string
	Bold, Shaded, Empty bool
	State               string
	Tone                Tone
}

// Cells makes a row of plain cells.
func Cells(texts ...string) []Cell {
	row := make([]Cell, len(texts))
	for i, t := range texts {
		row[i].Text = t
	}
	return row
}

// Table has a head, repeated on each page it runs over, and rows that are
// never cut by the end of a page unless one alone is taller than the page.
// Short rows are filled with blank cells. Weights share the width among the
// columns; without them (nil, or not one for each column, or one that is not
// positive) the contents do. Align holds the anchors of the columns, Start
// where it is short. RowHead says that the first cell of a row names it.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]Cell
	Weights []float64
	Align   []Anchor
	RowHead bool
}

// columns is the number of columns of the widest row.
func (t Table) columns() int {
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	return n
}

func (t Table) anchor(col int) Anchor {
	if col < len(t.Align) {
		return min(t.Align[col], End)
	}
	return Start
}

// weighed says whether the weights can be used.
func (t Table) weighed() bool {
	if len(t.Weights) != t.columns() {
		return false
	}
	for _, w := range t.Weights {
		if !(w > 0 && w < 1e9) {
			return false
		}
	}
	return true
}

// Figure shows a scene at its own size, or smaller to fit the page. Alt says
// in words what it shows; without it the scene's Desc is used.
type Figure struct {
	Scene        *Scene
	Caption, Alt string
}

// alt is the description for a reader who cannot see the figure.
func (f Figure) alt() string {
	if f.Alt != "" || f.Scene == nil {
		return f.Alt
	}
	return f.Scene.Desc
}

// Figures stand side by side where there is room, in rows.
type Figures struct{ Figures []Figure }

// ListKind is what stands before the items.
type ListKind uint8

// The kinds of list. Ticks has a square to tick before each item.
const (
	Bullets ListKind = iota
	Numbered
	Ticks
)

// List is a run of items. Start is the number of the first item of a Numbered
// list; 0 counts as 1.
type List struct {
	Items []string
	Kind  ListKind
	Start int
}

// first is the number of the first item.
func (l List) first() int {
	if l.Start == 0 {
		return 1
	}
	return l.Start
}

// Caution is a framed warning with a triangle. Title is a few words; Text
// says what to do or not to do.
type Caution struct{ Title, Text string }

// Keep holds blocks on one page if one page can hold them.
type Keep struct{ Blocks []Block }

// PageBreak begins a new page, unless the page is blank.
type PageBreak struct{}

// Rule is a line across the page.
type Rule struct{}

func (Heading) block()   {}
func (Para) block()      {}
func (Table) block()     {}
func (Figure) block()    {}
func (Figures) block()   {}
func (List) block()      {}
func (Caution) block()   {}
func (Keep) block()      {}
func (PageBreak) block() {}
func (Rule) block()      {}

// plainBlock takes the block itself where a pointer to one was given.
func plainBlock(b Block) Block {
	switch p := b.(type) {
	case *Heading:
		return *p
	case *Para:
		return *p
	case *Table:
		return *p
	case *Figure:
		return *p
	case *Figures:
		return *p
	case *List:
		return *p
	case *Caution:
		return *p
	case *Keep:
		return *p
	case *PageBreak:
		return *p
	case *Rule:
		return *p
	}
	return b
}
