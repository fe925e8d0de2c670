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
	regular:     face("Lato-Regular.ttf", fonts.UIRegular),
	bold:        face("Lato-Bold.ttf", fonts.UIBold),
	italic:      face("Lato-Italic.ttf", fonts.UIItalic),
	boldItalic:  face("Lato-Bold.ttf", fonts.UIBold),
	serif:       fyne.NewStaticResource("EBGaramond-Medium.ttf", fonts.BookMedium),
	serifItalic: fyne.NewStaticResource("EBGaramond-Italic.ttf", fonts.BookItalic),
}
