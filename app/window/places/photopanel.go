package places

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// photoPanel is what is known of the photograph shown: where it belongs, its
// plate mark, its quality.
type photoPanel struct {
	c      *cameraPlace
	item   trayItem
	name   *look.Text
	plate  *choice
	state  *choice
	sheet  *choice
	view   *choice
	sure   *look.Gauge
	why    *look.Text
	rests  *look.Paragraph
	do     *look.Button
	mark   *look.Paragraph
	marks  *look.Text
	found  *fyne.Container
	judged *fyne.Container
	blank  *look.Button
	wedge  *look.Button
	set    *look.Paragraph // the session it belongs to
	belong *fyne.Container
	box    fyne.CanvasObject
	plates []catalog.ID
	states []catalog.ID
	sheets []catalog.ID
	quiet  bool
}

func newPhotoPanel(c *cameraPlace) *photoPanel {
	p := &photoPanel{c: c, name: look.Title("").Giving(), sure: look.NewGauge(look.Within), why: look.Small("").Giving(), rests: look.Para("", true), mark: look.Para("", false), found: look.Column(6)}
	p.plate = newSelect(nil, func(string) { p.picked(0) })
	p.state = newSelect(nil, func(string) { p.picked(1) })
	p.sheet = newSelect(nil, func(string) { p.picked(2) })
	p.view = newSelect(nil, func(string) { p.viewPicked() })
	p.do = look.StrongButton(words.T("Confirm"), look.IconTick, p.confirmThis)
	p.blank = look.QuietButton(words.T("This is a blank sheet"), look.IconSheet, p.c.blankSheet)
	p.wedge = look.QuietButton(words.T("This is the grey wedge…"), look.IconRuler, func() { c.session(p.item.taken.PhotoID) })
	p.set = look.Para("", true)
	p.marks = look.Label(words.T("Plate mark"))
	p.belong = look.Column(7, look.Label(words.T("Where it belongs")),
		labelled(words.T("Plate"), p.plate), labelled(words.T("State"), p.state), labelled(words.T("Sheet"), p.sheet), labelled(words.T("It shows"), p.view),
		p.why, p.sure, p.rests, p.do, look.HRule())
	p.judged = look.Column(7, look.HRule(), look.Label(words.T("The photograph")), p.found)
	col := look.Column(7, p.name, p.belong, p.marks, p.mark,
		p.judged,
		look.HRule(), look.Label(words.T("Light and camera")), p.set, look.QuietButton(words.T("Shooting session…"), look.IconLamp, func() { c.session("") }), p.blank, p.wedge)
	p.box = look.OnPanel(container.NewVScroll(look.InsetEach(col, 14, 12, 14, 28)))
	return p
}

// show fills the panel for a photograph.
func (p *photoPanel) show(b *book, it trayItem) {
	if it.taken.PhotoID != p.item.taken.PhotoID {
		p.mark.SetText("")
		p.found.RemoveAll()
	}
	p.item = it
	p.name.SetText(it.taken.Name)
	photo := b.photos[it.taken.PhotoID]
	write := photo != nil && !p.c.f.house.ReadOnly()
	p.blank.SetOn(photo != nil && photo.View == catalog.ViewBlank)
	p.blank.SetEnabled(write && photo.View != catalog.ViewWedge)
	p.wedge.SetOn(photo != nil && photo.View == catalog.ViewWedge)
	p.wedge.SetEnabled(write && photo.View != catalog.ViewBlank)
	p.set.SetText(sessionWords(b, photo))
	aid := photo != nil && isAid(photo)
	p.belong.Hidden, p.judged.Hidden = aid, aid
	p.fill(b)
}

// fill sets the three choices from the item.
func (p *photoPanel) fill(b *book) {
	p.quiet = true
	defer func() { p.quiet = false }()
	t := p.item.taken
	p.plates, p.states, p.sheets = nil, nil, nil
	set := func(s *choice, names []string, ids []catalog.ID, now catalog.ID) {
		s.Options = names
		s.ClearSelected()
		for i, id := range ids {
			if id == now {
				s.SetSelectedIndex(i)
			}
		}
		s.Refresh()
	}
	var names []string
	for i := range b.Plates {
		pl := &b.Plates[i]
		names = append(names, strings.TrimSpace(numberWords(pl.Number)+"  "+pl.Title()))
		p.plates = append(p.plates, pl.ID)
	}
	set(p.plate, names, p.plates, t.PlateID)
	names = nil
	for _, s := range b.statesOf[t.PlateID] {
		names = append(names, b.stateWords(s))
		p.states = append(p.states, s.ID)
	}
	set(p.state, names, p.states, t.StateID)
	names = nil
	if p.item.waiting {
		names, p.sheets = append(names, words.T("a new sheet")), append(p.sheets, "")
	}
	for _, i := range b.inState(t.PlateID, t.StateID) {
		names = append(names, sheetName(i))
		p.sheets = append(p.sheets, i.ID)
	}
	if t.PlateID == "" || t.StateID == "" {
		names, p.sheets = nil, nil
	}
	set(p.sheet, names, p.sheets, t.ImpressionID)
	names = nil
	for _, v := range views {
		names = append(names, words.T(string(v)))
	}
	p.view.Options = names
	p.view.ClearSelected()
	if i := slices.Index(views, t.View); i >= 0 {
		p.view.SetSelectedIndex(i)
	}
	p.do.SetEnabled(t.PlateID != "" && t.View != "" && t.Refused == "" && !p.c.f.house.ReadOnly())
	p.do.Hidden = !p.item.waiting
	p.sure.Set(t.Sure)
	rests := t.Words
	if !p.item.waiting {
		rests = spaced(rests, scoredFrom(b, b.photos[t.PhotoID]))
	}
	p.rests.SetText(rests)
	p.rests.Hidden = rests == ""
	switch {
	case t.Refused != "":
		p.why.SetText(t.Refused)
	case t.Why != "" && t.PlateID != "":
		p.why.SetText(words.T("%s, sure to %s", words.T(t.Why), words.Percent(t.Sure, 0)))
	default:
		p.why.SetText(words.T("It could not be told what this shows."))
	}
}

// picked takes a choice over; what it makes impossible is cleared.
func (p *photoPanel) picked(which int) {
	if p.quiet || p.c.f.book == nil {
		return
	}
	t := &p.item.taken
	pick := func(s *choice, ids []catalog.ID) catalog.ID {
		if i := s.SelectedIndex(); i >= 0 && i < len(ids) {
			return ids[i]
		}
		return ""
	}
	switch which {
	case 0:
		t.PlateID, t.StateID, t.ImpressionID = pick(p.plate, p.plates), "", ""
		if l := p.c.f.book.statesOf[t.PlateID]; len(l) > 0 {
			t.StateID = l[len(l)-1].ID
		}
	case 1:
		t.StateID, t.ImpressionID = pick(p.state, p.states), ""
	case 2:
		t.ImpressionID = pick(p.sheet, p.sheets)
	}
	t.Why, t.Sure, t.Words = "by hand", 1, ""
	p.changed()
}

// views are what a photograph of a sheet can show.
var views = []catalog.View{catalog.ViewWhole, catalog.ViewDetail, catalog.ViewRaking, catalog.ViewTransmitted}

// viewPicked takes over what the photograph shows.
func (p *photoPanel) viewPicked() {
	if i := p.view.SelectedIndex(); !p.quiet && p.c.f.book != nil && i >= 0 {
		p.item.taken.View = views[i]
		p.changed()
	}
}

// changed keeps what was chosen by hand: at once where the photograph is filed,
// else until it is confirmed.
func (p *photoPanel) changed() {
	t := &p.item.taken
	p.fill(p.c.f.book)
	if !p.item.waiting && t.ImpressionID != "" { // filed elsewhere by hand
		p.c.confirm([]Taken{*t})
		return
	}
	for i := range p.c.waiting {
		if p.c.waiting[i].PhotoID == t.PhotoID {
			p.c.waiting[i] = *t
			p.c.list(p.c.f.book)
			return
		}
	}
	p.c.waiting = append(p.c.waiting, *t)
	p.c.list(p.c.f.book)
}

// confirmThis files the photograph shown.
func (p *photoPanel) confirmThis() {
	t := p.item.taken
	if p.item.waiting && t.PlateID != "" && t.View != "" && t.Refused == "" {
		p.c.confirm([]Taken{t})
	}
}

// report shows the plate mark and the quality, or why that cannot be told.
func (p *photoPanel) report(r *Report, reason string) {
	mark := words.T("Plate mark")
	if r.Wedge != nil {
		mark = words.T("Grey wedge")
	}
	p.marks.SetText(mark)
	switch {
	case r.Wedge != nil:
		p.mark.SetText(spaced(r.Wedge.words(), words.T("Where its steps are not found set the four corners of their row by hand.")))
	case r.Refused != "":
		p.mark.SetText(r.Refused)
	case r.HasMark && r.MarkBy == "by hand":
		p.mark.SetText(words.T("Set by hand. Drag a corner to set it anew, or choose it with 1 to 4 and move it with the arrows."))
	case r.HasMark:
		p.mark.SetText(words.T("Found, sure to %s. Where it is wrong drag a corner, or choose it with 1 to 4 and move it with the arrows.", words.Percent(r.MarkSure, 0)))
	default:
		p.mark.SetText(words.T("Not looked for yet. Drag the four corners to those of the plate."))
	}
	p.found.RemoveAll()
	if len(r.Findings) == 0 && r.Wedge == nil {
		if reason == "" {
			reason = words.T("It is being judged.")
		}
		p.found.Add(look.Para(reason, true))
	}
	for _, x := range r.Findings {
		v := look.IsWithin
		if x.Stars < 2 {
			v = look.IsOutside
		} else if x.Stars < 3 {
			v = look.CannotTell
		}
		p.found.Add(look.Border(nil, nil, look.InsetEach(look.NewMark(v), 0, 0, 6, 0), look.Small(x.Value), look.Line(words.T(x.What)).Giving()))
		if x.Advice != "" {
			p.found.Add(look.Para(x.Advice, true))
		}
	}
	p.found.Refresh()
}

// watchFolder starts or ends the watch.
func (f *Frame) watchFolder() {
	c := f.places[AtCamera].(*cameraPlace)
	if c.watch == nil {
		c.watch = newWatcher(f)
	}
	if f.prefs.watched() != "" {
		f.prefs.setWatched("")
		c.watch.end()
		f.tell(words.T("The folder is no longer watched"))
		f.refreshMenu()
		return
	}
	f.folder(func(path string) {
		f.prefs.setWatched(path)
		c.watch.start(path)
		f.tell(words.T("Watching %s for new photographs", filepath.Base(path)))
		f.refreshMenu()
	})
}

// spaced joins sentences.
func spaced(a, b string) string { return strings.TrimSpace(a + " " + b) }
