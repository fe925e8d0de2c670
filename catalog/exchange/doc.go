// Package exchange hands a catalogue to others: as Linked Art, LIDO and IIIF
// for museums and scholars, as tables for anybody, as web pages for readers.
// Write is the one entry to all of them; each format has a package of its own
// below, as have the taking in of spreadsheets (sheet), the exact reading of
// exported tables (tables) and of literature (literature), and the marking of
// copies of photographs (xmp).
//
// Pictures are made by the caller through the Pictures interface: nothing here
// knows pixels.
package exchange
