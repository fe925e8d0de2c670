package store

import (
	"errors"
	"fmt"
	"strings"
	"syscall"

	"pullbook/catalog"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// ErrReadOnly is returned by changes to a catalogue that was opened for
// reading only.
var ErrReadOnly = errors.New("this catalogue is open for reading only; nothing was changed")

// ErrNothing is returned by Undo and Redo when there is nothing to take back
// or to do again.
var ErrNothing = errors.New("there is nothing to take back or to do again")

// NotFoundError says that no record has the ID asked for.
type NotFoundError struct {
	Word string // what was asked for: "plate"
	ID   catalog.ID
}

// Error implements error.
func (e *NotFoundError) Error() string {
	return fmt.Sprintf("there is no %s %q in this catalogue; it may have been removed", e.Word, e.ID)
}

// RefusedError is a change that was not made because it would contradict what
// the catalogue says or leave a reference in the air. The sentence is for the
// user.
type RefusedError struct{ Sentence string }

// Error implements error.
func (e *RefusedError) Error() string { return e.Sentence }

// OpenError says why a catalogue could not be opened or made, and what to do.
type OpenError struct {
	Path     string
	Trouble  Trouble
	Sentence string
	Err      error // the cause, may be nil
}

// Error implements error.
func (e *OpenError) Error() string { return e.Sentence }

// Unwrap gives the cause.
func (e *OpenError) Unwrap() error { return e.Err }

// explain turns an error of SQLite or the file system that a user can do
// something about into a sentence, keeping the cause.
func explain(err error) error {
	if err == nil {
		return nil
	}
	say := func(s string) error { return fmt.Errorf("%s (%w)", s, err) }
	var se sqlite3.Error
	if errors.As(err, &se) {
		if se.ExtendedCode == sqlite3.ErrConstraintForeignKey {
			return &RefusedError{"A record is referred to that is not in the catalogue; nothing was changed. Choose another, or enter it first."}
		}
		if se.ExtendedCode == sqlite3.ErrConstraintCheck {
			return &RefusedError{"A field holds a word it may not have (" + strings.TrimPrefix(se.Error(), "CHECK constraint failed: ") + "); nothing was changed."}
		}
		switch se.Code {
		case sqlite3.ErrFull:
			return say("the disk is full; nothing was changed. Make room and do it again")
		case sqlite3.ErrReadonly:
			return say("the catalogue's folder cannot be written to; nothing was changed")
		case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
			return say("the catalogue's database is damaged; stop entering, and restore a backup or salvage it into a new catalogue")
		case sqlite3.ErrIoErr, sqlite3.ErrCantOpen:
			return say("the catalogue's database cannot be read or written; is its disk still there")
		case sqlite3.ErrBusy, sqlite3.ErrLocked:
			return say("another program is busy with the catalogue's database; try again")
		}
		return err
	}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return say("the disk is full; nothing was changed. Make room and do it again")
	case errors.Is(err, syscall.EROFS), errors.Is(err, syscall.EACCES):
		return say("the folder cannot be written to; nothing was changed")
	}
	return err
}

// capital makes the first letter of a sentence a capital.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
