package platesim

import "math"

// drawWillows: three old pollards along a ditch, a rail fence, far fields.
func drawWillows(k *kit) {
	k.grass([]pt{{0, 95}, {0, 84}, {120, 86}, {120, 95}}, 70, rich)
	k.pollard(38, 84, 54)
	k.pollard(83, 72, 34)
	k.pollard(107, 66, 22)
	for _, x := range []float64{52, 62, 72, 92, 101} {
		k.post(x, 71-(x-52)*0.07, 6.5, 0.8)
	}
	for _, d := range []float64{5.4, 2.9} {
		k.line([]pt{{50, 71 - d}, {104, 67.4 - d}}, light, nil)
	}
	ditch := append(smooth(false, pt{0, 90}, pt{40, 80}, pt{80, 68}, pt{119, 60.5}),
		smooth(false, pt{119, 61.5}, pt{84, 71}, pt{52, 84}, pt{14, 95})...)
	k.water(ditch, 60, 94, flat(0.3), light)
	k.cut(ditch)
	k.hills(0, 120, 57, 4, faint)
	k.grass(rect(0, 60, 120, 90), 190, needle)
	for i := range 16 {
		y := 58.5 + 0.16*float64(i*i)
		k.line([]pt{{k.between(0, 50), y}, {k.between(70, 120), y + k.between(-0.6, 0.6)}}, faint, nil)
	}
	k.flock(90, 18, 5)
	k.sky(5, 55, 1.6, 0.5, faint)
}

// pollard is a willow cut back to its trunk, with a crown of rods.
func (k *kit) pollard(x, foot, h float64) {
	top := foot - h*0.42
	w := h * 0.10
	trunk := append(smooth(false, pt{x - w*1.5, foot + 1}, pt{x - w*0.8, foot - h*0.1}, pt{x - w*0.75, foot - h*0.28}, pt{x - w*1.3, top}),
		smooth(false, pt{x + w*1.2, top - 0.5}, pt{x + w*0.7, foot - h*0.27}, pt{x + w*0.9, foot - h*0.1}, pt{x + w*1.7, foot + 0.6})...)
	k.outline(trunk, firm)
	k.shade(trunk, 82, 0.62, 0.03, func(px, py float64) float64 {
		return 0.38 + 0.42*(px-x)/w + 0.25*ripple(px/1.2, py/3, 31)
	}, plain)
	k.cut(trunk)
	for i := range int(10 + h*0.35) {
		a := -math.Pi/2 + (float64(i)/(9+h*0.35)-0.5)*2.5
		l := h * k.between(0.30, 0.55)
		from := pt{x + k.between(-1, 1)*w, top - k.between(0, 1)}
		mid := pt{from.x + 0.5*l*math.Cos(a), from.y + 0.55*l*math.Sin(a)}
		tip := pt{from.x + l*math.Cos(a)*1.05, from.y + l*math.Sin(a) + 0.06*l}
		k.line(smooth(false, from, mid, tip), plain, func(_ pt, t float64) float64 { return 1.3 - t })
	}
	k.foliage(x, top-h*0.24, h*0.34, int(h*9), needle)
	shadow := oval(x+w*2.2, foot+1.2, h*0.26, h*0.03)
	k.shade(shadow, 4, 0.7, 0, flat(0.6), needle)
}

// drawBoatyard: a big shed with its doors open, a boat on a cradle, stacked
// timber.
func drawBoatyard(k *kit) {
	k.grass([]pt{{0, 105}, {0, 97}, {60, 99}, {140, 96}, {140, 105}}, 80, rich)
	k.cradle(38, 90, 46)
	k.timber(102, 94)
	k.bigShed(64, 84)
	k.shed(10, 78, 26, 14, 9, true)
	k.shed(114, 77, 20, 11, 7, false)
	for _, x := range []float64{8, 44} {
		k.line([]pt{{x, 78}, {x - 1, 40}}, plain, nil)
		k.line([]pt{{x - 4, 44}, {x + 3, 43.5}}, light, nil)
	}
	k.line(smooth(false, pt{5, 44}, pt{24, 50}, pt{41, 44}), faint, nil)
	k.hills(0, 140, 72, 5, faint)
	seed := k.r.Uint32()
	k.hatch(rect(0, 77, 140, 101), 2, 1.25, 0, 0.2, func(x, y float64) float64 {
		return 0.22 + 0.35*clouds(x/14, y/4, seed) + 0.15*ease(95, 102, y)
	}, light)
	k.flock(34, 20, 5)
	k.sky(5, 66, 1.3, 0.62, light)
}

// bigShed is a gabled shed seen from the front, its ground line at y.
func (k *kit) bigShed(x, y float64) {
	door := rect(x+11, y-26, x+31, y)
	k.outline(door, firm)
	k.shade(door, 84, 0.6, 0, func(px, py float64) float64 { return 0.98 - 0.35*ease(y-8, y, py) }, plain)
	k.cut(door)
	for _, d := range []float64{0, 31} {
		leaf := []pt{{x + d + 0.8, y - 24}, {x + d + 10.2, y - 26}, {x + d + 10.2, y}, {x + d + 0.8, y + 1.5}}
		k.outline(leaf, plain)
		k.hatch(leaf, 90, 0.95, 0, 0, flat(0.35), light)
		k.line([]pt{leaf[0], leaf[2]}, light, nil)
		k.cut(leaf)
	}
	loft := rect(x+18.5, y-40, x+23.5, y-33)
	k.outline(loft, plain)
	k.shade(loft, 45, 0.5, 0, flat(0.85), light)
	k.cut(loft)
	front := []pt{{x, y}, {x, y - 29}, {x + 21, y - 48}, {x + 42, y - 29}, {x + 42, y}}
	k.outline(front, firm)
	k.hatch(front, 90, 1.1, 0, 0.1, flat(0.32), light)
	k.hatch(front, 42, 0.8, 0, 0.25, func(px, py float64) float64 {
		return 0.6*ease(x+20, x, px) + 0.5*ease(y-36, y-46, py)
	}, light)
	k.cut(front)
	side := []pt{{x + 42, y - 29}, {x + 21, y - 48}, {x + 44, y - 50}, {x + 60, y - 33}}
	k.outline(side, firm)
	k.shade(side, 52, 0.8, 0, flat(0.62), plain)
	k.cut(side)
	wall := []pt{{x + 42, y}, {x + 42, y - 29}, {x + 58, y - 31}, {x + 58, y - 3}}
	k.outline(wall, plain)
	k.shade(wall, 88, 0.8, 0, flat(0.55), plain)
	k.cut(wall)
}

// cradle holds a hull with its keel at y.
func (k *kit) cradle(x, y, l float64) {
	for _, u := range []float64{-0.3, 0.02, 0.3} {
		leg := []pt{{x + u*l - 0.8, y - 3}, {x + u*l - 2.2, y + 5}, {x + u*l - 0.4, y + 5}, {x + u*l + 0.9, y - 3}}
		k.outline(leg, plain)
		k.shade(leg, 80, 0.5, 0, flat(0.5), light)
		k.cut(leg)
	}
	k.beached(x, y-2, l, 1)
}

// timber is a stack of baulks, end on.
func (k *kit) timber(x, y float64) {
	for row := range 3 {
		for i := range 5 - row {
			cx, cy := x+float64(i)*4.4+float64(row)*2.2, y-float64(row)*3.7
			o := oval(cx, cy, 2.1, 1.9)
			k.outline(o, plain)
			k.outline(oval(cx+0.2, cy, 1.2, 1.05), light)
			k.outline(oval(cx+0.2, cy, 0.5, 0.45), light)
			k.hatch(o, 40, 0.6, 0, 0.2, func(px, _ float64) float64 { return 0.4 + 0.3*(px-cx)/2 }, light)
			k.cut(o)
		}
	}
}

// drawFurrows: a ploughed field, a few bushes, an almost empty sky: a plate
// with little to hold on to.
func drawFurrows(k *kit) {
	for _, t := range []pt{{20, 47}, {44, 44}, {71, 48}, {98, 45}} {
		k.line([]pt{{t.x, t.y + 9}, {t.x + k.between(-1, 1), t.y}}, firm, nil)
		k.foliage(t.x, t.y-3, k.between(5, 7.5), 46, needle)
	}
	for i := range 27 {
		u := float64(i)/26 - 0.5
		k.line(smooth(false, pt{60 + 12*u, 50.5}, pt{60 + 52*u + 2*u*u, 68}, pt{60 + 118*u, 90}), plain,
			func(_ pt, t float64) float64 { return 0.5 + 0.7*t })
	}
	k.line([]pt{{0, 50}, {120, 50.5}}, light, nil)
	for range 22 {
		y, x := k.between(7, 40), k.between(4, 70)
		k.line([]pt{{x, y}, {x + k.between(12, 48), y + k.between(-0.8, 0.8)}}, light, nil)
	}
}
