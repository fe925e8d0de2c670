package imaging

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// TestFindPlatePainted finds marks on dark and light tables, without tone, with
// border lines near the edge, and turned.
func TestFindPlatePainted(t *testing.T) {
	turned, _ := quadMapping(Size{45, 60}.rectangle(), Quad{{601, 124}, {596, 668}, {193, 662}, {200, 120}})
	border := [][5]float64{{2.2, 2.2, 57.8, 2.2, 0.25}, {57.8, 2.2, 57.8, 42.8, 0.25}, {57.8, 42.8, 2.2, 42.8, 0.25}, {2.2, 42.8, 2.2, 2.2, 0.25}}
	for name, change := range map[string]func(*painted){
		"dark table":   func(p *painted) {},
		"light table":  func(p *painted) { p.table = 1.25; p.light = func(_, _ float64) float64 { return 0.6 } },
		"no tone":      func(p *painted) { p.tone = 0 },
		"heavy tone":   func(p *painted) { p.tone = 0.3 },
		"border lines": func(p *painted) { p.strokes = append(p.strokes, border...) },
		"uneven light": func(p *painted) { p.light = func(x, y float64) float64 { return 0.8 - 0.0003*x } },
		"on its side":  func(p *painted) { p.w, p.h, p.toPx = 800, 800, turned },
	} {
		p := plainPlate()
		change(&p)
		photo, _ := p.paint()
		m, err := FindPlate(context.Background(), photo, p.size)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want := (&mapping{h: p.toPx}).corners(p.size)
		best := math.Inf(1)
		for k := range 4 {
			q := m.Corners.turned(k)
			worst := 0.0
			for i := range q {
				worst = max(worst, q[i].dist(want[i])/9)
			}
			best = min(best, worst)
		}
		t.Logf("%-14s corner %.2f mm, sure %.2f", name, best, m.Sure)
		if best > 0.4 {
			t.Errorf("%s: a corner is %.2f mm off, 0.4 owed", name, best)
		}
	}
}

// TestPlainSheet measures a painted pull with other tone, blur, light and worn
// strokes against its reference: coverage lost is what was painted away.
func TestPlainSheet(t *testing.T) {
	p := plainPlate()
	photo, cover0 := p.paint()
	m, err := FindPlate(context.Background(), photo, p.size)
	if err != nil {
		t.Fatal(err)
	}
	ref, err := Prepare(context.Background(), photo, m, p.size)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*painted){
		"the same":     func(p *painted) {},
		"worn":         func(p *painted) { p.wear = 0.03 },
		"softer":       func(p *painted) { p.blur = 1.3 },
		"more tone":    func(p *painted) { p.tone = 0.15 },
		"uneven light": func(p *painted) { p.light = func(x, y float64) float64 { return 0.8 - 0.0003*x + 2e-7*y*y } },
		"other place": func(p *painted) {
			p.toPx, _ = quadMapping(p.size.rectangle(), Quad{{150, 100}, {690, 130}, {670, 540}, {125, 500}})
		},
	} {
		q := plainPlate()
		change(&q)
		photo, cover := q.paint()
		res, err := ref.Measure(context.Background(), photo, MeasureOptions{})
		if err != nil || res.Verdict != Measured {
			t.Errorf("%s: %v %+v", name, err, res)
			continue
		}
		loss := 1 - cover/cover0
		v := res.Scores.InkLoss
		t.Logf("%-14s ink loss %.4f, painted %.4f, u %.4f; tone %.4f, painted %.2f", name, v.V, loss, v.U, res.Scores.PlateTone.V, q.tone)
		if math.Abs(v.V-loss) > 0.012 {
			t.Errorf("%s: ink loss %.4f, painted %.4f", name, v.V, loss)
		}
		if math.Abs(res.Scores.PlateTone.V-q.tone) > 0.003 {
			t.Errorf("%s: tone %.4f, painted %.3f", name, res.Scores.PlateTone.V, q.tone)
		}
	}
}

// TestWarpFit recovers a smooth displacement from scattered sightings, a few of
// them wild, some blind in one direction.
func TestWarpFit(t *testing.T) {
	size := Size{100, 140}
	field := func(p Point) Point {
		return Point{0.2 * math.Sin(p.X/25) * math.Cos(p.Y/30), 0.15 * math.Cos(p.X/35+p.Y/28)}
	}
	r := rand.New(rand.NewPCG(3, 4))
	var seen []sighting
	for y := 3.0; y < 100; y += 6 {
		for x := 3.0; x < 140; x += 6 {
			p := Point{x, y}
			d := field(p)
			s := sighting{at: p, d: Point{d.X + 0.01*r.NormFloat64(), d.Y + 0.01*r.NormFloat64()}, xx: 1e4, yy: 1e4}
			switch r.IntN(12) {
			case 0:
				s.d.X += 0.5
			case 1, 2, 3:
				s.d.Y, s.yy = 0.4*r.NormFloat64(), 1
			}
			seen = append(seen, s)
		}
	}
	w := newWarp(size)
	chi, mu := w.fit(seen, []float64{3e2, 3e3, 3e4, 3e5, 3e6})
	w.settle(seen, mu, chi)
	var ss, n float64
	for y := 5.0; y < 100; y += 5 {
		for x := 5.0; x < 140; x += 5 {
			p := Point{x, y}
			ss += math.Pow(w.at(p).dist(field(p)), 2)
			n++
		}
	}
	rms := math.Sqrt(ss / n)
	t.Logf("rms %.4f mm, stated %.4f, chi %.2f, stiffness %g", rms, w.rms(size), chi, mu)
	if rms > 0.015 {
		t.Errorf("displacement %.4f mm from truth", rms)
	}
	if u := w.rms(size); u < 0.4*rms || u > 3*rms {
		t.Errorf("stated uncertainty %.4f mm, true error %.4f", u, rms)
	}
}

// TestECC finds a known projective mapping between two textures.
func TestECC(t *testing.T) {
	g := grid{240, 180, 2}
	texture := func(p Point) float32 {
		return float32(math.Sin(p.X*1.1+0.4*math.Sin(p.Y/3)) * math.Cos(p.Y*0.8-p.X*0.2))
	}
	truth := homography{1.006, 0.004, 0.5, -0.003, 0.997, -0.4, 4e-5, -3e-5, 1}
	inv := truth.inverse()
	ref, mov := newPlane(g.cols, g.rows), newPlane(g.cols, g.rows)
	for y := 0; y < g.rows; y++ {
		for x := 0; x < g.cols; x++ {
			p := g.point(x, y)
			ref.v[y*g.cols+x] = texture(p)
			mov.v[y*g.cols+x] = 0.3 + 0.6*texture(inv.apply(p))
		}
	}
	e := alignECC(ref, mov, g, identity, 2, 60)
	worst := 0.0
	for _, c := range (Size{90, 120}).rectangle() {
		worst = max(worst, e.h.apply(c).dist(truth.apply(c)))
	}
	t.Logf("corner %.4f mm off, rho %.4f", worst, e.rho)
	if worst > 0.02 || e.rho < 0.995 || !e.done {
		t.Errorf("corner %.4f mm off after rho %.4f (done %v)", worst, e.rho, e.done)
	}
}

// TestLightLeavesTone: the light is followed from the margins alone, so tone
// within the mark stays tone.
func TestLightLeavesTone(t *testing.T) {
	p := plainPlate()
	p.strokes, p.tone = nil, 0.2
	p.light = func(x, y float64) float64 {
		u, v := (x-400)/400, (y-325)/325
		return 0.7 * (1 - 0.12*u + 0.06*v - 0.1*(u*u+v*v))
	}
	photo, _ := p.paint()
	m := &mapping{h: p.toPx}
	l, err := fitLight(photo, m, p.size, pageOf(photo))
	if err != nil {
		t.Fatal(err)
	}
	for y := 3.0; y < 45; y += 6 {
		for x := 3.0; x < 60; x += 6 {
			px := m.at(Point{x, y})
			if d := math.Log10(l.at(Point{x, y}) / p.light(px.X, px.Y)); math.Abs(d) > 0.003 {
				t.Errorf("light at %v,%v is %.4f D off", x, y, d)
			}
		}
	}
}

// TestHandCorners: corners dragged a millimetre off the mark are kept as the
// plate's frame, and a second sheet is laid in that frame all the same.
func TestHandCorners(t *testing.T) {
	p := plainPlate()
	photo, _ := p.paint()
	q := (&mapping{h: p.toPx}).corners(p.size)
	q[0].X -= 8
	q[2].Y += 6
	ref, err := Prepare(context.Background(), photo, MarkFromStored(photo, q), p.size)
	if err != nil {
		t.Fatal(err)
	}
	if got := ref.MarkStored(); got[0].dist(q[0]) > 1e-6 || got[2].dist(q[2]) > 1e-6 {
		t.Errorf("corners set by hand were moved to %v", got)
	}
	m := plainPlate()
	m.toPx, _ = quadMapping(m.size.rectangle(), Quad{{150, 100}, {690, 130}, {670, 540}, {125, 500}})
	moved, _ := m.paint()
	s, res, err := ref.Register(context.Background(), moved, MeasureOptions{Grid: true, GridCols: 4, GridRows: 3})
	if err != nil || res.Verdict != Measured {
		t.Fatalf("%v %+v", err, res)
	}
	if n := len(res.Registration.Lattice); n != 20 {
		t.Errorf("a lattice of 4 x 3 cells has %d nodes", n)
	}
	var ss, n float64
	for y := 2.0; y < 45; y += 4 {
		for x := 2.0; x < 60; x += 4 {
			at := s.m.at(ref.Sheet.m.plateOf(p.toPx.apply(Point{x, y})))
			ss += math.Pow(at.dist(m.toPx.apply(Point{x, y}))/9, 2)
			n++
		}
	}
	rms := math.Sqrt(ss / n)
	t.Logf("laid to %.4f mm, stated %.4f", rms, res.Registration.ResidualMM)
	if rms > 0.05 {
		t.Errorf("laid to %.4f mm only", rms)
	}
}
