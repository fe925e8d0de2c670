// Package entry arranges a catalogue for those who write it out: records found
// by their identifiers, impressions in the order of states and pulls, and the
// statements - state, edition, dimensions - worded once for every format.
//
// What is private stays so: a holder marked private is everywhere "private
// collection", without place and inventory number.
package entry
