package batch

import (
	"flag"
	"fmt"
	"time"

	"pullbook/app/studio"
	"pullbook/catalog"
)

var fileCommand = command{
	name: "file", line: "--catalogue DIR [--sure 0.9] PHOTO-OR-FOLDER...", summary: "take photographs in, file and score them", run: runFile,
	help: `
Copies photographs into the catalogue (never altering them), finds out which
impression each shows, files those whose place is sure, and scores them against
the reference pulls.

A photograph is filed by the slip with a code lying beside the sheet ('pullbook
labels' prints slips); else plate and state are recognised among the reference
pulls, and the sheet by the order of time within a day. What is less sure than
--sure waits for you in the window, and is listed with the reason.

The same file given twice is one photograph. When stopped, call it again: it
goes on where it stopped. Exit code 1 when something was left or refused.`,
}

func runFile(c *call) error {
	var dir string
	sure := studio.DefaultSure
	err := c.parse(func(f *flag.FlagSet) {
		f.StringVar(&dir, "catalogue", "", "")
		f.Float64Var(&sure, "sure", sure, "")
	})
	switch {
	case err != nil:
		return err
	case !(sure > 0 && sure <= 1):
		return usage("--sure is a surety between 0 and 1, as 0.9")
	case len(c.args) == 0:
		return usage("no photograph or folder was named")
	}
	s, err := c.open(dir, true)
	if err != nil {
		return err
	}
	defer s.Close()
	began := time.Now()
	report, err := s.FileAll(c.ctx, c.args, studio.FileOptions{Sure: sure}, c.pace(began))
	if err != nil {
		return err
	}
	c.say("%s", report.Words(func(id catalog.ID) string { return c.sheetName(s, id) }))
	c.note("%s", rate(report.Photographs(), time.Since(began)))
	if len(report.Left)+len(report.Refused) > 0 {
		return errShort
	}
	for _, sc := range report.Scored {
		if sc.Score == nil || sc.Score.Verdict == studio.RefusedPic {
			return errShort
		}
	}
	return nil
}

// pace says how far the work is and how long it will still take, once a second
// at most.
func (c *call) pace(began time.Time) studio.Progress {
	var last time.Time
	return func(done float64, what string) {
		now := time.Now()
		if now.Sub(last) < time.Second && done < 1 {
			return
		}
		last = now
		c.note("%3.0f %%  %s%s", 100*done, what, timeLeft(now.Sub(began), done))
	}
}

// timeLeft words how long is left by the pace so far; nothing at the very
// beginning, when it would be a guess.
func timeLeft(spent time.Duration, done float64) string {
	if done < 0.03 || done >= 1 {
		return ""
	}
	left := time.Duration(float64(spent) * (1 - done) / done)
	if left < time.Minute {
		return fmt.Sprintf("; about %d s left", max(1, int(left.Seconds()+0.5)))
	}
	return fmt.Sprintf("; about %d min left", int(left.Minutes()+0.5))
}

// rate words how quickly photographs went through.
func rate(photographs int, spent time.Duration) string {
	if photographs == 0 || spent <= 0 {
		return "no photograph was looked at"
	}
	return fmt.Sprintf("%d photographs in %.0f s, %.1f a minute", photographs, spent.Seconds(), float64(photographs)/spent.Minutes())
}

// sheetName is what to call an impression in a report.
func (c *call) sheetName(s *studio.Studio, id catalog.ID) string {
	i, err := s.Store().Impression(c.ctx, id)
	if err != nil {
		return string(id)
	}
	p, err := s.Store().Plate(c.ctx, i.PlateID)
	if err != nil {
		return i.Name()
	}
	name := p.Name()
	if st, err := s.Store().State(c.ctx, i.StateID); err == nil {
		name += ", " + st.Name()
	}
	return name + ", " + i.Name()
}
