// Package xmp writes what a photograph shows into a copy of it: the "Artwork or
// Object in the Image" fields of the IPTC Photo Metadata Standard, as XMP (ISO
// 16684-1) in the APP1 segment of a JPEG file. The picture itself and every
// other segment are copied byte for byte. The original is only read.
package xmp
