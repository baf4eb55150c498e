package kit

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"strapper/source"
)

var update = flag.Bool("update", false, "rewrite testdata")

func opened(t testing.TB) *Catalogue {
	t.Helper()
	c, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What each accessory joins in each position, as a text to be read by someone
// who knows the switches.
func TestContactTables(t *testing.T) {
	c := opened(t)
	var b strings.Builder
	for _, id := range Names(c.Accessories) {
		describe(&b, c.Accessories[id])
	}
	const golden = "testdata/contacts.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("contact tables differ from %s; run with -update and read the difference. Now:\n%s", golden, b.String())
	}
}

func describe(b *strings.Builder, a *Accessory) {
	by := string(a.Actuator)
	if by == "" {
		by = "fixed"
	}
	fmt.Fprintf(b, "%s: %s\n  %s, %s, drawn as %s; terminals", a.ID, a.Title, a.Class, by, a.Symbol)
	for _, terminal := range a.Terminals {
		fmt.Fprintf(b, " %s", terminal.Name)
		if terminal.Role != AnyRole {
			fmt.Fprintf(b, "(%s)", terminal.Role)
		}
	}
	if a.ClassI {
		b.WriteString("; class I")
	}
	b.WriteString("\n")
	for _, p := range a.Positions {
		fmt.Fprintf(b, "  %-9s %s\n", p, strings.Join(joined(a, p), ", "))
	}
	for _, l := range a.Loads {
		fmt.Fprintf(b, "  load      %s-%s %s %v", l.Between[0], l.Between[1], l.Lamp, l.Power)
		if l.Always {
			b.WriteString(", its own consumption")
		}
		b.WriteString("\n")
	}
	if a.Coil != nil {
		fmt.Fprintf(b, "  coil      %s-%s %v\n", a.Coil.Between[0], a.Coil.Between[1], a.Coil.Power)
	}
	b.WriteString("\n")
}

// joined lists the contacts closed in a position.
func joined(a *Accessory, position string) []string {
	list := []string{}
	for _, c := range a.Contacts {
		if slices.Contains(c.In, position) {
			text := c.Join[0] + "-" + c.Join[1]
			if c.Via != ViaMetal {
				text += " (" + string(c.Via) + ")"
			}
			list = append(list, text)
		}
	}
	if len(list) == 0 {
		list = append(list, "nothing joined")
	}
	return list
}

// Four terminals have three ways to be joined in pairs, and an intermediate
// uses two of them: flameport.com and ultimatehandyman.co.uk describe the first
// arrangement, other makers' instructions the rest. The pair that no position
// joins is where one pair of strappers goes.
func TestThreeKindsOfIntermediate(t *testing.T) {
	for _, tc := range []struct {
		id       string
		order    [4]string // the terminals numbered 1 to 4
		straight string
		crossed  string
		pair     string // named in the title
	}{
		{"intermediate", [4]string{"A1", "A2", "B1", "B2"}, "13 24", "14 23", "A1 A2"},
		{"intermediate-2", [4]string{"L1", "L2", "L3", "L4"}, "12 34", "14 23", "L1 L3"},
		{"intermediate-3", [4]string{"L1", "L2", "L3", "L4"}, "12 34", "13 24", "L1 L4"},
	} {
		a := opened(t).Accessories[tc.id]
		if got := matching(a, tc.order, "straight"); got != tc.straight {
			t.Errorf("%s straight joins %s, want %s", tc.id, got, tc.straight)
		}
		if got := matching(a, tc.order, "crossed"); got != tc.crossed {
			t.Errorf("%s crossed joins %s, want %s", tc.id, got, tc.crossed)
		}
		ends := strings.Fields(tc.pair)
		for _, c := range a.Contacts {
			if slices.Contains(c.Join[:], ends[0]) && slices.Contains(c.Join[:], ends[1]) {
				t.Errorf("%s joins %s, which should hold one pair of strappers", tc.id, tc.pair)
			}
		}
		if !strings.Contains(a.Title, tc.pair) {
			t.Errorf("%s: title %q does not name the pair %s", tc.id, a.Title, tc.pair)
		}
	}
}

func matching(a *Accessory, order [4]string, position string) string {
	var pairs []string
	for _, c := range a.Contacts {
		if slices.Contains(c.In, position) {
			n := []int{slices.Index(order[:], c.Join[0]) + 1, slices.Index(order[:], c.Join[1]) + 1}
			slices.Sort(n)
			pairs = append(pairs, fmt.Sprintf("%d%d", n[0], n[1]))
		}
	}
	slices.Sort(pairs)
	return strings.Join(pairs, " ")
}

// Core colours of fixed wiring: BS 7671 Table 51 and its change of 2004
// (either system 31 March 2004 to 31 March 2006): line red to brown, neutral
// black to blue; three-core red, yellow, blue to brown, black, grey; twin line
// red red to brown brown.
func TestCoreColours(t *testing.T) {
	for id, want := range map[string]string{
		"te-1.0": "brown blue bare", "te-1.5": "brown blue bare", "te-2.5": "brown blue bare",
		"te-1.0-old": "red black bare", "te-1.5-old": "red black bare", "te-2.5-old": "red black bare",
		"3ce-1.0": "brown black grey bare", "3ce-1.5": "brown black grey bare",
		"3ce-1.0-old": "red yellow blue bare", "3ce-1.5-old": "red yellow blue bare",
		"te-1.0-brown": "brown brown bare", "te-1.5-brown": "brown brown bare",
		"te-1.0-old-red": "red red bare", "te-1.5-old-red": "red red bare",
		"twin-1.0-old-nocpc": "red black", "twin-1.5-old-nocpc": "red black",
		"3c-1.0-old-nocpc": "red yellow blue", "3c-1.5-old-nocpc": "red yellow blue",
		"single-earth-1.0": "green-yellow", "single-earth-1.5": "green-yellow",
	} {
		k := opened(t).Cables[id]
		if k == nil {
			t.Errorf("no cable %s", id)
			continue
		}
		var got []string
		for _, core := range k.Cores {
			got = append(got, string(core.Colour))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s has cores %v, want %s", id, got, want)
		}
	}
}

func TestPalettesDoNotMix(t *testing.T) {
	only := map[Palette][]Colour{
		Harmonised: {Brown, Blue, Black, Grey, GreenYellow, Bare},
		OldColours: {Red, Yellow, Blue, Black, Green, GreenYellow, Bare},
	}
	c := opened(t)
	for _, id := range Names(c.Cables) {
		k := c.Cables[id]
		for _, core := range k.Cores {
			if !slices.Contains(only[k.Palette], core.Colour) {
				t.Errorf("%s is %s but has a %s core", id, k.Palette, core.Colour)
			}
			earth := core.Colour == Bare || core.Colour == GreenYellow || core.Colour == Green
			if core.Earth != earth {
				t.Errorf("%s: core %s is %s and earth is %v", id, core.Name, core.Colour, core.Earth)
			}
		}
	}
}

func TestEveryFigureHasASource(t *testing.T) {
	c := opened(t)
	list := c.Figures()
	seen := map[string]bool{}
	for _, f := range list {
		if !f.Source.Authority.Valid() || f.Source.Cite == "" || f.Value == "" || seen[f.Name] {
			t.Errorf("figure %q = %q is without value or source, or listed twice: %v", f.Name, f.Value, f.Source)
		}
		seen[f.Name] = true
	}
	if !slices.Equal(list, c.Figures()) {
		t.Error("the order of figures changes from call to call")
	}
	for _, want := range []string{
		"greatest resistance of a 1.5 mm² copper conductor at 20 °C 12.1 mΩ/m",
		"greatest resistance of a 0.75 mm² copper conductor at 20 °C 24.5 mΩ/m",
		"one closed contact or clamped joint 10 mΩ",
		"device mcb-b6: rating 6 A",
		"device rcd-30: rated residual current 30 mA",
		"lamp led: current at which it shows when off 10 µA",
		"accessory dimmer: least load 10 W",
		"box plaster-1g-35: depth 35 mm",
	} {
		if !slices.ContainsFunc(list, func(f source.Figure) bool { return f.Name+" "+f.Value == want }) {
			t.Errorf("no figure %q", want)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		if _, err := read(data); err != nil {
			b.Fatal(err)
		}
	}
}
