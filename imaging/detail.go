package imaging

import (
	"context"
	"math"
)

// Detail is where on a plate a photograph of a part of it was taken.
type Detail struct {
	Box         [4]float64 // x0, y0, x1, y1 in the plate's millimetres, as far as the photograph reaches
	Correlation float64    // of its lines with the reference's, 0..1
}

// detailScales are how many times nearer than the reference the camera may have
// stood; between two of them the description of corners holds.
var detailScales = []float64{1.5, 2, 2.7, 3.6, 4.8}

const (
	// detailGrid is the step, mm, at which the lines are compared.
	detailGrid = 0.25
	// detailLeast is the correlation from which a part is the plate's.
	detailLeast = 0.6
	// detailShare is the most of a plate that still is a part of it.
	detailShare = 0.7
)

// FindDetail looks whether a photograph shows a part of the plate, nearer than
// the reference was taken: its line work is sought among the reference's
// without any plate mark, then compared point by point. ok is false when it does
// not, or when that cannot be told; the error is the context's.
func (r *Reference) FindDetail(ctx context.Context, p *Photo) (d Detail, ok bool, err error) {
	ref := r.levels[0]
	for _, l := range r.levels {
		if math.Abs(math.Log(l.g.s/featureScale)) < math.Abs(math.Log(ref.g.s/featureScale)) {
			ref = l
		}
	}
	everywhere := func(int, int) bool { return true }
	known := features(ref.cov, everywhere)
	expected := r.Sheet.NativePx * float64(max(p.Width, p.Height)) / float64(max(r.width, r.height))
	for _, f := range detailScales {
		if err := ctx.Err(); err != nil {
			return d, false, err
		}
		scale := ref.g.s / (expected * f)
		if w, h := float64(p.Width)*scale, float64(p.Height)*scale; scale > 1.5 || min(w, h) < 3*patchHalf {
			continue
		}
		cov, _ := photoCoverage(p, scale, &sheetEdge{})
		from, to := matchFeatures(known, features(cov, everywhere))
		h, n := agree(from, to, 0.7*featureScale)
		if n < featureLeast {
			continue
		}
		// Samples of the reference's map to samples of the photograph's.
		box, share := r.seenOf(h.inverse(), cov, ref.g.s)
		rho := r.detailLikeness(ref, cov, h, box)
		if rho > detailLeast && share > 0 && share < detailShare {
			return Detail{box, rho}, true, nil
		}
	}
	return d, false, nil
}

// seenOf is the part of the plate that a map of a photograph reaches, and its
// share of the plate.
func (r *Reference) seenOf(back homography, cov *plane, s float64) (box [4]float64, share float64) {
	box = [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, c := range []Point{{0, 0}, {float64(cov.w), 0}, {float64(cov.w), float64(cov.h)}, {0, float64(cov.h)}} {
		q := back.apply(c)
		x, y := min(max((q.X+0.5)/s, 0), r.Size.Width), min(max((q.Y+0.5)/s, 0), r.Size.Height)
		box = [4]float64{min(box[0], x), min(box[1], y), max(box[2], x), max(box[3], y)}
	}
	return box, max(0, box[2]-box[0]) * max(0, box[3]-box[1]) / (r.Size.Width * r.Size.Height)
}

// detailLikeness correlates the reference's lines in a box with those of the
// photograph laid on it.
func (r *Reference) detailLikeness(ref level, cov *plane, h homography, box [4]float64) float64 {
	a, b := ref.cov.blur(1.2), cov.blur(1.2)
	var u, v []float64
	for y := box[1] + 1; y < box[3]-1; y += detailGrid {
		for x := box[0] + 1; x < box[2]-1; x += detailGrid {
			q := Point{x*ref.g.s - 0.5, y*ref.g.s - 0.5}
			t := h.apply(q)
			if t.X < 2 || t.Y < 2 || t.X > float64(cov.w)-3 || t.Y > float64(cov.h)-3 {
				continue
			}
			u, v = append(u, float64(a.bilinear(q.X, q.Y))), append(v, float64(b.bilinear(t.X, t.Y)))
		}
	}
	if len(u) < 400 {
		return 0
	}
	return pearson(u, v)
}

func pearson(u, v []float64) float64 {
	var n, su, sv, suu, svv, suv float64
	for i := range u {
		n++
		su += u[i]
		sv += v[i]
		suu += u[i] * u[i]
		svv += v[i] * v[i]
		suv += u[i] * v[i]
	}
	return (suv - su*sv/n) / math.Sqrt(max((suu-su*su/n)*(svv-sv*sv/n), 1e-20))
}
