package store

import (
	"strconv"
	"strings"

	"pullbook/catalog"
)

func citationFields(c *catalog.Citation) []field {
	return []field{{"work_id", &c.WorkID}, {"pages", &c.Pages}, {"number", &c.Number}, {"state", &c.State}, {"note", &c.Note}}
}

func showingFields(s *catalog.Showing) []field {
	return []field{{"exhibition_id", &s.ExhibitionID}, {"number", &s.Number}, {"note", &s.Note}}
}

func inscriptionFields(i *catalog.Inscription) []field {
	return []field{{"text", &i.Text}, {"place", &i.Place}, {"medium", &i.Medium}, {"by_whom", &i.By}}
}

func techniqueFields(t *catalog.Technique) []field { return []field{{"technique", t}} }

var plates = table[catalog.Plate]{
	name: "plate", word: "plate",
	order: plateOrder,
	fields: func(p *catalog.Plate) []field {
		return join(
			[]field{{"id", &p.ID}, {"number_prefix", &p.Number.Prefix}, {"number_n", &p.Number.N},
				{"number_suffix", &p.Number.Suffix}, {"standing", &p.Standing}},
			dateFields("date", &p.Date),
			[]field{{"maker_id", &p.MakerID}, {"metal", &p.Metal}},
			sizeFields("copper", &p.Copper), sizeFields("mark", &p.Mark),
			[]field{{"thickness_mm", &p.ThicknessMM}, {"bevel_mm", &p.BevelMM}, {"steel_faced", &p.SteelFaced},
				{"steel_faced_at_pull", &p.SteelFacedAtPull}, {"fate", &p.Fate}, {"fate_note", &p.FateNote}},
			dateFields("fate_date", &p.FateDate),
			[]field{{"loss_limit", &p.LossLimit}, {"remarks", &p.Remarks}, {"not_known", inJSON{&p.NotKnown}}})
	},
	lists: []lister[catalog.Plate]{
		list[catalog.Plate, catalog.Title]{"plate_title", "plate_id",
			func(p *catalog.Plate) *[]catalog.Title { return &p.Titles },
			func(t *catalog.Title) []field {
				return []field{{"text", &t.Text}, {"language", &t.Language}, {"given", &t.Given}}
			}},
		list[catalog.Plate, catalog.Technique]{"plate_technique", "plate_id",
			func(p *catalog.Plate) *[]catalog.Technique { return &p.Techniques }, techniqueFields},
		list[catalog.Plate, catalog.Inscription]{"plate_inscription", "plate_id",
			func(p *catalog.Plate) *[]catalog.Inscription { return &p.Inscriptions }, inscriptionFields},
		list[catalog.Plate, string]{"plate_subject", "plate_id",
			func(p *catalog.Plate) *[]string { return &p.Subjects },
			func(s *string) []field { return []field{{"subject", s}} }},
		list[catalog.Plate, catalog.ID]{"plate_in_group", "plate_id",
			func(p *catalog.Plate) *[]catalog.ID { return &p.GroupIDs },
			func(id *catalog.ID) []field { return []field{{"group_id", id}} }},
		list[catalog.Plate, catalog.Citation]{"plate_citation", "plate_id",
			func(p *catalog.Plate) *[]catalog.Citation { return &p.Literature }, citationFields},
		list[catalog.Plate, catalog.Showing]{"plate_showing", "plate_id",
			func(p *catalog.Plate) *[]catalog.Showing { return &p.Exhibitions }, showingFields},
		list[catalog.Plate, catalog.Region]{"plate_region", "plate_id",
			func(p *catalog.Plate) *[]catalog.Region { return &p.Regions },
			func(r *catalog.Region) []field { return []field{{"name", &r.Name}, {"outline", &r.Outline}} }},
	},
	plates: func(p *catalog.Plate) []catalog.ID { return []catalog.ID{p.ID} },
	words: func(p *catalog.Plate) words {
		w := words{plate: p.ID, head: strings.TrimSpace(p.Number.String() + " " + p.Title())}
		for _, t := range p.Titles {
			w.body = append(w.body, t.Text)
		}
		for _, t := range p.Techniques {
			w.body = append(w.body, string(t))
		}
		for _, i := range p.Inscriptions {
			w.body = append(w.body, i.Text)
		}
		for _, c := range p.Literature {
			w.body = append(w.body, c.Number, c.Note)
		}
		w.body = append(w.body, p.Subjects...)
		w.body = append(w.body, p.Date.Text, p.Metal, p.FateNote, p.Remarks)
		return w
	},
}.prepare()

var states = table[catalog.State]{
	name: "state", word: "state",
	order: "plate_id, n, id",
	fields: func(s *catalog.State) []field {
		return join(
			[]field{{"id", &s.ID}, {"plate_id", &s.PlateID}, {"n", &s.N}, {"description", &s.Description}},
			dateFields("date", &s.Date),
			[]field{{"reference_id", &s.ReferenceID}, {"reference_photo_id", &s.ReferencePhotoID}, {"remarks", &s.Remarks}})
	},
	lists: []lister[catalog.State]{
		list[catalog.State, catalog.Change]{"state_change", "state_id",
			func(s *catalog.State) *[]catalog.Change { return &s.Changes },
			func(c *catalog.Change) []field {
				return []field{{"kind", &c.Kind}, {"x0_mm", &c.BoxMM[0]}, {"y0_mm", &c.BoxMM[1]}, {"x1_mm", &c.BoxMM[2]},
					{"y1_mm", &c.BoxMM[3]}, {"area_mm2", &c.AreaMM2}, {"sure", &c.Sure}, {"words", &c.Words}, {"ruling", &c.Ruling}}
			}},
		list[catalog.State, catalog.Work]{"state_work", "state_id",
			func(s *catalog.State) *[]catalog.Work { return &s.Work },
			func(w *catalog.Work) []field {
				return join([]field{{"kind", &w.Kind}}, dateFields("date", &w.Date),
					[]field{{"note", &w.Note}, {"tool", &w.Tool}, {"mordant", &w.Mordant}, {"strength", &w.Strength},
						{"temperature_c", &w.TemperatureC}, {"minutes", &w.Minutes}, {"stopped_out", &w.StoppedOut}})
			}},
		list[catalog.State, catalog.Technique]{"state_technique", "state_id",
			func(s *catalog.State) *[]catalog.Technique { return &s.Techniques }, techniqueFields},
		list[catalog.State, catalog.Citation]{"state_citation", "state_id",
			func(s *catalog.State) *[]catalog.Citation { return &s.Literature }, citationFields},
	},
	needs: func(s *catalog.State) string {
		if s.PlateID == "" {
			return "A state belongs to a plate; say which."
		}
		return ""
	},
	plates: func(s *catalog.State) []catalog.ID { return []catalog.ID{s.PlateID} },
	words: func(s *catalog.State) words {
		w := words{plate: s.PlateID, head: "State " + strconv.Itoa(s.N)}
		for _, k := range s.Work {
			w.body = append(w.body, string(k.Kind), k.Tool, k.Mordant, k.StoppedOut, k.Note)
		}
		for _, c := range s.Changes {
			w.body = append(w.body, c.Words)
		}
		w.body = append(w.body, s.Description, s.Date.Text, s.Remarks)
		return w
	},
}.prepare()

var editions = table[catalog.Edition]{
	name: "edition", word: "edition",
	order: "plate_id, date_edtf, name, id",
	fields: func(e *catalog.Edition) []field {
		return join(
			[]field{{"id", &e.ID}, {"plate_id", &e.PlateID}, {"state_id", &e.StateID}, {"name", &e.Name}, {"kind", &e.Kind}},
			dateFields("date", &e.Date),
			[]field{{"size", &e.Size}, {"artists", &e.Artists}, {"printers", &e.Printers}, {"hors_commerce", &e.HorsComm},
				{"trials", &e.Trials}, {"others", &e.Others}, {"scheme", &e.Scheme}, {"paper_id", &e.PaperID},
				{"publisher_id", &e.Publisher}, {"printer_id", &e.PrinterID}, {"plate_after", &e.PlateAfter},
				{"signed", &e.Signed}, {"stamps", &e.Stamps}, {"price", &e.Price}, {"statement", &e.Statement},
				{"remarks", &e.Remarks}, {"not_known", inJSON{&e.NotKnown}}})
	},
	needs: func(e *catalog.Edition) string {
		if e.PlateID == "" {
			return "An edition belongs to a plate; say which."
		}
		return ""
	},
	plates: func(e *catalog.Edition) []catalog.ID { return []catalog.ID{e.PlateID} },
	words: func(e *catalog.Edition) words {
		return words{e.PlateID, e.Name, []string{e.Kind, e.Date.Text, e.Signed, e.Stamps, e.Statement, e.Remarks}}
	},
}.prepare()

var days = table[catalog.PrintingDay]{
	name: "printing_day", word: "printing day",
	order: "began, id",
	fields: func(d *catalog.PrintingDay) []field {
		return []field{{"id", &d.ID}, {"plate_id", &d.PlateID}, {"state_id", &d.StateID}, {"began", &d.Began},
			{"ended", &d.Ended}, {"note", &d.Note}}
	},
	needs: func(d *catalog.PrintingDay) string {
		if d.PlateID == "" {
			return "A printing day belongs to a plate; say which."
		}
		return ""
	},
	tidy:   func(d *catalog.PrintingDay) { tidyTimes(&d.Began, &d.Ended) },
	plates: func(d *catalog.PrintingDay) []catalog.ID { return []catalog.ID{d.PlateID} },
}.prepare()
