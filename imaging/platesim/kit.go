package platesim

import (
	"math"
	"math/rand/v2"
)

// pt is a point of a scene, in the scene's own frame.
type pt struct{ x, y float64 }

// pen is how a line is made.
type pen struct {
	w     float64 // width in mm on the plate
	depth float64 // see stroke.depth
	tech  Technique
	burr  float64 // strength of the burr, drypoint only
	shake float64 // how far the hand wanders, scene units
	taper float64 // share of the line over which each end thins
}

// kit draws a scene. Scenes are drawn from the front to the back: what is
// drawn is hidden where a nearer shape was cut out before.
type kit struct {
	r       *rand.Rand
	w, h    float64 // the scene's frame
	plate   Size    // the plate it is scaled to
	tech    Technique
	weight  float64 // factor of all widths
	near    []shape
	strokes []stroke
	// open is the part of the frame that may be worked: the drawing keeps off
	// the plate's edge.
	open Box
}

// shape is a closed outline with its extent.
type shape struct {
	pts []pt
	box Box
}

func newShape(pts []pt) shape {
	b := emptyBox()
	for _, p := range pts {
		b.add(p.x, p.y)
	}
	return shape{pts, b}
}

func (s shape) holds(p pt) bool {
	if !s.box.holds(p.x, p.y) {
		return false
	}
	in := false
	for i, j := 0, len(s.pts)-1; i < len(s.pts); j, i = i, i+1 {
		a, b := s.pts[i], s.pts[j]
		if (a.y > p.y) != (b.y > p.y) && p.x < (b.x-a.x)*(p.y-a.y)/(b.y-a.y)+a.x {
			in = !in
		}
	}
	return in
}

// cut hides whatever is drawn later inside the outline.
func (k *kit) cut(outline []pt) { k.near = append(k.near, newShape(outline)) }

func (k *kit) hidden(p pt) bool {
	if !k.open.holds(p.x, p.y) {
		return true
	}
	for _, s := range k.near {
		if s.holds(p) {
			return true
		}
	}
	return false
}

// scale is millimetres of the plate for a unit of the scene.
func (k *kit) scale() float64 { return math.Sqrt(k.plate.W / k.w * k.plate.H / k.h) }

// between is a random number from a to b.
func (k *kit) between(a, b float64) float64 { return a + (b-a)*k.r.Float64() }

// choose gives the pen's technique unless the whole plate has one.
func (k *kit) choose(p pen) pen {
	if k.tech != Mixed {
		p.tech = k.tech
	}
	if p.tech == Drypoint && p.burr == 0 {
		p.burr = k.between(0.15, 0.5)
	}
	if p.tech != Drypoint {
		p.burr = 0
	}
	return p
}

// line draws an open line with the pen, where it can be seen. swell, which may
// be nil, gives the width along it as a factor of the pen's.
func (k *kit) line(pts []pt, p pen, swell func(at pt, t float64) float64) {
	p = k.choose(p)
	step := 0.6 / k.scale()
	path := resample(pts, step)
	if len(path) < 2 {
		return
	}
	k.wander(path, p)
	var run []node
	flush := func() {
		if len(run) >= 2 {
			k.emit(run, p)
		}
		run = nil
	}
	for i, q := range path {
		w := p.w
		if swell != nil {
			w *= swell(q, float64(i)/float64(len(path)-1))
		}
		if w < 0.018 || k.hidden(q) {
			flush()
			continue
		}
		run = append(run, node{q.x, q.y, w})
	}
	flush()
}

// wander lets the hand stray from the line by slow noise.
func (k *kit) wander(path []pt, p pen) {
	shake := p.shake
	switch p.tech {
	case Etched:
		shake += 0.13
	case Drypoint:
		shake += 0.06
	default:
		shake += 0.025
	}
	seed := k.r.Uint32()
	for i := range path {
		at := float64(i) * 0.09
		path[i].x += shake * ripple(at, 0.5, seed)
		path[i].y += shake * ripple(at, 9.5, seed)
	}
}

// emit puts a visible run on the plate, with tapering ends and in millimetres.
func (k *kit) emit(run []node, p pen) {
	seed := k.r.Uint32()
	taper := p.taper
	if taper == 0 && p.tech == Engraved {
		taper = 0.25
	}
	if taper == 0 && p.tech == Drypoint {
		taper = 0.12
	}
	s := stroke{tech: p.tech, depth: p.depth, seed: seed, born: 1}
	n := len(run)
	for i, q := range run {
		end := math.Min(float64(i)+0.4, float64(n-1-i)+0.4) / float64(n)
		w := q.w * (1 + 0.12*ripple(float64(i)*0.4, 1.5, seed))
		if taper > 0 {
			w *= 0.3 + 0.7*ease(0, taper, end)
		}
		s.pts = append(s.pts, node{q.x * k.plate.W / k.w, q.y * k.plate.H / k.h, w * k.weight})
	}
	if p.burr > 0 {
		// The needle leans: one side has most of the burr.
		lean := k.between(0.1, 0.5)
		s.burr = [2]float64{p.burr, p.burr * lean}
		if seed&1 == 1 {
			s.burr[0], s.burr[1] = s.burr[1], s.burr[0]
		}
	}
	k.strokes = append(k.strokes, s)
}

// outline draws a closed line.
func (k *kit) outline(pts []pt, p pen) {
	closed := append(append([]pt{}, pts...), pts[0])
	p.taper = -1
	k.line(closed, p, nil)
}

// hatch fills an outline with lines at an angle (degrees), darker by tone:
// spacing in mm; tone 0..1 by place; lines appear where tone passes threshold
// and swell with it. bend bows the lines (sagitta as a share of their length).
func (k *kit) hatch(outline []pt, angle, spacing, bend, threshold float64, tone func(x, y float64) float64, p pen) {
	s := newShape(outline)
	cx, cy := (s.box[0]+s.box[2])/2, (s.box[1]+s.box[3])/2
	reach := math.Hypot(s.box[2]-s.box[0], s.box[3]-s.box[1])/2 + 1
	sin, cos := math.Sincos(angle * math.Pi / 180)
	gap := spacing / k.scale()
	for off := -reach; off < reach; off += gap * k.between(0.86, 1.14) {
		bow := 4 * bend * reach
		var pts []pt
		for t := -reach; t <= reach; t += 1.2 {
			v := off + bow*(1-(t/reach)*(t/reach)) - bow
			pts = append(pts, pt{cx + t*cos - v*sin, cy + t*sin + v*cos})
		}
		slack := k.between(-0.05, 0.05)
		k.line(pts, p, func(at pt, _ float64) float64 {
			if !s.holds(at) {
				return 0
			}
			over := tone(at.x, at.y) - threshold - slack
			if over < 0 {
				return 0
			}
			return 0.62 + 0.75*math.Min(over, 0.8)
		})
	}
}

// shade is hatching in up to three layers: the darker, the more are crossed.
func (k *kit) shade(outline []pt, angle, spacing, bend float64, tone func(x, y float64) float64, p pen) {
	k.hatch(outline, angle, spacing, bend, 0.12, tone, p)
	q := p
	q.w *= 0.85
	q.depth *= 0.8
	k.hatch(outline, angle+52, spacing*1.1, bend*0.6, 0.48, tone, q)
	k.hatch(outline, angle-38, spacing*1.25, 0, 0.76, tone, q)
}

// flat is the same tone everywhere.
func flat(v float64) func(x, y float64) float64 { return func(_, _ float64) float64 { return v } }

// smooth is the closed or open curve through points (Catmull and Rom 1974).
func smooth(closed bool, pts ...pt) []pt {
	n := len(pts)
	at := func(i int) pt {
		if closed {
			return pts[(i%n+n)%n]
		}
		return pts[min(max(i, 0), n-1)]
	}
	spans := n - 1
	if closed {
		spans = n
	}
	var out []pt
	for i := range spans {
		p0, p1, p2, p3 := at(i-1), at(i), at(i+1), at(i+2)
		for j := range 12 {
			t := float64(j) / 12
			out = append(out, pt{catmull(p0.x, p1.x, p2.x, p3.x, t), catmull(p0.y, p1.y, p2.y, p3.y, t)})
		}
	}
	if !closed {
		out = append(out, pts[n-1])
	}
	return out
}

func catmull(a, b, c, d, t float64) float64 {
	return 0.5 * (2*b + (c-a)*t + (2*a-5*b+4*c-d)*t*t + (3*b-a-3*c+d)*t*t*t)
}

// resample walks a path in equal steps.
func resample(pts []pt, step float64) []pt {
	if len(pts) < 2 {
		return nil
	}
	out := []pt{pts[0]}
	need := step
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		at := 0.0
		for at+need <= l {
			at += need
			out = append(out, pt{a.x + (b.x-a.x)*at/l, a.y + (b.y-a.y)*at/l})
			need = step
		}
		need -= l - at
	}
	if need < step*0.7 || len(out) == 1 {
		out = append(out, pts[len(pts)-1])
	}
	return out
}

func rect(x0, y0, x1, y1 float64) []pt { return []pt{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }

// oval is an ellipse of so many points.
func oval(x, y, rx, ry float64) []pt {
	var out []pt
	for i := range 40 {
		s, c := math.Sincos(float64(i) * math.Pi / 20)
		out = append(out, pt{x + rx*c, y + ry*s})
	}
	return out
}
