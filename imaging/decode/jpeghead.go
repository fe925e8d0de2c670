package decode

import (
	"encoding/binary"
	"io"
)

// jpegSegments walks the marker segments up to the first scan: frame header
// (components, progressive or not) and the chunks of the ICC profile in APP2.
func jpegSegments(r *io.SectionReader, h *head) error {
	// Until the frame header is seen, assume the costliest kind.
	h.held = 3 + 12
	// A block of 8 by 8 samples takes at least one bit.
	h.densest = 8 * 64
	var icc iccChunks
	for off := int64(2); ; {
		b, err := readAt(r, off, 4)
		if err != nil {
			break
		}
		if b[0] != 0xff {
			off++ // stray byte between segments, as the decoder also allows
			continue
		}
		marker := b[1]
		switch {
		case marker == 0xff:
			off++
			continue
		case marker == 0xd9 || marker == 0xda:
			icc.finish(h)
			return nil
		case marker == 0 || marker == 1 || marker >= 0xd0 && marker <= 0xd8:
			off += 2
			continue
		}
		n := int(binary.BigEndian.Uint16(b[2:]))
		if n < 2 {
			break
		}
		switch {
		case marker == 0xe2:
			if body, err := readAt(r, off+4, n-2); err == nil {
				icc.add(body)
			}
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			if body, err := readAt(r, off+4, n-2); err == nil {
				frameHeader(body, marker, h)
			}
		}
		off += 2 + int64(n)
	}
	icc.finish(h)
	return nil
}

// frameHeader notes depth and components, and how many bytes a pixel the
// decoder will hold: one each sample, and four more for the coefficients of a
// progressive file.
func frameHeader(b []byte, marker byte, h *head) {
	if len(b) < 6 || len(b) < 6+3*int(b[5]) {
		return
	}
	h.Bits, h.Channels = int(b[0]), int(b[5])
	hMax, vMax, sum := 1, 1, 0
	for i := range h.Channels {
		hs, vs := int(b[7+3*i]>>4), int(b[7+3*i]&15)
		hMax, vMax, sum = max(hMax, hs), max(vMax, vs), sum+hs*vs
	}
	perPixel := int64((sum + hMax*vMax - 1) / (hMax * vMax))
	h.held = max(perPixel, 1)
	if marker == 0xc2 {
		h.held += 4 * h.held
	}
	if h.Channels == 4 {
		h.held += 4
	}
}

// iccChunks gathers "ICC_PROFILE\0", number, count, bytes (ICC.1:2022, B.4).
type iccChunks struct {
	parts map[byte][]byte
	count byte
	size  int
}

func (c *iccChunks) add(body []byte) {
	const mark = "ICC_PROFILE\x00"
	if len(body) < len(mark)+2 || string(body[:len(mark)]) != mark {
		return
	}
	number, count, data := body[12], body[13], body[14:]
	if c.parts == nil {
		c.parts = map[byte][]byte{}
	}
	if _, seen := c.parts[number]; seen || c.size+len(data) > maxProfile {
		return
	}
	c.parts[number], c.count, c.size = data, count, c.size+len(data)
}

// finish joins the chunks; a missing one makes the profile unreadable.
func (c *iccChunks) finish(h *head) {
	if len(c.parts) == 0 {
		return
	}
	var icc []byte
	for i := 1; i <= int(c.count); i++ {
		part, ok := c.parts[byte(i)]
		if !ok {
			icc = nil
			break
		}
		icc = append(icc, part...)
	}
	h.embed(icc)
}
