package job

import (
	"bytes"
	_ "embed" // the schema
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

	"strapper/finding"
)

//go:embed schema.json
var schemaText []byte

// Schema is the JSON Schema (draft 2020-12) of the job file, for editors.
func Schema() []byte { return slices.Clone(schemaText) }

var compiled = sync.OnceValues(func() (*jsonschema.Schema, error) {
	text, err := jsonschema.UnmarshalJSON(bytes.NewReader(schemaText))
	if err != nil {
		return nil, fmt.Errorf("job: schema: %w", err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("job.json", text); err != nil {
		return nil, fmt.Errorf("job: schema: %w", err)
	}
	return c.Compile("job.json")
})

// validate reports everything in which the values differ from the schema.
func (r *reporter) validate(root *value) {
	r.names(root)
	schema, err := compiled()
	if err != nil {
		r.report(place{}, "this is a fault of the program", "%v", err)
		return
	}
	var bad *jsonschema.ValidationError
	if errors.As(schema.Validate(root.plain()), &bad) {
		s := &schemaReader{r, schema, root}
		s.causes(bad)
	}
}

// sections are the places in the file whose keys are ids chosen by the person;
// * stands for any key.
var sections = [][]string{
	{"circuits"},
	{"boxes"},
	{"boxes", "*", "fit"},
	{"cables"},
	{"joints"},
	{"left", "boxes"},
	{"left", "boxes", "*", "fit"},
	{"left", "cables"},
	{"left", "joints"},
	{"unknown", "joints"},
	{"could", "boxes"},
	{"could", "cables"},
	{"house", "builds"},
	{"house", "storeys"},
	{"house", "rooms"},
	{"house", "walls"},
	{"house", "openings"},
	{"house", "floors"},
	{"house", "boxes"},
	{"house", "obstructions"},
}

// names reports ids that cannot be used in an end such as "s1.COM".
func (r *reporter) names(root *value) {
	for _, path := range sections {
		r.namesUnder(root, path)
	}
}

func (r *reporter) namesUnder(v *value, path []string) {
	switch {
	case v == nil:
	case len(path) == 0:
		for _, k := range v.keys {
			if !isName(k.name) {
				r.incomplete = true
				r.report(k.at, "use letters, digits, - and _, beginning with a letter or digit", "%q cannot be a name", k.name)
			}
		}
	case path[0] == "*":
		for _, x := range v.items {
			r.namesUnder(x, path[1:])
		}
	default:
		r.namesUnder(v.field(path[0]), path[1:])
	}
}

// isName reports whether an id has the form that the schema asks for.
func isName(id string) bool {
	for i, c := range id {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
		if !letter && (i == 0 || c != '-' && c != '_') {
			return false
		}
	}
	return id != ""
}

// schemaReader turns a tree of validation errors into problems.
type schemaReader struct {
	*reporter
	schema *jsonschema.Schema
	root   *value
}

func (s *schemaReader) causes(e *jsonschema.ValidationError) {
	if _, either := e.ErrorKind.(*kind.AnyOf); either {
		s.either(e)
		return
	}
	if _, names := e.ErrorKind.(*kind.PropertyNames); len(e.Causes) == 0 || names {
		s.leaf(e)
		return
	}
	for _, c := range e.Causes {
		s.causes(c)
	}
}

// either reports the form that the person has begun: the one whose type fits.
func (s *schemaReader) either(e *jsonschema.ValidationError) {
	var want []string
	for _, c := range e.Causes {
		if t := typeFault(c, len(e.InstanceLocation)); t != nil {
			want = append(want, t.Want...)
			continue
		}
		s.causes(c)
		return
	}
	at, v, _ := s.root.walk(e.InstanceLocation...)
	if v.refused {
		return
	}
	s.wrongType(at, v, e.InstanceLocation, want)
}

// typeFault finds that a value at the given depth is of the wrong type.
func typeFault(e *jsonschema.ValidationError, depth int) *kind.Type {
	if t, ok := e.ErrorKind.(*kind.Type); ok && len(e.InstanceLocation) == depth {
		return t
	}
	for _, c := range e.Causes {
		if t := typeFault(c, depth); t != nil {
			return t
		}
	}
	return nil
}

func (s *schemaReader) leaf(e *jsonschema.ValidationError) {
	path := e.InstanceLocation
	at, v, _ := s.root.walk(path...)
	if v.refused {
		return
	}
	switch k := e.ErrorKind.(type) {
	case *kind.AdditionalProperties:
		s.unknownKeys(v, path, e.SchemaURL, k.Properties)
	case *kind.Required:
		for _, name := range k.Missing {
			s.report(at, s.example(e.SchemaURL, name), "%s lacks %q", called(path), name)
		}
	case *kind.Type:
		s.wrongType(at, v, path, k.Want)
	case *kind.Enum:
		words := texts(k.Want)
		fix := didYouMean(v.text, words)
		if !strings.HasPrefix(fix, "did") || isIndex(v.text[:min(1, len(v.text))]) {
			fix = ""
		}
		s.report(v.at, fix, "%s is %q; it can be %s", called(path), v.text, orList(words))
	case *kind.PropertyNames: // see names: the place given here is not reliable
	case *kind.Pattern:
		s.report(v.at, "use letters, digits, - and _, beginning with a letter or digit", "%q cannot be a name", v.text)
	case *kind.MinItems, *kind.MinProperties:
		s.incomplete = true
		s.report(at, "give at least one", "%s is empty", called(path))
	case *kind.Minimum:
		s.report(v.at, "check the number", "%s is %s; it should be at least %s", called(path), v.text, k.Want.RatString())
	case *kind.Maximum:
		s.report(v.at, "check the number", "%s is %s; it should be at most %s", called(path), v.text, k.Want.RatString())
	case *kind.MinLength:
		s.report(at, "give it a few words", "%s is empty", called(path))
	default:
		s.report(at, "compare with the schema", "%s does not fit the schema (%s)", called(path), strings.Join(e.ErrorKind.KeywordPath(), "/"))
	}
}

// unknownKeys reports keys that the schema does not know, with the known key
// that is spelt most alike.
func (s *schemaReader) unknownKeys(v *value, path []string, url string, names []string) {
	known := s.properties(url)
	for _, name := range names {
		at, x := v.step(name)
		s.incomplete = s.incomplete || x.kind == isMap || x.kind == isList
		fix := didYouMean(name, known)
		if x.kind == isNull && strings.Contains(name, " ") {
			fix = "if this belongs to the text before it, put that text in quotes: it contains a comma"
		}
		s.report(at, fix, "%s has no key %q", called(path), name)
	}
}

// properties lists the keys that the schema at a URL knows.
func (s *schemaReader) properties(url string) []string {
	var names []string
	if node, ok := schemaAt(url)["properties"].(map[string]any); ok {
		for name := range node {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// example is advice on how a missing key is written, from the schema.
func (s *schemaReader) example(url, name string) string {
	properties, _ := schemaAt(url)["properties"].(map[string]any)
	node, _ := properties[name].(map[string]any)
	if examples, ok := node["examples"].([]any); ok && len(examples) > 0 {
		return fmt.Sprintf("add it, such as %q", fmt.Sprintf("%s: %v", name, examples[0]))
	}
	if words, ok := node["enum"].([]any); ok {
		return fmt.Sprintf("add it: %s", orList(texts(words)))
	}
	if strings.HasSuffix(strings.TrimSuffix(url, "#"), "job.json") {
		return fmt.Sprintf("add a section %q", name+":")
	}
	return "add it"
}

// schemaAt finds the part of the schema that a URL such as
// "…/job.json#/$defs/fileCable" names.
func schemaAt(url string) map[string]any {
	var root any
	if json.Unmarshal(schemaText, &root) != nil {
		return nil
	}
	_, pointer, _ := strings.Cut(url, "#")
	for _, step := range strings.Split(pointer, "/") {
		if step == "" {
			continue
		}
		switch node := root.(type) {
		case map[string]any:
			root = node[strings.NewReplacer("~1", "/", "~0", "~").Replace(step)]
		case []any:
			var i int
			if _, err := fmt.Sscan(step, &i); err != nil || i < 0 || i >= len(node) {
				return nil
			}
			root = node[i]
		}
	}
	m, _ := root.(map[string]any)
	return m
}

// quantities are the keys whose values carry a unit, with an example.
var quantities = map[string]string{
	"voltage": "V", "frequency": "Hz", "Ze": "ohm", "temperature": "C", "power": "W", "size": "mm2",
	"reads": "ohm", "min": "ohm", "max": "ohm", "accuracy": "%", "resolution": "ohm", "climb": "m", "volts": "V",
	"length": "m", "tolerance": "m", "feed": "m", "drop": "m", "lamp-cable": "m", "straps": "m",
	"height": "m", "level": "m", "outline": "m", "shift-right": "m", "shift-back": "m", "from-left": "m", "from-right": "m",
	"from-front": "m", "from-back": "m", "by": "mm", "below-ceiling": "mm", "width": "mm", "depth": "mm", "sill": "mm",
	"head": "mm", "lining": "mm", "core": "mm", "face": "mm", "stud": "mm", "studs": "mm", "first-stud": "mm", "centres": "mm",
	"plate": "mm", "noggings": "mm", "spacing": "mm", "breadth": "mm", "first-joist": "mm", "bearings": "m", "insulation": "mm",
	"deck": "mm", "ceiling": "mm", "eaves": "mm", "bottom": "mm", "top": "m", "time": "min", "likely": "%",
	"ambient": "C", "surrounded": "m", "fault-current": "kA", "breaking": "kA", "other-load": "W",
}

func (s *schemaReader) wrongType(at place, v *value, path []string, want []string) {
	key := lastName(path)
	unit, quantity := quantities[key]
	if len(path) > 3 && path[0] == "limits" && path[2] == "cables" {
		unit, quantity = "m", true
	}
	s.incomplete = s.incomplete || slices.Contains(want, "object") || slices.Contains(want, "array")
	switch {
	case v.kind == isNull:
		s.report(at, "give it a value, or delete it", "%s has no value", called(path))
	case v.kind == isNumber && quantity:
		s.report(v.at, fmt.Sprintf("write %q", v.text+" "+unit), "%s has no unit", called(path))
	case slices.Contains(want, "string") && (v.kind == isNumber || v.kind == isBool):
		s.report(v.at, fmt.Sprintf("put it in quotes: %q", v.text), "%s must be a text, and %s is a %s", called(path), v.text, kindNames[v.kind])
	case slices.Contains(want, "integer") && v.kind == isNumber:
		s.report(v.at, "write it without a fraction", "%s must be a whole number, and %s is none", called(path), v.text)
	default:
		s.report(at, "", "%s must be %s, not %s", called(path), typeNames(want), aKind(v.kind))
	}
}

var kindNames = [...]string{"empty value", "yes-or-no value", "number", "text", "list", "mapping"}

func aKind(k valueKind) string { return "a " + kindNames[k] }

func typeNames(want []string) string {
	var words []string
	for _, w := range want {
		switch w {
		case "string":
			words = append(words, "a text")
		case "object":
			words = append(words, "a mapping (name: value)")
		case "boolean":
			words = append(words, "true or false")
		case "array":
			words = append(words, "a list ([ … ] or lines that begin with -)")
		}
	}
	return orList(words)
}

// called names the thing at a path of the file in words.
func called(path []string) string {
	if len(path) == 0 {
		return "the job file"
	}
	var b strings.Builder
	for i, p := range path {
		switch {
		case isIndex(p):
			n, _ := strconv.Atoi(p)
			fmt.Fprintf(&b, " #%d", n+1)
		case i > 0:
			b.WriteString("." + p)
		default:
			b.WriteString(p)
		}
	}
	return b.String()
}

func isIndex(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// lastName is the last step of a path that is a name.
func lastName(path []string) string {
	for _, p := range slices.Backward(path) {
		if !isIndex(p) {
			return p
		}
	}
	return ""
}

func texts(list []any) []string {
	var words []string
	for _, x := range list {
		words = append(words, fmt.Sprint(x))
	}
	return words
}

// orList joins words as a sentence does: "a, b or c".
func orList(words []string) string {
	if len(words) == 0 {
		return "something else"
	}
	return finding.List(words, " or ")
}

// ignoreType drops the error that a value is of the wrong type: the schema
// reports those with their place, and the rest is decoded all the same.
func ignoreType(err error) error {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return nil
	}
	return err
}
