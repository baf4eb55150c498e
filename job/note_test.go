package job

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"strapper/fault"
	"strapper/unit"
	"strapper/wiring"
)

// What is noted is read again as it was, and nothing else in the file changes.
func TestNotedIsRead(t *testing.T) {
	text, err := os.ReadFile("../examples/find/cellar.yaml")
	if err != nil {
		t.Fatal(err)
	}
	ohm, volt := unit.Ohm(0.37), unit.Volt(95)
	a, b := wiring.End{Box: "cellar-switch1", Item: "s1", Name: "COM"}, wiring.End{Box: "cellar-switch1", Item: "cellar-strap1", Name: "red"}
	list := []fault.Seen{
		{Kind: fault.SeenLamp, Of: "cellar-point.lamp", With: map[string]string{"cellar-switch1.s1": "up", "cellar-switch2.s1": "down"}, Is: "dim"},
		{Kind: fault.SeenTrip, Of: "down", Is: "holds", Reported: true},
		{Kind: fault.SeenReading, Between: [2]wiring.End{a, b}, Ohm: &ohm},
		{Kind: fault.SeenInsulation, Between: [2]wiring.End{a, b}, Is: "low", Doubt: 0.125},
		{Kind: fault.SeenLook, Of: "board", Is: "as drawn"},
		{Kind: fault.SeenAlone, Of: "cellar-strap1", Is: "broken"},
		{Kind: fault.SeenVolts, Between: [2]wiring.End{a, b}, Is: "mains"},
		{Kind: fault.SeenVolts, Between: [2]wiring.End{a, b}, Volt: &volt, HighZ: true},
		{Kind: fault.SeenCause, Of: "off cellar-switch1 cellar-strap1.red", Is: "not so"},
	}
	noted, err := NoteSeen(text, list)
	if err != nil {
		t.Fatal(err)
	}
	j := mustRead(t, string(noted))
	got := j.Seen[2:]
	for i := range got {
		got[i].Subject = ""
		if !reflect.DeepEqual(got[i], list[i]) && (list[i].With != nil || len(got[i].With) > 0 || !sameBut(got[i], list[i])) {
			t.Errorf("noted %+v, read %+v", list[i], got[i])
		}
	}
	var kept []string
	for line := range strings.SplitSeq(string(noted), "\n") {
		if !slices.ContainsFunc(list, func(x fault.Seen) bool { return strings.Contains(line, seenText(&x)) }) {
			kept = append(kept, line)
		}
	}
	if strings.Join(kept, "\n") != string(text) {
		t.Errorf("the rest of the file changed:\n%s", strings.Join(kept, "\n"))
	}
}

// sameBut compares what a nil and an empty map do not tell apart.
func sameBut(a, b fault.Seen) bool {
	a.With, b.With = nil, nil
	return reflect.DeepEqual(a, b)
}

// Notes go after the last entry of the section, wherever it stands, with the
// entries' own indentation; a file without the section gets one.
func TestWhereNotesGo(t *testing.T) {
	list := []fault.Seen{{Kind: fault.SeenLook, Of: "b", Is: "different"}}
	const entry = "- { look: b, is: different }"
	for _, c := range []struct{ text, want string }{
		{"job: x\n", "job: x\n\n# What was seen and read while looking for a fault.\nseen:\n  " + entry + "\n"},
		{"seen:\n- { look: a, is: different }\n# end\njob: x\n", "seen:\n- { look: a, is: different }\n" + entry + "\n# end\njob: x\n"},
		{"seen:\n    # note\n    - { look: a,\n        is: different }\n\njob: x", "seen:\n    # note\n    - { look: a,\n        is: different }\n    " + entry + "\n\njob: x\n"},
		{"seen: []\njob: x\n", "seen:\n  " + entry + "\njob: x\n"},
	} {
		got, err := NoteSeen([]byte(c.text), list)
		if err != nil || string(got) != c.want {
			t.Errorf("%q became %q (%v), want %q", c.text, got, err, c.want)
		}
	}
	if _, err := NoteSeen([]byte("seen: [ { look: a, is: different } ]\n"), list); err == nil {
		t.Error("a section on one line was taken")
	}
}
