package imaging

import (
	"math"
	"math/rand/v2"
	"testing"
)

func randomPlane(w, h int) *plane {
	r := rand.New(rand.NewPCG(8, 9))
	p := newPlane(w, h)
	for i := range p.v {
		p.v[i] = r.Float32()
	}
	return p
}

// TestBlurSpreads: a blurred point has the variance asked for and keeps its
// sum, by sampled kernel and by boxes alike.
func TestBlurSpreads(t *testing.T) {
	for _, sigma := range []float64{0.8, 2, 4.5, 6, 11} {
		p := newPlane(141, 141)
		p.v[70*141+70] = 1
		q := p.blur(sigma)
		var s, xx float64
		for y := range 141 {
			for x := range 141 {
				v := float64(q.v[y*141+x])
				s += v
				xx += v * float64(x-70) * float64(x-70)
			}
		}
		if math.Abs(s-1) > 1e-4 || math.Abs(math.Sqrt(xx)-sigma) > 0.04*sigma {
			t.Errorf("sigma %v: sum %.5f, spread %.3f", sigma, s, math.Sqrt(xx))
		}
	}
}

// TestBicubicLine: cubic convolution reproduces a quadratic exactly (Keys
// 1981).
func TestBicubicLine(t *testing.T) {
	p := newPlane(12, 12)
	f := func(x, y float64) float64 { return 1 + 0.3*x - 0.2*y + 0.05*x*x - 0.02*y*y + 0.01*x*y }
	for y := range 12 {
		for x := range 12 {
			p.v[y*12+x] = float32(f(float64(x), float64(y)))
		}
	}
	for _, q := range [][2]float64{{3.3, 4.7}, {5, 5}, {7.9, 2.1}} {
		if d := math.Abs(float64(p.bicubic(q[0], q[1])) - f(q[0], q[1])); d > 1e-4 {
			t.Errorf("at %v off by %g", q, d)
		}
	}
}

// TestExtreme compares van Herk's filter and grow with looking at every place.
func TestExtreme(t *testing.T) {
	p := randomPlane(37, 23)
	const r = 3
	hi, lo := maxWithin(p, r), minWithin(p, r)
	mask := make([]bool, len(p.v))
	for i, v := range p.v {
		mask[i] = v > 0.985
	}
	wide := grow(mask, p.w, p.h, r)
	for y := range p.h {
		for x := range p.w {
			a, b, any := float32(-1), float32(2), false
			for yy := max(0, y-r); yy <= min(p.h-1, y+r); yy++ {
				for xx := max(0, x-r); xx <= min(p.w-1, x+r); xx++ {
					a, b, any = max(a, p.v[yy*p.w+xx]), min(b, p.v[yy*p.w+xx]), any || mask[yy*p.w+xx]
				}
			}
			i := y*p.w + x
			if hi.v[i] != a || lo.v[i] != b || wide[i] != any {
				t.Fatalf("at %d,%d: %v %v %v, want %v %v %v", x, y, hi.v[i], lo.v[i], wide[i], a, b, any)
			}
		}
	}
}

// TestHomography takes points there and back and recovers a mapping from four.
func TestHomography(t *testing.T) {
	h := homography{1.1, 0.2, 30, -0.1, 0.95, 12, 1e-4, -2e-4, 1}
	inv := h.inverse()
	var from, to []Point
	for _, p := range []Point{{0, 0}, {120, 3}, {118, 90}, {-4, 95}, {50, 40}} {
		if d := inv.apply(h.apply(p)).dist(p); d > 1e-9 {
			t.Errorf("%v comes back %g off", p, d)
		}
		from, to = append(from, p), append(to, h.apply(p))
	}
	g, err := fitHomography(from[:4], to[:4], nil)
	if err != nil || g.apply(from[4]).dist(to[4]) > 1e-6 {
		t.Errorf("recovered %v, %v", g, err)
	}
	if _, err := fitHomography([]Point{{0, 0}, {0, 0}, {0, 0}, {0, 0}}, to[:4], nil); err == nil {
		t.Error("four equal points fixed a mapping")
	}
}

// TestStoredUpright: the eight EXIF turns (EXIF 2.32, tag Orientation), a
// corner of each by hand and every pixel there and back.
func TestStoredUpright(t *testing.T) {
	first := map[int]Point{1: {0, 0}, 2: {39, 0}, 3: {39, 29}, 4: {0, 29}, 5: {0, 0}, 6: {0, 29}, 7: {39, 29}, 8: {39, 0}}
	for o, want := range first {
		p := &Photo{Width: 40, Height: 30, Orientation: o}
		if o >= 5 {
			p.Width, p.Height = 30, 40
		}
		if got := p.Stored(Point{0, 0}); got != want {
			t.Errorf("orientation %d: upright 0,0 is stored at %v, want %v", o, got, want)
		}
		s := newPlane(40, 30)
		for i := range s.v {
			s.v[i] = float32(i)
		}
		up := p.turn(s)
		for y := range p.Height {
			for x := range p.Width {
				q := Point{float64(x), float64(y)}
				st := p.Stored(q)
				if p.Upright(st) != q {
					t.Fatalf("orientation %d: %v comes back as %v", o, q, p.Upright(st))
				}
				if up.v[y*p.Width+x] != s.v[int(st.Y)*40+int(st.X)] {
					t.Fatalf("orientation %d: pixel %v turned wrongly", o, q)
				}
			}
		}
	}
}

// TestThin thins strokes to their middle and measures their length.
func TestThin(t *testing.T) {
	for _, end := range []Point{{90, 20}, {80, 80}, {30, 90}} {
		s := &Sheet{Size: Size{10, 10}, Cols: 110, Rows: 110, PxPerMM: 11}
		s.Coverage, s.Line, s.Valid = make([]float32, 110*110), make([]bool, 110*110), make([]bool, 110*110)
		a := Point{25, 20}
		for i := range s.Coverage {
			x, y := float64(i%110), float64(i/110)
			l := a.dist(end)
			u := ((x-a.X)*(end.X-a.X) + (y-a.Y)*(end.Y-a.Y)) / (l * l)
			d := math.Abs(cross(a, end, Point{x, y})) / l
			if u > 0 && u < 1 && d < 2.5 {
				s.Coverage[i] = 1
			}
			s.Line[i] = true
		}
		_, mm := axes(s, &plane{w: 110, h: 110, v: s.Coverage})
		if want := a.dist(end) / 11; math.Abs(mm-want) > 0.12*want {
			t.Errorf("a stroke of %.2f mm measures %.2f", want, mm)
		}
	}
}

// TestRepeat sums up three results of one impression.
func TestRepeat(t *testing.T) {
	r := Repeat([]Value{{0.10, 0.01}, {0.12, 0.01}, {0.14, 0.01}})
	if r.N != 3 || math.Abs(r.Mean-0.12) > 1e-12 || math.Abs(r.SD-0.02) > 1e-12 || math.Abs(r.Limit-0.056) > 1e-12 || math.Abs(r.Ratio-2) > 1e-9 {
		t.Errorf("%+v", r)
	}
	if r := Repeat([]Value{{0.1, 0.01}}); r.SD != 0 || !math.IsNaN(r.Ratio) {
		t.Errorf("one result: %+v", r)
	}
}
