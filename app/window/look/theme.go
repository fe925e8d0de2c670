package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Colour names of our own, answered only by Theme.
const (
	Ink       fyne.ThemeColorName = "pb-ink"        // text
	Muted     fyne.ThemeColorName = "pb-muted"      // second lines, labels
	Faint     fyne.ThemeColorName = "pb-faint"      // marks that stand back
	Paper     fyne.ThemeColorName = "pb-paper"      // the ground of the window
	Panel     fyne.ThemeColorName = "pb-panel"      // side panels
	Leaf      fyne.ThemeColorName = "pb-leaf"       // fields, cards, what is raised
	Rule      fyne.ThemeColorName = "pb-rule"       // hairlines
	Blue      fyne.ThemeColorName = "pb-blue"       // what can be done, what is chosen
	OnBlue    fyne.ThemeColorName = "pb-on-blue"    // text upon Blue
	Chosen    fyne.ThemeColorName = "pb-chosen"     // the chosen row
	Over      fyne.ThemeColorName = "pb-over"       // under the pointer
	Copper    fyne.ThemeColorName = "pb-copper"     // the metal: life, plate marks
	Within    fyne.ThemeColorName = "pb-within"     // a verdict: within the limit
	Outside   fyne.ThemeColorName = "pb-outside"    // outside the limit, failures
	Unsure    fyne.ThemeColorName = "pb-unsure"     // cannot tell, warnings
	Surround  fyne.ThemeColorName = "pb-surround"   // neutral grey round pictures
	OnPicture fyne.ThemeColorName = "pb-on-picture" // text over a picture
	Veil      fyne.ThemeColorName = "pb-veil"       // the ground of such text
)

// edge is the outline of fields.
const edge fyne.ThemeColorName = "pb-edge"

// Sizes of our own, before the text scale.
const (
	TitleSize fyne.ThemeSizeName = "pb-title" // serif titles
	HeadSize  fyne.ThemeSizeName = "pb-head"  // serif headings
)

// Theme is the print room: warm paper greys for the window, neutral grey
// round pictures. Scale multiplies every text size; 0 means 1.
type Theme struct {
	Dark  bool
	Scale float32
}

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xff}
}

func rgba(v uint32, a uint8) color.NRGBA {
	c := rgb(v)
	c.A = a
	return c
}

var light = map[fyne.ThemeColorName]color.NRGBA{
	Ink: rgb(0x24221E), Muted: rgb(0x645F56), Faint: rgb(0xA39C8F),
	Paper: rgb(0xEAE7E1), Panel: rgb(0xF3F1EC), Leaf: rgb(0xFCFBF9), Rule: rgb(0xD3CEC4),
	Blue: rgb(0x1F4E6E), OnBlue: rgb(0xFFFFFF), Chosen: rgb(0xD5DEE3), Over: rgb(0xE6E3DC),
	Copper: rgb(0x985025), Within: rgb(0x2B6158), Outside: rgb(0x9C2F2A), Unsure: rgb(0x84590C),
	edge: rgb(0xBFB8AB), Surround: rgb(0xB2B2B2), OnPicture: rgb(0xF6F6F6), Veil: rgba(0x262626, 0xD8),
}

var dark = map[fyne.ThemeColorName]color.NRGBA{
	Ink: rgb(0xE9E5DD), Muted: rgb(0xA8A195), Faint: rgb(0x6D675E),
	Paper: rgb(0x1C1B19), Panel: rgb(0x242320), Leaf: rgb(0x2E2C29), Rule: rgb(0x3D3A35),
	Blue: rgb(0x86B4D1), OnBlue: rgb(0x11222D), Chosen: rgb(0x2C3C47), Over: rgb(0x33312D),
	Copper: rgb(0xD98C5A), Within: rgb(0x86C2B3), Outside: rgb(0xE88B80), Unsure: rgb(0xDFB05C),
	edge: rgb(0x57534B), Surround: rgb(0x4A4A4A), OnPicture: rgb(0xF6F6F6), Veil: rgba(0x161616, 0xDC),
}

// fyneNames maps the toolkit's colour names to ours.
var fyneNames = map[fyne.ThemeColorName]fyne.ThemeColorName{
	theme.ColorNameBackground: Paper, theme.ColorNameForeground: Ink,
	theme.ColorNameButton: Leaf, theme.ColorNameDisabledButton: Panel,
	theme.ColorNameDisabled: Muted, theme.ColorNamePlaceHolder: Muted,
	theme.ColorNameInputBackground: Leaf, theme.ColorNameInputBorder: edge,
	theme.ColorNamePrimary: Blue, theme.ColorNameForegroundOnPrimary: OnBlue,
	theme.ColorNameHyperlink: Blue, theme.ColorNameHover: Over, theme.ColorNamePressed: Chosen,
	theme.ColorNameSelection: Chosen, theme.ColorNameSeparator: Rule,
	theme.ColorNameMenuBackground: Leaf, theme.ColorNameOverlayBackground: Panel,
	theme.ColorNameHeaderBackground: Paper, theme.ColorNameScrollBar: Faint,
	theme.ColorNameError: Outside, theme.ColorNameWarning: Unsure, theme.ColorNameSuccess: Within,
	theme.ColorNameForegroundOnError: OnBlue, theme.ColorNameForegroundOnSuccess: OnBlue,
	theme.ColorNameForegroundOnWarning: OnBlue,
}

// Color answers our names and the toolkit's; the toolkit's own idea of light
// and dark is ignored, so that the choice made in the window holds.
func (t Theme) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	table := light
	if t.Dark {
		table = dark
	}
	switch n {
	case theme.ColorNameFocus:
		c := table[Blue]
		c.A = 0x50
		return c
	case theme.ColorNameShadow:
		return rgba(0x000000, 0x1c)
	case theme.ColorNameScrollBarBackground:
		return rgba(0x000000, 0)
	}
	if own, ok := fyneNames[n]; ok {
		n = own
	}
	if c, ok := table[n]; ok {
		return c
	}
	variant := theme.VariantLight
	if t.Dark {
		variant = theme.VariantDark
	}
	return theme.DefaultTheme().Color(n, variant)
}

// Size gives a dense window: small padding, 13 pt text.
func (t Theme) Size(n fyne.ThemeSizeName) float32 {
	scale := t.Scale
	if scale == 0 {
		scale = 1
	}
	switch n {
	case theme.SizeNameText:
		return 13 * scale
	case theme.SizeNameCaptionText:
		return 11.5 * scale
	case theme.SizeNameSubHeadingText:
		return 15 * scale
	case theme.SizeNameHeadingText:
		return 20 * scale
	case TitleSize:
		return 16 * scale
	case HeadSize:
		return 24 * scale
	case theme.SizeNamePadding:
		return 4
	case theme.SizeNameInnerPadding:
		return 6
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 3
	case theme.SizeNameInlineIcon:
		return 16 * scale
	case theme.SizeNameScrollBar:
		return 10
	case theme.SizeNameScrollBarSmall:
		return 4
	case theme.SizeNameLineSpacing:
		return 3 * scale
	}
	return theme.DefaultTheme().Size(n)
}

// Font gives the interface face; titles ask for Serif themselves.
func (t Theme) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Monospace, s.Symbol:
		return theme.DefaultTheme().Font(s)
	case s.Bold && s.Italic:
		return faces.boldItalic
	case s.Bold:
		return faces.bold
	case s.Italic:
		return faces.italic
	}
	return faces.regular
}

// Icon draws the toolkit's common signs in our line; the rest are its own.
func (t Theme) Icon(n fyne.ThemeIconName) fyne.Resource {
	if r, ok := toolkitIcons[n]; ok {
		return r
	}
	return theme.DefaultTheme().Icon(n)
}

// Colour is the present theme's colour of that name.
func Colour(n fyne.ThemeColorName) color.Color {
	return theme.Current().Color(n, fyne.CurrentApp().Settings().ThemeVariant())
}

// IsDark reports whether the present theme is dark.
func IsDark() bool {
	t, ok := theme.Current().(Theme)
	return ok && t.Dark
}
