package studio

import (
	"context"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// TestGlance sees that the small picture of a photograph is there from its
// taking-in, no larger than it should be, and drawn from the proxy where it is
// missing.
func TestGlance(t *testing.T) {
	s, dir, ctx := newCatalogue(t), t.TempDir(), context.Background()
	f, err := os.Create(filepath.Join(dir, "large.jpg"))
	check(t, err)
	check(t, jpeg.Encode(f, image.NewGray(image.Rect(0, 0, 1800, 1400)), nil))
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
	if c.Width != GlanceSide || c.Height != 933 {
		t.Errorf("the glance is %d x %d, of 1800 x 1400 it should be 1200 x 933", c.Width, c.Height)
	}
}
