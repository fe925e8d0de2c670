package places

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// regions is what the table knows of the parts of the plate that are scored by
// themselves.
type regions struct {
	all    bool   // every outline is shown, not only the chosen one
	chosen string // name of the one chosen, "" none
	anew   string // name of the one that is drawn anew, "" a new one
}

// drawRegion lets the user draw a part of the plate; anew is the name of the
// region that is drawn anew, "" for a new one.
func (t *tablePlace) drawRegion(anew string) {
	if t.plate == nil || t.view.Drawing() {
		return
	}
	if t.modes.Chosen == contactMode {
		t.modes.Choose(0)
	}
	t.regions.anew = anew
	t.view.BeginDrawing()
	t.how.SetText(words.T("Drag a box round the part, or click corner after corner. By keys: arrows, Space sets a corner, Backspace takes it back, Return closes, Escape leaves."))
}

// drawn takes an outline over: it asks for a name, or changes the outline of the
// region that was drawn anew.
func (t *tablePlace) drawn(points [][2]float64) {
	t.how.SetText(t.lain)
	if points == nil || t.plate == nil {
		return
	}
	size := t.plate.MeasureSize()
	for i := range points {
		points[i][0] = min(max(points[i][0], 0), size.WidthMM)
		points[i][1] = min(max(points[i][1], 0), size.HeightMM)
	}
	outline := catalog.OutlineOf(points)
	if _, wrong := catalog.ParseOutline(outline); wrong != "" {
		t.f.fail(errors.New(words.T(wrong)))
		return
	}
	if name := t.regions.anew; name != "" {
		t.changeRegions(words.T("draw region %s anew", name), name, func(r *catalog.Region) { r.Outline = outline })
		return
	}
	t.f.log("outline drawn")
	name := blank()
	name.SetPlaceHolder(words.T("the sky, the foreground foliage…"))
	t.f.dialog(words.T("A part of the plate"), look.Column(8, labelled(words.T("Name"), name),
		look.Para(words.T("It is scored by itself whenever a sheet of this plate is measured."), true)), fyne.NewSize(420, 230), words.T("Keep"), func() error {
		p := *t.plate
		p.Regions = append(slices.Clone(t.plate.Regions), catalog.Region{Name: strings.TrimSpace(name.Text), Outline: outline})
		return t.keepRegions(words.T("draw region %s", strings.TrimSpace(name.Text)), &p, strings.TrimSpace(name.Text))
	})
	t.f.win.Canvas().Focus(name)
}

// changeRegions changes one region of the plate; a change that leaves it without
// a name takes it away.
func (t *tablePlace) changeRegions(label, name string, change func(*catalog.Region)) {
	if err := t.tryRegions(label, name, change); err != nil {
		t.f.fail(err)
	}
}

func (t *tablePlace) tryRegions(label, name string, change func(*catalog.Region)) error {
	p := *t.plate
	p.Regions = slices.Clone(t.plate.Regions)
	chosen := ""
	for i := range p.Regions {
		if r := &p.Regions[i]; r.Name == name {
			change(r)
			chosen = r.Name
			if r.Outline == "" {
				p.Regions, chosen = slices.Delete(p.Regions, i, i+1), ""
			}
			break
		}
	}
	return t.keepRegions(label, &p, chosen)
}

func (t *tablePlace) keepRegions(label string, p *catalog.Plate, chosen string) error {
	if wrong := catalog.CheckRegions(p.Regions); wrong != "" {
		return errors.New(words.T(wrong))
	}
	t.regions.chosen = chosen
	t.f.save(label, p)
	return nil
}

// openRegion edits a region.
func (t *tablePlace) openRegion(r catalog.Region) {
	name := newField(r.Name, false, nil)
	var a *ask
	anew := look.QuietButton(words.T("Draw it anew"), look.IconLetters, func() { a.away(); t.drawRegion(r.Name) })
	off := look.QuietButton(words.T("Take it away"), look.IconCross, func() {
		a.away()
		t.changeRegions(words.T("take region %s away", r.Name), r.Name, func(r *catalog.Region) { r.Outline = "" })
	})
	content := container.NewVScroll(look.InsetEach(look.Column(10, labelled(words.T("Name"), name), look.Row(6, anew, off)), 2, 0, 10, 4))
	a = t.f.ask(words.T("A part of the plate"), content, fyne.NewSize(460, 220), words.T("Keep"), func() error {
		return t.tryRegions(words.T("rename region %s", r.Name), r.Name, func(x *catalog.Region) { x.Name = strings.TrimSpace(name.Text) })
	})
	t.f.win.Canvas().Focus(name)
}

// outlines shows the outline of the region chosen, or all.
func (t *tablePlace) outlines() {
	var l []sheetview.Outlined
	if t.plate != nil {
		for _, r := range t.plate.Regions {
			points, wrong := catalog.ParseOutline(r.Outline)
			if wrong == "" && (t.regions.all || r.Name == t.regions.chosen) {
				l = append(l, sheetview.Outlined{Points: points, Chosen: r.Name == t.regions.chosen})
			}
		}
	}
	t.view.SetOutlines(l)
}

// showRegions shows all outlines or only the chosen one.
func (t *tablePlace) showRegions() {
	t.regions.all = !t.regions.all
	t.outlines()
	t.f.refreshMenu()
}

// chooseRegion takes a region in hand, or puts it down.
func (t *tablePlace) chooseRegion(name string) {
	if t.regions.chosen == name {
		name = ""
	}
	t.regions.chosen = name
	t.outlines()
	t.panel.markRegions()
}

// showRegions lists the regions of the plate with what each scored on this
// sheet.
func (p *scorePanel) showRegions(sc *catalog.Score) {
	p.regions.RemoveAll()
	p.regionRows = nil
	t := p.t
	if t.plate == nil {
		return
	}
	if len(t.plate.Regions) == 0 {
		p.regions.Add(look.Para(words.T("Draw a part of the plate, such as the sky, to have it scored by itself."), true))
	}
	for _, r := range t.plate.Regions {
		row := newRegionRow(p, r, sc)
		p.regionRows = append(p.regionRows, row)
		p.regions.Add(row)
	}
	draw := look.QuietButton(words.T("Draw a part…"), look.IconPlus, func() { t.drawRegion("") })
	draw.SetEnabled(!t.f.house.ReadOnly() && !t.plate.MeasureSize().IsZero())
	p.regions.Add(container.NewHBox(draw))
	p.markRegions()
	t.outlines()
}

func (p *scorePanel) markRegions() {
	for _, r := range p.regionRows {
		r.mark(r.region.Name == p.t.regions.chosen)
	}
}

// regionRow is one region: click it to see where it is.
type regionRow struct {
	widget.BaseWidget
	p      *scorePanel
	region catalog.Region
	bed    *look.Fill
	box    *fyne.Container
}

func newRegionRow(p *scorePanel, r catalog.Region, sc *catalog.Score) *regionRow {
	x := &regionRow{p: p, region: r, bed: look.NewFill("")}
	loss, under := regionWords(r, sc)
	own := look.QuietButton("", look.IconLetters, func() { p.t.openRegion(r) })
	own.SetEnabled(!p.t.f.house.ReadOnly())
	lines := look.Column(1, look.Border(nil, nil, nil, look.InsetEach(look.Line(loss), 8, 0, 0, 0), look.Line(r.Name).Giving()))
	for _, s := range under {
		lines.Add(look.Para(s, true))
	}
	x.box = container.NewStack(x.bed, look.Border(nil, nil, nil, own, look.InsetEach(lines, 4, 3, 4, 3)))
	x.ExtendBaseWidget(x)
	return x
}

// regionWords is what a region scored: its loss, and under it its tone and what
// could not be told.
func regionWords(r catalog.Region, sc *catalog.Score) (loss string, under []string) {
	if sc == nil || sc.Verdict == "refused" {
		return "", []string{words.T("not measured yet")}
	}
	i := slices.IndexFunc(sc.Regions, func(x catalog.RegionScore) bool { return x.Outline == r.Outline })
	if i < 0 {
		return "", []string{words.T("drawn after this sheet was measured; measure it again")}
	}
	x := sc.Regions[i]
	if x.InkLoss != nil {
		loss = words.Percent(x.InkLoss.V, 1) + "  ± " + words.Percent(x.InkLoss.U, 1)
	}
	if x.PlateTone != nil {
		under = append(under, words.T("tone %s ± %s D", words.Num(x.PlateTone.V, 3), words.Num(x.PlateTone.U, 3)))
	}
	if x.Why != "" {
		under = append(under, words.T(x.Why))
	}
	return loss, under
}

func (r *regionRow) mark(chosen bool) {
	if chosen {
		r.bed.SetColour(look.Chosen)
	} else {
		r.bed.SetColour("")
	}
}

// Tapped shows where the region is.
func (r *regionRow) Tapped(*fyne.PointEvent) { r.p.t.chooseRegion(r.region.Name) }

// CreateRenderer is the toolkit's hook.
func (r *regionRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }
