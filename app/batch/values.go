package batch

import (
	"math"
	"strconv"
	"strings"

	"pullbook/imaging"
)

// sizeFlag is --plate-mm HxW.
type sizeFlag struct{ size imaging.Size }

func (f *sizeFlag) String() string { return "" }

func (f *sizeFlag) Set(s string) error {
	h, w, ok := pair(s)
	if !ok || !(h >= 5 && w >= 5 && h <= 3000 && w <= 3000) {
		return usage("%q is not a plate's size; give height x width in millimetres, as 100x140", s)
	}
	f.size = imaging.Size{Height: h, Width: w}
	return nil
}

// pair reads "AxB"; a multiplication sign or blanks around it will do.
func pair(s string) (a, b float64, ok bool) {
	left, right, found := strings.Cut(strings.NewReplacer("×", "x", "X", "x").Replace(s), "x")
	if !found {
		return 0, 0, false
	}
	a, errA := strconv.ParseFloat(strings.TrimSpace(left), 64)
	b, errB := strconv.ParseFloat(strings.TrimSpace(right), 64)
	return a, b, errA == nil && errB == nil
}

// gridFlag is --grid CxR: steps across and down the plate.
type gridFlag struct{ cols, rows int }

func (f *gridFlag) String() string { return "" }

func (f *gridFlag) Set(s string) error {
	c, r, ok := pair(s)
	if !ok || c != math.Trunc(c) || r != math.Trunc(r) || c < 1 || r < 1 || c > 200 || r > 200 {
		return usage("%q is not a grid; give the steps across and down, as 16x12 (at most 200x200)", s)
	}
	f.cols, f.rows = int(c), int(r)
	return nil
}

// marksFlag is --marks x,y,x,y,x,y,x,y.
type marksFlag struct{ quad *imaging.Quad }

func (f *marksFlag) String() string { return "" }

func (f *marksFlag) Set(s string) error {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	if len(parts) != 8 {
		return usage("--marks wants eight numbers, x,y of the four corners of the plate mark: top-left, top-right, bottom-right, bottom-left")
	}
	var q imaging.Quad
	for i, p := range parts {
		v, err := strconv.ParseFloat(p, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return usage("%q in --marks is not a number of pixels", p)
		}
		if i%2 == 0 {
			q[i/2].X = v
		} else {
			q[i/2].Y = v
		}
	}
	f.quad = &q
	return nil
}

// regionsFlag is --region NAME=x0,y0,x1,y1 or NAME=x,y,x,y,x,y...; it may be
// given more than once.
type regionsFlag []imaging.Region

func (f *regionsFlag) String() string { return "" }

func (f *regionsFlag) Set(s string) error {
	const want = "--region wants a name and plate millimetres: the corners of a box, as sky=5,5,135,40, or an outline of three points or more, as hull=20,60,70,60,45,80"
	name, list, ok := strings.Cut(s, "=")
	name = strings.TrimSpace(name)
	parts := strings.Split(list, ",")
	if !ok || name == "" || len(parts) < 4 || len(parts)%2 != 0 {
		return usage("%s", want)
	}
	g := imaging.Region{Name: name}
	for i := 0; i < len(parts); i += 2 {
		x, errX := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		y, errY := strconv.ParseFloat(strings.TrimSpace(parts[i+1]), 64)
		if errX != nil || errY != nil || math.IsNaN(x+y) || math.IsInf(x+y, 0) {
			return usage("%s", want)
		}
		g.Outline = append(g.Outline, imaging.Point{X: x, Y: y})
	}
	if a := g.Outline; len(a) == 2 {
		g.Outline = []imaging.Point{a[0], {X: a[1].X, Y: a[0].Y}, a[1], {X: a[0].X, Y: a[1].Y}}
	}
	*f = append(*f, g)
	return nil
}

// listFlag is a flag that may be given more than once.
type listFlag []string

func (f *listFlag) String() string { return "" }

func (f *listFlag) Set(s string) error {
	*f = append(*f, s)
	return nil
}

// number is a measured quantity as JSON writes it: null where it is not a
// number.
type number float64

// MarshalJSON writes null for what JSON has no number for.
func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, round(v), 'g', -1, 64), nil
}

// round keeps six significant digits, more than any quantity here is good for.
func round(v float64) float64 {
	if v == 0 || math.Abs(v) >= 1e6 {
		return v
	}
	k := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(k, 0) {
		return 0
	}
	return math.Round(v*k) / k
}

// value is a quantity with its standard uncertainty.
type value struct {
	Value number `json:"value"`
	U     number `json:"u"`
}

func valueOf(v *imaging.Value) *value {
	if v == nil || math.IsNaN(v.V) {
		return nil
	}
	return &value{number(v.V), number(v.U)}
}

// px is a place in a photograph, to a thousandth of a pixel.
func px(v float64) float64 { return math.Round(v*1000) / 1000 }

func quadPX(q imaging.Quad) [][2]float64 {
	list := make([][2]float64, 0, 4)
	for _, p := range q {
		list = append(list, [2]float64{px(p.X), px(p.Y)})
	}
	return list
}
