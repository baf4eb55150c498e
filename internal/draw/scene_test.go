package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func TestSceneGolden(t *testing.T) {
	golden(t, "scene.dump", demoScene().Dump())
	var b bytes.Buffer
	if err := demoScene().SVG(&b); err != nil {
		t.Fatal(err)
	}
	golden(t, "scene.svg", b.String())
}

func TestSVGIsXML(t *testing.T) {
	sc := &Scene{W: 10, H: 10, Title: `<&">` + "\x00\xff", Nodes: []Node{
		&Group{ID: `a"b c`, Class: `x"y`, Title: "<t>", Nodes: []Node{Text{S: "a<b & \"c\"", Size: 3}}},
		Placed{Scene: half(), X: 1, Scale: 0.5},
	}}
	var b bytes.Buffer
	if err := sc.SVG(&b); err != nil {
		t.Fatal(err)
	}
	var words string
	for dec := xml.NewDecoder(&b); ; {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			words += string(c)
		}
	}
	if !strings.Contains(words, `a<b & "c"`) || !strings.Contains(words, "hall") {
		t.Errorf("words of the SVG: %q", words)
	}
}

// A line is as long as its runes together, and scales with its size; that the
// runes are as long as printed is checked by TestWidthIsWhatIsPrinted.
func TestWidth(t *testing.T) {
	for _, c := range []struct {
		s    string
		bold bool
	}{{"Ω", false}, {"hall up, landing down", false}, {"hall up, landing down", true}} {
		one := 0.0
		for _, r := range c.s {
			one += Width(string(r), 1, c.bold)
		}
		if got := Width(c.s, 10, c.bold); math.Abs(got-10*one) > 1e-9 || got <= 0 {
			t.Errorf("Width(%q) = %g, its runes have %g", c.s, got, 10*one)
		}
	}
	if r, b := Width("hall", 10, false), Width("hall", 10, true); b <= r {
		t.Errorf("semibold %g is not wider than regular %g", b, r)
	}
}

func TestMissingRunes(t *testing.T) {
	const needed = "Ω²³µ≤≥×·–—°±√Δ→←✓✗£½☐…′″₁₂φ∞\u00a0'\"*•"
	if got := MissingRunes(needed); got != nil {
		t.Errorf("the font lacks %q", got)
	}
	if got := string(MissingRunes("a⏚\nb⚡⏚ₙ\U0001F4A1\xff\U00010000")); got != "⏚⚡ₙ\U0001F4A1\uFFFD\U00010000" {
		t.Errorf("missing: %q", got)
	}
}

func TestPDFRefusesMissingRunes(t *testing.T) {
	fig := &Scene{W: 20, H: 10, Nodes: []Node{Text{X: 1, Y: 5, Size: 3, S: "two\nlines"}}}
	for _, c := range []struct {
		doc  Document
		want string
	}{
		{Document{Title: "x ⏚ y"}, "⏚"},
		{Document{Footer: "⚡"}, "⚡"},
		{Document{Blocks: []Block{Table{Rows: [][]Cell{{{State: "⌀"}, {Text: "中"}}}}}}, "⌀中"},
		{Document{Blocks: []Block{Figure{Scene: fig}}}, "\n"},
	} {
		var e *MissingError
		err := c.doc.PDF(io.Discard)
		if !errors.As(err, &e) || string(e.Runes) != c.want {
			t.Errorf("error %v, want one naming %q", err, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	const s = "the landing switch and its two strappers, then a name without a break: " +
		"ConsumerUnitWayNumberTwelveLightingUpstairs/landing-and-hall"
	for _, w := range []float64{200, 60, 25, 8, 0.1} {
		lines := Wrap(s, w, 3.5, false)
		for _, l := range lines {
			if Width(l, 3.5, false) > w+1e-9 && len([]rune(l)) > 1 {
				t.Errorf("width %g: %q has %g", w, l, Width(l, 3.5, false))
			}
		}
		join := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if join(strings.Join(lines, "")) != join(s) {
			t.Errorf("width %g: words changed: %q", w, lines)
		}
	}
	if got := Wrap("a\n\nb", 50, 3, false); len(got) != 3 || got[1] != "" {
		t.Errorf("line ends: %q", got)
	}
	if got := Fit("a long name of a place", 20, 3.5, false); !strings.HasSuffix(got, "…") || Width(got, 3.5, false) > 20 {
		t.Errorf("Fit: %q", got)
	}
}

func TestBoldStretches(t *testing.T) {
	for s, want := range map[string]string{
		"a **b** c": "a |*b|c", "**a** **b": "*a|**b", "x**y**z": "x|*y|z", "****": "", "a": "a",
	} {
		var got []string
		for _, l := range bodyType.fill(s, 100) {
			for _, sp := range l.spans {
				if sp.bold {
					got = append(got, "*"+sp.s)
				} else {
					got = append(got, sp.s)
				}
			}
		}
		if g := strings.Join(got, "|"); g != strings.ReplaceAll(want, " |", "|") {
			t.Errorf("%q is set as %q, want %q", s, g, want)
		}
	}
}

// The circle is within 0.03 % of its radius: sample the Béziers themselves.
func TestArcsAreRound(t *testing.T) {
	for _, to := range []float64{30, 90, -270, 360} {
		p := Path{}.A(3, 4, 10, 0, to)
		from := p[0].P[0]
		for _, seg := range p[1:] {
			for i := range 11 {
				q := bezier(from, seg.P, float64(i)/10)
				if r := math.Hypot(q.X-3, q.Y-4); math.Abs(r-10) > 3e-3 {
					t.Errorf("arc to %g: radius %g", to, r)
				}
			}
			from = seg.P[2]
		}
		s, c := math.Sincos(to * math.Pi / 180)
		if math.Hypot(from.X-3-10*c, from.Y-4-10*s) > 1e-9 {
			t.Errorf("arc to %g ends at %v", to, from)
		}
	}
}

func bezier(a Point, p [3]Point, t float64) Point {
	u := 1 - t
	f := func(a, b, c, d float64) float64 { return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d }
	return Point{f(a.X, p[0].X, p[1].X, p[2].X), f(a.Y, p[0].Y, p[1].Y, p[2].Y)}
}

func TestOverlaps(t *testing.T) {
	if got := demoScene().Overlaps(0); got != nil {
		t.Errorf("labels overlap: %v", got)
	}
	if got := demoScene().Outside(0); got != nil {
		t.Errorf("labels leave the drawing: %v", got)
	}
	sc := &Scene{W: 50, H: 20, Nodes: []Node{
		Text{X: 10, Y: 10, Size: 4, S: "hall"},
		Text{X: 12, Y: 11, Size: 4, S: "landing"},
		Text{X: 49, Y: 10, Size: 4, S: "outside"},
		Text{X: 40, Y: 19, Size: 4, S: "up", Turn: -90},
	}}
	if got := sc.Overlaps(0); len(got) != 1 || got[0][0].S != "hall" {
		t.Errorf("overlaps: %v", got)
	}
	if got := sc.Outside(0); len(got) != 1 || got[0].S != "outside" {
		t.Errorf("outside: %v", got)
	}
	up := sc.TextBoxes()[3].Box
	if h, w := up.Y1-up.Y0, Width("up", 4, false); math.Abs(h-w) > 1e-9 {
		t.Errorf("turned text is %g tall, %g long", h, w)
	}
}

func TestPlacedBounds(t *testing.T) {
	inner := &Scene{W: 10, H: 10, Nodes: []Node{Rect(0, 0, 10, 10, Style{Fill: Black})}}
	mid := &Scene{Nodes: []Node{Placed{X: 1, Y: 2, Scale: 2, Scene: inner}}}
	outer := &Scene{Nodes: []Node{Placed{X: 10, Y: 20, Scale: 0.5, Scene: mid}}}
	if got, want := outer.Bounds(), (Box{10.5, 21, 20.5, 31}); got != want {
		t.Errorf("bounds %v, want %v", got, want)
	}
	if b := (&Scene{}).Bounds(); !b.Empty() {
		t.Errorf("bounds of nothing: %v", b)
	}
	inner.Add(Placed{Scene: inner}) // must end
	inner.Bounds()
	_ = inner.Dump()
	if err := inner.SVG(io.Discard); err != nil {
		t.Error(err)
	}
}

// WCAG 2.2, "contrast ratio": 4.5:1 for words, 3:1 for lines that mean
// something.
func TestContrast(t *testing.T) {
	ratio := func(a, b Ink) float64 {
		x, y := a.Luminance(), b.Luminance()
		return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
	}
	if r := ratio(Black, White); math.Abs(r-21) > 1e-9 {
		t.Errorf("black on white is %g:1, not 21:1", r)
	}
	for _, st := range pillStyles {
		if r := ratio(st.words, st.frame.Fill); r < 4.5 {
			t.Errorf("%v on %v: %.1f:1", st.words, st.frame.Fill, r)
		}
	}
	if r := ratio(Slate, Tint); r < 4.5 {
		t.Errorf("Slate on Tint: %.1f:1", r)
	}
	if r := ratio(Hairline, White); r < 3 {
		t.Errorf("Hairline: %.1f:1", r)
	}
	for _, k := range []Ink{Black, White, Slate, RGB(255, 220, 0), RGB(30, 90, 200), RGB(128, 128, 128)} {
		if r := ratio(k, k.Over()); r < 4.5 {
			t.Errorf("%v under %v: %.1f:1", k, k.Over(), r)
		}
	}
}

func TestParseInk(t *testing.T) {
	if k, err := ParseInk("#1e5Ac8"); err != nil || k.String() != "#1e5ac8" {
		t.Errorf("%v %v", k, err)
	}
	for _, s := range []string{"", "#12345", "123456", "#12345g", "#+12345", "#1234567"} {
		if k, err := ParseInk(s); err == nil {
			t.Errorf("%q read as %v", s, k)
		}
	}
}
