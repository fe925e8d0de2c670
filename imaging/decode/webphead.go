package decode

import (
	"encoding/binary"
	"io"
)

// webpChunks walks the RIFF chunks: animation flag, profile, and whether the
// pixels are lossy (VP8) or not (VP8L).
func webpChunks(r *io.SectionReader, h *head) error {
	// Chunks run to the length the RIFF head states, or to the end of file.
	for off := int64(12); ; {
		b, err := readAt(r, off, 8)
		if err != nil {
			return nil
		}
		n := int64(binary.LittleEndian.Uint32(b[4:]))
		switch string(b[:4]) {
		case "VP8X":
			flags, err := readAt(r, off+8, 1)
			if err == nil && flags[0]&0x02 != 0 {
				return sentence{Unsupported, "is an animated WebP; give a single photograph as JPEG, PNG or TIFF."}
			}
		case "ICCP":
			if n <= maxProfile {
				if icc, err := readAt(r, off+8, int(n)); err == nil {
					h.embed(icc)
				}
			}
		case "VP8 ":
			h.lossyWebP, h.held = true, 1+1+4+4
			return nil
		case "VP8L":
			h.held = 4 + 4 + 4
			return nil
		}
		off += 8 + n + n&1
	}
}
