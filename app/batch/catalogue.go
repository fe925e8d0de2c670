package batch

import (
	"flag"
	"fmt"

	"pullbook/app/studio"
	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/pdfout"
)

// open opens the catalogue a command works on; writes says that it will change
// it.
func (c *call) open(dir string, writes bool) (*studio.Studio, error) {
	if dir == "" {
		return nil, usage("the catalogue is missing; give --catalogue FOLDER")
	}
	s, err := studio.Open(dir, studio.Options{Who: "batch", ReadOnly: !writes})
	if err != nil {
		return nil, err
	}
	if writes && s.ReadOnly() {
		notice := s.Notice()
		s.Close()
		return nil, studio.Refuse("The catalogue %s can only be read now. %s", dir, notice)
	}
	return s, nil
}

// read opens a catalogue for reading, uses it, and closes it.
func (c *call) read(dir string, use func(*studio.Studio) error) error {
	s, err := c.open(dir, false)
	if err != nil {
		return err
	}
	defer s.Close()
	return use(s)
}

// writing is what a command is told that makes something of a catalogue.
type writing struct{ catalogue, to string }

// parseWriting reads --catalogue, --to and the flags that more defines, of a
// command without arguments; what stands for the thing to be written.
func (c *call) parseWriting(what string, more func(*flag.FlagSet)) (w writing, err error) {
	err = c.parse(func(f *flag.FlagSet) {
		f.StringVar(&w.catalogue, "catalogue", "", "")
		f.StringVar(&w.to, "to", "", "")
		if more != nil {
			more(f)
		}
	})
	if err == nil {
		err = c.noMore()
	}
	if err == nil && w.to == "" {
		err = usage("where to write is missing; give --to %s", what)
	}
	return w, err
}

// noMore refuses arguments that are not flags.
func (c *call) noMore() error {
	if len(c.args) > 0 {
		return usage("%q is one argument too many", c.args[0])
	}
	return nil
}

// print writes a PDF and says what it became and what its maker should see to.
func (c *call) print(w writing, lay func(*studio.Studio) (pdfout.Report, error)) error {
	return c.read(w.catalogue, func(s *studio.Studio) error {
		r, err := lay(s)
		if err != nil {
			return err
		}
		c.say("%s: %d pages, %d pictures, %.1f MB", w.to, r.Pages, r.Pictures, float64(r.Bytes)/1e6)
		for _, warning := range r.Warnings {
			c.note("see to: %s", warning)
		}
		return nil
	})
}

// progress writes what long work is doing to standard error, one line for each
// tenth of the way.
func (c *call) progress() studio.Progress {
	last := -1
	return func(done float64, what string) {
		if tenth := int(done * 10); tenth > last {
			last = tenth
			c.note("%3.0f %%  %s", 100*done, what)
		}
	}
}

// scoreCatalogue scores what has no score yet and lists all.
func scoreCatalogue(c *call, dir string) error {
	s, err := c.open(dir, true)
	if err != nil {
		return err
	}
	defer s.Close()
	todo, err := s.Unscored(c.ctx, "")
	if err != nil {
		return err
	}
	short := false
	if len(todo) > 0 {
		results, err := s.Measure(c.ctx, todo, c.progress())
		if err != nil {
			return err
		}
		for _, r := range results {
			if r.Err != nil {
				short = true
				c.note("not scored: %s", closed(r.Err.Error()))
			}
		}
	}
	if err := listScores(c, s); err != nil {
		return err
	}
	if short {
		return errShort
	}
	return nil
}

// listScores prints the newest score of each impression, plate by plate.
func listScores(c *call, s *studio.Studio) error {
	plates, err := s.Store().Plates(c.ctx, store.PlateFilter{})
	if err != nil {
		return err
	}
	for _, p := range plates {
		c.say("%s  %s, %g x %g mm", p.Number, p.Title, p.Mark.HeightMM, p.Mark.WidthMM)
		scores, err := s.Store().LatestScores(c.ctx, p.ID)
		if err != nil {
			return err
		}
		sheets, err := s.Store().Impressions(c.ctx, store.ImpressionFilter{PlateID: p.ID})
		if err != nil {
			return err
		}
		for _, i := range sheets {
			if sc, ok := scores[i.ID]; ok {
				c.say("    %-28s %s", i.Name(), scoreLine(&sc))
			}
		}
	}
	return nil
}

func scoreLine(sc *catalog.Score) string {
	if sc.InkLoss == nil {
		return fmt.Sprintf("%s: %s", sc.Verdict, sc.Reason)
	}
	line := fmt.Sprintf("%-11s ink loss %5.1f ± %.1f %%", sc.Verdict, 100*sc.InkLoss.V, 100*sc.InkLoss.U)
	if sc.PlateTone != nil {
		line += fmt.Sprintf(", plate tone %.3f ± %.3f", sc.PlateTone.V, sc.PlateTone.U)
	}
	if sc.BurrLoss != nil {
		line += fmt.Sprintf(", burr loss %.0f ± %.0f %%", 100*sc.BurrLoss.V, 100*sc.BurrLoss.U)
	}
	return line
}
