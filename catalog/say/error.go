package say

import (
	"errors"
	"strings"
)

// Speaker is an error that can be said in the language of its reader.
type Speaker interface {
	error
	SayIn(l *Language) string
}

// Keyed is an error that knows its text with blanks and what fills them.
type Keyed interface {
	error
	Keyed() (key string, args []any)
}

// OfKeyed makes a sentence of the parts of a Keyed error; texts among them are
// taken for words, which may have their own text in each language, and what is
// itself keyed for a part of the sentence.
func OfKeyed(key string, args []any) Sentence {
	said := make([]any, len(args))
	for i, a := range args {
		said[i] = a
		switch x := a.(type) {
		case string:
			said[i] = Word(x)
		case interface{ Keyed() (string, []any) }:
			said[i] = OfKeyed(x.Keyed())
		}
	}
	return Of(key, said...)
}

// Error says an error in a language: in its own words where it has them, else
// as it was written, in English.
func Error(l *Language, err error) string {
	var k Keyed
	if errors.As(err, &k) {
		if key, args := k.Keyed(); key != "" {
			return l.Say(OfKeyed(key, args))
		}
	}
	var s Speaker
	if errors.As(err, &s) {
		return s.SayIn(l)
	}
	return err.Error()
}

// saidError is an error that is one sentence.
type saidError struct {
	sentence Sentence
	err      error // the cause, may be nil
}

// Errorf makes an error of a sentence; an error among the arguments is its
// cause.
func Errorf(key string, args ...any) error {
	e := &saidError{sentence: Of(key, args...)}
	for _, a := range args {
		if cause, ok := a.(error); ok {
			e.err = cause
		}
	}
	return e
}

func (e *saidError) Error() string            { return e.sentence.String() }
func (e *saidError) Unwrap() error            { return e.err }
func (e *saidError) SayIn(l *Language) string { return l.Say(e.sentence) }

// Together says sentences one after another.
func (l *Language) Together(all []Sentence) string { return l.join(all, " ") }

// Lines says sentences, each on its line.
func (l *Language) Lines(all []Sentence) string {
	return l.join(all, "\n")
}

func (l *Language) join(all []Sentence, between string) string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = l.Say(s)
	}
	return strings.Join(out, between)
}
