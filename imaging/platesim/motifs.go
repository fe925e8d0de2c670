package platesim

import "math"

// sky rules level lines over the air, broken where clouds stay white.
func (k *kit) sky(top, bottom, spacing, strength float64, p pen) {
	seed := k.r.Uint32()
	tone := func(x, y float64) float64 {
		v := clouds(x/38, y/13, seed)
		fade := ease(bottom, bottom-0.5*(bottom-top), y)
		return strength * (0.35 + 0.65*fade) * ease(-0.15, 0.55, v)
	}
	k.hatch(rect(0, top, k.w, bottom), 0.4, spacing, 0, 0.13, tone, p)
}

// water lays level strokes whose number grows towards the viewer; dark adds
// tone by place (reflections).
func (k *kit) water(outline []pt, top, bottom float64, dark func(x, y float64) float64, p pen) {
	s := newShape(outline)
	seed := k.r.Uint32()
	for y := top; y < bottom; {
		near := (y - top) / (bottom - top)
		y += (0.75 + 1.5*near) / k.scale() * k.between(0.7, 1.3)
		w := p
		w.w *= 0.7 + 0.6*near
		w.shake = 0.10 + 0.25*near
		pts := []pt{{0, y}, {k.w, y + k.between(-0.3, 0.3)}}
		row := k.between(0, 100)
		k.line(pts, w, func(at pt, _ float64) float64 {
			if !s.holds(at) {
				return 0
			}
			v := 0.42*ripple(at.x/(7+9*near)+row, at.y/4, seed) + 0.2*ripple(at.x/2.6, row, seed) + 0.10 + 0.9*dark(at.x, at.y)
			if v < 0.25 {
				return 0
			}
			return 0.6 + 0.6*math.Min(v, 1)
		})
	}
}

// boat draws a hull lying at x with its waterline at y: length l, bow to the
// right when dir is 1, to the left when -1; mast 0 for none.
func (k *kit) boat(x, y, l, mast, dir float64) {
	at := func(u, v float64) pt { return pt{x + dir*u*l, y - v*l} }
	hull := append(smooth(false, at(-0.5, 0.17), at(-0.2, 0.10), at(0.15, 0.10), at(0.52, 0.24)),
		smooth(false, at(0.52, 0.24), at(0.44, 0.06), at(0.36, -0.01))...)
	hull = append(hull, at(-0.40, -0.01), at(-0.48, 0.08))
	if mast > 0 {
		k.rig(at, mast, l)
	}
	k.outline(hull, firm)
	rail := smooth(false, at(-0.49, 0.145), at(-0.2, 0.075), at(0.15, 0.075), at(0.50, 0.205))
	k.line(rail, plain, nil)
	tone := func(px, py float64) float64 {
		v := (y - py) / (0.16 * l)
		return 0.75 - 0.42*v + 0.12*dir*(x-px)/l
	}
	k.shade(hull, 4*dir, 0.85, 0.02*dir, tone, plain)
	k.cut(hull)
}

// rig draws mast, boom, furled sail and stays.
func (k *kit) rig(at func(u, v float64) pt, mast, l float64) {
	foot, top := at(0.05, 0.1), at(0.02, mast/l)
	spar := []pt{{foot.x - 0.35, foot.y}, {top.x - 0.15, top.y}, {top.x + 0.15, top.y}, {foot.x + 0.35, foot.y}}
	k.outline(spar, plain)
	k.hatch(spar, 84, 0.35, 0, 0, flat(0.5), light)
	k.cut(spar)
	sail := smooth(true, at(0.03, 0.30), at(-0.15, 0.285), at(-0.42, 0.25), at(-0.43, 0.22), at(-0.2, 0.225), at(0.03, 0.235))
	k.outline(sail, light)
	k.hatch(sail, 78, 0.9, 0.02, 0.1, flat(0.45), light)
	k.cut(sail)
	for _, e := range []pt{at(0.50, 0.24), at(-0.48, 0.17), at(0.22, 0.11), at(-0.14, 0.11)} {
		k.line([]pt{top, e}, faint, nil)
	}
	yard := at(0.02, mast/l*0.72)
	k.line([]pt{{yard.x - 0.12*l, yard.y + 0.02*l}, {yard.x + 0.13*l, yard.y - 0.03*l}}, light, nil)
}

// post is a mooring post standing in water or mud.
func (k *kit) post(x, foot, height, width float64) {
	o := []pt{{x - width/2, foot}, {x - width*0.42, foot - height}, {x + width*0.38, foot - height - 0.3}, {x + width/2, foot}}
	k.outline(o, plain)
	k.shade(o, 86, 0.45, 0, func(px, _ float64) float64 { return 0.35 + 0.5*(px-x)/width + 0.2 }, plain)
	k.cut(o)
}

// shed is a boarded house seen square on: left x, ground y, width w, eaves h,
// roof r; its door is dark.
func (k *kit) shed(x, y, w, h, r float64, door bool) {
	if door {
		d := rect(x+w*0.55, y-h*0.72, x+w*0.8, y)
		k.outline(d, plain)
		k.shade(d, 80, 0.55, 0, flat(0.95), plain)
		k.cut(d)
	}
	win := rect(x+w*0.17, y-h*0.68, x+w*0.36, y-h*0.38)
	k.outline(win, light)
	k.line([]pt{{x + w*0.265, y - h*0.68}, {x + w*0.265, y - h*0.38}}, light, nil)
	k.shade(win, 40, 0.5, 0, flat(0.7), light)
	k.cut(win)
	wall := rect(x, y-h, x+w, y)
	k.outline(wall, firm)
	k.hatch(wall, 90, 1.15, 0, 0.1, flat(0.3), light)
	k.hatch(wall, 38, 0.8, 0, 0.3, func(px, py float64) float64 {
		return 0.75*ease(x+w*0.62, x, px) + 0.55*ease(y-h*0.75, y-h, py)
	}, light)
	k.cut(wall)
	roof := []pt{{x - w*0.05, y - h}, {x + w*0.12, y - h - r}, {x + w*0.88, y - h - r}, {x + w*1.05, y - h}}
	k.outline(roof, firm)
	k.shade(roof, 76, 0.75, 0, func(px, _ float64) float64 { return 0.42 + 0.3*ease(x+w, x, px) }, plain)
	k.cut(roof)
}

// reeds grow from a bank: tapering blades leaning with the wind.
func (k *kit) reeds(x0, x1, y, low, high float64, n int, p pen) {
	for range n {
		x, l := k.between(x0, x1), k.between(low, high)
		lean := l * k.between(-0.12, 0.32)
		k.line(smooth(false, pt{x, y + k.between(-1, 1)}, pt{x + lean*0.25, y - l*0.55}, pt{x + lean, y - l}), p,
			func(_ pt, t float64) float64 { return 1.15 - 0.85*t })
		if k.r.IntN(6) == 0 {
			head := pt{x + lean, y - l}
			for range 7 {
				k.line([]pt{head, {head.x + k.between(-0.6, 1.2), head.y + k.between(0.2, 2.2)}}, p, nil)
			}
		}
	}
}

// grass is short tufts over an area, larger towards the bottom.
func (k *kit) grass(outline []pt, n int, p pen) {
	s := newShape(outline)
	for range n {
		at := pt{k.between(s.box[0], s.box[2]), k.between(s.box[1], s.box[3])}
		if !s.holds(at) {
			continue
		}
		near := 0.4 + 0.9*(at.y-s.box[1])/(s.box[3]-s.box[1])
		for range 3 + k.r.IntN(4) {
			l := near * k.between(0.8, 2.4)
			x := at.x + k.between(-1, 1)*near
			k.line([]pt{{x, at.y}, {x + l*k.between(-0.4, 0.5), at.y - l}}, p, func(_ pt, t float64) float64 { return 1.1 - 0.6*t })
		}
	}
}

// flock is birds far off, two strokes each.
func (k *kit) flock(x, y float64, n int) {
	for range n {
		bx, by, s := x+k.between(-14, 14), y+k.between(-5, 5), k.between(0.8, 1.7)
		k.line(smooth(false, pt{bx - s, by - s*0.3}, pt{bx - s*0.4, by - s*0.5}, pt{bx, by}), light, nil)
		k.line(smooth(false, pt{bx, by}, pt{bx + s*0.5, by - s*0.55}, pt{bx + s*1.1, by - s*0.2}), light, nil)
	}
}

// hills is a far shore: an uneven crest over a level foot, hatched lightly.
func (k *kit) hills(x0, x1, foot, height float64, p pen) {
	seed := k.r.Uint32()
	var crest []pt
	for x := x0; x <= x1; x += 1.5 {
		crest = append(crest, pt{x, foot - height*(0.45+0.55*ripple(x/23, 0, seed)+0.14*ripple(x/4, 5, seed))})
	}
	k.line(crest, p, nil)
	o := append(append([]pt{}, crest...), pt{x1, foot}, pt{x0, foot})
	k.hatch(o, 68, 0.95, 0, 0.1, func(x, _ float64) float64 { return 0.22 + 0.3*ripple(x/9, 2, seed) }, p)
	k.line([]pt{{x0, foot}, {x1, foot}}, p, nil)
	k.cut(o)
}

// foliage is the crown of a tree: loops of the needle that gather on the shaded
// side and leave the light side open.
func (k *kit) foliage(x, y, r float64, n int, p pen) {
	for range n {
		a, d := k.between(0, 2*math.Pi), r*math.Sqrt(k.r.Float64())
		cx, cy := x+d*math.Cos(a)*1.12, y+d*math.Sin(a)*0.82
		shade := 0.5 + 0.5*((cx-x)*0.7+(cy-y)*0.7)/r
		if k.r.Float64() > 0.28+0.8*shade {
			continue
		}
		s := k.between(0.55, 1.25) * (1.1 - 0.25*shade)
		var loop []pt
		turn := k.between(0, 2*math.Pi)
		for i := range 5 {
			t := turn + float64(i)*k.between(0.8, 1.15)
			loop = append(loop, pt{cx + s*math.Cos(t), cy + 0.8*s*math.Sin(t)})
		}
		q := p
		q.w *= 0.75 + 0.6*shade
		k.line(smooth(false, loop...), q, nil)
	}
}
