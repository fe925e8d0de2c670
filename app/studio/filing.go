package studio

import (
	"context"
	"slices"
	"strings"
	"sync"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/catalog/store"
	"pullbook/imaging"
)

// How a photograph came to its impression.
const (
	BySlip       = "slip"
	ByRecognised = "recognised"
	ByTimeOrder  = "time order"
)

// Proposal is where one photograph is thought to belong.
type Proposal struct {
	Photo        catalog.Photograph
	PlateID      catalog.ID // "" not known
	StateID      catalog.ID // "" not known
	ImpressionID catalog.ID // "": a sheet that is not entered yet
	// View is what of the sheet it shows; "" when that could not be told, and the
	// user is to be asked. Filing such a one by hand leaves the view as it is.
	View  catalog.View
	How   string         // "slip", "recognised", "time order"; "" nothing is proposed
	Sure  float64        // 0..1, of the whole proposal
	Words string         // what it rests on, or why nothing is proposed; in English
	Rests []say.Sentence // the same, to be said in other languages
}

// rest adds to what a proposal rests on.
func (p *Proposal) rest(s say.Sentence) {
	if !s.IsZero() {
		p.Rests = append(slices.Clip(p.Rests), s)
		p.Words = say.English.Together(p.Rests)
	}
}

// restOn is rest that leaves what was said before.
func (p *Proposal) restOn(s say.Sentence) {
	p.Rests = nil
	p.rest(s)
}

// Propose says where photographs that are not filed yet are thought to belong:
// by the slip beside the sheet, else by recognising plate and state among the
// reference pulls, and then the very sheet by the order of time. hint is a
// plate in hand, tried first; it may be empty. Nothing is recorded.
func (s *Studio) Propose(ctx context.Context, photos []catalog.ID, hint catalog.ID, p Progress) ([]Proposal, error) {
	return s.proposeEach(ctx, photos, hint, p, func(*Proposal) (bool, error) { return false, nil })
}

// proposeEach is Propose that tells each proposal that the others do not bear
// on, at once; told reports whether it filed the photograph.
func (s *Studio) proposeEach(ctx context.Context, photos []catalog.ID, hint catalog.ID, p Progress, told func(*Proposal) (bool, error)) ([]Proposal, error) {
	r, err := s.newRecogniser(ctx, hint)
	if err != nil {
		return nil, err
	}
	list := make([]Proposal, len(photos))
	var mu sync.Mutex
	done, filed := 0, 0
	err = each(ctx, bothCores(), len(photos), func(ctx context.Context, i int) error {
		one, err := s.propose(ctx, r, photos[i])
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		if one.How == BySlip {
			kept, err := told(&one)
			if err != nil {
				return err
			}
			if kept {
				filed++
			}
		}
		list[i] = one
		done++
		if filed == 0 {
			tell(p, float64(done)/float64(len(photos)), "looked at %d of %d photographs", done, len(photos))
		} else {
			tell(p, float64(done)/float64(len(photos)), "looked at %d of %d photographs, filed %d", done, len(photos), filed)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if err := s.byTime(ctx, list); err != nil {
		return nil, err
	}
	return list, s.byTimeAlone(ctx, list)
}

// propose looks at one photograph by itself.
func (s *Studio) propose(ctx context.Context, r *recogniser, id catalog.ID) (Proposal, error) {
	photo, err := s.store.Photograph(ctx, id)
	if err != nil {
		return Proposal{}, err
	}
	out := Proposal{Photo: *photo}
	img, pic, err := s.proxyPicture(ctx, id)
	if err != nil {
		return out, err
	}
	named, err := abandon(ctx, func() (catalog.ID, error) { return slipIn(img), nil })
	if err != nil {
		return out, err
	}
	if named != "" {
		return s.proposeBySlip(ctx, r, out, pic, named)
	}
	seen, err := r.look(ctx, pic)
	if err != nil {
		return out, err
	}
	var ask string
	if out.View, ask, err = viewOf(ctx, pic, &seen); err != nil {
		return out, err
	}
	out.restOn(seen.reason)
	if seen.plate == nil {
		return out, nil
	}
	out.How, out.PlateID, out.Sure = ByRecognised, seen.plate.ID, seen.sure
	if seen.state != nil {
		out.StateID = seen.state.ID
		out.restOn(say.Of("Recognised as %s, %s.", seen.plate.Said(), seen.state.Said()))
	}
	out.rest(question(ask))
	return out, nil
}

// proposeBySlip trusts a slip unless the sheet beside it is seen to be
// another's: a slip may have been left lying from the sheet before.
func (s *Studio) proposeBySlip(ctx context.Context, r *recogniser, out Proposal, img *imaging.Photo, named catalog.ID) (Proposal, error) {
	i, err := s.store.Impression(ctx, named)
	if notFound(err) {
		out.restOn(say.Of("The slip beside the sheet names an impression that is not in this catalogue; it may be another catalogue's slip."))
		return out, nil
	}
	if err != nil {
		return out, err
	}
	out.How, out.PlateID, out.StateID, out.ImpressionID, out.Sure = BySlip, i.PlateID, i.StateID, i.ID, 0.99
	out.restOn(say.Of("The slip beside the sheet names it."))
	seen, err := r.lookFor(ctx, img, i.PlateID, false)
	if err != nil {
		return out, err
	}
	if err := s.viewBySlip(ctx, r, &out, img, &seen); err != nil {
		return out, err
	}
	switch {
	case seen.plate == nil:
		// Out of focus, or no reference yet: the slip stands alone.
		out.Sure = 0.95
	case seen.plate.ID != i.PlateID:
		out.Sure = 0.3
		out.restOn(say.Of("The slip names a sheet of another plate than the photograph shows (%s); was a slip left lying?", seen.plate.Said()))
	case seen.state != nil && i.StateID != "" && seen.state.ID != i.StateID && seen.sure > 0.9:
		out.Sure = 0.4
		out.restOn(say.Of("The slip names a sheet of another state than the photograph shows (%s); was a slip left lying?", seen.state.Said()))
	}
	return out, nil
}

// viewBySlip tells what a photograph with a slip shows. Where no plate was
// recognised, the slip's own is looked for by its lines, and then by its size.
func (s *Studio) viewBySlip(ctx context.Context, r *recogniser, out *Proposal, img *imaging.Photo, seen *recognised) error {
	if seen.plate == nil {
		// A slip that lies on the sheet hides its edges, and the mark is missed.
		if err := r.byLines(ctx, out.PlateID, img, seen); err != nil {
			return err
		}
	}
	if seen.plate == nil && seen.mark == nil {
		plate, err := s.store.Plate(ctx, out.PlateID)
		if err != nil {
			return err
		}
		found := &marks{photo: img}
		if size, err := sizeOf(plate); err == nil {
			if _, _, err := found.of(ctx, inMM(size)); err != nil {
				return err
			}
		}
		seen.mark = found.best()
	}
	view, ask, err := viewOf(ctx, img, seen)
	out.View = view
	out.rest(question(ask))
	return err
}

// byLines looks for one plate by its lines alone, the whole of it or a part: a
// slip that lies on the sheet hides its edges.
func (r *recogniser) byLines(ctx context.Context, plate catalog.ID, img *imaging.Photo, seen *recognised) error {
	for _, k := range r.only(plate) {
		told, _, err := r.placeOn(ctx, k, img, nil)
		if err == nil && told == nil {
			told, err = r.detailOf(ctx, []*known{k}, img)
		}
		if err != nil {
			return err
		}
		if told != nil {
			*seen = *told
		}
	}
	return nil
}

func spaced(a, b string) string { return strings.TrimSpace(a + " " + b) }

// question is what is to be asked of a photograph, none for "".
func question(ask string) say.Sentence {
	if ask == "" {
		return say.Sentence{}
	}
	return say.Of("%s", say.Word(ask))
}

// Accept files photographs as proposed, each in one transaction; where no
// impression is named a new one is entered. It returns the impressions.
func (s *Studio) Accept(ctx context.Context, list []Proposal) ([]catalog.ID, error) {
	return s.acceptAll(ctx, list, nil)
}

func (s *Studio) acceptAll(ctx context.Context, list []Proposal, p Progress) ([]catalog.ID, error) {
	var sheets []catalog.ID
	for i, a := range list {
		if err := ctx.Err(); err != nil {
			return sheets, err
		}
		id, err := s.accept(ctx, a)
		if err != nil {
			return sheets, err
		}
		if !slices.Contains(sheets, id) {
			sheets = append(sheets, id)
		}
		tell(p, float64(i+1)/float64(len(list)), "filed %d of %d photographs", i+1, len(list))
	}
	return sheets, nil
}

func (s *Studio) accept(ctx context.Context, a Proposal) (catalog.ID, error) {
	id := a.ImpressionID
	err := s.store.Do(ctx, "File "+a.Photo.Name, func(tx *store.Tx) error {
		p, err := tx.Photograph(ctx, a.Photo.ID)
		if err != nil {
			return err
		}
		if id == "" {
			i := catalog.Impression{PlateID: a.PlateID, StateID: a.StateID}
			if err := tx.PutImpression(&i); err != nil {
				return err
			}
			id = i.ID
		}
		p.ImpressionID, p.FiledBy, p.FiledSure = id, a.How, a.Sure
		if a.View != "" {
			p.View = a.View
		}
		return tx.PutPhotograph(p)
	})
	return id, err
}

// FileOptions say how [Studio.FileAll] files.
type FileOptions struct {
	Sure float64 // below this a proposal waits for the user; 0 means 0.9
	Hint catalog.ID
}

// sure reports whether a proposal may be filed without asking.
func (o *FileOptions) sure(a *Proposal) bool {
	return a.How != "" && a.StateID != "" && a.View != "" && a.Sure >= o.Sure
}

// DefaultSure is the surety below which a proposal waits for the user.
const DefaultSure = 0.9

// FileAll takes photographs in, files those whose place is sure, and scores
// the impressions they show. Stopping it in the middle loses nothing, and
// calling it again goes on where it stopped.
func (s *Studio) FileAll(ctx context.Context, paths []string, o FileOptions, p Progress) (*FileReport, error) {
	if o.Sure == 0 {
		o.Sure = DefaultSure
	}
	taken, err := s.TakeIn(ctx, paths, part(p, 0, 0.1))
	if err != nil {
		return nil, err
	}
	report := &FileReport{}
	photos := report.sort(taken)
	// What slips name is filed at once: a stop in the middle keeps it.
	var sheets []catalog.ID
	atOnce := map[catalog.ID]bool{}
	proposals, err := s.proposeEach(ctx, photos, o.Hint, part(p, 0.1, 0.53), func(a *Proposal) (bool, error) {
		if !o.sure(a) {
			return false, nil
		}
		id, err := s.accept(ctx, *a)
		sheets, atOnce[a.Photo.ID] = append(sheets, id), err == nil
		return err == nil, err
	})
	if err != nil {
		return nil, err
	}
	var rest []Proposal
	for i := range proposals {
		a := &proposals[i]
		switch {
		case !o.sure(a):
			report.Left = append(report.Left, *a)
			continue
		case !atOnce[a.Photo.ID]:
			rest = append(rest, *a)
		}
		report.Filed = append(report.Filed, *a)
	}
	more, err := s.acceptAll(ctx, rest, part(p, 0.53, 0.55))
	if err != nil {
		return report, err
	}
	sheets = append(sheets, more...)
	for _, ph := range report.Already {
		sheets = append(sheets, ph.ImpressionID)
	}
	todo, err := s.unscoredOf(ctx, sheets)
	if err != nil {
		return report, err
	}
	if report.Scored, err = s.Measure(ctx, todo, part(p, 0.55, 1)); err != nil {
		return report, err
	}
	report.Anew, err = s.PhotographedAnew(ctx, report.Scored)
	return report, err
}

// unscoredOf keeps of the sheets those that want a score.
func (s *Studio) unscoredOf(ctx context.Context, sheets []catalog.ID) ([]catalog.ID, error) {
	all, err := s.Unscored(ctx, "")
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(id catalog.ID) bool { return !slices.Contains(sheets, id) }), nil
}
