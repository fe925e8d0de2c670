package catalog

import (
	"crypto/rand"
	"encoding/base32"
	"strings"
)

// ID names one record for as long as the catalogue lives, in every export and
// on every label. It is 16 lower-case base-32 characters (80 random bits);
// empty means "no record".
type ID string

// NewID returns a fresh random ID. It panics only if the operating system has
// no randomness to give.
func NewID() ID {
	var b [10]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic("catalog: no randomness: " + err.Error())
	}
	return ID(strings.ToLower(base32.StdEncoding.EncodeToString(b[:])))
}
