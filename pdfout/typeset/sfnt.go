package typeset

import (
	"encoding/binary"
	"sort"
)

// sfntTables splits a TrueType file into its tables (OpenType specification,
// "Font file organization").
func sfntTables(data []byte) map[string][]byte {
	tables := map[string][]byte{}
	n := int(binary.BigEndian.Uint16(data[4:]))
	for i := range n {
		rec := data[12+16*i:]
		off, size := binary.BigEndian.Uint32(rec[8:]), binary.BigEndian.Uint32(rec[12:])
		tables[string(rec[:4])] = data[off : off+size]
	}
	return tables
}

// glyphCount reads the number of glyphs from the maxp table.
func glyphCount(data []byte) int {
	return int(binary.BigEndian.Uint16(sfntTables(data)["maxp"][4:]))
}

// ByGlyph returns a private copy of the font whose character map sends code n
// to glyph n. A PDF writer that only knows characters can then address every
// glyph: small capitals, ligatures, tabular figures. Lay-out tables are left
// out; the shaping is done by then.
func (f *Face) ByGlyph() []byte {
	tables := sfntTables(f.Data)
	for _, t := range []string{"GSUB", "GPOS", "GDEF", "DSIG", "kern", "STAT", "meta"} {
		delete(tables, t)
	}
	last := glyphCount(f.Data) - 1
	// One format 4 segment from 1 to last with delta 0, and the closing one.
	tables["cmap"] = words(0, 1, 3, 1, 0, 12,
		4, 16+8*2, 0, 4, 4, 1, 0, last, 0xFFFF, 0, 1, 0xFFFF, 0, 1, 0, 0)
	return joinTables(tables)
}

// words writes 16-bit numbers, high byte first.
func words(v ...int) []byte {
	var out []byte
	for _, x := range v {
		out = append(out, byte(x>>8), byte(x))
	}
	return out
}

// joinTables writes tables as a TrueType file, in order of their tags. Check
// sums are left zero: the file is read back by one known reader only.
func joinTables(tables map[string][]byte) []byte {
	var tags []string
	for t := range tables {
		tags = append(tags, t)
	}
	sort.Strings(tags)
	head := append([]byte{0, 1, 0, 0}, words(len(tags), 0, 0, 0)...)
	start := 12 + 16*len(tags)
	var body []byte
	for _, t := range tags {
		rec := make([]byte, 16)
		copy(rec, t)
		binary.BigEndian.PutUint32(rec[8:], uint32(start+len(body)))
		binary.BigEndian.PutUint32(rec[12:], uint32(len(tables[t])))
		head = append(head, rec...)
		body = append(body, tables[t]...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	return append(head, body...)
}
