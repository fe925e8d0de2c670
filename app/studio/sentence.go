package studio

import "fmt"

// Refusal is why something was not done, in a sentence for the printmaker.
type Refusal struct{ Sentence string }

// Error implements error.
func (e *Refusal) Error() string { return e.Sentence }

func sentence(format string, a ...any) error {
	return &Refusal{Sentence: fmt.Sprintf(format, a...)}
}
