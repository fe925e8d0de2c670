package life

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

// truthCurve is the wear of a simulated plate: none of the families of the
// model, on purpose.
type truthCurve struct {
	name string
	f    func(x float64) float64 // x = n/N, f(1) = 1
}

func truths(rng *rand.Rand) []truthCurve {
	k := 0.6 + 0.8*rng.Float64()
	bend := 0.3 + 0.4*rng.Float64()
	early := 0.2 + 0.5*rng.Float64()
	steps := make([]float64, 401)
	for i := 1; i < len(steps); i++ {
		// Gamma increments: wear comes in uneven steps.
		g := rng.ExpFloat64()
		steps[i] = steps[i-1] + g
	}
	return []truthCurve{
		{"root and square", func(x float64) float64 { return early*math.Sqrt(x) + (1-early)*x*x }},
		{"stretched exponential", func(x float64) float64 {
			return (1 - math.Exp(-1.2*math.Pow(x, k))) / (1 - math.Exp(-1.2))
		}},
		{"bent line", func(x float64) float64 {
			if x < bend {
				return 0.7 * x
			}
			return 0.7*bend + (x-bend)*(1-0.7*bend)/(1-bend)
		}},
		{"arctangent", func(x float64) float64 { return math.Atan(1.5*x) / math.Atan(1.5) }},
		{"gamma steps", func(x float64) float64 {
			i := min(200*x, 399)
			j := int(i)
			return (steps[j] + (i-float64(j))*(steps[j+1]-steps[j])) / steps[200]
		}},
	}
}

// simulate returns a run observed until share of its life, and the pulls
// truly left then.
func simulate(rng *rand.Rand, curves func(*rand.Rand) []truthCurve, prior Prior, off, share float64, watched int, limit float64) (Run, float64) {
	n := prior.Median * off * math.Exp(prior.SDLog*rng.NormFloat64())
	n = math.Max(8, n)
	ts := curves(rng)
	t := ts[rng.IntN(len(ts))]
	now := int(math.Round(share * n))
	sd := 0.006 + 0.012*rng.Float64()
	run := Run{Prior: prior, Limit: limit, ReferencePull: 1, LastPull: now}
	ref := limit * t.f(1/n)
	var mood float64
	day := -1
	for i := range watched {
		pull := 1 + int(math.Round(float64(i)*float64(now-1)/float64(watched-1)))
		if d := pull / 15; d != day {
			day, mood = d, 0.5*sd*rng.NormFloat64()
		}
		u := 0.004 + 0.004*rng.Float64()
		y := (limit*t.f(float64(pull)/n)-ref)/(1-ref) + mood + sd*rng.NormFloat64() + u*rng.NormFloat64()
		run.Observations = append(run.Observations, Observation{Pull: pull, Loss: catalog.Value{V: y, U: u}, Day: fmt.Sprint(day)})
	}
	// Against a reference that is itself worn the limit is met a little later.
	return run, n - float64(now)
}

// coverage counts how often the 80 % interval holds the truth.
func coverage(t *testing.T, curves func(*rand.Rand) []truthCurve, seed uint64, runs int, prior Prior, off, share float64, watched int) (held float64, width float64) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 7))
	for range runs {
		run, left := simulate(rng, curves, prior, off, share, watched, 0.25)
		f, err := Predict(context.Background(), run)
		if err != nil {
			t.Fatal(err)
		}
		if left >= f.Left10 && left <= f.Left90 {
			held++
		}
		width += (f.Left90 - f.Left10) / (left + float64(f.Pulled)) / float64(runs)
	}
	return held / float64(runs), width
}

// customary are the shapes the model itself knows, with parameters drawn
// elsewhere: exponential, power, two phases, late collapse.
func customary(rng *rand.Rand) []truthCurve {
	b := 0.6 + rng.Float64()
	share, tau := 0.15+0.4*rng.Float64(), 0.05+0.2*rng.Float64()
	k := 4 + 6*rng.Float64()
	two := func(x float64) float64 { return share*(1-math.Exp(-x/tau)) + (1-share)*x }
	late := func(x float64) float64 { return 1 / (1 + math.Exp(-k*(x-0.9))) }
	return []truthCurve{
		{"exponential", func(x float64) float64 { return (1 - math.Pow(0.75, x)) / 0.25 }},
		{"power", func(x float64) float64 { return math.Pow(x, b) }},
		{"two phases", func(x float64) float64 { return two(x) / two(1) }},
		{"late collapse", func(x float64) float64 { return (late(x) - late(0)) / (late(1) - late(0)) }},
	}
}

// The 80 % interval must hold the truth in 72 to 90 % of cases at 40 % and at
// 60 % of the run (MEASURES.md 2 and the issue ask for 30 runs), for truths
// from other families than the model's, for customary ones, and with the
// trade's expectation wrong by a factor of three either way among the cases.
func TestIntervalHoldsTheTruth(t *testing.T) {
	sets := []struct {
		name   string
		curves func(*rand.Rand) []truthCurve
	}{{"other families", truths}, {"customary families", customary}}
	techniques := []catalog.Technique{catalog.Drypoint, catalog.Etching, catalog.Engraving}
	for _, set := range sets {
		for _, c := range []struct {
			share   float64
			watched int
		}{{0.4, 8}, {0.6, 12}} {
			var held, all float64
			for i, tech := range techniques {
				for j, off := range []float64{1, 3, 1 / 3.0} {
					if off < 1 && tech == catalog.Drypoint {
						continue // a drypoint of seven pulls is no run
					}
					runs := 30
					if off != 1 {
						runs = 12
					}
					h, width := coverage(t, set.curves, uint64(1000*i+100*j)+uint64(100*c.share), runs, PriorFor([]catalog.Technique{tech}, false), off, c.share, c.watched)
					t.Logf("%s, %v, expectation off by %.2f, at %.0f %%: held %.2f, width %.2f of the life", set.name, tech, off, 100*c.share, h, width)
					held += h * float64(runs)
					all += float64(runs)
				}
			}
			t.Logf("%s at %.0f %%: held %.3f of %.0f", set.name, 100*c.share, held/all, all)
			if p := held / all; p < 0.72 || p > 0.90 {
				t.Errorf("%s at %.0f %% of the run: the interval held %.3f of %.0f truths; owed 0.72 to 0.90", set.name, 100*c.share, p, all)
			}
		}
	}
}

func TestForecastIsQuickAndRepeats(t *testing.T) {
	run, _ := simulate(rand.New(rand.NewPCG(3, 3)), truths, PriorFor([]catalog.Technique{catalog.Engraving}, false), 1, 0.6, 200, 0.25)
	began := time.Now()
	a, err := Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(began)
	b, _ := Predict(context.Background(), run)
	if a.Left10 != b.Left10 || a.Left50 != b.Left50 || a.Left90 != b.Left90 || a.Sentence != b.Sentence {
		t.Error("two forecasts of one run differ")
	}
	t.Logf("200 sheets: %v; %s", took, a.Sentence)
	// 0.2 s on a quiet machine; five times that allows for a busy one.
	if took > time.Second {
		t.Errorf("a forecast took %v", took)
	}
}

func TestTooEarlyToSay(t *testing.T) {
	run := Run{Prior: PriorFor([]catalog.Technique{catalog.Etching}, false), Limit: 0.25, ReferencePull: 2}
	f, err := Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	if f.Readings != 0 || !strings.HasPrefix(f.Sentence, "Too early to say") {
		t.Errorf("nothing measured, yet: %q", f.Sentence)
	}
	run.Observations = []Observation{{Pull: 3, Loss: catalog.Value{V: 0.002, U: 0.004}}, {Pull: 5, Loss: catalog.Value{V: 0.004, U: 0.004}}}
	f, err = Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	if !f.TooEarly || !strings.HasPrefix(f.Sentence, "Too early to say") {
		t.Errorf("two pulls, yet: %q (%.0f to %.0f)", f.Sentence, f.Left10, f.Left90)
	}
	if f.Left10 < 10 {
		t.Errorf("an etching that lost nothing in five pulls has only %.1f left at least", f.Left10)
	}
}

// TestBorrowed: few sheets of a steel-faced plate promise little by
// themselves; what is said of it names the trade's expectation, in two figures.
func TestBorrowed(t *testing.T) {
	run := Run{Prior: PriorFor([]catalog.Technique{catalog.Engraving}, true), Limit: 0.12, ReferencePull: 2}
	run.Observations = []Observation{{Pull: 8, Loss: catalog.Value{V: 0.002, U: 0.004}}, {Pull: 25, Loss: catalog.Value{V: 0.004, U: 0.004}}}
	f, err := Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	if !f.Borrowed() || !strings.Contains(f.Sentence, "trade's expectation (engraving") || !strings.Contains(f.Sentence, "steel-faced") {
		t.Errorf("25 pulls, %.0f more at least: %q", f.Left10, f.Sentence)
	}
	if p := f.Plan(Wish{}); !p.Borrowed || !strings.Contains(p.Sentence, "announce fewer") || p.Size%10 != 0 {
		t.Errorf("the plan: %+v", p)
	}
	if n := twoFigures(959.6); n != 950 {
		t.Errorf("959.6 is %d in two figures", n)
	}
	run.Prior = PriorFor([]catalog.Technique{catalog.Drypoint}, false)
	if f, err = Predict(context.Background(), run); err != nil || f.Borrowed() {
		t.Errorf("25 pulls of a drypoint, %.0f more at least, %v: %q", f.Left10, err, f.Sentence)
	}
}

// steady is a run that loses rate of its ink with every pull.
func steady(n int, rate float64, after int) []Observation {
	var obs []Observation
	for i := 1; i <= n; i += max(1, n/12) {
		obs = append(obs, Observation{Pull: after + i, Loss: catalog.Value{V: rate * float64(i-1), U: 0.004}})
	}
	return obs
}

func TestSteadyWearIsReadOff(t *testing.T) {
	// 0.25 per cent a pull: the limit of 25 per cent is met at pull 101.
	f, err := Predict(context.Background(), Run{Prior: PriorFor([]catalog.Technique{catalog.Etching}, false), Limit: 0.25, ReferencePull: 1, Observations: steady(80, 0.0025, 0)})
	if err != nil {
		t.Fatal(err)
	}
	left := 101 - float64(f.Pulled)
	if f.Left10 > left || f.Left90 < left || f.TooEarly {
		t.Errorf("left %.0f, said %.0f to %.0f: %s", left, f.Left10, f.Left90, f.Sentence)
	}
	if c := f.Chance(1); c < 0.98 {
		t.Errorf("one more pull has only a chance of %.2f", c)
	}
	if c := f.Chance(200); c > 0.02 {
		t.Errorf("two hundred more have a chance of %.2f", c)
	}
	last := 0.0
	for n := 0; n < 100; n++ {
		if c := f.Chance(n); n > 0 && c > last {
			t.Fatalf("the chance rises from %d to %d pulls", n-1, n)
		} else {
			last = c
		}
	}
	for i, b := range f.Curve {
		if b.Lo > b.Mid || b.Mid > b.Hi || (i > 0 && b.Mid < f.Curve[i-1].Mid-1e-9) {
			t.Fatalf("the wear curve does not rise at pull %.0f", b.Pull)
		}
	}
}

func TestPastTheLimit(t *testing.T) {
	f, err := Predict(context.Background(), Run{Prior: PriorFor([]catalog.Technique{catalog.Drypoint}, false), Limit: 0.25, ReferencePull: 1, Observations: steady(50, 0.01, 0)})
	if err != nil {
		t.Fatal(err)
	}
	if !f.Past || f.Plan(Wish{}).Size != 0 {
		t.Errorf("loss of 49 per cent against a limit of 25: %s", f.Sentence)
	}
}

func TestResetsStartAnew(t *testing.T) {
	prior := PriorFor([]catalog.Technique{catalog.Drypoint}, false)
	worn := steady(24, 0.01, 0)
	bare := Run{Prior: prior, Limit: 0.25, ReferencePull: 1, Observations: worn}
	before, err := Predict(context.Background(), bare)
	if err != nil {
		t.Fatal(err)
	}
	recut := bare
	recut.Resets = []Reset{{AfterPull: 24, Kind: catalog.WorkRecut}}
	again, err := Predict(context.Background(), recut)
	if err != nil {
		t.Fatal(err)
	}
	if again.Left50 < 4*before.Left50 {
		t.Errorf("re-cut at pull 24: %.0f left, %.0f without", again.Left50, before.Left50)
	}
	steel := bare
	steel.Resets = []Reset{{AfterPull: 24, Kind: catalog.WorkSteelFace}}
	faced, err := Predict(context.Background(), steel)
	if err != nil {
		t.Fatal(err)
	}
	if faced.Left50 < 4*again.Left50 {
		t.Errorf("steel-faced at pull 24: %.0f left, re-cut %.0f", faced.Left50, again.Left50)
	}
	// The plate's own history speaks: one that outlasted its expectation
	// raises what is expected after re-cutting.
	strong := Run{Prior: prior, Limit: 0.25, ReferencePull: 1, Observations: steady(80, 0.0025, 0), Resets: []Reset{{AfterPull: 80, Kind: catalog.WorkRecut}}}
	proud, err := Predict(context.Background(), strong)
	if err != nil {
		t.Fatal(err)
	}
	if proud.Left50 < 1.5*again.Left50 {
		t.Errorf("after a long first life %.0f left, after a customary one %.0f", proud.Left50, again.Left50)
	}
}

// The trade's expectation must agree with the published table of yields
// (shared checks, plate_yield.csv, sources in it) and with common practice.
func TestExpectationAgainstPublishedYields(t *testing.T) {
	for _, c := range []struct {
		tech   catalog.Technique
		lo, hi float64
		source string
	}{
		{catalog.Drypoint, 20, 30, "treatise on etching, Boston 1880, sec. 98-99"},
		{catalog.Drypoint, 10, 30, "common practice"},
		{catalog.Etching, 75, 100, "common practice"},
		{catalog.Engraving, 200, 300, "common practice"},
		{catalog.SoftGround, 200, 300, "treatise on etching, Boston 1880, sec. 98-99"},
		{catalog.Aquatint, 0, 200, "Anleitung zur Kupferstichkunde, 1821"},
		{catalog.Mezzotint, 100, 150, "history of steel-engraved illustration"},
	} {
		p := PriorFor([]catalog.Technique{c.tech}, false)
		if p.Median < c.lo || p.Median > c.hi {
			t.Errorf("%s: expected %.0f, %s says %.0f to %.0f", c.tech, p.Median, c.source, c.lo, c.hi)
		}
	}
	// Steel-faced etchings: a thousand of equal purity and up to 4000 (same
	// treatise); the 80 per cent expectation must reach from one to the other.
	p := PriorFor([]catalog.Technique{catalog.Etching}, true)
	if hi := p.Median * math.Exp(1.64*p.SDLog); p.Median < 500 || p.Median > 1500 || hi < 2000 {
		t.Errorf("steel-faced etching: %.0f, upper end %.0f", p.Median, hi)
	}
}

func TestBadRunsAreRefusedInWords(t *testing.T) {
	prior := PriorFor(nil, false)
	for _, r := range []Run{
		{Prior: prior},
		{Prior: prior, Limit: 1.2},
		{Limit: 0.2},
		{Prior: prior, Limit: 0.2, Observations: []Observation{{Pull: 0, Loss: catalog.Value{V: 0.1, U: 0.01}}}},
		{Prior: prior, Limit: 0.2, Observations: []Observation{{Pull: 4, Loss: catalog.Value{V: math.NaN()}}}},
	} {
		if _, err := Predict(context.Background(), r); err == nil || !strings.HasSuffix(err.Error(), ".") {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

func TestOneStarvedSheetDoesNotBendTheForecast(t *testing.T) {
	run := Run{Prior: PriorFor([]catalog.Technique{catalog.Etching}, false), Limit: 0.25, ReferencePull: 1, Observations: steady(60, 0.0025, 0)}
	a, err := Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	run.Observations = append(append([]Observation(nil), run.Observations...), Observation{Pull: 33, Loss: catalog.Value{V: 0.30, U: 0.004}})
	b, err := Predict(context.Background(), run)
	if err != nil {
		t.Fatal(err)
	}
	if r := b.Left50 / a.Left50; r < 0.75 || r > 1.3 {
		t.Errorf("with one starved sheet %.0f left, without %.0f", b.Left50, a.Left50)
	}
}

// Pool adjacent violators by hand: 3 and 2 pool to 5/2; 4, 3.5 and twice 3 to
// 13.5/4.
func TestRising(t *testing.T) {
	got := Rising([]float64{1, 3, 2, 4, 3.5, 3}, []float64{1, 1, 1, 1, 1, 2})
	want := []float64{1, 2.5, 2.5, 3.375, 3.375, 3.375}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
}
