package store

import "pullbook/catalog"

var people = table[catalog.Person]{
	name: "person", word: "person",
	order: "sort, name, id",
	fields: func(p *catalog.Person) []field {
		return join([]field{{"id", &p.ID}, {"name", &p.Name}, {"sort", &p.Sort}}, dateFields("born", &p.Born),
			dateFields("died", &p.Died), []field{{"roles", &p.Roles}, {"note", &p.Note}})
	},
	words: func(p *catalog.Person) words { return words{"", p.Name, []string{p.Sort, p.Roles, p.Note}} },
}.prepare()

var holders = table[catalog.Holder]{
	name: "holder", word: "holder",
	order: "name, place, id",
	fields: func(h *catalog.Holder) []field {
		return []field{{"id", &h.ID}, {"name", &h.Name}, {"place", &h.Place}, {"private", &h.Private},
			{"short", &h.Short}, {"note", &h.Note}}
	},
	words: func(h *catalog.Holder) words { return words{"", h.Name, []string{h.Place, h.Short, h.Note}} },
}.prepare()

var papers = table[catalog.Paper]{
	name: "paper", word: "paper",
	order: "name, id",
	fields: func(p *catalog.Paper) []field {
		return []field{{"id", &p.ID}, {"name", &p.Name}, {"maker", &p.Maker}, {"kind", &p.Kind},
			{"weight_gsm", &p.WeightGSM}, {"watermark", &p.Watermark}, {"watermark_photo_id", &p.WatermarkPhotoID},
			{"chain_line_mm", &p.ChainLineMM}, {"note", &p.Note}}
	},
	words: func(p *catalog.Paper) words {
		return words{"", p.Name, []string{p.Maker, p.Kind, p.Watermark, p.Note}}
	},
}.prepare()

var inks = table[catalog.Ink]{
	name: "ink", word: "ink",
	order: "name, id",
	fields: func(i *catalog.Ink) []field {
		return []field{{"id", &i.ID}, {"name", &i.Name}, {"maker", &i.Maker}, {"colour", &i.Colour}, {"note", &i.Note}}
	},
	words: func(i *catalog.Ink) words { return words{"", i.Name, []string{i.Maker, i.Colour, i.Note}} },
}.prepare()

var presses = table[catalog.Press]{
	name: "press", word: "press",
	order: "name, id",
	fields: func(p *catalog.Press) []field {
		return []field{{"id", &p.ID}, {"name", &p.Name}, {"note", &p.Note}}
	},
}.prepare()

var literature = table[catalog.Literature]{
	name: "literature", word: "source",
	order: "short, id",
	fields: func(l *catalog.Literature) []field {
		return join([]field{{"id", &l.ID}, {"short", &l.Short}, {"authors", &l.Authors}, {"title", &l.Title},
			{"published", &l.Published}}, dateFields("year", &l.Year),
			[]field{{"catalogue", &l.Catalogue}, {"note", &l.Note}})
	},
	words: func(l *catalog.Literature) words {
		return words{"", l.Short, []string{l.Authors, l.Title, l.Published, l.Year.Text, l.Note}}
	},
}.prepare()

var exhibitions = table[catalog.Exhibition]{
	name: "exhibition", word: "exhibition",
	order: "date_edtf, short, id",
	fields: func(e *catalog.Exhibition) []field {
		return join([]field{{"id", &e.ID}, {"short", &e.Short}, {"title", &e.Title}, {"venue", &e.Venue},
			{"place", &e.Place}}, dateFields("date", &e.Date), []field{{"note", &e.Note}})
	},
	words: func(e *catalog.Exhibition) words {
		return words{"", e.Title, []string{e.Short, e.Venue, e.Place, e.Date.Text, e.Note}}
	},
}.prepare()

var groups = table[catalog.Group]{
	name: "plate_group", word: "group",
	order: "title, id",
	fields: func(g *catalog.Group) []field {
		return join([]field{{"id", &g.ID}, {"title", &g.Title}, {"kind", &g.Kind}}, dateFields("date", &g.Date),
			[]field{{"note", &g.Note}})
	},
	words: func(g *catalog.Group) words { return words{"", g.Title, []string{g.Kind, g.Date.Text, g.Note}} },
}.prepare()

var imprints = table[catalog.Imprint]{
	name: "imprint", word: "imprint",
	order: "id",
	fields: func(i *catalog.Imprint) []field {
		return []field{{"id", &i.ID}, {"title", &i.Title}, {"subtitle", &i.Subtitle}, {"maker_id", &i.MakerID},
			{"author", &i.Author}, {"publisher", &i.Publisher}, {"place", &i.Place}, {"year", &i.Year},
			{"introduction", &i.Introduction}, {"rights", &i.Rights}, {"colophon", &i.Colophon},
			{"loss_limit", &i.LossLimit}, {"tone_limit", &i.ToneLimit}, {"dry_hours", &i.DryHours}, {"language", &i.Language}}
	},
	lists: []lister[catalog.Imprint]{
		list[catalog.Imprint, catalog.BookPart]{"book_part", "imprint_id",
			func(i *catalog.Imprint) *[]catalog.BookPart { return &i.Book },
			func(p *catalog.BookPart) []field {
				return []field{{"kind", &p.Kind}, {"heading", &p.Heading}, {"text", &p.Text}, {"off", &p.Off}}
			}},
	},
	tidy: func(i *catalog.Imprint) { i.ID = imprintID },
}.prepare()

// imprintID is the ID of the one imprint.
const imprintID catalog.ID = "imprint"
