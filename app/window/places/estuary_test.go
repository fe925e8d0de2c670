package places

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pullbook/catalog"
)

// estuary is an invented press: plates, states, sheets, an edition.
func estuary(t testing.TB) *fakeHouse {
	h := &fakeHouse{t: t, dir: t.TempDir()}
	s := &h.snap
	s.Imprint = catalog.Imprint{ID: "imprint", Title: "Prints from Sallow Quay", DryHours: 48, LossLimit: 0.3}
	s.Papers = []catalog.Paper{{ID: "paper1", Name: "Tern wove 250 g"}, {ID: "paper2", Name: "Reedmace laid"}}
	s.Inks = []catalog.Ink{{ID: "ink1", Name: "Warm black 3"}}
	s.Holders = []catalog.Holder{{ID: "holder1", Name: "Saltings Museum"}}
	began := time.Now().Add(-2 * time.Hour).UTC()
	for n, x := range []struct {
		title string
		tech  []catalog.Technique
		y     string
	}{
		{"The Ferry Steps", []catalog.Technique{catalog.Etching, catalog.Drypoint}, "2019"},
		{"Low Water at Sallow Quay, with the Pilot Cutter Coming In", []catalog.Technique{catalog.Drypoint}, "2019"},
		{"Sluice", []catalog.Technique{catalog.Engraving}, "2020"}, {"Two Hulks", []catalog.Technique{catalog.Etching}, "2020"},
		{"Marram", []catalog.Technique{catalog.SoftGround, catalog.Aquatint}, "2021"}, {"Ropewalk, Evening", []catalog.Technique{catalog.Engraving}, "2022"},
		{"Eel Traps", []catalog.Technique{catalog.Drypoint}, "2023"}, {"The Customs Shed", []catalog.Technique{catalog.Etching, catalog.Aquatint}, "2024"},
	} {
		p := catalog.Plate{ID: catalog.ID(fmt.Sprintf("plate%d", n+1)), Number: catalog.Number{N: n + 1}, Titles: []catalog.Title{{Text: x.title, Given: "artist"}},
			Techniques: x.tech, Metal: "copper", Mark: catalog.Size{HeightMM: 180, WidthMM: 240}, Date: catalog.Date{Text: x.y, EDTF: x.y}}
		s.Plates = append(s.Plates, p)
		for k := range 2 + n%2 {
			st := catalog.State{ID: catalog.ID(fmt.Sprintf("%s-state%d", p.ID, k+1)), PlateID: p.ID, N: k + 1, Description: "The sky re-bitten; the near bank shaded with drypoint."}
			if k > 0 {
				st.Changes = []catalog.Change{{Kind: "added", BoxMM: [4]float64{30, 100, 90, 150}, AreaMM2: 412, Sure: 0.96, Words: "New drypoint shading, lower left, 60 × 50 mm"},
					{Kind: "removed", BoxMM: [4]float64{150, 30, 190, 60}, AreaMM2: 120, Sure: 0.9, Words: "Burnished cloud, upper right"}}
				st.Work = []catalog.Work{{Kind: catalog.WorkBite, Mordant: "ferric chloride", Strength: "40° Bé", Minutes: 12, TemperatureC: 20}}
			}
			s.States = append(s.States, st)
		}
		last := &s.States[len(s.States)-1]
		ed := catalog.Edition{ID: catalog.ID(fmt.Sprintf("%s-edition", p.ID)), PlateID: p.ID, StateID: last.ID, Name: "first edition", Size: 30, Artists: 3}
		s.Editions = append(s.Editions, ed)
		day := catalog.PrintingDay{ID: catalog.ID(fmt.Sprintf("%s-day", p.ID)), PlateID: p.ID, StateID: last.ID, Began: began}
		s.Days = append(s.Days, day)
		for k := range 14 {
			i := catalog.Impression{ID: catalog.ID(fmt.Sprintf("%s-imp%d", p.ID, k+1)), PlateID: p.ID, StateID: last.ID, Pull: k + 9, Kind: catalog.KindNumbered, EditionID: ed.ID,
				Written: fmt.Sprintf("%d/30", k+1), Ordinal: k + 1, OutOf: 30, PaperID: "paper1", InkID: "ink1", Wiping: "hand-wiped, chalk at the end", DayID: day.ID,
				PulledAt: began.Add(time.Duration(k) * 9 * time.Minute), DryFrom: began.Add(48*time.Hour + time.Duration(k)*9*time.Minute)}
			if k == 3 {
				i.HolderID = "holder1"
			}
			s.Impressions = append(s.Impressions, i)
			ph := catalog.Photograph{ID: i.ID + "-photo", ImpressionID: i.ID, Name: fmt.Sprintf("EST_%04d.jpg", 100*n+k), View: catalog.ViewWhole, FiledBy: "recognised", FiledSure: 0.98}
			s.Photographs = append(s.Photographs, ph)
			if k == 0 {
				last.ReferenceID, last.ReferencePhotoID = i.ID, ph.ID
			}
			loss := 0.3*math.Pow(float64(k+9)/45, 1.2) + 0.008*math.Sin(float64(k*5))
			verdict := "within"
			if k == 11 {
				verdict = "cannot tell"
			}
			if k == 13 {
				loss, verdict = 0.34, "outside"
			}
			if k%5 != 4 {
				tiles := "["
				for c := range 12 * 16 {
					if c > 0 {
						tiles += ","
					}
					tiles += fmt.Sprintf("%.2f", math.Max(0, loss*2*math.Sin(float64(c)/17)))
				}
				s.Scores = append(s.Scores, catalog.Score{ID: i.ID + "-score", ImpressionID: i.ID, PhotoID: ph.ID, StateID: last.ID, Verdict: verdict, Limit: 0.3,
					InkLoss: &catalog.Value{V: loss, U: 0.006}, WearLoss: &catalog.Value{V: loss * 0.9, U: 0.008}, PlateTone: &catalog.Value{V: 0.061 + 0.002*float64(k), U: 0.002},
					RegistrationMM: 0.03, Tiles: tiles + "]", TileMM: 15, At: began})
			}
		}
	}
	return h
}
