package pdfout

import (
	"context"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pullbook/catalog"
)

// printerProfile is a CMYK printer profile of another package, where it is
// installed.
const printerProfile = "/usr/share/color/icc/ghostscript/default_cmyk.icc"

// TestForThePrinter checks boxes, inks and marks of the printer's file: boxes
// nested, 3 mm of bleed (common practice), text on the black plate alone,
// pictures with a profile of their own, no links.
func TestForThePrinter(t *testing.T) {
	snap, pic := theSample(t)
	o := BookOptions{Picture: pic, PrintOptions: PrintOptions{Preset: ForThePrinter}}
	intent := false
	if _, err := os.Stat(printerProfile); err == nil {
		o.ProfilePath, o.ProfileName, intent = printerProfile, "Custom CMYK", true
	}
	path := filepath.Join(t.TempDir(), "printer.pdf")
	rep, err := WriteBook(context.Background(), path, snap, o)
	if err != nil {
		t.Fatal(err)
	}
	keep(t, path, "printer.pdf")
	if warned := strings.Contains(strings.Join(rep.Warnings, " "), "profile"); warned == intent {
		t.Errorf("profile given %v, warnings %v", intent, rep.Warnings)
	}
	f := readPDF(t, path)
	mm := 72 / 25.4
	black := false
	for i, p := range f.pages() {
		media, _ := p["MediaBox"].([]any)
		if media == nil {
			media = f.dict(p["Parent"])["MediaBox"].([]any)
		}
		box := func(k pdfName) (b [4]float64) {
			list, ok := p[k].([]any)
			if !ok {
				t.Fatalf("page %d has no %s", i+1, k)
			}
			for n := range b {
				b[n] = list[n].(float64)
			}
			return b
		}
		trim, bleed := box("TrimBox"), box("BleedBox")
		if math.Abs(trim[2]-trim[0]-230*mm) > .02 || math.Abs(trim[3]-trim[1]-300*mm) > .02 {
			t.Fatalf("page %d: the trim is %v", i+1, trim)
		}
		for n := range 2 {
			if math.Abs(trim[n]-bleed[n]-3*mm) > .02 || math.Abs(bleed[n+2]-trim[n+2]-3*mm) > .02 || bleed[n] < 0 || bleed[n+2] > media[n+2].(float64) {
				t.Fatalf("page %d: trim %v, bleed %v, sheet %v", i+1, trim, bleed, media)
			}
		}
		content := string(stripStrings(f.bytes(t, p["Contents"])))
		if regexp.MustCompile(`(?m)(?:^|\s)(?:rg|RG)(?:\s|$)`).MatchString(content) {
			t.Fatalf("page %d uses a colour that is no press ink", i+1)
		}
		black = black || strings.Contains(content, "0.000 0.000 0.000 1.000 k\nBT")
		if p["Annots"] != nil {
			t.Fatalf("page %d has links", i+1)
		}
		if n := strings.Count(content, " l S"); n < 8 {
			t.Fatalf("page %d has %d strokes; eight crop marks are wanted", i+1, n)
		}
	}
	if !black {
		t.Error("no text on the black plate alone was seen")
	}
	f.everyDict(func(num int, d pdfDict) {
		if d["Subtype"] == pdfName("Image") {
			if _, ok := d["ColorSpace"].([]any); !ok {
				t.Errorf("picture %d has no profile of its own: %v", num, d["ColorSpace"])
			}
		}
	})
	root := f.dict(f.trailer["Root"])
	if !intent {
		if root["OutputIntents"] != nil {
			t.Error("an output intent without a profile")
		}
		return
	}
	oi := f.dict(root["OutputIntents"].([]any)[0])
	if oi["S"] != pdfName("GTS_PDFX") || string(f.bytes(t, oi["DestOutputProfile"])[12:16]) != "prtr" {
		t.Errorf("the output intent is %v", oi)
	}
	if f.dict(f.trailer["Info"])["Trapped"] != pdfName("False") {
		t.Error("the file does not say that it is not trapped")
	}
}

// TestPrinterProfileIsRefused: sRGB or any other file is no printer's profile.
func TestPrinterProfileIsRefused(t *testing.T) {
	snap, pic := theSample(t)
	bad := filepath.Join(t.TempDir(), "bad.icc")
	if err := os.WriteFile(bad, []byte("not a profile"), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "x.pdf")
	_, err := WriteBook(context.Background(), out, snap, BookOptions{Picture: pic, PrintOptions: PrintOptions{Preset: ForThePrinter, ProfilePath: bad}})
	if err == nil || !strings.Contains(err.Error(), "bad.icc") {
		t.Errorf("error: %v", err)
	}
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(out), "*"))
	if len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestCancelling stops the work and leaves nothing behind.
func TestCancelling(t *testing.T) {
	snap, pic := theSample(t)
	ctx, cancel := context.WithCancel(context.Background())
	out := filepath.Join(t.TempDir(), "x.pdf")
	_, err := WriteBook(ctx, out, snap, BookOptions{Picture: pic, Progress: func(done, total int, what string) {
		if total != len(snap.Plates) || what == "" {
			t.Errorf("progress %d of %d, %q", done, total, what)
		}
		if done == 2 {
			cancel()
		}
	}})
	if err == nil {
		t.Error("cancelling was not noticed")
	}
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(out), "*"))
	if len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// TestCodesCanBeRead draws every label sheet and reads the codes back with the
// decoder.
func TestCodesCanBeRead(t *testing.T) {
	snap, _ := theSample(t)
	s := *snap
	s.Impressions = append([]catalog.Impression(nil), snap.Impressions[:1]...)
	s.Impressions[0].ID = "abcdefgh234567qr" // as long as a real one
	for _, sheet := range LabelSheets() {
		doc, _, err := LayLabels(context.Background(), &s, []catalog.ID{"abcdefgh234567qr"}, LabelOptions{Sheet: sheet, Start: 1})
		if err != nil {
			t.Fatal(err)
		}
		img := Preview(doc.Pages[0], 200)
		x, y := (sheet.Left+sheet.StepX)*200/25.4, sheet.Top*200/25.4
		part := img.SubImage(image.Rect(int(x), int(y), int(x+sheet.W*.42*200/25.4), int(y+sheet.H*200/25.4)))
		bmp, err := gozxing.NewBinaryBitmapFromImage(part)
		if err != nil {
			t.Fatal(err)
		}
		res, err := qrcode.NewQRCodeReader().Decode(bmp, nil)
		if err != nil {
			t.Errorf("%s: the code cannot be read: %v", sheet.Name, err)
			continue
		}
		if id, ok := ReadCode(res.GetText()); !ok || id != "abcdefgh234567qr" {
			t.Errorf("%s: the code reads %q", sheet.Name, res.GetText())
		}
	}
	if _, ok := ReadCode("anything else"); ok {
		t.Error("any text is taken for a code")
	}
}

// TestLabelsLieOnTheirSheet: no sheet's labels overlap or leave the page.
func TestLabelsLieOnTheirSheet(t *testing.T) {
	for _, s := range LabelSheets() {
		right := s.Left + float64(s.Columns-1)*s.StepX + s.W
		foot := s.Top + float64(s.Rows-1)*s.StepY + s.H
		if s.StepX < s.W-.05 || s.StepY < s.H-.05 || right > s.PageW+.1 || foot > s.PageH+.1 {
			t.Errorf("%s: ends at %.1f, %.1f", s.Name, right, foot)
		}
	}
}

// TestPreviewAgreesWithTheFile compares the preview of a page with another
// program's rendering of the written file.
func TestPreviewAgreesWithTheFile(t *testing.T) {
	snap, pic := theSample(t)
	tool(t, "pdftoppm", "-v")
	doc, _, err := LayBook(context.Background(), snap, BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{3, 14, 15} {
		root := filepath.Join(t.TempDir(), "p")
		if out, err := exec.Command("pdftoppm", "-r", "50", "-f", strconv.Itoa(n), "-l", strconv.Itoa(n), "-png", "-singlefile", sample.pdf, root).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		f, err := os.Open(root + ".png")
		if err != nil {
			t.Fatal(err)
		}
		want, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		if d := meanDifference(Preview(doc.Pages[n-1], 50), want); d > 6 {
			t.Errorf("page %d: preview and file differ by %.1f of 255 on average", n, d)
		}
	}
}

// meanDifference compares two pictures in tiles of 4 x 4 pixels, so that the
// two programs' smoothing of edges does not count.
func meanDifference(a, b image.Image) float64 {
	sum, n := 0.0, 0
	w, h := min(a.Bounds().Dx(), b.Bounds().Dx())/4, min(a.Bounds().Dy(), b.Bounds().Dy())/4
	grey := func(m image.Image, x, y int) float64 {
		t := 0.0
		for j := range 4 {
			for i := range 4 {
				r, g, bb, _ := m.At(m.Bounds().Min.X+4*x+i, m.Bounds().Min.Y+4*y+j).RGBA()
				t += float64(r+g+bb) / 3 / 257
			}
		}
		return t / 16
	}
	for y := range h {
		for x := range w {
			sum += math.Abs(grey(a, x, y) - grey(b, x, y))
			n++
		}
	}
	return sum / float64(n)
}
