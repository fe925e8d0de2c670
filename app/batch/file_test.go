package batch

import (
	"bytes"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/app/studio"
	"pullbook/assets/sample"
)

// A new photograph of a known sheet is recognised by plate and state and filed
// as a new sheet, since every sheet of that state has its photograph; a text
// file is refused; a second time everything is known.
func TestFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sample.pullbook")
	if _, stderr, code := run("sample", dir); code != exitDone {
		t.Fatalf("sample: exit %d: %s", code, stderr)
	}
	b, err := sample.Photographs.ReadFile("photographs/mill-004.jpg")
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	in := t.TempDir()
	var again bytes.Buffer
	if err := jpeg.Encode(&again, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"again.jpg": again.Bytes(), "known.jpg": b, "broken.jpg": []byte("\xff\xd8\xff nothing")} {
		if err := os.WriteFile(filepath.Join(in, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, stderr, code := run("file", in, "--catalogue", dir)
	if code != exitShort {
		t.Errorf("exit %d, want %d for the broken file: %s", code, exitShort, stderr)
	}
	for _, want := range []string{"filed    again.jpg: a new sheet, by recognised", "Drainage Mill, Maren Marsh, state II", "already  mill-004.jpg", "refused  ", "broken.jpg", "1 filed, 1 filed before, 0 left for you, 1 refused"} {
		if !strings.Contains(out, want) {
			t.Errorf("the report lacks %q:\n%s", want, out)
		}
	}
	out, _, _ = run("file", filepath.Join(in, "again.jpg"), filepath.Join(in, "known.jpg"), "--catalogue", dir)
	if !strings.Contains(out, "0 filed, 2 filed before") {
		t.Errorf("the second time:\n%s", out)
	}
	if out, stderr, code := run("verify", "--catalogue", dir); code != exitDone {
		t.Errorf("verify after filing: %s%s", out, stderr)
	}
}

// A HEIC photograph of a phone is refused with what to do about it: how to set
// the phone to JPEG. (ISO/IEC 23008-12, brand heic in the ftyp box.)
func TestFileRefusesHEIC(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new.pullbook")
	s, err := studio.Create(dir, studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	in := t.TempDir()
	if err := os.WriteFile(filepath.Join(in, "IMG_0001.HEIC"), []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic and more"), 0o644); err != nil {
		t.Fatal(err)
	}
	out, _, code := run("file", in, "--catalogue", dir)
	if code != exitShort {
		t.Errorf("exit %d, want %d", code, exitShort)
	}
	for _, want := range []string{"refused  ", "IMG_0001.HEIC", "In the phone's settings go to the camera", "choose JPEG", "0 filed, 0 filed before, 0 left for you, 1 refused"} {
		if !strings.Contains(out, want) {
			t.Errorf("the report lacks %q:\n%s", want, out)
		}
	}
}

func TestPlace(t *testing.T) {
	dir := photos(t)
	at := func(name string) string { return filepath.Join(dir, name) }
	out, stderr, code := run("place", "--json", at("quay-pull-030.jpg"), at("quay-state-2-pull-020.jpg"), at("awkward/text.jpg"),
		"--plate-mm", "100x140", "--state", at("quay-reference.jpg"), "--state", at("quay-state-2-pull-002.jpg"))
	if code != exitShort {
		t.Errorf("exit %d, want %d for the text file: %s", code, exitShort, stderr)
	}
	var doc placeDocument
	oneJSON(t, out, &doc)
	if len(doc.Impressions) != 3 {
		t.Fatalf("%d placed, want 3", len(doc.Impressions))
	}
	for i, want := range []int{1, 2} {
		j := doc.Impressions[i]
		if j.State == nil || *j.State != want {
			t.Errorf("%s: state %v, the truth is %d (%s)", filepath.Base(j.Photo), j.State, want, j.Reason)
		}
		if j.Order == nil {
			t.Errorf("%s: no order", filepath.Base(j.Photo))
		}
	}
	if j := doc.Impressions[2]; j.State != nil || j.Order != nil || j.Reason == "" {
		t.Errorf("a text file was placed: %+v", j)
	}
}
