package lido

import (
	"bytes"
	"encoding/xml"
	"strings"
	"testing"
)

// FuzzCheck tries the grammar on any XML: in every record that is accepted, the
// standard library's reader finds by itself what the schema makes mandatory.
func FuzzCheck(f *testing.F) {
	f.Add([]byte(example(f)))
	f.Add([]byte(`<lido xmlns="http://www.lido-schema.org"/>`))
	f.Add([]byte(`<l:lidoWrap xmlns:l="http://www.lido-schema.org"><l:lido><l:lidoRecID l:type="x">1</l:lidoRecID></l:lido></l:lidoWrap>`))
	f.Fuzz(func(t *testing.T, doc []byte) {
		found, records := Check(bytes.NewReader(doc))
		if records == 0 && len(found) == 0 {
			t.Fatal("nothing was read and nothing found")
		}
		if len(found) > 0 {
			for _, s := range found {
				if !strings.HasSuffix(s, ".") {
					t.Fatalf("no sentence: %q", s)
				}
			}
			return
		}
		var file struct {
			XMLName xml.Name
			Records []struct {
				ID    []string `xml:"http://www.lido-schema.org lidoRecID"`
				Works []struct {
					Type  []struct{} `xml:"http://www.lido-schema.org objectClassificationWrap>objectWorkTypeWrap>objectWorkType"`
					Title []string   `xml:"http://www.lido-schema.org objectIdentificationWrap>titleWrap>titleSet>appellationValue"`
				} `xml:"http://www.lido-schema.org descriptiveMetadata"`
				Admin []struct {
					Source []struct{} `xml:"http://www.lido-schema.org recordWrap>recordSource"`
					Type   []struct{} `xml:"http://www.lido-schema.org recordWrap>recordType"`
					ID     []string   `xml:"http://www.lido-schema.org recordWrap>recordID"`
				} `xml:"http://www.lido-schema.org administrativeMetadata"`
			} `xml:"http://www.lido-schema.org lido"`
		}
		text := doc
		if !bytes.Contains(doc, []byte("lidoWrap")) {
			text = []byte("<wrap>" + string(bytes.TrimPrefix(doc, []byte(xml.Header))) + "</wrap>")
		}
		if err := xml.Unmarshal(text, &file); err != nil {
			return // a declaration within, which the wrapping here does not allow
		}
		for _, r := range file.Records {
			ok := len(r.ID) > 0 && len(r.Works) > 0 && len(r.Admin) > 0
			for _, w := range r.Works {
				ok = ok && len(w.Type) > 0 && len(w.Title) > 0
			}
			for _, a := range r.Admin {
				ok = ok && len(a.Source) > 0 && len(a.Type) == 1 && len(a.ID) > 0
			}
			if !ok {
				t.Fatalf("accepted, but it lacks something: %+v", r)
			}
		}
	})
}
