package studio

import (
	"context"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
)

// TestGlance sees that the small picture of a photograph is there from its
// taking-in, no larger than it should be, and drawn from the proxy where it is
// missing.
func TestGlance(t *testing.T) {
	s, dir, ctx := newCatalogue(t), t.TempDir(), context.Background()
	f, err := os.Create(filepath.Join(dir, "large.jpg"))
	check(t, err)
	check(t, jpeg.Encode(f, image.NewGray(image.Rect(0, 0, 3000, 2250)), nil))
	check(t, f.Close())
	taken, err := s.TakeIn(ctx, []string{dir}, nil)
	check(t, err)
	photo := taken[0].Photo
	glance := s.derivedPath("glance", photo.SHA256, "")
	if _, err := os.Stat(glance); err != nil {
		t.Error("taking in left no glance:", err)
	}
	check(t, os.RemoveAll(glance))
	check(t, os.Remove(s.archive.Path(photo.SHA256, photo.Ext))) // so that only the proxy can give it
	path, err := s.Glance(ctx, photo.ID)
	check(t, err)
	g, err := os.Open(path)
	check(t, err)
	defer g.Close()
	c, err := jpeg.DecodeConfig(g)
	check(t, err)
	own := catalog.Photograph{Ext: ".jpg", Profile: "sRGB", WidthPX: 1640, HeightPX: 1230}
	for name, change := range map[string]func(*catalog.Photograph){
		"large": func(p *catalog.Photograph) { p.WidthPX = 2401 }, "not a JPEG": func(p *catalog.Photograph) { p.Ext = ".tif" },
		"turned": func(p *catalog.Photograph) { p.Orientation = 6 }, "of wide colours": func(p *catalog.Photograph) { p.Profile = "Adobe RGB (1998)" }} {
		x := own
		if change(&x); small(&x) || !small(&own) {
			t.Errorf("a photograph that is %s is shown as it is, or a plain small one is not", name)
		}
	}
	if c.Width != GlanceSide || c.Height != 900 {
		t.Errorf("the glance is %d x %d, of 3000 x 2250 it should be 1200 x 900", c.Width, c.Height)
	}
}
