package decode

import (
	"context"
	"math"
	"path/filepath"
	"testing"
)

// TestProfilesAgainstLittleCMS compares sRGB proxies with what Little CMS
// (through Pillow 9.4, perceptual intent) makes of the same files. JPEG pixels
// may differ by the decoders' chroma interpolation, PNG and TIFF by rounding.
func TestProfilesAgainstLittleCMS(t *testing.T) {
	dir := material(t, "decoder")
	for _, c := range []struct {
		file, profile string
		honoured      bool
		x, y          int
		want          [3]int
		within        int
	}{
		{"made_here/base_rgb.jpg", "assumed sRGB", true, 10, 10, [3]int{246, 234, 212}, 1},
		{"made_here/icc_adobe_rgb_compatible.png", "Adobe RGB", true, 10, 10, [3]int{247, 235, 213}, 1},
		{"made_here/icc_adobe_rgb_compatible.png", "Adobe RGB", true, 150, 60, [3]int{199, 189, 171}, 1},
		{"made_here/icc_adobe_rgb_compatible.jpg", "Adobe RGB", true, 150, 60, [3]int{199, 190, 176}, 2},
		{"made_here/icc_prophoto_like_rommrgb.png", "Artifex Software ROMMRGB ICC Profile", true, 10, 10, [3]int{248, 235, 213}, 1},
		{"made_here/icc_prophoto_like_rommrgb.png", "Artifex Software ROMMRGB ICC Profile", true, 150, 60, [3]int{199, 189, 171}, 1},
		{"made_here/icc_srgb.png", "sRGB", true, 150, 60, [3]int{199, 189, 171}, 0},
		{"made_here/icc_gray.png", "grey, sRGB curve", true, 150, 60, [3]int{190, 190, 190}, 1},
		{"tiff/Issue 16.tif", "sRGB", true, 150, 60, [3]int{63, 60, 62}, 1},
		{"other_formats/Nikon D1X.webp", "assumed sRGB", true, 150, 60, [3]int{174, 168, 150}, 1},
		{"other_formats/Photo (2).webp", "assumed sRGB", true, 10, 10, [3]int{14, 2, 4}, 1},
	} {
		p, err := Read(context.Background(), filepath.Join(dir, c.file))
		if err != nil {
			t.Errorf("%s: %v", c.file, err)
			continue
		}
		if n := len(p.Profile.Name); p.Profile.Honoured != c.honoured || p.Profile.Name[:min(n, 24)] != c.profile[:min(len(c.profile), 24)] {
			t.Errorf("%s: profile %q honoured %v, want %q", c.file, p.Profile.Name, p.Profile.Honoured, c.profile)
		}
		got := p.RGBA(0).RGBAAt(c.x, c.y)
		for i, v := range []uint8{got.R, got.G, got.B} {
			if d := int(v) - c.want[i]; d > c.within || d < -c.within {
				t.Errorf("%s at %d,%d: %v, want %v", c.file, c.x, c.y, got, c.want)
				break
			}
		}
	}
}

// TestOneLightThreeProfiles: the same picture tagged three ways gives the same
// light. The PNG files of the set were made from one picture, each converted.
func TestOneLightThreeProfiles(t *testing.T) {
	dir := material(t, "decoder", "made_here")
	mean := func(name string) float64 {
		p, err := Read(context.Background(), filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		pix, _, _, err := p.Luminance(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, v := range pix {
			sum += float64(v)
		}
		return sum / float64(len(pix))
	}
	want := mean("icc_srgb.png")
	for _, name := range []string{"icc_adobe_rgb_compatible.png", "icc_prophoto_like_rommrgb.png", "icc_gray.png"} {
		if got := mean(name); math.Abs(math.Log10(got/want)) > 0.002 {
			t.Errorf("%s: mean light %.5f, with sRGB %.5f: %.4f D apart", name, got, want, math.Log10(got/want))
		}
	}
}

// TestLuminanceAgreesWithPixels: the quick row readers give what one pixel at a
// time gives.
func TestLuminanceAgreesWithPixels(t *testing.T) {
	dir := material(t, "decoder", "made_here")
	for _, name := range []string{"base_rgb.jpg", "subsampling_444.jpg", "base_gray.jpg", "gray16.png", "rgb_tiff_lzw.tif", "icc_adobe_rgb_compatible.jpg", "palette.png"} {
		p, err := Read(context.Background(), filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		pix, w, _, err := p.Luminance(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		for y := 3; y < p.Height; y += 97 {
			for x := 5; x < w; x += 41 {
				v := p.LinearRGB(x, y)
				want := 0.2126390059*v[0] + 0.7151686788*v[1] + 0.0721923154*v[2]
				// One code of rounding in one channel at a time is 0.008 at the top.
				if d := math.Abs(float64(pix[y*w+x]) - want); d > 0.006 {
					t.Errorf("%s at %d,%d: %.4f, by pixel %.4f", name, x, y, pix[y*w+x], want)
				}
			}
		}
	}
}
