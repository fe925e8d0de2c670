package studio

import "pullbook/catalog/say"

// Refusal is why something was not done, in a sentence for the printmaker.
type Refusal struct {
	Sentence string       // in English
	Said     say.Sentence // the same, to be said in other languages
}

// Error implements error.
func (e *Refusal) Error() string { return e.Sentence }

// SayIn implements say.Speaker.
func (e *Refusal) SayIn(l *say.Language) string { return l.Say(e.Said) }

// Refuse makes a refusal of a text with blanks.
func Refuse(key string, a ...any) *Refusal {
	s := say.Of(key, a...)
	return &Refusal{s.String(), s}
}

func sentence(key string, a ...any) error { return Refuse(key, a...) }

// refusal is a refusal for a reason that another room gave as one sentence.
func refusal(reason string) error { return Refuse("%s", say.Word(reason)) }
