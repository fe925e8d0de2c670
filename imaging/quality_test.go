package imaging

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// TestStarsFADGI holds the levels of the quality report to the table "Prints
// and Photographs" of the Federal Agencies Digital Guidelines Initiative,
// Technical Guidelines for Digitizing Cultural Heritage Materials, September
// 2016 (testdata/fadgi2016_prints.csv).
func TestStarsFADGI(t *testing.T) {
	f, err := os.Open("testdata/fadgi2016_prints.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	limits := map[string][4]float64{}
	for _, r := range rows[1:] {
		var l [4]float64
		ok := true
		for i := range l {
			l[i], err = strconv.ParseFloat(r[2+i], 64)
			ok = ok && err == nil
		}
		if ok {
			limits[r[0]] = l
		}
	}
	level := func(what string, q Quality, bits int) int {
		for _, f := range findings(q, &Photo{Bits: bits}) {
			if f.What == what {
				return f.Stars
			}
		}
		t.Fatalf("no line for %s", what)
		return 0
	}
	for i, l := range limits["resolution at object size"] {
		if got := level("resolution", Quality{PxPerMM: (l + 0.01) / 25.4}, 8); got != i+1 {
			t.Errorf("%v ppi: %d stars, want %d", l, got, i+1)
		}
		if got := level("resolution", Quality{PxPerMM: (l - 1) / 25.4}, 8); got != i {
			t.Errorf("%v ppi: %d stars, want %d", l-1, got, i)
		}
	}
	for i, l := range limits["illuminance non-uniformity"] {
		if got := level("evenness of light", Quality{LightFalloff: l/100 - 0.001}, 8); got != i+1 {
			t.Errorf("%v %%: %d stars, want %d", l-0.1, got, i+1)
		}
	}
	for i, l := range limits["noise st.dev. upper"] {
		if got := level("noise", Quality{Noise: l - 0.01}, 8); got != i+1 {
			t.Errorf("noise %v: %d stars, want %d", l-0.01, got, i+1)
		}
		if got := level("noise", Quality{Noise: l + 0.01}, 8); got != i {
			t.Errorf("noise %v: %d stars, want %d", l+0.01, got, i)
		}
	}
	if a, b := level("bit depth", Quality{}, 8), level("bit depth", Quality{}, 16); a != 3 || b != 4 {
		t.Errorf("8 and 16 bit: %d and %d stars", a, b)
	}
	if len(limits["resolution at object size"]) != 4 || limits["noise st.dev. upper"][0] == 0 || limits["illuminance non-uniformity"][0] == 0 {
		t.Error("the table lacks a row")
	}
}

// TestQuality sees that blur, noise, fall-off of light and scale are measured
// as painted, and that a soft photograph draws advice.
func TestQuality(t *testing.T) {
	p := plainPlate()
	photo, _ := p.paint()
	mark := PlateMark{Corners: (&mapping{h: p.toPx}).corners(p.size), How: "by hand", Sure: 1}
	ref, err := Prepare(context.Background(), photo, mark, p.size)
	if err != nil {
		t.Fatal(err)
	}
	q := ref.Quality()
	if math.Abs(q.PxPerMM-9) > 0.2 {
		t.Errorf("%.2f px/mm, painted 9", q.PxPerMM)
	}
	// The sRGB curve rises by 0.52 at 0.75: noise of 0.003 is 0.40 counts.
	if math.Abs(q.Noise-0.40) > 0.06 {
		t.Errorf("noise %.2f counts, painted 0.40", q.Noise)
	}
	if q.LightFalloff > 0.01 || q.Clipped != 0 {
		t.Errorf("even light: fall-off %.3f, clipped %.3f", q.LightFalloff, q.Clipped)
	}
	soft := plainPlate()
	soft.blur = 2.4
	soft.light = func(x, _ float64) float64 { return 0.8 - 0.0004*x }
	worse, _ := soft.paint()
	res, err := ref.Measure(context.Background(), worse, MeasureOptions{})
	if err != nil || res.Verdict != Measured {
		t.Fatalf("%v %+v", err, res)
	}
	added := math.Sqrt(res.Quality.BlurMM*res.Quality.BlurMM - q.BlurMM*q.BlurMM)
	if want := math.Sqrt(2.4*2.4-0.8*0.8) / 9; math.Abs(added-want) > 0.15*want {
		t.Errorf("blur grew by %.3f mm, painted %.3f", added, want)
	}
	if want := 0.0004 * 541 / (0.8 - 0.0004*400); math.Abs(res.Quality.LightFalloff-want) > 0.1*want {
		t.Errorf("fall-off %.3f, painted %.3f", res.Quality.LightFalloff, want)
	}
	for _, f := range res.Quality.Findings {
		if f.What == "focus" && (f.Stars > 1 || f.Advice == "") {
			t.Errorf("a soft photograph: %+v", f)
		}
	}
	soft.blur = 5
	blurred, _ := soft.paint()
	res, err = ref.Measure(context.Background(), blurred, MeasureOptions{})
	if err != nil || res.Verdict != Refused || res.Scores.InkLoss != nil {
		t.Errorf("a photograph blurred over half a millimetre: %v %+v", err, res)
	}
}

// TestNoiseOfFlattenedPaper: where JPEG has made most neighbours alike, the
// noise is still that of the pixels: one in eight is a count brighter here,
// whose standard deviation is sqrt(1/8 x 7/8).
func TestNoiseOfFlattenedPaper(t *testing.T) {
	p := plainPlate()
	photo, _ := p.paint()
	mark := PlateMark{Corners: (&mapping{h: p.toPx}).corners(p.size), How: "by hand", Sure: 1}
	ref, err := Prepare(context.Background(), photo, mark, p.size)
	if err != nil {
		t.Fatal(err)
	}
	for i := range photo.lum.v {
		count := 230.0
		if i%8 == i/photo.Width%8 {
			count++
		}
		photo.lum.v[i] = float32(math.Pow((count/255+0.055)/1.055, 2.4))
	}
	if n, want := paperNoise(photo, ref.Sheet), math.Sqrt(1.0/8*7/8); math.Abs(n-want) > 0.05 {
		t.Errorf("noise %.3f counts, painted %.3f", n, want)
	}
}

// TestFlattened: a blank sheet under the same uneven light takes it out.
func TestFlattened(t *testing.T) {
	p := plainPlate()
	p.light = func(x, y float64) float64 {
		return 0.75 - 0.0003*x + 0.0002*y + 0.1*math.Exp(-math.Hypot(x-300, y-300)/90)
	}
	photo, _ := p.paint()
	blank := p
	blank.strokes, blank.tone, blank.emboss, blank.margin = nil, 0, 0, 500
	white, _ := blank.paint()
	flat, err := photo.Flattened(white)
	if err != nil {
		t.Fatal(err)
	}
	mark := PlateMark{Corners: (&mapping{h: p.toPx}).corners(p.size), How: "by hand", Sure: 1}
	plain, _ := func() (*Photo, float64) { q := plainPlate(); return q.paint() }()
	ref, err := Prepare(context.Background(), plain, mark, p.size)
	if err != nil {
		t.Fatal(err)
	}
	res, err := ref.Measure(context.Background(), photo, MeasureOptions{Blank: white})
	if err != nil || res.Verdict != Measured {
		t.Fatalf("%v %+v", err, res)
	}
	// A lamp's spot that the margins do not see bends the tone without the
	// blank sheet, and does not with it.
	without, err := ref.Measure(context.Background(), photo, MeasureOptions{})
	if err != nil || without.Verdict != Measured {
		t.Fatalf("%v %+v", err, without)
	}
	t.Logf("tone %.4f with the blank sheet, %.4f without, painted %.2f", res.Scores.PlateTone.V, without.Scores.PlateTone.V, p.tone)
	if math.Abs(res.Scores.PlateTone.V-p.tone) > 0.002 {
		t.Errorf("tone %.4f, painted %.3f", res.Scores.PlateTone.V, p.tone)
	}
	if flat.Width != photo.Width {
		t.Error("size changed")
	}
	small := *photo.frame()
	small.Width = 10
	if _, err := photo.Flattened(&small); err == nil {
		t.Error("a blank sheet of another size was taken")
	}
}
