package main

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A price list kept as a workbook reads as the same list kept as CSV.
func TestWorkbookReadsAsCSV(t *testing.T) {
	rows, err := readTable("../../examples/prices.csv")
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "prices.xlsx")
	if err := writeTable(name, rows); err != nil {
		t.Fatal(err)
	}
	got, err := (&priceCmd{Prices: name}).list("")
	if err != nil {
		t.Fatal(err)
	}
	want, err := (&priceCmd{Prices: "../../examples/prices.csv"}).list("")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got.Terms, want.Terms)
	}
}

// Cells count as stored: not as a format shows them, nor with the noise of
// binary fractions (IEEE 754: 0.1 + 0.2 is kept as 0.30000000000000004).
func TestCellsAsStored(t *testing.T) {
	book := excelize.NewFile()
	style, err := book.NewStyle(&excelize.Style{NumFmt: 1}) // whole numbers
	if err != nil {
		t.Fatal(err)
	}
	_ = book.SetCellValue("Sheet1", "A1", 12.5)
	_ = book.SetCellStyle("Sheet1", "A1", "A1", style)
	_ = book.SetCellValue("Sheet1", "B1", 0.92)
	_ = book.SetCellValue("Sheet1", "C1", "te-1.0")
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := readSheet(&b)
	if want := [][]string{{"12.5", "0.92", "te-1.0"}}; err != nil || !reflect.DeepEqual(rows, want) {
		t.Errorf("%v, %v; want %v", rows, err, want)
	}
	for in, want := range map[string]string{"0.30000000000000004": "0.3", "0.92000000000000004": "0.92", "12.50": "12.50", "te-1.0": "te-1.0"} {
		if got := shown(in); got != want {
			t.Errorf("%s is shown as %s, want %s", in, got, want)
		}
	}
}

func TestNotAWorkbook(t *testing.T) {
	name := filepath.Join(t.TempDir(), "prices.xlsx")
	if err := os.WriteFile(name, []byte("item,price\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := readTable(name); err == nil {
		t.Error("text was read as a workbook")
	}
}
