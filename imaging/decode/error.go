package decode

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
)

// Kind is what is wrong with a file.
type Kind string

// Kinds of trouble.
const (
	NotAPicture Kind = "not a picture"
	Damaged     Kind = "damaged"
	Unsupported Kind = "unsupported"
	TooLarge    Kind = "too large"
	Unreadable  Kind = "unreadable"
)

// Error is why a file gave no picture: one plain sentence for the printmaker
// that names the file and says what to do, and the cause for the log.
type Error struct {
	Kind     Kind
	Path     string
	Sentence string
	Cause    error
}

// Error returns the sentence.
func (e *Error) Error() string { return e.Sentence }

// Unwrap returns the cause, which may be nil.
func (e *Error) Unwrap() error { return e.Cause }

// trouble builds an Error; the sentence starts with the file's name.
func trouble(k Kind, path, rest string, cause error) *Error {
	return &Error{Kind: k, Path: path, Sentence: fileName(path) + " " + rest, Cause: cause}
}

// fileName is the last part of the path, without characters that would break
// a line of a report.
func fileName(path string) string {
	name := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, filepath.Base(path))
	return name
}

// unreadable words a failure to open or read the file.
func unreadable(path string, err error) *Error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return trouble(Unreadable, path, "is not there; choose the file again.", err)
	case errors.Is(err, fs.ErrPermission):
		return trouble(Unreadable, path, "may not be read by this user; change its permissions or copy it.", err)
	}
	return trouble(Unreadable, path, "could not be read from the disk; copy it again from the camera.", err)
}
