package studio

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"

	"pullbook/catalog"
	"pullbook/catalog/archive"
	"pullbook/imaging/colour"
	"pullbook/imaging/decode"
)

// derivedVersion stands in the path of every derived picture; it changes when
// they would be drawn otherwise.
const derivedVersion = "1"

// Longest sides of derived pictures, in pixels.
const (
	ThumbSide  = 240
	GlanceSide = 1200
	ProxySide  = 2400
	plateSide  = 2000
)

// Thumb is the path of a small JPEG of a photograph, upright. It is made if it
// is not there.
func (s *Studio) Thumb(ctx context.Context, photo catalog.ID) (string, error) {
	return s.shrunk(ctx, photo, "thumb", ThumbSide, 82)
}

// Glance is the path of a JPEG of a photograph, upright and at most [GlanceSide]
// pixels long: what a window shows at once, as sharp as most of them can, before
// the proxy is decoded, which has four times its pixels.
func (s *Studio) Glance(ctx context.Context, photo catalog.ID) (string, error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return "", err
	}
	to := s.derivedPath("glance", p.SHA256, "")
	if own := s.archive.Path(p.SHA256, p.Ext); small(p) && !there(to) && there(own) {
		return own, nil
	}
	return s.derive(ctx, to, glanceQuality, func() (image.Image, error) {
		pic, err := readPicture(ctx, s.derivedPath("proxy", p.SHA256, ""))
		if err != nil { // there is no proxy yet
			if pic, err = s.read(ctx, p); err != nil {
				return nil, err
			}
		}
		return pic.Proxy(ctx, GlanceSide)
	})
}

// glanceQuality is the JPEG quality of glances.
const glanceQuality = 85

// small reports whether a photograph can be shown as it is where it has no glance
// yet: a JPEG in the space of screens, upright, and no larger than a proxy. To
// draw its glance first would take longer than to show it.
func small(p *catalog.Photograph) bool {
	jpeg := p.Ext == ".jpg" || p.Ext == ".jpeg"
	screen := p.Profile == "assumed sRGB" || p.Profile == colour.SRGB.Name
	return jpeg && screen && p.Orientation <= 1 && p.WidthPX > 0 && max(p.WidthPX, p.HeightPX) <= ProxySide
}

func there(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// Proxy is the path of a JPEG of a photograph for the screen, upright, at most
// [ProxySide] pixels long.
func (s *Studio) Proxy(ctx context.Context, photo catalog.ID) (string, error) {
	return s.shrunk(ctx, photo, "proxy", ProxySide, 88)
}

func (s *Studio) shrunk(ctx context.Context, photo catalog.ID, kind string, side, quality int) (string, error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return "", err
	}
	to := s.derivedPath(kind, p.SHA256, "")
	return s.derive(ctx, to, quality, func() (image.Image, error) {
		pic, err := s.read(ctx, p)
		if err != nil {
			return nil, err
		}
		return pic.Proxy(ctx, side)
	})
}

// RectifiedPlate is the path of a JPEG of the plate alone, square to the eye,
// cut along the plate mark of the photograph.
func (s *Studio) RectifiedPlate(ctx context.Context, photo catalog.ID) (string, error) {
	return s.cut(ctx, photo, nil)
}

// Detail is the path of a JPEG of a part of the plate: box is x0, y0, x1, y1 in
// the plate's millimetres.
func (s *Studio) Detail(ctx context.Context, photo catalog.ID, box [4]float64) (string, error) {
	if box[2] <= box[0] || box[3] <= box[1] {
		return "", errors.New("the detail has no area; draw its box from the top-left to the bottom-right corner")
	}
	return s.cut(ctx, photo, &box)
}

func (s *Studio) cut(ctx context.Context, photo catalog.ID, box *[4]float64) (string, error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return "", err
	}
	size, err := s.sizeOfPhotograph(ctx, p)
	if err != nil {
		return "", err
	}
	kind, area := "detail", [4]float64{0, 0, size.WidthMM, size.HeightMM}
	if box == nil {
		kind = "plate"
	} else {
		area = *box
	}
	to := s.derivedPath(kind, p.SHA256, fmt.Sprint(p.Mark, size, area))
	return s.derive(ctx, to, 90, func() (image.Image, error) {
		l, err := latticeOfMark(p.Mark, size)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name, err)
		}
		return s.drawPlate(ctx, p, l, area, plateSide)
	})
}

// drawPlate rectifies a box of the plate so that it is at most side pixels
// long, never finer than the photograph.
func (s *Studio) drawPlate(ctx context.Context, p *catalog.Photograph, l *lattice, box [4]float64, side float64) (*image.RGBA, error) {
	pic, err := s.read(ctx, p)
	if err != nil {
		return nil, err
	}
	full := l.pxPerMM()
	scale := min(full, side/max(box[2]-box[0], box[3]-box[1]))
	v, err := newView(ctx, pic, scale/full)
	if err != nil {
		return nil, err
	}
	return v.rectify(l, box, scale), nil
}

// newView makes a picture smaller by scale, with a little to spare.
func newView(ctx context.Context, pic *decode.Picture, scale float64) (*view, error) {
	w, h := pic.Turned()
	long := max(w, h)
	side := min(long, int(float64(long)*scale*1.25)+1)
	img, err := pic.Proxy(ctx, side)
	if err != nil {
		return nil, err
	}
	return &view{img: img, stand: pic.Stand, scale: float64(max(img.Rect.Dx(), img.Rect.Dy())) / float64(long)}, nil
}

// readPicture decodes a file and does not have a stop wait for it.
func readPicture(ctx context.Context, path string) (*decode.Picture, error) {
	return abandon(ctx, func() (*decode.Picture, error) { return decode.Read(ctx, path) })
}

// read decodes a photograph of the archive.
func (s *Studio) read(ctx context.Context, p *catalog.Photograph) (*decode.Picture, error) {
	pic, err := readPicture(ctx, s.archive.Path(p.SHA256, p.Ext))
	if err != nil {
		var e *decode.Error
		if errors.As(err, &e) && e.Kind == decode.Unreadable {
			return nil, sentence("The file of photograph %s is missing from the catalogue's folder; take it in again from where you have it.", p.Name)
		}
		return nil, err
	}
	return pic, nil
}

// derivedPath names a derived picture of a photograph; what else it depends on
// goes into key.
func (s *Studio) derivedPath(kind, sha, key string) string {
	name := sha
	if key != "" {
		sum := sha256.Sum256([]byte(key))
		name += "-" + hex.EncodeToString(sum[:6])
	}
	return filepath.Join(s.store.Derived(), "v"+derivedVersion, kind, sha[:2], name+".jpg")
}

// derive returns the path once the picture is there. One and the same picture
// is not made twice at a time. Once the context ends nobody waits for what is
// being drawn, and it is not kept.
func (s *Studio) derive(ctx context.Context, path string, quality int, draw func() (image.Image, error)) (string, error) {
	if _, err := os.Stat(path); err == nil {
		return path, nil
	}
	release, err := s.making.enter(ctx, path)
	if err != nil {
		return "", err
	}
	defer release()
	if _, err := os.Stat(path); err == nil {
		return path, nil
	}
	drawn, err := abandon(ctx, func() ([]byte, error) {
		img, err := draw()
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		err = encodeJPEG(img, quality)(&b)
		return b.Bytes(), err
	})
	if err != nil {
		return "", err
	}
	if err := writeFile(path, func(w io.Writer) error { _, err := w.Write(drawn); return err }); err != nil {
		return "", sentence("The picture %s cannot be kept: %v. See that the disk is not full.", path, err)
	}
	return path, nil
}

// writeFile writes a file whole or not at all; folders are made.
func writeFile(path string, fill func(io.Writer) error) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return archive.WriteFile(archive.OS{}, path, fill)
}

// encodeJPEG is how derived pictures are kept.
func encodeJPEG(img image.Image, quality int) func(io.Writer) error {
	return func(w io.Writer) error { return jpeg.Encode(w, img, &jpeg.Options{Quality: quality}) }
}
