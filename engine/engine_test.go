package engine_test

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"strapper/engine"
	"strapper/finding"
	"strapper/job"
	"strapper/kit"
	"strapper/unit"
	"strapper/wiring"
)

func load(t testing.TB, file string) (*job.Job, *kit.Catalogue) {
	t.Helper()
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read(filepath.Base(file), text, cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	return j, cat
}

// expected says of each example which codes forbid it; none is fine.
var expected = map[string][]string{
	"stairs.yaml":     nil,
	"kitchen.yaml":    nil,
	"workshop.yaml":   nil,
	"gallery.yaml":    nil,
	"bathroom.yaml":   nil,
	"landing.yaml":    {"borrowed-neutral", "no-rcd-lighting"},
	"signal-box.yaml": nil,
	"porch.yaml":      nil,
}

func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < len(expected) {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			want, known := expected[filepath.Base(file)]
			if !known {
				t.Fatal("the example is not in the table of expectations")
			}
			j, cat := load(t, file)
			r, err := engine.Run(j, cat)
			if err != nil {
				t.Fatal(err)
			}
			if got := forbidding(r.Findings); !slices.Equal(got, want) {
				t.Errorf("forbidden by %q, want %q:\n%v", got, want, r.Findings)
			}
			if len(r.Final().Readings.Rows) == 0 || len(r.Wants) == 0 {
				t.Error("an example needs a control wanted, and readings")
			}
			for _, f := range r.Findings {
				if f.Position.Line == 0 {
					t.Errorf("%s: no place in the file: %v", f.Code, f.Subject)
				}
			}
		})
	}
}

func forbidding(list []finding.Finding) []string {
	var codes []string
	for _, f := range list {
		if f.Severity == finding.Forbids && !slices.Contains(codes, f.Code) {
			codes = append(codes, f.Code)
		}
	}
	return codes
}

// The same job gives the same result, and running it again changes nothing.
func TestSameTwice(t *testing.T) {
	a, cat := load(t, "../examples/stairs.yaml")
	b, _ := load(t, "../examples/stairs.yaml")
	first, err := engine.Run(a, cat)
	if err != nil {
		t.Fatal(err)
	}
	second, err := engine.Run(b, cat)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(first.Findings, second.Findings) || !reflect.DeepEqual(first.Final().Readings, second.Final().Readings) || !reflect.DeepEqual(first.Parts, second.Parts) {
		t.Error("two runs of one job differ")
	}
}

// What is wrong as found is a caution when the job puts it right, and forbids
// when the job leaves the wiring alone.
func TestSeverityAsFound(t *testing.T) {
	j, cat := load(t, "../examples/landing.yaml")
	r, err := engine.Run(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Findings {
		if f.Stage == engine.AsFound && f.Severity == finding.Forbids {
			t.Errorf("as found, with a change planned: %v", f)
		}
	}
	j.Left, j.Want = nil, nil
	if r, err = engine.Run(j, cat); err != nil {
		t.Fatal(err)
	}
	if codes := forbidding(r.Findings); !slices.Contains(codes, "borrowed-neutral") {
		t.Errorf("as found, nothing planned: forbidden by %q", codes)
	}
}

// A circuit's lamps against its device and the cable's rating: 230 V, so 6 A
// is 1,380 W (Ohm's law; B6 from IEC 60898-1's preferred ratings).
func TestOverload(t *testing.T) {
	text, err := os.ReadFile("../examples/stairs.yaml")
	if err != nil {
		t.Fatal(err)
	}
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		power unit.Watt
		code  string
	}{{1379, ""}, {1381, "circuit-overloaded"}, {2400, "cable-overloaded"}} {
		j := heavy(t, string(text), c.power, cat)
		r, err := engine.Prove(j, cat)
		if err != nil {
			t.Fatal(err)
		}
		if got := forbidding(r.Findings); (c.code == "") != (len(got) == 0) || c.code != "" && !slices.Contains(got, c.code) {
			t.Errorf("%v: forbidden by %q, want %q", c.power, got, c.code)
		}
	}
}

// With two circuits each is held to the lamps that it can feed, and no others.
func TestOverloadByCircuit(t *testing.T) {
	j, cat := load(t, "../examples/landing.yaml")
	for _, b := range j.Left.Boxes {
		for _, f := range b.Fit {
			if b.ID == "hall" && f.Lamp != nil {
				f.Lamp.Kind, f.Lamp.Power = cat.Lamps["resistive"], 1400
			}
		}
	}
	r, err := engine.Prove(j, cat)
	if err != nil {
		t.Fatal(err)
	}
	var at []string
	for _, f := range r.Findings {
		if f.Code == "circuit-overloaded" {
			at = append(at, string(f.Subject))
		}
	}
	if !slices.Equal(at, []string{"circuits.down"}) {
		t.Errorf("overloaded: %q, want the circuit of the hall alone", at)
	}
}

// heavy is the job with one resistive lamp of the given power and no other.
func heavy(t *testing.T, text string, power unit.Watt, cat *kit.Catalogue) *job.Job {
	t.Helper()
	j, problems := job.Read("stairs.yaml", []byte(text), cat)
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	var lamps int
	for _, b := range j.Left.Boxes {
		for _, f := range b.Fit {
			if f.Lamp != nil {
				f.Lamp.Kind = cat.Lamps["resistive"]
				f.Lamp.Power = 0.001
				if lamps == 0 {
					f.Lamp.Power = power
				}
				lamps++
			}
		}
	}
	if lamps == 0 {
		t.Fatal("the example has no lamp")
	}
	return j
}

func BenchmarkRun(b *testing.B) {
	j, cat := load(b, "../examples/stairs.yaml")
	for b.Loop() {
		if _, err := engine.Run(j, cat); err != nil {
			b.Fatal(err)
		}
	}
}

// A dimmer is held to the least and the greatest load of its kind.
func TestDimmerLoad(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	dimmer := cat.Accessories["dimmer"]
	for _, c := range []struct {
		power unit.Watt
		code  string
	}{{dimmer.MinLoad, ""}, {dimmer.MinLoad - 0.1, "dimmer-underloaded"}, {dimmer.MaxLoad, ""}, {dimmer.MaxLoad + 0.1, "dimmer-overloaded"}} {
		text, err := job.Starter("loop-in-ceiling", false)
		if err != nil {
			t.Fatal(err)
		}
		j, problems := job.Read("dimmer.yaml", text, cat)
		if len(problems) > 0 {
			t.Fatal(problems.String())
		}
		fitDimmer(j.Found.Boxes, dimmer, c.power, cat)
		j.Left, j.Want = nil, nil
		r, err := engine.Prove(j, cat)
		if err != nil {
			t.Fatal(err)
		}
		var got string
		for _, f := range r.Findings {
			if strings.HasPrefix(f.Code, "dimmer-") {
				got += f.Code
			}
		}
		if got != c.code {
			t.Errorf("%v on a dimmer: %q, want %q", c.power, got, c.code)
		}
	}
}

// fitDimmer puts the dimmer in place of the one-way switch, whose terminals
// it has, and gives every lamp the power.
func fitDimmer(boxes []*wiring.Box, dimmer *kit.Accessory, power unit.Watt, cat *kit.Catalogue) {
	for _, b := range boxes {
		for _, f := range b.Fit {
			if f.Kind.ID == "one-way" {
				f.Kind = dimmer
			}
			if len(f.Kind.Loads) > 0 {
				f.Lamp = &wiring.Lamp{Kind: cat.Lamps["resistive"], Power: power}
			}
		}
	}
}
