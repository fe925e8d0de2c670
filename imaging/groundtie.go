package imaging

import "math"

// How far the ground between crowded lines may be told from the lines
// themselves.
const (
	tieStep   = 0.5   // mm between places
	tieReach  = 2.0   // mm, standard deviation of the surroundings gathered
	tieBlur   = 0.08  // mm, blur laid on both sheets: what their own differ by matters less then
	tieSeen   = 0.3   // share of open ground from which nothing need be told
	tieClouds = 0.2   // unevenness of plate tone over centimetres, a share of it
	tieLeast  = 0.008 // relative uncertainty of a ground told so,
	tieWear   = 0.03  // for each unit of coverage: worn lines keep their contrast otherwise than their ink,
	tieSharp  = 2.0   // and for each millimetre by which the sheets differ in blur: contrast falls with it
)

// tieGround tells the ground of a toned sheet where lines are so crowded that
// none shows for millimetres. Tone drifts over centimetres, and far ground does
// not know of it; but the lines there are the reference's. With R = G - (G-Ri)a
// and a in proportion to the reference's coverage c, the spread of R over that
// of c is the slope b = (G-Ri)a/c, and G = mean R + b mean c: a reduced major
// axis, which small misregistration does not flatten as it would a regression.
// What the reference's own ground is wrong by there moves both coverages alike
// and drops out of their ratio. Both grounds count by inverse variance; on a
// sheet wiped clean the far ground is right and stays.
func (r *Reference) tieGround(s *Sheet) {
	k := max(1, int(math.Round(tieStep*s.PxPerMM)))
	ref, refl := r.alike(s)
	var sum [7]*plane // n, open ground, R, R^2, c, c^2, G
	for i := range sum {
		sum[i] = newPlane((s.Cols+k-1)/k, (s.Rows+k-1)/k)
	}
	strips(sum[0].h, func(_, lo, hi int) {
		for y := lo * k; y < min(hi*k, s.Rows); y++ {
			for x := 0; x < s.Cols; x++ {
				i := y*s.Cols + x
				v, c := refl.v[i], ref.v[i]
				if v != v || c != c || !s.inside(x, y) {
					continue
				}
				at := y/k*sum[0].w + x/k
				open := float32(1)
				if s.Line[i] {
					open = 0
				}
				for j, t := range [7]float32{1, open, v, v * v, c, c * c, s.Ground[i]} {
					sum[j].v[at] += t
				}
			}
		}
	})
	for i := range sum {
		sum[i] = sum[i].blur(tieReach * s.PxPerMM / float64(k))
	}
	f := newPlane(sum[0].w, sum[0].h)
	left := 1 / (4 * math.Pi * math.Pow(tieBlur*s.PxPerMM, 2)) // of the noise's variance under the blur
	for at := range f.v {
		n := float64(sum[0].v[at])
		mean := func(j int) float64 { return float64(sum[j].v[at]) / n }
		f.v[at] = 1
		if n < 1e-3 {
			continue
		}
		far, cover := mean(6), mean(4)
		crowded := max(0, 1-mean(1)/tieSeen)
		spreadR := mean(3) - mean(2)*mean(2) - s.Noise*s.Noise*left
		spreadC := mean(5) - cover*cover - r.Sheet.Noise*r.Sheet.Noise*left
		if crowded == 0 || spreadC < 0.01 || spreadR <= 0 || far < 0.2 {
			continue
		}
		told := mean(2) + math.Sqrt(spreadR/spreadC)*cover
		uFar := tieClouds * crowded * max(0, -math.Log(far))
		uTold := math.Hypot(tieLeast+tieWear*cover, tieSharp*(s.BlurMM-r.Sheet.BlurMM))
		w := uFar * uFar / (uFar*uFar + uTold*uTold)
		f.v[at] = float32(1 + w*min(max(told/far-1, -0.15), 0.15))
	}
	f = f.enlarge(k, s.Cols, s.Rows)
	ground := &plane{w: s.Cols, h: s.Rows, v: s.Ground}
	for i := range ground.v {
		ground.v[i] *= f.v[i]
	}
	s.Coverage = coverageOf(&plane{w: s.Cols, h: s.Rows, v: s.Reflectance}, ground, solidInk).v
}

// alike returns the reference's coverage and the sheet's reflectance under the
// same blur.
func (r *Reference) alike(s *Sheet) (ref, refl *plane) {
	ref = &plane{w: s.Cols, h: s.Rows, v: r.Sheet.Coverage}
	refl = &plane{w: s.Cols, h: s.Rows, v: s.Reflectance}
	d := s.BlurMM*s.BlurMM - r.Sheet.BlurMM*r.Sheet.BlurMM
	sigma := math.Sqrt(math.Abs(d)) * s.PxPerMM
	switch {
	case !(sigma > 0.3):
	case d > 0:
		ref = ref.blur(sigma)
	default:
		refl = refl.blur(sigma)
	}
	return ref.blur(tieBlur * s.PxPerMM), refl.blur(tieBlur * s.PxPerMM)
}
