package places

import (
	"context"
	"image/color"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// The maps that can lie over a sheet, in the order of their choice.
const (
	noMap = iota
	mapOfLoss
	mapOfTone
)

// toneKey is what a map of plate tone belongs to: it is made anew when the
// sheet is measured again.
type toneKey struct{ sheet, score catalog.ID }

func (t *tablePlace) chooseMap(which int) {
	if which < 0 || which == t.showMap {
		return
	}
	t.showMap = which
	t.applyMap()
}

// applyMap lays the map chosen over the sheet in question.
func (t *tablePlace) applyMap() {
	var m *sheetview.Tiles
	if t.b != nil && t.plate != nil {
		switch t.showMap {
		case mapOfLoss:
			if m = tilesOf(t.b.scoreOf[t.s], t.plate.MeasureSize()); m == nil {
				t.how.SetText(words.T("There is no map of this sheet yet: measure it first."))
			}
		case mapOfTone:
			m = t.toneMap()
		}
	}
	t.view.SetMap(m)
	t.scale.show(t.showMap, m)
}

// toneMap is the map of plate tone of the sheet in question; where it is still
// to be made that is begun, and nil.
func (t *tablePlace) toneMap() *sheetview.Tiles {
	key := toneKey{sheet: t.s}
	if sc := t.b.scoreOf[t.s]; sc != nil {
		key.score = sc.ID
	}
	if m, have := t.tones[key]; have {
		return m
	}
	if t.tones == nil {
		t.tones = map[toneKey]*sheetview.Tiles{}
	}
	t.tones[key] = nil // asked for
	f := t.f
	f.start(words.T("Mapping the plate tone"), func(ctx context.Context, p Progress) error {
		got, err := f.house.ToneMap(ctx, key.sheet)
		f.post.do(func() {
			if err != nil {
				delete(t.tones, key) // so that it can be asked for again
				if t.s == key.sheet && t.showMap == mapOfTone && ctx.Err() == nil {
					t.how.SetText(words.Error(err))
				}
				return
			}
			t.tones[key] = toneTiles(got)
			f.log("tone mapped")
			if t.s == key.sheet && t.showMap == mapOfTone {
				t.applyMap()
			}
		})
		if err != nil {
			return context.Canceled // said where it matters
		}
		return nil
	})
	return nil
}

// toneTiles shapes a map of plate tone for the viewer: from nothing at no tone
// to full colour at the next twentieth of a density above nearly all of it.
func toneTiles(m *Map) *sheetview.Tiles {
	t := &sheetview.Tiles{StepMM: m.StepMM, Rows: m.Rows, Cols: m.Cols, V: m.V, High: toneStep, More: true}
	told := slices.DeleteFunc(slices.Clone(m.V), math.IsNaN)
	if len(told) > 0 {
		slices.Sort(told)
		t.High = max(toneStep, toneStep*math.Ceil(told[(len(told)-1)*98/100]/toneStep))
	}
	return t
}

// toneStep is the step of the scale of plate tone, a density.
const toneStep = 0.05

// mapScale says what the colours of a map mean.
type mapScale struct {
	text *look.Text
	bar  *canvas.LinearGradient
	box  *fyne.Container
}

func newMapScale() *mapScale {
	s := &mapScale{text: look.NewText("", look.Plain, theme.SizeNameCaptionText, look.OnPicture), bar: canvas.NewHorizontalGradient(color.White, color.White)}
	s.bar.SetMinSize(fyne.NewSize(70, 11))
	s.box = container.NewStack(look.NewFill(look.Veil), look.Inset(look.Row(8, s.bar, s.text), 8, 4))
	s.box.Hide()
	return s
}

// show explains a map, or goes away when there is none.
func (s *mapScale) show(which int, m *sheetview.Tiles) {
	s.box.Hidden = m == nil
	if m == nil {
		s.box.Refresh()
		return
	}
	full := sheetview.Lack
	say := words.T("ink loss %s to %s", words.Percent(m.Low, 0), words.Percent(m.High, 0))
	if which == mapOfTone {
		full = sheetview.Gain
		say = words.T("plate tone %s to %s D; hatched: no ground to tell it by", words.Num(m.Low, 0), words.Num(m.High, 2))
	}
	s.bar.StartColor, s.bar.EndColor = color.NRGBA{0xff, 0xff, 0xff, 0xff}, full
	s.bar.Refresh()
	s.text.SetText(say)
	s.box.Refresh()
}
