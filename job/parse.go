package job

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
)

// The greatest job file that is read: some fifty times a large job. The YAML
// parser's time grows with the square of the number of lines; at these limits
// it stays about a second.
const (
	MaxBytes = 256 << 10
	MaxLines = 10_000
)

// parse turns the text into values; nil if it is not YAML that can be used, in
// which case the reason has been reported.
func (r *reporter) parse(text string) *value {
	if !r.readable(text) || !r.shallow() {
		return nil
	}
	file, err := guardedParse(text)
	if err != nil {
		r.syntax(err)
		return nil
	}
	body := r.onlyDocument(file)
	if body == nil {
		return nil
	}
	before := len(r.list)
	root := (&planter{reporter: r}).value(body, 1)
	r.incomplete = len(r.list) > before
	if root.kind != isMap {
		if !r.incomplete {
			r.report(root.at, `begin with "job:" and "supply:"; a starter file shows all of it`, "a job file is a list of sections, each with a name and a colon")
		}
		return nil
	}
	return root
}

// guardedParse is the one place that turns a panic of the YAML parser into an
// error: it is code of others, fed with what anybody may have typed.
func guardedParse(text string) (file *ast.File, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("the YAML parser gave up: %v", fault)
		}
	}()
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

// readable checks size and characters before anything is parsed.
func (r *reporter) readable(text string) bool {
	if len(text) > MaxBytes {
		r.report(place{}, "a job is a few pages of text: is this the right file?", "the file has %d bytes; at most %d are read", len(text), MaxBytes)
		return false
	}
	if len(r.lines) > MaxLines {
		r.report(place{}, "a job is a few pages of text: is this the right file?", "the file has %d lines; at most %d are read", len(r.lines), MaxLines)
		return false
	}
	if strings.TrimSpace(text) == "" {
		r.report(place{1, 1}, `begin with a starter file, or with "job:" and "supply:"`, "the file is empty")
		return false
	}
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
		r.report(place{}, "save the file as UTF-8", "the file is in UTF-16, which is not read")
		return false
	}
	before := len(r.list)
	for i, line := range r.lines {
		r.characters(i+1, line)
		if len(r.list) > before+20 {
			break
		}
	}
	return len(r.list) == before
}

// characters reports the first character of a line that no text file has, and
// tabs where YAML counts blanks.
func (r *reporter) characters(number int, line string) {
	column, indent := 0, true
	for i, c := range line {
		column++
		at := place{number, column}
		switch {
		case c == utf8.RuneError && !strings.HasPrefix(line[i:], "\uFFFD"):
			r.report(at, "save the file as UTF-8", "this byte (%#x) is not UTF-8 text", line[i])
			return
		case c == '\t' && indent:
			r.report(at, "use spaces", "a tab is used to indent; YAML counts spaces only")
			return
		case c < ' ' && c != '\t', c == 0x7f, c == '\uFEFF':
			r.report(at, "delete it", "there is an invisible control character (%#x) here", c)
			return
		}
		indent = indent && c == ' '
	}
}

// shallow refuses brackets and dashes nested so deeply that parsing them takes
// long or runs out of stack. Brackets inside texts count too; the limit is far
// above what texts contain.
func (r *reporter) shallow() bool {
	const limit = 200
	open := 0
	for i, line := range r.lines {
		dashes := 0
		for j := 0; j < len(line); j++ {
			switch c := line[j]; c {
			case '[', '{':
				open++
			case ']', '}':
				open = max(open-1, 0)
			case '-', '?', ':', '!', '&', '*':
				if j+1 == len(line) || line[j+1] == ' ' || c == '!' || c == '&' || c == '*' {
					dashes++
				}
			}
			if open > limit || dashes > 4*limit {
				r.report(place{i + 1, utf8.RuneCountInString(line[:j]) + 1}, "a bracket or quotation mark is probably not closed", "brackets or dashes lie hundreds deep within one another here")
				return false
			}
		}
	}
	return true
}

// onlyDocument is the body of the file's single document.
func (r *reporter) onlyDocument(file *ast.File) ast.Node {
	var body ast.Node
	for _, d := range file.Docs {
		_, directive := d.Body.(*ast.DirectiveNode)
		switch {
		case d.Body == nil:
		case directive:
			r.report(start(d.Body), "delete the line", "directives (%%) are not used in a job file")
			return nil
		case body != nil:
			r.report(start(d.Body), "put each job into a file of its own", "a second document begins here (after ---); a file holds one job")
			return nil
		default:
			body = d.Body
		}
	}
	if body == nil {
		r.report(place{1, 1}, `begin with a starter file, or with "job:" and "supply:"`, "the file holds nothing but comments")
	}
	return body
}

// syntax reports what the parser said in words of our own, where we have them.
func (r *reporter) syntax(err error) {
	var at yaml.Error
	if !errors.As(err, &at) || at.GetToken() == nil {
		r.report(place{1, 1}, "check quotation marks, brackets and indentation", "the file is not YAML that can be read: %v", err)
		return
	}
	text, fix := at.GetMessage(), "check quotation marks, brackets, colons and indentation here and on the line before"
	for _, w := range syntaxWords {
		if strings.Contains(text, w.said) {
			text, fix = w.text, w.fix
			break
		}
	}
	r.report(placeOf(at.GetToken()), fix, "%s", text)
}

// syntaxWords say the parser's messages as a person would.
var syntaxWords = []struct{ said, text, fix string }{
	{"',' or ']' must be specified", "a list that began with [ is not closed before this", "put a comma between its items and ] at its end"},
	{"sequence end token ']'", "a list that begins with [ here is not closed", "put ] at its end"},
	{"mapping end token '}'", "a mapping that begins with { here is not closed", "put } at its end"},
	{"',' or '}' must be specified", "a mapping that began with { is not closed before this", "put a comma between its entries and } at its end"},
	{"end character of single-quoted", "a text that begins with ' here is not closed", "put ' at its end"},
	{"end character of double-quoted", `a text that begins with " here is not closed`, `put " at its end`},
	{"mapping value is not allowed", "a colon with a value is not expected here", "put a text that contains a colon in quotes; indent entries of one section alike"},
	{"is a reserved character", "a text may not begin with this character", "put the text in quotes"},
	{"non-map value is specified", "this is not indented like the entries around it, or lacks a colon", `write "name: value" and indent entries of one section alike`},
	{"value is not allowed in this context", "this is not expected here", "indent entries of one section alike; do not mix a list (- …) with names and colons"},
	{"invalid key", "this cannot be a name before a colon", `write "name: value"`},
	{"unexpected key name", "a name is expected before this colon", `write "name: value"`},
	{"cannot start any token", "a tab is used where YAML counts spaces", "use spaces"},
}
