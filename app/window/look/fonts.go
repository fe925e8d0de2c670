package look

import (
	"fyne.io/fyne/v2"

	"pullbook/assets/fonts"
)

// faces are the fonts of the window, embedded in the program. Titles take the
// medium weight: the regular one grows thin at the size of a row.
var faces = struct {
	regular, bold, italic, boldItalic fyne.Resource
	serif, serifItalic                fyne.Resource
}{
	regular:     fyne.NewStaticResource("Lato-Regular.ttf", fonts.UIRegular),
	bold:        fyne.NewStaticResource("Lato-Bold.ttf", fonts.UIBold),
	italic:      fyne.NewStaticResource("Lato-Italic.ttf", fonts.UIItalic),
	boldItalic:  fyne.NewStaticResource("Lato-Bold.ttf", fonts.UIBold),
	serif:       fyne.NewStaticResource("EBGaramond-Medium.ttf", fonts.BookMedium),
	serifItalic: fyne.NewStaticResource("EBGaramond-Italic.ttf", fonts.BookItalic),
}
