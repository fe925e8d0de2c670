package places

import (
	"context"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// scorePanel tells of the sheet in question: its scores, what changed in its
// state, what was decided.
type scorePanel struct {
	t       *tablePlace
	imp     *catalog.Impression
	name    *look.Text
	under   *look.Text
	mark    *look.Mark
	verdict *look.Text
	reason  *look.Paragraph
	facts   *fyne.Container
	acts    *fyne.Container
	changes *fyne.Container
	rows    []*changeRow
	regions *fyne.Container

	regionRows []*regionRow

	why     *field
	deeds   []*look.Button
	decided *look.Paragraph
	scroll  *container.Scroll
	box     fyne.CanvasObject
}

// deeds are what can be decided of a sheet, by the words the catalogue keeps.
var deeds = []string{"keep", "sign", "proof", "tear up"}

func newScorePanel(t *tablePlace) *scorePanel {
	p := &scorePanel{t: t, name: look.Head("").Giving(), under: look.Small("").Giving(), mark: look.NewMark(look.NoVerdict),
		verdict: look.NewText("", look.Bold, "text", look.Ink).Giving(), reason: look.Para("", true),
		facts: look.Facts(112), acts: look.Column(4), changes: look.Column(2), regions: look.Column(3), decided: look.Para("", true)}
	p.why = newField("", true, nil)
	p.why.Wrapping = fyne.TextWrapWord
	p.why.SetMinRowsVisible(2)
	p.why.SetPlaceHolder(words.T("The reason, in a word or two"))
	grid := container.NewGridWithColumns(2)
	for i, s := range []string{words.T("Keep"), words.T("Sign"), words.T("Proof"), words.T("Tear up")} {
		b := look.NewButton(s, "", func() { p.decide(deeds[i]) })
		p.deeds = append(p.deeds, b)
		grid.Add(b)
	}
	col := look.Column(7, p.name, p.under,
		look.Stretch(look.Row(7, p.mark, p.verdict), p.verdict), p.reason, p.facts, p.acts,
		look.HRule(), look.Label(words.T("Decision")), p.why, grid, p.decided,
		look.HRule(), look.Label(words.T("Parts of the plate")), p.regions,
		look.HRule(), look.Label(words.T("Changed since the state before")), p.changes)
	p.scroll = container.NewVScroll(look.Inset(col, 14, 12))
	p.box = look.OnPanel(p.scroll)
	return p
}

// show fills the panel for a sheet.
func (p *scorePanel) show(b *book, id catalog.ID) {
	i := b.impressions[id]
	if i == nil {
		return
	}
	other := p.imp == nil || p.imp.ID != i.ID
	p.imp = i
	sc := b.scoreOf[id]
	p.name.SetText(sheetName(i))
	under := b.stateWords(b.states[i.StateID])
	if i.Pull > 0 {
		under += " · " + words.T("pull %d", i.Pull)
	}
	if pa := b.papers[i.PaperID]; pa != nil {
		under += " · " + pa.Name
	}
	p.under.SetText(under)
	v := verdictOf(sc)
	p.mark.Set(v)
	p.verdict.SetText(verdictWords(sc))
	p.verdict.SetColour(v.Colour())
	if v == look.NoVerdict || v == look.IsRefused {
		p.verdict.SetColour(look.Ink)
	}
	p.showScores(b, i, sc)
	p.showRegions(sc)
	p.showChanges(b, b.states[i.StateID])
	if other || p.why.Text == "" {
		p.why.SetText(i.Decision.Reason)
	}
	p.decided.SetText("")
	for k, d := range deeds {
		p.deeds[k].SetOn(i.Decision.Verdict == d)
		p.deeds[k].SetEnabled(!p.t.f.house.ReadOnly())
	}
	if i.Decision.Verdict != "" {
		say := words.T("Decided %s", words.Day(i.Decision.At))
		if i.Decision.By != "" {
			say = words.T("Decided %s by %s", words.Day(i.Decision.At), i.Decision.By)
		}
		p.decided.SetText(say)
	}
	p.scroll.Content.Refresh()
}

func (p *scorePanel) showScores(b *book, i *catalog.Impression, sc *catalog.Score) {
	p.facts.RemoveAll()
	p.acts.RemoveAll()
	p.reason.SetText("")
	st := b.states[i.StateID]
	isRef := st != nil && st.ReferenceID == i.ID
	switch {
	case isRef:
		p.verdict.SetText(words.T("reference pull of this state"))
		p.mark.Set(look.IsWithin)
	case sc != nil && sc.Reason != "":
		p.reason.SetText(words.Say(sc.Why()))
	case sc == nil && st != nil && st.ReferencePhotoID == "":
		p.reason.SetText(words.T("This state has no reference pull yet. Choose the approved sheet and make it the reference pull."))
	}
	p.reason.Hidden = p.reason.Words() == ""
	if sc != nil && sc.Verdict != "refused" {
		p.scoreFacts(sc)
		if from := b.photos[sc.PhotoID]; from != nil && len(b.photosOf[i.ID]) > 1 {
			p.facts.Add(look.Small(words.T("Measured on")).Giving())
			p.facts.Add(look.Line(from.Name).Giving())
		}
	}
	write := !p.t.f.house.ReadOnly()
	measure := look.NewButton(words.T("Measure"), look.IconRuler, p.t.measureShown)
	if sc != nil {
		measure.SetText(words.T("Measure again"))
	}
	measure.SetEnabled(write && st != nil && st.ReferencePhotoID != "")
	p.acts.Add(measure)
	if !isRef {
		ref := look.QuietButton(words.T("Make it the reference pull"), look.IconTick, p.t.makeReference)
		ref.SetEnabled(write && st != nil)
		p.acts.Add(ref)
	}
}

// scoreFacts lists the measured quantities, each with its uncertainty.
func (p *scorePanel) scoreFacts(sc *catalog.Score) {
	add := func(name, value string) {
		p.facts.Add(look.Small(name).Giving())
		p.facts.Add(look.Line(value).Giving())
	}
	share := func(name string, v *catalog.Value) {
		if v == nil {
			return
		}
		add(name, words.Percent(v.V, 1)+"  ± "+words.Percent(v.U, 1))
	}
	density := func(name string, v *catalog.Value) {
		if v != nil {
			add(name, words.Num(v.V, 3)+"  ± "+words.Num(v.U, 3)+" D")
		}
	}
	share(words.T("Ink loss"), sc.InkLoss)
	share(words.T("Wear loss"), sc.WearLoss)
	share(words.T("Burr loss"), sc.BurrLoss)
	share(words.T("Lines lost"), sc.LinesLost)
	if v := sc.OverInking; v != nil {
		add(words.T("Inking"), inkingWords(*v))
	}
	density(words.T("Plate tone"), sc.PlateTone)
	density(words.T("Unevenness"), sc.ToneUnevenness)
	if sc.Limit > 0 {
		add(words.T("Limit of ink loss"), words.Percent(sc.Limit, 0))
	}
	if sc.RegistrationMM > 0 {
		fit := words.Num(max(sc.RegistrationMM, 0.01), 2) + " mm"
		if sc.RegistrationMM < 0.01 {
			fit = words.T("under %s", fit)
		}
		add(words.T("The lines agree to"), fit)
	}
	p.facts.Refresh()
}

// inkingWords says by how much a sheet is inked more or less than the reference
// pull.
func inkingWords(v catalog.Value) string {
	much := words.Percent(math.Abs(v.V), 1)
	unsure := "  ± " + words.Percent(v.U, 1)
	switch {
	case much == words.Percent(0, 1):
		return words.T("as the reference pull") + unsure
	case v.V < 0:
		return words.T("%s less", much) + unsure
	}
	return words.T("%s more", much) + unsure
}

func (p *scorePanel) showChanges(b *book, st *catalog.State) {
	p.changes.RemoveAll()
	p.rows = nil
	switch {
	case st == nil:
		p.changes.Add(look.Para(words.T("The state of this sheet is not told yet."), true))
		return
	case len(st.Changes) == 0 && st.N > 1:
		p.changes.Add(look.Para(words.T("Not looked for yet."), true))
		find := look.NewButton(words.T("Find changes since %s", notation.Roman(st.N-1)), look.IconEye, p.t.findChanges)
		find.SetEnabled(!p.t.f.house.ReadOnly())
		p.changes.Add(find)
		return
	case len(st.Changes) == 0:
		p.changes.Add(look.Para(words.T("This is the first state."), true))
		return
	}
	for k, c := range st.Changes {
		r := newChangeRow(p, st, k, c)
		p.rows = append(p.rows, r)
		p.changes.Add(r)
	}
	if withChanges(st) != st.Description && !p.t.f.house.ReadOnly() {
		p.changes.Add(look.NewButton(words.T("Add the accepted to the description"), look.IconPage, func() { p.describe(st) }))
	}
	p.choose(p.t.changes)
}

func (p *scorePanel) choose(k int) {
	for i, r := range p.rows {
		r.chosen = i == k
		r.Refresh()
	}
}

// rule records whether a change is accepted.
func (p *scorePanel) rule(st *catalog.State, k int, ruling string) {
	s := *st
	s.Changes = append([]catalog.Change(nil), st.Changes...)
	if s.Changes[k].Ruling == ruling {
		ruling = ""
	}
	s.Changes[k].Ruling = ruling
	p.t.f.save(words.T("rule on a change"), &s)
}

// decide records a decision with its reason.
func (p *scorePanel) decide(verdict string) {
	if p.imp == nil {
		return
	}
	f, id := p.t.f, p.imp.ID
	if p.imp.Decision.Verdict == verdict && p.imp.Decision.Reason == p.why.Text {
		verdict = "" // taken back
	}
	d := catalog.Decision{Verdict: verdict, Reason: p.why.Text, By: f.prefs.by(), At: time.Now().UTC().Truncate(time.Second)}
	f.change(func(ctx context.Context) error { return f.house.Decide(ctx, id, d) })
}

// changeRow is one change: click it to go there, accept it or reject it.
type changeRow struct {
	widget.BaseWidget
	p      *scorePanel
	k      int
	chosen bool
	bed    *look.Fill
	box    *fyne.Container
}

func newChangeRow(p *scorePanel, st *catalog.State, k int, c catalog.Change) *changeRow {
	r := &changeRow{p: p, k: k, bed: look.NewFill("")}
	icon := look.IconPlus
	if c.Kind == "removed" {
		icon = look.IconCross
	}
	say := changeSay(c)
	if c.Ruling == "rejected" {
		say = words.T("rejected: %s", say)
	}
	text := look.Para(say, false)
	yes := look.QuietButton("", look.IconTick, func() { p.rule(st, k, "accepted") })
	yes.SetOn(c.Ruling == "accepted")
	no := look.QuietButton("", look.IconCross, func() { p.rule(st, k, "rejected") })
	no.SetOn(c.Ruling == "rejected")
	own := look.QuietButton("", look.IconLetters, func() { p.openChange(st, k) })
	buttons := look.Row(0, own, yes, no)
	if c.Kind == catalog.CannotSee { // a gap in what was seen, nothing to rule on
		icon, buttons = look.IconWarn, look.Row(0)
	}
	r.box = container.NewStack(r.bed, look.Border(nil, nil,
		look.Inset(look.NewDrawn(icon, changeColour(c), 14), 4, 0), buttons, text))
	r.ExtendBaseWidget(r)
	return r
}

// Tapped goes to the change.
func (r *changeRow) Tapped(*fyne.PointEvent) {
	r.p.t.goToChange(r.k)
	r.p.choose(r.k)
}

// Refresh shows whether it is the chosen one.
func (r *changeRow) Refresh() {
	if r.chosen {
		r.bed.SetColour(look.Chosen)
	} else {
		r.bed.SetColour("")
	}
	r.BaseWidget.Refresh()
}

// CreateRenderer is the toolkit's hook.
func (r *changeRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }
