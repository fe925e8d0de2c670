package life

import (
	"fmt"
	"math"
	"sort"

	"pullbook/catalog"
)

// Observation is the loss of one impression whose pull is recorded.
type Observation struct {
	// Pull is the count of pull of the plate from its first.
	Pull int
	// Loss is the ink loss against the reference pull of the state, as a
	// fraction.
	Loss catalog.Value
	// Day names the printing day; sheets of one day share their inking.
	// Empty: not known, taken as a day of its own.
	Day string
}

// Reset is work on the metal that starts the wear anew: re-cutting,
// steel-facing, or the campaign that made a new state.
type Reset struct {
	// AfterPull is the last pull before the work; 0 is before the first.
	AfterPull int
	Kind      catalog.WorkKind
	// NewState marks the campaign that made the next state: what is lost is
	// measured against another reference from then on.
	NewState bool
}

// Run is everything known of the wear of one plate.
type Run struct {
	Prior        Prior
	Limit        float64 // the printer's limit of loss, fraction, 0..1
	Observations []Observation
	Resets       []Reset
	// ReferencePull is the pull of the reference of the state in hand,
	// counted from the plate's first; 0 is taken as the stretch's first.
	ReferencePull int
	// LastPull is the last pull made so far; 0 means the last observed.
	LastPull int
}

// stretch is a part of a run without resets; pulls count from its start.
type stretch struct {
	start int // last pull before it
	ref   float64
	prior Prior
	obs   []reading
}

// reading is an observation, or the mean of neighbouring ones, made ready.
type reading struct {
	n, y, v float64 // pull in the stretch, loss, squared measuring uncertainty
	loose   float64 // factor on the inking variance: above 1 for outliers
	day     int
	count   float64 // sheets averaged
}

// maxReadings bounds the work of a forecast; more are averaged in pairs.
const maxReadings = 48

// problem is a sentence for the reader: what is wrong and what to do.
type problem string

// Error implements error.
func (p problem) Error() string { return string(p) }

// check returns a sentence when the run cannot be computed with.
func (r *Run) check() error {
	if !(r.Limit > 0 && r.Limit < 1) {
		return problem(fmt.Sprintf("The limit of loss must lie between 0 and 100 per cent; it is %.0f per cent.", 100*r.Limit))
	}
	if !(r.Prior.Median > 0 && r.Prior.SDLog > 0) {
		return problem("No expectation was given for this plate: choose a technique first.")
	}
	for _, o := range r.Observations {
		if o.Pull < 1 {
			return problem("An impression without a recorded pull cannot tell how the plate wears: record its pull, or leave it out.")
		}
		if math.IsNaN(o.Loss.V) || !(o.Loss.U >= 0) {
			return problem(fmt.Sprintf("The loss of pull %d is not a number: measure the sheet again.", o.Pull))
		}
	}
	return nil
}

// last is the last pull made so far.
func (r *Run) last() int {
	n := r.LastPull
	for _, o := range r.Observations {
		n = max(n, o.Pull)
	}
	return n
}

// stretches cuts the run at its resets. Each later stretch starts from the
// trade's expectation; Forecast lets the earlier ones speak into it.
func (r *Run) stretches() []stretch {
	resets := append([]Reset(nil), r.Resets...)
	sort.SliceStable(resets, func(i, j int) bool { return resets[i].AfterPull < resets[j].AfterPull })
	out := []stretch{{prior: r.Prior}}
	for _, z := range resets {
		s := stretch{start: z.AfterPull, prior: out[len(out)-1].prior}
		if z.Kind == catalog.WorkSteelFace {
			s.prior.Median = r.Prior.Median * steelFactor
			s.prior.SDLog = math.Max(r.Prior.SDLog, 0.7)
		}
		if s.start == out[len(out)-1].start {
			out = out[:len(out)-1]
		}
		out = append(out, s)
	}
	for i := range out {
		end := math.MaxInt
		if i+1 < len(out) {
			end = out[i+1].start
		}
		out[i].obs = r.readings(out[i].start, end)
		if r.ReferencePull > out[i].start && r.ReferencePull <= end {
			out[i].ref = float64(r.ReferencePull - out[i].start)
		} else if len(out[i].obs) > 0 {
			// Another reference served here: the earliest sheet read is
			// the nearest to it.
			out[i].ref = min(1, out[i].obs[0].n)
		}
	}
	return out
}

// readings returns the observations with start < pull <= end, in order.
func (r *Run) readings(start, end int) []reading {
	var obs []Observation
	for _, o := range r.Observations {
		if o.Pull > start && o.Pull <= end {
			obs = append(obs, o)
		}
	}
	sort.SliceStable(obs, func(i, j int) bool { return obs[i].Pull < obs[j].Pull })
	days := map[string]int{}
	var rs []reading
	for i, o := range obs {
		day := -1 - i
		if o.Day != "" {
			d, ok := days[o.Day]
			if !ok {
				d = len(days)
				days[o.Day] = d
			}
			day = d
		}
		u := math.Max(o.Loss.U, 1e-4)
		rs = append(rs, reading{n: float64(o.Pull - start), y: o.Loss.V, v: u * u, day: day, count: 1})
	}
	for len(rs) > maxReadings {
		rs = halve(rs)
	}
	loosen(rs)
	return rs
}

// halve averages neighbours in pairs.
func halve(rs []reading) []reading {
	var out []reading
	for i := 0; i < len(rs); i += 2 {
		a := rs[i]
		if i+1 < len(rs) {
			b := rs[i+1]
			t := a.count + b.count
			a.n = (a.n*a.count + b.n*b.count) / t
			a.y = (a.y*a.count + b.y*b.count) / t
			a.v = (a.v*a.count*a.count + b.v*b.count*b.count) / (t * t)
			a.count = t
		}
		out = append(out, a)
	}
	return out
}

// loosen marks readings far from a rising curve through their neighbours, so
// that one starved or over-inked sheet does not bend the forecast.
func loosen(rs []reading) {
	for i := range rs {
		rs[i].loose = 1
	}
	if len(rs) < 5 {
		return
	}
	y := make([]float64, len(rs))
	w := make([]float64, len(rs))
	for i, r := range rs {
		y[i], w[i] = r.y, r.count
	}
	fit := Rising(y, w)
	dev := make([]float64, len(rs))
	for i := range rs {
		dev[i] = math.Abs(y[i] - fit[i])
	}
	sorted := append([]float64(nil), dev...)
	sort.Float64s(sorted)
	scale := 1.4826 * sorted[len(sorted)/2]
	for i := range rs {
		s := math.Max(scale, math.Max(0.01, math.Sqrt(rs[i].v)))
		if z := dev[i] / (3 * s); z > 1 {
			rs[i].loose = z * z * 9
		}
	}
}

// Rising returns the closest never-falling sequence to y in weighted least
// squares (pool adjacent violators; Ayer et al. 1955).
func Rising(y, w []float64) []float64 {
	type block struct {
		mean, weight float64
		n            int
	}
	var bs []block
	for i := range y {
		bs = append(bs, block{y[i], w[i], 1})
		for len(bs) > 1 && bs[len(bs)-2].mean > bs[len(bs)-1].mean {
			a, b := bs[len(bs)-2], bs[len(bs)-1]
			t := a.weight + b.weight
			bs = append(bs[:len(bs)-2], block{(a.mean*a.weight + b.mean*b.weight) / t, t, a.n + b.n})
		}
	}
	var out []float64
	for _, b := range bs {
		for range b.n {
			out = append(out, b.mean)
		}
	}
	return out
}
