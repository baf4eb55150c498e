package main

import (
	"os"
	"reflect"
	"strings"
	"testing"
)

// The README lists every command once.
func TestReadmeListsTheCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	all := reflect.TypeFor[commands]()
	for i := range all.NumField() {
		name := strings.ToLower(all.Field(i).Name)
		if n := strings.Count(string(text), "\n| `strapper "+name); n != 1 {
			t.Errorf("the table of README.md has strapper %s %d times, want once", name, n)
		}
	}
	if n := strings.Count(string(text), "\n| `strapper "); n != all.NumField() {
		t.Errorf("the table of README.md has %d commands, there are %d", n, all.NumField())
	}
}

// What the README shows does what it says: the job is proved, a way is found for
// what it asks, the search for its fault has a next test, and its readings pass.
func TestReadmeExamplesWork(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var parts []string
	for _, p := range strings.Split(string(text), "```yaml\n")[1:] {
		part, _, _ := strings.Cut(p, "```")
		parts = append(parts, part)
	}
	if len(parts) != 4 {
		t.Fatalf("%d examples, want a job, an ask, observations and readings", len(parts))
	}
	wiring, _, _ := strings.Cut(parts[0], "want:")
	for _, c := range []struct{ command, job, want string }{
		{"check", parts[0], "PROVED as found"},
		{"change", wiring + parts[1], "The first is proved to take the least effort."},
		{"find", parts[0] + parts[2], "Next test:"},
		{"check", parts[0] + parts[3], "Readings taken"},
	} {
		var out, errs strings.Builder
		code := run([]string{c.command, "-"}, strings.NewReader(c.job), &out, &errs)
		if code != exitFine || !strings.Contains(out.String(), c.want) || strings.Contains(out.String(), "Some readings differ") {
			t.Errorf("strapper %s gives exit code %d and not %q:\n%s%s", c.command, code, c.want, out.String(), errs.String())
		}
	}
}
