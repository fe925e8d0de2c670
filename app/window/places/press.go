package places

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// pressPlace is the printing-day log: choose plate and state once, then one
// key a pull.
type pressPlace struct {
	f     *Frame
	work  map[catalog.ID]*pullWork // by plate
	plate *catalog.Plate
	rows  []dayRow
	rack  []*catalog.Impression

	box      *fyne.Container
	full     fyne.CanvasObject
	state    *choice
	forWhat  *choice
	paper    *combo
	ink      *combo
	wiping   *field
	next     *look.Text
	nextSub  *look.Text
	nextBox  *fyne.Container
	warn     *look.Paragraph
	warnBox  fyne.CanvasObject
	log      *rowList
	dayHead  *look.Text
	logTop   *fyne.Container // fields, next sheet and warning, above the log
	logBox   *fyne.Container
	sideTop  *fyne.Container // life, edition and the rack's heading, above the rack
	sideBox  *fyne.Container
	laid     [2]float32 // heights for which log and rack were laid out
	logEmpty fyne.CanvasObject
	life     *look.Life
	lifeBox  *fyne.Container
	lifeSay  *look.Paragraph
	edGauge  *look.Gauge
	edSay    *look.Text
	pulls    *look.Text
	hung     *rowList
	hungSay  *look.Text
	cautions *fyne.Container
	stateIDs []catalog.ID
	quiet    bool
}

func newPressPlace(f *Frame) *pressPlace {
	p := &pressPlace{f: f, work: map[catalog.ID]*pullWork{}, box: container.NewStack()}
	p.state = newSelect(nil, func(string) { p.chosen() })
	p.forWhat = newSelect(nil, func(string) { p.chosen() })
	p.paper, p.ink, p.wiping = newCombo(nil), newCombo(nil), blank()
	p.wiping.SetPlaceHolder(words.T("how it was wiped"))
	p.paper.SetPlaceHolder(words.T("name of the paper"))
	p.ink.SetPlaceHolder(words.T("name of the ink"))
	for _, e := range []*widget.Entry{&p.paper.Entry, &p.ink.Entry, &p.wiping.Entry} {
		e.OnChanged = func(string) { p.carry() }
	}
	side := look.NewSide(p.buildSide(), p.buildLog(), 300, 250, true)
	p.full = side.Box()
	return p
}

func (p *pressPlace) content() fyne.CanvasObject { return p.box }

func (p *pressPlace) buildLog() fyne.CanvasObject {
	p.next = look.NewText("", look.Serif, look.HeadSize, look.Ink).Times(2.3)
	p.nextSub = look.Small("").Giving()
	pull := look.StrongButton(words.T("Pulled"), look.IconPress, p.pull).Large()
	back := look.QuietButton(words.T("Take back the last"), look.IconUndo, p.unpull)
	big := look.QuietButton(words.T("Big type"), look.IconLetters, p.big)
	fields := look.Column(8,
		container.New(shares{[]float32{2, 5}, 30}, labelled(words.T("State"), p.state), labelled(words.T("Printing"), p.forWhat)),
		container.New(shares{[]float32{5, 4.6, 5}, 30}, labelled(words.T("Paper"), p.paper), labelled(words.T("Ink"), p.ink), labelled(words.T("Wiping"), p.wiping)))
	p.nextBox = look.Beside(look.Column(0, look.Label(words.T("Next sheet")), p.next, p.nextSub),
		look.Inset(look.Middle(look.Column(8, pull, look.Row(4, back, big))), 14, 0))
	p.warn = look.Para("", false)
	p.warnBox = look.Border(nil, nil, look.InsetEach(look.NewDrawn(look.IconWarn, look.Unsure, 18), 0, 0, 9, 0), nil, p.warn)
	p.warnBox.Hide()
	p.log = newRowList(func() int { return len(p.rows) }, newLogRow, func(i int, o fyne.CanvasObject) {
		o.(*logRow).set(p.rows[i])
	})
	p.log.HideSeparators = true
	heads := newLogRow().(*logRow)
	heads.head()
	p.logEmpty = look.Middle(look.Wide(380, look.Para(words.T("Nothing is written for a printing day yet. Ink the plate, pull the first sheet, then press Space or the button above: number, time, paper and drying date are written for you."), true)))
	p.dayHead = look.Label(words.T("This printing day"))
	p.logTop = look.Column(10, look.Raised(fields), look.Raised(look.Column(6, p.nextBox, p.warnBox)))
	p.logBox = look.Border(look.InsetEach(p.logTop, 0, 0, 0, 8), nil, nil, nil,
		look.Border(look.Column(2, p.dayHead, heads, look.HRule()), nil, nil, nil,
			container.NewStack(p.log, p.logEmpty)))
	return look.Inset(p.logBox, 14, 12)
}

func (p *pressPlace) buildSide() fyne.CanvasObject {
	p.life, p.lifeSay = look.NewLife(-1), look.Para("", false)
	p.pulls = look.Line("").Giving()
	p.edGauge, p.edSay = look.NewGauge(look.Blue), look.Line("").Giving()
	p.hungSay = look.Small("").Giving()
	p.hung = newRowList(func() int { return len(p.rack) }, newRackRow, func(i int, o fyne.CanvasObject) {
		if i < len(p.rack) && p.f.book != nil {
			o.(*rackRow).set(p.f.book, p.rack[i])
		}
	})
	p.hung.HideSeparators = true
	p.cautions = look.Column(6)
	p.lifeBox = look.Row(10, look.Wide(120, container.New(&tall{22}, p.life)))
	p.sideTop = look.Column(8,
		look.Label(words.T("Life of the plate")),
		p.lifeBox,
		p.lifeSay, p.pulls,
		look.HRule(),
		look.Label(words.T("This edition")), p.edSay, p.edGauge,
		look.HRule(),
		look.Row(8, look.NewDrawn(look.IconRack, look.Muted, 16), look.Label(words.T("Drying rack"))), p.hungSay)
	p.sideBox = look.Border(p.sideTop, look.InsetEach(p.cautions, 0, 8, 0, 0), nil, nil, p.hung)
	return look.OnPanel(look.Inset(p.sideBox, 14, 12))
}

// show fills the place for the plate in hand.
func (p *pressPlace) show(b *book, plate *catalog.Plate) {
	p.plate = plate
	p.box.RemoveAll()
	switch {
	case plate == nil:
		p.box.Add(p.f.noPlate())
		return
	case len(b.statesOf[plate.ID]) == 0:
		p.box.Add(look.Hint(look.IconPlate, words.T("No state yet"), words.T("A plate is printed in a state. Enter its first state, then the printing day can begin."),
			look.StrongButton(words.T("Enter state I"), look.IconPlus, p.f.enterState)))
		return
	}
	p.box.Add(p.full)
	w := p.work[plate.ID]
	if w == nil {
		w = &pullWork{}
		states := b.statesOf[plate.ID]
		w.state = states[len(states)-1].ID
		w.carryFrom(b, plate.ID)
		w.printing = w.toBegin(b, plate.ID)
		p.work[plate.ID] = w
	}
	w.settle(b)
	p.fill(b, plate, w)
}

func (p *pressPlace) fill(b *book, plate *catalog.Plate, w *pullWork) {
	p.quiet = true
	p.state.Options, p.stateIDs = nil, nil
	for _, s := range b.statesOf[plate.ID] {
		p.state.Options = append(p.state.Options, b.stateWords(s))
		p.stateIDs = append(p.stateIDs, s.ID)
		if s.ID == w.state {
			p.state.SetSelectedIndex(len(p.stateIDs) - 1)
		}
	}
	p.forWhat.Options = nil
	list := printingsOf(b, plate.ID, w.state)
	for _, x := range list {
		p.forWhat.Options = append(p.forWhat.Options, x.label)
	}
	w.printing = min(w.printing, len(list)-1)
	p.forWhat.SetSelectedIndex(w.printing)
	var papers, inks []string
	for _, x := range b.Papers {
		papers = append(papers, x.Name)
	}
	for _, x := range b.Inks {
		inks = append(inks, x.Name)
	}
	p.paper.SetOptions(papers)
	p.ink.SetOptions(inks)
	set := func(e *widget.Entry, s string) {
		if e.Text != s {
			e.SetText(s)
		}
	}
	set(&p.paper.Entry, w.paper)
	set(&p.ink.Entry, w.ink)
	set(&p.wiping.Entry, w.wiping)
	p.quiet = false
	p.count(b, plate, w)
}

// count shows the next number, the running counts, the log and the rack.
func (p *pressPlace) count(b *book, plate *catalog.Plate, w *pullWork) {
	list := printingsOf(b, plate.ID, w.state)
	x := list[w.printing]
	n, _ := w.count(b, plate.ID, x)
	p.next.SetText(w.nextNumber(b, plate.ID, x))
	high := p.nextBox.MinSize().Height
	if p.nextBox.Refresh(); p.nextBox.MinSize().Height != high {
		p.full.Refresh() // the number needs a row of its own now, or no longer
	}
	p.nextSub.SetText(words.T("pull %d of this plate, %s", w.nextPull(b, plate.ID), b.stateWords(b.states[w.state])))
	v := p.f.lifeOf(plate.ID)
	if s := w.warning(b, plate, v); s != "" {
		p.warn.SetText(s)
		p.warnBox.Show()
	} else {
		p.warnBox.Hide()
	}
	p.life.Set(v.share)
	p.lifeBox.Hidden = v.ended // there is none left to draw
	say := v.words
	if !v.ended && v.forecast != nil && !v.forecast.Said.IsZero() {
		say = words.Say(v.forecast.Said)
	}
	p.lifeSay.SetText(say)
	p.pulls.SetText(words.N("%d pulls so far", w.nextPull(b, plate.ID)-1))
	if x.of > 0 {
		given := w.given(b, plate.ID, x)
		p.edSay.SetText(words.T("%d of %d given out", given, x.of))
		p.edGauge.Set(float64(given) / float64(x.of))
	} else {
		p.edSay.SetText(words.N("%d proofs, no edition", n))
		p.edGauge.Set(0)
	}
	p.rows = w.today(b, plate.ID)
	p.dayHead.SetText(dayWords(p.rows, time.Now()))
	p.logEmpty.(*fyne.Container).Hidden = len(p.rows) > 0
	p.log.Refresh()
	p.rack = hanging(b, w.ahead, time.Now())
	if len(p.rack) == 0 {
		p.hungSay.SetText(words.T("Every sheet is dry."))
	} else {
		p.hungSay.SetText(words.N("%d sheets hanging", len(p.rack)))
	}
	p.hung.Refresh()
	p.showCautions(b, plate)
	p.layOut()
	if p.f.overlay != nil {
		p.f.overlay.show()
	}
}

// layOut lays log and rack out again where what stands above or below them has
// become higher or lower: their rows would be drawn over it.
func (p *pressPlace) layOut() {
	high := [2]float32{p.logTop.MinSize().Height, p.sideTop.MinSize().Height + p.cautions.MinSize().Height}
	if high == p.laid {
		return
	}
	p.laid = high
	p.logBox.Refresh()
	p.sideBox.Refresh()
}

func (p *pressPlace) lifeCame() {
	if p.plate != nil && p.f.book != nil && p.work[p.plate.ID] != nil {
		p.count(p.f.book, p.plate, p.work[p.plate.ID])
	}
}

// chosen takes a change of state or printing over.
func (p *pressPlace) chosen() {
	if p.quiet || p.plate == nil || p.f.book == nil {
		return
	}
	w := p.work[p.plate.ID]
	if i := p.state.SelectedIndex(); i >= 0 && i < len(p.stateIDs) && p.stateIDs[i] != w.state {
		w.state, w.printing = p.stateIDs[i], 0
	} else if i := p.forWhat.SelectedIndex(); i >= 0 {
		w.printing = i
	}
	p.fill(p.f.book, p.plate, w)
}

// carry takes over what was typed for the pulls to come.
func (p *pressPlace) carry() {
	if p.quiet || p.plate == nil || p.work[p.plate.ID] == nil {
		return
	}
	w := p.work[p.plate.ID]
	w.paper, w.ink, w.wiping = p.paper.Text, p.ink.Text, p.wiping.Text
}

func (p *pressPlace) key(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		p.pull()
		return true
	case fyne.KeyBackspace, fyne.KeyDelete:
		p.unpull()
		return true
	}
	return false
}
