package lido

import (
	"context"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// FileName is the file that Write makes.
const FileName = "catalogue.lido.xml"

// Options say how a catalogue is written. The zero Options are ready to use.
type Options struct {
	// Base is the address below which the records will be published; empty
	// gives urn:uuid identifiers that need no address.
	Base string
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

// writer writes one catalogue.
type writer struct {
	*entry.Catalogue
	*out
	base string
}

// Write writes a catalogue as one file in the folder dir. Memory does not grow
// with the catalogue.
func Write(ctx context.Context, dir string, c *entry.Catalogue, o Options) error {
	return entry.WriteFile(filepath.Join(dir, FileName), func(f io.Writer) error {
		w := &writer{c, newOut(f), o.Base}
		w.raw(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
		w.raw(`<lido:lidoWrap xmlns:lido="` + Namespace + `">` + "\n")
		done, all := 0, max(1, len(c.Snap.Plates)+len(c.Snap.Impressions))
		step := func() error {
			w.raw("\n")
			if done++; o.Progress != nil {
				o.Progress(float64(done) / float64(all))
			}
			if w.err != nil {
				return w.err
			}
			return ctx.Err()
		}
		for i := range c.Snap.Plates {
			p := &c.Snap.Plates[i]
			w.record(p, nil)
			if err := step(); err != nil {
				return err
			}
			for _, im := range c.Impressions(p.ID) {
				w.record(p, im)
				if err := step(); err != nil {
					return err
				}
			}
		}
		w.raw("</lido:lidoWrap>\n")
		return w.flush()
	})
}

// record writes one lido element: of an impression, or of the plate when im is nil.
func (w *writer) record(p *catalog.Plate, im *catalog.Impression) {
	id := string(p.ID)
	if im != nil {
		id = string(im.ID)
	}
	w.in("lido", func() {
		w.leaf("lidoRecID", entry.Address(w.base, "lido", id), "lido:type", uriType)
		w.in("descriptiveMetadata", func() {
			w.in("objectClassificationWrap", func() {
				w.in("objectWorkTypeWrap", func() { w.workTypes(p, im) })
			})
			w.identification(p, im)
			w.events(p, im)
			w.subjects(p)
		}, "xml:lang", "en")
		w.in("administrativeMetadata", func() {
			if r := w.Snap.Imprint.Rights; r != "" {
				w.in("rightsWorkWrap", func() { w.in("rightsWorkSet", func() { w.leaf("creditLine", r) }) })
			}
			w.in("recordWrap", func() {
				w.leaf("recordID", id, "lido:type", localType)
				w.in("recordType", func() { w.leaf("term", "item") })
				w.in("recordSource", func() {
					w.in("legalBodyName", func() { w.leaf("appellationValue", w.source()) })
				})
			})
		}, "xml:lang", "en")
	})
}

// source names who made the catalogue, never empty.
func (w *writer) source() string {
	for _, s := range []string{w.Snap.Imprint.Publisher, w.Snap.Imprint.Author, w.Snap.Imprint.Title} {
		if s != "" {
			return s
		}
	}
	return "The printmaker"
}

func (w *writer) workTypes(p *catalog.Plate, im *catalog.Impression) {
	if im == nil {
		w.concept("objectWorkType", entry.PrintingPlates)
		return
	}
	some := false
	for _, t := range w.Techniques(p, w.State(im.StateID)) {
		if term := entry.Print(t); term.ID != "" {
			w.concept("objectWorkType", term)
			some = true
		}
	}
	if !some {
		w.concept("objectWorkType", entry.Prints)
	}
}

// concept writes a word, with its thesaurus identifier where one is confirmed.
func (w *writer) concept(name string, t entry.Term) {
	w.in(name, func() {
		w.leaf("conceptID", t.URI(), "lido:type", uriType, "lido:source", entry.AAT)
		w.leaf("term", t.Label)
	})
}

// identification writes titles, inscriptions, repository, state and edition,
// description and measurements, in the order the schema fixes.
func (w *writer) identification(p *catalog.Plate, im *catalog.Impression) {
	w.in("objectIdentificationWrap", func() {
		w.in("titleWrap", func() {
			title := w.Title(p)
			if strings.TrimSpace(legal(title)) == "" {
				title = "Untitled" // nothing in it that XML can hold
			}
			w.in("titleSet", func() { w.leaf("appellationValue", title) })
			for i, t := range p.Titles {
				if i > 0 && t.Text != "" {
					w.in("titleSet", func() { w.leaf("appellationValue", t.Text) })
				}
			}
		})
		w.inscriptions(p, im)
		if im != nil {
			w.repository(im)
			w.stateAndEdition(im)
		}
		w.description(p, im)
		w.measurements(p, im)
		w.materials(p, im)
	})
}

func (w *writer) inscriptions(p *catalog.Plate, im *catalog.Impression) {
	list := append([]catalog.Inscription(nil), p.Inscriptions...)
	if im != nil {
		list = append(list, im.Inscriptions...)
		if im.Signature != "" {
			list = append(list, catalog.Inscription{Text: im.Signature, Medium: "signature"})
		}
	}
	if len(list) == 0 {
		return
	}
	w.in("inscriptionsWrap", func() {
		for _, i := range list {
			if i.Text == "" {
				continue
			}
			w.in("inscriptions", func() {
				w.leaf("inscriptionTranscription", i.Text)
				if where := i.Medium + i.Place; where != "" {
					w.in("inscriptionDescription", func() { w.leaf("descriptiveNoteValue", joined(i.Medium, i.Place)) })
				}
			})
		}
	})
}

func joined(a, b string) string {
	if a != "" && b != "" {
		return a + ", " + b
	}
	return a + b
}

func (w *writer) repository(im *catalog.Impression) {
	name := w.HolderText(im.HolderID)
	if name == "" {
		return
	}
	w.in("repositoryWrap", func() {
		w.in("repositorySet", func() {
			w.in("repositoryName", func() {
				w.in("legalBodyName", func() { w.leaf("appellationValue", name) })
			})
			if w.Public(im.HolderID) {
				w.leaf("workID", im.Inventory)
			}
		})
	})
}

func (w *writer) stateAndEdition(im *catalog.Impression) {
	state, edition := w.StateText(w.State(im.StateID)), w.SheetEditionText(im)
	if state == "" && edition == "" {
		return
	}
	w.in("displayStateEditionWrap", func() {
		w.leaf("displayState", state)
		w.leaf("displayEdition", edition)
	})
}

func (w *writer) description(p *catalog.Plate, im *catalog.Impression) {
	var notes []string
	if im == nil {
		notes = append(notes, p.Remarks)
	} else {
		if s := w.State(im.StateID); s != nil {
			notes = append(notes, s.Description)
		}
		notes = append(notes, im.Condition)
	}
	some := false
	for _, n := range notes {
		some = some || legal(n) != ""
	}
	if !some {
		return
	}
	w.in("objectDescriptionWrap", func() {
		for _, n := range notes {
			if n != "" {
				w.in("objectDescriptionSet", func() { w.leaf("descriptiveNoteValue", n) })
			}
		}
	})
}

// measurements writes the plate mark and the sheet, each with height before width.
func (w *writer) measurements(p *catalog.Plate, im *catalog.Impression) {
	type part struct {
		size   catalog.Size
		extent string
	}
	parts := []part{{p.Mark, "plate mark"}}
	if im == nil || p.Mark.IsZero() {
		parts = append(parts, part{p.Copper, "plate"})
	}
	if im != nil {
		parts = append(parts, part{im.Sheet, "sheet"})
	}
	text := entry.DimensionsText(p, im)
	if text == "" {
		return
	}
	w.in("objectMeasurementsWrap", func() {
		// The schema has one objectMeasurements in a set, so each part gets a
		// set; the words for all stand in the first.
		for _, m := range parts {
			if m.size.IsZero() {
				continue
			}
			w.in("objectMeasurementsSet", func() {
				w.leaf("displayObjectMeasurements", text)
				text = ""
				w.in("objectMeasurements", func() {
					w.side("height", m.size.HeightMM)
					w.side("width", m.size.WidthMM)
					w.in("extentMeasurements", func() { w.leaf("term", m.extent) })
				})
			})
		}
	})
}

func (w *writer) side(of string, mm float64) {
	if mm <= 0 {
		return
	}
	w.in("measurementsSet", func() {
		w.in("measurementType", func() { w.leaf("term", of) })
		w.in("measurementUnit", func() { w.leaf("term", "mm") })
		w.leaf("measurementValue", strconv.FormatFloat(mm, 'f', -1, 64))
	})
}

func (w *writer) materials(p *catalog.Plate, im *catalog.Impression) {
	var term entry.Term
	text := p.Metal
	if im == nil {
		term = entry.MetalTerm(p.Metal)
	} else if paper := w.Paper(im.PaperID); paper != nil {
		term, text = entry.PaperTerm(paper), paper.Name
	} else {
		text = ""
	}
	if text == "" || term.Label == "" {
		return
	}
	w.in("objectMaterialsTechWrap", func() {
		w.in("objectMaterialsTechSet", func() {
			w.leaf("displayMaterialsTech", text)
			w.in("materialsTech", func() { w.concept("termMaterialsTech", term) })
		})
	})
}

// events writes the production: when, by whom, how.
func (w *writer) events(p *catalog.Plate, im *catalog.Impression) {
	date, by, state := p.Date, p.MakerID, (*catalog.State)(nil)
	if im != nil {
		date, state = w.Made(im), w.State(im.StateID)
		if im.PrinterID != "" {
			by = im.PrinterID
		}
	}
	w.in("eventWrap", func() {
		w.in("eventSet", func() {
			w.in("event", func() {
				w.in("eventType", func() {
					w.leaf("conceptID", production, "lido:type", uriType)
					w.leaf("term", "Production")
				})
				w.actor(by)
				w.date(date)
				for _, t := range w.Techniques(p, state) {
					w.in("eventMaterialsTech", func() {
						w.in("materialsTech", func() { w.concept("termMaterialsTech", entry.Process(t)) })
					})
				}
			})
		})
	})
}

func (w *writer) actor(id catalog.ID) {
	r := w.Person(id)
	if r == nil || r.Name == "" {
		return
	}
	w.in("eventActor", func() {
		w.in("actorInRole", func() {
			w.in("actor", func() {
				w.leaf("actorID", entry.Address(w.base, "person", string(r.ID)), "lido:type", uriType)
				w.in("nameActorSet", func() { w.leaf("appellationValue", r.Name) })
			})
			if r.Roles != "" {
				w.in("roleActor", func() { w.leaf("term", r.Roles) })
			}
		})
	})
}

// date writes a date in words, and the days it lies between as far as there
// are limits.
func (w *writer) date(d catalog.Date) {
	text := entry.DateText(d)
	lo, hi := entry.Days(d)
	if text == "" {
		return
	}
	w.in("eventDate", func() {
		w.leaf("displayDate", text)
		if lo != "" || hi != "" {
			w.in("date", func() {
				w.leaf("earliestDate", lo)
				w.leaf("latestDate", hi)
			})
		}
	})
}

func (w *writer) subjects(p *catalog.Plate) {
	if len(p.Subjects) == 0 {
		return
	}
	w.in("objectRelationWrap", func() {
		w.in("subjectWrap", func() {
			for _, s := range p.Subjects {
				w.in("subjectSet", func() {
					w.in("subject", func() {
						w.in("subjectConcept", func() { w.leaf("term", s) })
					})
				})
			}
		})
	})
}
