package pdfout

import (
	"bytes"
	"context"
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// tool runs a program of another make over a file; the test is skipped where
// it is not installed.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed", name)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func TestQpdfFindsNoFault(t *testing.T) {
	theSample(t)
	if out := tool(t, "qpdf", "--check", sample.pdf); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Errorf("qpdf says: %s", out)
	}
}

func TestEveryFontIsEmbeddedSubsetAndMapped(t *testing.T) {
	theSample(t)
	lines := strings.Split(strings.TrimSpace(tool(t, "pdffonts", sample.pdf)), "\n")
	if len(lines) < 5 {
		t.Fatalf("pdffonts lists %d lines", len(lines))
	}
	for _, l := range lines[2:] {
		if !regexp.MustCompile(`Identity-H\s+yes yes yes`).MatchString(l) {
			t.Errorf("font not embedded, subset or mapped to text: %s", l)
		}
	}
}

// TestTextIsFound extracts the text with another program: every title, words
// with ligatures, letters with marks, and the numbers in reading order.
func TestTextIsFound(t *testing.T) {
	snap, _ := theSample(t)
	text := tool(t, "pdftotext", sample.pdf, "-")
	flat := strings.Join(strings.Fields(text), " ")
	for _, p := range snap.Plates {
		if !strings.Contains(flat, p.Title()) {
			t.Errorf("the title %q is not found", p.Title())
		}
	}
	for _, w := range []string{"affable", "office", "first edition", "unfinished", "reflections", "Fährmanns", "Šípková", "πορθμός", "Старая"} {
		if !strings.Contains(flat, w) {
			t.Errorf("%q is not found", w)
		}
	}
	at := -1
	for _, w := range []string{"Notes to the reader", "Before the clouds", "Concordances", "Index of titles", "Composed by Pullbook"} {
		i := strings.LastIndex(flat, w)
		if i <= at {
			t.Errorf("%q does not come in reading order", w)
		}
		at = i
	}
}

// TestSameBytesTwice writes the book twice; maps and clocks must not show.
func TestSameBytesTwice(t *testing.T) {
	snap, pic := theSample(t)
	var sums [2][32]byte
	for i := range sums {
		var b bytes.Buffer
		if _, err := WriteBookTo(context.Background(), &b, snap, BookOptions{Picture: pic, Parts: []Part{{Kind: "title page"}, {Kind: "the plates"}, {Kind: "index of titles"}}}); err != nil {
			t.Fatal(err)
		}
		sums[i] = sha256.Sum256(b.Bytes())
	}
	if sums[0] != sums[1] {
		t.Error("the same catalogue gave different bytes")
	}
	data, err := os.ReadFile(sample.pdf)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if _, err := WriteBookTo(context.Background(), &b, snap, BookOptions{Picture: pic}); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, b.Bytes()) {
		t.Error("the whole book differs from the one written before")
	}
}

// TestPicturesAreUntouched takes the pictures out again and compares them.
func TestPicturesAreUntouched(t *testing.T) {
	theSample(t)
	f := readPDF(t, sample.pdf)
	want := map[[32]byte]bool{}
	files, err := filepath.Glob(filepath.Join(sample.dir, "photo*.jpg"))
	if err != nil || len(files) == 0 {
		t.Fatal("no pictures", err)
	}
	for _, p := range files {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		want[sha256.Sum256(data)] = true
	}
	n := 0
	for _, o := range f.objects {
		if s, ok := o.(*pdfStream); ok && s.dict["Subtype"] == pdfName("Image") {
			n++
			if !want[sha256.Sum256(s.raw)] {
				t.Error("a picture in the file is not one of the files given")
			}
		}
	}
	if n != len(files) {
		t.Errorf("%d pictures in the file, %d given", n, len(files))
	}
}

func TestPageLabelsAndOutline(t *testing.T) {
	theSample(t)
	f := readPDF(t, sample.pdf)
	root := f.dict(f.trailer["Root"])
	nums, _ := f.dict(root["PageLabels"])["Nums"].([]any)
	if len(nums) < 4 || f.dict(nums[1])["S"] != pdfName("r") || f.dict(nums[3])["S"] != pdfName("D") {
		t.Errorf("page labels are %v", nums)
	}
	titles := map[string]bool{}
	var walk func(v any, depth int)
	walk = func(v any, depth int) {
		for d := f.dict(v); d != nil; d = f.dict(d["Next"]) {
			s := d["Title"].(pdfStr)
			var text []rune
			if len(s) > 2 && s[0] == 0xFE {
				for i := 2; i+1 < len(s); i += 2 {
					text = append(text, rune(s[i])<<8|rune(s[i+1]))
				}
			}
			titles[string(text)] = true
			if depth > 3 {
				t.Fatal("the outline is deeper than it should be")
			}
			walk(d["First"], depth+1)
			if d["Next"] == nil {
				break
			}
		}
	}
	walk(f.dict(root["Outlines"])["First"], 0)
	for _, w := range []string{"Contents", "The plates", "1  Harbour wall", "8  Ὁ πορθμός"} {
		if !titles[w] {
			t.Errorf("the outline has no %q: %v", w, titles)
		}
	}
}
