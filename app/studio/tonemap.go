package studio

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"pullbook/catalog"
	"pullbook/imaging"
)

// ToneMap is the plate tone over the plate, row by row from the top-left corner
// of its mark: density (D) per tile; NaN where there is too little ground to
// tell.
type ToneMap struct {
	StepMM     float64
	Rows, Cols int
	V          []float64
}

// keptToneMap is a tone map as it lies in the derived files; JSON has no NaN.
type keptToneMap struct {
	StepMM float64    `json:"step_mm"`
	Rows   int        `json:"rows"`
	Cols   int        `json:"cols"`
	V      []*float64 `json:"d"`
}

// ToneMap is the plate tone over an impression, against the reference pull of
// its state. It is kept among the derived files: measuring leaves it there, and
// where it is missing the impression is measured for it, which changes no
// score. Refusals are sentences.
func (s *Studio) ToneMap(ctx context.Context, impression catalog.ID) (*ToneMap, error) {
	u, err := s.subject(ctx, impression)
	if err != nil {
		return nil, err
	}
	path := s.toneMapPath(u)
	release, err := s.making.enter(ctx, path)
	if err != nil {
		return nil, err
	}
	defer release()
	if m := readToneMap(path); m != nil {
		return m, nil
	}
	ref, err := s.reference(ctx, u.state, u.size)
	if err != nil {
		return nil, err
	}
	res, err := s.see(ctx, ref, u.photo, imaging.MeasureOptions{})
	if err != nil {
		return nil, err
	}
	if res.Verdict == imaging.Refused {
		return nil, refusal(res.Reason)
	}
	m := &ToneMap{res.ToneMap.StepMM, res.ToneMap.Rows, res.ToneMap.Cols, res.ToneMap.V}
	return m, s.keepToneMap(path, m)
}

// toneMapPath depends on all that the map depends on: the two photographs, the
// plate's size, corners set by hand, the method.
func (s *Studio) toneMapPath(u *subject) string {
	key := fmt.Sprint(u.state.ReferencePhotoID, u.size, imaging.Method, u.photo.SessionID)
	if u.photo.MarkBy == byHand {
		key += fmt.Sprint(u.photo.Mark)
	}
	return strings.TrimSuffix(s.derivedPath("tone", u.photo.SHA256, key), ".jpg") + ".json"
}

func (s *Studio) keepToneMap(path string, m *ToneMap) error {
	k := keptToneMap{m.StepMM, m.Rows, m.Cols, make([]*float64, len(m.V))}
	for i, v := range m.V {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			k.V[i] = &v
		}
	}
	err := writeFile(path, func(w io.Writer) error { return json.NewEncoder(w).Encode(k) })
	if err != nil {
		return sentence("The map %s cannot be kept: %v. See that the disk is not full.", path, err)
	}
	return nil
}

// readToneMap is a kept map, nil when there is none or it is damaged: it is
// then made again.
func readToneMap(path string) *ToneMap {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	var k keptToneMap
	if json.Unmarshal(b, &k) != nil || k.StepMM <= 0 || k.Rows < 1 || k.Cols < 1 || len(k.V) != k.Rows*k.Cols {
		return nil
	}
	m := &ToneMap{k.StepMM, k.Rows, k.Cols, make([]float64, len(k.V))}
	for i, v := range k.V {
		m.V[i] = math.NaN()
		if v != nil {
			m.V[i] = *v
		}
	}
	return m
}

// leaveToneMap keeps the map of a measurement just made. It can be made again,
// so a disk that is full is no reason to refuse the score.
func (s *Studio) leaveToneMap(u *subject, res *imaging.Result) {
	if res.Verdict != imaging.Refused && len(res.ToneMap.V) > 0 {
		_ = s.keepToneMap(s.toneMapPath(u), &ToneMap{res.ToneMap.StepMM, res.ToneMap.Rows, res.ToneMap.Cols, res.ToneMap.V})
	}
}
