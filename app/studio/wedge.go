package studio

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/imaging"
)

// wedgeReading is what was read of a photograph of a grey wedge. It is kept
// with the photograph, where others keep their quality report.
type wedgeReading struct {
	Densities []float64           `json:"densities"`
	Steps     []imaging.WedgeStep `json:"steps"`
	Refused   string              `json:"refused"` // why it is not used, a sentence
	Why       say.Sentence        `json:"why"`     // the same, to be said in other languages
}

// wedgeKept is how a reading is kept.
type wedgeKept struct {
	Wedge *wedgeReading `json:"wedge"`
}

// readWedge reads a session's wedge. Without densities those it was read by
// before are taken. The error is the context's or the catalogue's.
func (s *Studio) readWedge(ctx context.Context, x *catalog.ShootingSession, densities []float64) (*wedgeReading, error) {
	p, err := s.store.Photograph(ctx, x.WedgePhotoID)
	if err != nil {
		return nil, err
	}
	if len(densities) == 0 {
		if had := readingOf(p); had != nil {
			densities = had.Densities
		}
	}
	r := &wedgeReading{Densities: densities}
	r.Steps, err = s.wedgeSteps(ctx, p, x.BlankPhotoID, densities)
	if err == nil {
		_, err = imaging.FitCurve(r.Steps)
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if reason, refused := refusedBecause(err); refused {
		r.Refused, r.Why = reason, whyNot(err, reason)
		err = nil
	}
	return r, err
}

// whyNot is the sentence of a refusal, to be said in any language where its maker
// gave it so.
func whyNot(err error, reason string) say.Sentence {
	var k say.Keyed
	if errors.As(err, &k) {
		if key, args := k.Keyed(); key != "" {
			return say.Of(key, args...)
		}
	}
	return say.Of("%s", say.Word(reason))
}

func (s *Studio) wedgeSteps(ctx context.Context, p *catalog.Photograph, blankID catalog.ID, densities []float64) ([]imaging.WedgeStep, error) {
	photo, err := openPhoto(ctx, s.archive.Path(p.SHA256, p.Ext))
	if err != nil {
		return nil, err
	}
	var corners *imaging.Quad
	if m := handMark(photo, p); m != nil {
		corners = &m.Corners
	}
	var blank *imaging.Photo
	if blankID != "" {
		b, err := s.store.Photograph(ctx, blankID)
		if err != nil {
			return nil, err
		}
		blank, err = openPhoto(ctx, s.archive.Path(b.SHA256, b.Ext))
		if _, refused := refusedBecause(err); err != nil && !refused {
			return nil, err
		}
	}
	return abandon(ctx, func() ([]imaging.WedgeStep, error) { return imaging.ReadWedge(photo, densities, corners, blank) })
}

// readingOf is the reading kept with a photograph of a wedge, nil for none.
func readingOf(p *catalog.Photograph) *wedgeReading {
	var k wedgeKept
	if p.View != catalog.ViewWedge || p.Quality == "" || json.Unmarshal([]byte(p.Quality), &k) != nil {
		return nil
	}
	return k.Wedge
}

// kept is the reading as it is kept with the photograph.
func (r *wedgeReading) kept() string {
	if r == nil {
		return ""
	}
	b, err := json.Marshal(wedgeKept{r})
	if err != nil {
		return "" // only for values that are no numbers; it is not used then
	}
	return string(b)
}

// curve is the camera's curve by the reading, nil when it is not used.
func (r *wedgeReading) curve() *imaging.Curve {
	if r == nil || r.Refused != "" {
		return nil
	}
	c, err := imaging.FitCurve(r.Steps)
	if err != nil {
		return nil
	}
	return c
}

// words say what the wedge told, and whether it is used.
func (r *wedgeReading) words() (string, bool) {
	if r == nil {
		return "", false
	}
	c := r.curve()
	if c == nil {
		return spaced("The wedge is not used.", r.Refused), false
	}
	return fmt.Sprintf("%d steps were read. The camera's tones depart from its profile by up to %.2f D; with that taken out the steps come out within %.3f D.", len(r.Steps), c.Departs, c.RMS), true
}

// WedgeFacts is what a photograph of a grey wedge told of its camera.
type WedgeFacts struct {
	Densities []float64 // by which it was read
	Steps     int       // read
	Departs   float64   // D by which the camera's tones depart from its profile
	Misses    float64   // D by which the steps come out wrong with that taken out
	Refused   string    // why it is not used, a sentence
	Why       say.Sentence
}

// WedgeOf is what a photograph of a wedge told when it was read last; false for
// other photographs.
func WedgeOf(p *catalog.Photograph) (WedgeFacts, bool) {
	r := readingOf(p)
	if r == nil {
		return WedgeFacts{}, false
	}
	out := WedgeFacts{Densities: r.Densities, Steps: len(r.Steps), Refused: r.Refused, Why: r.Why}
	if c := r.curve(); c != nil {
		out.Departs, out.Misses = c.Departs, c.RMS
	}
	return out, true
}

// UsualDensities are those of a wedge that rises by 0.15 from 0.05 in eleven
// steps, as half-stop wedges do (common practice).
const UsualDensities = "0.05 + 10 x 0.15"

// ParseDensities reads the densities of a wedge's steps as its maker gives them:
// one by one ("0.05 0.20 0.35"), or the first and how often it rises by how much
// ("0.05 + 10 x 0.15"). A decimal comma is read as a point.
func ParseDensities(text string) ([]float64, error) {
	t := strings.NewReplacer("×", "x", ";", " ").Replace(strings.TrimSpace(text))
	bad := func() ([]float64, error) {
		return nil, sentence("%q gives no densities; write them one by one, as 0.05 0.20 0.35, or as 0.05 + 10 x 0.15.", text)
	}
	if first, rest, evenly := strings.Cut(t, "+"); evenly {
		times, stride, ok := strings.Cut(rest, "x")
		a, err1 := number(first)
		n, err2 := strconv.Atoi(strings.TrimSpace(times))
		b, err3 := number(stride)
		if !ok || err1 != nil || err2 != nil || err3 != nil || n < 1 || n > 40 {
			return bad()
		}
		d := make([]float64, n+1)
		for i := range d {
			d[i] = math.Round((a+float64(i)*b)*1e4) / 1e4
		}
		return d, nil
	}
	var d []float64
	for _, f := range strings.Fields(t) {
		v, err := number(strings.TrimSuffix(f, ","))
		if err != nil {
			return bad()
		}
		d = append(d, v)
	}
	if len(d) == 0 {
		return bad()
	}
	return d, nil
}

func number(s string) (float64, error) {
	return strconv.ParseFloat(strings.Replace(strings.TrimSpace(s), ",", ".", 1), 64)
}

// DensitiesWords writes densities as [ParseDensities] reads them.
func DensitiesWords(d []float64) string {
	if n := len(d) - 1; n >= 2 {
		stride := math.Round((d[n]-d[0])/float64(n)*1e4) / 1e4
		even := true
		for i, v := range d {
			even = even && math.Abs(v-d[0]-stride*float64(i)) < 5e-4
		}
		if even {
			return fmt.Sprintf("%g + %d x %g", d[0], n, stride)
		}
	}
	var l []string
	for _, v := range d {
		l = append(l, strconv.FormatFloat(v, 'f', -1, 64))
	}
	return strings.Join(l, " ")
}
