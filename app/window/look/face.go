package look

import (
	"encoding/binary"
	"slices"

	"fyne.io/fyne/v2"
)

// face is a typeface of the interface without what the toolkit would go through
// anew for every line it measures or draws and that changes next to nothing in
// one set so small: the table of pairs that older programs kern by, the same
// pairs lie in GPOS, and the substitutions, small capitals and ligatures. It
// takes a third of the time.
func face(name string, font []byte) fyne.Resource {
	return fyne.NewStaticResource(name, without(font, "kern", "GSUB"))
}

// without is a TrueType font without some of its tables (OpenType 1.9.1, "Table
// directory": the head of the font lists them, sixteen bytes for each). What is
// no such font comes back as it is.
func without(font []byte, tables ...string) []byte {
	const head, entry = 12, 16
	if len(font) < head {
		return font
	}
	n := int(binary.BigEndian.Uint16(font[4:]))
	if len(font) < head+n*entry {
		return font
	}
	// The other tables stay where they are; only the list grows shorter.
	out := slices.Clone(font)
	list := out[head:head]
	for i := range n {
		if e := font[head+i*entry:][:entry]; !slices.Contains(tables, string(e[:4])) {
			list = append(list, e...)
		}
	}
	clear(out[head+len(list) : head+n*entry])
	binary.BigEndian.PutUint16(out[4:], uint16(len(list)/entry))
	return out
}
