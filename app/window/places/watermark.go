package places

import (
	"cmp"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// watermark chooses the photograph that shows a paper's watermark, and shows
// it.
func (l *listsDesk) watermark(p *catalog.Paper) fact {
	chosen := picked(words.T("Its picture"), &p.WatermarkPhotoID, l.b.watermarkPhotos(p.ID))
	shown := newPic(l.f.pics, l.f.devicePixels(200), fyne.NewSize(200, 150))
	shown.set(p.WatermarkPhotoID)
	c := chosen.field.(*choice)
	show := func() {
		was := p.WatermarkPhotoID
		if chosen.take() == nil {
			shown.set(p.WatermarkPhotoID)
			p.WatermarkPhotoID = was
		}
	}
	c.OnChanged = func(string) { show() }
	chosen.field = look.Column(6, c, container.NewHBox(shown))
	return chosen
}

// watermarkPhotos are the photographs that may show the watermark of a paper:
// those in transmitted light first, of its own sheets before others; then the
// other photographs of its sheets.
func (b *book) watermarkPhotos(paper catalog.ID) []named {
	type found struct {
		named
		rank int
	}
	var all []found
	for i := range b.Photographs {
		h := &b.Photographs[i]
		im := b.impressions[h.ImpressionID]
		own := im != nil && im.PaperID == paper && paper != ""
		rank := 3
		switch {
		case h.View == catalog.ViewTransmitted && own:
			rank = 0
		case h.View == catalog.ViewTransmitted:
			rank = 1
		case own:
			rank = 2
		}
		if rank == 3 {
			continue
		}
		name := words.T(string(h.View)) + ", " + h.Name
		if im != nil {
			if pl := b.plates[im.PlateID]; pl != nil {
				name = pl.Name() + ", " + sheetName(im) + ": " + name
			}
		}
		all = append(all, found{named{h.ID, name}, rank})
	}
	slices.SortStableFunc(all, func(x, y found) int { return cmp.Compare(x.rank, y.rank) })
	var l []named
	for _, f := range all {
		l = append(l, f.named)
	}
	return l
}
