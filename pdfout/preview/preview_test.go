package preview

import (
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

func TestDraw(t *testing.T) {
	c, err := typeset.NewCase()
	if err != nil {
		t.Fatal(err)
	}
	src := image.NewRGBA(image.Rect(0, 0, 40, 20))
	for i := range src.Pix {
		src.Pix[i] = 255
	}
	for y := range 20 {
		for x := range 20 {
			src.SetRGBA(x, y, color.RGBA{0, 0, 200, 255}) // left half blue
		}
	}
	path := filepath.Join(t.TempDir(), "p.jpg")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(f, src, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	p := &display.Page{Width: 200, Height: 100}
	p.Text(typeset.Style{Cut: c.Roman, Size: 40}, 10, 60, "H")
	p.Add(&display.Picture{Path: path, To: [6]float64{80, 0, 0, 40, 100, 10}})
	p.Add(&display.Dot{X: 150, Y: 80, R: 8, Ink: typeset.Accent})
	p.Rule(10, 90, 80, 2, typeset.Text)
	img := Draw(p, 72)
	if img.Bounds() != image.Rect(0, 0, 200, 100) {
		t.Fatalf("the picture is %v", img.Bounds())
	}
	dark := func(x, y int) bool { r, g, b, _ := img.At(x, y).RGBA(); return r+g+b < 3*0x8000 }
	for _, q := range []struct {
		x, y int
		want bool
		what string
	}{{5, 5, false, "paper"}, {40, 90, true, "rule"}, {150, 80, true, "dot"}, {120, 30, true, "left of the picture"}, {165, 30, false, "right of the picture"}} {
		if dark(q.x, q.y) != q.want {
			t.Errorf("%s at %d, %d is %v", q.what, q.x, q.y, img.At(q.x, q.y))
		}
	}
	ink := 0
	for y := 30; y < 62; y++ {
		for x := 10; x < 45; x++ {
			if dark(x, y) {
				ink++
			}
		}
	}
	if ink < 60 {
		t.Errorf("the letter has %d dark pixels", ink)
	}
}

func TestDrawWithoutThePictureFile(t *testing.T) {
	p := &display.Page{Width: 50, Height: 50}
	p.Add(&display.Picture{Path: "/nowhere.jpg", To: [6]float64{50, 0, 0, 50, 0, 0}, Clip: display.Rect{W: 50, H: 50}})
	if c := Draw(p, 72).RGBAAt(25, 25); c != inks[typeset.Tint] {
		t.Errorf("a missing picture is drawn as %v", c)
	}
}
