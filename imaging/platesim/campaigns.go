package platesim

import "math"

// campaign is what was done to a scene's plate on the way into one later
// state: boxes rubbed out, in the scene's frame, and passages drawn.
type campaign struct {
	rubbed []Box
	drawn  []func(*kit)
}

// campaigns are the later states that belong to the scenes, from the second
// on. Beyond them chance lays patches.
var campaigns = map[Scene][]campaign{
	Estuary: {{drawn: []func(*kit){
		func(k *kit) { k.boat(69, 54, 11, 15, 1) },
		func(k *kit) { k.shadow(45, 78.5, 17, 4, 1.5, plain) },
		func(k *kit) { k.cloud(113, 18, 17, 6.5, -24, light) },
	}}},
	Boatyard: {{rubbed: []Box{{98.5, 84, 124.5, 97}}, drawn: []func(*kit){
		func(k *kit) { k.cloud(33, 14, 19, 6, 28, light) },
		func(k *kit) { k.shadow(84, 90.5, 13, 3.2, 4, plain) },
	}}},
	Hulls: {
		{rubbed: []Box{{7, 37, 25, 46}}, drawn: []func(*kit){
			func(k *kit) { k.shadow(22, 84.5, 13, 3.6, 8, rich) },
			func(k *kit) { k.post(90, 62, 15, 1.8) },
		}},
		{rubbed: []Box{{128, 78, 143, 88}}, drawn: []func(*kit){
			func(k *kit) { k.cloud(80, 15, 18, 6, 22, needle) },
			func(k *kit) { k.shadow(90, 70, 10, 2.6, 3, rich) },
		}},
	},
	Willows: {{drawn: []func(*kit){
		func(k *kit) { k.cloud(30, 16, 17, 7, 62, needle) },
		func(k *kit) { k.hurdle(8, 79, 17, 9) },
		func(k *kit) { k.shadow(71, 85, 14, 2.8, 5, rich) },
	}}},
	Heron: {{drawn: []func(*kit){
		func(k *kit) { k.shadow(75, 119, 12, 6, 84, rich) },
		func(k *kit) { k.shadow(37, 121, 9, 2.6, 2, needle) },
		func(k *kit) { k.cloud(22, 16, 12, 4.5, 14, needle) },
	}}},
	StillLife: {{drawn: []func(*kit){
		func(k *kit) { k.cloud(101, 26, 19, 15, -52, light) },
		func(k *kit) { k.fly(20, 78) },
		func(k *kit) { k.shadow(61, 85.2, 13, 2.4, -30, plain) },
	}}},
	Marsh: {{rubbed: []Box{{36, 69, 52, 80}}, drawn: []func(*kit){
		func(k *kit) { k.shed(16, 57, 15, 7, 5, true) },
		func(k *kit) { k.cloud(104, 14, 20, 6.5, 30, light) },
		func(k *kit) { k.shadow(134, 51, 9, 2, 3, plain) },
	}}},
}

// patchy is a tone fullest in the middle of an ellipse and broken towards its
// rim, so that no outline shows.
func (k *kit) patchy(x, y, rx, ry, full float64) func(float64, float64) float64 {
	seed := k.r.Uint32()
	return func(px, py float64) float64 {
		d := math.Hypot((px-x)/rx, (py-y)/ry)
		return full*(1-d*d) + 0.45*clouds(px/(0.4*rx), py/(0.5*ry), seed) - 0.1
	}
}

// cloud is shading in the air that comes and goes.
func (k *kit) cloud(x, y, rx, ry, angle float64, p pen) {
	k.hatch(rect(x-rx, y-ry, x+rx, y+ry), angle, 1.05, 0.02, 0.16, k.patchy(x, y, rx, ry, 0.62), p)
}

// shadow lies on ground or water: close strokes, crossed where it is deepest.
func (k *kit) shadow(x, y, rx, ry, angle float64, p pen) {
	area := rect(x-rx, y-ry, x+rx, y+ry)
	tone := k.patchy(x, y, rx, ry, 0.8)
	k.hatch(area, angle, 0.8, 0, 0.16, tone, p)
	q := p
	q.w *= 0.8
	k.hatch(area, angle+35, 1.1, 0, 0.62, tone, q)
}

// hurdle is a low woven fence from its left foot on.
func (k *kit) hurdle(x, foot, w, h float64) {
	for i := range 5 {
		sx := x + w*float64(i)/4
		k.line([]pt{{sx, foot}, {sx + 0.4, foot - h}}, firm, nil)
	}
	for i := range 5 {
		y := foot - h*(0.2+0.16*float64(i))
		wave := []pt{}
		for j := range 9 {
			wave = append(wave, pt{x + w*float64(j)/8, y + 0.5*float64((j+i)%2*2-1)})
		}
		k.line(smooth(false, wave...), plain, nil)
	}
}

// fly sits where the eye takes it for a real one.
func (k *kit) fly(x, y float64) {
	body := oval(x, y, 1.7, 0.8)
	k.outline(body, firm)
	k.shade(body, 90, 0.3, 0, flat(0.9), plain)
	for _, side := range []float64{-1, 1} {
		wing := smooth(true, pt{x + 0.6, y + side*0.6}, pt{x - 1.4, y + side*2.1}, pt{x - 2.6, y + side*1.3})
		k.outline(wing, light)
		for _, d := range []float64{-1, 0.2, 1.2} {
			k.line([]pt{{x + d, y + side*0.7}, {x + 1.4*d, y + side*2.2}}, plain, nil)
		}
	}
}
