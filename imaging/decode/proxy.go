package decode

import (
	"context"
	"image"
	"math"

	"pullbook/imaging/colour"
)

// RGBA returns the picture upright in sRGB, made smaller so that no side
// exceeds maxSide (0: full size). It averages light, not code values, so fine
// lines keep their weight.
func (p *Picture) RGBA(maxSide int) *image.RGBA {
	out, _ := p.Proxy(context.Background(), maxSide)
	return out
}

// Proxy is RGBA that can be stopped; the error is the context's.
func (p *Picture) Proxy(ctx context.Context, maxSide int) (*image.RGBA, error) {
	w, h := p.Width, p.Height
	if side := max(w, h); maxSide > 0 && side > maxSide {
		k := float64(maxSide) / float64(side)
		w = max(1, int(math.Round(float64(w)*k)))
		h = max(1, int(math.Round(float64(h)*k)))
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if tw, th := turnedSize(p.Orientation, w, h); tw != w {
		out = image.NewRGBA(image.Rect(0, 0, tw, th))
	}
	s := shrinker{p: p, t: p.newTables(colour.Vector{1, 1, 1}), w: w, h: h, out: out, encode: encodeTable()}
	s.turn = Info{Width: w, Height: h, Orientation: p.Orientation}
	if m := p.Profile.ToSRGB; math.Abs(m[0][0]-1)+math.Abs(m[0][1])+math.Abs(m[0][2]) > 1e-6 {
		s.matrix = &m
	}
	if err := strips(ctx, h, s.rows); err != nil {
		return nil, err
	}
	return out, nil
}

func turnedSize(orientation, w, h int) (int, int) {
	i := Info{Width: w, Height: h, Orientation: orientation}
	return i.Turned()
}

// shrinker averages stored pixels into the turned output.
type shrinker struct {
	p      *Picture
	t      *tables
	w, h   int // output before the turn
	out    *image.RGBA
	turn   Info
	matrix *colour.Matrix
	encode []uint8
}

// rows makes output rows y0..y1: each source row is narrowed and then added,
// with the share that falls on it, to the one or two output rows it touches.
func (s *shrinker) rows(y0, y1 int) {
	src := make([]float32, 3*s.p.Width)
	narrow := make([]float32, 3*s.w)
	sum := make([]float32, 3*s.w)
	step := float64(s.p.Height) / float64(s.h)
	for y := y0; y < y1; y++ {
		clear(sum)
		top, end := float64(y)*step, float64(y+1)*step
		last := min(int(math.Ceil(end-1e-9)), s.p.Height)
		for sy := int(top + 1e-9); sy < last; sy++ {
			share := math.Min(end, float64(sy+1)) - math.Max(top, float64(sy))
			s.p.linearRow(s.t, sy, src)
			s.narrow(src, narrow)
			k := float32(share / step)
			for i, v := range narrow {
				sum[i] += k * v
			}
		}
		s.put(y, sum)
	}
}

// narrow averages a row of light to the output width.
func (s *shrinker) narrow(src, dst []float32) {
	n := len(src) / 3
	if n == s.w {
		copy(dst, src)
		return
	}
	clear(dst)
	k := float64(s.w) / float64(n)
	for x := range n {
		at := float64(x) * k
		o := int(at)
		first := float32(k)
		var second float32
		if over := at + k - float64(o+1); over > 1e-9 && o+1 < s.w {
			second = float32(over)
			first -= second
		}
		v := src[3*x : 3*x+3 : 3*x+3]
		d := dst[3*o:]
		d[0] += first * v[0]
		d[1] += first * v[1]
		d[2] += first * v[2]
		if second > 0 {
			d[3] += second * v[0]
			d[4] += second * v[1]
			d[5] += second * v[2]
		}
	}
}

// put encodes a row and lays it where the turn wants it.
func (s *shrinker) put(y int, row []float32) {
	top := float32(len(s.encode) - 1)
	code := func(v float32) uint8 { return s.encode[int(min(max(v, 0), 1)*top+0.5)] }
	for x := range s.w {
		r, g, b := row[3*x], row[3*x+1], row[3*x+2]
		if s.matrix != nil {
			v := s.matrix.Apply(colour.Vector{float64(r), float64(g), float64(b)})
			r, g, b = float32(v[0]), float32(v[1]), float32(v[2])
		}
		ux, uy := s.turn.Stand(float64(x), float64(y))
		d := s.out.Pix[s.out.PixOffset(int(ux), int(uy)):][:4:4]
		d[0], d[1], d[2], d[3] = code(r), code(g), code(b), 255
	}
}

// encodeTable is the sRGB curve by 16384 steps of light, a fifth of a code at
// its steepest.
func encodeTable() []uint8 {
	t := make([]uint8, 1<<14)
	for i := range t {
		t[i] = uint8(255*colour.EncodeSRGB(float64(i)/float64(len(t)-1)) + 0.5)
	}
	return t
}
