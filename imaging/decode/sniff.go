package decode

import (
	"bytes"
)

// Format is a kind of picture file.
type Format string

// Formats that are read.
const (
	JPEG Format = "JPEG"
	PNG  Format = "PNG"
	TIFF Format = "TIFF"
	WebP Format = "WebP"
)

// sniffLen is how many bytes of the head of a file sniff looks at.
const sniffLen = 64

// sniff tells the format from the first bytes. For a format that is recognised
// but not read, refusal is the rest of the sentence.
func sniff(head []byte) (f Format, refusal string) {
	has := func(at int, magic string) bool {
		return len(head) >= at+len(magic) && string(head[at:at+len(magic)]) == magic
	}
	switch {
	case has(0, "\xff\xd8\xff"):
		return JPEG, ""
	case has(0, "\x89PNG\r\n\x1a\n"):
		return PNG, ""
	case has(0, "II*\x00"), has(0, "MM\x00*"):
		if has(8, "CR\x02") {
			return "", rawRefusal
		}
		return TIFF, ""
	case has(0, "RIFF") && has(8, "WEBP"):
		return WebP, ""
	case has(0, "II+\x00"), has(0, "MM\x00+"):
		return "", "is a BigTIFF file, which is not read; save it as an ordinary TIFF or as a JPEG."
	case has(4, "ftyp"):
		return "", isoRefusal(head[8:])
	case has(0, "GIF8"):
		return "", "is a GIF, which holds too few shades to be measured; save the photograph as JPEG, PNG or TIFF."
	case has(0, "BM") && len(head) >= 26:
		return "", "is a BMP picture, which is not read; save it as PNG or TIFF."
	case has(0, "%PDF"):
		return "", "is a PDF document; save the photograph in it as JPEG, PNG or TIFF."
	case has(0, "8BPS"):
		return "", "is a layered working file of a picture editor; save it as TIFF or JPEG."
	case has(0, "FUJIFILMCCD-RAW"), has(0, "IIRO"), has(0, "IIRS"), has(0, "IIU\x00"), has(0, "FOVb"):
		return "", rawRefusal
	}
	return "", ""
}

const rawRefusal = "is a camera's raw file; develop it without sharpening and save it as a 16-bit TIFF or a JPEG."

// isoRefusal words the refusal of files in ISO boxes (phones, films, raw).
func isoRefusal(brand []byte) string {
	if len(brand) < 4 {
		return ""
	}
	for _, b := range []string{"heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1"} {
		if bytes.HasPrefix(brand, []byte(b)) {
			return "is a HEIC photograph, which is not read. In the phone's settings go to the camera, there to formats or picture format, choose JPEG (some call it the most compatible one), and take it again; or save a JPEG copy of this one."
		}
	}
	switch {
	case bytes.HasPrefix(brand, []byte("avif")), bytes.HasPrefix(brand, []byte("avis")):
		return "is an AVIF picture, which is not read; save it as JPEG, PNG or TIFF."
	case bytes.HasPrefix(brand, []byte("crx ")):
		return rawRefusal
	}
	return "is a film or sound file; give a photograph as JPEG, PNG or TIFF."
}
