package booktest

import (
	"strings"
	"testing"

	"strapper/rules"
	"strapper/source"
	"strapper/unit"
)

// made is a book of one invented table and one check, which reads the table
// unless it is idle.
func made(t *testing.T, idle bool) *rules.Book {
	t.Helper()
	table, err := rules.ParseTable("made", "# document: Made up\n# table: 1\n# title: invented\n# answers: touch-voltage\n# transcribed: invented\n# checked: nobody\nuse,value,state,source\nlighting,50,memory,invented\n")
	if err != nil {
		t.Fatal(err)
	}
	judge := func(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
		limit := rules.Ask(b, rules.TouchVoltage, rules.Use("lighting"))
		if idle {
			limit.Value = 50
		}
		v.AtMost("it", rules.Of(c.Voltage), rules.Of(limit.Value), "less")
	}
	b, err := rules.New(rules.Book{Document: "Made up", Tables: []*rules.Table{table}, Checks: []rules.Check{
		{ID: "volts", Clause: "1", Title: "volts", Explain: "invented", Source: source.Source{Authority: source.Invented, Cite: "invented"}, Circuit: judge},
	}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The suite notices a cell only through a check that reads it, and only where a
// case stands near enough to its limit. (Its own logic; no outside source.)
func TestNoticed(t *testing.T) {
	at := func(v unit.Volt, want rules.Outcome) Case {
		return Case{Source: "invented", Check: "volts", Circuit: &rules.CircuitCase{Voltage: v}, Want: want}
	}
	near := Suite{Cases: []Case{at(50, rules.Met), at(51, rules.NotMet)}}
	far := Suite{Cases: []Case{at(10, rules.Met), at(100, rules.NotMet)}}
	for _, c := range []struct {
		name  string
		suite Suite
		idle  bool
		want  bool
	}{{"near", near, false, true}, {"far", far, false, false}, {"table not read", near, true, false}} {
		b := made(t, c.idle)
		for i := range c.suite.Cases {
			if why := c.suite.Cases[i].fails(b); why != "" {
				t.Errorf("%s: %s", c.name, why)
			}
		}
		if got := c.suite.noticed(b, 0, 0, 50*1.05) && c.suite.noticed(b, 0, 0, 50*0.95); got != c.want {
			t.Errorf("%s: noticed %v", c.name, got)
		}
	}
}

// A case that does not come out says what came out instead.
func TestFails(t *testing.T) {
	b := made(t, false)
	for _, c := range []struct {
		x    Case
		want string
	}{
		{Case{Check: "volts", Circuit: &rules.CircuitCase{Voltage: 60}, Want: rules.Met}, "not met, want met"},
		{Case{Check: "other", Circuit: &rules.CircuitCase{}, Want: rules.Met}, "no such check"},
		{Asked("invented", 49, 0.5, rules.TouchVoltage, rules.Use("lighting")), "50, want 49"},
		{Asked("invented", 50, 0, rules.TouchVoltage, rules.Use("heating")), "not answered"},
	} {
		if got := c.x.fails(b); !strings.Contains(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
