package cost

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

var (
	oneWay = &kit.Accessory{ID: "one-way", Title: "One-way switch", Class: kit.ClassSwitch}
	twoWay = &kit.Accessory{ID: "two-way", Title: "Two-way switch", Class: kit.ClassSwitch}
	rose   = &kit.Accessory{ID: "rose", Title: "Ceiling rose", Class: kit.ClassLamp}
	led    = &kit.LampKind{ID: "led", Title: "LED lamp", PowerFactor: 0.5}
	oneG   = &kit.Box{ID: "box-1g", Title: "One-gang box", Gangs: 1, Mount: kit.MountPlaster}
	twoG   = &kit.Box{ID: "box-2g", Title: "Two-gang box", Gangs: 2, Mount: kit.MountPlasterboard}
	point  = &kit.Box{ID: "point", Title: "Ceiling point", Mount: kit.MountCeiling}
	board  = &kit.Box{ID: "board", Title: "Consumer unit", Mount: kit.MountBoard}
	twin   = &kit.Cable{ID: "te-1.0", Title: "twin and earth", Width: 8, Cores: cores("brown", "blue", "cpc")}
	triple = &kit.Cable{ID: "3ce-1.0", Title: "three-core and earth", Width: 9, Cores: cores("brown", "black", "grey", "cpc")}
	mcb    = &kit.Device{ID: "mcb-b6", Title: "B6 circuit-breaker"}
	rcbo   = &kit.Device{ID: "rcbo-b6", Title: "B6 circuit-breaker with residual-current protection"}
	rcd    = &kit.Device{ID: "rcd-30", Title: "30 mA residual-current device"}
)

func cores(names ...string) []kit.Core {
	var list []kit.Core
	for _, n := range names {
		list = append(list, kit.Core{Name: n, Area: 1})
	}
	return list
}

func joint(box string, ends ...string) wiring.Joint {
	j := wiring.Joint{Box: box}
	for _, e := range ends {
		item, name, _ := strings.Cut(e, ".")
		j.Ends = append(j.Ends, wiring.End{Box: box, Item: item, Name: name})
	}
	return j
}

// stairs is the invented house of docs/checks/03-take-off.md as found.
func stairs() *wiring.Installation {
	return &wiring.Installation{
		Circuits: []*wiring.Circuit{{ID: "lights", Board: "board", Device: mcb}},
		Boxes: []*wiring.Box{
			{ID: "board", Kind: board},
			{ID: "point", Kind: point, Fit: []*wiring.Fitted{{ID: "lamp", Kind: rose}}},
			{ID: "hall", Title: "Hall", Kind: oneG, Fit: []*wiring.Fitted{{ID: "s1", Kind: oneWay}}},
		},
		Cables: []*wiring.Cable{
			{ID: "feed", Kind: triple, From: "board", To: "point", Length: 12 * unit.Metre},
			{ID: "drop", Kind: twin, From: "point", To: "hall", Length: 5 * unit.Metre},
		},
		Joints: []wiring.Joint{joint("hall", "s1.COM", "drop.brown"), joint("hall", "s1.L1", "drop.blue"), joint("hall", "drop.cpc")},
	}
}

func stairsLeft() *wiring.Installation {
	in := stairs()
	in.Boxes[2].Fit[0].Kind = twoWay
	in.Boxes = append(in.Boxes, &wiring.Box{ID: "landing", Title: "Landing", Kind: oneG, Fit: []*wiring.Fitted{{ID: "s1", Kind: twoWay}}})
	in.Cables = []*wiring.Cable{
		{ID: "feed2", Kind: triple, From: "board", To: "point", Length: 12 * unit.Metre, Tolerance: 2 * unit.Metre},
		in.Cables[1],
		{ID: "strap", Kind: triple, From: "hall", To: "landing", Length: 7 * unit.Metre, Tolerance: unit.Metre},
	}
	in.Joints = []wiring.Joint{
		joint("hall", "s1.COM", "drop.brown"), joint("hall", "drop.blue", "strap.brown"), joint("hall", "drop.cpc", "strap.cpc"),
		joint("hall", "s1.L1", "strap.black"), joint("hall", "s1.L2", "strap.grey"),
		joint("landing", "s1.COM", "strap.brown"), joint("landing", "s1.L1", "strap.black"), joint("landing", "s1.L2", "strap.grey"),
		joint("landing", "strap.cpc"),
	}
	return in
}

func brief(lines []Line) []string {
	var list []string
	for i := range lines {
		l := &lines[i]
		list = append(list, fmt.Sprintf("%s: %s %s %s", l.Part, l.Quantity(), l.Unit(), l.Description))
	}
	return list
}

// docs/checks/03-take-off.md.
func TestTakeOffByHand(t *testing.T) {
	got := Count(stairs(), stairsLeft(), Options{Sleeves: 3, Clips: true})
	want := []string{
		"cable: 25.6 m three-core and earth",
		"box: 1 off One-gang box",
		"accessory: 2 off Two-way switch",
		"plate: 2 off 1-gang plate",
		"connector: 3 off Connector for 2 or more",
		"sleeving: 3 off Piece of identification sleeving",
		"grommet: 2 off Grommet, 20 mm",
		"clip: 88 off Clip for three-core and earth",
	}
	if b := brief(got.Lines); !slices.Equal(b, want) {
		t.Errorf("needed:\n%s\nwant:\n%s", strings.Join(b, "\n"), strings.Join(want, "\n"))
	}
	if got.Lines[0].Length != 25520 {
		t.Errorf("cable: %d mm, want 25520", got.Lines[0].Length)
	}
	if why := got.Lines[0].Why; !strings.Contains(why, "feed2: 12 m + tolerance 2 m + tails 800 mm") || !strings.Contains(why, "10 % waste") {
		t.Errorf("the reason of the cable is %q", why)
	}
	want = []string{"cable: 12.0 m three-core and earth", "accessory: 1 off One-way switch"}
	if b := brief(got.Removed); !slices.Equal(b, want) {
		t.Errorf("removed: %q, want %q", b, want)
	}
}

func TestNothingChangesNothingNeeded(t *testing.T) {
	for _, in := range []*wiring.Installation{{}, stairs(), stairsLeft()} {
		if got := Count(in, in, Options{Clips: true}); len(got.Lines)+len(got.Removed) != 0 {
			t.Errorf("no change needs %+v", got)
		}
	}
	if got := Count(stairs(), nil, Options{Sleeves: 2}); len(got.Lines) != 0 {
		t.Errorf("nothing as left needs %+v", got)
	}
}

// A connector as found serves once, even if both of its ends are free as left.
func TestConnectorServesOnce(t *testing.T) {
	found, left := stairs(), stairs()
	found.Joints = []wiring.Joint{joint("hall", "drop.brown", "drop.blue")}
	left.Joints = []wiring.Joint{joint("hall", "drop.brown"), joint("hall", "drop.blue")}
	if n := pieces(Count(found, left, Options{}).Lines, Connector); n != 1 {
		t.Errorf("%d new connectors, want 1", n)
	}
}

// What is needed one way comes out the other way, but for the allowances.
func TestThereAndBack(t *testing.T) {
	there, back := Count(stairs(), stairsLeft(), Options{}), Count(stairsLeft(), stairs(), Options{})
	for _, part := range []Part{Box, Accessory} {
		in, out := pieces(there.Lines, part), pieces(back.Removed, part)
		if in == 0 || in != out {
			t.Errorf("%s: %d go in and %d come out again", part, in, out)
		}
	}
}

func pieces(lines []Line, p Part) (n int) {
	for _, l := range lines {
		if l.Part == p {
			n += l.Count
		}
	}
	return n
}

func TestEachChangeCountsWhatItNeeds(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*wiring.Installation)
		want   []string
	}{
		{"second switch on the same plate", func(in *wiring.Installation) {
			in.Boxes[2].Fit = append(in.Boxes[2].Fit, &wiring.Fitted{ID: "s2", Kind: oneWay})
		}, []string{"accessory: 1 off One-way switch", "plate: 1 off 2-gang plate"}},
		{"switch taken away", func(in *wiring.Installation) { in.Boxes[2].Fit = nil }, []string{"plate: 1 off Blank plate, 1 gang"}},
		{"wider box", func(in *wiring.Installation) { in.Boxes[2].Kind = twoG }, []string{"box: 1 off Two-gang box", "plate: 1 off Blank plate, 1 gang"}},
		{"lamp", func(in *wiring.Installation) { in.Boxes[1].Fit[0].Lamp = &wiring.Lamp{Kind: led, Power: 9} }, []string{"lamp: 1 off LED lamp 9 W"}},
		{"device and its guard", func(in *wiring.Installation) { in.Circuits[0].Device, in.Circuits[0].RCD = rcbo, rcd }, []string{
			"protective device: 1 off B6 circuit-breaker with residual-current protection", "protective device: 1 off 30 mA residual-current device",
		}},
		{"one guard for two circuits", func(in *wiring.Installation) {
			in.Circuits[0].RCD = rcd
			in.Circuits = append(in.Circuits, &wiring.Circuit{ID: "more", Board: "board", Device: mcb, RCD: rcd})
		}, []string{"protective device: 1 off 30 mA residual-current device", "protective device: 1 off B6 circuit-breaker"}},
		{"two connectors out of one", func(in *wiring.Installation) {
			in.Joints = []wiring.Joint{joint("hall", "drop.cpc"), joint("hall", "drop.blue")}
		}, []string{"connector: 1 off Connector for 2 or more"}},
		{"bigger connector", func(in *wiring.Installation) {
			in.Joints = []wiring.Joint{joint("hall", "drop.cpc", "drop.blue", "drop.brown")}
		}, []string{
			"connector: 1 off Connector for 3 or more",
		}},
		{"other kind of cable", func(in *wiring.Installation) {
			k := *in.Cables[1]
			k.Kind, in.Cables[1] = triple, &k
			in.Joints = nil
		}, []string{"cable: 6.1 m three-core and earth", "grommet: 1 off Grommet, 20 mm"}}, // (5 + 0.3 + 0.2) m × 1.1 = 6.05 m
		{"better known length", func(in *wiring.Installation) { in.Cables[1].Length += unit.Metre }, nil},
		{"turned round", func(in *wiring.Installation) {
			in.Cables[1].From, in.Cables[1].To = in.Cables[1].To, in.Cables[1].From
		}, nil},
	} {
		left := stairs()
		c.change(left)
		if got := brief(Count(stairs(), left, Options{}).Lines); !slices.Equal(got, c.want) {
			t.Errorf("%s needs %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSleevesOfMoves(t *testing.T) {
	moves := []wiring.BoxMoves{
		{Moves: []wiring.Move{{Kind: wiring.Mark}, {Kind: wiring.Sleeve}, {Kind: wiring.Land}}},
		{Moves: []wiring.Move{{Kind: wiring.Check}, {Kind: wiring.Sleeve}}},
	}
	if n := Sleeves(moves); n != 3 {
		t.Errorf("%d sleeves, want 3", n)
	}
}

// On-Site Guide Table D1, horizontal runs. Off the table there is no answer.
func TestSpacingOfClips(t *testing.T) {
	for width, want := range map[unit.Millimetre]unit.Millimetre{0: 0, 1: 250, 9: 250, 10: 300, 15: 300, 16: 350, 20: 350, 21: 400, 40: 400, 41: 0} {
		if got, ok := spacing(width); got != want || ok != (want > 0) {
			t.Errorf("%v wide: %v, %v; want %v", width, got, ok, want)
		}
	}
}

// Whatever the length, what is ordered is at least the longest the cable can
// be with its tails, and at most that with waste, rounded up.
func TestCableIsEnoughAndNotMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		left := stairs()
		length, tolerance := rapid.Int64Range(1, 1e6).Draw(t, "length"), rapid.Int64Range(0, 1e6).Draw(t, "tolerance")
		waste := rapid.IntRange(0, 300).Draw(t, "waste, per mille")
		left.Cables = append(left.Cables, &wiring.Cable{
			ID: "new", Kind: twin, From: "hall", To: "point", Length: unit.Millimetre(length), Tolerance: unit.Millimetre(tolerance),
		})
		p := Usual()
		p.Waste = unit.Percent(float64(waste) / 10)
		got := int64(Count(stairs(), left, Options{Practice: p}).Lines[0].Length)
		bare := length + tolerance + 500
		if over := got*1000 - bare*int64(1000+waste); over < 0 || over >= 1000 {
			t.Fatalf("%d mm is needed with %d per mille waste, counted %d", bare, waste, got)
		}
	})
}

func TestFiguresAreSourcedAndComplete(t *testing.T) {
	values := ""
	for _, f := range Figures() {
		if !f.Source.Authority.Valid() || f.Source.Cite == "" || f.Name == "" {
			t.Errorf("%+v is not complete", f)
		}
		values += f.Value + "; "
	}
	u := reflect.ValueOf(Usual())
	for i := range u.NumField() {
		if !strings.Contains(values, fmt.Sprint(u.Field(i).Interface())) {
			t.Errorf("the allowance %s is not among the figures: %s", u.Type().Field(i).Name, values)
		}
	}
}

func BenchmarkCount(b *testing.B) {
	found, left := stairs(), stairsLeft()
	for b.Loop() {
		Count(found, left, Options{Clips: true})
	}
}
