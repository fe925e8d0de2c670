package platesim

import (
	"image"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
)

// Photograph pulls an impression of a state, pull counted from the state's
// first, and photographs it. The picture is in stored orientation, in the
// colour space the conditions name; Encode writes it as a file. The seed
// chooses everything accidental: wiping, paper, noise.
func (p *Plate) Photograph(state, pull int, c Conditions, seed uint64) (*image.RGBA, Truth) {
	c.frame(p.Size)
	r := rand.New(rand.NewPCG(seed, 0x70756c6c))
	k := newCamera(&c, p.Size, r.Uint32())
	ink := p.ink(state, pull, p.resolution(c.scale(p.Size)))
	tone := toneField(&c, p.Size, r.Uint32())
	gain := inkField(&c, p.Size, r.Uint32())
	t := p.truth(state, pull, &c, k, ink, tone, gain)
	s := &shot{c: &c, k: k, size: p.Size, paper: newPaperTile(c.Texture, r.Uint32()), seed: r.Uint32(), sheet: c.sheet(p.Size)}
	s.print(ink, tone, gain)
	s.expose()
	s.blur()
	return s.develop(r.Uint64()), t
}

// resolution is how finely the plate is drawn for photographs of a scale: twice
// the photograph's own, within 60 million pixels.
func (p *Plate) resolution(pxPerMM float64) float64 {
	return math.Min(2.1*pxPerMM, math.Sqrt(60e6/(p.Size.W*p.Size.H)))
}

// shot is a photograph in the making: three planes of linear light.
type shot struct {
	c     *Conditions
	k     *camera
	size  Size
	sheet Box
	paper *paperTile
	seed  uint32

	res        float64
	cols, rows int
	// ground is what is left of the paper's light (tone and free of ink), ink
	// what is covered.
	ground, ink []float32
	light       [3][]float32
}

// print lays ink and tone on the sheet: ground = 10^-t (1-a), ink = a.
func (s *shot) print(k *inkPlanes, tone, gain *field) {
	s.res, s.cols, s.rows = k.res, k.cols, k.rows
	s.ground, s.ink = k.line, k.burr // the planes are used up
	wiped := s.c.OverWipe > 0
	pass := tone.through()
	parallel(k.rows, func(y int) {
		my := (float64(y) + 0.5) / k.res
		for x := range k.cols {
			i := y*k.cols + x
			mx := (float64(x) + 0.5) / k.res
			l, b := k.line[i], k.burr[i]
			if wiped && (l > 0 || b > 0) {
				g := float32(gain.at(mx, my))
				l, b = l*g, b*g
			}
			a := 1 - (1-l)*(1-b)
			free := float32(1)
			if s.c.Tone > 0 {
				free = float32(pass.at(mx, my))
			}
			s.ground[i], s.ink[i] = free*(1-a), a
		}
	})
}

// sample reads ground and ink at a place of the plate, between pixels.
func (s *shot) sample(x, y float64) (ground, ink float32) {
	fx, fy := x*s.res-0.5, y*s.res-0.5
	if fx < -0.5 || fy < -0.5 || fx > float64(s.cols)-0.5 || fy > float64(s.rows)-0.5 {
		return 1, 0
	}
	fx, fy = min(max(fx, 0), float64(s.cols)-1.001), min(max(fy, 0), float64(s.rows)-1.001)
	i, j := int(fx), int(fy)
	u, v := float32(fx-float64(i)), float32(fy-float64(j))
	at := j*s.cols + i
	g, h := s.ground[at:at+2], s.ground[at+s.cols:at+s.cols+2]
	a, b := s.ink[at:at+2], s.ink[at+s.cols:at+s.cols+2]
	g0, g1 := g[0]+(g[1]-g[0])*u, h[0]+(h[1]-h[0])*u
	a0, a1 := a[0]+(a[1]-a[0])*u, b[0]+(b[1]-b[0])*u
	return g0 + (g1-g0)*v, a0 + (a1-a0)*v
}

// latticeStep is how many pixels apart the camera is reckoned exactly; between,
// its map is straight to a thousandth of a pixel.
const latticeStep = 8

// expose fills the three planes of light, each pixel from four places.
func (s *shot) expose() {
	w, h := s.c.Width, s.c.Height
	for i := range s.light {
		s.light[i] = make([]float32, w*h)
	}
	lw, lh := w/latticeStep+2, h/latticeStep+2
	nodes := make([]pt, lw*lh)
	lamps := make([]float32, lw*lh)
	level := s.c.Exposure / maxOf(s.c.Paper)
	parallel(lh, func(j int) {
		for i := range lw {
			px, py := float64(i*latticeStep), float64(j*latticeStep)
			x, y := s.k.toPlate(px, py)
			nodes[j*lw+i] = pt{x, y}
			lamps[j*lw+i] = float32(level * s.k.lamp(px, py))
		}
	})
	parallel(h, func(y int) {
		j := y / latticeStep
		v := float64(y%latticeStep) / latticeStep
		for x := range w {
			i := x / latticeStep
			u := float64(x%latticeStep) / latticeStep
			n := nodes[j*lw+i:]
			m := nodes[(j+1)*lw+i:]
			// Place of the pixel and its change along x and y.
			ax, ay := n[0].x+(m[0].x-n[0].x)*v, n[0].y+(m[0].y-n[0].y)*v
			bx, by := n[1].x+(m[1].x-n[1].x)*v, n[1].y+(m[1].y-n[1].y)*v
			dx, dy := pt{(bx - ax) / latticeStep, (by - ay) / latticeStep},
				pt{(m[0].x - n[0].x) / latticeStep, (m[0].y - n[0].y) / latticeStep}
			l, k := lamps[j*lw+i:], lamps[(j+1)*lw+i:]
			l0, l1 := l[0]+(k[0]-l[0])*float32(v), l[1]+(k[1]-l[1])*float32(v)
			s.pixel(y*w+x, pt{ax + (bx-ax)*u, ay + (by-ay)*u}, dx, dy, l0+(l1-l0)*float32(u))
		}
	})
	s.ground, s.ink = nil, nil
}

// pixel reckons one pixel of light: m is its place on the plate, dx and dy the
// steps to its neighbours, lamp the light falling there.
func (s *shot) pixel(at int, m, dx, dy pt, lamp float32) {
	var g, a float32 = 1, 0
	if m.x > -1 && m.y > -1 && m.x < s.size.W+1 && m.y < s.size.H+1 {
		g, a = 0, 0
		for _, q := range [4]pt{{-0.25, -0.25}, {0.25, -0.25}, {-0.25, 0.25}, {0.25, 0.25}} {
			sg, sa := s.sample(m.x+q.x*dx.x+q.y*dy.x, m.y+q.x*dx.y+q.y*dy.y)
			g, a = g+sg/4, a+sa/4
		}
	}
	on := s.onSheet(m, math.Abs(dx.x)+math.Abs(dx.y))
	var paper float32
	if on > 0 {
		paper = s.paper.at(m.x, m.y) * emboss(m.x, m.y, s.size, s.c.Emboss)
		if s.c.Laid {
			paper *= laid(m.x, m.y)
		}
	}
	table := float32(1)
	if on < 1 {
		table = s.table(m)
	}
	for c := range 3 {
		v := on*(float32(s.c.Paper[c])*paper*g+float32(s.c.Ink[c])*a) + (1-on)*float32(s.c.Background[c])*table
		s.light[c][at] = lamp * v
	}
}

// onSheet is the share of a pixel on the sheet, whose edge may be ragged.
func (s *shot) onSheet(m pt, mmPerPx float64) float32 {
	d := min(m.x-s.sheet[0], s.sheet[2]-m.x, m.y-s.sheet[1], s.sheet[3]-m.y)
	if d > 1.5 {
		return 1
	}
	if d < -1.5 {
		return 0
	}
	d += s.c.Deckle * (ripple((m.x+m.y)/2.6, (m.x-m.y)/2.6, s.seed) + 0.4*ripple((m.x+m.y)/0.7, (m.x-m.y)/0.7, s.seed+3))
	return float32(math.Min(math.Max(d/mmPerPx+0.5, 0), 1))
}

// table is the surface the sheet lies on, with the sheet's shadow.
func (s *shot) table(m pt) float32 {
	v := 1 + 0.10*clouds(m.x/13, m.y/17, s.seed+5) + 0.04*ripple(m.x/1.1, m.y/6, s.seed+6)
	ox := math.Max(math.Max(s.sheet[0]-m.x, m.x-s.sheet[2]), 0)
	oy := math.Max(math.Max(s.sheet[1]-m.y, m.y-s.sheet[3]), 0)
	v *= 1 - 0.35*math.Exp(-math.Hypot(ox, oy)/1.6)
	return float32(v)
}

func maxOf(v [3]float64) float64 { return math.Max(v[0], math.Max(v[1], v[2])) }

// parallel calls f for 0..n-1 from all cores.
func parallel(n int, f func(i int)) {
	workers := runtime.GOMAXPROCS(0)
	var wg sync.WaitGroup
	for k := range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := k; i < n; i += workers {
				f(i)
			}
		}()
	}
	wg.Wait()
}
