package main

import (
	"errors"
	"fmt"

	"strapper/finding"
	"strapper/house"
	"strapper/unit"
)

type roomsCmd struct {
	File string `arg:"" help:"Table of corners (CSV) with the columns room, x and y, as in room,x mm,y mm; - reads it from standard input."`
	JSON bool   `help:"Print the rooms as JSON (see docs/json.md)."`
}

// mostTable is the greatest size of a table of corners in bytes.
const mostTable = 1 << 20

// Run prints the rooms of a table as a job file has them.
func (c *roomsCmd) Run(s *session) error {
	text, err := readUpTo(c.File, s.in, mostTable+1)
	if err != nil {
		return fmt.Errorf("cannot read the table: %w", err)
	}
	if len(text) > mostTable {
		return fmt.Errorf("cannot read the table: it has more than %d bytes", mostTable)
	}
	rooms, err := house.ReadOutlines(called(c.File), text)
	if err != nil {
		if c.JSON {
			s.json(mistakes(err))
		}
		return fmt.Errorf("the table cannot be used\n%w", err)
	}
	if c.JSON {
		s.json(roomsOf(rooms))
		return nil
	}
	fmt.Fprintln(s.out, "house:\n  rooms:")
	for i := range rooms {
		s.room(&rooms[i])
	}
	return nil
}

// room prints one room as a job file has it.
func (s *session) room(r *house.DraftRoom) {
	fmt.Fprintf(s.out, "    %s:\n", r.ID)
	if r.Title != "" && r.Title != r.ID {
		fmt.Fprintf(s.out, "      title: %q\n", r.Title)
	}
	if r.Storey != "" {
		fmt.Fprintf(s.out, "      storey: %s\n", r.Storey)
	}
	fmt.Fprintln(s.out, "      outline:")
	for _, p := range r.Outline {
		fmt.Fprintf(s.out, "        - %v\n", p)
	}
}

type roomsJSON struct {
	Rooms []roomJSON `json:"rooms"`
}

type roomJSON struct {
	ID      string               `json:"id"`
	Title   string               `json:"title,omitempty"`
	Storey  string               `json:"storey,omitempty"`
	Outline [][2]unit.Millimetre `json:"outline_mm"`
}

func roomsOf(rooms []house.DraftRoom) roomsJSON {
	var out roomsJSON
	for _, r := range rooms {
		j := roomJSON{ID: r.ID, Title: r.Title, Storey: r.Storey}
		for _, p := range r.Outline {
			j.Outline = append(j.Outline, [2]unit.Millimetre{p.X, p.Y})
		}
		out.Rooms = append(out.Rooms, j)
	}
	return out
}

type mistakesJSON struct {
	Mistakes []mistakeJSON `json:"mistakes"`
}

type mistakeJSON struct {
	Position finding.Position `json:"position"`
	Text     string           `json:"text"`
	Fix      string           `json:"fix,omitempty"`
}

// mistakes takes the joined faults of a table apart.
func mistakes(err error) mistakesJSON {
	var out mistakesJSON
	list := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		list = joined.Unwrap()
	}
	for _, e := range list {
		if m := new(house.Mistake); errors.As(e, &m) {
			out.Mistakes = append(out.Mistakes, mistakeJSON{m.Position, m.Text, m.Fix})
		}
	}
	return out
}
