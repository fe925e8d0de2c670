package xmp

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// Marks of the application segments that belong to the picture itself: its
// density, its colour profile, how its colour is coded.
var (
	jfifMark  = []byte("JFIF\x00")
	iccMark   = []byte("ICC_PROFILE\x00")
	adobeMark = []byte("Adobe")
)

// Bare copies the picture of a JPEG file, bit for bit, and nothing else of it:
// no camera, no place, no time, no comment, no smaller picture within, nothing
// that was put after its end (ITU-T T.81, annex B). Only what is needed to see
// it as it is stays: density, colour profile, colour coding.
func Bare(dst io.Writer, src io.Reader) error {
	in := bufio.NewReaderSize(src, 1<<16)
	out := bufio.NewWriterSize(dst, 1<<16)
	var start [2]byte
	if _, err := io.ReadFull(in, start[:]); err != nil || start != [2]byte{0xff, 0xd8} {
		return ErrNotJPEG
	}
	if _, err := out.Write(start[:]); err != nil {
		return err
	}
	scans, begun := 0, false
	for {
		marker, err := nextMarker(in, begun)
		if err != nil {
			return brokenJPEG(err)
		}
		switch {
		case marker == 0xd9: // end of image
			if scans == 0 {
				return brokenJPEG(errors.New("it holds no picture"))
			}
			if _, err := out.Write([]byte{0xff, 0xd9}); err != nil {
				return err
			}
			return out.Flush()
		case marker < 0xc0 || marker >= 0xd0 && marker <= 0xd8:
			return brokenJPEG(fmt.Errorf("the marker %#x stands where none may", marker))
		}
		data, err := segmentData(in)
		if err != nil {
			return brokenJPEG(err)
		}
		if begun = false; aside(marker, data) {
			continue
		}
		if _, err := out.Write(segment(marker, data)); err != nil {
			return err
		}
		if begun = marker == 0xda; begun { // start of scan
			scans++
			if err := copyScan(out, in); err != nil {
				return brokenJPEG(err)
			}
		}
	}
}

func brokenJPEG(err error) error {
	return fmt.Errorf("the picture is a broken JPEG file: %w", err)
}

// aside reports whether a segment is no part of the picture.
func aside(marker byte, data []byte) bool {
	switch {
	case marker == 0xe0:
		return !bytes.HasPrefix(data, jfifMark)
	case marker == 0xe2:
		return !bytes.HasPrefix(data, iccMark)
	case marker == 0xee:
		return !bytes.HasPrefix(data, adobeMark)
	}
	return marker >= 0xe0 && marker <= 0xef || marker == 0xfe
}

// nextMarker reads a marker with the fill before it; begun says that its FF is
// read already.
func nextMarker(in *bufio.Reader, begun bool) (c byte, err error) {
	if c = 0xff; !begun {
		if c, err = in.ReadByte(); err != nil {
			return 0, err
		}
	}
	if c != 0xff {
		return 0, errors.New("a marker is missing")
	}
	for c == 0xff {
		if c, err = in.ReadByte(); err != nil {
			return 0, err
		}
	}
	return c, nil
}

// segmentData reads what follows a marker, without its length.
func segmentData(in *bufio.Reader) ([]byte, error) {
	var size [2]byte
	if _, err := io.ReadFull(in, size[:]); err != nil {
		return nil, err
	}
	n := int(binary.BigEndian.Uint16(size[:]))
	if n < 2 {
		return nil, errors.New("a segment has no length")
	}
	data := make([]byte, n-2)
	_, err := io.ReadFull(in, data)
	return data, err
}

// copyScan copies coded data up to the marker that ends it, the FF of which is
// read already. Within, FF is followed by 00, or restarts the coding.
func copyScan(out *bufio.Writer, in *bufio.Reader) error {
	for {
		run, err := in.ReadSlice(0xff)
		if errors.Is(err, bufio.ErrBufferFull) {
			if _, err := out.Write(run); err != nil {
				return err
			}
			continue
		}
		if err != nil {
			return err
		}
		if _, err := out.Write(run[:len(run)-1]); err != nil {
			return err
		}
		next, err := in.Peek(1)
		if err != nil {
			return err
		}
		if next[0] != 0 && (next[0] < 0xd0 || next[0] > 0xd7) {
			return nil
		}
		if err := out.WriteByte(0xff); err != nil {
			return err
		}
	}
}
