package places

import (
	"testing"

	"pullbook/app/window/look"
)

// TestWaysAndToolsDoNotCover sees that the ways of showing two sheets and the
// tools beside them have room in both languages and with large text.
func TestWaysAndToolsDoNotCover(t *testing.T) {
	was := *tongue
	defer func() { *tongue = was }()
	for _, *tongue = range []string{"en", "de"} {
		for _, scale := range []float32{1, 1.5} {
			s := newStand(t, estuary(t), 1280, 776, false)
			s.f.app.Settings().SetTheme(look.Theme{Scale: scale})
			s.f.goTo(AtTable)
			s.settle()
			m, o := s.table().modes, s.table().mapped
			d := s.f.app.Driver()
			a, b := d.AbsolutePositionForObject(m), d.AbsolutePositionForObject(o)
			if a.X+m.MinSize().Width > b.X && a.Y+m.Size().Height > b.Y {
				t.Errorf("%s at %g: the ways reach from %.0f to %.0f, the tools begin at %.0f", *tongue, scale, a.X, a.X+m.MinSize().Width, b.X)
			}
			if m.Size().Width < m.MinSize().Width-0.5 {
				t.Errorf("%s at %g: the ways have %.0f of %.0f", *tongue, scale, m.Size().Width, m.MinSize().Width)
			}
		}
	}
}
