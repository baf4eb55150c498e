package rules_test

import (
	"strings"
	"testing"

	"strapper/rules"
	"strapper/source"
	"strapper/unit"
)

const sample = `# document: Made up
# edition: 1
# table: 7
# title: invented for this test
# answers: surround-factor
# unit:
# transcribed: invented
# checked: nobody yet
surrounded up,value,state,source
50,0.88,memory,invented
100,0.78,published,invented
500+,0.5,to be confirmed,invented
`

func table(t testing.TB, text string) *rules.Table {
	t.Helper()
	x, err := rules.ParseTable("sample", text)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Upward reading takes the next row, an open row takes all beyond, and nothing
// is ever interpolated. (The arithmetic of the definition; no outside source.)
func TestLookupUpward(t *testing.T) {
	x := table(t, sample)
	for _, c := range []struct {
		length unit.Millimetre
		want   float64
	}{{1, 0.88}, {50, 0.88}, {51, 0.78}, {100, 0.78}, {101, 0.5}, {500, 0.5}, {9000, 0.5}} {
		got, ok, why := x.Lookup(rules.Surrounded(c.length), rules.Use("ignored"))
		if !ok || got.Value != c.want {
			t.Errorf("%v: %v, %v %s; want %v", c.length, got.Value, ok, why, c.want)
		}
	}
	if _, ok, why := x.Lookup(rules.Use("lighting")); ok || !strings.Contains(why, "surrounded") {
		t.Errorf("without the key: %v, %q", ok, why)
	}
}

func TestTableFaults(t *testing.T) {
	for _, c := range []struct{ old, fresh, want string }{
		{"# title: invented for this test\n", "", `lacks "title"`},
		{"# answers", "# colour: red\n# answers", `no "colour"`},
		{"50,0.88,memory", "50,0.88,rumour", "not a state"},
		{"50,0.88,memory,invented", "50,0.88,memory,", "no source"},
		{"50,0.88,", "50,x,", "not a number"},
		{"50,0.88", "100,0.88", "there twice"},
		{"value,state,source", "value,source,state", "last three columns"},
	} {
		_, err := rules.ParseTable("sample", strings.Replace(sample, c.old, c.fresh, 1))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q for %q: %v, want %q", c.fresh, c.old, err, c.want)
		}
	}
}

func TestBookFaults(t *testing.T) {
	good := rules.Check{
		ID: "a", Clause: "1", Title: "a", Explain: "a", Source: source.Source{Authority: source.Memory, Cite: "x"},
		Work: func(*rules.Book, *rules.WorkCase, *rules.Verdict) {},
	}
	for _, c := range []struct {
		change func(*rules.Check)
		want   string
	}{
		{func(k *rules.Check) { k.Clause = "" }, "cites nothing"},
		{func(k *rules.Check) { k.Explain = "" }, "explanation"},
		{func(k *rules.Check) { k.Source = source.Source{} }, "no source"},
		{func(k *rules.Check) { k.Work = nil }, "judges 0"},
	} {
		bad := good
		c.change(&bad)
		if _, err := rules.New(rules.Book{Checks: []rules.Check{bad}}, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
	if _, err := rules.New(rules.Book{Checks: []rules.Check{good, good}}, nil); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("two of one id: %v", err)
	}
}

// Limits hold at the limit itself, and the words tell apart what differs.
func TestVerdictLimits(t *testing.T) {
	for _, c := range []struct {
		value unit.Ohm
		want  rules.Outcome
		text  string
	}{
		{7.28, rules.Met, "the loop is 7.28 Ω; at most 7.28 Ω is asked"},
		{7.279, rules.Met, "the loop is 7.279 Ω; at most 7.28 Ω is asked"},
		{7.281, rules.NotMet, "the loop is 7.281 Ω; at most 7.28 Ω is asked"},
	} {
		var v rules.Verdict
		v.AtMost("the loop", rules.Of(c.value), rules.Of(unit.Ohm(7.28)), "")
		if v.Outcome != c.want || v.Why != c.text {
			t.Errorf("%v: %s, %q", c.value, v.Outcome, v.Why)
		}
	}
	var v rules.Verdict
	v.AtLeast("it", rules.Of(unit.Ohm(2e6)), rules.Of(unit.Ohm(1e6)), "")
	if left, share, ok := v.Margin(); !ok || left.String() != "1 MΩ" || share != 100 {
		t.Errorf("margin %v, %v, %v", left, share, ok)
	}
}

func TestMeasureText(t *testing.T) {
	for m, want := range map[rules.Measure]string{
		rules.Of(unit.Ohm(0.35)): "0.35 Ω", rules.Of(unit.Ohm(1667)): "1667 Ω", rules.Of(unit.Ohm(1e6)): "1 MΩ", rules.Of(unit.Ohm(2.5e4)): "25 kΩ", rules.Of(unit.Ohm(2e5)): "0.2 MΩ", rules.Of(unit.Ohm(0)): "0 Ω",
		rules.Of(unit.Ampere(0.03)): "30 mA", rules.Of(unit.Ampere(6000)): "6 kA", rules.Of(unit.Second(0.4)): "0.4 s", rules.Of(unit.Second(0.04)): "40 ms",
		rules.Of(41 * unit.Metre): "41 m", rules.Of(unit.Percent(3)): "3 %", rules.Of(rules.Factor(0.8)): "0.8",
	} {
		if got := m.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
