// Package preview draws a page's display list as a picture, for the window.
// It uses the same glyph outlines and the same places as the PDF.
package preview

import (
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/math/f64"
	"golang.org/x/image/vector"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// inks are the screen colours, those of the screen palette of the PDF.
var inks = map[typeset.Ink]color.RGBA{
	typeset.Text: {28, 26, 24, 255}, typeset.Grey: {99, 94, 88, 255}, typeset.Accent: {122, 38, 30, 255},
	typeset.Hair: {196, 191, 184, 255}, typeset.Rule: {120, 115, 109, 255}, typeset.Bar: {92, 84, 76, 255},
	typeset.Tint: {240, 237, 231, 255}, typeset.White: {255, 255, 255, 255}, typeset.Mark: {0, 0, 0, 255},
}

// Draw draws a page at a resolution. Pictures that cannot be read are pale
// boxes.
func Draw(p *display.Page, dpi float64) *image.RGBA {
	k := dpi / 72
	w, h := int(math.Ceil(p.Width*k)), int(math.Ceil(p.Height*k))
	d := &drawer{dst: image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1))), k: k}
	draw.Draw(d.dst, d.dst.Bounds(), image.White, image.Point{}, draw.Src)
	for _, it := range p.Items {
		switch it := it.(type) {
		case *display.Text:
			d.text(it)
		case *display.Rule:
			d.rule(it.X1, it.Y1, it.X2, it.Y2, it.Width, it.Dash, inks[it.Ink])
		case *display.Box:
			d.polygon([][2]float64{{it.X, it.Y}, {it.X + it.W, it.Y}, {it.X + it.W, it.Y + it.H}, {it.X, it.Y + it.H}}, inks[it.Ink])
		case *display.Dot:
			d.dot(it)
		case *display.Curve:
			d.curve(it)
		case *display.Picture:
			d.picture(it)
		}
	}
	return d.dst
}

// drawer holds the page being drawn.
type drawer struct {
	dst *image.RGBA
	k   float64 // pixels per point
}

// fill fills what the path function draws, whose bounds are given in pixels.
func (d *drawer) fill(x0, y0, x1, y1 float64, c color.RGBA, path func(r *vector.Rasterizer, dx, dy float32)) {
	box := image.Rect(int(math.Floor(x0))-1, int(math.Floor(y0))-1, int(math.Ceil(x1))+1, int(math.Ceil(y1))+1).Intersect(d.dst.Bounds())
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	path(r, float32(-box.Min.X), float32(-box.Min.Y))
	r.Draw(d.dst, box, image.NewUniform(c), image.Point{})
}

// polygon fills a polygon given in points.
func (d *drawer) polygon(pts [][2]float64, c color.RGBA) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range pts {
		x0, x1 = min(x0, p[0]*d.k), max(x1, p[0]*d.k)
		y0, y1 = min(y0, p[1]*d.k), max(y1, p[1]*d.k)
	}
	d.fill(x0, y0, x1, y1, c, func(r *vector.Rasterizer, dx, dy float32) {
		for i, p := range pts {
			x, y := float32(p[0]*d.k)+dx, float32(p[1]*d.k)+dy
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	})
}

// rule draws a straight line as a thin polygon, at least a third of a pixel.
func (d *drawer) rule(x1, y1, x2, y2, width, dash float64, c color.RGBA) {
	length := math.Hypot(x2-x1, y2-y1)
	if length == 0 {
		return
	}
	ux, uy := (x2-x1)/length, (y2-y1)/length
	half := max(width, .34/d.k) / 2
	step := length
	if dash > 0 {
		step = dash
	}
	for a := 0.0; a < length; a += 2 * step {
		b := min(a+step, length)
		d.polygon([][2]float64{
			{x1 + ux*a - uy*half, y1 + uy*a + ux*half}, {x1 + ux*b - uy*half, y1 + uy*b + ux*half},
			{x1 + ux*b + uy*half, y1 + uy*b - ux*half}, {x1 + ux*a + uy*half, y1 + uy*a - ux*half}}, c)
	}
}

// dot fills a circle.
func (d *drawer) dot(o *display.Dot) {
	const n = 24
	pts := make([][2]float64, n)
	for i := range pts {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		pts[i] = [2]float64{o.X + o.R*c, o.Y + o.R*s}
	}
	d.polygon(pts, inks[o.Ink])
}

// curve draws or fills a polyline.
func (d *drawer) curve(c *display.Curve) {
	if c.Fill {
		d.polygon(c.Points, inks[c.Ink])
		return
	}
	for i := 1; i < len(c.Points); i++ {
		d.rule(c.Points[i-1][0], c.Points[i-1][1], c.Points[i][0], c.Points[i][1], c.Width, 0, inks[c.Ink])
	}
}

// text fills glyph outlines.
func (d *drawer) text(t *display.Text) {
	for _, w := range t.Words {
		pen := t.X + w.X
		em := w.Style.Size / 1000
		for _, g := range w.Run.Glyphs {
			d.glyph(g, pen+float64(g.DX)*em, t.Y-w.Style.Rise-float64(g.DY)*em, em, inks[w.Style.Ink])
			pen += (float64(g.Adv) + w.Style.Track) * em
		}
	}
}

// glyph fills one outline with its origin at x, y points.
func (d *drawer) glyph(g typeset.Glyph, x, y, em float64, c color.RGBA) {
	segs := g.Face.Outline(g.ID)
	if len(segs) == 0 {
		return
	}
	s := float32(em * d.k)
	ox, oy := float32(x*d.k), float32(y*d.k)
	x0, y0, x1, y1 := float32(math.Inf(1)), float32(math.Inf(1)), float32(math.Inf(-1)), float32(math.Inf(-1))
	for _, sg := range segs {
		for _, p := range sg.P {
			x0, x1 = min(x0, ox+p[0]*s), max(x1, ox+p[0]*s)
			y0, y1 = min(y0, oy-p[1]*s), max(y1, oy-p[1]*s)
		}
	}
	d.fill(float64(x0), float64(y0), float64(x1), float64(y1), c, func(r *vector.Rasterizer, dx, dy float32) {
		at := func(p [2]float32) (float32, float32) { return ox + p[0]*s + dx, oy - p[1]*s + dy }
		for i, sg := range segs {
			a, b := at(sg.P[0])
			switch sg.Op {
			case 'M':
				if i > 0 {
					r.ClosePath()
				}
				r.MoveTo(a, b)
			case 'L':
				r.LineTo(a, b)
			case 'Q':
				e, f := at(sg.P[1])
				r.QuadTo(a, b, e, f)
			case 'C':
				e, f := at(sg.P[1])
				u, v := at(sg.P[2])
				r.CubeTo(a, b, e, f, u, v)
			}
		}
		r.ClosePath()
	})
}

// picture draws a JPEG file under its matrix.
func (d *drawer) picture(p *display.Picture) {
	src, err := decode(p.Path)
	clip := d.dst.Bounds()
	if p.Clip.W > 0 {
		clip = image.Rect(int(math.Round(p.Clip.X*d.k)), int(math.Round(p.Clip.Y*d.k)),
			int(math.Round((p.Clip.X+p.Clip.W)*d.k)), int(math.Round((p.Clip.Y+p.Clip.H)*d.k))).Intersect(clip)
	}
	if err != nil {
		if p.Clip.W > 0 {
			draw.Draw(d.dst, clip, image.NewUniform(inks[typeset.Tint]), image.Point{}, draw.Src)
		}
		return
	}
	w, h := float64(src.Bounds().Dx()), float64(src.Bounds().Dy())
	m := p.To
	aff := f64.Aff3{m[0] * d.k / w, m[2] * d.k / h, m[4] * d.k, m[1] * d.k / w, m[3] * d.k / h, m[5] * d.k}
	sub, ok := d.dst.SubImage(clip).(*image.RGBA)
	if !ok || clip.Empty() {
		return
	}
	xdraw.BiLinear.Transform(sub, aff, src, src.Bounds(), xdraw.Over, nil) // averages where the picture is reduced
}

// decode reads a JPEG file.
func decode(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return jpeg.Decode(f)
}
