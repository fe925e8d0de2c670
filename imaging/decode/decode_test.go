package decode

import (
	"context"
	"encoding/binary"
	"encoding/csv"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// shared is the folder of outside material beside the module.
const shared = "../../../shared"

// material returns a path in the shared folder, or skips the test.
func material(t testing.TB, elem ...string) string {
	t.Helper()
	p := filepath.Join(append([]string{shared}, elem...)...)
	if _, err := os.Stat(p); err != nil {
		t.Skipf("outside material %s is not here", filepath.Join(elem...))
	}
	return p
}

// refusedByChoice are files another decoder can read and we say no to.
var refusedByChoice = map[string]string{
	"made_here/cmyk_plain.jpg":        "printing inks",
	"made_here/cmyk_with_profile.jpg": "printing inks",
	"made_here/palette.gif":           "GIF",
	"other_formats/pal8.bmp":          "BMP",
	"other_formats/rgb24.bmp":         "BMP",
	"other_formats/reallybig.bmp":     "BMP",
	"other_formats/badwidth.bmp":      "BMP",
	"other_formats/rgb16.bmp":         "BMP",
}

// TestDecoderSet reads every file of the set (expected.tsv: what Go's decoders
// and Pillow 9.4 make of each): a picture of the stated size or a sentence.
func TestDecoderSet(t *testing.T) {
	dir := material(t, "decoder")
	f, err := os.Open(filepath.Join(dir, "expected.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma, r.LazyQuotes = '\t', true
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	read, refused, absent := 0, 0, 0
	for _, row := range rows[1:] {
		name, want, size := row[0], row[1], row[2]
		path := filepath.Join(dir, name)
		if _, err := os.Stat(path); err != nil {
			absent++
			continue
		}
		p, err := Read(context.Background(), path)
		if err == nil {
			read++
			checkPicture(t, name, p, size)
		} else {
			refused++
			checkSentence(t, name, err)
		}
		switch why, ours := refusedByChoice[name]; {
		case ours:
			if err == nil || !strings.Contains(err.Error(), why) {
				t.Errorf("%s: want a refusal about %q, got %v", name, why, err)
			}
		case want == "ok" && size != "0x0" && err != nil:
			t.Errorf("%s: want a picture, got %v", name, err)
		case want == "too-big-by-header" && kindOf(err) != TooLarge:
			t.Errorf("%s: want too large, got %v", name, err)
		case want == "error" && err == nil:
			t.Errorf("%s: want a refusal, got a picture", name)
		}
	}
	t.Logf("%d read, %d refused, %d listed but absent", read, refused, absent)
	if read < 200 || refused < 40 {
		t.Errorf("only %d read and %d refused: is the set complete?", read, refused)
	}
}

func kindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return ""
}

func checkPicture(t *testing.T, name string, p *Picture, size string) {
	t.Helper()
	b := p.Image().Bounds()
	if b.Empty() || b.Dx() != p.Width || b.Dy() != p.Height {
		t.Errorf("%s: bounds %v, head %dx%d", name, b, p.Width, p.Height)
	}
	if got := fmt.Sprintf("%dx%d", p.Width, p.Height); got != size {
		t.Errorf("%s: size %s, want %s", name, got, size)
	}
	pix, w, h, err := p.Luminance(context.Background())
	if err != nil || len(pix) != w*h || w != p.Width {
		t.Fatalf("%s: luminance %d for %dx%d, %v", name, len(pix), w, h, err)
	}
	for _, v := range pix {
		if !(v >= -1e-4 && v <= 1.0001) {
			t.Errorf("%s: luminance %v is outside 0..1", name, v)
			break
		}
	}
	if q := p.RGBA(64); q.Bounds().Empty() || max(q.Bounds().Dx(), q.Bounds().Dy()) > 64 {
		t.Errorf("%s: proxy %v", name, q.Bounds())
	}
}

// checkSentence asks of a refusal what a printmaker needs: the file's name, a
// full sentence, something to do.
func checkSentence(t *testing.T, name string, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Errorf("%s: error is %T, want *Error", name, err)
		return
	}
	s := e.Error()
	if !strings.HasPrefix(s, filepath.Base(name)+" ") || !strings.HasSuffix(s, ".") || !strings.Contains(s, ";") {
		t.Errorf("%s: not a sentence that helps: %q", name, s)
	}
	for _, jargon := range []string{"panic", "invalid", "marker", "chunk", "EOF"} {
		if strings.Contains(s, jargon) {
			t.Errorf("%s: jargon %q in %q", name, jargon, s)
		}
	}
}

// TestUpright stands the eight turns of one print up: all equal to the first
// within 4 grey levels in the mean (decoder README); a turn of 9 is left alone.
func TestUpright(t *testing.T) {
	dir := material(t, "decoder", "made_here")
	first := upright(t, filepath.Join(dir, "print_orientation_1.jpg"))
	for i := 2; i <= 9; i++ {
		name := "print_orientation_" + strconv.Itoa(i) + ".jpg"
		if i == 9 {
			name = "orientation_invalid_9.jpg"
		}
		if d := meanDifference(first, upright(t, filepath.Join(dir, name))); d > 4 {
			t.Errorf("%s: mean difference %.2f levels", name, d)
		}
	}
	land := material(t, "decoder", "orientation")
	first = upright(t, filepath.Join(land, "Landscape_1.jpg"))
	for i := 2; i <= 8; i++ {
		if d := meanDifference(first, upright(t, filepath.Join(land, "Landscape_"+strconv.Itoa(i)+".jpg"))); d > 12 {
			// The pictures carry their own number drawn in, hence the wider bound.
			t.Errorf("Landscape_%d: mean difference %.2f levels", i, d)
		}
	}
}

func upright(t *testing.T, path string) *image.RGBA {
	t.Helper()
	p, err := Read(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return p.RGBA(0)
}

func meanDifference(a, b *image.RGBA) float64 {
	if a.Bounds() != b.Bounds() {
		return math.Inf(1)
	}
	sum := 0.0
	for i := range a.Pix {
		sum += math.Abs(float64(a.Pix[i]) - float64(b.Pix[i]))
	}
	return sum / float64(len(a.Pix)) * 4 / 3
}

// TestStandAndLay are inverse, and a corner goes where EXIF says: the first
// row and column of orientation 6 are the right side and the top.
func TestStandAndLay(t *testing.T) {
	for o := 0; o <= 9; o++ {
		i := Info{Width: 30, Height: 20, Orientation: o}
		w, h := i.Turned()
		for _, p := range [][2]float64{{0, 0}, {29, 0}, {7, 13}, {29, 19}} {
			ux, uy := i.Stand(p[0], p[1])
			if ux < 0 || uy < 0 || ux > float64(w-1) || uy > float64(h-1) {
				t.Errorf("orientation %d carries %v outside: %v %v", o, p, ux, uy)
			}
			if x, y := i.Lay(ux, uy); x != p[0] || y != p[1] {
				t.Errorf("orientation %d: %v comes back as %v %v", o, p, x, y)
			}
		}
	}
	i := Info{Width: 30, Height: 20, Orientation: 6}
	if x, y := i.Stand(0, 0); x != 19 || y != 0 {
		t.Errorf("orientation 6 carries the first pixel to %v %v, want the top right", x, y)
	}
}

// TestAwkward opens the awkward photographs: those that are no pictures are
// refused, each with its own kind, the others opened.
func TestAwkward(t *testing.T) {
	dir := material(t, "photos", "awkward")
	want := map[string]Kind{
		"bomb.png": TooLarge, "cut-short.jpg": Damaged, "empty.jpg": Damaged, "text.jpg": NotAPicture,
		"grey.jpg": "", "scan.tif": "", "sixteen-bit.png": "", "turned-by-exif.jpg": "", "burnt-out.jpg": "",
	}
	for name, kind := range want {
		p, err := Read(context.Background(), filepath.Join(dir, name))
		if kindOf(err) != kind || (err == nil) != (kind == "") {
			t.Errorf("%s: %v, want kind %q", name, err, kind)
			continue
		}
		if err != nil {
			checkSentence(t, name, err)
			continue
		}
		switch name {
		case "sixteen-bit.png":
			if p.Bits != 16 {
				t.Errorf("%s: %d bits", name, p.Bits)
			}
		case "turned-by-exif.jpg":
			if w, h := p.Turned(); p.Orientation < 5 || w < h {
				t.Errorf("%s: orientation %d, turned %dx%d", name, p.Orientation, w, h)
			}
		case "burnt-out.jpg":
			if !p.Clipped(p.Width/2, 10) && !p.Clipped(p.Width/2, p.Height/2) && !p.Clipped(p.Width/5, p.Height/2) {
				t.Errorf("%s: nothing burnt out", name)
			}
		}
	}
}

// TestOddPaths refuses what is no file, with sentences.
func TestOddPaths(t *testing.T) {
	dir := t.TempDir()
	long := filepath.Join(dir, "not-there.jpg")
	for path, kind := range map[string]Kind{dir: NotAPicture, long: Unreadable, os.DevNull: NotAPicture} {
		_, err := Read(context.Background(), path)
		if kindOf(err) != kind {
			t.Errorf("%s: %v, want kind %q", path, err, kind)
			continue
		}
		checkSentence(t, path, err)
	}
}

// TestStopped returns the context's error, not a sentence about the file.
func TestStopped(t *testing.T) {
	path := material(t, "photos", "quay-reference.jpg")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Read(ctx, path); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// TestMemoryOfBombs opens the files that claim to be huge and the ones whose
// offsets point far away: refusing must cost next to nothing.
func TestMemoryOfBombs(t *testing.T) {
	dir := t.TempDir()
	farTIFF := filepath.Join(dir, "far.tif")
	if err := os.WriteFile(farTIFF, []byte("II*\x00\x00\x00\x00\x10"), 0o600); err != nil {
		t.Fatal(err)
	}
	// A header of 20000 x 9000 pixels with nothing behind it.
	liar := filepath.Join(dir, "liar.png")
	if err := os.WriteFile(liar, lyingPNG(20000, 9000), 0o600); err != nil {
		t.Fatal(err)
	}
	paths := []string{farTIFF, liar}
	for _, n := range []string{"huge_40000x40000_1bit.png", "lying_header_200000x200000.png", "lying_header_65500x65500.jpg"} {
		if p := filepath.Join(shared, "decoder", "made_here", n); fileThere(p) {
			paths = append(paths, p)
		}
	}
	for _, p := range paths {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Read(context.Background(), p)
		runtime.ReadMemStats(&after)
		if err == nil {
			t.Errorf("%s: opened", p)
		}
		if used := after.TotalAlloc - before.TotalAlloc; used > 16<<20 {
			t.Errorf("%s: %d MB allocated to refuse it", p, used>>20)
		}
	}
}

// lyingPNG is a grey PNG's header of any size and a broken beginning of pixels.
func lyingPNG(w, h uint32) []byte {
	b := []byte("\x89PNG\r\n\x1a\n")
	chunk := func(kind string, body []byte) {
		b = binary.BigEndian.AppendUint32(b, uint32(len(body)))
		from := len(b)
		b = append(append(b, kind...), body...)
		b = binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[from:]))
	}
	head := binary.BigEndian.AppendUint32(nil, w)
	head = append(binary.BigEndian.AppendUint32(head, h), 8, 0, 0, 0, 0)
	chunk("IHDR", head)
	chunk("IDAT", []byte{0x78, 0x9c, 1, 2, 3})
	return b
}

func fileThere(p string) bool {
	_, err := os.Stat(p)
	return err == nil
}

// TestClippedRow holds rows of burnt out pixels against single ones.
func TestClippedRow(t *testing.T) {
	m := image.NewYCbCr(image.Rect(0, 0, 64, 4), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(i*37 + 190)
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = uint8(i*53+90), uint8(i*29+101)
	}
	for _, video := range []bool{false, true} {
		p := &Picture{Info: Info{Width: 64, Height: 4}, img: m, video: video}
		row := make([]float32, 32)
		seen := 0
		for y := range 4 {
			p.ClippedRow(y, 2, row)
			for i, v := range row {
				if (v == 1) != p.Clipped(2*i, y) {
					t.Errorf("video %v: pixel %d of row %d: %g", video, 2*i, y, v)
				}
				seen += int(v)
			}
		}
		if seen == 0 || seen == 4*len(row) {
			t.Errorf("video %v: %d of %d pixels are burnt out, which tests nothing", video, seen, 4*len(row))
		}
	}
}
