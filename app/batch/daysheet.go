package batch

import (
	"flag"
	"time"

	"pullbook/app/studio"
	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/pdfout"
)

var daySheetCommand = command{
	name: "day-sheet", line: "--catalogue DIR --plate NUMBER [--state N] [--day YYYY-MM-DD] [--pulls N] --to OUT.pdf", summary: "print the sheet of a printing day", run: runDaySheet,
	help: `
Writes the sheet to be filled in at the press on a printing day: what to print
on what, a line for each pull, and the usual cautions, which do not stand for the
makers' data sheets, local rules and trained practice.

    --plate NUMBER      catalogue number of the plate
    --state N           its state, counted from 1; the last without it
    --day YYYY-MM-DD    the day; left to be written in without it
    --pulls N           how many pulls are meant; as many lines as fit without it`,
}

func runDaySheet(c *call) error {
	var number, day string
	var state, pulls int
	w, err := c.parseWriting("OUT.pdf", func(f *flag.FlagSet) {
		f.StringVar(&number, "plate", "", "")
		f.StringVar(&day, "day", "", "")
		f.IntVar(&state, "state", 0, "")
		f.IntVar(&pulls, "pulls", 0, "")
	})
	switch {
	case err != nil:
		return err
	case number == "":
		return usage("the plate is missing; give --plate NUMBER")
	case state < 0:
		return usage("states are counted from 1")
	case pulls < 0:
		return usage("there is no such count of pulls as %d", pulls)
	}
	d := pdfout.DaySheet{Pulls: pulls}
	if day != "" {
		if d.Day, err = time.Parse("2006-01-02", day); err != nil {
			return usage("%q is no day; write it as 2026-03-14", day)
		}
	}
	return c.print(w, func(s *studio.Studio) (pdfout.Report, error) {
		if d.PlateID, d.StateID, err = c.plateAndState(s, number, state); err != nil {
			return pdfout.Report{}, err
		}
		return s.LayOutDaySheet(c.ctx, w.to, d)
	})
}

// plateAndState finds a plate by its catalogue number and one of its states, the
// last for n = 0.
func (c *call) plateAndState(s *studio.Studio, number string, n int) (plate, state catalog.ID, err error) {
	plates, err := s.Store().Plates(c.ctx, store.PlateFilter{})
	if err != nil {
		return "", "", err
	}
	for _, p := range plates {
		if p.Number.String() == number {
			plate = p.ID
		}
	}
	if plate == "" {
		return "", "", studio.Refuse("There is no plate with the number %s.", number)
	}
	states, err := s.Store().States(c.ctx, plate)
	if err != nil {
		return "", "", err
	}
	last := 0
	for _, st := range states {
		if st.N == n || n == 0 && st.N > last {
			state, last = st.ID, st.N
		}
	}
	if state == "" {
		return "", "", studio.Refuse("Plate %s has no state %d.", number, n)
	}
	return plate, state, nil
}
