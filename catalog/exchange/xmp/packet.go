package xmp

import (
	"encoding/xml"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/notation"
)

// Fields are what a picture file says of the print it shows. Empty fields are
// left out.
type Fields struct {
	Title       string // AOTitle
	Creator     string // AOCreator
	Date        string // AODateCreated, yyyy, yyyy-mm or yyyy-mm-dd
	Circa       string // AOCircaDateCreated, in words, where the date is not exact
	Source      string // AOSource, who holds the sheet
	Inventory   string // AOSourceInvNo
	Copyright   string // AOCopyrightNotice
	Description string // AOPhysicalDescription: technique, size, state, number
	Content     string // AOContentDescription: what is shown
	Credit      string // photoshop:Credit, of the photograph
}

// For gathers the fields of a photograph from the catalogue. A private holder
// is not named. A photograph that is not filed says only its credit.
func For(c *entry.Catalogue, photo *catalog.Photograph) Fields {
	im := c.Impression(photo.ImpressionID)
	if im == nil || c.Plate(im.PlateID) == nil {
		return Fields{Credit: photo.Credit}
	}
	p := c.Plate(im.PlateID)
	f := Fields{Title: c.Title(p), Copyright: c.Snap.Imprint.Rights, Credit: photo.Credit, Content: strings.Join(p.Subjects, ", ")}
	if r := c.Person(p.MakerID); r != nil {
		f.Creator = r.Name
	}
	f.Date, f.Circa = dates(p.Date)
	if c.Public(im.HolderID) {
		f.Source, f.Inventory = c.HolderText(im.HolderID), im.Inventory
	}
	state := c.State(im.StateID)
	stateText := c.StateText(state)
	if stateText != "" && stateText != "only state" {
		stateText = "state " + stateText
	}
	var parts []string
	for _, s := range []string{entry.TechniqueText(c.Techniques(p, state)), entry.DimensionsText(p, im), stateText, c.SheetEditionText(im)} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	f.Description = strings.Join(parts, "; ")
	return f
}

// dates gives an exact date, or words where it is not exact: the standard
// keeps the two in fields of their own.
func dates(d catalog.Date) (exact, circa string) {
	e, err := notation.ParseEDTF(d.EDTF)
	if err == nil && e.Level() == 0 && e.Form() == notation.FormDate && len(d.EDTF) <= 10 {
		return d.EDTF, ""
	}
	return "", entry.DateText(d)
}

// Namespaces of the properties written.
const (
	rdfSpace  = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
	iptcSpace = "http://iptc.org/std/Iptc4xmpExt/2008-02-29/"
	shopSpace = "http://ns.adobe.com/photoshop/1.0/"
)

// description writes the fields as one rdf:Description.
func (f Fields) description() string {
	var b strings.Builder
	b.WriteString(`<rdf:Description rdf:about="" xmlns:Iptc4xmpExt="` + iptcSpace + `" xmlns:photoshop="` + shopSpace + `">`)
	if f.Credit != "" {
		b.WriteString("<photoshop:Credit>" + escape(f.Credit) + "</photoshop:Credit>")
	}
	b.WriteString(`<Iptc4xmpExt:ArtworkOrObject><rdf:Bag><rdf:li rdf:parseType="Resource">`)
	plain := func(name, text string) {
		if text != "" {
			b.WriteString("<Iptc4xmpExt:" + name + ">" + escape(text) + "</Iptc4xmpExt:" + name + ">")
		}
	}
	alt := func(name, text string) {
		if text != "" {
			b.WriteString("<Iptc4xmpExt:" + name + `><rdf:Alt><rdf:li xml:lang="x-default">` + escape(text) + "</rdf:li></rdf:Alt></Iptc4xmpExt:" + name + ">")
		}
	}
	alt("AOTitle", f.Title)
	if f.Creator != "" {
		b.WriteString("<Iptc4xmpExt:AOCreator><rdf:Seq><rdf:li>" + escape(f.Creator) + "</rdf:li></rdf:Seq></Iptc4xmpExt:AOCreator>")
	}
	plain("AODateCreated", f.Date)
	plain("AOCircaDateCreated", f.Circa)
	plain("AOSource", f.Source)
	plain("AOSourceInvNo", f.Inventory)
	plain("AOCopyrightNotice", f.Copyright)
	alt("AOPhysicalDescription", f.Description)
	alt("AOContentDescription", f.Content)
	b.WriteString("</rdf:li></rdf:Bag></Iptc4xmpExt:ArtworkOrObject></rdf:Description>")
	return b.String()
}

// packet is a whole XMP packet (ISO 16684-1, 7.3) around a description.
func (f Fields) packet() string {
	return "<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="` + rdfSpace + `">` + f.description() + "</rdf:RDF></x:xmpmeta>\n" +
		`<?xpacket end="w"?>`
}

// joined puts the fields into a packet that is there already, keeping what it
// says. ok is false when the packet says something of the same things, or is
// not understood: then it is to be replaced.
func (f Fields) joined(old string) (packet string, ok bool) {
	i := strings.LastIndex(old, "</rdf:RDF>")
	if i < 0 || strings.Contains(old, "ArtworkOrObject") || strings.Contains(old, "photoshop:Credit") || !wellFormed(old) {
		return "", false
	}
	return old[:i] + f.description() + old[i:], true
}

func wellFormed(s string) bool {
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := d.Token(); err != nil {
			return err.Error() == "EOF"
		}
	}
}

// escape writes a text for XML, without what XML 1.0 cannot hold.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\t' && r != '\n' && r != '\r' || r == 0xfffe || r == 0xffff || r == 0xfffd {
			return -1
		}
		return r
	}, s)
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "\r", "&#13;").Replace(s)
}
