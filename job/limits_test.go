package job

import (
	"strings"
	"testing"

	"strapper/finding"
)

// Texts that would keep the parser busy for long or exhaust its stack are
// refused before it sees them.
func TestReadRefusesOversizedTexts(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"bytes":        {strings.Repeat("x", MaxBytes+1), "at most 262144 are read"},
		"lines":        {strings.Repeat("a: 1\n", MaxLines+1), "at most 10000 are read"},
		"brackets":     {"a: " + strings.Repeat("[", 100_000), "hundreds deep"},
		"braces":       {strings.Repeat("{a: ", 50_000), "hundreds deep"},
		"dashes":       {"a:\n" + strings.Repeat("- ", 100_000), "hundreds deep"},
		"questions":    {strings.Repeat("? ", 100_000), "hundreds deep"},
		"tags":         {strings.Repeat("!a ", 80_000), "hundreds deep"},
		"anchors":      {strings.Repeat("&a ", 80_000), "hundreds deep"},
		"closed again": {strings.Repeat("[", 500) + strings.Repeat("]", 500), "hundreds deep"},
	} {
		j, ps := Read("x.yaml", []byte(c.text), catalogue(t))
		if j != nil || len(ps) != 1 || !strings.Contains(ps[0].Text, c.want) {
			t.Errorf("%s: %v, want one problem with %q", name, ps, c.want)
		}
	}
}

// A file of any of the usual ways to end lines reads the same.
func TestReadTakesAnyLineEndAndMark(t *testing.T) {
	text, err := Starter("loop-in-ceiling", false)
	if err != nil {
		t.Fatal(err)
	}
	mustRead(t, "\uFEFF"+strings.ReplaceAll(string(text), "\n", "\r\n"))
}

// Positions lead to the words of the file, in either stage.
func TestPositions(t *testing.T) {
	text := `job: { title: Places }
supply: { earthing: TT, Ze: 80 ohm }
circuits: { lights: { device: mcb-b6, rcd: rcd-30, board: board } }
boxes:
  board: { kind: consumer-unit }
patterns:
  - { use: loop-in-ceiling, name: p, circuit: lights, feed: 9 m, drop: 4 m }
cables:
  old: { kind: te-1.0, from: board, to: p-point, length: 3 m }
joints:
  board: [[old.brown], [old.blue]]
left:
  boxes:
    p-switch1: { fit: { s1: two-way } }
    new: { kind: plaster-1g-35, fit: { s1: two-way } }
  joints:
    p-switch1: [[s1.COM, p-drop.brown], [s1.L1, p-drop.blue], [p-drop.cpc]]
want:
  - { lamps: [p-point.lamp], from: [p-switch1.s1] }
`
	j := mustRead(t, text)
	for _, c := range []struct {
		stage   string
		subject finding.Subject
		want    string // what the file says at the place
	}{
		{"", "supply", "supply:"},
		{"", "circuits.lights", "lights:"},
		{"", "boxes.board", "board: { kind"},
		{"", "boxes.board.nothing", "board: { kind"},
		{"", "cables.old", "old: {"},
		{"", "cables.old.brown", "old: {"},
		{"", "joints.board.old.blue", "old.blue"},
		{"", "joints.board.old.cpc", "board: [["},
		{"", "joints.board.lights.L", "{ use:"},
		{"", "boxes.p-switch1.s1", "{ use:"},
		{AsLeft, "boxes.p-switch1.s1", "s1: two-way } }\n    new"},
		{AsFound, "boxes.p-switch1.s1", "{ use:"},
		{AsLeft, "joints.p-switch1.s1.L1", "s1.L1"},
		{"", "joints.p-switch1.s1.L1", "{ use:"},
		{"", "boxes.new.s1", "s1: two-way } }\n  joints"},
		{"", "joints.new.s1.L2", "s1: two-way } }\n  joints"},
		{AsLeft, "boxes.board", "board: { kind"},
		{"", "want.0", "{ lamps:"},
		{"", "want.7", "want:"},
		{"", "job", "job:"},
		{"", "nowhere.at.all", "job:"},
	} {
		p := j.PositionIn(c.stage, c.subject)
		if c.stage == "" && p != j.Position(c.subject) {
			t.Errorf("%s: Position is %v, PositionIn %v", c.subject, j.Position(c.subject), p)
		}
		lines := strings.SplitAfter(text, "\n")
		rest := lines[p.Line-1][p.Column-1:] + strings.Join(lines[p.Line:], "")
		if !strings.HasPrefix(rest, c.want) {
			t.Errorf("%s %s: at %v the file says %.20q, want %q", c.stage, c.subject, p, rest, c.want)
		}
	}
}

// What the file says is what the installations hold.
func TestReadFillsTheJob(t *testing.T) {
	j := mustRead(t, patternJob("{use: loop-in-ceiling, name: p, circuit: lights, feed: 9.5 m, drop: 400 cm, tolerance: 250 mm, lamp: resistive, power: 60 W}"))
	s := j.Found.Supply
	if s.Voltage != 230 || s.Frequency != 50 || s.Ambient != 20 || s.Ze != 0.3 || s.Earthing != "TN-S" {
		t.Errorf("supply is %+v", s)
	}
	c := j.Found.Cable("p-feed")
	if c.Length != 9500 || c.Tolerance != 250 || j.Found.Cable("p-drop").Length != 4000 {
		t.Errorf("p-feed is %+v", c)
	}
	if lamp := j.Found.Box("p-point").Fitted("lamp").Lamp; lamp == nil || lamp.Power != 60 || lamp.Kind.ID != "resistive" {
		t.Errorf("lamp is %+v", lamp)
	}
	if j.Left != nil || j.Want != nil || j.Title != "Test" {
		t.Errorf("job is %+v", j)
	}
}

// The wiring as found is not altered by what is left.
func TestLeftDoesNotAlterFound(t *testing.T) {
	without := mustRead(t, patternJob("{use: loop-in-ceiling, name: p, circuit: lights, feed: 9 m, drop: 5 m}"))
	with := mustRead(t, patternJob("{use: loop-in-ceiling, name: p, circuit: lights, feed: 9 m, drop: 5 m}")+`
left:
  boxes: { p-switch1: { kind: plaster-2g-35, title: Changed, fit: { s1: null, s2: two-way } } }
  joints: { p-switch1: [[s2.COM, p-drop.brown], [s2.L1, p-drop.blue], [p-drop.cpc]] }`)
	a, b := without.Found, with.Found
	if len(a.Boxes) != len(b.Boxes) || len(a.Joints) != len(b.Joints) {
		t.Fatal("as found differs")
	}
	found, left := b.Box("p-switch1"), with.Left.Box("p-switch1")
	if found.Kind.ID != "plaster-1g-25" || len(found.Fit) != 1 || found.Fitted("s1").Kind.ID != "one-way" {
		t.Errorf("as found the box is %+v", found)
	}
	if left.Kind.ID != "plaster-2g-35" || left.Title != "Changed" || len(left.Fit) != 1 || left.Fitted("s2") == nil {
		t.Errorf("as left the box is %+v", left)
	}
}
