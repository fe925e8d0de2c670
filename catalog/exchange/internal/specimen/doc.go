// Package specimen makes an invented catalogue for the tests of the export
// formats: a press on an estuary, its printmaker, a few plates in several
// states, editions, proofs, a private collector, odd dates and texts. Size
// makes it as large as wanted.
package specimen
