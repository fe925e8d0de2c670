package cells

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// FuzzOpen reads any bytes as a table of text: it is refused with a sentence,
// or every row has a cell for every heading, rows stand in the order of their
// lines, texts are UTF-8, and written out again it is the same table.
func FuzzOpen(f *testing.F) {
	for _, s := range []string{"a,b\r\n1,2\r\n", "a;b\n\"x\ny\";2\n", "\xff\xfea\x00,\x00b\x00", "\xfe\xff\x00a", "Titel;Jahr\nM\xfchle;1911\n", "\ufeffa\tb\n\"\"\"\"\t", "a\n\"open", "\n\n,,\n1\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		name := filepath.Join(t.TempDir(), "table.csv")
		if err := os.WriteFile(name, raw, 0o600); err != nil {
			t.Fatal(err)
		}
		sheets, err := Open(name)
		if err != nil {
			if !strings.Contains(err.Error(), "table.csv") {
				t.Fatalf("the refusal %q names no file", err)
			}
			return
		}
		soundSheet(t, sheets[0])
		again(t, sheets[0])
	})
}

// soundSheet tests what every sheet that was read must keep to.
func soundSheet(t *testing.T, s Sheet) {
	t.Helper()
	if allEmpty(s.Heading) || len(s.Rows) != len(s.At) {
		t.Fatalf("headings %q, %d rows on %d lines", s.Heading, len(s.Rows), len(s.At))
	}
	for i, row := range s.Rows {
		if len(row) < len(s.Heading) || len(row) > max(MaxCols, len(s.Heading)) || allEmpty(row) {
			t.Fatalf("row %d of %d headings: %q", i, len(s.Heading), row)
		}
		if i > 0 && s.At[i] <= s.At[i-1] {
			t.Fatalf("row %d stands on line %d, the one before on %d", i, s.At[i], s.At[i-1])
		}
		for _, c := range row {
			if !utf8.ValidString(c) {
				t.Fatalf("the cell %q is not UTF-8", c)
			}
		}
	}
}

// again writes a sheet and reads it: it must be the same.
func again(t *testing.T, s Sheet) {
	t.Helper()
	var buf bytes.Buffer
	w := NewWriter(&buf)
	for _, row := range append([][]string{s.Heading}, s.Rows...) {
		if err := w.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	r := NewReader(&buf, ',')
	for _, row := range append([][]string{s.Heading}, s.Rows...) {
		got, err := r.Read()
		if err != nil || !reflect.DeepEqual(got, row) {
			t.Fatalf("%q came back as %q, %v", row, got, err)
		}
	}
	if _, err := r.Read(); !errors.Is(err, io.EOF) {
		t.Fatal("there are rows left over")
	}
}

// FuzzWorkbook reads a spreadsheet whose sheet or whose shared texts are any
// bytes: it is refused with a sentence, or keeps to what every sheet keeps to.
func FuzzWorkbook(f *testing.F) {
	const head = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`
	for _, s := range []string{`<row r="1"><c r="A1" t="inlineStr"><is><t>No</t></is></c></row><row r="2"><c r="A2"><v>12</v></c></row></sheetData></worksheet>`,
		`<row r="1"><c r="A1" t="s"><v>0</v></c></row></sheetData></worksheet>`, `<row r="99999999"><c r="ZZZZZ9"><v>1</v></c></row></sheetData></worksheet>`, `<row><c/></row>`, `<row r="-1"><c r="1A" s="999999"><v>x</v></c></row></sheetData></worksheet>`} {
		f.Add([]byte(head+s), []byte(`<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>No</t></si></sst>`))
	}
	f.Fuzz(func(t *testing.T, sheet, texts []byte) {
		book := excelize.NewFile()
		book.Pkg.Store("xl/worksheets/sheet1.xml", sheet)
		book.Pkg.Store("xl/sharedStrings.xml", texts)
		book.Sheet.Clear()
		name := filepath.Join(t.TempDir(), "table.xlsx")
		if err := book.SaveAs(name); err != nil {
			return // the library itself refuses to write it
		}
		sheets, err := Open(name)
		if err != nil {
			return
		}
		for _, s := range sheets {
			if len(s.Rows) != len(s.At) || allEmpty(s.Heading) {
				t.Fatalf("headings %q, %d rows on %d lines", s.Heading, len(s.Rows), len(s.At))
			}
		}
	})
}
