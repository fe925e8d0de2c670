package decode

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"pullbook/imaging/colour"
)

// sentence is an error found while reading a head, already worded.
type sentence struct {
	kind Kind
	rest string
}

func (s sentence) Error() string { return s.rest }

// errShort is returned where a structure ends before it should.
var errShort = errors.New("file ends early")

// maxProfile bounds an embedded profile; real ones stay under 3 MB.
const maxProfile = 4 << 20

// containerHead reads the size, depth and profile of a file of known format.
func containerHead(f Format, r *io.SectionReader) (*head, error) {
	h := &head{Info: Info{Bits: 8, Channels: 3, Profile: colour.Assumed()}, held: 8}
	var c image.Config
	var err error
	switch f {
	case JPEG:
		c, err = jpeg.DecodeConfig(r)
	case PNG:
		c, err = png.DecodeConfig(r)
	case TIFF:
		c, err = tiff.DecodeConfig(r)
	case WebP:
		// The animation flag comes first: the decoder only calls such files
		// invalid.
		if err := webpChunks(r, h); err != nil {
			return nil, err
		}
		if _, err := r.Seek(0, io.SeekStart); err != nil {
			return nil, err
		}
		c, err = webp.DecodeConfig(r)
	}
	if err != nil {
		return nil, err
	}
	h.Width, h.Height = c.Width, c.Height
	switch f {
	case JPEG:
		err = jpegSegments(r, h)
	case PNG:
		err = pngChunks(r, h)
	case TIFF:
		err = tiffTags(r, h)
	}
	if err != nil && !errors.Is(err, errShort) {
		return nil, err
	}
	return h, nil
}

// embed reads an embedded profile. One that cannot be parsed leaves the
// picture readable, but the name says that it was not honoured.
func (h *head) embed(icc []byte) {
	p, err := colour.ReadProfile(icc)
	if err != nil {
		p = colour.Assumed()
		p.Name, p.Honoured = "unreadable profile", false
	}
	h.Profile = p
}

// readAt reads n bytes at off, or errShort.
func readAt(r io.ReaderAt, off int64, n int) ([]byte, error) {
	b := make([]byte, n)
	got, err := r.ReadAt(b, off)
	if got < n {
		if err != nil && err != io.EOF {
			return nil, err
		}
		return nil, fmt.Errorf("at %d: %w", off, errShort)
	}
	return b, nil
}
