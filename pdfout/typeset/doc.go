// Package typeset turns strings into set type: shaped glyphs, broken lines.
//
// A Case holds the faces of one job. A Cut is a face with its figures and
// capitals chosen; a Style is a cut at a size, in an ink. A Case shapes words
// into Runs (kerned, with ligatures, letters the face lacks taken from the
// fallback face) and breaks Paragraphs into Lines by total fit: all breaks of
// a paragraph are chosen together, so that no line pays for another.
//
// Lengths are PostScript points (1/72 inch) unless said otherwise; glyph
// measures are thousandths of an em. A Case is not safe for use by several
// goroutines: give each job its own.
package typeset
