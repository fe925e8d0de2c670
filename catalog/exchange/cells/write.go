package cells

import (
	"bufio"
	"io"
	"strings"
)

// Writer writes rows of comma-separated text (RFC 4180) with CR LF line ends.
// The first error is kept and returned by Flush.
type Writer struct {
	out *bufio.Writer
	err error
}

// NewWriter returns a Writer to w. It begins with a byte order mark, by which
// spreadsheet programs tell that the text is UTF-8.
func NewWriter(w io.Writer) *Writer {
	out := &Writer{out: bufio.NewWriterSize(w, 1<<16)}
	out.text("\ufeff")
	return out
}

// Write writes one row. A row of one empty cell is quoted, since an empty line
// would be passed over on reading.
func (w *Writer) Write(row []string) error {
	for i, c := range row {
		if i > 0 {
			w.text(",")
		}
		if c == "" && len(row) == 1 || strings.ContainsAny(c, ",\"\r\n") || edged(c) {
			w.text(`"`)
			w.text(strings.ReplaceAll(c, `"`, `""`))
			w.text(`"`)
			continue
		}
		w.text(c)
	}
	w.text("\r\n")
	return w.err
}

// edged reports whether a cell begins or ends with a space, which some
// programs drop when it is not quoted.
func edged(c string) bool { return c != strings.TrimSpace(c) }

// Flush writes what is held back and returns the first error.
func (w *Writer) Flush() error {
	if w.err == nil {
		w.err = w.out.Flush()
	}
	return w.err
}

func (w *Writer) text(s string) {
	if w.err == nil {
		_, w.err = w.out.WriteString(s)
	}
}
