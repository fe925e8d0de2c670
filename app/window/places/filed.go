package places

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// Filed is what became of photographs that were confirmed.
type Filed struct {
	Photographs, Measured int
	Short                 []Short
	Anew                  []Anew
}

// Short is a sheet that was filed and could not be measured, and why.
type Short struct {
	Sheet catalog.ID
	Why   string
}

// Anew is a sheet that was photographed before.
type Anew struct {
	Sheet catalog.ID
	From  string   // the photograph its scores come from
	Kept  []string // the older ones
}

// filed tells what became of photographs that were confirmed: of one in a line,
// so that the next can be confirmed at once, of several as a report.
func (c *cameraPlace) filed(r *Filed) {
	f := c.f
	f.tell(words.N("%d photographs filed", r.Photographs))
	if r.Photographs < 2 {
		for _, x := range r.Anew {
			f.tell(c.anewWords(&x))
		}
		for _, x := range r.Short {
			f.fail(errors.New(c.shortWords(&x)))
		}
		return
	}
	if f.win.Canvas().Overlays().Top() != nil {
		return
	}
	f.ask(words.T("What was filed"), container.NewVScroll(look.InsetEach(look.Column(6, c.filedWords(r)...), 2, 0, 10, 4)), fyne.NewSize(520, 360), "", nil)
}

// filedWords are the lines of the report.
func (c *cameraPlace) filedWords(r *Filed) []fyne.CanvasObject {
	say := words.N("%d photographs filed", r.Photographs) + ", " + words.N("%d sheets measured", r.Measured)
	lines := []fyne.CanvasObject{look.Para(say, false)}
	left := 0
	for _, t := range c.waiting {
		if !c.filing[t.PhotoID] && !t.isSure() {
			left++
		}
	}
	if left > 0 {
		lines = append(lines, look.Para(words.N("%d photographs wait for you: say what each shows.", left), false))
	}
	for _, x := range r.Short {
		lines = append(lines, look.Para(c.shortWords(&x), true))
	}
	for _, x := range r.Anew {
		lines = append(lines, look.Para(c.anewWords(&x), true))
	}
	return lines
}

func (c *cameraPlace) shortWords(x *Short) string {
	return words.T("%s could not be measured: %s", c.sheetWords(x.Sheet), x.Why)
}

func (c *cameraPlace) anewWords(x *Anew) string {
	return words.T("%s was photographed before. Its scores come from %s now; kept: %s.", c.sheetWords(x.Sheet), x.From, strings.Join(x.Kept, ", "))
}

// sheetWords name a sheet with its plate.
func (c *cameraPlace) sheetWords(id catalog.ID) string {
	b := c.f.book
	if b == nil {
		return string(id)
	}
	x := b.impressions[id]
	if x == nil {
		return words.T("a new sheet")
	}
	name := sheetName(x)
	if p := b.plates[x.PlateID]; p != nil {
		name = p.Title() + ", " + name
	}
	return name
}

// scoredFrom says of a filed photograph of the whole sheet whether the sheet's
// scores come from it, where there are several; "" where there is one.
func scoredFrom(b *book, p *catalog.Photograph) string {
	if p == nil || p.ImpressionID == "" || p.View != catalog.ViewWhole {
		return ""
	}
	whole := 0
	for _, o := range b.photosOf[p.ImpressionID] {
		if o.View == catalog.ViewWhole || o.View == "" {
			whole++
		}
	}
	sc := b.scoreOf[p.ImpressionID]
	if whole < 2 || sc == nil {
		return ""
	}
	if sc.PhotoID == p.ID {
		return words.T("The scores of this sheet come from this photograph; the older ones are kept.")
	}
	if from := b.photos[sc.PhotoID]; from != nil {
		return words.T("This photograph is kept; the scores of the sheet come from %s.", from.Name)
	}
	return ""
}
