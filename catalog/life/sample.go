package life

import (
	"math"
	"math/rand/v2"
	"sort"
)

const (
	particles = 2400
	// dayShare is the spread of a day's common inking over that of single
	// pulls.
	dayShare = 0.7
	// typicalSD and spreadSD are the expected inking scatter of loss
	// from pull to pull and the scale of its logarithm.
	typicalSD = 0.012
	spreadSD  = 0.7
)

// posterior is a sample of equally likely candidates for the truth.
type posterior struct {
	ps         []particle
	limit, ref float64
}

// sampler draws a posterior by importance sampling in steps: particles drawn
// from the prior are weighted by a growing share of the likelihood,
// re-drawn, and moved, until the whole of it counts (Del Moral, Doucet and
// Jasra 2006; the moves are those of ter Braak 2006).
type sampler struct {
	s     *stretch
	limit float64
	rng   *rand.Rand
	ps    []particle
	ll    []float64
}

// sample returns the posterior of a stretch.
func (s *stretch) sample(limit float64) posterior {
	sm := sampler{s: s, limit: limit, rng: rand.New(rand.NewPCG(1580, 1931))}
	sm.start()
	for t := 0.0; t < 1 && len(s.obs) > 0; {
		next := sm.nextShare(t)
		sm.redraw(next - t)
		for range 3 {
			sm.move(next)
		}
		t = next
	}
	return posterior{sm.ps, limit, s.ref}
}

// start draws every particle from the prior, the families in equal shares.
func (sm *sampler) start() {
	sm.ps = make([]particle, particles)
	sm.ll = make([]float64, particles)
	p := sm.s.prior
	for i := range sm.ps {
		// Student's t with three degrees of freedom.
		var chi float64
		for range 3 {
			g := sm.rng.NormFloat64()
			chi += g * g
		}
		t := sm.rng.NormFloat64() / math.Sqrt(chi/3)
		sm.ps[i] = particle{
			kind:  family(i % int(familyKind)),
			logN:  math.Log(p.Median) + p.SDLog*max(-8, min(8, t)),
			z:     [3]float64{sm.rng.NormFloat64(), sm.rng.NormFloat64(), sm.rng.NormFloat64()},
			logSD: math.Log(typicalSD) + spreadSD*sm.rng.NormFloat64(),
		}
		sm.ll[i] = sm.logLikelihood(&sm.ps[i])
	}
}

// logPrior is the unnormalised log prior density.
func (sm *sampler) logPrior(p *particle) float64 {
	e := (p.logSD - math.Log(typicalSD)) / spreadSD
	return sm.s.prior.logDensity(p.logN) - 0.5*(p.z[0]*p.z[0]+p.z[1]*p.z[1]+p.z[2]*p.z[2]+e*e)
}

// logLikelihood is that of all readings, those of one day sharing a common
// shift (a normal random effect, integrated out).
func (sm *sampler) logLikelihood(p *particle) float64 {
	c := p.curve(sm.limit, sm.s.ref)
	sd2 := math.Exp(2 * p.logSD)
	tau2 := dayShare * dayShare * sd2
	var ll, sw, swr float64
	obs := sm.s.obs
	for i := range obs {
		o := &obs[i]
		v := o.v + sd2*o.loose/o.count
		r := o.y - c.loss(o.n)
		ll -= 0.5 * (r*r/v + math.Log(v))
		sw += 1 / v
		swr += r / v
		if i+1 == len(obs) || obs[i+1].day != o.day {
			k := 1 + tau2*sw
			ll += 0.5 * (tau2*swr*swr/k - math.Log(k))
			sw, swr = 0, 0
		}
	}
	return ll
}

// nextShare finds the next share of the likelihood so that half of the
// particles still count.
func (sm *sampler) nextShare(t float64) float64 {
	if sm.effective(1-t) >= particles/2 {
		return 1
	}
	lo, hi := 0.0, 1-t
	for range 30 {
		mid := (lo + hi) / 2
		if sm.effective(mid) < particles/2 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return t + hi
}

// effective is the effective number of particles weighted by step d.
func (sm *sampler) effective(d float64) float64 {
	top := math.Inf(-1)
	for _, l := range sm.ll {
		top = max(top, l)
	}
	var s, s2 float64
	for _, l := range sm.ll {
		w := math.Exp(d * (l - top))
		s += w
		s2 += w * w
	}
	return s * s / s2
}

// redraw resamples systematically with weights of step d.
func (sm *sampler) redraw(d float64) {
	top := math.Inf(-1)
	for _, l := range sm.ll {
		top = max(top, l)
	}
	cum := make([]float64, particles)
	var s float64
	for i, l := range sm.ll {
		s += math.Exp(d * (l - top))
		cum[i] = s
	}
	ps := make([]particle, particles)
	ll := make([]float64, particles)
	u := sm.rng.Float64()
	for i, j := 0, 0; i < particles; i++ {
		x := (float64(i) + u) / particles * s
		for j < particles-1 && cum[j] < x {
			j++
		}
		ps[i], ll[i] = sm.ps[j], sm.ll[j]
	}
	sm.ps, sm.ll = ps, ll
}

// move shifts each particle along the difference of two others of its family
// and keeps the shift by the rule of Metropolis at share t.
func (sm *sampler) move(t float64) {
	var members [familyKind][]int
	for i := range sm.ps {
		members[sm.ps[i].kind] = append(members[sm.ps[i].kind], i)
	}
	old := append([]particle(nil), sm.ps...)
	for i := range sm.ps {
		p := sm.ps[i]
		m := members[p.kind]
		a, b := old[m[sm.rng.IntN(len(m))]], old[m[sm.rng.IntN(len(m))]]
		g := 0.2 + 0.8*sm.rng.Float64()
		p.logN += g*(a.logN-b.logN) + 0.005*sm.rng.NormFloat64()
		p.logSD += g*(a.logSD-b.logSD) + 0.02*sm.rng.NormFloat64()
		for k := range p.z {
			p.z[k] += g*(a.z[k]-b.z[k]) + 0.02*sm.rng.NormFloat64()
		}
		ll := sm.logLikelihood(&p)
		gain := t*(ll-sm.ll[i]) + sm.logPrior(&p) - sm.logPrior(&sm.ps[i])
		if math.Log(sm.rng.Float64()) < gain {
			sm.ps[i], sm.ll[i] = p, ll
		}
	}
}

// lives returns the sampled pulls to the limit, in rising order.
func (p *posterior) lives() []float64 {
	ns := make([]float64, len(p.ps))
	for i := range p.ps {
		ns[i] = math.Exp(p.ps[i].logN)
	}
	sort.Float64s(ns)
	return ns
}

// quantile of a rising sample.
func quantile(sorted []float64, q float64) float64 {
	x := q * float64(len(sorted)-1)
	i := int(x)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (x-float64(i))*(sorted[i+1]-sorted[i])
}
