package imaging

import (
	"image"
	_ "image/png"
	"os"
	"testing"
)

// publishedWarps are the cases "ECC" of ../shared/checks/image_compare_checks.csv
// (values by OpenCV 4.6 findTransformECC on scikit-image 0.19.3's picture
// "camera"): true warps, in pixel indices, and what OpenCV recovered.
var publishedWarps = []struct {
	name           string
	warp, theirs   homography
	gain, offset   float64
	fromTheirs, us float64 // px at the corners: from OpenCV's answer, from truth
}{
	{"translation", homography{1, 0, 3.25, 0, 1, -2.5, 0, 0, 1}, homography{1, 0, 3.30379, 0, 1, -2.49563, 0, 0, 1}, 1, 0, 0.25, 0.25},
	{"rotation", homography{0.99990, -0.01396, 4, 0.01396, 0.99990, -3, 0, 0, 1},
		homography{0.9999, -0.01392, 3.98212, 0.01392, 0.9999, -2.98999, 0, 0, 1}, 1, 0, 0.25, 0.25},
	{"damp paper", homography{1.012, 0.001, -2, -0.002, 0.996, 1.5, 0, 0, 1},
		homography{1.01199, 9.93699e-4, -2.0001, -1.97533e-3, 0.99601, 1.4789, 0, 0, 1}, 1, 0, 0.25, 0.25},
	{"keystone", homography{1.004, 0.003, -1.5, -0.002, 0.997, 2, 1.2e-5, -8e-6, 1},
		homography{1.00372, 2.84956e-3, -1.44515, -2.10945e-3, 0.996618, 2.07001, 1.17558e-5, -8.55783e-6, 1}, 1, 0, 0.25, 0.25},
	{"gain and offset", homography{1, 0, 3.25, 0, 1, -2.5, 0, 0, 1}, homography{1, 0, 3.27902, 0, 1, -2.50789, 0, 0, 1}, 0.6, 0.2, 0.25, 0.25},
}

// TestECCPublished recovers warps of a published picture within a quarter of a
// pixel at the corners, blind to gain and offset (Evangelidis and Psarakis
// 2008; tolerance of the table).
func TestECCPublished(t *testing.T) {
	ref := publishedPicture(t, "camera")
	for _, c := range publishedWarps {
		mov := warped(ref, c.warp)
		for i := range mov.v {
			mov.v[i] = float32(c.gain)*mov.v[i] + float32(c.offset)
		}
		g := grid{ref.w, ref.h, 1}
		// Pixel indices are half a millimetre short of the grid's millimetres.
		half, back := homography{1, 0, 0.5, 0, 1, 0.5, 0, 0, 1}, homography{1, 0, -0.5, 0, 1, -0.5, 0, 0, 1}
		got := alignECC(ref.blur(1.1), mov.blur(1.1), g, identity, 8, 80)
		found := back.times(got.h).times(half)
		if !got.done || got.rho < 0.995 {
			t.Errorf("%s: not settled, correlation %.4f", c.name, got.rho)
		}
		for _, p := range []Point{{0, 0}, {511, 0}, {511, 511}, {0, 511}} {
			at, truth, theirs := found.apply(p), c.warp.apply(p), c.theirs.apply(p)
			if d := at.dist(truth); d > c.us {
				t.Errorf("%s: corner %v is %.3f px from truth", c.name, p, d)
			}
			if d := at.dist(theirs); d > c.fromTheirs {
				t.Errorf("%s: corner %v is %.3f px from OpenCV's answer", c.name, p, d)
			}
		}
	}
}

// TestOtsuPublished finds the published thresholds exactly (Otsu 1979; values by
// scikit-image 0.19.3 and OpenCV 4.6, "Otsu" in image_compare_checks.csv).
func TestOtsuPublished(t *testing.T) {
	for name, want := range map[string]int{"camera": 102, "page": 157, "coins": 107, "text": 109, "moon": 87, "brick": 131, "gravel": 117, "grass": 112} {
		p := publishedPicture(t, name)
		th, _, _ := otsu(p.v)
		// Codes up to the threshold are dark; ours is the start of the next code.
		if got := int(th*256+0.5) - 1; got != want {
			t.Errorf("%s: threshold %d, published %d", name, got, want)
		}
	}
}

// publishedPicture reads a grey picture of Debian's python3-skimage, 0..1.
func publishedPicture(t *testing.T, name string) *plane {
	t.Helper()
	f, err := os.Open("/usr/lib/python3/dist-packages/skimage/data/" + name + ".png")
	if err != nil {
		t.Skip("the published picture is not here: python3-skimage is not installed")
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	p := newPlane(img.Bounds().Dx(), img.Bounds().Dy())
	for y := range p.h {
		for x := range p.w {
			v, _, _, _ := img.At(x, y).RGBA()
			p.v[y*p.w+x] = float32(v) / 65535
		}
	}
	return p
}

// warped is the picture m with m(W x) = ref(x), edges carried on.
func warped(ref *plane, w homography) *plane {
	inv := w.inverse()
	m := newPlane(ref.w, ref.h)
	for y := range m.h {
		for x := range m.w {
			q := inv.apply(Point{float64(x), float64(y)})
			qx, qy := min(max(q.X, 2), float64(ref.w-3)), min(max(q.Y, 2), float64(ref.h-3))
			m.v[y*m.w+x] = ref.bicubic(qx, qy)
		}
	}
	return m
}
