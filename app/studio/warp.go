package studio

import (
	"errors"
	"image"
	"math"

	"pullbook/catalog"
)

// lattice maps a plate's millimetres to the stored pixels of a photograph by
// nodes at equal steps, edges included, row by row from the top-left.
type lattice struct {
	rows, cols int
	size       catalog.Size
	at         [][2]float64 // stored pixels of each node
}

// warpRows and warpCols are fine enough that straight cells follow the
// perspective of a hand-held photograph to a tenth of a pixel.
const warpRows, warpCols = 24, 32

// latticeOfMark maps by the four corners of a plate mark alone.
func latticeOfMark(mark [4][2]float64, size catalog.Size) (*lattice, error) {
	h, ok := squareTo(mark)
	if !ok || size.IsZero() {
		return nil, errors.New("the plate mark of this photograph is not known; set its four corners by hand")
	}
	l := &lattice{rows: warpRows, cols: warpCols, size: size}
	for r := 0; r <= l.rows; r++ {
		for c := 0; c <= l.cols; c++ {
			u, v := float64(c)/float64(l.cols), float64(r)/float64(l.rows)
			d := h[6]*u + h[7]*v + 1
			l.at = append(l.at, [2]float64{(h[0]*u + h[1]*v + h[2]) / d, (h[3]*u + h[4]*v + h[5]) / d})
		}
	}
	return l, nil
}

// squareTo is the projective mapping of the unit square to a quad (Heckbert
// 1989, section 2.2.3); false when the quad has no area.
func squareTo(q [4][2]float64) (h [8]float64, ok bool) {
	dx1, dx2 := q[1][0]-q[2][0], q[3][0]-q[2][0]
	dy1, dy2 := q[1][1]-q[2][1], q[3][1]-q[2][1]
	sx := q[0][0] - q[1][0] + q[2][0] - q[3][0]
	sy := q[0][1] - q[1][1] + q[2][1] - q[3][1]
	den := dx1*dy2 - dx2*dy1
	if math.Abs(den) < 1e-9 {
		return h, false
	}
	g := (sx*dy2 - dx2*sy) / den
	k := (dx1*sy - sx*dy1) / den
	return [8]float64{
		q[1][0] - q[0][0] + g*q[1][0], q[3][0] - q[0][0] + k*q[3][0], q[0][0],
		q[1][1] - q[0][1] + g*q[1][1], q[3][1] - q[0][1] + k*q[3][1], q[0][1], g, k,
	}, true
}

// place is the stored pixel of a point of the plate.
func (l *lattice) place(xMM, yMM float64) (x, y float64) {
	u := xMM / l.size.WidthMM * float64(l.cols)
	v := yMM / l.size.HeightMM * float64(l.rows)
	c := min(max(int(math.Floor(u)), 0), l.cols-1)
	r := min(max(int(math.Floor(v)), 0), l.rows-1)
	u, v = u-float64(c), v-float64(r)
	a, b := l.at[r*(l.cols+1)+c], l.at[r*(l.cols+1)+c+1]
	d, e := l.at[(r+1)*(l.cols+1)+c], l.at[(r+1)*(l.cols+1)+c+1]
	mix := func(i int) float64 {
		return (1-v)*((1-u)*a[i]+u*b[i]) + v*((1-u)*d[i]+u*e[i])
	}
	return mix(0), mix(1)
}

// pxPerMM is the scale of the photograph over the plate.
func (l *lattice) pxPerMM() float64 {
	var area float64
	corners := [4]int{0, l.cols, (l.rows+1)*(l.cols+1) - 1, l.rows * (l.cols + 1)}
	for i := range corners {
		a, b := l.at[corners[i]], l.at[corners[(i+1)%4]]
		area += a[0]*b[1] - b[0]*a[1]
	}
	return math.Sqrt(math.Abs(area) / 2 / (l.size.HeightMM * l.size.WidthMM))
}

// view is the colour picture of a photograph made smaller, upright, with the
// way from stored pixels to its own.
type view struct {
	img   *image.RGBA
	stand func(x, y float64) (float64, float64) // stored to upright, full size
	scale float64                               // of img against full size
}

// rectify draws the box (mm, x0 y0 x1 y1) of the plate at so many pixels a
// millimetre. The view should be at most half as coarse again as that.
func (v *view) rectify(l *lattice, box [4]float64, pxPerMM float64) *image.RGBA {
	w := max(1, int(math.Round((box[2]-box[0])*pxPerMM)))
	h := max(1, int(math.Round((box[3]-box[1])*pxPerMM)))
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			sx, sy := l.place(box[0]+(float64(x)+0.5)/pxPerMM, box[1]+(float64(y)+0.5)/pxPerMM)
			ux, uy := v.stand(sx, sy)
			v.sample((ux+0.5)*v.scale-0.5, (uy+0.5)*v.scale-0.5, out.Pix[out.PixOffset(x, y):])
		}
	}
	return out
}

// sample reads the picture between pixels; outside it is white.
func (v *view) sample(x, y float64, to []uint8) {
	b := v.img.Rect
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	if x0 < -1 || y0 < -1 || x0 >= b.Dx() || y0 >= b.Dy() {
		to[0], to[1], to[2], to[3] = 255, 255, 255, 255
		return
	}
	fx, fy := int((x-float64(x0))*256), int((y-float64(y0))*256)
	xa, xb := max(x0, 0), min(x0+1, b.Dx()-1)
	ya, yb := max(y0, 0), min(y0+1, b.Dy()-1)
	p, q := v.img.Pix[v.img.PixOffset(xa, ya):], v.img.Pix[v.img.PixOffset(xb, ya):]
	r, s := v.img.Pix[v.img.PixOffset(xa, yb):], v.img.Pix[v.img.PixOffset(xb, yb):]
	for i := range 3 {
		top := int(p[i])*(256-fx) + int(q[i])*fx
		low := int(r[i])*(256-fx) + int(s[i])*fx
		to[i] = uint8((top*(256-fy) + low*fy + 1<<15) >> 16)
	}
	to[3] = 255
}
