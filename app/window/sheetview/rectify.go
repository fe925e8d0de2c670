package sheetview

import (
	"encoding/binary"
	"errors"
	"image"
	"math"
)

// Corner is a corner of a plate mark in pixels of a picture, pixel centres at
// whole numbers.
type Corner [2]float64

// Rectify draws the plate of w x h millimetres, with margin round it, upright
// at pxPerMM from a picture in which its corners (top-left, top-right,
// bottom-right, bottom-left) are known. It is a stand-in, by a plain
// perspective, until the measured registration is there.
func Rectify(img *image.RGBA, corners [4]Corner, w, h, margin, pxPerMM float64) (*image.RGBA, error) {
	hm, err := homography([4]Corner{{0, 0}, {w, 0}, {w, h}, {0, h}}, corners)
	if err != nil {
		return nil, err
	}
	ow, oh := int(math.Round((w+2*margin)*pxPerMM)), int(math.Round((h+2*margin)*pxPerMM))
	if ow < 2 || oh < 2 || ow > 20000 || oh > 20000 {
		return nil, errors.New("the plate's size is not recorded, so its photograph cannot be set upright")
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	sw, sh := img.Rect.Dx(), img.Rect.Dy()
	bands(oh, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			my := (float64(y)+0.5)/pxPerMM - margin
			row := out.Pix[y*out.Stride:]
			for x := range ow {
				mx := (float64(x)+0.5)/pxPerMM - margin
				d := hm[6]*mx + hm[7]*my + 1
				px, py := (hm[0]*mx+hm[1]*my+hm[2])/d, (hm[3]*mx+hm[4]*my+hm[5])/d
				binary.LittleEndian.PutUint32(row[4*x:], at(img, sw, sh, px, py))
			}
		}
	})
	return out, nil
}

// at reads a picture between its pixels; outside it is the nearest edge.
func at(img *image.RGBA, w, h int, x, y float64) uint32 {
	x = min(max(x, 0), float64(w-1))
	y = min(max(y, 0), float64(h-1))
	x0, y0 := min(int(x), w-2), min(int(y), h-2)
	fx, fy := uint64((x-float64(x0))*256), uint64((y-float64(y0))*256)
	i := y0*img.Stride + 4*x0
	a, b := img.Pix[i:i+8], img.Pix[i+img.Stride:i+img.Stride+8]
	left := (spread(a)*(256-fy) + spread(b)*fy) >> 8 & lanes
	right := (spread(a[4:])*(256-fy) + spread(b[4:])*fy) >> 8 & lanes
	v := (left*(256-fx) + right*fx) >> 8
	return uint32(v&0xff|v>>8&0xff00|v>>16&0xff0000) | 0xff000000
}

// homography solves the eight unknowns that carry the four points from to the
// four points to, by elimination with pivots.
func homography(from, to [4]Corner) ([8]float64, error) {
	var m [8][9]float64
	for i := range 4 {
		x, y, u, v := from[i][0], from[i][1], to[i][0], to[i][1]
		m[2*i] = [9]float64{x, y, 1, 0, 0, 0, -x * u, -y * u, u}
		m[2*i+1] = [9]float64{0, 0, 0, x, y, 1, -x * v, -y * v, v}
	}
	for c := range 8 {
		p := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		if math.Abs(m[p][c]) < 1e-12 {
			return [8]float64{}, errors.New("the four corners of the plate mark do not make a quadrangle; drag them to the plate's corners")
		}
		m[c], m[p] = m[p], m[c]
		for r := range 8 {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := c; k < 9; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	var out [8]float64
	for i := range 8 {
		out[i] = m[i][8] / m[i][i]
	}
	return out, nil
}
