package life

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"

	"pullbook/catalog/say"
)

// Forecast is what can be said of the pulls a plate has left.
type Forecast struct {
	Limit    float64 // the limit of loss it was asked for
	Pulled   int     // pulls made so far, from the plate's first
	Readings int     // impressions of the present stretch that were measured
	// Left10, Left50 and Left90 are the 10, 50 and 90 per cent points of the
	// pulls left until the loss passes the limit. The first and the last
	// bound the 80 per cent interval.
	Left10, Left50, Left90 float64
	// TooEarly: the interval spans more than a factor of four, so only
	// "at least Left10" should be shown.
	TooEarly bool
	// Past: the limit is more likely passed than not.
	Past bool
	// Curve is the wear curve of the present stretch for plotting.
	Curve []Band
	// Said says it in plain words, Sentence the same in English.
	Said     say.Sentence
	Sentence string

	prior Prior
	left  []float64 // rising sample of pulls left
}

// Band is the wear curve at one pull: the 10, 50 and 90 per cent points of
// the plate's loss, scatter of inking not included.
type Band struct {
	Pull        float64 // from the plate's first
	Lo, Mid, Hi float64
}

// tooWide is the ratio of the ends of the 80 per cent interval above which
// nothing better than a lower bound is said.
const tooWide = 4

// shapeDoubt is the spread of the logarithm of the pulls left that no family
// of curves accounts for: plates do not know our formulas. Calibrated on
// simulated runs whose truth comes from other curves.
const shapeDoubt = 0.38

// Predict returns the forecast for a run. It is deterministic. Errors are
// sentences for the reader.
func Predict(ctx context.Context, r Run) (*Forecast, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	ss := r.stretches()
	var post posterior
	for i := range ss {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if i < len(ss)-1 && len(ss[i].obs) == 0 {
			continue
		}
		post = ss[i].sample(r.Limit)
		if i+1 < len(ss) {
			ss[i+1].prior = ss[i+1].prior.informed(ss[i].prior, &post)
		}
	}
	s := &ss[len(ss)-1]
	f := &Forecast{Limit: r.Limit, Pulled: r.last(), Readings: len(s.obs), prior: s.prior}
	f.setLeft(&post, float64(f.Pulled-s.start))
	f.Curve = post.bands(s.start, f.Pulled-s.start, f.Left90)
	f.Said = f.words()
	f.Sentence = f.Said.String()
	return f, nil
}

// informed pulls the expectation p of a stretch towards what an earlier
// stretch of the same plate showed: a plate that outlasted its prior twice is
// likely to do so again, and the more so the surer the earlier stretch was.
func (p Prior) informed(was Prior, post *posterior) Prior {
	ns := post.lives()
	shift := math.Log(quantile(ns, 0.5) / was.Median)
	sd := math.Log(quantile(ns, 0.9)/quantile(ns, 0.1)) / 2.563
	// Stretches of one plate differ by about 0.35 in log life (a judgement).
	own := math.Hypot(sd, 0.35)
	k := p.SDLog * p.SDLog / (p.SDLog*p.SDLog + own*own)
	p.Median *= math.Exp(k * shift)
	p.SDLog *= math.Sqrt(1 - k)
	p.SDLog = math.Max(p.SDLog, 0.3)
	p.Source += ", and what the plate showed before"
	return p
}

// setLeft fills the sample of pulls left after n pulls of the stretch.
func (f *Forecast) setLeft(post *posterior, n float64) {
	rng := rand.New(rand.NewPCG(1641, 1669))
	f.left = make([]float64, len(post.ps))
	past := 0
	for i := range post.ps {
		d := math.Exp(post.ps[i].logN) - n
		if d <= 0 {
			past++
			d = 0
		}
		f.left[i] = d * math.Exp(shapeDoubt*rng.NormFloat64())
	}
	sort.Float64s(f.left)
	f.Left10, f.Left50, f.Left90 = quantile(f.left, 0.1), quantile(f.left, 0.5), quantile(f.left, 0.9)
	f.Past = past*2 > len(post.ps)
	f.TooEarly = !f.Past && f.Left90 > tooWide*math.Max(f.Left10, 1)
}

// Least is the lower bound of the pulls left, nine chances in ten, in no more
// figures than it is known to.
func (f *Forecast) Least() int { return twoFigures(f.Left10) }

// Borrowed reports whether what can be promised rests on what the trade
// expects rather than on the plate's own sheets: more than twice as many pulls
// as it has given.
func (f *Forecast) Borrowed() bool {
	return f.TooEarly && f.Readings > 0 && f.Left10 > 2*float64(f.Pulled)
}

// twoFigures rounds down to two significant figures.
func twoFigures(v float64) int {
	step := 1.0
	for v/step >= 100 {
		step *= 10
	}
	return int(math.Floor(v/step) * step)
}

// Chance is the probability, 0..1, that n more pulls can be made before the
// plate's loss passes the limit.
func (f *Forecast) Chance(n int) float64 {
	i := sort.SearchFloat64s(f.left, float64(n))
	return float64(len(f.left)-i) / float64(len(f.left))
}

// bands evaluates the wear curve from the start of the stretch to a little
// beyond its likely end.
func (p *posterior) bands(start, now int, left90 float64) []Band {
	const points = 40
	end := math.Max(float64(now)*1.2, math.Min(float64(now)+left90, 4*float64(now)+60))
	step := math.Max(1, end/points)
	curves := make([]curve, 0, len(p.ps)/4)
	for i := 0; i < len(p.ps); i += 4 {
		curves = append(curves, p.ps[i].curve(p.limit, p.ref))
	}
	var out []Band
	ys := make([]float64, len(curves))
	for n := 1.0; n <= end+step/2; n += step {
		for i := range curves {
			ys[i] = curves[i].loss(n)
		}
		sort.Float64s(ys)
		out = append(out, Band{float64(start) + n, quantile(ys, 0.1), quantile(ys, 0.5), quantile(ys, 0.9)})
	}
	return out
}

// words is the forecast in one or two plain sentences.
func (f *Forecast) words() say.Sentence {
	limit := say.Of("an ink loss of %.0f per cent", 100*f.Limit)
	made := say.Count(f.Pulled, "%d pull", "%d pulls")
	between := say.Of("between %.0f and %.0f", math.Floor(f.Left10), math.Ceil(f.Left90))
	switch {
	case f.Past && f.Left90 < 1:
		return say.Of("After %s the plate is past the limit of %s.", made, limit)
	case f.Past:
		return say.Of("After %s the plate has probably passed the limit of %s; look at the last sheets before pulling more.", made, limit)
	case f.Readings == 0:
		return say.Of("Too early to say: nothing has been measured yet. The trade's expectation (%s) would leave %s.", f.prior.said(), between)
	case f.Borrowed():
		return say.Of("Too early to say from its sheets how many are left before %s: the trade's expectation (%s) is at least %d more, nine chances in ten.", limit, f.prior.said(), f.Least())
	case f.TooEarly:
		if least := f.Least(); least >= 1 {
			return say.Of("Too early to say how many are left before %s: at least %d more, nine chances in ten.", limit, least)
		}
		return say.Of("Too early to say how many are left before %s.", limit)
	}
	return say.Of("About %.0f more before %s; %s, four chances in five.", math.Floor(f.Left50), limit, between)
}
