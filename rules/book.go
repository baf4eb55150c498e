package rules

import (
	"fmt"
	"slices"

	"strapper/finding"
	"strapper/source"
)

// Check judges one kind of case. Exactly one of the four functions is set; it
// gets a verdict whose check, citation, title and subject are filled, and sets
// the rest. It changes neither the case nor the book.
type Check struct {
	ID      string        // stable, lower case with dashes
	Clause  string        // "411.4.4", in the book's document and edition
	Of      Citation      // instead, where the rule is another document's
	Title   string        // a few words
	Explain string        // what is asked, in our own words
	Source  source.Source // where that was read

	Point   func(*Book, *PointCase, *Verdict)
	Circuit func(*Book, *CircuitCase, *Verdict)
	Reading func(*Book, *ReadingCase, *Verdict)
	Work    func(*Book, *WorkCase, *Verdict)
}

// Book is one edition of a standard: tables that answer questions, and checks.
// It is not changed once made, and may be used by many at once.
type Book struct {
	ID       string // "bs7671"
	Document string // "BS 7671"
	Edition  string // "2018+A4:2026"
	Title    string
	Scope    string // in words, what it may be used for
	From     string // first day for new designs, year-month-day; empty if open
	Until    string // last day; empty if open
	Tables   []*Table
	Checks   []Check

	answers  map[string][]int // tables by question
	formulas map[string]Formula
}

// New makes a book of its parts, and says what is wrong with them: ids used
// twice, a check without a clause, function or explanation.
func New(b Book, formulas map[string]Formula) (*Book, error) {
	b.answers, b.formulas = map[string][]int{}, formulas
	for i, t := range b.Tables {
		switch t.Answers {
		case "":
		case "*":
			for _, c := range t.Cells {
				b.answers[c.At] = append(b.answers[c.At], i)
			}
		default:
			b.answers[t.Answers] = append(b.answers[t.Answers], i)
		}
	}
	seen := map[string]bool{}
	for i := range b.Checks {
		if err := b.Checks[i].valid(); err != nil {
			return nil, fmt.Errorf("rules: %s: %w", b.Name(), err)
		}
		if seen[b.Checks[i].ID] {
			return nil, fmt.Errorf("rules: %s: check %q is there twice", b.Name(), b.Checks[i].ID)
		}
		seen[b.Checks[i].ID] = true
	}
	return &b, nil
}

func (c *Check) valid() error {
	set := 0
	for _, has := range []bool{c.Point != nil, c.Circuit != nil, c.Reading != nil, c.Work != nil} {
		if has {
			set++
		}
	}
	switch {
	case c.ID == "" || c.Title == "" || c.Explain == "":
		return fmt.Errorf("check %q needs an id, a title and an explanation", c.ID)
	case c.Clause == "" && c.Of.Clause == "":
		return fmt.Errorf("check %q cites nothing", c.ID)
	case !c.Source.Authority.Valid() || c.Source.Cite == "":
		return fmt.Errorf("check %q has no source", c.ID)
	case set != 1:
		return fmt.Errorf("check %q judges %d kinds of case", c.ID, set)
	}
	return nil
}

// Name is the document with its edition: "BS 7671:2018+A4:2026".
func (b *Book) Name() string {
	if b.Edition == "" {
		return b.Document
	}
	return b.Document + ":" + b.Edition
}

// Cite is the place of a check's rule.
func (b *Book) Cite(c *Check) Citation {
	if c.Of.Clause != "" {
		return c.Of
	}
	return Citation{b.Document, b.Edition, c.Clause}
}

func (b *Book) blank(c *Check, s finding.Subject) Verdict {
	return Verdict{Check: c.ID, Citation: b.Cite(c), Title: c.Title, Subject: s, Source: c.Source}
}

// judge applies every check that concerns a kind of case, and appends the
// verdicts.
func judge[C any](b *Book, list []Verdict, c *C, s finding.Subject, of func(*Check) func(*Book, *C, *Verdict)) []Verdict {
	for i := range b.Checks {
		if check := of(&b.Checks[i]); check != nil {
			v := b.blank(&b.Checks[i], s)
			check(b, c, &v)
			list = append(list, v)
		}
	}
	return list
}

// Point judges one point by every check of points, and appends the verdicts.
func (b *Book) Point(list []Verdict, c *PointCase) []Verdict {
	return judge(b, list, c, c.Subject, func(k *Check) func(*Book, *PointCase, *Verdict) { return k.Point })
}

// Circuit judges one circuit, and appends the verdicts.
func (b *Book) Circuit(list []Verdict, c *CircuitCase) []Verdict {
	return judge(b, list, c, c.Subject, func(k *Check) func(*Book, *CircuitCase, *Verdict) { return k.Circuit })
}

// Reading judges one reading, and appends the verdicts of the checks that
// concern its kind.
func (b *Book) Reading(list []Verdict, c *ReadingCase) []Verdict {
	had := len(list)
	list = judge(b, list, c, c.Subject, func(k *Check) func(*Book, *ReadingCase, *Verdict) { return k.Reading })
	kept := slices.DeleteFunc(list[had:], func(v Verdict) bool { return v.Outcome == NotApplicable })
	return list[:had+len(kept)]
}

// Work judges the work as a whole, and appends the verdicts.
func (b *Book) Work(list []Verdict, c *WorkCase) []Verdict {
	return judge(b, list, c, c.Subject, func(k *Check) func(*Book, *WorkCase, *Verdict) { return k.Work })
}

// With is the book with one cell changed, for tests that ask whether any check
// notices. The book itself is not altered.
func (b *Book) With(table, cell int, value float64) *Book {
	c := *b
	c.Tables = slices.Clone(b.Tables)
	c.Tables[table] = b.Tables[table].With(cell, value)
	return &c
}

// Table finds a table by its clause; nil if the book has none.
func (b *Book) Table(clause string) *Table {
	for _, t := range b.Tables {
		if t.Citation.Clause == clause {
			return t
		}
	}
	return nil
}

// Figures lists every cell of every table with its authority.
func (b *Book) Figures() []source.Figure {
	var list []source.Figure
	for _, t := range b.Tables {
		for _, c := range t.Cells {
			list = append(list, c.Figure(t.Title))
		}
	}
	return list
}

// Figure is the cell as the list of sources prints it.
func (c Cell) Figure(title string) source.Figure {
	m := c.Unit
	return source.Figure{
		Name: title + ": " + c.At, Value: figures(c.Value, 6) + space(m),
		Source: source.Source{Authority: c.State.Authority(), Cite: c.Table.String(), Note: string(c.State) + "; " + c.Source},
	}
}

func space(unit string) string {
	if unit == "" {
		return ""
	}
	return " " + unit
}
