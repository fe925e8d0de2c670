package catalog

import (
	"strconv"
	"strings"
	"time"

	"pullbook/catalog/say"
)

// CheckTimes looks at pulling, drying and deciding.
func CheckTimes(f *Folder) []Breach {
	var all []Breach
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if !s.DryFrom.IsZero() && !s.PulledAt.IsZero() && s.DryFrom.Before(s.PulledAt) {
			all = append(all, breach("dry before pulled", Contradiction, []ID{s.ID},
				"The sheet %s of %s is to be dry before it was pulled.", s.Said(), f.Plate.Said()))
		}
		if !s.DryFrom.IsZero() && s.Decision.Verdict == "sign" && !s.Decision.At.IsZero() && s.Decision.At.Before(s.DryFrom) {
			all = append(all, breach("signed while damp", Note, []ID{s.ID},
				"The sheet %s of %s was to be signed before it is dry (%s).", s.Said(), f.Plate.Said(), say.Day(s.DryFrom)))
		}
		if y := yearOf(s.Printed); y != 0 && !s.PulledAt.IsZero() && len(s.Printed.EDTF) >= 4 && plainDate(s.Printed.EDTF) && y != s.PulledAt.Year() {
			all = append(all, breach("two dates of printing", Doubt, []ID{s.ID},
				"The sheet %s of %s was pulled in %d, but its date of printing is given as %s.", s.Said(), f.Plate.Said(), s.PulledAt.Year(), s.Printed.Text))
		}
	}
	return all
}

// CheckFate looks at sheets pulled from metal that was no longer fit for it, and
// at editions after which the plate should not be there any more.
func CheckFate(f *Folder) []Breach {
	var all []Breach
	p := &f.Plate
	spoiled := p.Fate == FateCancelled || p.Fate == FateDestroyed
	for i := range f.Editions {
		e := &f.Editions[i]
		if (e.PlateAfter == FateCancelled || e.PlateAfter == FateDestroyed) && p.Fate == FateKept {
			all = append(all, breach("fate after the edition", Doubt, []ID{e.ID, p.ID},
				"After %s of %s the plate is said to have been %s, but it is recorded as kept.", e.Said(), p.Said(), say.Word(e.PlateAfter)))
		}
	}
	end := 0
	if spoiled && plainDate(p.FateDate.EDTF) {
		end = yearOf(p.FateDate)
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if s.Kind == KindCancellation {
			if p.Fate == FateKept {
				all = append(all, breach("cancellation proof of a kept plate", Doubt, []ID{s.ID, p.ID},
					"There is a cancellation proof of %s (%s), but the plate is recorded as kept, not cancelled.", p.Said(), s.Said()))
			}
			continue
		}
		y := yearOf(s.Printed)
		if !plainDate(s.Printed.EDTF) {
			y = 0
		}
		if !s.PulledAt.IsZero() {
			y = s.PulledAt.Year()
		}
		if end != 0 && y > end {
			all = append(all, breach("pulled from a spoiled plate", Doubt, []ID{s.ID, p.ID},
				"The sheet %s of %s was pulled in %d, after the plate was %s (%s).", s.Said(), p.Said(), y, say.Word(p.Fate), p.FateDate.Text))
		}
	}
	return all
}

// CheckPhotographs looks at photographs and what they are used for.
func CheckPhotographs(s *Snapshot) []Breach {
	var all []Breach
	sheets := ByID(s.Impressions, func(r *Impression) ID { return r.ID })
	plates := ByID(s.Plates, func(r *Plate) ID { return r.ID })
	photos := ByID(s.Photographs, func(r *Photograph) ID { return r.ID })
	for i := range s.Photographs {
		h := &s.Photographs[i]
		sheet := sheets[h.ImpressionID]
		if sheet == nil || plates[sheet.PlateID] == nil {
			continue
		}
		// Wet ink shines and reads lighter than it will be.
		if h.View == ViewWhole && !h.TakenAt.IsZero() && h.TakenAt.After(sheet.PulledAt) && h.TakenAt.Before(sheet.DryFrom) {
			all = append(all, breach("photographed damp", Note, []ID{h.ID, sheet.ID},
				"The photograph %s of the sheet %s of %s was taken before the sheet was dry; wet ink shines.", h.Name, sheet.Said(), plates[sheet.PlateID].Said()))
		}
	}
	for i := range s.States {
		st := &s.States[i]
		h := photos[st.ReferencePhotoID]
		if h == nil || plates[st.PlateID] == nil || st.ReferenceID == "" || h.ImpressionID == st.ReferenceID {
			continue
		}
		all = append(all, breach("reference photograph of another sheet", Doubt, []ID{st.ID, h.ID},
			"The reference photograph of %s of %s does not show its reference pull.", st.Said(), plates[st.PlateID].Said()))
	}
	return all
}

// CheckLives looks at dates against the lives of the people concerned.
func CheckLives(s *Snapshot) []Breach {
	var all []Breach
	people := ByID(s.People, func(r *Person) ID { return r.ID })
	plates := ByID(s.Plates, func(r *Plate) ID { return r.ID })
	for i := range s.Plates {
		p := &s.Plates[i]
		m := people[p.MakerID]
		y := yearOf(p.Date)
		if m == nil || y == 0 || !plainDate(p.Date.EDTF) {
			continue
		}
		if died := yearOf(m.Died); died != 0 && plainDate(m.Died.EDTF) && y > died {
			all = append(all, breach("made after death", Doubt, []ID{p.ID, m.ID},
				"The plate %s is dated %s, after the death of %s (%s).", p.Said(), p.Date.Text, m.Name, m.Died.Text))
		}
		if born := yearOf(m.Born); born != 0 && plainDate(m.Born.EDTF) && y <= born {
			all = append(all, breach("made before birth", Doubt, []ID{p.ID, m.ID},
				"The plate %s is dated %s, but %s was born in %s.", p.Said(), p.Date.Text, m.Name, m.Born.Text))
		}
	}
	for i := range s.Editions {
		e := &s.Editions[i]
		p := plates[e.PlateID]
		if p == nil || people[p.MakerID] == nil {
			continue
		}
		m := people[p.MakerID]
		y, died := yearOf(e.Date), yearOf(m.Died)
		if y == 0 || died == 0 || !plainDate(e.Date.EDTF) || !plainDate(m.Died.EDTF) {
			continue
		}
		if e.Kind == "posthumous" && y < died {
			all = append(all, breach("posthumous in life", Doubt, []ID{e.ID, m.ID},
				"%s of %s is recorded as posthumous, but dated %s; %s died in %s.", e.Said(), p.Said(), e.Date.Text, m.Name, m.Died.Text))
		}
		if e.Kind == "edition" && y > died {
			all = append(all, breach("edition after death", Note, []ID{e.ID, m.ID},
				"%s of %s is dated %s, after the death of %s (%s): is it a posthumous edition or a restrike?", e.Said(), p.Said(), e.Date.Text, m.Name, m.Died.Text))
		}
	}
	return all
}

// DryAt is when a sheet pulled at a time may be handled: two days later where
// the catalogue names no hours (common practice: one to two days).
func DryAt(pulled time.Time, hours int) time.Time {
	if pulled.IsZero() {
		return time.Time{}
	}
	if hours <= 0 {
		hours = 48
	}
	return pulled.Add(time.Duration(hours) * time.Hour)
}

// yearOf is the year an EDTF reading begins with, 0 when it has none.
func yearOf(d Date) int {
	s := d.EDTF
	if len(s) < 4 || strings.Trim(s[:4], "0123456789") != "" {
		return 0
	}
	y, err := strconv.Atoi(s[:4])
	if err != nil {
		return 0
	}
	return y
}

// plainDate reports whether an EDTF reading is a plain day, month or year with
// no doubt in it: rules hold only for those.
func plainDate(edtf string) bool {
	return edtf != "" && strings.Trim(edtf, "0123456789-") == "" && !strings.HasPrefix(edtf, "-")
}
