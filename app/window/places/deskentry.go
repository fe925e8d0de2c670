package places

import (
	"slices"
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

// row adds a name and a field to a list of facts.
func row(name string, o fyne.CanvasObject) []fyne.CanvasObject {
	return []fyne.CanvasObject{look.Small(name).Giving(), o}
}

// fates are what may have become of the metal.
var fates = []catalog.Fate{"", catalog.FateKept, catalog.FateCancelled, catalog.FateDestroyed, catalog.FateLost, catalog.FateUnknown}

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
	col := look.Column(6, look.NewText(d.b.stateWords(s), look.Serif, look.TitleSize, look.Ink), d.stateFacts(s))
	accepted := look.Column(2)
	for _, c := range s.Changes {
		if c.Ruling == "accepted" {
			accepted.Add(look.Para(c.Words, true))
		}
	}
	if len(accepted.Objects) > 0 {
		col.Add(look.Label(words.T("Changes accepted")))
		col.Add(accepted)
	}
	if len(s.Work) > 0 {
		col.Add(look.Label(words.T("Work on the metal")))
	}
	for k, w := range s.Work {
		change := look.Row(0, look.QuietButton(words.T("Change…"), "", func() { d.enterWork(s, k) }),
			look.QuietButton("", look.IconCross, func() {
				st := *s
				st.Work = slices.Delete(slices.Clone(s.Work), k, k+1)
				d.f.save(words.T("remove work on state %s", notation.Roman(s.N)), &st)
			}))
		col.Add(look.Border(nil, nil, nil, change, look.Para(workWords(w), true)))
	}
	col.Add(container.NewHBox(look.QuietButton(words.T("Enter work…"), look.IconPlus, func() { d.enterWork(s, len(s.Work)) })))
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

// workKinds are the kinds of work on the metal as they are offered.
var workKinds = []catalog.WorkKind{catalog.WorkBite, catalog.WorkBurin, catalog.WorkDrypoint, catalog.WorkBurnish, catalog.WorkScrape, catalog.WorkAquatint,
	catalog.WorkSteelFace, catalog.WorkRecut, catalog.WorkClean}

// enterWork asks for one piece of work on the metal: the k-th of the state's, or
// a new one after the last.
func (d *deskPlace) enterWork(s *catalog.State, k int) {
	w := catalog.Work{Kind: catalog.WorkBite}
	if k < len(s.Work) {
		w = s.Work[k]
	}
	caution := container.NewStack()
	wrong := words.T("Temperature and minutes are figures, such as 20 and 12.")
	kind := oneOf(words.T("Work"), &w.Kind, workKinds...)
	common := []fact{kind, dated(words.T("Date"), &w.Date), line(words.T("Tool"), &w.Tool)}
	mordant := line(words.T("Mordant"), &w.Mordant)
	bite := []fact{mordant, line(words.T("Strength"), &w.Strength), degrees(words.T("Temperature, °C"), &w.TemperatureC, wrong),
		amount(words.T("Minutes"), &w.Minutes, 1, wrong), line(words.T("Stopped out"), &w.StoppedOut)}
	note := []fact{longText(words.T("Note"), &w.Note)}
	ofBite := factForm(130, bite)
	warn := func() {
		chosen := workKinds[max(kind.field.(*choice).SelectedIndex(), 0)]
		ofBite.Hidden = chosen != catalog.WorkBite
		caution.RemoveAll()
		if c := d.f.cautionFor(chosen, mordant.field.(*field).Text); c != nil {
			caution.Add(c)
		}
		caution.Refresh()
	}
	kind.left(warn)
	mordant.field.(*field).OnChanged = func(string) { warn() }
	warn()
	d.f.dialog(words.T("Work on the metal"), look.Column(8, factForm(130, common), ofBite, factForm(130, note), caution), fyne.NewSize(560, 560), words.T("Enter it"), func() error {
		if err := takeAll(slices.Concat(common, bite, note)); err != nil {
			return err
		}
		st := *s
		st.Work = slices.Clone(s.Work)
		if k < len(st.Work) {
			st.Work[k] = w
		} else {
			st.Work = append(st.Work, w)
		}
		d.f.cautioned(w.Kind, w.Mordant)
		d.f.save(words.T("enter work on state %s", notation.Roman(s.N)), &st)
		return nil
	})
}
