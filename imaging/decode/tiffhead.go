package decode

import (
	"encoding/binary"
	"io"
)

// TIFF tags read here (TIFF 6.0; 34675 from ICC.1:2022, B.3).
const (
	tagBits     = 258
	tagSamples  = 277
	tagICC      = 34675
	tiffMaxTags = 4096
)

// tiffTags reads depth, samples and profile from the first directory.
func tiffTags(r *io.SectionReader, h *head) error {
	b, err := readAt(r, 0, 8)
	if err != nil {
		return err
	}
	var order binary.ByteOrder = binary.LittleEndian
	if b[0] == 'M' {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(b[4:]))
	b, err = readAt(r, at, 2)
	if err != nil {
		return err
	}
	count := int(order.Uint16(b))
	if count > tiffMaxTags {
		return errShort
	}
	dir, err := readAt(r, at+2, 12*count)
	if err != nil {
		return err
	}
	h.Bits, h.Channels = 1, 1
	for ; len(dir) >= 12; dir = dir[12:] {
		kind, n := order.Uint16(dir[2:]), order.Uint32(dir[4:])
		switch order.Uint16(dir) {
		case tagBits:
			h.Bits = int(order.Uint16(dir[8:]))
			if n > 2 {
				if bits, err := readAt(r, int64(order.Uint32(dir[8:])), 2); err == nil {
					h.Bits = int(order.Uint16(bits))
				}
			}
		case tagSamples:
			h.Channels = int(order.Uint16(dir[8:]))
		case tagICC:
			if (kind == 7 || kind == 1) && n <= maxProfile {
				if icc, err := readAt(r, int64(order.Uint32(dir[8:])), int(n)); err == nil {
					h.embed(icc)
				}
			}
		}
	}
	tiffHeld(h)
	return nil
}

// tiffHeld reckons the picture and, beside it, one strip that may hold all.
func tiffHeld(h *head) {
	sample := int64(1)
	if h.Bits > 8 {
		sample = 2
	}
	switch h.Channels {
	case 1:
		h.held = 5 + 2*sample // a palette is turned into four bytes
		if h.Bits > 8 {
			h.held = 2 * sample
		}
	case 3:
		h.held = (4 + 3) * sample
	default:
		h.held = (4 + 4 + 4) * sample
	}
}
