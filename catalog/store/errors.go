package store

import (
	"errors"
	"strings"
	"syscall"

	"pullbook/catalog"
	"pullbook/catalog/say"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// ErrReadOnly is returned by changes to a catalogue that was opened for
// reading only.
var ErrReadOnly = say.Errorf("this catalogue is open for reading only; nothing was changed")

// ErrNothing is returned by Undo and Redo when there is nothing to take back
// or to do again.
var ErrNothing = say.Errorf("there is nothing to take back or to do again")

// NotFoundError says that no record has the ID asked for.
type NotFoundError struct {
	Word string // what was asked for: "plate"
	ID   catalog.ID
}

// Error implements error.
func (e *NotFoundError) Error() string { return e.SayIn(say.English) }

// SayIn implements say.Speaker.
func (e *NotFoundError) SayIn(l *say.Language) string {
	return l.Say(say.Of("there is no %s %q in this catalogue; it may have been removed", say.Word(e.Word), e.ID))
}

// RefusedError is a change that was not made because it would contradict what
// the catalogue says or leave a reference in the air. The sentences are for
// the user.
type RefusedError struct{ Sentences []say.Sentence }

// refusal makes a refusal of one sentence.
func refusal(key string, args ...any) error {
	return &RefusedError{[]say.Sentence{say.Of(key, args...)}}
}

// Error implements error.
func (e *RefusedError) Error() string { return e.SayIn(say.English) }

// SayIn implements say.Speaker.
func (e *RefusedError) SayIn(l *say.Language) string { return l.Lines(e.Sentences) }

// OpenError says why a catalogue could not be opened or made, and what to do.
type OpenError struct {
	Path    string
	Trouble Trouble
	Said    say.Sentence
	Err     error // the cause, may be nil
}

// unopened makes an OpenError; an error among the arguments is the cause.
func unopened(dir string, t Trouble, key string, args ...any) *OpenError {
	e := &OpenError{Path: dir, Trouble: t, Said: say.Of(key, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.Err = err
		}
	}
	return e
}

// because names the cause of what could not be opened.
func (e *OpenError) because(err error) *OpenError {
	e.Err = err
	return e
}

// Error implements error.
func (e *OpenError) Error() string { return e.SayIn(say.English) }

// SayIn implements say.Speaker.
func (e *OpenError) SayIn(l *say.Language) string { return l.Say(e.Said) }

// Unwrap gives the cause.
func (e *OpenError) Unwrap() error { return e.Err }

// explain turns an error of SQLite or the file system that a user can do
// something about into a sentence, keeping the cause.
func explain(err error) error {
	if err == nil {
		return nil
	}
	because := func(key string) error { return say.Errorf("%s (%v)", say.Of(key), err) }
	var se sqlite3.Error
	if errors.As(err, &se) {
		if se.ExtendedCode == sqlite3.ErrConstraintForeignKey {
			return refusal("A record is referred to that is not in the catalogue; nothing was changed. Choose another, or enter it first.")
		}
		if se.ExtendedCode == sqlite3.ErrConstraintCheck {
			return refusal("A field holds a word it may not have (%s); nothing was changed.", strings.TrimPrefix(se.Error(), "CHECK constraint failed: "))
		}
		switch se.Code {
		case sqlite3.ErrFull:
			return because("the disk is full; nothing was changed. Make room and do it again")
		case sqlite3.ErrReadonly:
			return because("the catalogue's folder cannot be written to; nothing was changed")
		case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
			return because("the catalogue's database is damaged; stop entering, and restore a backup or salvage it into a new catalogue")
		case sqlite3.ErrIoErr, sqlite3.ErrCantOpen:
			return because("the catalogue's database cannot be read or written; is its disk still there")
		case sqlite3.ErrBusy, sqlite3.ErrLocked:
			return because("another program is busy with the catalogue's database; try again")
		}
		return err
	}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return because("the disk is full; nothing was changed. Make room and do it again")
	case errors.Is(err, syscall.EROFS), errors.Is(err, syscall.EACCES):
		return because("the folder cannot be written to; nothing was changed")
	}
	return err
}
