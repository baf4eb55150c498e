package job

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"strapper/finding"
)

// Problem is one fault of a job file: where it is, what is wrong in a plain
// sentence, and what to do.
type Problem struct {
	Position finding.Position `json:"position"`
	Text     string           `json:"text"`          // one sentence without a full stop
	Fix      string           `json:"fix,omitempty"` // what to do; often a spelling
	Source   string           `json:"source"`        // the line of the file, for the reader's eye
}

// Problems are all the faults found in one reading, in the file's order. None
// means that the job can be used.
type Problems []Problem

const (
	widestLine   = 100 // runes of a source line that are shown
	mostProblems = 100 // after that many, a file is not worth reading on
)

// String prints the problem with its line and a mark under the place.
func (p Problem) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", p.Position, p.Text)
	if strings.TrimSpace(p.Source) != "" {
		line, mark := p.excerpt()
		number := fmt.Sprint(p.Position.Line)
		fmt.Fprintf(&b, "  %s | %s\n  %s | %s^\n", number, line, strings.Repeat(" ", len(number)), mark)
	}
	if p.Fix != "" {
		fmt.Fprintf(&b, "  %s\n", p.Fix)
	}
	return b.String()
}

// excerpt is the part of the source line about the place, and the blanks that
// bring a mark under it. A tab stays a tab, so that the two line up.
func (p Problem) excerpt() (line, mark string) {
	runes := []rune(p.Source)
	at := min(max(p.Position.Column-1, 0), len(runes))
	from, lead := 0, ""
	if at > widestLine-20 {
		from, lead = at-widestLine/2, "…"
	}
	to, tail := len(runes), ""
	if to > from+widestLine {
		to, tail = from+widestLine, "…"
	}
	blanks := make([]rune, 0, at)
	for _, r := range runes[from:at] {
		if r != '\t' {
			r = ' '
		}
		blanks = append(blanks, r)
	}
	return lead + string(runes[from:to]) + tail, strings.Repeat(" ", utf8.RuneCountInString(lead)) + string(blanks)
}

// String prints all problems, an empty line between them.
func (ps Problems) String() string {
	parts := make([]string, len(ps))
	for i, p := range ps {
		parts[i] = p.String()
	}
	return strings.Join(parts, "\n")
}

// Error makes Problems an error whose text is the first problem's.
func (ps Problems) Error() string {
	if len(ps) == 0 {
		return "no problems"
	}
	text := fmt.Sprintf("%s: %s", ps[0].Position, ps[0].Text)
	if len(ps) > 1 {
		text += fmt.Sprintf(" (and %d more)", len(ps)-1)
	}
	return text
}

// reporter gathers the problems of one file.
type reporter struct {
	file  string
	lines []string
	list  Problems

	incomplete bool // parts of the file could not be used: what is missing may be in them
}

func newReporter(file string, text string) *reporter {
	return &reporter{file: file, lines: strings.Split(text, "\n")}
}

// report notes a problem at a place; fix may be empty.
func (r *reporter) report(at place, fix, format string, args ...any) {
	p := Problem{Position: at.in(r.file), Text: fmt.Sprintf(format, args...), Fix: fix}
	if at.line >= 1 && at.line <= len(r.lines) {
		p.Source = strings.ToValidUTF8(strings.TrimRight(r.lines[at.line-1], "\r"), "\uFFFD")
	}
	r.list = append(r.list, p)
}

// problems sorts what was found by place and drops repetitions.
func (r *reporter) problems() Problems {
	slices.SortStableFunc(r.list, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Position.Line, b.Position.Line), cmp.Compare(a.Position.Column, b.Position.Column))
	})
	list := slices.Compact(r.list)
	if len(list) > mostProblems {
		rest := len(list) - mostProblems
		last := list[mostProblems]
		last.Text, last.Fix = fmt.Sprintf("there are %d more problems from here on", rest), "correct those above first, then check again"
		list = append(list[:mostProblems:mostProblems], last)
	}
	return list
}

// place is a line and a column of the file, both from 1; columns count runes.
type place struct{ line, column int }

func (p place) in(file string) finding.Position {
	return finding.Position{File: file, Line: p.line, Column: p.column}
}

// didYouMean is the spelling nearest to name, as advice; else the list of what
// there is; else nothing.
func didYouMean(name string, candidates []string) string {
	near := finding.Nearest(name, candidates)
	for _, c := range candidates {
		if letters(c) == letters(name) {
			near = c
			break
		}
	}
	if near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	switch n := len(candidates); {
	case n == 0:
		return ""
	case n <= 12:
		return "known here: " + strings.Join(candidates, ", ")
	default:
		return fmt.Sprintf("known here: %s and %d more", strings.Join(candidates[:10], ", "), n-10)
	}
}

// letters is a name without case and punctuation: "tn-c-s" and "TNCS" are one.
func letters(name string) string {
	return strings.ToLower(strings.NewReplacer("-", "", "_", "", " ", "", ".", "").Replace(name))
}
