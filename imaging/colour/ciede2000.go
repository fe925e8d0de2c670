package colour

import "math"

// Difference is the colour difference CIEDE2000 with kL = kC = kH = 1.
// Source: Sharma, Wu and Dalal, Color Research and Application 30(1), 2005,
// 21-30; CIE 142-2001. Two hues exactly 180 degrees apart take the plain mean,
// as the paper's table does.
func Difference(p, q Lab) float64 {
	const pow25to7 = 6103515625.0
	cMean := (math.Hypot(p.A, p.B) + math.Hypot(q.A, q.B)) / 2
	c7 := math.Pow(cMean, 7)
	g := 0.5 * (1 - math.Sqrt(c7/(c7+pow25to7)))
	a1, a2 := (1+g)*p.A, (1+g)*q.A
	c1, c2 := math.Hypot(a1, p.B), math.Hypot(a2, q.B)
	h1, h2 := hue(a1, p.B), hue(a2, q.B)

	dL, dC := q.L-p.L, c2-c1
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(radians(hueStep(h1, h2, c1*c2))/2)

	l, c, h := (p.L+q.L)/2, (c1+c2)/2, meanHue(h1, h2, c1*c2)
	t := 1 - 0.17*cosd(h-30) + 0.24*cosd(2*h) + 0.32*cosd(3*h+6) - 0.20*cosd(4*h-63)
	turn := 30 * math.Exp(-math.Pow((h-275)/25, 2))
	c7 = math.Pow(c, 7)
	rC := 2 * math.Sqrt(c7/(c7+pow25to7))
	off := (l - 50) * (l - 50)
	sL := 1 + 0.015*off/math.Sqrt(20+off)
	sC, sH := 1+0.045*c, 1+0.015*c*t
	rT := -math.Sin(radians(2*turn)) * rC

	x, y, z := dL/sL, dC/sC, dH/sH
	return math.Sqrt(x*x + y*y + z*z + rT*y*z)
}

// hue is the angle of (a, b) in degrees 0..360; 0 for a colour without hue.
func hue(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

// hueStep is the way from h1 to h2 in degrees, the short way round.
func hueStep(h1, h2, chromas float64) float64 {
	d := h2 - h1
	switch {
	case chromas == 0:
		return 0
	case d > 180:
		return d - 360
	case d < -180:
		return d + 360
	}
	return d
}

// meanHue is the hue half-way between two hues in degrees.
func meanHue(h1, h2, chromas float64) float64 {
	sum := h1 + h2
	switch {
	case chromas == 0:
		return sum
	case math.Abs(h1-h2) <= 180:
		return sum / 2
	case sum < 360:
		return (sum + 360) / 2
	}
	return (sum - 360) / 2
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func cosd(deg float64) float64    { return math.Cos(radians(deg)) }
