package finish

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode/utf16"
)

// program is what the file says it was made by.
const program = "Pullbook"

var namesEntry = regexp.MustCompile(`/Names <<\s*/EmbeddedFiles << /Names \[\s*\] >>\s*>>`)

// describe adds metadata, labels and output intent to the document catalogue,
// and writes the information dictionary anew, in the same words.
func (s *source) describe(o Options) error {
	root := s.objects[s.root]
	if root == nil || s.objects[s.info] == nil {
		return fmt.Errorf("the document catalogue is missing")
	}
	d := namesEntry.ReplaceAll(root.dict, nil)
	d = bytes.TrimSuffix(bytes.TrimSpace(d), []byte(">>"))
	meta := s.add(&object{dict: []byte("<</Type /Metadata /Subtype /XML>>"), stream: metadata(o), stored: true, keep: true})
	d = fmt.Appendf(d, "/Metadata %d 0 R\n/Lang %s\n/ViewerPreferences <</DisplayDocTitle true>>\n", meta, textString(o.Language))
	if o.Labels != "" {
		d = fmt.Appendf(d, "/PageLabels <</Nums [%s]>>\n", o.Labels)
	}
	intent, err := s.outputIntent(o)
	if err != nil {
		return err
	}
	if intent > 0 {
		d = fmt.Appendf(d, "/OutputIntents [%d 0 R]\n", intent)
	}
	root.dict = append(d, ">>"...)

	var info strings.Builder
	info.WriteString("<<")
	for _, e := range [][2]string{{"Title", o.Title}, {"Author", o.Author}, {"Subject", o.Subject}, {"Creator", program}, {"Producer", program}} {
		if e[1] != "" {
			fmt.Fprintf(&info, "/%s %s\n", e[0], textString(e[1]))
		}
	}
	date := "D:" + o.Created.UTC().Format("20060102150405") + "Z"
	fmt.Fprintf(&info, "/CreationDate (%s)\n/ModDate (%s)\n", date, date)
	if o.exchange() {
		info.WriteString("/Trapped /False\n")
	}
	info.WriteString(">>")
	s.objects[s.info].dict = []byte(info.String())
	return nil
}

// exchange reports whether the file is made to the rules of PDF/X-4.
func (o Options) exchange() bool { return !o.Archive && len(o.ICC) > 0 }

// outputIntent adds the intent with its profile: sRGB for the archive, the
// printer's own for the press. It returns 0 where there is none.
func (s *source) outputIntent(o Options) (int, error) {
	icc, name, kind := o.ICC, o.ICCName, "GTS_PDFX"
	if o.Archive {
		icc, name, kind = SRGB(), "sRGB IEC61966-2.1", "GTS_PDFA1"
	}
	if len(icc) == 0 {
		return 0, nil
	}
	if err := CheckProfile(icc, o.Archive); err != nil {
		return 0, err
	}
	components := map[string]int{"GRAY": 1, "RGB ": 3, "CMYK": 4}[string(icc[16:20])]
	profile := s.profile(icc, components)
	return s.add(&object{dict: fmt.Appendf(nil, "<</Type /OutputIntent /S /%s /OutputConditionIdentifier %s /Info %s /DestOutputProfile %d 0 R>>",
		kind, textString(name), textString(name), profile)}), nil
}

// CheckProfile reports why a colour profile cannot be the output intent. The
// archive takes monitor and printer classes; the press takes printer profiles
// for CMYK (ISO 15930-7).
func CheckProfile(icc []byte, archive bool) error {
	if len(icc) < 132 || string(icc[36:40]) != "acsp" {
		return fmt.Errorf("the colour profile is not an ICC profile")
	}
	class, space := string(icc[12:16]), string(icc[16:20])
	if archive && class != "mntr" && class != "prtr" {
		return fmt.Errorf("the colour profile is of class %q; an output profile is wanted", class)
	}
	if !archive && (class != "prtr" || space != "CMYK") {
		return fmt.Errorf("the colour profile is %q for %q; the printer’s own profile for his press is wanted (class prtr, CMYK)", class, strings.TrimSpace(space))
	}
	return nil
}

// textString writes a text string: plain for ASCII, else UTF-16 (PDF
// 32000-1:2008, 7.9.2.2).
func textString(s string) string {
	plain := true
	for _, r := range s {
		plain = plain && r >= ' ' && r <= '~' && r != '(' && r != ')' && r != '\\'
	}
	if plain {
		return "(" + s + ")"
	}
	b := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u>>8), byte(u))
	}
	return "<" + hex.EncodeToString(b) + ">"
}

// metadata writes the XMP packet (ISO 16684-1; the identification schema of
// ISO 19005-2, 6.6.4).
func metadata(o Options) []byte {
	date := o.Created.UTC().Format(time.RFC3339)
	standard := "<pdfaid:part>2</pdfaid:part><pdfaid:conformance>B</pdfaid:conformance>"
	switch {
	case o.exchange():
		standard = "<pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion><pdf:Trapped>False</pdf:Trapped>" +
			"<xmpMM:DocumentID>uuid:" + documentID(o) + "</xmpMM:DocumentID><xmpMM:VersionID>1</xmpMM:VersionID><xmpMM:RenditionClass>default</xmpMM:RenditionClass>"
	case !o.Archive:
		standard = ""
	}
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" ` +
		`xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" ` +
		`xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/">
` + standard + "\n<dc:format>application/pdf</dc:format>\n")
	fmt.Fprintf(&b, "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:title>\n", xmlText(o.Title))
	if o.Author != "" {
		fmt.Fprintf(&b, "<dc:creator><rdf:Seq><rdf:li>%s</rdf:li></rdf:Seq></dc:creator>\n", xmlText(o.Author))
	}
	if o.Subject != "" {
		fmt.Fprintf(&b, "<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">%s</rdf:li></rdf:Alt></dc:description>\n", xmlText(o.Subject))
	}
	fmt.Fprintf(&b, "<dc:language><rdf:Bag><rdf:li>%s</rdf:li></rdf:Bag></dc:language>\n", xmlText(o.Language))
	fmt.Fprintf(&b, "<xmp:CreateDate>%s</xmp:CreateDate><xmp:ModifyDate>%s</xmp:ModifyDate><xmp:MetadataDate>%s</xmp:MetadataDate>\n", date, date, date)
	fmt.Fprintf(&b, "<xmp:CreatorTool>%s</xmp:CreatorTool><pdf:Producer>%s</pdf:Producer>\n", program, program)
	b.WriteString("</rdf:Description></rdf:RDF></x:xmpmeta>\n")
	b.WriteString(strings.Repeat(strings.Repeat(" ", 99)+"\n", 20))
	b.WriteString(`<?xpacket end="w"?>`)
	return []byte(b.String())
}

// xmlText escapes text for XML 1.0; characters XML forbids are left out.
func xmlText(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r < ' ' || r == 0xFFFE || r == 0xFFFF || r == 0xFFFD:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
