package batch

import (
	"flag"
	"time"

	"pullbook/app/studio"
	"pullbook/catalog"
)

var sessionCommand = command{
	name: "session", line: "--catalogue DIR [--blank PHOTO] [--wedge PHOTO] [--densities LIST] [--lamps TEXT] [--begins TIME] [--measure-anew]", summary: "set a shooting session up with blank sheet and grey wedge", run: runSession,
	help: `
Sets a shooting session up, once for all photographs taken from its beginning on,
until the next session begins. They are put right by it whenever they are
measured.

    --blank PHOTO      photograph of a blank sheet: how the light falls
    --wedge PHOTO      photograph of a grey wedge: what the camera does to tones
    --densities LIST   of the wedge's steps, as "0.05 0.20 0.35" or, by default,
                       "0.05 + 10 x 0.15": the first, and how often it rises by
                       how much
    --lamps TEXT       lamps and how they stand
    --begins TIME      2026-03-14T15:30; without it the session begins with the
                       first of the two photographs
    --measure-anew     measure the sheets anew that were measured by its
                       photographs before

Exit code 1 when the wedge could not be read; it is not used then.`,
}

func runSession(c *call) error {
	var dir, blank, wedge, begins string
	var x catalog.ShootingSession
	densities, anew := studio.UsualDensities, false
	err := c.parse(func(f *flag.FlagSet) {
		f.StringVar(&dir, "catalogue", "", "")
		f.StringVar(&blank, "blank", "", "")
		f.StringVar(&wedge, "wedge", "", "")
		f.StringVar(&densities, "densities", densities, "")
		f.StringVar(&x.Lamps, "lamps", "", "")
		f.StringVar(&begins, "begins", "", "")
		f.BoolVar(&anew, "measure-anew", false, "")
	})
	if err == nil {
		err = c.noMore()
	}
	if err == nil && begins != "" {
		if x.Began, err = time.Parse("2006-01-02T15:04", begins); err != nil {
			err = usage("%q is no time; write it as 2026-03-14T15:30", begins)
		}
	}
	if err == nil && blank == "" && wedge == "" {
		err = usage("give a photograph of a blank sheet with --blank, of a grey wedge with --wedge, or both")
	}
	if err != nil {
		return err
	}
	steps, err := studio.ParseDensities(densities)
	if err != nil {
		return usage("%v", err)
	}
	s, err := c.open(dir, true)
	if err != nil {
		return err
	}
	defer s.Close()
	if x.BlankPhotoID, err = c.takeOne(s, blank); err != nil {
		return err
	}
	if x.WedgePhotoID, err = c.takeOne(s, wedge); err != nil {
		return err
	}
	st, err := s.SetUpSession(c.ctx, studio.SetUp{Session: x, Densities: steps})
	if err != nil {
		return err
	}
	c.say("%d photographs belong to the session.", st.With)
	if st.Wedge != "" {
		c.say("%s", st.Wedge)
	}
	switch n := len(st.Scored); {
	case n > 0 && anew:
		if _, err := s.Measure(c.ctx, st.Scored, c.pace(time.Now())); err != nil {
			return err
		}
		c.say("%d sheets were measured anew.", n)
	case n > 0:
		c.say("%d sheets were measured by its photographs before; --measure-anew measures them again.", n)
	}
	if wedge != "" && !st.Used {
		return errShort
	}
	return nil
}

// takeOne takes one photograph in; "" is none.
func (c *call) takeOne(s *studio.Studio, path string) (catalog.ID, error) {
	if path == "" {
		return "", nil
	}
	taken, err := s.TakeIn(c.ctx, []string{path}, nil)
	if err != nil {
		return "", err
	}
	if len(taken) != 1 {
		return "", usage("%s is not one photograph", path)
	}
	return taken[0].Photo.ID, taken[0].Err
}
