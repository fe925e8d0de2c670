// Package jpegfile reads what a page needs to know of a JPEG file from its
// head, without decoding it: size, colour, profile, and which way up it is.
package jpegfile

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"os"
)

// Info is the head of a JPEG file.
type Info struct {
	Width, Height int    // stored pixels
	Components    int    // 1 grey, 3 colour, 4 CMYK
	Orientation   int    // EXIF tag 274, 1 to 8; 1 where there is none
	ICC           []byte // embedded profile, nil where there is none
	Adobe         bool   // an Adobe marker is present: CMYK is stored inverted
	Bytes         int64
}

// Turned reports whether the upright picture's width is the stored height.
func (i Info) Turned() bool { return i.Orientation >= 5 }

// maxSegments ends the search in a file that is no photograph.
const maxSegments = 10_000

// Read reads the head of a file. The error is a sentence naming the file.
func Read(path string) (Info, error) {
	f, err := os.Open(path)
	if err != nil {
		return Info{}, fmt.Errorf("the picture %s cannot be opened: %w", path, err)
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return Info{}, fmt.Errorf("the picture %s cannot be read: %w", path, err)
	}
	r := bufio.NewReader(f)
	info, err := read(r)
	if err == nil {
		err = isWhole(f, st.Size(), int64(r.Buffered()))
	}
	if err == nil && info.Width*info.Height > mostPixels {
		err = fmt.Errorf("it says it has %d × %d pixels, more than a page can carry", info.Width, info.Height)
	}
	if err != nil {
		return Info{}, fmt.Errorf("the picture %s cannot be printed: %w", path, err)
	}
	info.Bytes = st.Size()
	return info, nil
}

// mostPixels is more than any camera back has, and less than what stops a
// reader of the PDF.
const mostPixels = 600_000_000

// isWhole looks for the end marker in the last part of a file, after its head:
// a file cut short has none. Some cameras write a little after the end.
func isWhole(f *os.File, size, unread int64) error {
	head, err := f.Seek(0, io.SeekCurrent)
	if err != nil {
		return fmt.Errorf("it cannot be read: %w", err)
	}
	for _, n := range []int64{2, 64 << 10} {
		from := max(head-unread, size-n)
		tail := make([]byte, size-from)
		if _, err := f.ReadAt(tail, from); err != nil && err != io.EOF {
			return fmt.Errorf("it cannot be read: %w", err)
		}
		if bytes.Contains(tail, []byte{0xFF, 0xD9}) {
			return nil
		}
	}
	return fmt.Errorf("it is cut short; copy it again from the camera")
}

// read walks the marker segments up to the frame header (ITU-T T.81, annex B).
func read(r *bufio.Reader) (Info, error) {
	info := Info{Orientation: 1}
	profile := map[byte][]byte{}
	var b [2]byte
	if _, err := io.ReadFull(r, b[:]); err != nil || b != [2]byte{0xFF, 0xD8} {
		return info, fmt.Errorf("it is not a JPEG file")
	}
	for range maxSegments {
		marker, err := nextMarker(r)
		if err != nil {
			return info, err
		}
		if marker == 0xD9 || marker == 0xDA {
			break
		}
		if _, err := io.ReadFull(r, b[:]); err != nil {
			return info, fmt.Errorf("it ends too early")
		}
		size := int(binary.BigEndian.Uint16(b[:])) - 2
		if size < 0 {
			return info, fmt.Errorf("its head is damaged")
		}
		seg := make([]byte, size)
		if _, err := io.ReadFull(r, seg); err != nil {
			return info, fmt.Errorf("it ends too early")
		}
		switch {
		case marker == 0xE1 && bytes.HasPrefix(seg, []byte("Exif\x00\x00")):
			info.Orientation = orientation(seg[6:])
		case marker == 0xE2 && size > 14 && bytes.HasPrefix(seg, []byte("ICC_PROFILE\x00")):
			profile[seg[12]] = seg[14:]
		case marker == 0xEE && bytes.HasPrefix(seg, []byte("Adobe")):
			info.Adobe = true
		case marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC:
			return frame(info, marker, seg, profile)
		}
	}
	return info, fmt.Errorf("it has no picture in it")
}

// nextMarker finds the next marker, over fill bytes.
func nextMarker(r *bufio.Reader) (byte, error) {
	c, err := r.ReadByte()
	if err != nil || c != 0xFF {
		return 0, fmt.Errorf("its head is damaged")
	}
	for c == 0xFF {
		if c, err = r.ReadByte(); err != nil {
			return 0, fmt.Errorf("it ends too early")
		}
	}
	return c, nil
}

// frame reads the frame header.
func frame(info Info, marker byte, seg []byte, profile map[byte][]byte) (Info, error) {
	if marker > 0xC2 {
		return info, fmt.Errorf("it is of a kind of JPEG (lossless or arithmetic) that pages cannot carry; save it again as an ordinary JPEG")
	}
	if len(seg) < 6 || seg[0] != 8 {
		return info, fmt.Errorf("it has not 8 bits a channel; save it again as an ordinary JPEG")
	}
	info.Height = int(binary.BigEndian.Uint16(seg[1:]))
	info.Width = int(binary.BigEndian.Uint16(seg[3:]))
	info.Components = int(seg[5])
	if info.Width == 0 || info.Height == 0 || info.Components != 1 && info.Components != 3 && info.Components != 4 {
		return info, fmt.Errorf("its head is damaged")
	}
	for n := byte(1); int(n) <= len(profile); n++ {
		info.ICC = append(info.ICC, profile[n]...)
	}
	if !profileFits(info.ICC, info.Components) {
		info.ICC = nil
	}
	return info, nil
}

// profileFits reports whether a profile is whole and of the picture's colours
// (ICC.1:2010, 7.2: size in bytes 0-3, colour space in bytes 16-19).
func profileFits(icc []byte, components int) bool {
	if len(icc) < 132 || int(binary.BigEndian.Uint32(icc)) != len(icc) {
		return false
	}
	want := map[int]string{1: "GRAY", 3: "RGB ", 4: "CMYK"}[components]
	return string(icc[16:20]) == want
}

// orientation reads tag 274 of an EXIF block (CIPA DC-008); 1 when it is
// missing or senseless.
func orientation(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if tiff[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int(order.Uint32(tiff[4:]))
	if at < 8 || at+2 > len(tiff) {
		return 1
	}
	n := int(order.Uint16(tiff[at:]))
	for i := range n {
		e := at + 2 + 12*i
		if e+12 > len(tiff) {
			return 1
		}
		if order.Uint16(tiff[e:]) == 274 {
			if v := int(order.Uint16(tiff[e+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}

// Upright returns the matrix that places a picture, turned as its EXIF
// orientation asks, into the box x, y, w, h of a page with y downwards. The
// matrix maps the unit square of the stored pixels: x' = m0 u + m2 v + m4,
// y' = m1 u + m3 v + m5.
func (i Info) Upright(x, y, w, h float64) [6]float64 {
	// Each row maps stored (u, v) to upright (u', v') in the unit square.
	t := map[int][6]float64{
		2: {-1, 0, 0, 1, 1, 0}, 3: {-1, 0, 0, -1, 1, 1}, 4: {1, 0, 0, -1, 0, 1},
		5: {0, 1, 1, 0, 0, 0}, 6: {0, 1, -1, 0, 1, 0}, 7: {0, -1, -1, 0, 1, 1}, 8: {0, -1, 1, 0, 0, 1},
	}
	m, ok := t[i.Orientation]
	if !ok {
		m = [6]float64{1, 0, 0, 1, 0, 0}
	}
	return [6]float64{m[0] * w, m[1] * h, m[2] * w, m[3] * h, x + m[4]*w, y + m[5]*h}
}

// Stub returns a JPEG head with the picture's true geometry, no pixels, and a
// comment naming it. A PDF writer that only reads heads takes it for the
// picture; the finisher puts the real file in its place.
func (i Info) Stub(name string) []byte {
	note := StubMark + name
	b := []byte{0xFF, 0xD8, 0xFF, 0xFE, byte((len(note) + 2) >> 8), byte(len(note) + 2)}
	b = append(b, note...)
	b = append(b, 0xFF, 0xC0, 0, byte(8+3*i.Components), 8, byte(i.Height>>8), byte(i.Height), byte(i.Width>>8), byte(i.Width), byte(i.Components))
	for c := 1; c <= i.Components; c++ {
		b = append(b, byte(c), 0x11, 0)
	}
	b = append(b, 0xFF, 0xDA, 0, byte(6+2*i.Components), byte(i.Components))
	for c := 1; c <= i.Components; c++ {
		b = append(b, byte(c), 0)
	}
	return append(b, 0, 63, 0, 0xFF, 0xD9)
}

// StubMark begins the comment of a stub.
const StubMark = "stands for: "

// StubName returns the name in a stub's comment, and whether b is a stub.
func StubName(b []byte) (string, bool) {
	if len(b) < 6 || b[2] != 0xFF || b[3] != 0xFE {
		return "", false
	}
	end := 4 + int(binary.BigEndian.Uint16(b[4:]))
	if end > len(b) || !bytes.HasPrefix(b[6:end], []byte(StubMark)) {
		return "", false
	}
	return string(b[6+len(StubMark) : end]), true
}
