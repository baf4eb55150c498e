package booktest

import (
	"fmt"
	"slices"
	"strings"

	"strapper/rules"
)

// coverage is the text of COVERAGE.md.
func (s *Suite) coverage(b *rules.Book, guarded map[string]int, unguarded []string) string {
	var w strings.Builder
	fmt.Fprintf(&w, "# Coverage of %s\n\nWritten by the tests (`go test ./rules/... -update`); do not edit. The book serves\n%s.\n\n", b.Name(), b.Scope)
	fmt.Fprintf(&w, "%d checks, %d cases with a source of their own, %d tables.\n\n## Checks\n\n", len(b.Checks), len(s.Cases), len(b.Tables))
	w.WriteString("| check | clause | what is asked | read in | cases |\n| --- | --- | --- | --- | --- |\n")
	for i := range b.Checks {
		k := &b.Checks[i]
		fmt.Fprintf(&w, "| `%s` | %s | %s | %s | %d |\n", k.ID, b.Cite(k), k.Explain, k.Source.Authority, s.count(k.ID))
	}
	w.WriteString("\n## Tables\n\nEach cell is changed by 5 % either way; it is guarded if a case notices both.\n\n| table | what | cells | published | to be confirmed | memory | guarded |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, t := range b.Tables {
		n := states(t)
		fmt.Fprintf(&w, "| %s | %s | %d | %d | %d | %d | %d |\n", t.Citation, t.Title, len(t.Cells), n[rules.Printed], n[rules.Confirm], n[rules.Recalled], guarded[t.Citation.String()])
	}
	s.open(&w, unguarded)
	return w.String()
}

func (s *Suite) count(check string) (n int) {
	for _, c := range s.Cases {
		if c.Check == check {
			n++
		}
	}
	return n
}

func states(t *rules.Table) map[rules.State]int {
	n := map[rules.State]int{}
	for _, c := range t.Cells {
		n[c.State]++
	}
	return n
}

// open is what nothing guards, and what the book leaves out.
func (s *Suite) open(w *strings.Builder, unguarded []string) {
	w.WriteString("\n## Cells that no case notices\n\n")
	if len(unguarded) == 0 {
		w.WriteString("None.\n")
	}
	for _, c := range unguarded {
		fmt.Fprintf(w, "- %s\n", c)
	}
	w.WriteString("\n## Not covered\n\n")
	for _, n := range slices.Sorted(slices.Values(s.Not)) {
		fmt.Fprintf(w, "- %s\n", n)
	}
}
