package pdfout

import (
	"encoding/binary"
	"math"
	"regexp"
	"strings"
	"testing"
)

// embedded is the part of a font program the checks need.
type embedded struct {
	cidToGID []byte
	hmtx     []byte
	metrics  int
	perEm    float64
	glyphs   int
}

// program reads the font program of a composite font.
func (f *pdfFile) program(t *testing.T, font pdfDict) (embedded, pdfDict) {
	d := f.dict(font["DescendantFonts"].([]any)[0])
	ttf := f.bytes(t, f.dict(d["FontDescriptor"])["FontFile2"])
	table := func(tag string) []byte {
		for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
			r := ttf[12+16*i:]
			if string(r[:4]) == tag {
				return ttf[binary.BigEndian.Uint32(r[8:]):]
			}
		}
		t.Fatalf("the font has no table %s", tag)
		return nil
	}
	return embedded{f.bytes(t, d["CIDToGIDMap"]), table("hmtx"), int(binary.BigEndian.Uint16(table("hhea")[34:])),
		float64(binary.BigEndian.Uint16(table("head")[18:])), int(binary.BigEndian.Uint16(table("maxp")[4:]))}, d
}

func (e embedded) gid(cid int) int { return int(binary.BigEndian.Uint16(e.cidToGID[2*cid:])) }

func (e embedded) width(gid int) float64 {
	return float64(binary.BigEndian.Uint16(e.hmtx[4*min(gid, e.metrics-1):])) * 1000 / e.perEm
}

// widths reads the /W array of a descendant font.
func widths(w []any) map[int]float64 {
	out := map[int]float64{}
	for i := 0; i < len(w); {
		first := int(w[i].(float64))
		if list, ok := w[i+1].([]any); ok {
			for k, v := range list {
				out[first+k] = v.(float64)
			}
			i += 2
			continue
		}
		for c := first; c <= int(w[i+1].(float64)); c++ {
			out[c] = w[i+2].(float64)
		}
		i += 3
	}
	return out
}

// shown returns the codes each font shows, by the font's resource name.
func (f *pdfFile) shown(t *testing.T) map[string]map[int]bool {
	out := map[string]map[int]bool{}
	token := regexp.MustCompile(`/(F[0-9a-f]+) [0-9.]+ Tf|<([0-9a-f]+)>`)
	for _, p := range f.pages() {
		font := ""
		for _, m := range token.FindAllSubmatch(f.bytes(t, p["Contents"]), -1) {
			if len(m[1]) > 0 {
				font = string(m[1])
				continue
			}
			if out[font] == nil {
				out[font] = map[int]bool{}
			}
			for k := 0; k < len(m[2]); k += 4 {
				var c int
				for _, h := range m[2][k : k+4] {
					c = c<<4 | strings.IndexByte("0123456789abcdef", h)
				}
				out[font][c] = true
			}
		}
	}
	return out
}

// fontsByName maps resource names to fonts.
func (f *pdfFile) fontsByName() map[string]pdfDict {
	out := map[string]pdfDict{}
	for _, p := range f.pages() {
		for name, ref := range f.dict(f.dict(p["Resources"])["Font"]) {
			out[string(name)] = f.dict(ref)
		}
	}
	return out
}

func checkWidths(t *testing.T, f *pdfFile) {
	n := 0
	fonts := f.fontsByName()
	for name, codes := range f.shown(t) {
		prog, d := f.program(t, fonts[name])
		ws := widths(d["W"].([]any))
		for c := range codes {
			n++
			if got, want := ws[c], prog.width(prog.gid(c)); math.Abs(got-want) > 1 {
				t.Errorf("%v: code %d is %.1f wide in the dictionary, %.1f in the font", fonts[name]["BaseFont"], c, got, want)
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d codes were seen", n)
	}
}

func checkNotdef(t *testing.T, f *pdfFile) {
	fonts := f.fontsByName()
	for name, codes := range f.shown(t) {
		prog, _ := f.program(t, fonts[name])
		for c := range codes {
			if g := prog.gid(c); g == 0 || g >= prog.glyphs {
				t.Errorf("%v: code %d shows glyph %d of %d", fonts[name]["BaseFont"], c, g, prog.glyphs)
			}
		}
	}
}
