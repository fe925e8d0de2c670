// Package studio is what one can do with Pullbook, as use cases: take
// photographs in, file them, measure them, decide, compare states, lay out
// the book, export, verify. The window and the batch commands are two ways of
// asking for the same things. It is the only room that knows the catalogue,
// the measuring and the typesetting.
//
// A [Studio] is one open catalogue. Records are read and edited through
// [Studio.Store]; whatever needs more than the database is a method here.
// Everything that takes long has a context and a [Progress], and stops soon
// after the context ends, leaving the catalogue whole: each photograph and
// each score is one transaction.
//
// Long work is started through [Jobs], the one place of this program where
// goroutines are begun: its jobs have a name, progress, time left and a way
// to cancel; they run on threads of lowered priority and wait while somebody
// is using the window.
//
// Pictures derived from photographs (thumbnails, proxies, rectified plates,
// details) live in the catalogue's derived folder. They can all be made again
// and the folder may be deleted at any time.
package studio
