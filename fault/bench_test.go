package fault_test

import (
	"os"
	"syscall"
	"testing"
	"time"

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

// processor reports the processor time of the process beside the clock's, which
// on a machine shared with others tells little.
func processor(b *testing.B) (done func()) {
	used := func() time.Duration {
		var u syscall.Rusage
		if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
			return 0
		}
		return time.Duration(u.Utime.Nano() + u.Stime.Nano())
	}
	from := used()
	return func() { b.ReportMetric(float64((used()-from).Microseconds())/1000/float64(b.N), "cpu-ms/op") }
}

// BenchmarkRank lists all single and double faults of a three-place job,
// simulates them in every position against one complaint and ranks them.
func BenchmarkRank(b *testing.B) {
	g, j, cat := threePlaceGraph(b)
	n := 0
	done := processor(b)
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
	done()
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
	done := processor(b)
	for b.Loop() {
		if q, _ := f.Next(); q == nil {
			b.Fatal("no next test")
		}
	}
	done()
}

// BenchmarkTake takes in one more observation.
func BenchmarkTake(b *testing.B) {
	g, j, cat := threePlaceGraph(b)
	f, err := fault.New(g, j.Want, cat, fault.Options{})
	if err != nil {
		b.Fatal(err)
	}
	done := processor(b)
	for b.Loop() {
		if err := f.See(complaint); err != nil {
			b.Fatal(err)
		}
		f.Undo()
	}
	done()
}
