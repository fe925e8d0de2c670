package look

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Icon is a line drawing on a 20 x 20 field, drawn in whatever colour of the
// theme it is asked for.
type Icon string

// The icons: one stroke width, round ends, no fills but points.
const (
	IconPress   Icon = `<circle cx="10" cy="7" r="4.4"/><path d="M10 2.6V11.4M5.6 7h8.8M2.5 14.5h15M5 14.5v3M15 14.5v3M4 11.9h12"/>`
	IconCamera  Icon = `<path d="M4 16.5 L4 7.5 L7.2 7.5 L8.4 5.5 L11.6 5.5 L12.8 7.5 L16 7.5 L16 16.5 Z M10 5.5 L10 2.5"/><circle cx="10" cy="11.8" r="2.7"/>`
	IconTable   Icon = `<path d="M2.5 4.5 H9 V15.5 H2.5 Z M11 4.5 H17.5 V15.5 H11 Z M4.3 6.6 H7.2 V11 H4.3 Z M12.8 6.6 H15.7 V11 H12.8 Z"/>`
	IconDesk    Icon = `<path d="M10 5.2 C8 3.8 5.4 3.6 2.8 4 V15.4 C5.4 15 8 15.2 10 16.6 C12 15.2 14.6 15 17.2 15.4 V4 C14.6 3.6 12 3.8 10 5.2 V16.6"/>`
	IconUndo    Icon = `<path d="M7.5 4.5 L3.5 8.5 L7.5 12.5 M3.5 8.5 H12 C15 8.5 16.5 10.5 16.5 12.8 C16.5 14.6 15.4 16 13.5 16.2"/>`
	IconRedo    Icon = `<path d="M12.5 4.5 L16.5 8.5 L12.5 12.5 M16.5 8.5 H8 C5 8.5 3.5 10.5 3.5 12.8 C3.5 14.6 4.6 16 6.5 16.2"/>`
	IconLamp    Icon = `<circle cx="10" cy="10" r="3.4"/><path d="M10 2.4V4.2M10 15.8V17.6M2.4 10H4.2M15.8 10H17.6M4.6 4.6L5.9 5.9M14.1 14.1L15.4 15.4M4.6 15.4L5.9 14.1M14.1 5.9L15.4 4.6"/>`
	IconPlus    Icon = `<path d="M10 4V16M4 10H16"/>`
	IconCross   Icon = `<path d="M5 5L15 15M15 5L5 15"/>`
	IconTick    Icon = `<path d="M4 10.5L8.2 14.7L16 5.6"/>`
	IconWarn    Icon = `<path d="M10 3.2L17.6 16.4H2.4Z M10 8V12 M10 14.1V14.3"/>`
	IconLoupe   Icon = `<circle cx="8.6" cy="8.6" r="5.2"/><path d="M12.4 12.4L17 17"/>`
	IconFilter  Icon = `<path d="M3 5H17M5.8 10H14.2M8.4 15H11.6"/>`
	IconOrder   Icon = `<path d="M6 4V16M3.4 13.4L6 16L8.6 13.4M11 5H17M11 9.5H15.4M11 14H13.8"/>`
	IconFolder  Icon = `<path d="M2.6 15.6V5H8L9.6 6.8H17.4V15.6Z"/>`
	IconPage    Icon = `<path d="M5 2.8H12L15.4 6.2V17.2H5Z M7.5 9H12.8M7.5 11.6H12.8M7.5 14.2H11"/>`
	IconOut     Icon = `<path d="M10 12V3M6.6 6.2L10 2.8L13.4 6.2M4 10V16.6H16V10"/>`
	IconDrop    Icon = `<path d="M10 3V12M6.6 8.8L10 12.2L13.4 8.8M4 12V16.6H16V12"/>`
	IconRack    Icon = `<path d="M2.5 4H17.5M5 4V6.4M15 4V6.4M3.4 6.4H9V15.6H3.4Z M11 6.4H16.6V15.6H11Z"/>`
	IconDrops   Icon = `<path d="M10 3C7 7 5.4 9.4 5.4 12A4.6 4.6 0 0 0 14.6 12C14.6 9.4 13 7 10 3Z"/>`
	IconSwap    Icon = `<path d="M3.5 7H15.5M12.8 4.2L15.6 7L12.8 9.8M16.5 13H4.5M7.2 10.2L4.4 13L7.2 15.8"/>`
	IconFit     Icon = `<path d="M3 7V3H7M13 3H17V7M17 13V17H13M7 17H3V13"/>`
	IconRuler   Icon = `<path d="M2.5 7H17.5V13H2.5Z M5.5 7V9.6M8.5 7V10.6M11.5 7V9.6M14.5 7V10.6"/>`
	IconEye     Icon = `<path d="M2.4 10C5 6 7.6 4.8 10 4.8C12.4 4.8 15 6 17.6 10C15 14 12.4 15.2 10 15.2C7.6 15.2 5 14 2.4 10Z"/><circle cx="10" cy="10" r="2.3"/>`
	IconLetters Icon = `<path d="M2.5 16L6.2 5H7L10.7 16M3.8 12.4H9.4M12 16L14.5 9H15L17.5 16M12.9 13.7H16.6"/>`
	IconPlate   Icon = `<path d="M2.8 4.5H17.2V15.5H2.8Z M5.5 12.5L8 9M8.5 12.5L11 9M11.5 12.5L14 9"/>`
	IconMore    Icon = `<path d="M4.6 10H5M9.8 10H10.2M15 10H15.4"/>`
	IconSheet   Icon = `<path d="M4 2.8H16V17.2H4Z M6.6 5.4H13.4V12H6.6Z"/>`
)

// In gives the icon in the theme's colour of that name, as it is now.
func (i Icon) In(name fyne.ThemeColorName) fyne.Resource {
	return iconResource{body: string(i), colour: Colour(name)}
}

type iconResource struct {
	body   string
	colour color.Color
}

func (r iconResource) hex() string {
	c := color.NRGBAModel.Convert(r.colour).(color.NRGBA)
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// Name differs by drawing and colour, because the toolkit keeps rendered
// icons by name.
func (r iconResource) Name() string {
	return fmt.Sprintf("pb-%x-%s.svg", fnv32(r.body), r.hex()[1:])
}

// Content is the drawing as SVG.
func (r iconResource) Content() []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20" viewBox="0 0 20 20">` +
		`<g fill="none" stroke="` + r.hex() + `" stroke-width="1.4" stroke-linecap="round" stroke-linejoin="round">` +
		r.body + `</g></svg>`)
}

func fnv32(s string) uint32 {
	h := uint32(2166136261)
	for i := range len(s) {
		h = (h ^ uint32(s[i])) * 16777619
	}
	return h
}

// toolkitIcons replace the toolkit's signs on the fields we use. It recolours
// fills only, so these are drawn as filled outlines.
var toolkitIcons = map[fyne.ThemeIconName]fyne.Resource{
	theme.IconNameArrowDropDown:   filled("drop-down", `<path fill="#000000" d="M5 7.6L10 12.6L15 7.6L16.1 8.7L10 14.8L3.9 8.7Z"/>`),
	theme.IconNameArrowDropUp:     filled("drop-up", `<path fill="#000000" d="M5 12.4L10 7.4L15 12.4L16.1 11.3L10 5.2L3.9 11.3Z"/>`),
	theme.IconNameCancel:          filled("cancel", `<path fill="#000000" d="M5.5 4.4L10 8.9L14.5 4.4L15.6 5.5L11.1 10L15.6 14.5L14.5 15.6L10 11.1L5.5 15.6L4.4 14.5L8.9 10L4.4 5.5Z"/>`),
	theme.IconNameCheckButton:     filled("box", `<path fill="#000000" d="M3 3H17V4.4H3Z M3 15.6H17V17H3Z M3 3H4.4V17H3Z M15.6 3H17V17H15.6Z"/>`),
	theme.IconNameCheckButtonFill: filled("box-fill", ``),
	theme.IconNameCheckButtonChecked: filled("box-on", `<path fill="#000000" d="M3 3H17V4.4H3Z M3 15.6H17V17H3Z M3 3H4.4V17H3Z M15.6 3H17V17H15.6Z `+
		`M6 10.2L7.1 9.1L9 11L13.2 6.2L14.3 7.2L9 13.2Z"/>`),
}

func filled(name, body string) fyne.Resource {
	return theme.NewThemedResource(fyne.NewStaticResource("pb-"+name+".svg",
		[]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20" viewBox="0 0 20 20">`+body+`</svg>`)))
}
