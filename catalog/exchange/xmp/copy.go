package xmp

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"

	"pullbook/catalog/exchange/entry"
)

// marks in front of the segments that hold metadata.
var (
	xmpMark      = []byte("http://ns.adobe.com/xap/1.0/\x00")
	extendedMark = []byte("http://ns.adobe.com/xmp/extension/\x00")
	exifMark     = []byte("Exif\x00\x00")
)

// maxSegment is what one JPEG segment can hold besides its length.
const maxSegment = 65533

// ErrNotJPEG says that a file is no JPEG file, the only kind that can be marked.
var ErrNotJPEG = errors.New("the picture is no JPEG file, so nothing can be written into a copy of it")

// Copy copies a JPEG file from src to dst with the fields in it. Metadata that
// is there already is kept, except an XMP packet that speaks of the same
// things, which is replaced.
func Copy(dst io.Writer, src io.Reader, f Fields) error {
	in := bufio.NewReaderSize(src, 1<<16)
	out := bufio.NewWriterSize(dst, 1<<16)
	if start, err := in.Peek(2); err != nil || start[0] != 0xff || start[1] != 0xd8 {
		return ErrNotJPEG
	}
	head, old, rest, err := segments(in)
	if err != nil {
		return err
	}
	packet, ok := "", false
	if old != nil {
		packet, ok = f.joined(string(old))
	}
	if !ok || len(packet)+len(xmpMark) > maxSegment {
		packet = f.packet()
	}
	if len(packet)+len(xmpMark) > maxSegment {
		return fmt.Errorf("the description of the picture is too long to be written into it (%d bytes)", len(packet))
	}
	for _, part := range [][]byte{{0xff, 0xd8}, head, segment(0xe1, append(bytes.Clone(xmpMark), packet...)), rest} {
		if _, err := out.Write(part); err != nil {
			return err
		}
	}
	// The picture itself, to the last byte.
	if _, err := io.Copy(out, in); err != nil {
		return err
	}
	return out.Flush()
}

// MarkCopy writes the fields into a picture file that was made for an export.
// It must never be given an original. The file is replaced as a whole.
func MarkCopy(path string, f Fields) error {
	src, err := os.Open(path)
	if err != nil {
		return err
	}
	defer src.Close()
	return entry.WriteFile(path, func(w io.Writer) error { return Copy(w, src, f) })
}

func segment(marker byte, data []byte) []byte {
	s := []byte{0xff, marker, 0, 0}
	binary.BigEndian.PutUint16(s[2:], uint16(len(data)+2))
	return append(s, data...)
}

// segments reads the segments before the picture. head are those that stand
// before an XMP packet by custom (JFIF, EXIF), rest the others; packets of XMP
// are taken out.
func segments(in *bufio.Reader) (head, xmp, rest []byte, err error) {
	broken := func(err error) ([]byte, []byte, []byte, error) {
		return nil, nil, nil, fmt.Errorf("the picture is a broken JPEG file: %w", err)
	}
	if _, err := in.Discard(2); err != nil {
		return broken(err)
	}
	for {
		m, err := in.Peek(2)
		if err != nil {
			return broken(err)
		}
		if m[0] != 0xff {
			return broken(errors.New("a marker is missing"))
		}
		if m[1] == 0xff { // fill
			if _, err := in.Discard(1); err != nil {
				return broken(err)
			}
			continue
		}
		// Anything but application data and comments belongs to the picture.
		if !(m[1] >= 0xe0 && m[1] <= 0xef || m[1] == 0xfe) {
			return head, xmp, rest, nil
		}
		size, err := in.Peek(4)
		if err != nil {
			return broken(err)
		}
		n := int(binary.BigEndian.Uint16(size[2:]))
		if n < 2 {
			return broken(errors.New("a segment has no length"))
		}
		whole := make([]byte, n+2)
		if _, err := io.ReadFull(in, whole); err != nil {
			return broken(err)
		}
		data := whole[4:]
		switch {
		case m1(whole) == 0xe1 && bytes.HasPrefix(data, xmpMark):
			xmp = data[len(xmpMark):]
		case m1(whole) == 0xe1 && bytes.HasPrefix(data, extendedMark):
			// The continuation of a packet that is written anew would be lost
			// without it; it stays only beside an old packet, so it goes.
		case m1(whole) == 0xe0 || (m1(whole) == 0xe1 && bytes.HasPrefix(data, exifMark)):
			head = append(head, whole...)
		default:
			rest = append(rest, whole...)
		}
	}
}

func m1(segment []byte) byte { return segment[1] }
