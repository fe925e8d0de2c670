package finish

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"regexp"
	"strconv"
	"unicode/utf16"

	"pullbook/pdfout/typeset"
)

var fontEntry = regexp.MustCompile(`(?s)/BaseFont /utf8(\S+).*/ToUnicode (\d+) 0 R`)

// nameFonts gives fonts their PostScript names with subset tags, and ToUnicode
// maps of their own: gofpdf's are one fixed table.
func (s *source) nameFonts(faces []*typeset.Face) {
	byKey := map[string]*typeset.Face{}
	for _, f := range faces {
		byKey[f.Key] = f
	}
	for _, o := range s.objects {
		if o.stored || !bytes.Contains(o.dict, []byte("/utf8")) && !bytes.HasPrefix(o.dict, []byte("<</Registry")) {
			continue
		}
		if m := fontEntry.FindSubmatch(o.dict); m != nil {
			n, _ := strconv.Atoi(string(m[2]))
			if f := byKey[string(m[1])]; f != nil {
				s.objects[n].stream = toUnicode(f)
				s.objects[n].dict = []byte("<<>>")
			}
		}
		o.dict = regexp.MustCompile(`/utf8(\w+)`).ReplaceAllFunc(o.dict, func(name []byte) []byte {
			f := byKey[string(name[5:])]
			if f == nil {
				return name
			}
			return []byte("/" + subsetTag(f) + "+" + f.PostScript)
		})
		o.dict = bytes.ReplaceAll(o.dict, []byte("/Ordering (UCS)"), []byte("/Ordering (Identity)"))
		o.dict = bytes.ReplaceAll(o.dict, []byte("/MissingWidth 0"), nil)
	}
}

// subsetTag makes the six letters before a subset's name (PDF 32000-1:2008,
// 9.6.4) from the glyphs in it.
func subsetTag(f *typeset.Face) string {
	sum := sha256.Sum256(fmt.Append(nil, f.PostScript, f.Used()))
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + sum[i]%26
	}
	return string(tag)
}

// toUnicode writes the map from codes, which are glyph ids, to text (PDF
// 32000-1:2008, 9.10.3).
func toUnicode(f *typeset.Face) []byte {
	var ids []uint16
	for _, g := range f.Used() {
		if f.TextOf(g) != "" {
			ids = append(ids, g)
		}
	}
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	for i := 0; i < len(ids); i += 100 {
		part := ids[i:min(i+100, len(ids))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(part))
		for _, g := range part {
			fmt.Fprintf(&b, "<%04X> <", g)
			for _, u := range utf16.Encode([]rune(f.TextOf(g))) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend")
	return b.Bytes()
}
