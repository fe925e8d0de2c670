package xmp

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

func picture(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	img := image.NewGray(image.Rect(0, 0, 40, 30))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * 7)
	}
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// packetOf returns the XMP packet of a JPEG file and the file without it.
func packetOf(t *testing.T, file []byte) (packet string, without []byte) {
	t.Helper()
	i := bytes.Index(file, xmpMark)
	if i < 4 {
		t.Fatal("there is no packet")
	}
	n := int(file[i-2])<<8 | int(file[i-1])
	return string(file[i+len(xmpMark) : i-2+n]), append(append([]byte{}, file[:i-4]...), file[i-2+n:]...)
}

func TestCopy(t *testing.T) {
	c := entry.New(specimen.Snapshot())
	f := For(c, &c.Snap.Photographs[2])
	f.Title += " & <more> “é”"
	src := picture(t)
	var out bytes.Buffer
	if err := Copy(&out, bytes.NewReader(src), f); err != nil {
		t.Fatal(err)
	}
	packet, without := packetOf(t, out.Bytes())
	if !bytes.Equal(without, src) {
		t.Error("the picture itself was changed")
	}
	if _, err := jpeg.Decode(bytes.NewReader(out.Bytes())); err != nil {
		t.Errorf("the copy cannot be read: %v", err)
	}
	var doc struct {
		RDF struct {
			Description []struct {
				Credit string `xml:"http://ns.adobe.com/photoshop/1.0/ Credit"`
				Object []struct {
					Title       string `xml:"AOTitle>Alt>li"`
					Creator     string `xml:"AOCreator>Seq>li"`
					Circa       string `xml:"AOCircaDateCreated"`
					Source      string `xml:"AOSource"`
					Inventory   string `xml:"AOSourceInvNo"`
					Description string `xml:"AOPhysicalDescription>Alt>li"`
				} `xml:"ArtworkOrObject>Bag>li"`
			} `xml:"Description"`
		} `xml:"http://www.w3.org/1999/02/22-rdf-syntax-ns# RDF"`
	}
	if err := xml.Unmarshal([]byte(packet), &doc); err != nil {
		t.Fatal(err)
	}
	o := doc.RDF.Description[0].Object[0]
	if o.Title != f.Title || o.Creator != "Ada Marrin" || o.Circa != "spring 2025" || o.Source != "Saltgate Town Museum, Saltgate" && o.Source != "Saltgate Town Museum" || o.Inventory != "1989.4" ||
		o.Description != "Etching and drypoint; Plate 150 x 100 mm; sheet 280 x 190 mm; state II/II; 7/30 (edition of 30, plus 3 artist's proofs)" {
		t.Errorf("the packet says %+v", o)
	}
}

// A second copy says the same once; other metadata survives.
func TestCopyKeepsOtherMetadata(t *testing.T) {
	src := picture(t)
	exif := segment(0xe1, append(bytes.Clone(exifMark), "made up"...))
	colour := segment(0xe2, []byte("ICC_PROFILE\x00made up"))
	other := `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="` + rdfSpace + `"><rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmp:Rating="4"/></rdf:RDF></x:xmpmeta>`
	full := append(append(append(append([]byte{0xff, 0xd8}, exif...), segment(0xe1, append(bytes.Clone(xmpMark), other...))...), colour...), src[2:]...)
	var once, twice bytes.Buffer
	if err := Copy(&once, bytes.NewReader(full), Fields{Title: "The Weir"}); err != nil {
		t.Fatal(err)
	}
	if err := Copy(&twice, bytes.NewReader(once.Bytes()), Fields{Title: "The Weir again"}); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string][]byte{"EXIF": exif, "the colour profile": colour, "the picture": src[len(src)-200:], "the rating": []byte(`xmp:Rating="4"`)} {
		if !bytes.Contains(once.Bytes(), want) {
			t.Errorf("%s is lost", name)
		}
	}
	if n := bytes.Count(twice.Bytes(), xmpMark); n != 1 {
		t.Errorf("%d packets", n)
	}
	if !bytes.Contains(twice.Bytes(), []byte("The Weir again")) || bytes.Count(twice.Bytes(), []byte("<Iptc4xmpExt:ArtworkOrObject>")) != 1 {
		t.Error("the newer description does not stand alone")
	}
}

func TestCopyRefuses(t *testing.T) {
	long := Fields{Title: strings.Repeat("x", 70000)}
	for name, c := range map[string]struct {
		src []byte
		f   Fields
	}{"png": {[]byte("\x89PNG\r\n\x1a\n"), Fields{}}, "empty": {nil, Fields{}}, "cut off": {[]byte("\xff\xd8\xff\xe0\x00\x10JFIF"), Fields{}}, "too long": {picture(t), long}} {
		if err := Copy(&bytes.Buffer{}, bytes.NewReader(c.src), c.f); err == nil {
			t.Errorf("%s is not refused", name)
		}
	}
}

// ExifTool, an independent reader of metadata, must find the fields.
func TestExifTool(t *testing.T) {
	tool, err := exec.LookPath("exiftool")
	if err != nil {
		t.Skip("ExifTool is not here; the fields were not read back by it")
	}
	name := filepath.Join(t.TempDir(), "weir.jpg")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := Copy(f, bytes.NewReader(picture(t)), Fields{Title: "The Weir", Creator: "Ada Marrin", Date: "2025-03", Inventory: "1989.4", Credit: "Saltgate Press"}); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-json", "-validate", "-warning", "-xmp:all", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []map[string]any
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	for tag, want := range map[string]string{"ArtworkTitle": "The Weir", "ArtworkCreator": "Ada Marrin", "ArtworkSourceInventoryNo": "1989.4", "Credit": "Saltgate Press", "ArtworkDateCreated": "2025:03"} {
		if v := fmt.Sprint(got[0][tag]); v != want {
			t.Errorf("%s is %v, want %q", tag, got[0][tag], want)
		}
	}
	if w, ok := got[0]["Warning"]; ok {
		t.Errorf("ExifTool warns: %v", w)
	}
}

func FuzzCopy(f *testing.F) {
	f.Add(picture(f), "title")
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x02"), "")
	f.Fuzz(func(t *testing.T, src []byte, title string) {
		var out bytes.Buffer
		if err := Copy(&out, bytes.NewReader(src), Fields{Title: title}); err != nil {
			return
		}
		packet, without := packetOf(t, out.Bytes())
		if !wellFormed(packet) {
			t.Fatalf("the packet is not well-formed: %q", packet)
		}
		if !bytes.HasSuffix(out.Bytes(), src[afterSegments(src):]) {
			t.Fatal("the picture itself was changed")
		}
		// A copy of the copy is the same but for the packet.
		var twice bytes.Buffer
		if err := Copy(&twice, bytes.NewReader(out.Bytes()), Fields{Title: title}); err != nil {
			t.Fatalf("the copy is refused: %v", err)
		}
		if _, again := packetOf(t, twice.Bytes()); !bytes.Equal(again, without) {
			t.Fatal("the second copy changed more than the packet")
		}
	})
}

// afterSegments is where the application data and comments of a JPEG file end,
// and the fill after them.
func afterSegments(file []byte) int {
	for at := 2; at+1 < len(file); {
		switch m := file[at+1]; {
		case file[at] != 0xff:
			return at
		case m == 0xff:
			at++
		case (m >= 0xe0 && m <= 0xef || m == 0xfe) && at+4 <= len(file):
			at += 2 + int(file[at+2])<<8 + int(file[at+3])
		default:
			return at
		}
	}
	return len(file)
}
