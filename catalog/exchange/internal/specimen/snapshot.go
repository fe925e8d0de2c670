package specimen

import (
	"fmt"
	"time"

	"pullbook/catalog"
)

// Snapshot returns an invented catalogue of three plates with everything an
// export has to show.
func Snapshot() *catalog.Snapshot {
	s := &catalog.Snapshot{
		Imprint: catalog.Imprint{ID: "imprint", Title: "Ada Marrin: The Plates", Subtitle: "A catalogue of the etchings and drypoints",
			MakerID: "person0marrin", Author: "Ada Marrin", Publisher: "Saltgate Press", Place: "Saltgate", Year: "2026",
			Introduction: "The plates were made on the mudflats below the lock, between one tide and the next.\n\nStates are counted from the first proof pulled.",
			Rights:       "© Ada Marrin. Texts and pictures may be quoted with the source.", LossLimit: 0.2, ToneLimit: 0.3, DryHours: 48},
		People: []catalog.Person{
			{ID: "person0marrin", Name: "Ada Marrin", Sort: "Marrin, Ada", Born: catalog.Date{Text: "1961", EDTF: "1961"}, Roles: "printmaker"},
			{ID: "person0quill", Name: "Tom Quill", Sort: "Quill, Tom", Roles: "printer"},
		},
		Holders: []catalog.Holder{
			{ID: "holder0museum", Name: "Saltgate Town Museum", Place: "Saltgate", Short: "STM"},
			{ID: "holder0secret", Name: "Mr Nobody-May-Know", Place: "Hidden Street 4", Private: true},
		},
		Papers:      []catalog.Paper{{ID: "paper0wove", Name: "Reedmill soft white", Maker: "Reedmill", Kind: "wove", WeightGSM: 250, Watermark: "REEDMILL"}},
		Inks:        []catalog.Ink{{ID: "ink0lamp", Name: "Lamp black no. 2", Colour: "black"}},
		Presses:     []catalog.Press{{ID: "press0one", Name: "The old star-wheel press"}},
		Groups:      []catalog.Group{{ID: "group0tide", Title: "Tide Table", Kind: "portfolio", Date: catalog.Date{EDTF: "2025"}}},
		Literature:  []catalog.Literature{{ID: "lit0hollis", Short: "Hollis", Authors: "R. Hollis", Title: "Prints of the Estuary", Published: "Saltgate", Year: catalog.Date{EDTF: "2019"}, Catalogue: true}},
		Exhibitions: []catalog.Exhibition{{ID: "exh0low", Short: "Saltgate 2025", Title: "Low Water", Venue: "Saltgate Town Museum", Place: "Saltgate", Date: catalog.Date{EDTF: "2025-05/2025-06"}}},
	}
	s.Plates = []catalog.Plate{
		{ID: "plate0weir", Number: catalog.Number{N: 12}, Standing: catalog.Accepted, MakerID: "person0marrin",
			Titles:     []catalog.Title{{Text: "The Weir", Language: "en", Given: "artist"}, {Text: "Das Wehr", Language: "de", Given: "other"}},
			Date:       catalog.Date{Text: "spring 2025", EDTF: "2025-21"},
			Techniques: []catalog.Technique{catalog.Etching, catalog.Drypoint}, Metal: "copper",
			Copper: catalog.Size{HeightMM: 152, WidthMM: 101}, Mark: catalog.Size{HeightMM: 150, WidthMM: 100},
			Inscriptions: []catalog.Inscription{{Text: "AM 25", Place: "lower left", Medium: "in the plate"}},
			Subjects:     []string{"weir", "water"}, GroupIDs: []catalog.ID{"group0tide"},
			Literature: []catalog.Citation{{WorkID: "lit0hollis", Number: "31"}},
			Remarks:    "Bitten in three stages; the sluice was burnished out & redrawn <twice>."},
		{ID: "plate0ebb", Number: catalog.Number{N: 12, Suffix: "a"}, Standing: catalog.Doubtful,
			Titles: []catalog.Title{{Text: "=Ebb", Language: "en"}}, Date: catalog.Date{Text: "c. 1998", EDTF: "1998~"},
			Techniques: []catalog.Technique{catalog.Drypoint, "scratched ground"}, Metal: "zinc", Mark: catalog.Size{HeightMM: 80.5, WidthMM: 120}},
		{ID: "plate0lost", Number: catalog.Number{Prefix: "R", N: 3}, Standing: catalog.Rejected, Titles: []catalog.Title{{Text: "Untouched"}},
			Date: catalog.Date{Text: "some time after the flood"}, Fate: catalog.FateLost},
	}
	s.States = []catalog.State{
		{ID: "state0weir1", PlateID: "plate0weir", N: 1, Description: "Before the drypoint in the sky."},
		{ID: "state0weir2", PlateID: "plate0weir", N: 2, Description: "With drypoint in the sky, upper right.", ReferenceID: "imp0weir3", ReferencePhotoID: "photo0weir3"},
		{ID: "state0ebb1", PlateID: "plate0ebb", N: 1},
	}
	s.Editions = []catalog.Edition{{ID: "edition0weir", PlateID: "plate0weir", StateID: "state0weir2", Kind: "edition", Size: 30, Artists: 3,
		Date: catalog.Date{Text: "March 2025", EDTF: "2025-03"}, Scheme: "arabic", PaperID: "paper0wove", PrinterID: "person0quill"}}
	s.Impressions = impressions()
	for i, im := range []string{"weir1", "weir3", "weir4", "ebb1"} {
		s.Photographs = append(s.Photographs, catalog.Photograph{ID: catalog.ID("photo0" + im), ImpressionID: catalog.ID("imp0" + im), View: catalog.ViewWhole,
			SHA256: fmt.Sprintf("%064d", i), Ext: ".jpg", WidthPX: 900, HeightPX: 1200, Credit: "Saltgate Press",
			Mark: [4][2]float64{{150, 200}, {750, 200}, {750, 1100}, {150, 1100}}, MarkBy: "found", MarkSure: 0.98})
	}
	s.Photographs[3].WidthPX, s.Photographs[3].HeightPX, s.Photographs[3].Orientation = 900, 1200, 6
	s.Photographs = append(s.Photographs, catalog.Photograph{ID: "photo0detail", ImpressionID: "imp0weir3", View: catalog.ViewDetail, SHA256: fmt.Sprintf("%064d", 9), Ext: ".jpg", WidthPX: 700, HeightPX: 500})
	return s
}

func impressions() []catalog.Impression {
	pulled := time.Date(2025, 3, 9, 10, 30, 0, 0, time.UTC)
	return []catalog.Impression{
		{ID: "imp0weir1", PlateID: "plate0weir", StateID: "state0weir1", Pull: 1, Kind: catalog.KindTrial, PulledAt: pulled, PaperID: "paper0wove",
			Sheet: catalog.Size{HeightMM: 280, WidthMM: 190}},
		{ID: "imp0weir4", PlateID: "plate0weir", StateID: "state0weir2", Pull: 9, Kind: catalog.KindNumbered, EditionID: "edition0weir", Written: "7/30", Ordinal: 7, OutOf: 30,
			PaperID: "paper0wove", InkID: "ink0lamp", PrinterID: "person0quill", Sheet: catalog.Size{HeightMM: 280, WidthMM: 190}, Watermark: "REEDMILL, lower edge",
			Signature: "Ada Marrin, lower right", Condition: "fine", HolderID: "holder0museum", Inventory: "1989.4", Printed: catalog.Date{EDTF: "2025-03"},
			Inscriptions: []catalog.Inscription{{Text: "7/30", Place: "lower left", Medium: "pencil"}},
			Provenance:   []catalog.Owner{{HolderID: "holder0secret", From: catalog.Date{EDTF: "2025"}, How: "purchased"}, {HolderID: "holder0museum", From: catalog.Date{EDTF: "2026"}, How: "gift"}},
			Exhibitions:  []catalog.Showing{{ExhibitionID: "exh0low", Number: "4"}}},
		{ID: "imp0weir3", PlateID: "plate0weir", StateID: "state0weir2", Pull: 4, Kind: catalog.KindBAT, EditionID: "edition0weir", PulledAt: pulled.AddDate(0, 0, 3)},
		{ID: "imp0weir5", PlateID: "plate0weir", StateID: "state0weir2", Kind: catalog.KindArtist, EditionID: "edition0weir", Ordinal: 1, OutOf: 3,
			HolderID: "holder0secret", Inventory: "drawer 4"},
		{ID: "imp0ebb1", PlateID: "plate0ebb", StateID: "state0ebb1", Pull: 1, Kind: catalog.KindUnnumbered, Printed: catalog.Date{Text: "by 1999", EDTF: "[..1999]"}},
	}
}

// Large returns a catalogue of a number of plates with twenty impressions each.
func Large(plates int) *catalog.Snapshot {
	base := Snapshot()
	s := *base
	s.Plates, s.States, s.Impressions, s.Editions, s.Photographs = nil, nil, nil, nil, nil
	for i := range plates {
		p := base.Plates[0]
		p.ID, p.Number = catalog.ID(fmt.Sprintf("plate%d", i)), catalog.Number{N: i + 1}
		s.Plates = append(s.Plates, p)
		st := base.States[1]
		st.ID, st.PlateID, st.N = catalog.ID(fmt.Sprintf("state%d", i)), p.ID, 1
		st.ReferenceID, st.ReferencePhotoID = "", ""
		s.States = append(s.States, st)
		e := base.Editions[0]
		e.ID, e.PlateID, e.StateID = catalog.ID(fmt.Sprintf("edition%d", i)), p.ID, st.ID
		s.Editions = append(s.Editions, e)
		for k := range 20 {
			im := base.Impressions[1]
			im.ID, im.PlateID, im.StateID, im.EditionID = catalog.ID(fmt.Sprintf("imp%d-%d", i, k)), p.ID, st.ID, e.ID
			im.Pull, im.Ordinal, im.Written = k+1, k+1, fmt.Sprintf("%d/30", k+1)
			s.Impressions = append(s.Impressions, im)
		}
	}
	return &s
}
