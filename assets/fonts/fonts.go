// Package fonts carries the type of the book and of the window inside the
// program. README.md names source, version, licence and SHA-256 of each file.
// The slices are shared: those who use them must not write to them.
package fonts

import _ "embed" // the fonts are part of the binary

// Faces of the book: EB Garamond 1.003 (SIL Open Font License 1.1).
var (
	//go:embed ebgaramond/EBGaramond-Regular.ttf
	BookRegular []byte
	//go:embed ebgaramond/EBGaramond-Italic.ttf
	BookItalic []byte
	//go:embed ebgaramond/EBGaramond-Medium.ttf
	BookMedium []byte
	//go:embed ebgaramond/EBGaramond-SemiBold.ttf
	BookSemiBold []byte
)

// Faces that stand in, letter by letter, for what the book faces lack:
// Liberation Serif 2.1.5 (SIL Open Font License 1.1).
var (
	//go:embed liberation/LiberationSerif-Regular.ttf
	FallbackRegular []byte
	//go:embed liberation/LiberationSerif-Italic.ttf
	FallbackItalic []byte
)

// Faces of the window: Lato 2.007 (SIL Open Font License 1.1).
var (
	//go:embed lato/Lato-Regular.ttf
	UIRegular []byte
	//go:embed lato/Lato-Bold.ttf
	UIBold []byte
	//go:embed lato/Lato-Italic.ttf
	UIItalic []byte
)

// Licences of the three families, as they must accompany the fonts.
var (
	//go:embed ebgaramond/OFL.txt
	BookLicence string
	//go:embed liberation/OFL.txt
	FallbackLicence string
	//go:embed lato/OFL.txt
	UILicence string
)
