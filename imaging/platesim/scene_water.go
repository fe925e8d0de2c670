package platesim

import "math"

// drawEstuary: two boats at a staging, sheds on it, a low far shore.
func drawEstuary(k *kit) {
	k.reeds(3, 34, 98, 6, 19, 46, rich)
	k.post(124, 92, 21, 2.6)
	k.post(131, 95, 15, 2.4)
	k.boat(43, 72, 36, 44, 1)
	k.boat(92, 63, 20, 27, -1)
	k.staging()
	k.hills(0, 142, 51, 6, faint)
	k.flock(66, 21, 6)
	dark := func(x, y float64) float64 {
		v := 0.75 * ease(20, 3, math.Abs(x-43)) * ease(88, 73, y) * ease(71, 73, y)
		v += 0.6 * ease(12, 2, math.Abs(x-92)) * ease(74, 64, y) * ease(62, 64, y)
		v += 0.55 * ease(103, 110, x) * ease(70, 56, y)
		v += 0.5*ease(4, 1, math.Abs(x-124))*ease(88, 93, y) + 0.5*ease(4, 1, math.Abs(x-131))*ease(90, 95, y)
		return v
	}
	k.water(rect(0, 51.4, 142, 97), 51.4, 97, dark, plain)
	k.sky(5, 49, 1.25, 0.55, light)
}

// staging is the timber landing of the estuary with two sheds on it.
func (k *kit) staging() {
	for _, x := range []float64{106, 113, 120, 127, 134} {
		k.post(x, 62+0.05*(x-106), 9, 1.5)
	}
	deck := []pt{{102, 52}, {139, 51}, {139, 53.6}, {102, 54.2}}
	k.outline(deck, firm)
	k.hatch(deck, 92, 1.3, 0, 0, flat(0.4), plain)
	k.cut(deck)
	k.shed(108, 52, 15, 9, 5.5, true)
	k.shed(124.5, 51.5, 11, 7, 4.5, false)
	k.line([]pt{{104, 52}, {104, 37}, {109, 36}}, plain, nil)
	k.line([]pt{{109, 36}, {109, 43}}, faint, nil)
	k.line([]pt{{104, 42}, {107.5, 36.4}}, light, nil)
}

// drawHulls: two hulls drawn up on shingle at low tide.
func drawHulls(k *kit) {
	k.grass([]pt{{0, 95}, {0, 84}, {40, 90}, {70, 95}}, 40, needle)
	k.beached(52, 76, 62, 1)
	k.beached(118, 63, 34, -1)
	k.line(smooth(false, pt{82, 66}, pt{90, 80}, pt{101, 83}, pt{110, 88}), plain, nil)
	anchor := oval(111, 88.4, 1.6, 1.1)
	k.outline(anchor, plain)
	k.shingle(rect(0, 63, 150, 92), 620)
	k.hills(0, 150, 46, 5, faint)
	k.flock(112, 20, 7)
	k.water(rect(0, 46.5, 150, 62), 46.5, 62, flat(0.02), light)
	k.sky(5, 44, 1.35, 0.6, light)
}

// beached is a clinker hull on the ground, seen from the quarter.
func (k *kit) beached(x, y, l, dir float64) {
	at := func(u, v float64) pt { return pt{x + dir*u*l, y - v*l} }
	hull := append(smooth(false, at(-0.46, 0.30), at(-0.2, 0.215), at(0.12, 0.22), at(0.5, 0.40)),
		smooth(false, at(0.5, 0.40), at(0.40, 0.14), at(0.22, -0.01), at(-0.05, -0.05), at(-0.32, -0.01), at(-0.43, 0.12))...)
	mast := []pt{at(0.00, 0.23), at(-0.012, 0.78), at(0.004, 0.78), at(0.025, 0.23)}
	k.outline(mast, plain)
	k.hatch(mast, 88, 0.4, 0, 0, flat(0.6), light)
	k.cut(mast)
	for _, e := range []pt{at(0.49, 0.4), at(-0.45, 0.3)} {
		k.line([]pt{at(-0.004, 0.77), e}, faint, nil)
	}
	k.outline(hull, firm)
	s := newShape(hull)
	for i := 1; i < 8; i++ {
		v := float64(i) / 8
		plank := smooth(false, at(-0.46+0.05*v, 0.30-0.2*v), at(-0.2, 0.215-0.20*v), at(0.12, 0.22-0.215*v), at(0.5-0.14*v, 0.40-0.27*v))
		k.line(plank, plain, func(q pt, _ float64) float64 {
			if s.holds(q) {
				return 1
			}
			return 0
		})
	}
	k.shade(hull, 70*dir, 0.9, 0.05, func(px, py float64) float64 {
		return 0.16 + 0.62*ease(y-0.18*l, y+0.02*l, py) + 0.25*ease(0.0, -0.45*l, dir*(px-x))
	}, light)
	k.cut(hull)
	for _, u := range []float64{-0.25, 0.2} {
		prop := []pt{at(u, 0.12), at(u+0.10, -0.07), at(u+0.125, -0.07), at(u+0.02, 0.12)}
		k.outline(prop, plain)
		k.cut(prop)
	}
	shadow := oval(x-0.02*l, y+0.05*l, 0.46*l, 0.05*l)
	k.shade(shadow, 3, 0.6, 0, func(px, py float64) float64 {
		dx, dy := (px-x)/(0.46*l), (py-y-0.05*l)/(0.05*l)
		return 0.95 - 0.6*(dx*dx+dy*dy)
	}, rich)
}

// shingle is stones: small loops, larger towards the viewer.
func (k *kit) shingle(outline []pt, n int) {
	s := newShape(outline)
	for range n {
		at := pt{k.between(s.box[0], s.box[2]), s.box[1] + (s.box[3]-s.box[1])*math.Sqrt(k.r.Float64())}
		near := 0.35 + (at.y-s.box[1])/(s.box[3]-s.box[1])
		r := near * k.between(0.35, 0.95)
		a := k.between(0, 6)
		var arc []pt
		for i := range 7 {
			t := a + float64(i)*k.between(0.5, 0.75)
			arc = append(arc, pt{at.x + 1.3*r*math.Cos(t), at.y + 0.7*r*math.Sin(t)})
		}
		k.line(arc, light, nil)
		if k.r.IntN(3) == 0 {
			k.line([]pt{{at.x - r, at.y + 0.8*r}, {at.x + 1.8*r, at.y + 0.9*r}}, light, nil)
		}
	}
}

// drawMarsh: a creek winding to a far wind-pump, tussocks, a wide sky.
func drawMarsh(k *kit) {
	k.reeds(118, 157, 88, 5, 17, 52, rich)
	k.reeds(3, 26, 88, 4, 12, 30, rich)
	creek := append(smooth(false, pt{46, 90}, pt{78, 77}, pt{50, 66}, pt{84, 57}, pt{88, 51}),
		smooth(false, pt{90, 51}, pt{92, 58}, pt{72, 66}, pt{108, 77}, pt{92, 90})...)
	k.windPump(124, 49, 24)
	k.hills(0, 160, 49.5, 3, faint)
	k.line(smooth(false, pt{46, 90}, pt{78, 77}, pt{50, 66}, pt{84, 57}, pt{88, 51}), firm, nil)
	k.line(smooth(false, pt{90, 51}, pt{92, 58}, pt{72, 66}, pt{108, 77}, pt{92, 90}), firm, nil)
	k.water(creek, 52, 88, func(x, y float64) float64 { return -0.05 + 0.3*ease(86, 60, y) }, light)
	k.cut(creek)
	k.grass(rect(0, 53, 160, 88), 420, needle)
	k.hatch(rect(0, 50, 160, 88), 1.5, 1.6, 0, 0.3, func(x, y float64) float64 {
		return 0.28 + 0.4*clouds(x/17, y/5, 77)
	}, light)
	k.flock(52, 22, 11)
	k.sky(5, 47, 1.3, 0.72, light)
}

// windPump is a small boarded mill that lifts water.
func (k *kit) windPump(x, foot, h float64) {
	hub := pt{x, foot - h*0.86}
	for i := range 4 {
		a := 0.5 + float64(i)*math.Pi/2
		s, c := math.Sincos(a)
		tip := pt{hub.x + c*h*0.6, hub.y + s*h*0.6}
		k.line([]pt{hub, tip}, plain, nil)
		for j := 2; j < 10; j++ {
			t := float64(j) / 10
			q := pt{hub.x + (tip.x-hub.x)*t, hub.y + (tip.y-hub.y)*t}
			k.line([]pt{q, {q.x - s*h*0.10, q.y + c*h*0.10}}, light, nil)
		}
		k.line([]pt{{hub.x + c*h*0.12 - s*h*0.10, hub.y + s*h*0.12 + c*h*0.10}, {tip.x - s*h*0.10, tip.y + c*h*0.10}}, light, nil)
	}
	tower := []pt{{x - h*0.17, foot}, {x - h*0.09, foot - h*0.86}, {x + h*0.09, foot - h*0.86}, {x + h*0.17, foot}}
	k.outline(tower, firm)
	k.shade(tower, 88, 0.6, 0, func(px, _ float64) float64 { return 0.4 + 0.45*(px-x)/(h*0.15) }, plain)
	k.cut(tower)
	cap := smooth(true, pt{x - h*0.1, foot - h*0.86}, pt{x - h*0.06, foot - h*0.96}, pt{x + h*0.06, foot - h*0.96}, pt{x + h*0.11, foot - h*0.86})
	k.outline(cap, plain)
	k.shade(cap, 10, 0.55, 0, flat(0.6), plain)
	k.cut(cap)
}
