package colour

import (
	"encoding/binary"
	"math"
)

// maxCurve bounds a sampled curve; 65536 samples are one for each 16-bit code.
const maxCurve = 1 << 16

// readCurve reads a "curv" or "para" tag (ICC.1:2022, 10.6 and 10.18) into a
// function from code value 0..1 to linear light 0..1.
func readCurve(b []byte) (func(float64) float64, bool) {
	if len(b) < 12 {
		return nil, false
	}
	switch string(b[:4]) {
	case "curv":
		return sampledCurve(b)
	case "para":
		return parametricCurve(b)
	}
	return nil, false
}

func sampledCurve(b []byte) (func(float64) float64, bool) {
	n := uint64(binary.BigEndian.Uint32(b[8:]))
	if n > maxCurve || 12+2*n > uint64(len(b)) {
		return nil, false
	}
	switch n {
	case 0:
		return func(v float64) float64 { return v }, true
	case 1:
		g := float64(binary.BigEndian.Uint16(b[12:])) / 256
		if g <= 0 {
			return nil, false
		}
		return func(v float64) float64 { return math.Pow(math.Max(v, 0), g) }, true
	}
	table := make([]float64, n)
	for i := range table {
		table[i] = float64(binary.BigEndian.Uint16(b[12+2*i:])) / 65535
	}
	return func(v float64) float64 {
		at := math.Min(math.Max(v, 0), 1) * float64(len(table)-1)
		i := min(int(at), len(table)-2)
		f := at - float64(i)
		return table[i]*(1-f) + table[i+1]*f
	}, true
}

// parametricCurve reads the five kinds of power curve with a straight foot.
// Each is written as the last kind: (aX+b)^g + e from d on, cX + f below it.
func parametricCurve(b []byte) (func(float64) float64, bool) {
	kind := binary.BigEndian.Uint16(b[8:])
	counts := []int{1, 3, 4, 5, 7}
	if int(kind) >= len(counts) || len(b) < 12+4*counts[kind] {
		return nil, false
	}
	var v [7]float64
	for i := range counts[kind] {
		v[i] = fixed(b[12+4*i:])
	}
	g, a, bb, c, d, e, f := v[0], v[1], v[2], v[3], v[4], v[5], v[6]
	switch kind {
	case 0:
		a, bb, d = 1, 0, math.Inf(-1)
	case 1, 2:
		if a == 0 {
			return nil, false
		}
		e, f = 0, 0
		if kind == 2 {
			e, f = c, c
		}
		c, d = 0, -bb/a
	}
	if g <= 0 {
		return nil, false
	}
	return func(x float64) float64 {
		x = math.Min(math.Max(x, 0), 1)
		y := c*x + f
		if x >= d {
			y = math.Pow(math.Max(a*x+bb, 0), g) + e
		}
		return math.Min(math.Max(y, 0), 1)
	}, true
}
