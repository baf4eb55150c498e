package strapper_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"os"
	"os/exec"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// The house style, as far as it can be counted. Lengths are of code that
// ships: tests and generated files are not held to them.
const (
	medianFunction  = 10  // lines, from func to the closing brace
	ninthFunction   = 40  // nine in ten functions are no longer
	longestFunction = 80  // unless the doc comment says why
	longestFile     = 600 // lines
	longReason      = "long because"
)

// vagueNames say nothing about what a package is for.
var vagueNames = []string{
	"util", "utils", "helper", "helpers", "common", "type", "types",
	"manager", "misc", "base", "shared", "lib",
}

func TestFunctionsAreShort(t *testing.T) {
	var all []function
	for _, f := range shippedFiles(t) {
		all = append(all, functions(f)...)
	}
	for _, fn := range all {
		if fn.lines > longestFunction && !strings.Contains(fn.doc, longReason) {
			t.Errorf("%s: %s has %d lines, over %d: split it, or say %q in its comment",
				fn.place, fn.name, fn.lines, longestFunction, longReason)
		}
	}
	slices.SortFunc(all, func(a, b function) int { return b.lines - a.lines })
	median, ninth := quantile(all, 50), quantile(all, 90)
	if median > medianFunction || ninth > ninthFunction {
		t.Errorf("functions: median %d lines (at most %d), nine in ten within %d (at most %d); the longest:",
			median, medianFunction, ninth, ninthFunction)
		for _, fn := range all[:min(20, len(all))] {
			t.Errorf("    %4d lines %s %s", fn.lines, fn.place, fn.name)
		}
	}
	t.Logf("%d functions, median %d lines, nine in ten within %d", len(all), median, ninth)
}

func TestFilesAreShort(t *testing.T) {
	for _, f := range shippedFiles(t) {
		if f.lines > longestFile {
			t.Errorf("%s has %d lines, over %d: divide it by subject", f.name, f.lines, longestFile)
		}
	}
}

func TestPackagesAreNamedAndExplained(t *testing.T) {
	for dir, files := range goFiles(t) {
		if slices.Contains(vagueNames, path.Base(dir)) {
			t.Errorf("package %s: the name says nothing; call it after its subject", dir)
		}
		explained, code := false, false
		for _, f := range files {
			code = code || !f.test
			explained = explained || !f.test && f.syntax.Doc != nil
			if slices.Contains(vagueNames, strings.TrimSuffix(f.syntax.Name.Name, "_test")) {
				t.Errorf("%s: package name %s says nothing", f.name, f.syntax.Name.Name)
			}
		}
		if code && !explained {
			t.Errorf("package %s has no package comment: what question does it answer, what not, by what method?", dir)
		}
	}
}

func TestExportedNamesAreExplained(t *testing.T) {
	for _, f := range shippedFiles(t) {
		complain(t, f, bareNames(f))
	}
}

// function is one function's length and place.
type function struct {
	name, place, doc string
	lines            int
}

func functions(f goFile) []function {
	var list []function
	for _, decl := range f.syntax.Decls {
		fn, ok := decl.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		from, to := f.set.Position(fn.Type.Func), f.set.Position(fn.End())
		list = append(list, function{
			name: fn.Name.Name, place: fmt.Sprintf("%s:%d", f.name, from.Line),
			doc: strings.Join(strings.Fields(fn.Doc.Text()), " "), lines: to.Line - from.Line + 1,
		})
	}
	return list
}

// quantile is the length that percent of the functions do not exceed. The list
// is in falling order.
func quantile(list []function, percent int) int {
	if len(list) == 0 {
		return 0
	}
	return list[len(list)-1-(len(list)-1)*percent/100].lines
}

// shippedFiles are the hand-written files that are not tests.
func shippedFiles(t *testing.T) []goFile {
	t.Helper()
	var list []goFile
	for _, files := range goFiles(t) {
		for _, f := range files {
			if !f.test && !ast.IsGenerated(f.syntax) {
				list = append(list, f)
			}
		}
	}
	slices.SortFunc(list, func(a, b goFile) int { return strings.Compare(a.name, b.name) })
	return list
}

// bareNames lists the exported names of a file without a comment: on the name
// itself, beside it, or on the group it stands in.
func bareNames(f goFile) []complaint {
	var list []complaint
	check := func(id *ast.Ident, comments ...*ast.CommentGroup) {
		if id.IsExported() && !slices.ContainsFunc(comments, func(c *ast.CommentGroup) bool { return c.Text() != "" }) {
			list = append(list, complaint{id.Pos(), id.Name + " is exported and has no comment: say what it is, its unit and range"})
		}
	}
	for _, decl := range f.syntax.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil || ast.IsExported(receiver(d)) {
				check(d.Name, d.Doc)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch s := spec.(type) {
				case *ast.TypeSpec:
					check(s.Name, s.Doc, s.Comment, d.Doc)
				case *ast.ValueSpec:
					for _, id := range s.Names {
						check(id, s.Doc, s.Comment, d.Doc)
					}
				}
			}
		}
	}
	return list
}

// receiver is the name of the type a method belongs to.
func receiver(fn *ast.FuncDecl) string {
	name := ""
	ast.Inspect(fn.Recv.List[0].Type, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && name == "" {
			name = id.Name
		}
		return name == ""
	})
	return name
}

// The rules themselves are checked on sources that break or keep them.
func TestStyleRulesCatchFaults(t *testing.T) {
	for _, c := range []struct {
		source string
		bare   []string
	}{
		{"func F() {}", []string{"F"}},
		{"// F does.\nfunc F() {}", nil},
		{"type t int\nfunc (t) F() {}", nil},
		{"// T is.\ntype T[K any] int\nfunc (*T[K]) F() {}", []string{"F"}},
		{"const (\nA = 1 // ohm\nB = 2\n)", []string{"B"}},
		{"// The limits.\nconst (\nA = 1\nB = 2\n)", nil},
		{"type T struct{}", []string{"T"}},
		{"//go:generate true\nvar V int", []string{"V"}},
	} {
		got := bareNames(parseSource(t, "p.go", "package p\n"+c.source))
		if len(got) != len(c.bare) || len(got) == 1 && !strings.HasPrefix(got[0].text, c.bare[0]+" is exported") {
			t.Errorf("%q: got %v, want complaints about %v", c.source, got, c.bare)
		}
	}
	f := parseSource(t, "p.go", "package p\n// F is long because\n// of its table.\nfunc F() {\n\n}\nfunc g() {}\n")
	list := functions(f)
	if len(list) != 2 || list[0].lines != 3 || list[1].lines != 1 || !strings.Contains(list[0].doc, longReason) {
		t.Errorf("functions counted as %+v, want F with 3 lines and its reason, g with 1", list)
	}
	falling := []function{{lines: 90}, {lines: 41}, {lines: 10}, {lines: 4}, {lines: 1}}
	if m, n := quantile(falling, 50), quantile(falling, 100); m != 10 || n != 90 {
		t.Errorf("quantiles 50 and 100 of 1 4 10 41 90: got %d and %d, want 10 and 90", m, n)
	}
}

// strayWords belong to the place where the program is written, not to the
// program. They are spelt in parts so that this file is clean as well.
var strayWords = []*regexp.Regexp{
	regexp.MustCompile(`(?i)\btrans` + `cript\b`),
	regexp.MustCompile(`(?i)seed docu` + `ment`),
	regexp.MustCompile(`/wo` + `rk/`),
	regexp.MustCompile(`/fa` + `rm/`),
	regexp.MustCompile(`\.\./sha` + `red\b`),
}

func TestNoStrayWords(t *testing.T) {
	for _, name := range textFiles(t) {
		for i, line := range bytes.Split(readFile(t, name), []byte("\n")) {
			for _, word := range strayWords {
				if found := word.Find(line); found != nil {
					t.Errorf("%s:%d: %q does not belong in the project", name, i+1, found)
				}
			}
		}
	}
}

// localLink is a Markdown link to another file of the project.
var localLink = regexp.MustCompile(`\]\(([^)#:\s]+)(?:#[^)]*)?\)`)

func TestLinksLeadSomewhere(t *testing.T) {
	for _, name := range textFiles(t) {
		if path.Ext(name) != ".md" || strings.Contains(name, "testdata/") {
			continue
		}
		for _, link := range localLink.FindAllSubmatch(readFile(t, name), -1) {
			target := path.Join(path.Dir(name), string(link[1]))
			if _, err := os.Stat(target); err != nil {
				t.Errorf("%s links to %s, which is not there", name, link[1])
			}
		}
	}
}

// textFiles are the project's text files: those git tracks, and those it would
// offer to. Outside a git checkout there is no such list, and nothing to check.
func textFiles(t *testing.T) []string {
	t.Helper()
	if _, err := os.Stat(".git"); err != nil {
		t.Skip("not a git checkout: which files belong to the project is not known")
	}
	out, err := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output()
	if err != nil {
		t.Fatalf("git ls-files: %v", err)
	}
	var names []string
	for name := range strings.SplitSeq(string(out), "\x00") {
		info, err := os.Stat(name)
		if err != nil || !info.Mode().IsRegular() {
			continue // deleted but not yet committed, or a link
		}
		if content := readFile(t, name); utf8.Valid(content) && !bytes.ContainsRune(content, 0) {
			names = append(names, name)
		}
	}
	if !slices.Contains(names, "go.mod") {
		t.Fatal("git lists no go.mod: the test looks in the wrong place")
	}
	return names
}

func readFile(t *testing.T, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return content
}
