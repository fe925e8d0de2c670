package studio

import (
	"context"
	"fmt"
	"strings"

	"pullbook/catalog"
)

// FileReport is what became of a folder of photographs.
type FileReport struct {
	Filed   []Proposal
	Left    []Proposal // below the surety: for the user to decide
	Already []catalog.Photograph
	Refused []TakenIn
	Twice   int // files that were the same bytes as another
	Scored  []Scored
	Anew    []Anew
}

// Anew is an impression that was photographed before: its older photographs are
// kept, and its scores come from the newest.
type Anew struct {
	ImpressionID catalog.ID
	From         string   // name of the photograph the scores come from
	Kept         []string // names of the older ones
}

// Photographs is how many photographs were given and could be read, the same
// bytes counted once.
func (r *FileReport) Photographs() int { return len(r.Filed) + len(r.Left) + len(r.Already) }

// sort parts what was taken in into what is to be filed and what is not.
func (r *FileReport) sort(taken []TakenIn) []catalog.ID {
	var photos []catalog.ID
	seen := map[catalog.ID]bool{}
	for _, t := range taken {
		switch {
		case t.Err != nil:
			r.Refused = append(r.Refused, t)
		case seen[t.Photo.ID]:
			r.Twice++
		case t.Photo.ImpressionID != "" || IsAid(&t.Photo):
			r.Already = append(r.Already, t.Photo)
		default:
			photos = append(photos, t.Photo.ID)
		}
		if t.Err == nil {
			seen[t.Photo.ID] = true
		}
	}
	return photos
}

// PhotographedAnew lists those of the impressions scored that have older
// photographs of the whole sheet.
func (s *Studio) PhotographedAnew(ctx context.Context, scored []Scored) ([]Anew, error) {
	var list []Anew
	for _, sc := range scored {
		photos, err := s.store.Photographs(ctx, sc.ImpressionID)
		if err != nil {
			return nil, err
		}
		a := Anew{ImpressionID: sc.ImpressionID}
		for i := range photos {
			switch v := photos[i].View; {
			case photos[i].ID == sc.PhotoID:
				a.From = photos[i].Name
			case v == catalog.ViewWhole || v == "":
				a.Kept = append(a.Kept, photos[i].Name)
			}
		}
		if a.From != "" && len(a.Kept) > 0 {
			list = append(list, a)
		}
	}
	return list, nil
}

// Words is the report in lines for people.
func (r *FileReport) Words(name func(catalog.ID) string) string {
	var b strings.Builder
	for _, a := range r.Filed {
		where := name(a.ImpressionID)
		if a.ImpressionID == "" {
			where = "a new sheet"
		}
		fmt.Fprintf(&b, "filed    %s: %s, by %s, sure %.2f. %s\n", a.Photo.Name, where, a.How, a.Sure, a.Words)
	}
	for _, ph := range r.Already {
		where := string(ph.View)
		if ph.ImpressionID != "" {
			where = name(ph.ImpressionID)
		}
		fmt.Fprintf(&b, "already  %s: %s\n", ph.Name, where)
	}
	for _, a := range r.Left {
		fmt.Fprintf(&b, "left     %s: %s\n", a.Photo.Name, a.Words)
	}
	for _, t := range r.Refused {
		fmt.Fprintf(&b, "refused  %s: %v\n", t.Path, t.Err)
	}
	scored, refused := 0, 0
	for _, sc := range r.Scored {
		if sc.Score != nil && sc.Score.Verdict != RefusedPic {
			scored++
			continue
		}
		refused++
		why := sc.Err
		if sc.Score != nil {
			why = refusal(sc.Score.Reason)
		}
		fmt.Fprintf(&b, "no score %s: %v\n", name(sc.ImpressionID), why)
	}
	for _, a := range r.Anew {
		fmt.Fprintf(&b, "anew     %s: its scores come from %s; kept: %s\n", name(a.ImpressionID), a.From, strings.Join(a.Kept, ", "))
	}
	fmt.Fprintf(&b, "%d filed, %d filed before, %d left for you, %d refused, %d given twice; %d scored, %d not.\n",
		len(r.Filed), len(r.Already), len(r.Left), len(r.Refused), r.Twice, scored, refused)
	return b.String()
}
