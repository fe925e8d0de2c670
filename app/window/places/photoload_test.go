package places

import (
	"image"
	"math"
	"testing"
)

// TestPicturesOfOnePhotographLieAlike sees that the small and the large picture
// of a photograph lie in the same place, so that changing the one for the other
// moves nothing.
func TestPicturesOfOnePhotographLieAlike(t *testing.T) {
	for _, of := range [][2]int{{6000, 4000}, {1000, 1500}} {
		long := float64(max(of[0], of[1]))
		for _, side := range []float64{240, 1200, 2400} {
			k := min(side/long, 1)
			img := image.NewRGBA(image.Rect(0, 0, int(math.Round(float64(of[0])*k)), int(math.Round(float64(of[1])*k))))
			s, w, h := asPhoto(img)
			b := s.Box()
			if math.Abs(b.X1-w) > 1e-6 || math.Abs(b.Y1-h) > 1e-6 || max(w, h) != photoLong {
				t.Errorf("a picture %v of %v lies on %v, sides %g x %g", img.Rect.Max, of, b, w, h)
			}
			if want := float64(of[0]) / float64(of[1]); math.Abs(w/h-want) > 0.01*want {
				t.Errorf("a picture %v of %v is %g x %g", img.Rect.Max, of, w, h)
			}
		}
	}
}
