package strapper_test

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// page is how code and text name a page of decisions or hand calculations: by
// its path, or by its number alone.
var page = regexp.MustCompile(`docs/(?:checks|decisions)/[0-9][0-9A-Za-z.-]*[0-9A-Za-z]`)

func TestPagesNamedAreThere(t *testing.T) {
	named := 0
	for _, name := range textFiles(t) {
		for _, p := range page.FindAllString(string(readFile(t, name)), -1) {
			named++
			if pages, err := filepath.Glob(strings.TrimSuffix(p, ".md") + "*.md"); err != nil || len(pages) != 1 {
				t.Errorf("%s names %s, which is not there", name, p)
			}
		}
	}
	if named < 20 {
		t.Errorf("only %d pages named: the test looks in the wrong place", named)
	}
}

// Every record has a number of its own, begins with it, and stands in the index
// under its title, in order.
func TestDecisionsAreIndexed(t *testing.T) {
	entries, err := os.ReadDir("docs/decisions")
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	numbers := map[string]string{}
	for _, e := range entries {
		number, _, _ := strings.Cut(e.Name(), "-")
		if e.Name() == "README.md" {
			continue
		}
		if first := numbers[number]; first != "" {
			t.Errorf("%s and %s have the same number", first, e.Name())
		}
		numbers[number] = e.Name()
		head, _, _ := strings.Cut(string(readFile(t, path.Join("docs/decisions", e.Name()))), "\n")
		title, ok := strings.CutPrefix(head, "# "+number+" ")
		if !ok {
			t.Errorf("%s begins with %q, not with its number", e.Name(), head)
		}
		want = append(want, "| ["+number+"]("+e.Name()+") | "+title+" |")
	}
	var got []string
	for line := range strings.Lines(string(readFile(t, "docs/decisions/README.md"))) {
		if strings.HasPrefix(line, "| [") {
			got = append(got, strings.TrimSuffix(line, "\n"))
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("the index lists\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
