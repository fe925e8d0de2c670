// Package decode opens a photograph file safely: whatever the bytes are, the
// answer is a picture or one sentence, within bounded memory.
//
// The order is: size of the file, magic bytes, the format's own header reader,
// limits on sides, pixels and bytes, and only then the decoder; the bounds of
// what comes out must be those the header promised. Pictures keep the turn of
// the file ("stored" pixels); Orientation says how to stand them upright.
package decode
