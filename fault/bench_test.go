package fault_test

import (
	"os"
	"testing"

	"strapper/fault"
	"strapper/job"
	"strapper/kit"
	"strapper/wiring"
)

// threePlaceGraph is the wiring as left of the three-place example.
func threePlaceGraph(b *testing.B) (*wiring.Graph, *job.Job, *kit.Catalogue) {
	cat, err := kit.Open()
	if err != nil {
		b.Fatal(err)
	}
	text, err := os.ReadFile("../examples/stairs.yaml")
	if err != nil {
		b.Fatal(err)
	}
	j, problems := job.Read("stairs.yaml", text, cat)
	if j == nil {
		b.Fatal(problems)
	}
	g, _ := wiring.Build(j.Left)
	return g, j, cat
}

var complaint = fault.Seen{Kind: fault.SeenLamp, Of: "stairs.lamp", With: map[string]string{"top.s1": "up"}, Is: "dark", Reported: true}

// BenchmarkRank lists all single and double faults of a three-place job,
// simulates them in every position against one complaint and ranks them.
func BenchmarkRank(b *testing.B) {
	g, j, cat := threePlaceGraph(b)
	n := 0
	for b.Loop() {
		f, err := fault.New(g, j.Want, cat, fault.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if err := f.See(complaint); err != nil {
			b.Fatal(err)
		}
		n = f.Hypotheses()
	}
	b.ReportMetric(float64(n), "hypotheses")
}

// BenchmarkNext chooses the next test after that complaint.
func BenchmarkNext(b *testing.B) {
	g, j, cat := threePlaceGraph(b)
	f, err := fault.New(g, j.Want, cat, fault.Options{})
	if err != nil {
		b.Fatal(err)
	}
	if err := f.See(complaint); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if q, _ := f.Next(); q == nil {
			b.Fatal("no next test")
		}
	}
}

// BenchmarkTake takes in one more observation.
func BenchmarkTake(b *testing.B) {
	g, j, cat := threePlaceGraph(b)
	f, err := fault.New(g, j.Want, cat, fault.Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := f.See(complaint); err != nil {
			b.Fatal(err)
		}
		f.Undo()
	}
}
