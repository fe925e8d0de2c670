package pdfout

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"encoding/xml"
	"io"
	"os"
	"regexp"
	"testing"
	"unicode/utf8"
)

// TestArchiveRules checks the sample book against the sixteen rules of
// testdata/pdfa2b_checks.csv, each by its clause of ISO 19005-2. A rule of the
// table without a check here fails.
func TestArchiveRules(t *testing.T) {
	theSample(t)
	f := readPDF(t, sample.pdf)
	table, err := os.Open("testdata/pdfa2b_checks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer table.Close()
	rows, err := csv.NewReader(table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	checks := map[string]func(*testing.T, *pdfFile){
		"6.1.2": checkHeader, "6.1.3": checkTrailer, "6.1.7.2 / 6.1.10": checkFilters, "6.1.13": checkLimits,
		"6.2.3": checkIntent, "6.2.4.3": checkColours, "6.2.8": checkImages, "6.2.10": checkTransparency,
		"6.2.11.4.1": checkEmbedding, "6.2.11.5": checkWidths, "6.2.11.8": checkNotdef, "6.3.x": checkAnnotations,
		"6.5.1": checkActions, "6.6.2.1": checkMetadata, "6.6.4": checkIdentification, "6.8": checkAttachments,
	}
	if len(rows)-1 != len(checks) {
		t.Errorf("the table has %d rules, the test %d checks", len(rows)-1, len(checks))
	}
	for _, row := range rows[1:] {
		check := checks[row[0]]
		if check == nil {
			t.Errorf("rule %s (%s) has no check", row[0], row[1])
			continue
		}
		t.Run(row[0], func(t *testing.T) { check(t, f) })
	}
}

func checkHeader(t *testing.T, f *pdfFile) {
	ok := bytes.HasPrefix(f.data, []byte("%PDF-1.7\n%")) && f.data[14] == '\n'
	for _, c := range f.data[10:14] {
		ok = ok && c > 127
	}
	if !ok {
		t.Errorf("the file begins %q", f.data[:20])
	}
}

func checkTrailer(t *testing.T, f *pdfFile) {
	id, ok := f.trailer["ID"].([]any)
	if !ok || len(id) != 2 || len(id[0].(pdfStr)) != 16 {
		t.Errorf("/ID is %v", f.trailer["ID"])
	}
	if f.trailer["Encrypt"] != nil {
		t.Error("the file is encrypted")
	}
	if !bytes.HasSuffix(f.data, []byte("%%EOF\n")) {
		t.Error("something follows the end-of-file mark")
	}
}

// everyDict calls visit for every dictionary in the file.
func (f *pdfFile) everyDict(visit func(num int, d pdfDict)) {
	for num, o := range f.objects {
		var walk func(v any)
		walk = func(v any) {
			switch v := v.(type) {
			case pdfDict:
				visit(num, v)
				for _, w := range v {
					walk(w)
				}
			case []any:
				for _, w := range v {
					walk(w)
				}
			case *pdfStream:
				walk(v.dict)
			}
		}
		walk(o)
	}
}

func checkFilters(t *testing.T, f *pdfFile) {
	n := 0
	f.everyDict(func(num int, d pdfDict) {
		switch d["Filter"] {
		case nil:
		case pdfName("FlateDecode"), pdfName("DCTDecode"):
			n++
		default:
			t.Errorf("object %d has the filter %v", num, d["Filter"])
		}
	})
	if n == 0 {
		t.Error("no stream was seen")
	}
}

func checkLimits(t *testing.T, f *pdfFile) {
	for num, o := range f.objects {
		var walk func(v any)
		walk = func(v any) {
			switch v := v.(type) {
			case pdfStr:
				if len(v) > 32767 {
					t.Errorf("object %d has a string of %d bytes", num, len(v))
				}
			case pdfName:
				if len(v) > 127 {
					t.Errorf("object %d has a name of %d bytes", num, len(v))
				}
			case pdfDict:
				for k, w := range v {
					walk(k)
					walk(w)
				}
			case []any:
				for _, w := range v {
					walk(w)
				}
			case *pdfStream:
				walk(v.dict)
			}
		}
		walk(o)
	}
	for i, p := range f.pages() {
		depth := 0
		for _, op := range regexp.MustCompile(`(?m)(?:^|\s)([qQ])(?:\s|$)`).FindAllSubmatch(f.bytes(t, p["Contents"]), -1) {
			if op[1][0] == 'q' {
				depth++
			} else {
				depth--
			}
			if depth > 28 || depth < 0 {
				t.Errorf("page %d nests q to %d", i+1, depth)
			}
		}
		box := p["MediaBox"]
		if box == nil {
			box = f.dict(p["Parent"])["MediaBox"]
		}
		for k, v := range box.([]any) {
			if k >= 2 && (v.(float64) < 3 || v.(float64) > 14400) {
				t.Errorf("page %d has the box %v", i+1, box)
			}
		}
	}
}

func checkIntent(t *testing.T, f *pdfFile) {
	list, _ := f.dict(f.trailer["Root"])["OutputIntents"].([]any)
	if len(list) != 1 {
		t.Fatalf("there are %d output intents", len(list))
	}
	icc := f.bytes(t, f.dict(list[0])["DestOutputProfile"])
	if class := string(icc[12:16]); class != "mntr" && class != "prtr" {
		t.Errorf("the profile is of class %q", class)
	}
	if int(binary.BigEndian.Uint32(icc)) != len(icc) || string(icc[36:40]) != "acsp" {
		t.Error("the profile is damaged")
	}
	if f.dict(list[0])["S"] != pdfName("GTS_PDFA1") {
		t.Errorf("the intent is %v", f.dict(list[0])["S"])
	}
}

func checkColours(t *testing.T, f *pdfFile) {
	// With an sRGB intent DeviceRGB and DeviceGray are allowed, DeviceCMYK is not.
	cmyk := regexp.MustCompile(`(?m)(?:^|\s)[kK](?:\s|$)`)
	rgb := false
	for i, p := range f.pages() {
		content := f.bytes(t, p["Contents"])
		if cmyk.Match(stripStrings(content)) {
			t.Errorf("page %d uses CMYK", i+1)
		}
		rgb = rgb || bytes.Contains(content, []byte(" rg"))
	}
	if !rgb {
		t.Error("no colour operator was seen; the check sees nothing")
	}
	f.everyDict(func(num int, d pdfDict) {
		if d["Subtype"] == pdfName("Image") && d["ColorSpace"] == pdfName("DeviceCMYK") {
			t.Errorf("picture %d is DeviceCMYK", num)
		}
	})
}

// stripStrings takes strings out of a content stream.
func stripStrings(b []byte) []byte {
	return regexp.MustCompile(`<[0-9a-fA-F]*>`).ReplaceAll(b, nil)
}

func checkImages(t *testing.T, f *pdfFile) {
	n := 0
	f.everyDict(func(num int, d pdfDict) {
		if d["Subtype"] != pdfName("Image") {
			return
		}
		n++
		if d["Interpolate"] == "true" || d["Alternates"] != nil || d["OPI"] != nil {
			t.Errorf("picture %d has what an archive file must not", num)
		}
		if d["BitsPerComponent"] != 8.0 {
			t.Errorf("picture %d has %v bits", num, d["BitsPerComponent"])
		}
	})
	if n < 10 {
		t.Errorf("only %d pictures were seen", n)
	}
}

func checkTransparency(t *testing.T, f *pdfFile) {
	f.everyDict(func(num int, d pdfDict) {
		for _, k := range []pdfName{"SMask", "ca", "CA", "BM", "Group"} {
			if d[k] != nil {
				t.Errorf("object %d has /%s", num, k)
			}
		}
	})
}

// fonts returns the composite fonts of the file.
func (f *pdfFile) fonts() []pdfDict {
	var out []pdfDict
	for _, o := range f.objects {
		if d, ok := o.(pdfDict); ok && d["Type"] == pdfName("Font") && d["Subtype"] == pdfName("Type0") {
			out = append(out, d)
		}
	}
	return out
}

func checkEmbedding(t *testing.T, f *pdfFile) {
	for _, p := range f.pages() {
		for name, ref := range f.dict(f.dict(p["Resources"])["Font"]) {
			font := f.dict(ref)
			if font["Subtype"] != pdfName("Type0") {
				t.Fatalf("font %s is %v", name, font["Subtype"])
			}
			d := f.dict(font["DescendantFonts"].([]any)[0])
			if f.dict(d["FontDescriptor"])["FontFile2"] == nil {
				t.Errorf("font %v is not embedded", font["BaseFont"])
			}
			if font["ToUnicode"] == nil || !regexp.MustCompile(`^[A-Z]{6}\+`).MatchString(string(font["BaseFont"].(pdfName))) {
				t.Errorf("font %v has no map to text or no subset tag", font["BaseFont"])
			}
		}
	}
	if len(f.fonts()) < 3 {
		t.Errorf("only %d fonts were seen", len(f.fonts()))
	}
}

func checkAnnotations(t *testing.T, f *pdfFile) {
	n := 0
	for _, p := range f.pages() {
		list, _ := p["Annots"].([]any)
		for _, a := range list {
			n++
			d := f.dict(a)
			if flag, _ := d["F"].(float64); int(flag)&4 == 0 || int(flag)&(1|2|32) != 0 {
				t.Errorf("a link has the flags %v", d["F"])
			}
			if d["Subtype"] != pdfName("Link") {
				t.Errorf("an annotation is %v", d["Subtype"])
			}
		}
	}
	if n == 0 {
		t.Error("no link was seen")
	}
}

func checkActions(t *testing.T, f *pdfFile) {
	f.everyDict(func(num int, d pdfDict) {
		for _, k := range []pdfName{"JavaScript", "JS", "Launch", "AA"} {
			if d[k] != nil {
				t.Errorf("object %d has /%s", num, k)
			}
		}
		switch d["S"] {
		case pdfName("JavaScript"), pdfName("Launch"), pdfName("Sound"), pdfName("Movie"), pdfName("ResetForm"), pdfName("ImportData"):
			t.Errorf("object %d is the action %v", num, d["S"])
		}
	})
}

func checkMetadata(t *testing.T, f *pdfFile) {
	s, ok := f.get(f.dict(f.trailer["Root"])["Metadata"]).(*pdfStream)
	if !ok {
		t.Fatal("there is no metadata")
	}
	if s.dict["Filter"] != nil || !utf8.Valid(s.raw) || bytes.Contains(s.raw[:60], []byte("encoding=")) || bytes.Contains(s.raw[:60], []byte("bytes=")) {
		t.Error("the metadata is filtered, not UTF-8, or says its encoding")
	}
	d := xml.NewDecoder(bytes.NewReader(s.raw))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func checkIdentification(t *testing.T, f *pdfFile) {
	raw := f.get(f.dict(f.trailer["Root"])["Metadata"]).(*pdfStream).raw
	var x struct {
		Description struct {
			Part        string `xml:"http://www.aiim.org/pdfa/ns/id/ part"`
			Conformance string `xml:"http://www.aiim.org/pdfa/ns/id/ conformance"`
		} `xml:"RDF>Description"`
	}
	if err := xml.Unmarshal(raw, &x); err != nil {
		t.Fatal(err)
	}
	if x.Description.Part != "2" || x.Description.Conformance != "B" || !bytes.Contains(raw, []byte("xmlns:pdfaid=")) {
		t.Errorf("the file says it is part %q, conformance %q", x.Description.Part, x.Description.Conformance)
	}
}

func checkAttachments(t *testing.T, f *pdfFile) {
	f.everyDict(func(num int, d pdfDict) {
		if d["EF"] != nil || d["EmbeddedFiles"] != nil || d["Type"] == pdfName("Filespec") {
			t.Errorf("object %d embeds a file", num)
		}
	})
}
