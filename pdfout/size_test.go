package pdfout

import (
	"context"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/pdfout/display"
)

// corner returns where a point of a picture's unit square lies on the page.
func corner(p *display.Picture, u, v float64) (x, y float64) {
	return p.To[0]*u + p.To[2]*v + p.To[4], p.To[1]*u + p.To[3]*v + p.To[5]
}

// TestActualSize measures the plate on the page: from corner to corner, where
// the caption says actual size, it must have the catalogue's millimetres to
// 0.1 mm; elsewhere the stated percentage.
func TestActualSize(t *testing.T) {
	snap, pic := theSample(t)
	doc, _, err := LayBook(context.Background(), snap, BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	photos := map[string]catalog.Photograph{}
	for _, p := range snap.Photographs {
		photos[string(p.ID)] = p
	}
	actual, reduced := 0, 0
	for _, page := range doc.Pages {
		text := pageText(page)
		for _, it := range page.Items {
			p, ok := it.(*display.Picture)
			if !ok {
				continue
			}
			id := strings.TrimSuffix(filepath.Base(p.Path), ".jpg")
			ph := photos[id]
			size := plateOfPhoto(snap, ph).Mark
			var c [4][2]float64
			for k, q := range ph.Mark {
				c[k][0], c[k][1] = corner(p, (q[0]+.5)/float64(ph.WidthPX), (q[1]+.5)/float64(ph.HeightPX))
			}
			w := math.Hypot(c[1][0]-c[0][0], c[1][1]-c[0][1]) * 25.4 / 72
			h := math.Hypot(c[3][0]-c[0][0], c[3][1]-c[0][1]) * 25.4 / 72
			if m := regexp.MustCompile(`(\d+) ?% of actual size`).FindStringSubmatch(strings.ReplaceAll(text, "\u00a0", " ")); m != nil {
				k, _ := strconv.ParseFloat(m[1], 64)
				if math.Abs(w/size.WidthMM*100-k) > .51 || math.Abs(h/size.HeightMM*100-k) > .51 {
					continue // a detail on the same page has another scale
				}
				reduced++
				continue
			}
			if strings.Contains(text, "actual size") {
				if math.Abs(w-size.WidthMM) > .1 || math.Abs(h-size.HeightMM) > .1 {
					if w > size.WidthMM*1.01 || w < size.WidthMM*.99 {
						continue // a detail on the same page
					}
					t.Errorf("%s: %.2f x %.2f mm on the page, the plate has %.2f x %.2f", id, h, w, size.HeightMM, size.WidthMM)
				}
				actual++
			}
		}
	}
	if actual < 4 || reduced < 2 {
		t.Errorf("only %d pictures at actual size and %d reduced were checked", actual, reduced)
	}
}

// plateOfPhoto finds the plate a photograph shows.
func plateOfPhoto(s *catalog.Snapshot, ph catalog.Photograph) catalog.Plate {
	for _, im := range s.Impressions {
		if im.ID != ph.ImpressionID {
			continue
		}
		for _, p := range s.Plates {
			if p.ID == im.PlateID {
				return p
			}
		}
	}
	return catalog.Plate{}
}

// pageText joins the words of a page.
func pageText(p *display.Page) string {
	var b strings.Builder
	for _, it := range p.Items {
		if t, ok := it.(*display.Text); ok {
			for _, w := range t.Words {
				b.WriteString(w.Run.Text + " ")
			}
		}
	}
	return b.String()
}

// TestActualSizeInTheFile places a rectified plate and reads its size out of
// the written file.
func TestActualSizeInTheFile(t *testing.T) {
	snap, pic := theSample(t)
	one := *snap
	one.Plates = []catalog.Plate{snap.Plates[1]}
	path := filepath.Join(t.TempDir(), "one.pdf")
	_, err := WriteBook(context.Background(), path, &one, BookOptions{Picture: pic, Plate: pic, Parts: []Part{{Kind: "the plates"}}})
	if err != nil {
		t.Fatal(err)
	}
	f := readPDF(t, path)
	found := false
	cm := regexp.MustCompile(`([-0-9.]+) ([-0-9.]+) ([-0-9.]+) ([-0-9.]+) [-0-9.]+ [-0-9.]+ cm`)
	for _, p := range f.pages() {
		for _, m := range cm.FindAllSubmatch(f.bytes(t, p["Contents"]), -1) {
			w, _ := strconv.ParseFloat(string(m[1]), 64)
			h, _ := strconv.ParseFloat(string(m[4]), 64)
			w, h = w*25.4/72, h*25.4/72
			if math.Abs(w-110) < .1 && math.Abs(h-150) < .1 {
				found = true
			}
		}
	}
	if !found {
		t.Error("no picture in the file has the plate’s 150 x 110 mm")
	}
}

// TestCoarsePicturesAreWarnedOf: at 4.5 pixels a millimetre a picture at actual
// size has 114 ppi; at 9 it has 229.
func TestCoarsePicturesAreWarnedOf(t *testing.T) {
	snap, pic := theSample(t)
	one := *snap
	one.Plates = []catalog.Plate{snap.Plates[4]}
	one.States = nil
	for _, st := range snap.States {
		if st.PlateID == one.Plates[0].ID && st.N == 1 {
			one.States = append(one.States, st)
		}
	}
	for _, c := range []struct {
		pxPerMM float64
		warned  bool
	}{{4.5, true}, {9, false}} {
		dir := t.TempDir()
		photo := one.States[0].ReferencePhotoID
		w, h, mark := sheetPicture(t, filepath.Join(dir, string(photo)+".jpg"), one.Plates[0].Mark, 1, 0, c.pxPerMM)
		one.Photographs = append([]catalog.Photograph(nil), snap.Photographs...)
		for i := range one.Photographs {
			if p := &one.Photographs[i]; p.ID == photo {
				p.WidthPX, p.HeightPX, p.Mark = w, h, mark
			}
		}
		_, warnings, err := LayBook(context.Background(), &one, BookOptions{Parts: []Part{{Kind: "the plates"}},
			Picture: func(id catalog.ID) (string, error) { return filepath.Join(dir, string(id)+".jpg"), nil }})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(warnings, " "), "ppi"); got != c.warned {
			t.Errorf("at %.1f pixels a millimetre: warned %v, want %v (%v)", c.pxPerMM, got, c.warned, warnings)
		}
	}
	_ = pic
}

// TestPageBoxes compares the trimmed page of each format with its millimetres
// (1 mm = 72/25.4 pt).
func TestPageBoxes(t *testing.T) {
	snap, _ := theSample(t)
	for _, format := range Formats() {
		path := filepath.Join(t.TempDir(), "page.pdf")
		if _, err := WriteBook(context.Background(), path, snap, BookOptions{Format: format, Parts: []Part{{Kind: "half-title"}}}); err != nil {
			t.Fatal(err)
		}
		f := readPDF(t, path)
		p := f.pages()[0]
		box, _ := p["MediaBox"].([]any)
		if box == nil {
			box = f.dict(p["Parent"])["MediaBox"].([]any)
		}
		if math.Abs(box[2].(float64)-format.Width*72/25.4) > .01 || math.Abs(box[3].(float64)-format.Height*72/25.4) > .01 {
			t.Errorf("%s: the page is %v", format.Name, box)
		}
	}
}
