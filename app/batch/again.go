package batch

import (
	"flag"

	"pullbook/app/studio"
	"pullbook/imaging"
)

var sameCommand = command{
	name:    "same",
	line:    "--plate-mm HxW --reference REF.jpg [--json] PHOTO PHOTO...",
	summary: "tell whether photographs show one and the same sheet",
	run:     runSame,
	help: `
Every pull is wiped by hand, so the clouds and streaks of its plate tone are its
own. Compares each two of the photographs by way of a reference pull of their
state and says whether they show the same impression, or that it cannot be told:
sheets wiped clean leave nothing to tell them by.

    --plate-mm HxW     height x width of the plate mark, in millimetres
    --reference FILE   photograph of the reference pull of their state
    --json             one JSON document instead of lines

The exit code is 1 where a pair could not be told.`,
}

var repeatCommand = command{
	name:    "repeat",
	line:    "--plate-mm HxW --reference REF.jpg [--json] PHOTO PHOTO...",
	summary: "tell how well the scores of one sheet repeat",
	run:     runRepeat,
	help: `
Photograph one impression several times, laying it down anew each time, and this
says how far its scores scatter: their standard deviation, the difference that
two results exceed one time in twenty (ISO 5725-6), and whether the uncertainty
that is stated for each was honest.

    --plate-mm HxW     height x width of the plate mark, in millimetres
    --reference FILE   photograph of the reference pull of its state
    --json             one JSON document instead of lines`,
}

// mostAgain bounds what same and repeat keep in memory at once.
const mostAgain = 24

// againOptions are what both commands are told.
type againOptions struct {
	size      sizeFlag
	reference string
	asJSON    bool
}

// parseAgain reads them and prepares the reference.
func parseAgain(c *call) (*againOptions, *imaging.Reference, error) {
	var o againOptions
	err := c.parse(func(f *flag.FlagSet) {
		f.Var(&o.size, "plate-mm", "")
		f.StringVar(&o.reference, "reference", "", "")
		f.BoolVar(&o.asJSON, "json", false, "")
	})
	switch {
	case err != nil:
		return nil, nil, err
	case o.size.size == imaging.Size{}:
		return nil, nil, usage("the plate's size is missing; give --plate-mm HEIGHTxWIDTH in millimetres")
	case o.reference == "":
		return nil, nil, usage("the reference pull is missing; give --reference PHOTO")
	case len(c.args) < 2:
		return nil, nil, usage("two photographs or more are needed")
	case len(c.args) > mostAgain:
		return nil, nil, usage("%d photographs are too many at once; give at most %d", len(c.args), mostAgain)
	}
	ref, err := studio.ReferenceFile(c.ctx, o.reference, nil, o.size.size)
	if reason, ok := studio.Refused(err); ok && c.ctx.Err() == nil {
		err = studio.Refuse("The reference pull %s cannot be used: %s", o.reference, closed(reason))
	}
	return &o, ref, err
}

// sameDocument is what same --json writes.
type sameDocument struct {
	Pairs []sameJSON `json:"pairs"`
}

type sameJSON struct {
	First       string `json:"first"`
	Second      string `json:"second"`
	Verdict     string `json:"verdict"`
	Probability number `json:"probability"` // that they show one sheet
	Agreement   number `json:"agreement"`   // of the plate tone; null where there is too little
	Reason      string `json:"reason"`
}

func runSame(c *call) error {
	o, ref, err := parseAgain(c)
	if err != nil {
		return err
	}
	pairs, err := studio.SameFiles(c.ctx, ref, c.args)
	if err != nil {
		return err
	}
	doc, short := sameDocument{Pairs: []sameJSON{}}, false
	for _, p := range pairs {
		doc.Pairs = append(doc.Pairs, sameJSON{p.First, p.Second, p.Verdict, number(p.Probability), number(p.Agreement), p.Reason})
		short = short || p.Verdict == "cannot tell"
	}
	return c.answer(&doc, o.asJSON, short)
}

func (d *sameDocument) print(c *call) {
	for _, p := range d.Pairs {
		c.say("%s and %s: %s. %s", p.First, p.Second, p.Verdict, closed(p.Reason))
	}
}

// repeatDocument is what repeat --json writes.
type repeatDocument struct {
	Scores  []repeatJSON `json:"scores"`
	Refused []refusedOne `json:"refused"`
}

type repeatJSON struct {
	Score string `json:"score"`
	N     int    `json:"photographs"`
	Mean  number `json:"mean"`
	SD    number `json:"sd"`
	Limit number `json:"repeatability_limit"`
	Ratio number `json:"sd_over_u"`
}

type refusedOne struct {
	Photo  string `json:"photo"`
	Reason string `json:"reason"`
}

func runRepeat(c *call) error {
	o, ref, err := parseAgain(c)
	if err != nil {
		return err
	}
	results, err := studio.ScoreFiles(c.ctx, ref, c.args, imaging.MeasureOptions{}, nil)
	if err != nil {
		return err
	}
	doc := repeatDocument{Scores: []repeatJSON{}, Refused: []refusedOne{}}
	for _, r := range results {
		if r.Result.Verdict != imaging.Measured {
			doc.Refused = append(doc.Refused, refusedOne{r.Path, r.Result.Reason})
			c.note("%s: refused: %s", r.Path, r.Result.Reason)
		}
	}
	for _, s := range studio.RepeatStudy(results) {
		doc.Scores = append(doc.Scores, repeatJSON{s.Score, s.N, number(s.Mean), number(s.SD), number(s.Limit), number(s.Ratio)})
	}
	return c.answer(&doc, o.asJSON, len(doc.Refused) > 0 || len(doc.Scores) == 0)
}

func (d *repeatDocument) print(c *call) {
	for _, s := range d.Scores {
		c.say("%s: mean %.4f over %d photographs, standard deviation %.4f, two results differ by more than %.4f one time in twenty; scatter over stated uncertainty %.2f",
			s.Score, float64(s.Mean), s.N, float64(s.SD), float64(s.Limit), float64(s.Ratio))
	}
}
