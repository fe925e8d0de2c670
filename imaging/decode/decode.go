package decode

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"time"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"pullbook/imaging/colour"
)

// Limits on what is opened. A 100-megapixel camera's 16-bit file just fits.
const (
	MaxFileBytes = 1 << 30   // of the file
	MaxSide      = 30000     // pixels
	MaxPixels    = 200e6     // pixels
	MaxBytes     = 800 << 20 // of the decoded picture and what its decoder holds
)

// Info is what a file says about its picture before it is decoded.
type Info struct {
	Format        Format
	Width, Height int // stored pixels
	Bits          int // for each channel: 1 to 16
	Channels      int // 1 grey, 3 colour, 4 colour with transparency or CMYK
	Orientation   int // EXIF turn 1..8; 0 when the file does not say
	Profile       colour.Profile
	Taken         time.Time // zero when unknown
	Camera        string    // maker and model, empty when unknown
	Lens          string
}

// Picture is a decoded photograph in stored orientation, always opaque.
type Picture struct {
	Info
	Path string
	img  image.Image // *image.YCbCr, *image.Gray, *image.Gray16, *image.RGBA or *image.RGBA64
	// video is true for the 16..235 code range of lossy WebP.
	video bool
}

// Config reads only the head of the file. The error, if any, is an *Error.
func Config(path string) (*Info, error) {
	f, size, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	h, err := readHead(path, f, size)
	if err != nil {
		return nil, err
	}
	return &h.Info, nil
}

// Read opens and decodes a photograph. The error is an *Error, except when the
// context ends first: then it is the context's.
func Read(ctx context.Context, path string) (*Picture, error) {
	f, size, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	h, err := readHead(path, f, size)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p := &Picture{Info: h.Info, Path: path, video: h.lossyWebP}
	r := &cancelReader{ctx: ctx, r: io.NewSectionReader(f, 0, size)}
	if p.img, err = decodePixels(h.Format, r); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, wordDecoding(path, err)
	}
	if err := p.check(); err != nil {
		return nil, err
	}
	return p, nil
}

// open opens an ordinary file of acceptable size.
func open(path string) (*os.File, int64, error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, 0, unreadable(path, err)
	}
	switch {
	case st.IsDir():
		return nil, 0, trouble(NotAPicture, path, "is a folder; choose the photographs in it.", nil)
	case !st.Mode().IsRegular():
		// A pipe or a device would keep us waiting for ever.
		return nil, 0, trouble(NotAPicture, path, "is not an ordinary file; choose a photograph.", nil)
	case st.Size() == 0:
		return nil, 0, trouble(Damaged, path, "is empty; copy it again from the camera.", nil)
	case st.Size() > MaxFileBytes:
		return nil, 0, trouble(TooLarge, path, fmt.Sprintf("is larger than %d MB; save a smaller copy.", MaxFileBytes>>20), nil)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, unreadable(path, err)
	}
	return f, st.Size(), nil
}

// head is the Info and what only the decoder needs to know.
type head struct {
	Info
	held      int64 // bytes the decoder and its picture will hold
	lossyWebP bool
	// densest is how many pixels one byte of the file can hold at most; 0 where
	// the format sets no bound. It stops headers that lie before memory is taken.
	densest int64
}

// readHead sniffs, reads the header and applies the limits. A panic of a
// header reader is contained here.
func readHead(path string, r io.ReaderAt, size int64) (h *head, err error) {
	defer func() {
		if v := recover(); v != nil {
			h, err = nil, damaged(path, fmt.Errorf("panic: %v", v))
		}
	}()
	var first [sniffLen]byte
	n, err := r.ReadAt(first[:], 0)
	if err != nil && err != io.EOF {
		return nil, unreadable(path, err)
	}
	format, refusal := sniff(first[:n])
	switch {
	case refusal != "":
		return nil, trouble(Unsupported, path, refusal, nil)
	case format == "":
		return nil, trouble(NotAPicture, path, "is not a photograph in a format that is read; give a JPEG, PNG, TIFF or WebP file.", nil)
	}
	h, err = containerHead(format, io.NewSectionReader(r, 0, size))
	if err != nil {
		var e *Error
		var s sentence
		switch {
		case errors.As(err, &e):
			return nil, e
		case errors.As(err, &s):
			return nil, trouble(s.kind, path, s.rest, nil)
		}
		return nil, wordDecoding(path, err)
	}
	h.Format = format
	if err := h.limits(path, size); err != nil {
		return nil, err
	}
	readEXIF(&h.Info, io.NewSectionReader(r, 0, size))
	return h, nil
}

// limits refuses pictures that are empty, would need too much memory, or
// cannot be within so short a file.
func (h *head) limits(path string, size int64) error {
	w, ht := int64(h.Width), int64(h.Height)
	switch {
	case w <= 0 || ht <= 0:
		return damaged(path, errors.New("empty picture"))
	case w > MaxSide || ht > MaxSide || w*ht > MaxPixels:
		return trouble(TooLarge, path, fmt.Sprintf("says it is %d x %d pixels, more than the %d megapixels that are opened; save a smaller copy.",
			w, ht, int(MaxPixels/1e6)), nil)
	case w*ht*h.held > MaxBytes:
		return trouble(TooLarge, path, fmt.Sprintf("would need %d MB of memory; save a smaller or an 8-bit copy.", w*ht*h.held>>20), nil)
	case h.densest > 0 && w*ht > h.densest*size:
		return damaged(path, fmt.Errorf("%d bytes cannot hold %d x %d pixels", size, w, ht))
	}
	return nil
}

// decodePixels decodes and brings the picture to one of the five types that
// Picture knows, containing panics of the decoders and of odd palettes.
func decodePixels(f Format, r io.Reader) (img image.Image, err error) {
	defer func() {
		if v := recover(); v != nil {
			img, err = nil, fmt.Errorf("panic: %v", v)
		}
	}()
	switch f {
	case JPEG:
		img, err = jpeg.Decode(bufio.NewReaderSize(r, 1<<16))
	case PNG:
		img, err = png.Decode(bufio.NewReaderSize(r, 1<<16))
	case TIFF:
		// The TIFF reader must see ReaderAt, or it buffers whatever offset
		// the file names.
		img, err = tiff.Decode(r)
	case WebP:
		img, err = webp.Decode(bufio.NewReaderSize(r, 1<<16))
	}
	if err != nil {
		return nil, err
	}
	return opaque(img)
}

// check compares what was decoded with what the head promised.
func (p *Picture) check() error {
	b := p.img.Bounds()
	if b.Empty() || b.Min != (image.Point{}) || b.Dx() != p.Width || b.Dy() != p.Height {
		return damaged(p.Path, fmt.Errorf("decoded %v, header said %d x %d", b, p.Width, p.Height))
	}
	return nil
}

// Image returns the picture in stored orientation, as decoded: code values of
// the file's own colour space. Treat it as read-only.
func (p *Picture) Image() image.Image { return p.img }

func damaged(path string, cause error) *Error {
	return trouble(Damaged, path, "is cut short or damaged; copy it again from the camera.", cause)
}

// wordDecoding words an error of the standard decoders.
func wordDecoding(path string, err error) *Error {
	var j jpeg.UnsupportedError
	var t tiff.UnsupportedError
	var pe png.UnsupportedError
	if errors.As(err, &j) || errors.As(err, &t) || errors.As(err, &pe) || errors.Is(err, errCMYK) {
		rest := "is written in a way that is not read; save it as an 8- or 16-bit RGB or grey TIFF, or as a JPEG."
		if errors.Is(err, errCMYK) {
			rest = "is in printing inks (CMYK), not in a camera's colours; save the original photograph as RGB."
		}
		return trouble(Unsupported, path, rest, err)
	}
	var pathErr *os.PathError
	if errors.As(err, &pathErr) {
		return unreadable(path, err)
	}
	return damaged(path, err)
}

// cancelReader stops a decoder when the context ends.
type cancelReader struct {
	ctx context.Context
	r   *io.SectionReader
}

func (c *cancelReader) Read(b []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(b)
}

// ReadAt lets the TIFF reader jump about in the file.
func (c *cancelReader) ReadAt(b []byte, off int64) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.ReadAt(b, off)
}
