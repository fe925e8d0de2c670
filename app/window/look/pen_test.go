package look

import (
	"image/color"
	"math"
	"testing"
)

// TestPenCoversWhatItSays compares the ink laid down with the areas of a line
// and of a circle.
func TestPenCoversWhatItSays(t *testing.T) {
	ink := func(p *Pen) (sum float64) {
		for i := 3; i < len(p.Picture().Pix); i += 4 {
			sum += float64(p.Picture().Pix[i]) / 255
		}
		return sum
	}
	p := NewPen(60, 40)
	p.Line(5, 5, 45, 35, 3, color.Black)
	if got, want := ink(p), 150.0; math.Abs(got-want) > 0.02*want {
		t.Errorf("a line 50 long and 3 wide covers %.1f pixels, not %.1f", got, want)
	}
	p = NewPen(60, 40)
	p.Disc(30, 20, 12, color.Black)
	if got, want := ink(p), math.Pi*144; math.Abs(got-want) > 0.02*want {
		t.Errorf("a disc of radius 12 covers %.1f pixels, not %.1f", got, want)
	}
	p = NewPen(10, 10)
	p.Line(-20, 3, 40, 3, 2, color.Black) // past both edges
	p.Disc(100, 100, 5, color.Black)      // beside the picture
	if got := ink(p); math.Abs(got-20) > 0.5 {
		t.Errorf("a line across a picture 10 wide covers %.1f pixels of it, not 20", got)
	}
}
