package batch

import (
	"flag"

	"pullbook/app/studio"
	"pullbook/catalog"
	"pullbook/catalog/life"
	"pullbook/catalog/notation"
)

var lifeCommand = command{
	name:    "life",
	line:    "--catalogue DIR [--plate NUMBER] [--edition N] [--sure 0.9] [--spoiled 0.05] [--json]",
	summary: "say how many good impressions a plate still has",
	run:     runLife,
	help: `
Reads the measured impressions of each plate in the order of their pulls and
says how many more it gives before ink loss passes the printer's limit, how
large an edition that allows, and which of the sheets pulled of the last state
belong in it. Without measured sheets the trade's expectation speaks alone.

    --catalogue DIR  the catalogue's folder
    --plate NUMBER   only this plate, by its catalogue number
    --edition N      also the chance that N numbered impressions, with one
                     artist's proof for every ten, can still be pulled
    --sure P         the chance wanted for a whole edition, 0.9 if not given
    --spoiled P      the share of pulls torn up, 0 if not given
    --json           one JSON document instead of lines`,
}

// lifeDocument is what life --json writes.
type lifeDocument struct {
	Plates []plateLife `json:"plates"`
}

type plateLife struct {
	Number   string      `json:"number"`
	Title    string      `json:"title"`
	State    string      `json:"state"`
	Limit    number      `json:"limit"`
	Pulled   int         `json:"pulled"`
	Readings int         `json:"measured"`
	TooEarly bool        `json:"too_early"`
	Left     *[3]number  `json:"pulls_left"` // 10, 50 and 90 per cent; null when too early to say
	AtLeast  number      `json:"pulls_left_at_least"`
	Says     string      `json:"says"`
	Edition  planned     `json:"edition"`
	Order    string      `json:"order"`
	Sheets   []lifeSheet `json:"sheets"`
}

type planned struct {
	Size   int     `json:"size"`
	Proofs int     `json:"artists_proofs"`
	Asked  int     `json:"asked,omitempty"`
	Chance *number `json:"chance,omitempty"`
	Says   string  `json:"says"`
}

type lifeSheet struct {
	Pull    int    `json:"pull"`
	Written string `json:"number"`
	As      string `json:"as"`
	Reason  string `json:"reason"`
	called  string
}

func runLife(c *call) error {
	var dir, plate string
	var edition int
	var wish life.Wish
	var asJSON bool
	err := c.parse(func(f *flag.FlagSet) {
		f.StringVar(&dir, "catalogue", "", "")
		f.StringVar(&plate, "plate", "", "")
		f.IntVar(&edition, "edition", 0, "")
		f.Float64Var(&wish.Sure, "sure", 0.9, "")
		f.Float64Var(&wish.Spoiled, "spoiled", 0, "")
		f.BoolVar(&asJSON, "json", false, "")
	})
	if err == nil {
		err = c.noMore()
	}
	switch {
	case err != nil:
		return err
	case !(wish.Sure > 0 && wish.Sure < 1):
		return usage("--sure wants a chance between 0 and 1, such as 0.9")
	case !(wish.Spoiled >= 0 && wish.Spoiled <= 0.9):
		return usage("--spoiled wants a share of the pulls from 0 to 0.9, such as 0.05")
	case edition < 0:
		return usage("an edition of %d cannot be pulled; give --edition a number of impressions", edition)
	}
	doc := lifeDocument{Plates: []plateLife{}}
	err = c.read(dir, func(s *studio.Studio) error { return doc.gather(c, s, plate, edition, wish) })
	if err != nil {
		return err
	}
	return c.answer(&doc, asJSON, false)
}

// gather asks for each plate, or for the one with the number given.
func (d *lifeDocument) gather(c *call, s *studio.Studio, number string, edition int, wish life.Wish) error {
	snap, err := s.Store().Snapshot(c.ctx)
	if err != nil {
		return err
	}
	for i := range snap.Plates {
		p := &snap.Plates[i]
		if number != "" && p.Number.String() != number {
			continue
		}
		o, err := s.Outlook(c.ctx, p.ID, wish)
		if err != nil {
			return err
		}
		d.Plates = append(d.Plates, livesOn(p, o, edition, wish))
	}
	if number != "" && len(d.Plates) == 0 {
		return studio.Refuse("The catalogue has no plate with the number %s.", number)
	}
	return nil
}

func livesOn(p *catalog.Plate, o *studio.Outlook, edition int, wish life.Wish) plateLife {
	f := o.Forecast
	out := plateLife{Number: p.Number.String(), Title: p.Title(), State: notation.Roman(o.State.N), Limit: number(f.Limit), Pulled: f.Pulled, Readings: f.Readings,
		TooEarly: f.TooEarly, AtLeast: number(f.Left10), Says: f.Sentence, Order: o.Order.Sentence, Sheets: []lifeSheet{},
		Edition: planned{Size: o.Plan.Size, Proofs: o.Plan.Proofs, Says: o.Plan.Sentence}}
	if !f.TooEarly {
		out.Left = &[3]number{number(f.Left10), number(f.Left50), number(f.Left90)}
	}
	if edition > 0 {
		chance := number(f.ChanceOf(edition, wish))
		out.Edition.Asked, out.Edition.Chance = edition, &chance
	}
	for _, s := range o.Sheets {
		out.Sheets = append(out.Sheets, lifeSheet{s.Impression.Pull, s.Impression.Written, string(s.As), s.Reason, s.Impression.Name()})
	}
	return out
}

func (d *lifeDocument) print(c *call) {
	for _, p := range d.Plates {
		c.say("No. %s, %s, state %s: %s", p.Number, p.Title, p.State, p.Says)
		c.say("    %s", p.Edition.Says)
		if p.Edition.Chance != nil {
			c.say("    An edition of %d: %.0f chances in 100.", p.Edition.Asked, 100*float64(*p.Edition.Chance))
		}
		for _, s := range p.Sheets {
			c.say("    %s: %s, %s", s.called, s.As, s.Reason)
		}
	}
}
