package places

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// edit changes a copy of the plate in hand and keeps it.
func (d *deskPlace) edit(what string, change func(p *catalog.Plate) error) {
	d.editWith(what, func(p *catalog.Plate) ([]any, error) { return nil, change(p) })
}

// editWith is edit for a change that enters other records as well, which are
// kept in the same step.
func (d *deskPlace) editWith(what string, change func(p *catalog.Plate) ([]any, error)) {
	p := *d.plate
	if cur := d.f.book.plates[p.ID]; cur != nil {
		p = *cur
	}
	p.Titles = append([]catalog.Title(nil), p.Titles...)
	p.NotKnown = append([]string(nil), p.NotKnown...)
	records, err := change(&p)
	if err != nil {
		d.f.fail(err)
		return
	}
	d.f.save(words.T("edit %s of %s", what, p.Title()), append(records, &p)...)
}

// person finds somebody by name, or enters somebody new; an empty name is
// nobody.
func (d *deskPlace) person(name, role string) (catalog.ID, []any) {
	if name == "" {
		return "", nil
	}
	if id := idOf(d.b.peopleNames(), name); id != "" {
		return id, nil
	}
	x := &catalog.Person{ID: catalog.NewID(), Name: name, Roles: role}
	return x.ID, []any{x}
}

// groupsOf are the portfolios a plate belongs to, in words.
func (d *deskPlace) groupsOf(p *catalog.Plate) string {
	var l []string
	for _, id := range p.GroupIDs {
		if n := nameOf(d.b.groupNames(), id); n != "" {
			l = append(l, n)
		}
	}
	return strings.Join(l, "; ")
}

// setGroups reads the portfolios of a plate from titles with semicolons
// between, and enters those that are new.
func (d *deskPlace) setGroups(p *catalog.Plate, s string) (records []any) {
	p.GroupIDs = nil
	for _, t := range strings.Split(s, ";") {
		if t = strings.TrimSpace(t); t == "" {
			continue
		}
		id := idOf(d.b.groupNames(), t)
		if id == "" {
			g := &catalog.Group{ID: catalog.NewID(), Title: t, Kind: "portfolio"}
			id, records = g.ID, append(records, g)
		}
		p.GroupIDs = append(p.GroupIDs, id)
	}
	return records
}

// text is a one-line field of the plate.
func (d *deskPlace) text(what, now string, many bool, set func(p *catalog.Plate, s string) error) *field {
	return newField(now, many, func(s string) {
		d.edit(what, func(p *catalog.Plate) error { return set(p, s) })
	})
}

// row adds a name and a field to a list of facts.
func row(name string, o fyne.CanvasObject) []fyne.CanvasObject {
	return []fyne.CanvasObject{look.Small(name).Giving(), o}
}

// entry is the facts of the plate, edited in place.
func (d *deskPlace) entry() fyne.CanvasObject {
	p := d.plate
	other := ""
	for i, t := range p.Titles {
		if i > 0 {
			other += t.Text + "\n"
		}
	}
	var techs []string
	for _, t := range p.Techniques {
		techs = append(techs, words.T(string(t)))
	}
	var o []fyne.CanvasObject
	add := func(name string, x fyne.CanvasObject) { o = append(o, row(name, x)...) }
	add(words.T("Number"), d.text(words.T("number"), numberWords(p.Number), false, func(p *catalog.Plate, s string) error {
		r := notation.ParseNumber(s)
		p.Number = r.Number
		return nil
	}))
	add(words.T("Title"), d.text(words.T("title"), p.Title(), false, func(p *catalog.Plate, s string) error {
		if s == "" {
			return sentence("A plate needs a title; a supplied one in brackets will do.")
		}
		if len(p.Titles) == 0 {
			p.Titles = []catalog.Title{{Given: "artist"}}
		}
		p.Titles[0].Text = s
		return nil
	}))
	add(words.T("Other titles"), d.text(words.T("other titles"), strings.TrimSpace(other), true, func(p *catalog.Plate, s string) error {
		var l []catalog.Title
		if len(p.Titles) > 0 {
			l = p.Titles[:1]
		}
		for _, x := range lines(s) {
			l = append(l, catalog.Title{Text: x, Given: "other"})
		}
		p.Titles = l
		return nil
	}))
	add(words.T("Date"), d.text(words.T("date"), p.Date.Text, false, func(p *catalog.Plate, s string) error {
		p.Date = notation.ParseDate(s).Date
		return nil
	}))
	add(words.T("Printmaker"), newComboWith(nameOf(d.b.peopleNames(), p.MakerID), namesOf(d.b.peopleNames()), func(s string) {
		d.editWith(words.T("printmaker"), func(p *catalog.Plate) (records []any, err error) {
			p.MakerID, records = d.person(s, "printmaker")
			return records, nil
		})
	}))
	add(words.T("Technique"), d.text(words.T("technique"), strings.Join(techs, ", "), false, func(p *catalog.Plate, s string) error {
		p.Techniques = nil
		for _, t := range strings.Split(s, ",") {
			if t = strings.TrimSpace(t); t != "" {
				p.Techniques = append(p.Techniques, techniqueNamed(t))
			}
		}
		return nil
	}))
	add(words.T("Metal"), d.text(words.T("metal"), p.Metal, false, func(p *catalog.Plate, s string) error { p.Metal = s; return nil }))
	add(words.T("Plate mark"), d.size(words.T("plate mark"), p.Mark, func(p *catalog.Plate, s catalog.Size) { p.Mark = s }))
	add(words.T("The metal"), d.size(words.T("size of the metal"), p.Copper, func(p *catalog.Plate, s catalog.Size) { p.Copper = s }))
	fate := fateChoice(p.Fate, func(x catalog.Fate) {
		d.edit(words.T("fate"), func(p *catalog.Plate) error { p.Fate = x; return nil })
	})
	add(words.T("Fate of the metal"), fate)
	add(words.T("Limit of wear, %"), d.text(words.T("limit of wear"), limitText(p.LossLimit), false, func(p *catalog.Plate, s string) error {
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSuffix(s, "%"), ",", ".", 1), 64)
		if s == "" {
			v, err = 0, nil
		}
		if err != nil || v < 0 || v > 100 {
			return sentence("The limit of wear is a figure in per cent, such as 25; empty takes the catalogue's own.")
		}
		p.LossLimit = v / 100
		return nil
	}))
	add(words.T("In the plate"), d.text(words.T("inscriptions"), inscriptionText(p.Inscriptions), true, func(p *catalog.Plate, s string) error {
		p.Inscriptions = readInscriptions(s, p.Inscriptions)
		return nil
	}))
	add(words.T("Portfolios, series"), newComboWith(d.groupsOf(p), namesOf(d.b.groupNames()), func(s string) {
		d.editWith(words.T("portfolios"), func(p *catalog.Plate) ([]any, error) { return d.setGroups(p, s), nil })
	}))
	add(words.T("Subjects"), d.text(words.T("subjects"), strings.Join(p.Subjects, ", "), false, func(p *catalog.Plate, s string) error {
		p.Subjects = nil
		for _, x := range strings.Split(s, ",") {
			if x = strings.TrimSpace(x); x != "" {
				p.Subjects = append(p.Subjects, x)
			}
		}
		return nil
	}))
	add(words.T("Remarks"), d.text(words.T("remarks"), p.Remarks, true, func(p *catalog.Plate, s string) error { p.Remarks = s; return nil }))
	return look.Form(128, o...)
}

// fateChoice chooses what became of the metal.
func fateChoice(now catalog.Fate, chosen func(catalog.Fate)) *choice {
	fates := []catalog.Fate{"", catalog.FateKept, catalog.FateCancelled, catalog.FateDestroyed, catalog.FateLost, catalog.FateUnknown}
	texts := []string{words.T("not recorded")}
	for _, x := range fates[1:] {
		texts = append(texts, words.T(string(x)))
	}
	c := newSelect(texts, nil)
	c.SetSelectedIndex(max(slices.Index(fates, now), 0))
	c.OnChanged = func(string) { chosen(fates[max(c.SelectedIndex(), 0)]) }
	return c
}

func limitText(v float64) string {
	if v == 0 {
		return ""
	}
	return words.Num(100*v, 0)
}

// size is a height and a width in two fields.
func (d *deskPlace) size(what string, now catalog.Size, set func(*catalog.Plate, catalog.Size)) fyne.CanvasObject {
	h, w := "", ""
	if !now.IsZero() {
		h, w = trim(now.HeightMM), trim(now.WidthMM)
	}
	var fh, fw *field
	done := func(string) {
		if (fh.Text == "") != (fw.Text == "") {
			return // the other figure is still to come
		}
		s, err := readSize(fh.Text, fw.Text)
		if err != nil {
			d.f.fail(err)
			return
		}
		d.edit(what, func(p *catalog.Plate) error { set(p, s); return nil })
	}
	fh, fw = newField(h, false, done), newField(w, false, done)
	return look.Row(6, look.Wide(76, fh), look.Small("×"), look.Wide(76, fw), look.Small(words.T("mm, height × width")))
}

// inscriptionText writes inscriptions one to a line: text, place, medium.
func inscriptionText(l []catalog.Inscription) string {
	var out []string
	for _, i := range l {
		s := strings.ReplaceAll(i.Text, "\n", " / ")
		if i.Place != "" {
			s += " ; " + i.Place
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

func readInscriptions(s string, old []catalog.Inscription) []catalog.Inscription {
	var out []catalog.Inscription
	for k, l := range lines(s) {
		text, place, _ := strings.Cut(l, ";")
		i := catalog.Inscription{Medium: "in the plate"}
		if k < len(old) {
			i = old[k]
		}
		i.Text = strings.ReplaceAll(strings.TrimSpace(text), " / ", "\n")
		i.Place = strings.TrimSpace(place)
		out = append(out, i)
	}
	return out
}

func lines(s string) []string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

type sentenceError string

func (e sentenceError) Error() string { return string(e) }

// sentence is an error said to the user in the user's language.
func sentence(s string) error { return sentenceError(words.T(s)) }

// states shows each state as a card: description, date, the work that made it.
func (d *deskPlace) states() fyne.CanvasObject {
	col := look.Column(12)
	for _, s := range d.b.statesOf[d.plate.ID] {
		col.Add(look.Raised(d.stateCard(s)))
	}
	col.Add(container.NewHBox(look.NewButton(words.T("Enter a state…"), look.IconPlus, func() { d.f.run("enter state") })))
	return col
}

func (d *deskPlace) stateCard(s *catalog.State) fyne.CanvasObject {
	edit := func(what string, change func(*catalog.State)) func(string) {
		return func(string) {
			x := *s
			if cur := d.f.book.states[s.ID]; cur != nil {
				x = *cur
			}
			change(&x)
			d.f.save(words.T("edit %s of state %s", what, notation.Roman(s.N)), &x)
		}
	}
	var desc, date, remarks *field
	desc = newField(s.Description, true, func(t string) { edit(words.T("the description"), func(x *catalog.State) { x.Description = t })("") })
	date = newField(s.Date.Text, false, func(t string) {
		edit(words.T("date"), func(x *catalog.State) { x.Date = notation.ParseDate(t).Date })("")
	})
	remarks = newField(s.Remarks, true, func(t string) { edit(words.T("remarks"), func(x *catalog.State) { x.Remarks = t })("") })
	ref := words.T("none yet")
	if i := d.b.impressions[s.ReferenceID]; i != nil {
		ref = sheetName(i)
	}
	facts := look.Form(116,
		look.Small(words.T("Described")), desc, look.Small(words.T("Date")), date,
		look.Small(words.T("Reference pull")), look.Line(ref).Giving(),
		look.Small(words.T("Sheets")), look.Line(strconv.Itoa(len(d.b.inState(s.PlateID, s.ID)))),
		look.Small(words.T("Remarks")), remarks)
	col := look.Column(6, look.NewText(d.b.stateWords(s), look.Serif, look.TitleSize, look.Ink), facts)
	if len(s.Work) > 0 {
		col.Add(look.Label(words.T("Work on the metal")))
	}
	for _, w := range s.Work {
		col.Add(look.Para(workWords(w), true))
	}
	col.Add(container.NewHBox(look.QuietButton(words.T("Enter work…"), look.IconPlus, func() { d.enterWork(s) })))
	return col
}

// workWords is one entry of the work log in a line.
func workWords(w catalog.Work) string {
	parts := []string{words.T(string(w.Kind))}
	if w.Date.Text != "" {
		parts = append(parts, w.Date.Text)
	}
	if w.Mordant != "" {
		parts = append(parts, strings.TrimSpace(w.Mordant+" "+w.Strength))
	}
	if w.Minutes > 0 {
		parts = append(parts, words.T("%s minutes", trim(w.Minutes)))
	}
	if w.TemperatureC != 0 {
		parts = append(parts, trim(w.TemperatureC)+" °C")
	}
	if w.StoppedOut != "" {
		parts = append(parts, words.T("stopped out: %s", w.StoppedOut))
	}
	if w.Tool != "" {
		parts = append(parts, w.Tool)
	}
	if w.Note != "" {
		parts = append(parts, w.Note)
	}
	return strings.Join(parts, " · ")
}

// enterWork asks for one piece of work on the metal.
func (d *deskPlace) enterWork(s *catalog.State) {
	kinds := []catalog.WorkKind{catalog.WorkBite, catalog.WorkBurin, catalog.WorkDrypoint, catalog.WorkBurnish, catalog.WorkScrape, catalog.WorkAquatint, catalog.WorkSteelFace, catalog.WorkRecut, catalog.WorkClean}
	var names []string
	for _, k := range kinds {
		names = append(names, words.T(string(k)))
	}
	caution := container.NewStack()
	kind := newSelect(names, nil)
	mordant, strength, temp, minutes, stop, date, note := blank(), blank(), blank(), blank(), blank(), blank(), blank()
	warn := func(string) {
		caution.RemoveAll()
		switch kinds[max(kind.SelectedIndex(), 0)] {
		case catalog.WorkBite:
			caution.Add(look.Caution(biteCaution(mordant.Text) + " " + defers()))
		case catalog.WorkAquatint:
			caution.Add(look.Caution(words.T("Rosin dust can explode and makes lungs sensitive: mask, closed box, no spark or flame.") + " " + defers()))
		}
		caution.Refresh()
	}
	kind.OnChanged, mordant.OnChanged = warn, warn
	kind.SetSelectedIndex(0)
	form := look.Form(130, look.Small(words.T("Work")), kind, look.Small(words.T("Date")), date,
		look.Small(words.T("Mordant")), mordant, look.Small(words.T("Strength")), strength, look.Small(words.T("Temperature, °C")), temp,
		look.Small(words.T("Minutes")), minutes, look.Small(words.T("Stopped out")), stop, look.Small(words.T("Note")), note)
	d.f.dialog(words.T("Work on the metal"), look.Column(8, form, caution), fyne.NewSize(520, 500), words.T("Enter it"), func() error {
		w := catalog.Work{Kind: kinds[max(kind.SelectedIndex(), 0)], Date: notation.ParseDate(date.Text).Date, Note: note.Text, Mordant: mordant.Text, Strength: strength.Text, StoppedOut: stop.Text}
		for _, x := range []struct {
			to *float64
			s  string
		}{{&w.TemperatureC, temp.Text}, {&w.Minutes, minutes.Text}} {
			if x.s == "" {
				continue
			}
			v, err := strconv.ParseFloat(strings.Replace(x.s, ",", ".", 1), 64)
			if err != nil {
				return sentence("Temperature and minutes are figures, such as 20 and 12.")
			}
			*x.to = v
		}
		st := *s
		st.Work = append(append([]catalog.Work(nil), s.Work...), w)
		d.f.save(words.T("enter work on state %s", notation.Roman(s.N)), &st)
		return nil
	})
}
