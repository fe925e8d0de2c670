package cells

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// MaxCell bounds one cell, in bytes, so that a broken file with a quotation
// mark left open cannot take all memory.
const MaxCell = 4 << 20

// Reader reads rows of comma-separated text (RFC 4180). Cells may hold line
// ends of any kind between quotation marks, kept byte for byte. Rows may have
// different numbers of cells. Empty lines are passed over.
type Reader struct {
	in    *bufio.Reader
	comma byte
	line  int
	first bool
}

// NewReader returns a Reader of r whose cells are parted by comma. A byte
// order mark in front is passed over.
func NewReader(r io.Reader, comma byte) *Reader {
	return &Reader{in: bufio.NewReaderSize(r, 1<<16), comma: comma, line: 1, first: true}
}

// Line is the number of the line on which the next row begins, from 1.
func (r *Reader) Line() int { return r.line }

// Read returns the next row, or io.EOF after the last.
func (r *Reader) Read() ([]string, error) {
	if r.first {
		r.first = false
		if mark, err := r.in.Peek(3); err == nil && bytes.Equal(mark, []byte("\xef\xbb\xbf")) {
			if _, err := r.in.Discard(3); err != nil {
				return nil, err
			}
		}
	}
	for {
		row, blank, err := r.row()
		if err != nil {
			return nil, err
		}
		if !blank {
			return row, nil
		}
	}
}

// row reads one row; blank is true for a line with nothing on it.
func (r *Reader) row() (row []string, blank bool, err error) {
	var cell []byte
	start := r.line
	inCell, quoted := false, false // quoted: the cell began with a quotation mark
	for {
		c, err := r.in.ReadByte()
		if errors.Is(err, io.EOF) {
			if row == nil && !inCell && !quoted {
				return nil, false, io.EOF
			}
			return append(row, string(cell)), false, nil
		}
		if err != nil {
			return nil, false, err
		}
		switch {
		case c == '"' && !inCell && !quoted:
			quoted = true
			if cell, err = r.quotation(cell, start); err != nil {
				return nil, false, err
			}
		case c == r.comma:
			row = append(row, string(cell))
			cell, inCell, quoted = cell[:0], false, false
		case c == '\n' || c == '\r':
			if c == '\r' {
				if next, err := r.in.Peek(1); err == nil && next[0] == '\n' {
					if _, err := r.in.Discard(1); err != nil {
						return nil, false, err
					}
				}
			}
			r.line++
			if row == nil && !inCell && !quoted {
				return nil, true, nil
			}
			return append(row, string(cell)), false, nil
		default:
			inCell = true
			cell = append(cell, c)
		}
		if len(cell) > MaxCell {
			return nil, false, r.tooLong(start)
		}
	}
}

// quotation reads to the closing quotation mark; two in a row stand for one.
func (r *Reader) quotation(cell []byte, start int) ([]byte, error) {
	for {
		c, err := r.in.ReadByte()
		if errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("a quotation mark opened on line %d is never closed; correct the file and read it again", start)
		}
		if err != nil {
			return nil, err
		}
		switch c {
		case '"':
			next, err := r.in.Peek(1)
			if err != nil || next[0] != '"' {
				return cell, nil
			}
			if _, err := r.in.Discard(1); err != nil {
				return nil, err
			}
		case '\n':
			r.line++
		}
		cell = append(cell, c)
		if len(cell) > MaxCell {
			return nil, r.tooLong(start)
		}
	}
}

func (r *Reader) tooLong(start int) error {
	return fmt.Errorf("the cell that begins on line %d holds more than %d bytes; a quotation mark may be missing", start, MaxCell)
}
