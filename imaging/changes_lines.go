package imaging

import "math"

// lineField is the second derivatives of a coverage under a Gaussian, from
// which lines and their directions are read (Steger 1998).
type lineField struct {
	s          *plane // the smoothed coverage
	xx, xy, yy *plane // its second derivatives times the Gaussian's variance
}

// newLineField smooths a coverage by sigma samples. Samples that are NaN count
// as bare ground.
func newLineField(a *plane, sigma float64) *lineField {
	for i, v := range a.v {
		if v != v {
			a.v[i] = 0
		}
	}
	f := &lineField{a.blur(sigma), newPlane(a.w, a.h), newPlane(a.w, a.h), newPlane(a.w, a.h)}
	k := float32(sigma * sigma)
	strips(a.h, func(_, lo, hi int) {
		for y := max(1, lo); y < min(a.h-1, hi); y++ {
			u, m, d := f.s.row(y-1), f.s.row(y), f.s.row(y+1)
			xx, xy, yy := f.xx.row(y), f.xy.row(y), f.yy.row(y)
			for x := 1; x < a.w-1; x++ {
				xx[x] = k * (m[x-1] - 2*m[x] + m[x+1])
				yy[x] = k * (u[x] - 2*m[x] + d[x])
				xy[x] = k * 0.25 * (u[x-1] - u[x+1] - d[x-1] + d[x+1])
			}
		}
	})
	return f
}

// across is the strength of a dark line across the unit direction (nx, ny) at
// a place: minus the second derivative along it. It is negative beside a line.
func (f *lineField) across(x, y, nx, ny float64) float64 {
	if x < 1 || y < 1 || x > float64(f.s.w-2) || y > float64(f.s.h-2) {
		return 0
	}
	xx, xy, yy := float64(f.xx.bilinear(x, y)), float64(f.xy.bilinear(x, y)), float64(f.yy.bilinear(x, y))
	return -(nx*nx*xx + 2*nx*ny*xy + ny*ny*yy)
}

// linePoint is one sample on the axis of a line.
type linePoint struct {
	x, y    float32 // samples
	nx, ny  float32 // unit vector across the line
	r       float32 // strength
	round   float32 // strength along the line over that across it: a crossing is near 1
	present float32 // share of it that the other sheet shows
	veer    float32 // angle to the line that the other sheet shows there, where it shows one
}

// axes lists the points of line axes: the samples where the strength across
// the line is greatest and at least least, edge samples inside the plate.
func (f *lineField) axes(least float64, edge int) []linePoint {
	w, h := f.s.w, f.s.h
	parts := make([][]linePoint, stripCount(h))
	strips(h, func(k, lo, hi int) {
		for y := max(lo, edge); y < min(hi, h-edge); y++ {
			for x := edge; x < w-edge; x++ {
				if p, ok := f.axisAt(x, y, least); ok {
					parts[k] = append(parts[k], p)
				}
			}
		}
	})
	var out []linePoint
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

func (f *lineField) axisAt(x, y int, least float64) (linePoint, bool) {
	i := y*f.s.w + x
	a, b, c := float64(f.xx.v[i]), float64(f.xy.v[i]), float64(f.yy.v[i])
	mean, half := (a+c)/2, math.Sqrt((a-c)*(a-c)/4+b*b)
	r := half - mean
	if r < least {
		return linePoint{}, false
	}
	// The eigenvector of the most negative curvature crosses the line.
	nx, ny := b, -r-a
	if math.Abs(a+r) < math.Abs(c+r) {
		nx, ny = -r-c, b
	}
	n := math.Hypot(nx, ny)
	if n < 1e-9 {
		nx, ny, n = 1, 0, 1
	}
	nx, ny = nx/n, ny/n
	fx, fy := float64(x), float64(y)
	if f.across(fx+nx, fy+ny, nx, ny) > r || f.across(fx-nx, fy-ny, nx, ny) >= r {
		return linePoint{}, false
	}
	along := max(0, -mean-half)
	return linePoint{x: float32(x), y: float32(y), nx: float32(nx), ny: float32(ny), r: float32(r), round: float32(along / r)}, true
}

// shown is how much of the line at p this field shows: the strongest line
// across the same direction within reach samples to either side, over p's own;
// and by what angle the line there, whose strength speaks, turns from p's.
func (f *lineField) shown(p *linePoint, reach float64) (present, veer float64) {
	best, at := 0.0, 0.0
	x, y, nx, ny := float64(p.x), float64(p.y), float64(p.nx), float64(p.ny)
	for d := -reach; d <= reach+1e-9; d += 0.5 {
		if a := f.across(x+d*nx, y+d*ny, nx, ny); a > best {
			best, at = a, d
		}
	}
	if best == 0 {
		return 0, 0
	}
	x, y = x+at*nx, y+at*ny
	a, b, c := float64(f.xx.bilinear(x, y)), float64(f.xy.bilinear(x, y)), float64(f.yy.bilinear(x, y))
	// The direction of the most negative curvature, as a double angle.
	across := math.Atan2(-2*b, c-a) / 2
	veer = math.Abs(math.Mod(across-math.Atan2(ny, nx)+2.5*math.Pi, math.Pi) - math.Pi/2)
	return best / float64(p.r), veer
}

// lookUp finds how much of a line of from the sheet in shows at p. Where in has
// a line that runs another way, both are asked over a stretch of p's line: close
// hatching that crosses averages out over as much.
func (p *linePoint) lookUp(from, in *lineField, s float64) {
	const reach, stretch = 0.2, 0.5 // mm to either side, across and along
	present, veer := in.shown(p, reach*s)
	if veer > sameTurn && present > absentBelow {
		x, y, nx, ny := float64(p.x), float64(p.y), float64(p.nx), float64(p.ny)
		// A bent stroke is no line over the stretch: it has its own strength at least in half.
		own := math.Max(from.along(x, y, nx, ny, stretch*s), 0.5*float64(p.r))
		best := 0.0
		for d := -reach * s; d <= reach*s+1e-9; d += 0.5 {
			best = math.Max(best, in.along(x+d*nx, y+d*ny, nx, ny, stretch*s))
		}
		if best/own < present {
			present, veer = best/own, 0
		}
	}
	p.present, p.veer = float32(present), float32(veer)
}

// along is the mean strength across (nx, ny) over half samples to either side
// of a place, along the line there.
func (f *lineField) along(x, y, nx, ny, half float64) float64 {
	sum, n := 0.0, 0.0
	for d := -half; d <= half+1e-9; d++ {
		sum += f.across(x-d*ny, y+d*nx, nx, ny)
		n++
	}
	return sum / n
}

// turn is the angle between the directions of two lines, 0 to pi/2.
func (p *linePoint) turn(q *linePoint) float64 {
	return math.Acos(min(1, math.Abs(float64(p.nx*q.nx+p.ny*q.ny))))
}

func (p *linePoint) apart(q *linePoint) float64 {
	return math.Hypot(float64(p.x-q.x), float64(p.y-q.y))
}
