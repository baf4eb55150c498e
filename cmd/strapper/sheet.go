package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// mostSheet bounds what a workbook may unpack to.
const mostSheet = 64 << 20

// readSheet reads the first sheet of a workbook as it shows its cells.
func readSheet(in io.Reader) ([][]string, error) {
	book, err := excelize.OpenReader(io.LimitReader(in, mostSheet), excelize.Options{UnzipSizeLimit: mostSheet, UnzipXMLSizeLimit: mostSheet})
	if err != nil {
		return nil, err
	}
	defer book.Close()
	sheets := book.GetSheetList()
	if len(sheets) == 0 {
		return nil, errors.New("the workbook has no sheet")
	}
	rows, err := book.GetRows(sheets[0], excelize.Options{RawCellValue: true})
	for _, row := range rows {
		for i, text := range row {
			row[i] = shown(text)
		}
	}
	return rows, err
}

// shown is a number as it was typed: a workbook keeps it in binary, which may
// put 0.92000000000000004 for 0.92. The shortest number that is the same in binary
// is what was typed; fifteen digits are all that a workbook shows.
func shown(text string) string {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || len(text) < 16 {
		return text
	}
	return strconv.FormatFloat(rounded(n), 'f', -1, 64)
}

// writeTable writes rows as CSV, or as a workbook if the name ends so.
func writeTable(name string, rows [][]string) error {
	if strings.EqualFold(filepath.Ext(name), ".xlsx") {
		return writeFile(name, func(w io.Writer) error { return writeSheet(w, rows) })
	}
	if !strings.EqualFold(filepath.Ext(name), ".csv") {
		return fmt.Errorf("%s ends neither in .csv nor in .xlsx", name)
	}
	return writeFile(name, func(w io.Writer) error {
		c := csv.NewWriter(w)
		return c.WriteAll(rows)
	})
}

// writeSheet writes rows as the one sheet of a workbook. What is a number is
// written as one, so that it can be reckoned with. Nothing is a formula.
func writeSheet(w io.Writer, rows [][]string) error {
	book := excelize.NewFile()
	defer book.Close()
	const sheet = "Bill of quantities"
	if err := book.SetSheetName("Sheet1", sheet); err != nil {
		return err
	}
	for i, row := range rows {
		cells := make([]any, len(row))
		for k, text := range row {
			cells[k] = text
			if n, err := strconv.ParseFloat(text, 64); err == nil && i > 0 {
				cells[k] = n
			}
		}
		if err := book.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &cells); err != nil {
			return err
		}
	}
	if err := book.SetColWidth(sheet, "B", "B", 48); err != nil {
		return err
	}
	return book.Write(w)
}

// rounded is a number to fifteen digits.
func rounded(n float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(n, 'g', 15, 64), 64)
	return r
}
