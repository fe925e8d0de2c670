package places

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// tableModes are the viewer's ways in the order of the segmented control; the
// last is the contact view.
var tableModes = []sheetview.Mode{sheetview.Beside, sheetview.Edge, sheetview.InTurn, sheetview.Difference}

const contactMode = 4

// tablePlace lays two sheets side by side, and all sheets of a state out.
type tablePlace struct {
	f     *Frame
	b     *book
	plate *catalog.Plate
	a, s  catalog.ID // impressions: the first sheet, and the sheet in question
	turn  int
	stop  context.CancelFunc // of the registration under way
	shown [2]catalog.ID      // photographs in the viewer, or on their way there
	laid  [2]catalog.ID      // photographs drawn in the viewer
	exact bool               // the sheets shown are registered
	lain  string             // how the sheets shown lie on one another

	box     *fyne.Container
	full    fyne.CanvasObject
	middle  *fyne.Container
	modes   *look.Segmented
	first   *choice
	second  *choice
	ids     []catalog.ID
	view    *sheetview.Viewer
	zoom    *look.Text
	lens    *look.Button
	mapped  *choice
	how     *look.Text
	chips   [2]*chip
	legend  *fyne.Container
	panel   *scorePanel
	contact *contactView
	rotate  chan struct{}
	quiet   bool
	showMap int // of the choice of maps
	tones   map[toneKey]*sheetview.Tiles
	scale   *mapScale
	changes int // the change chosen, -1 none
	regions regions
}

func newTablePlace(f *Frame) *tablePlace {
	t := &tablePlace{f: f, box: container.NewStack(), changes: -1}
	t.view = sheetview.NewViewer(f.post.do)
	t.view.Moved = t.moved
	t.view.TappedMM = t.tapped
	t.view.Drawn = t.drawn
	if f.needs.Log != nil {
		t.view.Painted = t.countFrames()
	}
	t.modes = look.NewSegmented(t.setMode,
		look.Segment{Text: words.T("Side by side")}, look.Segment{Text: words.T("Edge")}, look.Segment{Text: words.T("In turn")},
		look.Segment{Text: words.T("Difference")}, look.Segment{Text: words.T("All sheets")})
	t.first = newSelect(nil, func(string) { t.picked() })
	t.second = newSelect(nil, func(string) { t.picked() })
	t.zoom = look.Small("").Giving().Aligned(fyne.TextAlignTrailing)
	t.how = look.Small("").Giving()
	t.lens = look.QuietButton("", look.IconLoupe, t.loupe)
	t.mapped = newSelect([]string{words.T("No map"), words.T("Map of ink loss"), words.T("Map of plate tone")}, func(string) { t.chooseMap(t.mapped.SelectedIndex()) })
	t.mapped.SetSelectedIndex(noMap)
	fit := look.QuietButton("", look.IconFit, func() { t.view.FitAll() })
	true1 := look.QuietButton("", look.IconRuler, func() { f.run("true") })
	swap := look.QuietButton("", look.IconSwap, t.swap)
	bar := look.Beside(look.Row(0, t.modes), look.Row(2, look.Wide(44, t.zoom), look.Space(2, 1), look.Wide(146, t.mapped), t.lens, true1, fit))
	pick := container.New(&threeLayout{}, t.first, swap, t.second)
	t.chips = [2]*chip{newChip(), newChip()}
	t.legend = newLegend()
	t.legend.Hide()
	t.scale = newMapScale()
	over := container.New(&chipLayout{t}, t.chips[0], t.chips[1], t.legend, t.scale.box)
	t.contact = newContactView(t)
	t.middle = container.NewStack(t.view, over)
	t.panel = newScorePanel(t)
	sheets := look.Border(look.InsetEach(look.Column(6, bar, pick), 10, 8, 10, 8), look.Inset(t.how, 10, 3), nil, nil, t.middle)
	t.full = look.NewSide(t.panel.box, sheets, 292, 250, true).Box()
	return t
}

func (t *tablePlace) content() fyne.CanvasObject { return t.box }

func (t *tablePlace) show(b *book, plate *catalog.Plate) {
	changedPlate := t.plate == nil || plate == nil || t.plate.ID != plate.ID
	t.b, t.plate = b, plate
	if changedPlate {
		t.view.EndDrawing()
		t.regions = regions{all: t.regions.all}
	}
	t.box.RemoveAll()
	if plate == nil {
		t.box.Add(t.f.noPlate())
		return
	}
	var with []*catalog.Impression
	for _, i := range b.impressionsOf[plate.ID] {
		if b.photoOf(i.ID) != nil {
			with = append(with, i)
		}
	}
	if len(with) == 0 {
		t.box.Add(look.Hint(look.IconTable, words.T("Nothing to lay on the table yet"),
			words.T("Two photographed sheets are compared here. Take photographs in at the camera first; one of them becomes the reference pull."),
			look.StrongButton(words.T("Go to the camera"), look.IconCamera, func() { t.f.goTo(AtCamera) })))
		return
	}
	t.box.Add(t.full)
	if changedPlate || b.impressions[t.s] == nil || b.photoOf(t.s) == nil {
		t.open(b, with)
	}
	t.fill(b, with)
	t.contact.show(b, plate)
	t.load()
}

// open chooses two sheets to begin with: the reference pull of the latest
// state, and the last sheet of that state.
func (t *tablePlace) open(b *book, with []*catalog.Impression) {
	t.s = with[len(with)-1].ID
	t.a = t.referenceFor(t.s)
	if t.a == t.s && len(with) > 1 {
		t.s = with[len(with)-2].ID
		for i := len(with) - 1; i >= 0; i-- {
			if with[i].ID != t.a {
				t.s = with[i].ID
				break
			}
		}
	}
	t.changes = -1
	t.shown = [2]catalog.ID{}
}

// referenceFor is the impression a sheet is measured against, or itself.
func (t *tablePlace) referenceFor(id catalog.ID) catalog.ID {
	i := t.b.impressions[id]
	if i == nil {
		return id
	}
	if s := t.b.states[i.StateID]; s != nil && s.ReferenceID != "" && t.b.photoOf(s.ReferenceID) != nil {
		return s.ReferenceID
	}
	return id
}

func (t *tablePlace) fill(b *book, with []*catalog.Impression) {
	t.quiet = true
	defer func() { t.quiet = false }()
	t.ids = nil
	var names []string
	for _, i := range with {
		n := b.stateShort(b.states[i.StateID]) + "  ·  " + sheetName(i)
		if s := b.states[i.StateID]; s != nil && s.ReferenceID == i.ID {
			n += "  ·  " + words.T("reference pull")
		}
		if sc := b.scoreOf[i.ID]; sc != nil && sc.InkLoss != nil {
			n += "  ·  " + words.T("loss %s", words.Percent(sc.InkLoss.V, 0))
		}
		names = append(names, n)
		t.ids = append(t.ids, i.ID)
	}
	for _, x := range []struct {
		s  *choice
		id catalog.ID
	}{{t.first, t.a}, {t.second, t.s}} {
		x.s.Options = names
		x.s.ClearSelected()
		for i, id := range t.ids {
			if id == x.id {
				x.s.SetSelectedIndex(i)
			}
		}
	}
	t.panel.show(b, t.s)
	t.boxes()
}

func (t *tablePlace) picked() {
	if t.quiet || t.b == nil {
		return
	}
	if i := t.first.SelectedIndex(); i >= 0 {
		t.a = t.ids[i]
	}
	if i := t.second.SelectedIndex(); i >= 0 {
		t.s = t.ids[i]
	}
	t.changes = -1
	t.panel.show(t.b, t.s)
	t.boxes()
	t.load()
}

// put lays a sheet down as the one in question.
func (t *tablePlace) put(id catalog.ID) {
	t.s = id
	t.quiet = true
	for i, x := range t.ids {
		if x == id {
			t.second.SetSelectedIndex(i)
		}
	}
	t.quiet = false
	t.changes = -1
	t.panel.show(t.b, id)
	t.boxes()
	t.load()
}

func (t *tablePlace) swap() {
	t.a, t.s = t.s, t.a
	if t.b != nil && t.plate != nil {
		t.show(t.b, t.plate)
	}
}

// step goes to the next sheet in pull order.
func (t *tablePlace) step(n int) {
	for i, id := range t.ids {
		if id == t.s {
			if j := i + n; j >= 0 && j < len(t.ids) {
				t.put(t.ids[j])
			}
			return
		}
	}
}

func (t *tablePlace) setMode(i int) {
	t.f.refreshMenu()
	t.endTurning()
	if i == contactMode {
		t.view.EndDrawing()
		t.layAside()
		t.middle.Objects = []fyne.CanvasObject{t.contact.box}
		t.middle.Refresh()
		t.contact.show(t.b, t.plate)
		t.how.SetText(words.T("Click a sheet to see its scores; click it again to lay it beside the reference pull."))
		return
	}
	t.how.SetText(t.lain)
	if len(t.middle.Objects) == 1 {
		t.middle.Objects = []fyne.CanvasObject{t.view, container.New(&chipLayout{t}, t.chips[0], t.chips[1], t.legend, t.scale.box)}
	}
	t.view.SetMode(tableModes[i])
	t.middle.Refresh()
	t.legend.Hidden = tableModes[i] != sheetview.Difference
	t.load()
	t.moved()
	if tableModes[i] == sheetview.InTurn {
		t.beginTurning()
	}
}

// moved shows what the viewer's motion came to.
func (t *tablePlace) moved() {
	t.f.house.Input()
	a, b := t.view.Sheets()
	s := a
	if s == nil {
		s = b
	}
	if s != nil && s.PxPerMM > 0 {
		t.zoom.SetText(words.Percent(t.view.Motion().Scale/s.PxPerMM, 0))
	}
	t.chipText()
}

func (t *tablePlace) chipText() {
	if t.b == nil {
		return
	}
	name := func(id catalog.ID) string {
		i := t.b.impressions[id]
		if i == nil {
			return ""
		}
		return t.b.stateShort(t.b.states[i.StateID]) + " · " + sheetName(i)
	}
	a, b := name(t.a), name(t.s)
	if t.view.Mode() == sheetview.InTurn {
		if t.view.SecondUp() {
			a = ""
		} else {
			b = ""
		}
	}
	t.chips[0].set(a)
	t.chips[1].set(b)
}

func (t *tablePlace) loupe() {
	t.view.SetLoupe(!t.view.Loupe())
	t.lens.SetOn(t.view.Loupe())
	t.f.refreshMenu()
}

func (t *tablePlace) lifeCame() { t.contact.curveCame() }

func (t *tablePlace) key(e *fyne.KeyEvent) bool {
	if t.b == nil || t.plate == nil || t.modes.Chosen == contactMode {
		return false
	}
	if t.view.Drawing() {
		t.view.TypedKey(e)
		return true
	}
	switch e.Name {
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeySpace, fyne.KeyComma, fyne.KeyPeriod:
		t.view.TypedKey(e)
		return true
	case fyne.Key0:
		t.view.FitAll()
	case fyne.Key1:
		t.view.PixelForPixel()
	case fyne.KeyEqual, fyne.KeyPlus:
		t.view.ZoomBy(1.25)
	case fyne.KeyMinus:
		t.view.ZoomBy(0.8)
	case fyne.KeyX:
		t.endTurning()
		t.view.Turn()
	case fyne.KeyL:
		t.loupe()
	default:
		return false
	}
	return true
}
