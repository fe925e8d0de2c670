package pdfout

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/pdfout/display"
)

// nothingCut checks that all text and pictures of a document stand on their
// pages, and, where margin is given, within that distance of the trim.
func nothingCut(t *testing.T, doc *Document, margin float64) {
	t.Helper()
	for i, p := range doc.Pages {
		for _, it := range p.Items {
			switch it := it.(type) {
			case *display.Text:
				for _, w := range it.Words {
					x := it.X + w.X
					end := x + w.Style.RunWidth(w.Run)
					if x < margin || end > p.Width-margin || it.Y < margin || it.Y > p.Height-margin || math.IsNaN(x+end) {
						t.Logf("on the page: %.900s", pageText(p))
						t.Fatalf("page %d: %.60q stands at %.1f to %.1f, %.1f on a page of %.1f x %.1f", i+1, w.Run.Text, x, end, it.Y, p.Width, p.Height)
					}
				}
			case *display.Picture:
				if r := it.Clip; r.W > 0 && (r.X < margin-1 || r.X+r.W > p.Width-margin+1 || r.Y < margin-1 || r.Y+r.H > p.Height-margin+1) {
					t.Fatalf("page %d: a picture stands at %+v", i+1, r)
				}
			case *display.Rule:
				if math.IsNaN(it.X1 + it.Y1 + it.X2 + it.Y2) {
					t.Fatalf("page %d: a rule has no place", i+1)
				}
			}
		}
	}
}

// hostile texts: emoji and their joiners, broken UTF-8, right-to-left, towers of
// marks, control characters, marks of our own syntax, endless words.
var hostile = map[string]string{
	"emoji":         "Fishing boat 🛶 and 👩‍🚀 at U+10000 𐀀",
	"broken":        "broken \xc3\x28 \xff\xfe\xf0\x9f\x98 end",
	"right to left": "שלום עולם and مرحبا بالعالم",
	"towers":        "Z" + strings.Repeat("\u030c\u0323", 300) + "algo",
	"control":       "a\x00b\x01c\x1b[31m\u202e\u2066\u200d\ufeff d\r\n\te",
	"syntax":        "*** ** * ## - (unbalanced [brackets) \\ <hex> /Name %comment endobj stream",
	"long word":     strings.Repeat("Wortzusammensetzung", 300),
	"long text":     strings.Repeat("A title that goes on and on, ", 345),
	"soft hyphens":  strings.Repeat("\u00ad", 200) + "in\u00adta\u00adglio",
	"empty":         "",
	"blank":         " \u00a0\u2003 ",
}

// TestHostileText lays out and writes books whose every text is hostile:
// nothing panics, nothing is cut, the file is sound.
func TestHostileText(t *testing.T) {
	snap, pic := theSample(t)
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			s := spoiled(snap, text)
			for _, format := range []Format{Large, Small} {
				doc, _, err := LayBook(context.Background(), s, BookOptions{Picture: pic, Format: format})
				if err != nil {
					t.Fatal(err)
				}
				nothingCut(t, doc, 10)
				var b bytes.Buffer
				if _, err := Write(context.Background(), &b, doc, nil, PrintOptions{}); err != nil {
					t.Fatal(err)
				}
				if !bytes.HasSuffix(b.Bytes(), []byte("%%EOF\n")) {
					t.Error("the file is not whole")
				}
			}
			if _, _, err := LayRecord(context.Background(), s, s.Impressions[4].ID, RecordOptions{Picture: pic}); err != nil {
				t.Error(err)
			}
			doc, _, err := LayLabels(context.Background(), s, []catalog.ID{s.Impressions[0].ID}, LabelOptions{})
			if err != nil {
				t.Fatal(err)
			}
			nothingCut(t, doc, 0)
			if _, _, err := LayDaySheet(context.Background(), s, DaySheet{PlateID: s.Plates[0].ID, Day: time.Now()}, Format{}); err != nil {
				t.Error(err)
			}
		})
	}
}

// spoiled is a small catalogue with one text everywhere a text can stand.
func spoiled(snap *catalog.Snapshot, text string) *catalog.Snapshot {
	s := *snap
	s.Imprint = catalog.Imprint{Title: text, Subtitle: text, Author: text, Publisher: text, Place: text, Year: text, Introduction: text, Rights: text, Colophon: text, MakerID: "p1"}
	s.Plates = append([]catalog.Plate(nil), snap.Plates[:2]...)
	for i := range s.Plates {
		p := &s.Plates[i]
		p.Titles = []catalog.Title{{Text: text}, {Text: text, Given: "supplied"}}
		p.Remarks, p.Metal, p.FateNote = text, text, text
		p.Subjects, p.NotKnown = []string{text}, []string{text}
		p.Inscriptions = []catalog.Inscription{{Text: text, Place: text, Medium: text, By: text}}
		p.Techniques = []catalog.Technique{catalog.Technique(text)}
		p.Number = catalog.Number{Prefix: cutRunes(text, 40), N: 1 << 40, Suffix: cutRunes(text, 40)}
		p.Date = catalog.Date{Text: text}
		p.Literature = append(p.Literature, catalog.Citation{WorkID: "l1", Number: text, Pages: text, Note: text})
	}
	text = cutRunes(text, 700) // what repeats for every sheet is shorter
	s.States = append([]catalog.State(nil), snap.States...)
	for i := range s.States {
		s.States[i].Description, s.States[i].Remarks = text, text
	}
	s.Impressions = append([]catalog.Impression(nil), snap.Impressions...)
	for i := range s.Impressions {
		im := &s.Impressions[i]
		im.Written, im.Inventory, im.Signature, im.Condition = text, text, text, text
		im.Provenance = []catalog.Owner{{Name: text, How: text}}
	}
	s.Editions = append([]catalog.Edition(nil), snap.Editions...)
	for i := range s.Editions {
		s.Editions[i].Name, s.Editions[i].Statement, s.Editions[i].Signed = text, text, text
	}
	s.Papers = append([]catalog.Paper(nil), snap.Papers...)
	for i := range s.Papers {
		s.Papers[i].Name, s.Papers[i].Watermark, s.Papers[i].Note = text, text, text
	}
	s.Holders = append([]catalog.Holder(nil), snap.Holders...)
	for i := range s.Holders {
		s.Holders[i].Name, s.Holders[i].Short = text, text
	}
	s.Literature = append([]catalog.Literature(nil), snap.Literature...)
	for i := range s.Literature {
		s.Literature[i].Short, s.Literature[i].Title = text, text
	}
	s.Scores = append([]catalog.Score(nil), snap.Scores...)
	for i := range s.Scores {
		s.Scores[i].Reason, s.Scores[i].Method = text, text
		if i%2 == 0 {
			s.Scores[i].InkLoss, s.Scores[i].WearLoss, s.Scores[i].PlateTone = value(math.NaN(), math.Inf(1)), value(math.Inf(1), math.NaN()), value(math.Inf(-1), 1)
		}
	}
	return &s
}

// cutRunes is the first n characters of a text.
func cutRunes(s string, n int) string {
	r := []rune(s)
	return string(r[:min(n, len(r))])
}

// TestMissingCharactersAreReported: what no face has is named before export.
func TestMissingCharactersAreReported(t *testing.T) {
	snap, pic := theSample(t)
	_, warnings, err := LayBook(context.Background(), spoiled(snap, hostile["emoji"]), BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(warnings, "\n")
	for _, code := range []string{"U+1F6F6", "U+10000"} {
		if !strings.Contains(all, code) {
			t.Errorf("%s is not reported:\n%s", code, all)
		}
	}
}

// FuzzText sets any text as title and remarks of an entry. It begins with short
// texts, so that many can be tried: the long ones are TestHostileText's.
func FuzzText(f *testing.F) {
	for _, s := range hostile {
		f.Add(cutRunes(s, 80))
	}
	f.Fuzz(func(t *testing.T, text string) {
		s := &catalog.Snapshot{Imprint: catalog.Imprint{Title: text, Introduction: text},
			Plates: []catalog.Plate{{ID: "a", Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: text}}, Remarks: text}}}
		doc, _, err := LayBook(context.Background(), s, BookOptions{})
		if err != nil {
			t.Fatal(err)
		}
		nothingCut(t, doc, 10)
		var b bytes.Buffer
		if _, err := Write(context.Background(), &b, doc, nil, PrintOptions{}); err != nil {
			t.Fatal(err)
		}
	})
}

// TestEveryFormatIsWhole lays the sample out in every format: nothing is cut,
// and no text stands nearer the trim than 5 mm (common practice).
func TestEveryFormatIsWhole(t *testing.T) {
	snap, pic := theSample(t)
	for _, format := range Formats() {
		doc, _, err := LayBook(context.Background(), snap, BookOptions{Picture: pic, Format: format})
		if err != nil {
			t.Fatal(err)
		}
		nothingCut(t, doc, 5*72/25.4)
	}
}
