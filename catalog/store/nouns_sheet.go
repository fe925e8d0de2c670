package store

import (
	"time"

	"pullbook/catalog"
	"pullbook/catalog/archive"
)

// tidyTimes cuts times to the milliseconds that are stored.
func tidyTimes(times ...*time.Time) {
	for _, t := range times {
		if !t.IsZero() {
			*t = t.UTC().Truncate(time.Millisecond)
		}
	}
}

var impressions = table[catalog.Impression]{
	name: "impression", word: "impression",
	order: "plate_id, pull = 0, pull, edition_id, ordinal, id",
	fields: func(i *catalog.Impression) []field {
		return join(
			[]field{{"id", &i.ID}, {"plate_id", &i.PlateID}, {"state_id", &i.StateID}, {"pull", &i.Pull}, {"kind", &i.Kind},
				{"edition_id", &i.EditionID}, {"written", &i.Written}, {"ordinal", &i.Ordinal}, {"out_of", &i.OutOf},
				{"paper_id", &i.PaperID}},
			sizeFields("sheet", &i.Sheet),
			[]field{{"watermark", &i.Watermark}, {"ink_id", &i.InkID}, {"wiping", &i.Wiping}, {"printer_id", &i.PrinterID},
				{"press_id", &i.PressID}, {"day_id", &i.DayID}, {"pulled_at", &i.PulledAt}},
			dateFields("printed", &i.Printed),
			[]field{{"dry_from", &i.DryFrom}, {"signature", &i.Signature}, {"condition", &i.Condition},
				{"holder_id", &i.HolderID}, {"inventory", &i.Inventory}, {"decision", &i.Decision.Verdict},
				{"decision_reason", &i.Decision.Reason}, {"decision_by", &i.Decision.By}, {"decision_at", &i.Decision.At},
				{"remarks", &i.Remarks}, {"not_known", inJSON{&i.NotKnown}}})
	},
	lists: []lister[catalog.Impression]{
		list[catalog.Impression, catalog.Inscription]{"impression_inscription", "impression_id",
			func(i *catalog.Impression) *[]catalog.Inscription { return &i.Inscriptions }, inscriptionFields},
		list[catalog.Impression, catalog.Owner]{"provenance", "impression_id",
			func(i *catalog.Impression) *[]catalog.Owner { return &i.Provenance },
			func(o *catalog.Owner) []field {
				return join([]field{{"holder_id", &o.HolderID}, {"name", &o.Name}}, dateFields("from", &o.From),
					dateFields("to", &o.To), []field{{"how", &o.How}, {"note", &o.Note}})
			}},
		list[catalog.Impression, catalog.Showing]{"impression_showing", "impression_id",
			func(i *catalog.Impression) *[]catalog.Showing { return &i.Exhibitions }, showingFields},
		list[catalog.Impression, catalog.Citation]{"impression_citation", "impression_id",
			func(i *catalog.Impression) *[]catalog.Citation { return &i.Literature }, citationFields},
	},
	needs: func(i *catalog.Impression) string {
		if i.PlateID == "" {
			return "An impression belongs to a plate; say which."
		}
		return ""
	},
	tidy:   func(i *catalog.Impression) { tidyTimes(&i.PulledAt, &i.DryFrom, &i.Decision.At) },
	plates: func(i *catalog.Impression) []catalog.ID { return []catalog.ID{i.PlateID} },
	words: func(i *catalog.Impression) words {
		w := words{plate: i.PlateID, head: string(i.Kind) + " " + i.Written}
		for _, n := range i.Inscriptions {
			w.body = append(w.body, n.Text)
		}
		for _, o := range i.Provenance {
			w.body = append(w.body, o.Name, o.How, o.Note)
		}
		w.body = append(w.body, i.Watermark, i.Wiping, i.Printed.Text, i.Signature, i.Condition, i.Inventory,
			i.Decision.Reason, i.Remarks)
		return w
	},
}.prepare()

var photographs = table[catalog.Photograph]{
	name: "photograph", word: "photograph",
	order: "taken_at, added_at, id",
	fields: func(p *catalog.Photograph) []field {
		return []field{{"id", &p.ID}, {"impression_id", &p.ImpressionID}, {"view", &p.View}, {"sha256", &p.SHA256},
			{"ext", &p.Ext}, {"bytes", &p.Bytes}, {"name", &p.Name}, {"width_px", &p.WidthPX}, {"height_px", &p.HeightPX},
			{"orientation", &p.Orientation}, {"taken_at", &p.TakenAt}, {"camera", &p.Camera}, {"lens", &p.Lens},
			{"profile", &p.Profile}, {"added_at", &p.AddedAt}, {"session_id", &p.SessionID}, {"credit", &p.Credit},
			{"mark_px", inJSON{&p.Mark}}, {"mark_by", &p.MarkBy}, {"mark_sure", &p.MarkSure}, {"quality", &p.Quality},
			{"filed_by", &p.FiledBy}, {"filed_sure", &p.FiledSure}, {"note", &p.Note}}
	},
	needs: func(p *catalog.Photograph) string {
		if !archive.IsSHA256(p.SHA256) || !archive.IsExt(p.Ext) {
			return "A photograph is entered once its file is in the archive: its record lacks the file's name."
		}
		return ""
	},
	tidy: func(p *catalog.Photograph) { tidyTimes(&p.TakenAt, &p.AddedAt) },
}.prepare()

var sessions = table[catalog.ShootingSession]{
	name: "shooting_session", word: "shooting session",
	order: "began, id",
	fields: func(s *catalog.ShootingSession) []field {
		return []field{{"id", &s.ID}, {"began", &s.Began}, {"camera", &s.Camera}, {"lamps", &s.Lamps},
			{"blank_photo_id", &s.BlankPhotoID}, {"wedge_photo_id", &s.WedgePhotoID}, {"note", &s.Note}}
	},
	tidy: func(s *catalog.ShootingSession) { tidyTimes(&s.Began) },
}.prepare()

var scores = table[catalog.Score]{
	name: "score", word: "score",
	order: "at, id",
	fields: func(s *catalog.Score) []field {
		return join(
			[]field{{"id", &s.ID}, {"impression_id", &s.ImpressionID}, {"photo_id", &s.PhotoID}, {"state_id", &s.StateID},
				{"reference_photo_id", &s.ReferencePhotoID}, {"method", &s.Method}, {"loss_limit", &s.Limit},
				{"verdict", &s.Verdict}, {"reason", &s.Reason}, {"said", &s.Said}},
			valueFields("ink_loss", &s.InkLoss), valueFields("wear_loss", &s.WearLoss),
			valueFields("plate_tone", &s.PlateTone), valueFields("tone_unevenness", &s.ToneUnevenness),
			valueFields("burr_loss", &s.BurrLoss), valueFields("lines_lost_mm", &s.LinesLostMM),
			valueFields("lines_lost", &s.LinesLost), valueFields("over_inking", &s.OverInking),
			[]field{{"registration_mm", &s.RegistrationMM}, {"tone_p5", &s.ToneP5}, {"tone_p95", &s.ToneP95},
				{"at", &s.At}, {"tiles", &s.Tiles}, {"tile_mm", &s.TileMM}})
	},
	lists: []lister[catalog.Score]{
		list[catalog.Score, catalog.RegionScore]{"score_region", "score_id",
			func(s *catalog.Score) *[]catalog.RegionScore { return &s.Regions },
			func(r *catalog.RegionScore) []field {
				return join([]field{{"name", &r.Name}, {"outline", &r.Outline}}, valueFields("ink_loss", &r.InkLoss),
					valueFields("plate_tone", &r.PlateTone), []field{{"why", &r.Why}})
			}},
	},
	tidy: func(s *catalog.Score) { tidyTimes(&s.At) },
}.prepare()
