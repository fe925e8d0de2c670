package platesim

import "math"

// drawHeron: a heron among reeds, a low sun behind mist.
func drawHeron(k *kit) {
	k.reeds(58, 92, 127, 18, 60, 58, rich)
	k.reeds(3, 30, 128, 12, 44, 40, rich)
	at := func(x, y float64) pt { return pt{x, y} }
	beak := []pt{at(27.5, 33.2), at(12.5, 36.6), at(27, 36.2)}
	k.outline(beak, plain)
	k.hatch(beak, 10, 0.5, 0, 0, flat(0.5), light)
	k.cut(beak)
	crest := smooth(false, at(33, 32), at(40, 33.5), at(46.5, 37.5))
	k.line(crest, firm, nil)
	k.line(smooth(false, at(33, 32.8), at(39, 35), at(44, 39.5)), plain, nil)
	k.outline(oval(30.2, 33.4, 0.75, 0.7), firm)
	k.cut(oval(30.2, 33.4, 0.8, 0.75))
	neck := append(smooth(false, at(26.5, 34.5), at(30, 30.6), at(35.2, 33), at(35, 40), at(30.5, 48), at(33.5, 56), at(43, 62)),
		smooth(false, at(43, 62), at(37, 66.5), at(31, 67.5), at(26, 59), at(25.3, 49), at(29.5, 40.5), at(29.5, 37.5), at(26.5, 36))...)
	k.outline(neck, plain)
	k.shade(neck, 74, 0.75, 0.04, func(x, y float64) float64 { return 0.18 + 0.5*ease(30, 36, x) + 0.2*ease(56, 68, y) }, light)
	for i := range 6 {
		y := 48 + 3*float64(i)
		k.line(smooth(false, at(28.5+0.2*float64(i), y), at(28.2+0.3*float64(i), y+1.6), at(28.8+0.3*float64(i), y+3)), plain, nil)
	}
	k.cut(neck)
	k.heronBody()
	k.mist()
}

// heronBody draws body, wing, legs.
func (k *kit) heronBody() {
	wing := smooth(true, pt{36, 62}, pt{45, 57.5}, pt{57, 63}, pt{66, 75}, pt{71.5, 88}, pt{60, 83}, pt{47, 77}, pt{38, 70})
	k.outline(wing, firm)
	for i := range 7 {
		t := float64(i) / 6
		k.line(smooth(false, pt{41 + 9*t, 64.5 + 4*t}, pt{52 + 7*t, 72 + 3*t}, pt{59 + 10*t, 79 + 6.5*t}), plain, func(_ pt, s float64) float64 { return 0.7 + 0.6*s })
	}
	k.shade(wing, 47, 0.62, 0.05, func(x, y float64) float64 {
		return 0.3 + 0.55*ease(70, 86, y) + 0.22*ripple(x/3, y/2.2, 9)
	}, light)
	k.cut(wing)
	body := smooth(true, pt{33, 62}, pt{44, 58}, pt{58, 66}, pt{65, 79}, pt{58, 84}, pt{46, 84}, pt{36, 77}, pt{31.5, 69})
	k.outline(body, plain)
	k.shade(body, 62, 0.8, 0.04, func(x, y float64) float64 { return 0.1 + 0.62*ease(70, 84, y) }, light)
	k.cut(body)
	for _, x := range []float64{44.5, 51} {
		leg := []pt{{x, 83}, {x - 1.0, 98}, {x - 0.2, 99}, {x + 0.6, 117}, {x + 1.3, 117}, {x + 0.8, 99}, {x + 0.3, 97}, {x + 1.1, 83}}
		k.outline(leg, plain)
		k.hatch(leg, 88, 0.35, 0, 0, flat(0.5), light)
		k.cut(leg)
	}
}

// mist is the water with rings about the legs, the sun and the haze.
func (k *kit) mist() {
	for i := range 6 {
		r := 5 + 3.4*float64(i)
		k.line(oval(48.5, 117, r, r*0.17)[3:34], light, nil)
	}
	sun := oval(66, 27, 9, 9)
	k.outline(sun, light)
	k.cut(sun)
	k.hills(0, 95, 92, 5, faint)
	k.water(rect(0, 92.5, 95, 127), 92.5, 127, func(x, y float64) float64 {
		return 0.55*ease(7, 2, math.Abs(x-48))*ease(118, 122, y) + 0.1 - 0.25*ease(14, 4, math.Abs(x-66))*ease(112, 96, y)
	}, light)
	seed := k.r.Uint32()
	k.hatch(rect(0, 5, 95, 90), 0.5, 1.15, 0, 0.16, func(x, y float64) float64 {
		d := math.Hypot(x-66, y-27)
		return 0.52*ease(10, 34, d)*(1-0.6*ease(55, 90, y)) + 0.22*clouds(x/24, y/8, seed)
	}, light)
}

// drawStillLife: a jug, three pears and a cloth on a table's edge.
func drawStillLife(k *kit) {
	k.pear(90, 77, 11, 0.25)
	k.pear(72, 82, 9.5, -0.5)
	k.pear(103, 83, 9, 0.6)
	k.cloth()
	k.jug(42, 84)
	edge := rect(0, 88, 125, 94)
	k.line([]pt{{0, 88}, {125, 88.5}}, firm, nil)
	k.line([]pt{{0, 94}, {125, 94.4}}, plain, nil)
	k.shade(edge, 1, 0.75, 0, func(x, _ float64) float64 { return 0.5 + 0.2*ease(70, 125, x) }, plain)
	k.cut(edge)
	k.shade(rect(0, 94.6, 125, 102), 88, 1.0, 0, flat(0.8), plain)
	shadow := func(x, y float64) float64 {
		v := 0.15
		for _, c := range []pt{{58, 85}, {84, 86}, {100, 86.4}, {112, 87}} {
			v += 0.65 * ease(1, 0.3, math.Hypot((x-c.x)/17, (y-c.y)/4.2))
		}
		return v
	}
	k.shade(rect(0, 68, 125, 88), 0.5, 0.95, 0, shadow, light)
	k.line([]pt{{0, 67.6}, {125, 67.9}}, light, nil)
	k.shade(rect(0, 4, 125, 67.5), 48, 1.05, 0, func(x, y float64) float64 {
		return 0.2 + 0.5*ease(70, 8, x) + 0.16*ease(20, 60, y) + 0.1*clouds(x/20, y/20, 5)
	}, light)
}

// jug is a body of revolution with a handle, standing at y.
func (k *kit) jug(x, y float64) {
	prof := []pt{{10, 0}, {15.5, 9}, {18.5, 20}, {15.5, 32}, {9.5, 41}, {8.5, 48}, {11, 55}}
	var right, left []pt
	for _, p := range smooth(false, prof...) {
		right = append(right, pt{x + p.x, y - p.y})
		left = append([]pt{{x - p.x, y - p.y}}, left...)
	}
	mouth := oval(x, y-55, 11, 2.6)
	k.outline(mouth, plain)
	k.shade(oval(x, y-55, 10.2, 2.1), 20, 0.55, 0, func(px, _ float64) float64 { return 0.75 + 0.02*(px-x) }, plain)
	k.cut(mouth)
	outer := smooth(false, pt{x + 8.8, y - 47}, pt{x + 22, y - 50}, pt{x + 25, y - 37}, pt{x + 17, y - 25})
	inner := smooth(false, pt{x + 16, y - 29}, pt{x + 21, y - 37}, pt{x + 19, y - 45.5}, pt{x + 9.2, y - 43.5})
	handle := append(append([]pt{}, outer...), inner...)
	k.outline(handle, plain)
	k.shade(handle, 40, 0.6, 0, flat(0.62), light)
	k.cut(handle)
	body := append(append([]pt{}, right...), left...)
	k.line(right, firm, nil)
	k.line(left, firm, nil)
	for _, p := range []pt{{18.2, 23}, {18.45, 21}} {
		k.line(smooth(false, pt{x - p.x, y - p.y}, pt{x, y - p.y + 4.2}, pt{x + p.x, y - p.y}), plain, nil)
	}
	k.shade(body, 0, 0.8, -0.05, func(px, py float64) float64 {
		u := (px - x) / 17
		glint := ease(0.30, 0.08, math.Hypot(u+0.42, (py-y+27)/34))
		return 0.2 + 0.75*ease(-0.25, 0.8, u) + 0.22*ease(-0.6, -1, u) - 0.6*glint
	}, plain)
	k.cut(body)
}

// pear lies or stands with its belly at x, y; lean tips its neck.
func (k *kit) pear(x, y, r, lean float64) {
	tip := pt{x + lean*r*1.2, y - r*1.35}
	o := smooth(true, pt{x - r*0.86, y + r*0.05}, pt{x - r*0.62, y - r*0.55}, pt{tip.x - r*0.28, tip.y + r*0.12},
		pt{tip.x + r*0.22, tip.y + r*0.05}, pt{x + r*0.62, y - r*0.5}, pt{x + r*0.88, y + r*0.08}, pt{x + r*0.5, y + r*0.66}, pt{x - r*0.5, y + r*0.64})
	k.line(smooth(false, pt{tip.x, tip.y + 0.5}, pt{tip.x + lean*3 + 0.6, tip.y - r*0.28}, pt{tip.x + lean*4 + 1.6, tip.y - r*0.45}), firm, nil)
	k.outline(o, firm)
	k.shade(o, 58, 0.72, 0.16, func(px, py float64) float64 {
		u, v := (px-x)/r, (py-y)/r
		return 0.16 + 0.5*ease(-0.35, 0.85, u*0.8+v*0.5) + 0.28*ease(0.75, 0.2, math.Hypot(u-0.1, v-0.75))
	}, light)
	k.cut(o)
}

// cloth hangs over the table's edge in three folds.
func (k *kit) cloth() {
	o := append(smooth(false, pt{90, 80}, pt{104, 76}, pt{117, 80}), pt{117.5, 96})
	o = append(o, smooth(false, pt{117.5, 96}, pt{112, 99.5}, pt{106, 96.5}, pt{99, 99.5}, pt{93, 96}, pt{89, 88})...)
	k.outline(o, plain)
	for _, f := range []float64{98, 105, 113} {
		k.line(smooth(false, pt{f + 1, 81}, pt{f - 0.5, 90}, pt{f + 0.6, 99}), light, nil)
	}
	k.hatch(o, 84, 0.85, 0.02, 0.25, func(x, _ float64) float64 { return 0.3 + 0.35*math.Sin(x*0.92) }, light)
	k.cut(o)
}
