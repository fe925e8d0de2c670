package batch

import (
	"flag"

	"pullbook/app/studio"
	"pullbook/imaging"
)

var placeCommand = command{
	name:    "place",
	line:    "--plate-mm HxW --state I.jpg --state II.jpg ... [--json] PHOTO...",
	summary: "tell which state impressions show, and their order",
	run:     runPlace,
	help: `
Compares each photograph with one photograph of each state and says which state
it shows, how sure that is, and how far on it stands in the order of printing.

    --plate-mm HxW   height x width of the plate mark, in millimetres
    --state FILE     photograph of a state; give one for each state, in order
    --json           one JSON document instead of lines

The order is a quantity that rises with the wear of the plate: wear tells the
order of use, which need not be the order in which sheets were printed. Where
nothing can be told the answer is null, and the exit code 1.`,
}

type placeDocument struct {
	Impressions []placedJSON `json:"impressions"`
}

type placedJSON struct {
	Photo      string  `json:"photo"`
	State      *int    `json:"state"`
	Confidence number  `json:"confidence"`
	Order      *number `json:"order"`
	OrderU     *number `json:"order_u"`
	Reason     string  `json:"reason,omitempty"`
}

func runPlace(c *call) error {
	var size sizeFlag
	var states listFlag
	var asJSON bool
	err := c.parse(func(f *flag.FlagSet) {
		f.Var(&size, "plate-mm", "")
		f.Var(&states, "state", "")
		f.BoolVar(&asJSON, "json", false, "")
	})
	switch {
	case err != nil:
		return err
	case size.size == imaging.Size{}:
		return usage("the plate's size is missing; give --plate-mm HEIGHTxWIDTH in millimetres")
	case len(states) == 0:
		return usage("no state was named; give --state PHOTO for each state, in order")
	case len(c.args) == 0:
		return usage("no photograph to place was named")
	}
	placed, err := studio.PlaceFiles(c.ctx, states, c.args, size.size)
	if err != nil {
		return err
	}
	short := false
	doc := placeDocument{Impressions: []placedJSON{}}
	for _, p := range placed {
		j := placedJSON{Photo: p.Path, Confidence: number(p.Placement.Confidence), Reason: p.Placement.Reason}
		if n := p.Placement.State; n > 0 {
			j.State = &n
		} else {
			short = true
			c.note("%s: %s", p.Path, closed(p.Placement.Reason))
		}
		if o := p.Placement.Order; o != nil {
			v, u := number(o.V), number(o.U)
			j.Order, j.OrderU = &v, &u
		}
		doc.Impressions = append(doc.Impressions, j)
	}
	return c.answer(&doc, asJSON, short)
}

func (d *placeDocument) print(c *call) {
	for _, j := range d.Impressions {
		if j.State == nil {
			c.say("%s: state not told. %s", j.Photo, j.Reason)
			continue
		}
		if j.Order == nil {
			c.say("%s: state %d, confidence %.2f, order not told", j.Photo, *j.State, j.Confidence)
			continue
		}
		c.say("%s: state %d, confidence %.2f, order %.1f ± %.1f", j.Photo, *j.State, j.Confidence, *j.Order, *j.OrderU)
	}
}
