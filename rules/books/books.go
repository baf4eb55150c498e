// Package books is the plain list of every rule book. A new country is a
// folder beside this one and a line here.
package books

import (
	"fmt"

	"strapper/rules"
	"strapper/rules/bs7671"
	"strapper/rules/iec"
)

// Default is the book of a job that names none, in its current edition.
const Default = "bs7671"

// shelf opens each book; of one id the current edition stands first.
var shelf = []func() (*rules.Book, error){
	bs7671.OpenCurrent,
	bs7671.OpenFormer,
	iec.Open,
}

// All reads every book.
func All() ([]*rules.Book, error) {
	list := make([]*rules.Book, len(shelf))
	for i, open := range shelf {
		var err error
		if list[i], err = open(); err != nil {
			return nil, fmt.Errorf("books: %w", err)
		}
	}
	return list, nil
}

// Find is the book of an id and edition; of no id the default, of no edition
// the current one. The error lists what there is.
func Find(id, edition string) (*rules.Book, error) {
	if id == "" {
		id = Default
	}
	all, err := All()
	if err != nil {
		return nil, err
	}
	var names []string
	for _, b := range all {
		if b.ID == id && (edition == "" || edition == b.Edition) {
			return b, nil
		}
		name := b.ID
		if b.Edition != "" {
			name += ", edition " + b.Edition
		}
		names = append(names, name)
	}
	return nil, &UnknownError{id, edition, names}
}

// UnknownError is a book that is not on the shelf.
type UnknownError struct {
	ID, Edition string
	Have        []string // what there is
}

// Error says what there is.
func (e *UnknownError) Error() string {
	text := fmt.Sprintf("there is no rule book %q", e.ID)
	if e.Edition != "" {
		text += fmt.Sprintf(" of edition %q", e.Edition)
	}
	return text + fmt.Sprintf("; there are %q", e.Have)
}
