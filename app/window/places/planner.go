package places

import (
	"context"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// Outlook is what a plate in its last state may still give.
type Outlook struct {
	Forecast *life.Forecast
	Plan     life.Plan
	Sheets   []life.Sorting // proposals for the sheets already pulled
}

// Chances and shares the planner offers.
var (
	surenesses = []float64{0.8, 0.9, 0.95}
	proofTenth = []float64{-1, 0.05, 0.1, 0.15}
	spoilings  = []float64{0, 0.05, 0.1, 0.2}
)

// planner answers how large an edition a plate can still give, and what the
// sheets already pulled are good for.
type planner struct {
	d     *deskPlace
	wish  life.Wish
	turn  int // of the last question asked
	about catalog.ID
	sure  *choice
	said  *look.Paragraph
	keep  *look.Paragraph
	odds  *fyne.Container
	apart *fyne.Container
	box   fyne.CanvasObject
}

func newPlanner(d *deskPlace) *planner {
	p := &planner{d: d, wish: life.Wish{Sure: 0.9, ProofShare: 0.1}, said: look.Para("", false), keep: look.Para("", true),
		odds: container.New(&fieldGrid{least: 52, rows: 1}), apart: look.Column(2)}
	p.sure = p.choose(surenesses, 1, func(v float64) string { return words.T("%d chances in 100", percent(v)) }, func(v float64) { p.wish.Sure = v })
	ask := container.New(&fieldGrid{least: 150, rows: 1},
		labelled(words.T("How sure"), p.sure),
		labelled(words.T("Artist's proofs"), p.choose(proofTenth, 2, func(v float64) string {
			if v < 0 {
				return words.T("none")
			}
			return words.T("%d for every 100", percent(v))
		}, func(v float64) { p.wish.ProofShare = v })),
		labelled(words.T("Spoiled"), p.choose(spoilings, 0, func(v float64) string {
			if v == 0 {
				return words.T("none")
			}
			return words.T("%d of 100 pulls", percent(v))
		}, func(v float64) { p.wish.Spoiled = v })))
	p.box = look.Raised(look.Column(8, look.Label(words.T("How large an edition?")), ask, p.said, p.odds, p.keep, p.apart))
	return p
}

func percent(v float64) int { return int(100*v + 0.5) }

// choose is a list of values in words; picking one asks anew.
func (p *planner) choose(values []float64, at int, say func(float64) string, set func(float64)) *choice {
	var names []string
	for _, v := range values {
		names = append(names, say(v))
	}
	var c *choice
	ready := false
	c = newSelect(names, func(string) {
		if i := c.SelectedIndex(); ready && i >= 0 {
			set(values[i])
			p.ask(p.about)
		}
	})
	c.SetSelectedIndex(at)
	ready = true
	return c
}

// ask works out the plan of a plate and shows it when it comes.
func (p *planner) ask(plate catalog.ID) {
	p.turn++
	p.about = plate
	turn, wish, f := p.turn, p.wish, p.d.f
	f.work(func(ctx context.Context) func() {
		o, err := f.house.Outlook(ctx, plate, wish)
		return func() {
			if turn != p.turn {
				return
			}
			if err != nil {
				p.said.SetText(words.Error(err))
				return
			}
			p.show(o, wish)
		}
	})
}

func (p *planner) show(o *Outlook, wish life.Wish) {
	p.said.SetText(editionWords(o, wish))
	p.odds.RemoveAll()
	for _, c := range telling(o.Plan.Chances) {
		p.odds.Add(labelled(strconv.Itoa(c.Size), look.Line(words.Percent(c.Chance, 0))))
	}
	p.keep.SetText(keepWords(o.Plan))
	p.apart.RemoveAll()
	for _, s := range o.Sheets {
		if i := p.d.b.impressions[s.ID]; i != nil && s.As != catalog.KindNumbered {
			p.apart.Add(look.Para(words.T("Pull %d: better kept as %s, %s.", i.Pull, kindWord(s.As), whyWord(s.Why)), false))
		}
	}
	p.box.Refresh()
	p.d.scroll.Refresh()
}

// editionWords says how large an edition may be.
func editionWords(o *Outlook, wish life.Wish) string {
	f, plan, sure := o.Forecast, o.Plan, percent(wish.Sure)
	switch {
	case f.Past:
		return words.T("The plate is past its limit of ink loss: no further edition can be promised.")
	case plan.Size == 0:
		return words.T("No further edition can be promised with %d chances in 100.", sure)
	case f.Readings == 0:
		return words.T("Nothing has been measured yet. By what the trade expects, an edition of %d with %d artist's proofs would be modest; measure a few pulls before announcing a number.", plan.Size, plan.Proofs)
	case plan.Borrowed:
		return words.T("By the trade's expectation an edition of %d with %d artist's proofs is safe, with %d chances in 100; the sheets measured so far cannot bear that out, so announce fewer.", plan.Size, plan.Proofs, sure)
	case plan.TooEarly:
		return words.T("An edition of %d with %d artist's proofs is safe, with %d chances in 100; it is too early to promise more.", plan.Size, plan.Proofs, sure)
	}
	return words.T("An edition of %d with %d artist's proofs can be pulled within the limit, with %d chances in 100.", plan.Size, plan.Proofs, sure)
}

// keepWords says which of the pulls to come to lay aside.
func keepWords(plan life.Plan) string {
	var artists []int
	printers := 0
	for _, k := range plan.Keep {
		switch k.As {
		case catalog.KindArtist:
			artists = append(artists, k.Pull)
		case catalog.KindPrinter:
			printers = k.Pull
		}
	}
	if plan.Size == 0 || printers == 0 {
		return ""
	}
	say := words.T("Keep pull %d, the first after the edition, as the printer's proof: the record of what the plate still gave.", printers)
	if len(artists) > 0 && len(artists) <= 40 {
		say = words.T("As artist's proofs keep pulls %s, spread through the run, so that they wear as the edition does.", runs(artists)) + " " + say
	}
	return say
}

// telling are the chances worth showing: from the last sure one down.
func telling(all []life.SizeChance) []life.SizeChance {
	const most = 7
	from := 0
	for i, c := range all {
		if c.Chance > 0.985 {
			from = i
		}
	}
	return all[from:min(len(all), from+most)]
}

// kindWord and whyWord are a proposal in words.
func kindWord(k catalog.Kind) string {
	if k == catalog.KindTrial {
		return words.T("a trial proof")
	}
	return words.T("an artist's proof")
}

func whyWord(w life.Why) string {
	switch w {
	case life.PastLimit:
		return words.T("its ink loss is past the limit")
	case life.OtherWiping:
		return words.T("its wiping stands apart")
	case life.LighterInking:
		return words.T("its inking is lighter than that of the pulls beside it")
	case life.HeavierInking:
		return words.T("its inking is heavier than that of the pulls beside it")
	}
	return words.T("it is like the reference pull")
}
