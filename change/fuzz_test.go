package change_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"strapper/change"
	"strapper/job"
	"strapper/kit"
	"strapper/wiring"
)

// Whatever a job file asks, the search ends with ways that are proved, with a
// reason, or stopped; it does not fall over.
func FuzzSearch(f *testing.F) {
	for _, w := range wishes {
		f.Add([]byte(w.text))
	}
	for _, r := range refusals {
		f.Add([]byte(r.text))
	}
	names, err := filepath.Glob("../examples/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	cat := catalogue(f)
	f.Fuzz(func(t *testing.T, text []byte) { searchOnce(t, cat, text) })
}

// FuzzAsk makes asks of the houses of these tests: any boxes, kinds, limits.
func FuzzAsk(f *testing.F) {
	for i := range 30 {
		f.Add([]byte(strings.Repeat(string(rune('a'+i)), i%7) + strings.Repeat(string(rune(200+7*i)), 9) + "what may be"))
	}
	cat := catalogue(f)
	f.Fuzz(func(t *testing.T, choices []byte) { searchOnce(t, cat, []byte(anyAsk(choices))) })
}

// searchOnce reads a job and searches with little time.
func searchOnce(t *testing.T, cat *kit.Catalogue, text []byte) {
	j, _ := job.Read("fuzz.yaml", text, cat)
	if j == nil || j.Ask == nil || len(j.Found.Cables)+len(j.Ask.Could.Cables) > 20 {
		return
	}
	g, _ := wiring.Build(j.Found)
	if g == nil {
		t.Fatal("a job that does not build")
	}
	asked, stopped := 0, false
	a, err := change.Search(g, *j.Ask, cat, change.Options{Most: 2, Stop: func() bool {
		asked++
		stopped = stopped || asked > 400
		return stopped
	}})
	switch {
	case err != nil:
		t.Fatal(err)
	case len(a.Ways) == 0 && a.Impossible == nil && !stopped && len(forbids(a.Findings)) == 0:
		t.Fatal("neither a way nor a reason")
	}
	for i := range a.Ways {
		w := &a.Ways[i]
		if w.Effort.Minutes < a.Bound-0.01 {
			t.Fatalf("%s takes %.1f min, less than the bound %.1f", w.Name, w.Effort.Minutes, a.Bound)
		}
		if len(w.Wants) != len(j.Ask.Groups) || w.Name == "" || len(w.Title) != len(w.Wants) {
			t.Fatalf("%s is not whole", w.Name)
		}
		before := measure(g)
		if m := measure(w.Graph); m.unsafe != "" && before.unsafe == "" {
			t.Fatalf("%s: %s", w.Name, m.unsafe)
		}
	}
}

var theirBoxes = regexp.MustCompile(`(?m)^  (\w+): \{ kind: [\w-]+`)

// anyAsk makes a job of a house and an ask out of choices.
func anyAsk(choices []byte) string {
	at := 0
	next := func(n int) int {
		if at >= len(choices) {
			return 0
		}
		at++
		return int(choices[at-1]) % n
	}
	pick := func(list ...string) string { return list[next(len(list))] }
	house := pick(ceilingHouse, oldHouse, bareHouse, pairHouse, sharedHouse, roomsHouse, circuitsHouse, feedHouse)
	if next(4) == 1 {
		house = strings.ReplaceAll(house, "one-way", pick("one-way-metal", "pull-one-way", "push", "two-way", "pir", "dimmer"))
	}
	var boxes, lamps []string
	for _, m := range theirBoxes.FindAllStringSubmatch(house[strings.Index(house, "boxes:"):strings.Index(house, "cables:")], -1) {
		boxes = append(boxes, m[1])
	}
	for _, line := range strings.Split(house, "\n") {
		if strings.Contains(line, "fit: { lamp:") {
			lamps = append(lamps, strings.Fields(strings.ReplaceAll(line, ":", " "))[0]+".lamp")
		}
	}
	var b strings.Builder
	b.WriteString(house + "could:\n  boxes: { new1: { kind: plaster-1g-35 }, new2: { kind: ceiling-box } }\n  cables:\n    run0: { kinds: [te-1.0], from: board, to: new2, length: 9 m, time: 3 h }\n")
	boxes = append(boxes, "new1", "new2")
	for i := range 1 + next(4) {
		from := next(len(boxes))
		to := (from + 1 + next(len(boxes)-1)) % len(boxes)
		fmt.Fprintf(&b, "    run%d: { kinds: [%s], from: %s, to: %s, length: %d m%s%s }\n", i+1, pick("te-1.0, 3ce-1.0", "3ce-1.0", "te-1.0", "twin-1.0-old-nocpc", "single-earth-1.5", "te-1.0-brown"),
			boxes[from], boxes[to], 1+next(9), pick("", ", walls: [w1]", ", walls: [w1, w2]"), pick("", "", ", replaces: drop", ", replaces: feed"))
	}
	place := func() string {
		return "{ box: " + boxes[next(len(boxes))] + pick("", "", "", ", fit: dimmer", ", fit: pir", ", fit: two-way-metal", ", keep: true", ", neutral: true", ", fit: dimmer-neutral", ", fit: intermediate") + " }"
	}
	b.WriteString("want:\n")
	for _, lamp := range lamps[:1+next(len(lamps))] {
		places := []string{place()}
		for range next(3) {
			places = append(places, place())
		}
		fmt.Fprintf(&b, "  - { lamps: [%s], at: [%s]%s%s }\n", lamp, strings.Join(places, ", "), pick("", "", "", ", rule: any", ", rule: all"), pick("", "", "", ", off: [new1]", ", off: [hall]"))
	}
	b.WriteString("limits:\n  doubtful: [" + pick("", "feed", "drop") + "]\n")
	b.WriteString(pick("", "", "  closed: [board]\n", "  closed: [hall]\n", "  closed: [point, front]\n"))
	b.WriteString(pick("", "", "  switches: [two-way]\n", "  switches: [one-way, two-way, intermediate]\n"))
	b.WriteString(pick("", "", "  stock: { cables: { te-1.0: 9 m, 3ce-1.0: 5 m }, switches: { two-way: 2, intermediate: 1 } }\n"))
	return b.String()
}
