// Package bs7671 is the British requirements for electrical installations as a
// book: BS 7671:2018+A4:2026, the only current text since 15 October 2026, and
// 2018+A2:2022+A3:2024 for work designed to it before.
//
// It answers for lighting altered in a dwelling: sizes and protection of a
// circuit, points in bathrooms and out of doors, readings, what has to be
// notified and recorded. It does not answer for other installations, and where
// its tables or the case lack something it says that it has not assessed it.
//
// Tables are files under tables/, a folder an edition; every cell says whether
// it was read in a public page that names its source, is worked from an older
// edition and to be confirmed, or recalled. An edition lists what it carries
// from the one before in carried.csv: of Amendment 4 no changed table was
// reported in what was read, and none was seen in print. No wording of the
// standard is stored. COVERAGE.md says what is covered.
package bs7671

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"

	"strapper/rules"
	"strapper/rules/iec"
)

//go:embed tables
var files embed.FS

// The editions, as a job names them.
const (
	Current = "2018+A4:2026"
	Former  = "2018+A2:2022+A3:2024"
)

// folders of the editions' tables.
var folders = map[string]string{Current: "2018-a4-2026", Former: "2018-a2-2022-a3-2024"}

// OpenCurrent reads the current edition, once; an error is a fault of the
// program's own data.
var OpenCurrent = sync.OnceValues(func() (*rules.Book, error) {
	tables, err := carried(Current)
	if err != nil {
		return nil, err
	}
	return book(Current, "2026-04-15", "", tables)
})

// OpenFormer reads the edition before it, once.
var OpenFormer = sync.OnceValues(func() (*rules.Book, error) {
	tables, err := iec.Tables(files, "tables/"+folders[Former])
	if err != nil {
		return nil, err
	}
	return book(Former, "2024-07-31", "2026-10-14", tables)
})

func book(edition, from, until string, tables []*rules.Table) (*rules.Book, error) {
	shared, err := iec.Shared()
	if err != nil {
		return nil, err
	}
	return rules.New(rules.Book{
		ID: "bs7671", Document: "BS 7671", Edition: edition,
		Title: "Requirements for Electrical Installations, lighting altered in dwellings",
		Scope: "dwellings in the United Kingdom on a public supply of 230 V",
		From:  from, Until: until,
		Tables: append(tables, shared...), Checks: checks(),
	}, nil)
}

// carried reads the list of an edition's tables that are taken over from
// another, then the tables.
func carried(edition string) ([]*rules.Table, error) {
	name := "tables/" + folders[edition] + "/carried.csv"
	text, err := files.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("rules: %w", err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("rules: %s: %w", name, err)
	}
	var list []*rules.Table
	for _, row := range rows[1:] {
		tables, err := iec.Tables(files, "tables/"+row[1], row[0])
		if err != nil || len(tables) != 1 {
			return nil, fmt.Errorf("rules: %s: no table %s in %s: %w", name, row[0], row[1], err)
		}
		for of, folder := range folders {
			if folder == row[1] {
				list = append(list, tables[0].Carry(of, edition))
			}
		}
	}
	return list, nil
}
