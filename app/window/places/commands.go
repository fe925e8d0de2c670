package places

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// command is one thing the window can do: in the menu, with its shortcut.
type command struct {
	name     string // for run; not shown
	menu     string
	label    string
	key      fyne.KeyName
	mod      fyne.KeyModifier
	shortcut fyne.Shortcut // where the toolkit names its own
	do       func()
	can      func() bool
	on       func() bool // for switches
	item     *fyne.MenuItem
	line     bool // a line above it
}

const (
	ctrl      = fyne.KeyModifierControl
	ctrlShift = fyne.KeyModifierControl | fyne.KeyModifierShift
)

// run does a command by name, if it can be done now.
func (f *Frame) run(name string) {
	for _, c := range f.menu {
		if c.name == name {
			f.perform(c)
			return
		}
	}
}

// perform does a command. The toolkit runs shortcuts of disabled items and of
// the menu under an open dialog, so both are asked here.
func (f *Frame) perform(c *command) {
	f.house.Input()
	if c.can != nil && !c.can() {
		return
	}
	if o := f.win.Canvas().Overlays().Top(); o != nil && c.name != "away" {
		return
	}
	c.do()
}

func (f *Frame) setMenu() {
	f.menu = f.commands()
	var menus []*fyne.Menu
	for _, c := range f.menu {
		c.item = fyne.NewMenuItem(c.label, func() { f.perform(c) })
		switch {
		case c.shortcut != nil:
			c.item.Shortcut = c.shortcut
		case c.key != "":
			c.item.Shortcut = &desktop.CustomShortcut{KeyName: c.key, Modifier: c.mod}
		}
		if c.name == "quit" {
			c.item.IsQuit = true
		}
		var m *fyne.Menu
		for _, have := range menus {
			if have.Label == c.menu {
				m = have
			}
		}
		if m == nil {
			m = fyne.NewMenu(c.menu)
			menus = append(menus, m)
		}
		if c.line {
			m.Items = append(m.Items, fyne.NewMenuItemSeparator())
		}
		m.Items = append(m.Items, c.item)
	}
	f.win.SetMainMenu(fyne.NewMainMenu(menus...))
	f.refreshMenu()
}

// refreshMenu brings labels, ticks and what can be done up to date.
func (f *Frame) refreshMenu() {
	if len(f.menu) == 0 {
		return
	}
	changed := false
	set := func(p *bool, v bool) {
		if *p != v {
			*p = v
			changed = true
		}
	}
	for _, c := range f.menu {
		if c.item == nil {
			continue
		}
		set(&c.item.Disabled, c.can != nil && !c.can())
		set(&c.item.Checked, c.on != nil && c.on())
		label := c.label
		switch c.name {
		case "undo":
			label = undoLabel(words.T("Undo"), f.house.NextUndo())
		case "redo":
			label = undoLabel(words.T("Redo"), f.house.NextRedo())
		}
		if c.item.Label != label {
			c.item.Label = label
			changed = true
		}
	}
	if m := f.win.MainMenu(); changed && m != nil {
		m.Refresh()
	}
}

func undoLabel(verb, what string) string {
	if what == "" {
		return verb
	}
	return verb + ": " + what
}

// writing is a field that is being written in.
type writing interface {
	fyne.Shortcutable
	SelectedText() string
}

// undoRedo undoes typing in a field that has the focus, else the last change of
// the catalogue.
func (f *Frame) undoRedo(sc fyne.Shortcut, do func(context.Context) (string, error), done string) {
	if e, ok := f.win.Canvas().Focused().(writing); ok {
		e.TypedShortcut(sc)
		return
	}
	f.work(func(ctx context.Context) func() {
		what, err := do(ctx)
		return func() {
			if err != nil {
				f.fail(err)
				return
			}
			f.tell(words.T(done, what))
		}
	})
}

func (f *Frame) commands() []*command {
	file, edit, plate, view, help := words.T("Catalogue"), words.T("Change"), words.T("Plate"), words.T("Show"), words.T("Help")
	table := words.T("Sheets")
	some := func() bool { return f.book != nil && f.book.plates[f.plate] != nil }
	write := func() bool { return !f.house.ReadOnly() }
	someWrite := func() bool { return some() && write() }
	at := func(i int) func() bool { return func() bool { return f.at == i } }
	atTable := func() bool { return f.at == AtTable && some() }
	t := f.places[AtTable].(*tablePlace)
	press := f.places[AtPress].(*pressPlace)
	desk := f.places[AtDesk].(*deskPlace)
	list := []*command{
		{name: "new", menu: file, label: words.T("New catalogue…"), key: fyne.KeyN, mod: ctrlShift, do: call(f.needs.New)},
		{name: "open", menu: file, label: words.T("Open a catalogue…"), key: fyne.KeyO, mod: ctrl, do: call(f.needs.Open)},
		{name: "recent", menu: file, label: words.T("Open one of the last…"), key: fyne.KeyO, mod: ctrlShift, do: f.openRecent, can: func() bool { return f.needs.OpenAt != nil }},
		{name: "open packed", menu: file, label: words.T("Open a packed catalogue…"), do: f.openPacked, can: func() bool { return f.needs.OpenAt != nil }},
		{name: "sample", menu: file, label: words.T("Open the sample catalogue"), do: call(f.needs.Sample)},
		{name: "take in", menu: file, label: words.T("Take photographs in…"), key: fyne.KeyI, mod: ctrl, do: f.pickPhotographs, can: write, line: true},
		{name: "take folder", menu: file, label: words.T("Take in a folder of photographs…"), key: fyne.KeyI, mod: ctrlShift, do: f.pickFolder, can: write},
		{name: "session", menu: file, label: words.T("Shooting session…"), key: fyne.KeyS, mod: fyne.KeyModifierControl | fyne.KeyModifierAlt, do: func() { f.goTo(AtCamera); f.places[AtCamera].(*cameraPlace).session("") }, can: write},
		{name: "watch", menu: file, label: words.T("Watch a folder…"), do: f.watchFolder, can: write, on: func() bool { return f.prefs.watched() != "" }},
		{name: "take table", menu: file, label: words.T("Take in a spreadsheet…"), key: fyne.KeyT, mod: ctrlShift, do: f.takeInTable, can: write, line: true},
		{name: "take works", menu: file, label: words.T("Take in a list of literature…"), do: f.takeInLiterature, can: write},
		{name: "take export", menu: file, label: words.T("Take in an exported catalogue…"), do: f.takeInExport, can: write},
		{name: "lay out", menu: file, label: words.T("Lay out the printed catalogue…"), key: fyne.KeyP, mod: ctrl, do: desk.layOut, line: true},
		{name: "records", menu: file, label: words.T("Print records of sheets…"), key: fyne.KeyP, mod: ctrlShift, do: func() { f.printSheets(PrintRecords) }, can: some},
		{name: "labels", menu: file, label: words.T("Print labels and slips…"), do: func() { f.printSheets(PrintLabels) }, can: some},
		{name: "day sheet", menu: file, label: words.T("Print the sheet of a printing day…"), do: func() { f.printSheets(PrintDay) }, can: some},
		{name: "export", menu: file, label: words.T("Export for others…"), key: fyne.KeyE, mod: ctrl, do: desk.export},
		{name: "pack", menu: file, label: words.T("Pack into one file…"), do: f.pack},
		{name: "verify", menu: file, label: words.T("Verify every byte"), do: f.verify},
		{name: "quit", menu: file, label: words.T("Leave"), key: fyne.KeyQ, mod: ctrl, do: f.win.Close, line: true},

		{name: "undo", menu: edit, label: words.T("Undo"), shortcut: &fyne.ShortcutUndo{}, do: func() { f.undoRedo(&fyne.ShortcutUndo{}, f.house.Undo, "Undone: %s") }},
		{name: "redo", menu: edit, label: words.T("Redo"), shortcut: &fyne.ShortcutRedo{}, do: func() { f.undoRedo(&fyne.ShortcutRedo{}, f.house.Redo, "Done again: %s") }},
		{name: "history", menu: edit, label: words.T("What was changed…"), key: fyne.KeyH, mod: ctrl, do: f.showHistory},
		{name: "find", menu: edit, label: words.T("Find a plate"), key: fyne.KeyF, mod: ctrl, do: func() { f.win.Canvas().Focus(f.list.search) }, line: true},

		{name: "name", menu: edit, label: words.T("Your name…"), do: f.askName},

		{name: "lists", menu: edit, label: words.T("People, papers and other lists…"), key: fyne.KeyL, mod: fyne.KeyModifierControl | fyne.KeyModifierAlt, do: func() { f.showLists(0) }, line: true},
		{name: "put together", menu: edit, label: words.T("Put the printed catalogue together…"), do: f.putTogether},
		{name: "imprint", menu: edit, label: words.T("Imprint…"), do: func() { f.showLists(len(desk.lists.kinds)) }},

		{name: "enter plate", menu: plate, label: words.T("Enter a plate…"), key: fyne.KeyN, mod: ctrl, do: f.enterPlate, can: write},
		{name: "enter state", menu: plate, label: words.T("Enter a state…"), do: f.enterState, can: someWrite},
		{name: "enter sheet", menu: plate, label: words.T("Enter a sheet…"), do: func() { f.goTo(AtDesk); desk.enterSheet() }, can: someWrite},
		{name: "enter edition", menu: plate, label: words.T("Enter an edition…"), do: f.enterEdition, can: someWrite},
		{name: "next plate", menu: plate, label: words.T("Next plate"), key: fyne.KeyDown, mod: ctrl, do: func() { f.list.next(1) }, line: true},
		{name: "previous plate", menu: plate, label: words.T("Previous plate"), key: fyne.KeyUp, mod: ctrl, do: func() { f.list.next(-1) }},
		{name: "pull", menu: plate, label: words.T("Pulled: write the next impression"), key: fyne.KeyReturn, mod: ctrl, do: press.pull, can: someWrite, line: true},
		{name: "unpull", menu: plate, label: words.T("Take back the last pull"), key: fyne.KeyBackspace, mod: ctrl, do: press.unpull, can: someWrite},
		{name: "big", menu: plate, label: words.T("Big type for the press"), key: fyne.KeyB, mod: ctrl, do: press.big, can: someWrite},

		{name: "blank", menu: table, label: words.T("The photograph shown is of a blank sheet"), do: f.places[AtCamera].(*cameraPlace).blankSheet, can: func() bool { return f.at == AtCamera && some() && write() }},
		{name: "score", menu: table, label: words.T("Measure this sheet"), key: fyne.KeyM, mod: ctrl, do: t.measureShown, can: func() bool { return atTable() && write() }},
		{name: "score all", menu: table, label: words.T("Measure every sheet of the plate"), key: fyne.KeyM, mod: ctrlShift, do: t.measureAll, can: someWrite},
		{name: "reference", menu: table, label: words.T("Make this sheet the reference pull"), key: fyne.KeyR, mod: ctrl, do: t.makeReference, can: func() bool { return atTable() && write() }},
		{name: "compare", menu: table, label: words.T("Find what changed since the state before"), do: t.findChanges, can: func() bool { return atTable() && write() }},
		{name: "draw region", menu: table, label: words.T("Draw a part of the plate…"), key: fyne.KeyD, mod: ctrl, do: func() { t.drawRegion("") }, can: func() bool { return atTable() && write() && !t.plate.MeasureSize().IsZero() }, line: true},
		{name: "regions", menu: table, label: words.T("Show the parts of the plate"), key: fyne.KeyR, mod: ctrlShift, do: t.showRegions, can: atTable, on: func() bool { return t.regions.all }},
		{name: "swap", menu: table, label: words.T("Change the two sheets about"), key: fyne.KeyX, mod: ctrlShift, do: t.swap, can: atTable, line: true},
		{name: "next sheet", menu: table, label: words.T("Next sheet"), key: fyne.KeyRight, mod: ctrl, do: func() { t.step(1) }, can: atTable},
		{name: "previous sheet", menu: table, label: words.T("Previous sheet"), key: fyne.KeyLeft, mod: ctrl, do: func() { t.step(-1) }, can: atTable},
	}
	for i, m := range []struct {
		label string
		key   fyne.KeyName
	}{{words.T("Side by side"), fyne.Key6}, {words.T("Divided by an edge"), fyne.Key7}, {words.T("In turn"), fyne.Key8}, {words.T("Difference"), fyne.Key9}, {words.T("All sheets in pull order"), fyne.Key5}} {
		list = append(list, &command{name: "way", menu: table, label: m.label, key: m.key, mod: ctrl, do: func() { t.modes.Choose(i) }, can: atTable,
			on: func() bool { return t.modes.Chosen == i }, line: i == 0})
	}
	for i, m := range []string{words.T("No map"), words.T("Map of ink loss"), words.T("Map of plate tone")} {
		list = append(list, &command{name: []string{"no map", "loss map", "tone map"}[i], menu: table, label: m, key: []fyne.KeyName{"", fyne.KeyG, fyne.KeyK}[i], mod: ctrl,
			do: func() { t.mapped.SetSelectedIndex(i) }, can: atTable, on: func() bool { return t.showMap == i }, line: i == 0})
	}
	for i, m := range []string{words.T("Press"), words.T("Camera"), words.T("Table"), words.T("Desk")} {
		list = append(list, &command{name: "place", menu: view, label: m, key: []fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4}[i], mod: ctrl,
			do: func() { f.goTo(i) }, on: at(i)})
	}
	return append(list,
		&command{name: "fit", menu: view, label: words.T("Whole sheet"), key: fyne.Key0, mod: ctrl, do: func() { f.viewer().FitAll() }, can: f.hasViewer, line: true},
		&command{name: "pixel", menu: view, label: words.T("Pixel for pixel"), key: fyne.Key0, mod: ctrlShift, do: func() { f.viewer().PixelForPixel() }, can: f.hasViewer},
		&command{name: "true", menu: view, label: words.T("True size"), key: fyne.KeyT, mod: ctrl, do: f.trueSize, can: f.hasViewer},
		&command{name: "loupe", menu: view, label: words.T("Loupe"), key: fyne.KeyL, mod: ctrl, do: t.loupe, can: atTable, on: func() bool { return t.view.Loupe() }},
		&command{name: "nearer", menu: view, label: words.T("Nearer"), key: fyne.KeyEqual, mod: ctrl, do: func() { f.viewer().ZoomBy(1.25) }, can: f.hasViewer},
		&command{name: "farther", menu: view, label: words.T("Farther"), key: fyne.KeyMinus, mod: ctrl, do: func() { f.viewer().ZoomBy(0.8) }, can: f.hasViewer},
		&command{name: "lamp", menu: view, label: words.T("Dark room"), key: fyne.KeyD, mod: ctrlShift, do: f.lamp, on: look.IsDark, line: true},
		&command{name: "larger", menu: view, label: words.T("Larger text"), key: fyne.KeyEqual, mod: ctrlShift, do: func() { f.textScale(0.1) }},
		&command{name: "smaller", menu: view, label: words.T("Smaller text"), key: fyne.KeyMinus, mod: ctrlShift, do: func() { f.textScale(-0.1) }},
		&command{name: "list", menu: view, label: words.T("Plate list"), key: fyne.KeyL, mod: ctrlShift, do: f.toggleList, on: func() bool { return f.list.box.Visible() }},
		&command{name: "language", menu: view, label: words.T("Language…"), do: f.chooseLanguage},
		&command{name: "rule", menu: view, label: words.T("Set true size with a ruler…"), do: f.setTrueSize},
		&command{name: "guide", menu: help, label: words.T("Guide to this place"), key: fyne.KeyF1, do: f.showGuide},
		&command{name: "keys", menu: help, label: words.T("Keys"), key: fyne.KeyF1, mod: ctrl, do: f.showKeys},
		&command{name: "cautions", menu: help, label: words.T("Working safely"), do: f.showCautions},
		&command{name: "about", menu: help, label: words.T("About Pullbook"), do: f.showAbout},
	)
}

func call(f func()) func() {
	return func() {
		if f != nil {
			f()
		}
	}
}

// trueSize shows a millimetre of the plate as one of the screen, by the ruler.
func (f *Frame) trueSize() {
	v := f.viewer()
	v.TrueScale = f.prefs.screenPerMM()
	v.TrueSize()
}

// lamp changes between the light and the dark room.
func (f *Frame) lamp() {
	t := look.Theme{Dark: !look.IsDark(), Scale: float32(f.prefs.p.FloatWithFallback(PrefScale, 1))}
	f.prefs.p.SetBool(PrefDark, t.Dark)
	f.app.Settings().SetTheme(t)
	f.refreshMenu()
}

// textScale makes the text larger or smaller, between 80 and 160 per cent.
func (f *Frame) textScale(by float64) {
	s := min(max(f.prefs.p.FloatWithFallback(PrefScale, 1)+by, 0.8), 1.6)
	f.prefs.p.SetFloat(PrefScale, s)
	f.app.Settings().SetTheme(look.Theme{Dark: look.IsDark(), Scale: float32(s)})
	f.root.Refresh()
}

func (f *Frame) toggleList() {
	if f.list.box.Visible() {
		f.list.box.Hide()
	} else {
		f.list.box.Show()
	}
	f.side.Box().Refresh()
	f.refreshMenu()
}
