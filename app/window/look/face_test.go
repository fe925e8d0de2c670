package look

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/assets/fonts"
)

// TestFaceKernsAsBefore sees that the face of the interface sets lines as wide
// as the whole font does, and that it kerns: without GPOS they are wider.
func TestFaceKernsAsBefore(t *testing.T) {
	test.NewTempApp(t)
	wide := func(name string, font []byte, line string) float64 {
		s, _ := fyne.CurrentApp().Driver().RenderedTextSize(line, 130, fyne.TextStyle{}, fyne.NewStaticResource(name, font))
		return float64(s.Width)
	}
	kerned := 0
	for _, line := range []string{"Low Water, Evening", "AVAILABLE To: Wharf, 1998", "Äußere Tür, Größe 120 × 90 mm", "V/VI · 12–14"} {
		whole := wide("whole", fonts.UIRegular, line)
		mine := wide("mine", faces.regular.Content(), line)
		if whole == 0 || math.Abs(mine-whole) > 0.01 {
			t.Errorf("%q is %.2f wide, with the whole font %.2f", line, mine, whole)
		}
		if bare := wide("bare", without(fonts.UIRegular, "kern", "GPOS", "GSUB"), line); bare > mine+2 {
			kerned++
		}
	}
	if kerned == 0 {
		t.Error("no line is kerned")
	}
}

func TestWithout(t *testing.T) {
	for _, no := range [][]byte{nil, []byte("no font"), {0, 1, 0, 0, 0, 99, 0, 0, 0, 0, 0, 0, 0}} {
		if out := without(no, "kern"); string(out) != string(no) {
			t.Errorf("%q became %q", no, out)
		}
	}
	if out := without(fonts.UIRegular, "none"); string(out) != string(fonts.UIRegular) {
		t.Error("a font is another without a table that it does not have")
	}
}

// BenchmarkLine measures a line that was not measured before, as the rows of a
// list bring them.
func BenchmarkLine(b *testing.B) {
	test.NewTempApp(b)
	for name, res := range map[string]fyne.Resource{"whole font": fyne.NewStaticResource("whole", fonts.UIRegular), "interface face": faces.regular, "serif": faces.serif} {
		b.Run(name, func(b *testing.B) {
			line := []rune("Low Water, Evening aaaa")
			for i := range b.N {
				for k := range 4 {
					line[len(line)-1-k] = 'a' + rune(i%26)
					i /= 26
				}
				fyne.CurrentApp().Driver().RenderedTextSize(string(line), 13, fyne.TextStyle{}, res)
			}
		})
	}
}
