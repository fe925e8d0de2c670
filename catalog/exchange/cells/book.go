package cells

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

// Limits on what is read, so that a hostile or broken file cannot take all
// memory or time.
const (
	MaxFile = 256 << 20 // bytes
	MaxRows = 200_000
	MaxCols = 512
)

// Sheet is one table as read: a row of headings and the rows below it. Rows
// are as long as the headings, or longer where a row has more cells.
type Sheet struct {
	Name    string
	Heading []string
	Rows    [][]string
	// At is the number of each row in the file, from 1, as a spreadsheet
	// program or an editor counts them.
	At []int
	// Note is what had to be assumed in reading, a sentence; empty mostly.
	Note string
}

// Open reads every table of a .csv, .tsv, .txt or .xlsx file. Text files may be
// UTF-8, UTF-16 or Windows-1252; the separator is found by looking. Errors are
// sentences that name the file.
func Open(path string) ([]Sheet, error) {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be opened: %w", name, err)
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s is a folder; choose a table in a .csv or .xlsx file", name)
	}
	if info.Size() > MaxFile {
		return nil, fmt.Errorf("%s is larger than %d MB; split it into parts", name, MaxFile>>20)
	}
	var sheets []Sheet
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".xlsx", ".xlsm", ".xltx":
		sheets, err = openWorkbook(path)
	case ".csv", ".tsv", ".txt", ".tab":
		sheets, err = openText(path)
	default:
		return nil, fmt.Errorf("%s is not a table this program reads; save it as .csv or .xlsx", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(sheets) == 0 {
		return nil, fmt.Errorf("%s holds no table with a row of headings", name)
	}
	return sheets, nil
}

// openText reads a file of separated values.
func openText(path string) ([]Sheet, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	text, note := decode(raw)
	r := NewReader(bytes.NewReader(text), separatorOf(text))
	s := Sheet{Name: filepath.Base(path), Note: note}
	for {
		at := r.Line()
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		if err := s.add(row, at); err != nil {
			return nil, err
		}
	}
	if s.Heading == nil {
		return nil, nil
	}
	return []Sheet{s}, nil
}

// add takes the first row as headings and the others as rows.
func (s *Sheet) add(row []string, at int) error {
	if len(row) > MaxCols {
		return fmt.Errorf("line %d has more than %d columns", at, MaxCols)
	}
	if s.Heading == nil {
		if allEmpty(row) {
			return nil
		}
		s.Heading = row
		return nil
	}
	if allEmpty(row) {
		return nil
	}
	if len(s.Rows) >= MaxRows {
		return fmt.Errorf("there are more than %d rows; split the table into parts", MaxRows)
	}
	for len(row) < len(s.Heading) {
		row = append(row, "")
	}
	s.Rows, s.At = append(s.Rows, row), append(s.At, at)
	return nil
}

func allEmpty(row []string) bool {
	for _, c := range row {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// decode turns the bytes of a text file into UTF-8.
func decode(raw []byte) (text []byte, note string) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xff\xfe")):
		return fromUTF16(raw[2:], false), "The text was read as UTF-16."
	case bytes.HasPrefix(raw, []byte("\xfe\xff")):
		return fromUTF16(raw[2:], true), "The text was read as UTF-16."
	case utf8.Valid(raw):
		return raw, ""
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(raw)
	if err != nil {
		return raw, "The text is in no encoding this program knows; letters with accents may be wrong."
	}
	return out, "The text is not UTF-8; it was read as Windows-1252. Check the letters with accents."
}

func fromUTF16(raw []byte, bigEndian bool) []byte {
	units := make([]uint16, len(raw)/2)
	for i := range units {
		a, b := uint16(raw[2*i]), uint16(raw[2*i+1])
		if bigEndian {
			a, b = b, a
		}
		units[i] = a | b<<8
	}
	return []byte(string(utf16.Decode(units)))
}

// separatorOf finds what parts the cells by counting on the first lines,
// outside quotation marks.
func separatorOf(text []byte) byte {
	counts := map[byte]int{}
	quoted, lines := false, 0
	for i := 0; i < len(text) && lines < 5; i++ {
		switch c := text[i]; {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '\n':
			lines++
		case c == ',' || c == ';' || c == '\t':
			counts[c]++
		}
	}
	best := byte(',')
	for _, c := range []byte{',', '\t', ';'} {
		if counts[c] > counts[best] {
			best = c
		}
	}
	return best
}

// openWorkbook reads the sheets of a spreadsheet file, row by row.
func openWorkbook(path string) ([]Sheet, error) {
	f, err := excelize.OpenFile(path, excelize.Options{UnzipSizeLimit: 1 << 30, UnzipXMLSizeLimit: 64 << 20})
	if err != nil {
		return nil, fmt.Errorf("the workbook cannot be read (%w); save it again from a spreadsheet program", err)
	}
	defer f.Close()
	var out []Sheet
	for _, name := range f.GetSheetList() {
		s := Sheet{Name: name}
		rows, err := f.Rows(name)
		if err != nil {
			continue // a sheet of charts has no rows
		}
		at := 0
		for rows.Next() {
			at++
			row, err := rows.Columns()
			if err != nil {
				rows.Close()
				return nil, fmt.Errorf("row %d of the sheet %q cannot be read: %w", at, name, err)
			}
			if err := s.add(row, at); err != nil {
				rows.Close()
				return nil, err
			}
		}
		if err := rows.Close(); err != nil {
			return nil, err
		}
		if s.Heading != nil {
			out = append(out, s)
		}
	}
	return out, nil
}
