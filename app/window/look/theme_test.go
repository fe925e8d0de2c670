package look

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// luminance and contrast are those of the Web Content Accessibility Guidelines
// 2.1 (W3C 2018), "relative luminance" and "contrast ratio".
func luminance(c color.Color) float64 {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	f := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.03928 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*f(n.R) + 0.7152*f(n.G) + 0.0722*f(n.B)
}

func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}

// TestTextCanBeRead asks for the guidelines' ratio of 4.5 for text (success
// criterion 1.4.3) and of 3 for the outlines of fields (1.4.11).
func TestTextCanBeRead(t *testing.T) {
	if r := contrast(color.White, color.Black); math.Abs(r-21) > 1e-9 {
		t.Fatalf("white on black is %g, by the guidelines 21", r)
	}
	for _, th := range []Theme{{}, {Dark: true}} {
		at := func(n fyne.ThemeColorName) color.Color { return th.Color(n, theme.VariantLight) }
		for _, ground := range []fyne.ThemeColorName{Paper, Panel, Leaf} {
			for _, ink := range []fyne.ThemeColorName{Ink, Muted, Blue, Copper, Within, Outside, Unsure} {
				if r := contrast(at(ink), at(ground)); r < 4.5 {
					t.Errorf("dark %v: %s on %s has a contrast of %.2f", th.Dark, ink, ground, r)
				}
			}
		}
		if r := contrast(at(OnBlue), at(Blue)); r < 4.5 {
			t.Errorf("dark %v: text on the strong button has a contrast of %.2f", th.Dark, r)
		}
		if r := contrast(at(Ink), at(Chosen)); r < 4.5 {
			t.Errorf("dark %v: text on the chosen row has a contrast of %.2f", th.Dark, r)
		}
		if r := contrast(at(OnPicture), at(Veil)); r < 4.5 {
			t.Errorf("dark %v: names over pictures have a contrast of %.2f", th.Dark, r)
		}
	}
}

func TestSurroundIsNeutral(t *testing.T) {
	for _, th := range []Theme{{}, {Dark: true}} {
		c := color.NRGBAModel.Convert(th.Color(Surround, theme.VariantDark)).(color.NRGBA)
		if c.R != c.G || c.G != c.B {
			t.Errorf("the surround of pictures is coloured: %v", c)
		}
	}
}

func TestThemeAnswersTheToolkit(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(Theme{})
	test.AssertAllColorNamesDefined(t, Theme{}, "light")
	test.AssertAllColorNamesDefined(t, Theme{Dark: true}, "dark")
}

func TestLineEndsInEllipsis(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(Theme{})
	l := Line("Low Water at the Quay, with a Cutter Coming In").Giving()
	l.Resize(fyne.NewSize(90, 20))
	r := test.WidgetRenderer(l).(*textRenderer)
	if r.c.Text == l.Words() || []rune(r.c.Text)[len([]rune(r.c.Text))-1] != '…' || r.c.MinSize().Width > 90 {
		t.Errorf("a line of 90 shows %q, %.0f wide", r.c.Text, r.c.MinSize().Width)
	}
	l.Resize(fyne.NewSize(900, 20))
	if r.c.Text != l.Words() {
		t.Errorf("with room the line still shows %q", r.c.Text)
	}
}

func TestButtonByKeyboard(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(Theme{})
	n := 0
	b := NewButton("Keep", IconTick, func() { n++ })
	w := test.NewTempWindow(t, b)
	w.Canvas().Focus(b)
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	b.SetEnabled(false)
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if n != 2 {
		t.Errorf("the button did its work %d times, not twice", n)
	}
}

func TestSegmentedByKeyAndTap(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(Theme{})
	var got []int
	s := NewSegmented(func(i int) { got = append(got, i) }, Segment{Text: "Press"}, Segment{Text: "Camera"}, Segment{Text: "Table"})
	w := test.NewTempWindow(t, s)
	w.Resize(fyne.NewSize(400, 60))
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	test.TapAt(s, fyne.NewPos(20, 15))
	if len(got) != 3 || got[0] != 1 || got[1] != 2 || got[2] != 0 {
		t.Errorf("chosen %v", got)
	}
}
