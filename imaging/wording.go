package imaging

import "fmt"

// Wording is a sentence as a format of package fmt and what fills it, so that it
// can be said in other languages. What fills it may be a Wording itself.
type Wording struct {
	format string
	args   []any
}

func wording(format string, a ...any) Wording { return Wording{format, a} }

// Keyed is the format and what fills it.
func (w Wording) Keyed() (format string, args []any) { return w.format, w.args }

// String is the sentence in English.
func (w Wording) String() string { return fmt.Sprintf(w.format, w.args...) }
