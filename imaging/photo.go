package imaging

import (
	"context"
	"errors"
	"image"
	"math"
	"slices"
	"sync"

	"pullbook/imaging/decode"
)

// Photo is a photograph made ready for measuring: upright, in linear light.
// It is never changed once made and may be shared.
type Photo struct {
	Path          string
	Width, Height int // upright pixels
	Orientation   int // EXIF orientation of the stored file, 1 to 8
	Bits          int // bits a channel of the stored file
	Grey          bool
	Profile       string // name of the colour profile used

	mu      sync.Mutex
	small   map[int]*plane // lum shrunk, by factor
	lum     *plane         // linear luminance, 1 is the top of the scale
	tint    [3]float64     // colour of the paper, linear, brightest channel 1
	clipped *plane         // share of pixels at the top of the scale, shrunk by clipShrink
}

// clipShrink is how much coarser than the photograph the map of clipped
// pixels is.
const clipShrink = 8

// RefusedError says why a photograph cannot be measured, in one sentence.
type RefusedError struct {
	Reason string
	Wording
}

func (e *RefusedError) Error() string { return e.Reason }

func refuse(format string, a ...any) error {
	w := wording(format, a...)
	return &RefusedError{w.String(), w}
}

// refusal returns the sentence of err if it is a refusal.
func refusal(err error) (string, bool) {
	r, ok := refusalOf(err)
	if !ok {
		return "", false
	}
	return r.Reason, true
}

// refusalOf returns err if it is a refusal.
func refusalOf(err error) (*RefusedError, bool) {
	var r *RefusedError
	ok := errors.As(err, &r)
	return r, ok
}

// Open reads a photograph, turns it upright and takes its colour to linear
// light through the profile in the file, sRGB (IEC 61966-2-1) where it has
// none. Errors are sentences that name the file (*decode.Error), or the
// context's.
func Open(ctx context.Context, path string) (*Photo, error) {
	pic, err := decode.Read(ctx, path)
	if err != nil {
		return nil, err
	}
	return OfPicture(ctx, path, pic)
}

// OfPicture is [Open] for a file that is decoded already. The error is the
// context's.
func OfPicture(ctx context.Context, path string, pic *decode.Picture) (*Photo, error) {
	pix, w, h, err := pic.Luminance(ctx)
	if err != nil {
		return nil, err
	}
	p := &Photo{Path: path, Width: w, Height: h, Orientation: max(1, pic.Orientation), Bits: pic.Bits, Grey: pic.Channels == 1, Profile: pic.Profile.Name}
	if p.Orientation >= 5 {
		p.Width, p.Height = h, w
	}
	p.lum = p.turn(&plane{w: w, h: h, v: pix})
	top := newPlane(w/2, h/2)
	strips(top.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			pic.ClippedRow(2*y, 2, top.row(y))
		}
	})
	p.clipped = p.turn(top.shrink(clipShrink / 2))
	p.tint = paperTint(pic)
	return p, nil
}

// shrunk is the luminance averaged over k x k pixels, made once.
func (p *Photo) shrunk(k int) *plane {
	if k <= 1 {
		return p.lum
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if q, ok := p.small[k]; ok {
		return q
	}
	if p.small == nil {
		p.small = map[int]*plane{}
	}
	p.small[k] = p.lum.shrink(k)
	return p.small[k]
}

// turn lays a plane of stored pixels upright.
func (p *Photo) turn(s *plane) *plane {
	if p.Orientation <= 1 || p.Orientation > 8 {
		return s
	}
	q := &Photo{Width: s.w, Height: s.h, Orientation: p.Orientation}
	if p.Orientation >= 5 {
		q.Width, q.Height = s.h, s.w
	}
	out := newPlane(q.Width, q.Height)
	o := q.Stored(Point{0, 0})
	dx, dy := q.Stored(Point{1, 0}).sub(o), q.Stored(Point{0, 1}).sub(o)
	step := int(dx.X) + int(dx.Y)*s.w
	strips(out.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			i := int(o.X) + y*int(dy.X) + (int(o.Y)+y*int(dy.Y))*s.w
			for x := range out.row(y) {
				out.v[y*out.w+x] = s.v[i]
				i += step
			}
		}
	})
	return out
}

// paperTint is the colour of the lighter half of the picture, in linear light
// with the brightest channel 1.
func paperTint(pic *decode.Picture) [3]float64 {
	type sample struct{ y, r, g, b float64 }
	var all []sample
	step := max(1, max(pic.Width, pic.Height)/60)
	for y := step / 2; y < pic.Height; y += step {
		for x := step / 2; x < pic.Width; x += step {
			c := pic.LinearRGB(x, y)
			all = append(all, sample{c[0] + c[1] + c[2], c[0], c[1], c[2]})
		}
	}
	slices.SortFunc(all, func(a, b sample) int { return sign(a.y - b.y) })
	var t [3]float64
	for _, c := range all[len(all)/2 : len(all)*9/10+1] {
		t[0] += c.r
		t[1] += c.g
		t[2] += c.b
	}
	m := max(t[0], t[1], t[2])
	if !(m > 0) {
		return [3]float64{1, 1, 1}
	}
	return [3]float64{t[0] / m, t[1] / m, t[2] / m}
}

// FromImage makes a photograph of a decoded picture that stands upright and is
// coded as sRGB, or as grey with the sRGB curve.
func FromImage(img image.Image) *Photo {
	b := img.Bounds()
	p := &Photo{Width: b.Dx(), Height: b.Dy(), Orientation: 1, Bits: 8, Profile: "sRGB", tint: [3]float64{1, 1, 1}}
	p.lum = newPlane(p.Width, p.Height)
	top := newPlane(p.Width, p.Height)
	switch m := img.(type) {
	case *image.YCbCr:
		linearYCbCr(m, p.lum, top)
	default:
		p.Bits = 16
		linearAny(img, p.lum, top)
	}
	p.clipped = top.shrink(clipShrink)
	return p
}

var linear8 = func() (t [256]float32) {
	for i := range t {
		t[i] = float32(linearSRGB(float64(i) / 255))
	}
	return t
}()

// linearSRGB undoes the sRGB curve (IEC 61966-2-1).
func linearSRGB(u float64) float64 {
	if u <= 0.04045 {
		return u / 12.92
	}
	return math.Pow((u+0.055)/1.055, 2.4)
}

// encodeSRGB is the sRGB curve.
func encodeSRGB(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// clipCount is the 8-bit count from which a channel is taken as clipped.
const clipCount = 254

func linearYCbCr(m *image.YCbCr, lum, top *plane) {
	b := m.Rect
	strips(lum.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			d, t := lum.row(y), top.row(y)
			for x := range d {
				yi := m.YOffset(b.Min.X+x, b.Min.Y+y)
				ci := m.COffset(b.Min.X+x, b.Min.Y+y)
				yy := int32(m.Y[yi]) * 0x10101
				cb, cr := int32(m.Cb[ci])-128, int32(m.Cr[ci])-128
				r := clamp8((yy + 91881*cr) >> 16)
				g := clamp8((yy - 22554*cb - 46802*cr) >> 16)
				bl := clamp8((yy + 116130*cb) >> 16)
				d[x] = 0.2126*linear8[r] + 0.7152*linear8[g] + 0.0722*linear8[bl]
				if max(r, g, bl) >= clipCount {
					t[x] = 1
				}
			}
		}
	})
}

func clamp8(v int32) int32 { return min(max(v, 0), 255) }

func linearAny(m image.Image, lum, top *plane) {
	b := m.Bounds()
	table := make([]float32, 65536)
	for i := range table {
		table[i] = float32(linearSRGB(float64(i) / 65535))
	}
	strips(lum.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			d, t := lum.row(y), top.row(y)
			for x := range d {
				r, g, bl, _ := m.At(b.Min.X+x, b.Min.Y+y).RGBA()
				d[x] = 0.2126*table[r&0xffff] + 0.7152*table[g&0xffff] + 0.0722*table[bl&0xffff]
				if max(r, g, bl) >= clipCount*257 {
					t[x] = 1
				}
			}
		}
	})
}

// frame is the photograph without its pixels.
func (p *Photo) frame() *Photo {
	return &Photo{Path: p.Path, Width: p.Width, Height: p.Height, Orientation: p.Orientation, Bits: p.Bits, Grey: p.Grey, Profile: p.Profile, tint: p.tint}
}

// Stored takes an upright pixel to the pixel of the stored file (EXIF 2.32,
// tag Orientation).
func (p *Photo) Stored(q Point) Point {
	w, h := float64(p.Width-1), float64(p.Height-1)
	switch p.Orientation {
	case 2:
		return Point{w - q.X, q.Y}
	case 3:
		return Point{w - q.X, h - q.Y}
	case 4:
		return Point{q.X, h - q.Y}
	case 5:
		return Point{q.Y, q.X}
	case 6:
		return Point{q.Y, w - q.X}
	case 7:
		return Point{h - q.Y, w - q.X}
	case 8:
		return Point{h - q.Y, q.X}
	}
	return q
}

// Upright takes a pixel of the stored file to the upright pixel.
func (p *Photo) Upright(q Point) Point {
	w, h := float64(p.Width-1), float64(p.Height-1)
	switch p.Orientation {
	case 2:
		return Point{w - q.X, q.Y}
	case 3:
		return Point{w - q.X, h - q.Y}
	case 4:
		return Point{q.X, h - q.Y}
	case 5:
		return Point{q.Y, q.X}
	case 6:
		return Point{w - q.Y, q.X}
	case 7:
		return Point{w - q.Y, h - q.X}
	case 8:
		return Point{q.Y, h - q.X}
	}
	return q
}

// storedQuad takes the corners of an upright quad to the stored file.
func (p *Photo) storedQuad(q Quad) Quad {
	for i := range q {
		q[i] = p.Stored(q[i])
	}
	return q
}

// MarkFromStored is a plate mark whose corners, in pixels of the stored file,
// were set by hand: top-left, top-right, bottom-right, bottom-left as the
// reference stands upright.
func MarkFromStored(p *Photo, q Quad) PlateMark {
	for i := range q {
		q[i] = p.Upright(q[i])
	}
	return PlateMark{Corners: q, How: "by hand", Sure: 1}
}
