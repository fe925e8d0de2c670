package rehearsal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pullbook/catalog"
	"pullbook/imaging/platesim"
	"pullbook/pdfout"
)

// Long reports whether the tests that take many minutes are asked for.
func Long() bool { return os.Getenv("PULLBOOK_LONG") != "" }

// drawnBefore is the folder in which drawn photographs are kept from one run to
// the next: PULLBOOK_CACHE, or one in the user's folder for such things. They
// are named by the source of the simulator as well, so that none outlives it.
var drawnBefore = sync.OnceValue(func() string {
	dir := os.Getenv("PULLBOOK_CACHE")
	if dir == "" {
		user, err := os.UserCacheDir()
		if err != nil {
			user = os.TempDir()
		}
		dir = filepath.Join(user, "pullbook-tests")
	}
	sources, err := filepath.Glob("../../imaging/platesim/*.go")
	if err != nil || len(sources) == 0 {
		return ""
	}
	sum := sha256.New()
	for _, path := range sources {
		b, err := os.ReadFile(path)
		if err != nil {
			return ""
		}
		sum.Write(b)
	}
	return filepath.Join(dir, hex.EncodeToString(sum.Sum(nil)[:8]))
})

// Drawn gives the picture of a simulated sheet, from the folder where it was
// drawn before.
func Drawn(t testing.TB, p *platesim.Plate, state, pull int, c platesim.Conditions, seed uint64) *image.RGBA {
	t.Helper()
	sum := sha256.Sum256(fmt.Appendf(nil, "%v %v %v %v %v %d %d %d %+v", p.Scene, p.Technique, p.Size, p.Changes, p.ProofsBetween, state, pull, seed, c))
	path := filepath.Join(drawnBefore(), hex.EncodeToString(sum[:12])+".jpg")
	if f, err := os.Open(path); err == nil {
		defer f.Close()
		img, err := jpeg.Decode(f)
		must(t, err)
		out := image.NewRGBA(img.Bounds())
		draw.Draw(out, out.Rect, img, img.Bounds().Min, draw.Src)
		return out
	}
	img, _ := p.Photograph(state, pull, c, seed)
	if drawnBefore() != "" {
		must(t, os.MkdirAll(filepath.Dir(path), 0o755))
		var b bytes.Buffer
		must(t, jpeg.Encode(&b, img, &jpeg.Options{Quality: 98}))
		part := path + "." + strconv.Itoa(os.Getpid())
		must(t, os.WriteFile(part, b.Bytes(), 0o644))
		must(t, os.Rename(part, path)) // two tests may draw it at one time
	}
	return img
}

// Photograph photographs a sheet as on a printing day.
func (d *Day) Photograph(t testing.TB, p *platesim.Plate, state, pull int, seed uint64, change func(*platesim.Conditions)) (*image.RGBA, platesim.Conditions) {
	t.Helper()
	c := platesim.NewConditions(platesim.Even, seed)
	c.Width, c.Height = d.Wide, d.Wide*3/4
	c.Fill = 0.8
	if p.Size.H > p.Size.W {
		c.Width, c.Height = c.Height, c.Width
	}
	if change != nil {
		change(&c)
	}
	return Drawn(t, p, state, pull, c, seed), c
}

// SlipSide is the side of a slip's code in a photograph of a printing day, in
// pixels.
const SlipSide = 130

// LaySlip lays a slip with its code, side pixels large, in the lower right
// corner of the picture.
func LaySlip(t testing.TB, img *image.RGBA, id catalog.ID, side int) {
	t.Helper()
	code, err := qrcode.NewQRCodeWriter().Encode(pdfout.Code(id), gozxing.BarcodeFormat_QR_CODE, side, side, nil)
	must(t, err)
	at := img.Rect.Max.Sub(image.Pt(side+side/20, side+side/20))
	for y := range side {
		for x := range side {
			v := uint8(228)
			if code.Get(x, y) {
				v = 34
			}
			img.SetRGBA(at.X+x, at.Y+y, color.RGBA{v, v, v, 255})
		}
	}
}

// WriteJPEG writes a picture as the file its conditions ask for.
func WriteJPEG(t testing.TB, path string, img *image.RGBA, c platesim.Conditions) {
	t.Helper()
	var b bytes.Buffer
	must(t, platesim.Encode(&b, img, c))
	must(t, os.WriteFile(path, b.Bytes(), 0o644))
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
