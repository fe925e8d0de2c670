package look

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"
)

// Pen draws small figures with soft edges into a picture. The toolkit paints
// every line and disc anew with every picture of the window; drawn once into a
// picture, hundreds of them cost it as little as one. Lengths are in pixels of
// the picture.
type Pen struct {
	dst *image.RGBA
	r   vector.Rasterizer
}

// NewPen draws on an empty picture of w x h pixels.
func NewPen(w, h int) *Pen {
	return &Pen{dst: image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))}
}

// Picture is what was drawn.
func (p *Pen) Picture() *image.RGBA { return p.dst }

// Line draws a line with flat ends.
func (p *Pen) Line(x0, y0, x1, y1, width float32, c color.Color) {
	l := float32(math.Hypot(float64(x1-x0), float64(y1-y0)))
	if l == 0 {
		return
	}
	nx, ny := (y1-y0)/l*width/2, (x0-x1)/l*width/2
	p.fill([][2]float32{{x0 + nx, y0 + ny}, {x1 + nx, y1 + ny}, {x1 - nx, y1 - ny}, {x0 - nx, y0 - ny}}, c)
}

// Disc fills a circle.
func (p *Pen) Disc(x, y, radius float32, c color.Color) {
	p.fill(circle(x, y, radius), c)
}

// Ring draws a circle; its line lies inside the radius.
func (p *Pen) Ring(x, y, radius, width float32, c color.Color) {
	p.frame(circle(x, y, radius), circle(x, y, radius-width), c)
}

func circle(x, y, radius float32) [][2]float32 {
	var at [24][2]float32
	for i := range at {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(len(at)))
		at[i] = [2]float32{x + radius*float32(k), y + radius*float32(s)}
	}
	return at[:]
}

// frame fills what lies between a figure and a smaller one of as many corners.
func (p *Pen) frame(out, in [][2]float32, c color.Color) {
	at := append(append([][2]float32{}, out...), out[0], in[0])
	for i := len(in) - 1; i >= 0; i-- { // the other way round, so that it stays empty
		at = append(at, in[i])
	}
	p.fill(at, c)
}

// fill fills a figure; only the part of the picture that it lies on is touched.
func (p *Pen) fill(at [][2]float32, c color.Color) {
	x0, y0, x1, y1 := at[0][0], at[0][1], at[0][0], at[0][1]
	for _, q := range at {
		x0, y0, x1, y1 = min(x0, q[0]), min(y0, q[1]), max(x1, q[0]), max(y1, q[1])
	}
	box := image.Rect(int(x0)-1, int(y0)-1, int(x1)+2, int(y1)+2).Intersect(p.dst.Rect)
	if box.Empty() {
		return
	}
	p.r.Reset(box.Dx(), box.Dy())
	for i, q := range at {
		x, y := q[0]-float32(box.Min.X), q[1]-float32(box.Min.Y)
		if i == 0 {
			p.r.MoveTo(x, y)
		} else {
			p.r.LineTo(x, y)
		}
	}
	p.r.ClosePath()
	p.r.Draw(p.dst, box, image.NewUniform(c), image.Point{})
}
