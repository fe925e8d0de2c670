package imaging

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"runtime"
	"testing"
)

// relativeError is the root mean square over the truth's grid of where the
// sheet puts plate points, in mm, the reference's own frame divided out.
func relativeError(ref *mapping, refTruth truthPhoto, mov *mapping, ph truthPhoto) (rel, abs float64) {
	var n float64
	for i, g := range refTruth.Grid {
		q := ref.plateOf(Point{g[2], g[3]})
		at := mov.at(q)
		t := Point{ph.Grid[i][2], ph.Grid[i][3]}
		rel += math.Pow(at.dist(t)/ph.PxPerMM, 2)
		at = mov.at(Point{g[0], g[1]})
		abs += math.Pow(at.dist(t)/ph.PxPerMM, 2)
		n++
	}
	return math.Sqrt(rel / n), math.Sqrt(abs / n)
}

// figures gathers the errors of one plate's photographs.
type figures struct {
	ink, tone, burr, place []float64
	within, judged         int // truths within 2u of ink loss and tone
}

func (f *figures) judge(err, u float64) {
	f.judged++
	if math.Abs(err) <= 2*u {
		f.within++
	}
}

func meanAbs(v []float64) (mean, worst float64) {
	for _, x := range v {
		mean += math.Abs(x) / float64(len(v))
		worst = max(worst, math.Abs(x))
	}
	return mean, worst
}

// TestOwed measures every pull of the first state and one of each later state
// of the simulated plates, and holds the errors to what MEASURES.md owes for
// even and rough photographs. Truth: ../shared/photos.
func TestOwed(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	for plate, owed := range map[string]struct{ ink, worst, tone, place, burr float64 }{
		"quay":  {0.008, 0.025, 0.003, 0.04, 0.06},
		"grove": {0.015, 0.045, 0.005, 0.07, 0.10},
	} {
		truth := loadTruth(t, plate)
		ref := prepareTruth(t, truth)
		first := truth.Photos[0]
		var f figures
		later := map[int]bool{}
		for _, ph := range truth.Photos[1:] {
			if ph.State > 1 && later[ph.State] {
				continue
			}
			later[ph.State] = ph.State > 1
			s, res, err := ref.Register(context.Background(), openShared(t, ph.File), MeasureOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if res.Verdict != Measured {
				t.Errorf("%s: %s", ph.File, res.Reason)
				continue
			}
			rel, abs := relativeError(ref.Sheet.m, first, s.m, ph)
			f.place = append(f.place, rel)
			sc := res.Scores
			f.tone = append(f.tone, sc.PlateTone.V-ph.Tone)
			f.judge(sc.PlateTone.V-ph.Tone, sc.PlateTone.U)
			line := fmt.Sprintf("%-28s registered to %.3f mm (%.3f in the plate's own frame), u %.3f; tone %+.4f u %.4f", ph.File, rel, abs, res.Registration.ResidualMM, sc.PlateTone.V-ph.Tone, sc.PlateTone.U)
			if ph.InkLoss != nil {
				e := sc.InkLoss.V - *ph.InkLoss
				f.ink = append(f.ink, e)
				f.judge(e, sc.InkLoss.U)
				line += fmt.Sprintf("; ink loss %+.4f u %.4f", e, sc.InkLoss.U)
				if sc.BurrLoss == nil {
					t.Errorf("%s: no burr loss: %s", ph.File, sc.Why["burr_loss"])
				} else {
					f.burr = append(f.burr, sc.BurrLoss.V-*ph.BurrLoss)
					line += fmt.Sprintf("; burr loss %+.3f u %.3f", sc.BurrLoss.V-*ph.BurrLoss, sc.BurrLoss.U)
				}
			}
			t.Log(line)
		}
		check := func(what string, got, most float64) {
			t.Logf("%s: %s %.4f, owed %.4f", plate, what, got, most)
			if !(got <= most) {
				t.Errorf("%s: %s %.4f, owed %.4f", plate, what, got, most)
			}
		}
		ink, worst := meanAbs(f.ink)
		check("ink loss, mean error", ink, owed.ink)
		check("ink loss, worst", worst, owed.worst)
		tone, _ := meanAbs(f.tone)
		check("plate tone, mean error", tone, owed.tone)
		burr, _ := meanAbs(f.burr)
		check("burr loss, mean error", burr, owed.burr)
		var ss float64
		for _, v := range f.place {
			ss += v * v / float64(len(f.place))
		}
		check("registration, rms", math.Sqrt(ss), owed.place)
		if share := float64(f.within) / float64(f.judged); share < 0.9 {
			t.Errorf("%s: truth lies within 2u in %.2f of cases, 0.90 owed", plate, share)
		}
	}
}

// TestDeterminism: one processor or two, the numbers are the same to the last
// bit.
func TestDeterminism(t *testing.T) {
	truth := loadTruth(t, "grove")
	run := func(procs int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		ref := prepareTruth(t, truth)
		res, err := ref.Measure(context.Background(), openShared(t, "grove-pull-030.jpg"), MeasureOptions{Grid: true})
		if err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(struct {
			S Scores
			R Registration
			Q Quality
		}{res.Scores, res.Registration, res.Quality})
		if err != nil {
			t.Fatal(err)
		}
		return string(b) + fmt.Sprint(res.InkLossMap.V, res.ToneMap.V)
	}
	if a, b := run(1), run(2); a != b {
		t.Errorf("one processor: %s\ntwo: %s", a, b)
	}
}

// TestCancelled: work stops when it is told to.
func TestCancelled(t *testing.T) {
	truth := loadTruth(t, "quay")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p := openShared(t, truth.Photos[0].File)
	if _, err := FindPlate(ctx, p, truth.size()); !errors.Is(err, context.Canceled) {
		t.Errorf("FindPlate: %v", err)
	}
}

// TestRegions scores two halves of the plate apart; together they make up the
// whole.
func TestRegions(t *testing.T) {
	p := plainPlate()
	photo, _ := p.paint()
	ref, err := Prepare(context.Background(), photo, PlateMark{Corners: (&mapping{h: p.toPx}).corners(p.size), How: "by hand", Sure: 1}, p.size)
	if err != nil {
		t.Fatal(err)
	}
	q := plainPlate()
	for i := range q.strokes { // strokes whose middle lies left of 30 mm are thinned
		if (q.strokes[i][0]+q.strokes[i][2])/2 < 30 {
			q.strokes[i][4] *= 0.7
		}
	}
	worn, _ := q.paint()
	left := Region{"left", []Point{{0, 0}, {30, 0}, {30, 45}, {0, 45}}}
	right := Region{"right", []Point{{30, 0}, {60, 0}, {60, 45}, {30, 45}}}
	res, err := ref.Measure(context.Background(), worn, MeasureOptions{Regions: []Region{left, right, {"off the plate", []Point{{70, 0}, {80, 0}, {80, 9}}}}})
	if err != nil || res.Verdict != Measured {
		t.Fatalf("%v %+v", err, res)
	}
	l, r, off := res.Regions[0], res.Regions[1], res.Regions[2]
	if l.InkLoss == nil || r.InkLoss == nil || l.InkLoss.V < 0.2 || r.InkLoss.V > 0.1 {
		t.Errorf("left %+v, right %+v: the left half lost three tenths of its strokes", l, r)
	}
	if l.PlateTone == nil || math.Abs(l.PlateTone.V-q.tone) > 0.003 {
		t.Errorf("tone of the left half %+v, painted %.2f", l.PlateTone, q.tone)
	}
	if off.InkLoss != nil || off.PlateTone != nil || off.Why == "" {
		t.Errorf("a region off the plate scored %+v", off)
	}
}
