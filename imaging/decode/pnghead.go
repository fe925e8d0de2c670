package decode

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"

	"pullbook/imaging/colour"
)

// pngChunks walks the chunks before the pixels: depth, colour type, interlace
// and profile (iCCP or sRGB; PNG specification, third edition, 11.3.2).
func pngChunks(r *io.SectionReader, h *head) error {
	for off := int64(8); ; {
		b, err := readAt(r, off, 8)
		if err != nil {
			return err
		}
		n := int64(binary.BigEndian.Uint32(b))
		switch string(b[4:]) {
		case "IHDR":
			body, err := readAt(r, off+8, 13)
			if err != nil {
				return err
			}
			pngHeader(body, h)
		case "iCCP":
			if n <= maxProfile {
				if body, err := readAt(r, off+8, int(n)); err == nil {
					h.embed(inflateProfile(body))
				}
			}
		case "sRGB":
			h.Profile = colour.Assumed()
			h.Profile.Name = colour.SRGB.Name
		case "tRNS":
			h.held += 4 * int64(max(h.Bits/8, 1)) // turned into four channels
		case "IDAT", "IEND":
			return nil
		}
		off += 12 + n
	}
}

func pngHeader(b []byte, h *head) {
	h.Bits = int(b[8])
	sample := int64(1)
	if h.Bits == 16 {
		sample = 2
	}
	switch b[9] {
	case 0:
		h.Channels, h.held = 1, sample
	case 2:
		h.Channels, h.held = 3, 4*sample
	case 3:
		h.Channels, h.held = 3, 1+4
	default:
		h.Channels, h.held = 4, 2*4*sample
	}
	// Deflate packs at most 1032 to 1 (its longest match, 258 bytes, in 2 bits).
	samples := map[byte]int64{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[b[9]]
	if bits := samples * int64(h.Bits); bits > 0 {
		h.densest = 1032*8/bits + 1
	}
	if b[12] != 0 {
		h.held *= 2 // the passes are decoded beside the whole
	}
}

// inflateProfile unpacks name, method and deflated bytes of iCCP; nil when it
// cannot. Some writers leave out the checksum at the end: what came before it
// is kept.
func inflateProfile(b []byte) []byte {
	i := bytes.IndexByte(b, 0)
	if i < 0 || i+2 > len(b) {
		return nil
	}
	z, err := zlib.NewReader(bytes.NewReader(b[i+2:]))
	if err != nil {
		return nil
	}
	icc, _ := io.ReadAll(io.LimitReader(z, maxProfile))
	return icc
}
