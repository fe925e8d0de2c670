package batch

import (
	"flag"
	"fmt"

	"pullbook/app/studio"
	"pullbook/imaging"
)

var scoreCommand = command{
	name:    "score",
	line:    "--plate-mm HxW --reference REF.jpg [--marks x,y,x,y,x,y,x,y] [--grid 16x12] [--region NAME=BOX] [--json] PHOTO...",
	summary: "measure photographs of impressions against a reference pull",
	run:     runScore,
	help: `
Measures ink loss, plate tone, burr loss and more of each photograph against the
reference pull of the same state, with standard uncertainties (k = 1).

    --plate-mm HxW     height x width of the plate mark, in millimetres
    --reference FILE   photograph of the reference pull
    --marks ...        the corners of the reference's plate mark, by hand, in
                       pixels of the stored file: top-left, top-right,
                       bottom-right, bottom-left as the reference stands upright;
                       without it the plate mark is looked for
    --grid CxR         say also where the plate lies in each photograph, on a
                       lattice of C steps across and R down; the marks of all
                       photographs named together tell it, so name several
    --region NAME=...  score a part of the plate by itself as well, its box in
                       plate millimetres, as sky=5,5,135,40, or its outline, as
                       hull=20,60,70,60,45,80; may be given more than once
    --json             one JSON document instead of lines
    --catalogue DIR    instead of all this: score what is not yet scored in a
                       catalogue, and list its scores

A photograph that cannot be measured (out of focus, half in view, another plate,
a broken file) is refused with the reason, and the exit code is 1.`,
}

type scoreOptions struct {
	size      sizeFlag
	reference string
	marks     marksFlag
	grid      gridFlag
	regions   regionsFlag
	asJSON    bool
	catalogue string
}

func runScore(c *call) error {
	var o scoreOptions
	err := c.parse(func(f *flag.FlagSet) {
		f.Var(&o.size, "plate-mm", "")
		f.StringVar(&o.reference, "reference", "", "")
		f.Var(&o.marks, "marks", "")
		f.Var(&o.grid, "grid", "")
		f.Var(&o.regions, "region", "")
		f.BoolVar(&o.asJSON, "json", false, "")
		f.StringVar(&o.catalogue, "catalogue", "", "")
	})
	switch {
	case err != nil:
		return err
	case o.catalogue != "":
		if o.reference != "" || len(c.args) > 0 || o.asJSON {
			return usage("--catalogue goes by itself: the catalogue knows its photographs and references")
		}
		return scoreCatalogue(c, o.catalogue)
	case o.size.size == imaging.Size{}:
		return usage("the plate's size is missing; give --plate-mm HEIGHTxWIDTH in millimetres")
	case o.reference == "":
		return usage("the reference pull is missing; give --reference PHOTO")
	case len(c.args) == 0:
		return usage("no photograph to measure was named")
	}
	return scorePhotographs(c, &o)
}

func scorePhotographs(c *call, o *scoreOptions) error {
	doc := scoreDocument{PlateMM: [2]float64{o.size.size.Height, o.size.size.Width}, Reference: referenceJSON{Photo: o.reference}}
	ref, err := studio.ReferenceFile(c.ctx, o.reference, o.marks.quad, o.size.size)
	var results []studio.FileResult
	if err == nil {
		doc.Reference.Mark = quadPX(ref.MarkStored())
		results, err = studio.ScoreFiles(c.ctx, ref, c.args, imaging.MeasureOptions{
			Grid: o.grid.cols > 0, GridCols: o.grid.cols, GridRows: o.grid.rows, Regions: o.regions}, nil)
	} else if reason, ok := studio.Refused(err); ok && c.ctx.Err() == nil {
		err = nil
		results = allRefused(c.args, fmt.Sprintf("The reference pull %s cannot be used: %s", o.reference, reason))
	}
	if err != nil {
		return err
	}
	if ref != nil && o.grid.cols > 0 {
		var measured []*imaging.Result
		for _, r := range results {
			measured = append(measured, r.Result)
		}
		lattice, mark := ref.SettleFrame(measured, o.grid.cols, o.grid.rows)
		doc.Reference.Lattice, doc.Reference.Mark = latticePX(lattice), quadPX(mark)
	}
	short := false
	for _, r := range results {
		doc.Impressions = append(doc.Impressions, impressionOf(r.Path, r.Result))
		if r.Result.Verdict != imaging.Measured {
			short = true
			if o.asJSON {
				c.note("%s: refused: %s", r.Path, r.Result.Reason)
			}
		}
	}
	return c.answer(&doc, o.asJSON, short)
}

func allRefused(paths []string, reason string) []studio.FileResult {
	var list []studio.FileResult
	for _, p := range paths {
		list = append(list, studio.FileResult{Path: p, Result: &imaging.Result{Verdict: imaging.Refused, Reason: reason}})
	}
	return list
}

// scoreDocument is what score --json writes.
type scoreDocument struct {
	PlateMM     [2]float64       `json:"plate_mm"`
	Reference   referenceJSON    `json:"reference"`
	Impressions []impressionJSON `json:"impressions"`
}

type referenceJSON struct {
	Photo   string       `json:"photo"`
	Mark    [][2]float64 `json:"plate_mark_px"`
	Lattice [][4]float64 `json:"plate_to_photo,omitempty"`
}

type impressionJSON struct {
	Photo          string       `json:"photo"`
	Verdict        string       `json:"verdict"`
	Reason         string       `json:"reason"`
	InkLoss        *value       `json:"ink_loss"`
	PlateTone      *value       `json:"plate_tone"`
	BurrLoss       *value       `json:"burr_loss"`
	LinesLost      *value       `json:"lines_lost_mm"`
	ToneUnevenness *value       `json:"tone_unevenness"`
	Registration   *number      `json:"registration_mm"`
	Mark           [][2]float64 `json:"plate_mark_px"`
	Lattice        [][4]float64 `json:"plate_to_photo,omitempty"`
	Quality        *qualityJSON `json:"photo_quality"`
	Regions        []regionJSON `json:"regions,omitempty"`
	// NotTold says why a value is null, by its name.
	NotTold map[string]string `json:"not_told,omitempty"`
}

// regionJSON is a part of the plate scored by itself; null with a reason where
// it holds too little.
type regionJSON struct {
	Name      string `json:"name"`
	InkLoss   *value `json:"ink_loss"`
	PlateTone *value `json:"plate_tone"`
	Reason    string `json:"reason,omitempty"`
}

type qualityJSON struct {
	BlurMM       number `json:"blur_mm"`
	LightFalloff number `json:"light_falloff"`
	Clipped      number `json:"clipped"`
	PxPerMM      number `json:"px_per_mm"`
}

func impressionOf(path string, r *imaging.Result) impressionJSON {
	out := impressionJSON{Photo: path, Verdict: string(r.Verdict), Reason: r.Reason}
	if r.Verdict != imaging.Measured {
		return out
	}
	q := r.Scores
	out.InkLoss, out.PlateTone, out.BurrLoss = valueOf(q.InkLoss), valueOf(q.PlateTone), valueOf(q.BurrLoss)
	out.LinesLost, out.ToneUnevenness = valueOf(q.LinesLostMM), valueOf(q.ToneUnevenness)
	out.NotTold = notTold(&out, q.Why)
	mm := number(r.Registration.ResidualMM)
	out.Registration = &mm
	out.Mark, out.Lattice = quadPX(r.Mark), latticePX(r.Registration.Lattice)
	out.Quality = &qualityJSON{number(r.Quality.BlurMM), number(r.Quality.LightFalloff), number(r.Quality.Clipped), number(r.Quality.PxPerMM)}
	for _, g := range r.Regions {
		out.Regions = append(out.Regions, regionJSON{g.Name, valueOf(g.InkLoss), valueOf(g.PlateTone), g.Why})
	}
	return out
}

// notTold picks the reasons of those values of the document that are null.
func notTold(i *impressionJSON, why map[string]string) map[string]string {
	out := map[string]string{}
	for name, v := range map[string]*value{"plate_tone": i.PlateTone, "burr_loss": i.BurrLoss, "lines_lost_mm": i.LinesLost} {
		if v == nil && why[name] != "" {
			out[name] = why[name]
		}
	}
	return out
}

func latticePX(nodes [][4]float64) [][4]float64 {
	var list [][4]float64
	for _, n := range nodes {
		list = append(list, [4]float64{px(n[0]), px(n[1]), px(n[2]), px(n[3])})
	}
	return list
}

// print writes the document as lines for people.
func (d *scoreDocument) print(c *call) {
	c.say("reference %s, plate %g x %g mm", d.Reference.Photo, d.PlateMM[0], d.PlateMM[1])
	for _, i := range d.Impressions {
		if i.InkLoss == nil {
			c.say("%s: %s. %s", i.Photo, i.Verdict, i.Reason)
			continue
		}
		line := fmt.Sprintf("%s: ink loss %s %%, plate tone %s", i.Photo, i.InkLoss.times(100, 1), i.PlateTone.times(1, 3))
		if i.BurrLoss != nil {
			line += fmt.Sprintf(", burr loss %s %%", i.BurrLoss.times(100, 0))
		} else {
			line += ", burr loss: cannot tell"
		}
		if i.LinesLost != nil {
			line += fmt.Sprintf(", lines lost %s mm", i.LinesLost.times(1, 0))
		}
		line += fmt.Sprintf(", registered to %.2f mm", float64(*i.Registration))
		if i.Reason != "" {
			line += ". " + i.Reason
		}
		c.say("%s", line)
		for _, g := range i.Regions {
			line := fmt.Sprintf("    %s: plate tone %s", g.Name, g.PlateTone.times(1, 3))
			if g.InkLoss != nil {
				line = fmt.Sprintf("    %s: ink loss %s %%, plate tone %s", g.Name, g.InkLoss.times(100, 1), g.PlateTone.times(1, 3))
			}
			if g.Reason != "" {
				line += ". " + g.Reason
			}
			c.say("%s", line)
		}
	}
}

// times writes a value and its uncertainty, both times k.
func (v *value) times(k float64, digits int) string {
	if v == nil {
		return "not measured"
	}
	return fmt.Sprintf("%.*f ± %.*f", digits, k*float64(v.Value), digits, k*float64(v.U))
}
