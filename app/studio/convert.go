package studio

import (
	"context"
	"encoding/json"
	"errors"
	"math"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/catalog/store"
	"pullbook/imaging"
	"pullbook/imaging/decode"
)

// byHand is MarkBy of a plate mark whose corners the user set.
const byHand = "by hand"

func inMM(s catalog.Size) imaging.Size { return imaging.Size{Height: s.HeightMM, Width: s.WidthMM} }

// handMark is the plate mark the user set, nil when there is none.
func handMark(photo *imaging.Photo, p *catalog.Photograph) *imaging.PlateMark {
	if p.MarkBy != byHand {
		return nil
	}
	var q imaging.Quad
	for i, c := range p.Mark {
		q[i] = imaging.Point{X: c[0], Y: c[1]}
	}
	m := imaging.MarkFromStored(photo, q)
	return &m
}

// setMark records a plate mark that was found; one set by hand stays.
func setMark(p *catalog.Photograph, q imaging.Quad, how string, sure float64) {
	if p.MarkBy == byHand || q == (imaging.Quad{}) {
		return
	}
	for i, c := range q {
		p.Mark[i] = [2]float64{c.X, c.Y}
	}
	p.MarkBy, p.MarkSure = how, sure
}

func (s *Studio) updatePhotograph(ctx context.Context, id catalog.ID, label string, change func(*catalog.Photograph)) error {
	return s.store.Do(ctx, label, func(tx *store.Tx) error {
		p, err := tx.Photograph(ctx, id)
		if err != nil {
			return err
		}
		change(p)
		return tx.PutPhotograph(p)
	})
}

// refusedBecause is the sentence of an error that says a photograph cannot be
// used, as against one that says the work could not be done.
func refusedBecause(err error) (string, bool) {
	var refused *imaging.RefusedError
	var unread *decode.Error
	var ours *Refusal
	switch {
	case errors.As(err, &refused):
		return refused.Reason, true
	case errors.As(err, &unread):
		return unread.Sentence, true
	case errors.As(err, &ours):
		return ours.Sentence, true
	}
	return "", false
}

// qualityJSON is how the quality report is kept with a photograph.
func qualityJSON(q imaging.Quality) string {
	b, err := json.Marshal(q)
	if err != nil {
		return "" // only for values that are no numbers; there is no report then
	}
	return string(b)
}

// Quality reads the quality report kept with a photograph; false when there is
// none.
func Quality(p *catalog.Photograph) (imaging.Quality, bool) {
	var q imaging.Quality
	if p.Quality == "" || json.Unmarshal([]byte(p.Quality), &q) != nil {
		return q, false
	}
	return q, len(q.Findings) > 0
}

func valueOf(v *imaging.Value) *catalog.Value {
	if v == nil || math.IsNaN(v.V) || math.IsInf(v.V, 0) || math.IsNaN(v.U) || math.IsInf(v.U, 0) {
		return nil
	}
	return &catalog.Value{V: v.V, U: v.U}
}

// tilesJSON writes a map row by row, null where it cannot be told.
func tilesJSON(m imaging.Map) string {
	cells := make([]*float64, len(m.V))
	for i, v := range m.V {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			r := math.Round(v*1e4) / 1e4
			cells[i] = &r
		}
	}
	if len(cells) == 0 {
		return ""
	}
	b, err := json.Marshal(cells)
	if err != nil {
		return ""
	}
	return string(b)
}

// whyOf is why a result is refused or not to be trusted, none when it is.
func whyOf(r *imaging.Result) say.Sentence {
	switch {
	case r.Refusal != nil:
		return say.OfKeyed(r.Refusal.Keyed())
	case r.Reason != "":
		return say.Of("%s", say.Word(r.Reason))
	}
	return say.Sentence{}
}

// scoreOf is a result as the catalogue keeps it; verdict and limit are not
// filled in.
func scoreOf(r *imaging.Result) catalog.Score {
	sc := catalog.Score{Method: imaging.Method}
	if why := whyOf(r); !why.IsZero() {
		sc.Because(why)
	}
	if r.Verdict == imaging.Refused {
		sc.Verdict = "refused"
		return sc
	}
	q := r.Scores
	sc.InkLoss, sc.WearLoss, sc.PlateTone = valueOf(q.InkLoss), valueOf(q.WearLoss), valueOf(q.PlateTone)
	sc.ToneUnevenness, sc.BurrLoss = valueOf(q.ToneUnevenness), valueOf(q.BurrLoss)
	sc.LinesLostMM, sc.LinesLost, sc.OverInking = valueOf(q.LinesLostMM), valueOf(q.LinesLost), valueOf(q.OverInking)
	sc.RegistrationMM, sc.ToneP5, sc.ToneP95 = r.Registration.ResidualMM, q.ToneP5, q.ToneP95
	sc.Tiles, sc.TileMM = tilesJSON(r.InkLossMap), r.InkLossMap.StepMM
	return sc
}

// infoOf is what turns a photograph's stored pixels upright and back.
func infoOf(p *catalog.Photograph) *decode.Info {
	return &decode.Info{Width: p.WidthPX, Height: p.HeightPX, Orientation: p.Orientation}
}
