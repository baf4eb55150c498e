package strapper_test

import (
	"fmt"
	"go/ast"
	"go/build/constraint"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "strapper"

// layer is what one package may import besides the pure standard library.
type layer struct {
	project []string // packages of this module; nil: none, anything: all of them
	foreign []string // modules of others, by path prefix
	helper  bool     // serves tests: held to their rules, and only they may import it
}

var anything = []string{"*"}

// layers is the direction of data through the program: a package may import
// only what its row names. A package without a row fails the test, so that a
// new one is placed deliberately. Rows may run ahead of the code.
var layers = map[string]layer{
	".":       {},
	"unit":    {},
	"source":  {},
	"finding": {},

	"network":           {project: []string{"unit"}},
	"internal/bdd":      {},
	"internal/diagnose": {},
	"internal/sat":      {},
	"internal/draw":     {project: []string{"unit"}, foreign: []string{"codeberg.org/go-pdf/fpdf"}},
	"kit":               {project: []string{"unit", "source", "finding"}},
	"house":             {project: []string{"unit", "source", "finding"}},

	"internal/shortest": {},
	"rules":             {project: []string{"unit", "source", "finding"}},
	"rules/iec":         {project: []string{"unit", "source", "rules"}},
	"rules/bs7671":      {project: []string{"unit", "source", "rules", "rules/iec"}},
	"rules/books":       {project: []string{"rules", "rules/iec", "rules/bs7671"}},
	"rules/booktest":    {project: []string{"unit", "source", "finding", "rules"}, helper: true},

	"wiring":    {project: []string{"unit", "source", "finding", "kit", "network"}},
	"route":     {project: []string{"unit", "source", "finding", "kit", "house", "internal/shortest"}},
	"switching": {project: []string{"unit", "finding", "kit", "wiring", "internal/bdd"}},
	"reading":   {project: []string{"unit", "source", "finding", "kit", "wiring", "network", "switching", "rules"}},
	"change":    {project: []string{"unit", "source", "finding", "kit", "wiring", "switching", "internal/sat"}},
	"sizing":    {project: []string{"unit", "source", "finding", "kit", "wiring", "network", "switching", "rules"}},
	"fault":     {project: []string{"unit", "source", "finding", "kit", "wiring", "network", "switching", "reading", "internal/diagnose"}},
	"cost":      {project: []string{"unit", "source", "kit", "wiring", "route"}},

	"job": {
		project: []string{"unit", "source", "finding", "kit", "house", "wiring", "switching", "change", "reading", "fault", "rules", "rules/books"},
		foreign: []string{"github.com/goccy/go-yaml", "github.com/santhosh-tekuri/jsonschema/v6"},
	},
	"engine":   {project: passes},
	"document": {project: slices.Concat(passes, []string{"engine", "internal/draw"})},

	"cmd/strapper": {project: anything, foreign: []string{"github.com/alecthomas/kong", "github.com/xuri/excelize/v2"}},

	"network/spicetest": {helper: true},
}

// passes are the packages that engine runs and that make up its result.
var passes = []string{
	"unit", "source", "finding", "network", "internal/bdd", "internal/sat", "internal/diagnose",
	"kit", "rules", "rules/books", "house", "wiring", "switching", "change", "reading", "sizing", "fault", "cost", "job", "route",
}

// testModules are the modules that tests of any package may import.
var testModules = []string{
	"pgregory.net/rapid",
	"github.com/rogpeppe/go-internal/testscript",
	"github.com/invopop/jsonschema",
	"gonum.org/v1/gonum/graph",
	"github.com/crillab/gophersat/solver",
}

// impure are the standard packages that reach files, network, clock-driven
// logs, other processes or chance, and the two template engines, which cost
// the browser build megabytes and find their faults only when run. Only
// packages below cmd may use them: the same job gives the same bytes, and the
// rest runs in a browser. Each name covers the packages beneath it.
var impure = []string{
	"os", "net", "syscall", "path/filepath", "io/ioutil", "plugin",
	"database/sql", "log", "crypto/rand", "text/template", "html/template",
	"unsafe", "C",
}

// impureCalls are functions of otherwise pure packages that read the clock,
// wait for it, or write to the process's output.
var impureCalls = map[string][]string{
	"time": {"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer"},
	"fmt":  {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
}

// seeded are the only names of math/rand and math/rand/v2 that do not draw
// from the shared, unseeded source.
var seeded = []string{
	"New", "NewSource", "NewPCG", "NewChaCha8", "NewZipf",
	"Rand", "Source", "Source64", "PCG", "ChaCha8", "Zipf",
}

func TestEveryPackageHasItsLayer(t *testing.T) {
	for _, dir := range slices.Sorted(maps.Keys(goFiles(t))) {
		if _, ok := layers[dir]; !ok {
			t.Errorf("package %s has no row in the table of arch_test.go: say what it may import", dir)
		}
	}
	for dir, row := range layers {
		for _, name := range row.project {
			if _, ok := layers[name]; !ok && name != "*" {
				t.Errorf("the row of %s names %s, which has no row itself", dir, name)
			}
		}
	}
}

func TestImportsFollowTheLayers(t *testing.T) {
	for dir, files := range goFiles(t) {
		for _, f := range files {
			complain(t, f, importComplaints(dir, f))
		}
	}
}

func TestNothingAmbientBelowTheCommand(t *testing.T) {
	for dir, files := range goFiles(t) {
		for _, f := range files {
			if !f.test && !layers[dir].helper {
				complain(t, f, ambientComplaints(dir, f))
			}
		}
	}
}

// importComplaints lists the imports of a file that its package's row forbids.
func importComplaints(dir string, f goFile) []complaint {
	var list []complaint
	row := layers[dir]
	forTests := f.test || row.helper
	for _, spec := range f.syntax.Imports {
		name := importPath(spec)
		own, inModule := strings.CutPrefix(name, module+"/")
		var allowed bool
		switch {
		case inModule:
			allowed = forTests || !layers[own].helper && (slices.Contains(row.project, own) || slices.Contains(row.project, "*"))
		case strings.Contains(firstElement(name), "."):
			allowed = under(name, row.foreign) || forTests && under(name, testModules)
		default: // the standard library: see ambientComplaints
			allowed = true
		}
		if !allowed {
			list = append(list, complaint{spec.Pos(), fmt.Sprintf("package %s may not import %s", dir, name)})
		}
	}
	return list
}

// ambientComplaints lists what a file outside cmd takes from its surroundings.
func ambientComplaints(dir string, f goFile) []complaint {
	var list []complaint
	add := func(n ast.Node, format string, args ...any) {
		list = append(list, complaint{n.Pos(), fmt.Sprintf(format, args...)})
	}
	command := strings.HasPrefix(dir, "cmd/")
	names := map[string]string{} // name in the file -> import path
	for _, spec := range f.syntax.Imports {
		imported := importPath(spec)
		names[localName(spec)] = imported
		if localName(spec) == "." {
			add(spec, "dot import of %s hides where names come from", imported)
		}
		if !command && under(imported, impure) {
			add(spec, "only cmd may import %s: pass what it gives as an argument", imported)
		}
	}
	for _, decl := range f.syntax.Decls {
		if fn, ok := decl.(*ast.FuncDecl); ok && fn.Name.Name == "init" && fn.Recv == nil {
			add(fn, "init functions are forbidden: build the value where it is used")
		}
	}
	if command {
		return list
	}
	ast.Inspect(f.syntax, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if pkg := packageOf(sel, names); pkg != "" && ambient(pkg, sel.Sel.Name) {
				add(sel, "only cmd may use %s.%s: pass the value as an argument", pkg, sel.Sel.Name)
			}
		}
		return true
	})
	return list
}

// ambient reports whether a package's name reads the clock, chance or the
// process's input and output.
func ambient(pkg, name string) bool {
	if pkg == "math/rand" || pkg == "math/rand/v2" {
		return !slices.Contains(seeded, name)
	}
	return slices.Contains(impureCalls[pkg], name)
}

// packageOf is the import path that sel selects from, or "" if its left side
// is not an imported package but, say, a variable of the same name.
func packageOf(sel *ast.SelectorExpr, names map[string]string) string {
	id, ok := sel.X.(*ast.Ident)
	if !ok || id.Obj != nil {
		return ""
	}
	return names[id.Name]
}

// The rules themselves are checked on sources that break or keep them.
func TestArchitectureRulesCatchFaults(t *testing.T) {
	for _, c := range []struct {
		dir, file, source, want string // want: part of the only complaint; "" for none
	}{
		{"unit", "a.go", `import "strapper/kit"`, "package unit may not import strapper/kit"},
		{"unit", "a_test.go", `import "strapper/kit"`, ""},
		{"kit", "a.go", `import "strapper/unit"`, ""},
		{"engine", "a.go", `import "strapper/internal/draw"`, "may not import strapper/internal/draw"},
		{"document", "a.go", `import "strapper/internal/draw"`, ""},
		{"cmd/strapper", "a.go", `import "strapper/document"`, ""},
		{"kit", "a.go", `import "github.com/goccy/go-yaml"`, "may not import github.com/goccy/go-yaml"},
		{"job", "a.go", `import "github.com/goccy/go-yaml/ast"`, ""},
		{"job", "a.go", `import "github.com/goccy/go-yaml-other"`, "may not import"},
		{"kit", "a_test.go", `import "pgregory.net/rapid"`, ""},
		{"kit", "a.go", `import "pgregory.net/rapid"`, "may not import pgregory.net/rapid"},
		{"kit", "a_test.go", `import "github.com/alecthomas/kong"`, "may not import"},

		{"network/spicetest", "a.go", `import ("os/exec"; "strapper/network"; "pgregory.net/rapid")`, ""},
		{"network", "a_test.go", `import "strapper/network/spicetest"`, ""},
		{"cmd/strapper", "a.go", `import "strapper/network/spicetest"`, "may not import strapper/network/spicetest"},

		{"kit", "a.go", `import "os/exec"`, "only cmd may import os/exec"},
		{"kit", "a.go", `import "net/http"`, "only cmd may import net/http"},
		{"cmd/strapper", "a.go", `import "os"`, ""},
		{"kit", "a.go", `import . "strings"`, "dot import of strings"},
		{"kit", "a.go", `import "time"; var now = time.Now`, "only cmd may use time.Now"},
		{"kit", "a.go", `import clock "time"; var now = clock.Now()`, "only cmd may use time.Now"},
		{"kit", "a.go", `import "time"; const day = 24 * time.Hour`, ""},
		{"kit", "a.go", `func f(time interface{ Now() int }) int { return time.Now() }`, ""},
		{"kit", "a.go", `import "math/rand/v2"; var n = rand.IntN(6)`, "only cmd may use math/rand/v2.IntN"},
		{"kit", "a.go", `import "math/rand/v2"; var r = rand.New(rand.NewPCG(1, 2))`, ""},
		{"kit", "a.go", `import "fmt"; func f() { fmt.Println() }`, "only cmd may use fmt.Println"},
		{"kit", "a.go", `func init() {}`, "init functions are forbidden"},
		{"cmd/strapper", "a.go", `func init() {}`, "init functions are forbidden"},
		{"kit", "a.go", `type t int; func (t) init() {}`, ""},
	} {
		f := parseSource(t, c.file, "package p; "+c.source)
		got := importComplaints(c.dir, f)
		if !f.test && !layers[c.dir].helper {
			got = append(got, ambientComplaints(c.dir, f)...)
		}
		switch {
		case c.want == "" && len(got) > 0:
			t.Errorf("%s in %s: complained %q", c.source, c.dir, got[0].text)
		case c.want != "" && (len(got) != 1 || !strings.Contains(got[0].text, c.want)):
			t.Errorf("%s in %s: got %v, want one complaint with %q", c.source, c.dir, got, c.want)
		}
	}
}

// goFile is one parsed source file of the project.
type goFile struct {
	name   string // slash path from the root
	test   bool
	lines  int
	set    *token.FileSet
	syntax *ast.File
}

// complaint is one breach of a rule at a place.
type complaint struct {
	at   token.Pos
	text string
}

func complain(t *testing.T, f goFile, list []complaint) {
	t.Helper()
	for _, c := range list {
		t.Errorf("%s: %s", f.set.Position(c.at), c.text)
	}
}

// goFiles parses every Go file of the module, by directory. Left out are
// testdata, hidden directories, modules of their own, and files that are
// built on no system (go:build ignore).
func goFiles(t *testing.T) map[string][]goFile {
	t.Helper()
	found := map[string][]goFile{}
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			return skipDir(name, d.Name())
		case !strings.HasSuffix(name, ".go"):
			return nil
		}
		source, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		f := parseSource(t, filepath.ToSlash(name), string(source))
		if !ignored(f.syntax) {
			found[path.Dir(f.name)] = append(found[path.Dir(f.name)], f)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found["unit"]) == 0 {
		t.Fatal("no Go files found under unit: is the test run from the module's root?")
	}
	return found
}

// skipDir returns fs.SkipDir for a directory that is not the module's code.
func skipDir(name, base string) error {
	if name == "." {
		return nil
	}
	if base == "testdata" || strings.HasPrefix(base, ".") || strings.HasPrefix(base, "_") {
		return fs.SkipDir
	}
	if _, err := os.Stat(filepath.Join(name, "go.mod")); err == nil {
		return fs.SkipDir
	}
	return nil
}

func parseSource(t *testing.T, name, source string) goFile {
	t.Helper()
	set := token.NewFileSet()
	syntax, err := parser.ParseFile(set, name, source, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	return goFile{
		name: name, test: strings.HasSuffix(name, "_test.go"),
		lines: strings.Count(source, "\n"), set: set, syntax: syntax,
	}
}

// ignored reports whether the file is excluded from every build.
func ignored(f *ast.File) bool {
	for _, group := range f.Comments {
		for _, c := range group.List {
			expr, err := constraint.Parse(c.Text)
			if err == nil && c.Pos() < f.Package && expr.String() == "ignore" {
				return true
			}
		}
	}
	return false
}

func importPath(spec *ast.ImportSpec) string {
	name, err := strconv.Unquote(spec.Path.Value)
	if err != nil {
		return spec.Path.Value // the parser has refused it already
	}
	return name
}

// localName is the name under which the file knows the import.
func localName(spec *ast.ImportSpec) string {
	if spec.Name != nil {
		return spec.Name.Name
	}
	name := importPath(spec)
	if base := path.Base(name); base != "v2" {
		return base
	}
	return path.Base(path.Dir(name))
}

func firstElement(name string) string {
	first, _, _ := strings.Cut(name, "/")
	return first
}

// under reports whether name is one of the prefixes or a package beneath one.
func under(name string, prefixes []string) bool {
	return slices.ContainsFunc(prefixes, func(p string) bool {
		return name == p || strings.HasPrefix(name, p+"/")
	})
}
